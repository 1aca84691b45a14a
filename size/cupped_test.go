package size_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/size"
)

// TestWidest: a piece of revolution at 16 sc by 18 rnds over 10 cm. A round of n
// sc is n 100/16 mm long where nothing is increased, and each is 100/18 mm further
// along the fabric.
func TestWidest(t *testing.T) {
	const (
		head   = "lies cupped\nworked spiral\ngauge 16 sc by 18 rnds over 10 cm\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: [sc in next st, 2 sc in next st] around\nrnd 4: [sc in next 2 st, 2 sc in next st] around\n"
		crown  = head + "rnd 5: [sc in next 3 st, 2 sc in next st] around\nrnd 6: [sc in next 4 st, 2 sc in next st] around\n" // 36
		closed = "rnd 13: [sc in next 4 st, sc2tog] around\nrnd 14: [sc in next 3 st, sc2tog] around\nrnd 15: [sc in next 2 st, sc2tog] around\nrnd 16: [sc in next st, sc2tog] around\nrnd 17: [sc2tog] around\n"
	)
	for _, test := range []struct {
		name, text   string
		from, to     int
		stitches     int // where it is widest
		rounds, edge int // in all, and stitches of the last
		hole         bool
	}{
		{"hat", crown + "rnd 7-16: sc in each st\n", 7, 16, 36, 16, 36, false},
		{"basket drawn in at the rim", crown + "rnd 7-16: sc in each st\nrnd 17: [sc in next 4 st, sc2tog] around\nrnd 18: sc in each st\n", 7, 16, 36, 18, 30, false},
		{"ball", crown + "rnd 7-12: sc in each st\n" + closed, 7, 12, 36, 17, 6, true},
		{"waist in the middle", head + "rnd 5-8: sc in each st\nrnd 9: [sc in next 2 st, sc2tog] around\nrnd 10-12: sc in each st\nrnd 13: [sc in next 2 st, 2 sc in next st] around\nrnd 14-16: sc in each st\n", 14, 16, 24, 16, 24, false},
	} {
		s := sheet(t, test.text)
		m, _ := s.Finished()
		g, ok := s.Widest()
		if !ok || g.From != test.from || g.To != test.to {
			t.Errorf("%s: widest %+v", test.name, g)
		}
		round := float64(test.stitches) * 100 / 16
		near(t, test.name+": round", float64(g.Round.Expected), round, 0.01*round)
		near(t, test.name+": across", float64(g.Across().Expected), round/math.Pi, 0.01*round)
		edge := float64(test.edge) * 100 / 16
		near(t, test.name+": edge", float64(m.Edge.Expected), edge, 0.06*edge) // a circle of six is a hexagon
		depth := float64(test.rounds) * 100 / 18
		near(t, test.name+": depth", float64(m.Depth.Expected), depth, 0.05*depth)
		if size.LeavesHole(work(t, test.text)) != test.hole {
			t.Errorf("%s: closed %v", test.name, !test.hole)
		}
		if !(g.Round.Low < g.Round.Expected && g.Round.Expected < g.Round.High) {
			t.Errorf("%s: %+v", test.name, g.Round)
		}
		if _, ok := sheet(t, strings.Replace(test.text, "lies cupped\n", "", 1)).Widest(); ok {
			t.Errorf("%s: a piece that is laid flat has no girth", test.name)
		}
	}
}

// TestCuppedLaws: nothing is further round than where it is widest, and all
// rounds there are about as far.
func TestCuppedLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sheet(t, "lies cupped\ngauge 14 dc by 7 rnds over 10 cm\n"+drawMotif(t))
		g, ok := s.Widest()
		if !ok || g.From < 1 || g.From > g.To || g.To > len(s.Rounds) {
			t.Fatalf("%+v of %d rounds", g, len(s.Rounds))
		}
		for _, m := range s.Rounds {
			if m.Edge.Expected > g.Round.Expected {
				t.Fatalf("round %d is %v round, the widest %v", m.Number, m.Edge, g.Round)
			}
			if inside := m.Number >= g.From && m.Number <= g.To; inside && m.Edge.Expected < 0.99*g.Round.Expected {
				t.Fatalf("round %d is %v round, the widest %v", m.Number, m.Edge, g)
			}
		}
	})
}

// TestCuppedSide: motifs that stand up as boxes are joined along sides that are
// as long as they were worked: 7 dc and 14 dc over 10 cm make 5 cm, wherever they
// would lie.
func TestCuppedSide(t *testing.T) {
	box := "lies cupped\n" + tile + "rnd 3-6: [dc in each st, corner dc in corner] 4 times\n"
	m, _ := sheet(t, box).Finished()
	side := float64(m.Edge.Expected) / 4
	near(t, "a quarter of the edge", side, 8*100/14.0, 0.05*side) // 7 of a side and the corner
	for _, test := range []struct {
		panel string
		want  map[size.DimensionKind]float64
	}{
		{"panel 2 by 3", map[size.DimensionKind]float64{size.Width: 3 * side, size.Height: 2 * side}},
		{"panel tube 2 by 3", map[size.DimensionKind]float64{size.Around: 3 * side}},
		{"panel wrap on point", map[size.DimensionKind]float64{size.DropAtPoints: side * math.Sqrt2, size.Drop: side, size.NeckRound: 2 * side}},
	} {
		s := sheet(t, box+test.panel+"\n")
		for what, want := range test.want {
			near(t, test.panel+": "+string(what), dimension(t, s, what), want, 1e-6)
		}
		near(t, test.panel+": a seam", float64(s.MadeUp.Seams[0].Length.Expected), side, 1e-6)
		if flat := sheet(t, fmt.Sprint(tile, test.panel, "\n")); flat.MadeUp.Seams[0].Length.Expected == s.MadeUp.Seams[0].Length.Expected {
			t.Errorf("%s: measured flat", test.panel)
		}
	}
}
