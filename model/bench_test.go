package model_test

import (
	"fmt"
	"io"
	"math"
	"runtime"
	"strings"
	"testing"

	"example.com/roundel/model"
)

// circleToSquare is a motif of 17 rounds: a circle of sc in eight rounds,
// squared in the ninth, then a square.
func circleToSquare() string {
	var b strings.Builder
	b.WriteString("motif \"Harbour tile\"\nshape square\nyarn sand\nyarn slate\nring\nrnd 1 with sand: 6 sc in ring = 6 sc\nrnd 2: 2 sc in each st = 12 sc\n")
	for n := 3; n <= 8; n++ {
		fmt.Fprintf(&b, "rnd %d: [sc in next %d st, 2 sc in next st] around = %d sc\n", n, n-2, 6*n)
	}
	b.WriteString("rnd 9 with slate: [sc in next 11 st, (sc, corner sc, sc) in next st] 4 times = 56 sc\n")
	b.WriteString("rnd 10: [sc in each st, (sc, corner ch 2, sc) in corner] 4 times = 15 sc per side\n")
	b.WriteString("rnd 11-17: [sc in each st, (sc, corner ch 2, sc) in corner] 4 times = 17/19/21/23/25/27/29 sc per side\n")
	return b.String()
}

// solidSquare is a square that grows until it has about n stitches: round r
// has 16r-4 dc, so r rounds have 8r²+4r.
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

func oneRing(n int) string { return fmt.Sprintf("ring\nrnd 1: %d dc in ring\n", n) }

// wrongEverywhere is the worst case for a piece of its size: every round is at
// fault, is tried from two beginnings and worked again on what it claims.
func wrongEverywhere(n int) string {
	return "ring\nrnd 1: [49 dc in ring, corner ch 1] 4 times\n" + repeated(max(2, n/200), func(i int) string {
		return fmt.Sprintf("rnd %d: [dc in next 48 st, dc in next 2 st, corner ch 1] around = 196 dc", i+1)
	})
}

func benchmarkBuild(b *testing.B, text string, findings bool) {
	draft := read(b, text)
	var g *model.Graph
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	b.ReportAllocs()
	builds := 0
	for b.Loop() {
		graph, found, err := model.Build(b.Context(), draft)
		if err != nil || (len(found) > 0) != findings {
			b.Fatalf("%v, %d findings", err, len(found))
		}
		g = graph
		builds++
	}
	runtime.ReadMemStats(&after)
	made := float64(builds) * float64(g.Len())
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/made, "ns/stitch")
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/made, "B/stitch")
	b.ReportMetric(float64(g.Len()), "stitches")
}

func BenchmarkBuild(b *testing.B) {
	b.Run("circle to square", func(b *testing.B) { benchmarkBuild(b, circleToSquare(), false) })
	for _, sort := range []struct {
		name string
		text func(n int) string
	}{
		{"ring", oneRing},
		{"square", solidSquare},
		{"lace", groupLace},
	} {
		for _, n := range []int{1000, 10_000, 100_000, 1_000_000} {
			b.Run(fmt.Sprintf("%s/%d", sort.name, n), func(b *testing.B) { benchmarkBuild(b, sort.text(n), false) })
		}
	}
	for _, n := range []int{1000, 100_000} {
		b.Run(fmt.Sprintf("faults/%d", n), func(b *testing.B) { benchmarkBuild(b, wrongEverywhere(n), true) })
	}
}

// BenchmarkRead goes over a whole piece the way charts and texts do.
func BenchmarkRead(b *testing.B) {
	g := clean(b, solidSquare(100_000))
	b.Run("stitches", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			n := 0
			for i := range g.NumRounds() {
				for s := range g.Stitches(i) {
					for range g.Into(s.ID) {
						n++
					}
				}
			}
			if n < 90_000 {
				b.Fatalf("%d feet", n)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(g.Len()), "ns/stitch")
	})
	b.Run("counts", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for i := range g.NumRounds() {
				if c := g.Counts(i); c.Corners != 4 || len(g.Sides(i)) != 4 {
					b.Fatalf("round %d: %+v", i, c)
				}
			}
		}
	})
	b.Run("json", func(b *testing.B) {
		b.SetBytes(int64(len(jsonOf(b, g))))
		b.ReportAllocs()
		for b.Loop() {
			if err := g.WriteJSON(io.Discard); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(g.Len()), "ns/stitch")
	})
}

// TestBenchmarkDrafts sees that the drafts that are timed are what they are
// said to be.
func TestBenchmarkDrafts(t *testing.T) {
	g := clean(t, circleToSquare())
	if g.NumRounds() != 17 {
		t.Errorf("%d rounds, want 17", g.NumRounds())
	}
	for _, n := range []int{1000, 10_000, 100_000} {
		for name, text := range map[string]string{"ring": oneRing(n), "square": solidSquare(n), "lace": groupLace(n)} {
			if have := clean(t, text).Len(); have < n*8/10 || have > n*12/10 {
				t.Errorf("%s has %d stitches, want about %d", name, have, n)
			}
		}
	}
	if _, findings := build(t, wrongEverywhere(1000)); len(findings) < 3 {
		t.Errorf("%d findings", len(findings))
	}
}
