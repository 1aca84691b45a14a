package notationtest

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// CheckGraph sees what must hold of every graph, whatever the draft: rounds
// follow one another without a hole, every stitch stands in a place that is
// there, what is counted is what there is to count, the ways to look at a
// stitch say the same of it, and a round that is said to look the same after a
// part of a turn does. Borders are looked at too.
func CheckGraph(t TB, g *model.Graph) {
	t.Helper()
	c := &graphChecker{t: t, g: g, kinds: map[string]bool{}, yarns: append(g.Yarns(), "")}
	for _, k := range g.Kinds() {
		c.kinds[k.Name] = true
	}
	next := g.Foundation()
	if next > g.Len() {
		t.Errorf("a foundation of %d stitches, and %d in all", next, g.Len())
		return
	}
	for id := range next {
		if s := g.Stitch(id); s.Round != -1 || len(slices.Collect(g.Into(id))) > 0 {
			t.Errorf("foundation: %+v", s)
		}
	}
	if g.Ring > 0 {
		if g.Len() == 0 {
			t.Errorf("a ring of %d chains, and no stitch", g.Ring)
			return
		}
		if s := g.Stitch(0); s.Kind != "ch" || s.Chains != g.Ring || s.Round != -1 {
			t.Errorf("foundation: %+v, want ch %d", s, g.Ring)
		}
	}
	sized := false
	for i, r := range g.Rounds() {
		if r.First != next {
			t.Errorf("round %d (index %d) begins at stitch %d, want %d", r.Number, i, r.First, next)
			return
		}
		next += r.Len
		if r.Below < -1 || r.Below >= i {
			t.Errorf("round with index %d stands on index %d", i, r.Below)
		}
		st := r.Statement
		numbered := st != nil && !st.Next && !sized
		if st == nil || numbered && r.Number < min(st.From, math.MaxInt32) || numbered && st.Until == nil && r.Number > max(st.To, st.From) {
			t.Errorf("round %d has statement %+v", r.Number, r.Statement)
		}
		// Below rounds up to a size, numbers are what they come to.
		sized = sized || st != nil && st.Until != nil && st.Until.What != notation.UntilRounds
		if r.Status == model.NotWorked && r.Len > 0 {
			t.Errorf("round %d is not worked, but has %d stitches", r.Number, r.Len)
		}
	}
	if g.Len() != next {
		t.Errorf("%d stitches in the graph, %d in foundation and rounds", g.Len(), next)
		return
	}
	for i, r := range g.Rounds() {
		c.round(i, r)
	}
	for _, b := range g.Borders() {
		CheckGraph(t, b.Graph)
	}
}

type graphChecker struct {
	t     TB
	g     *model.Graph
	kinds map[string]bool
	yarns []string
}

