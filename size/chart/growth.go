package chart

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A growth is the plot of how long the rounds are.
type growth struct {
	graph  *model.Graph
	rounds []size.Round
	bands  size.Bands
	scale  float64 // from w to the unit shown
	unit   string
	most   float64 // that is shown, in that unit
}

func newGrowth(d *notation.Draft, g *model.Graph) *growth {
	gauge := size.GaugeOf(g, d.Gauge())
	p := &growth{graph: g, rounds: size.Shape(g, gauge.Judging()).Rounds, bands: size.DefaultBands(), scale: 1, unit: "stitch widths"}
	if gauge.Unit > 0 {
		p.scale, p.unit = gauge.Unit.In(notation.Centimetre), "cm"
	}
	for i := range p.rounds {
		_, high := p.band(&p.rounds[i])
		p.most = math.Max(p.most, math.Max(high, p.rounds[i].MadeMost*p.scale))
	}
	if p.most == 0 {
		p.most = 1
	}
	return p
}

// band is how long a round may be for the piece to lie flat, with the give of the
// stitches.
func (p *growth) band(r *size.Round) (low, high float64) {
	give := p.bands.Widened(r.Doubt).Tolerance
	return r.NeedLeast * (1 - give) * p.scale, r.NeedMost * (1 + give) * p.scale
}

// A verdict is how the piece lies up to a round.
type verdict int

const (
	flat verdict = iota
	ruffles
	cups
)

// judge says how the piece lies up to a round, and in what words: as package
// check finds, for which rounds close to the centre and the give of several
// together count.
func (p *growth) judge(r *size.Round) (verdict, string) {
	if p.graph.Outline == notation.Free {
		return flat, "" // round a star or a leaf what is needed is not the same all the way
	}
	words := p.bands.Lies(*r)
	switch bands := p.bands.Widened(r.Doubt); {
	case bands.Level(r.Score) >= size.LevelLikely:
		return ruffles, words
	case bands.Level(-r.Score) >= size.LevelLikely:
		return cups, words
	}
	return flat, words
}

// The plot, in units of the picture.
const (
	plotWide  = 560.0
	plotTall  = 340.0
	axisWide  = 54.0
	plotTicks = 8 // about so many on the upright axis
)

// x and y are where a round and a length lie in the plot, whose origin is at the
// bottom left.
func (p *growth) x(i int) float64 {
	return plotWide * (float64(i) + 0.5) / float64(max(1, len(p.rounds)))
}

func (p *growth) y(length float64) float64 { return -plotTall * length / p.most }

// step is a round number near to a part of the range.
func step(most float64) float64 {
	raw := most / plotTicks
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{1, 2, 5, 10} {
		if k*power >= raw {
			return k * power
		}
	}
	return 10 * power
}

func (p *growth) write(w io.Writer) error {
	each := step(p.most)
	p.most = math.Ceil(p.most/each) * each
	plot := box{0, -plotTall, plotWide, 0}
	picture := box{-axisWide - margin, -plotTall - margin, plotWide + margin, 3.6*textSize + margin/2}
	legend := p.legend()
	head := headOf(titleOf(p.graph), "Length of each round, in "+p.unit+".")
	view := head.above(legend.below(picture))

	out := newPen(w)
	out.begin(view, "Growth of "+titleOf(p.graph), p.text())
	head.write(out)
	out.group("faint", "axes")
	for v := 0.0; v <= p.most*1.0001; v += each {
		y := p.y(v)
		out.one("path", "", "d", "M0 "+number(y)+"H"+number(plotWide), "stroke", "currentColor", "stroke-width", "0.4", "fill", "none")
		out.write(tick(v, each), -8, y+0.36*textSize, textSize, "end")
	}
	taken := math.Inf(-1)
	for i := range p.rounds {
		text := fmt.Sprint(p.number(i))
		if half := textWidth(text, textSize) / 2; p.x(i)-half > taken {
			out.write(text, p.x(i), 1.3*textSize, textSize, "middle")
			taken = p.x(i) + half + textSize/2
		}
	}
	out.write("round", plotWide/2, 2.9*textSize, textSize, "middle")
	out.close()
	if len(p.rounds) > 0 {
		p.writeBand(out, plot)
		p.writeMade(out)
	}
	legend.write(out)
	return out.finish()
}

// tick writes a value on the axis.
func tick(v, each float64) string {
	if v >= 1e6 {
		return fmt.Sprintf("%.3g", v) // at a gauge of nobody's making
	}
	digits := 0
	for each < 1 && digits < 6 {
		each *= 10
		digits++
	}
	return fmt.Sprintf("%.*f", digits, v)
}

func (p *growth) number(i int) int { return p.graph.Round(p.rounds[i].Index).Number }

