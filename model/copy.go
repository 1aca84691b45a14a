package model

import "example.com/roundel/notation"

// Most of a round is one repeat worked many times, and most of its repeats
// come out like the one before. Once a repeat has been worked twice, the rest
// are copied from the second as long as the edge below goes on in the same
// way; the steps are followed again where it does not, and always for the last
// repeat, where the round has to close.

// copyable reports whether ops may be copied at all. What they reach on other
// rounds, stitches with several feet, and what goes into the same place as a
// stitch before the repeat are worked one by one.
func copyable(ops []op) bool {
	taken := false
	return copyableAfter(ops, &taken)
}

// copyableAfter is copyable for ops that follow others; taken tells whether a
// place has been taken since the repeat began.
func copyableAfter(ops []op, taken *bool) bool {
	for i := range ops {
		o := &ops[i]
		switch {
		case o.code == opYarn, o.flags&flagStart != 0, o.place.round > 0:
			return false
		case o.place.how == notation.Over, o.place.how == notation.OverSame:
			return false
		case o.code == opWork && o.place.none && o.legs > 1:
			return false
		case o.place.how == notation.InSame && !*taken:
			return false
		}
		switch {
		case o.code == opRepeat:
			if !copyableAfter(o.body, taken) {
				return false
			}
		case o.code == opGroup && !membersCopyable(o.body):
			return false
		case o.code == opWork || o.code == opGroup:
			*taken = *taken || o.place.how == notation.InRing || o.place.count > 0
		}
	}
	return true
}

// membersCopyable is copyable for the members of a group, which all stand in
// the place that the group takes.
func membersCopyable(ops []op) bool {
	taken := true
	return copyableAfter(ops, &taken)
}

// copies repeats the stretch that was just worked as often as it fits, at most
// most times, and returns how many times that was. before is the round as it
// was when the stretch began.
func (b *builder) copies(m mark, before uses, groups []groupCount, most int) int {
	rs := &b.rs
	c := &rs.cur
	d := c.pos - m.cur.pos
	size := b.g.nodes.len - m.nodes
	switch {
	case !b.alikeEnds(m, d),
		most <= 0 || size == 0 || d&1 == 1 || c.sub != 0 || m.cur.sub != 0 || m.prev < 0 || !m.cur.begun,
		b.g.nodes.at(m.prev).n != m.prevN, // a run of chains grew across the seam
		rs.prev < m.nodes:
		return 0
	}
	shift := int32(d / 2)
	if c.reversed {
		shift = -shift
	}
	done := most
	if d > 0 {
		// The last repeat is left to the steps: the round closes there.
		done = min(done, (c.limit()-c.pos)/d-1, c.goesOn(m.cur.pos, d))
	}
	if done <= 0 {
		return 0
	}
	pattern := b.pattern[:0]
	var made int64
	for i := range size {
		n := *b.g.nodes.at(m.nodes + i)
		if n.isStitch() {
			made++
		} else {
			made += int64(n.n)
		}
		pattern = append(pattern, n)
	}
	b.pattern = pattern
	done = min(done, int((int64(b.limits.Stitches)-b.made)/made), max(stretch/int(size), 1))
	if done <= 0 || !b.goOn() {
		return 0
	}
	b.made += made * int64(done)
	// The last of them is followed by the first, as the one before it was.
	seam := b.g.nodes.at(m.prev).flags & flagGap
	b.prev().flags |= seam
	last := &pattern[rs.prev-m.nodes]
	end := last.flags
	last.flags |= seam
	for i, left := 0, size*int32(done); left > 0; {
		room := b.g.nodes.extend(left)
		for j := range room {
			n := &pattern[i]
			switch {
			case n.kind == kindPicot:
				n.below += size
				if n.flags&flagSits != 0 {
					at := b.g.nodes.len - int32(len(room)-j)
					b.g.sits[at] = b.g.sits[m.nodes+int32(i)]
				}
			case n.where != inRing && n.where != nowhere:
				n.below += shift
			}
			room[j] = *n
			if i++; i == len(pattern) {
				i = 0
			}
		}
		left -= int32(len(room))
	}
	rs.prev += size * int32(done)
	b.prev().flags = end
	c.pos += d * done
	c.last += d * done
	if rs.last.where != inRing {
		rs.last.below += shift * int32(done)
	}
	if rs.skip.step != nil {
		rs.skip.from, rs.skip.to = rs.skip.from+d*done, rs.skip.to+d*done
	}
	rs.consumed += (rs.consumed - m.consumed) * done
	rs.consumedHere += (rs.consumedHere - m.consumedHere) * done
	rs.passed.stitches += (rs.passed.stitches - m.passed.stitches) * done
	rs.passed.spaces += (rs.passed.spaces - m.passed.spaces) * done
	rs.passed.corners += (rs.passed.corners - m.passed.corners) * done
	for i := range rs.used.list {
		u := &rs.used.list[i]
		u.n += (u.n - before.of(u.what)) * done
	}
	for i := range rs.groups {
		n := 0
		if i < len(groups) {
			n = groups[i].n
		}
		rs.groups[i].n += (rs.groups[i].n - n) * done
	}
	return done
}

// alikeEnds reports whether the stretch ends as the one before it did, d places
// further on, so that what follows joins on in the same way.
func (b *builder) alikeEnds(m mark, d int) bool {
	if m.prev < 0 {
		return false
	}
	x, y := b.g.nodes.at(m.prev), b.prev()
	if x.kind != y.kind || x.where != y.where || x.where == onLegs {
		return false
	}
	shift := int32(d / 2)
	if b.rs.cur.reversed {
		shift = -shift
	}
	return x.where == inRing || x.where == nowhere || y.below == x.below+shift
}

// goesOn returns how many more times the d places after place p+d are like
// those after place p, as far as any step could tell, and lie before the edge
// wraps. One place more is compared each time: a step may have looked at it.
func (c *cursor) goesOn(p, d int) int {
	step := int32(d / 2)
	first := int32(p>>1) % c.n // in working order of the edge
	n := int32(0)
	for k := first; k+step < c.n; k++ {
		x, y := c.nodes.at(c.nth(k)), c.nodes.at(c.nth(k+step))
		if x.kind != y.kind || (x.flags^y.flags)&(flagCorner|flagGap) != 0 || x.isSpace() && x.n != y.n {
			break
		}
		n++
	}
	return int((n - 1) / step)
}

// nth returns the k-th stitch of the edge in the order in which it is met.
func (e *edge) nth(k int32) int32 {
	if e.reversed {
		return e.first + e.n - 1 - k
	}
	return e.first + k
}
