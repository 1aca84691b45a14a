package pattern

import (
	"fmt"
	"slices"
	"strings"

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
	// start is the stitch the written round begins with. A round goes round:
	// where it begins is free.
	start int
	// seam is where the round begins and ends, when that is not with the
	// stitch it begins with.
	seam *seam

	onePlace  bool // all of it goes into one place of the edge below
	colourful bool // it is worked in several yarns
	gaps      bool // gaps are there, so that it matters what stands together over a ring
}

func (p *piece) reader(index int) *reader {
	r := &reader{piece: p, index: index, round: p.g.Round(index), edges: map[int]*edge{}}
	r.start = r.round.First
	r.base = r.edge(r.round.Below)
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
	if top := r.begins[r.base.index]; r.g.Node(top).IsStitch() {
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
	if r.base.n == 0 {
		return nil
	}
	at := r.begins[r.base.index] - r.base.first
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

// A unit is what is worked into one place without leaving it: the stitches
// from number "from" up to "to" of the written round, and the chains and
// picots between them. A stitch with legs in several places is a unit.
type unit struct {
	from, to int
	places   []model.Place
	post     bool
	alone    bool // of the chains of its run it is worked into one only
	yarn     int
}

// unit returns the unit that begins with the k-th stitch of the round; an empty
// one when that is no stitch.
func (r *reader) unit(k int) unit {
	n := r.node(k)
	u := unit{from: k, to: k, yarn: n.Yarn}
	if !n.IsStitch() {
		return u
	}
	u.to, u.post = k+1, r.kinds[n.Kind].Post != ""
	u.places = slices.Collect(r.g.Into(n.ID))
	if n.Legs > 1 || n.Place == notation.NoPlace {
		return u
	}
	gap := n.Gap
	for j := k + 1; j < r.round.Len; j++ {
		m := r.node(j)
		if m.Yarn != n.Yarn {
			break
		}
		if !m.IsStitch() {
			if n.Place == notation.RingHole && r.kinds[m.Kind].Name == "ch" {
				break
			}
			continue
		}
		same := m.Place == n.Place && m.Below == n.Below && m.Chain == n.Chain && m.Loop == n.Loop &&
			(r.kinds[m.Kind].Post != "") == u.post && !m.Start
		if n.Place == notation.RingHole && gap || !same {
			break
		}
		u.to, gap = j+1, m.Gap
	}
	if n.Place == notation.Ch && !r.under(u.places[0]).ring {
		u.alone = r.aloneOnRun(u)
	}
	return u
}

// aloneOnRun reports whether no stitch beside the unit is worked into another
// chain of the same run, which has several.
func (r *reader) aloneOnRun(u unit) bool {
	run := u.places[0].Stitch
	if r.g.Node(run).Chains < 2 {
		return false
	}
	beside := func(k, by int) bool {
		for ; ; k += by {
			k = (k + r.round.Len) % r.round.Len
			n := r.node(k)
			switch {
			case k >= u.from && k < u.to: // it has come round
				return false
			case !n.IsStitch():
			case n.Place != notation.Ch || n.Below != run || n.Legs > 1:
				return false
			case n.Chain != u.places[0].Chain:
				return true
			}
		}
	}
	return !beside(u.from-1, -1) && !beside(u.to, 1)
}

// A noun names places: "st" and "sts", "corner ch-2 sp" and "corner ch-2 sps".
type noun struct{ one, many string }

func nounOf(one string) noun {
	if at := strings.Index(one, " between "); at >= 0 {
		return noun{one, one[:at] + "s" + one[at:]}
	}
	if strings.HasSuffix(one, "ch") {
		return noun{one, one}
	}
	return noun{one, one + "s"}
}

// count is so many of it: "next st", "next 4 sts".
func (n noun) next(count int) string {
	if count == 1 {
		return "next " + n.one
	}
	return fmt.Sprintf("next %d %s", count, n.many)
}

// noun names the place that a stitch is worked into. plain is set where nothing
// happens that would make a corner worth naming.
func (r *reader) noun(p model.Place, plain bool) noun {
	corner := ""
	if p.Stitch >= 0 && r.g.Node(p.Stitch).Corner && p.Kind != notation.Gap && p.Kind != notation.Ch {
		corner = "corner "
	}
	switch p.Kind {
	case notation.Sp:
		return nounOf(fmt.Sprintf("%sch-%d sp", corner, r.g.Node(p.Stitch).Chains))
	case notation.Ch:
		return nounOf("ch")
	case notation.Gap:
		if e := r.under(p); e != nil && e.groups {
			return nounOf("sp between groups")
		}
		return nounOf("sp between sts")
	}
	if plain {
		corner = ""
	}
	return nounOf(corner + "st")
}

// kindWord is the last word of a noun: what "same" is said of.
func kindWord(p model.Place) string {
	switch p.Kind {
	case notation.Sp, notation.Gap:
		return "sp"
	case notation.Ch:
		return "ch"
	}
	return "st"
}

// ofEdge says on which edge a place is, where that is not the round below.
func (r *reader) ofEdge(e *edge) string {
	switch {
	case e == nil || e == r.base && !e.ring:
		return ""
	case e.ring:
		return " of ring"
	case e.index < 0:
		return " of the edge"
	}
	return fmt.Sprintf(" of Rnd %d", r.g.Round(e.index).Number)
}

// into is the word before a place.
func into(p model.Place, post bool) string {
	if post {
		return "around "
	}
	return "in " + loop(p)
}

// loop says which loop of a place is meant, where it is one.
func loop(p model.Place) string {
	switch p.Loop {
	case notation.BackLoop:
		return "BLO of "
	case notation.FrontLoop:
		return "FLO of "
	}
	return ""
}

// members words the stitches of a unit from number "from" on; many is set when
// they are several, so that they stand in each of several places.
func (r *reader) members(from, to int) (text string, many bool) {
	if to-from == 1 { // as most are
		return r.named(r.node(from)), false
	}
	list, many, together := r.inside(from, to)
	if together {
		return "(" + strings.Join(list, ", ") + ")", many
	}
	return list[0], many
}

// named is one stitch with what it makes.
func (r *reader) named(n model.Node) string {
	name := r.stitch(r.kinds[n.Kind].Name)
	if n.Corner {
		name = "corner " + name
	}
	return name
}

// inside words what stands in one place; together is set where it takes
// brackets to say that it does.
func (r *reader) inside(from, to int) (list []string, many, together bool) {
	var w wordings
	var steps []step
	r.entries(from, to, func(text string, n int) {
		many = many || n > 1 || len(steps) > 0
		steps = append(steps, w.step(text, n == 0))
	})
	return w.list(steps, 1), many, len(steps) > 1 || many && r.gaps && r.node(from).Place == notation.RingHole
}

// entries words stitches, chains and picots one after another: n of a stitch
// at a time, 0 for what is no stitch.
func (r *reader) entries(from, to int, each func(text string, n int)) {
	for k := from; k < to; {
		n := r.node(k)
		corner := ""
		if n.Corner {
			corner = "corner "
		}
		name := r.kinds[n.Kind].Name
		switch {
		case name == "picot":
			each(r.picot(n), 0)
			k++
		case !n.IsStitch():
			k = r.run(k, func(text string) { each(text, 0) })
		default:
			j := k + 1
			for ; j < to && !n.Corner; j++ {
				if m := r.node(j); m.Kind != n.Kind || m.Corner {
					break
				}
			}
			each(corner+r.stitches(j-k, name), j-k)
			k = j
		}
	}
}

// run words a run of chains with the picots on it, and returns the number of
// what comes after.
func (r *reader) run(k int, each func(text string)) int {
	run := r.node(k)
	corner := ""
	if run.Corner {
		corner = "corner "
	}
	made := 0
	chains := func(to int) {
		if to > made {
			each(fmt.Sprintf("%sch %d", corner, to-made))
			made = to
		}
	}
	for k++; k < r.round.Len; k++ {
		n := r.node(k)
		if r.kinds[n.Kind].Name != "picot" || n.Below != run.ID {
			break
		}
		chains(n.Sits)
		each(r.picot(n))
	}
	chains(run.Chains)
	return k
}
