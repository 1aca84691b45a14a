package model

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/notation"
)

// The findings about the steps of a round, and their words.

// roundBelow is how a message names the round an edge belongs to.
func (e *edge) roundBelow() string {
	switch {
	case e.number == underBorder:
		return "the edge"
	case e.round < 0:
		return "the ring"
	}
	return fmt.Sprintf("round %d", e.number)
}

// noneAtAll reports a step that looks for a kind of place that the round below
// does not have.
func (b *builder) noneAtAll(o *op, what selector, c *cursor, unworked int) {
	at := o.where()
	if c.round < 0 && c.n == 0 && b.isSlip(o) && b.rs.prev >= 0 {
		b.fault("no-such-place", at, "the ring has no stitches to slip into; to close a round write join, or nothing at all")
		return
	}
	if c.round < 0 && c.n == 0 {
		b.fault("no-such-place", at, "round %d works into the ring, which has no stitches or spaces yet; write in ring", b.rs.number)
		return
	}
	hint := b.elsewhere(o, what, unworked)
	if n := c.counts.spaces(); what.kind == notation.Corner && n > 0 {
		hint = "; mark the corners where they are made: corner ch 2"
		if c == &b.rs.cur && c.round >= 0 {
			b.markCorners(&c.edge)
		}
	}
	b.faultWith(b.below(&c.edge), "no-such-place", at, "%s has no %s to work into; it has %s%s",
		c.roundBelow(), b.kindWord(what), b.summary(c.counts), hint)
}

// markCorners notes that all spaces of the round below may be meant to be
// corners.
func (b *builder) markCorners(e *edge) {
	mark := func(corners int32) func() {
		return func() {
			for id := e.first; id < e.first+e.n; id++ {
				if n := e.nodes.at(id); corners > 0 && n.isSpace() {
					n.flags |= flagCorner
				} else {
					n.flags &^= flagCorner
				}
			}
			e.counts.corners = corners
		}
	}
	var edits []notation.Edit
	if r := b.g.rounds[e.round].Statement; r.As == 0 {
		var made []*notation.Chain
		notation.Walk(r, func(n notation.Node) bool {
			if ch, ok := n.(*notation.Chain); ok && ch.As == nil {
				made = append(made, ch)
			}
			return true
		})
		if len(made) == 1 {
			at := made[0].Span.Start
			edits = append(edits, notation.Edit{Span: notation.Span{Start: at, End: at}, New: "corner "})
		}
	}
	b.remedy(mark(int32(e.counts.spaces())), mark(0), "mark the corners of "+e.roundBelow(), edits...)
}

// where is where a step says what it works into.
func (o *op) where() notation.Span {
	if o.place.node != nil {
		return o.place.node.Span
	}
	return o.step.Range()
}

// isSlip reports whether a step makes slip stitches, which in other patterns
// close a round or travel to where the next begins.
func (b *builder) isSlip(o *op) bool {
	return o.code == opWork && b.g.kinds[o.kind].Height == Slip
}

// checkTravel reports slip stitches at the beginning of a round that only travel
// to the middle of a space, when o is about to work into the next space instead
// of that one, or into the chain of the last slip stitch instead of the space.
func (b *builder) checkTravel(o *op) {
	rs := &b.rs
	c := &rs.cur
	if rs.travelled == 0 || rs.travelled != rs.consumedHere || rs.consumed != rs.consumedHere || b.isSlip(o) {
		return
	}
	ops := rs.work.ops
	n := slices.IndexFunc(ops, func(o op) bool { return !b.isSlip(&o) })
	if n <= 0 {
		return
	}
	const why = "a round may begin in any place, and the written pattern says how to get there"
	at := notation.Span{Start: ops[0].step.Range().Start, End: ops[n-1].step.Range().End}
	leaveOut := notation.Edit{Span: notation.Span{Start: at.Start, End: ops[n].step.Range().Start}}
	leave := func(code opcode) func() {
		return func() {
			for i := range n {
				ops[i].code = code
			}
		}
	}
	switch pl := &o.place; {
	case pl.how == notation.InNext && pl.what.kind == notation.Sp && pl.round == 0 && c.sub > 0:
		b.remedy(leave(opLeftOut), leave(opWork), "leave the slip stitches out", leaveOut)
		b.faultWith(b.below(&c.edge), "unworked", at, "these slip stitches only travel to the middle of a space, and in next sp takes the one after it; leave them out: %s", why)
	case pl.how == notation.InSame && pl.node.Kind == notation.Sp && rs.last.where == inChain:
		was := *pl
		next := placeOp{how: notation.InNext, what: selector{kind: notation.Sp}, count: 1, node: pl.node}
		b.remedy(func() { leave(opLeftOut)(); *pl = next }, func() { leave(opWork)(); *pl = was },
			"leave the slip stitches out, and write in next sp", leaveOut, notation.Edit{Span: pl.node.Span, New: "in next sp"})
		b.faultWith(b.below(&c.edge), "no-such-place", at, "these slip stitches only travel to the middle of a space, and same is the chain that the last of them stands in; leave them out and write in next sp: %s", why)
	}
}

