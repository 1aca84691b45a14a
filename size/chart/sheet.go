package chart

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A sheet is the chart of stitches.
type sheet struct {
	draft   *notation.Draft
	graph   *model.Graph
	layout  *Layout
	kinds   []model.Kind
	terms   []notation.Terms
	palette *palette // when stitches are drawn in colour

	symbols []symbol
	known   map[key]int // index in symbols
	ring    []use
	rounds  [][]use
	seams   [][]use // of each round
	signs   []sign
	bounds  box // of all that

	stoodOn []bool // by stitch: another one stands on it
	turns   bool   // some rounds are worked on the other side
}

// A symbol is one drawing, used once or many times.
type symbol struct {
	stitch string
	seam   bool // it stands for no stitch that counts
	*figure
}

// A use is a symbol at its place.
type use struct {
	symbol int
	at     Point
	turn   float64 // degrees, clockwise
	hue    int
}

// Gaps that keep symbols from running into each other, in w.
const (
	overStitch = 0.15
	overChain  = 0.24
	leastTall  = 0.35
)

func newSheet(d *notation.Draft, l *Layout, o Options) *sheet {
	g := l.graph
	s := &sheet{
		draft: d, graph: g, layout: l, kinds: g.Kinds(), terms: o.terms(d),
		known: map[key]int{}, bounds: nowhere, stoodOn: make([]bool, g.Len()), turns: turns(g),
	}
	if o.Colour {
		s.palette = paletteOf(d, g)
	}
	for _, p := range l.places {
		if p.Kind == notation.St {
			s.stoodOn[p.Stitch] = true
		}
	}
	s.foundation()
	s.rounds, s.seams = make([][]use, len(l.circles)), make([][]use, len(l.circles))
	for i := range l.circles {
		s.round(i)
		s.seams[i] = s.seam(i)
	}
	s.number()
	return s
}

// turns reports whether some rounds are worked on the other side.
func turns(g *model.Graph) bool {
	for _, r := range g.Rounds() {
		if r.Turned {
			return true
		}
	}
	return false
}

// foundation gathers the symbols of a ring of chains. Feet stand outside it.
func (s *sheet) foundation() {
	l := s.layout
	s.bounds.add(around(Point{}, l.ring*unit))
	for c := range l.graph.Ring {
		angle := l.ringAngle(c + 1)
		s.ring = append(s.ring, s.chain(Link{polar(angle, l.ring-overChain), angle + math.Pi/2, 1}, s.hue(0)))
	}
}

// round gathers the symbols of one round.
func (s *sheet) round(i int) {
	picots := map[int]int{} // so far, by what they sit on
	for id, n := range s.graph.Entries(i) {
		switch {
		case n.IsStitch():
			s.rounds[i] = append(s.rounds[i], s.stitch(i, id))
		case n.Kind() == chains:
			for _, link := range s.layout.links(id) {
				s.rounds[i] = append(s.rounds[i], s.chain(link, s.hue(id)))
			}
		default:
			on := n.Below()
			s.rounds[i] = append(s.rounds[i], s.picot(i, id, n, picots[on]))
			picots[on]++
		}
	}
}

// hue is the hue of a stitch, 0 when it is not drawn in colour.
func (s *sheet) hue(id int) int {
	if s.palette == nil {
		return 0
	}
	return int(s.palette.of[id])
}

func (s *sheet) chain(l Link, hue int) use {
	size := math.Max(0.2, tenth(l.Size))
	symbol := s.symbol(key{stitch: "ch", tall: tenths(size)}, func() *figure { return chainFigure(size) })
	return s.put(use{symbol, l.At, -degrees(l.Direction), hue})
}

// picot sets a picot on its stitch, or beside what stands there; several on one
// stitch stand like a fan.
func (s *sheet) picot(i, id int, n model.Entry, before int) use {
	out := s.layout.circles[i].outward(s.layout.turn[id])
	fan := []float64{0, 0.6, -0.6, 1.2, -1.2}
	if on := n.Below(); on >= 0 && s.stoodOn[on] {
		fan = []float64{0.8, -0.8, 1.3, -1.3}
		if s.graph.Round(i).Turned {
			fan = []float64{-0.8, 0.8, -1.3, 1.3}
		}
	}
	out += fan[before%len(fan)]
	symbol := s.symbol(key{stitch: "picot", start: n.Chains()}, func() *figure { return picotFigure(n.Chains()) })
	return s.put(use{symbol, s.layout.head[id].plus(polar(out, 0.1)), 90 - degrees(out), s.hue(id)})
}