func (c *graphChecker) round(i int, r model.Round) {
	c.t.Helper()
	g := c.g
	want := model.Counts{Stitches: map[string]int{}}
	inSides, cornerStitches := 0, 0
	var edge []model.EdgePlace
	var nodes []model.Node
	id := r.First
	for s := range g.Stitches(i) {
		if s.ID != id || s.Round != i {
			c.t.Errorf("stitch %d of round index %d says %+v", id, i, s)
		}
		if s != g.Stitch(id) || g.Kind(id).Name != s.Kind || !c.kinds[s.Kind] || !slices.Contains(c.yarns, s.Yarn) {
			c.t.Errorf("stitch %d: %+v, by number %+v, kind %+v", id, s, g.Stitch(id), g.Kind(id))
		}
		id++
		places := slices.Collect(g.Into(s.ID))
		nodes = append(nodes, g.Node(s.ID))
		c.node(s, nodes[len(nodes)-1], places)
		switch s.Kind {
		case "ch":
			want.Spaces++
			want.Chains += s.Chains
			edge = append(edge, model.EdgePlace{Kind: notation.Sp, Stitch: s.ID, Corner: s.Corner})
			if len(places) != 0 || s.Chains < 1 {
				c.t.Errorf("chains %d: %+v into %+v", s.ID, s, places)
			}
		case "picot":
			want.Picots++
			if s.Corner || s.Chains < 1 || len(places) > 1 {
				c.t.Errorf("picot %d: %+v into %+v", s.ID, s, places)
			}
		default:
			want.Stitches[s.Kind]++
			want.Total++
			if s.Corner {
				cornerStitches++
			}
			edge = append(edge, model.EdgePlace{Kind: notation.St, Stitch: s.ID, Corner: s.Corner})
			if len(places) == 0 && r.Status != model.Assumed || len(places) > 0 && r.Status == model.Assumed {
				c.t.Errorf("stitch %d of a round %s stands in %d places", s.ID, r.Status, len(places))
			}
		}
		if s.Corner {
			want.Corners++
		}
		for _, p := range places {
			c.place(i, s, p)
		}
	}
	if !slices.Equal(nodes, slices.Collect(g.Nodes(i))) {
		c.t.Errorf("round index %d: Nodes and Node differ", i)
	}
	if id != r.First+r.Len {
		c.t.Errorf("round index %d has %d stitches, want %d", i, id-r.First, r.Len)
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
			c.t.Errorf("gap %+v after %+v", p, before)
		}
	}
	if !slices.Equal(edge, without) {
		c.t.Errorf("edge of round index %d: %v, stitches: %v", i, without, edge)
	}

	got := g.Counts(i)
	if fmt.Sprint(got) != fmt.Sprint(want) || !maps.Equal(got.Stitches, want.Stitches) {
		c.t.Errorf("counts of round index %d: %+v, by counting: %+v", i, got, want)
	}
	sides := g.Sides(i)
	if len(sides) != got.Corners {
		c.t.Errorf("round index %d has %d corners and %d sides", i, got.Corners, len(sides))
	}
	for _, s := range sides {
		inSides += s.Total
		if s.Corners != 0 {
			c.t.Errorf("a corner inside a side: %+v", s)
		}
	}
	if len(sides) > 0 && inSides+cornerStitches != got.Total {
		c.t.Errorf("round index %d: sides hold %d stitches, corners %d, the round %d", i, inSides, cornerStitches, got.Total)
	}
}

// entries: read in place, a stitch is what its compact form says; and the round
// repeats itself as it is said to.
func (c *graphChecker) entries(i int, r model.Round) {
	c.t.Helper()
	g := c.g
	id := r.First
	for k, e := range g.Entries(i) {
		n := g.Node(id)
		if k != id || e.Kind() != n.Kind || e.Yarn() != n.Yarn || e.Chains() != n.Chains || e.Corner() != n.Corner || e.Gap() != n.Gap ||
			e.Start() != n.Start || e.Place() != n.Place || e.Chain() != n.Chain || e.IsStitch() != n.IsStitch() || n.Place != notation.NoPlace && e.Below() != n.Below {
			c.t.Errorf("stitch %d is node %+v, and entry %d %+v", id, n, k, e)
		}
		id++
	}
	if id != r.First+r.Len {
		c.t.Errorf("round index %d has %d entries, want %d", i, id-r.First, r.Len)
	}
	switch n := r.Rotation(); {
	case n == 0 && r.Len > 0 || n > 0 && (r.Len == 0 || r.Len%n != 0):
		c.t.Errorf("round index %d with %d stitches is the same %d times round", i, r.Len, n)
	case n > 1:
		if at, ok := g.RoundRotates(i, n); !ok {
			c.t.Errorf("round index %d is the same %d times round, and differs at stitch %d", i, n, at)
		}
	}
}

// node: the compact form says what the other forms say.
func (c *graphChecker) node(s model.Stitch, n model.Node, places []model.Place) {
	c.t.Helper()
	g := c.g
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
		c.t.Errorf("stitch %+v into %v is node %+v", s, places, n)
	}
}

// place: a stitch stands in an earlier round, in the foundation or in the ring;
// a picot on what was made just before it.
func (c *graphChecker) place(round int, s model.Stitch, p model.Place) {
	c.t.Helper()
	if p.Kind == notation.RingHole {
		if p.Stitch != -1 || p.Chain != 0 {
			c.t.Errorf("stitch %d in the ring: %+v", s.ID, p)
		}
		return
	}
	if p.Stitch < 0 || p.Stitch >= s.ID {
		c.t.Errorf("stitch %d stands in %+v", s.ID, p)
		return
	}
	below := c.g.Stitch(p.Stitch)
	if s.Kind == "picot" {
		if below.Round != round {
			c.t.Errorf("picot %d sits on %+v", s.ID, below)
		}
	} else if below.Round >= round {
		c.t.Errorf("stitch %d of round index %d stands in %+v of its own round", s.ID, round, below)
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
		c.t.Errorf("stitch %d stands in %s (chain %d) of %+v", s.ID, p.Kind, p.Chain, below)
	}
}
