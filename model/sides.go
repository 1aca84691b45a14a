package model

import (
	"cmp"
	"fmt"

	"example.com/roundel/notation"
)

// What a round does on the sides between the corners of the round below, where
// it does not come out.

// foundNone reports an "each" that has not found a single place in the whole
// round, though there is something on the sides for it to find: stitches that
// the round leaves unworked, or nothing of the kind anywhere. The first round
// of several by the same steps may find nothing yet of what they make.
func (b *builder) foundNone(unworked int) bool {
	rs := &b.rs
	c := &rs.cur
	if unworked > 0 && !c.begun {
		unworked = c.counts.stitches()
	}
	more := rs.work.index == 0 && b.severalRounds()
	return !everyOp(rs.work.ops, func(o *op) bool {
		what, left := o.place.what, unworked
		if what.kind == notation.Gap {
			left = 0 // it works between stitches, not into them
		}
		switch {
		case o.code != opWork && o.code != opGroup || o.place.how != notation.InEach || o.place.count > 0,
			o.found == b.runs || o.place.round > 0 || what.kind == notation.St,
			more && (left == 0 || what.kind != notation.OfStitch):
			return true
		case c.has(what) == 0:
			b.noneAtAll(o, what, c, left)
			return false
		case left > 0 && c.onSides(what) == 0:
			b.noneOnSides(o, what, left)
			return false
		}
		return true
	})
}

// everyOp reports whether all ops, and those in repeats, pass a test.
func everyOp(ops []op, test func(o *op) bool) bool {
	for i := range ops {
		if !test(&ops[i]) || ops[i].code == opRepeat && !everyOp(ops[i].body, test) {
			return false
		}
	}
	return true
}

// onSides counts the places of a kind that are no corners.
func (e *edge) onSides(what selector) int {
	n := e.has(what)
	corner := selector{kind: notation.Corner}
	for p := 0; p < e.turn(); p += 2 {
		if e.match(corner, p) && e.match(what, p) {
			n--
		}
	}
	return n
}

// worksPast reports a round that works into the corners by that name and goes on
// past one that it has not worked into, or takes one as a space like those on
// the sides. failed tells that the round does not come out in any case; then it
// is reported too when it takes more places on a side than there are, be it the
// corner itself.
func (b *builder) worksPast(failed bool) bool {
	rs := &b.rs
	c := &rs.cur
	works := rs.took&(1<<notation.Corner) != 0 || failed && worksCorners(rs.work.ops)
	if !works || rs.passed.corners == 0 && rs.asSpace == nil && !failed {
		return false
	}
	for _, kind := range []notation.PlaceKind{notation.Gap, notation.St, notation.Sp} {
		what := selector{kind: kind}
		u, have, ok := b.sideUse(what)
		switch {
		case !ok || u.worked+u.skipped <= have:
		case have == 0 && u.worked > 0:
			b.noneOnSides(u.step, what, 0)
			return true
		case have > 0 && u.worked > 0:
			write := b.mendSide(&u, have)
			if write != "" {
				write = "write " + write
			} else {
				write = fmt.Sprintf("%d fewer would fit", u.worked+u.skipped-have)
			}
			b.faultWith(b.below(&c.edge), "corner-order", u.where(rs), "each side of %s has %s, and this works into %d%s, on past the corner; %s",
				c.roundBelow(), b.count(have, what), u.worked, u.skips(), write)
			return true
		}
	}
	if o := rs.asSpace; o != nil && o.place.round == 0 {
		what := selector{kind: notation.Sp}
		if c.onSides(what) == 0 {
			b.noneOnSides(o, what, 0)
			return true
		}
		b.faultWith(b.below(&c.edge), "corner-order", o.where(), "a sp taken here is a corner of %s, and this round works into the corners by that name; write in corner, or work into the corner before it",
			c.roundBelow())
		return true
	}
	if past := rs.past; past.op != nil && rs.passed.corners > 0 {
		what := past.op.place.what
		if past.taken == 0 {
			b.faultWith(b.below(&c.edge), "corner-order", past.op.where(), "the next %s lies past a corner of %s that nothing works into; work into the corner before it",
				what.singular(b), c.roundBelow())
			return true
		}
		b.faultWith(b.below(&c.edge), "corner-order", past.op.where(), "this goes on past a corner of %s that nothing works into: only %s lie before it",
			c.roundBelow(), b.count(past.taken, what))
		return true
	}
	return false
}

