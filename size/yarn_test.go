package size_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/size"
)

func kind(t reporter, name string) model.Kind {
	t.Helper()
	k, ok := model.Lookup(name)
	if !ok {
		t.Fatalf("no stitch %s", name)
	}
	return k
}

// TestPublishedYarn holds what stitches take against swatches that were
// unravelled or weighed, within 20 %.
func TestPublishedYarn(t *testing.T) {
	rows := table(t, "yarn.csv")
	if len(rows) != 9 {
		t.Fatalf("%d rows", len(rows))
	}
	d := size.DefaultDimensions()
	for _, row := range rows {
		published, w := number(t, row, "published"), number(t, row, "st_cm")
		k := kind(t, row["stitch"])
		width, height := d.Of(k)
		var got float64
		switch row["kind"] {
		case "chain":
			got = d.Yarn(k) / d.Chain
		case "row": // as many chains as stitches
			got = (d.Yarn(k) + d.ChainYarn) / width
		case "area":
			got = d.Yarn(k) / (width * height) / w
		}
		t.Logf("%s, %s: %.2f published, %.2f here, %+.0f %%", row["id"], row["worked"], published, got, 100*(got/published-1))
		if !(math.Abs(got/published-1) <= 0.20) {
			t.Errorf("%s: %.2f, want %.2f within 20 %%", row["id"], got, published)
		}
	}
}

// TestYarnRatios: a hdc takes 1.48 and a dc 1.92 times the yarn of a sc, by the
// rows of "Crochet Yarn Estimating" (78.5 and 102 in to 53 in, chain
// included); 1.47 for hdc by weight, 0.0700 g to 0.0475 g ("Yarn Usage for
// Knitting vs. Crochet", site, undated).
func TestYarnRatios(t *testing.T) {
	d := size.DefaultDimensions()
	sc := d.Yarn(kind(t, "sc"))
	for _, test := range []struct {
		stitch string
		want   float64
	}{{"hdc", 78.5 / 53}, {"hdc", 0.0700 / 0.0475}, {"dc", 102.0 / 53}} {
		got := d.Yarn(kind(t, test.stitch)) / sc
		t.Logf("%s: %.3f times sc, %.3f published", test.stitch, got, test.want)
		near(t, test.stitch, got/test.want, 1, 0.10)
	}
	// What is taller takes more, and what has more legs.
	order := []string{"sl st", "sc", "esc", "hdc", "ehdc", "dc", "edc", "tr", "etr", "dtr", "trtr"}
	for i := 1; i < len(order); i++ {
		if a, b := d.Yarn(kind(t, order[i-1])), d.Yarn(kind(t, order[i])); a >= b {
			t.Errorf("%s takes %.1f, %s %.1f", order[i-1], a, order[i], b)
		}
	}
	for _, legs := range [][2]string{{"dc", "dc2tog"}, {"dc2tog", "dc3tog"}, {"sc", "sc2tog"}, {"hdc", "puff"}, {"dc", "cl"}, {"cl", "bobble"}, {"bobble", "popcorn"}} {
		if a, b := d.Yarn(kind(t, legs[0])), d.Yarn(kind(t, legs[1])); a >= b {
			t.Errorf("%s takes %.1f, %s %.1f", legs[0], a, legs[1], b)
		}
	}
}

func sheet(t reporter, text string, opts ...size.Option) *size.Sheet {
	t.Helper()
	draft := read(t, text)
	g, findings, err := model.Build(context.Background(), draft)
	if err != nil || len(findings) > 0 {
		t.Fatalf("%v, %v\nin:\n%s", err, findings, text)
	}
	s, err := size.NewSheet(context.Background(), draft, g, opts...)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return s
}

