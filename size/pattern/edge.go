package pattern

import (
	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// An edge is the finished edge of a round, or a foundation, that a round is
// worked into. Its places are counted in the direction of work, round and
// round: 2k is the k-th stitch or space, 2k+1 the gap after it.
type edge struct {
	g        *model.Graph
	index    int // of its round, -1 for the foundation
	first, n int
	reversed bool
	ring     bool // a ring of chains
	groups   bool // all gaps lie between groups
	// stitchwise is set when it is worked into stitch by stitch, so that
	// stitches passed over are worth a word.
	stitchwise bool
}

// edge returns the edge of a round as the round being read meets it.
func (r *reader) edge(index int) *edge {
	if e := r.edges[index]; e != nil {
		return e
	}
	e := &edge{g: r.g, index: index}
	if index >= 0 {
		b := r.g.Round(index)
		e.first, e.n, e.reversed = b.First, b.Len, b.Turned != r.round.Turned
	} else {
		e.n, e.reversed, e.ring = r.g.Round(0).First, r.round.Turned, r.g.Ring > 0
	}
	e.groups = e.gapsBetweenGroups()
	r.edges[index] = e
	return e
}

// under returns the edge that a place is on; nil for the centre of a ring, and
// for no place.
func (r *reader) under(p model.Place) *edge {
	if p.Kind == notation.RingHole || p.Kind == notation.NoPlace || p.Stitch < 0 {
		return nil
	}
	if p.Stitch >= r.base.first && p.Stitch < r.base.first+r.base.n {
		return r.base
	}
	return r.edge(r.roundOf(p.Stitch))
}

// position is that of a place in the direction of work.
func (e *edge) position(p model.Place) int {
	at := 2 * (p.Stitch - e.first)
	if p.Kind == notation.Gap {
		at++
	}
	return e.turned(at)
}

// turned changes a position counted in the order in which the edge was made
// into one in the direction of work, and back.
func (e *edge) turned(at int) int {
	if e.reversed {
		at = (4*e.n - 2 - at) % (2 * e.n)
	}
	return at
}

// at returns the stitch at a position, or the one a gap is found by.
func (e *edge) at(position int) model.Node {
	return e.g.Node(e.first + e.turned(position)/2)
}

// place is the k-th stitch or space in the direction of work, as a place.
func (e *edge) place(k int) model.Place {
	n := e.at(2 * k)
	if n.IsStitch() {
		return model.Place{Kind: notation.St, Stitch: n.ID}
	}
	return model.Place{Kind: notation.Sp, Stitch: n.ID}
}

// chain is which chain of its run a place is, in the direction of work.
func (e *edge) chain(p model.Place) int {
	if e.reversed {
		return e.g.Node(p.Stitch).Chains - p.Chain + 1
	}
	return p.Chain
}

// stitches counts the stitches of an edge.
func (e *edge) stitches() int {
	n := 0
	for k := range e.n {
		if e.at(2 * k).IsStitch() {
			n++
		}
	}
	return n
}

// gapsBetweenGroups reports whether all gaps of an edge lie between groups of
// stitches, each group in a place of its own.
func (e *edge) gapsBetweenGroups() bool {
	if e.n < 4 {
		return false
	}
	at := func(k int) model.Node { return e.g.Node(e.first + (k+e.n)%e.n) }
	any := false
	for k := range e.n {
		if at(k).Gap {
			any = true
			before, after := at(k-1), at(k+1)
			if !before.IsStitch() || before.Gap || !after.IsStitch() || after.Gap || !at(k+2).IsStitch() {
				return false
			}
		}
	}
	return any
}

// A spot is a place worked into last on an edge.
type spot struct {
	model.Place
	alone    bool
	position int
	turn     bool // where another is at the same position, one whole turn lies between
}

// spot is a place on an edge; alone says that of the chains of its run it is
// the only one worked into.
func (e *edge) spot(p model.Place, alone bool) spot {
	return spot{Place: p, alone: alone, position: e.position(p)}
}
