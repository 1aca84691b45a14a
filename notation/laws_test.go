package notation

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// same compares trees by what they mean: without positions, and stitch names
// by the stitch.
func same(more ...cmp.Option) cmp.Options {
	type name struct{ Stitch, Other, Group string }
	return append(cmp.Options{
		cmpopts.IgnoreTypes(Span{}, []Span(nil)),
		cmpopts.EquateEmpty(),
		cmp.Transformer("name", func(n Name) name {
			out := name{Stitch: n.US}
			if n.US == "" {
				out.Other = strings.ToLower(n.Text)
			}
			if n.Group != nil {
				out.Group = strings.ToLower(n.Group.Name.Text)
			}
			return out
		}),
	}, more...)
}

var withoutComments = cmpopts.IgnoreTypes(Comments{}, []Comment(nil))

// parseClean parses a text that has nothing wrong with it.
func parseClean(t rapid.TB, text string) *Draft {
	t.Helper()
	d, findings := Parse("", text)
	if len(findings) > 0 {
		t.Fatalf("%s\nfindings:\n%s", text, list(findings))
	}
	return d
}

func noDiff(t rapid.TB, what, text string, want, got any, options ...cmp.Option) {
	t.Helper()
	if diff := cmp.Diff(want, got, options...); diff != "" {
		t.Fatalf("%s\n%s (-want +got):\n%s", text, what, diff)
	}
}

func commentsOf(text string) []string {
	var list []string
	for _, t := range scan(text) {
		if t.kind == tokComment {
			list = append(list, t.value)
		}
	}
	return list
}

// checkDraft puts the laws to a parsed text that hold whatever it says.
func checkDraft(t rapid.TB, text string, d *Draft, findings []Finding) {
	t.Helper()
	c := spanChecker{t: t, text: text, places: placesOf(text)}
	c.nodes(d)
	for _, f := range findings {
		c.span(f.Rule+": "+f.Message, f.Span)
		for _, r := range f.Related {
			c.span(r.Message, r.Span)
		}
		if strings.Contains(f.Message, "internal error") {
			t.Errorf("%q\n%s: %s", text, f.Span, f.Message)
		}
	}
	checkKept(t, text, d)
}

// checkKept sees that nothing is lost: statements that were not read stand in
// the formatted text as they were written, and so do all comments.
func checkKept(t rapid.TB, text string, d *Draft) {
	t.Helper()
	formatted := Format(d)
	rest := formatted
	for _, s := range d.Statements {
		written := plainLines(asWritten(s))
		if written == "" {
			continue
		}
		_, after, found := strings.Cut(rest, written)
		if !found {
			t.Errorf("%q\nis formatted\n%q\nwithout\n%q", text, formatted, written)
			return
		}
		rest = after
	}
	want, got := map[string]int{}, map[string]int{}
	for _, c := range commentsOf(text) {
		want[c]++
	}
	for _, c := range commentsOf(formatted) {
		got[c]++
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%q\nis formatted\n%q\ncomments (-want +got):\n%s", text, formatted, diff)
	}
}

// A spanChecker knows where every character of a text stands.
type spanChecker struct {
	t      rapid.TB
	text   string
	places map[int]Pos
}

// placesOf maps the offset of every character, and of the end, to its place.
func placesOf(text string) map[int]Pos {
	places := map[int]Pos{}
	p := Pos{0, 1, 1}
	if strings.HasPrefix(text, "\ufeff") {
		p.Offset = len("\ufeff")
	}
	places[0] = Pos{0, 1, 1}
	for p.Offset < len(text) {
		places[p.Offset] = p
		_, size := utf8.DecodeRuneInString(text[p.Offset:])
		if text[p.Offset] == '\n' {
			p.Line, p.Column = p.Line+1, 0
		}
		p.Offset, p.Column = p.Offset+size, p.Column+1
	}
	places[p.Offset] = p
	return places
}

func (c *spanChecker) span(what string, s Span) {
	c.t.Helper()
	for _, p := range []Pos{s.Start, s.End} {
		if c.places[p.Offset] != p {
			c.t.Errorf("%q\n%s: no place %+v", c.text, what, p)
			return
		}
	}
	if s.Start.Offset > s.End.Offset {
		c.t.Errorf("%q\n%s: span %s runs backwards", c.text, what, s)
	}
}

