package model_test

import (
	"bytes"
	"context"
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
	"example.com/roundel/notation/notationtest"
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

// compareCounts holds a graph against what a piece was drawn with.
func compareCounts(t *rapid.T, text string, g *model.Graph, p *notationtest.Piece) {
	t.Helper()
	counts, sides := p.Counts(), p.Sides()
	if g.NumRounds() != len(counts) {
		t.Fatalf("%d rounds, want %d\nin:\n%s", g.NumRounds(), len(counts), text)
	}
	for i := range counts {
		if diff := cmp.Diff(counts[i], g.Counts(i)); diff != "" {
			t.Fatalf("round %d (-want +got):\n%s\nin:\n%s", i+1, diff, text)
		}
		for k, got := range g.Sides(i) {
			got.Gaps = 0
			if diff := cmp.Diff(sides[i], got); diff != "" {
				t.Fatalf("side %d of round %d (-want +got):\n%s\nin:\n%s", k, i+1, diff, text)
			}
		}
	}
}

// draw draws a piece.
func draw(t *rapid.T) *notationtest.Piece { return notationtest.Pieces().Draw(t, "piece") }

// changed returns a piece with a change made to every round.
func changed(p *notationtest.Piece, change func(*notationtest.Round)) *notationtest.Piece {
	out := &notationtest.Piece{Header: p.Header}
	for _, r := range p.Rounds {
		copied := *r
		change(&copied)
		out.Rounds = append(out.Rounds, &copied)
	}
	return out
}

// unclaimed returns a piece without claims.
func unclaimed(p *notationtest.Piece) *notationtest.Piece {
	return changed(p, func(r *notationtest.Round) { r.Claim = nil })
}

// TestValidDrafts: a draft that closes by construction has no findings, and
// the counts are those it was drawn with.
func TestValidDrafts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		text := p.String()
		g := workClean(t, text)
		compareCounts(t, text, g, p)
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
		claimed := draw(t)
		p := unclaimed(claimed)
		text := p.String()
		want := toJSON(t, workClean(t, text))
		same := func(name, text string) {
			t.Helper()
			if diff := cmp.Diff(want, toJSON(t, workClean(t, text))); diff != "" {
				t.Fatalf("%s (-want +got):\n%s\nin:\n%s", name, diff, text)
			}
		}
		same("built again", text)
		same("with claims", claimed.String())
		same("around and times changed over", changed(p, func(r *notationtest.Round) {
			r.Around = r.Closes && !r.Around
		}).String())
		same("repeats split", changed(p, func(r *notationtest.Round) {
			if r.Times > 0 && r.Times%2 == 0 {
				r.Repeat, r.Times = slices.Repeat(r.Repeat, 2), r.Times/2
			}
		}).String())
		same("repeats in repeats", changed(p, func(r *notationtest.Round) {
			if r.Times > 0 && r.Times%2 == 0 {
				twice := &notation.Repeat{Steps: slices.Concat(r.Repeat...), Times: 2}
				r.Repeat, r.Times = [][]notation.Step{{twice}}, r.Times/2
			}
		}).String())
		same("first repeat written out", changed(p, func(r *notationtest.Round) {
			if r.Times > 1 {
				r.Lead, r.Times = slices.Concat(r.Lead, slices.Concat(r.Repeat...)), r.Times-1
			}
		}).String())
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

// stepsOf reads the steps of a round.
func stepsOf(t *rapid.T, text string) []notation.Step {
	t.Helper()
	draft, findings := notation.Parse("", "yarn sand\nyarn reed\nrnd 1: "+text+"\n")
	if len(findings) > 0 {
		t.Fatalf("%s: %s", text, findings[0].Text())
	}
	for r := range draft.Rounds() {
		return r.Steps
	}
	return nil
}

// TestRepeatsWrittenOut: a repeat is its steps written out so many times, also
// where the steps reach to places outside it, or the edge below is uneven.
func TestRepeatsWrittenOut(t *testing.T) {
	extras := []string{
		"sc in same", "(sc, ch 1, sc) in same", "sc2tog over same and next st", "sc in next st of rnd 1", "corner ch 1", "ch 2", "picot 4",
		"sc in next sp", "sk sp", "sc in next gap", "sk 1 gap", "sk 1 st", "sc in next ch", "sk 1 ch", "vst in same", "corner sc in next st", "2 sc in next sp of rnd 1",
		"sc in ring", "cl over next 2 st", "with reed", "sc in each of next 2 st",
	}
	rapid.Check(t, func(t *rapid.T) {
		p := unclaimed(draw(t))
		last := p.Rounds[len(p.Rounds)-1]
		if len(p.Rounds) < 2 || last.Times < 2 {
			return
		}
		if !strings.Contains(p.String(), "yarn reed") {
			p.Header = slices.Concat([]notation.Statement{
				&notation.Yarn{Name: notation.Name{Text: "sand"}}, &notation.Yarn{Name: notation.Name{Text: "reed"}}}, p.Header)
		}
		list := slices.Concat(last.Repeat...)
		opens, _ := list[0].(*notation.Work)
		for range rapid.IntRange(0, 2).Draw(t, "extras") {
			at := rapid.IntRange(0, len(list)).Draw(t, "at")
			list = slices.Insert(list, at, stepsOf(t, rapid.SampledFrom(extras).Draw(t, "extra"))...)
		}
		last.Around = false
		last.Lead = slices.Concat(last.Lead, rapid.SampledFrom([][]notation.Step{
			nil, nil, stepsOf(t, "sc in next st"), stepsOf(t, "sk 1 st"), stepsOf(t, "ch 3 as dc")}).Draw(t, "lead"))
		if opens == nil || list[0] != notation.Step(opens) || opens.Place == nil || opens.Place.How != notation.InNext {
			// A skip before the first place worked begins the round when it
			// stands in a repeat, and only there.
			last.Lead = stepsOf(t, "sc in next st")
		}
		last.Repeat = [][]notation.Step{list}
		rolled := p.String()
		last.Repeat, last.Times = [][]notation.Step{slices.Concat(slices.Repeat([][]notation.Step{list}, last.Times)...)}, 0
		out := p.String()
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
		p := draw(t)
		by := rapid.IntRange(0, 8).Draw(t, "by")
		text := changed(p, func(r *notationtest.Round) {
			if r.Turns {
				n := by % len(r.Repeat)
				r.Repeat = slices.Concat(r.Repeat[n:], r.Repeat[:n])
			}
		}).String()
		compareCounts(t, text, workClean(t, text), p)
	})
}

// claimAll claims everything that can be claimed of a round.
func claimAll(r *notationtest.Round) {
	rounds := r.Counts()
	kinds := map[string]int{}
	for _, c := range rounds {
		maps.Copy(kinds, c.Stitches)
	}
	r.Claim = &notation.Claim{}
	add := func(item notation.ClaimItem, of func(model.Counts) int) {
		for _, c := range rounds {
			item.Counts = append(item.Counts, of(c))
		}
		r.Claim.Items = append(r.Claim.Items, &item)
	}
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		add(notation.ClaimItem{What: notation.OfStitch, Stitch: notation.Name{US: kind}}, func(c model.Counts) int { return c.Stitches[kind] })
	}
	add(notation.ClaimItem{What: notation.Sp}, func(c model.Counts) int { return c.Spaces })
	add(notation.ClaimItem{What: notation.Ch}, func(c model.Counts) int { return c.Chains })
	add(notation.ClaimItem{What: notation.Corner}, func(c model.Counts) int { return c.Corners })
	add(notation.ClaimItem{What: notation.Picots}, func(c model.Counts) int { return c.Picots })
}

