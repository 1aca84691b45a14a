// Package chart draws a worked piece: the chart of its stitches, its colours from
// a distance, and how its rounds grow.
//
//	draft, findings := notation.Parse(name, text)
//	graph, findings, err := size.Build(ctx, draft)
//	err = chart.Stitches(file, draft, graph, chart.Options{Colour: true})
//
// size.Build measures the piece where rounds go on until it has a size; for
// drafts without such rounds it does what model.Build does.
//
// The pictures are SVG, for print and for light and dark screens: they follow the
// colour scheme of whoever looks at them. Each has a title and a description for
// those who cannot see it.
//
// In the chart every stitch, chain and picot is one use of a symbol, which says in
// data-stitch what it stands for, by its American name; the uses of a round are one
// group. So the chart counts as the graph does. What is worked beside the
// stitches, where a round begins and is closed, is drawn smaller and does not
// count: slip stitches, and a starting chain that counts as no stitch. It stands
// in a group of its own and says in data-seam what it is. All of it is as
// pattern.Beginnings says, and so as the written pattern does. Where stitches
// stand can be had without a picture, from Lay.
//
// Rounds are drawn up to the first that could not be worked. The same draft gives
// the same bytes.
package chart

import (
	"fmt"
	"io"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// Options change what a picture shows. The zero value is the default.
type Options struct {
	// Terms are those that stitches are named in, one or both; none stands for
	// those of the draft.
	Terms []notation.Terms
	// Colour draws stitches in the colours of their yarns, as far as the draft
	// gives them.
	Colour bool
	// Symbols is how many symbols a picture may have; 0 stands for
	// DefaultSymbols. Single chains, legs and the numbers of rounds are symbols too.
	Symbols int
}

// terms are those that stitches are named in.
func (o Options) terms(d *notation.Draft) []notation.Terms {
	if len(o.Terms) > 0 {
		return o.Terms
	}
	return []notation.Terms{d.Terms}
}

// DefaultSymbols is the limit on the size of a picture where none is set: it then
// stays below 10 MB.
const DefaultSymbols = 50_000

// A LimitError says that a piece is too large to be drawn.
type LimitError struct {
	Symbols int // that it has
	Limit   int
}

func (e *LimitError) Error() string {
	return fmt.Sprintf("the chart would have %d symbols, more than the %d allowed", e.Symbols, e.Limit)
}

// limit sees whether a piece can be drawn.
func (o Options) limit(g *model.Graph) error {
	most := o.Symbols
	if most <= 0 {
		most = DefaultSymbols
	}
	n := g.Ring + g.NumRounds()
	for i := range g.NumRounds() {
		if n > most && n > 1<<40 {
			break
		}
		for id, e := range g.Entries(i) {
			if e.IsStitch() {
				n += max(1, g.Node(id).Legs)
				if e.Start() { // drawn as its chains
					n += g.Stitch(id).Chains
				}
				continue
			}
			n += e.Chains()
		}
	}
	if n > most {
		return &LimitError{n, most}
	}
	return nil
}

// Stitches draws the chart of a piece: every stitch with its symbol, rounds
// numbered where they begin, corners marked, and a legend of the symbols used.
//
// The error is a *LimitError, or that of w.
func Stitches(w io.Writer, d *notation.Draft, g *model.Graph, o Options) error {
	if err := o.limit(g); err != nil {
		return err
	}
	return newSheet(d, layOut(d, g), o).write(w)
}

// Plan draws the colours of a piece as they are seen from a distance: each round
// as a band, in the colours of its yarns.
//
// The error is a *LimitError, or that of w.
func Plan(w io.Writer, d *notation.Draft, g *model.Graph, o Options) error {
	if err := o.limit(g); err != nil {
		return err
	}
	return newPlan(d, layOut(d, g)).write(w)
}

// Growth draws how long each round is made, and how long it would have to be for
// the piece to lie flat, as size.Shape works it out.
//
// The error is a *LimitError, or that of w.
func Growth(w io.Writer, d *notation.Draft, g *model.Graph, o Options) error {
	if err := o.limit(g); err != nil {
		return err
	}
	return newGrowth(d, g).write(w)
}

// layOut lays a piece out at the gauge of its draft.
func layOut(d *notation.Draft, g *model.Graph) *Layout {
	return Lay(d, g, size.GaugeOf(g, d.Gauge()).Dimensions)
}
