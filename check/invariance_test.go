package check

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// verdicts are the rules about shape that speak, where and how loud; the words
// may differ.
func verdicts(r *Report) []string {
	var out []string
	for _, f := range r.Findings {
		if known(shapeRules, f.Rule) {
			out = append(out, fmt.Sprintf("%s %s in round %d", f.Severity, f.Rule, f.Round))
		}
	}
	slices.Sort(out)
	return out
}

// corpus returns the texts of all drafts in testdata and examples.
func corpus(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, root := range []string{"../testdata", "../examples"} {
		err := fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || path.Ext(name) != ".rnd" {
				return err
			}
			text, err := os.ReadFile(path.Join(root, name))
			out[path.Join(path.Base(root), name)] = string(text)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

var (
	gaugeLine = regexp.MustCompile(`(?m)^gauge .*\n`)
	yarnLine  = regexp.MustCompile(`(?m)^yarn (\w+)`)
	fewTimes  = regexp.MustCompile(`\[([^][]*)\] (\d+) times`)
	cornerEnd = regexp.MustCompile(`\[([^][]*), (\([^()]*\) in corner)\]`)
	// A round that is one repeat of steps into the next place.
	simple = regexp.MustCompile(`(?m)(^rnd [^:]*: )\[((?:(?:\d+ )?\w+ in next (?:\d+ )?(?:st|sp)(?:, )?)+)\]( around| \d+ times)(| [=#].*)$`)
)

func withGauge(line string) func(string) string {
	return func(text string) string {
		own := line
		if strings.Contains(text, "terms uk") {
			own = strings.Replace(line, " dc ", " tr ", 1)
		}
		return own + "\n" + gaugeLine.ReplaceAllString(text, "")
	}
}

// TestInvariance sees that the verdicts are about the piece, and not about how
// its draft is written down.
func TestInvariance(t *testing.T) {
	same := func(text string) string { return text }
	tests := []struct {
		name     string
		from, to func(string) string
		atLeast  int      // drafts that the change applies to
		but      []string // of which it makes another piece
	}{
		{"larger, by stitches", withGauge("gauge 14 dc over 10 cm"), withGauge("gauge 5 dc over 10 cm"), 100, nil},
		{"larger, by stitches and rounds", withGauge("gauge 14 dc by 7 rnds over 10 cm"), withGauge("gauge 28 dc by 14 rnds over 10 cm"), 100, nil},
		{"another unit", withGauge("gauge 14 dc by 7 rnds over 10 cm"), withGauge("gauge 14 dc by 7 rnds over 4 in"), 100, nil},
		{"other terms", same, func(text string) string {
			draft, found := notation.Parse("draft.rnd", text)
			if slices.ContainsFunc(found, func(f Finding) bool { return f.Severity == notation.Error }) {
				return text
			}
			to := notation.UK
			if draft.Terms == notation.UK {
				to = notation.US
			}
			return notation.Format(notation.Translate(draft, to))
		}, 80, nil},
		{"other names of yarns", same, func(text string) string {
			for _, m := range yarnLine.FindAllStringSubmatch(text, -1) {
				text = regexp.MustCompile(`\b(yarn|with) `+m[1]+`\b`).ReplaceAllString(text, "${1} new_"+m[1])
			}
			return text
		}, 5, nil},
		{"repeats written twice", same, func(text string) string {
			return fewTimes.ReplaceAllStringFunc(text, func(s string) string {
				m := fewTimes.FindStringSubmatch(s)
				if n, _ := strconv.Atoi(m[2]); n%2 == 0 {
					return fmt.Sprintf("[%s, %s] %d times", m[1], m[1], n/2)
				}
				return s
			})
		}, 20, nil},
		{"corner first", same, func(text string) string { return cornerEnd.ReplaceAllString(text, "[$2, $1]") }, 3, nil},
		{"in a mirror", same, func(text string) string {
			return simple.ReplaceAllStringFunc(text, func(s string) string {
				m := simple.FindStringSubmatch(s)
				steps := strings.Split(m[2], ", ")
				slices.Reverse(steps)
				return m[1] + "[" + strings.Join(steps, ", ") + "]" + m[3] + m[4]
			})
			// A round of theirs names its corners and stays as it is: those above
			// would stand beside them.
		}, 20, []string{"testdata/lies/square-edging.rnd", "testdata/sides/edging-unmarked.rnd"}},
	}
	drafts := corpus(t)
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			changed := 0
			for name, text := range drafts {
				from, to := test.from(text), test.to(text)
				if from == to || slices.Contains(test.but, name) {
					continue
				}
				a, b := source(t, from, Options{Rules: shapeRules}), source(t, to, Options{Rules: shapeRules})
				if works(a.Graph) != works(b.Graph) {
					continue // the round above begins elsewhere
				}
				changed++
				if diff := cmp.Diff(verdicts(a), verdicts(b)); diff != "" {
					t.Errorf("%s (-as written +changed):\n%s", name, diff)
				}
			}
			if changed < test.atLeast {
				t.Errorf("only %d drafts changed", changed)
			}
		})
	}
}

// works returns how many rounds work out as written.
func works(g *model.Graph) int {
	n := 0
	for _, r := range g.Rounds() {
		if r.Status == model.Worked {
			n++
		}
	}
	return n
}
