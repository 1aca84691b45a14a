package notationtest

import (
	"bytes"
	"context"
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Notation is a way to write pieces down.
type Notation interface {
	// Parse reads a text as far as it can be read; the findings say what
	// cannot be, and where in the text. It always returns a draft.
	Parse(text string) (*notation.Draft, []notation.Finding)
	// Print writes a piece, of which it is given the tree and what was worked
	// of it; most notations need only one of the two. The error says that the
	// notation has no words for something in it.
	Print(d *notation.Draft, g *model.Graph) (string, error)
}

// A TB takes complaints. *testing.T and *rapid.T are TBs.
type TB interface {
	Helper()
	Errorf(format string, args ...any)
}

// smallLimits bound the work of a text that means nothing.
var smallLimits = model.WithLimits(model.Limits{Stitches: 5000, Rounds: 100})

// Test puts the laws to a notation. The texts are drafts in it to begin with:
// they are read as they stand, cut off at every byte, and with slips in them.
//
// It takes a second or two, and as many cases as the flag -rapid.checks says.
func Test(t *testing.T, n Notation, texts ...string) {
	t.Run("pieces", func(t *testing.T) {
		var drawn, printed atomic.Int64
		rapid.Check(t, func(t *rapid.T) {
			drawn.Add(1)
			if laws(t, n) {
				printed.Add(1)
			}
		})
		// A notation that can say next to nothing keeps every law.
		if t.Logf("has words for %d of %d pieces", printed.Load(), drawn.Load()); printed.Load() < drawn.Load()/20 {
			t.Errorf("printed only %d of %d pieces", printed.Load(), drawn.Load())
		}
	})
	t.Run("slips", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) { CheckText(t, n, slips(t, n, texts)) })
	})
	t.Run("bytes", func(t *testing.T) {
		for _, text := range append(texts, "") {
			for b := range 256 {
				CheckText(t, n, string([]byte{byte(b)}))
				CheckText(t, n, text+string([]byte{byte(b)})+text)
			}
		}
	})
	t.Run("cut off", func(t *testing.T) {
		for _, text := range texts {
			for i := range len(text) + 1 {
				CheckText(t, n, text[:i])
			}
		}
	})
	t.Run("at once", func(t *testing.T) { atOnce(t, n, texts) })
}

// Laws returns the property that Test checks with pieces: what the notation
// prints of a piece it reads again, without a finding, as the same piece; its
// counts are those the piece was drawn with; and printed again it is the same
// text.
//
// A piece that the notation has no words for is left out.
func Laws(n Notation) func(*rapid.T) {
	return func(t *rapid.T) { laws(t, n) }
}

// laws reports whether the notation has words for the piece it drew.
func laws(t *rapid.T, n Notation) bool {
	p := Pieces().Draw(t, "piece")
	d := p.Draft()
	g, findings, err := model.Build(context.Background(), d)
	if err != nil || len(findings) > 0 {
		t.Fatalf("a piece that does not work: %v %v\n%s", err, told(findings), p)
	}
	text, err := n.Print(d, g)
	if err != nil {
		return false
	}
	read, findings := n.Parse(text)
	again, more, err := model.Build(context.Background(), read)
	if findings = append(findings, more...); err != nil || len(findings) > 0 {
		t.Fatalf("printed:\n%s\nread again: %v %v", text, err, told(findings))
	}
	if diff := DiffGraphs(g, again); diff != "" {
		t.Fatalf("printed:\n%s\nread again it is another piece (-drawn +read):\n%s", text, diff)
	}
	for i, want := range p.Counts() {
		if got := again.Counts(i); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("printed:\n%s\nround %d has %+v, drawn were %+v", text, i+1, got, want)
		}
	}
	if twice, err := n.Print(read, again); err != nil || twice != text {
		t.Fatalf("printed:\n%s\nread, and printed again (%v):\n%s", text, err, twice)
	}
	CheckText(t, n, text)
	return true
}

