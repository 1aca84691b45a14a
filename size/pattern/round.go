package pattern

import (
	"fmt"
	"maps"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A reader goes along the stitches of one round and finds out what is worked
// where.
type reader struct {
	*piece
	index int
	round model.Round
	base  *edge         // of the round below
	edges map[int]*edge // by index of the round; those worked into
	// firsts are the numbers of the first stitches that go into them, counted from
	// the stitch counted.
	firsts  map[*edge]int
	counted int
	// start is the stitch the written round begins with. A round goes round:
	// where it begins is free.
	start int
	// seam is where the round begins and ends, when that is not with the
	// stitch it begins with.
	seam *seam

	onePlace  bool // all of it goes into one place of the edge below
	growing   bool // it is one of many that grow alike, and written without figures
	colourful bool // it is worked in several yarns
	gaps      bool // gaps are there, so that it matters what stands together over a ring
	groups    bool // a gap ends the round as well: what stands between gaps is one group
}

func (p *piece) reader(index int) *reader {
	r := &reader{piece: p, index: index, round: p.g.Round(index), edges: map[int]*edge{}}
	r.start = r.round.First
	r.base = r.edge(r.round.Below)
	r.growing = p.growing(index)
	yarn := -1
	for n := range p.g.Nodes(index) {
		if yarn >= 0 && n.Yarn != yarn {
			r.colourful = true
		}
		yarn = n.Yarn
		r.gaps = r.gaps || n.Gap
		p.notes.corners = p.notes.corners || n.Corner
		p.notes.gaps = p.notes.gaps || n.Place == notation.Gap
	}
	p.notes.carries = p.notes.carries || r.colourful
	r.groups = r.gaps && r.node(-1).Gap
	place := -1
	r.onePlace = true
	for k := 0; k < r.round.Len; {
		u := r.unit(k)
		for _, p := range u.places {
			e := r.under(p)
			if e == r.base {
				at := e.position(p)
				r.onePlace = r.onePlace && (place < 0 || at == place)
				place = at
			}
			r.notes.earlier = r.notes.earlier || e != nil && e != r.base
			if e != nil && (p.Kind == notation.St || p.Kind == notation.Ch && !u.alone) {
				e.stitchwise = true
			}
		}
		k = max(u.to, k+1)
	}
	return r
}

// aside says on which side of the rounds between a round goes into an earlier one,
// where the loops tell: those took one loop of its stitches, this the other. Of
// stitches that were left out between others, as between petals, a draft does not
// say whether they are reached from behind.
func (r *reader) aside() []string {
	for _, i := range slices.Sorted(maps.Keys(r.edges)) {
		if i == r.base.index || i < 0 || i+1 >= r.index || r.g.Round(i+1).Below != i || r.g.Round(i+1).Turned != r.round.Turned {
			continue
		}
		between := fmt.Sprintf("Rnd %d", r.g.Round(i+1).Number)
		if i+2 < r.index {
			between = fmt.Sprintf("Rnds %d-%d", r.g.Round(i+1).Number, r.g.Round(r.index-1).Number)
		}
		switch [2]notation.Loop{r.loopOf(r.index, i), r.loopOf(i+1, i)} {
		case [2]notation.Loop{notation.BackLoop, notation.FrontLoop}:
			return []string{"Work behind " + between + "."}
		case [2]notation.Loop{notation.FrontLoop, notation.BackLoop}:
			return []string{"Work in front of " + between + "."}
		}
	}
	return nil
}

// loopOf is the loop that a round takes of all the stitches of another that it goes
// into; BothLoops where they differ.
func (p *piece) loopOf(round, of int) notation.Loop {
	loop, known := notation.BothLoops, false
	for n := range p.g.Nodes(round) {
		for at := range p.g.Into(n.ID) {
			switch {
			case at.Stitch < 0 || p.roundOf(at.Stitch) != of:
			case known && at.Loop != loop:
				return notation.BothLoops
			default:
				loop, known = at.Loop, true
			}
		}
	}
	return loop
}

// onRing reports whether the round is the first, worked into a ring.
func (r *reader) onRing() bool { return r.base.index < 0 && (r.base.ring || r.base.n == 0) }

// goesOn reports whether the round goes on from the one below without a join.
func (r *reader) goesOn() bool {
	return r.index > 0 && r.base.n > 0 && !r.joined(r.index-1) && !size.CutsYarn(r.g, r.index-1)
}

// A seam is where a round begins and ends on the edge below.
type seam struct {
	from, to spot
	in       *model.Place // the place that the hook is in; nil when it is in none
}

// seamAtHook is the seam of a round that begins with chains: they hang from
// where the hook is, which is the join, or where new yarn was joined.
func (r *reader) seamAtHook(fresh bool) *seam {
	switch {
	case r.base.n == 0:
		return nil
	case r.base.ring:
		in := model.Place{Kind: notation.Ch, Stitch: r.base.first, Chain: 1}
		return &seam{from: spot{Place: in}, to: spot{Place: r.base.place(0)}, in: &in}
	case fresh:
		in := r.base.place(r.firstPlace())
		return &seam{from: r.base.spot(in, false), to: r.base.spot(in, false), in: &in}
	}
	s := &seam{from: spot{Place: r.base.place(0)}}
	if top := r.begins[r.base.index].First; r.g.Node(top).IsStitch() {
		s.in = &model.Place{Kind: notation.St, Stitch: top}
		s.from.Place = *s.in
	}
	s.from.position = (r.hook() + 2*r.base.n) % (2 * r.base.n)
	s.to = s.from
	return s
}

// spiralSeam is the seam of a round that goes on without a join: before the
// first place of the round below as it is written, and after its last where the
// work was turned.
func (r *reader) spiralSeam() *seam {
	if r.base.n == 0 || r.base.index < 0 {
		return nil // the round below came to nothing
	}
	at := r.begins[r.base.index].First - r.base.first
	if r.base.reversed {
		at = (at - 1 + r.base.n) % r.base.n
	}
	s := &seam{from: spot{Place: r.base.place(0)}, to: spot{Place: r.base.place(0)}}
	s.to.position = r.base.turned(2 * at)
	s.from.position, s.from.turn = (s.to.position-1+2*r.base.n)%(2*r.base.n), true
	return s
}

// setSeam makes the round begin and end at a seam, if it can.
func (r *reader) setSeam(s *seam) {
	if r.staysWithin(s) {
		r.seam = s
	}
}

// staysWithin reports whether the round, which begins at a seam, ends before it
// comes there again.
func (r *reader) staysWithin(s *seam) bool {
	last, ok := r.spots(0)[r.base]
	if s == nil || !ok {
		return false
	}
	ahead := func(position int) int { return (position - s.to.position + 2*r.base.n) % (2 * r.base.n) }
	for k := 0; k < r.round.Len; {
		u := r.unit(k)
		for _, p := range u.places {
			if r.under(p) == r.base {
				return ahead(r.base.position(p)) <= ahead(last.position)
			}
		}
		k = max(u.to, k+1)
	}
	return false
}

// firstPlace is the number of the first stitch or space of the edge below.
func (r *reader) firstPlace() int {
	for k := range r.base.n {
		if r.kinds[r.base.at(2*k).Kind].Name != "picot" {
			return k
		}
	}
	return 0
}

// node returns the k-th stitch of the round as it is written, from 0, going
// round.
func (r *reader) node(k int) model.Node {
	return r.g.Node(r.round.First + (r.start-r.round.First+k+r.round.Len)%r.round.Len)
}
