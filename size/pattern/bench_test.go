package pattern_test

import (
	"fmt"
	"io"
	"math/rand"
	"os"
	"strings"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size/pattern"
)

// large drafts: one of very many different steps, one of very many stitches of
// one kind, and one whose steps nearly repeat everywhere.
func large(n int) map[string]string {
	r := rand.New(rand.NewSource(1))
	steps := func(step func(i int) string) string {
		list := make([]string, n)
		for i := range list {
			list[i] = step(i)
		}
		return fmt.Sprintf("ring\nrnd 1: %d sc in ring\nrnd 2: %s\n", n, strings.Join(list, ", "))
	}
	kinds := []string{"sc", "hdc", "dc", "tr", "dtr"}
	return map[string]string{
		"different": steps(func(i int) string { return fmt.Sprintf("%s in next st, ch %d", kinds[r.Intn(5)], 1+r.Intn(50)) }),
		"alike":     fmt.Sprintf("ring\nrnd 1: %d sc in ring\nrnd 2: [2 dc in next st, ch 1] around\n", n),
		"nearly": steps(func(i int) string {
			if r.Intn(40) == 0 {
				return "sc in next st, ch 2"
			}
			return "sc in next st, ch 1"
		}),
	}
}

func BenchmarkNew(b *testing.B) {
	texts := large(30_000)
	tideline, err := os.ReadFile("../../examples/tideline.rnd")
	if err != nil {
		b.Fatal(err)
	}
	texts["tideline"] = string(tideline)
	for name, text := range texts {
		d, findings := notation.Parse("", text, notation.WithLimits(notation.Limits{Bytes: len(text)}))
		g, more, err := model.Build(b.Context(), d)
		if err != nil || len(findings)+len(more) > 0 {
			b.Fatal(name, findings, more, err)
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := pattern.New(d, g, nil, notation.US).WriteMarkdown(io.Discard); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(g.Len()), "ns/stitch")
		})
	}
}
