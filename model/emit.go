package model

import (
	"slices"

	"example.com/roundel/notation"
)

type groupCount struct {
	def *notation.StitchDef
	n   int
}

// over works one stitch with legs in several places.
func (b *builder) over(o *op, places int32, same bool) bool {
	rs := &b.rs
	c := b.cursor(&o.place)
	if c == nil {
		return false
	}
	if places == 1 && !same { // one foot after all, under a name that means nothing
		l, ok := b.next(o, c)
		if ok {
			b.many(o, l)
		}
		return ok && !rs.abort
	}
	b.ops += int64(places)
	start := int32(len(b.g.legs))
	b.g.legs = append(b.g.legs, leg{n: places})
	if same {
		l, ok := b.same(o)
		if !ok {
			return false
		}
		b.g.legs = append(b.g.legs, l)
		b.g.legs[start].n++
	}
	for range places {
		l, ok := b.next(o, c)
		if !ok {
			b.g.legs = b.g.legs[:start]
			return false
		}
		b.g.legs = append(b.g.legs, l)
	}
	b.emit(node{n: start, kind: o.kind, where: onLegs}, o)
	return !rs.abort
}

// many works the stitches of a step in one place.
func (b *builder) many(o *op, l leg) {
	if !b.goOn() {
		return
	}
	n := node{below: l.below, n: l.n, kind: o.kind, where: l.where, flags: l.flags | o.flags&flagStart}
	if o.count > 2 && !o.corner {
		b.row(o, n)
		return
	}
	for range o.count {
		b.emit(n, o)
		if b.rs.abort {
			return
		}
	}
}

// row is many for a number of stitches in one place: whether a gap follows is
// the same for all but the last.
func (b *builder) row(o *op, n node) {
	if b.made+int64(o.count) > int64(b.limits.Stitches) {
		b.tooMany()
		return
	}
	b.emit(n, o)
	b.emit(n, o)
	n = *b.prev()
	if b.shares(&n, &n, b.rs.prev > b.rs.groupFrom) {
		b.prev().flags &^= flagGap
	} else {
		b.prev().flags |= flagGap
		n.flags |= flagGap
	}
	for rest := o.count - 2; rest > 0 && b.goOn(); {
		k := min(rest, stretch)
		b.made += int64(k)
		b.g.nodes.fill(n, k, 0)
		b.rs.prev += k
		rest -= k
	}
	b.prev().flags &^= flagGap
}

// prev is the stitch or run of chains made last in this round.
func (b *builder) prev() *node { return b.g.nodes.at(b.rs.prev) }

// emit adds a stitch to the round.
func (b *builder) emit(n node, o *op) {
	if b.made++; b.made > int64(b.limits.Stitches) {
		b.tooMany()
		return
	}
	rs := &b.rs
	n.yarn = rs.yarn
	if o.corner {
		n.flags |= flagCorner
	}
	if rs.prev >= 0 {
		if prev := b.prev(); prev.isStitch() && !b.shares(prev, &n, rs.prev >= rs.groupFrom) {
			prev.flags |= flagGap
		}
	}
	rs.prev = b.g.nodes.add(n)
}

// shares reports whether two neighbouring stitches share a place below, so
// that there is no gap between them. Over the ring every stitch stands by
// itself unless both belong to one group.
func (b *builder) shares(p, q *node, oneGroup bool) bool {
	if p.where == q.where && p.where != onLegs {
		if p.where == inRing {
			return oneGroup
		}
		return p.below == q.below && (p.where != inChain || p.n == q.n)
	}
	if p.where != onLegs && q.where != onLegs {
		return false
	}
	feet, others := b.legsOf(p), b.legsOf(q)
	if len(feet) > 16 && len(others) > 16 { // each with each would take for ever
		b.ops += int64(len(feet) + len(others))
		stood := make(map[leg]bool, len(feet))
		for _, l := range feet {
			stood[l.spot()] = true
		}
		return slices.ContainsFunc(others, func(m leg) bool { return stood[m.spot()] })
	}
	for _, l := range feet {
		for _, m := range others {
			if l.spot() == m.spot() {
				return true
			}
		}
	}
	return false
}

// spot is where a foot stands, whatever loop it takes.
func (l leg) spot() leg {
	if l.flags = 0; l.where != inChain {
		l.n = 0
	}
	return l
}

func (b *builder) legsOf(n *node) []leg {
	if n.where == onLegs {
		return b.g.legsOf(n)
	}
	return []leg{{below: n.below, n: n.n, where: n.where}}
}

// chain adds a run of chains, or lengthens the run just made. A picot between
// them sits on the run and does not divide it.
func (b *builder) chain(o *op) {
	rs := &b.rs
	if b.made += int64(o.count); b.made > int64(b.limits.Stitches) {
		b.tooMany()
		return
	}
	if rs.prev >= 0 && !o.corner {
		if prev := b.g.nodes.at(rs.prev); prev.isSpace() && prev.flags&flagCorner == 0 && prev.yarn == rs.yarn {
			for id := b.g.nodes.len - 1; id > rs.prev; id-- { // picots at what was its end
				n := b.g.nodes.at(id)
				if n.flags&flagSits != 0 {
					break
				}
				n.flags |= flagSits
				b.g.sits[id] = prev.n
			}
			prev.n += o.count
			return
		}
	}
	n := node{kind: kindCh, n: o.count, yarn: rs.yarn, below: -1}
	if o.corner {
		n.flags = flagCorner
	}
	rs.prev = b.g.nodes.add(n)
}

// picot sits on the stitch just made and leaves no place.
func (b *builder) picot(o *op) {
	if b.made += int64(o.count); b.made > int64(b.limits.Stitches) {
		b.tooMany()
		return
	}
	n := node{kind: kindPicot, n: o.count, yarn: b.rs.yarn, below: -1}
	if b.rs.prev >= 0 {
		n.below, n.where = b.rs.prev, inStitch
		if b.g.nodes.at(b.rs.prev).isSpace() {
			n.where = inSpace
		}
	} else {
		b.fault("no-such-place", o.step.Range(), "a picot sits on the stitch just made, and nothing has been made in round %d yet; write it after the stitch", b.rs.number)
	}
	b.g.nodes.add(n)
}

// note remembers how long the starting chain of the next stitch is.
func (b *builder) note(o *op) {
	b.g.starts[b.g.nodes.len] = int32(o.step.(*notation.Chain).Count)
}

// closeGap looks at the gap between the last stitch of the round and the
// first.
func (b *builder) closeGap() {
	rs := &b.rs
	if rs.prev < 0 {
		return
	}
	last := b.g.nodes.at(rs.prev)
	for id := rs.first; id < rs.prev; id++ {
		first := b.g.nodes.at(id)
		if first.kind == kindPicot {
			continue
		}
		if last.isStitch() && first.isStitch() && !b.shares(last, first, false) {
			last.flags |= flagGap
		}
		return
	}
}
