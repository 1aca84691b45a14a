package size_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
	"example.com/roundel/size"
)

const steps = "[dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times"

// squareUntil is a square of rounds that go on until it has a size.
func squareUntil(gauge, until string) string {
	return "gauge " + gauge + "\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2 until " + until + ": " + steps + "\n"
}

func buildText(t reporter, text string) (*notation.Draft, *model.Graph, []notation.Finding) {
	t.Helper()
	d := read(t, text)
	g, findings, err := size.Build(context.Background(), d)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return d, g, findings
}

// TestUntil: the rounds that it takes are those that are needed when they are
// counted and measured afterwards.
func TestUntil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gauge := fmt.Sprintf(rapid.SampledFrom([]string{
			"%d dc by 7 rnds over 10 cm", "%d dc over 10 cm", "%d sc by 16 rnds over 4 in",
		}).Draw(t, "gauge"), rapid.IntRange(8, 30).Draw(t, "stitches"))
		if rapid.Bool().Draw(t, "across a round") {
			gauge = fmt.Sprintf("rnds 1-1 = %d mm across", rapid.IntRange(20, 60).Draw(t, "mm"))
		}
		what := rapid.SampledFrom([]string{"side", "across"}).Draw(t, "what")
		cm := rapid.IntRange(8, 60).Draw(t, "cm")
		_, g, findings := buildText(t, squareUntil(gauge, fmt.Sprintf("%s %d cm", what, cm)))
		if len(findings) > 0 || len(g.Reached()) != 1 {
			t.Fatalf("%v, %+v", findings, g.Reached())
		}
		r := g.Reached()[0]

		// Of a square a side is as long as the square is across.
		counted, plain, _ := buildText(t, fmt.Sprintf("gauge %s\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-%d: %s\n", gauge, r.To, steps))
		list := size.Measures(plain, counted.Gauge())
		last, before := float64(list[len(list)-1].Across.Expected), float64(list[len(list)-2].Across.Expected)
		if g.NumRounds() != r.To || r.From != 2 {
			t.Fatalf("%+v in %d rounds; counted %g after %g", r, g.NumRounds(), last, before)
		}
		if want := float64(10 * cm); last < want-1e-6 || before >= want {
			t.Fatalf("rounds to %d of %g mm, %g with one less; want %g", r.To, last, before, want)
		}

		// One more asked for never gives fewer.
		_, more, _ := buildText(t, squareUntil(gauge, fmt.Sprintf("%s %d cm", what, cm+1)))
		if more.NumRounds() < g.NumRounds() {
			t.Fatalf("%d rounds for %d cm, %d for one more", g.NumRounds(), cm, more.NumRounds())
		}
	})
}

// TestUntilOfSides: a side of n corners is 2 a tan(pi/n), a half of what the
// piece is across.
func TestUntilOfSides(t *testing.T) {
	for n := 3; n <= 8; n++ {
		text := fmt.Sprintf("gauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: [2 dc in ring, corner ch 2] %d times\nrnd 2 until side 30 cm: [dc in each st, (dc, corner ch 2, dc) in corner] %d times\n", n, n)
		d, g, findings := buildText(t, text)
		if len(findings) > 0 || len(g.Reached()) != 1 {
			t.Fatalf("%d corners: %v", n, findings)
		}
		m := size.Measures(g, d.Gauge())
		side := func(m size.Measure) float64 { return float64(m.Across.Expected) * math.Tan(math.Pi/float64(n)) }
		if last, before := side(m[len(m)-1]), side(m[len(m)-2]); last < 300 || before >= 300 {
			t.Errorf("%d corners: a side of %g mm, %g with one round less; want 300", n, last, before)
		}
	}
}

