package pattern

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// making writes how motifs are made up, and the borders.
func (w *writer) making() []Section {
	p := w.g.Panel()
	if p == nil {
		return nil
	}
	var borders []Section
	numbered := false // whether a border names a motif by its number
	for i, b := range w.g.Borders() {
		w.notes.edges = false
		rounds := w.pieces[1+i].rounds()
		text := w.edge(p, b)
		if w.notes.edges {
			text += " " + edgeBegins(p, b.Edge)
			numbered = true
		}
		s := Section{Heading: borderHeading(p, b), Entries: append([]Entry{{"", text}}, entries(rounds)...)}
		if k := len(borders) - 1; p.Kind == notation.PanelTube && k >= 0 && slices.Equal(borders[k].Entries, s.Entries) {
			both := Entry{"", "Work the same on each of the two edges, the lower and the upper."}
			borders[k] = Section{Heading: "Border of both edges", Entries: append([]Entry{both}, s.Entries...)}
			continue
		}
		borders = append(borders, s)
	}
	return append([]Section{{Heading: "Making up", Entries: w.assembly(p, numbered)}}, borders...)
}

func borderHeading(p *model.Panel, b model.Border) string {
	switch {
	case b.Name == notation.EdgeOfNeck:
		return "Border of the neck"
	case p.Kind == notation.PanelTube && b.Edge == 0:
		return "Border of the lower edge"
	case p.Kind == notation.PanelTube:
		return "Border of the upper edge"
	case p.Kind == notation.PanelBag:
		return "Border of the opening"
	case p.Kind == notation.PanelWrap || p.Kind == notation.PanelWrapOnPoint:
		return "Border of the hem"
	}
	return "Border"
}

// sides names the sides of a motif, by number.
var sides = [...]string{"bottom", "right", "top", "left"}

// fewSeams is how many seams are named one by one.
const fewSeams = 12

// assembly writes how the motifs are laid out and joined; numbered tells that
// a border names one by its number.
func (w *writer) assembly(p *model.Panel, numbered bool) []Entry {
	var list []Entry
	put := func(format string, args ...any) { list = append(list, Entry{"", fmt.Sprintf(format, args...)}) }
	if p.Motifs == 1 {
		put("Block the motif: damp it, pin it out, and let it dry.")
	} else {
		put("Block the motifs first: damp them, pin them out to one size, and let them dry.")
	}
	if len(p.Seams) == 0 {
		return list
	}
	one := p.Rows*p.Columns == 1
	face := fmt.Sprintf("%d %s of %d", p.Rows, plural(p.Rows, "row", "rows"), p.Columns)
	faces := fmt.Sprintf("Lay the motifs out RS up as 2 faces, each of %s, and join those of each face. Then lay the faces WS together, motif on motif,", face)
	if one {
		faces = "Each motif is a face. Lay the 2 faces WS together"
	}
	switch p.Kind {
	case notation.PanelTube:
		if one {
			put("Join the right side of the motif to its left side, so that it makes a tube.")
			break
		}
		put("Lay the motifs out RS up in %s and join them. Then join the right end of each row to its left end, so that they make a tube.", face)
	case notation.PanelCushion:
		put("%s and join them all round; put the pad in before the last side is closed.", faces)
	case notation.PanelBag:
		put("%s and join them down both sides and along the bottom; the top stays open.", faces)
	case notation.PanelWrap:
		put("Lay the motifs out RS up in %s: the lower row is the front, the upper one the back. The seam between the rows lies over the shoulders, and part of it stays open for the neck.", face)
	case notation.PanelWrapOnPoint:
		put("Join the motifs, RS up, in 2 strips of 2. Then join the right end of each strip to the top of the first motif of the other. What is left of the tops makes the neck, and the points hang at the front and back.")
	default:
		put("Lay the motifs out RS up in %s and join them.", face)
	}
	list = append(list, w.seams(p, numbered)...)
	within := w.howToJoin(p.Join)
	if !hasFaces(p) {
		put("%s", within)
		return list
	}
	if !one {
		list = append(list, Entry{"Seams within a face", within})
	}
	return append(list, Entry{"Seam that joins the faces", w.howToJoinFaces(p.Join)})
}

