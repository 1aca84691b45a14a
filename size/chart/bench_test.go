package chart_test

import (
	"io"
	"testing"

	"example.com/roundel/size/chart"
)

// BenchmarkStitches draws pieces of some 5,000 stitches and chains.
func BenchmarkStitches(b *testing.B) {
	for name, text := range large {
		b.Run(name, func(b *testing.B) {
			d, g := work(b, text)
			n := 0
			for _, k := range held(g) {
				n += k
			}
			b.SetBytes(int64(len(draw(b, chart.Stitches, d, g, chart.Options{}))))
			b.ReportAllocs()
			for b.Loop() {
				if err := chart.Stitches(io.Discard, d, g, chart.Options{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/stitch")
			b.ReportMetric(float64(n), "stitches")
		})
	}
}