var numbers = regexp.MustCompile(`\b\d+\b`)

// breakOne changes one number of a draft that is no number of a round, and
// returns where the statement begins that it stands in.
func breakOne(t *rapid.T, text string) (broken string, from int) {
	var at [][]int
	for _, m := range numbers.FindAllStringIndex(text, -1) {
		if before := text[:m[0]]; !strings.HasSuffix(before, "rnd ") && !strings.HasSuffix(before, "-") {
			at = append(at, m)
		}
	}
	if len(at) == 0 {
		t.Skip("nothing to break")
	}
	m := rapid.SampledFrom(at).Draw(t, "number")
	was, _ := strconv.Atoi(text[m[0]:m[1]])
	now := rapid.SampledFrom([]int{1, 2, was + 1, was + 2, 2*was + 1, max(was-1, 1), max(was-2, 1)}).Draw(t, "now")
	draft, _ := notation.Parse("", text)
	for _, s := range draft.Statements {
		if at := s.Range().Start.Offset; at <= m[0] {
			from = at
		}
	}
	return text[:m[0]] + strconv.Itoa(now) + text[m[1]:], from
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
		text := changed(draw(t), claimAll).String()
		broken, from := breakOne(t, text)
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
				t.Fatalf("nothing found in:\n%swhich was:\n%s", broken, text)
			}
			return
		}
		rules := map[int]string{}
		for _, f := range findings {
			if f.Span.Start.Offset < from {
				t.Fatalf("the statement at %d is wrong, %s is blamed: %s\nin:\n%s", from, f.Span, f.Text(), broken)
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
		p := changed(draw(t), func(r *notationtest.Round) { r.Claim = nil })
		p.Header = slices.DeleteFunc(slices.Clone(p.Header), func(s notation.Statement) bool {
			_, group := s.(*notation.StitchDef)
			return group
		})
		plain := 0
		for _, r := range p.Rounds {
			counts := r.Counts()
			c := counts[0]
			if len(counts) > 1 || len(c.Stitches) != 1 || c.Spaces+c.Picots+c.Corners > 0 || usesGaps(r) {
				break
			}
			for us := range c.Stitches {
				r.Claim = &notation.Claim{Items: []*notation.ClaimItem{{Counts: []int{c.Total}, What: notation.OfStitch, Stitch: notation.Name{US: us}}}}
			}
			plain++
		}
		if p.Rounds = p.Rounds[:plain]; plain == 0 {
			return
		}
		broken, _ := breakOne(t, p.String())
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

// usesGaps reports whether a round works into gaps.
func usesGaps(r *notationtest.Round) bool {
	uses := false
	for _, s := range r.Steps() {
		notation.Walk(s, func(n notation.Node) bool {
			switch n := n.(type) {
			case *notation.Place:
				uses = uses || n.Kind == notation.Gap
			case *notation.Skip:
				uses = uses || n.What == notation.Gap
			}
			return true
		})
	}
	return uses
}