// TestYarnOfRounds adds up a small motif by hand.
func TestYarnOfRounds(t *testing.T) {
	const gauge = "gauge 10 sc by 10 rnds over 10 cm\n" // w = 10 mm, sc 1 w tall
	d := size.DefaultDimensions()
	sc := d.Fabric * 1 // w
	for _, test := range []struct {
		name, text string
		want       map[string]float64 // w
	}{
		{"ring, stitches, a join for each round", "ring ch 4\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\n", map[string]float64{"": 4*4.5 + 18*sc + 2*4.5}},
		{"a spiral is not joined", "worked spiral\nring ch 4\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\n", map[string]float64{"": 4*4.5 + 18*sc}},
		{"with needle and thread", "ring ch 4\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st, join invisible\n", map[string]float64{"": 4*4.5 + 18*sc + 4.5}},
		{"worked as such a one", "ring ch 4\nrnd 1: 6 sc in ring, join invisible\nrnd 2: 2 sc in each st, join invisible\nrnd 3: as rnd 2\n", map[string]float64{"": 4*4.5 + 42*sc}},
		{"a drawn ring", "ring\nrnd 1: 6 sc in ring\n", map[string]float64{"": 4.5 + 6*sc + 4.5}},
		{"chains that do not count", "begin chain uncounted\nring\nrnd 1: 6 sc in ring\n", map[string]float64{"": 4.5 + 4.5 + 6*sc + 4.5}},
		{"a chain in place of a stitch", "ring\nrnd 1: ch 3 as dc, 5 sc in ring\n", map[string]float64{"": 4.5 + 3*4.5 + 5*sc + 4.5}},
		{"spaces and picots", "ring\nrnd 1: [sc in ring, picot 3, ch 2] 6 times\n", map[string]float64{"": 4.5 + 6*(sc+5*4.5) + 4.5}},
		{"two yarns by rounds", "yarn sand\nyarn reed\nring\nrnd 1 with sand: 6 sc in ring\nrnd 2 with reed: 2 sc in each st\n",
			map[string]float64{"sand": 4.5 + 6*sc + 4.5, "reed": 12*sc + 4.5}},
		// sand lies behind the three of reed, reed behind the one of sand
		// between them; the round is closed in the yarn it ends with.
		{"two yarns in a round", "yarn sand\nyarn reed\nring\nrnd 1 with sand: 2 sc in ring, with reed, 2 sc in ring, with sand, sc in ring, with reed, sc in ring, with sand, sc in ring\n",
			map[string]float64{"sand": 4.5 + 4*sc + 3 + 4.5, "reed": 3*sc + 1}},
	} {
		got := map[string]float64{}
		for _, y := range sheet(t, gauge+test.text).Yarns {
			got[y.Name] = math.Round(float64(y.Stitches.Expected)/10*1e6) / 1e6
		}
		for name, x := range test.want {
			test.want[name] = math.Round(x*1e6) / 1e6
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// TestEnds counts the ends to be woven in.
func TestEnds(t *testing.T) {
	const head = "yarn sand\nyarn reed\nring\nrnd 1 with sand: 6 sc in ring\n"
	for _, test := range []struct {
		name, text string
		want       map[string]int
	}{
		{"one yarn", "ring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\n", map[string]int{"": 2}},
		{"one of two declared", head, map[string]int{"sand": 2}},
		{"two", head + "rnd 2 with reed: 2 sc in each st\n", map[string]int{"sand": 2, "reed": 2}},
		{"stripes", head + "rnd 2 with reed: 2 sc in each st\nrnd 3 with sand: sc in each st\nrnd 4 with sand: sc in each st\n", map[string]int{"sand": 4, "reed": 2}},
		{"carried along", head + "rnd 2: [sc in next st, with reed, sc in next st, with sand] around\nrnd 3: [sc in next st, with reed, sc in next st, with sand] around\n", map[string]int{"sand": 2, "reed": 2}},
		{"fastened off", head + "rnd 2: 2 sc in each st, fasten off\nrnd 3: sc in each st, fasten off\nrnd 4: sc in each st\n", map[string]int{"sand": 6}},
		{"worked as one that is", head + "rnd 2: sc in each st, fasten off\nrnd 3: as rnd 2\nrnd 4: as rnd 3\n", map[string]int{"sand": 6}},
		{"a range of those", head + "rnd 2-4: sc in each st, fasten off\n", map[string]int{"sand": 6}},
	} {
		s := sheet(t, test.text, size.WithMotifs(3))
		got, all := map[string]int{}, 0
		for _, y := range s.Yarns {
			got[y.Name] = y.Ends
			all += y.Ends
		}
		if diff := cmp.Diff(test.want, got); diff != "" || s.Ends != 3*all {
			t.Errorf("%s: %d in all (-want +got):\n%s", test.name, s.Ends, diff)
		}
	}
}

// TestToBuy: grams, balls and margin.
func TestToBuy(t *testing.T) {
	const text = "yarn sand \"oat\", 200 m per 50 g\nyarn reed\ngauge 14 dc by 7 rnds over 10 cm\n" + published9
	s := sheet(t, text, size.WithMotifs(20))
	y := s.Yarns[0]
	near(t, "margin", s.Margin, 0.10, 0)
	near(t, "weight", float64(y.Weight.Expected), float64(y.Total.Expected)/1000/4, 1e-6)
	near(t, "to buy", float64(y.Buy), 1.10*float64(y.Total.Expected), 1e-6)
	near(t, "ends", float64(y.Total.Expected-y.Stitches.Times(20).Expected), 20*2*150, 1e-6)
	near(t, "most", float64(y.Stitches.High/y.Stitches.Expected), 1.20, 1e-9)
	if y.Label != "oat" || y.Ball != 50 || y.Balls != int(math.Ceil(float64(y.BuyWeight)/50)) || y.BallsMost <= y.Balls || len(s.Yarns) != 1 {
		t.Errorf("%+v", s)
	}
	if wide := sheet(t, text, size.WithMargin(0.5), size.WithMotifs(20)).Yarns[0]; wide.Buy <= y.Buy || wide.Total != y.Total {
		t.Errorf("with more margin %+v", wide)
	}
	// Without metres per gram there is no weight; without a gauge no length.
	if y := sheet(t, "gauge 14 dc by 7 rnds over 10 cm\n"+published9).Yarns[0]; y.Weight.Known() || y.Balls != 0 || y.Buy == 0 {
		t.Errorf("without metres per gram: %+v", y)
	}
	if s := sheet(t, published9); len(s.Yarns) != 1 || s.Yarns[0].Buy != 0 || s.Ends != 2 || s.Rounds != nil {
		t.Errorf("without a gauge: %+v", s)
	}
}

func TestOptionsOutOfRange(t *testing.T) {
	draft, g := read(t, published9), work(t, published9)
	for _, o := range []size.Option{size.WithMargin(-0.01), size.WithMargin(1.01), size.WithMargin(math.NaN()), size.WithMotifs(0), size.WithMotifs(-1), size.WithMotifs(size.MostMotifs + 1)} {
		s, err := size.NewSheet(t.Context(), draft, g, o)
		var out *size.RangeError
		if s != nil || !errors.As(err, &out) || out.Least == "" || out.Most == "" {
			t.Errorf("%+v, %v", s, err)
		}
	}
}

// TestYarnLaws: twice as many motifs take twice as much; a gauge k times as
// large k times as much; a round more takes more.
func TestYarnLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := "gauge 14 dc over 10 cm\n" + drawMotif(t)
		n := rapid.IntRange(1, 500).Draw(t, "motifs")
		one, other := sheet(t, text, size.WithMotifs(n)), sheet(t, text, size.WithMotifs(2*n))
		near(t, "ends of twice as many", float64(other.Ends), 2*float64(one.Ends), 0)
		for i, y := range one.Yarns {
			z := other.Yarns[i]
			for _, x := range [][2]size.Length{{y.Total.Low, z.Total.Low}, {y.Total.Expected, z.Total.Expected}, {y.Total.High, z.Total.High}, {y.Buy, z.Buy}} {
				near(t, "yarn of twice as many", float64(x[1]), 2*float64(x[0]), 1e-9*float64(x[1]))
			}
		}
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		other = sheet(t, fmt.Sprintf("gauge 14 dc over %f mm\n", 100*k)+text[len("gauge 14 dc over 10 cm\n"):], size.WithMotifs(n))
		for i, y := range one.Yarns {
			near(t, "yarn of larger stitches", float64(other.Yarns[i].Stitches.Expected), k*float64(y.Stitches.Expected), 1e-5*k*float64(y.Stitches.Expected))
		}
		draft := read(t, text)
		g, _, _ := model.Build(t.Context(), draft)
		rounds := g.NumRounds()
		stitch := drawSolid(t)
		more := text + fmt.Sprintf("rnd %d: [%s in each st and ch] around\n", rounds+1, stitch)
		g2, findings, err := model.Build(t.Context(), read(t, more))
		if err != nil || len(findings) > 0 || g2.NumRounds() != rounds+1 {
			return // does not close
		}
		bigger, err := size.NewSheet(context.Background(), read(t, more), g2, size.WithMotifs(n))
		if err != nil || bigger.Yarns[0].Total.Expected <= one.Yarns[0].Total.Expected {
			t.Fatalf("%v: one round more takes %v, without it %v", err, bigger.Yarns[0].Total, one.Yarns[0].Total)
		}
	})
}