// eachToEnd reports a repeat with an "each" that takes all there is of the round
// below, as no corner ends it, where the repeat is meant to be worked so many
// times.
func (b *builder) eachToEnd(t *repeatTries, meant int) bool {
	c := &b.rs.cur
	if t.whole > 1 || meant < 2 || c.counts.corners > 0 || c.round < 0 {
		return false
	}
	return !everyOp(t.op.body, func(o *op) bool {
		pl := &o.place
		if o.code != opWork && o.code != opGroup || pl.how != notation.InEach || pl.count > 0 || pl.round > 0 {
			return true
		}
		have := c.has(pl.what)
		corner := "corner"
		if n := c.counts.spaces(); n > 0 && c.counts.chains%int64(n) == 0 {
			corner = fmt.Sprintf("corner ch %d", c.counts.chains/int64(n))
		}
		fix := fmt.Sprintf("mark the corners in %s (%s)", c.roundBelow(), corner)
		if n := have / meant; n > 0 && have%meant == 0 && !pl.andCh {
			fix += ", or count: " + b.countEach(o, n)
		}
		b.faultWith(b.below(&c.edge), "repeat-remainder", o.where(), "each goes to the end of %s, where no corner is marked, so that all %s are taken at once; %s",
			c.roundBelow(), b.count(have, pl.what), fix)
		return false
	})
}

// countEach writes an "each" as so many of the next places, and notes that as the
// remedy.
func (b *builder) countEach(o *op, n int) string {
	pl := &o.place
	was := *pl
	change := func() { pl.how, pl.count = notation.InNext, int32(n) }
	undo := func() { *pl = was }
	change()
	node := *pl.node
	node.How = notation.InNext
	pl.node = &node
	words, edits := b.takeWords(o, n)
	undo()
	b.remedy(change, undo, "write "+words, edits...)
	return words
}

// takenAtOnce reports a repeat on a side whose second turn finds nothing, as an
// "each" in it has taken all there is in the first.
func (b *builder) takenAtOnce(t *repeatTries) {
	c := &b.rs.cur
	everyOp(t.op.body, func(o *op) bool {
		pl := &o.place
		n := t.first.of(pl.what) - t.before.of(pl.what)
		if o.code != opWork && o.code != opGroup || pl.how != notation.InEach || pl.count > 0 || pl.round > 0 || n == 0 {
			return true
		}
		all := "all " + b.count(n, pl.what)
		if n == 1 {
			all = "the only " + pl.what.singular(b)
		}
		of, fix := c.roundBelow(), "work this once, without a repeat"
		if c.counts.corners > 0 {
			of = "the side"
		}
		if turns := int(t.op.count); n%turns == 0 && !pl.andCh {
			fix = "write " + b.countEach(o, n/turns)
		}
		b.faultWith(b.below(&c.edge), "repeat-remainder", o.where(), "the first turn takes %s of %s, and none is left for the second; %s", all, of, fix)
		return false
	})
}

