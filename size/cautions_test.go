package size_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/size"
)

// TestCautions: who a piece is for decides, but for openwork.
func TestCautions(t *testing.T) {
	const square = "shape square\nring\nrnd 1: [(2 dc, corner ch 2) in ring] 4 times\nrnd 2: [dc in each st, (2 dc, corner dc, 2 dc) in corner] 4 times\n"
	pieces := map[string]bool{ // by draft: whether it is a garment
		square:                             false,
		square + "panel 4 by 5\n":          false,
		square + "panel tube 2 by 4\n":     false,
		square + "panel cushion 1 by 1\n":  false,
		square + "panel bag 2 by 2\n":      false,
		square + "panel wrap, neck 2 st\n": true,
		square + "panel wrap on point\n":   true,
		"ring\nrnd 1: 8 hdc in ring\n":     false,
		"lies cupped\nring\nrnd 1: 8 hdc in ring\nrnd 2-9: hdc in each st\n": false,
		"ring\nrnd 1: 8 hdc in ring\nrnd 2-9: hdc in each st\n":              false, // a hat that is not said to be one
	}
	for text, garment := range pieces {
		for who, want := range map[string][]size.Caution{
			"":             nil,
			"for adult\n":  nil,
			"for child\n":  {size.CordsAtNeck},
			"for infant\n": {size.CordsAtNeck, size.InfantSleep, size.SmallParts},
		} {
			if who == "" && garment {
				want = []size.Caution{size.CordsAtNeck} // a child's, for all that is known
			}
			if diff := cmp.Diff(want, sheet(t, who+text).Cautions); diff != "" {
				t.Errorf("%s%s (-want +got):\n%s", who, text, diff)
			}
		}
	}
}

// TestOpenwork: what a finger or a toe of an infant may go through.
func TestOpenwork(t *testing.T) {
	const (
		square = "shape square\nring\nrnd 1: [(3 dc, corner ch 2) in ring] 4 times\nrnd 2: [dc in each st, (2 dc, corner dc, 2 dc) in corner] 4 times\n"
		border = square + "panel 2 by 2\nedge of panel\n"
		disc   = "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n"
	)
	for _, test := range []struct {
		name, text string
		want       bool
	}{
		{"solid, corners of chains filled", square, false},
		{"corners of chains at the edge", strings.Replace(square, "corner dc, 2 dc", "corner ch 2, 2 dc", 1), true},
		{"one chain at the corners of the edge", strings.Replace(square, "corner dc, 2 dc", "corner ch 1, 2 dc", 1), false},
		{"lace", "ring\nrnd 1: [dc in ring, ch 2] 12 times\n", true},
		{"mesh", disc + "rnd 3: [dc in next st, ch 1, sk 1 st] around\n", true},
		{"mesh filled with shells", disc + "rnd 3: [dc in next st, ch 3, sk 1 st] around\nrnd 4: [4 dc in next sp] around\n", true},
		{"single chains between sc", "ring\nrnd 1: 12 sc in ring\nrnd 2: [sc in next st, ch 1] around\nrnd 3: [sc in next sp, ch 1] around\n", false},
		{"arches between sc", "ring\nrnd 1: 12 sc in ring\nrnd 2: [sc in next st, ch 5, sk 1 st] around\n", true},
		{"picots", disc + "rnd 3: [sc in next st, picot 3] around\n", true},
		{"granny groups between groups", "ring\nrnd 1: [3 dc in ring, ch 1] 4 times\nrnd 2: [(3 dc, ch 1, 3 dc) in next sp] around\nrnd 3: [3 dc in next gap, (3 dc, ch 1, 3 dc) in next sp] around\n", true},
		{"groups without a chain", "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [3 dc in next gap, sk 1 gap] around\n", true},
		{"between all stitches", "ring\nrnd 1: 12 dc in ring\nrnd 2: [2 dc in next gap] around\n", false},
		{"short groups", "ring\nrnd 1: 12 sc in ring\nrnd 2: [3 sc in next gap, sk 1 gap] around\n", false},
		{"an increase in one stitch", "ring\nrnd 1: 6 dc in ring\nrnd 2: 3 dc in each st\n", false},
		{"a ring that draws up", "ring ch 4\nrnd 1: 12 dc in ring\n", false},
		{"a wide ring", "ring ch 6\nrnd 1: 12 dc in ring\n", true},
		{"solid border", border + "rnd 1: [sc in each st and ch, (sc, corner ch 1, sc) in corner] 4 times\n", false},
		{"border with picots", border + "rnd 1: [sc in next st, picot 3] around\n", true},
		{"border with loops", border + "rnd 1: [sc in next st, ch 4, sk 1 st] around\n", true},
	} {
		got := sheet(t, "for infant\n"+test.text).Cautions
		if slices.Contains(got, size.Openwork) != test.want {
			t.Errorf("%s: %v", test.name, got)
		}
		for _, who := range []string{"", "for child\n", "for adult\n"} {
			if slices.Contains(sheet(t, who+test.text).Cautions, size.Openwork) {
				t.Errorf("%s: openwork matters %s", test.name, who)
			}
		}
	}
}