// CheckText puts the laws to any text, whether it means something or not: the
// notation does not panic; its findings have a rule, a severity, words and a
// place in the text, in the order of the text; the places of the tree lie
// inside the text, and inside one another; a second time the answer is the
// same; whatever is read makes a sound graph; and what is read without a
// finding can be printed, if there are words for it, and is the same piece
// when it is read again.
func CheckText(t TB, n Notation, text string) {
	t.Helper()
	defer func() {
		if r := recover(); r != nil {
			t.Errorf("%q\npanic: %v\n%s", text, r, debug.Stack())
		}
	}()
	d, findings := n.Parse(text)
	if d == nil {
		t.Errorf("%q\nno draft", text)
		return
	}
	CheckFindings(t, text, findings)
	checkTree(t, text, d)

	g, more, err := model.Build(context.Background(), d, smallLimits)
	if err != nil {
		t.Errorf("%q\n%v", text, err)
	}
	CheckGraph(t, g)
	CheckFindings(t, text, more)

	other, second := n.Parse(text)
	if fmt.Sprint(findings) != fmt.Sprint(second) {
		t.Errorf("%q\nfindings %v, the second time %v", text, told(findings), told(second))
	}
	again, _, _ := model.Build(context.Background(), other, smallLimits)
	if diff := DiffGraphs(g, again); diff != "" {
		t.Errorf("%q\nthe second time another piece (-first +second):\n%s", text, diff)
	}
	if len(findings)+len(more) > 0 {
		return
	}
	printed, err := n.Print(d, g)
	if err != nil {
		return
	}
	other, findings = n.Parse(printed)
	again, more, _ = model.Build(context.Background(), other, smallLimits)
	if findings = append(findings, more...); len(findings) > 0 {
		t.Errorf("%q\nis printed\n%q\nwith the findings %v", text, printed, told(findings))
	}
	if diff := DiffGraphs(g, again); diff != "" {
		t.Errorf("%q\nis printed\n%q\nwhich is another piece (-before +after):\n%s", text, printed, diff)
	}
}

// slips draws a text of a notation with a few slips of the pen.
func slips(t *rapid.T, n Notation, texts []string) string {
	var text string
	if len(texts) > 0 && rapid.Bool().Draw(t, "a given text") {
		text = rapid.SampledFrom(texts).Draw(t, "text")
	} else {
		p := Pieces().Draw(t, "piece")
		d := p.Draft()
		g, _, err := model.Build(context.Background(), d)
		if err == nil {
			text, _ = n.Print(d, g)
		}
	}
	for range rapid.IntRange(1, 3).Draw(t, "slips") {
		from := rapid.IntRange(0, len(text)).Draw(t, "from")
		to := min(from+rapid.IntRange(0, 3).Draw(t, "length"), len(text))
		// What is put in is foreign, or stands elsewhere in the text.
		in := rapid.String().Draw(t, "foreign")
		if text != "" && rapid.Bool().Draw(t, "from the text") {
			at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
			in = text[at:min(at+rapid.IntRange(0, 6).Draw(t, "as much"), len(text))]
		}
		text = text[:from] + in + text[to:]
	}
	return text
}

// atOnce lets many goroutines use a notation, and sees that each gets the
// answer that it gives to one.
func atOnce(t *testing.T, n Notation, texts []string) {
	answer := func(text string) string {
		d, findings := n.Parse(text)
		g, more, err := model.Build(context.Background(), d, smallLimits)
		printed, noWords := n.Print(d, g)
		return fmt.Sprint(findings, more, err, printed, noWords)
	}
	for i := range 8 {
		p := Pieces().Example(i)
		d := p.Draft()
		if g, _, err := model.Build(context.Background(), d); err == nil {
			if text, err := n.Print(d, g); err == nil {
				texts = append(texts, text)
			}
		}
	}
	want := make([]string, len(texts))
	for i, text := range texts {
		want[i] = answer(text)
	}
	var all sync.WaitGroup
	for range 64 {
		all.Go(func() {
			for i, text := range texts {
				if got := answer(text); got != want[i] {
					t.Errorf("%q\nby itself: %s\nat once: %s", text, want[i], got)
				}
			}
		})
	}
	all.Wait()
}

func told(findings []notation.Finding) string {
	var b strings.Builder
	for _, f := range findings {
		fmt.Fprintf(&b, "\n\t%s %s: %s", f.Span, f.Rule, f.Text())
	}
	return b.String()
}

