package check

import (
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// The rules about corners and sides. They look at the worked stitches, so that
// a repeat written in another way gives the same verdict, and leave alone
// rounds that do not work out and all above them.

// sound returns the rounds up to the first that does not work out or is not
// what the designer believes: to judge the shape of those that stand on it
// would only say the same again.
func (p *Pass) sound() []int {
	if p.shared.sound == nil {
		p.shared.sound = []int{}
		for i, r := range p.Graph.Rounds() {
			if r.Status != model.Worked || p.shared.faulty[r.Number] {
				break
			}
			p.shared.sound = append(p.shared.sound, i)
		}
	}
	return p.shared.sound
}

// rotates reports whether a round looks the same n times round, n being the
// number of corners of the outline.
func (p *Pass) rotates(round, n int) bool {
	known, asked := p.shared.rotates[round]
	if !asked {
		if p.shared.rotates == nil {
			p.shared.rotates = map[int]bool{}
		}
		_, known = p.Graph.RoundRotates(round, n)
		p.shared.rotates[round] = known
	}
	return known
}

// faulty reports whether some round does not work out.
func (p *Pass) faulty() bool { return len(p.sound()) < p.Graph.NumRounds() }

// cornerCount reports rounds with more or fewer corners than the outline has.
func cornerCount(p *Pass) {
	want := p.Draft.Outline().Corners()
	if want == 0 {
		return
	}
	marked := false
	for _, i := range p.sound() {
		got := p.Graph.Round(i).Corners()
		if got == 0 {
			continue
		}
		marked = true
		if got != want {
			r := p.Graph.Round(i)
			p.ReportRoundf(r, "%s has %d corners, but round %d marks %d", a(p.Draft.Outline()), want, r.Number, got)
			return // the rounds above only repeat it
		}
	}
	if sound := p.sound(); !marked && !p.faulty() && len(sound) > 1 {
		r := p.Graph.Round(sound[len(sound)-1])
		p.ReportRoundf(r, "the shape is %s, but no round marks a corner; mark the stitch or chain of each corner (corner ch 2), so that its sides can be checked", a(p.Draft.Outline()))
	}
}

// squareRotation reports the first round that does not look the same on all
// sides.
func squareRotation(p *Pass) {
	n := p.Draft.Outline().Corners()
	if n == 0 {
		return
	}
	var plain, cornered []int
	for _, i := range p.sound() {
		if p.rotates(i, n) {
			continue
		}
		switch p.Graph.Round(i).Corners() {
		case n:
			cornered = append(cornered, i)
		case 0:
			plain = append(plain, i)
		}
	}
	if len(cornered) > 0 && cornered[0] != p.drift().round {
		i := cornered[0]
		r := p.Graph.Round(i)
		p.ReportRoundf(r, "the %d sides of round %d are not alike: %s%s", n, r.Number, unlike(p, i), andRounds(len(cornered)-1))
	}
	lost := p.lostCorners()
	plain = slices.DeleteFunc(plain, func(i int) bool { return lost.any && i >= lost.round })
	if len(plain) > 0 {
		i := plain[0]
		r := p.Graph.Round(i)
		total := p.Graph.Counts(i).Total
		why := fmt.Sprintf("its stitches do not repeat %d times", n)
		if total%n != 0 {
			why = fmt.Sprintf("its %d stitches do not come round in %d equal parts", total, n)
		}
		where := ""
		switch last := p.lastCornered(); {
		case i < last || p.faulty(): // the corners may stand in a round that does not work out
			where = fmt.Sprintf(", inside the %s,", p.Draft.Outline())
		case last >= 0:
			where = fmt.Sprintf(", at the edge of the %s,", p.Draft.Outline())
		}
		p.Add(Finding{Severity: notation.Info, Span: r.Statement.Head, Round: r.Number, Message: fmt.Sprintf(
			"round %d%s is not alike on all %d sides: %s%s", r.Number, where, n, why, andRounds(len(plain)-1))})
	}
}

// lastCornered is the last round that marks as many corners as the outline has,
// -1 for none.
func (p *Pass) lastCornered() int {
	last := -1
	for _, i := range p.sound() {
		if p.Graph.Round(i).Corners() == p.Draft.Outline().Corners() {
			last = i
		}
	}
	return last
}

func andRounds(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return " (the same goes for 1 more round)"
	}
	return fmt.Sprintf(" (the same goes for %d more rounds)", n)
}

