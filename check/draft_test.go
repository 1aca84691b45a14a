package check

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// TestDraft: a tree is checked as the text that it prints as, whether it was
// parsed or made by hand.
func TestDraft(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := notationtest.Pieces().Draw(t, "piece")
		want, err := Source(t.Context(), "", p.String(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		parsed, found := notation.Parse("", p.String())
		for name, d := range map[string]*notation.Draft{"made by hand": p.Draft(), "parsed": parsed} {
			got, err := Draft(t.Context(), d, found, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want.Findings, got.Findings); diff != "" {
				t.Fatalf("%s (-text +tree):\n%s\nin:\n%s", name, diff, p)
			}
			if got.Source != "" && got.Source != p.String() {
				t.Fatalf("%s: source %q, want %q", name, got.Source, p)
			}
		}
	})
}

// TestDraftByHand: the findings about a tree without positions are about the
// text that it prints as.
func TestDraftByHand(t *testing.T) {
	dc := notation.Name{US: "dc"}
	d := &notation.Draft{File: "hand.rnd", Statements: []notation.Statement{
		&notation.Ring{},
		&notation.Round{From: 1, Steps: []notation.Step{
			&notation.Work{Count: 12, Stitch: dc, Place: &notation.Place{How: notation.InRing}}}},
		&notation.Allow{Rule: "claim-count", Reason: "so in the book", HasReason: true},
		&notation.Round{From: 2, Steps: []notation.Step{
			&notation.Work{Count: 2, Stitch: dc, Place: &notation.Place{How: notation.InEach, Kind: notation.St}}},
			Claim: &notation.Claim{Items: []*notation.ClaimItem{{Counts: []int{25}, What: notation.OfStitch, Stitch: dc}}}},
		&notation.Round{From: 3, Steps: []notation.Step{
			&notation.Repeat{Around: true, Steps: []notation.Step{&notation.Work{Stitch: dc, Place: &notation.Place{Count: 7, Kind: notation.St}}}}}},
	}}
	report, err := Draft(t.Context(), d, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	wantPlaces(t, "findings", report.Findings, []string{"5 repeat-remainder"})
	wantPlaces(t, "allowed", report.Allowed, []string{"4 claim-count"})
	// The findings of the caller are not changed.
	parsed, found := notation.Parse("", "ring\nrnd 1: 12 dc in ring ch 1 = 13 dc\nrnd 2: 99999999999 dc in each st = 12 dc\n")
	held := found[0].Held
	if _, err := Draft(t.Context(), parsed, found, Options{}); err != nil || found[0].Held != held {
		t.Errorf("%v, findings of the caller changed", err)
	}
}
