package size_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// near fails unless got is within a distance of want.
func near(t reporter, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Fatalf("%s is %.4f, want %.4f within %.4f", what, got, want, within)
	}
}

// TestCircle: a round of C = 2 pi s needs 2 pi h/w more stitches every time,
// and one that gets a share e more is that share too long.
func TestCircle(t *testing.T) {
	const rounds = 20
	rapid.Check(t, func(t *rapid.T) {
		stitch := drawSolid(t)
		increase := rapid.Float64Range(6, 24).Draw(t, "increase")
		d := withHeight(stitch, increase/(2*math.Pi))

		for _, r := range size.Shape(work(t, grown(stitch, circleOf(increase, rounds))), d).Rounds {
			near(t, fmt.Sprintf("flat: score of round %d", r.Index+1), r.Score, 0, 0.08)
		}

		// Two stitches in one place take less room than side by side, the more
		// so the shorter they are; that is what the tolerance leaves.
		within := 0.015 + 2.5/(increase*increase)
		e := rapid.Float64Range(-0.5, 0.5).Draw(t, "e")
		p := size.Shape(work(t, grown(stitch, circleOf(increase*(1+e), rounds))), d)
		near(t, "mismatch at the rim", last(p).Mismatch, e, within)
		// Half way out it is about the same: it tends to e, not past it.
		near(t, "mismatch half way", p.Rounds[rounds/2].Mismatch, e, 2*within)
		if math.Abs(e) > 0.15 && math.Signbit(last(p).Score) != math.Signbit(e) {
			t.Fatalf("score %.3f for a share of %.3f", last(p).Score, e)
		}
	})
}

// TestUsualCircles: the increases of the trade, whole numbers, at the default
// heights.
func TestUsualCircles(t *testing.T) {
	for stitch, increase := range map[string]float64{"sc": 6, "dc": 12, "tr": 16} {
		for _, r := range size.Shape(work(t, grown(stitch, circleOf(increase, 12))), size.DefaultDimensions()).Rounds {
			near(t, fmt.Sprintf("%s: score of round %d", stitch, r.Index+1), r.Score, 0, 0.10)
		}
	}
}

// TestPolygon: n corners that add between 2 pi h/w and 2 n tan(pi/n) h/w
// stitches a round lie flat, fewer cup and more ruffle.
func TestPolygon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stitch := drawSolid(t)
		n := rapid.IntRange(3, 8).Draw(t, "corners")
		j := rapid.IntRange(1, 3).Draw(t, "beside a corner")
		chains := rapid.IntRange(0, 3).Draw(t, "chains")
		g := work(t, polygonOf(stitch, n, j, chains, 30))
		added := 2 * float64(n*j)
		round, sharp := 2*math.Pi, 2*float64(n)*math.Tan(math.Pi/float64(n))
		at := func(factor float64) size.Round {
			return last(size.Shape(g, withHeight(stitch, added/factor)))
		}

		// The corners themselves, and what their groups lose by fanning out,
		// shift both ends a little. A triangle's corner chains make it lower
		// than its sides, as three of them carry a large part of it.
		least, most := 1.03*round, 0.96*sharp
		if least > most || n == 3 && chains > 0 {
			least = (round + sharp) / 2
			most = least
		}
		between := rapid.Float64Range(least, most).Draw(t, "between")
		if r := at(between); math.Abs(r.Mismatch) > 1e-5 || math.Abs(r.Score) > 0.01 {
			t.Fatalf("%.3f h a round is between %.3f and %.3f: mismatch %.4f, score %.4f", between, round, sharp, r.Mismatch, r.Score)
		}

		e := rapid.Float64Range(0.1, 0.3).Draw(t, "e")
		r := at(sharp * (1 + e))
		if r.Mismatch < 0.85*e-0.02 || r.Mismatch > 1.4*e+0.03 && (n > 3 || chains == 0) || r.Score < e/2 {
			t.Fatalf("%.3f more than sharp corners need: mismatch %.4f, score %.4f", e, r.Mismatch, r.Score)
		}
		r = at(round * (1 - e))
		near(t, "mismatch of too few", r.Mismatch, -e, 0.04)
		near(t, "score of too few", r.Score, -e, 0.04)
	})
}