// noneOnSides reports a step that looks on the sides for a kind of place that
// only corners are.
func (b *builder) noneOnSides(o *op, what selector, unworked int) {
	c := &b.rs.cur
	only := ""
	if n := c.has(what); n > 0 {
		only = fmt.Sprintf(": its %s are the corners", b.count(n, what))
	}
	b.faultWith(b.below(&c.edge), "no-such-place", o.where(), "no side of %s has a %s to work into%s%s",
		c.roundBelow(), b.kindWord(what), only, b.elsewhere(o, what, unworked))
}

// elsewhere says what a step leaves unworked that finds none of the places it
// looks for, and where it should look.
func (b *builder) elsewhere(o *op, what selector, unworked int) string {
	c, says := b.rs.cur.counts, ""
	if unworked > 0 {
		says = fmt.Sprintf("; %s %s left unworked", b.count(unworked, selector{kind: notation.St}), are(unworked))
	}
	switch {
	case o.code == opSkip || o.place.how != notation.InNext && o.place.how != notation.InEach:
	case what.kind == notation.OfStitch && unworked > 0:
		says += ": write " + b.lookFor(o, notation.St)
	case what.kind == notation.Sp && c.corners > 0 && c.gaps > 0 && (unworked == 0 || 2*int(c.gaps) <= c.stitches()):
		says += "; between two groups the place is called gap: " + b.lookFor(o, notation.Gap)
	}
	return says
}

// lookFor writes a step that looks for places of another kind.
func (b *builder) lookFor(o *op, kind notation.PlaceKind) string {
	was := o.place.what
	change := func() { o.place.what = selector{kind: kind} }
	undo := func() { o.place.what = was }
	change()
	words, edits := b.takeWords(o, int(o.place.count))
	undo()
	b.remedy(change, undo, "write "+words, edits...)
	return words
}

// A sideUse is what a repeat with one corner in it uses on the side of it.
type sideUse struct {
	worked, skipped int // places of a kind
	steps           int // that work into them
	step            *op // the last of these
	loop            *op // the repeat in which it is alone, if any
	corners         int
}

// sideUse finds what the last repeat of the round uses of a kind along a side,
// and how many there are on each side; ok is false where that cannot be said,
// or sides are not alike.
func (b *builder) sideUse(what selector) (u sideUse, have int, ok bool) {
	rs := &b.rs
	if rs.lastTop == nil || rs.lastTop.code != opRepeat || !u.add(b, rs.lastTop.body, what, 1, nil) || u.corners != 1 {
		return u, 0, false
	}
	have, alike := rs.cur.perSide(what)
	return u, have, alike
}

// add adds what steps use that are worked so many times, in a repeat of their
// own or in none; false means that it cannot be said.
func (u *sideUse) add(b *builder, ops []op, what selector, times int, loop *op) bool {
	for i := range ops {
		o := &ops[i]
		n := times
		switch pl := &o.place; {
		case o.code == opChain || o.code == opPicot || o.code == opYarn || pl.how == notation.InSame:
			continue
		case o.code == opRepeat && !o.around:
			if !u.add(b, o.body, what, n*int(o.count), o) {
				return false
			}
			continue
		case o.code == opWork && pl.none && o.legs > 1:
			n *= int(o.count) * o.legs
		case o.code == opRepeat || o.code == opTurn || pl.round > 0 || pl.count == 0 || pl.how == notation.InRing || pl.andCh:
			return false
		default:
			n *= int(pl.count)
		}
		switch is := o.place.what; {
		case n > maxStitches:
			return false
		case is.kind == notation.Corner && o.code == opSkip:
			return false
		case is.kind == notation.Corner:
			u.corners += n
		case is != what && (what.kind != notation.St || is.kind != notation.OfStitch || b.rs.cur.has(is) < b.rs.cur.has(what)):
		case o.code == opSkip:
			u.skipped += n
		default:
			u.worked += n
			u.steps++
			u.step, u.loop = o, loop
		}
	}
	return true
}

// where is where a step says how many places it works into, when there are too
// many.
func (u *sideUse) where(rs *roundState) notation.Span {
	switch {
	case u.steps == 1 && u.loop != nil:
		return u.loop.step.(*notation.Repeat).Tail
	case u.steps > 1 && rs.past.op != nil:
		return rs.past.op.step.Range()
	}
	return u.step.step.Range()
}

func (u *sideUse) skips() string {
	if u.skipped == 0 {
		return ""
	}
	return fmt.Sprintf(" and skips %d", u.skipped)
}

