package notationtest

import "example.com/roundel/model"

// An independent reading of the notation, to hold package model against. It
// never makes a stitch: a round is one repeat, written down as stretches, and
// the number of times it is worked.

// A stretch is a part of a repeat: groups of stitches, each group in one
// place; or one run of chains; or picots, which leave no place.
type stretch struct {
	kind   string // "" for chains
	groups int    // groups of stitches side by side
	size   int    // stitches in a group
	place  int    // stretches with the same number, but not 0, share a place
	chains int
	picots int
	corner bool
}

func stitches(kind string, n int) stretch { return stretch{kind: kind, groups: n, size: 1} }

func inOne(kind string, n, place int) stretch {
	return stretch{kind: kind, groups: 1, size: n, place: place}
}

func chains(n int) stretch { return stretch{chains: n} }

func (s stretch) asCorner() stretch {
	s.corner = true
	return s
}

// An edge is that of a round: a repeat and how often it stands there. An edge
// with corners has one in every repeat.
type edge struct {
	unit  []stretch
	times int
	named int // named groups in a repeat
}

// counts works out what the edge holds, by the rules of the notation: spaces
// are runs of chains, a gap stands between neighbours that share no place and
// have no chains between them.
func (e edge) counts() model.Counts {
	c := model.Counts{Stitches: map[string]int{}}
	var first, last *stretch
	for i := range e.unit {
		s := &e.unit[i]
		c.Picots += s.picots
		if s.corner {
			c.Corners++
		}
		switch {
		case s.chains > 0:
			c.Spaces++
			c.Chains += s.chains
		case s.groups > 0:
			c.Stitches[s.kind] += s.groups * s.size
			c.Total += s.groups * s.size
			c.Gaps += s.groups - 1
		default:
			continue
		}
		if last != nil && apart(last, s) {
			c.Gaps++
		}
		if first == nil {
			first = s
		}
		last = s
	}
	for kind := range c.Stitches {
		c.Stitches[kind] *= e.times
	}
	for _, n := range []*int{&c.Total, &c.Spaces, &c.Chains, &c.Picots, &c.Corners, &c.Gaps} {
		*n *= e.times
	}
	// From one repeat to the next, and from the end to the beginning.
	switch {
	case first == nil || first.chains > 0 || last.chains > 0:
	case e.times > 1:
		c.Gaps += e.times
	case first == last && first.groups > 1, first != last && apart(last, first):
		c.Gaps++
	}
	return c
}

// apart reports whether a gap stands between two neighbouring stretches.
func apart(a, b *stretch) bool {
	return a.chains == 0 && b.chains == 0 && (a.place == 0 || a.place != b.place)
}

// side is what lies between two corners, without the gaps.
func (e edge) side() model.Counts {
	inner := edge{times: 1}
	for _, s := range e.unit {
		if !s.corner {
			inner.unit = append(inner.unit, s)
		}
	}
	c := inner.counts()
	c.Gaps = 0
	return c
}
