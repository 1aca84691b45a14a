package chart

import (
	"fmt"
	"math"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size/pattern"
)

// What is worked beside the stitches of a round, where it begins and is closed,
// is drawn smaller and counts as nothing: the slip stitch that joins the round,
// those that lead on to its first place, and a starting chain that does not
// count. That charts show them is common practice, no source.

// A mark is the kind of such a symbol: what it says in data-seam.
type mark string

const (
	markSlip      mark = "sl st"
	markChain     mark = "ch"
	markInvisible mark = "invisible join"
)

// Where a slip stitch lies from the top of a stitch, in w: on the half of its top
// that the round comes to first, clear of what is worked into it.
const (
	slipAside = 0.22
	slipOut   = 0.13
)

// seam gathers what is worked beside the stitches of a round.
func (s *sheet) seam(i int) []use {
	b := &s.layout.begins[i]
	if b.First >= s.graph.Len() || s.graph.Round(i).Len == 0 {
		return nil
	}
	var list []use
	hue := s.hue(b.First)
	for _, p := range b.Slips {
		list = append(list, s.slip(i, p, hue))
	}
	if s.layout.chainAt(i) > 0 {
		list = append(list, s.uncounted(i, hue))
	}
	first := model.Place{Kind: notation.St, Stitch: b.First}
	switch b.Close {
	case pattern.CloseJoined, pattern.CloseNext:
		list = append(list, s.slip(i, first, hue))
	case pattern.CloseInvisible:
		at, turn := s.onTop(i, first)
		symbol := s.symbol(key{stitch: string(markInvisible), seam: true}, invisibleFigure)
		list = append(list, s.put(use{symbol, at, turn, hue}))
	}
	return list
}

// slip draws a slip stitch of a round into a place.
func (s *sheet) slip(i int, into model.Place, hue int) use {
	at, turn := s.onTop(i, into)
	symbol := s.symbol(key{stitch: string(markSlip), seam: true}, slipFigure)
	return s.put(use{symbol, at, turn, hue})
}

// onTop is where a slip stitch of a round lies on a place, and how far it is
// turned.
func (s *sheet) onTop(i int, into model.Place) (at Point, turn float64) {
	l := s.layout
	back := -1.0 // against the direction of work
	if s.graph.Round(i).Turned {
		back = 1
	}
	if l.isRing(into.Stitch) {
		out := l.ringAngle(max(1, into.Chain))
		return polar(out, l.ring), 90 - degrees(out)
	}
	c := &l.circles[l.round[into.Stitch]]
	out := c.outward(l.turn[into.Stitch])
	top, aside := l.head[into.Stitch], slipAside*c.crowd
	switch arc := l.arcAt[into.Stitch]; {
	case into.Kind == notation.Ch && arc > 0:
		links := l.links(into.Stitch)
		top, aside = links[min(max(into.Chain-1, 0), len(links)-1)].At, 0
	case into.Kind == notation.Gap: // the one that the first stitch stands in
		top, aside = l.feet[l.footAt[l.begins[i].First]], 0
	case arc > 0: // a run: where the round comes to it first
		a := &l.arcs[arc-1]
		u := 0.5 + back*0.5
		top, aside = a.point(u), 0
		out = c.outward(a.from + (a.to-a.from)*u)
	}
	return top.plus(polar(out+back*math.Pi/2, aside)).plus(polar(out, slipOut)), 90 - degrees(out)
}

// uncounted draws the starting chain of a round that does not count, beside its
// first stitch.
func (s *sheet) uncounted(i, hue int) use {
	l, b := s.layout, &s.layout.begins[i]
	c := &l.circles[i]
	head := c.point(c.chain, l.dist[b.First])
	foot := polar(head.angle(), l.ring)
	if at := l.footAt[b.First]; at < l.footAt[b.First+1] {
		switch p := l.places[at]; p.Kind {
		case notation.RingHole, notation.NoPlace:
			foot = foot.nearer(head, overChain)
		default:
			foot = l.feet[at].nearer(head, overStitch)
		}
	}
	axis := foot.towards(head)
	tall := math.Max(leastTall, tenth(head.minus(foot).length()))
	symbol := s.symbol(key{stitch: string(markChain), seam: true, start: b.Chains, tall: tenths(tall)}, func() *figure { return columnFigure(b.Chains, tall, 0.8) })
	return s.put(use{symbol, head.minus(polar(axis, tall)), 90 - degrees(axis), hue})
}

// columnFigure is a column of n chains, so many times as wide as usual.
func columnFigure(n int, tall, wide float64) *figure {
	f := newFigure()
	step := tall / float64(n)
	for i := range n {
		long := math.Min(step/2*0.96, 0.47*chainLong)
		f.oval(Point{0, step * (float64(i) + 0.5)}, long, math.Min(0.17*wide, step/2), math.Pi/2)
	}
	return f
}

// slipFigure is a dot, smaller than that of a slip stitch that counts.
func slipFigure() *figure {
	f := newFigure()
	f.dot(Point{}, 0.13, 0.09)
	return f
}

// invisibleFigure is the loop that a needle makes over the top of the first
// stitch. The drawing is our own.
func invisibleFigure() *figure {
	f := newFigure()
	f.curve(Point{-0.3, -0.06}, Point{0, 0.3}, Point{0.3, -0.06})
	return f
}

// told says in words what is worked at the seam of a round.
func (s *sheet) told(i int) string {
	b := &s.layout.begins[i]
	text := ""
	if n := len(b.Slips); n > 0 {
		text += fmt.Sprintf("; %s to its start", count(n, "slip stitch", "slip stitches"))
	}
	if s.layout.chainAt(i) > 0 {
		text += fmt.Sprintf("; ch %d that does not count", b.Chains)
	}
	switch b.Close {
	case pattern.CloseJoined:
		text += "; joined"
	case pattern.CloseNext, pattern.CloseInvisible:
		text += "; " + string(b.Close)
	}
	return text
}

// explainSeams adds what is worked at the seams of rounds to the legend.
func (s *sheet) explainSeams(l *legend) {
	slips, invisible := false, false
	var lengths []int
	for i := range s.seams {
		b := &s.layout.begins[i]
		slips = slips || len(b.Slips) > 0 || b.Close == pattern.CloseJoined || b.Close == pattern.CloseNext
		invisible = invisible || b.Close == pattern.CloseInvisible
		if s.layout.chainAt(i) > 0 && !slices.Contains(lengths, b.Chains) {
			lengths = append(lengths, b.Chains)
		}
	}
	if slips {
		l.figure("slip stitch, not counted", slipFigure())
	}
	if invisible {
		l.figure("invisible join", invisibleFigure())
	}
	for _, n := range lengths {
		l.figure(fmt.Sprintf("ch %d that does not count", n), columnFigure(n, math.Min(keyStem, chainLong*float64(n)), 0.8))
	}
}
