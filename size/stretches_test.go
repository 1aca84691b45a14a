package size_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// TestSwatch: a weighed swatch sets lengths and weights right.
func TestSwatch(t *testing.T) {
	const gauge = "gauge 14 dc by 7 rnds over 10 cm\n"
	const yarns = "yarn sand, 200 m per 100 g\n"
	plain := sheet(t, gauge+yarns+published9)
	if plain.Swatch != nil {
		t.Errorf("a swatch from nowhere: %+v", plain.Swatch)
	}
	three := sheet(t, gauge+yarns+published9[:len(published9)-len("rnd 2-9: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n")]+"rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n")
	expected := float64(three.Yarns[0].Stitches.Expected) / 2000 // g
	for _, k := range []float64{0.7, 1, 1.5} {
		s := sheet(t, fmt.Sprintf("%s%sweighed rnds 1-3 = %.6f g\n", gauge, yarns, k*expected)+published9)
		y, was := s.Yarns[0], plain.Yarns[0]
		near(t, "expected weight", float64(s.Swatch.Expected), expected, 1e-3)
		near(t, "length", float64(y.Stitches.Expected), k*float64(was.Stitches.Expected), 1e-3*float64(was.Stitches.Expected))
		near(t, "weight", float64(y.Weight.Expected), float64(y.Total.Expected)/2000, 1e-6)
		if !s.Swatch.Used || y.Stitches.High/y.Stitches.Expected >= was.Stitches.High/was.Stitches.Expected {
			t.Errorf("%g: the band is no narrower: %+v", k, y.Stitches)
		}
	}
	// A slip of the scales, or of the keyboard.
	for _, k := range []float64{0.1, 10} {
		s := sheet(t, fmt.Sprintf("%s%sweighed rnds 1-3 = %.6f g\n", gauge, yarns, k*expected)+published9)
		if s.Swatch.Used || s.Yarns[0].Stitches != plain.Yarns[0].Stitches {
			t.Errorf("%g: used: %+v", k, s.Swatch)
		}
	}
	// Without metres per gram it tells the weight, and not the length.
	s := sheet(t, gauge+"weighed rnds 1-3 = 6 g\n"+published9)
	was := sheet(t, gauge+published9).Yarns[0]
	y := s.Yarns[0]
	if y.Stitches != was.Stitches || !y.Weight.Known() || y.Balls != 0 || !s.Swatch.Used || s.Swatch.Expected != 0 {
		t.Errorf("%+v, %+v", s.Swatch, y)
	}
	near(t, "weight of the whole", float64(y.Weight.Expected), 6*float64(y.Total.Expected/three.Yarns[0].Stitches.Expected), 1e-6)
	// A yarn of unknown weight is as heavy as the other.
	const both = "yarn sand, 200 m per 100 g\nyarn reed\nring\nrnd 1 with sand: 12 dc in ring\nrnd 2 with reed: 2 dc in each st\n"
	s = sheet(t, gauge+"weighed rnds 1-2 = 4 g\n"+both)
	if len(s.Yarns) != 2 || !s.Yarns[1].Weight.Known() || s.Yarns[1].Balls != 0 {
		t.Errorf("%+v", s.Yarns)
	}
	near(t, "weight of both", float64(s.Yarns[0].Stitches.Expected+s.Yarns[1].Stitches.Expected)/2000, 4, 1e-6)
}

