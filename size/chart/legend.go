package chart

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A legend explains what a picture shows, line by line in columns.
type legend struct {
	entries []entry
	rows    int
	wide    float64 // of a column
	tall    float64 // of a row
	at      Point   // where it begins, in units of the picture, Y down
}

// An entry is one line: a drawing, and what it means.
type entry struct {
	draw func(p *pen, at Point) // with its middle at a place in units of the picture, Y down
	text string
}

const (
	keyWide = 44.0
	keyTall = 36.0
	keyLong = 520.0 // of a text
	keyStem = 1.4   // of a tall symbol, in w
)

func (l *legend) add(text string, draw func(p *pen, at Point)) {
	l.entries = append(l.entries, entry{draw, cut(text, textSize, keyLong)})
}

// figure adds a drawing.
func (l *legend) figure(text string, f *figure) {
	l.add(text, func(p *pen, at Point) {
		x, y := at.X-(f.box.left+f.box.right)/2, at.Y-(f.box.top+f.box.bottom)/2
		p.start("g", "class", "lines", "transform", fmt.Sprintf("translate(%s %s)", number(x), number(y)))
		f.draw(p)
		p.close()
	})
}

// below lays the legend out below a picture and returns the box of both.
func (l *legend) below(picture box) box {
	l.wide, l.tall = 0, keyTall
	for _, e := range l.entries {
		l.wide = math.Max(l.wide, keyWide+textWidth(e.text, textSize)+16)
	}
	picture.right = math.Max(picture.right, picture.left+l.wide+2*margin)
	columns := max(1, min(len(l.entries), int((picture.width()-2*margin+16)/l.wide)))
	l.rows = (len(l.entries) + columns - 1) / columns
	l.at = Point{picture.left + margin, picture.bottom}
	picture.bottom += float64(l.rows)*l.tall + margin/2
	return picture
}

func (l *legend) write(p *pen) {
	p.group("ink", "legend")
	for i, e := range l.entries {
		at := l.at.plus(Point{float64(i/l.rows) * l.wide, (float64(i%l.rows) + 0.5) * l.tall})
		e.draw(p, at.plus(Point{keyWide/2 - 6, 0}))
		p.write(e.text, at.X+keyWide, at.Y+0.36*textSize, textSize, "start")
	}
	p.close()
}

// byHeight sorts kinds of stitches from short to tall.
func byHeight(kinds []model.Kind) []model.Kind {
	kinds = slices.Clone(kinds)
	slices.SortStableFunc(kinds, func(a, b model.Kind) int { return cmp.Compare(a.Height, b.Height) })
	return kinds
}

// legend explains the symbols that the chart uses, and its marks.
func (s *sheet) legend() *legend {
	l := &legend{}
	in := s.inventory()
	for _, k := range byHeight(s.kinds) {
		if in.kinds[k.Name] {
			s.explain(l, k, false)
		}
		if in.spread[k.Name] {
			s.explain(l, k, true)
		}
		for _, n := range in.lengths[k.Name] {
			if k.Symbol == "loop" {
				l.figure(fmt.Sprintf("%s %d", named(k.Name, s.terms), n), picotFigure(n))
				continue
			}
			d := drawing{kind: k, start: n, tall: keyStem}
			l.figure(fmt.Sprintf("ch %d that counts as %s", n, named(k.Name, s.terms)), d.draw())
		}
	}
	for _, loop := range []notation.Loop{notation.FrontLoop, notation.BackLoop} {
		if in.loops[loop] {
			f := newFigure()
			f.leg(stem{head: Point{0, 0.8}}, shape{}, loop, 0)
			l.figure(map[notation.Loop]string{notation.FrontLoop: "in the front loop", notation.BackLoop: "in the back loop"}[loop], f)
		}
	}
	s.explainSeams(l)
	if s.graph.Ring == 0 {
		f := newFigure()
		f.oval(Point{}, 0.32, 0.32, 0)
		l.figure("adjustable ring", f)
	}
	if in.corners {
		l.add("corner", func(p *pen, at Point) {
			p.start("g", "class", "mark")
			p.circle(Point{at.X / unit, -at.Y / unit}, cornerWide)
			p.close()
		})
	}
	l.add("start of a round", func(p *pen, at Point) { p.number("1", Point{at.X / unit, -at.Y / unit}) })
	if s.turns {
		l.add("start of a round on the other side, clockwise", func(p *pen, at Point) {
			at = Point{at.X/unit - 0.2, -at.Y / unit}
			p.number("2", at)
			p.arrow(at.plus(Point{0.4, 0}), 0)
		})
	}
	if s.palette != nil {
		for _, h := range s.palette.hues[1:] {
			l.add(h.name, h.swatch)
		}
	}
	return l
}

// explain adds a kind of stitch, with its legs in one place, or spread over
// several.
func (s *sheet) explain(l *legend, k model.Kind, spread bool) {
	name := named(k.Name, s.terms)
	if k.Symbol == "oval" {
		l.figure(name, chainFigure(1))
		return
	}
	tall := float64(k.Height) / float64(model.Double) * keyStem
	d := drawing{kind: k, tall: math.Max(0.8, math.Min(keyStem, tall)), wide: 1}
	switch n := min(d.legs(), 5); {
	case spread:
		n = max(n, 2)
		step := math.Min(0.7, 1.6/float64(n-1))
		for i := range n {
			d.feet = append(d.feet, Point{step * (float64(i) - float64(n-1)/2), 0})
		}
	case k.Legs > 1:
		name += " in one place"
	}
	l.figure(name, d.draw())
}

// An inventory is what occurs in a piece and has to be explained.
type inventory struct {
	kinds   map[string]bool
	spread  map[string]bool  // with legs in several places
	lengths map[string][]int // of picots, and of starting chains by what they count as
	loops   map[notation.Loop]bool
	corners bool
}

func (s *sheet) inventory() inventory {
	in := inventory{kinds: map[string]bool{}, spread: map[string]bool{}, lengths: map[string][]int{}, loops: map[notation.Loop]bool{}}
	if s.graph.Ring > 0 {
		in.kinds["ch"] = true
	}
	long := func(kind string, n int) {
		if !slices.Contains(in.lengths[kind], n) && len(in.lengths[kind]) < 8 {
			in.lengths[kind] = append(in.lengths[kind], n)
		}
	}
	for i := range s.rounds {
		in.corners = in.corners || s.graph.Round(i).Corners() > 0
		for id, n := range s.graph.Entries(i) {
			name := s.kinds[n.Kind()].Name
			switch {
			case n.Kind() == picot:
				long(name, n.Chains())
			case n.Kind() == chains:
				in.kinds[name] = true
			default:
				node := s.graph.Node(id)
				in.loops[node.Loop] = true
				switch start := s.startingChain(id); {
				case start > 0:
					long(name, start)
				case node.Legs > 1:
					in.spread[name] = true
				default:
					in.kinds[name] = true
				}
			}
		}
	}
	return in
}
