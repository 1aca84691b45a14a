package chart

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A plan is the picture of the colours.
type plan struct {
	graph   *model.Graph
	layout  *Layout
	palette *palette
	fills   []string // by hue
}

// tints stand for yarns whose colour the draft does not give.
var tints = []string{"#cfc8ba", "#9fb0b5", "#c3a9a0", "#a3b09a", "#b5a9c0", "#7f8a94"}

func newPlan(d *notation.Draft, l *Layout) *plan {
	p := &plan{graph: l.graph, layout: l, palette: paletteOf(d, l.graph)}
	tint := 0
	for i, h := range p.palette.hues {
		switch {
		case i == 0:
			p.fills = append(p.fills, tints[0])
		case h.given:
			p.fills = append(p.fills, h.colour.String())
		default:
			p.fills = append(p.fills, tints[tint%len(tints)])
			tint++
		}
	}
	return p
}

// A rim is the outer edge of a part of a round that has one hue.
type rim struct {
	hue    int
	points []Point
}

// rims divides the edge of a round by hue, counter-clockwise. Each begins where
// the one before ends.
func (p *plan) rims(round int) []rim {
	l := p.layout
	var list []rim
	put := func(hue int, at ...Point) {
		if n := len(list); n == 0 || list[n-1].hue != hue {
			list = append(list, rim{hue: hue})
		}
		last := &list[len(list)-1]
		last.points = append(last.points, at...)
	}
	r := l.graph.Round(round)
	for k := range r.Len {
		id := r.First + k
		if r.Turned {
			id = r.First + r.Len - 1 - k
		}
		n := l.graph.Node(id)
		switch {
		case n.IsStitch():
			put(int(p.palette.of[id]), l.head[id])
		case n.Kind == chains:
			a := &l.arcs[l.arcAt[id]-1]
			put(int(p.palette.of[id]), a.point(0), a.point(0.25), a.point(0.5), a.point(0.75), a.point(1))
		}
	}
	// Neighbours meet half way.
	for i := range list {
		if len(list) == 1 {
			break
		}
		a, b := &list[i], &list[(i+1)%len(list)]
		meet := a.points[len(a.points)-1].plus(b.points[0]).times(0.5)
		a.points = append(a.points, meet)
		b.points = slices.Insert(b.points, 0, meet)
	}
	return list
}

// outline writes a closed line; a part of a round goes on to the centre, for what
// lies nearer to it is drawn over it.
func outline(points []Point, whole bool) string {
	f := newFigure()
	f.path(&f.filled, "M", points[0])
	f.path(&f.filled, "L", points[1:]...)
	if !whole {
		f.path(&f.filled, " ", Point{})
	}
	return f.filled.String() + "Z"
}

// planScale makes the plan smaller than a chart: it is seen from a distance.
const planScale = 0.5

func (p *plan) write(w io.Writer) error {
	bounds := around(Point{}, unit)
	var rounds [][]rim
	for i := range p.layout.circles {
		rims := p.rims(i)
		for _, r := range rims {
			for _, at := range r.points {
				bounds.add(around(Point{at.X * unit, -at.Y * unit}, 1))
			}
		}
		rounds = append(rounds, rims)
	}
	picture := bounds.scaled(planScale).grown(margin)
	picture.widen(leastWide)
	legend := p.legend()
	head := headOf(titleOf(p.graph), "The colours from a distance."+without(p.graph)+p.palette.note())
	view := head.above(legend.below(picture))

	out := newPen(w)
	out.begin(view, "Colours of "+titleOf(p.graph), p.text())
	head.write(out)
	out.start("g", "transform", fmt.Sprintf("scale(%v)", planScale), "class", "faint", "stroke", "currentColor", "stroke-width", "0.8", "stroke-linejoin", "round")
	out.line()
	for i := len(rounds) - 1; i >= 0; i-- {
		out.group("", fmt.Sprintf("round-%d", i+1))
		for _, r := range rounds[i] {
			if len(r.points) < 3 && len(rounds[i]) == 1 {
				continue // one or two stitches enclose nothing
			}
			out.one("path", "", "fill", p.fills[r.hue], "d", outline(r.points, len(rounds[i]) == 1))
		}
		out.close()
	}
	out.one("circle", "", "class", "paper", "cx", "0", "cy", "0", "r", number(p.layout.ring*unit))
	out.close()
	legend.write(out)
	return out.finish()
}

// bands lists the rounds that have each hue.
func (p *plan) bands() [][]int {
	list := make([][]int, len(p.palette.hues))
	for i := range p.layout.circles {
		for id := range p.graph.Entries(i) {
			h := p.palette.of[id]
			if n := len(list[h]); n == 0 || list[h][n-1] != p.graph.Round(i).Number {
				list[h] = append(list[h], p.graph.Round(i).Number)
			}
		}
	}
	return list
}

// runs writes numbers in rising order as a list in words: "1, 3 to 5".
func runs(numbers []int) string {
	numbers = slices.Clone(numbers)
	slices.Sort(numbers)
	var parts []string
	for i := 0; i < len(numbers); {
		if len(parts) == mostTold {
			return strings.Join(parts, ", ") + " and so on"
		}
		k := i
		for k+1 < len(numbers) && numbers[k+1] <= numbers[k]+1 {
			k++
		}
		switch {
		case numbers[k]-numbers[i] > 1:
			parts = append(parts, fmt.Sprintf("%d to %d", numbers[i], numbers[k]))
		case numbers[k] != numbers[i]:
			parts = append(parts, fmt.Sprintf("%d, %d", numbers[i], numbers[k]))
		default:
			parts = append(parts, fmt.Sprint(numbers[i]))
		}
		i = k + 1
	}
	return strings.Join(parts, ", ")
}

// lines are what the plan says of each hue.
func (p *plan) lines() []string {
	bands := p.bands()
	list := make([]string, len(bands))
	for h, rounds := range bands {
		if len(rounds) == 0 {
			continue
		}
		name := cut(cmp.Or(p.palette.hues[h].name, "no yarn named"), textSize, keyLong/2)
		noun := "rounds"
		if len(rounds) == 1 {
			noun = "round"
		}
		list[h] = fmt.Sprintf("%s: %s %s", name, noun, runs(rounds))
		if h > 0 && !p.palette.hues[h].given {
			list[h] += ", colour not given"
		}
	}
	return list
}

func (p *plan) legend() *legend {
	l := &legend{}
	for h, line := range p.lines() {
		if line != "" {
			fill := p.fills[h]
			l.add(line, func(p *pen, at Point) { p.swatch(at, fill) })
		}
	}
	return l
}

// text says in words what the plan shows.
func (p *plan) text() string {
	lines := slices.DeleteFunc(p.lines(), func(s string) bool { return s == "" })
	return "The rounds of the piece as bands in the colours of their yarns. " + strings.Join(lines, "; ") + "." + p.palette.note()
}
