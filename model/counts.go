package model

import (
	"example.com/roundel/notation"
)

// Counts are what a round, or one side of it, holds.
type Counts struct {
	Stitches map[string]int // by American name; chains and picots are not stitches
	Total    int            // all stitches
	Spaces   int            // chain spaces
	Chains   int            // chains in those spaces
	Picots   int
	Corners  int
	Gaps     int
}

// counts is the compact form, by index of kind.
type counts struct {
	kinds   []int32 // by kind, up to the highest kind in the round
	corners int32
	gaps    int32
	chains  int64
	groups  map[*notation.StitchDef]int
}

func (c *counts) kind(k uint16) int {
	if int(k) < len(c.kinds) {
		return int(c.kinds[k])
	}
	return 0
}

func (c *counts) spaces() int { return c.kind(kindCh) }

func (c *counts) stitches() int {
	total := 0
	for k, n := range c.kinds {
		if k > kindPicot {
			total += int(n)
		}
	}
	return total
}

// places returns how many places of a kind there are, 0 for a kind that is none.
func (c *counts) places(kind notation.PlaceKind) int {
	switch kind {
	case notation.St:
		return c.stitches()
	case notation.Sp:
		return c.spaces()
	case notation.Ch:
		return int(c.chains)
	case notation.Gap:
		return int(c.gaps)
	case notation.Corner:
		return int(c.corners)
	}
	return 0
}

func (c *counts) add(n *node) {
	for int(n.kind) >= len(c.kinds) {
		c.kinds = append(c.kinds, 0)
	}
	c.kinds[n.kind]++
	if n.flags&flagCorner != 0 {
		c.corners++
	}
	if n.flags&flagGap != 0 {
		c.gaps++
	}
	if n.isSpace() {
		c.chains += int64(n.n)
	}
}

// addAll adds the nodes from one number up to another.
func (c *counts) addAll(s *store, from, to int32, kinds int) {
	c.kinds = make([]int32, kinds)
	for from < to {
		block := s.from(from, to-from)
		for i := range block {
			n := &block[i]
			c.kinds[n.kind]++
			if n.flags&(flagCorner|flagGap) != 0 {
				c.corners += int32(n.flags & flagCorner)
				c.gaps += int32(n.flags & flagGap / flagGap)
			}
			if n.isSpace() {
				c.chains += int64(n.n)
			}
		}
		from += int32(len(block))
	}
}

func (g *Graph) expand(c *counts) Counts {
	out := Counts{
		Stitches: map[string]int{},
		Total:    c.stitches(), Spaces: c.spaces(), Chains: int(c.chains),
		Picots: c.kind(kindPicot), Corners: int(c.corners), Gaps: int(c.gaps),
	}
	for k, n := range c.kinds {
		if k > kindPicot && n > 0 {
			out.Stitches[g.kinds[k].Name] += int(n)
		}
	}
	return out
}

// Counts returns what a round holds.
func (g *Graph) Counts(round int) Counts { return g.expand(&g.rounds[round].counts) }

// Sides returns what each side of a round holds: everything between one corner
// and the next, the corners themselves belonging to no side. The first side is
// the one the round begins on, or begins with when it begins at a corner. A
// round without corners has no sides.
func (g *Graph) Sides(round int) []Counts {
	sides := g.sides(round)
	out := make([]Counts, len(sides))
	for i := range sides {
		out[i] = g.expand(&sides[i])
	}
	return out
}

func (g *Graph) sides(round int) []counts {
	r := &g.rounds[round]
	n := int(r.counts.corners)
	if n == 0 {
		return nil
	}
	sides, kinds := make([]counts, n), len(r.counts.kinds)
	all := make([]int32, n*kinds)
	for i := range sides {
		sides[i].kinds = all[i*kinds : (i+1)*kinds : (i+1)*kinds]
	}
	// The stitches before the first corner and those after the last are one
	// side; a round that begins at a corner begins with the side after it.
	side, begun := 0, false
	shift := 0
	for id := r.First; id < r.First+r.Len; id++ {
		node := g.nodes.at(int32(id))
		if node.flags&flagCorner != 0 {
			if !begun {
				shift = 1
			}
			side++
			begun = true
			continue
		}
		begun = true
		sides[side%n].add(node)
	}
	if shift == 1 {
		sides = append(sides[1:], sides[0])
	}
	return sides
}
