package pattern

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// count writes what a round holds: the stitches by kind, the spaces by length,
// picots, and what stands on each side where the sides are alike.
func (p *piece) count(i int) string {
	c := p.g.Counts(i)
	var parts, kinds []string
	for _, k := range p.byHeight {
		if n := c.Stitches[k.Name]; n > 0 {
			kinds = append(kinds, p.counted(n, k.Name))
			p.notes.kinds[k.Name] = true
		}
	}
	stitches, separator := strings.Join(kinds, ", "), ", "
	if len(kinds) > 1 {
		separator = "; "
		stitches = fmt.Sprintf("%d sts: %s", c.Total, stitches)
	}
	if stitches != "" {
		parts = append(parts, stitches)
	}
	type space struct {
		corner bool
		chains int
	}
	spaces := map[space]int{}
	corners := 0
	for _, e := range p.g.Entries(i) {
		switch {
		case e.IsStitch():
			if e.Corner() {
				corners++
			}
		case p.kinds[e.Kind()].Name == "ch":
			spaces[space{e.Corner(), e.Chains()}]++
		}
	}
	order := slices.SortedFunc(maps.Keys(spaces), func(a, b space) int {
		if a.corner != b.corner {
			if b.corner {
				return -1
			}
			return 1
		}
		return a.chains - b.chains
	})
	for _, s := range order {
		corner := ""
		if s.corner {
			corner = "corner "
		}
		parts = append(parts, fmt.Sprintf("%d %sch-%d %s", spaces[s], corner, s.chains, plural(spaces[s], "sp", "sps")))
	}
	if corners > 0 {
		parts = append(parts, fmt.Sprintf("%d corner %s", corners, plural(corners, "st", "sts")))
	}
	if c.Picots > 0 {
		parts = append(parts, fmt.Sprintf("%d %s", c.Picots, plural(c.Picots, "picot", "picots")))
	}
	if side := p.side(i); side != "" {
		parts = append(parts, side)
	}
	return strings.Join(parts, separator)
}

// counted is a number of stitches, one included.
func (p *piece) counted(n int, us string) string {
	if n == 1 {
		return "1 " + p.stitch(us)
	}
	return p.stitches(n, us)
}

// side writes what each side of a round holds, where all hold the same.
func (p *piece) side(i int) string {
	if p.g.Round(i).Corners() < 2 {
		return ""
	}
	sides := p.g.Sides(i)
	for _, s := range sides[1:] {
		if !maps.Equal(s.Stitches, sides[0].Stitches) {
			return ""
		}
	}
	if sides[0].Total == 0 {
		return ""
	}
	if len(sides[0].Stitches) == 1 {
		for us, n := range sides[0].Stitches {
			return p.counted(n, us) + " per side"
		}
	}
	return fmt.Sprintf("%d %s per side", sides[0].Total, plural(sides[0].Total, "st", "sts"))
}