// TestCone: a cone of C' = c w/h carries the curvature 2 pi - C' in its tip
// and none elsewhere (Gauss-Bonnet), so away from the tip every round is too
// short by the same share.
func TestCone(t *testing.T) {
	const rounds = 30
	rapid.Check(t, func(t *rapid.T) {
		stitch := drawSolid(t)
		height := rapid.Float64Range(1, 4).Draw(t, "height")
		c := rapid.IntRange(2, 20).Draw(t, "increase")
		slope := float64(c) / height
		if slope > 0.97*2*math.Pi {
			c = int(0.97 * 2 * math.Pi * height)
			slope = float64(c) / height
		}
		p := size.Shape(work(t, grown(stitch, circleOf(float64(c), rounds))), withHeight(stitch, height))
		want := slope/(2*math.Pi) - 1
		near(t, "mismatch", last(p).Mismatch, want, 0.02+0.6/(float64(c)*height))
		for _, r := range p.Rounds[rounds/2:] {
			near(t, fmt.Sprintf("mismatch of round %d", r.Index+1), r.Mismatch, last(p).Mismatch, 0.025)
		}
	})
}

// TestTube: a tube does not grow, so its rounds come to be all too short.
func TestTube(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stitch := drawSolid(t)
		n := rapid.IntRange(4, 60).Draw(t, "stitches")
		rounds := rapid.IntRange(50, 150).Draw(t, "rounds")
		d := size.DefaultDimensions()
		kind, _ := model.Lookup(stitch)
		_, h := d.Of(kind)
		p := size.Shape(work(t, fmt.Sprintf("ring\nrnd 1: %d %s in ring\nrnd 2-%d: %[2]s in each st\n", n, stitch, rounds)), d)
		before, held := math.Inf(1), 0.0
		for i, r := range p.Rounds {
			s := d.Ring + float64(i+1)*h
			made := 2 * s * math.Atan(1/(2*s)) * float64(n)
			near(t, "shoulder", r.Shoulder, s, 1e-3)
			// The ring is open, or closed as far as the round below lets it.
			open, closed := 2*math.Pi*s, math.Max(2*math.Pi*float64(i+1)*h, held+2*math.Pi*h)
			held = math.Max(closed, math.Min(made, open))
			near(t, "mismatch", r.Mismatch, math.Max(made/open-1, 0)+math.Min(made/closed-1, 0), 1e-3)
			if r.Mismatch > before || r.Mismatch == before && r.Mismatch != 0 {
				t.Fatalf("round %d: mismatch %.4f after %.4f", i+1, r.Mismatch, before)
			}
			before = r.Mismatch
		}
		near(t, "mismatch at the rim", before, -1, 1e-4+float64(n)/(2*math.Pi*h*float64(rounds)))
	})
}

// TestHyperbolic: one increase every N stitches makes a plane of constant
// negative curvature, -1/rho^2 with rho = h/ln(1 + 1/N), in which a circle of
// radius s is C(s) = 2 pi rho sinh(s/rho) long. (Henderson and Taimina,
// Mathematical Intelligencer 23(2), 2001, for the constant ratio.)
func TestHyperbolic(t *testing.T) {
	d := size.DefaultDimensions()
	check := func(stitch string, n int) {
		kind, _ := model.Lookup(stitch)
		_, h := d.Of(kind)
		ratio := 1 + 1/float64(n)
		rho := h / math.Log(ratio)
		length := func(s float64) float64 { return 2 * math.Pi * rho * math.Sinh(s/rho) }

		// Counts of the plane: towards the rim each is the one before times the
		// ratio.
		var counts []int
		for s := d.Ring + h; s < 2.5*rho; s += h {
			counts = append(counts, int(math.Round(length(s))))
		}
		p := size.Shape(work(t, grown(stitch, counts)), d)
		rim, m := last(p), len(counts)
		near(t, "ratio of the counts", float64(counts[m-1])/float64(counts[m-2]), ratio, 0.02)
		s := d.Ring + float64(m)*h
		near(t, "radius over that of the plane", rim.Shoulder/s, 1, 0.06)
		near(t, "length over that of the plane", rim.MadeLeast/length(s), 1, 0.06)
		near(t, "mismatch over that of the plane", (1+rim.Mismatch)/(length(s)/(2*math.Pi*s)), 1, 0.08)
		if rim.Score < 0.25 {
			t.Fatalf("score %.3f at the rim", rim.Score)
		}

		// The same ratio from the first round on, in whole stitches: a round
		// grows by its share whatever its distance.
		counts = []int{12 * n}
		for range 6 {
			now := counts[len(counts)-1]
			counts = append(counts, now+now/n)
		}
		p = size.Shape(work(t, grown(stitch, counts)), d)
		for i := 3; i < len(counts); i++ {
			r, below := p.Rounds[i], p.Rounds[i-1]
			near(t, "growth over height", r.Growth/h, 1, 0.09)
			near(t, "slope of the length", math.Log(r.MadeLeast/below.MadeLeast)*rho/h, 1, 0.06)
		}
	}
	for n := 2; n <= 7; n++ {
		for _, stitch := range []string{"dc", "edc", "tr", "dtr"} {
			check(stitch, n)
		}
	}
}

