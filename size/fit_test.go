package size_test

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/size"
)

func target(t reporter, text string) size.Option {
	t.Helper()
	to, err := size.ParseTarget(text)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return size.WithTarget(to)
}

func example(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile("../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestFitRounds: rounds are added where the draft has plain ones, under the
// edging, and the sizes are those of the draft with that many rounds.
func TestFitRounds(t *testing.T) {
	text := example(t, "tideline.rnd")
	for _, cm := range []float64{30, 40, 47, 60, 120} {
		f := sheet(t, text, target(t, fmt.Sprintf("%g cm", cm))).Fit
		if f.Under == nil || f.Over == nil || f.Over.Rounds != f.Under.Rounds+1 {
			t.Fatalf("%g cm: %+v", cm, f)
		}
		for _, r := range []*size.RoundsFit{f.Under, f.Over} {
			if r.Change == 0 {
				if r.From != 0 || r.To != 0 || r.Rounds != 12 {
					t.Errorf("%g cm: %+v", cm, r)
				}
				continue
			}
			if r.From != 7 || r.To-r.From+1 != 5+r.Change || r.Rounds != 12+r.Change {
				t.Errorf("%g cm: %+v", cm, r)
			}
			// The same, written by hand.
			same := strings.Replace(text, "rnd 7-11", fmt.Sprintf("rnd %d-%d", r.From, r.To), 1)
			same = strings.Replace(same, "rnd 12", fmt.Sprintf("rnd %d", r.To+1), 1)
			same = strings.Replace(strings.Replace(same, " = 19/23/27/31/35 dc per side", "", 1), " = 37 sc per side,\n    4 corners", "", 1)
			m, _ := sheet(t, same).Finished()
			near(t, "size", float64(r.Size.Expected), float64(m.Across.Expected), 1e-6)
		}
		if f.Under.Size.Expected > f.Target.Length || f.Over.Size.Expected < f.Target.Length {
			t.Errorf("%g cm: %v and %v", cm, f.Under.Size, f.Over.Size)
		}
	}
	// Smaller than what leaves one round of them: the motif ends earlier.
	f := sheet(t, text, target(t, "15 cm")).Fit
	if f.Under == nil || f.Under.Rounds > 6 || f.Under.From != 0 || f.Over == nil {
		t.Errorf("15 cm: %+v", f)
	}
	// As it is.
	m, _ := sheet(t, text).Finished()
	f = sheet(t, text, size.WithTarget(size.Target{Length: m.Across.Expected})).Fit
	if f.Under == nil || f.Over == nil || f.Under.Change != 0 || f.Over.Change != 0 || f.Scale != 1 {
		t.Errorf("as it is: %+v, %+v", f.Under, f.Over)
	}
}

// TestFitOtherDrafts: a draft whose rounds are all written out cannot be drawn
// out; it tells what a round more would add.
func TestFitOtherDrafts(t *testing.T) {
	text := "gauge 14 dc by 7 rnds over 10 cm\n" + example(t, "saltmarsh.rnd")
	s := sheet(t, text, target(t, "50 cm"))
	f := s.Fit
	if f.Over != nil || f.Under == nil || f.Under.Change != 0 || f.Each <= 0 {
		t.Errorf("%+v", f)
	}
	// As the table of rounds shows it.
	first, last := s.Rounds[0].Across.Expected, s.Rounds[len(s.Rounds)-1].Across.Expected
	if got := first + f.Each*size.Length(len(s.Rounds)-1); math.Abs(float64(got-last)) > 1e-6 {
		t.Errorf("rounds from %v to %v grow by %v each", first, last, f.Each)
	}
	if f = sheet(t, text, target(t, "side 12 cm")).Fit; f.Under == nil || f.Over == nil || f.Under.Rounds+1 != f.Over.Rounds {
		t.Errorf("%+v", f)
	}
	// A single round that closes again is worked again.
	plain := "gauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 28 dc\n"
	if f = sheet(t, plain, target(t, "50 cm")).Fit; f.Under == nil || f.Over == nil || f.Over.From != 2 || f.Over.To != f.Over.Rounds {
		t.Errorf("%+v", f)
	}
	// So is one that another works on: its number moves.
	again := plain + "rnd 3: [sc in each st, (sc, corner ch 1, sc) in corner] 4 times\nrnd 4: as rnd 3\n"
	if f = sheet(t, again, target(t, "50 cm")).Fit; f.Under == nil || f.Over == nil {
		t.Errorf("%+v", f)
	}
	// But not one below a round that speaks of it.
	deep := strings.Replace(plain, "rnd 2", "rnd 2-3", 1) + "rnd 4: [dc in next sp of rnd 3, 30 dc in next sp of rnd 3] 2 times\n"
	deep = strings.Replace(deep, " = 28 dc", "", 1)
	if f = sheet(t, deep, target(t, "50 cm")).Fit; f.Over != nil && f.Over.From == 2 {
		t.Errorf("%+v", f.Over)
	}
	// Nothing to measure: no gauge; a side of a circle.
	if s := sheet(t, plain, target(t, "50 cm")); s.Fit == nil {
		t.Error("no fit")
	}
	if s := sheet(t, published9, target(t, "50 cm")); s.Fit != nil {
		t.Errorf("%+v", s.Fit)
	}
	if s := sheet(t, "gauge 14 dc over 10 cm\n"+piece, target(t, "side 50 cm")); s.Fit != nil {
		t.Errorf("%+v", s.Fit)
	}
}

// TestFitGauge: at the gauge that is named the motif has the size.
func TestFitGauge(t *testing.T) {
	for _, gauge := range []string{"gauge 14 dc by 7.5 rnds over 10 cm", "gauge 14 dc over 4 in", "gauge rnds 1-3 = 7 cm across"} {
		text := gauge + "\n" + published9
		s := sheet(t, text, target(t, "31 cm"))
		list := size.Measures(work(t, text), &s.Fit.Gauge)
		near(t, gauge, float64(list[len(list)-1].Across.Expected), 310, 1e-6)
	}
}

// TestFitHook: the usual sizes on either side of the hook, and what they come
// to.
func TestFitHook(t *testing.T) {
	text := "hook 4.5 mm\ngauge 14 dc by 7.5 rnds over 10 cm\n" + published9
	m, _ := sheet(t, text).Finished()
	now := float64(m.Across.Expected)
	for _, k := range []float64{0.85, 0.95, 1.03, 1.2} {
		to := size.Target{Length: size.Length(k * now)}
		f := sheet(t, text, size.WithTarget(to)).Fit
		if len(f.Hooks) != 2 || f.Hooks[0].Size > f.Hook || f.Hooks[1].Size < f.Hook || f.Hooks[0].Expected > to.Length || f.Hooks[1].Expected < to.Length {
			t.Errorf("%g: %+v", k, f)
		}
		// A piece in rounds of dc grows as their height does, nearly.
		near(t, "hook", float64(f.Hook)/4.5, math.Pow(k, 1/0.73), 0.04)
	}
	// Hooks further off are not spoken of, though there are usual ones.
	for _, k := range []float64{0.7, 1.5} {
		if f := sheet(t, text, size.WithTarget(size.Target{Length: size.Length(k * now)})).Fit; f.Hook != 0 || f.Hooks != nil {
			t.Errorf("%g: %+v", k, f)
		}
	}
	if f := sheet(t, text, target(t, "5 m")).Fit; f.Hook != 0 || f.Hooks != nil || f.Over == nil {
		t.Errorf("a hook for 5 m: %+v", f)
	}
	if f := sheet(t, text[len("hook 4.5 mm\n"):], target(t, "20 cm")).Fit; f.Hook != 0 || f.Hooks != nil {
		t.Errorf("a hook for a draft without one: %+v", f)
	}
}

// TestWithHook holds the rule against the leaflet it is fitted on: G20 to G23 of
// testdata/gauges.csv, 18, 17, 16 and 15 hdc by 13, 12, 11 and 10 rows over 10
// cm with hooks of 3.5, 4, 4.5 and 5 mm.
func TestWithHook(t *testing.T) {
	g := size.Gauge{Unit: 100.0 / 16, Dimensions: size.DefaultDimensions()}
	k := kind(t, "hdc")
	g.Dimensions.Height[k.Height] = 16.0 / 11
	for i, hook := range []float64{3.5, 4, 4.5, 5} {
		h := g.WithHook(hook / 4.5)
		width, height := h.Dimensions.Of(k)
		near(t, "stitches", 100/(float64(h.Length(width))), 18-float64(i), 0.2)
		near(t, "rows", 100/(float64(h.Length(height))), 13-float64(i), 0.25)
	}
}

// TestFitLaws: a larger target never takes fewer rounds, or a thinner hook.
func TestFitLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stitch := drawSolid(t)
		n := rapid.IntRange(3, 8).Draw(t, "rounds")
		text := "hook 4 mm\ngauge 14 sc by 16 rnds over 10 cm\n" + polygonOf(stitch, rapid.IntRange(4, 8).Draw(t, "corners"), rapid.IntRange(1, 2).Draw(t, "beside"), rapid.IntRange(0, 3).Draw(t, "chains"), n)
		lengths := []float64{rapid.Float64Range(20, 300).Draw(t, "mm"), rapid.Float64Range(20, 300).Draw(t, "more")}
		if lengths[0] > lengths[1] {
			lengths[0], lengths[1] = lengths[1], lengths[0]
		}
		side := rapid.Bool().Draw(t, "side")
		var fits []*size.Fit
		for _, mm := range lengths {
			f := sheet(t, text, size.WithTarget(size.Target{Length: size.Length(mm), Side: side})).Fit
			if f.Under != nil && f.Under.Size.Expected > size.Length(mm) || f.Over != nil && f.Over.Size.Expected < size.Length(mm) {
				t.Fatalf("%g mm: %+v, %+v", mm, f.Under, f.Over)
			}
			if f.Under != nil && f.Over != nil && f.Over.Rounds-f.Under.Rounds > 1 {
				t.Fatalf("%g mm: %d rounds are too few and %d too many", mm, f.Under.Rounds, f.Over.Rounds)
			}
			if f.Over == nil {
				t.Fatalf("%g mm is not reached in\n%s", mm, text)
			}
			fits = append(fits, f)
		}
		if a, b := fits[0], fits[1]; a.Over.Rounds > b.Over.Rounds || a.Scale > b.Scale || a.Hook > 0 && b.Hook > 0 && a.Hook > b.Hook {
			t.Fatalf("%v: %+v, %+v", lengths, a, b)
		}
	})
}

func TestTargets(t *testing.T) {
	for text, want := range map[string]size.Target{
		"45cm": {Length: 450}, "45 cm": {Length: 450}, " 18 in ": {Length: 457.2}, "across 18in": {Length: 457.2}, "side 0.5 m": {Length: 500, Side: true},
		"side1yd": {Length: 914.4, Side: true}, "450 MM": {Length: 450},
	} {
		if got, err := size.ParseTarget(text); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "45", "cm", "45 g", "-45 cm", "1e3 mm", "0x10 mm", "NaN cm", "Inf cm", "4,5 cm", "45 cm 3", "1.2.3 cm"} {
		if got, err := size.ParseTarget(text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
	for _, text := range []string{"0 cm", "0.5 mm", "101 m", "99999999 yd"} {
		var out *size.RangeError
		if got, err := size.ParseTarget(text); !errors.As(err, &out) {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	draft, g := read(t, published9), work(t, published9)
	for _, l := range []size.Length{0, -1, size.Length(math.NaN()), size.Length(math.Inf(1))} {
		if s, err := size.NewSheet(t.Context(), draft, g, size.WithTarget(size.Target{Length: l})); err == nil {
			t.Errorf("%g: %+v", float64(l), s)
		}
	}
}
