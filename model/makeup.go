package model

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/roundel/notation"
)

// makeUp joins motifs as the draft says, and works the borders. Where they do
// not fit that is reported, and there is no panel.
func (b *builder) makeUp() {
	p := b.draft.Panel()
	if p == nil || p.Text != "" || len(b.g.rounds) == 0 || b.stopped || b.lost || b.doubtful {
		return // what is wrong has been reported
	}
	m := &maker{b: b, stmt: p}
	faults := m.panel(b.g)
	if b.believesLast() {
		m.believed = &maker{b: b, stmt: p}
		if len(m.believed.panel(b.belief.b.g)) > 0 {
			m.believed = nil
		}
	}
	switch {
	case len(faults) == 0:
		b.g.panel = m.made
	case m.believed != nil, b.belief != nil && (b.belief.guess || b.unsaidCorners()): // they only echo what is off further down
		b.holdIn(b.belief.cause, len(faults))
		b.fixing.doubted = append(b.fixing.doubted, b.belief.cause)
		return
	default:
		b.findings = append(b.findings, faults...)
		return
	}
	done := map[notation.EdgeName]bool{notation.EdgeUnread: true} // reported where it was read
	for _, section := range b.draft.Sections()[1:] {
		if edge := section.Foundation.(*notation.Edge); !done[edge.Of] {
			b.borders(m, edge, section.Rounds)
			done[edge.Of] = true
		}
	}
}

// unsaidCorners reports whether the last round of the motif does not come out,
// and does not claim how many corners it is to have.
func (b *builder) unsaidCorners() bool {
	last := &b.g.rounds[len(b.g.rounds)-1]
	claim := last.Statement.Claim
	return last.Status == Mended && (claim == nil || !slices.ContainsFunc(claim.Items, func(i *notation.ClaimItem) bool { return i.What == notation.Corner }))
}

// A maker makes up a panel.
type maker struct {
	b     *builder
	stmt  *notation.Panel
	motif motifEdge
	made  *Panel
	cuts  *assembly
	loops []loop // as Panel.Edges
	// believed makes up the piece as the designer sees it, when a round of the
	// motif does not come out; nil when it does, or there is no telling.
	believed *maker
}

// panel makes up motifs that have the last round of a graph as their edge, and
// returns what is in the way.
func (m *maker) panel(g *Graph) []notation.Finding {
	var square bool
	m.motif, square = g.motifEdge(len(g.rounds) - 1)
	if f, ok := m.unfit(square); ok {
		return []notation.Finding{f}
	}
	plan := planOf(m.stmt)
	m.made = &Panel{
		Kind: cmp.Or(m.stmt.Kind, notation.PanelFlat), Rows: plan.rows, Columns: plan.columns, Motifs: plan.motifs,
		Join: cmp.Or(m.stmt.Join, notation.JoinWhip),
	}
	var faults []notation.Finding
	told := map[[2]int]bool{}
	for _, j := range plan.joins {
		x, y := m.motif.places[j.a.side], m.motif.places[j.b.side]
		if pair := [2]int{j.a.side, j.b.side}; x != y && !told[pair] {
			told[pair] = true
			faults = append(faults, m.mismatch(j.a.side, j.b.side))
		}
		m.made.Seams = append(m.made.Seams, Seam{
			A: SidePart{j.a.motif, j.a.side, j.before, x - j.after},
			B: SidePart{j.b.motif, j.b.side, j.after, y - j.before},
		})
	}
	if len(faults) == 0 {
		m.edges(plan)
	}
	return faults
}

func (m *maker) fault(rule, format string, args ...any) notation.Finding {
	r := &m.motif
	return notation.Finding{
		Rule: rule, Severity: notation.Error, Span: m.stmt.Span, Message: fmt.Sprintf(format, args...),
		Related: []notation.Related{{Message: fmt.Sprintf("round %d is the last of the motif", r.number), Span: r.head}},
	}
}