// eachPastCorners reports a repeat with an "each st and ch" that takes all there
// is the first time, as the round works into no corner, where the repeat is
// meant to be worked once for each side.
func (b *builder) eachPastCorners(t *repeatTries) bool {
	c := &b.rs.cur
	corners := int(c.counts.corners)
	if t.whole > 1 || t.op.around || t.op.count < 2 || corners%int(t.op.count) != 0 || c.round < 0 && c.number != underBorder {
		return false
	}
	return !everyOp(t.op.body, func(o *op) bool {
		pl := &o.place
		if o.code != opWork && o.code != opGroup || pl.how != notation.InEach || pl.count > 0 || pl.round > 0 || !pl.andCh || !pl.through {
			return true
		}
		b.faultWith(b.below(&c.edge), "corner-order", o.where(), "each st and ch goes on past the %s of %s, as nothing works into them, and takes all there is the first time; work into the corners%s",
			count(corners, "corner"), c.roundBelow(), b.cornerExample(times(corners)))
		return false
	})
}

func (b *builder) kindWord(what selector) string {
	switch what.kind {
	case notation.Sp:
		return "chain space"
	case notation.Gap:
		return "gap between groups"
	case notation.St:
		return "stitch"
	case notation.Ch:
		return "chain"
	case notation.OfStitch:
		return b.name(what.stitch)
	}
	return what.kind.String()
}

// noPlace reports a step outside any repeat that ran out of places.
func (b *builder) noPlace() {
	rs := &b.rs
	out := rs.out
	if out == nil || b.foundNone(0) {
		return
	}
	rs.out = nil
	o := out.op
	at := o.where()
	have := out.edge.has(out.what)
	left := rs.consumed - rs.topConsumed
	switch {
	case b.isSlip(o) && o.place.count == 1:
		b.faultWith(b.below(out.edge), "no-such-place", at, "the round is complete before this slip stitch; to close a round write join, or nothing at all")
	case o.place.count > 1:
		b.faultWith(b.below(out.edge), "no-such-place", at, "this asks for %s, and of the %s of %s only %d are left",
			b.count(int(o.place.count), out.what), b.count(have, out.what), out.edge.roundBelow(), left)
	default:
		all := "all " + b.count(have, out.what) + " of " + out.edge.roundBelow() + " are"
		if have == 1 {
			all = "the only one of " + out.edge.roundBelow() + " is"
		}
		b.faultWith(b.below(out.edge), "no-such-place", at, "no %s is left here: %s used up or passed", b.kindWord(out.what), all)
	}
}

// noProgress reports a repeat that goes around without using a place.
func (b *builder) noProgress(o *op) {
	tail := o.step.(*notation.Repeat).Tail
	switch {
	case b.foundNone(0):
	case b.rs.cornered:
		b.faultWith(b.below(&b.rs.cur.edge), "corner-order", tail, "each ends at the corner, and nothing works into it, so this repeat never gets round; work into the corner%s", b.cornerExample("around"))
	case b.rs.hasLast && b.rs.last.where == inRing:
		b.fault("repeat-remainder", tail, "a ring takes any number of stitches, so around has no end here; say how many times")
	default:
		b.fault("repeat-remainder", tail, "this repeat works into no new place, so around has no end here; say how many times")
	}
}

