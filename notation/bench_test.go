package notation

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// benchTexts are a draft of the usual size and a long one: the same border
// rounds over and over, as for a tablecloth.
func benchTexts(b *testing.B) map[string]string {
	b.Helper()
	text, err := os.ReadFile("testdata/seventeen.rnd")
	if err != nil {
		b.Fatal(err)
	}
	large := new(strings.Builder)
	large.WriteString("motif \"Tideline cloth\"\nring\n")
	for n := 1; large.Len() < 120_000; n++ {
		fmt.Fprintf(large, "rnd %d: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = %d dc per side # %d\n", n, 4*n, n)
	}
	return map[string]string{"seventeen": string(text), "large": large.String()}
}

func BenchmarkFormat(b *testing.B) {
	for _, name := range []string{"seventeen", "large"} {
		text := benchTexts(b)[name]
		d, _ := Parse("", text)
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				Format(d)
			}
		})
	}
}
