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

// Symmetry finds the symmetry of the piece. Rounds that could not be worked
// are left out, together with all above them. The cost is linear in the number
// of stitches.
func (g *Graph) Symmetry() Symmetry {
	last := 0
	for last < len(g.rounds) && g.rounds[last].Status != NotWorked {
		last++
	}
	s := Symmetry{Rotation: g.rotation(last)}
	s.Mirror = g.mirror(last, s.Rotation)
	return s
}

// rotation finds the order of rotation of the first rounds. The orders that
// hold are the divisors of the largest, so it is enough to look for one prime
// factor after another.
func (g *Graph) rotation(rounds int) int {
	common := 0
	for i := range rounds {
		common = gcd(common, g.rounds[i].Len)
	}
	order := 1
	for p := 2; p <= common/order; p++ {
		for common/order%p == 0 && g.rotates(rounds, order*p) {
			order *= p
		}
	}
	return order
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (g *Graph) rotates(rounds, order int) bool {
	for i := range rounds {
		if _, ok := g.RoundRotates(i, order); !ok {
			return false
		}
	}
	return true
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
	turn := &turning{g: g, order: order, round: -2, turned: r.Turned}
	shift := int32(r.Len / order)
	first, n := int32(r.First), int32(r.Len)
	for k := range n {
		other := k + shift
		if other >= n {
			other -= n
		}
		x, y := g.nodes.at(first+k), g.nodes.at(first+other)
		if !alike(x, y) || !turn.quick(x, y) && !g.sameLegs(x, y, turn) {
			return int(first + k), false
		}
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
	g      *Graph
	order  int
	turned bool // direction in which the round above was worked
	round  int  // of the place looked up last
	// Its stitches, and how far they are shifted; none where it cannot be
	// divided.
	first, end, shift int32
}

// quick reports whether y stands where x comes to stand, as far as that is seen
// at a glance: in the stitch, space or gap of the round looked up last.
func (t *turning) quick(x, y *node) bool {
	if x.where != inStitch && x.where != inSpace && x.where != inGap || x.below < t.first || x.below >= t.end {
		return false
	}
	to := x.below + t.shift
	if to >= t.end {
		to -= t.end - t.first
	}
	return y.below == to
}

// to returns the stitch that takes the place of another after the turn, and
// whether that can be said.
func (t *turning) to(id int32) (int32, bool) {
	if t.round < 0 || !t.g.rounds[t.round].holds(id) {
		t.first, t.end = 0, 0
		if t.round = t.g.roundOf(int(id)); t.round < 0 {
			return id, true // the ring turns into itself
		}
		if r := &t.g.rounds[t.round]; r.Len%t.order == 0 {
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
		return true
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
// round below it. The rounds' own axes are few unless the piece is full of
// mirrors; should they all fail late, the search ends after a number of steps
// in proportion to the stitches.
func (g *Graph) mirror(rounds, order int) bool {
	if rounds == 0 {
		return true
	}
	last := &g.rounds[rounds-1]
	budget := 50 * (g.Len() + 1)
	// Axes that are a part of a turn apart stand for the same mirrors.
	for _, axis := range g.axes(rounds - 1) {
		if axis >= 2*last.Len/order || budget < 0 {
			break
		}
		if g.mirrors(rounds, axis, &budget) {
			return true
		}
	}
	return false
}

// axes lists, in rising order, the axes that mirror a round by itself, places
// left aside. It looks for the round read backwards in the round read twice
// over, as Knuth, Morris and Pratt search a text.
func (g *Graph) axes(round int) []int {
	items := g.items(round)
	n := len(items)
	if n == 0 {
		return []int{0}
	}
	back := func(i int) uint64 { return items[mod(-i, n)] }
	fail := make([]int, n+1)
	fail[0] = -1
	for i, k := 0, -1; i < n; {
		for k >= 0 && back(i) != back(k) {
			k = fail[k]
		}
		i, k = i+1, k+1
		fail[i] = k
	}
	var axes []int
	for i, k := 0, 0; i < 2*n-1; i++ {
		for k >= 0 && (k == n || items[i%n] != back(k)) {
			k = fail[k]
		}
		if k++; k == n {
			if at := i - n + 1; at%2 == 0 {
				axes = append(axes, at/2)
			}
		}
	}
	return axes
}

// items writes a round as numbers, two for a stitch: what it is, and whether a
// gap follows. Equal numbers stand for equal things.
func (g *Graph) items(round int) []uint64 {
	r := &g.rounds[round]
	items := make([]uint64, 0, 2*r.Len)
	gap := uint64(0)
	for k := range r.Len {
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

// unknownAxis stands for the axis of a round that nothing has decided yet.
const unknownAxis = -1

func (g *Graph) mirrors(rounds, axis int, budget *int) bool {
	axes := make([]int, rounds)
	for i := range axes {
		axes[i] = unknownAxis
	}
	axes[rounds-1] = axis
	ringAxis := unknownAxis
	for i := rounds - 1; i >= 0; i-- {
		own := g.axes(i)
		if axes[i] == unknownAxis && len(own) > 0 {
			axes[i] = own[0] // nobody works into this round: any mirror will do
		}
		*budget -= g.rounds[i].Len
		if _, found := slices.BinarySearch(own, axes[i]); !found || !g.placesMirror(i, axes, &ringAxis) {
			return false
		}
	}
	return true
}

func mod(a, n int) int { return ((a % n) + n) % n }

// placesMirror reports whether the stitches of a round stand in places that
// are images of each other.
func (g *Graph) placesMirror(round int, axes []int, ringAxis *int) bool {
	r := &g.rounds[round]
	for k := range r.Len {
		x := g.nodes.at(int32(r.First + k))
		y := g.nodes.at(int32(r.First + mod(axes[round]-k, r.Len)))
		if x.kind <= kindPicot || x.where == nowhere || x.where == inRing {
			continue
		}
		if x.where != onLegs {
			if !g.mirrorLeg(leg{x.below, x.n, x.where, x.flags}, leg{y.below, y.n, y.where, y.flags}, axes, ringAxis) {
				return false
			}
			continue
		}
		legs, image := g.legsOf(x), slices.Clone(g.legsOf(y))
		slices.Reverse(image)
		if !slices.EqualFunc(legs, image, func(l, m leg) bool { return g.mirrorLeg(l, m, axes, ringAxis) }) {
			return false
		}
	}
	return true
}

// mirrorLeg compares two places that should be images of each other, and
// notes the axis that this means for the round they belong to.
func (g *Graph) mirrorLeg(x, y leg, axes []int, ringAxis *int) bool {
	if x.where != y.where || (x.flags^y.flags)&(flagBack|flagFront) != 0 {
		return false
	}
	if x.where == inRing {
		return true
	}
	q := g.roundOf(int(x.below))
	if q < 0 { // the ring: only its single chains can be out of place
		if x.where != inChain {
			return true
		}
		axis := mod(int(x.n+y.n), g.Ring)
		if *ringAxis == unknownAxis {
			*ringAxis = axis
		}
		return *ringAxis == axis
	}
	r := &g.rounds[q]
	if !r.holds(y.below) || q >= len(axes) {
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
	axis = mod(axis, r.Len)
	if axes[q] == unknownAxis {
		axes[q] = axis
	}
	if axes[q] != axis {
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
	for range (r.Len + 1) / 2 {
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
	id, end := int32(r.First), int32(r.First+r.Len)
	for id < end {
		block := g.nodes.from(id, end-id)
		for i := range block {
			if block[i].flags&flagCorner != 0 {
				list = append(list, int(id)+i)
			}
		}
		id += int32(len(block))
	}
	return list
}
