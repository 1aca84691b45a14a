package check

import (
	"fmt"
	"math"
	"os"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// BenchmarkRules sets the rules about growth and symmetry, and all rules, beside
// the working of the same draft. The whole way from text to findings is in
// notation's BenchmarkSuite.
func BenchmarkRules(b *testing.B) {
	seventeen, err := os.ReadFile("../notation/testdata/seventeen.rnd")
	if err != nil {
		b.Fatal(err)
	}
	for _, d := range []struct{ name, text string }{
		{"17 rounds", string(seventeen)},
		{"square of 1000000", squareOf(1_000_000, "")},
		// One picot too many, and no round repeats itself any more.
		{"lopsided square of 1000000", squareOf(1_000_000, ", picot 3")},
	} {
		draft, found := notation.Parse("", d.text)
		graph, more, err := model.Build(b.Context(), draft)
		if err != nil {
			b.Fatal(err)
		}
		found = append(found, more...)
		e := exceptionsIn(draft)
		put := func(rules []Rule) func() {
			return func() { (&Report{Source: d.text, Draft: draft, Graph: graph}).put(b.Context(), rules, e, found) }
		}
		for _, part := range []struct {
			name string
			run  func()
		}{
			{"build", func() { model.Build(b.Context(), draft) }},
			{"growth and symmetry", put(shapeRules)},
			{"all rules", put(Rules())},
			{"symmetry for rounds", func() { graph.Symmetry() }},
		} {
			b.Run(d.name+"/"+part.name, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					part.run()
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(graph.Len()), "ns/stitch")
			})
		}
	}
}

// squareOf has about n stitches: round r has 16r-4 dc. The first round ends
// with something more.
func squareOf(n int, more string) string {
	return fmt.Sprintf("shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times%s\nrnd 2-%d: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n",
		more, int(math.Sqrt(float64(n)/8)))
}
