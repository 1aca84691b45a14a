package size

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/roundel/notation"
)

// A Length is a length in mm.
type Length float64

// A Weight is a weight in g.
type Weight float64

// An Estimate is a figure with the band in which it can honestly be expected:
// Low <= Expected <= High. The zero Estimate says that nothing is known.
type Estimate[T Length | Weight] struct{ Low, Expected, High T }

// Known reports whether there is an estimate at all.
func (e Estimate[T]) Known() bool { return e.Expected > 0 }

// Times returns the estimate of so many times as much.
func (e Estimate[T]) Times(k float64) Estimate[T] {
	return Estimate[T]{e.Low * T(k), e.Expected * T(k), e.High * T(k)}
}

// Plus returns the estimate of both together. The bands add: what makes one
// come out large, the hand and the yarn, does the same for the other.
func (e Estimate[T]) Plus(f Estimate[T]) Estimate[T] {
	return Estimate[T]{e.Low + f.Low, e.Expected + f.Expected, e.High + f.High}
}

// about is an estimate that may be off by a share either way: high by that
// share, low by as much in proportion, so that it stays above 0.
func about[T Length | Weight](expected T, off float64) Estimate[T] {
	return Estimate[T]{expected / T(1+off), expected, expected * T(1+off)}
}

// In returns the length in a unit of the notation: 1 in = 25.4 mm and
// 1 yd = 0.9144 m exactly. It is 0 for a unit of weight.
func (l Length) In(u notation.Unit) float64 {
	one := notation.Quantity{Amount: 1, Unit: u}
	if one.Value() == 0 || u.IsWeight() {
		return 0
	}
	return float64(l) / one.Value()
}

// In returns the weight in a unit of the notation: 1 oz = 28.349523125 g
// exactly. It is 0 for a unit of length.
func (w Weight) In(u notation.Unit) float64 {
	if !u.IsWeight() {
		return 0
	}
	return float64(w) / notation.Quantity{Amount: 1, Unit: u}.Value()
}

// The range of lengths that a piece may be asked to have.
const (
	LeastLength Length = 1       // 1 mm
	MostLength  Length = 100_000 // 100 m
)

// ParseLength reads a length as the notation writes it, with or without a
// blank: "45 cm", "18in". It is refused when it is none, or, with
// a *RangeError, when it is not from LeastLength to MostLength.
func ParseLength(text string) (Length, error) {
	number := strings.TrimSpace(text)
	unit := strings.TrimLeft(number, "0123456789.")
	number = number[:len(number)-len(unit)]
	q := notation.Quantity{Unit: notation.Unit(strings.ToLower(strings.TrimSpace(unit)))}
	amount, err := strconv.ParseFloat(number, 64)
	if q.Amount = 1; err != nil || q.Value() == 0 || q.Unit.IsWeight() {
		return 0, fmt.Errorf("%q is not a length; write it like 45 cm or 18 in, with a unit of mm, cm, in, m or yd", text)
	}
	q.Amount = amount
	l := Length(q.Value())
	return l, l.check("a length")
}

// check refuses what is no length for a piece.
func (l Length) check(what string) error {
	if l >= LeastLength && l <= MostLength {
		return nil
	}
	return &RangeError{what, fmt.Sprintf("%.10g mm", float64(l)), "1 mm", "100 m"}
}

// Text writes the length as a pattern would, rounded as the trade rounds and
// no finer than an estimate deserves: cm to the half and, from 50 on, to the
// whole; inches to the quarter and, from 20 on, to the half; yarn in m and yd
// to the half below 10, to the whole below 100, to 5 above.
func (l Length) Text(u notation.Unit) string { return l.Figure(u) + " " + string(u) }

// Figure is Text without the unit.
func (l Length) Figure(u notation.Unit) string {
	return figure(l.In(u), stepOf(l.In(u), u), u)
}

// TextUp is Text of a length to buy: rounded up.
func (l Length) TextUp(u notation.Unit) string { return textUp(l.In(u), u) }

// TextUp is Text of a weight to buy: rounded up.
func (w Weight) TextUp(u notation.Unit) string { return textUp(w.In(u), u) }

func textUp(x float64, u notation.Unit) string {
	step := stepOf(x, u)
	return figure(math.Ceil(x/step-1e-9)*step, step, u) + " " + string(u)
}

// Text writes the estimate with its band: "46 cm (42 to 51)". A step that would
// hide an end of the band is made finer, to the mm or the eighth of an inch; a
// band that does not show even so is left out.
func (e Estimate[T]) Text(u notation.Unit) string {
	step := stepOf(inUnit(e.Expected, u), u)
	write := func(x T) string { return figure(inUnit(x, u), step, u) }
	low, expected, high := write(e.Low), write(e.Expected), write(e.High)
	if e.Low < e.High && (low == expected || expected == high) {
		step = finer(step, u)
		low, expected, high = write(e.Low), write(e.Expected), write(e.High)
	}
	if low == high {
		return fmt.Sprintf("%s %s", expected, u)
	}
	return fmt.Sprintf("%s %s (%s to %s)", expected, u, low, high)
}

// Text writes the weight as a pattern would: g to the half below 10, to the
// whole below 100, to 5 above; oz to the tenth below 10, to the half above. What is
// less than one such step is written to a tenth of it.
func (w Weight) Text(u notation.Unit) string {
	return figure(w.In(u), stepOf(w.In(u), u), u) + " " + string(u)
}

func inUnit[T Length | Weight](x T, u notation.Unit) float64 {
	if u.IsWeight() {
		return Weight(x).In(u)
	}
	return Length(x).In(u)
}

// stepOf is what a figure of a size is rounded to.
func stepOf(x float64, u notation.Unit) float64 {
	small, large := 10.0, 100.0
	steps := [3]float64{0.5, 1, 5}
	switch u {
	case notation.Millimetre:
		steps = [3]float64{1, 1, 5}
	case notation.Centimetre:
		small, large, steps = 50, 1000, [3]float64{0.5, 1, 5}
	case notation.Inch:
		small, large, steps = 20, 1000, [3]float64{0.25, 0.5, 1}
	case notation.Ounce:
		steps = [3]float64{0.1, 0.5, 1}
	}
	switch {
	case u.IsWeight() && x > 0 && x < steps[0]:
		return steps[0] / 10
	case x < small:
		return steps[0]
	case x < large:
		return steps[1]
	}
	return steps[2]
}

// finer is the next finer step: what can still be read from a tape or a scale.
func finer(step float64, u notation.Unit) float64 {
	switch u {
	case notation.Millimetre:
		return step
	case notation.Inch, notation.Ounce:
		return step / 2
	}
	return step / 5
}

// figure writes a figure rounded to a step; inches have fractions. What would
// round to nothing has one digit instead.
func figure(x, step float64, u notation.Unit) string {
	if x > 0 && x < step/2 {
		return strconv.FormatFloat(x, 'f', max(0, -int(math.Floor(math.Log10(x)))), 64)
	}
	x = math.Round(x/step) * step
	if u != notation.Inch {
		return plain(x)
	}
	whole, part := math.Modf(x)
	fraction := map[float64]string{0.125: "1/8", 0.25: "1/4", 0.375: "3/8", 0.5: "1/2", 0.625: "5/8", 0.75: "3/4", 0.875: "7/8"}[part]
	switch {
	case fraction == "":
		return plain(whole)
	case whole == 0:
		return fraction
	}
	return plain(whole) + " " + fraction
}

// plain writes a number in digits, to the thousandth at most.
func plain(x float64) string {
	return strconv.FormatFloat(math.Round(1000*x)/1000, 'f', -1, 64)
}
