package size

import (
	"math"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// Dimensions are the measures of stitches as shares of w, the width of one
// plain stitch; a gauge says how long w is. All are finite and positive, but
// for the height of chains, which is 0. DefaultDimensions says where the
// values come from.
type Dimensions struct {
	// Height is how much a round of the stitch adds to the radius, in w, by
	// height class: what is commonly called h/w.
	Height [model.TripleTreble + 1]float64
	// Width is the width of a stitch, in w, by height class.
	Width [model.TripleTreble + 1]float64
	// Chain is the length of one chain, in w.
	Chain float64
	// A chain space that hangs slack keeps the smaller of SlackShare times its
	// length (a share, up to 1) and SlackMost (in w) of its room.
	SlackShare, SlackMost float64
	// Ring is the radius of a drawn ring, in w. A ring of n chains has the
	// radius n Chain / 2 pi.
	Ring float64
	// ClusterWidth and ClusterHeight, in w, are those of a stitch made of
	// several in one place: clusters, puffs, bobbles, popcorns.
	ClusterWidth, ClusterHeight float64
	// Fabric is how long a yarn there is in a square of solid fabric one w wide
	// and tall, and ChainYarn in one chain, both in w. See Yarn.
	Fabric, ChainYarn float64
	// Measured is set when heights come from a gauge that counts rounds.
	Measured bool
}

// DefaultDimensions are used where the maker's gauge says nothing.
//
// Heights are height over width of one stitch in published gauges: sc, 16
// gauges, mean 0.90, sd 0.07; hdc, 9, mean 1.44, sd 0.12; dc, 15, mean 1.97,
// sd 0.29. They are set between those means and what the usual increases of a
// flat circle ask for: 6, 8 and 12 a round, and 16 for tr, for which no gauge
// was found (h/w = increases / 2 pi). The gauges are in testdata/gauges.csv,
// each with its source; G17, an sc as tall as a hdc, is left out of the means.
// The remaining heights lie on the line through their
// neighbours. The widths of sc, hdc, dc and tr are taken as equal; one maker
// measured tr 4 to 7 % wider. Slip stitch, chain, ring and cluster: common
// practice, no source. Slack: fitted on motifs known to lie flat.
func DefaultDimensions() Dimensions {
	d := Dimensions{
		Chain: 0.9, SlackShare: 0.5, SlackMost: 0.7, Ring: 0.3,
		ClusterWidth: 1.2, ClusterHeight: 2.2,
		Fabric: 8.4, ChainYarn: 4.5,
		Height: [...]float64{
			model.Level: 0, model.Slip: 0.35,
			model.Single: 0.95, model.ExtendedSingle: 1.17,
			model.Half: 1.38, model.ExtendedHalf: 1.67,
			model.Double: 1.95, model.ExtendedDouble: 2.28,
			model.Treble: 2.60, model.ExtendedTreble: 2.93,
			model.DoubleTreble: 3.25, model.TripleTreble: 3.90,
		},
	}
	for i := range d.Width {
		d.Width[i] = 1
	}
	return d
}

// Of returns the width and height of a kind of stitch, in w.
func (d *Dimensions) Of(k model.Kind) (width, height float64) { return d.of(&k) }

func (d *Dimensions) of(k *model.Kind) (width, height float64) {
	if k.Height == model.Double || k.Height == model.Half {
		switch k.Symbol {
		case "cluster", "puff", "bobble", "popcorn", "bullion":
			return d.ClusterWidth, d.ClusterHeight
		}
	}
	return d.Width[k.Height], d.Height[k.Height]
}

// A Gauge is how large the maker's stitches are. The zero Unit says nothing:
// sizes then come out in stitch widths.
type Gauge struct {
	// Unit is the length of w, the width of one plain stitch; 0 when not known.
	Unit       Length
	Dimensions Dimensions
	// Rounding is how far measured heights may be off for the counting alone, a
	// share: the stitches and rounds of a swatch are counted whole. 0 where
	// heights are not measured.
	Rounding float64
}

// Judging returns the dimensions by which a piece is judged to lie flat or not:
// heights as near to the default ones as the counting of the gauge allows. For
// makers find flat in print what the usual increases give at gauges that by
// their figures are a sixth off, such as 12 dc a round at 13 dc by 8 rows, where
// 10 would do.
func (g Gauge) Judging() Dimensions {
	out := DefaultDimensions()
	if !g.Dimensions.Measured {
		return out
	}
	taller := g.Dimensions.Height[model.Double] / out.Height[model.Double]
	out.stretch(math.Min(math.Max(1, taller*(1-g.Rounding)), taller*(1+g.Rounding)))
	return out
}

// Length turns a measure in w into a length: 0 where the Unit is not known.
func (g Gauge) Length(w float64) Length { return Length(w) * g.Unit }

// GaugeOf reads the gauge line of a draft. Lengths are read in the units of
// the notation, 1 in = 25.4 mm.
//
//	gauge 14 dc by 8 rnds over 10 cm   w = 100 mm / 14; dc are 100 mm / 8 tall,
//	                                   so h/w = 14/8, and other stitches in
//	                                   proportion
//	gauge 14 dc over 10 cm             w only; heights by default
//	gauge rnds 1-3 = 10 cm across      w such that the piece is 10 cm across
//	                                   (Round.Across) after round 3
//
// A count is true to half of its last step: 14 stitches stand for 13.5 to 14.5,
// 8 rounds for 7.5 to 8.5, so that h/w may be 4 + 6 % off, which is the Rounding.
// A larger swatch is surer: of 28 by 16 over 20 cm it is 5 %.
//
// The stitch of the gauge need not occur in the piece. For one that is not as
// wide as a plain stitch (a puff), w = 100 mm / 14 / its width in w.
//
// Without a gauge line Unit is 0 and the Dimensions are the default ones. The
// same holds for a gauge that says nothing: one that counts chains or an
// unknown stitch, measures a round that the piece does not reach, or gives no
// positive length. Rounds that would make stitches more than ten times as tall
// or as flat as usual are a slip, and are passed over: published gauges of one
// stitch differ by less than twice.
func GaugeOf(g *model.Graph, line *notation.Gauge) Gauge {
	out := Gauge{Dimensions: DefaultDimensions()}
	switch {
	case line == nil:
	case line.From > 0:
		s := NewShaper(g, out.Dimensions)
		for r, ok := s.Next(); ok; r, ok = s.Next() {
			if g.Round(r.Index).Number == line.To && r.Across > 0 {
				out.Unit = length(line.Across) / Length(r.Across)
				break
			}
		}
	case line.Stitches > 0 && !line.Stitch.Unknown:
		kind, ok := model.Lookup(line.Stitch.US)
		if !ok || kind.Height == model.Level {
			break
		}
		width, height := out.Dimensions.of(&kind)
		out.Unit = length(line.Over) / Length(line.Stitches) / Length(width)
		if line.Rounds > 0 && usable(out.Unit) {
			// The length cancels out of h/w: only the counts matter.
			out.Dimensions.stretch(line.Stitches * width / line.Rounds / height)
		}
		if out.Dimensions.Measured {
			out.Rounding = step(line.Stitches)/2/line.Stitches + step(line.Rounds)/2/line.Rounds
		}
	}
	if !usable(out.Unit) {
		out.Unit = 0
	}
	return out
}

// stretch makes all stitches taller by a factor that was measured, if that can
// be true.
func (d *Dimensions) stretch(factor float64) {
	if !(factor >= 0.1 && factor <= 10) {
		return
	}
	for i := range d.Height {
		d.Height[i] *= factor
	}
	d.ClusterHeight *= factor
	d.Measured = true
}

// step is what somebody counts in who says n: wholes, halves, quarters, or else
// tenths.
func step(n float64) float64 {
	for _, step := range []float64{1, 1. / 2, 1. / 4} {
		if math.Mod(n, step) == 0 {
			return step
		}
	}
	return 1. / 10
}

// length is a length of the draft, 0 for what is none.
func length(q notation.Quantity) Length {
	if q.Unit.IsWeight() {
		return 0
	}
	return Length(q.Value())
}

// usable reports whether a unit of length is one.
func usable(unit Length) bool { return unit > 0 && !math.IsInf(float64(unit), 0) }
