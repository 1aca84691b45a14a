package model

import "example.com/roundel/notation"

// The sides of a motif.
const (
	bottom = iota
	right
	top
	left
)

// A plan is how motifs are made up, whatever their stitches.
type plan struct {
	rows, columns int // of one face
	motifs        int
	joins         []join
	// neck is a side whose first open part lies on the neck; none where there
	// is no neck.
	neck *sideOf
	// through is set when the edge is that of the first face, worked through
	// both: its joins come first in the list, inner of them.
	through bool
	inner   int
}

type sideOf struct{ motif, side int }

// A join joins side a to side b, but for some places at the beginning of a and
// some at its end, which are left open.
type join struct {
	a, b          sideOf
	before, after int
}

// planOf says how the motifs of a panel are made up. All that the kinds differ
// in is what is joined to what.
func planOf(p *notation.Panel) *plan {
	pl := &plan{rows: max(p.Rows, 1), columns: max(p.Columns, 1)}
	switch p.Kind {
	case notation.PanelTube:
		pl.face()
		pl.round(0, 0)
	case notation.PanelBag:
		pl.face()
		back := pl.face()
		pl.round(0, back)
		pl.acrossFaces(bottom, 0, back)
	case notation.PanelCushion:
		pl.face()
		pl.through, pl.inner = true, len(pl.joins)
		back := pl.face()
		pl.round(0, back)
		pl.acrossFaces(bottom, 0, back)
		pl.acrossFaces(top, (pl.rows-1)*pl.columns, back+(pl.rows-1)*pl.columns)
	case notation.PanelWrap:
		// The front below, the back above; the neck lies in the middle of the
		// seam over the shoulders.
		pl.rows, pl.columns = 2, 2
		pl.face()
		for k := range pl.joins {
			switch j := &pl.joins[k]; j.a {
			case sideOf{0, top}:
				j.before = p.Neck / 2
			case sideOf{1, top}:
				j.after = p.Neck / 2
			}
		}
		pl.neck = &sideOf{0, top}
	case notation.PanelWrapOnPoint:
		// Two strips; the right end of each to the long edge of the other.
		pl.rows, pl.columns = 1, 2
		one, other := pl.face(), pl.face()
		pl.join(sideOf{one + 1, right}, sideOf{other, top})
		pl.join(sideOf{other + 1, right}, sideOf{one, top})
		pl.neck = &sideOf{one + 1, top}
		pl.rows = 2
	default:
		pl.face()
	}
	return pl
}

func (pl *plan) join(a, b sideOf) { pl.joins = append(pl.joins, join{a: a, b: b}) }

// face adds rows by columns of motifs, joined to each other, and returns the
// number of the first.
func (pl *plan) face() int {
	first := pl.motifs
	pl.motifs += pl.rows * pl.columns
	for m := first; m < pl.motifs; m++ {
		if (m-first+1)%pl.columns > 0 {
			pl.join(sideOf{m, right}, sideOf{m + 1, left})
		}
		if m+pl.columns < pl.motifs {
			pl.join(sideOf{m, top}, sideOf{m + pl.columns, bottom})
		}
	}
	return first
}

// round joins the right and left edges of two faces, back to back, or those of
// one face.
func (pl *plan) round(front, back int) {
	for row := range pl.rows {
		first, last := row*pl.columns, (row+1)*pl.columns-1
		pl.join(sideOf{front + last, right}, sideOf{back + first, left})
		if front != back {
			pl.join(sideOf{back + last, right}, sideOf{front + first, left})
		}
	}
}

// acrossFaces joins the rows that begin with two motifs, on one side. Back to
// back the columns run in opposite directions.
func (pl *plan) acrossFaces(side, front, back int) {
	for column := range pl.columns {
		pl.join(sideOf{front + column, side}, sideOf{back + pl.columns - 1 - column, side})
	}
}

// An assembly is a plan with sides of so many places. Every side is cut where
// a seam begins or ends; the cuts are numbered motif by motif, side by side.
type assembly struct {
	places [4]int
	cuts   []cut
	first  []int // first cut of each side of each motif
}

// A cut is a part of a side that is joined as a whole, or not at all.
type cut struct {
	SidePart
	mate int // the cut it is joined to, -1 for none
}

