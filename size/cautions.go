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
	// CordsAtNeck: no cords, ties or tassels at the neck of a child's garment.
	// They catch, in slides and doors above all, and can strangle. (US Consumer
	// Product Safety Commission, "Drawstrings in Children's Upper Outerwear";
	// EN 14682: none in the head and neck area of young children, to about 7
	// years; Finnish Safety and Chemicals Agency, "Cords and drawstrings on
	// children's clothing".)
	CordsAtNeck Caution = iota + 1
	// Openwork: fingers and toes of infants get caught in loops and spaces. No
	// published limit for crochet fabric was found. (CEN/TR 16792:2014 is about
	// such dangers.)
	Openwork
	// InfantSleep: blankets and cushions do not belong where an infant sleeps.
	// (American Academy of Pediatrics and US Consumer Product Safety
	// Commission, as restated in the press: no pillows, quilts or other soft or
	// loose bedding.)
	InfantSleep
)

// Text says it in one sentence, as it may stand in a pattern.
func (c Caution) Text() string {
	switch c {
	case CordsAtNeck:
		return "No cords, ties or tassels at the neck of a child's garment: they can catch and strangle. Local regulations decide."
	case Openwork:
		return "Openwork and loops can catch the fingers and toes of an infant: keep spaces small and loops short. Local regulations decide."
	case InfantSleep:
		return "Not sleep bedding for infants: keep blankets, cushions and other loose or soft things out of the place where an infant sleeps. Local regulations decide."
	}
	return ""
}

// openSpace is how many chains make a space that counts as openwork: more than
// what bridges a gap between groups.
const openSpace = 2

// A flat motif without a panel is taken for a blanket or a mat when some hands
// may make it blanketSize across: large enough to lie on or under an infant.
// Without a gauge its stitches are taken to be thickStitch wide, as in thick
// yarn. Common practice, no source, both.
const (
	blanketSize Length = 300 // mm
	thickStitch        = 10  // mm
)

// cautions lists those that apply, by who the piece is for and what it is. A
// garment of which nobody says who it is for may be a child's.
func (s *Sheet) cautions(draft *notation.Draft, g *model.Graph) (list []Caution) {
	who, kind := draft.For(), notation.PanelKind("")
	if p := draft.Panel(); p != nil {
		kind = p.Kind
	}
	garment := kind == notation.PanelWrap || kind == notation.PanelWrapOnPoint
	bedding := kind == notation.PanelFlat || kind == notation.PanelCushion
	if kind == "" && who == notation.Infant && draft.Lies() != notation.Cupped {
		bedding = s.mostAcross(g) >= blanketSize
	}
	if garment && who != notation.Adult {
		list = append(list, CordsAtNeck)
	}
	if who == notation.Infant && open(g) {
		list = append(list, Openwork)
	}
	if who == notation.Infant && bedding {
		list = append(list, InfantSleep)
	}
	return list
}

// mostAcross is how wide the motif may come out.
func (s *Sheet) mostAcross(g *model.Graph) (most Length) {
	for _, m := range s.Rounds {
		most = max(most, m.Across.High)
	}
	if s.Gauge.Unit == 0 {
		for _, r := range Shape(g, s.Gauge.Dimensions).Rounds {
			most = max(most, Length(r.Across*thickStitch))
		}
	}
	return most
}

// open reports whether a piece has spaces to put a finger through. A corner of
// chains that the next round fills is none.
func open(g *model.Graph) bool {
	for i := range g.NumRounds() {
		for _, e := range g.Entries(i) {
			if e.Kind() == chains && e.Chains() >= openSpace && (!e.Corner() || i == g.NumRounds()-1) {
				return true
			}
		}
	}
	return false
}
