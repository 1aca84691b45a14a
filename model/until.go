package model

import (
	"fmt"
	"math"
	"strconv"

	"example.com/roundel/notation"
)

// A Size is how large a piece is when it is laid flat, in mm; 0 for what is not
// known.
type Size struct {
	Across float64 // the diameter, or the width from side to side
	Side   float64 // the length of one side, with corners
}

// WithMeasure lets Build work rounds that go on until the piece has a size.
// The function is asked how large the piece is after the rounds that are in the
// graph; more are added between one call and the next. Package size has one, see
// size.Build.
func WithMeasure(measure func(*Graph) Size) Option {
	return func(to *settings) { to.measure = measure }
}

// A Reached is how a statement came out that goes on until the piece has a
// size.
type Reached struct {
	Statement *notation.Round
	From, To  int // numbers of the rounds that were made
}

// Reached returns the statements that came to their size, in working order.
func (g *Graph) Reached() []Reached { return g.reached }

// came reports whether a statement, the last of its kind, came to its size:
// else there is no telling which number the next round has.
func (g *Graph) came(r *notation.Round) bool {
	n := len(g.reached)
	return n > 0 && g.reached[n-1].Statement == r
}

// until works the rounds of a statement that go on up to a size, and returns the
// number of the last.
//
// On an edge that is in doubt, or where a round of the statement does not come
// out, there is no telling how many rounds there are to be: what follows is a
// guess, and a size that is not come to is no finding of its own.
func (b *builder) until(r *notation.Round, first int) (last int) {
	said := len(b.findings)
	doubt := b.strayed
	if b.belief != nil {
		doubt = b.belief.cause
	}
	last = b.toSize(r, first, doubt)
	if b.stopped || b.lost || len(b.g.rounds) == 0 {
		return last
	}
	mended := b.g.rounds[len(b.g.rounds)-1].Status == Mended
	if doubt == noCause && mended && len(b.findings) > said && !b.excepted(r, b.findings[said:]) {
		doubt = cause(said)
	}
	if doubt != noCause {
		b.belief = &belief{cause: doubt, guess: true}
	}
	return last
}

// toSize works the rounds; doubt is the finding that puts the edge in doubt, if
// there is one.
func (b *builder) toSize(r *notation.Round, first int, doubt cause) (last int) {
	u := r.Until
	miss := func(rule, format string, args ...any) {
		if doubt != noCause {
			b.holdIn(doubt, 1)
			return
		}
		b.rs.number = first
		b.report(rule, u.Span, format, args...)
	}
	b.rs.number = first
	if u.What == notation.UntilUnread || r.Broken || b.lost {
		b.once(r, first, 0)
		return first
	}
	if why := b.unmeasured(); why != "" {
		at := cause(len(b.findings))
		if b.misread.gauge != noCause {
			at = b.misread.gauge
			b.holdIn(at, 1)
		} else {
			b.report("until-gauge", u.Span, "%s", why)
		}
		b.once(r, first, 0)
		b.belief = &belief{cause: at, guess: true} // of more rounds than one
		return first
	}
	want := u.Length.Value()
	if !(want > 0 && want <= mostSize) || u.Length.Unit.IsWeight() {
		b.report("until-size", u.Span, "no piece has that size; it is a length of more than 0 mm and at most %d m", mostSize/1000)
		b.once(r, first, 0)
		return first
	}
	sizes := []float64{b.sizeOf(u.What)}
	if sizes[0] >= want-slip {
		miss("until-size", "the piece %s already after %s; ask for more, or leave these rounds out", has(u, sizes[0]), b.roundName(first-1))
		return first - 1
	}
	for n := first; b.once(r, n, n-first); n++ {
		last = n
		if b.g.rounds[len(b.g.rounds)-1].Status != Worked {
			return last // what is wrong is reported, and would be for every round
		}
		now := b.sizeOf(u.What)
		sizes = append(sizes, now)
		switch {
		case now == 0:
			miss("until-gauge", "%s", b.noSize(u, n))
			return last
		case now >= want-slip:
			b.g.reached = append(b.g.reached, Reached{Statement: r, From: first, To: n})
			return last
		case b.stalls(sizes, want):
			miss("until-size", "%s", b.stalled(u, n, sizes))
			return last
		}
	}
	return max(last, first-1)
}

