package model_test

import (
	"context"
	"fmt"
	"os"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// worked builds a draft for the examples that look at the piece.
func worked(text string) *model.Graph {
	draft, _ := notation.Parse("", text)
	g, _, err := model.Build(context.Background(), draft)
	if err != nil {
		panic(err)
	}
	return g
}

const saltmarsh = `
motif "Saltmarsh square"
shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`

func ExampleBuild() {
	draft, _ := notation.Parse("tideline.rnd", `
motif "Tideline mat"
ring
rnd 1: 16 dc in ring = 16 dc
rnd 2: [dc in next 2 st, ch 1] around = 16 dc, 8 sp
rnd 3: [3 dc in next sp, ch 1, 3 dc in next sp, ch 1, 3 dc in next sp, ch 1] around
`)
	g, findings, err := model.Build(context.Background(), draft)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings {
		fmt.Printf("%s: %s\n", f.Span.Start, f.Text())
	}
	// Round 3 is worked as far as it goes, so that more could be built on it.
	fmt.Println(g.Counts(2).Total, "stitches in round 3")
	// Output:
	// 6:78: the repeat does not close: it uses 3 sp, and round 2 has 8; 2 repeats use 6 and 2 are left over (6 or 9 would fit)
	// 18 stitches in round 3
}

func ExampleBuild_limits() {
	draft, _ := notation.Parse("", "ring\nrnd 1: 600 dc in ring\n")
	_, findings, _ := model.Build(context.Background(), draft, model.WithLimits(model.Limits{Stitches: 500}))
	fmt.Println(findings[0].Rule)
	// Output: limit
}

func ExampleGraph_Rounds() {
	g := worked(`
yarn sand
yarn reed
ring
rnd 1 with sand: [dc in ring, ch 1] 6 times
rnd 2-3 with reed: [2 dc in next sp, ch 1] around
`)
	for _, r := range g.Rounds() {
		fmt.Printf("round %d in %s: stitches %d to %d, on %d, %s\n", r.Number, r.Yarn, r.First, r.First+r.Len-1, r.Below, r.Status)
	}
	// Output:
	// round 1 in sand: stitches 0 to 11, on -1, worked
	// round 2 in reed: stitches 12 to 29, on 0, worked
	// round 3 in reed: stitches 30 to 47, on 1, worked
}

func ExampleGraph_Counts() {
	g := worked(saltmarsh)
	c := g.Counts(1)
	fmt.Println(c.Stitches["dc"], "dc,", c.Spaces, "spaces of", c.Chains, "chains,", c.Corners, "corners")
	// Output: 28 dc, 4 spaces of 8 chains, 4 corners
}

func ExampleGraph_Sides() {
	g := worked(saltmarsh)
	for _, side := range g.Sides(1) {
		fmt.Print(side.Total, " ")
	}
	// Output: 7 7 7 7
}

func ExampleGraph_Stitches() {
	g := worked(saltmarsh)
	for s := range g.Stitches(0) {
		if s.ID == 4 {
			break
		}
		fmt.Println(s.ID, s.Kind, s.Chains, s.Corner)
	}
	// Output:
	// 0 dc 0 false
	// 1 dc 0 false
	// 2 dc 0 false
	// 3 ch 2 true
}

func ExampleGraph_Into() {
	g := worked(`
ring
rnd 1: 4 sc in ring, ch 2
rnd 2: dc2tog, FPdc in next st, dc in back loop of next st, dc in next 2 ch
`)
	for s := range g.Stitches(1) {
		fmt.Print(s.Kind, ":")
		for p := range g.Into(s.ID) {
			fmt.Printf(" %s %d", p.Kind, p.Stitch)
			if p.Chain > 0 {
				fmt.Print(", chain ", p.Chain)
			}
			if p.Loop == notation.BackLoop {
				fmt.Print(", back loop")
			}
		}
		fmt.Println()
	}
	// Output:
	// dc2tog: st 0 st 1
	// FPdc: st 2
	// dc: st 3, back loop
	// dc: ch 4, chain 1
	// dc: ch 4, chain 2
}

func ExampleGraph_Edge() {
	g := worked(`
ring
rnd 1: [2 dc in ring, ch 1] 2 times
rnd 2: [3 dc in next sp] 2 times
`)
	for i := range g.NumRounds() {
		for p := range g.Edge(i) {
			fmt.Printf("%s;", p.Kind)
		}
		fmt.Println()
	}
	// Output:
	// st;gap;st;sp;st;gap;st;sp;
	// st;st;st;gap;st;st;st;gap;
}

func ExampleGraph_WriteJSON() {
	g := worked("motif \"Slate\"\nring\nrnd 1: 2 sc in ring, corner ch 1\n")
	if err := g.WriteJSON(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// {"version":1,"motif":"Slate","shape":"","ring_chains":0,"yarns":[],"kinds":[{"name":"ch","uk":"ch","legs":0,"symbol":"oval"},{"name":"picot","uk":"picot","legs":0,"symbol":"loop"},{"name":"sc","uk":"dc","legs":1,"symbol":"cross"}],"rounds":[{"round":1,"status":"worked","below":-1,"first":0,"len":3,"gaps":[0],"corners":[2]}],
	// "stitches":[
	// {"id":0,"kind":"sc","round":0,"into":[{"place":"ring"}]},
	// {"id":1,"kind":"sc","round":0,"into":[{"place":"ring"}]},
	// {"id":2,"kind":"ch","round":0,"chains":1,"corner":true}]}
}

func ExampleLookup() {
	for _, name := range []string{"dc", "fptr", "hdc3tog", "htr"} {
		k, ok := model.Lookup(name)
		if !ok {
			fmt.Println(name, "is no American name")
			continue
		}
		fmt.Println(k.Name, k.UK, k.Legs, k.Symbol)
	}
	// Output:
	// dc tr 1 tall-1
	// FPtr FPdtr 1 fp-tall-2
	// hdc3tog htr3tog 3 together-tall-0
	// htr is no American name
}

func ExampleKinds() {
	for _, k := range model.Kinds() {
		if k.Name != k.UK && k.Height <= model.Half {
			fmt.Println(k.Name, "is", k.UK, "in UK terms")
		}
	}
	// Output:
	// sc is dc in UK terms
	// rev sc is rev dc in UK terms
	// esc is edc in UK terms
	// hdc is htr in UK terms
}

// A panel line says what motifs are made up into. Edges are what is left, and
// rounds are worked on them as on any other round.
func ExampleGraph_Panel() {
	draft, _ := notation.Parse("wrap.rnd", `ring
rnd 1: [5 dc in ring, corner ch 2] 4 times
panel wrap on point joined sc
edge of panel
rnd 1: [sc in each st and ch, 3 sc in corner] 2 times
edge of neck
rnd 1: [sc in each st, sc in corner] 2 times
`)
	g, findings, err := model.Build(context.Background(), draft)
	if err != nil || len(findings) > 0 {
		fmt.Println(err, findings)
		return
	}
	p := g.Panel()
	fmt.Println(p.Motifs, "motifs,", len(p.Seams), "seams, joined", p.Join)
	for _, e := range p.Edges {
		fmt.Printf("edge of %s: along %d sides, %d st, %d sp, of them %d corners\n", e.Name, len(e.Parts), e.Stitches, e.Spaces, e.Corners)
	}
	for _, b := range g.Borders() {
		fmt.Printf("border of %s: %d sc\n", b.Name, b.Graph.Counts(0).Total)
	}
	// Output:
	// 4 motifs, 4 seams, joined sc
	// edge of panel: along 6 sides, 30 st, 6 sp, of them 2 corners
	// edge of neck: along 2 sides, 10 st, 2 sp, of them 2 corners
	// border of panel: 44 sc
	// border of neck: 12 sc
}

// Build asks how large the piece is when a draft works rounds up to a size;
// here every round adds 2 cm. Package size knows better.
func ExampleWithMeasure() {
	draft, _ := notation.Parse("mat.rnd", `gauge 20 dc by 10 rnds over 10 cm
ring
rnd 1: 12 dc in ring
rnd 2 until across 7 cm: [2 dc in next st, dc in each st] 1 times
`)
	measure := func(g *model.Graph) model.Size { return model.Size{Across: 20 * float64(g.NumRounds())} }
	g, _, err := model.Build(context.Background(), draft, model.WithMeasure(measure))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range g.Reached() {
		fmt.Println("rounds", r.From, "to", r.To)
	}
	// Output:
	// rounds 2 to 4
}

// Code that looks at very many stitches reads them where they lie.
func ExampleGraph_Entries() {
	g := worked(saltmarsh)
	kinds := g.Kinds()
	chains := 0
	for _, e := range g.Entries(1) {
		if kinds[e.Kind()].Name == "ch" {
			chains += e.Chains()
		}
	}
	fmt.Println(chains, "chains")
	// Output: 8 chains
}

// Nodes can be compared: these two stand in the same place.
func ExampleGraph_Nodes() {
	g := worked(saltmarsh)
	var before model.Node
	for n := range g.Nodes(1) {
		if n.IsStitch() && n.Place == before.Place && n.Below == before.Below && n.Place == notation.Sp {
			fmt.Println("stitches", before.ID, "and", n.ID, "go into run", n.Below)
			break
		}
		before = n
	}
	// Output: stitches 19 and 20 go into run 3
}

func ExampleGraph_Symmetry() {
	s := worked(saltmarsh).Symmetry()
	fmt.Println(s.Rotation, "times round, in a mirror:", s.Mirror)
	// Output: 4 times round, in a mirror: true
}
