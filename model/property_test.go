package model_test

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// work parses and builds a drawn draft, which must be well-formed.
func work(t *rapid.T, text string, options ...model.Option) (*model.Graph, []notation.Finding) {
	t.Helper()
	draft, findings := notation.Parse("", text)
	if len(findings) > 0 {
		t.Fatalf("%s: %s\nin:\n%s", findings[0].Span, findings[0].Text(), text)
	}
	g, findings, err := model.Build(context.Background(), draft, options...)
	if err != nil {
		t.Fatal(err)
	}
	return g, findings
}

func workClean(t *rapid.T, text string) *model.Graph {
	t.Helper()
	g, findings := work(t, text)
	for _, f := range findings {
		t.Fatalf("%s %s: %s\nin:\n%s", f.Span, f.Rule, f.Text(), text)
	}
	return g
}

func toJSON(t *rapid.T, g *model.Graph) string {
	t.Helper()
	var b bytes.Buffer
	if err := g.WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// compareCounts holds a graph against the rings that the oracle made.
func compareCounts(t *rapid.T, text string, g *model.Graph, want []ring) {
	t.Helper()
	if g.NumRounds() != len(want) {
		t.Fatalf("%d rounds, want %d\nin:\n%s", g.NumRounds(), len(want), text)
	}
	for i, w := range want {
		if diff := cmp.Diff(w.counts(), g.Counts(i)); diff != "" {
			t.Fatalf("round %d (-want +got):\n%s\nin:\n%s", i+1, diff, text)
		}
		for k, got := range g.Sides(i) {
			got.Gaps = 0
			if diff := cmp.Diff(w.side(), got); diff != "" {
				t.Fatalf("side %d of round %d (-want +got):\n%s\nin:\n%s", k, i+1, diff, text)
			}
		}
	}
}

// TestValidDrafts: a draft that closes by construction has no findings, and
// the counts are those of the oracle.
func TestValidDrafts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		text := d.text(way{asDrawn, true})
		g := workClean(t, text)
		compareCounts(t, text, g, d.rings())
		for _, r := range g.Rounds() {
			if r.Status != model.Worked {
				t.Fatalf("round %d is %s\nin:\n%s", r.Number, r.Status, text)
			}
		}
		checkInvariants(t, text, g, nil)
	})
}

// TestOneMeaning: the ways to write a draft down that mean the same give the
// same piece, stitch for stitch.
func TestOneMeaning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		text := d.text(way{asDrawn, false})
		want := toJSON(t, workClean(t, text))
		same := func(name, text string) {
			t.Helper()
			if diff := cmp.Diff(want, toJSON(t, workClean(t, text))); diff != "" {
				t.Fatalf("%s (-want +got):\n%s\nin:\n%s", name, diff, text)
			}
		}
		same("built again", text)
		same("with claims", d.text(way{asDrawn, true}))
		same("around and times changed over", d.text(way{func(r *drawnRound) string {
			other := *r
			// A number of times in a ring has no other name.
			other.around = !r.around && !strings.Contains(strings.Join(r.steps, ""), "in ring")
			return asDrawn(&other)
		}, false}))
		same("repeats split", d.text(way{func(r *drawnRound) string {
			if r.times%2 == 1 {
				return asDrawn(r)
			}
			half := *r
			half.steps, half.times = slices.Concat(r.steps, r.steps), r.times/2
			return asDrawn(&half)
		}, false}))
		same("repeats in repeats", d.text(way{func(r *drawnRound) string {
			if r.times%2 == 1 {
				return asDrawn(r)
			}
			outer := *r
			outer.steps, outer.times = []string{fmt.Sprintf("[%s] 2 times", strings.Join(r.steps, ", "))}, r.times/2
			return asDrawn(&outer)
		}, false}))
		same("first repeat written out", d.text(way{func(r *drawnRound) string {
			if r.times < 2 {
				return asDrawn(r)
			}
			rest := *r
			rest.times--
			return strings.Join(r.steps, ", ") + ", " + asDrawn(&rest)
		}, false}))
		draft, _ := notation.Parse("", text)
		same("laid out", notation.Format(draft))
		same("in UK terms", notation.Format(notation.Translate(draft, notation.UK)))
		same("with a comment in every line", strings.ReplaceAll(text, "\n", " # sand\n"))

		if strings.Contains(text, "reed") {
			other := strings.ReplaceAll(text, "reed", "slate")
			got := strings.ReplaceAll(toJSON(t, workClean(t, other)), "slate", "reed")
			if got != want {
				t.Fatalf("another name for a yarn: %s\nin:\n%s", cmp.Diff(want, got), other)
			}
		}
	})
}

