package pattern_test

import (
	"context"
	"fmt"
	"log"
	"os"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/pattern"
)

const draft = `motif "Saltmarsh square"
shape square
hook 4 mm
gauge rnds 1-2 = 9 cm across
begin chain counts
ring ch 4
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2: [(3 dc, corner ch 2, 3 dc) in corner] 4 times
rnd 3: [sc in each st and ch, (sc, corner sc, sc) in corner] 4 times
`

func ExampleRounds() {
	d, _ := notation.Parse("saltmarsh.rnd", draft)
	g, _, err := model.Build(context.Background(), d)
	if err != nil {
		log.Fatal(err)
	}
	for _, r := range pattern.Rounds(d, g, notation.UK) {
		fmt.Printf("%s: %s (%s)\n", r.Label(), r.Text, r.Count)
	}
	// Output:
	// Rnd 1: Ch 3 (counts as tr), 2 tr in ring, corner ch 2, [3 tr in ring, corner ch 2] 3 times; join with ss to top of starting ch-3. (12 tr, 4 corner ch-2 sps, 3 tr per side)
	// Rnd 2: Ss in next 2 sts and next corner ch-2 sp. Ch 3 (counts as tr), (2 tr, corner ch 2, 3 tr) in same sp, (3 tr, corner ch 2, 3 tr) in each of next 3 corner ch-2 sps; join with ss to top of starting ch-3. (24 tr, 4 corner ch-2 sps, 6 tr per side)
	// Rnd 3: Ch 1 (does not count as a st), starting in same st: dc in next 3 sts, [(dc, corner dc, dc) in next corner ch-2 sp, dc in next 6 sts] 3 times, (dc, corner dc, dc) in next corner ch-2 sp, dc in next 3 sts; join with ss to first dc. Fasten off. (36 dc, 4 corner sts, 8 dc per side)
}

func ExampleNew() {
	ctx := context.Background()
	d, _ := notation.Parse("saltmarsh.rnd", draft)
	g, _, err := model.Build(ctx, d)
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := size.NewSheet(ctx, d, g)
	if err != nil {
		log.Fatal(err)
	}
	p := pattern.New(d, g, sheet, notation.US)
	for _, s := range p.Sections {
		fmt.Println(s.Heading)
	}
	for _, e := range p.Sections[2].Entries {
		fmt.Println("...", e.Text)
	}
	// Output:
	// About this pattern
	// Materials
	// Gauge
	// Finished size
	// Abbreviations
	// Notes
	// Instructions
	// Finishing
	// ... After Rnd 2 the motif is 9 cm (3 1/2 in) across.
}

func ExamplePattern_WriteMarkdown() {
	d, _ := notation.Parse("foam.rnd", "motif \"Foam\"\nring\nrnd 1: 8 sc in ring\n")
	g, _, err := model.Build(context.Background(), d)
	if err != nil {
		log.Fatal(err)
	}
	p := pattern.New(d, g, nil, notation.US)
	p.Sections = p.Sections[len(p.Sections)-2:]
	if err := p.WriteMarkdown(os.Stdout); err != nil {
		log.Fatal(err)
	}
	// Output:
	// # Foam
	//
	// ## Instructions
	//
	// **Ring:** Make an adjustable ring.
	//
	// **Rnd 1:** 8 sc in ring; join with sl st to first sc. Fasten off. (8 sc)
	//
	// ## Finishing
	//
	// Weave in the ends on the WS.
	//
	// Block: damp the piece, pin it out flat and even, and let it dry.
}

func ExamplePattern_WriteText() {
	d, _ := notation.Parse("foam.rnd", "motif \"Foam\"\nring\nrnd 1: 8 sc in ring\n")
	g, _, err := model.Build(context.Background(), d)
	if err != nil {
		log.Fatal(err)
	}
	p := pattern.New(d, g, nil, notation.UK)
	p.Sections = p.Sections[len(p.Sections)-2 : len(p.Sections)-1]
	if err := p.WriteText(os.Stdout); err != nil {
		log.Fatal(err)
	}
	// Output:
	// Foam
	// ====
	//
	// Instructions
	// ------------
	//
	// Ring: Make an adjustable ring.
	//
	// Rnd 1: 8 dc in ring; join with ss to first dc. Fasten off. (8 dc)
}
