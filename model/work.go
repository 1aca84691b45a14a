package model

import (
	"fmt"

	"example.com/roundel/notation"
)

// A roundState is the round being worked.
type roundState struct {
	work   *work
	stmt   *notation.Round
	number int
	first  int32 // the round's first stitch
	mark
	others map[int]*cursor // cursors on earlier rounds, by number
	used   uses
	groups []groupCount

	groupFrom   int32       // first stitch of the group being worked, or a number past all
	nested      int         // repeats around the step being worked
	pass        int         // consumed when the innermost of them was begun once more
	took        uint16      // bits of the kinds of places worked into on the round below
	asked       uint16      // bits of the kinds of places that were asked for
	top         *op         // the step of the round being worked
	tries       repeatTries // of the last repeat that was no part of another
	topConsumed int         // consumed when the step of the round began
	lastTop     *op         // the last one that used places of the round below
	taken       int         // places that the step being worked has taken
	cornered    bool        // the last places taken were "each", up to a corner

	begins     notation.Step // the first step
	consumedSt int           // stitches of the round below worked into
	slips      int           // of those, by slip stitches
	travelled  int           // places of all kinds that slip stitches were worked into

	past struct { // the first step that went past a corner
		op    *op
		taken int // places before the corner
	}
	remedy *remedy // what would make the round come out, if one change of a step would

	out   *runOut // why the steps stopped, until somebody deals with it
	fault bool    // a finding about the steps was reported; others would echo
	abort bool    // the rest of the round cannot be worked
}

const noGroup = int32(1<<31 - 1)

// run works the steps of a round, adds the round to the graph and returns the
// findings about it.
func (b *builder) run(w *work) []notation.Finding {
	from := len(b.findings)
	rs := &b.rs
	*rs = roundState{work: w, stmt: w.stmt, number: w.number, groupFrom: noGroup, groups: rs.groups[:0]}
	b.runs++
	ops := w.ops
	rs.cur = cursor{edge: b.base, pos: w.from, start: w.from, last: -1}
	rs.first = b.g.nodes.len
	if len(ops) > 0 {
		rs.begins = ops[0].step
	}
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
		b.checkGroups(w)
		b.checkClosed()
	}
	w.mended = w.mended || rs.fault || w.c.unknown
	b.addRound(w.stmt, w.number, rs.first, Worked)
	if !b.stopped {
		b.checkClaim(w)
	}
	b.yarnNow = rs.yarn
	if b.succession == notation.Turned || len(ops) > 0 && ops[len(ops)-1].code == opTurn {
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

// tooMany ends the work for good, because of the stitches made.
func (b *builder) tooMany() {
	b.tooMuch("round %d takes the draft past the %d stitches and chains allowed; the rest is not worked")
}

func (b *builder) tooMuch(format string) {
	if !b.stopped {
		b.report("limit", b.rs.stmt.Head, format, b.rs.number, b.limits.Stitches)
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
	if b.ops++; !b.goOn() || b.rs.abort {
		return false
	}
	b.rs.taken = 0
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
	if pl.none && o.legs > 1 {
		for range o.count {
			if !b.over(o, int32(o.legs), false) {
				return false
			}
		}
		return true
	}
	if pl.none && rs.cur.round < 0 && rs.cur.number != underBorder && o.flags&flagStart != 0 {
		return b.inRing(o)
	}
	switch pl.how {
	case notation.InRing:
		return b.inRing(o)
	case notation.InSame:
		l, ok := b.same(o)
		if !ok {
			return false
		}
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

// same is the place last worked into, with the loop that o takes of it.
func (b *builder) same(o *op) (l leg, ok bool) {
	if !b.haveSame(o) {
		return leg{}, false
	}
	l = b.rs.last
	l.flags = o.place.flags
	return l, true
}

func (b *builder) inRing(o *op) bool {
	if !b.haveRing(o) {
		return false
	}
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
		if !b.haveRing(o) {
			return false
		}
		b.members(o, leg{where: inRing, below: -1})
	case pl.how == notation.InSame:
		l, ok := b.same(o)
		if !ok {
			return false
		}
		b.members(o, l)
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
		if len(o.body) == 0 || !b.steps(o.body) {
			break
		}
	}
	if o.corner && rs.prev >= 0 {
		b.g.nodes.at(rs.prev).flags |= flagCorner
	}
	rs.groupFrom = outer
}

// haveRing reports whether there is a ring, and if not, a finding.
func (b *builder) haveRing(o *op) bool {
	if !b.g.onEdge() {
		return true
	}
	b.fault("no-such-place", o.where(), "a border has no ring; its first round works into the stitches, spaces and corners of the edge")
	b.rs.abort = true
	return false
}

// haveSame reports whether there is a same place, and if not, a finding.
func (b *builder) haveSame(o *op) bool {
	if b.rs.hasLast {
		b.checkTravel(o)
		return true
	}
	b.fault("no-such-place", o.place.node.Span, "nothing has been worked in round %d yet, so there is no same place", b.rs.number)
	b.rs.abort = true
	return false
}

// fill works o in one place.
func (b *builder) fill(o *op, l leg) {
	if o.code == opGroup {
		b.members(o, l)
		return
	}
	b.many(o, l)
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

// count writes a number of places in words: "3 st", "1 gap".
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