// CheckFindings sees that findings are complete, stand in the order of the text
// and lie inside it. Findings about a tree without positions have no place.
func CheckFindings(t TB, text string, findings []notation.Finding) {
	t.Helper()
	c := &spans{t: t, text: text}
	for i, f := range findings {
		if f.Rule == "" || f.Message == "" || f.Severity == 0 || f.Held < 0 {
			t.Errorf("%q\na finding without rule, words or severity: %+v", text, f)
		}
		if i > 0 && findings[i-1].Span.Start.Offset > f.Span.Start.Offset {
			t.Errorf("%q\nfindings out of order: %s after %s", text, f.Span, findings[i-1].Span)
		}
		c.check(f.Message, f.Span)
		for _, r := range f.Related {
			c.check(r.Message, r.Span)
		}
		for _, fix := range f.Fixes {
			if fix.Message == "" || len(fix.Edits) == 0 {
				t.Errorf("%q\n%s: a fix without words or edits: %+v", text, f.Message, fix)
			}
			for _, e := range fix.Edits {
				c.check(fix.Message, e.Span)
			}
			if _, err := notation.ApplyEdits(text, fix.Edits...); err != nil {
				t.Errorf("%q\n%s: %s: %v", text, f.Message, fix.Message, err)
			}
		}
	}
}

// checkTree sees that the places of a tree lie inside the text, and inside one
// another. Nodes without a place are passed over.
func checkTree(t TB, text string, d *notation.Draft) {
	t.Helper()
	c := &spans{t: t, text: text}
	whole := notation.Span{End: notation.Pos{Offset: len(text)}}
	var inside func(n notation.Node, around notation.Span)
	inside = func(n notation.Node, around notation.Span) {
		notation.Walk(n, func(in notation.Node) bool {
			if in == n {
				return true
			}
			at := in.Range()
			if at == (notation.Span{}) {
				return true
			}
			c.check(fmt.Sprintf("%T", in), at)
			if at.Start.Offset < around.Start.Offset || at.End.Offset > around.End.Offset {
				t.Errorf("%q\n%T %s stands outside %s", text, in, at, around)
			}
			inside(in, at)
			return false
		})
	}
	inside(d, whole)
}

// spans checks places in a text.
type spans struct {
	t     TB
	text  string
	lines []int // offset of the beginning of each line
}

func (c *spans) check(what string, s notation.Span) {
	c.t.Helper()
	if s == (notation.Span{}) {
		return
	}
	if s.Start.Offset > s.End.Offset {
		c.t.Errorf("%q\n%s: %s runs backwards", c.text, what, s)
	}
	for _, p := range []notation.Pos{s.Start, s.End} {
		if !c.holds(p) {
			c.t.Errorf("%q\n%s: no place %s, offset %d", c.text, what, p, p.Offset)
		}
	}
}

// holds reports whether line and column of a place are those of its offset. A
// byte order mark at the beginning may count as a character or not.
func (c *spans) holds(p notation.Pos) bool {
	if c.lines == nil {
		c.lines = []int{0}
		for i := range len(c.text) {
			if c.text[i] == '\n' {
				c.lines = append(c.lines, i+1)
			}
		}
	}
	if p.Offset < 0 || p.Offset > len(c.text) {
		return false
	}
	line, found := slices.BinarySearch(c.lines, p.Offset)
	if !found {
		line--
	}
	before := c.text[c.lines[line]:p.Offset]
	column := 1 + utf8.RuneCountInString(before)
	unmarked := column
	if line == 0 && strings.HasPrefix(before, "\ufeff") {
		unmarked--
	}
	return p.Line == line+1 && (p.Column == column || p.Column == unmarked)
}

// DiffGraphs compares two graphs stitch by stitch, and returns the first lines
// of their JSON forms that differ, or "".
func DiffGraphs(a, b *model.Graph) string {
	one, other := lines(a), lines(b)
	for i := range max(len(one), len(other)) {
		var x, y string
		if i < len(one) {
			x = one[i]
		}
		if i < len(other) {
			y = other[i]
		}
		if x != y {
			return fmt.Sprintf("-%s\n+%s", x, y)
		}
	}
	return ""
}

func lines(g *model.Graph) []string {
	var b bytes.Buffer
	if err := g.WriteJSON(&b); err != nil {
		return []string{err.Error()}
	}
	return strings.Split(b.String(), "\n")
}