// TestRepeatsWrittenOut: a repeat is its steps written out so many times, also
// where the steps reach to places outside it, or the edge below is uneven.
func TestRepeatsWrittenOut(t *testing.T) {
	extras := []string{
		"sc in same", "(sc, ch 1, sc) in same", "sc2tog over same and next st", "sc in next st of rnd 1", "corner ch 1", "ch 2", "picot 4",
		"sc in next sp", "sk sp", "sc in next gap", "sk 1 gap", "sk 1 st", "sc in next ch", "sk 1 ch", "drift in same", "corner sc in next st", "2 sc in next sp of rnd 1",
		"sc in ring", "cl over next 2 st", "with reed", "sc in each of next 2 st",
	}
	rapid.Check(t, func(t *rapid.T) {
		d := &drawer{t: t}
		below := draw(t)
		if !slices.Contains(below.header, "yarn reed") {
			below.header = slices.Insert(below.header, 1, "yarn sand", "yarn reed")
		}
		rings := below.rings()
		c := rings[len(rings)-1].counts()
		n, what := c.Total, "st"
		if n == 0 || c.Spaces > 1 && d.chance(30, "spaces") {
			n, what = c.Spaces, "sp"
		}
		use := d.divisor(n, 12)
		list := texts(d.steps(use, what, 1))
		for range d.int(0, 2, "extras") {
			at := d.int(0, len(list), "at")
			list = slices.Insert(list, at, rapid.SampledFrom(extras).Draw(t, "extra"))
		}
		times := n / use
		lead := rapid.SampledFrom([]string{"", "", "sc in next st, ", "sk 1 st, ", "ch 3 as dc, "}).Draw(t, "lead")
		if !strings.Contains(list[0], " in next ") || strings.Contains(list[0], "sk ") {
			// A skip before the first place worked begins the round when it
			// stands in a repeat, and only there.
			lead = "sc in next st, "
		}
		head := below.text(way{asDrawn, false}) + fmt.Sprintf("rnd %d: %s", len(rings)+1, lead)
		rolled := head + fmt.Sprintf("[%s] %d times\n", strings.Join(list, ", "), times)
		out := head + strings.Join(slices.Repeat(list, times), ", ") + "\n"
		a, found := work(t, rolled)
		b, foundOut := work(t, out)
		checkInvariants(t, rolled, a, found)
		if (len(found) == 0) != (len(foundOut) == 0) {
			t.Fatalf("%v, written out %v\nin:\n%s", tellAll(found), tellAll(foundOut), rolled)
		}
		if len(found) > 0 {
			return
		}
		if diff := cmp.Diff(picture(b), picture(a)); diff != "" || toJSON(t, a) != toJSON(t, b) {
			t.Fatalf("(-written out +repeated):\n%s\nin:\n%s", diff, rolled)
		}
	})
}

// TestRotatedStart: a round may begin with any step of its repeat.
func TestRotatedStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		by := rapid.IntRange(0, 8).Draw(t, "by")
		text := d.text(way{func(r *drawnRound) string {
			if !r.parts {
				return asDrawn(r)
			}
			n := by % len(r.steps)
			turned := *r
			turned.steps = slices.Concat(r.steps[n:], r.steps[:n])
			return asDrawn(&turned)
		}, true})
		compareCounts(t, text, workClean(t, text), d.rings())
	})
}

// claimAll writes down everything that can be claimed of the rounds of a
// statement.
func claimAll(rounds []ring) string {
	kinds := map[string]int{}
	for _, r := range rounds {
		maps.Copy(kinds, r.counts().Stitches)
	}
	var items []string
	add := func(what string, of func(model.Counts) int) {
		var list []string
		for _, r := range rounds {
			list = append(list, fmt.Sprint(of(r.counts())))
		}
		items = append(items, strings.Join(list, "/")+" "+what)
	}
	for _, kind := range stitchNames(kinds) {
		add(kind, func(c model.Counts) int { return c.Stitches[kind] })
	}
	add("sp", func(c model.Counts) int { return c.Spaces })
	add("ch", func(c model.Counts) int { return c.Chains })
	add("corners", func(c model.Counts) int { return c.Corners })
	add("picots", func(c model.Counts) int { return c.Picots })
	return strings.Join(items, ", ")
}

