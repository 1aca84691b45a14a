package size

import (
	"math"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Measure is how large a piece is after a round, laid flat.
type Measure struct {
	Index  int // of the round in the graph
	Number int // of the round in the draft
	// Across is the diameter, or with corners the width from side to side; for
	// an odd number of corners it is twice the apothem. See Round.Across.
	Across Estimate[Length]
	// Corners is how many corners the outline has; 0 for less than three,
	// which make no polygon.
	Corners int
	// Side is the length of one side, from corner to corner; not known without
	// corners.
	//	Side = Across tan(pi/n)
	// so that of a square is as long as it is across.
	Side Estimate[Length]
	// Points is the size across corners: from one to the opposite one, or for
	// an odd number to the middle of the opposite side. Sharp corners make it
	//	Across / cos(pi/n)               n even
	//	Across (1 + 1/cos(pi/n)) / 2     n odd
	// and a round that has not length enough for them rounds them off: it is
	// taken between that and Across as the round's length lies between what a
	// polygon and what a circle needs. Not known without corners.
	Points Estimate[Length]
	// Edge is how long the round is, all the way round the piece: what a hat or
	// a bowl is measured by. The band goes from Round.MadeLeast to MadeMost.
	Edge Estimate[Length]
	// Depth is how far the edge is from the centre, along the fabric: see
	// Round.Shoulder.
	Depth Estimate[Length]
}

// The shares by which measured pieces differ from what is worked out here.
const (
	// spreadOfSizes: published sizes of three motifs at one w, 17 rounds from
	// round 2 on: rms error 4.0 %, worst 9.0 % (testdata/sizes). Two and a half
	// times the rms error, as one w was fitted to most of them.
	spreadOfSizes = 0.10
	// spreadOfRounds: the same where the gauge is itself a round that was
	// measured, and so as uncertain: sqrt(2) times as much.
	spreadOfRounds = 0.14
	// spreadOfBlocking: common practice, no source; for the very round that
	// was measured.
	spreadOfBlocking = 0.03
)

// spreadOfHeight is how far the height of a stitch may be from the default:
// two standard deviations of published gauges (testdata/gauges.csv). Of stitches
// taller than dc no gauges were found.
func spreadOfHeight(h model.Height) float64 {
	switch {
	case h <= model.ExtendedSingle:
		return 2 * 0.07 / 0.90
	case h <= model.ExtendedHalf:
		return 2 * 0.12 / 1.44
	}
	return 2 * 0.29 / 1.97
}

// Measures works out the size of a piece after each round, up to the first that
// does not work out as written, at the gauge of the draft. It is nil without a gauge: GaugeOf says
// when there is none.
//
// The bands are those in which nearly all makers should find themselves: two
// standard deviations, put together from
//
//	10 %            the spread of published sizes round what is worked out, at
//	                a gauge of stitches and rounds
//	14 %            for a gauge measured across rounds; 3 % for the last of
//	                those rounds
//	16 to 29 %      the spread of published heights of stitches, by what the
//	                piece is made of, where the gauge counts no rounds
//	0.6 w           the ring, which may be drawn tight or left open
//	as much again   as laying the piece flat draws it in or spreads it
//
// as the root of the sum of their squares, and widened by half of Doubt for
// chains, which lie in or out as they like.
func Measures(g *model.Graph, line *notation.Gauge) []Measure {
	gauge := GaugeOf(g, line)
	if gauge.Unit == 0 {
		return nil
	}
	return measures(g, line, gauge, Shape(g, gauge.Dimensions))
}

func measures(g *model.Graph, line *notation.Gauge, gauge Gauge, p *Piece) []Measure {
	out := make([]Measure, 0, len(p.Rounds))
	heights := newHeights(g, gauge.Dimensions)
	for i := range p.Rounds {
		r := &p.Rounds[i]
		if g.Round(r.Index).Status != model.Worked {
			break // not what the designer means
		}
		number := g.Round(r.Index).Number
		heights.add(r.Index, r.Growth)
		parts := []float64{spreadOfSizes}
		switch {
		case line.From > 0 && number == line.To:
			parts = []float64{spreadOfBlocking}
		case line.From > 0:
			parts = []float64{spreadOfRounds}
		case !gauge.Dimensions.Measured:
			parts = append(parts, heights.spread())
		}
		deep := rootOfSquares(parts) * (1 + r.Doubt/2)
		if r.Across > 0 && (line.From == 0 || number != line.To) {
			parts = append(parts, 2*gauge.Dimensions.Ring/r.Across, r.laid/r.Across)
		}
		off := rootOfSquares(parts) * (1 + r.Doubt/2)
		m := Measure{Index: r.Index, Number: number, Across: about(gauge.Length(r.Across), off)}
		if r.Corners >= 3 {
			m.corners(r, off)
		}
		m.Depth = about(gauge.Length(r.Shoulder), deep)
		// The edge is as long as its stitches are wide, however tall they are.
		m.Edge = about(gauge.Length((r.MadeLeast+r.MadeMost)/2), parts[0])
		m.Edge.Low = min(m.Edge.Low, gauge.Length(r.MadeLeast)/Length(1+parts[0]))
		m.Edge.High = max(m.Edge.High, gauge.Length(r.MadeMost)*Length(1+parts[0]))
		out = append(out, m)
	}
	return out
}

func rootOfSquares(parts []float64) float64 {
	sum := 0.0
	for _, x := range parts {
		sum += x * x
	}
	return math.Sqrt(sum)
}

// corners sets what a polygon is measured by, given how far off Across may be.
func (m *Measure) corners(r *Round, off float64) {
	m.Corners = r.Corners
	half := math.Pi / float64(r.Corners)
	m.Side = m.Across.Times(math.Tan(half))
	sharp := 1 / math.Cos(half)
	if r.Corners%2 == 1 {
		sharp = (1 + sharp) / 2
	}
	// How sharp the length of the round can make them, from 0 to 1.
	sharpness := func(made float64) float64 {
		circle := 2 * math.Pi * r.Shoulder
		return math.Max(0, math.Min(1, (made-circle)/(r.NeedMost-circle)))
	}
	least, most := sharpness(r.MadeLeast), sharpness(r.MadeMost)
	points := func(share float64) Length { return m.Across.Expected * Length(1+share*(sharp-1)) }
	m.Points = about(points((least+most)/2), off)
	m.Points.Low = min(m.Points.Low, points(least))
	m.Points.High = max(m.Points.High, points(most))
}

// heights follow how much of a piece's radius is made of which stitches.
type heights struct {
	g       *model.Graph
	kinds   []model.Kind
	d       Dimensions
	off, of float64
}

func newHeights(g *model.Graph, d Dimensions) *heights {
	return &heights{g: g, kinds: g.Kinds(), d: d}
}

// add counts in a round: its growth, shared among its stitches by their
// numbers.
func (h *heights) add(round int, growth float64) {
	grown := math.Max(growth, 0)
	c := h.g.Counts(round)
	for _, k := range h.kinds {
		if n := c.Stitches[k.Name]; n > 0 {
			share := grown * float64(n) / float64(c.Total)
			h.off += share * spreadOfHeight(k.Height)
			h.of += share
		}
	}
}

// spread is how far off the heights may be that the piece is made of so far.
func (h *heights) spread() float64 {
	if h.of == 0 {
		return 0
	}
	return h.off / h.of
}
