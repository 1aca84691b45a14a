package chart_test

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/chart"
)

// A chart is written as SVG. Every stitch is one use of a symbol.
func ExampleStitches() {
	draft, _ := notation.Parse("square.rnd", `motif "Spindrift tile"
shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	var svg strings.Builder
	err = chart.Stitches(&svg, draft, graph, chart.Options{Terms: []notation.Terms{notation.UK}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(strings.Count(svg.String(), "<use "), "symbols")
	for _, m := range regexp.MustCompile(`<text [^>]*>(.*)</text>`).FindAllStringSubmatch(svg.String(), -1) {
		fmt.Println(m[1])
	}
	// Output:
	// 21 symbols
	// Spindrift tile
	// From the centre, counter-clockwise.
	// 1
	// ch
	// tr
	// slip stitch, not counted
	// adjustable ring
	// corner
	// 1
	// start of a round
}

// The colours of a piece from a distance; the legend says which rounds have
// which.
func ExamplePlan() {
	draft, _ := notation.Parse("mat.rnd", `yarn sand "oat", colour "#d8c6a0"
yarn reed "marsh green", colour "#6f8f6a"
ring
rnd 1 with sand: 12 dc in ring
rnd 2-3 with reed: 2 dc in each st
rnd 4 with sand: dc in each st
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	var svg strings.Builder
	if err := chart.Plan(&svg, draft, graph, chart.Options{}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(regexp.MustCompile(`<desc [^>]*>(.*)</desc>`).FindStringSubmatch(svg.String())[1])
	// Output:
	// The rounds of the piece as bands in the colours of their yarns. sand (oat): rounds 1, 4; reed (marsh green): rounds 2, 3.
}

// How long the rounds are, and how long they would have to be for the piece to lie
// flat. The description has the figures of the plot.
func ExampleGrowth() {
	draft, _ := notation.Parse("mat.rnd", `gauge 14 dc by 8 rnds over 10 cm
ring
rnd 1: 12 dc in ring
rnd 2: 2 dc in each st
rnd 3-7: dc in each st
`)
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	var svg strings.Builder
	if err := chart.Growth(&svg, draft, graph, chart.Options{}); err != nil {
		fmt.Println(err)
		return
	}
	desc := regexp.MustCompile(`<desc [^>]*>(.*)</desc>`).FindStringSubmatch(svg.String())[1]
	fmt.Println(strings.ReplaceAll(desc, ". Round", ".\nRound"))
	// Output:
	// Length of each round as it is made, and as a piece that lies flat needs it, in cm.
	// Round 1: made 8.4, flat from 7.8 to 11.0.
	// Round 2: made 16.1, flat from 14.5 to 19.2.
	// Round 3: made 17.1, flat from 23.0 to 29.6, likely to cup.
	// Round 4: made 17.1, flat from 30.8 to 39.1, cups.
	// Round 5: made 17.1, flat from 38.6 to 48.6, cups.
	// Round 6: made 17.1, flat from 46.3 to 58.1, cups.
	// Round 7: made 17.1, flat from 54.1 to 67.6, cups.
}

// Where stitches stand can be had without the picture.
func ExampleLay() {
	draft, _ := notation.Parse("mat.rnd", "ring\nrnd 1: 4 dc in ring\n")
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	layout := chart.Lay(draft, graph, size.DefaultDimensions())
	for id := range graph.Len() {
		head, foot := layout.Head(id), layout.Feet(id)[0]
		fmt.Printf("%s: from %.1f to %.1f w off the centre, %.0f degrees\n", graph.Stitch(id).Kind,
			math.Hypot(foot.X, foot.Y), math.Hypot(head.X, head.Y), layout.Axis(id)*180/math.Pi)
	}
	// Output:
	// dc: from 0.5 to 2.4 w off the centre, 149 degrees
	// dc: from 0.5 to 2.4 w off the centre, -130 degrees
	// dc: from 0.5 to 2.4 w off the centre, -50 degrees
	// dc: from 0.5 to 2.4 w off the centre, 31 degrees
}

// A piece with more symbols than a picture may have is not drawn.
func ExampleLimitError() {
	draft, _ := notation.Parse("mat.rnd", "ring\nrnd 1: 400 dc in ring\n")
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(chart.Stitches(io.Discard, draft, graph, chart.Options{Symbols: 300}))
	// Output:
	// the chart would have 401 symbols, more than the 300 allowed
}

// Pictures go to any writer.
func Example() {
	draft, _ := notation.Parse("mat.rnd", "motif \"Tideline mat\"\nring\nrnd 1: 12 dc in ring\n")
	graph, _, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	file, err := os.CreateTemp("", "mat-*.svg")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.Remove(file.Name())
	defer file.Close()
	fmt.Println(chart.Stitches(file, draft, graph, chart.Options{Colour: true}))
	// Output:
	// <nil>
}
