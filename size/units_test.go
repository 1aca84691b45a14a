package size_test

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// TestConversions: exact by definition: 1 in = 25.4 mm, 1 yd = 0.9144 m, 1 oz =
// 28.349523125 g (international yard and pound agreement, 1959).
func TestConversions(t *testing.T) {
	for u, mm := range map[notation.Unit]size.Length{notation.Millimetre: 1, notation.Centimetre: 10, notation.Inch: 25.4, notation.Metre: 1000, notation.Yard: 914.4} {
		if got := mm.In(u); got != 1 {
			t.Errorf("%v mm are %v %s", mm, got, u)
		}
	}
	for u, g := range map[notation.Unit]size.Weight{notation.Gram: 1, notation.Ounce: 28.349523125} {
		if got := g.In(u); got != 1 {
			t.Errorf("%v g are %v %s", g, got, u)
		}
	}
	if size.Length(1).In(notation.Gram) != 0 || size.Weight(1).In(notation.Inch) != 0 || size.Length(1).In("ell") != 0 {
		t.Error("a length is weighed, or a weight measured")
	}
}

// TestText: figures are rounded as patterns round them.
func TestText(t *testing.T) {
	for _, test := range []struct {
		mm   size.Length
		unit notation.Unit
		want string
	}{
		{33, notation.Centimetre, "3.5 cm"}, {32, notation.Centimetre, "3 cm"}, {462, notation.Centimetre, "46 cm"}, {463, notation.Centimetre, "46.5 cm"},
		{1234, notation.Centimetre, "123 cm"}, {165.1, notation.Inch, "6 1/2 in"}, {25.4, notation.Inch, "1 in"}, {5, notation.Inch, "1/4 in"},
		{584, notation.Inch, "23 in"}, {38.1, notation.Inch, "1 1/2 in"}, {0, notation.Inch, "0 in"}, {1, notation.Inch, "0.04 in"}, {1, notation.Centimetre, "0.1 cm"}, {40, notation.Metre, "0.04 m"}, {4.4, notation.Millimetre, "4 mm"},
		{3400, notation.Metre, "3.5 m"}, {42_300, notation.Metre, "42 m"}, {387_000, notation.Metre, "385 m"}, {387_000, notation.Yard, "425 yd"}, {1_436_000, notation.Metre, "1435 m"},
	} {
		if got := test.mm.Text(test.unit); got != test.want {
			t.Errorf("%v mm: %q, want %q", test.mm, got, test.want)
		}
	}
	for _, test := range []struct {
		g    size.Weight
		unit notation.Unit
		want string
	}{{3.3, notation.Gram, "3.5 g"}, {47.2, notation.Gram, "47 g"}, {233, notation.Gram, "235 g"}, {28.349523125, notation.Ounce, "1 oz"}, {7.1, notation.Ounce, "0.3 oz"}, {1, notation.Ounce, "0.04 oz"}, {0.2, notation.Gram, "0.2 g"}, {0, notation.Gram, "0 g"}} {
		if got := test.g.Text(test.unit); got != test.want {
			t.Errorf("%v g: %q, want %q", test.g, got, test.want)
		}
	}
	e := size.Estimate[size.Length]{Low: 418, Expected: 462, High: 511}
	if got := e.Text(notation.Centimetre); got != "46 cm (42 to 51)" {
		t.Errorf("%q", got)
	}
	if got := e.Text(notation.Inch); got != "18 1/4 in (16 1/2 to 20)" {
		t.Errorf("%q", got)
	}
	// No step hides the ends of a band, as long as it can be read from a tape.
	for _, test := range []struct {
		low, expected, high size.Length
		cm, in              string
	}{
		{18, 19, 21, "1.9 cm (1.8 to 2.1)", "3/4 in (3/4 to 7/8)"}, {12, 13, 14, "1.3 cm (1.2 to 1.4)", "1/2 in"},
		{107, 110, 113, "11 cm (10.5 to 11.5)", "4 3/8 in (4 1/4 to 4 1/2)"}, {9.9, 10, 10.1, "1 cm", "3/8 in"}, {30, 30, 30, "3 cm", "1 1/4 in"},
	} {
		e := size.Estimate[size.Length]{Low: test.low, Expected: test.expected, High: test.high}
		if cm, in := e.Text(notation.Centimetre), e.Text(notation.Inch); cm != test.cm || in != test.in {
			t.Errorf("%v: %q, %q; want %q, %q", e, cm, in, test.cm, test.in)
		}
	}
	if got := (size.Estimate[size.Weight]{Low: 1.05, Expected: 1.25, High: 1.5}).Text(notation.Gram); got != "1.3 g (1.1 to 1.5)" {
		t.Errorf("%q", got)
	}
	// What is bought is rounded up.
	if got := size.Length(42_100).TextUp(notation.Metre); got != "43 m" {
		t.Errorf("%q", got)
	}
	if got := size.Weight(50).TextUp(notation.Gram); got != "50 g" {
		t.Errorf("%q", got)
	}
}

// TestParseLengthBack: what Text writes in a metric unit, ParseLength reads.
func TestParseLengthBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := size.Length(rapid.Float64Range(1, 90_000).Draw(t, "mm"))
		u := rapid.SampledFrom([]notation.Unit{notation.Millimetre, notation.Centimetre}).Draw(t, "unit")
		got, err := size.ParseLength(l.Text(u))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "length", float64(got), float64(l), 50)
	})
}
