package size

import (
	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Caution is a matter of safety that a pattern should mention. They are the
// usual ones and no legal advice: what holds is the law of the place where the
// piece is made, given or sold.
type Caution uint8

// The cautions.
const (
	// CordsAtNeck: no cords, ties or tassels at the neck of a child. They catch,
	// in slides and doors above all, and can strangle. (US Consumer Product Safety
	// Commission, "Drawstrings in Children's Upper Outerwear"; EN 14682: none in
	// the head and neck area of young children, to about 7 years, and a draft of
	// 2023 that hats, scarves and the like be judged as garments are; Finnish
	// Safety and Chemicals Agency, "Cords and drawstrings on children's clothing".
	// That a ribbon laced through the edge of a blanket draws into a loop: opinion
	// of a weblog, 2009.)
	CordsAtNeck Caution = iota + 1
	// Openwork: fingers and toes of infants get caught in loops and spaces. No
	// published limit for crochet fabric was found. (CEN/TR 16792:2014 is about
	// such dangers.)
	Openwork
	// InfantSleep: nothing soft or loose belongs where an infant sleeps, be it a
	// blanket, a hat or a toy. (American Academy of Pediatrics and US Consumer
	// Product Safety Commission, as restated in the press: no pillows, quilts or
	// other soft or loose bedding; a fitted sheet only, and no other items.)
	InfantSleep
	// SmallParts: what comes off can choke a child under 3. (16 CFR 1501, of toys
	// and other articles; buttons, eyes and beads are parts in its sense, yarn is
	// none.)
	SmallParts
)

// Text says it in a sentence or two, as it may stand in a pattern.
func (c Caution) Text() string {
	switch c {
	case CordsAtNeck:
		return "No cords, ties or tassels at the neck of a child, and none drawn through an edge: they can catch and strangle. Local regulations decide."
	case Openwork:
		return "Openwork and loops can catch the fingers and toes of an infant: keep spaces small and loops short. Local regulations decide."
	case InfantSleep:
		return "Not for the place where an infant sleeps: keep blankets, cushions, toys and all other loose or soft things out of it. Local regulations decide."
	case SmallParts:
		return "No buttons, beads, eyes or other small parts for a child under 3: they can come off and choke. Local regulations decide."
	}
	return ""
}

// cautions lists those that apply, by who the piece is for and what it is. What
// is for an infant may end up wherever the infant is, whatever it is meant for. A
// garment of which nobody says who it is for may be a child's.
func cautions(draft *notation.Draft, g *model.Graph) (list []Caution) {
	who := draft.For()
	infant := who == notation.Infant
	garment := false
	if p := draft.Panel(); p != nil {
		garment = p.Kind == notation.PanelWrap || p.Kind == notation.PanelWrapOnPoint
	}
	if infant || who == notation.Child || garment && who != notation.Adult {
		list = append(list, CordsAtNeck)
	}
	if infant && openwork(g) {
		list = append(list, Openwork)
	}
	if infant {
		list = append(list, InfantSleep, SmallParts)
	}
	return list
}

// What counts as openwork: common practice, no source, all three.
const (
	openSpace = 2 // chains of a space between short stitches; 1 between tall ones
	openRing  = 6 // chains of a ring, which hold a dozen tall stitches with ease
	openGroup = 3 // tall stitches in one space or gap, with a hole beside their feet
)

// openwork reports whether a piece or one of its borders has spaces or loops to
// put a finger through.
func openwork(g *model.Graph) bool {
	if g.Ring >= openRing || open(g) {
		return true
	}
	for _, b := range g.Borders() {
		if open(b.Graph) {
			return true
		}
	}
	return false
}

// open reports whether some round is open: it has a picot, a space, or groups as
// in a granny square. A corner of chains that the next round fills is no hole,
// and neither is the group in it.
func open(g *model.Graph) bool {
	for i := range g.NumRounds() {
		least := openSpace
		if isTall(g, i) {
			least = 1
		}
		last := i == g.NumRounds()-1
		place, below, group := notation.NoPlace, 0, 0
		for _, e := range g.Entries(i) {
			switch {
			case e.Kind() == picot:
				return true
			case e.Kind() == chains && !e.Corner() && e.Chains() >= least:
				return true
			case e.Kind() == chains && e.Corner() && last && e.Chains() >= openSpace:
				return true
			}
			if e.Place() != place || e.Below() != below {
				place, below, group = e.Place(), e.Below(), 0
			}
			if group++; group >= openGroup && least == 1 && (place == notation.Gap || place == notation.Sp && !filled(g, below)) {
				return true
			}
		}
	}
	return false
}

// isTall reports whether a round has stitches of the height of hdc or more.
func isTall(g *model.Graph, round int) bool {
	for _, e := range g.Entries(round) {
		if e.IsStitch() && g.KindAt(e.Kind()).Height >= model.Half {
			return true
		}
	}
	return false
}

// filled reports whether groups in a space leave no hole beside them: in the
// ring, and at a corner.
func filled(g *model.Graph, space int) bool {
	return g.Ring > 0 && space == 0 || g.Node(space).Corner
}
