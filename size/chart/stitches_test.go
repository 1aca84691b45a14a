package chart_test

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
	"example.com/roundel/size/chart"
)

// drawn is how many rounds are drawn: those before the first that could not be
// worked.
func drawn(g *model.Graph) int {
	for i, r := range g.Rounds() {
		if r.Status == model.NotWorked {
			return i
		}
	}
	return g.NumRounds()
}

// held is what a piece holds, by kind: what the chart has to show.
func held(g *model.Graph) map[string]int {
	out := map[string]int{}
	add := func(kind string, n int) {
		if n > 0 {
			out[kind] += n
		}
	}
	add("ch", g.Ring)
	for i := range drawn(g) {
		c := g.Counts(i)
		for kind, n := range c.Stitches {
			add(kind, n)
		}
		add("ch", c.Chains)
		add("picot", c.Picots)
	}
	return out
}

// checkStitches holds a chart of stitches against the piece.
func checkStitches(t reporter, d *notation.Draft, g *model.Graph, o chart.Options) {
	t.Helper()
	p := checkPicture(t, chart.Stitches, d, g, o)
	if diff := cmp.Diff(held(g), p.stitches(t)); diff != "" {
		t.Errorf("symbols by kind (-piece +chart):\n%s", diff)
	}
	for i := range drawn(g) {
		checkRound(t, p, g, i)
	}
}

// checkRound sees that a round stands by itself in the chart, with its own
// stitches.
func checkRound(t reporter, p *picture, g *model.Graph, i int) {
	t.Helper()
	group := p.byID[fmt.Sprintf("round-%d", i+1)]
	if group == nil {
		t.Errorf("round %d is not drawn", i+1)
		return
	}
	c := g.Counts(i)
	want := c.Total + c.Chains + c.Picots
	if n := len(group.all("use")); n != want {
		t.Errorf("round %d has %d symbols, want %d", i+1, n, want)
	}
}

// TestStitches draws every draft that comes with the project.
func TestStitches(t *testing.T) {
	for _, d := range corpus(t) {
		t.Run(d.name, func(t *testing.T) {
			t.Parallel()
			checkStitches(t, d.Draft, d.Graph, chart.Options{})
			checkStitches(t, d.Draft, d.Graph, chart.Options{Colour: true, Terms: []notation.Terms{notation.US, notation.UK}})
		})
	}
}

// TestDrawn draws drafts that nobody designed: some that come out, and some full
// of mistakes.
func TestDrawn(t *testing.T) {
	check := func(t *rapid.T, text string) {
		d, g := work(t, text)
		o := chart.Options{Colour: rapid.Bool().Draw(t, "colour"), Symbols: 3000}
		limit := new(chart.LimitError)
		if err := chart.Stitches(io.Discard, d, g, o); errors.As(err, &limit) {
			return // the others are small
		}
		checkStitches(t, d, g, o)
		checkPicture(t, chart.Plan, d, g, o)
		checkPicture(t, chart.Growth, d, g, o)
	}
	t.Run("pieces", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) { check(t, notationtest.Pieces().Draw(t, "piece").String()) })
	})
	t.Run("drafts", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) { check(t, notation.Format(notationtest.Drafts().Draw(t, "draft"))) })
	})
}

// TestNumbers: every round has its number.
func TestNumbers(t *testing.T) {
	for _, d := range corpus(t) {
		p := readPicture(t, draw(t, chart.Stitches, d.Draft, d.Graph, chart.Options{}))
		var got, want []string
		for _, e := range p.byID["numbers"].all("text") {
			got = append(got, e.text)
		}
		for i := range drawn(d.Graph) {
			want = append(want, strconv.Itoa(d.Graph.Round(i).Number))
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", d.name, diff)
		}
	}
}

