package model

import (
	"fmt"

	"example.com/roundel/notation"
)

// A roundState is the round being worked.
type roundState struct {
	stmt   *notation.Round
	number int
	first  int32 // the round's first stitch
	mark
	others map[int]*cursor // cursors on earlier rounds, by number
	used   uses
	groups []groupCount

	groupFrom   int32       // first stitch of the group being worked, or a number past all
	nested      int         // repeats around the step being worked
	took        uint16      // bits of the kinds of places worked into on the round below
	top         *op         // the step of the round being worked
	tries       repeatTries // of the last repeat that was no part of another
	topConsumed int         // consumed when the step of the round began
	lastTop     *op         // the last one that used places of the round below
	cornered    bool        // the last places taken were "each", up to a corner

	out   *runOut // why the steps stopped, until somebody deals with it
	fault bool    // a finding about the steps was reported; others would echo
	abort bool    // the rest of the round cannot be worked
}

// A mark is what a repeat that does not fit is taken back to.
type mark struct {
	nodes, legs int32
	cur         cursor
	consumed    int // places worked into or skipped, on any round
	prev        int32
	prevN       int32
	yarn        uint16
	last        leg // the place last worked into
	hasLast     bool
	passed      passed
	skip        pendingSkip
	lead        struct{ from, to int } // places skipped before the first one worked into
}

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

