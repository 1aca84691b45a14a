package notationtest_test

import (
	"errors"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// own is the notation of package notation.
type own struct{}

func (own) Parse(text string) (*notation.Draft, []notation.Finding) { return notation.Parse("", text) }

func (own) Print(d *notation.Draft, _ *model.Graph) (string, error) { return notation.Format(d), nil }

const saltmarsh = `motif "Saltmarsh"
yarn sand
stitch fan = (dc, ch 1, dc)
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times # the centre
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] around = 7/11 dc per side
rnd 4: [fan in next st, sk 1 st] 20 times, fan in next st
`

func TestOwn(t *testing.T) { notationtest.Test(t, own{}, saltmarsh) }

func FuzzPieces(f *testing.F) { f.Fuzz(rapid.MakeFuzz(notationtest.Laws(own{}))) }

func FuzzText(f *testing.F) {
	f.Add(saltmarsh)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) < 4<<10 {
			notationtest.CheckText(t, own{}, text)
		}
	})
}

// A faulty notation is our own with a fault.
type faulty struct {
	parse func(d *notation.Draft, findings []notation.Finding, text string) (*notation.Draft, []notation.Finding)
	print func(d *notation.Draft, text string) (string, error)
}

func (f faulty) Parse(text string) (*notation.Draft, []notation.Finding) {
	d, findings := notation.Parse("", text)
	if f.parse != nil {
		return f.parse(d, findings, text)
	}
	return d, findings
}

func (f faulty) Print(d *notation.Draft, _ *model.Graph) (string, error) {
	if f.print != nil {
		return f.print(d, notation.Format(d))
	}
	return notation.Format(d), nil
}

// TestLawsCanFail: laws that never complain prove nothing.
func TestLawsCanFail(t *testing.T) {
	var calls atomic.Int64
	for name, test := range map[string]struct {
		n    faulty
		want string
	}{
		"changes a word": {faulty{print: func(_ *notation.Draft, text string) (string, error) {
			return strings.Replace(text, "Saltmarsh", "Harbour", 1), nil
		}}, "another piece"},
		"prints what it cannot read": {faulty{print: func(_ *notation.Draft, text string) (string, error) {
			return text + "rnd\n", nil
		}}, "read again"},
		"never the same text": {faulty{print: func(_ *notation.Draft, text string) (string, error) {
			return fmt.Sprint(text, "# ", calls.Add(1), "\n"), nil
		}}, "printed again"},
		"panics": {faulty{parse: func(d *notation.Draft, f []notation.Finding, text string) (*notation.Draft, []notation.Finding) {
			if strings.Contains(text, "ch") {
				panic("chains")
			}
			return d, f
		}}, "panic"},
		"no draft": {faulty{parse: func(_ *notation.Draft, f []notation.Finding, _ string) (*notation.Draft, []notation.Finding) {
			return nil, f
		}}, "no draft"},
		"places outside the text": {faulty{parse: func(d *notation.Draft, f []notation.Finding, text string) (*notation.Draft, []notation.Finding) {
			for r := range d.Rounds() {
				r.Span.End.Offset += 1000
			}
			return d, f
		}}, "no place"},
		"findings outside the text": {faulty{parse: func(d *notation.Draft, f []notation.Finding, text string) (*notation.Draft, []notation.Finding) {
			at := notation.Pos{Offset: len(text) + 1, Line: 1, Column: len(text) + 2}
			return d, append(f, notation.Finding{Rule: "syntax", Severity: notation.Error, Message: "so", Span: notation.Span{Start: at, End: at}})
		}}, "no place"},
		"findings without words": {faulty{parse: func(d *notation.Draft, f []notation.Finding, text string) (*notation.Draft, []notation.Finding) {
			return d, append(f, notation.Finding{})
		}}, "without rule"},
		"not the same twice": {faulty{parse: func(d *notation.Draft, f []notation.Finding, text string) (*notation.Draft, []notation.Finding) {
			if calls.Add(1)%2 == 0 {
				return &notation.Draft{}, f
			}
			return d, f
		}}, "second time"},
	} {
		t.Run(name, func(t *testing.T) {
			c := &collector{}
			// What the pieces find stands for both: rapid reports by stopping
			// the test, so that the property is run by hand.
			notationtest.CheckText(c, test.n, saltmarsh)
			c.laws(notationtest.Laws(test.n))
			if !strings.Contains(c.String(), test.want) {
				t.Errorf("complaints do not speak of %q:\n%s", test.want, c)
			}
		})
	}
}

// TestSpeechless: a notation that says nothing keeps no law by that.
func TestSpeechless(t *testing.T) {
	c := &collector{}
	n := faulty{print: func(*notation.Draft, string) (string, error) { return "", errors.New("no words") }}
	c.laws(notationtest.Laws(n))
	if c.Len() > 0 {
		t.Errorf("%s", c)
	}
}

// A collector is a TB that keeps what is said to it.
type collector struct{ strings.Builder }

func (c *collector) Helper() {}

func (c *collector) Errorf(format string, args ...any) { fmt.Fprintf(c, format+"\n", args...) }

// laws runs a property for one piece, and keeps what it complains of.
func (c *collector) laws(property func(*rapid.T)) {
	rapid.Custom(func(t *rapid.T) int {
		defer func() {
			if r := recover(); r != nil {
				fmt.Fprintln(c, r)
			}
		}()
		property(t)
		return 0
	}).Example(3)
}

// TestPieces: pieces are of all kinds, and none is large.
func TestPieces(t *testing.T) {
	seen := map[string]bool{}
	for i := range 300 {
		p := notationtest.Pieces().Example(i)
		g, findings, err := model.Build(t.Context(), p.Draft())
		if err != nil || len(findings) > 0 {
			t.Fatalf("%v %v\n%s", err, findings, p)
		}
		if g.Len() > 20_000 {
			t.Errorf("%d stitches:\n%s", g.Len(), p)
		}
		for _, word := range []string{"yarn", "worked turned", "stitch drift", "corner", " gap", "ring ch", " loop of", "tog", "picot", " as ", "-", " per side", "same", "around", "[["} {
			seen[word] = seen[word] || strings.Contains(p.String(), word)
		}
	}
	for word, ok := range seen {
		if !ok {
			t.Errorf("no piece has %q in it", word)
		}
	}
}

// TestGraphs: what Graphs makes is sound.
func TestGraphs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { notationtest.CheckGraph(t, notationtest.Graphs().Draw(t, "graph")) })
}