// stitch draws a stitch from its feet to its head.
func (s *sheet) stitch(i, id int) use {
	l, n := s.layout, s.graph.Node(id)
	d := drawing{kind: s.kinds[n.Kind], loop: n.Loop, wide: 1}
	if s.marked(i, id, n) {
		d.loop = notation.BothLoops
	}
	if s.graph.Round(i).Turned {
		d.turnOver()
	}
	d.start = s.startingChain(id)
	if crowd := l.circles[i].crowd; crowd < 0.95 {
		d.wide = math.Max(0.5, tenth(crowd))
	}
	head := l.head[id]
	feet := make([]Point, 0, n.Legs)
	for j := l.footAt[id]; j < l.footAt[id+1]; j++ {
		gap := overStitch
		if p := l.places[j]; p.Kind == notation.Sp || p.Kind == notation.Ch {
			gap = overChain
		}
		feet = append(feet, l.feet[j].nearer(head, gap))
	}
	foot := middle(feet)
	out := l.circles[i].outward(l.turn[id])
	if foot.plus(polar(out, 0.05)).minus(head).length() < leastTall {
		foot = head.minus(polar(out, leastTall))
	}
	axis := foot.towards(head)
	d.tall = tenth(head.minus(foot).length())
	if d.loop != notation.BothLoops {
		d.under = tenth(math.Remainder(out-axis, 2*math.Pi))
	}
	if len(feet) > 1 {
		for _, f := range feet {
			p := f.minus(foot).turned(math.Pi/2 - axis)
			d.feet = append(d.feet, Point{tenth(p.X), tenth(p.Y)})
		}
	}
	symbol := s.symbol(d.key(), d.draw)
	return s.put(use{symbol, foot, 90 - degrees(axis), s.hue(id)})
}

// startingChain is how many chains are worked in place of a stitch; 0 when it is
// worked itself.
func (s *sheet) startingChain(id int) int {
	if b := &s.layout.begins[s.layout.round[id]]; b.Counts && b.First == id {
		return b.Chains
	}
	return 0
}

// marked reports whether the stitch before stands in the same loop, and has the
// mark for it.
func (s *sheet) marked(round, id int, n model.Node) bool {
	if n.Loop == notation.BothLoops || id == s.graph.Round(round).First {
		return false
	}
	before := s.graph.Node(id - 1)
	return before.Place == n.Place && before.Below == n.Below && before.Chain == n.Chain && before.Loop == n.Loop
}

// symbol returns the number of a symbol, which is drawn when it is first met.
func (s *sheet) symbol(k key, draw func() *figure) int {
	at, ok := s.known[k]
	if !ok {
		at = len(s.symbols)
		s.known[k] = at
		s.symbols = append(s.symbols, symbol{k.stitch, k.seam, draw()})
	}
	return at
}

// put notes the room that a symbol takes.
func (s *sheet) put(u use) use {
	b := s.symbols[u.symbol].box
	sin, cos := math.Sincos(u.turn * math.Pi / 180)
	for _, p := range [...]Point{{b.left, b.top}, {b.right, b.top}, {b.left, b.bottom}, {b.right, b.bottom}} {
		s.bounds.add(around(Point{u.at.X*unit + p.X*cos - p.Y*sin, -u.at.Y*unit + p.X*sin + p.Y*cos}, 0))
	}
	return u
}

func degrees(angle float64) float64 { return angle * 180 / math.Pi }

// Measures of the picture.
const (
	margin     = 24.0
	headRoom   = 44.0 // for the title and a line
	leastWide  = 480.0
	titleSize  = 17.0
	textSize   = 12.0
	numberSize = 10.5
	numberDown = 0.34 // below the tops of the round, in w
	arrowWide  = 0.32 // in w
	cornerWide = 0.5  // in w
)

// write writes the picture.
func (s *sheet) write(w io.Writer) error {
	chart := s.bounds.grown(margin)
	chart.widen(leastWide)
	legend := s.legend()
	head := headOf(titleOf(s.graph), "From the centre, counter-clockwise."+without(s.graph)+s.shades())
	view := head.above(legend.below(chart))

	p := newPen(w)
	p.begin(view, titleOf(s.graph), s.text(), s.palette.rules()...)
	head.write(p)
	p.start("defs")
	p.line()
	for i := range s.symbols {
		stands := "data-stitch"
		if s.symbols[i].seam {
			stands = "data-seam"
		}
		p.start("g", "id", symbolID(i), stands, s.symbols[i].stitch)
		s.symbols[i].draw(p)
		p.close()
	}
	p.close()
	p.group("mark", "corners")
	for i := range s.layout.circles {
		for _, id := range s.graph.Corners(i) {
			p.circle(s.layout.head[id], cornerWide)
		}
	}
	p.close()
	p.group("lines ink", "foundation")
	if s.graph.Ring == 0 {
		p.circle(Point{}, s.layout.ring-0.12)
	}
	s.uses(p, s.ring)
	p.close()
	for i, uses := range s.rounds {
		class := "lines ink"
		if i%2 == 1 && s.palette == nil {
			class = "lines second"
		}
		p.group(class, fmt.Sprintf("round-%d", i+1))
		s.uses(p, uses)
		p.close()
		if len(s.seams[i]) > 0 {
			p.group(class, fmt.Sprintf("seam-%d", i+1))
			s.uses(p, s.seams[i])
			p.close()
		}
	}
	p.group("faint", "numbers")
	s.writeSigns(p)
	p.close()
	legend.write(p)
	return p.finish()
}