type groupCount struct {
	def *notation.StitchDef
	n   int
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

const noGroup = int32(1<<31 - 1)

// run works the steps of a round, adds the round to the graph and returns the
// findings about it.
func (b *builder) run(w *work) []notation.Finding {
	from := len(b.findings)
	rs := &b.rs
	*rs = roundState{stmt: w.stmt, number: w.number, groupFrom: noGroup, groups: rs.groups[:0]}
	ops := w.ops
	rs.cur = cursor{edge: b.base, pos: w.from}
	rs.first = b.g.nodes.len
	rs.prev = -1
	rs.yarn = b.yarnNow
	if n := least(ops, int64(b.limits.Stitches)); n+b.made > int64(b.limits.Stitches) {
		b.tooMany()
	} else {
		for i := range ops {
			rs.top, rs.topConsumed = &ops[i], rs.consumed
			if !b.step(&ops[i]) {
				b.noPlace()
				break
			}
		}
	}
	b.closeGap()
	if !b.stopped {
		b.checkClosed()
		b.checkGroups(w)
	}
	w.mended = w.mended || rs.fault
	b.addRound(w.stmt, w.number, rs.first, Worked)
	if !b.stopped {
		b.checkClaim(w)
	}
	b.yarnNow = rs.yarn
	if b.draft.Succession() == notation.Turned || len(ops) > 0 && ops[len(ops)-1].code == opTurn {
		b.turn()
	}
	return b.take(from)
}

func (b *builder) turn() {
	b.facing = !b.facing
	b.base.reversed = !b.base.reversed
}

// checkGroups reports groups that have no place.
func (b *builder) checkGroups(w *work) {
	for _, g := range w.c.loose {
		b.report("bare-count", g.Span, "this group has no place; say where all of it goes: (...) in next st, (...) in next sp")
		b.rs.fault = true
	}
}

// stop ends the work for good.
func (b *builder) tooMany() {
	if !b.stopped {
		b.report("limit", b.rs.stmt.Head, "round %d takes the draft past the %d stitches and chains allowed; the rest is not worked", b.rs.number, b.limits.Stitches)
		b.stopped = true
		b.rs.fault = true
	}
	b.rs.abort = true
}

// steps works a list of steps; false means that one of them could not be done.
func (b *builder) steps(ops []op) bool {
	for i := range ops {
		if !b.step(&ops[i]) {
			return false
		}
	}
	return true
}

func (b *builder) step(o *op) bool {
	if b.ops++; b.ops&(1<<13-1) == 0 {
		if b.ctx.Err() != nil {
			b.stopped, b.rs.abort = true, true
		}
		// Steps that make nothing could go on for ever.
		if b.ops > 4*int64(b.limits.Stitches)+1<<20 {
			b.tooMany()
		}
	}
	if b.rs.abort {
		return false
	}
	switch o.code {
	case opWork:
		return b.work(o)
	case opGroup:
		return b.group(o)
	case opChain:
		b.chain(o)
	case opSkip:
		return b.skip(o)
	case opRepeat:
		return b.repeat(o)
	case opPicot:
		b.picot(o)
	case opYarn:
		b.rs.yarn = o.yarn
	}
	return true
}

// work works stitches of one kind.
func (b *builder) work(o *op) bool {
	rs := &b.rs
	pl := &o.place
	if o.flags&flagStart != 0 {
		b.note(o)
	}
	if rs.groupFrom != noGroup && pl.none {
		b.many(o, rs.last) // a member of a group: where the group is
		return !rs.abort
	}
	if pl.none && b.g.kinds[o.kind].Legs > 1 {
		return b.over(o, int32(b.g.kinds[o.kind].Legs), false)
	}
	if pl.none && rs.cur.round < 0 && o.flags&flagStart != 0 {
		return b.inRing(o)
	}
	switch pl.how {
	case notation.InRing:
		return b.inRing(o)
	case notation.InSame:
		if !b.haveSame(pl) {
			return false
		}
		l := rs.last
		l.flags = pl.flags
		b.many(o, l)
	case notation.Over:
		return b.over(o, pl.count, false)
	case notation.OverSame:
		return b.over(o, pl.count, true)
	default:
		return b.places(o)
	}
	return !rs.abort
}

func (b *builder) inRing(o *op) bool {
	b.rs.last, b.rs.hasLast = leg{where: inRing, below: -1}, true
	b.many(o, b.rs.last)
	return !b.rs.abort
}

// group works all members in one place, for each place it takes.
func (b *builder) group(o *op) bool {
	rs := &b.rs
	pl := &o.place
	switch {
	case rs.groupFrom != noGroup && pl.none:
		b.members(o, rs.last)
	case pl.how == notation.InRing:
		b.members(o, leg{where: inRing, below: -1})
	case pl.how == notation.InSame:
		if !b.haveSame(pl) {
			return false
		}
		b.members(o, rs.last)
	default:
		return b.places(o)
	}
	return !rs.abort
}

// members works the members of a group in one place.
func (b *builder) members(o *op, l leg) {
	rs := &b.rs
	outer := rs.groupFrom
	if outer == noGroup {
		rs.groupFrom = b.g.nodes.len
	}
	rs.last, rs.hasLast = l, true
	for range o.count {
		if o.def != nil {
			b.countGroup(o.def)
		}
		if !b.steps(o.body) {
			break
		}
	}
	if o.corner && rs.prev >= 0 {
		b.g.nodes.at(rs.prev).flags |= flagCorner
	}
	rs.groupFrom = outer
}

// haveSame reports whether there is a same place, and if not, a finding.
func (b *builder) haveSame(pl *placeOp) bool {
	if b.rs.hasLast {
		return true
	}
	b.fault("no-such-place", pl.node.Span, "nothing has been worked in round %d yet, so there is no same place", b.rs.number)
	b.rs.abort = true
	return false
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
	for range pl.count {
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

// fill works o in one place.
func (b *builder) fill(o *op, l leg) {
	if o.code == opGroup {
		b.members(o, l)
		return
	}
	b.many(o, l)
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
		c = &cursor{edge: b.edgeOf(i)}
		if rs.others == nil {
			rs.others = map[int]*cursor{}
		}
		rs.others[pl.round] = c
	}
	b.align(c)
	return c
}

// align moves a cursor on an earlier round forward to the place straight below
// the cursor of the round below, so that a stitch reaches down where it
// stands. A round that works into the earlier round only is not aligned.
func (b *builder) align(c *cursor) {
	main := &b.rs.cur
	if !main.begun || c.n == 0 {
		return
	}
	id := main.id(main.pos + main.pos&1)
	for id >= c.first+c.n {
		n := b.g.nodes.at(id)
		below, w := n.below, n.where
		if w == onLegs {
			below, w = b.g.legs[n.n].below, b.g.legs[n.n].where
		}
		switch {
		case w == inRing:
			return
		case w == nowhere: // a run of chains hangs from the stitch before it
			if id--; id < 0 {
				return
			}
			continue
		}
		id = below
	}
	if id < c.first {
		return
	}
	k := id - c.first
	if c.reversed {
		k = c.n - 1 - k
	}
	p := 2 * int(k)
	turn := c.turn()
	ahead := ((p-c.pos)%turn + turn) % turn
	if !c.begun {
		c.pos = p
	} else if ahead <= turn/2 && c.pos+ahead < c.limit() {
		c.pos, c.sub = c.pos+ahead, 0
	}
}

// next takes the next place.
func (b *builder) next(o *op, c *cursor) (leg, bool) {
	p, ok := c.find(o.place.what)
	if !ok {
		return leg{}, b.runOut(o, o.place.what, c)
	}
	b.rs.cornered = false
	return b.take1(o, c, p), true
}

// take1 works into place p.
func (b *builder) take1(o *op, c *cursor, p int) leg {
	rs := &b.rs
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
		rs.took |= 1 << what.kind
		if l.where == inStitch {
			rs.took |= 1 << notation.St
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
		rs.passed.add(c.over(from, p))
	}
	if rs.skip.step != nil && c == &rs.cur {
		b.checkSkip(o, c, p)
	}
}

// each takes every place up to the next corner, or to the end of the round.
func (b *builder) each(o *op, c *cursor) bool {
	what := o.place.what
	corner := selector{kind: notation.Corner}
	taken := 0
	for p, limit := c.pos, c.limit(); p < limit; {
		if p&1 == 0 && what.kind != notation.Corner && c.n > 0 && c.match(corner, p) && (c.sub == 0 || p > c.pos) {
			b.stopAtCorner(c, p)
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
	if taken == 0 && (b.rs.nested > 0 || c.has(what) == 0) {
		return b.runOut(o, what, c)
	}
	return true
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
	n := c.solid(first, min(first+int32((c.limit()-c.pos)/2), c.n))
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
		rs.used.add(o.place.what, n)
		rs.last = l
	}
	return n
}

// solid returns how many nodes of the edge, from number first up to last, are
// stitches without a chain space or a corner among them.
func (e *edge) solid(first, last int32) int {
	n := 0
	for first < last {
		block := e.nodes.from(e.first+first, last-first)
		for i := range block {
			if !block[i].isStitch() || block[i].flags&flagCorner != 0 {
				return n + i
			}
		}
		n += len(block)
		first += int32(len(block))
	}
	return n
}

// over works one stitch with legs in several places.
func (b *builder) over(o *op, places int32, same bool) bool {
	rs := &b.rs
	c := b.cursor(&o.place)
	if c == nil {
		return false
	}
	start := int32(len(b.g.legs))
	if same {
		if !b.haveSame(&o.place) {
			return false
		}
		b.g.legs = append(b.g.legs, rs.last)
	}
	for range places {
		l, ok := b.next(o, c)
		if !ok {
			b.g.legs = b.g.legs[:start]
			return false
		}
		b.g.legs = append(b.g.legs, l)
	}
	n := node{n: start, kind: o.kind, where: onLegs}
	if have := int32(len(b.g.legs)) - start; have != int32(b.g.kinds[o.kind].Legs) {
		n.kind = b.legged(o.kind, int(have))
	}
	b.emit(n, o)
	return !rs.abort
}

// legged returns a kind like k that stands on the given number of legs: a
// cluster may be worked over any number of places.
func (b *builder) legged(k uint16, legs int) uint16 {
	kind := b.g.kinds[k]
	for i, other := range b.g.kinds {
		if other.Name == kind.Name && other.Legs == legs {
			return uint16(i)
		}
	}
	kind.Legs = legs
	b.g.kinds = append(b.g.kinds, kind)
	return uint16(len(b.g.kinds) - 1)
}

// many works the stitches of a step in one place.
func (b *builder) many(o *op, l leg) {
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
	rest := o.count - 2
	b.made += int64(rest)
	b.g.nodes.fill(n, rest, 0)
	b.rs.prev += rest
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
	for _, l := range b.legsOf(p) {
		for _, m := range b.legsOf(q) {
			if l.where == m.where && l.below == m.below && (l.where != inChain || l.n == m.n) {
				return true
			}
		}
	}
	return false
}

func (b *builder) legsOf(n *node) []leg {
	if n.where == onLegs {
		return b.g.legs[n.n : int(n.n)+b.g.kinds[n.kind].Legs]
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
	}
	b.g.nodes.add(n)
}

// note remembers how long the starting chain of the next stitch is.
func (b *builder) note(o *op) {
	b.g.starts[b.g.nodes.len] = int32(o.step.(*notation.Chain).Count)
}

func (b *builder) countGroup(def *notation.StitchDef) {
	for i := range b.rs.groups {
		if b.rs.groups[i].def == def {
			b.rs.groups[i].n++
			return
		}
	}
	b.rs.groups = append(b.rs.groups, groupCount{def, 1})
}

// skip passes over places on purpose.
func (b *builder) skip(o *op) bool {
	rs := &b.rs
	c := &rs.cur
	what := o.place.what
	sk := pendingSkip{step: o.step.(*notation.Skip), what: what, from: c.pos, sub: c.sub}
	for i := range o.place.count {
		p, ok := c.find(what)
		if !ok {
			return b.runOut(o, what, c)
		}
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
			rs.passed.add(c.over(from, p))
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

// save and restore of a repeat.
func (b *builder) mark() mark {
	m := b.rs.mark
	m.nodes, m.legs = b.g.nodes.len, int32(len(b.g.legs))
	if m.prev >= 0 {
		m.prevN = b.g.nodes.at(m.prev).n
	}
	return m
}

func (b *builder) back(m mark) {
	for _, id := range []int32{m.prev} {
		if id >= 0 {
			n := b.g.nodes.at(id)
			n.n = m.prevN
			n.flags &^= flagGap
		}
	}
	b.made -= int64(b.g.nodes.len - m.nodes)
	b.g.nodes.len = m.nodes
	b.g.legs = b.g.legs[:m.legs]
	b.rs.mark = m
}

// repeat works its body several times, or until the round closes.
func (b *builder) repeat(o *op) bool {
	b.rs.nested++
	ok := b.repeats(o)
	b.rs.nested--
	return ok
}

func (b *builder) repeats(o *op) bool {
	rs := &b.rs
	var local repeatTries
	tries := &local
	if rs.nested == 1 {
		tries = &rs.tries // for what is said about it at the end of the round
	}
	*tries = repeatTries{op: o, before: rs.used}
	var groups []groupCount
	for o.around || tries.whole < int(o.count) {
		m, usedBefore := b.mark(), rs.used
		groups = append(groups[:0], rs.groups...)
		if b.steps(o.body) {
			tries.whole++
			if tries.whole == 1 {
				tries.first = rs.used
			}
			if o.around && rs.consumed == m.consumed {
				b.noProgress(o)
				return true
			}
			if tries.whole > 1 && o.copyable {
				most := int(o.count) - tries.whole
				if o.around {
					most = noLimit
				}
				tries.whole += b.copies(m, usedBefore, groups, most)
			}
			continue
		}
		if rs.abort {
			return false
		}
		if !o.around && rs.nested > 1 {
			return false // the outermost repeat is what does not fit
		}
		out := rs.out
		rs.out = nil
		fits := rs.consumed == m.consumed
		if tries.whole == 0 {
			tries.first = rs.used
		}
		b.back(m)
		rs.groups = append(rs.groups[:0], groups...)
		if o.around && fits && tries.whole > 0 {
			return true // the round has come to where it began
		}
		b.remainder(tries, out)
		return true
	}
	return true
}

// repeatTries is what is known of a repeat when it stops.
type repeatTries struct {
	op            *op
	whole         int  // times that fit
	before, first uses // places used before the repeat, and after it was worked once
}

const noLimit = 1<<31 - 1

// runOut notes that a step found no place; it always returns false. Where the
// edge has no place of the kind at all, that is reported at once.
func (b *builder) runOut(o *op, what selector, c *cursor) bool {
	rs := &b.rs
	if c.has(what) == 0 {
		b.noneAtAll(o, what, c)
		rs.abort = true
		return false
	}
	e := c.edge
	rs.out = &runOut{op: o, what: what, edge: &e}
	return false
}

// fault reports a finding about the steps of the round. Only the first is
// reported: what follows in the same round would echo it.
func (b *builder) fault(rule string, at notation.Span, format string, args ...any) {
	b.faultWith(nil, rule, at, format, args...)
}

func (b *builder) faultWith(related []notation.Related, rule string, at notation.Span, format string, args ...any) {
	if b.rs.fault {
		return
	}
	b.reportWith(related, rule, at, format, args...)
	b.rs.fault = true
}

// places writes a number of places in words: "3 st", "1 gap".
func (b *builder) count(n int, what selector) string {
	name := what.kind.String()
	switch what.kind {
	case notation.OfStitch:
		name = b.name(what.stitch)
	case notation.Gap, notation.Corner:
		if n != 1 {
			name += "s"
		}
	}
	return fmt.Sprintf("%d %s", n, name)
}
