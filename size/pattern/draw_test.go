package pattern_test

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
	"example.com/roundel/size/pattern"
)

// A drawer draws a draft round by round, each on what the ones before have
// come to.
type drawer struct {
	t      *rapid.T
	header []string
	rounds []round
}

// A round is a repeat, written as one or written out.
type round struct {
	head  string
	body  string
	times int
	end   string
}

func (d *drawer) text(out bool) string {
	var b strings.Builder
	for _, h := range d.header {
		b.WriteString(h + "\n")
	}
	for i, r := range d.rounds {
		fmt.Fprintf(&b, "rnd %d%s: ", i+1, r.head)
		switch {
		case r.times == 1:
			b.WriteString(r.body)
		case out:
			b.WriteString(strings.TrimSuffix(strings.Repeat(r.body+", ", r.times), ", "))
		default:
			fmt.Fprintf(&b, "[%s] %d times", r.body, r.times)
		}
		b.WriteString(r.end + "\n")
	}
	return b.String()
}

func (d *drawer) number(what string, least, most int) int {
	return rapid.IntRange(least, most).Draw(d.t, what)
}

func (d *drawer) chance(percent int) bool { return d.number("chance", 1, 100) <= percent }

func pick[T any](d *drawer, list ...T) T { return rapid.SampledFrom(list).Draw(d.t, "pick") }

func drawDraft(t *rapid.T) *drawer {
	d := &drawer{t: t}
	for _, line := range []struct {
		percent int
		list    []string
	}{
		{50, []string{"begin standing", "begin chainless", "begin chain counts", "begin chain uncounted"}},
		{40, []string{"worked spiral", "worked turned"}},
		{60, []string{"ring", "ring ch 6", "ring ch 9"}},
	} {
		if d.chance(line.percent) {
			d.header = append(d.header, pick(d, line.list...))
		}
	}
	colours := d.chance(50)
	if colours {
		d.header = append([]string{"yarn sand", "yarn reed \"marsh green\""}, d.header...)
	}
	for range d.number("rounds", 1, 5) {
		for range 6 { // until one comes out
			r := d.round()
			if colours && d.chance(50) {
				r.head += " with " + pick(d, "sand", "reed")
			}
			if d.chance(10) {
				r.head += pick(d, ", standing", ", chainless", ", chain counts", ", chain uncounted")
			}
			if colours && d.chance(15) {
				r.body += ", with " + pick(d, "sand", "reed")
			}
			r.end = pick(d, "", "", "", "", ", join", ", join invisible", ", join, fasten off", ", turn")
			d.rounds = append(d.rounds, r)
			if _, _, findings := built(d.t, d.text(false)); len(findings) == 0 {
				break
			}
			d.rounds = d.rounds[:len(d.rounds)-1]
		}
	}
	if len(d.rounds) == 0 {
		d.rounds = append(d.rounds, round{body: "6 sc in ring", times: 1})
	}
	return d
}

// round draws a round that should fit the edge there is.
func (d *drawer) round() round {
	if len(d.rounds) == 0 {
		if slices.ContainsFunc(d.header, func(h string) bool { return strings.HasPrefix(h, "ring ch") }) && d.chance(40) {
			return round{body: pick(d, "sc in next ch, ch 3", "2 sc in next ch", "(sc, ch 2, sc) in next ch, sk 2 ch", "sk 1 ch, dc in next ch, ch 2, sk 1 ch"), times: pick(d, 2, 3, 6, 9)}
		}
		return round{body: d.inRing(), times: d.number("times", 1, 8)}
	}
	_, g, _ := built(d.t, d.text(false))
	c := g.Counts(g.NumRounds() - 1)
	for range 10 {
		switch pick(d, "st", "st", "sp", "gap", "all", "corner", "ch", "earlier", "spikes") {
		case "st":
			if c.Total > 0 {
				use := d.divisor(c.Total)
				return round{body: d.steps(use), times: c.Total / use}
			}
		case "sp":
			if c.Spaces > 0 {
				use := d.divisor(c.Spaces)
				return round{body: d.spaces(use, "sp"), times: c.Spaces / use}
			}
		case "gap":
			if c.Gaps > 0 {
				use := d.divisor(c.Gaps)
				return round{body: d.spaces(use, "gap"), times: c.Gaps / use}
			}
		case "all":
			return round{body: pick(d, "2 dc in each st", "sc in each st and ch", "sc in back loop of each st", "FPdc in each st", "3 dc in each sp", "sc in each st", "sl st in each st"), times: 1}
		case "corner":
			if c.Corners > 0 {
				return round{body: pick(d, "(2 dc, corner ch 2, 2 dc) in corner, dc in each st", "dc in each st, (sc, corner sc, sc) in corner", "(3 dc, corner ch 1, 3 dc) in corner"), times: c.Corners}
			}
		case "ch":
			if c.Spaces > 0 && c.Chains%c.Spaces == 0 {
				n := c.Chains / c.Spaces
				at := d.number("chain", 1, n)
				body := fmt.Sprintf("%s in next ch, ch %d", pick(d, "sc", "2 dc"), d.number("chains", 1, 5))
				if at > 1 {
					body = fmt.Sprintf("sk %d ch, %s", at-1, body)
				}
				if at < n {
					body += fmt.Sprintf(", sk %d ch", n-at)
				}
				return round{body: body, times: c.Spaces}
			}
		case "earlier":
			if n := g.NumRounds(); n > 1 {
				k := d.number("earlier", 1, n-1)
				if total := g.Counts(k - 1).Total; total > 0 {
					return round{body: fmt.Sprintf("%s in next st of rnd %d, ch %d", pick(d, "sc", "dc"), k, d.number("chains", 1, 6)), times: total}
				}
			}
		case "spikes": // down into an earlier round, between stitches of the last
			if n := g.NumRounds(); n > 1 && c.Total > 1 && !strings.Contains(d.rounds[n-1].body, "of rnd") {
				use, before, after := d.divisor(c.Total), 0, ""
				if before = use; use > 2 && d.chance(60) {
					before, after = use-2, fmt.Sprintf(", sk 1 st, %s in next st", pick(d, "sc", "dc"))
				}
				steps := d.steps(before)
				if strings.HasPrefix(steps, "ch ") {
					continue // the round would have no beginning but in the earlier one
				}
				return round{body: fmt.Sprintf("%s, %s in next %s of rnd %d%s", steps, pick(d, "sc", "2 dc"), pick(d, "st", "st", "sp"), n-1, after), times: c.Total / use}
			}
		}
	}
	return round{body: "sc in each st", times: 1}
}