// TestYarnParts: the whole is its parts. What two yarns take that change from
// round to round is what one takes for the same rounds; a total is that of the
// motifs, the seams, the borders and all ends; and the balls hold what is to be
// bought, with none to spare.
func TestYarnParts(t *testing.T) {
	const square = "shape square\ngauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: [(3 dc, corner ch 2) in ring] 4 times\n"
	rapid.Check(t, func(t *rapid.T) {
		rounds, heavy := rapid.IntRange(1, 6).Draw(t, "rounds"), rapid.IntRange(5, 200).Draw(t, "g")
		panel := rapid.SampledFrom([]string{"", "panel 2 by 3\n", "panel tube 1 by 2 joined sc\n", "panel cushion 1 by 1 joined sl st\n", "panel wrap on point\n"}).Draw(t, "panel")
		one, two := square, fmt.Sprintf("yarn sand, 150 m per %d g\nyarn reed, 150 m per %d g\n", heavy, heavy)+square
		for i := 2; i <= rounds; i++ {
			steps := ": [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
			one += fmt.Sprintf("rnd %d", i) + steps
			two += fmt.Sprintf("rnd %d with %s", i, rapid.SampledFrom([]string{"sand", "reed"}).Draw(t, "yarn")) + steps
		}
		if panel != "" && rapid.Bool().Draw(t, "border") {
			one += panel + "edge of panel\nrnd 1: [sc in each st and ch, sc in corner] around\n"
			two += panel + "edge of panel\nrnd 1 with reed: [sc in each st and ch, sc in corner] around\n"
			if panel == "panel tube 1 by 2 joined sc\n" {
				t.Skip("its edges have no corners")
			}
		} else {
			one, two = one+panel, two+panel
		}
		o, s := sheet(t, one), sheet(t, two)
		whole, ends := o.Yarns[0], 0
		var stitches, seams, borders, total size.Length
		for _, y := range s.Yarns {
			stitches, seams, borders, total = stitches+y.Stitches.Expected, seams+y.Seams.Expected, borders+y.Borders.Expected, total+y.Total.Expected
			for _, part := range [][]size.Length{{y.Total.Low, y.Stitches.Low, y.Seams.Low, y.Borders.Low}, {y.Total.Expected, y.Stitches.Expected, y.Seams.Expected, y.Borders.Expected}, {y.Total.High, y.Stitches.High, y.Seams.High, y.Borders.High}} {
				left := float64(part[0] - size.Length(s.Motifs)*part[1] - part[2] - part[3])
				tails := math.Round(left / 150)
				near(t, "what is left for the ends", left, 150*tails, 1e-6)
				if int(tails) < s.Motifs*y.Ends {
					t.Fatalf("%v ends of %d motifs with %d each", tails, s.Motifs, y.Ends)
				}
				if part[0] == y.Total.Expected {
					ends += int(tails)
				}
			}
			near(t, "weight", float64(y.Weight.Expected), float64(y.Total.Expected)/150_000*float64(heavy), 1e-6)
			near(t, "to buy", float64(y.BuyWeight), 1.1*float64(y.Weight.Expected), 1e-6)
			if in := float64(y.BuyWeight) / float64(heavy); float64(y.Balls) < in || float64(y.Balls-1) >= in || y.BallsMost < y.Balls {
				t.Fatalf("%d balls, or %d, hold %.3f balls", y.Balls, y.BallsMost, in)
			}
		}
		near(t, "stitches", float64(stitches), float64(whole.Stitches.Expected), 1e-6)
		near(t, "seams", float64(seams), float64(whole.Seams.Expected), 1e-6)
		near(t, "borders", float64(borders), float64(whole.Borders.Expected), 1e-6)
		near(t, "total", float64(total)-150*float64(s.Ends), float64(whole.Total.Expected)-150*float64(o.Ends), 1e-6)
		if ends != s.Ends {
			t.Fatalf("%d ends in the totals, %d on the sheet", ends, s.Ends)
		}
	})
}

// TestStartingChains: as in "How to Crochet a Turning Chain" (site); the stitches
// between have as many as their neighbour above, and none has fewer than a lower
// one.
func TestStartingChains(t *testing.T) {
	read := map[string]int{"sl st": 0, "sc": 1, "hdc": 2, "dc": 3, "tr": 4, "dtr": 5}
	before := 0
	for _, name := range []string{"sl st", "sc", "esc", "hdc", "ehdc", "dc", "edc", "tr", "etr", "dtr", "trtr"} {
		k, ok := model.Lookup(name)
		got := size.StartingChains(k)
		if want, known := read[name]; !ok || known && got != want || got < before || got > before+1 {
			t.Errorf("%s: %d chains after %d", name, got, before)
		}
		before = got
	}
}