// remainder reports a repeat that does not fit the round below.
func (b *builder) remainder(t *repeatTries, out *runOut) {
	if b.rs.fault || b.foundNone(0) {
		return
	}
	r := t.op.step.(*notation.Repeat)
	e, what := out.edge, out.what
	if b.rs.lastTop = b.rs.top; b.worksPast(true) || b.eachToEnd(t, int(t.op.count)) || b.eachPastCorners(t) {
		return
	}
	if corner := (selector{kind: notation.Corner}); t.whole > 0 && t.first.of(corner) > t.before.of(corner) && e.has(what) > 0 {
		if n := t.first.of(corner) - t.before.of(corner); t.before.of(corner)+n*t.whole == e.has(corner) {
			what = corner // every corner is worked into
		}
	}
	have := e.has(what)
	before := t.before.of(what)
	per := t.first.of(what) - before
	left := have - before - per*t.whole
	related := b.below(e)
	after := ""
	if before > 0 {
		after = fmt.Sprintf(" after the %d used before it", before)
	}
	switch {
	case t.whole == 0:
		if have-before <= 0 {
			b.faultWith(related, "repeat-remainder", r.Tail, "nothing is left for this repeat: the %s of %s are used before it",
				b.count(have, what), e.roundBelow())
			return
		}
		b.faultWith(related, "repeat-remainder", r.Tail, "this repeat does not fit even once: it needs more %s than the %d that %s has%s",
			what.plural(b), have-before, e.roundBelow(), after)
	case per <= 0 || left < 0 || left > have || r.Around && left%per == 0:
		b.faultWith(related, "repeat-remainder", r.Tail, "this repeat fits %s; then the %s of %s run out in the middle of it",
			times(t.whole), what.plural(b), e.roundBelow())
	case r.Around:
		b.faultWith(related, "repeat-remainder", r.Tail, "the repeat does not close: it uses %s, and %s has %d%s; %s %s %d and %s left over (%d or %d would fit)",
			b.count(per, what), e.roundBelow(), have, after, count(t.whole, "repeat"), verb(t.whole, "use"), per*t.whole,
			is(left), have-left, have-left+per)
	default:
		fix := fmt.Sprintf("%s %s %d over", times(t.whole), verb(t.whole, "leave"), left)
		if left == 0 {
			fix = fmt.Sprintf("%s would close the round", times(t.whole))
			b.changeTimes(t.op, t.whole)
		}
		b.faultWith(related, "repeat-remainder", r.Tail, "%s are too many: the repeat uses %s, %d in all, and %s has %d%s; %s",
			times(int(t.op.count)), b.count(per, what), per*int(t.op.count), e.roundBelow(), have, after, fix)
	}
}

// plural names several places of a kind.
func (s selector) plural(b *builder) string {
	switch s.kind {
	case notation.OfStitch:
		return b.name(s.stitch)
	case notation.Gap, notation.Corner:
		return s.kind.String() + "s"
	}
	return s.kind.String()
}

func times(n int) string { return count(n, "time") }

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func verb(n int, v string) string {
	if n == 1 {
		return v + "s"
	}
	return v
}

func is(n int) string { return fmt.Sprintf("%d %s", n, are(n)) }