// unlike says which side of a round differs from the others, and where.
func unlike(p *Pass, round int) string {
	sides, corners := sidesOf(p, round)
	usual := commonest(sides)
	for s := range sides {
		if a, b := len(sides[s]), len(sides[usual]); a != b {
			return fmt.Sprintf("side %d has %s, side %d has %s", s+1, stitchesAndSpaces(a), usual+1, stitchesAndSpaces(b))
		}
		for k := range sides[s] {
			if sides[s][k] != sides[usual][k] {
				return fmt.Sprintf("%s after the corner, side %d has %s and side %d has %s", nth(k+1), s+1, sides[s][k], usual+1, sides[usual][k])
			}
		}
	}
	for c := range corners {
		if corners[c] != corners[0] {
			return fmt.Sprintf("corner 1 is %s, corner %d is %s", corners[0], c+1, corners[c])
		}
	}
	return "they hold the same stitches, but these are worked into different places"
}

// commonest returns the first of the sides that most others are like.
func commonest(sides [][]string) int {
	best, most := 0, 0
	for i := range sides {
		n := 0
		for j := range sides {
			if slices.Equal(sides[i], sides[j]) {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
	}
	return best
}

func stitchesAndSpaces(n int) string { return countText(n, "stitch or space", "stitches and spaces") }

func nth(n int) string {
	switch {
	case n%100 >= 11 && n%100 <= 13:
	case n%10 == 1:
		return fmt.Sprintf("%dst", n)
	case n%10 == 2:
		return fmt.Sprintf("%dnd", n)
	case n%10 == 3:
		return fmt.Sprintf("%drd", n)
	}
	return fmt.Sprintf("%dth", n)
}

// sidesOf describes the corners of a round, and the stitches of each side: from
// a corner to the next.
func sidesOf(p *Pass, round int) (sides [][]string, corners []string) {
	var first []string // before the first corner
	for s := range p.Graph.Stitches(round) {
		what := describe(p, s)
		switch n := len(sides); {
		case s.Corner:
			sides, corners = append(sides, nil), append(corners, what)
		case n == 0:
			first = append(first, what)
		default:
			sides[n-1] = append(sides[n-1], what)
		}
	}
	if n := len(sides); n > 0 && len(first) > 0 {
		// They belong to the side that the round begins on, which is side 1.
		last := append(sides[n-1], first...)
		sides = append([][]string{last}, sides[:n-1]...)
	}
	return sides, corners
}

// describe says what a stitch or a run of chains is, in the terms of the draft.
func describe(p *Pass, s model.Stitch) string {
	what := p.Draft.Terms.Name(s.Kind)
	if s.Kind == "ch" || s.Kind == "picot" {
		what = fmt.Sprintf("%s %d", what, s.Chains)
	}
	if s.Yarn != "" && len(p.Graph.Yarns()) > 1 {
		what += " in " + s.Yarn
	}
	return what
}

// squareMirror reports the first round whose corners do not read the same from
// both ends. Where the sides are not alike, that is said by square-rotation,
// and a mirror could only say it again.
func squareMirror(p *Pass) {
	n := p.Draft.Outline().Corners()
	if n == 0 {
		return
	}
	for _, i := range p.sound() {
		if p.Graph.Round(i).Corners() != n {
			continue
		}
		if !p.rotates(i, n) || i == p.drift().round {
			return // and the rounds above stand on it
		}
		// All corners are alike, so that one stands for them.
		corner := p.Graph.Corners(i)[0]
		if _, ok := p.Graph.RoundMirrors(i, corner); ok {
			continue
		}
		r := p.Graph.Round(i)
		nodes, k := slices.Collect(p.Graph.Nodes(i)), corner-r.First
		if betweenTwo(nodes, k) || picotsOn(p.Graph, nodes, k) {
			continue
		}
		p.ReportRoundf(r, "round %d does not read the same to both sides of its corners: %s", r.Number, lopsided(p, nodes, k))
		return
	}
}

// betweenTwo reports whether a round reads the same in both directions from a
// corner that cannot be marked where it is: two stitches in one place have no
// middle one. Of stitches in the ring, any may be marked.
func betweenTwo(nodes []model.Node, k int) bool {
	corner := nodes[k]
	if !corner.IsStitch() {
		return false
	}
	// The first and the last of those in the same place as the corner.
	from, to := k, k
	for from > 0 && !nodes[from-1].Gap && nodes[from-1].IsStitch() {
		from--
	}
	for to < len(nodes)-1 && !nodes[to].Gap && nodes[to+1].IsStitch() {
		to++
	}
	ring := corner.Place == notation.RingHole
	size := to - from + 1
	if !ring && (size%2 != 0 || k != from+size/2 && k != from+size/2-1) {
		return false
	}
	n := len(nodes)
	for d := range n {
		a, b := nodes[wrap(to+d, n)], nodes[wrap(from-d, n)]
		if a.Kind != b.Kind || a.Yarn != b.Yarn || !a.IsStitch() && a.Chains != b.Chains || a.Loop != b.Loop {
			return false
		}
		if !ring && a.Gap != nodes[wrap(from-d-1, n)].Gap {
			return false
		}
	}
	return true
}

// picotsOn reports whether a round reads the same in both directions from one of
// its stitches if picots are seen on the stitch they are made on, not behind it.
func picotsOn(g *model.Graph, nodes []model.Node, k int) bool {
	type item struct {
		*model.Node
		picots []int // chains of each
	}
	list := make([]item, 0, len(nodes))
	at := 0
	for i := range nodes {
		n := &nodes[i]
		switch {
		case g.Kind(n.ID).Name != "picot":
			if i == k {
				at = len(list)
			}
			list = append(list, item{Node: n})
		case len(list) == 0 || !list[len(list)-1].IsStitch():
			return false
		default:
			list[len(list)-1].picots = append(list[len(list)-1].picots, n.Chains)
		}
	}
	n := len(list)
	for d := range n {
		a, b := list[wrap(at+d, n)], list[wrap(at-d, n)]
		if a.Kind != b.Kind || a.Yarn != b.Yarn || !a.IsStitch() && a.Chains != b.Chains || a.Loop != b.Loop || a.Place != b.Place ||
			a.Gap != list[wrap(at-d-1, n)].Gap || !slices.Equal(a.picots, b.picots) {
			return false
		}
	}
	return true
}

// lopsided says how the stitches after a corner differ from those before it.
func lopsided(p *Pass, nodes []model.Node, k int) string {
	n := len(nodes)
	for d := 1; d < n; d++ {
		after, before := describe(p, p.Graph.Stitch(nodes[wrap(k+d, n)].ID)), describe(p, p.Graph.Stitch(nodes[wrap(k-d, n)].ID))
		if after != before {
			return fmt.Sprintf("the %s stitch or space after a corner is %s, the %s before it %s", nth(d), after, nth(d), before)
		}
	}
	after, before := 1, 1
	for after < n && !nodes[wrap(k+after, n)].Gap {
		after++
	}
	for before < n && !nodes[wrap(k-before-1, n)].Gap {
		before++
	}
	if after != before {
		return fmt.Sprintf("before a corner the group has %d st, after it %d", before, after)
	}
	return "the same stitches stand in other groups before and after a corner"
}

// cornerDrift reports the first corner that does not stand on the corner below.
func cornerDrift(p *Pass) {
	d := p.drift()
	if d.round < 0 {
		return
	}
	r := p.Graph.Round(d.round)
	below := p.Graph.Round(r.Below)
	p.Add(Finding{Span: r.Statement.Head, Round: r.Number,
		Message: fmt.Sprintf("corner %d of round %d stands %s beside the corner of round %d, so the corners wander off the diagonal; work it in corner", d.corner, r.Number, stitchesAndSpaces(d.off), below.Number),
		Related: []notation.Related{{Message: fmt.Sprintf("the corners of round %d are made here", below.Number), Span: below.Statement.Head}}})
}

// A wandering is the first corner that does not stand on the one below.
type wandering struct {
	round  int // -1 for none
	corner int // of the round, from 1
	off    int // stitches and spaces
}

// drift looks once for all rules: what else is odd about the sides of that round
// is because of it.
func (p *Pass) drift() wandering {
	if p.shared.drift == nil {
		found := p.findDrift()
		p.shared.drift = &found
	}
	return *p.shared.drift
}

func (p *Pass) findDrift() wandering {
	n := p.Draft.Outline().Corners()
	for _, i := range p.sound() {
		r := p.Graph.Round(i)
		if n == 0 || r.Below < 0 || r.Corners() != n || p.Graph.Round(r.Below).Corners() != n {
			continue
		}
		if corner, off, ok := drift(p.Graph, i); ok {
			return wandering{i, corner, off}
		}
	}
	return wandering{round: -1}
}

// drift looks for a corner of a round that is not over a corner of the round
// below, by at least one stitch. A corner made of chains is over the middle of
// what the stitches beside it are worked into.
func drift(g *model.Graph, round int) (corner, off int, found bool) {
	r := g.Round(round)
	below := g.Round(r.Below)
	corners := g.Corners(r.Below)
	for k, id := range g.Corners(round) {
		corner = k + 1
		from, to, ok := footing(g, r, id)
		if !ok {
			continue
		}
		least := below.Len
		for _, c := range corners {
			// The corner lies under the new one when it is between the feet.
			d := 0
			if ahead := wrap(to-from, below.Len); wrap(c-from, below.Len) > ahead {
				d = min(wrap(from-c, below.Len), wrap(c-to, below.Len))
			}
			least = min(least, d)
		}
		if least > 0 {
			return corner, least, true
		}
	}
	return 0, 0, false
}

func wrap(a, n int) int { return ((a % n) + n) % n }

// footing returns the stitches of the round below that the stitches beside a
// corner stand on, in working order.
func footing(g *model.Graph, r model.Round, corner int) (from, to int, ok bool) {
	below := g.Round(r.Below)
	foot := func(step int) (int, bool) {
		for j := range r.Len {
			id := r.First + wrap(corner-r.First+step*j, r.Len)
			if !g.Node(id).IsStitch() {
				continue
			}
			for p := range g.Into(id) {
				if p.Stitch >= below.First && p.Stitch < below.First+below.Len {
					return p.Stitch, true
				}
			}
			return 0, false
		}
		return 0, false
	}
	from, a := foot(-1)
	to, b := foot(1)
	if below.Turned != r.Turned {
		from, to = to, from
	}
	return from, to, a && b
}

// sideGrowth reports plain rounds that grow unevenly. The walls of a box do not
// grow, as they are meant; and where rounds grow by so much or so little that the
// piece does not lie flat, that is said once.
func sideGrowth(p *Pass) {
	n := p.Draft.Outline().Corners()
	if n == 0 || p.Draft.Lies() != notation.Flat {
		return
	}
	type run struct {
		form   string // stitch and corner that the rounds have in common
		series []int  // stitches per side
		growth int
	}
	var now run
	for _, i := range p.sound() {
		form, side, ok := plainForm(p.Graph, i, n)
		if !ok || form != now.form || len(now.series) == 0 {
			now = run{form: form}
			if ok {
				now.series = []int{side}
			}
			continue
		}
		step := side - now.series[len(now.series)-1]
		now.series = append(now.series, side)
		switch {
		case len(now.series) == 2:
			now.growth = step
		case step != now.growth:
			r := p.Graph.Round(i)
			if s := p.shape(); s.lies(1).tells(i) || s.lies(-1).tells(i) || i == p.drift().round {
				return
			}
			p.ReportRoundf(r, "the sides grow by %d in round %d and by %d in the rounds below: %s; plain rounds grow evenly",
				step, r.Number, now.growth, series(now.series))
			return
		}
	}
}

func series(list []int) string {
	parts := make([]string, len(list))
	for i, n := range list {
		parts[i] = fmt.Sprint(n)
	}
	if len(parts) > 12 {
		parts = append([]string{"..."}, parts[len(parts)-11:]...)
	}
	return strings.Join(parts, ", ")
}

// plainForm describes a plain round: one kind of stitch, all sides alike,
// corners alike, no chain spaces but at the corners.
func plainForm(g *model.Graph, round, corners int) (form string, side int, ok bool) {
	c := g.Counts(round)
	if c.Corners != corners || len(c.Stitches) != 1 {
		return "", 0, false
	}
	at := g.Corners(round)
	corner := g.Node(at[0])
	spaces := 0
	if !corner.IsStitch() {
		spaces = corners
	}
	if c.Spaces != spaces || c.Picots > 0 || c.Chains != spaces*corner.Chains {
		return "", 0, false
	}
	// Between two corners there is nothing but stitches.
	side = at[1] - at[0] - 1
	for i := 2; i < corners; i++ {
		if at[i]-at[i-1]-1 != side {
			return "", 0, false
		}
	}
	if at[0]+g.Round(round).Len-at[corners-1]-1 != side {
		return "", 0, false
	}
	for name := range c.Stitches {
		form = fmt.Sprintf("%s, corner %d", name, corner.Chains)
	}
	return form, side, true
}
