package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// The shapes of stitches. They follow the words in which the trade describes its
// symbols: a stem with a bar on top and one slash for each yarn over, a cross,
// an oval, a dot, legs that meet where stitches are worked together, a hook round
// a post. Sources of those: Craft Yarn Council, Standards & Guidelines for
// Knitting and Crochet, 5 Feb 2018, p. 3, and pages that describe symbols. Each
// drawing is our own.
//
// Each is drawn in a frame of its own: the foot at 0, 0, the head straight above
// it, lengths in w.

// A figure is a drawing: lines, and shapes that are filled.
type figure struct {
	lines, filled strings.Builder
	box           box // in units of the picture
}

// path adds a piece of a path: a letter and the points after it.
func (f *figure) path(to *strings.Builder, letter string, points ...Point) {
	to.WriteString(letter)
	for i, p := range points {
		x, y := p.X*unit, -p.Y*unit
		f.box.add(around(Point{x, y}, 1)) // half the width of a line
		if i > 0 {
			to.WriteByte(' ')
		}
		to.WriteString(number(x))
		to.WriteByte(' ')
		to.WriteString(number(y))
	}
}

func newFigure() *figure { return &figure{box: nowhere} }

// number writes a number with up to one place.
func number(x float64) string {
	x = math.Round(x*10) / 10
	if x == 0 { // no minus
		x = 0
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

func (f *figure) line(p, q Point) {
	f.path(&f.lines, "M", p)
	f.path(&f.lines, "L", q)
}

func (f *figure) curve(p, via, q Point) {
	f.path(&f.lines, "M", p)
	f.path(&f.lines, "Q", via, q)
}

// oval is an ellipse with the half axes a, in the direction of angle, and b.
func (f *figure) oval(at Point, a, b, angle float64) { f.ellipse(&f.lines, at, a, b, angle) }

// dot is one that is filled.
func (f *figure) dot(at Point, a, b float64) { f.ellipse(&f.filled, at, a, b, 0) }

func (f *figure) ellipse(to *strings.Builder, at Point, a, b, angle float64) {
	p, q := at.plus(polar(angle, a)), at.minus(polar(angle, a))
	f.path(to, "M", p)
	arc := fmt.Sprintf("A%s %s %s 0 1 ", number(a*unit), number(b*unit), number(-angle*180/math.Pi))
	f.path(to, arc, q)
	f.path(to, arc, p)
	side := polar(angle+math.Pi/2, b)
	for _, p := range []Point{at.plus(side), at.minus(side)} {
		f.box.add(around(Point{p.X * unit, -p.Y * unit}, 1))
	}
	f.box.add(around(Point{p.X * unit, -p.Y * unit}, 1))
}

// A stem is one leg of a stitch, from its foot to its head.
type stem struct {
	foot, head Point
	bow        float64 // how far it bends aside in the middle
	apart      float64 // how far apart others in the same place are; 0 for none
}

// at is a place on the stem, from 0 at the foot, and across the direction to its
// right there.
func (s stem) at(u float64) (p Point, across float64) {
	via := s.via()
	p = s.foot.times((1 - u) * (1 - u)).plus(via.times(2 * u * (1 - u))).plus(s.head.times(u * u))
	along := via.minus(s.foot).times(1 - u).plus(s.head.minus(via).times(u))
	return p, along.angle() - math.Pi/2
}

func (s stem) via() Point {
	middle := s.foot.plus(s.head).times(0.5)
	if s.bow == 0 {
		return middle
	}
	across := s.foot.towards(s.head) - math.Pi/2
	return middle.plus(polar(across, 2*s.bow))
}

func (f *figure) stem(s stem) {
	if s.bow == 0 {
		f.line(s.foot, s.head)
		return
	}
	f.curve(s.foot, s.via(), s.head)
}

// A shape is what the name of a symbol says: see model.Kind.
type shape struct {
	post     string // fp or bp
	base     string // cross, tall, dot, ...
	slashes  int
	extended bool
	wave     bool
}

func shapeOf(k model.Kind) shape {
	var s shape
	name := strings.TrimPrefix(k.Symbol, "together-")
	for _, post := range []string{"fp-", "bp-"} {
		if cut, ok := strings.CutPrefix(name, post); ok {
			s.post, name = post[:2], strings.TrimPrefix(cut, "together-")
		}
	}
	for _, part := range strings.Split(name, "-") {
		n, err := strconv.Atoi(part)
		switch {
		case err == nil:
			s.slashes = n
		case part == "stem":
			s.extended = true
		case part == "wave":
			s.wave = true
		default:
			s.base = part
		}
	}
	return s
}

// Widths of marks, in w.
const (
	barWide   = 0.7
	slashWide = 0.4
	slashStep = 0.25
	hookWide  = 0.22
)

// leg draws one leg of a stitch with its slashes, its hook, and the mark of the
// loop it is worked into, which lies as the round below does: turned by so much
// from the leg.
func (f *figure) leg(s stem, sh shape, loop notation.Loop, turn float64) {
	wide := slashWide
	if s.apart > 0 {
		wide = math.Min(wide, 0.7*s.apart)
	}
	f.stem(s)
	long := s.head.minus(s.foot).length()
	// Slashes sit round a place above the middle.
	for i := range sh.slashes {
		off := (float64(i) - float64(sh.slashes-1)/2) * math.Min(slashStep, 0.5*long/float64(sh.slashes))
		p, across := s.at(above(long, 0.55, 1) + off/math.Max(long, 0.1))
		d := polar(across-math.Pi/5, wide/2)
		f.line(p.minus(d), p.plus(d))
	}
	if sh.extended {
		p, across := s.at(0.2)
		f.oval(p, 0.16, 0.11, across)
	}
	dir := s.foot.towards(s.via())
	across := dir - math.Pi/2
	switch sh.post {
	case "fp":
		f.hook(s.foot, dir, across)
	case "bp":
		f.hook(s.foot, dir, across+math.Pi)
	}
	// The loop is seen under the foot: the front one open towards the stitch, like
	// a cup, the back one away from it.
	if loop != notation.BothLoops {
		out := dir + turn
		along := polar(out-math.Pi/2, 0.26)
		ends, via := s.foot.minus(polar(out, 0.06)), s.foot.minus(polar(out, 0.26))
		if loop == notation.BackLoop {
			ends, via = s.foot.minus(polar(out, 0.22)), s.foot.plus(polar(out, 0.04))
		}
		f.curve(ends.minus(along), via, ends.plus(along))
	}
}

// above is where on a stem a mark sits: at u, or when the stem is long no farther
// than a distance from the head, where the round is that it belongs to.
func above(long, u, most float64) float64 { return math.Max(u, 1-most/math.Max(long, 0.1)) }

// hook curls round a post from the foot of a stem.
func (f *figure) hook(foot Point, up, side float64) {
	low := foot.minus(polar(up, 0.2))
	out := foot.plus(polar(side, 2*hookWide))
	f.path(&f.lines, "M", foot)
	f.path(&f.lines, "C", low, out.minus(polar(up, 0.2)), out.plus(polar(up, 0.1)))
}

// bar is the top of a stitch.
func (f *figure) bar(at Point, across, wide float64) {
	d := polar(across, wide/2)
	f.line(at.minus(d), at.plus(d))
}

// mostStems is how many stems of a cluster are drawn.
const mostStems = 9

// A drawing is what one stitch looks like in its own frame.
type drawing struct {
	kind  model.Kind
	loop  notation.Loop
	feet  []Point // in the frame whose head is straight above 0, 0
	tall  float64 // from 0, 0 to the head
	start int     // chains of a starting chain that stands for the stitch
	wide  float64 // share of their width that marks have
	under float64 // direction of the round below, from that of the stitch
}

// A key tells drawings apart. Lengths are in tenths of w.
type key struct {
	stitch, symbol    string
	loop              notation.Loop
	tall, wide, under int
	start             int
	seam              bool // of what is worked beside the stitches
	feet              string
}

func (d *drawing) key() key {
	k := key{
		stitch: d.kind.Name, symbol: d.kind.Symbol, loop: d.loop, start: d.start,
		tall: tenths(d.tall), wide: tenths(d.wide), under: tenths(d.under),
	}
	for _, f := range d.feet {
		k.feet += fmt.Sprint(tenths(f.X), tenths(f.Y), " ")
	}
	return k
}

// tenths rounds a length to tenths of w, so that what looks alike is drawn once.
func tenths(x float64) int { return int(math.Round(x * 10)) }

func tenth(x float64) float64 { return float64(tenths(x)) / 10 }

// turnOver makes it what is seen from the other side of the work.
func (d *drawing) turnOver() {
	switch d.loop {
	case notation.BackLoop:
		d.loop = notation.FrontLoop
	case notation.FrontLoop:
		d.loop = notation.BackLoop
	}
	if cut, ok := strings.CutPrefix(d.kind.Symbol, "fp-"); ok {
		d.kind.Symbol = "bp-" + cut
	} else if cut, ok := strings.CutPrefix(d.kind.Symbol, "bp-"); ok {
		d.kind.Symbol = "fp-" + cut
	}
}

// draw draws a stitch.
func (d *drawing) draw() *figure {
	f := newFigure()
	head := Point{0, d.tall}
	sh := shapeOf(d.kind)
	if d.start > 0 {
		return columnFigure(d.start, d.tall, 1)
	}
	legs := d.stems(head)
	switch sh.base {
	case "dot":
		at := Point{0, d.tall / 2}
		if len(legs) > 1 {
			at = head
			for _, s := range legs {
				f.stem(s)
			}
		}
		f.dot(at, 0.19, 0.12)
	case "cross":
		d.cross(f, sh, legs)
	case "tall", "cluster", "bobble", "puff", "popcorn":
		d.upright(f, sh, legs)
	case "bullion":
		d.bullion(f)
	default: // a kind nobody knows
		f.line(Point{}, head)
		f.oval(Point{0, d.tall / 2}, 0.25, 0.25, 0)
	}
	return f
}

// stems are the legs of a stitch: one to each foot, or all in one place.
func (d *drawing) stems(head Point) []stem {
	n := d.legs()
	if len(d.feet) > 1 {
		n = max(n, len(d.feet))
		legs := make([]stem, 0, n)
		for i := range min(n, max(mostStems, len(d.feet))) {
			legs = append(legs, stem{foot: d.feet[i*len(d.feet)/n], head: head})
		}
		return legs
	}
	foot := Point{}
	if len(d.feet) == 1 {
		foot = d.feet[0]
	}
	n = min(n, mostStems)
	wide := math.Min(0.36*float64(n-1), 0.9) / 2
	legs := make([]stem, 0, n)
	for i := range n {
		s := stem{foot: foot, head: head}
		if n > 1 {
			s.apart = 2 * wide / float64(n-1)
			s.bow = wide * (2*float64(i)/float64(n-1) - 1)
		}
		legs = append(legs, s)
	}
	return legs
}

// legs is how many legs a stitch is drawn with in one place. Where a kind leaves
// it open it is the usual number.
func (d *drawing) legs() int {
	switch shapeOf(d.kind).base {
	case "cluster", "puff", "bobble":
		return 3
	case "popcorn":
		return 5
	}
	return max(1, d.kind.Legs)
}

func (d *drawing) cross(f *figure, sh shape, legs []stem) {
	for _, s := range legs {
		f.leg(s, sh, d.loop, d.under)
	}
	at, across := Point{0, d.tall * above(d.tall, 0.72, 0.4)}, 0.0
	if len(legs) == 1 {
		at, across = legs[0].at(above(d.tall, 0.58, 0.5))
	}
	f.bar(at, across, 0.66*d.wide)
	if sh.wave {
		y := d.tall + 0.1
		f.curve(Point{-0.36, y}, Point{-0.18, y + 0.2}, Point{0, y})
		f.curve(Point{0, y}, Point{0.18, y - 0.2}, Point{0.36, y})
	}
}

// upright draws stems under one top.
func (d *drawing) upright(f *figure, sh shape, legs []stem) {
	switch sh.base {
	case "cluster", "bobble", "popcorn":
		sh.slashes = 1
	}
	for _, s := range legs {
		f.leg(s, sh, d.loop, d.under)
	}
	head := Point{0, d.tall}
	switch sh.base {
	case "popcorn":
		f.oval(head.plus(Point{0, 0.02}), 0.3, 0.12, 0)
	case "puff", "bobble":
		// Closed to a point.
	default:
		f.bar(head, 0, barWide*d.wide)
	}
}

// bullion draws a coil along a stem.
func (d *drawing) bullion(f *figure) {
	head := Point{0, d.tall}
	f.line(Point{}, Point{0, 0.15 * d.tall})
	f.oval(Point{0, 0.55 * d.tall}, 0.4*d.tall, 0.2, math.Pi/2)
	for i := range 5 {
		y := d.tall * (0.28 + 0.13*float64(i))
		f.line(Point{-0.16, y - 0.05}, Point{0.16, y + 0.05})
	}
	f.bar(head, 0, 0.4)
}

// chainFigure is one chain, so many times as large as usual.
func chainFigure(size float64) *figure {
	f := newFigure()
	f.oval(Point{}, size*chainLong*0.47, size*0.17, 0)
	return f
}

// picotFigure is a loop of n chains, closed by a dot.
func picotFigure(n int) *figure {
	f := newFigure()
	n = max(1, n)
	shown := min(n, 9)
	r := math.Max(0.22, 0.3*float64(shown)/math.Pi*0.5)
	f.dot(Point{0, 0.08}, 0.1, 0.08)
	at := Point{0, 0.14 + r}
	// Round the loop, the dot left out.
	step := 2 * math.Pi / (float64(shown) + 0.5)
	for i := range shown {
		a := -math.Pi/2 + step*(float64(i)+0.75)
		f.oval(at.plus(polar(a, r)), math.Min(0.2, r*step*0.46), 0.1, a+math.Pi/2)
	}
	return f
}
