package model_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A reporter takes complaints; *testing.T and *rapid.T are reporters.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

// checkInvariants sees what must hold of every graph and every finding,
// whatever the draft.
func checkInvariants(t reporter, text string, g *model.Graph, findings []notation.Finding) {
	t.Helper()
	bad := func(format string, args ...any) {
		t.Helper()
		t.Errorf(format+"\nin:\n%s", append(args, text)...)
	}

	// Stitches: those of the rounds follow one another without a hole, after
	// the foundation.
	foundation := 0
	if g.Ring > 0 {
		foundation = 1
	}
	next := foundation
	for i, r := range g.Rounds() {
		if r.First != next {
			bad("round %d (index %d) begins at stitch %d, want %d", r.Number, i, r.First, next)
			return
		}
		next += r.Len
		if r.Below < -1 || r.Below >= i {
			bad("round with index %d stands on index %d", i, r.Below)
		}
		if r.Statement == nil || r.Number < r.Statement.From || r.Number > r.Statement.To {
			bad("round %d has statement %+v", r.Number, r.Statement)
		}
		if r.Status == model.NotWorked && r.Len > 0 {
			bad("round %d is not worked, but has %d stitches", r.Number, r.Len)
		}
	}
	if g.Len() != next {
		bad("%d stitches in the graph, %d in foundation and rounds", g.Len(), next)
		return
	}
	if foundation == 1 {
		if s := g.Stitch(0); s.Kind != "ch" || s.Chains != g.Ring || s.Round != -1 {
			bad("foundation: %+v, want ch %d", s, g.Ring)
		}
	}

	kinds := map[string]bool{}
	for _, k := range g.Kinds() {
		kinds[k.Name] = true
	}
	yarns := append(g.Yarns(), "")
	for i, r := range g.Rounds() {
		checkRound(bad, g, i, r, kinds, yarns)
	}

	// Findings lie in the text, and in its order.
	lineEnds := strings.Split(text, "\n")
	at := func(what string, s notation.Span) {
		if s.Start.Offset < 0 || s.End.Offset > len(text) || s.Start.Offset > s.End.Offset {
			bad("%s: %+v is outside the text", what, s)
			return
		}
		for _, p := range []notation.Pos{s.Start, s.End} {
			if p.Line < 1 || p.Line > len(lineEnds) || p.Column < 1 || p.Column > len([]rune(lineEnds[p.Line-1]))+1 {
				bad("%s: no place %s", what, p)
			}
		}
	}
	for i, f := range findings {
		at(f.Message, f.Span)
		for _, r := range f.Related {
			at(r.Message, r.Span)
		}
		if f.Message == "" || f.Rule == "" || f.Severity == 0 || f.Held < 0 {
			bad("a finding without words: %+v", f)
		}
		if i > 0 && findings[i-1].Span.Start.Offset > f.Span.Start.Offset {
			bad("findings out of order: %s after %s", f.Span, findings[i-1].Span)
		}
	}
}

func checkRound(bad func(string, ...any), g *model.Graph, i int, r model.Round, kinds map[string]bool, yarns []string) {
	want := model.Counts{Stitches: map[string]int{}}
	inSides, cornerStitches := 0, 0
	var edge []model.EdgePlace
	var nodes []model.Node
	id := r.First
	for s := range g.Stitches(i) {
		if s.ID != id || s.Round != i {
			bad("stitch %d of round index %d says %+v", id, i, s)
		}
		if s != g.Stitch(id) || g.Kind(id).Name != s.Kind || !kinds[s.Kind] || !slices.Contains(yarns, s.Yarn) {
			bad("stitch %d: %+v, by number %+v, kind %+v", id, s, g.Stitch(id), g.Kind(id))
		}
		id++
		places := slices.Collect(g.Into(s.ID))
		nodes = append(nodes, g.Node(s.ID))
		checkNode(bad, g, s, nodes[len(nodes)-1], places)
		switch s.Kind {
		case "ch":
			want.Spaces++
			want.Chains += s.Chains
			edge = append(edge, model.EdgePlace{Kind: notation.Sp, Stitch: s.ID, Corner: s.Corner})
			if len(places) != 0 || s.Chains < 1 {
				bad("chains %d: %+v into %+v", s.ID, s, places)
			}
		case "picot":
			want.Picots++
			if s.Corner || s.Chains < 1 || len(places) > 1 {
				bad("picot %d: %+v into %+v", s.ID, s, places)
			}
		default:
			want.Stitches[s.Kind]++
			want.Total++
			if s.Corner {
				cornerStitches++
			}
			edge = append(edge, model.EdgePlace{Kind: notation.St, Stitch: s.ID, Corner: s.Corner})
			if len(places) == 0 && r.Status != model.Assumed || len(places) > 0 && r.Status == model.Assumed {
				bad("stitch %d of a round %s stands in %d places", s.ID, r.Status, len(places))
			}
		}
		if s.Corner {
			want.Corners++
		}
		for _, p := range places {
			checkPlace(bad, g, i, s, p)
		}
	}
	if !slices.Equal(nodes, slices.Collect(g.Nodes(i))) {
		bad("round index %d: Nodes and Node differ", i)
	}
	if id != r.First+r.Len {
		bad("round index %d has %d stitches, want %d", i, id-r.First, r.Len)
	}

	// The edge: the stitches and spaces in order, gaps between stitches only.
	var without []model.EdgePlace
	var before model.EdgePlace
	for p := range g.Edge(i) {
		if p.Kind != notation.Gap {
			without, before = append(without, p), p
			continue
		}
		want.Gaps++
		if p.Corner || before.Kind != notation.St || before.Stitch != p.Stitch {
			bad("gap %+v after %+v", p, before)
		}
	}
	if !slices.Equal(edge, without) {
		bad("edge of round index %d: %v, stitches: %v", i, without, edge)
	}

	got := g.Counts(i)
	if !maps.Equal(got.Stitches, want.Stitches) || got.Total != want.Total || got.Spaces != want.Spaces || got.Chains != want.Chains ||
		got.Picots != want.Picots || got.Corners != want.Corners || got.Gaps != want.Gaps {
		bad("counts of round index %d: %+v, by counting: %+v", i, got, want)
	}
	sides := g.Sides(i)
	if len(sides) != got.Corners {
		bad("round index %d has %d corners and %d sides", i, got.Corners, len(sides))
	}
	if len(sides) > 0 {
		for _, s := range sides {
			inSides += s.Total
			if s.Corners != 0 {
				bad("a corner inside a side: %+v", s)
			}
		}
		if inSides+cornerStitches != got.Total {
			bad("round index %d: sides hold %d stitches, corners %d, the round %d", i, inSides, cornerStitches, got.Total)
		}
	}
}

