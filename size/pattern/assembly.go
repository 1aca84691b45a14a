package pattern

import (
	"fmt"
	"maps"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// making writes how motifs are made up, and the borders.
func (w *writer) making() []Section {
	p := w.g.Panel()
	if p == nil {
		return nil
	}
	sections := []Section{{Heading: "Making up", Entries: w.assembly(p)}}
	for i, b := range w.g.Borders() {
		w.notes.edges = false
		rounds := w.pieces[1+i].rounds()
		edge := &p.Edges[b.Edge]
		text := w.edge(edge)
		if w.notes.edges {
			text += " " + edgeBegins(edge)
		}
		s := Section{Heading: borderHeading(p, b.Name), Entries: append([]Entry{{"", text}}, entries(rounds)...)}
		if k := len(sections) - 1; sections[k].Heading == s.Heading && slices.Equal(sections[k].Entries, s.Entries) {
			// The two edges of a tube.
			sections[k].Entries = append([]Entry{{"", "Work the same on each of the two edges."}}, s.Entries...)
			continue
		}
		sections = append(sections, s)
	}
	return sections
}

func borderHeading(p *model.Panel, edge notation.EdgeName) string {
	switch {
	case edge == notation.EdgeOfNeck:
		return "Border of the neck"
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

// assembly writes how the motifs are laid out and joined.
func (w *writer) assembly(p *model.Panel) []Entry {
	var list []Entry
	put := func(format string, args ...any) { list = append(list, Entry{"", fmt.Sprintf(format, args...)}) }
	put("Block the motifs first: damp them, pin them out to one size, and let them dry.")
	face := fmt.Sprintf("%d %s of %d", p.Rows, plural(p.Rows, "row", "rows"), p.Columns)
	switch p.Kind {
	case notation.PanelTube:
		put("Lay the motifs out RS up in %s and join them. Then join the right end of each row to its left end, so that they make a tube.", face)
	case notation.PanelCushion:
		put("Lay the motifs out RS up as 2 faces, each of %s, and join those of each face. Then lay the faces WS together and join them all round; put the pad in before the last side is closed.", face)
	case notation.PanelBag:
		put("Lay the motifs out RS up as 2 faces, each of %s, and join those of each face. Then lay the faces WS together and join them down both sides and along the bottom; the top stays open.", face)
	case notation.PanelWrap:
		put("Lay the motifs out RS up in %s: the lower row is the front, the upper one the back. The seam between the rows lies over the shoulders, and part of it stays open for the neck.", face)
	case notation.PanelWrapOnPoint:
		put("Join the motifs, RS up, in 2 strips of 2. Then join the right end of each strip to the top of the first motif of the other. What is left of the tops makes the neck, and the points hang at the front and back.")
	default:
		put("Lay the motifs out RS up in %s and join them.", face)
	}
	list = append(list, w.seams(p)...)
	put("%s", w.howToJoin(p.Join))
	return list
}

// seams lists the seams: each where they are few, or where one is left partly
// open, and by their number otherwise.
func (w *writer) seams(p *model.Panel) []Entry {
	var list []Entry
	by := map[int]int{} // number of seams by their places
	whole := 0
	for _, s := range p.Seams {
		by[s.Places()]++
		whole = max(whole, s.A.To, s.B.To)
	}
	list = append(list, Entry{"", fmt.Sprintf("Each side of a motif has %d places from corner to corner, sts and single ch; count them before you join. They are joined one to one.", whole)})
	if len(p.Seams) > fewSeams {
		for _, places := range slices.Sorted(maps.Keys(by)) {
			list = append(list, Entry{"", fmt.Sprintf("%d %s of %d places.", by[places], plural(by[places], "seam", "seams"), places)})
		}
		return list
	}
	what := "row by row from the bottom"
	switch p.Kind {
	case notation.PanelCushion, notation.PanelBag:
		what += ", one face after the other"
	case notation.PanelWrapOnPoint:
		what = "one strip after the other"
	}
	list = append(list, Entry{"", fmt.Sprintf("The motifs are numbered from the left, %s.", what)})
	part := func(s model.SidePart, places int) string {
		text := fmt.Sprintf("%s of motif %d", sides[s.Side], s.Motif+1)
		if places < whole {
			text += fmt.Sprintf(" (places %d to %d)", s.From+1, s.To)
		}
		return text
	}
	for i, s := range p.Seams {
		list = append(list, Entry{fmt.Sprintf("Seam %d", i+1), fmt.Sprintf("%s to %s, %d places.", part(s.A, s.Places()), part(s.B, s.Places()), s.Places())})
	}
	if slices.ContainsFunc(p.Seams, func(s model.Seam) bool { return s.Places() < whole }) {
		list = append(list, Entry{"", "Places of a side are counted with the RS facing, going round the motif in the direction of work."})
	}
	return list
}

// howToJoin spells the join out.
func (w *writer) howToJoin(join notation.JoinKind) string {
	with := ""
	if w.sheet != nil {
		for _, y := range w.sheet.Yarns {
			if y.Seams.Known() && y.Name != "" {
				with = " with " + y.Name
				break
			}
		}
	}
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

// edge writes what a border is worked on.
func (w *writer) edge(e *model.PanelEdge) string {
	var has []string
	for _, c := range []struct {
		n    int
		what string
	}{{e.Stitches, "st"}, {e.Spaces, "ch sp"}, {e.Corners, "corner"}} {
		if c.n > 0 {
			has = append(has, fmt.Sprintf("%d %s", c.n, plural(c.n, c.what, c.what+"s")))
		}
	}
	through := ""
	if e.Joined {
		through = ", through both faces at once"
	}
	text := fmt.Sprintf("Work with the RS facing%s. The edge has %s; a corner is one of the sts or sps.", through, and(has))
	if slices.ContainsFunc(e.Parts, func(part model.EdgePart) bool { return part.Then != model.Outwards }) {
		text += " Where 2 motifs meet, their corners and the seam between them are one place."
	}
	return text
}

// edgeBegins says from where an edge is counted.
func edgeBegins(e *model.PanelEdge) string {
	first := e.Parts[0]
	side := fmt.Sprintf("the %s of motif %d", sides[first.Side], first.Motif+1)
	if first.From > 0 {
		return fmt.Sprintf("Its places are counted from place %d of %s.", first.From+1, side)
	}
	return fmt.Sprintf("Its places are counted from the corner where %s begins.", side)
}