// TestScale: a gauge says how large a piece is, not what form it has.
func TestScale(t *testing.T) {
	units := []notation.Unit{notation.Millimetre, notation.Centimetre, notation.Inch, notation.Metre, notation.Yard}
	rapid.Check(t, func(t *rapid.T) {
		g := work(t, drawMotif(t))
		line := &notation.Gauge{Stitch: notation.Name{US: drawSolid(t)}}
		amount := notation.Quantity{Amount: rapid.Float64Range(0.1, 100).Draw(t, "amount"), Unit: rapid.SampledFrom(units).Draw(t, "unit")}
		if rapid.Bool().Draw(t, "across") {
			line.From, line.To, line.Across = 1, rapid.IntRange(1, g.NumRounds()).Draw(t, "to"), amount
		} else {
			line.Stitches, line.Over = rapid.Float64Range(1, 60).Draw(t, "stitches"), amount
			if rapid.Bool().Draw(t, "counts rounds") {
				line.Rounds = rapid.Float64Range(1, 60).Draw(t, "rounds")
			}
		}
		// Doubling is exact in binary, so the unit is doubled exactly too.
		k, within := 2.0, 0.0
		if rapid.Bool().Draw(t, "odd") {
			k, within = rapid.Float64Range(0.01, 100).Draw(t, "k"), 1e-14
		}
		larger := *line
		larger.Over.Amount *= k
		larger.Across.Amount *= k
		one, other := size.GaugeOf(g, line), size.GaugeOf(g, &larger)
		if one.Unit <= 0 {
			t.Fatalf("no unit from %+v", line)
		}
		near(t, "ratio of the units", float64(other.Unit/one.Unit)/k, 1, within)
		if diff := cmp.Diff(one.Dimensions, other.Dimensions); diff != "" {
			t.Fatal(diff)
		}
		if diff := differences(size.Shape(g, one.Dimensions), size.Shape(g, other.Dimensions)); diff != "" {
			t.Fatal(diff)
		}
	})
}

// differences compares all that two pieces tell; none are "".
func differences(want, got *size.Piece, options ...cmp.Option) string {
	options = append(options, cmpopts.IgnoreUnexported(size.Round{}, size.Piece{}))
	return cmp.Diff(want, got, options...) + cmp.Diff(want.Tops(), got.Tops(), options...)
}

// TestColoursAndTerms: neither the yarns nor the terms of a draft change its
// form.
func TestColoursAndTerms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawMotif(t)
		want := size.Shape(work(t, text), size.DefaultDimensions())

		var b strings.Builder
		b.WriteString("yarn sand\nyarn reed\n")
		for _, line := range strings.SplitAfter(text, "\n") {
			if head, steps, ok := strings.Cut(line, ": "); ok {
				line = head + " with " + rapid.SampledFrom([]string{"sand", "reed"}).Draw(t, "yarn") + ": " + steps
			}
			b.WriteString(line)
		}
		uk := notation.Format(notation.Translate(read(t, text), notation.UK))
		if uk == text {
			t.Fatalf("nothing to translate in:\n%s", text)
		}
		for what, text := range map[string]string{"colours": b.String(), "UK terms": uk} {
			if diff := differences(want, size.Shape(work(t, text), size.DefaultDimensions())); diff != "" {
				t.Fatalf("%s:\n%s\nin:\n%s", what, diff, text)
			}
		}
	})
}

// TestSameAgain: the geometry does not depend on chance.
func TestSameAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := work(t, drawMotif(t))
		want := size.Shape(g, size.DefaultDimensions())
		for range 3 {
			if diff := differences(want, size.Shape(g, size.DefaultDimensions())); diff != "" {
				t.Fatal(diff)
			}
		}
	})
}