// mostSize is the largest size, in mm, that a draft can ask for.
const mostSize = 1_000_000_000

// slip is the error in mm that reckoning may make: a size asked for in round
// figures is not missed by it.
const slip = 1e-6

// once works one round of a statement; false means that it was the last, for
// good.
func (b *builder) once(r *notation.Round, number, index int) bool {
	if len(b.g.rounds) >= b.limits.Rounds {
		b.report("limit", r.Head, "the draft has more than the %d rounds allowed; the rest is not worked", b.limits.Rounds)
		b.stopped = true
	}
	if !b.stopped {
		b.round(r, number, index)
	}
	return !b.stopped
}

// unmeasured says why the piece cannot be measured at all, "" if it can.
func (b *builder) unmeasured() string {
	switch {
	case b.g.onEdge():
		return "the rounds of a border are counted, not measured: until 3 rnds"
	case b.draft.Gauge() == nil:
		return "how many rounds that is depends on the gauge; say it in the header: gauge 14 dc by 8 rnds over 10 cm"
	case b.measure == nil:
		return "the piece is not measured here, so there is no telling how many rounds that is"
	}
	return ""
}

// noSize says why the piece has no size after a round.
func (b *builder) noSize(u *notation.Until, number int) string {
	gauge := b.draft.Gauge()
	switch known := b.measure(b.g).Across > 0; {
	case u.What == notation.UntilSide && known:
		return fmt.Sprintf("round %d has no corners and so no sides; mark them where they are made (corner ch 2), or say until across %s", number, u.Length)
	case gauge.To >= number:
		return fmt.Sprintf("the gauge is taken across round %d, and how many rounds there are depends on it; take it across the rounds above: gauge rnds 1-%d = 10 cm across", gauge.To, max(number-1, 1))
	}
	return "the gauge line does not say how large a stitch is; it reads: gauge 14 dc by 8 rnds over 10 cm"
}

// sizeOf measures the piece.
func (b *builder) sizeOf(what notation.UntilKind) float64 {
	size := b.measure(b.g)
	if what == notation.UntilSide {
		return size.Side
	}
	return size.Across
}

// patience is over how many rounds a piece is watched that does not grow: some
// rounds of a pattern may lie on the ones below.
const patience = 12

// stalls reports whether a piece will not come to a size in as many rounds as
// are allowed, going on as in the last rounds.
func (b *builder) stalls(sizes []float64, want float64) bool {
	n := len(sizes) - 1
	if n < patience {
		return false
	}
	pace := (sizes[n] - sizes[n-patience]) / patience
	left := float64(b.limits.Rounds - len(b.g.rounds))
	return !(pace*left >= want-sizes[n])
}

// stalled says of a piece that it stalls.
func (b *builder) stalled(u *notation.Until, number int, sizes []float64) string {
	n := len(sizes) - 1
	grown := sizes[n] - sizes[n-patience]
	why := fmt.Sprintf("in the last %d rounds it grew by %s, and %s would take more than the %d rounds allowed; ask for less", patience, lengthIn(u, grown), lengthIn(u, u.Length.Value()), b.limits.Rounds)
	if grown < sizes[n]/100 {
		why = "it hardly grows any more; work increases, as in 2 dc in next st"
	}
	return fmt.Sprintf("the piece does not come to %s: after round %d it %s, and %s", sizeText(u, u.Length.Value()), number, has(u, sizes[n]), why)
}

// sizeText writes a size in the unit in which one was asked for.
func sizeText(u *notation.Until, mm float64) string {
	if u.What == notation.UntilSide {
		return "a side of " + lengthIn(u, mm)
	}
	return lengthIn(u, mm) + " across"
}

// has says that the piece has a size.
func has(u *notation.Until, mm float64) string {
	if u.What == notation.UntilSide {
		return "has " + sizeText(u, mm)
	}
	return "is " + sizeText(u, mm)
}

func lengthIn(u *notation.Until, mm float64) string {
	one := notation.Quantity{Amount: 1, Unit: u.Length.Unit}.Value()
	return strconv.FormatFloat(math.Round(10*mm/one)/10, 'f', -1, 64) + " " + string(u.Length.Unit)
}
