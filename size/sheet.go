package size

import (
	"context"
	"fmt"
	"math"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Sheet is all that can be said about how large a draft comes out, and what
// it takes to make it: what a designer copies into a pattern. Lengths are in
// mm, weights in g; writing them out in other units is for Text.
type Sheet struct {
	Title string
	Hook  Length // 0 when the draft names none
	// Gauge has the Unit 0 when the draft has no gauge line that says
	// something; then nothing below can be known that has a length.
	Gauge Gauge
	// Rounds are the measures of one motif after each of its rounds, up to the
	// first that does not work out; the last is the finished motif.
	Rounds []Measure
	// Cupped is set when the draft says that the motif lies cupped and it can be
	// measured. What counts then are Edge and Depth, and Widest: the other measures
	// are those of a piece that is laid flat.
	Cupped bool
	// Reached are the statements of rounds that go on until the motif has a
	// size, and what came of them.
	Reached []Reached
	// Motifs is how many are made, all alike.
	Motifs int
	// Yarns are those of the draft in the order of their declaration, one
	// without a name when none is declared; without those that are not used.
	Yarns []YarnUse
	// Swatch is the one that the yarn is reckoned by; nil when the draft names
	// none.
	Swatch *Swatch
	// Margin is the share that is added to the yarn to buy.
	Margin float64
	// Ends are those to be woven in, of everything together.
	Ends int
	// Changes are where yarns that change their colour do so, and MoreChanges
	// tells that there are further ones.
	Changes     []Change
	MoreChanges bool
	// MadeUp is what the motifs are made up into; nil when the draft does not
	// say.
	MadeUp *MadeUp
	// Cautions are those that apply.
	Cautions []Caution
	// Target is the size asked for with WithTarget, nil when none was, and Fit
	// how one motif would come to it; nil too when nothing can be measured, the
	// motif is Cupped, or a side is asked for and there is none.
	Target *Target
	Fit    *Fit
}

// A Reached is how rounds came out that go on until the motif has a size.
type Reached struct {
	From, To int // numbers of the rounds that were made
	What     notation.UntilKind
	Wanted   Length
	// Size is the size with all of them, and Before with one less: what is
	// wanted is reached or passed with the last round, and not before.
	Size, Before Estimate[Length]
}

// reached tells how rounds came out that go on until the motif has a size.
func (s *Sheet) reached(g *model.Graph) {
	for _, r := range g.Reached() {
		out := Reached{From: r.From, To: r.To, What: r.Statement.Until.What, Wanted: length(r.Statement.Until.Length)}
		t := Target{Side: out.What == notation.UntilSide}
		for _, m := range s.Rounds {
			switch m.Number {
			case out.From - 1, out.To - 1:
				out.Before = t.of(m)
			case out.To:
				out.Size = t.of(m)
			}
		}
		s.Reached = append(s.Reached, out)
	}
}

// Finished returns the measure of one finished motif; ok is false when nothing
// can be measured.
func (s *Sheet) Finished() (m Measure, ok bool) {
	if len(s.Rounds) == 0 {
		return Measure{}, false
	}
	return s.Rounds[len(s.Rounds)-1], true
}

// A Girth is how far it is round a cupped piece where it is widest.
type Girth struct {
	From, To int // numbers of the first and the last round that is so wide
	Round    Estimate[Length]
}

// Across is the diameter there when the piece is held round.
func (g Girth) Across() Estimate[Length] { return g.Round.Times(1 / math.Pi) }

// asWide is the share by which rounds in a row may differ and still be as wide:
// far less than could be measured.
const asWide = 0.01

// Widest finds where a motif is widest; ok is false when it is not Cupped. A hat
// that is worked straight down is widest from the end of its crown to its edge, a
// ball in the middle.
func (s *Sheet) Widest() (g Girth, ok bool) {
	if !s.Cupped {
		return Girth{}, false
	}
	from := 0
	for i, m := range s.Rounds {
		if m.Edge.Expected >= s.Rounds[from].Edge.Expected {
			from = i
		}
	}
	to, round := from, s.Rounds[from].Edge
	asWide := func(i int) bool { return s.Rounds[i].Edge.Expected >= round.Expected*(1-asWide) }
	for from > 0 && asWide(from-1) {
		from--
	}
	for to+1 < len(s.Rounds) && asWide(to+1) {
		to++
	}
	return Girth{s.Rounds[from].Number, s.Rounds[to].Number, round}, true
}

// A round drawn together at its end has few stitches, and not half as many as
// the widest: common practice, no source.
const fewLeft = 12

// LeavesHole reports whether a piece has been narrowed, as a ball is, until its
// last round is no more than a hole in it, to be drawn together with the end of
// the yarn: at most 12 plain stitches, half as many at most as in the widest
// round.
func LeavesHole(g *model.Graph) bool {
	last := g.NumRounds() - 1
	if last < 1 || g.Panel() != nil || len(g.Borders()) > 0 {
		return false
	}
	left, widest := g.Counts(last), 0
	for i := range last {
		widest = max(widest, g.Counts(i).Total)
	}
	return left.Total > 0 && left.Total <= fewLeft && left.Spaces == 0 && left.Corners == 0 && left.Picots == 0 && 2*left.Total <= widest
}

// An Option sets something about a Sheet that the draft does not say.
type Option func(*options) error

type options struct {
	margin float64
	motifs int
	target *Target
}

func collect(opts []Option) (options, error) {
	o := options{margin: DefaultMargin}
	for _, set := range opts {
		if err := set(&o); err != nil {
			return o, err
		}
	}
	return o, nil
}

// CheckOptions returns the *RangeError of the first option that is out of range,
// nil when there is none: for those who want to refuse it before they have a
// draft.
func CheckOptions(opts ...Option) error {
	_, err := collect(opts)
	return err
}

// A RangeError refuses a value that is out of range.
type RangeError struct {
	What        string // what was given: "a margin"
	Got         string
	Least, Most string // with their unit
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s of %s is out of range; it may be from %s to %s", e.What, e.Got, e.Least, e.Most)
}

// DefaultMargin is the share of yarn to buy beyond what is expected to be used:
// common practice, no source; for work of several colours 10 to 20 % is read.
const DefaultMargin = 0.10

// WithMargin sets the share of yarn to buy beyond what is expected to be used,
// from 0 to 1.
func WithMargin(share float64) Option {
	return func(o *options) error {
		if !(share >= 0 && share <= 1) {
			return &RangeError{"a margin", fmt.Sprintf("%.10g %%", 100*share), "0 %", "100 %"}
		}
		o.margin = share
		return nil
	}
}

// MostMotifs is how many motifs may be asked for.
const MostMotifs = 100_000

// WithMotifs sets how many motifs are made, from 1 to MostMotifs; without it
// one, or as many as the panel of the draft has.
func WithMotifs(n int) Option {
	return func(o *options) error {
		if n < 1 || n > MostMotifs {
			return &RangeError{"a number of motifs", fmt.Sprint(n), "1", fmt.Sprint(MostMotifs)}
		}
		o.motifs = n
		return nil
	}
}

// NewSheet measures a draft and the graph that was built from it. Whatever the
// draft holds, there is a sheet; the error is the *RangeError of an option, or
// that of ctx, when it ends first, and the sheet is then nil.
func NewSheet(ctx context.Context, draft *notation.Draft, g *model.Graph, opts ...Option) (*Sheet, error) {
	o, err := collect(opts)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s := measured(draft, g)
	s.Motifs, s.Margin = o.motifs, o.margin
	if p := g.Panel(); s.Motifs == 0 && p != nil {
		s.Motifs = p.Motifs
	}
	s.Motifs = max(1, s.Motifs)
	if h := draft.Hook(); h != nil {
		s.Hook = length(h.Size)
	}
	if s.Gauge.Unit > 0 {
		s.reached(g)
	}
	s.yarns(draft, g)
	s.madeUp(draft, g)
	s.Cautions = cautions(draft, g)
	if s.Target = o.target; s.Target != nil && !s.Cupped {
		if err := s.fit(ctx, draft, g, *s.Target); err != nil {
			return nil, err
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return s, nil
}

// measured begins a sheet with the gauge and the measures of the rounds.
func measured(draft *notation.Draft, g *model.Graph) *Sheet {
	s := &Sheet{Title: g.Title, Gauge: GaugeOf(g, draft.Gauge())}
	if s.Gauge.Unit > 0 {
		s.Rounds = measures(g, draft.Gauge(), s.Gauge, Shape(g, s.Gauge.Dimensions))
		s.Cupped = draft.Lies() == notation.Cupped && len(s.Rounds) > 0
	}
	return s
}
