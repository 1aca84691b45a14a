package model

import (
	"iter"
	"slices"
	"sort"

	"example.com/roundel/notation"
)

// A Graph is a worked draft: every stitch in working order, with the place it
// is worked into. It is built by Build and does not change afterwards, so that
// any number of goroutines may read it.
//
// Stitches are numbered from 0 in working order. A run of chains is one entry
// of kind ch, and so is a picot. The joined chain ring of a foundation is the
// first entry when there is one.
//
// Where a method takes a round, it is the index of the round in the graph, from
// 0, which is not the number it has in the draft (Round.Number). An index out of
// range panics, as with a slice.
type Graph struct {
	Title   string
	Outline notation.Outline
	Ring    int // chains of the foundation ring, 0 for an adjustable ring

	kinds  []Kind
	yarns  []string
	nodes  store
	legs   []leg
	starts map[int32]int32 // starting chains that count as a stitch: their length
	sits   map[int32]int32 // picots in the midst of a run of chains: the chains before them
	rounds []Round

	foundation int // stitches that belong to no round
	panel      *Panel
	borders    []Border
	reached    []Reached
}

// A Round is one worked round.
type Round struct {
	Number int
	Yarn   string // the yarn the round begins with; "" when none is declared
	Start  notation.Start
	// First and Len delimit the stitches of the round: First, First+1, ...
	First, Len int
	Status     Status
	// Turned says that the round is worked in the direction opposite to that
	// of round 1.
	Turned bool
	// Below is the index in the graph of the round it is worked into, or -1
	// for the foundation.
	Below int
	// Statement is the statement of the draft that the round comes from.
	Statement *notation.Round

	counts   counts
	rotation int
}

// Corners returns how many corners the round has.
func (r Round) Corners() int { return int(r.counts.corners) }

// Rotation is the largest n such that the round and all that it stands on look
// the same after 1/n of a turn, the places of stitches and yarn included: 1 for
// none, and 0 for a round without stitches, which looks the same whatever the
// turn. So what is true of the first Len/n stitches is true of the next Len/n.
func (r Round) Rotation() int { return r.rotation }

// A Status says how far a round could be worked.
type Status uint8

const (
	// Worked rounds follow from the steps as written.
	Worked Status = iota
	// Mended rounds do not work out as written; they are worked as far as
	// they go, and a finding says what is wrong.
	Mended
	// Assumed rounds could not be read, or stand on one of which nothing is
	// known; they hold what their claim says, in places of their own.
	Assumed
	// NotWorked rounds are empty: they, or a round below them, could not be
	// read at all.
	NotWorked
)

var statusNames = [...]string{"worked", "mended", "assumed", "not worked"}

func (s Status) String() string {
	if int(s) < len(statusNames) {
		return statusNames[s]
	}
	return "no status"
}

// A Stitch is one entry of the graph: a stitch, a run of chains or a picot.
type Stitch struct {
	ID     int
	Kind   string // American name
	Round  int    // index of its round in the graph; -1 for the foundation
	Yarn   string
	Chains int  // of a run of chains or a picot; of a starting chain that counts as the stitch
	Corner bool // the place it leaves is a corner
}

// A Place is where a stitch, or one leg of it, is worked.
type Place struct {
	Kind notation.PlaceKind // St, Sp, Ch, Gap or RingHole
	// Stitch is the stitch, run of chains, or the stitch before the gap; -1
	// for the ring.
	Stitch int
	Chain  int // which chain of the run, from 1, for Ch
	Loop   notation.Loop
}

// An EdgePlace is one place on the finished edge of a round.
type EdgePlace struct {
	Kind   notation.PlaceKind // St, Sp or Gap
	Stitch int                // for a gap, the stitch before it
	Corner bool
}

// Foundation returns how many stitches, the first ones, belong to no round: the
// ring of chains, or under the rounds of a border what it is worked on.
func (g *Graph) Foundation() int { return g.foundation }

// onEdge reports whether the rounds are those of a border.
func (g *Graph) onEdge() bool { return g.foundation > 0 && g.Ring == 0 }

// Len returns how many stitches, runs of chains and picots there are.
func (g *Graph) Len() int { return int(g.nodes.len) }

// Rounds iterates over the rounds with their index, in working order.
func (g *Graph) Rounds() iter.Seq2[int, Round] { return slices.All(g.rounds) }

// NumRounds returns the number of rounds.
func (g *Graph) NumRounds() int { return len(g.rounds) }

// Round returns the round with the given index, from 0.
func (g *Graph) Round(i int) Round { return g.rounds[i] }