func are(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func them(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

// checkSkip compares where an explicit skip ended with the place that o now
// works into.
func (b *builder) checkSkip(o *op, c *cursor, p int) {
	sk := b.rs.skip
	b.rs.skip.step = nil
	short := c.countMatches(sk.what, sk.to, sk.toSub, p, 0)
	if short == 0 {
		return
	}
	// What would have arrived, counted from where the skip began.
	target := o.place.what
	n := int(sk.step.Count)
	fix := fmt.Sprintf("sk %s would", b.count(n+short, sk.what))
	if near, ok := c.nearest(target, sk); ok {
		if d := c.countMatches(sk.what, sk.from, sk.sub, near, 0); d > 0 && n-d <= short && d != n+short {
			fix = fmt.Sprintf("sk %s would arrive at the first one, sk %s at this one", b.count(d, sk.what), b.count(n+short, sk.what))
		}
	}
	b.faultWith(b.below(&c.edge), "skip-miss", sk.step.Range(), "this skip does not arrive at the next %s of %s that is worked into: %s %s between; %s",
		target.singular(b), c.roundBelow(), b.count(short, sk.what), verb(short, "lie"), fix)
}

func (s selector) singular(b *builder) string {
	if s.kind == notation.OfStitch {
		return b.name(s.stitch)
	}
	return s.kind.String()
}

// countMatches counts the places that s picks from place p (chain sub of it)
// up to place q (chain qsub of it).
func (c *cursor) countMatches(s selector, p int, sub int32, q int, qsub int32) int {
	n := 0
	for ; p < q; p++ {
		if p&1 == 0 && s.kind == notation.Ch && c.match(s, p) {
			n += int(c.chains(p) - sub)
		} else if (sub == 0 || s.kind == notation.Ch) && c.match(s, p) {
			n++
		}
		sub = 0
	}
	return n + int(qsub)
}

// nearest returns the first place that s picks at or after the start of a
// skip.
func (c *cursor) nearest(s selector, sk pendingSkip) (int, bool) {
	for p := sk.from; p < sk.to; p++ {
		if c.match(s, p) {
			return p, true
		}
	}
	return 0, false
}

// checkClosed looks, at the end of a round, for places that the round should
// have used.
func (b *builder) checkClosed() {
	rs := &b.rs
	c := &rs.cur
	if rs.fault {
		return
	}
	if b.g.nodes.len == rs.first && !(rs.cornered && rs.lastTop != nil) {
		b.faultWith(b.below(&c.edge), "unworked", rs.stmt.Head, "round %d makes nothing: no stitch and no chain", rs.number)
		return
	}
	if rs.lastTop == nil {
		return
	}
	from := c.pos
	if c.sub > 0 {
		from += 2
	}
	rest := rs.ahead(from)
	if b.foundNone(rs.passed.stitches + rest.stitches) {
		return
	}
	works := func(k notation.PlaceKind) bool { return rs.took&(1<<k) != 0 }
	last := rs.lastTop.step.Range()

	if rs.cornered && rest.corners > 0 && !rs.shortOfCorners(rest) {
		b.faultWith(b.below(&c.edge), "corner-order", last, "each ends at a corner of %s, with %s and %s still ahead; work into the corners%s",
			c.roundBelow(), b.count(rest.corners, selector{kind: notation.Corner}), b.count(rest.stitches, selector{kind: notation.St}), b.cornerExample(times(int(c.counts.corners))))
		return
	}
	if !c.begun || b.worksPast(false) {
		return
	}
	if t := &rs.tries; rs.lastTop == t.op && t.op.around && works(notation.Sp) && rs.passed.spaces > 0 && b.eachToEnd(t, c.counts.spaces()) {
		return
	}
	var left selector
	n := 0
	switch {
	case rs.passed.stitches == 0 && rs.shortOfCorners(rest):
		left, n = selector{kind: notation.Corner}, rest.corners
	case works(notation.St) && rs.passed.stitches+rest.stitches > 0:
		left, n = selector{kind: notation.St}, rest.stitches
		if rs.passed.stitches > 0 {
			b.unworked(rs.passed, rest)
			return
		}
	case works(notation.Corner) && rest.corners > 0:
		left, n = selector{kind: notation.Corner}, rest.corners
	case (works(notation.Sp) || works(notation.Ch)) && rs.passed.spaces == 0 && (rest.spaces > 0 || c.sub > 0):
		left, n = selector{kind: notation.Sp}, rest.spaces
		if works(notation.Ch) {
			left.kind = notation.Ch
			n = c.countMatches(left, c.pos, c.sub, c.limit(), 0)
		}
	case rs.asked&^(1<<notation.Corner) == 1<<notation.Gap: // gaps between stitches that are worked into are passed silently
		left = selector{kind: notation.Gap}
		if c.countMatches(left, c.pos, 0, c.limit(), 0) > 0 {
			n = c.has(left) - rs.used.of(left) // those passed on the way to a corner as well
		}
	}
	if n > 0 {
		b.leftOver(left, n)
		return
	}
	if sk := rs.skip; sk.step != nil {
		if short := c.countMatches(sk.what, sk.to, sk.toSub, c.limit(), 0); short > 0 {
			b.faultWith(b.below(&c.edge), "skip-miss", sk.step.Range(), "this skip does not arrive where the round began: %s %s between; sk %s would",
				b.count(short, sk.what), verb(short, "lie"), b.count(int(sk.step.Count)+short, sk.what))
		}
	}
}

// shortOfCorners reports a round that ends in a repeat which works into every
// corner it comes to, and stops before the last of them.
func (rs *roundState) shortOfCorners(rest passed) bool {
	r, ok := rs.lastTop.step.(*notation.Repeat)
	corner := selector{kind: notation.Corner}
	before := rs.tries.before.of(corner)
	per := rs.tries.first.of(corner) - before
	return ok && !r.Around && rs.tries.op == rs.lastTop && per > 0 && rest.corners > 0 &&
		before+per*rs.tries.whole+rest.corners == int(rs.cur.counts.corners) && rest.corners%per == 0
}

// cornerExample shows how a round works into the corners, in the words of the
// draft and with its own stitch. It is empty where that would not do: where a
// corner may point inwards, or the round works groups into spaces or gaps.
func (b *builder) cornerExample(tail string) string {
	rs := &b.rs
	if b.inwards || rs.asked&(1<<notation.Gap|1<<notation.Sp) != 0 {
		return ""
	}
	us := b.ownStitch()
	name, corner := b.draft.Terms.Name(us), "2 "+b.draft.Terms.Name(us)
	if us == "sc" {
		corner = name // a short stitch needs fewer to turn the corner
	}
	each := "each st"
	if !everyOp(rs.work.ops, func(o *op) bool { return !o.place.andCh }) {
		each = "each st and ch"
	}
	return fmt.Sprintf(": [%s in %s, (%s, corner ch 2, %s) in corner] %s", name, each, corner, corner, tail)
}

// ownStitch is the plain stitch that the round being worked is made of, or else
// most of the round below, in American terms.
func (b *builder) ownStitch() string {
	var own string
	var look func(steps []notation.Step)
	look = func(steps []notation.Step) {
		for _, s := range steps {
			switch s := s.(type) {
			case *notation.Work:
				parts, ok := notation.US.Parse(b.us(s.Stitch))
				if kind, found := Lookup(parts.Base); own == "" && ok && found && kind.Height != Slip && isPlain(parts.Base) {
					own = parts.Base
				}
			case *notation.Group:
				look(s.Members)
			case *notation.Repeat:
				look(s.Steps)
			}
		}
	}
	steps, _ := b.stepsOf(b.rs.stmt, b.rs.number)
	if look(steps); own != "" {
		return own
	}
	most := int32(0)
	for k, n := range b.rs.cur.counts.kinds {
		if name := b.g.kinds[k].Name; k > kindPicot && n > most && isPlain(name) {
			own, most = name, n
		}
	}
	return cmp.Or(own, "dc")
}

// isPlain reports whether a stitch, in American terms, is one that whole rounds
// are made of.
func isPlain(us string) bool {
	return slices.Contains([]string{"sc", "hdc", "dc", "tr", "dtr", "trtr"}, us)
}

// ahead counts the places from p to the end of the round. Places skipped by
// name before the first one worked into come round again at the end; they may
// be worked into or not.
func (rs *roundState) ahead(p int) passed {
	c := &rs.cur
	if rs.lead.to == 0 {
		return c.over(p, c.limit())
	}
	from, to := rs.lead.from+c.turn(), rs.lead.to+c.turn()
	rest := c.over(p, min(from, c.limit()))
	rest.add(c.over(max(p, to), c.limit()))
	return rest
}

// unworked reports stitches that the round passed over without a word.
func (b *builder) unworked(passed, rest passed) {
	rs := &b.rs
	c := &rs.cur
	n := passed.stitches + rest.stitches
	at := passed.first - c.first
	if c.reversed {
		at = c.n - 1 - at
	}
	place := c.countMatches(selector{kind: notation.St}, 0, 0, 2*int(at)+1, 0)
	fix := fmt.Sprintf("work into %s, or skip %s by name (sk 1 st)", them(n), them(n))
	if chain, ok := rs.begins.(*notation.Chain); ok && chain.As != nil && chain.Place == nil && rs.consumedSt == 1 {
		fix = fmt.Sprintf("only the starting chain works into a stitch; say where it stands: ch %d as %s in next sp", chain.Count, chain.As.Text)
	}
	first := fmt.Sprintf("the first of them st %d", place)
	if n == 1 {
		first = fmt.Sprintf("st %d", place)
	}
	if rs.slips > 0 && rs.slips == rs.consumedSt {
		fix = "only slip stitches work into stitches here; leave them out, for a round may begin in any place"
	}
	if side := b.eachSideHas(selector{kind: notation.St}); side != "" {
		fix = strings.TrimPrefix(side, "; ")
	}
	b.faultWith(b.below(&c.edge), "unworked", rs.stmt.Head, "round %d leaves %d of the %s of %s unworked, %s; %s",
		rs.number, n, b.count(c.has(selector{kind: notation.St}), selector{kind: notation.St}), c.roundBelow(), first, fix)
}

// leftOver reports places at the end of a round.
func (b *builder) leftOver(what selector, n int) {
	rs := &b.rs
	c := &rs.cur
	have := c.has(what)
	at := rs.lastTop.step.Range()
	if r, ok := rs.lastTop.step.(*notation.Repeat); ok && !r.Around {
		per := rs.tries.first.of(what) - rs.tries.before.of(what)
		before := rs.tries.before.of(what)
		// Places skipped before the first one come round again at the end.
		again := 0
		if rs.lead.to > 0 {
			again = c.countMatches(what, rs.lead.from, 0, rs.lead.to, 0)
		}
		if per > 0 && before+per*rs.tries.whole+n == have && b.eachSideHas(what) == "" {
			left := n + again
			fix := fmt.Sprintf("%d or %d would fit", have-left%per, have-left%per+per)
			if left%per == 0 {
				fix = fmt.Sprintf("%s, or around, would close the round", times(rs.tries.whole+left/per))
				if words := b.spacesMeant(what, per); words != "" {
					fix = fmt.Sprintf("%s has %s: %s", c.roundBelow(), b.count(c.counts.spaces(), selector{kind: notation.Sp}), words)
				} else {
					b.changeTimes(rs.lastTop, rs.tries.whole+left/per)
				}
			}
			b.faultWith(b.below(&c.edge), "repeat-remainder", r.Tail, "the round stops short: the repeat uses %s, %s %s %d; %s has %d, so %s left over; %s",
				b.count(per, what), times(rs.tries.whole), verb(rs.tries.whole, "make"), per*rs.tries.whole, c.roundBelow(), have, is(n), fix)
			return
		}
		b.faultWith(b.below(&c.edge), "repeat-remainder", r.Tail, "the round stops short: worked %s, the repeat leaves %s of the %d of %s%s",
			times(rs.tries.whole), b.count(n, what), have, c.roundBelow(), b.eachSideHas(what))
		return
	}
	b.faultWith(b.below(&c.edge), "unworked", at, "round %d ends here, with %s of the %d of %s still ahead; work into %s, or skip %s by name (sk %s)",
		rs.number, b.count(n, what), have, c.roundBelow(), them(n), them(n), b.count(n, what))
}

// spacesMeant writes the one step of the last repeat that takes stitches as one
// that takes spaces, and notes that as the remedy, where there are just as many
// of these as the repeat needs, and the round makes what it claims as it is. It
// is empty elsewhere.
func (b *builder) spacesMeant(what selector, per int) string {
	rs := &b.rs
	if what.kind != notation.St || rs.cur.counts.spaces() != per*rs.tries.whole {
		return ""
	}
	var step *op
	for i := range rs.lastTop.body {
		switch o := &rs.lastTop.body[i]; {
		case o.code == opChain || o.code == opPicot || o.code == opYarn || o.place.how == notation.InSame:
		case step != nil || o.code != opWork && o.code != opGroup || o.place.how != notation.InNext || o.place.what != what || o.place.round > 0 || int(o.place.count) != per:
			return ""
		default:
			step = o
		}
	}
	if step == nil || rs.stmt.Claim == nil && step.code != opGroup {
		return ""
	}
	if rs.stmt.Claim != nil {
		var made counts
		made.addAll(&b.g.nodes, rs.first, b.g.nodes.len, len(b.g.kinds))
		for _, item := range rs.stmt.Claim.Items {
			if n, ok := claimedCount(item, rs.work.index); ok && !item.PerSide && b.counted(item, &made) != n {
				return ""
			}
		}
	}
	return b.lookFor(step, notation.Sp)
}
