package notation_test

import (
	"bytes"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"math"
	"os"
	"runtime"
	"strings"
	"testing"

	"example.com/roundel/check"
	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/chart"
	"example.com/roundel/size/pattern"
)

// BenchmarkSuite is where the table of speeds in DEVELOPERS.md comes from:
//
//	go test ./notation -run - -bench Suite
//
// Parse contains lex, and check contains parse, build and shape; the others
// start from what those before them made. Beside them stand, in the same run,
// participle alone on the same tokens and go/parser on Go source of the same
// length.
func BenchmarkSuite(b *testing.B) {
	seventeen, err := os.ReadFile("testdata/seventeen.rnd")
	if err != nil {
		b.Fatal(err)
	}
	for _, d := range []struct{ name, text string }{
		{"17 rounds", string(seventeen)},
		// Growth with the length of the text, and with the size of the piece.
		{"170 rounds", lace(170)},
		{"1700 rounds", lace(1700)},
		{"10000 stitches", square(10_000)},
		{"100000 stitches", square(100_000)},
		{"1000000 stitches", square(1_000_000)},
	} {
		b.Run(d.name, func(b *testing.B) { suite(b, d.text) })
	}
}

// lace has a line of text for each round.
func lace(rounds int) string {
	var b strings.Builder
	b.WriteString("motif \"Tideline lace\"\nring\nrnd 1: [3 dc in ring, ch 1] 12 times = 36 dc, 12 sp\n")
	for n := 2; n <= rounds; n++ {
		fmt.Fprintf(&b, "rnd %d: [3 dc in next sp, ch 1] around = 36 dc, 12 sp\n", n)
	}
	return b.String()
}

// square has about n stitches in a few lines: round r has 16r-4 dc.
func square(n int) string {
	return fmt.Sprintf("shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-%d: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n",
		int(math.Sqrt(float64(n)/8)))
}

func suite(b *testing.B, text string) {
	source := goSource(b, len(text))
	statements := notation.StatementsOf(text)
	draft, found := notation.Parse("", text)
	graph, more, err := model.Build(b.Context(), draft)
	if len(found) > 0 || len(more) > 0 || err != nil {
		b.Fatal(found, more, err)
	}
	sheet, err := size.NewSheet(b.Context(), draft, graph)
	if err != nil {
		b.Fatal(err)
	}
	type stage struct {
		name string
		text string
		run  func()
	}
	draw := func() error { return chart.Stitches(io.Discard, draft, graph, chart.Options{}) }
	stages := []stage{
		{"go/parser", source, func() { parseGo(b, source) }},
		{"participle", text, func() { statements.ParseAlone(b) }},
		{"lex", text, func() { notation.Scan(text) }},
		{"parse", text, func() { notation.Parse("", text) }},
		{"build", text, func() { model.Build(b.Context(), draft) }},
		{"shape", text, func() { size.Shape(graph, size.DefaultDimensions()) }},
		{"check", text, func() { check.Source(b.Context(), "", text, check.Options{}) }},
		{"size", text, func() { size.NewSheet(b.Context(), draft, graph) }},
		{"write", text, func() { pattern.New(draft, graph, sheet, notation.US).WriteMarkdown(io.Discard) }},
	}
	if draw() == nil { // not too large for a picture
		stages = append(stages, stage{"chart", text, func() { draw() }})
	}
	for _, s := range stages {
		b.Run(s.name, func(b *testing.B) { measure(b, len(s.text), graph.Len(), s.run) })
	}
}

// measure runs a stage, and reports its cost by the byte of text and by the
// stitch.
func measure(b *testing.B, bytes, stitches int, run func()) {
	b.SetBytes(int64(bytes))
	b.ReportAllocs()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for b.Loop() {
		run()
	}
	runtime.ReadMemStats(&after)
	made := float64(b.N) * float64(stitches)
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/made, "ns/stitch")
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/made, "B/stitch")
}

// goSource returns declarations of this package that are about n bytes long.
func goSource(b *testing.B, n int) string {
	text, err := os.ReadFile("convert.go")
	if err != nil {
		b.Fatal(err)
	}
	head, body, _ := bytes.Cut(text, []byte("\n)\n"))
	source := append(head, "\n)\n"...)
	declarations := bytes.SplitAfter(body, []byte("\n}\n"))
	declarations = declarations[:len(declarations)-1]
	for i := 0; len(source) < n; i++ {
		source = append(source, declarations[i%len(declarations)]...)
	}
	return string(source)
}

func parseGo(b *testing.B, source string) {
	if _, err := parser.ParseFile(token.NewFileSet(), "", source, parser.ParseComments|parser.SkipObjectResolution); err != nil {
		b.Fatal(err)
	}
}
