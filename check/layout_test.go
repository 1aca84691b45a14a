package check

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

var withLayout = Options{Rules: append(Rules(), LayoutRule())}

func TestLayout(t *testing.T) {
	r := LayoutRule()
	wantPlaces(t, "failing", source(t, r.Doc.Failing, withLayout).Findings, []string{"1 layout"})
	wantPlaces(t, "passing", source(t, r.Doc.Passing, withLayout).Findings, nil)
	if got := fix(t, r.Doc.Failing, withLayout).Text; got != r.Doc.Passing {
		t.Errorf("the failing draft becomes\n%s", got)
	}
	// It is put only where it is asked for; an allow line may name it all the
	// same.
	wantPlaces(t, "not asked", source(t, "allow layout \"as printed\"\n"+r.Doc.Failing, Options{}).Findings, nil)
	wantPlaces(t, "allowed", source(t, "allow layout \"as printed\"\n"+r.Doc.Failing, withLayout).Findings, nil)
	wantPlaces(t, "cannot be read", source(t, "RING\nrnd 1:12 dc in ring+\n", withLayout).Findings, []string{"2 syntax"})
	// A tree has no layout.
	tree, _ := notation.Parse("", r.Doc.Failing)
	report, err := Draft(t.Context(), tree, nil, withLayout)
	if err != nil {
		t.Fatal(err)
	}
	wantPlaces(t, "tree", report.Findings, nil)
}

// The other fixes are made first, then the layout.
func TestLayoutLast(t *testing.T) {
	const text = "\uFEFFterms us\r\nRING\r\nrnd 1:12 HTR in ring=13 htr, 12 st   # so\r\n\r\n\r\n\r\nrnd 2: 2 hdc in each st"
	const want = "terms us\nring\nrnd 1: 12 hdc in ring = 12 hdc, 12 st # so\n\nrnd 2: 2 hdc in each st\n"
	fixed := fix(t, text, withLayout)
	if diff := cmp.Diff(want, fixed.Text); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	wantPlaces(t, "made", fixed.Made, []string{"3 terms", "3 claim-count", "3 terms", "1 layout"})
}

// The edits of the fix leave the lines that stay, and together they make what
// Format makes.
func TestLayoutEdits(t *testing.T) {
	const text = "# one\nring\nRND 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3:dc in each st\nrnd 4: dc in each st\n"
	f := source(t, text, withLayout).Findings
	at := len(f) - 1
	for f[at].Rule != layoutID {
		at--
	}
	var lines []int
	for _, e := range f[at].Fixes[0].Edits {
		lines = append(lines, e.Span.Start.Line)
	}
	if diff := cmp.Diff([]int{3, 5}, lines); diff != "" {
		t.Errorf("lines changed (-want +got):\n%s", diff)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := notationtest.Pieces().Draw(t, "piece").String()
		for range rapid.IntRange(0, 4).Draw(t, "slips") {
			at := rapid.IntRange(0, len(text)).Draw(t, "at")
			text = text[:at] + rapid.SampledFrom([]string{" ", "\n", "\r", "\t", "# so\n", "\uFEFF", " \n\n\n"}).Draw(t, "in") + text[at:]
		}
		fixed := fix(t, text, withLayout)
		draft, found := notation.Parse("", text)
		for _, f := range found {
			if unreadable(f) {
				return
			}
		}
		if want := notation.Format(draft); fixed.Text != want {
			t.Fatalf("%q\nbecame\n%q\nwant\n%q", text, fixed.Text, want)
		}
	})
}

func TestHunks(t *testing.T) {
	tests := []struct {
		was, is string
		want    []hunk
	}{
		{"", "", nil},
		{"a b c", "a b c", nil},
		{"", "a", []hunk{{0, 0, 0, 1}}},
		{"a", "", []hunk{{0, 1, 0, 0}}},
		{"a b c", "a x c", []hunk{{1, 2, 1, 2}}},
		{"a b c d e", "x b y d z", []hunk{{0, 1, 0, 1}, {2, 3, 2, 3}, {4, 5, 4, 5}}},
		{"a a b a a", "a b a", []hunk{{1, 2, 1, 1}, {4, 5, 3, 3}}},
		{"b a", "a b", []hunk{{0, 0, 0, 1}, {1, 2, 2, 2}}},
	}
	for _, test := range tests {
		was, is := strings.Fields(test.was), strings.Fields(test.is)
		got := hunks(was, is)
		if diff := cmp.Diff(test.want, got, cmp.AllowUnexported(hunk{})); diff != "" {
			t.Errorf("%s -> %s (-want +got):\n%s", test.was, test.is, diff)
		}
		var made []string
		at := 0
		for _, h := range got {
			made = append(append(made, was[at:h.from]...), is[h.newFrom:h.newTo]...)
			at = h.to
		}
		if made = append(made, was[at:]...); strings.Join(made, " ") != test.is {
			t.Errorf("%s -> %v", test.was, made)
		}
	}
}
