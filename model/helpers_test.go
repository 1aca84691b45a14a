package model_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// read parses a draft that must be well-formed.
func read(t testing.TB, text string) *notation.Draft {
	t.Helper()
	draft, findings := notation.Parse("", text)
	for _, f := range findings {
		t.Fatalf("%s %s: %s\nin:\n%s", f.Span, f.Rule, f.Text(), text)
	}
	return draft
}

// build works a well-formed draft and returns whatever is found in it.
func build(t testing.TB, text string, options ...model.Option) (*model.Graph, []notation.Finding) {
	t.Helper()
	g, findings, err := model.Build(context.Background(), read(t, text), options...)
	if err != nil {
		t.Fatalf("Build: %v\nin:\n%s", err, text)
	}
	return g, findings
}

// clean works a draft that must come out without findings.
func clean(t testing.TB, text string, options ...model.Option) *model.Graph {
	t.Helper()
	g, findings := build(t, text, options...)
	for _, f := range findings {
		t.Errorf("unexpected: %s %s: %s", f.Span, f.Rule, f.Text())
	}
	if t.Failed() {
		t.Logf("draft:\n%s", text)
	}
	return g
}

// picture writes a graph in a flat form that can be worked out by hand, one
// line a round:
//
//	rnd 2 [3]: dc@0 | dc@1 dc@1 | ch2* dc2tog@2+sp3
//
// In brackets stands the number of the round's first stitch; the others follow
// on. After @ comes the place: a stitch by its number, or sp3 (the space),
// ch3.2 (its second chain), gap3 (the gap after the stitch), ring; legs in
// several places are joined by +. back and front say which loop. A star marks
// a corner, a bar a gap, ~3 a starting chain that counts as the stitch.
func picture(g *model.Graph) []string {
	var lines []string
	for i, r := range g.Rounds() {
		var b strings.Builder
		fmt.Fprintf(&b, "rnd %d", r.Number)
		if r.Turned {
			b.WriteString(" turned")
		}
		if r.Status != model.Worked {
			b.WriteString(" " + r.Status.String())
		}
		fmt.Fprintf(&b, " [%d]:", r.First)
		gaps := map[int]bool{}
		for p := range g.Edge(i) {
			if p.Kind == notation.Gap {
				gaps[p.Stitch] = true
			}
		}
		for s := range g.Stitches(i) {
			b.WriteString(" " + s.Kind)
			switch {
			case s.Kind == "ch" || s.Kind == "picot":
				fmt.Fprint(&b, s.Chains)
			case s.Chains > 0:
				fmt.Fprintf(&b, "~%d", s.Chains)
			}
			if s.Corner {
				b.WriteString("*")
			}
			sep := "@"
			for p := range g.Into(s.ID) {
				b.WriteString(sep + placeName(p))
				sep = "+"
			}
			if gaps[s.ID] {
				b.WriteString(" |")
			}
		}
		lines = append(lines, b.String())
	}
	return lines
}

func placeName(p model.Place) string {
	loop := map[notation.Loop]string{notation.BackLoop: "back", notation.FrontLoop: "front"}[p.Loop]
	switch p.Kind {
	case notation.RingHole:
		return loop + "ring"
	case notation.St:
		return fmt.Sprint(loop, p.Stitch)
	case notation.Ch:
		return fmt.Sprintf("%sch%d.%d", loop, p.Stitch, p.Chain)
	}
	return fmt.Sprintf("%s%s%d", loop, p.Kind, p.Stitch)
}

// tell writes a finding with everything a caller can see of it:
//
//	4:5-4:9 round 3 claim-count: message {2:1-2:6 related}
func tell(f notation.Finding) string {
	s := fmt.Sprintf("%s round %d %s: %s", f.Span, f.Round, f.Rule, f.Message)
	if f.Held > 0 {
		s += fmt.Sprintf(" +%d held", f.Held)
	}
	for _, r := range f.Related {
		s += fmt.Sprintf(" {%s %s}", r.Span, r.Message)
	}
	return s
}

func tellAll(findings []notation.Finding) []string {
	list := []string{}
	for _, f := range findings {
		list = append(list, tell(f))
	}
	return list
}

// rulesOf lists what was found, by round and rule, without the words.
func rulesOf(findings []notation.Finding) []string {
	list := []string{}
	for _, f := range findings {
		s := fmt.Sprintf("%d %s", f.Round, f.Rule)
		if f.Held > 0 {
			s += fmt.Sprintf(" +%d", f.Held)
		}
		list = append(list, s)
	}
	return list
}

func jsonOf(t testing.TB, g *model.Graph) string {
	t.Helper()
	var b bytes.Buffer
	if err := g.WriteJSON(&b); err != nil {
		t.Fatalf("WriteJSON: %v", err)
	}
	return b.String()
}

// inUK writes a draft out in UK terms and reads it again.
func inUK(t testing.TB, draft *notation.Draft) *notation.Draft {
	t.Helper()
	text := notation.Format(notation.Translate(draft, notation.UK))
	uk, findings := notation.Parse("", text)
	for _, f := range findings {
		t.Fatalf("UK version: %s: %s\nin:\n%s", f.Span, f.Text(), text)
	}
	return uk
}

// lines joins the lines of a draft.
func lines(l ...string) string { return strings.Join(l, "\n") + "\n" }
