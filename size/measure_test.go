package size_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// measured works a draft and measures it.
func measured(t reporter, text string) []size.Measure {
	t.Helper()
	return size.Measures(work(t, text), read(t, text).Gauge())
}

// TestPlainRoundsGrow: one more plain round makes a piece larger, whether it
// lies flat, cups or ruffles; a round without increases does so too.
func TestPlainRoundsGrow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stitch := drawSolid(t)
		n := rapid.IntRange(2, 8).Draw(t, "rounds")
		var text string
		if rapid.Bool().Draw(t, "circle") {
			text = grown(stitch, circleOf(rapid.Float64Range(4, 24).Draw(t, "increase"), n))
			if even := rapid.IntRange(0, 30).Draw(t, "even rounds"); even > 0 {
				text += fmt.Sprintf("rnd %d-%d: %s in each st\n", n+1, n+even, stitch)
			}
		} else {
			text = polygonOf(stitch, rapid.IntRange(3, 8).Draw(t, "corners"), rapid.IntRange(1, 3).Draw(t, "beside"), rapid.IntRange(0, 3).Draw(t, "chains"), n)
		}
		list := measured(t, "gauge 14 sc by 16 rnds over 10 cm\n"+text)
		for i := 1; i < len(list); i++ {
			if list[i].Across.Expected <= list[i-1].Across.Expected {
				t.Fatalf("round %d is %.2f mm, round %d %.2f mm\nin:\n%s", i, list[i-1].Across.Expected, i+1, list[i].Across.Expected, text)
			}
		}
	})
}

// TestMeasuresScale: at a gauge k times as large everything is k times as
// large, bands included.
func TestMeasuresScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := work(t, drawMotif(t))
		line := &notation.Gauge{Stitch: notation.Name{US: drawSolid(t)}}
		amount := notation.Quantity{Amount: rapid.Float64Range(1, 100).Draw(t, "amount"), Unit: notation.Centimetre}
		if rapid.Bool().Draw(t, "across") {
			line.From, line.To, line.Across = 1, rapid.IntRange(1, g.NumRounds()).Draw(t, "to"), amount
		} else {
			line.Stitches, line.Over = rapid.Float64Range(1, 60).Draw(t, "stitches"), amount
			if rapid.Bool().Draw(t, "counts rounds") {
				line.Rounds = rapid.Float64Range(1, 60).Draw(t, "rounds")
			}
		}
		k := rapid.Float64Range(0.01, 100).Draw(t, "k")
		larger := *line
		larger.Over.Amount *= k
		larger.Across.Amount *= k
		one, other := size.Measures(g, line), size.Measures(g, &larger)
		if len(one) != g.NumRounds() || len(other) != len(one) {
			t.Fatalf("%d and %d measures of %d rounds", len(one), len(other), g.NumRounds())
		}
		scaled := func(what string, a, b size.Estimate[size.Length]) {
			if !(a.Low <= a.Expected && a.Expected <= a.High) {
				t.Fatalf("%s: band %+v", what, a)
			}
			for _, x := range [][2]size.Length{{a.Low, b.Low}, {a.Expected, b.Expected}, {a.High, b.High}} {
				near(t, what, float64(x[1]), k*float64(x[0]), 1e-9*k*float64(x[0]))
			}
		}
		for i := range one {
			scaled("across", one[i].Across, other[i].Across)
			scaled("side", one[i].Side, other[i].Side)
			scaled("points", one[i].Points, other[i].Points)
		}
	})
}

// TestCorners: sides and points of polygons, by geometry.
func TestCorners(t *testing.T) {
	for n := 3; n <= 8; n++ {
		half := math.Pi / float64(n)
		for _, m := range measured(t, "gauge 14 dc by 7 rnds over 10 cm\n"+polygonOf("dc", n, 2, 2, 8)) {
			across := float64(m.Across.Expected)
			near(t, "side", float64(m.Side.Expected), across*math.Tan(half), 1e-9)
			sharp := across / math.Cos(half)
			if n%2 == 1 {
				sharp = across / 2 * (1 + 1/math.Cos(half))
			}
			if p := float64(m.Points.Expected); m.Corners != n || p < across || p > sharp+1e-9 {
				t.Errorf("%d corners: %+v", m.Corners, m)
			}
		}
	}
	for _, m := range measured(t, "gauge 14 dc over 10 cm\n"+piece) {
		if m.Corners != 0 || m.Side.Known() || m.Points.Known() {
			t.Errorf("a circle has %+v", m)
		}
	}
	// "Dorothy Hexagon Motif" (site, undated): 8.5 in from side to side and 10
	// in from point to point (M41), in a motif whose rounds cannot be written.
	// A hexagon with length enough for its corners has room in its band for
	// that proportion, which sharp corners make 1.155.
	m := measured(t, "gauge 14 dc by 8 rnds over 10 cm\n"+polygonOf("dc", 6, 1, 2, 8))[7]
	if p := m.Across.Expected * 10 / 8.5; p < m.Points.Low || p > m.Points.High {
		t.Errorf("points %+v of a hexagon %+v across, published proportion %.3f", m.Points, m.Across, 10/8.5)
	}
}

// TestBands: the less the gauge says the wider the band.
func TestBands(t *testing.T) {
	off := func(gauge string, round int) float64 {
		a := measured(t, gauge+"\n"+published9)[round-1].Across
		near(t, "band", float64(a.Expected/a.Low), float64(a.High/a.Expected), 1e-9)
		return float64(a.High/a.Expected) - 1
	}
	at := off("gauge rnds 1-6 = 12 cm across", 6)
	rounds := off("gauge 14 dc by 7 rnds over 10 cm", 6)
	across := off("gauge rnds 1-3 = 6 cm across", 6)
	stitches := off("gauge 14 dc over 10 cm", 6)
	near(t, "the round that was measured", at, 0.03, 0.002) // widened a little for the chains at its corners
	if !(at < rounds && rounds < across && across < stitches) {
		t.Errorf("bands %.3f, %.3f, %.3f, %.3f do not widen", at, rounds, across, stitches)
	}
	if first := off("gauge 14 dc by 7 rnds over 10 cm", 1); first <= rounds {
		t.Errorf("band of round 1 %.3f, of round 6 %.3f", first, rounds)
	}
	if got := measured(t, published9); got != nil {
		t.Errorf("sizes without a gauge: %+v", got)
	}
}

// published9 is solid, and lies flat.
const published9 = `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-9: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`
