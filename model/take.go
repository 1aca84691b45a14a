package model

import "example.com/roundel/notation"

// A use counts how many places of one kind were used.
type use struct {
	what selector
	n    int
}

// Uses counts the places used, by kind. A round that uses more kinds than the
// list has room for counts the rest in its last entry; the figures only serve
// messages.
type uses struct {
	list [6]use
	n    int
}

func (u *uses) add(what selector, n int) {
	for i := range u.list[:u.n] {
		if u.list[i].what == what {
			u.list[i].n += n
			return
		}
	}
	if u.n == len(u.list) {
		u.list[u.n-1].n += n
		return
	}
	u.list[u.n] = use{what, n}
	u.n++
}

func (u *uses) of(what selector) int {
	for i := range u.list[:u.n] {
		if u.list[i].what == what {
			return u.list[i].n
		}
	}
	return 0
}

// A pendingSkip is an explicit skip that has not arrived yet.
type pendingSkip struct {
	step       *notation.Skip
	what       selector
	from, to   int
	sub, toSub int32
}

// A runOut says which step found no place.
type runOut struct {
	op   *op
	what selector
	edge *edge
}

// places works o in every place that it takes; false when one is not there.
func (b *builder) places(o *op) bool {
	pl := &o.place
	c := b.cursor(pl)
	if c == nil {
		return false
	}
	if pl.how == notation.InEach && pl.count == 0 {
		return b.each(o, c)
	}
	for i := range pl.count {
		b.rs.taken = int(i)
		l, ok := b.next(o, c)
		if !ok {
			return false
		}
		b.fill(o, l)
		if b.rs.abort {
			return false
		}
	}
	return true
}

// cursor returns the cursor that a place is looked for with: that of the round
// below, or one on an earlier round; nil when there is no such round.
func (b *builder) cursor(pl *placeOp) *cursor {
	rs := &b.rs
	if pl.round == 0 || pl.round == rs.cur.number {
		return &rs.cur
	}
	i, ok := b.byNumber[pl.round]
	if !ok || i >= len(b.g.rounds) {
		b.fault("no-such-place", pl.node.Span, "round %d is not above round %d, so it cannot be worked into", pl.round, rs.number)
		rs.abort = true
		return nil
	}
	c := rs.others[pl.round]
	if c == nil {
		c = &cursor{edge: b.edgeOf(i), hook: -1}
		if rs.others == nil {
			rs.others = map[int]*cursor{}
		}
		rs.others[pl.round] = c
	}
	b.align(c)
	return c
}

// align moves a cursor on an earlier round forward to where the hook is, so that
// a stitch reaches straight down: beyond what the place worked into last stands
// over, or to what the place after that stands over, whichever comes first.
// Between two petals that is the stitch that shows between them; where both places
// stand over one and the same, it is that one. Whether a stitch is skipped before
// or after the one that takes its place makes no difference. A round that works
// into the earlier round only is not aligned.
func (b *builder) align(c *cursor) {
	main := &b.rs.cur
	if !main.begun || c.n == 0 {
		return
	}
	var next int
	switch {
	case main.last < 0: // nothing is worked into yet, only skipped
		next = main.origin + main.origin&1
	case main.sub > 0 && main.pos == main.last: // a run of chains, half used
		next = main.last
	default:
		next = (main.last + 2) &^ 1
	}
	for end := next + main.turn(); main.nodes.at(main.id(next)).kind == kindPicot && next < end; {
		next += 2 // no place
		b.ops++
	}
	turn := c.turn()
	p, known := b.straightBelow(c, main.id(next), false)
	if main.last >= 0 {
		beyond, ok := b.straightBelow(c, main.id(main.last), true)
		if beyond++; ok && (!known || mod(p-beyond, turn) < turn/2) {
			p, known = beyond, true
		}
	}
	if !known {
		return
	}
	if !c.begun {
		c.pos = mod(p, turn)
		c.start, c.hook = c.pos, c.pos
		return
	}
	// The hook goes on; the round may have taken places far ahead of it.
	if c.hook < 0 {
		c.hook = c.pos
	}
	if ahead := mod(p-c.hook, turn); ahead <= turn/2 {
		c.hook += ahead
	}
	if c.hook > c.pos && c.hook < c.limit() {
		c.pos, c.sub = c.hook, 0
	}
}

