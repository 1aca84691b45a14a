package size_test

import (
	"context"
	"fmt"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A circle of dc that gets 12 more every round, and then none: it lies flat up
// to there and begins to cup.
func ExampleShape() {
	draft, _ := notation.Parse("mat.rnd", `ring
rnd 1: 12 dc in ring
rnd 2: 2 dc in each st
rnd 3: [dc in next st, 2 dc in next st] around
rnd 4-6: dc in each st
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range size.Shape(graph, size.DefaultDimensions()).Rounds {
		fmt.Printf("rnd %d: %.1f w long, %.1f needed, mismatch %+.2f, score %+.2f\n",
			graph.Round(r.Index).Number, r.MadeMost, r.NeedLeast, r.Mismatch, r.Score)
	}
	// Output:
	// rnd 1: 11.8 w long, 14.1 needed, mismatch -0.16, score +0.00
	// rnd 2: 22.5 w long, 24.8 needed, mismatch -0.09, score -0.06
	// rnd 3: 34.7 w long, 37.2 needed, mismatch -0.07, score -0.08
	// rnd 4: 36.0 w long, 50.2 needed, mismatch -0.28, score -0.18
	// rnd 5: 36.0 w long, 62.5 needed, mismatch -0.42, score -0.35
	// rnd 6: 36.0 w long, 74.7 needed, mismatch -0.52, score -0.41
}

// The gauge line tells how large the piece is, and how tall its stitches are.
func ExampleGaugeOf() {
	draft, _ := notation.Parse("mat.rnd", `gauge 14 dc by 8 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-6: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	gauge := size.GaugeOf(graph, draft.Gauge())
	fmt.Printf("one stitch is %.1f mm wide\n", gauge.Unit)
	dc, _ := model.Lookup("dc")
	width, height := gauge.Dimensions.Of(dc)
	fmt.Printf("a dc is %.1f mm wide and %.1f mm tall\n", width*gauge.Unit, height*gauge.Unit)
	for _, r := range size.Shape(graph, gauge.Dimensions).Rounds {
		fmt.Printf("%.0f mm across after round %d\n", r.Across*gauge.Unit, graph.Round(r.Index).Number)
	}
	// Output:
	// one stitch is 7.1 mm wide
	// a dc is 7.1 mm wide and 12.5 mm tall
	// 29 mm across after round 1
	// 54 mm across after round 2
	// 80 mm across after round 3
	// 105 mm across after round 4
	// 131 mm across after round 5
	// 156 mm across after round 6
}

// Where heights are measured the bands are narrower, and where much of a piece
// is chains they are wider.
func ExampleBandsOf() {
	d := size.DefaultDimensions()
	fmt.Printf("%+v\n", size.BandsOf(d))
	d.Measured = true
	bands := size.BandsOf(d)
	fmt.Printf("%+v\n", bands)
	fmt.Printf("%.3f\n", bands.Widened(0.5).Likely)
	// Output:
	// {Tolerance:0.1 Likely:0.15 Certain:0.25}
	// {Tolerance:0.08 Likely:0.12 Certain:0.2}
	// 0.210
}

// A Shaper tells how the piece comes out while it goes on: here, after how many
// rounds it is 12 cm across.
func ExampleShaper() {
	draft, _ := notation.Parse("spindrift.rnd", `gauge 14 dc by 8 rnds over 10 cm
ring
rnd 1: 12 dc in ring
rnd 2: 2 dc in each st
rnd 3: [dc in next st, 2 dc in next st] around
rnd 4: [dc in next 2 st, 2 dc in next st] around
rnd 5: [dc in next 3 st, 2 dc in next st] around
`)
	g, _, _ := model.Build(context.Background(), draft)
	gauge := size.GaugeOf(g, draft.Gauge())
	s := size.NewShaper(g, gauge.Dimensions)
	for r, ok := s.Next(); ok; r, ok = s.Next() {
		if across := r.Across * gauge.Unit; across >= 120 {
			fmt.Printf("round %d is %.0f mm across\n", r.Index+1, across)
			break
		}
	}
	// Output: round 5 is 130 mm across
}