// unfit reports a motif that cannot be made up in this way, whatever is joined
// to what.
func (m *maker) unfit(square bool) (notation.Finding, bool) {
	p, r := m.stmt, &m.motif
	most := m.b.limits.Motifs
	joins := []notation.JoinKind{notation.JoinUnsaid, notation.JoinWhip, notation.JoinMattress, notation.JoinSlip, notation.JoinSingle}
	kinds := []notation.PanelKind{"", notation.PanelFlat, notation.PanelTube, notation.PanelCushion, notation.PanelBag, notation.PanelWrap, notation.PanelWrapOnPoint}
	switch half := p.Neck / 2; {
	case !slices.Contains(kinds, p.Kind):
		return m.fault("panel-shape", "nothing that motifs are made up into is called %q", p.Kind), true
	case !slices.Contains(joins, p.Join):
		return m.fault("panel-shape", "no way to join motifs is called %q", p.Join), true
	case p.Rows > most || p.Columns > most || p.Rows*p.Columns > most:
		return m.fault("limit", "the panel has more than the %d motifs allowed on a face; it is not made up", most), true
	case r.counts.corners == 0:
		return m.fault("panel-shape", "motifs are joined by their sides, and round %d has no corners; mark four where they are made: corner ch 2", r.number), true
	case !square:
		return m.fault("panel-shape", "motifs that are joined in rows have four corners, and round %d has %d", r.number, r.counts.corners), true
	case slices.Max(r.places[:]) == 0:
		return m.fault("panel-shape", "round %d has no stitch between its corners, so there is nothing to join", r.number), true
	case p.Kind != notation.PanelWrap:
	case p.Neck < 2 || p.Neck%2 > 0:
		return m.fault("panel-shape", "the neck of a wrap is an even number of stitches, half of them of each motif, not %d", p.Neck), true
	case half >= min(r.places[top], r.places[bottom]):
		return m.fault("panel-shape", "a neck of %d st takes %d of each motif, and a side has %d, of which one at least is joined; write neck %d st or fewer",
			p.Neck, half, min(r.places[top], r.places[bottom]), 2*max(min(r.places[top], r.places[bottom])-1, 1)), true
	}
	return notation.Finding{}, false
}

// mismatch reports two sides that are to be joined, stitch to stitch, and have
// not as many.
func (m *maker) mismatch(x, y int) notation.Finding {
	if m.motif.places[x] < m.motif.places[y] {
		x, y = y, x
	}
	r := &m.motif
	off := r.places[x] - r.places[y]
	return m.fault("edge-mismatch", "side %d of a motif is joined to side %d of another, stitch to stitch, but in round %d side %d has %s and side %d has %s; make %d more on side %d, or %d fewer on side %d",
		r.sideNumber(x), r.sideNumber(y), r.number, r.sideNumber(x), r.sideText(x), r.sideNumber(y), r.sideText(y), off, r.sideNumber(y), off, r.sideNumber(x))
}

// edges finds the edges that are left, and what there is to work into.
func (m *maker) edges(plan *plan) {
	motifs, seams := plan.motifs, m.made.Seams
	if plan.through {
		motifs, seams = plan.rows*plan.columns, seams[:plan.inner]
	}
	m.cuts = assemble(motifs, seams, m.motif.places)
	m.loops = m.cuts.loops()
	for _, l := range m.loops {
		e := PanelEdge{Name: notation.EdgeOfPanel, Joined: plan.through}
		for k, i := range l.cuts {
			c := m.cuts.cuts[i]
			e.Parts = append(e.Parts, EdgePart{c.SidePart, l.bends[k].turn})
			e.count(m.motif.holds(c.SidePart))
			if b := l.bends[k]; b.corner >= 0 {
				e.count(m.motif.holdsCorner(b.corner))
				if b.turn != Straight {
					e.Corners++
				}
			}
			if plan.neck != nil && (sideOf{c.Motif, c.Side}) == *plan.neck {
				e.Name = notation.EdgeOfNeck
			}
		}
		m.made.Edges = append(m.made.Edges, e)
	}
}

func (e *PanelEdge) count(stitches, spaces int) {
	e.Stitches += stitches
	e.Spaces += spaces
}

// around iterates over what there is to work into along an edge, from a corner
// if it has one. Where motifs meet, their corner places and the seam between
// them are one place, and no corner where the edge runs straight on.
func (m *maker) around(l loop) func(func(node) bool) {
	return func(yield func(node) bool) {
		for k, i := range l.cuts {
			b := l.bends[(k+len(l.cuts)-1)%len(l.cuts)]
			if b.corner >= 0 {
				n := m.motif.copied(m.motif.corners[b.corner])
				if b.turn != Straight {
					n.flags |= flagCorner
				}
				if !yield(n) {
					return
				}
			}
			for n := range m.motif.part(m.cuts.cuts[i].SidePart) {
				if !yield(n) {
					return
				}
			}
		}
	}
}