// straightBelow goes down from a stitch or space of the round below to the place
// of an earlier round that it stands over: by the first of several feet in the
// direction of the work, or by the last. A run of chains hangs from the stitch
// before it and stands over what lies beyond that stitch, as whatever is worked
// into a gap does, and as a stitch does that reaches down past the earlier round.
// ok is false where the way down is not known.
func (b *builder) straightBelow(c *cursor, id int32, last bool) (p int, ok bool) {
	beside := 0
	for hung := 0; id >= c.first+c.n; {
		b.ops++
		i := b.g.roundOf(int(id))
		if i < 0 {
			return 0, false
		}
		r := &b.g.rounds[i]
		onward := b.onward(r)
		n := b.g.nodes.at(id)
		below, w := n.below, n.where
		if w == onLegs {
			feet := b.g.legsOf(n)
			foot := feet[0]
			if last == (onward > 0) {
				foot = feet[len(feet)-1]
			}
			below, w = foot.below, foot.where
		}
		hangs := w == nowhere || w == inRing || below < c.first
		switch {
		case hangs && !b.within(id, r):
			beside = onward
		case w == inGap && !hangs:
			beside = b.onward(&b.g.rounds[b.g.roundOf(int(below))])
		}
		switch {
		case w == nowhere && n.isStitch(), hung > r.Len:
			return 0, false // of a round known by its claim only, or with no stitch to hang from
		case hangs && int(id) == r.First:
			below = id + int32(r.Len) - 1
		case hangs:
			below = id - 1
		}
		if hangs {
			hung++
		} else if int(below) < r.First {
			hung = 0 // a round further down, and not only from a picot to its stitch
		}
		id = below
	}
	k := id - c.first
	if c.reversed {
		k = c.n - 1 - k
	}
	return 2*int(k) + beside, true
}

// onward is the direction in which a round was worked: 1 like the round that is
// being worked, -1 against it.
func (b *builder) onward(r *Round) int {
	if r.Turned != b.facing {
		return -1
	}
	return 1
}

// within reports whether a run of chains lies within a group: between two
// stitches that stand in one place.
func (b *builder) within(id int32, r *Round) bool {
	if int(id) == r.First || int(id) == r.First+r.Len-1 || !b.g.nodes.at(id).isSpace() {
		return false
	}
	p, q := b.g.nodes.at(id-1), b.g.nodes.at(id+1)
	return p.isStitch() && q.isStitch() && p.where == q.where && p.below == q.below && p.where != onLegs && p.where != nowhere
}

// next takes the next place.
func (b *builder) next(o *op, c *cursor) (leg, bool) {
	p, ok := c.find(o.place.what)
	b.ops += int64(p-c.pos) / 8 // looking takes time too
	if !ok {
		return leg{}, b.runOut(o, o.place.what, c)
	}
	b.rs.cornered = false
	return b.take1(o, c, p), true
}

// take1 works into place p.
func (b *builder) take1(o *op, c *cursor, p int) leg {
	rs := &b.rs
	b.checkTravel(o)
	b.arrive(o, c, p)
	l := leg{below: c.id(p), where: inStitch, flags: o.place.flags}
	what := o.place.what
	c.last = p
	switch {
	case p&1 == 1:
		l.below, l.where = c.gapID(p), inGap
		c.pos, c.sub = p+1, 0
	case what.kind == notation.Ch || o.place.andCh && c.nodes.at(l.below).isSpace():
		if p > c.pos {
			c.sub = 0
		}
		chains := c.chains(p)
		l.where, l.n = inChain, c.sub+1
		if c.reversed {
			l.n = chains - c.sub
		}
		c.pos = p
		if c.sub++; c.sub == chains {
			c.pos, c.sub = p+1, 0
		}
	default:
		if c.nodes.at(l.below).isSpace() {
			l.where = inSpace
		}
		c.pos, c.sub = p+1, 0
	}
	if c == &rs.cur {
		if what.kind == notation.Sp && rs.asSpace == nil && rs.took&(1<<notation.Corner) != 0 && c.nodes.at(l.below).flags&flagCorner != 0 {
			rs.asSpace = o
		}
		rs.took |= 1 << what.kind
		rs.asked |= 1 << what.kind
		rs.consumedHere++
		if b.isSlip(o) {
			rs.travelled++
		}
		if l.where == inStitch {
			rs.took |= 1 << notation.St
			rs.consumedSt++
			if b.isSlip(o) {
				rs.slips++
			}
		}
		if o.place.andCh {
			rs.took |= 1 << notation.Ch
		}
		rs.lastTop = rs.top
	}
	rs.consumed++
	rs.used.add(what, 1)
	rs.last, rs.hasLast = l, true
	return l
}

// arrive moves a cursor to place p, which is about to be used: the round
// begins there, or whatever lies before it is passed over.
func (b *builder) arrive(o *op, c *cursor, p int) {
	rs := &b.rs
	if !c.begun {
		c.begun, c.origin = true, p
	} else if p > c.pos && c == &rs.cur {
		from := c.pos
		if c.sub > 0 {
			from += 2
		}
		b.pass(o, c.over(from, p))
	}
	if rs.skip.step != nil && c == &rs.cur {
		b.checkSkip(o, c, p)
	}
}

// pass notes the places that a step passes over on its way.
func (b *builder) pass(o *op, q passed) {
	rs := &b.rs
	rs.passed.add(q)
	if q.corners > 0 && rs.past.op == nil {
		rs.past.op, rs.past.taken = o, rs.taken
	}
}