func symbolID(i int) string { return fmt.Sprintf("s%d", i) }

// uses writes symbols at their places, those of one hue together.
func (s *sheet) uses(p *pen, list []use) {
	hue := 0
	for _, u := range list {
		if u.hue != hue {
			if hue > 0 {
				p.close()
			}
			if hue = u.hue; hue > 0 {
				p.group(s.palette.hues[hue].class, "")
			}
		}
		turn := number(math.Mod(u.turn, 360))
		place := "translate(" + number(u.at.X*unit) + " " + number(-u.at.Y*unit) + ")"
		if turn != "0" {
			place += "rotate(" + turn + ")"
		}
		p.one("use", "", "href", "#"+symbolID(u.symbol), "transform", place)
	}
	if hue > 0 {
		p.close()
	}
}

// A sign is the number of a round where it begins, and in a piece that is turned
// an arrow that says which way it goes.
type sign struct {
	text string
	at   Point
	wide float64
	way  float64 // direction; used when the piece is turned
}

// number finds room for the numbers of the rounds.
func (s *sheet) number() {
	var taken labels
	for i := range s.layout.circles {
		c := &s.layout.circles[i]
		r := s.graph.Round(i)
		out := c.outward(c.seam)
		n := sign{text: fmt.Sprint(r.Number), way: out + math.Pi/2}
		if r.Turned {
			n.way -= math.Pi
		}
		n.wide = textWidth(n.text, numberSize) / unit
		if s.turns {
			n.wide += 2 * arrowWide
		}
		n.at = taken.place(c.point(c.seam, math.Max(0, c.level-math.Min(numberDown, 0.15*c.tall))), n.way, n.wide, numberSize/unit)
		s.signs = append(s.signs, n)
		s.bounds.add(around(Point{n.at.X * unit, -n.at.Y * unit}, n.wide*unit/2))
	}
}

func (s *sheet) writeSigns(p *pen) {
	for _, n := range s.signs {
		p.number(n.text, n.at)
		if s.turns {
			p.arrow(n.at.plus(polar(n.way, n.wide/2-0.1)), n.way)
		}
	}
}

// titleOf is what a picture is headed with.
func titleOf(g *model.Graph) string { return cmp.Or(g.Title, "Motif") }

// shades says what the two colours are, so that nobody takes them for yarns.
func (s *sheet) shades() string {
	if s.palette != nil || s.graph.NumRounds() < 2 {
		return ""
	}
	return " Two colours by turns tell the rounds apart; they are not those of the yarns."
}

// without says what a picture of one motif leaves out of a piece made up of
// several.
func without(g *model.Graph) string {
	p := g.Panel()
	if p == nil {
		return ""
	}
	left := ""
	switch len(g.Borders()) {
	case 0:
	case 1:
		left = ", without the border"
	default:
		left = ", without the borders"
	}
	if p.Motifs > 1 {
		return fmt.Sprintf(" One of %d motifs%s.", p.Motifs, left)
	}
	return " The motif" + left + "."
}

// mostTold is how many rounds the description of a picture goes through.
const mostTold = 200

// text says in words what the chart shows.
func (s *sheet) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Crochet chart of %s, read from the centre, counter-clockwise.%s%s", count(len(s.rounds), "round", "rounds"), without(s.graph), s.palette.note())
	for i := range min(len(s.rounds), mostTold) {
		r := s.graph.Round(i)
		fmt.Fprintf(&b, " Round %d", r.Number)
		if r.Turned {
			b.WriteString(", on the other side")
		}
		if r.Yarn != "" {
			b.WriteString(", in " + cut(r.Yarn, textSize, keyLong/2))
		}
		fmt.Fprintf(&b, ": %s%s.", s.holds(i), s.told(i))
	}
	if len(s.rounds) > mostTold {
		b.WriteString(" And so on.")
	}
	return b.String()
}

// holds lists what a round holds.
func (s *sheet) holds(i int) string {
	c := s.graph.Counts(i)
	var parts []string
	for _, k := range byHeight(s.kinds) {
		if n := c.Stitches[k.Name]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, s.terms[0].Name(k.Name)))
		}
	}
	for _, more := range []struct {
		n         int
		one, many string
	}{{c.Spaces, "chain space", "chain spaces"}, {c.Picots, "picot", "picots"}, {c.Corners, "corner", "corners"}} {
		if more.n > 0 {
			parts = append(parts, count(more.n, more.one, more.many))
		}
	}
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, ", ")
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
