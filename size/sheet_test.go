package size_test

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// panels are lines that make something of motifs, whether they can be or not.
var panels = []string{"", "panel 2 by 3", "panel tube 2 by 3 joined sc", "panel cushion 1 by 1", "panel bag 2 by 2 joined sl st", "panel wrap, neck 4 st", "panel wrap on point joined mattress", "panel 1000000 by 1000000"}

// TestSheetSound: whatever the draft, there is a sheet, every number in it is
// one, and no band is upside down.
func TestSheetSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {

		body := drawWild(t)
		if rapid.Bool().Draw(t, "comes out") {
			body = drawMotif(t)
		}
		header := rapid.SampledFrom([]string{"", "gauge 14 dc over 10 cm\n", "gauge 14 dc by 7 rnds over 10 cm\n", "gauge rnds 1-1 = 3 cm across\n", "gauge 0.000001 dc over 1000000 m\n"}).Draw(t, "gauge") +
			rapid.SampledFrom([]string{"", "hook 4 mm\n", "hook 1000000 m\n", "hook 4 g\n"}).Draw(t, "hook") +
			rapid.SampledFrom([]string{"", "weighed rnds 1-2 = 5 g\n", "weighed rnds 1-99 = 0.001 oz\n"}).Draw(t, "swatch") +
			rapid.SampledFrom([]string{"", "yarn sand, 200 m per 100 g\n", "yarn dusk, stretch 1 m, stretch 0.000001 mm\n", "yarn sand, 1000000 m per 0.000001 g\n"}).Draw(t, "yarn")
		body += rapid.SampledFrom(panels).Draw(t, "panel") + "\n" + rapid.SampledFrom([]string{"", "edge of panel\nrnd 1: [sc in each st and ch] around\n", "edge of neck\nrnd 1: [sc in next st, ch 3] around\n"}).Draw(t, "border")
		draft, _ := notation.Parse("", header+body)
		g, _, err := model.Build(context.Background(), draft, model.WithLimits(model.Limits{Stitches: 20_000, Rounds: 100}))
		if err != nil {
			t.Fatal(err)
		}
		to := size.Target{Length: size.Length(rapid.Float64Range(1, 5000).Draw(t, "target")), Side: rapid.Bool().Draw(t, "side")}
		s, err := size.NewSheet(context.Background(), draft, g, size.WithMotifs(rapid.IntRange(1, 20).Draw(t, "motifs")), size.WithTarget(to))
		if err != nil {
			t.Fatal(err)
		}
		soundSheet(t, reflect.ValueOf(*s), "sheet", header+body)
	})
}

// soundSheet looks at every number in a value.
func soundSheet(t *rapid.T, v reflect.Value, path, text string) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s is %g\nin:\n%s", path, x, text)
		}
	case reflect.Struct:
		if strings.HasPrefix(v.Type().Name(), "Estimate[") {
			low, expected, high := v.Field(0).Float(), v.Field(1).Float(), v.Field(2).Float()
			if !(0 <= low && low <= expected && expected <= high) {
				t.Fatalf("%s is %g, %g, %g\nin:\n%s", path, low, expected, high, text)
			}
		}
		for i := range v.NumField() {
			soundSheet(t, v.Field(i), path+"."+v.Type().Field(i).Name, text)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			soundSheet(t, v.Index(i), path, text)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			soundSheet(t, v.Elem(), path, text)
		}
	}
}

// TestSheetInTerms: a sheet says of a draft in UK terms what it says of the
// same in US terms.
func TestSheetInTerms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := "gauge 14 dc by 7 rnds over 10 cm\n" + drawMotif(t)
		uk := notation.Format(notation.Translate(read(t, text), notation.UK))
		one, other := sheet(t, text), sheet(t, uk)
		for i := range one.Rounds {
			near(t, "across", float64(other.Rounds[i].Across.Expected), float64(one.Rounds[i].Across.Expected), 1e-9)
		}
		near(t, "yarn", float64(other.Yarns[0].Total.Expected), float64(one.Yarns[0].Total.Expected), 1e-9)
	})
}

// TestReached: what came of rounds that go on to a size stands among the
// measures.
func TestReached(t *testing.T) {
	draft := read(t, "shape square\ngauge 14 dc by 8 rnds over 10 cm\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2 until side 25 cm: "+steps+"\nrnd next 2: "+steps+"\nrnd next until across 40 cm: "+steps+"\n")
	g, findings, err := size.Build(t.Context(), draft)
	if err != nil || len(findings) > 0 {
		t.Fatal(err, findings)
	}
	s, err := size.NewSheet(t.Context(), draft, g)
	if err != nil || len(s.Reached) != 2 {
		t.Fatalf("%v, %+v", err, s)
	}
	for i, r := range s.Reached {
		if r.Size.Expected < r.Wanted || r.Before.Expected >= r.Wanted || r.From != g.Reached()[i].From || r.To != g.Reached()[i].To {
			t.Errorf("%+v", r)
		}
	}
	if a, b := s.Reached[0], s.Reached[1]; b.From != a.To+3 || a.What != notation.UntilSide || b.What != notation.UntilAcross {
		t.Errorf("%+v", s.Reached)
	}
}

// A hat is measured by its edge and its depth: 48 hdc at 13 to 10 cm are
// 36.9 cm round, whatever it would have if it could be laid flat.
func TestCupped(t *testing.T) {
	const hat = "gauge 13 hdc over 10 cm\nring\nrnd 1: 8 hdc in ring\nrnd 2: 2 hdc in each st\nrnd 3: [hdc in next st, 2 hdc in next st] around\nrnd 4: [hdc in next 2 st, 2 hdc in next st] around\nrnd 5: [hdc in next 3 st, 2 hdc in next st] around\nrnd 6: [hdc in next 4 st, 2 hdc in next st] around\n"
	const plain = "rnd 7-16: hdc in each st\n"
	s := sheet(t, "lies cupped\n"+hat+plain, target(t, "20 cm"))
	m, _ := s.Finished()
	near(t, "edge", float64(m.Edge.Expected), 48*100/13.0, 0.5)
	near(t, "depth", float64(m.Depth.Expected), (0.3+16*1.38)*100/13, 4)
	if !s.Cupped || s.Fit != nil || s.Target == nil || !(m.Edge.Low < m.Edge.Expected && m.Edge.Expected < m.Edge.High) {
		t.Errorf("%+v, %+v", s, m)
	}
	for _, test := range []struct {
		text string
		want bool
	}{
		{hat + plain, false}, // a finding says that it will cup
		{hat, false},
		{"lies ruffled\n" + hat, false},
		{"lies cupped\n" + strings.Replace(hat, "gauge 13 hdc over 10 cm\n", "", 1), false}, // nothing is measured
	} {
		s := sheet(t, test.text, target(t, "20 cm"))
		if s.Cupped != test.want {
			t.Errorf("%v for\n%s", s.Cupped, test.text)
		}
	}
}