// nodes checks every span in the draft: inside the text, inside the node
// around it, after the node before it.
func (c *spanChecker) nodes(d *Draft) {
	for _, comment := range d.Tail {
		c.span("comment", comment.Span)
	}
	last := 0
	for _, s := range d.Statements {
		if s.Range().Start.Offset < last {
			c.t.Errorf("%q\n%T begins before the statement above it ends", c.text, s)
		}
		last = s.Range().End.Offset
		c.node(s, Span{End: Pos{Offset: len(c.text)}})
	}
}

func (c *spanChecker) node(n Node, around Span) {
	at := n.Range()
	c.span(fmt.Sprintf("%T", n), at)
	if at.Start.Offset < around.Start.Offset || at.End.Offset > around.End.Offset {
		c.t.Errorf("%q\n%T %s stands outside %s", c.text, n, at, around)
	}
	c.parts(n)
	last := at.Start.Offset
	Walk(n, func(in Node) bool {
		if in == n {
			return true
		}
		if in.Range().Start.Offset < last {
			c.t.Errorf("%q\n%T begins before its neighbour ends", c.text, in)
		}
		last = in.Range().End.Offset
		c.node(in, at)
		return false
	})
}

// parts checks the spans that a node has beside its own.
func (c *spanChecker) parts(n Node) {
	at := n.Range()
	v := reflect.ValueOf(n).Elem()
	for i := range v.NumField() {
		field := v.Type().Field(i)
		if field.Anonymous {
			continue
		}
		var span Span
		switch value := v.Field(i).Interface().(type) {
		case Span:
			span = value
		case Name:
			span = value.Span
		case *Name:
			if value == nil {
				continue
			}
			span = value.Span
		case Quantity:
			span = value.Span
		}
		if span == (Span{}) {
			continue
		}
		c.span(fmt.Sprintf("%T.%s", n, field.Name), span)
		if span.Start.Offset < at.Start.Offset || span.End.Offset > at.End.Offset {
			c.t.Errorf("%q\n%T.%s %s stands outside %s", c.text, n, field.Name, span, at)
		}
	}
}

// corpus returns drafts to begin with: those of the repository and the blocks
// of the grammar document.
func corpus(t rapid.TB) map[string]string {
	t.Helper()
	texts := map[string]string{}
	files, err := filepath.Glob("../testdata/*/*.rnd")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append(files, "testdata/seventeen.rnd") {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(text)
	}
	for i, block := range blocks(t) {
		texts[fmt.Sprintf("GRAMMAR.md block %d", i+1)] = block
	}
	return texts
}

func TestCorpus(t *testing.T) {
	for name, text := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			d := parseClean(t, text)
			checkDraft(t, text, d, nil)
			formatted := Format(d)
			again := parseClean(t, formatted)
			noDiff(t, "parse(Format(d))", formatted, d, again, same())
			noDiff(t, "Format is idempotent", formatted, formatted, Format(again))
		})
	}
}

// TestParallel: drafts may be read and written at the same time; what they
// share, the parser and the groups that need no definition, does not change.
func TestParallel(t *testing.T) {
	const text = "ring\nrnd 1: [shell in ring, vst in ring] 3 times, dd in ring\n"
	_, want := Parse("", text)
	for range 4 {
		t.Run("", func(t *testing.T) {
			t.Parallel()
			for range 50 {
				d, got := Parse("", text)
				noDiff(t, "findings", text, want, got)
				Format(Translate(d, UK))
			}
		})
	}
}

// sprinkle puts numbered comments into the text of a draft wherever a line may
// end, and returns the text and how many there are.
func sprinkle(t *rapid.T, text string) (string, int) {
	out := new(strings.Builder)
	n, depth := 0, 0
	comment := func() {
		if rapid.IntRange(1, 4).Draw(t, "comment") > 1 {
			return
		}
		if rapid.Bool().Draw(t, "on a line of its own") {
			out.WriteString("\n")
		}
		fmt.Fprintf(out, " # %d %s\n", n, rapid.SampledFrom([]string{"", "so", "\u00e9t\u00e9", "# \"[(,"}).Draw(t, "text"))
		n++
	}
	at := 0
	comment()
	for _, tok := range scan(text) {
		out.WriteString(text[at:tok.end.Offset])
		at = tok.end.Offset
		depth += depthOf(tok)
		if depth > 0 || tok.is(",") || tok.kind == tokNewline {
			comment()
		}
	}
	return out.String(), n
}