// writeBand shades what would lie flat, and draws what a circle and a polygon
// need.
func (p *growth) writeBand(out *pen, plot box) {
	var upper, lower, least, most []Point
	for i := range p.rounds {
		r := &p.rounds[i]
		low, high := p.band(r)
		upper = append(upper, Point{p.x(i), p.y(high)})
		lower = append(lower, Point{p.x(i), p.y(low)})
		least = append(least, Point{p.x(i), p.y(r.NeedLeast * p.scale)})
		most = append(most, Point{p.x(i), p.y(r.NeedMost * p.scale)})
	}
	if len(p.rounds) == 1 { // one round has a band too
		for _, list := range []*[]Point{&upper, &lower, &least, &most} {
			at := (*list)[0]
			*list = []Point{{at.X - 30, at.Y}, {at.X + 30, at.Y}}
		}
	}
	slices.Reverse(lower)
	out.one("path", "", "class", "band", "id", "flat", "d", polyline(append(upper, lower...))+"Z")
	for _, list := range [][]Point{least, most} {
		out.one("path", "", "class", "faint", "fill", "none", "stroke", "currentColor", "stroke-dasharray", "4 3", "d", polyline(list))
	}
}

func polyline(list []Point) string {
	var b strings.Builder
	for i, p := range list {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		b.WriteString(letter + number(p.X) + " " + number(p.Y))
	}
	return b.String()
}

// writeMade draws how long the rounds are.
func (p *growth) writeMade(out *pen) {
	middle := make([]Point, len(p.rounds))
	for i := range p.rounds {
		r := &p.rounds[i]
		middle[i] = Point{p.x(i), p.y((r.MadeLeast + r.MadeMost) / 2 * p.scale)}
	}
	out.group("ink lines", "made")
	out.one("path", "", "class", "second", "d", polyline(middle))
	for i := range p.rounds {
		r := &p.rounds[i]
		out.start("g", "id", fmt.Sprintf("round-%d", i+1))
		if r.MadeMost > r.MadeLeast {
			out.start("path", "d", polyline([]Point{{p.x(i), p.y(r.MadeLeast * p.scale)}, {p.x(i), p.y(r.MadeMost * p.scale)}}))
			out.end()
		}
		v, _ := p.judge(r)
		out.mark(middle[i], v)
		out.close()
	}
	out.close()
}

// mark draws the mark of a verdict: a dot, or an arrowhead up or down.
func (p *pen) mark(at Point, v verdict) {
	var points []Point
	switch v {
	case flat:
		p.start("circle", "class", "full", "cx", number(at.X), "cy", number(at.Y), "r", "4")
		p.end()
		return
	case ruffles:
		points = []Point{{0, -7}, {6, 5}, {-6, 5}}
	case cups:
		points = []Point{{0, 7}, {6, -5}, {-6, -5}}
	}
	for i := range points {
		points[i] = points[i].plus(at)
	}
	p.start("path", "class", "full", "d", polyline(points)+"Z")
	p.end()
}

func (p *growth) legend() *legend {
	l := &legend{}
	l.add("lies flat, with the give of the stitches", func(p *pen, at Point) {
		p.one("rect", "", append(box{at.X - 14, at.Y - 8, at.X + 14, at.Y + 8}.attrs(), "class", "band")...)
	})
	l.add("needed by a circle, and by sharp corners", func(p *pen, at Point) {
		p.one("path", "", "class", "faint", "fill", "none", "stroke", "currentColor", "stroke-dasharray", "4 3", "d", polyline([]Point{{at.X - 16, at.Y}, {at.X + 16, at.Y}}))
	})
	for v, text := range []string{"made", "made, so long that it ruffles or is likely to", "made, so short that it cups or is likely to"} {
		l.add(text, func(p *pen, at Point) { p.mark(at, verdict(v)) })
	}
	if slices.ContainsFunc(p.rounds, func(r size.Round) bool { return r.MadeMost > r.MadeLeast*1.001 }) {
		l.add("made, from slack to stretched chains", func(p *pen, at Point) {
			p.one("path", "", "class", "lines", "d", polyline([]Point{{at.X, at.Y - 10}, {at.X, at.Y + 10}}))
		})
	}
	return l
}

// text says in words what the plot shows.
func (p *growth) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Length of each round as it is made, and as a piece that lies flat needs it, in %s.", p.unit)
	for i := range min(len(p.rounds), mostTold) {
		r := &p.rounds[i]
		low, high := p.band(r)
		fmt.Fprintf(&b, " Round %d: made %s, flat from %.1f to %.1f", p.number(i), span(r.MadeLeast*p.scale, r.MadeMost*p.scale), low, high)
		if _, lies := p.judge(r); lies != "" && lies != "flat" {
			b.WriteString(", " + lies)
		}
		b.WriteByte('.')
	}
	if len(p.rounds) > mostTold {
		b.WriteString(" And so on.")
	}
	return b.String()
}

func span(low, high float64) string {
	a, b := fmt.Sprintf("%.1f", low), fmt.Sprintf("%.1f", high)
	if a == b {
		return a
	}
	return a + " to " + b
}