// checkNode: the compact form says what the other forms say.
func checkNode(bad func(string, ...any), g *model.Graph, s model.Stitch, n model.Node, places []model.Place) {
	ok := n.ID == s.ID && g.Kinds()[n.Kind].Name == s.Kind && n.Corner == s.Corner && n.IsStitch() == (s.Kind != "ch" && s.Kind != "picot")
	if n.Yarn > 0 {
		ok = ok && g.Yarns()[n.Yarn-1] == s.Yarn
	} else {
		ok = ok && s.Yarn == ""
	}
	if !n.IsStitch() {
		ok = ok && n.Chains == s.Chains
	}
	switch len(places) {
	case 0:
		ok = ok && n.Place == notation.NoPlace
	case 1:
		p := places[0]
		ok = ok && n.Place == p.Kind && n.Chain == p.Chain && n.Loop == p.Loop && n.Below == p.Stitch
	default:
		ok = ok && n.Place == notation.NoPlace && n.Legs == len(places)
	}
	if !ok {
		bad("stitch %+v into %v is node %+v", s, places, n)
	}
}

// checkPlace: a stitch stands in an earlier round, in the foundation or in the
// ring; a picot on what was made just before it.
func checkPlace(bad func(string, ...any), g *model.Graph, round int, s model.Stitch, p model.Place) {
	if p.Kind == notation.RingHole {
		if p.Stitch != -1 || p.Chain != 0 {
			bad("stitch %d in the ring: %+v", s.ID, p)
		}
		return
	}
	if p.Stitch < 0 || p.Stitch >= s.ID {
		bad("stitch %d stands in %+v", s.ID, p)
		return
	}
	below := g.Stitch(p.Stitch)
	if s.Kind == "picot" {
		if below.Round != round {
			bad("picot %d sits on %+v", s.ID, below)
		}
	} else if below.Round >= round {
		bad("stitch %d of round index %d stands in %+v of its own round", s.ID, round, below)
	}
	ok := false
	switch p.Kind {
	case notation.St, notation.Gap:
		ok = below.Kind != "ch" && below.Kind != "picot" && p.Chain == 0
	case notation.Sp:
		ok = below.Kind == "ch" && p.Chain == 0
	case notation.Ch:
		ok = below.Kind == "ch" && p.Chain >= 1 && p.Chain <= below.Chains
	}
	if !ok {
		bad("stitch %d stands in %s (chain %d) of %+v", s.ID, p.Kind, p.Chain, below)
	}
}

// TestInvariantsCanFail: an oracle that never complains proves nothing.
func TestInvariantsCanFail(t *testing.T) {
	g, findings := build(t, miscountedMat)
	complaints := &complaints{}
	checkInvariants(complaints, miscountedMat, g, findings)
	if complaints.n != 0 {
		t.Errorf("%d complaints about a sound graph", complaints.n)
	}
	// The same findings in a shorter text lie outside it.
	checkInvariants(complaints, miscountedMat[:120], g, findings)
	if complaints.n == 0 {
		t.Error("no complaint about findings outside the text")
	}
}

type complaints struct{ n int }

func (c *complaints) Helper()               {}
func (c *complaints) Errorf(string, ...any) { c.n++ }