// hasFaces reports whether a panel is two faces joined WS together.
func hasFaces(p *model.Panel) bool {
	return p.Kind == notation.PanelCushion || p.Kind == notation.PanelBag
}

// joinsFaces reports whether a seam runs from one face to the other.
func joinsFaces(p *model.Panel, s model.Seam) bool {
	first := p.Motifs / 2 // motifs of the first face
	return hasFaces(p) && (s.A.Motif < first) != (s.B.Motif < first)
}

// seams lists the seams: each where they are few, or where one is left partly
// open, and by their number otherwise.
func (w *writer) seams(p *model.Panel, numbered bool) []Entry {
	type length struct {
		places int
		faces  bool
	}
	by := map[length]int{} // number of seams
	whole := 0
	for _, s := range p.Seams {
		by[length{s.Places(), joinsFaces(p, s)}]++
		whole = max(whole, s.A.To, s.B.To)
	}
	list := []Entry{{"", w.sidePlaces(whole)}}
	few := len(p.Seams) <= fewSeams
	if few || numbered {
		list = append(list, numbering(p)...)
	}
	if !few {
		for _, l := range slices.SortedFunc(maps.Keys(by), func(a, b length) int {
			if a.faces != b.faces {
				return map[bool]int{true: 1, false: -1}[a.faces]
			}
			return a.places - b.places
		}) {
			which := ""
			switch {
			case l.faces:
				which = " between the faces,"
			case hasFaces(p):
				which = " within the faces,"
			}
			list = append(list, Entry{"", fmt.Sprintf("%d %s%s of %d %s.", by[l], plural(by[l], "seam", "seams"), which, l.places, plural(l.places, "place", "places"))})
		}
		return list
	}
	part := func(s model.SidePart, places int) string {
		text := fmt.Sprintf("%s of %s", sides[s.Side], motif(p, s.Motif))
		if places < whole {
			text += fmt.Sprintf(" (places %d to %d)", s.From+1, s.To)
		}
		return text
	}
	for i, s := range p.Seams {
		list = append(list, Entry{fmt.Sprintf("Seam %d", i+1), fmt.Sprintf("%s to %s, %d %s.", part(s.A, s.Places()), part(s.B, s.Places()), s.Places(), plural(s.Places(), "place", "places"))})
	}
	if slices.ContainsFunc(p.Seams, func(s model.Seam) bool { return s.Places() < whole }) {
		list = append(list, Entry{"", "Places of a side are counted with the RS facing, going round the motif in the direction of work."})
	}
	return list
}

// sidePlaces says what of a side is joined. That a seam takes in the corners is
// common practice, no source.
func (w *writer) sidePlaces(places int) string {
	corner := "corner ch"
	for n := range w.g.Nodes(w.g.NumRounds() - 1) {
		if n.Corner && n.IsStitch() {
			corner = "corner sts"
		}
	}
	return fmt.Sprintf("Each side of a motif has %d %s between its corners, sts and single ch; count them before you join. They are joined one to one. The %s are not among them: where a seam comes to a corner, take it through the %s of both sides as well, so that no hole is left.",
		places, plural(places, "place", "places"), corner, corner)
}

// numbering says how motifs are numbered; a single one is not.
func numbering(p *model.Panel) []Entry {
	how := "row by row from the bottom"
	switch {
	case p.Motifs == 1:
		return nil
	case hasFaces(p):
		how += ", one face after the other, each seen with its RS facing"
	case p.Kind == notation.PanelWrapOnPoint:
		how = "one strip after the other"
	}
	return []Entry{{"", fmt.Sprintf("The motifs are numbered from the left, %s.", how)}}
}

// motif names one of the motifs, counted from 0.
func motif(p *model.Panel, n int) string {
	if p.Motifs == 1 {
		return "the motif"
	}
	return fmt.Sprintf("motif %d", n+1)
}