// Steps returns the steps that a round is worked by: those of a round above where
// it is worked as that one is, none where there is no such round.
func (g *Graph) Steps(round int) []notation.Step {
	r := g.rounds[round].Statement
	for as := r.As; as > 0; as = r.As {
		if as >= g.rounds[round].Number {
			return nil
		}
		for round >= 0 && g.rounds[round].Number != as {
			round--
		}
		if round < 0 {
			return nil
		}
		r = g.rounds[round].Statement
	}
	return r.Steps
}

// Kinds returns the kinds of stitches in the graph; ch and picot come first.
func (g *Graph) Kinds() []Kind { return slices.Clone(g.kinds) }

// NumKinds returns how many kinds of stitches there are in the graph.
func (g *Graph) NumKinds() int { return len(g.kinds) }

// KindAt returns the kind with an index, from 0, in Kinds.
func (g *Graph) KindAt(i int) Kind { return g.kinds[i] }

// Kind returns the kind of a stitch.
func (g *Graph) Kind(id int) Kind { return g.kinds[g.nodes.at(int32(id)).kind] }

// Yarns returns the names of the declared yarns.
func (g *Graph) Yarns() []string { return slices.Clone(g.yarns[min(1, len(g.yarns)):]) }

// roundOf returns the index of the round a node belongs to.
func (g *Graph) roundOf(id int) int {
	return sort.Search(len(g.rounds), func(i int) bool { return g.rounds[i].First > id }) - 1
}

// Stitch returns one stitch. It panics when there is none with that number, as
// an index out of range does.
func (g *Graph) Stitch(id int) Stitch { return g.stitch(int32(id), g.roundOf(id)) }

func (g *Graph) stitch(id int32, round int) Stitch {
	n := g.nodes.at(id)
	s := Stitch{ID: int(id), Kind: g.kinds[n.kind].Name, Round: round, Yarn: g.yarns[n.yarn], Corner: n.flags&flagCorner != 0}
	switch {
	case !n.isStitch():
		s.Chains = int(n.n)
	case n.flags&flagStart != 0:
		s.Chains = int(g.starts[id])
	}
	return s
}

// Stitches iterates over the stitches of a round in working order.
func (g *Graph) Stitches(round int) iter.Seq[Stitch] {
	return func(yield func(Stitch) bool) {
		r := &g.rounds[round]
		for id := r.First; id < r.First+r.Len; id++ {
			if !yield(g.stitch(int32(id), round)) {
				return
			}
		}
	}
}

// Into iterates over the places a stitch is worked into, one for each leg that
// stands apart; a run of chains has none, a picot that of the stitch it sits
// on.
func (g *Graph) Into(id int) iter.Seq[Place] {
	return func(yield func(Place) bool) {
		n := g.nodes.at(int32(id))
		switch n.where {
		case nowhere:
		case onLegs:
			for _, l := range g.legsOf(n) {
				if !yield(l.place()) {
					return
				}
			}
		default:
			l := leg{below: n.below, n: n.n, where: n.where, flags: n.flags}
			yield(l.place())
		}
	}
}

// legsOf returns the feet of a stitch that stands in several places.
func (g *Graph) legsOf(n *node) []leg {
	return g.legs[n.n+1 : n.n+1+g.legs[n.n].n]
}

func (l leg) place() Place {
	p := Place{Stitch: int(l.below)}
	switch l.where {
	case inRing:
		p.Kind, p.Stitch = notation.RingHole, -1
	case inStitch:
		p.Kind = notation.St
	case inSpace:
		p.Kind = notation.Sp
	case inChain:
		p.Kind, p.Chain = notation.Ch, int(l.n)
	case inGap:
		p.Kind = notation.Gap
	}
	p.Loop = l.flags.loop()
	return p
}

// Edge iterates over the finished edge of a round: its stitches and chain
// spaces, and the gaps between them, in working order. A corner is one of the
// stitches or spaces.
func (g *Graph) Edge(round int) iter.Seq[EdgePlace] {
	return func(yield func(EdgePlace) bool) {
		r := &g.rounds[round]
		for id := r.First; id < r.First+r.Len; id++ {
			n := g.nodes.at(int32(id))
			p := EdgePlace{Kind: notation.St, Stitch: id, Corner: n.flags&flagCorner != 0}
			switch n.kind {
			case kindPicot:
				continue
			case kindCh:
				p.Kind = notation.Sp
			}
			if !yield(p) || n.flags&flagGap != 0 && !yield(EdgePlace{Kind: notation.Gap, Stitch: id}) {
				return
			}
		}
	}
}
