package notation_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// The laws of the notation, put to drafts as they are drawn.

func drafts() *rapid.Generator[*notation.Draft] { return notationtest.Drafts() }

func TestFormatParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drafts().Draw(t, "draft")
		text := notation.Format(d)
		again := notation.ParseClean(t, text)
		notation.NoDiff(t, "parse(Format(d))", text, d, again, notation.Same())
		notation.NoDiff(t, "Format is idempotent", text, text, notation.Format(again))
		notation.CheckDraft(t, text, again, nil)
	})
}

func TestTranslateTwice(t *testing.T) {
	withoutTerms := func(d *notation.Draft) []notation.Statement {
		var list []notation.Statement
		for _, s := range d.Statements {
			if _, ok := s.(*notation.TermsLine); !ok {
				list = append(list, s)
			}
		}
		return list
	}
	rapid.Check(t, func(t *rapid.T) {
		d := drafts().Draw(t, "draft")
		over := notation.Translate(d, d.Terms.Other())
		text := notation.Format(over)
		read := notation.ParseClean(t, text)
		if read.Terms == d.Terms {
			t.Fatalf("still in %v terms:\n%s", d.Terms, text)
		}
		notation.NoDiff(t, "the same stitches", text, withoutTerms(d), withoutTerms(read), notation.Same())
		back := notation.Translate(read, d.Terms)
		notation.NoDiff(t, "back again", notation.Format(back), withoutTerms(d), withoutTerms(back), notation.Same())
		if len(withoutTerms(d)) < len(d.Statements) {
			notation.NoDiff(t, "the same text", text, notation.Format(d), notation.Format(back))
		}
	})
}

func TestCommentsSurvive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drafts().Draw(t, "draft")
		text, n := notation.Sprinkle(t, notation.Format(d))
		commented := notation.ParseClean(t, text)
		notation.NoDiff(t, "comments change nothing", text, d, commented, notation.Same(notation.WithoutComments))
		notation.CheckDraft(t, text, commented, nil)

		formatted := notation.Format(commented)
		again := notation.ParseClean(t, formatted)
		notation.NoDiff(t, "attachment is stable", text+"\n"+formatted, commented, again, notation.Same())
		notation.NoDiff(t, "Format is idempotent", text, formatted, notation.Format(again))
		for i, c := range notation.CommentsOf(formatted) {
			if want := fmt.Sprintf("# %d", i); !strings.HasPrefix(c, want) {
				t.Fatalf("%s\n%s\ncomment %d is %q", text, formatted, i, c)
			}
		}
		if got := len(notation.CommentsOf(formatted)); got != n {
			t.Fatalf("%s\n%s\n%d comments, want %d", text, formatted, got, n)
		}
	})
}

func TestParseIsDeterministic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, _ := notation.Sprinkle(t, notation.Format(drafts().Draw(t, "draft")))
		// Break it in one place.
		at := rapid.IntRange(0, len(text)).Draw(t, "at")
		for !utf8.RuneStart((text + " ")[at]) {
			at--
		}
		text = text[:at] + rapid.SampledFrom([]string{"", "[", ")", ",", "*", "rnd 3:", "9", "dc"}).Draw(t, "slip") + text[at:]
		d, findings := notation.Parse("saltmarsh.rnd", text)
		again, more := notation.Parse("saltmarsh.rnd", text)
		notation.NoDiff(t, "findings", text, findings, more)
		notation.NoDiff(t, "tree", text, d, again)
		notation.CheckDraft(t, text, d, findings)
	})
}
