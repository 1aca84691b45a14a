package notation_test

import (
	"fmt"
	"log"
	"strings"
	"testing/fstest"

	"example.com/roundel/notation"
)

const saltmarsh = `motif "Saltmarsh square"
shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc
rnd 2-4: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 7/11/15 dc per side
`

func ExampleParse() {
	draft, findings := notation.Parse("saltmarsh.rnd", saltmarsh+"rnd 5: sc in each st ch 1\n")
	fmt.Println(draft.Title(), draft.Outline())
	for r := range draft.Rounds() {
		fmt.Printf("rounds %d to %d: %d steps\n", r.From, r.To, len(r.Steps))
	}
	for _, f := range findings {
		fmt.Printf("%s:%s: %s [%s]\n", draft.File, f.Span.Start, f.Message, f.Rule)
	}
	// Output:
	// Saltmarsh square square
	// rounds 1 to 1: 1 steps
	// rounds 2 to 4: 1 steps
	// rounds 5 to 5: 0 steps
	// saltmarsh.rnd:6:22: a comma is missing before "ch" [syntax]
}

func ExampleParseFS() {
	fsys := fstest.MapFS{"drafts/saltmarsh.rnd": {Data: []byte(saltmarsh)}}
	draft, findings, err := notation.ParseFS(fsys, "drafts/saltmarsh.rnd")
	fmt.Println(draft.Title(), len(findings), err)
	_, _, err = notation.ParseFS(fsys, "drafts/harbour.rnd")
	fmt.Println(err)
	// Output:
	// Saltmarsh square 0 <nil>
	// open drafts/harbour.rnd: file does not exist
}

func ExampleFormat() {
	draft, _ := notation.Parse("", `RING
Rnd 1:6sc in ring  # the centre
rnd 2 : [ SC2TOG ,ch 1,2 sc in next sp ]around`)
	fmt.Print(notation.Format(draft))
	// Output:
	// ring
	// rnd 1: 6 sc in ring # the centre
	// rnd 2: [sc2tog, ch 1, 2 sc in next sp] around
}

func ExampleTranslate() {
	draft, _ := notation.Parse("", `motif "Tideline ring"
ring
rnd 1: 12 dc in ring
rnd 2: [FPdc in next st, hdc2tog over same and next st] around
`)
	fmt.Print(notation.Format(notation.Translate(draft, notation.UK)))
	// Output:
	// motif "Tideline ring"
	// terms uk
	// ring
	// rnd 1: 12 tr in ring
	// rnd 2: [FPtr in next st, htr2tog over same and next st] around
}

// The stitches a draft uses, in the order in which they come.
func ExampleWalk() {
	draft, _ := notation.Parse("", `terms uk
stitch fan = (2 tr, ch 1, 2 tr)
ring
rnd 1: 12 dc in ring
rnd 2: [fan in next st, sk 2 st] around
`)
	notation.Walk(draft, func(n notation.Node) bool {
		if w, ok := n.(*notation.Work); ok {
			fmt.Println(w.Span.Start, w.Count, w.Stitch.Text, "is US", w.Stitch.US)
		}
		_, place := n.(*notation.Place)
		return !place // nothing is worked inside a place
	})
	// Output:
	// 2:15 2 tr is US dc
	// 2:27 2 tr is US dc
	// 4:8 12 dc is US sc
	// 5:9 1 fan is US
}

func ExampleClosest() {
	yarns := []string{"sand", "reed", "tide"}
	fmt.Println(notation.Closest("snad", yarns))
	fmt.Println(notation.Closest("kelp", yarns) == "")
	// Output:
	// sand
	// true
}

func ExampleTerms() {
	for _, us := range []string{"sc", "dc3tog", "BPtr", "sl st"} {
		fmt.Println(us, "is UK", notation.UK.Name(us))
	}
	parts, ok := notation.UK.Parse("fptr2tog")
	fmt.Println(parts.Name(), parts.Base, parts.Together, ok)
	_, ok = notation.UK.Parse("sc")
	fmt.Println(ok)
	// Output:
	// sc is UK dc
	// dc3tog is UK tr3tog
	// BPtr is UK BPdtr
	// sl st is UK sl st
	// FPdc2tog dc 2 true
	// false
}

// An editor offers the fixes of a finding and makes the one that is chosen.
func ExampleApplyEdits() {
	const text = "yarn sand\nring\nrnd 1 with snad: 12 dc in ring\n"
	_, findings := notation.Parse("", text)
	fix := findings[0].Fixes[0]
	fmt.Println(findings[0].Message)
	fmt.Println(fix.Message, "- certain:", fix.Certain)
	mended, err := notation.ApplyEdits(text, fix.Edits...)
	if err != nil {
		log.Fatal(err) // not with edits of this text
	}
	fmt.Print(mended)
	// Output:
	// no yarn is called snad; did you mean sand?
	// write sand - certain: false
	// yarn sand
	// ring
	// rnd 1 with sand: 12 dc in ring
}

// A caller with another source of drafts reads no more than Parse will.
func ExampleRead() {
	text, err := notation.Read(strings.NewReader("ring\nrnd 1: 12 dc in ring\n"))
	if err != nil {
		log.Fatal(err)
	}
	_, findings := notation.Parse("standard input", text)
	fmt.Println(len(findings), "findings")
	// Output: 0 findings
}

// Limits hold for one call.
func ExampleWithLimits() {
	_, findings := notation.Parse("", "ring\nrnd 1: [[[3 dc in ring] 2 times] 2 times] 2 times\n",
		notation.WithLimits(notation.Limits{Depth: 2}))
	for _, f := range findings {
		fmt.Println(f.Span.Start, f.Rule)
	}
	// Output: 2:10 limit
}