// inRing draws what is worked into a ring.
func (d *drawer) inRing() string {
	return pick(d,
		"3 dc in ring, corner ch 2", "dc in ring, ch 3", "2 sc in ring", "(2 dc, corner dc) in ring", "dc in ring, picot 3, ch 1",
		"ch 4, sc in ring", "3 dc in ring, ch 2, picot 3, ch 2", "(dc, hdc) in ring", "3 puff in ring, picot 3, picot 4", "dc2tog in ring, ch 2")
}

func (d *drawer) divisor(n int) int {
	var list []int
	for k := 1; k <= n && k <= 12; k++ {
		if n%k == 0 {
			list = append(list, k)
		}
	}
	return rapid.SampledFrom(list).Draw(d.t, "divisor")
}

var stitches = []string{"sc", "hdc", "dc", "tr", "FPdc", "BPtr", "esc", "popcorn", "dc3tog", "sl st", "rev sc"}

// steps draws steps that use so many stitches.
func (d *drawer) steps(use int) string {
	var list []string
	for left := use; left > 0; {
		n := d.number("places", 1, min(left, 4))
		st := pick(d, stitches...)
		switch k := d.number("step", 1, 12); {
		case k <= 4:
			list = append(list, fmt.Sprintf("%s in next %d st", pick(d, "sc", "dc", "hdc", "FPdc"), n))
		case k == 5:
			list = append(list, fmt.Sprintf("%d %s in each of next %d st", d.number("count", 2, 4), pick(d, "sc", "dc", "puff"), n))
		case k == 6 && len(list) > 0:
			list = append(list, fmt.Sprintf("ch %d, sk %d st", d.number("chains", 1, 9), n))
		case k == 7:
			n = 1
			list = append(list, pick(d, "(dc, ch 1, dc) in next st", "(sc, corner sc, sc) in next st", "(2 dc, corner ch 2, 2 dc) in next st",
				"(sc, [ch 3, sc] 3 times) in next st", "(2 sc, picot 3, 2 sc) in next st", "(dc, ch 2, picot 4, ch 1, dc) in back loop of next st"))
		case k == 8 && left >= 2:
			n = 2
			list = append(list, pick(d, "dc2tog over next 2 st", "cl over next 2 st", "sc2tog"))
		case k == 9 && len(list) > 0:
			list = append(list, pick(d, "sc2tog over same and next st", "sk 1 st, dc2tog over same and next st"))
			n = 1
			if strings.HasPrefix(list[len(list)-1], "sk") {
				n = 2
			}
			if left < n {
				list = list[:len(list)-1]
				continue
			}
		case k == 10:
			n = 1
			list = append(list, pick(d, "sc in front loop of next st, dc in back loop of same", st+" in next st, picot 3", "corner sc in next st", "dc in next st, ch 2, picot 3, ch 2"))
		case k == 11:
			n = 1
			list = append(list, "with "+pick(d, "sand", "reed")+", sc in next st")
		default:
			n = 1
			list = append(list, st+" in next st")
		}
		left -= n
	}
	if d.chance(30) {
		list = append(list, fmt.Sprintf("ch %d", d.number("chains", 1, 5)))
	}
	if d.chance(8) {
		list = append([]string{"ch 3, sk 1 st"}, list[1:]...)
	}
	return strings.Join(list, ", ")
}

