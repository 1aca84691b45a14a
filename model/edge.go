package model

import (
	"example.com/roundel/notation"
)

// An edge is the finished edge of a round as the next one meets it. Its places
// are numbered round and round: 2k is the k-th stitch or space, 2k+1 the gap
// after it. Where the work was turned in between, the edge runs backwards.
type edge struct {
	nodes    *store
	first, n int32
	reversed bool
	round    int // index of its round in the graph, -1 for the foundation
	number   int // its number in the draft, 0 for the ring, or underBorder
	counts   *counts
}

// underBorder is the number of the edge of a panel.
const underBorder = -1

// turn is the number of places in one turn.
func (e *edge) turn() int { return 2 * int(e.n) }

// id returns the stitch at place p (or before it, for a gap) in the order in
// which the round was worked.
func (e *edge) id(p int) int32 {
	k := int32(p >> 1)
	if k >= e.n { // rarely more than one turn
		k %= e.n
	}
	return e.nth(k)
}

// gapID returns the stitch whose flagGap tells of the gap at the odd place p.
func (e *edge) gapID(p int) int32 {
	if e.reversed {
		return e.id(p + 1)
	}
	return e.id(p)
}

// has returns how many places a selector can find on the edge.
func (e *edge) has(s selector) int {
	switch {
	case e.n == 0:
		return 0
	case s.kind == notation.OfStitch:
		return e.counts.kind(s.stitch)
	}
	return e.counts.places(s.kind)
}

// match reports whether place p is one that s picks.
func (e *edge) match(s selector, p int) bool {
	if p&1 == 1 {
		return s.kind == notation.Gap && e.nodes.at(e.gapID(p)).flags&flagGap != 0
	}
	n := e.nodes.at(e.id(p))
	switch s.kind {
	case notation.St:
		return n.isStitch()
	case notation.Sp, notation.Ch:
		return n.isSpace()
	case notation.Corner:
		return n.flags&flagCorner != 0
	case notation.OfStitch:
		return n.kind == s.stitch
	}
	return false
}

// A cursor stands on an edge, before the next place to be worked into.
type cursor struct {
	edge
	start  int // where the round looks first
	pos    int // next place
	sub    int32
	begun  bool
	origin int // the first place worked into or skipped
	last   int // the place taken last, -1 for none
	hook   int // on an earlier round: the place that the hook came to last, -1 for none
}

// limit is where the round must end: one turn after it began.
func (c *cursor) limit() int {
	if c.begun {
		return c.origin + c.turn()
	}
	return c.start + c.turn()
}

// find returns the first place at or after the cursor that s picks, before the
// end of the round; ok is false when there is none.
func (c *cursor) find(s selector) (p int, ok bool) {
	limit := c.limit()
	p = c.pos
	if c.sub > 0 && s.kind != notation.Ch {
		p += 2 - p&1 // leave the run of chains half used
	}
	for ; p < limit; p++ {
		if c.match(s, p) {
			return p, true
		}
	}
	return p, false
}

// chains returns the length of the run of chains at place p.
func (c *cursor) chains(p int) int32 { return c.nodes.at(c.id(p)).n }

// Passed are places that the cursor moved over without using them.
type passed struct {
	stitches, spaces, corners int
	first                     int32 // the first stitch passed, -1 for none
}

// over counts the places between from and to.
func (c *cursor) over(from, to int) passed {
	out := passed{first: -1}
	if from&1 == 1 {
		from++
	}
	for p := from; p < to; p += 2 {
		id := c.id(p)
		n := c.nodes.at(id)
		switch {
		case n.isStitch():
			if out.stitches == 0 {
				out.first = id
			}
			out.stitches++
		case n.isSpace():
			out.spaces++
		default:
			continue
		}
		if n.flags&flagCorner != 0 {
			out.corners++
		}
	}
	return out
}

func (p *passed) add(q passed) {
	if p.stitches == 0 {
		p.first = q.first
	}
	p.stitches += q.stitches
	p.spaces += q.spaces
	p.corners += q.corners
}

// side returns the place just after the last corner, where a side begins; 0
// for an edge without corners.
func (e *edge) side() int {
	if e.n == 0 || e.counts.corners == 0 {
		return 0
	}
	corner := selector{kind: notation.Corner}
	p := e.turn() - 2
	for !e.match(corner, p) {
		p -= 2
	}
	return (p + 1) % e.turn()
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
