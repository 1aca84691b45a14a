package size_test

import (
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/size"
)

// solidSquare grows until it has about n stitches: round r has 16r-4 dc, so r
// rounds have 8r²+4r.
func solidSquare(n int) string {
	rounds := max(2, int(math.Round(math.Sqrt(float64(n)/8))))
	return fmt.Sprintf("shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-%d: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n", rounds)
}

// groupLace has groups of 3 dc in the spaces, in rounds that do not grow, of
// about n stitches and spaces in all.
func groupLace(n int) string {
	groups := max(5, int(math.Sqrt(float64(n))/2))
	rounds := max(2, n/(4*groups))
	return fmt.Sprintf("ring\nrnd 1: [3 dc in ring, ch 1] %d times\nrnd 2-%d: [3 dc in next sp, ch 1] around\n", groups, rounds)
}

// circle is a solid circle of dc, 12 more every round: n rounds have 6n²+6n.
func circle(n int) string {
	rounds := max(2, int(math.Sqrt(float64(n)/6)))
	var b strings.Builder
	b.WriteString("shape circle\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n")
	for r := 3; r <= rounds; r++ {
		fmt.Fprintf(&b, "rnd %d: [dc in next %d st, 2 dc in next st] 12 times\n", r, r-2)
	}
	return b.String()
}

func perStitch(b *testing.B, g *model.Graph, run func()) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	b.ReportAllocs()
	runs := 0
	for b.Loop() {
		run()
		runs++
	}
	runtime.ReadMemStats(&after)
	made := float64(runs) * float64(g.Len())
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/made, "ns/stitch")
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/made, "B/stitch")
}

// BenchmarkShape sets the geometry beside the working of the same draft.
func BenchmarkShape(b *testing.B) {
	drafts := []struct {
		name string
		text string
	}{
		{"square/100000", solidSquare(100_000)},
		{"square/1000000", solidSquare(1_000_000)},
		{"lace/100000", groupLace(100_000)},
		{"circle/100000", circle(100_000)},
		{"ring/1000000", "ring\nrnd 1: 1000000 dc in ring\n"},
		// What would show it if time grew with the square of something: very
		// many rounds, away from the centre and on it, and spaces without a
		// stitch among them.
		{"tube/600000", "ring\nrnd 1: 6 sc in ring\nrnd 2-100000: sc in each st\n"},
		{"centre/600000", "ring\nrnd 1-100000: 6 sc in ring\n"},
		{"chains/1000000", "ring\nrnd 1: [corner ch 1] 1000000 times\n"},
	}
	for _, d := range drafts {
		draft := read(b, d.text)
		g, findings, err := model.Build(b.Context(), draft)
		if err != nil || len(findings) > 0 {
			b.Fatal(d.name, err, findings)
		}
		b.Run(d.name+"/build", func(b *testing.B) {
			perStitch(b, g, func() {
				if again, _, _ := model.Build(b.Context(), draft); again.Len() != g.Len() {
					b.Fatalf("%d stitches", again.Len())
				}
			})
		})
		b.Run(d.name+"/shape", func(b *testing.B) {
			perStitch(b, g, func() {
				if p := size.Shape(g, size.DefaultDimensions()); len(p.Rounds) != g.NumRounds() {
					b.Fatalf("%d rounds", len(p.Rounds))
				}
			})
		})
	}
}

// BenchmarkSheet sets a whole sheet beside the geometry of the same draft.
func BenchmarkSheet(b *testing.B) {
	for name, text := range map[string]string{"square/100000": solidSquare(100_000), "lace/100000": groupLace(100_000)} {
		draft := read(b, "gauge 14 dc by 7 rnds over 10 cm\n"+text)
		g, findings, err := model.Build(b.Context(), draft)
		if err != nil || len(findings) > 0 {
			b.Fatal(name, err, findings)
		}
		b.Run(name+"/shape", func(b *testing.B) {
			perStitch(b, g, func() { size.Shape(g, size.DefaultDimensions()) })
		})
		b.Run(name+"/sheet", func(b *testing.B) {
			perStitch(b, g, func() {
				if _, err := size.NewSheet(b.Context(), draft, g); err != nil {
					b.Fatal(err)
				}
			})
		})
	}
}