// spaces draws steps that use so many spaces or gaps.
func (d *drawer) spaces(use int, what string) string {
	var list []string
	for left := use; left > 0; left-- {
		if len(list) > 0 && d.chance(15) {
			list = append(list, "ch 4, sk 1 "+what)
			continue
		}
		list = append(list, fmt.Sprintf(pick(d, "3 dc in next %s", "sc in next %s, ch 5", "(3 dc, corner ch 2, 3 dc) in next %s", "(sc, 3 dc, sc) in next %s", "dc3tog in next %s, ch 2, picot 3, ch 1", "2 hdc in next %s, ch 1"), what))
	}
	return strings.Join(list, ", ")
}

// TestReadBackDrawn: what holds for the drafts that come with the project holds
// for any.
func TestReadBackDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawDraft(t).text(false)
		d, g, _ := built(t, text)
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			if err := read(t, d, g, terms); err != nil {
				t.Fatalf("%s terms: %v\nin:\n%s", terms, err, text)
			}
		}
	})
}

// TestWrittenOut: a draft with its repeats written out reads like one without.
func TestWrittenOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drawn := drawDraft(t)
		a, out := drawn.text(false), drawn.text(true)
		d, g, _ := built(t, a)
		e, h, findings := built(t, out)
		if len(findings) > 0 {
			t.Skip("the repeat stands for more than its steps")
		}
		if sameGraph(g, h) && markdown(t, written(t, d, g, notation.US)) != markdown(t, written(t, e, h, notation.US)) {
			t.Fatalf("not alike:\n%s\n%s", a, out)
		}
	})
}

func sameGraph(g, h *model.Graph) bool {
	var a, b bytes.Buffer
	return g.WriteJSON(&a) == nil && h.WriteJSON(&b) == nil && a.String() == b.String()
}

func markdown(t rapid.TB, p *pattern.Pattern) string {
	var b bytes.Buffer
	if err := p.WriteMarkdown(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestReadBackBorders: the same holds for borders on whatever edge.
func TestReadBackBorders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &drawer{t: t}
		var b strings.Builder
		if d.chance(50) {
			b.WriteString(pick(d, "begin standing", "begin chainless", "begin chain counts", "begin chain uncounted", "worked turned", "worked spiral") + "\n")
		}
		b.WriteString("yarn sand\nyarn reed\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\n")
		fmt.Fprintf(&b, "rnd 2: %s\n", pick(d, "[dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times", "[(3 dc, corner ch 2, 3 dc) in corner] 4 times",
			"[sc in each st, (sc, corner sc, sc) in corner] 4 times", "[sc in next st, ch 1, sk 1 st, sc in next st, (sc, corner ch 1, sc) in corner] 4 times"))
		kind := pick(d, "1 by 1", "2 by 3", "tube 2 by 3", "cushion 1 by 2", "bag 2 by 2", "wrap joined whip, neck 4 st", "wrap on point")
		fmt.Fprintf(&b, "panel %s\n", kind)
		edges := []string{"panel"}
		if strings.HasPrefix(kind, "wrap") {
			edges = append(edges, "neck")
		}
		for _, edge := range edges {
			fmt.Fprintf(&b, "edge of %s\n", edge)
			for i := range d.number("rounds", 1, 3) {
				fmt.Fprintf(&b, "rnd %d with %s: %s\n", i+1, pick(d, "sand", "reed"), pick(d,
					"sc in each st and ch", "[sc in each st and ch, (sc, corner ch 1, sc) in corner] around", "[sc in each st and ch, corner sc in corner] around",
					"dc in each st", "2 dc in each sp", "[sc in next st, ch 3] around", "[3 dc in next gap] around", "[ch 3, sc in next st] around"))
			}
		}
		draft, g, findings := built(t, b.String())
		if len(findings) > 0 {
			t.Skip("it does not come out")
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			if err := read(t, draft, g, terms); err != nil {
				t.Fatalf("%s terms: %v\nin:\n%s", terms, err, b.String())
			}
		}
	})
}

// TestReadBackPieces: and for the pieces that notations are tested with.
func TestReadBackPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := notationtest.Pieces().Draw(t, "piece").Draft()
		g, findings, err := model.Build(context.Background(), d)
		if err != nil || len(findings) > 0 {
			t.Fatal(err, findings)
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			if err := read(t, d, g, terms); err != nil {
				t.Fatalf("%s terms: %v\nin:\n%s", terms, err, notation.Format(d))
			}
		}
	})
}
