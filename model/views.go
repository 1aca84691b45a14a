package model

import (
	"iter"

	"example.com/roundel/notation"
)

// Two views of what is in the graph, for code that looks at every stitch of many:
// a Node is a copy of all there is, an Entry reads in place what is asked for.

// A Node is one entry of the graph in compact form, for code that looks at
// every one of many.
type Node struct {
	ID     int
	Kind   int // index in Kinds: 0 a run of chains, 1 a picot
	Yarn   int // index in Yarns plus 1; 0 when none is declared
	Chains int // of a run of chains or a picot
	// Sits is, of a picot on a run of chains, how many of them come before it.
	Sits   int
	Start  bool // a starting chain that counts as the stitch; see Stitch.Chains
	Corner bool
	Gap    bool // a gap follows: the next stitch stands in a place of its own
	// Place, Below and Chain are those of the place it is worked into, as in
	// Place; NoPlace for a run of chains, and for a stitch that stands in
	// several places, which Into lists.
	Place notation.PlaceKind
	Below int
	Chain int
	Loop  notation.Loop
	Legs  int // number of places it stands in
}

// IsStitch reports whether the node is a stitch, neither chains nor a picot.
func (n Node) IsStitch() bool { return n.Kind > kindPicot }

// StitchesAndChains counts the stitches and the single chains among the nodes with
// the ids from up to, not including, to: what a border can be worked into, one
// for one.
func (g *Graph) StitchesAndChains(from, to int) (n int) {
	for id := from; id < to; id++ {
		switch e := g.Node(id); {
		case e.IsStitch():
			n++
		case e.Kind == kindCh:
			n += e.Chains
		}
	}
	return n
}

// Nodes iterates over the stitches of a round in working order.
func (g *Graph) Nodes(round int) iter.Seq[Node] {
	return func(yield func(Node) bool) {
		r := &g.rounds[round]
		id, end := int32(r.First), int32(r.First+r.Len)
		for id < end {
			block := g.nodes.from(id, end-id)
			for i := range block {
				if !yield(g.compact(id, &block[i])) {
					return
				}
				id++
			}
		}
	}
}

// Node returns one entry in compact form.
func (g *Graph) Node(id int) Node { return g.compact(int32(id), g.nodes.at(int32(id))) }

func (g *Graph) compact(id int32, n *node) Node {
	out := Node{
		ID: int(id), Kind: int(n.kind), Yarn: int(n.yarn),
		Start: n.flags&flagStart != 0, Corner: n.flags&flagCorner != 0, Gap: n.flags&flagGap != 0,
		Place: placeKinds[n.where], Below: int(n.below), Legs: 1,
		Loop: n.flags.loop(),
	}
	switch {
	case n.kind <= kindPicot:
		out.Chains = int(n.n)
		if n.kind == kindPicot && n.where == inSpace {
			out.Sits = g.chainsBefore(id, n)
		}
	case n.where == inChain:
		out.Chain = int(n.n)
	case n.where == onLegs:
		out.Legs = len(g.legsOf(n))
	}
	return out
}

// chainsBefore returns how many chains of the run that a picot sits on come
// before it.
func (g *Graph) chainsBefore(id int32, picot *node) int {
	run := g.nodes.at(picot.below).n
	if picot.flags&flagSits != 0 {
		run = min(run, g.sits[id])
	}
	return int(run)
}

// An Entry is one entry of the graph, read in place: for code that looks at
// every one of very many, and only at some of what a Node says.
type Entry struct{ n *node }

// Entries iterates over the stitches of a round in working order, with their
// numbers.
func (g *Graph) Entries(round int) iter.Seq2[int, Entry] {
	return func(yield func(int, Entry) bool) {
		r := &g.rounds[round]
		id, end := int32(r.First), int32(r.First+r.Len)
		for id < end {
			block := g.nodes.from(id, end-id)
			for i := range block {
				if !yield(int(id)+i, Entry{&block[i]}) {
					return
				}
			}
			id += int32(len(block))
		}
	}
}

// Kind is the index in Kinds: 0 a run of chains, 1 a picot.
func (e Entry) Kind() int { return int(e.n.kind) }

// IsStitch reports whether the entry is a stitch, neither chains nor a picot.
func (e Entry) IsStitch() bool { return e.n.isStitch() }

// Corner reports whether the place it leaves is a corner.
func (e Entry) Corner() bool { return e.n.flags&flagCorner != 0 }

// Yarn is the index in Yarns plus 1; 0 when none is declared.
func (e Entry) Yarn() int { return int(e.n.yarn) }

// Start reports whether it is a starting chain that counts as the stitch; its
// length is the Chains of the Stitch.
func (e Entry) Start() bool { return e.n.flags&flagStart != 0 }

// Gap reports whether a gap follows.
func (e Entry) Gap() bool { return e.n.flags&flagGap != 0 }

// Chains is the length of a run of chains or a picot, 0 for a stitch.
func (e Entry) Chains() int {
	if e.n.isStitch() {
		return 0
	}
	return int(e.n.n)
}

// Place is the kind of place it is worked into: NoPlace for a run of chains,
// and for a stitch that stands in several places.
func (e Entry) Place() notation.PlaceKind { return placeKinds[e.n.where] }

// Below is the number of the stitch worked into, or before the gap.
func (e Entry) Below() int { return int(e.n.below) }

// Chain is which chain of a run it is worked into, from 1; 0 otherwise.
func (e Entry) Chain() int {
	if e.n.where == inChain {
		return int(e.n.n)
	}
	return 0
}

var placeKinds = [...]notation.PlaceKind{
	nowhere: notation.NoPlace, inRing: notation.RingHole, inStitch: notation.St,
	inSpace: notation.Sp, inChain: notation.Ch, inGap: notation.Gap, onLegs: notation.NoPlace,
}
