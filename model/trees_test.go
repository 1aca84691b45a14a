package model_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// TestTreesByHand: a tree without positions is worked as the text that it
// prints as.
func TestTreesByHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		g, findings, err := model.Build(t.Context(), p.Draft())
		if err != nil || len(findings) > 0 {
			t.Fatalf("%v %v\nin:\n%s", err, tellAll(findings), p)
		}
		if diff := notationtest.DiffGraphs(workClean(t, p.String()), g); diff != "" {
			t.Fatalf("(-text +tree):\n%s\nin:\n%s", diff, p)
		}
	})
}

// TestSparseTree: what a tree made by hand does not say stands for the least
// there can be, for Build and for Format.
func TestSparseTree(t *testing.T) {
	name := func(text string) notation.Name { return notation.Name{Text: text} }
	d := &notation.Draft{Terms: notation.UK, Statements: []notation.Statement{
		&notation.TermsLine{Terms: notation.UK},
		&notation.Round{From: 1, Steps: []notation.Step{
			&notation.Work{Count: 6, Stitch: name("tr"), Place: &notation.Place{How: notation.InRing}},
			&notation.Chain{},
		}, Claim: &notation.Claim{Items: []*notation.ClaimItem{{Counts: []int{6}, What: notation.OfStitch, Stitch: name("tr")}}}},
		&notation.Round{From: 2, Steps: []notation.Step{
			&notation.Repeat{Steps: []notation.Step{
				&notation.Work{Stitch: name("dc"), Place: &notation.Place{Kind: notation.OfStitch, Stitch: name("tr")}},
				&notation.Picot{},
			}},
			&notation.Skip{What: notation.St},
			&notation.Work{Stitch: name("tr4tog")},
		}},
	}}
	want := []string{
		"rnd 1 [0]: dc@ring | dc@ring | dc@ring | dc@ring | dc@ring | dc@ring ch1",
		"rnd 2 [7]: sc@0 | picot1@7 dc4tog@2+3+4+5 |",
	}
	g, findings, err := model.Build(t.Context(), d)
	if err != nil || len(findings) > 0 {
		t.Fatal(err, tellAll(findings))
	}
	if diff := cmp.Diff(want, picture(g)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(want, picture(clean(t, notation.Format(d)))); diff != "" {
		t.Errorf("as text (-want +got):\n%s\n%s", diff, notation.Format(d))
	}
}

// TestMeaninglessNames: Parse reports a name that means nothing; in a tree made
// by hand Build does.
func TestMeaninglessNames(t *testing.T) {
	d := &notation.Draft{Statements: []notation.Statement{&notation.Round{From: 1, Steps: []notation.Step{
		&notation.Work{Count: 3, Stitch: notation.Name{Text: "ripple"}, Place: &notation.Place{How: notation.InRing}},
		&notation.Work{Count: 3, Place: &notation.Place{How: notation.InRing}},
	}}}}
	_, findings, err := model.Build(t.Context(), d)
	want := []string{`- round 1 unknown-stitch: "ripple" is not a stitch`, `- round 1 unknown-stitch: a stitch without a name`}
	if diff := cmp.Diff(want, tellAll(findings)); diff != "" || err != nil {
		t.Errorf("%v (-want +got):\n%s", err, diff)
	}
}

// TestWildTrees: a tree may hold any numbers and names, and Build and Format
// must come back.
func TestWildTrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d *notation.Draft
		if rapid.Bool().Draw(t, "workable") {
			d = draw(t).Draft()
		} else {
			d = notationtest.Drafts().Draw(t, "draft")
		}
		var fields []reflect.Value
		notation.Walk(d, func(n notation.Node) bool {
			fields = settable(fields, reflect.ValueOf(n).Elem())
			return true
		})
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			f := fields[rapid.IntRange(0, len(fields)-1).Draw(t, "field")]
			switch f.Kind() {
			case reflect.Int:
				f.SetInt(rapid.SampledFrom([]int64{-1, 0, 1, 2, 7, math.MinInt64, math.MaxInt32, math.MaxInt32 + 1, math.MaxInt64}).Draw(t, "number"))
			case reflect.Uint8:
				f.SetUint(rapid.SampledFrom([]uint64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 255}).Draw(t, "choice"))
			case reflect.Bool:
				f.SetBool(!f.Bool())
			case reflect.String:
				f.SetString(rapid.SampledFrom([]string{"", "dc", "ch", "picot", "dc3tog", "FPdc", "cl", "\xff", "ring", strings.Repeat("a", 500)}).Draw(t, "word"))
			default:
				f.SetZero()
			}
		}
		text := notation.Format(d)
		g, findings, err := model.Build(t.Context(), d, smallLimits)
		if err != nil {
			t.Fatal(err)
		}
		notationtest.CheckGraph(about{t, text}, g)
		for _, f := range findings {
			if f.Rule == "" || f.Message == "" || f.Severity == 0 {
				t.Fatalf("a finding without words: %+v\nin:\n%s", f, text)
			}
		}
	})
}

// settable lists the numbers, names, choices and optional parts of a node.
func settable(list []reflect.Value, v reflect.Value) []reflect.Value {
	for i := range v.NumField() {
		switch f := v.Field(i); f.Kind() {
		case reflect.Int, reflect.Uint8, reflect.Bool, reflect.String, reflect.Pointer, reflect.Slice:
			list = append(list, f)
		case reflect.Struct:
			list = settable(list, f)
		}
	}
	return list
}

// TestZeroGraph: a graph that nobody built is an empty one.
func TestZeroGraph(t *testing.T) {
	g := new(model.Graph)
	notationtest.CheckGraph(t, g)
	if got := notationtest.DiffGraphs(g, g); got != "" || g.NumRounds() != 0 || g.Symmetry().Rotation != 1 || g.Panel() != nil {
		t.Errorf("%q", got)
	}
	var b strings.Builder
	if err := g.WriteJSON(&b); err != nil || !strings.Contains(b.String(), `"stitches":[]`) {
		t.Errorf("%v %s", err, b.String())
	}
}

// TestFoundInTreesByHand: in a tree without positions there is no telling which
// round a finding is about, so that none holds back what is said of another.
func TestFoundInTreesByHand(t *testing.T) {
	d, _ := notation.Parse("", "ring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each of next 5 st = 12 sc\n")
	for _, s := range d.Statements {
		switch s := s.(type) {
		case *notation.Ring:
			s.Span = notation.Span{}
		case *notation.Round:
			s.Span = notation.Span{}
		}
	}
	for _, at := range []notation.Span{{}, {Start: notation.Pos{Line: 1, Column: 1}, End: notation.Pos{Line: 1, Column: 2, Offset: 1}}} {
		_, findings, err := model.Build(t.Context(), d, model.WithFound([]notation.Finding{{Rule: "syntax", Span: at}}))
		if diff := cmp.Diff([]string{"2 unworked +1"}, rulesOf(findings)); diff != "" || err != nil {
			t.Errorf("found at %v: %v (-want +got):\n%s", at, err, diff)
		}
	}
}