// assemble cuts the sides of the motifs at the seams.
func assemble(motifs int, seams []Seam, places [4]int) *assembly {
	a := &assembly{places: places, first: make([]int, 4*motifs+1)}
	bySide := make([][]int, 4*motifs) // 2k for A of seam k, 2k+1 for B
	part := func(i int) SidePart {
		if i%2 == 0 {
			return seams[i/2].A
		}
		return seams[i/2].B
	}
	for k := range seams {
		for i := 2 * k; i < 2*k+2; i++ {
			at := 4*part(i).Motif + part(i).Side
			bySide[at] = append(bySide[at], i)
		}
	}
	cutOf := make([]int, 2*len(seams))
	for at, list := range bySide {
		a.first[at] = len(a.cuts)
		whole := SidePart{Motif: at / 4, Side: at % 4, To: places[at%4]}
		from := 0
		free := func(to int) {
			if to > from {
				a.cuts = append(a.cuts, cut{SidePart{whole.Motif, whole.Side, from, to}, -1})
			}
		}
		for _, i := range list { // a side has one seam
			p := part(i)
			free(p.From)
			cutOf[i] = len(a.cuts)
			a.cuts = append(a.cuts, cut{p, -1})
			from = p.To
		}
		if free(whole.To); len(a.cuts) == a.first[at] { // a free side without places
			a.cuts = append(a.cuts, cut{whole, -1})
		}
	}
	a.first[4*motifs] = len(a.cuts)
	for k := range seams {
		a.cuts[cutOf[2*k]].mate, a.cuts[cutOf[2*k+1]].mate = cutOf[2*k+1], cutOf[2*k]
	}
	return a
}

// next is the cut that follows round the same motif.
func (a *assembly) next(i int) int {
	if m := a.cuts[i].Motif; i+1 == a.first[4*m+4] {
		return a.first[4*m]
	}
	return i + 1
}

// atCorner reports whether a cut ends at a corner of its motif.
func (a *assembly) atCorner(i int) bool { return a.cuts[i].To == a.places[a.cuts[i].Side] }

// A bend is where two parts of an edge meet.
type bend struct {
	turn Turn
	// motif is one with a corner there, and corner is that; -1 where no motif
	// has one, at the end of an opening in a side.
	motif, corner int
}

// turnFrom finds the part of an edge that follows a free cut. Where motifs
// meet it goes round the point at which they meet, from motif to motif: a
// corner is a quarter of a turn, the middle of a side half a turn.
func (a *assembly) turnFrom(i int) (next int, b bend) {
	quarters := 0
	b = bend{corner: -1}
	pass := func(i int) {
		if quarters += 2; a.atCorner(i) {
			quarters--
			if b.corner < 0 {
				b.motif, b.corner = a.cuts[i].Motif, (a.cuts[i].Side+1)%4
			}
		}
	}
	pass(i)
	for next = a.next(i); a.cuts[next].mate >= 0; next = a.next(a.cuts[next].mate) {
		pass(a.cuts[next].mate)
	}
	switch {
	case quarters < 2:
		b.turn = Outwards
	case quarters > 2:
		b.turn = Inwards
	}
	return next, b
}

// A loop is an edge: its cuts, and how they meet, each with the next.
type loop struct {
	cuts  []int
	bends []bend
}

// loops finds the edges: what is not joined, once round each. An edge with
// corners begins behind one.
func (a *assembly) loops() []loop {
	var list []loop
	seen := make([]bool, len(a.cuts))
	for i, c := range a.cuts {
		if c.mate >= 0 || seen[i] {
			continue
		}
		var l loop
		for at := i; !seen[at]; {
			seen[at] = true
			next, b := a.turnFrom(at)
			l.cuts, l.bends = append(l.cuts, at), append(l.bends, b)
			at = next
		}
		n := len(l.cuts)
		for k := range n {
			if l.bends[(k+n-1)%n].turn != Straight {
				l.cuts = append(l.cuts[k:], l.cuts[:k]...)
				l.bends = append(l.bends[k:], l.bends[:k]...)
				break
			}
		}
		list = append(list, l)
	}
	return list
}