// withYarn names the yarn of the seams, where it has a name.
func (w *writer) withYarn() string {
	if w.sheet != nil {
		for _, y := range w.sheet.Yarns {
			if y.Seams.Known() && y.Name != "" {
				return " with " + y.Name
			}
		}
	}
	return ""
}

// howToJoin spells the join of motif to motif out.
func (w *writer) howToJoin(join notation.JoinKind) string {
	with := w.withYarn()
	switch join {
	case notation.JoinMattress:
		return fmt.Sprintf("Sew in mattress stitch%s: RS up, edge beside edge, take the needle under a place of one edge and under the matching one of the other in turn, and draw the yarn up every few places.", with)
	case notation.JoinSlip:
		return fmt.Sprintf("Join in %s%s: hold the motifs RS together and work 1 %s through both of each pair of matching places.", w.slip, with, w.slip)
	case notation.JoinSingle:
		sc := w.stitch("sc")
		return fmt.Sprintf("Join in %s%s: hold the motifs WS together and work 1 %s through both of each pair of matching places. The seam makes a ridge.", sc, with, sc)
	}
	return fmt.Sprintf("Sew in whip stitch%s: hold the motifs RS together and sew over and over, once through both of each pair of matching places; draw the yarn close but not tight.", with)
}

// howToJoinFaces spells the join of face to face out, which is made from
// outside: a cushion could not be turned with the pad in it.
func (w *writer) howToJoinFaces(join notation.JoinKind) string {
	with := w.withYarn()
	switch join {
	case notation.JoinMattress:
		return fmt.Sprintf("Sew in mattress stitch%s: with the faces WS together take the needle from outside under a place of one edge and under the matching one of the other in turn, and draw the yarn up every few places.", with)
	case notation.JoinSlip, notation.JoinSingle:
		st := w.slip
		if join == notation.JoinSingle {
			st = w.stitch("sc")
		}
		return fmt.Sprintf("Join in %s%s: with the faces WS together work 1 %s through both of each pair of matching places. The seam shows on the outside.", st, with, st)
	}
	return fmt.Sprintf("Sew in whip stitch%s: with the faces WS together sew over and over the edge, once through both of each pair of matching places; draw the yarn close but not tight. The seam shows on the outside.", with)
}

// edge writes what a border is worked on.
func (w *writer) edge(p *model.Panel, b model.Border) string {
	e := &p.Edges[b.Edge]
	corners := map[bool]int{} // sts, by true, and sps
	for id := range b.Graph.Foundation() {
		if n := b.Graph.Node(id); n.Corner {
			corners[n.IsStitch()]++
		}
	}
	var has []string
	join := " and "
	if corners[true] > 0 {
		join = ", and "
	}
	for _, c := range []struct {
		n, corners int
		what       string
	}{{e.Stitches, corners[true], "st"}, {e.Spaces, corners[false], "ch sp"}} {
		if c.n == 0 {
			continue
		}
		text := fmt.Sprintf("%d %s", c.n, plural(c.n, c.what, c.what+"s"))
		switch {
		case c.corners == c.n:
			text += plural(c.n, ", a corner", ", all of them corners")
		case c.corners > 0:
			text += fmt.Sprintf(", %d of them %s", c.corners, plural(c.corners, "a corner", "corners"))
		}
		has = append(has, text)
	}
	through := ""
	if e.Joined {
		through = ", through both faces at once"
	}
	text := fmt.Sprintf("Work with the RS facing%s. The edge has %s.", through, strings.Join(has, join))
	if slices.ContainsFunc(e.Parts, func(part model.EdgePart) bool { return part.Then != model.Outwards }) {
		text += " Where 2 motifs meet, their corners and the seam between them are one place."
	}
	return text
}

// edgeBegins says from where an edge is counted.
func edgeBegins(p *model.Panel, edge int) string {
	first := p.Edges[edge].Parts[0]
	side := fmt.Sprintf("the %s of %s", sides[first.Side], motif(p, first.Motif))
	if first.From > 0 {
		return fmt.Sprintf("Its places are counted from place %d of %s.", first.From+1, side)
	}
	return fmt.Sprintf("Its places are counted from the corner where %s begins.", side)
}