// borders works the rounds of a border on every edge of its name.
func (b *builder) borders(m *maker, stmt *notation.Edge, rounds []*notation.Round) {
	none, yarn := true, b.yarnNow
	for i, e := range m.made.Edges {
		if e.Name == stmt.Of && !b.stopped {
			none, b.yarnNow = false, yarn
			b.border(m, i, rounds)
		}
	}
	if none && !b.stopped {
		b.findings = append(b.findings, notation.Finding{
			Rule: "panel-shape", Severity: notation.Error, Span: stmt.Span,
			Message: fmt.Sprintf("there is no edge of %s here; what is made up is a %s, which has an edge of panel", stmt.Of, kindWords[m.made.Kind]),
			Related: []notation.Related{{Message: "the motifs are made up here", Span: m.stmt.Span}},
		})
	}
}

// kindWords are what messages call what is made up.
var kindWords = map[notation.PanelKind]string{
	notation.PanelFlat: "flat panel", notation.PanelTube: "tube", notation.PanelCushion: "cushion", notation.PanelBag: "bag",
	notation.PanelWrap: "wrap", notation.PanelWrapOnPoint: "wrap",
}

// border works the rounds of a border on one edge.
func (b *builder) border(m *maker, i int, rounds []*notation.Round) {
	e := &m.made.Edges[i]
	if b.made+int64(e.Stitches+e.Spaces) > int64(b.limits.Stitches) {
		b.findings = append(b.findings, m.fault("limit", "the edge of %s takes the draft past the %d stitches and chains allowed; its rounds are not worked", e.Name, b.limits.Stitches))
		b.stopped = true
		return
	}
	on := b.onEdge(m, i)
	on.findings = b.findings
	if m.believed != nil {
		shadow := b.belief.b.onEdge(m.believed, i)
		shadow.quiet = true
		on.belief = &belief{b: shadow, cause: b.belief.cause, guess: b.belief.guess}
	} else if b.belief != nil && b.belief.guess {
		on.belief = &belief{cause: b.belief.cause, guess: true}
	}
	on.build(rounds)
	for k := range on.findings[len(b.findings):] {
		f := &on.findings[len(b.findings)+k]
		f.Edge = e.Name
		f.Message = fmt.Sprintf("edge of %s, %s", e.Name, f.Message)
	}
	b.findings, b.made, b.ops, b.yarnNow, b.stopped = on.findings, on.made, on.ops, on.yarnNow, on.stopped
	b.g.borders = append(b.g.borders, Border{Name: e.Name, Edge: i, Graph: on.g})
}

// onEdge returns a builder for the rounds of a border.
func (b *builder) onEdge(m *maker, i int) *builder {
	on := newBuilder(b.ctx, b.draft, b.limits)
	on.allowed, on.yarnNow, on.made, on.ops, on.fixing = b.allowed, b.yarnNow, b.made, b.ops, b.fixing
	on.misread = b.misread
	on.inwards = slices.ContainsFunc(m.made.Edges[i].Parts, func(p EdgePart) bool { return p.Then == Inwards })
	on.g.Outline, on.outline = notation.Free, notation.Free
	for _, k := range b.g.kinds {
		on.kind(k.Name)
	}
	for n := range m.around(m.loops[i]) {
		on.g.nodes.add(n)
		on.made++
	}
	on.g.foundation = int(on.g.nodes.len)
	on.base = edge{nodes: &on.g.nodes, n: on.g.nodes.len, round: -1, number: underBorder, counts: &counts{}}
	on.base.counts.addAll(&on.g.nodes, 0, on.g.nodes.len, len(on.g.kinds))
	return on
}

// believesLast reports whether the last round is believed to be otherwise than
// it is.
func (b *builder) believesLast() bool {
	if b.belief == nil || b.belief.b == nil {
		return false
	}
	believed := b.belief.b.g.rounds
	return len(believed) > 0 && believed[len(believed)-1].Number == b.g.rounds[len(b.g.rounds)-1].Number
}

// A motifEdge is the last round of a motif as it is made up: with the right
// side facing.
type motifEdge struct {
	edge
	corners [4]int32 // where the corners lie; side k begins at corner k
	places  [4]int   // of each side, for a seam
	// What there is on each side.
	stitches, spaces, chains [4]int
	head                     notation.Span
}