// TestUntilFindings: what cannot be measured or is never reached.
func TestUntilFindings(t *testing.T) {
	const (
		gauge = "14 dc by 7 rnds over 10 cm"
		round = "ring\nrnd 1: 12 dc in ring\n"
	)
	for _, tt := range []struct {
		name, text, want string
		rounds           int
	}{
		{"no gauge", strings.TrimPrefix(squareUntil("", "side 45 cm"), "gauge \n"),
			"2 until-gauge: how many rounds that is depends on the gauge; say it in the header: gauge 14 dc by 8 rnds over 10 cm", 2},
		{"no corners", "gauge " + gauge + "\n" + round + "rnd 2 until side 45 cm: 2 dc in each st\n",
			"2 until-gauge: round 2 has no corners and so no sides; mark them where they are made (corner ch 2), or say until across 45 cm", 2},
		{"a gauge that says nothing", squareUntil("14 dd over 10 cm", "side 45 cm"),
			"2 until-gauge: the gauge line does not say how large a stitch is; it reads: gauge 14 dc by 8 rnds over 10 cm", 2},
		{"a gauge across the rounds that are counted", squareUntil("rnds 1-4 = 20 cm across", "side 45 cm"),
			"2 until-gauge: the gauge is taken across round 4, and how many rounds there are depends on it; take it across the rounds above: gauge rnds 1-1 = 10 cm across", 2},
		{"so large already", squareUntil(gauge, "across 1 in"),
			"2 until-size: the piece is 1.3 in across already after round 1; ask for more, or leave these rounds out", 1},
		{"so many rounds already", squareUntil(gauge, "1 rnds"),
			"2 until-size: the piece has 1 round already; ask for more, or leave these rounds out", 1},
		{"out of reach", squareUntil(gauge, "side 1000000 m"),
			"2 until-size: the piece does not come to a side of 1000000 m: after round 13 it has a side of 0.4 m, and in the last 12 rounds it grew by 0.3 m, and 1000000 m would take more than the 100000 rounds allowed; ask for less", 13},
		{"it does not grow", "gauge " + gauge + "\n" + round + "rnd 2 until across 45 cm: sc in each st of rnd 1\n",
			"2 until-size: the piece does not come to 45 cm across: after round 14 it is 4 cm across, and it hardly grows any more; work increases, as in 2 dc in next st", 14},
		{"a border", squareUntil(gauge, "2 rnds") + "panel 1 by 2\nedge of panel\nrnd 1 until side 45 cm: [sc in each st and ch, 3 sc in corner] 4 times\n",
			"1 until-gauge: edge of panel, the rounds of a border are counted, not measured: until 3 rnds", 2},
		{"it does not close", "gauge " + gauge + "\n" + round + "rnd 2 until across 45 cm: [2 dc in next st, dc in next 4 st] around\n",
			"2 repeat-remainder: the repeat does not close: it uses 5 st, and round 1 has 12; 2 repeats use 10 and 2 are left over (10 or 15 would fit)", 2},
		{"it loses a corner, and so does what stands on it", strings.Replace(squareUntil(gauge, "side 20 cm"), steps, strings.Replace(steps, "4", "3", 1)+" = 4 corners", 1) +
			"rnd next: " + steps + " = 36 dc per side\npanel 2 by 2\n",
			"2 repeat-remainder: the round stops short: the repeat uses 1 corner, 3 times make 3; round 1 has 4, so 1 is left over; 4 times, or around, would close the round", 3},
		{"so large already, on an edge that is in doubt", strings.Replace(squareUntil(gauge, "across 1 in"), "4 times\n", "4 times = 48 dc\n", 1),
			"1 claim-count: round 1 is claimed to have 48 dc; it has 12 (12 dc, 4 sp, 4 corners)", 1},
		{"not the next number", squareUntil(gauge, "side 20 cm") + "rnd 12: sc in each st and ch\nrnd 13: sc in each st\nrnd 14: sc in each st\n",
			"12 round-order: the rounds above go on up to a size, so that the next one is round 9 at this gauge, not round 12; write rnd next", 11},
		{"the next number", squareUntil(gauge, "side 20 cm") + "rnd 9: sc in each st and ch\nrnd next 2: sc in each st\nrnd 12: sc in each st of rnd 11\n", "", 12},
		{"a number below what could not be counted", strings.TrimPrefix(squareUntil("", "side 45 cm"), "gauge \n") + "rnd 9: sc in each st and ch\n",
			"2 until-gauge: how many rounds that is depends on the gauge; say it in the header: gauge 14 dc by 8 rnds over 10 cm", 3},
		{"one claim for all", strings.TrimSuffix(squareUntil(gauge, "side 20 cm"), "\n") + " = 4 corners\n", "", 8},
		{"one claim for all that is wrong", strings.TrimSuffix(squareUntil(gauge, "side 20 cm"), "\n") + " = 28 dc\n",
			"3 claim-count: round 3 is claimed to have 28 dc; it has 44 (44 dc, 4 sp, 4 corners)", 8},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, _ := notation.Parse("", tt.text)
			g, findings, err := size.Build(t.Context(), d)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, f := range findings {
				got = append(got, fmt.Sprintf("%d %s: %s", f.Round, f.Rule, f.Message))
			}
			if strings.Join(got, "\n") != tt.want {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), tt.want)
			}
			if g.NumRounds() != tt.rounds {
				t.Errorf("%d rounds, want %d", g.NumRounds(), tt.rounds)
			}
		})
	}
}

// TestWildUntil: a tree made by hand may ask for any size, and Build must come
// back.
func TestWildUntil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := read(t, squareUntil("14 dc by 7 rnds over 10 cm", "side 20 cm")+"rnd next: sc in each st and ch\n")
		for r := range d.Rounds() {
			if r.Until == nil {
				continue
			}
			r.Until.What = notation.UntilKind(rapid.SampledFrom([]string{"", "side", "across", "rnds", "sail"}).Draw(t, "what"))
			r.Until.Length.Unit = notation.Unit(rapid.SampledFrom([]string{"", "mm", "m", "g", "fathom"}).Draw(t, "unit"))
			r.Until.Length.Amount = rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e-300, 1, 500, 1e300}).Draw(t, "amount")
			r.Until.Rounds = rapid.SampledFrom([]int{math.MinInt, -1, 0, 1, 5, math.MaxInt}).Draw(t, "rounds")
		}
		text := notation.Format(d)
		limits := model.WithLimits(model.Limits{Stitches: 20_000, Rounds: 300})
		g, findings, err := size.Build(t.Context(), d, limits)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range findings {
			if f.Message == "" || strings.Contains(f.Message, "NaN") || strings.Contains(f.Message, "Inf") {
				t.Fatalf("%s: %s\n%s", f.Rule, f.Message, text)
			}
		}
		notationtest.CheckGraph(t, g)
	})
}

// TestUntilFix: a number that is not the next can be left to the gauge.
func TestUntilFix(t *testing.T) {
	text := squareUntil("14 dc by 7 rnds over 10 cm", "side 20 cm") + "rnd 12-13: sc in each st and ch\n"
	_, _, findings := buildText(t, text)
	if len(findings) != 1 || len(findings[0].Fixes) != 1 {
		t.Fatalf("%+v", findings)
	}
	mended, err := notation.ApplyEdits(text, findings[0].Fixes[0].Edits...)
	if err != nil || !strings.HasSuffix(mended, "\nrnd next 2: sc in each st and ch\n") {
		t.Fatalf("%v\n%s", err, mended)
	}
	if _, _, left := buildText(t, mended); len(left) > 0 {
		t.Errorf("%v\n%s", left, mended)
	}
}
