package size

import (
	"math"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A MadeUp is what the motifs of a draft are made up into. Without a gauge it has
// no lengths: Sizes and Fits are empty, and of seams and borders only the counts
// are known.
type MadeUp struct {
	Kind          notation.PanelKind
	Rows, Columns int // of one face
	Join          notation.JoinKind
	// Sizes are those of the finished piece, borders included, from the large
	// to the small.
	Sizes []Dimension
	// Seams are those of each length, and Sewn is the length of all together.
	Seams []SeamSize
	Sewn  Estimate[Length]
	// Lines is how many seams there are when those that run on in one line are
	// worked as one.
	Lines   int
	Borders []BorderSize
	// Fits say how a garment goes over a body.
	Fits []BodyFit
}

// A Dimension is one of the sizes of a finished piece.
type Dimension struct {
	What DimensionKind
	Size Estimate[Length]
}

// A DimensionKind says what is measured.
type DimensionKind string

// What is measured of a finished piece. Garments are measured as they lie
// folded on a table.
const (
	Width        DimensionKind = "width"
	Height       DimensionKind = "height"
	FaceWidth    DimensionKind = "width of a face" // of a cushion, without its border
	FaceHeight   DimensionKind = "height of a face"
	Around       DimensionKind = "around"         // a tube
	Opening      DimensionKind = "opening, round" // of a bag, as its border draws it in
	Hem          DimensionKind = "hem, round"     // of a wrap, border included
	Drop         DimensionKind = "drop"           // of a wrap, from the shoulder or the neck to the hem
	DropAtPoints DimensionKind = "drop at points" // from the corner of the neck to the point of the hem
	NeckFlat     DimensionKind = "neck, flat"     // half of the opening, border included
	NeckRound    DimensionKind = "neck, round"    // the opening all round
)

// A SeamSize is a number of seams of one length.
type SeamSize struct {
	Count  int
	Places int // stitches and single chains joined to as many, in each
	Length Estimate[Length]
}

// A BorderSize is a border, on all edges of its name together.
type BorderSize struct {
	Edge   notation.EdgeName
	Rounds int
	// Edges is how many such edges there are, and Length how long one is,
	// before the border.
	Edges        int
	Length       Estimate[Length]
	Outer, Inner int              // corners of the edge
	Width        Estimate[Length] // of the border
	// EdgePlaces and RimPlaces are the stitches and single chains of the edge
	// and of the border's last round, and Needed is what the last round needs
	// to lie flat with square corners, or 0 where that is not known, at the ends
	// of an opening in a seam:
	//	EdgePlaces + 2 Width (Outer - Inner) / w
	EdgePlaces, RimPlaces, Needed int
}

// drawnIn is the share of an opening that is left by a border round it.
func (b *BorderSize) drawnIn() float64 {
	if b.EdgePlaces == 0 || b.RimPlaces == 0 {
		return 1
	}
	return min(1, float64(b.RimPlaces)/float64(b.EdgePlaces))
}

// A BodyFit says how a garment goes over a body.
type BodyFit struct {
	Body
	// Fits: the neck passes over the head; the wrap, twice as far round as it is
	// wide, is at least 4 in larger than the chest; it falls to the waist.
	Fits bool
	// Ease is by how much the garment is larger than the body there, as
	// expected; less than 0 when it is smaller.
	Ease Length
}

// seamWidth is how much a seam adds between two motifs, as shares of the height
// of a row of sc: joined in sc up to one row, else about nothing. "Common
// practice, no source" in every case; that sc makes a ridge is read.
func (g Gauge) seamWidth(join notation.JoinKind) Estimate[Length] {
	if join != notation.JoinSingle {
		return Estimate[Length]{}
	}
	row := g.Length(g.Dimensions.Height[model.Single])
	return Estimate[Length]{0, row / 2, row}
}

// seamYarn is the yarn for each place of a seam, in w. Worked seams take a
// stitch of their kind; sewn ones about three widths, common practice, no
// source.
func (d *Dimensions) seamYarn(join notation.JoinKind) float64 {
	switch join {
	case notation.JoinSingle:
		return d.Fabric * d.Width[model.Single] * d.Height[model.Single]
	case notation.JoinSlip:
		return d.ChainYarn
	}
	return 3
}

// MadeUpOf measures what the motifs of a draft are made up into: what
// Sheet.MadeUp has, without the rest of the sheet. It is nil when the draft does
// not say.
func MadeUpOf(draft *notation.Draft, g *model.Graph) *MadeUp {
	s := measured(draft, g)
	s.madeUp(draft, g)
	return s.MadeUp
}

// madeUp measures what the motifs are made up into.
func (s *Sheet) madeUp(draft *notation.Draft, g *model.Graph) {
	p := g.Panel()
	if p == nil {
		return
	}
	m, _ := s.Finished()
	if s.Cupped && m.Side.Known() {
		// Its sides are as long as they were worked, and not as if it lay flat.
		m.Side = m.Edge.Times(1.0 / 4)
		m.Points = m.Side.Times(math.Sqrt2)
	}
	u := &MadeUp{Kind: p.Kind, Rows: p.Rows, Columns: p.Columns, Join: p.Join}
	s.MadeUp = u
	a := &assembly{panel: p, motif: m, seam: s.Gauge.seamWidth(p.Join)}
	a.places = placesOfSides(p)
	u.seams(a)
	for _, b := range g.Borders() {
		u.border(a, b, s.Gauge)
	}
	if m.Side.Known() {
		u.sizes(a)
		u.fits(draft.For())
	}
}

// An assembly is a panel and the size of its motifs.
type assembly struct {
	panel  *model.Panel
	motif  Measure
	seam   Estimate[Length] // width that a seam adds
	places [4]int           // of each side of a motif
}

// placesOfSides finds how many places each side has: as far as parts of it go.
func placesOfSides(p *model.Panel) (places [4]int) {
	see := func(part model.SidePart) { places[part.Side] = max(places[part.Side], part.To) }
	for _, s := range p.Seams {
		see(s.A)
		see(s.B)
	}
	for _, e := range p.Edges {
		for _, part := range e.Parts {
			see(part.SidePart)
		}
	}
	return places
}

// part is how long a part of a side is: its share of the places.
func (a *assembly) part(p model.SidePart) Estimate[Length] {
	if a.places[p.Side] == 0 {
		return Estimate[Length]{}
	}
	return a.motif.Side.Times(float64(p.Places()) / float64(a.places[p.Side]))
}

// run is how long so many motifs side by side are.
func (a *assembly) run(n int) Estimate[Length] {
	return a.motif.Side.Times(float64(n)).Plus(a.seam.Times(float64(n - 1)))
}

// edge is how long an edge is: its parts, and the seams that it crosses.
func (a *assembly) edge(e *model.PanelEdge) (length Estimate[Length], outer, inner int) {
	for _, part := range e.Parts {
		length = length.Plus(a.part(part.SidePart))
		switch part.Then {
		case model.Straight:
			length = length.Plus(a.seam)
		case model.Outwards:
			outer++
		case model.Inwards:
			inner++
		}
	}
	return length, outer, inner
}

// seams sums up the seams, those of one length together.
func (u *MadeUp) seams(a *assembly) {
	at := map[int]int{}
	for _, seam := range a.panel.Seams {
		n := seam.Places()
		length := a.part(seam.A)
		u.Sewn = u.Sewn.Plus(length)
		i, ok := at[n]
		if !ok {
			i = len(u.Seams)
			at[n] = i
			u.Seams = append(u.Seams, SeamSize{Places: n, Length: length})
		}
		u.Seams[i].Count++
	}
	u.Lines = linesOf(a.panel)
}

// linesOf counts the seams, those that run on in one line as one.
func linesOf(p *model.Panel) int {
	inner := p.Rows + p.Columns - 2 // between the motifs of a face
	switch p.Kind {
	case notation.PanelFlat:
		return inner
	case notation.PanelTube:
		return inner + 1
	case notation.PanelCushion, notation.PanelBag:
		return 2*inner + 1 // and one round the faces
	}
	return len(p.Seams)
}

// border measures a border, or adds an edge to one of the same name.
func (u *MadeUp) border(a *assembly, b model.Border, gauge Gauge) {
	for i := range u.Borders {
		if u.Borders[i].Edge == b.Name {
			u.Borders[i].Edges++
			return
		}
	}
	e := &a.panel.Edges[b.Edge]
	size := BorderSize{Edge: b.Name, Edges: 1, Rounds: b.Graph.NumRounds()}
	size.Length, size.Outer, size.Inner = a.edge(e)
	off, width := spreadOfSizes, 0.0
	heights := newHeights(b.Graph, gauge.Dimensions)
	for i := range b.Graph.NumRounds() {
		row := rowHeight(b.Graph, i, &gauge.Dimensions)
		heights.add(i, row)
		width += row
	}
	if !gauge.Dimensions.Measured {
		off = rootOfSquares([]float64{off, heights.spread()})
	}
	size.Width = about(gauge.Length(width), off)
	size.places(b.Graph)
	if inSides := func(p model.EdgePart) bool { return p.Then == model.Inwards && p.To < a.places[p.Side] }; !slices.ContainsFunc(e.Parts, inSides) {
		size.Needed = size.EdgePlaces + int(math.Round(2*width*float64(size.Outer-size.Inner)))
	}
	u.Borders = append(u.Borders, size)
}

// places counts those of the edge and of the last round that is worked.
func (b *BorderSize) places(g *model.Graph) {
	for i, r := range g.Rounds() {
		if i == 0 {
			b.EdgePlaces = g.StitchesAndChains(0, r.First)
		}
		if r.Status == model.Worked {
			b.RimPlaces = g.StitchesAndChains(r.First, r.First+r.Len)
		}
	}
}

// rowHeight is how much a round on a long edge adds, in w: the mean height of
// its stitches, weighted by their widths.
func rowHeight(g *model.Graph, i int, d *Dimensions) float64 {
	sum, weight := 0.0, 0.0
	for _, k := range g.Kinds() {
		if n := float64(g.Counts(i).Stitches[k.Name]); n > 0 {
			w, h := d.of(&k)
			sum, weight = sum+n*w*h, weight+n*w
		}
	}
	if weight == 0 {
		return 0
	}
	return sum / weight
}

// drawnIn is that of the border on the edges of a name.
func (u *MadeUp) drawnIn(name notation.EdgeName) float64 {
	for _, b := range u.Borders {
		if b.Edge == name {
			return b.drawnIn()
		}
	}
	return 1
}

// borderWidth is the width of the border on the edges of a name.
func (u *MadeUp) borderWidth(name notation.EdgeName) Estimate[Length] {
	for _, b := range u.Borders {
		if b.Edge == name {
			return b.Width
		}
	}
	return Estimate[Length]{}
}

// sizes measures the finished piece.
func (u *MadeUp) sizes(a *assembly) {
	put := func(what DimensionKind, size Estimate[Length]) { u.Sizes = append(u.Sizes, Dimension{what, size}) }
	hem := u.borderWidth(notation.EdgeOfPanel)
	width, height := a.run(u.Columns), a.run(u.Rows)
	switch u.Kind {
	case notation.PanelFlat, notation.PanelCushion:
		put(Width, width.Plus(hem.Times(2)))
		put(Height, height.Plus(hem.Times(2)))
		if u.Kind == notation.PanelCushion && hem.Known() {
			put(FaceWidth, width)
			put(FaceHeight, height)
		}
	case notation.PanelTube:
		put(Around, width.Plus(a.seam))
		put(Height, height.Plus(hem.Times(2)))
	case notation.PanelBag:
		put(Width, width)
		put(Height, height.Plus(hem))
		put(Opening, width.Plus(a.seam).Times(2*u.drawnIn(notation.EdgeOfPanel)))
	case notation.PanelWrap:
		put(Width, width.Plus(hem.Times(2)))
		put(Drop, a.run(1).Plus(a.seam.Times(0.5)).Plus(hem))
	case notation.PanelWrapOnPoint:
		// From the corner of the neck a motif lies on its point.
		put(DropAtPoints, a.motif.Points.Plus(hem))
		put(Drop, a.motif.Side.Plus(hem))
	}
	for i := range a.panel.Edges {
		e := &a.panel.Edges[i]
		length, outer, inner := a.edge(e)
		switch {
		case e.Name == notation.EdgeOfNeck:
			round := length.Times(u.drawnIn(notation.EdgeOfNeck))
			put(NeckFlat, round.Times(0.5))
			put(NeckRound, round)
		case u.Kind == notation.PanelWrap || u.Kind == notation.PanelWrapOnPoint:
			put(Hem, length.Plus(hem.Times(2*float64(outer-inner))))
		}
	}
}

// size is the dimension of a kind.
func (u *MadeUp) size(what DimensionKind) (Estimate[Length], bool) {
	for _, d := range u.Sizes {
		if d.What == what {
			return d.Size, true
		}
	}
	return Estimate[Length]{}, false
}

// fits holds a garment against bodies.
func (u *MadeUp) fits(who notation.Wearer) {
	neck, garment := u.size(NeckRound)
	if !garment {
		return
	}
	put := func(bodies []Body, size, least Length) {
		for _, b := range bodies {
			if who == notation.WearerUnsaid || who == b.Wearer {
				ease := size - b.Most
				u.Fits = append(u.Fits, BodyFit{b, ease >= least, ease})
			}
		}
	}
	put(heads, neck.Expected, 0)
	if width, ok := u.size(Width); ok {
		put(chests, 2*width.Expected, looseEase)
	}
	if drop, ok := u.size(Drop); ok && who == notation.Child {
		put(backs, drop.Expected, 0)
	}
}
