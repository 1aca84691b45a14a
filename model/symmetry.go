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
		if !alike(x, y) || !g.sameLegs(x, y, turn) {
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
}

// to returns the stitch that takes the place of another after the turn, and
// whether that can be said.
func (t *turning) to(id int32) (int32, bool) {
	if t.round < 0 || !t.g.rounds[t.round].holds(id) {
		if t.round = t.g.roundOf(int(id)); t.round < 0 {
			return id, true // the ring turns into itself
		}
	}
	r := &t.g.rounds[t.round]
	if r.Len%t.order != 0 {
		return 0, false
	}
	shift := r.Len / t.order
	if r.Turned != t.turned { // its stitches run the other way
		shift = -shift
	}
	return int32(r.First + mod(int(id)-r.First+shift, r.Len)), true
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
	back := func(i int) uint32 { return items[mod(-i, n)] }
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
func (g *Graph) items(round int) []uint32 {
	type thing struct {
		kind, yarn uint16
		where      where
		flags      flags
		chains     int32
	}
	r := &g.rounds[round]
	numbers := map[thing]uint32{}
	items := make([]uint32, 0, 2*r.Len)
	gap := uint32(0)
	for k := range r.Len {
		n := g.nodes.at(int32(r.First + k))
		t := thing{kind: n.kind, yarn: n.yarn, where: n.where, flags: n.flags & (flagCorner | flagBack | flagFront)}
		if !n.isStitch() {
			t.chains = n.n
		}
		number, ok := numbers[t]
		if !ok {
			number = uint32(len(numbers)) + 2
			numbers[t] = number
		}
		// A picot stands in the gap that follows its stitch, if there is one.
		if n.kind != kindPicot {
			gap = uint32(n.flags & flagGap / flagGap)
		}
		items = append(items, number, gap)
	}
	return items
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
	items := g.items(round)
	r := &g.rounds[round]
	centre := 2 * (stitch - r.First)
	for d := 1; d <= r.Len; d++ {
		if items[mod(centre+d, len(items))] != items[mod(centre-d, len(items))] {
			return r.First + mod(centre+d, len(items))/2, false
		}
	}
	return 0, true
}
