package size

import (
	"context"
	"example.com/roundel/model"
	"example.com/roundel/notation"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestP(t *testing.T) {
	for _, pat := range []string{"../testdata/flat/*.rnd", "../testdata/published/*.rnd", "../testdata/trade/*.rnd", "../examples/*.rnd"} {
		files, _ := filepath.Glob(pat)
		for _, f := range files {
			b, _ := os.ReadFile(f)
			text := string(b)
			get := func(k string) string {
				for l := range strings.Lines(text) {
					if v, ok := strings.CutPrefix(l, "# "+k+": "); ok {
						return strings.TrimSpace(v)
					}
				}
				return ""
			}
			d, _ := notation.Parse(f, text)
			g, fs, _ := model.Build(context.Background(), d)
			ga := GaugeOf(g, d.Gauge())
			worst := 0.0
			first := 0
			fs2 := 0.0
			dd := 0.0
			for _, x := range Shape(g, ga.Dimensions).Rounds {
				s := x.Score / (1 + 1.5*x.Doubt)
				if math.Abs(s) > math.Abs(worst) {
					worst = s
					dd = x.Doubt
				}
				if first == 0 && math.Abs(s) >= 0.15 {
					first = x.Index + 1
					fs2 = x.Score
				}
			}
			lab := get("label")
			if lab == "" && math.Abs(worst) < .15 {
				continue
			}
			if d.Lies() != notation.Flat {
				continue
			}
			fmt.Printf("%-40s %-6s %-3s ref %5s  S' %+.2f (doubt %.2f) first %d (%+.2f) of %d, findings %d\n", filepath.Base(f), lab, get("borderline"), get("reference score"), worst, dd, first, fs2, g.NumRounds(), len(fs))
		}
	}
}