var numbers = regexp.MustCompile(`\b\d+\b`)

// breakOne changes one number of a draft that is no number of a round, and
// returns the line it stands in.
func breakOne(t *rapid.T, text string) (broken string, line int) {
	var at [][]int
	for _, m := range numbers.FindAllStringIndex(text, -1) {
		if before := text[:m[0]]; !strings.HasSuffix(before, "rnd ") && !strings.HasSuffix(before, "-") {
			at = append(at, m)
		}
	}
	m := rapid.SampledFrom(at).Draw(t, "number")
	was, _ := strconv.Atoi(text[m[0]:m[1]])
	now := rapid.SampledFrom([]int{1, 2, was + 1, was + 2, 2*was + 1, max(was-1, 1), max(was-2, 1)}).Draw(t, "now")
	return text[:m[0]] + strconv.Itoa(now) + text[m[1]:], strings.Count(text[:m[0]], "\n") + 1
}

// sameCounts compares what can be claimed of two graphs.
func sameCounts(a, b *model.Graph) bool {
	if a.NumRounds() != b.NumRounds() {
		return false
	}
	for i := range a.NumRounds() {
		x, y := a.Counts(i), b.Counts(i)
		x.Gaps, y.Gaps = 0, 0
		if !cmp.Equal(x, y) {
			return false
		}
	}
	return true
}

// TestOneNumberBroken: where every round claims all that can be claimed, one
// wrong number changes nothing or is found, at the round it stands in, and
// what it does to the rounds above is no reason for several findings about one
// of them.
func TestOneNumberBroken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		for _, r := range d.rounds {
			r.claim = claimAll(r.rounds)
		}
		text := d.text(way{asDrawn, true})
		broken, line := breakOne(t, text)
		draft, unread := notation.Parse("", broken)
		if len(unread) > 0 {
			return // legs that no longer match their places: found by the reader
		}
		g, findings, err := model.Build(context.Background(), draft)
		if err != nil {
			t.Fatal(err)
		}
		checkInvariants(t, broken, g, findings)
		if len(findings) == 0 {
			if !sameCounts(workClean(t, text), g) {
				t.Fatalf("nothing found in line %d of:\n%swhich was:\n%s", line, broken, text)
			}
			return
		}
		rules := map[int]string{}
		for _, f := range findings {
			if f.Span.Start.Line < line {
				t.Fatalf("line %d is wrong, line %d is blamed: %s\nin:\n%s", line, f.Span.Start.Line, f.Text(), broken)
			}
			if was, ok := rules[f.Round]; ok && was != f.Rule {
				t.Fatalf("round %d: %s and %s\nin:\n%s", f.Round, was, f.Rule, broken)
			}
			rules[f.Round] = f.Rule
		}
	})
}

// TestOneNumberBrokenOneFinding: where the rounds are plain and each claims its
// count, one wrong number is one finding in all.
func TestOneNumberBrokenOneFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		d.header = slices.DeleteFunc(d.header, func(h string) bool { return strings.HasPrefix(h, "stitch ") })
		plain := 0
		for _, r := range d.rounds {
			c := r.rounds[0].counts()
			if len(r.rounds) > 1 || len(c.Stitches) != 1 || c.Spaces+c.Picots+c.Corners > 0 ||
				strings.Contains(strings.Join(r.steps, " "), "gap") {
				break
			}
			r.claim = fmt.Sprint(c.Total, " ", stitchNames(c.Stitches)[0])
			plain++
		}
		if d.rounds = d.rounds[:plain]; plain == 0 {
			t.Skip()
		}
		text := d.text(way{asDrawn, true})
		broken, _ := breakOne(t, text)
		draft, unread := notation.Parse("", broken)
		if len(unread) > 0 {
			return
		}
		_, findings, err := model.Build(context.Background(), draft)
		if err != nil {
			t.Fatal(err)
		}
		if len(findings) > 1 {
			t.Fatalf("%s\nin:\n%s", strings.Join(tellAll(findings), "\n"), broken)
		}
	})
}

func stitchNames(m map[string]int) []string { return slices.Sorted(maps.Keys(m)) }