// TestLegend: the legend names what occurs and nothing else, in the terms that
// are asked for.
func TestLegend(t *testing.T) {
	const text = "terms uk\nring\nrnd 1: 8 tr in ring\nrnd 2: [(tr3tog, ch 2, dc) in next st] around\n"
	const join = "slip stitch, not counted"
	for _, c := range []struct {
		terms []notation.Terms
		want  []string
	}{
		{nil, []string{"ch", "dc", "tr", "tr3tog in one place", join, "adjustable ring", "start of a round"}},
		{[]notation.Terms{notation.US}, []string{"ch", "sc", "dc", "dc3tog in one place", join, "adjustable ring", "start of a round"}},
		{[]notation.Terms{notation.US, notation.UK}, []string{"ch", "sc (US), dc (UK)", "dc (US), tr (UK)", "dc3tog (US), tr3tog (UK) in one place", join, "adjustable ring", "start of a round"}},
	} {
		d, g := work(t, text)
		p := readPicture(t, draw(t, chart.Stitches, d, g, chart.Options{Terms: c.terms}))
		var got []string
		for _, e := range p.byID["legend"].all("text") {
			if e.text != "1" { // the sample of a number
				got = append(got, e.text)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("terms %v (-want +got):\n%s", c.terms, diff)
		}
	}
}

// TestMadeUp: pictures are of one motif, and say what of the piece is left out.
func TestMadeUp(t *testing.T) {
	const square = "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\n"
	const edge = "rnd 1: [sc in each st and ch, (sc, corner ch 1, sc) in corner] 4 times\n"
	for text, want := range map[string]string{
		square:                              "",
		square + "panel 2 by 2 joined sc\n": " One of 4 motifs.",
		square + "panel 2 by 2 joined sc\nedge of panel\n" + edge:           " One of 4 motifs, without the border.",
		square + "panel 1 by 1\nedge of panel\n" + edge:                     " The motif, without the border.",
		square + "panel tube 2 by 3\nedge of panel\nrnd 1: sc in each st\n": " One of 6 motifs, without the borders.",
	} {
		d, g := work(t, text)
		for name, says := range map[string]string{"stitches": "From the centre, counter-clockwise.", "plan": "The colours from a distance."} {
			p := readPicture(t, draw(t, pictures[name], d, g, chart.Options{}))
			if got := strings.Join(belowTitle(p), " "); got != says+want {
				t.Errorf("%s: %q, want %q, of\n%s", name, got, says+want, text)
			}
		}
	}
}

// TestShades: the colours that tell rounds apart are not taken for yarns.
func TestShades(t *testing.T) {
	const says = "Two colours by turns tell the rounds apart; they are not those of the yarns."
	const one, two = "ring\nrnd 1: 12 dc in ring\n", "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n"
	for _, c := range []struct {
		text   string
		colour bool
		want   bool
	}{{one, false, false}, {two, false, true}, {two, true, false}} {
		d, g := work(t, c.text)
		p := checkPicture(t, chart.Stitches, d, g, chart.Options{Colour: c.colour})
		if got := strings.Contains(strings.Join(belowTitle(p), " "), says); got != c.want {
			t.Errorf("said %t, colour %t, of\n%s", got, c.colour, c.text)
		}
	}
}

// TestWrapped: what is said below the title is there in full, in as many lines as
// it takes.
func TestWrapped(t *testing.T) {
	const text = "shape square\nyarn dusk, 200 m per 100 g, stretch 5 m \"rose\" colour \"#c99aa6\", stretch 6 m \"slate\" colour \"#5b6472\"\nhook 4 mm\ngauge 14 dc by 7.5 rnds over 10 cm\n" +
		"ring\nrnd 1 with dusk: [3 dc in ring, corner ch 2] 4 times\npanel 2 by 2 joined sc\nedge of panel\nrnd 1: [sc in each st and ch, (sc, corner ch 1, sc) in corner] 4 times\n"
	d, g := work(t, text)
	p := checkPicture(t, chart.Plan, d, g, chart.Options{})
	const want = "The colours from a distance. One of 4 motifs, without the border. Where a yarn changes its colour is an estimate."
	if lines := belowTitle(p); strings.Join(lines, " ") != want || len(lines) < 2 {
		t.Errorf("it says %q, want %q in several lines", lines, want)
	}
}

// belowTitle are the lines below the title of a picture.
func belowTitle(p *picture) (lines []string) {
	for _, e := range p.root.all("text")[1:] {
		if e.attrs["class"] != "faint" {
			break
		}
		lines = append(lines, e.text)
	}
	return lines
}

// TestSize: a chart of 5,000 stitches stays below 2 MB.
func TestSize(t *testing.T) {
	for name, text := range large {
		d, g := work(t, text)
		n := 0
		for _, k := range held(g) {
			n += k
		}
		if n < 5000 {
			t.Errorf("%s has only %d stitches", name, n)
		}
		if size := len(draw(t, chart.Stitches, d, g, chart.Options{Colour: true})); size > 2_000_000*n/5000 {
			t.Errorf("%s: %d stitches make %d bytes", name, n, size)
		}
	}
}

// large are pieces of at least 5,000 stitches and chains.
var large = map[string]string{
	"square": "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-25: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n",
	"circle": "ring\nrnd 1: 12 dc in ring\nrnd 2-4: 2 dc in each st\nrnd 5-30: dc in each st\nrnd 31: 2 dc in each st\nrnd 32-46: [dc in next 3 st, 2 dc in next st, dc2tog over next 2 st] 32 times\n",
	"lace": "ring\nrnd 1: 24 dc in ring\nrnd 2-26: [(sc, ch 5, dc2tog) in next st, ch 2, sk 1 st, (dc, picot 3, ch 3) in next st, sk 1 st] 6 times, 6 dc in ring\n" +
		"rnd 27-60: [3 dc in next sp, ch 2] around\n",
}

func TestLimit(t *testing.T) {
	// 12 dc, 12 clusters, 84 chains and two numbers.
	d, g := work(t, "ring\nrnd 1: 12 dc in ring\nrnd 2: [dc3tog in next st, ch 7] around\n")
	var limit *chart.LimitError
	for name, picture := range pictures {
		if err := picture(io.Discard, d, g, chart.Options{Symbols: 110}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := picture(io.Discard, d, g, chart.Options{Symbols: 109}); !errors.As(err, &limit) || *limit != (chart.LimitError{Symbols: 110, Limit: 109}) {
			t.Errorf("%s: error %v, want a limit of 109", name, err)
		}
	}
	for _, text := range []string{
		"ring ch 9999999\nrnd 1: 12 dc in ring\n",
		"ring\nrnd 1: 9000000 dc in ring\n",
		"ring\nrnd 1: [dc in ring, ch 2000000] 4 times\n",
		"ring\nrnd 1: [dc in ring, picot 900000] 9 times\n",
		"ring\nrnd 1: ch 9000000 as dc, 11 dc in ring\n",
	} {
		d, g := work(t, text)
		if err := chart.Stitches(io.Discard, d, g, chart.Options{}); !errors.As(err, &limit) {
			t.Errorf("error %v, want a limit, of:\n%s", err, text)
		}
	}
}

// failing fails after some bytes.
type failing struct{ left int }

func (f *failing) Write(p []byte) (int, error) {
	if f.left -= len(p); f.left < 0 {
		return 0, io.ErrClosedPipe
	}
	return len(p), nil
}

func TestWriteError(t *testing.T) {
	d, g := work(t, "ring\nrnd 1: 12 dc in ring\n")
	for name, picture := range pictures {
		whole := len(draw(t, picture, d, g, chart.Options{}))
		for _, n := range []int{0, whole / 2, whole - 1} {
			if err := picture(&failing{n}, d, g, chart.Options{}); !errors.Is(err, io.ErrClosedPipe) {
				t.Errorf("%s, after %d bytes: error %v", name, n, err)
			}
		}
	}
}
