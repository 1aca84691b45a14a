package pattern

import (
	"fmt"
	"slices"
	"sort"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// where names the first of the places given, which new yarn is joined in.
func (r *reader) where(to []model.Place) string {
	if len(to) == 0 { // chains only: any place will do
		if r.base.n == 0 {
			return "ring"
		}
		return r.ordinal(r.base.place(r.firstPlace()))
	}
	p := to[0]
	e := r.under(p)
	if e == nil {
		return "ring"
	}
	if p.Kind == notation.Ch {
		run := model.Place{Kind: notation.Sp, Stitch: p.Stitch}
		return fmt.Sprintf("%s ch of %s", ordinal(e.chain(p)), r.where([]model.Place{run}))
	}
	if e == r.base && !e.ring {
		what := r.noun(p, false)
		if r.alike(e, what, p.Kind) {
			return "any " + what.one
		}
		before := e.at((e.position(p) - 2 + 2*e.n) % (2 * e.n))
		if p.Kind == notation.St && (before.Corner || !before.IsStitch()) && r.kinds[before.Kind].Name != "picot" {
			mark := model.Place{Kind: notation.St, Stitch: before.ID}
			if !before.IsStitch() {
				mark.Kind = notation.Sp
			}
			if what := r.noun(mark, false); r.alike(e, what, mark.Kind) {
				return "first st after any " + what.one
			}
		}
		if mark, from, far := r.nearestCorner(e, p); far > 0 {
			if what := r.noun(mark, false); r.alike(e, what, mark.Kind) {
				return from + " any " + what.one
			}
		}
	}
	return r.ordinal(p)
}

// nearestCorner finds the corner that a stitch or space is nearest to, in the
// direction of work, and says where it is from there: "3rd st after", 3 places
// far. That is 0 when there is no corner, and for a corner itself.
func (r *reader) nearestCorner(e *edge, p model.Place) (mark model.Place, from string, far int) {
	if p.Kind != notation.St && p.Kind != notation.Sp || r.g.Node(p.Stitch).Corner {
		return mark, "", 0
	}
	what, turn := r.noun(p, false), 2*e.n
	ahead, behind := 1, 1 // like places up to here, this one included
	for i := 2; i < turn; i += 2 {
		for _, way := range []struct {
			n    *int
			by   int
			word string
		}{{&behind, turn - i, "after"}, {&ahead, i, "before"}} {
			node := e.at((e.position(p) + way.by) % turn)
			if node.Corner {
				mark = model.Place{Kind: notation.St, Stitch: node.ID}
				if !node.IsStitch() {
					mark.Kind = notation.Sp
				}
				return mark, fmt.Sprintf("%s %s %s", ordinal(*way.n), what.one, way.word), *way.n
			}
			if r.is(p.Kind, what, node.ID) {
				*way.n++
			}
		}
	}
	return mark, "", 0
}

// alike reports whether there are several places of a noun on an edge, and it
// makes no difference which is taken.
func (r *reader) alike(e *edge, what noun, kind notation.PlaceKind) bool {
	n := 0
	for k := range e.n {
		if r.is(kind, what, e.first+k) {
			n++
		}
	}
	return n > 1 && r.repeats(e.index, n)
}

// repeats reports whether a round and all it stands on look the same after 1/n
// of a turn.
func (p *piece) repeats(round, n int) bool {
	if p.g.Round(0).Below < 0 && p.g.Round(0).First > 0 && p.g.Ring == 0 { // on an edge
		for i := -1; i <= round; i++ {
			if !p.turnsInto(i, n) {
				return false
			}
		}
		return true
	}
	rotation := p.g.Round(round).Rotation()
	return rotation > 0 && rotation%n == 0
}

// turnsInto reports whether one round looks the same after 1/n of a turn, if
// those below do; -1 is the foundation.
func (p *piece) turnsInto(round, n int) bool {
	span := func(i int) (first, length int) {
		if i < 0 {
			return 0, p.g.Round(0).First
		}
		return p.g.Round(i).First, p.g.Round(i).Len
	}
	first, length := span(round)
	if length%n != 0 {
		return false
	}
	// after is where a stitch of a round comes to lie.
	after := func(id int) (int, bool) {
		i := p.roundOf(id)
		first, length := span(i)
		by := length / n
		if (i >= 0 && p.g.Round(i).Turned) != (round >= 0 && p.g.Round(round).Turned) {
			by = length - by
		}
		return first + (id-first+by)%length, length%n == 0
	}
	for id := first; id < first+length; id++ {
		to, _ := after(id)
		x, y := p.g.Node(id), p.g.Node(to)
		if x.Kind != y.Kind || x.Yarn != y.Yarn || x.Chains != y.Chains || x.Corner != y.Corner || x.Gap != y.Gap || x.Loop != y.Loop || x.Legs != y.Legs || x.Sits != y.Sits {
			return false
		}
		if round < 0 {
			continue
		}
		places := slices.Collect(p.g.Into(to))
		i := 0
		for q := range p.g.Into(id) {
			if q.Stitch >= 0 {
				moved, ok := after(q.Stitch)
				if !ok {
					return false
				}
				q.Stitch = moved
			}
			if q != places[i] {
				return false
			}
			i++
		}
	}
	return true
}

// roundOf returns the index of the round that a stitch belongs to, -1 for the
// foundation.
func (p *piece) roundOf(id int) int {
	return sort.Search(p.g.NumRounds(), func(i int) bool { return p.g.Round(i).First > id }) - 1
}

// nearStart is how far on in a round a place is counted from its start, though
// a corner may be nearer: common practice, no source.
const nearStart = 9

// ordinal names a place by its number among its like, in the order in which
// its round is written, or from the nearest corner where the start is far.
func (r *reader) ordinal(p model.Place) string {
	e := r.under(p)
	if e.ring {
		return "first " + r.noun(p, true).one + r.ofEdge(e)
	}
	of := " of the edge"
	if e.index >= 0 {
		of = fmt.Sprintf(" of Rnd %d", r.g.Round(e.index).Number)
	} else {
		r.notes.edges = true
	}
	what := r.noun(p, false)
	n, _ := r.number(e, p, what)
	// Where the edge runs the other way now, its corners are not counted along
	// with the work.
	if n > nearStart && !e.reversed {
		if mark, from, far := r.nearestCorner(e, p); far > 0 && far < n {
			corner := r.noun(mark, false)
			which := "last"
			if k, all := r.number(e, mark, corner); k < all || all == 1 {
				which = ordinal(k)
			}
			return from + " " + which + " " + corner.one + of
		}
	}
	return ordinal(n) + " " + what.one + of
}

// number counts the places of a noun on an edge, in the order in which its
// round is written: those up to one of them, and all.
func (r *reader) number(e *edge, p model.Place, what noun) (n, all int) {
	begin := e.first
	if e.index >= 0 {
		begin = r.begins[e.index].First
	}
	for k := range e.n {
		id := e.first + (begin-e.first+k)%e.n
		if r.is(p.Kind, what, id) {
			all++
		}
		if id == p.Stitch {
			n = all
		}
	}
	return n, all
}

// is reports whether a stitch, space or gap goes by a noun.
func (r *reader) is(kind notation.PlaceKind, what noun, id int) bool {
	node := r.g.Node(id)
	switch kind {
	case notation.St:
		if !node.IsStitch() {
			return false
		}
	case notation.Gap:
		if !node.Gap {
			return false
		}
	case notation.Sp:
		if r.kinds[node.Kind].Name != "ch" {
			return false
		}
	}
	return r.noun(model.Place{Kind: kind, Stitch: id}, kind == notation.St && what.one == "st") == what
}
