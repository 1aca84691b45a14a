package model

import (
	"fmt"
	"strings"

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
	r := rs.stmt
	if unworked > 0 && !c.begun {
		unworked = c.counts.stitches()
	}
	more := rs.work.index == 0 && (r.Until != nil || lastOf(r) > r.From)
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
			b.faultWith(b.below(&c.edge), "no-such-place", o.where(), "no side of %s has a %s to work into: its %s are the corners%s",
				c.roundBelow(), b.kindWord(what), b.count(c.has(what), what), b.leaves(what, left))
			return false
		}
		return true
	})
}

// leaves says how many stitches a step leaves unworked that finds none of the
// places it looks for.
func (b *builder) leaves(what selector, stitches int) string {
	if stitches == 0 {
		return ""
	}
	are := "are"
	if stitches == 1 {
		are = "is"
	}
	says := fmt.Sprintf("; %s %s left unworked", b.count(stitches, selector{kind: notation.St}), are)
	if what.kind == notation.OfStitch {
		says += ": write in each st"
	}
	return says
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

// passedCorners reports a round that works into some corners and passes over
// others.
func (b *builder) passedCorners() bool {
	rs := &b.rs
	c := &rs.cur
	if rs.took&(1<<notation.Corner) == 0 || rs.passed.corners == 0 {
		return false
	}
	for _, kind := range []notation.PlaceKind{notation.Gap, notation.St, notation.Sp} {
		what := selector{kind: kind}
		s, have, ok := b.sideStep(what)
		if !ok || s.places <= have || have == 0 {
			continue
		}
		b.faultWith(b.below(&c.edge), "corner-order", s.at, "each side of %s has %s, and this works into %d, on past the corner; write %s",
			c.roundBelow(), b.count(have, what), s.places, s.write(b, have))
		return true
	}
	b.faultWith(b.below(&c.edge), "corner-order", rs.stmt.Head, "round %d works into corners of %s, but passes over %s of its %d on the way to another place; work into every corner, or name it by what it is (in next sp)",
		rs.number, c.roundBelow(), b.count(rs.passed.corners, selector{kind: notation.Corner}), c.counts.corners)
	return true
}

// A sideTake is the step of a repeat that works into the places of a side.
type sideTake struct {
	step   notation.Step // a Work or a Group
	repeat *notation.Repeat
	places int
	at     notation.Span // where their number is said
}

// write writes the step for another number of places.
func (s *sideTake) write(b *builder, places int) string {
	w, ok := s.step.(*notation.Work)
	if s.repeat == nil && ok && w.Count == 1 {
		words := b.stepWords(w)
		words, _, _ = strings.Cut(words, " in ")
		if places == 1 {
			return words + " in next " + w.Place.Kind.String()
		}
		return fmt.Sprintf("%s in next %d %s", words, places, w.Place.Kind)
	}
	words := "..."
	if ok {
		words = b.stepWords(w)
	}
	return fmt.Sprintf("[%s] %s", words, times(places))
}

// sideStep finds, in a repeat that works into the corners, the one step that
// works into places of a kind along a side, and how many there are on each
// side; ok is false where there is no such step, or sides are not alike.
func (b *builder) sideStep(what selector) (take sideTake, have int, ok bool) {
	rs := &b.rs
	if rs.lastTop == nil {
		return take, 0, false
	}
	r, repeats := rs.lastTop.step.(*notation.Repeat)
	if !repeats || r.Times <= 0 && !r.Around {
		return take, 0, false
	}
	found, corners := 0, 0
	for _, s := range r.Steps {
		place, repeat, n := placeOf(s), (*notation.Repeat)(nil), 1
		at := s.Range()
		if inner, is := s.(*notation.Repeat); is {
			if inner.Around || len(inner.Steps) != 1 {
				return take, 0, false
			}
			s, repeat, n, at = inner.Steps[0], inner, inner.Times, inner.Tail
			place = placeOf(s)
		}
		switch s.(type) {
		case *notation.Work, *notation.Group:
		case *notation.Chain:
			if place != nil {
				return take, 0, false
			}
			continue
		default:
			return take, 0, false
		}
		switch {
		case place == nil || place.How != notation.InNext || place.Round > 0:
			return take, 0, false
		case place.Kind == notation.Corner:
			corners++
		case place.Kind == what.kind:
			found++
			take = sideTake{s, repeat, n * int(atLeastOne(place.Count)), at}
		default:
			return take, 0, false
		}
	}
	have, alike := rs.cur.perSide(what)
	return take, have, found == 1 && corners == 1 && alike
}

func placeOf(s notation.Step) *notation.Place {
	switch s := s.(type) {
	case *notation.Work:
		return s.Place
	case *notation.Group:
		return s.Place
	case *notation.Chain:
		return s.Place
	}
	return nil
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
	take, have, ok := b.sideStep(what)
	if !ok || take.places >= have {
		return ""
	}
	return fmt.Sprintf("; each side has %s and %s worked: %s", b.count(have, what), is(take.places), take.write(b, have))
}
