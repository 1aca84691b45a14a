package size_test

import (
	"context"
	"errors"
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
	// rnd 1: 11.8 w long, 12.3 needed, mismatch -0.04, score +0.00
	// rnd 2: 22.5 w long, 22.9 needed, mismatch -0.02, score -0.01
	// rnd 3: 34.7 w long, 35.3 needed, mismatch -0.02, score -0.02
	// rnd 4: 36.0 w long, 48.3 needed, mismatch -0.26, score -0.14
	// rnd 5: 36.0 w long, 60.6 needed, mismatch -0.41, score -0.33
	// rnd 6: 36.0 w long, 72.8 needed, mismatch -0.51, score -0.39
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
	fmt.Printf("a dc is %.1f mm wide and %.1f mm tall\n", gauge.Length(width), gauge.Length(height))
	for _, r := range size.Shape(graph, gauge.Dimensions).Rounds {
		fmt.Printf("%.0f mm across after round %d\n", gauge.Length(r.Across), graph.Round(r.Index).Number)
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

// Where much of a piece is chains the bands are wider.
func ExampleDefaultBands() {
	bands := size.DefaultBands()
	fmt.Printf("%+v\n", bands)
	fmt.Printf("%.4f\n", bands.Widened(0.5).Likely)
	// Output:
	// {Tolerance:0.1 Likely:0.15 Certain:0.25}
	// 0.2625
}

// A swatch of 13 by 8 may have been one of 13.4 by 7.6: dc between 1.46 and 1.79
// times as tall as wide, of which 1.79 is nearest to what is usual.
func ExampleGauge_Judging() {
	draft, _ := notation.Parse("", "gauge 13 dc by 8 rnds over 10 cm\nring\nrnd 1: 12 dc in ring\n")
	g, _, _ := model.Build(context.Background(), draft)
	gauge := size.GaugeOf(g, draft.Gauge())
	dc, _ := model.Lookup("dc")
	measured, judging := gauge.Dimensions, gauge.Judging()
	_, height := measured.Of(dc)
	_, judged := judging.Of(dc)
	fmt.Printf("measured %.2f, give or take %.0f %%; judged by %.2f\n", height, 100*gauge.Rounding, judged)
	// Output:
	// measured 1.62, give or take 10 %; judged by 1.79
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
		if across := gauge.Length(r.Across); across >= 120 {
			fmt.Printf("round %d is %.0f mm across\n", r.Index+1, across)
			break
		}
	}
	// Output: round 5 is 130 mm across
}

// Sizes come with the band in which a maker should find herself. Units are for
// the outside; inside everything is in mm.
func ExampleMeasures() {
	draft, _ := notation.Parse("mat.rnd", `shape square
gauge 14 dc by 8 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-6: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range size.Measures(graph, draft.Gauge()) {
		fmt.Printf("round %d: %s, %s\n", m.Number, m.Across.Text(notation.Centimetre), m.Across.Text(notation.Inch))
	}
	// Output:
	// round 1: 3 cm (2.5 to 3.5), 1 1/8 in (1 to 1 3/8)
	// round 2: 5.5 cm (5 to 6), 2 1/4 in (1 3/4 to 2 1/2)
	// round 3: 8 cm (7 to 9), 3 1/4 in (2 3/4 to 3 1/2)
	// round 4: 10.5 cm (9.5 to 12), 4 1/4 in (3 3/4 to 4 3/4)
	// round 5: 13 cm (11.5 to 14.5), 5 1/4 in (4 1/2 to 5 3/4)
	// round 6: 15.5 cm (14 to 17.5), 6 1/4 in (5 1/2 to 6 3/4)
}

// What motifs are made up into needs no yarn.
func ExampleMadeUpOf() {
	draft, _ := notation.Parse("wrap.rnd", `gauge 14 dc by 7 rnds over 10 cm
shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-14: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
panel 2 by 3
`)
	g, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range size.MadeUpOf(draft, g).Sizes {
		fmt.Println(d.What, d.Size.Text(notation.Centimetre))
	}
	// Output:
	// width 118 cm (107 to 130)
	// height 79 cm (71 to 87)
}

// A sheet has all that a pattern says about size and yarn.
func ExampleNewSheet() {
	draft, _ := notation.Parse("mat.rnd", `yarn sand "oat", 200 m per 100 g
gauge 14 dc by 8 rnds over 10 cm
ring
rnd 1: 12 dc in ring
rnd 2: 2 dc in each st
rnd 3: [dc in next st, 2 dc in next st] around
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := size.NewSheet(context.Background(), draft, graph, size.WithMotifs(6), size.WithMargin(0.15))
	if err != nil {
		fmt.Println(err)
		return
	}
	finished, _ := sheet.Finished()
	fmt.Println("across:", finished.Across.Text(notation.Centimetre))
	for _, y := range sheet.Yarns {
		fmt.Printf("%s: %s; buy %s, %s, balls: %d\n", y.Label, y.Total.Text(notation.Metre), y.Buy.TextUp(notation.Metre), y.BuyWeight.TextUp(notation.Gram), y.Balls)
	}
	fmt.Println("ends:", sheet.Ends)
	// Output:
	// across: 8 cm (7 to 8.5)
	// oat: 48 m (40 to 57); buy 56 m, 28 g, balls: 1
	// ends: 12
}

// How a motif would come to a size.
func ExampleWithTarget() {
	draft, _ := notation.Parse("mat.rnd", `shape square
hook 4.5 mm
gauge 14 dc by 8 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-6: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
rnd 7: [sc in each st, (sc, corner ch 1, sc) in corner] 4 times
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	target, err := size.ParseTarget("side 8 in")
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := size.NewSheet(context.Background(), draft, graph, size.WithTarget(target))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range []*size.RoundsFit{sheet.Fit.Under, sheet.Fit.Over} {
		fmt.Printf("%d rounds, rnd %d-%d alike: %s\n", r.Rounds, r.From, r.To, r.Size.Expected.Text(notation.Inch))
	}
	for _, h := range sheet.Fit.Hooks {
		fmt.Printf("hook US %s: %s\n", h.US, h.Expected.Text(notation.Inch))
	}
	// Output:
	// 8 rounds, rnd 2-7 alike: 7 3/4 in
	// 9 rounds, rnd 2-8 alike: 8 3/4 in
	// hook US J-10: 8 in
}

func ExampleParseLength() {
	l, err := size.ParseLength("18 in")
	fmt.Println(l.In(notation.Millimetre), err)
	_, err = size.ParseLength("400 m")
	fmt.Println(err)
	// Output:
	// 457.2 <nil>
	// a length of 400000 mm is out of range; it may be from 1 mm to 100 m
}

// The yarn of a stitch follows from its measures.
func ExampleDimensions_Yarn() {
	d := size.DefaultDimensions()
	for _, name := range []string{"ch", "sc", "hdc", "dc", "dc3tog"} {
		k, _ := model.Lookup(name)
		fmt.Printf("%s %.1f\n", name, d.Yarn(k))
	}
	// Output:
	// ch 4.5
	// sc 8.0
	// hdc 11.6
	// dc 16.4
	// dc3tog 40.1
}

// Rounds that go on until the piece has a size are worked with Build, and
// Reached tells how many there are.
func ExampleBuild() {
	draft, _ := notation.Parse("harbour.rnd", `gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2 until side 45 cm: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`)
	graph, findings, err := size.Build(context.Background(), draft)
	if err != nil || len(findings) > 0 {
		fmt.Println(err, findings)
		return
	}
	for _, r := range graph.Reached() {
		fmt.Println("rounds", r.From, "to", r.To)
	}
	// Output:
	// rounds 2 to 17
}

// What is asked for can be refused before there is a draft.
func ExampleCheckOptions() {
	err := size.CheckOptions(size.WithMotifs(20), size.WithMargin(3))
	var out *size.RangeError
	if errors.As(err, &out) {
		fmt.Println(out.What, "is from", out.Least, "to", out.Most)
	}
	// Output: a margin is from 0 % to 100 %
}

func ExampleParseTarget() {
	t, err := size.ParseTarget("side 18in")
	fmt.Println(t, t.Side, err)
	// Output: side 457.2 mm true <nil>
}

func ExampleHookNamed() {
	h, ok := size.HookNamed(5)
	fmt.Println(h.US, h.UK, ok)
	// Output: H-8 6 true
}

func ExampleHookSize_Name() {
	h, _ := size.HookNamed(5)
	fmt.Println(h.Name(notation.US), "or", h.Name(notation.UK))
	// Output: US H-8 or UK 6
}
