package model_test

import (
	"maps"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// The three worked examples of the notation's description, with the counts
// that stand there.

const plainSquare = `motif "Plain square"
shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc, 4 corners
rnd 2-4: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 7/11/15 dc per side
`

const groupSquare = `motif "Group square"
shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc
rnd 2: [(3 dc, corner ch 2, 3 dc) in corner] 4 times = 24 dc
rnd 3: [(3 dc, corner ch 2, 3 dc) in corner, 3 dc in next gap] 4 times = 36 dc
`

const miscountedMat = `motif "Miscounted mat"
shape circle
ring
rnd 1: 16 dc in ring = 16 dc
rnd 2: [dc in next st, ch 2] around = 16 dc, 16 sp
rnd 3: [3 dc in next sp, 4 dc in next sp, 3 dc in next sp] around
rnd 4: [sc in next gap, ch 2, sk 4 dc] around
rnd 6: sc in each st = 40 sc
`

// sidesOf lists what each side of a round holds of one stitch.
func sidesOf(g *model.Graph, round int, stitch string) []int {
	var list []int
	for _, side := range g.Sides(round) {
		list = append(list, side.Stitches[stitch])
	}
	return list
}

func TestPlainSquare(t *testing.T) {
	g := clean(t, plainSquare)
	if g.Title != "Plain square" || g.Outline != notation.Square {
		t.Errorf("title %q, outline %q", g.Title, g.Outline)
	}
	// A chain space of two at each corner and nothing else. Gaps: between all
	// stitches but those of one corner group; in round 1 between the three
	// over the ring. The side of round n has 4n-1 stitches: two from each
	// corner group, so 4n-2 pairs of neighbours, of which two are inside a
	// group from round 2 on.
	for i, want := range []struct{ dc, side, gaps int }{
		{12, 3, 8}, {28, 7, 16}, {44, 11, 32}, {60, 15, 48},
	} {
		wantCounts := model.Counts{
			Stitches: map[string]int{"dc": want.dc}, Total: want.dc,
			Spaces: 4, Chains: 8, Corners: 4, Gaps: want.gaps,
		}
		if diff := cmp.Diff(wantCounts, g.Counts(i)); diff != "" {
			t.Errorf("round %d (-want +got):\n%s", i+1, diff)
		}
		if diff := cmp.Diff(slices.Repeat([]int{want.side}, 4), sidesOf(g, i, "dc")); diff != "" {
			t.Errorf("sides of round %d (-want +got):\n%s", i+1, diff)
		}
	}
	// A wrong figure in any claim must show, or the claims above prove
	// nothing.
	_, findings := build(t, lines(
		"ring",
		"rnd 1: [3 dc in ring, corner ch 2] 4 times",
		"rnd 2-4: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 7/11/16 dc per side",
	))
	if diff := cmp.Diff([]string{"4 claim-count"}, rulesOf(findings)); diff != "" {
		t.Errorf("false claim (-want +got):\n%s", diff)
	}
}

func TestPlainSquareInUKTerms(t *testing.T) {
	written := lines(
		`motif "Plain square"`,
		"terms uk",
		"shape square",
		"ring",
		"rnd 1: [3 tr in ring, corner ch 2] 4 times = 12 tr, 4 corners",
		"rnd 2-4: [tr in each st, (2 tr, corner ch 2, 2 tr) in corner] 4 times = 7/11/15 tr per side",
	)
	us := jsonOf(t, clean(t, plainSquare))
	if diff := cmp.Diff(us, jsonOf(t, clean(t, written))); diff != "" {
		t.Errorf("written in UK terms (-us +uk):\n%s", diff)
	}
	for _, text := range []string{plainSquare, groupSquare} {
		g, _, err := model.Build(t.Context(), inUK(t, read(t, text)))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(jsonOf(t, clean(t, text)), jsonOf(t, g)); diff != "" {
			t.Errorf("translated (-us +uk):\n%s", diff)
		}
	}
}

func TestGroupSquare(t *testing.T) {
	g := clean(t, groupSquare)
	for i, want := range []int{12, 24, 36} {
		if got := g.Counts(i); got.Stitches["dc"] != want || got.Total != want || got.Spaces != 4 || got.Corners != 4 {
			t.Errorf("round %d: %+v, want %d dc and 4 corner spaces", i+1, got, want)
		}
		if diff := cmp.Diff(slices.Repeat([]int{want / 4}, 4), sidesOf(g, i, "dc")); diff != "" {
			t.Errorf("sides of round %d (-want +got):\n%s", i+1, diff)
		}
	}
	// The group in the side stands in the gap between the groups of round 2:
	// after the third stitch that follows a corner space.
	var gaps []int
	for s := range g.Stitches(2) {
		for p := range g.Into(s.ID) {
			if p.Kind == notation.Gap && !slices.Contains(gaps, p.Stitch) {
				gaps = append(gaps, p.Stitch)
			}
		}
	}
	// Round 2 is numbers 16 to 43, seven a corner: 3 dc, ch 2, 3 dc.
	if diff := cmp.Diff([]int{22, 29, 36, 43}, gaps); diff != "" {
		t.Errorf("gaps worked into (-want +got):\n%s", diff)
	}
}

func TestMiscountedMat(t *testing.T) {
	g, findings := build(t, miscountedMat)
	if diff := cmp.Diff([]string{
		"6:60-6:66 round 3 repeat-remainder: the repeat does not close: it uses 3 sp, and round 2 has 16; 5 repeats use 15 and 1 is left over (15 or 18 would fit) {5:1-5:6 round 2: 16 dc, 16 sp}",
		"7:31-7:38 round 4 skip-miss: this skip does not arrive at the next gap of round 3 that is worked into: 2 dc lie between; sk 3 dc would arrive at the first one, sk 6 dc at this one {6:1-6:6 round 3: 50 dc}",
		"8:1-8:6 round 6 round-order: round 5 is missing: round 6 follows round 4",
		"8:24-8:29 round 6 claim-count: round 6 is claimed to have 40 sc; it has 10 {7:1-7:6 round 4: 10 sc, 10 sp}",
	}, tellAll(findings)); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	// Five whole repeats fit round 3: 5 x (3 + 4 + 3). Round 4 takes every
	// gap that its skips come out at: two of every three.
	want := []struct {
		stitches string
		n        int
		status   model.Status
	}{
		{"dc", 16, model.Worked}, {"dc", 16, model.Worked}, {"dc", 50, model.Mended}, {"sc", 10, model.Mended}, {"sc", 10, model.Worked},
	}
	if g.NumRounds() != len(want) {
		t.Fatalf("%d rounds, want %d", g.NumRounds(), len(want))
	}
	for i, w := range want {
		if r, c := g.Round(i), g.Counts(i); c.Stitches[w.stitches] != w.n || c.Total != w.n || r.Status != w.status {
			t.Errorf("round %d: %v, %s; want %d %s, %s", r.Number, slices.Sorted(maps.Keys(c.Stitches)), r.Status, w.n, w.stitches, w.status)
		}
	}
}
