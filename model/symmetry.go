package model

import "slices"

// A Symmetry is what a whole piece has: every stitch with its yarn, and the
// place it is worked into, looks the same after turning the piece by a part of
// a turn, or in a mirror laid across the centre.
type Symmetry struct {
	// Rotation is the largest n such that the piece looks the same after
	// 1/n of a turn; 1 for none.
	Rotation int
	// Mirror reports whether some mirror leaves the piece as it is.
	Mirror bool
}

// Symmetry finds the symmetry of the piece; of a border it says nothing, for the
// edge under it is one of many motifs. Rounds that could not be worked
// are left out, together with all above them. The cost is linear in the number
// of stitches of 1/Rotation of the piece: the rest is like that.
func (g *Graph) Symmetry() Symmetry {
	if g.onEdge() {
		return Symmetry{Rotation: 1}
	}
	last := 0
	for last < len(g.rounds) && g.rounds[last].Status != NotWorked {
		last++
	}
	s := Symmetry{}
	for i := range last {
		s.Rotation = gcd(s.Rotation, g.rounds[i].rotation)
	}
	s.Rotation = max(1, s.Rotation)
	s.Mirror = g.mirror(last, s.Rotation)
	return s
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// findRotation works out the Rotation of a round, given those of all rounds
// that it may stand on. The orders that hold are the divisors of the largest,
// and that of a round that stands on another divides the order of that one. So
// all of what may be is tried first; then one prime factor after another, each
// within the part of a turn that the round is known to repeat. It stops early
// when ended says so.
func (g *Graph) findRotation(round int, ended func() bool) {
	r := &g.rounds[round]
	if r.Len == 0 || g.onEdge() || ended() {
		return
	}
	most := r.Len
	if r.Below >= 0 {
		most = gcd(most, g.rounds[r.Below].rotation)
	}
	if g.repeats(r, most, r.Len) {
		r.rotation = most
		return
	}
	r.rotation = 1
	for _, p := range primesOf(most) {
		for most/r.rotation%p == 0 && !ended() && g.repeats(r, r.rotation*p, r.Len/r.rotation) {
			r.rotation *= p
		}
	}
}

// repeats reports whether the first n stitches of a round, and what they stand
// on, look the same 1/order of a turn further on.
func (g *Graph) repeats(r *Round, order, n int) bool {
	_, ok := g.turns(r, &turning{g: g, order: order, whole: true}, n)
	return ok
}

// part is the number of stitches after which a round repeats itself.
func (r *Round) part() int { return r.Len / max(1, r.rotation) }

// primesOf returns the prime factors of n, each once.
func primesOf(n int) []int {
	var list []int
	for p := 2; n > 1; p++ {
		if p*p > n {
			p = n
		}
		if n%p == 0 {
			list = append(list, p)
		}
		for n%p == 0 {
			n /= p
		}
	}
	return list
}

// RoundRotates reports whether a round looks the same after 1/order of a turn,
// places included; if not, at is the first stitch that differs from the one
// 1/order of a turn further on, or -1 when the stitches cannot be divided by
// order at all. The places of a stitch are compared only where the round below
// can be divided.
func (g *Graph) RoundRotates(round, order int) (at int, ok bool) {
	r := &g.rounds[round]
	if order < 1 || r.Len%order != 0 {
		return -1, false
	}
	if r.rotation%order == 0 {
		return 0, true
	}
	return g.turns(r, &turning{g: g, order: order}, r.Len)
}

// turns compares each of the first n stitches of a round with the one that
// comes to lie in its place.
func (g *Graph) turns(r *Round, t *turning, n int) (at int, ok bool) {
	t.round, t.turned = -2, r.Turned
	first, shift := int32(r.First), int32(r.Len/t.order)
	for k := int32(0); k < int32(n); {
		other := k + shift
		if other >= int32(r.Len) {
			other -= int32(r.Len)
		}
		xs := g.nodes.from(first+k, int32(n)-k)
		ys := g.nodes.from(first+other, int32(r.Len)-other)
		ys = ys[:min(len(xs), len(ys))]
		for i := range ys {
			x, y := &xs[i], &ys[i]
			if !t.quick(x, y) && !(alike(x, y) && g.sameLegs(x, y, t)) {
				return int(first+k) + i, false
			}
		}
		k += int32(len(ys))
	}
	return 0, true
}

// alike compares two nodes without their places.
func alike(x, y *node) bool {
	const seen = flagCorner | flagGap | flagBack | flagFront
	return x.kind == y.kind && x.yarn == y.yarn && x.where == y.where && (x.flags^y.flags)&seen == 0 &&
		(x.isStitch() || x.n == y.n)
}

// A turning knows where a place comes to lie when the piece is turned.
type turning struct {
	g     *Graph
	order int
	// whole asks the rounds below to look the same after the turn, too; else
	// places are compared where the round below can be divided at all.
	whole  bool
	turned bool // direction in which the round above was worked
	round  int  // of the place looked up last
	// Its stitches, and how far they are shifted; none where it cannot be
	// divided.
	first, end, shift int32
}

// quick reports whether y is what x comes to be, as far as that is seen at a
// glance: equal but for the place, and that in the round looked up last.
func (t *turning) quick(x, y *node) bool {
	if x.kind != y.kind || x.n != y.n || x.yarn != y.yarn || x.where != y.where || x.flags != y.flags {
		return false
	}
	if x.where <= inRing {
		return true
	}
	a, b, turn := x.below-t.first, y.below-t.first, t.end-t.first
	return uint32(a) < uint32(turn) && uint32(b) < uint32(turn) && (b == a+t.shift || b == a+t.shift-turn)
}

// to returns the stitch that takes the place of another after the turn, and
// whether that can be said.
func (t *turning) to(id int32) (int32, bool) {
	if t.round < 0 || !t.g.rounds[t.round].holds(id) {
		t.first, t.end = 0, 0
		if t.round = t.g.roundOf(int(id)); t.round < 0 {
			return id, true // the ring turns into itself
		}
		r := &t.g.rounds[t.round]
		if !t.whole && r.Len%t.order == 0 || r.rotation%t.order == 0 {
			t.first, t.end, t.shift = int32(r.First), int32(r.First+r.Len), int32(r.Len/t.order)
			if r.Turned != t.turned { // its stitches run the other way
				t.shift = int32(r.Len) - t.shift
			}
		}
	}
	if t.end == t.first {
		return 0, false
	}
	to := id + t.shift
	if to >= t.end {
		to -= t.end - t.first
	}
	return to, true
}

func (r *Round) holds(id int32) bool { return int(id) >= r.First && int(id) < r.First+r.Len }

// sameLegs reports whether y stands where x comes to stand after the turn.
func (g *Graph) sameLegs(x, y *node, t *turning) bool {
	switch {
	case x.kind <= kindPicot || x.where == inRing || x.where == nowhere:
		return true
	case x.where != onLegs:
		return g.sameLeg(leg{x.below, x.n, x.where, x.flags}, leg{y.below, y.n, y.where, y.flags}, t)
	}
	return slices.EqualFunc(g.legsOf(x), g.legsOf(y), func(l, m leg) bool { return g.sameLeg(l, m, t) })
}

func (g *Graph) sameLeg(x, y leg, t *turning) bool {
	if x.where != y.where || (x.flags^y.flags)&(flagBack|flagFront) != 0 {
		return false
	}
	if x.where == inRing {
		return true
	}
	to, known := t.to(x.below)
	if !known {
		return !t.whole
	}
	if x.where == inChain {
		if t.round < 0 { // a chain of the ring
			chain := x.n + int32(g.Ring/t.order)
			if g.Ring%t.order != 0 {
				return false
			}
			if chain > int32(g.Ring) {
				chain -= int32(g.Ring)
			}
			return y.below == to && y.n == chain
		}
		return y.below == to && x.n == y.n
	}
	return y.below == to
}

// mirror looks for a mirror of the first rounds. A mirror takes the k-th stitch
// of a round to the (axis-k)-th; the axis of one round decides that of every
// round it stands on. A mirror after a part of a turn that changes nothing is
// another mirror, so of the last round the axes within one such part will do,
// and of every round it is enough to look at one part. Axes are few unless the
// piece is full of mirrors; should they all fail late, the search ends after a
// number of steps in proportion to the stitches.
func (g *Graph) mirror(rounds, order int) bool {
	m := &mirroring{
		g: g, rounds: rounds, order: order, own: make([][]int, rounds),
		axes: slices.Repeat([]int{unknownAxis}, rounds), ringAxis: unknownAxis,
		budget: 50 * (g.Len() + 1), under: -1,
	}
	return m.search(rounds - 1)
}

// A mirroring is the search for a mirror of a piece that looks the same after
// 1/order of a turn.
type mirroring struct {
	g             *Graph
	rounds, order int
	own           [][]int // by round: the axes it has by itself, once asked for
	budget        int     // steps left

	// The mirror that is tried: the axis of each round, and of the ring.
	axes     []int
	ringAxis int
	// trail lists the rounds whose axis is known; the first followed of them
	// stand on places that are mirrored, too.
	trail    []int
	followed int
	under    int // the round that a place was looked up in last, -1 for none
}

// unknownAxis stands for the axis of a round that nothing has decided yet.
const unknownAxis = -1

// search finds an axis for every round from the given one down.
func (m *mirroring) search(round int) bool {
	for round >= 0 && m.axes[round] != unknownAxis {
		round--
	}
	if round < 0 {
		return true
	}
	// Nothing above stands on this round, so it may have any of its axes.
	parts := m.order
	if round == m.rounds-1 {
		parts = 1
	}
	known, ring := len(m.trail), m.ringAxis
	for k := range parts {
		for _, axis := range m.axesOf(round) {
			if m.fix(round, axis+k*m.part(round)) && m.follow() && m.search(round-1) {
				return true
			}
			for _, q := range m.trail[known:] {
				m.axes[q] = unknownAxis
			}
			m.trail, m.followed, m.ringAxis = m.trail[:known], known, ring
			if m.budget--; m.budget < 0 {
				return false
			}
		}
	}
	return false
}

// part is the number of stitches of a round in 1/order of a turn.
func (m *mirroring) part(round int) int { return m.g.rounds[round].Len / m.order }

// axesOf lists, in rising order, the axes of a round by itself, places left
// aside, within 1/order of a turn.
func (m *mirroring) axesOf(round int) []int {
	if m.own[round] == nil {
		m.own[round] = axes(m.g.items(round, m.part(round)))
		m.budget -= m.part(round)
	}
	return m.own[round]
}

// fix settles the axis of a round, and reports whether it can have that one.
func (m *mirroring) fix(round, axis int) bool {
	if m.axes[round] != unknownAxis {
		return m.axes[round] == axis
	}
	if _, found := slices.BinarySearch(m.axesOf(round), mod(axis, max(1, m.part(round)))); !found {
		return false
	}
	m.axes[round] = axis
	m.trail = append(m.trail, round)
	return true
}

// follow looks at the places of all rounds whose axis is known, which decides
// the axes of the rounds they stand on.
func (m *mirroring) follow() bool {
	for ; m.followed < len(m.trail); m.followed++ {
		round := m.trail[m.followed]
		m.budget -= m.part(round)
		if m.budget < 0 || !m.placesMirror(round) {
			return false
		}
	}
	return true
}

// axes lists, in rising order, the axes that mirror a ring of items, two to a
// stitch. It looks for the ring read backwards in the ring read twice over, as
// Knuth, Morris and Pratt search a text.
func axes(items []uint64) []int {
	n := len(items)
	if n == 0 {
		return []int{0}
	}
	back := slices.Clone(items) // from the first item on, the other way round
	slices.Reverse(back[1:])
	fail := make([]int32, n+1)
	fail[0] = -1
	k := int32(-1)
	for i, item := range back {
		for k >= 0 && item != back[k] {
			k = fail[k]
		}
		k++
		fail[i+1] = k
	}
	axes := []int{}
	k = 0
	for turn := range 2 {
		for i, item := range items {
			for k >= 0 && (int(k) == n || item != back[k]) {
				k = fail[k]
			}
			if k++; int(k) < n {
				continue
			}
			if at := turn*n + i - n + 1; at%2 == 0 && at < n {
				axes = append(axes, at/2)
			}
		}
	}
	return axes
}

// items writes the first stitches of a round as numbers, two for a stitch: what
// it is, and whether a gap follows. Equal numbers stand for equal things.
func (g *Graph) items(round, stitches int) []uint64 {
	r := &g.rounds[round]
	items := make([]uint64, 0, 2*stitches)
	gap := uint64(0)
	for k := range stitches {
		n := g.nodes.at(int32(r.First + k))
		// A picot stands in the gap that follows its stitch, if there is one.
		if n.kind != kindPicot {
			gap = uint64(n.flags & flagGap / flagGap)
		}
		items = append(items, n.look(), gap)
	}
	return items
}

// look is all there is to see of a node, but for the place it stands in and
// the gap after it, as one number.
func (n *node) look() uint64 {
	v := uint64(n.yarn)<<40 | uint64(n.where)<<8 | uint64(n.flags&(flagCorner|flagBack|flagFront))
	if n.isStitch() {
		return v | uint64(n.kind)<<16
	}
	return 1<<63 | uint64(n.kind)<<62 | uint64(n.yarn)<<46 | uint64(uint32(n.n))<<8 | uint64(n.flags&flagCorner)
}

func mod(a, n int) int { return ((a % n) + n) % n }

// placesMirror reports whether the stitches of a round stand in places that
// are images of each other.
func (m *mirroring) placesMirror(round int) bool {
	g := m.g
	r := &g.rounds[round]
	image := m.axes[round] + 1
	for k := range m.part(round) {
		if image--; image < 0 {
			image += r.Len
		}
		x, y := g.nodes.at(int32(r.First+k)), g.nodes.at(int32(r.First+image))
		if x.kind <= kindPicot || x.where == nowhere || x.where == inRing {
			continue
		}
		if x.where != onLegs {
			if !m.leg(leg{x.below, x.n, x.where, x.flags}, leg{y.below, y.n, y.where, y.flags}) {
				return false
			}
			continue
		}
		legs, image := g.legsOf(x), slices.Clone(g.legsOf(y))
		slices.Reverse(image)
		if !slices.EqualFunc(legs, image, m.leg) {
			return false
		}
	}
	return true
}

// leg compares two places that should be images of each other, and notes the
// axis that this means for the round they belong to.
func (m *mirroring) leg(x, y leg) bool {
	g := m.g
	if x.where != y.where || (x.flags^y.flags)&(flagBack|flagFront) != 0 {
		return false
	}
	if x.where == inRing {
		return true
	}
	q := m.under
	if q < 0 || !g.rounds[q].holds(x.below) {
		q = g.roundOf(int(x.below))
	}
	if q < 0 { // the ring: only its single chains can be out of place
		if x.where != inChain {
			return true
		}
		axis := mod(int(x.n+y.n), g.Ring)
		if m.ringAxis == unknownAxis {
			m.ringAxis = axis
		}
		return m.ringAxis == axis
	}
	m.under = q
	r := &g.rounds[q]
	if !r.holds(y.below) || q >= m.rounds {
		return false
	}
	axis := int(x.below) + int(y.below) - 2*r.First
	if x.where == inGap {
		// From the stitch before one gap to the stitch after the other.
		axis++
		if next := mod(int(y.below)-r.First+1, r.Len); g.nodes.at(int32(r.First+next)).kind == kindPicot {
			axis++ // a picot stands between
		}
	}
	for axis >= r.Len {
		axis -= r.Len
	}
	if !m.fix(q, axis) {
		return false
	}
	if x.where == inChain {
		run := g.nodes.at(x.below)
		return x.n+y.n == run.n+1
	}
	return true
}

// RoundMirrors reports whether a round reads the same in both directions from
// one of its stitches, places left aside; if not, at is the first stitch in
// working order that differs from its image.
func (g *Graph) RoundMirrors(round, stitch int) (at int, ok bool) {
	r := &g.rounds[round]
	ahead, behind := stitch, stitch
	for range (r.part() + 1) / 2 {
		// The gap after one side is the gap before the other.
		before := behind
		if before--; before < r.First {
			before += r.Len
		}
		if g.gapAfter(r, ahead) != g.gapAfter(r, before) {
			return ahead, false
		}
		if ahead++; ahead == r.First+r.Len {
			ahead = r.First
		}
		behind = before
		if g.nodes.at(int32(ahead)).look() != g.nodes.at(int32(behind)).look() {
			return ahead, false
		}
	}
	return 0, true
}

// gapAfter reports whether a gap follows a stitch; a picot stands in the gap
// after its stitch.
func (g *Graph) gapAfter(r *Round, id int) bool {
	for range r.Len {
		n := g.nodes.at(int32(id))
		if n.kind != kindPicot {
			return n.flags&flagGap != 0
		}
		if id--; id < r.First {
			id += r.Len
		}
	}
	return false
}

// Corners returns the numbers of the stitches and runs of chains of a round
// that are corners.
func (g *Graph) Corners(round int) []int {
	r := &g.rounds[round]
	if r.counts.corners == 0 {
		return nil
	}
	list := make([]int, 0, r.counts.corners)
	id, end := int32(r.First), int32(r.First+r.part())
	for id < end {
		block := g.nodes.from(id, end-id)
		for i := range block {
			if block[i].flags&flagCorner != 0 {
				list = append(list, int(id)+i)
			}
		}
		id += int32(len(block))
	}
	found := len(list)
	for len(list) < int(r.counts.corners) {
		list = append(list, list[len(list)-found]+r.part())
	}
	return list
}