// TestChanges follows a yarn that changes its colour, by hand: w = 10 mm, an sc
// takes 84 mm, a ring and a join 45 mm each, the end 150 mm.
func TestChanges(t *testing.T) {
	const text = `yarn dusk, stretch 500 mm "rose", stretch 700 mm "plum"
gauge 10 sc by 10 rnds over 10 cm
ring
rnd 1: 6 sc in ring
rnd 2: 2 sc in each st
`
	s := sheet(t, text, size.WithMotifs(2))
	// 150 + 45 + 3 x 84 = 447: the fourth goes to 531. Round 1 ends at 744.
	// 1200 - 744 = 456 = 5 x 84 + 36: the sixth of round 2. 1700 - 744 = 956 =
	// 11 x 84 + 32: the twelfth. Round 2 ends at 1797, the motif at 1947, where
	// 453 are left of the plum.
	want := []size.Change{
		{"dusk", 1, "", 1, 1, 0, 500},
		{"dusk", 1, "", 1, 4, 1, 700},
		{"dusk", 1, "", 2, 6, 0, 500},
		{"dusk", 1, "", 2, 12, 1, 700},
		{"dusk", 2, "", 1, 1, 1, 453},
	}
	if len(s.Changes) < 7 || s.MoreChanges {
		t.Fatalf("%+v", s.Changes)
	}
	for i := range want {
		s.Changes[i].Left = size.Length(int(s.Changes[i].Left + 0.5))
	}
	if diff := cmp.Diff(want, s.Changes[:5]); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// Very short stretches are not listed without end.
	s = sheet(t, "yarn dusk, stretch 0.001 mm, stretch 0.002 mm\n"+text[len("yarn dusk, stretch 500 mm \"rose\", stretch 700 mm \"plum\"\n"):], size.WithMotifs(size.MostMotifs))
	if !s.MoreChanges || len(s.Changes) > 10_000 {
		t.Errorf("%d changes, more %t", len(s.Changes), s.MoreChanges)
	}
	if s := sheet(t, "yarn dusk, stretch 5 m\n"+published9); s.Changes != nil {
		t.Errorf("without a gauge: %+v", s.Changes)
	}
}

// TestChangesInBorders: borders go on where motifs and seams ended.
func TestChangesInBorders(t *testing.T) {
	s := sheet(t, "yarn dusk, stretch 9 m, stretch 4 m\n"+tile+"panel 2 by 2 joined sc\nedge of panel\nrnd 1: [sc in each st and ch] around\n")
	var first size.Change
	for _, c := range s.Changes {
		if c.Motif == 0 {
			first = c
			break
		}
	}
	y := s.Yarns[0]
	used := y.Stitches.Times(4).Plus(y.Seams).Expected + 4*2*150
	at := used - size.Length(int(used/13_000))*13_000 // in the ball
	left := 9000 - at
	if at > 9000 {
		left = 13_000 - at
	}
	if first.Edge != notation.EdgeOfPanel || first.Round != 1 || first.Stitch != 1 {
		t.Fatalf("%+v", s.Changes)
	}
	near(t, "left", float64(first.Left), float64(left), 1e-6)
}

// TestChangesInOrder: changes come in working order, each stretch after the one
// before, and what is left of all of them is the yarn of the motifs.
func TestChangesInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "stretches")
		text := "yarn dusk"
		for range n {
			text += fmt.Sprintf(", stretch %d mm", rapid.IntRange(100, 20_000).Draw(t, "mm"))
		}
		s := sheet(t, text+"\ngauge 14 dc by 7 rnds over 10 cm\n"+drawMotif(t), size.WithMotifs(rapid.IntRange(1, 4).Draw(t, "motifs")))
		if s.MoreChanges {
			t.Skip("too many")
		}
		for i := 1; i < len(s.Changes); i++ {
			a, b := s.Changes[i-1], s.Changes[i]
			if b.Motif < a.Motif || b.Motif == a.Motif && (b.Round < a.Round || b.Round == a.Round && b.Stitch < a.Stitch) {
				t.Fatalf("%+v after %+v", b, a)
			}
			if b.Motif == a.Motif && b.Stretch != (a.Stretch+1)%n {
				t.Fatalf("stretch %d after %d", b.Stretch, a.Stretch)
			}
		}
	})
}

// A context that has ended is said, whatever the draft.
func TestSheetEnded(t *testing.T) {
	draft := read(t, "ring\nrnd 1: 12 dc in ring\n")
	g, _, err := size.Build(t.Context(), draft)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if s, err := size.NewSheet(ctx, draft, g); s != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("%v, %v", s, err)
	}
}