// mendSide writes how a side comes out with one step changed, and notes it as
// the remedy; it is empty where several steps could be changed.
func (b *builder) mendSide(u *sideUse, have int) string {
	o, loop := u.step, u.loop
	switch {
	case o == nil:
		return ""
	case loop != nil:
		per := u.worked / max(int(loop.count), 1)
		want := have - u.skipped
		if u.steps > 1 || len(loop.body) > 1 || per == 0 || want <= 0 || want%per > 0 {
			return ""
		}
		n := want / per
		b.changeTimes(loop, n)
		return fmt.Sprintf("[%s] %s", cmp.Or(b.stepWords(o.step), "..."), times(n))
	case o.place.how != notation.InNext && o.place.how != notation.InEach || o.place.none && o.legs > 1:
		return ""
	}
	n := int(o.place.count) + have - u.worked - u.skipped
	if n <= 0 {
		return ""
	}
	was := o.place
	change := func() { o.place.count = int32(n) }
	undo := func() { o.place = was }
	if u.steps > 1 {
		b.remedy(change, undo, "") // any of them may be meant
		return ""
	}
	words, edits := b.takeWords(o, n)
	if u.skipped == 0 && was.what.kind != notation.Corner && b.severalRounds() {
		// The sides of the other rounds have other numbers.
		change = func() { o.place.how, o.place.count = notation.InEach, 0 }
		words, edits = b.takeWords(o, 0)
	}
	b.remedy(change, undo, "write "+words, edits...)
	return words
}

// takeWords writes a step that works into so many places, or into each where
// that is 0, with the edits that make it so.
func (b *builder) takeWords(o *op, places int) (words string, edits []notation.Edit) {
	in, many := "in ", false
	what := o.place.what.plural(b)
	if n := o.place.node; n != nil {
		many = n.How == notation.InEach
		switch n.Loop {
		case notation.BackLoop:
			in = "in back loop of "
		case notation.FrontLoop:
			in = "in front loop of "
		}
	}
	w, _ := o.step.(*notation.Work)
	many = many || w == nil || w.Count > 1 || w.Stitch.Group != nil
	switch {
	case places == 0:
		in += "each " + o.place.what.singular(b)
	case places == 1:
		in += "next " + o.place.what.singular(b)
	case many:
		in += fmt.Sprintf("each of next %d %s", places, what)
	default:
		in += fmt.Sprintf("next %d %s", places, what)
	}
	words = "(...)"
	if w != nil {
		bare := *w
		bare.Place = nil
		words = b.stepWords(&bare)
	}
	switch n := o.place.node; {
	case n != nil:
		edits = []notation.Edit{{Span: n.Span, New: in}}
	case w != nil:
		edits = []notation.Edit{{Span: notation.Span{Start: w.Span.End, End: w.Span.End}, New: " " + in}}
	}
	return words + " " + in, edits
}

// severalRounds reports whether the statement being worked stands for several
// rounds.
func (b *builder) severalRounds() bool {
	r := b.rs.stmt
	return r.Until != nil || lastOf(r) > r.From
}

// perSide counts the places of a kind on a side; alike is false where the sides
// do not have the same number, or there are none.
func (e *edge) perSide(what selector) (n int, alike bool) {
	if e.counts.corners == 0 {
		return 0, false
	}
	corner := selector{kind: notation.Corner}
	here, sides := 0, 0
	for p := e.side(); ; p++ {
		if p&1 == 0 && e.match(corner, p) {
			if sides > 0 && here != n {
				return 0, false
			}
			n, here = here, 0
			if sides++; sides == int(e.counts.corners) {
				return n, true
			}
		} else if e.match(what, p) {
			here++
		}
	}
}

// eachSideHas says of a round that leaves places on every side how many there
// are and what works into all of them; it is empty where that is not so plain.
func (b *builder) eachSideHas(what selector) string {
	u, have, ok := b.sideUse(what)
	if !ok || u.worked == 0 || u.worked+u.skipped >= have {
		return ""
	}
	says := fmt.Sprintf("; each side has %s and %s worked", b.count(have, what), is(u.worked))
	if u.skipped > 0 {
		says = fmt.Sprintf("; each side has %s, of which %s worked and %s skipped", b.count(have, what), is(u.worked), is(u.skipped))
	}
	if words := b.mendSide(&u, have); words != "" {
		return says + ": " + words
	}
	more := have - u.worked - u.skipped
	return fmt.Sprintf("%s; work into %d more, or skip %s by name (sk %s)", says, more, them(more), b.count(more, what))
}