// motifEdge looks at a round of a piece; square is false when it has not four
// corners.
func (g *Graph) motifEdge(round int) (m motifEdge, square bool) {
	r := &g.rounds[round]
	m.edge = edge{nodes: &g.nodes, first: int32(r.First), n: int32(r.Len), reversed: r.Turned, round: round, number: r.Number, counts: &r.counts}
	m.head = r.Statement.Head
	if r.Corners() != 4 {
		return m, false
	}
	// Side 0 is the one that the round begins on.
	begins := int32(0)
	if m.reversed {
		begins = m.n - 1
	}
	var corners []int32
	last := -1 // corner at or before the beginning
	for k := range m.n {
		corner := m.nodes.at(m.nth(k)).flags&flagCorner != 0
		if corner {
			corners = append(corners, k)
		}
		if k <= begins && corner && !(m.reversed && k == begins) {
			last++
		}
	}
	for k := range m.corners {
		m.corners[k] = corners[(last+4+k)%4]
	}
	for s := range m.places {
		for n := range m.part(SidePart{Side: s, To: -1}) {
			if n.isStitch() {
				m.stitches[s]++
				continue
			}
			m.spaces[s]++
			m.chains[s] += int(n.n)
		}
		m.places[s] = m.stitches[s] + m.chains[s]
	}
	return m, true
}

// holds returns what there is on a part of a side.
func (m *motifEdge) holds(p SidePart) (stitches, spaces int) {
	if p.From == 0 && m.ends(p) {
		return m.stitches[p.Side], m.spaces[p.Side]
	}
	for n := range m.part(p) {
		if n.isStitch() {
			stitches++
		} else {
			spaces++
		}
	}
	return stitches, spaces
}

// holdsCorner returns what a corner is: one stitch, or one space.
func (m *motifEdge) holdsCorner(corner int) (stitches, spaces int) {
	if m.nodes.at(m.nth(m.corners[corner])).isStitch() {
		return 1, 0
	}
	return 0, 1
}

// sideNumber is what messages call a side: by its place in the round.
func (m *motifEdge) sideNumber(side int) int {
	if m.reversed {
		return (4-side)%4 + 1
	}
	return side + 1
}

// sideText says what a side has to be joined.
func (m *motifEdge) sideText(side int) string {
	if m.chains[side] == 0 {
		return fmt.Sprintf("%d st", m.stitches[side])
	}
	return fmt.Sprintf("%d st and %d ch", m.stitches[side], m.chains[side])
}

// places is how many places a node has for a seam.
func (n *node) places() int {
	switch {
	case n.isStitch():
		return 1
	case n.isSpace():
		return int(n.n)
	}
	return 0
}

// copied is the node at position k as it stands on the edge of a panel, in no
// place of its own.
func (m *motifEdge) copied(k int32) node {
	n := *m.nodes.at(m.nth(k))
	n.below, n.where, n.flags = -1, nowhere, 0
	if !n.isSpace() {
		n.n = 0
	}
	if m.nodes.at(m.gapID(int(2*k+1))).flags&flagGap != 0 {
		n.flags = flagGap
	}
	return n
}

// part iterates over the stitches and spaces of a part of a side; To may be -1
// for its end. Of a space that lies across an end of the part some of the
// chains belong to it.
func (m *motifEdge) part(p SidePart) func(func(node) bool) {
	return func(yield func(node) bool) {
		at := 0
		for k := (m.corners[p.Side] + 1) % m.n; k != m.corners[(p.Side+1)%4]; k = (k + 1) % m.n {
			n := m.copied(k)
			from := at
			at += n.places()
			if n.isSpace() {
				n.n = int32(at - max(from, p.From))
				if p.To >= 0 {
					n.n = int32(min(at, p.To) - max(from, p.From))
				}
			}
			switch {
			case n.kind == kindPicot || at <= p.From:
				continue
			case p.To >= 0 && from >= p.To:
				return
			case p.To >= 0 && at >= p.To && !m.ends(p):
				n.flags = 0 // what follows is joined
			}
			if !yield(n) {
				return
			}
		}
	}
}

// ends reports whether a part reaches to the end of its side.
func (m *motifEdge) ends(p SidePart) bool { return p.To == m.places[p.Side] }