// each takes every place up to the next corner, or to the end of the round.
func (b *builder) each(o *op, c *cursor) bool {
	what := o.place.what
	corner := selector{kind: notation.Corner}
	taken := 0
	for p, limit := c.pos, c.limit(); p < limit; {
		if p&1 == 0 && what.kind != notation.Corner && !o.place.through && c.n > 0 && c.match(corner, p) && (c.sub == 0 || p > c.pos) {
			b.stopAtCorner(c, p)
			b.found(o, taken)
			return true
		}
		if !c.match(what, p) && !(o.place.andCh && p&1 == 0 && c.nodes.at(c.id(p)).isSpace()) {
			p++
			continue
		}
		b.fill(o, b.take1(o, c, p))
		if b.rs.abort {
			return false
		}
		if taken == 0 {
			limit = c.limit() // the round may have begun just now
		}
		taken++
		p = c.pos
		if n := b.plain(o, c); n > 0 {
			p = c.pos
		}
	}
	b.rs.cornered = false
	b.found(o, taken)
	switch {
	case taken > 0:
	case b.rs.nested > 0 && b.rs.consumed == b.rs.pass, b.rs.nested == 0 && c.has(what) == 0:
		return b.runOut(o, what, c)
	}
	return true
}

// found notes in which round an "each" has found a place at all.
func (b *builder) found(o *op, taken int) {
	if taken > 0 {
		o.found = b.runs
	}
}

// stopAtCorner ends an "each" before the corner at place p.
func (b *builder) stopAtCorner(c *cursor, p int) {
	if p > c.pos {
		if c.begun && c == &b.rs.cur {
			b.rs.passed.add(c.over(c.pos, p))
		}
		c.pos, c.sub = p, 0
	}
	b.rs.cornered = true
	b.rs.lastTop = b.rs.top
}

// plain works one stitch in each of the stitches that follow without a chain
// space or a corner between, as most of a solid piece is made, and returns how
// many. It does what each does, without looking at everything each looks at.
func (b *builder) plain(o *op, c *cursor) int {
	rs := &b.rs
	if o.code != opWork || o.place.what.kind != notation.St || o.place.andCh || c.reversed ||
		c != &rs.cur || c.sub > 0 || c.pos&1 == 0 || rs.skip.step != nil || rs.prev < 0 {
		return 0
	}
	first := int32((c.pos+1)>>1) % c.n // of the edge
	n := c.solid(first, min(first+int32(min((c.limit()-c.pos)/2, stretch)), c.n))
	l := leg{where: inStitch, flags: o.place.flags, below: c.first + first}
	if o.count > 1 || o.corner || b.made+int64(n) > int64(b.limits.Stitches) {
		for range n {
			b.many(o, l)
			if rs.abort {
				break
			}
			l.below++
		}
		l.below--
	} else if n > 0 {
		b.many(o, l)
		prev := b.prev()
		rest := *prev
		rest.flags |= flagGap // each in a place of its own
		rest.below++
		if n > 1 {
			prev.flags |= flagGap
		}
		b.g.nodes.fill(rest, int32(n-1), 1)
		b.made += int64(n - 1)
		rs.prev += int32(n - 1)
		b.prev().flags &^= flagGap
		l.below += int32(n - 1)
	}
	if n > 0 {
		c.pos += 2 * n
		c.last = c.pos - 1
		rs.consumed += n
		rs.consumedHere += n
		rs.used.add(o.place.what, n)
		rs.last = l
	}
	return n
}

// skip passes over places on purpose.
func (b *builder) skip(o *op) bool {
	rs := &b.rs
	c := &rs.cur
	what := o.place.what
	sk := pendingSkip{step: o.step.(*notation.Skip), what: what, from: c.pos, sub: c.sub}
	for i := range o.place.count {
		p, ok := c.find(what)
		b.ops += int64(p-c.pos) / 8
		if !ok {
			return b.runOut(o, what, c)
		}
		rs.consumedHere++
		if !c.begun {
			if rs.nested > 0 {
				c.begun, c.origin = true, p
			} else if i == 0 && rs.lead.to == 0 {
				rs.lead.from = p
			}
			if i == 0 {
				sk.from = p
			}
		} else if p > c.pos {
			from := c.pos
			if c.sub > 0 {
				from += 2
			}
			b.pass(o, c.over(from, p))
		}
		if p > c.pos {
			c.sub = 0
		}
		c.pos = p
		if what.kind == notation.Ch {
			if c.sub++; c.sub < c.chains(p) {
				rs.consumed++
				rs.used.add(what, 1)
				continue
			}
		}
		c.pos, c.sub = p+1, 0
		rs.consumed++
		rs.used.add(what, 1)
	}
	sk.to, sk.toSub = c.pos, c.sub
	if !c.begun {
		rs.lead.to = c.pos
	}
	rs.skip = sk
	rs.lastTop = rs.top
	rs.cornered = false
	return true
}

// runOut notes that a step found no place; it always returns false. Where the
// edge has no place of the kind at all, that is reported at once.
func (b *builder) runOut(o *op, what selector, c *cursor) bool {
	rs := &b.rs
	if c.has(what) == 0 {
		b.noneAtAll(o, what, c, 0)
		rs.abort = true
		return false
	}
	e := c.edge
	rs.out = &runOut{op: o, what: what, edge: &e}
	return false
}
