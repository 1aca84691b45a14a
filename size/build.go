package size

import (
	"context"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// Build is model.Build for drafts with rounds that go on until the piece has a
// size (rnd 8 until side 45 cm): it measures the piece while it is worked, at
// the gauge of the draft. How many rounds came of that is in Graph.Reached.
//
// The size is the one that Measures expects; it has the band that is given
// there. A piece that is measured after every round costs little more than one
// that is not.
func Build(ctx context.Context, d *notation.Draft, options ...model.Option) (*model.Graph, []notation.Finding, error) {
	t := &tape{line: d.Gauge()}
	return model.Build(ctx, d, append(slices.Clip(options), model.WithMeasure(t.size))...)
}

// A tape measures a piece while it is worked.
type tape struct {
	line   *notation.Gauge
	unit   float64 // length of w in mm, 0 as long as it is not known
	shaper *Shaper
	last   Round // measured so far
}

func (t *tape) size(g *model.Graph) model.Size {
	if t.shaper == nil {
		gauge := GaugeOf(g, t.line)
		t.unit = float64(gauge.Unit)
		t.shaper = NewShaper(g, gauge.Dimensions)
	}
	for r, ok := t.shaper.Next(); ok; r, ok = t.shaper.Next() {
		t.last = r
		if t.unit == 0 && t.line != nil && t.line.From > 0 && g.Round(r.Index).Number == t.line.To {
			t.unit = float64(GaugeOf(g, t.line).Unit)
		}
	}
	return model.Size{Side: t.last.side() * t.unit, Across: t.last.Across * t.unit}
}
