package size

import (
	"math"
	"testing"

	"example.com/roundel/model"
)

// TestFan works out the lobes that can be worked out by hand.
func TestFan(t *testing.T) {
	d := DefaultDimensions()
	for h := model.Slip; h <= model.TripleTreble; h++ {
		f := newFan(hand{stitches: 1, width: d.Width[h], height: d.Height[h]})
		if f.chord != d.Width[h] || f.rise != d.Height[h] || f.highest != d.Height[h] || len(f.tops) != 1 || f.tops[0] != float32(d.Height[h]) {
			t.Errorf("one stitch of height %g: %+v", d.Height[h], f)
		}
	}

	// Three dc in one place: in the top of a stitch or a gap, which give them
	// no base, and in spaces of one and of two chains. The figures are those
	// that the form was fitted to.
	for _, test := range []struct{ chains, narrower, lower float64 }{
		{0, 0.096, 0.282},
		{1, 0.056, 0.218},
	} {
		b := 0.8 * d.Chain * test.chains
		f := newFan(hand{stitches: 3, width: 3, height: d.Height[model.Double], bend: b})
		if got := 1 - f.chord/3; math.Abs(got-test.narrower) > 0.001 || math.Round(100*got) < 6 || math.Round(100*got) > 10 {
			t.Errorf("three dc over %g chains take %.3f less room than in a row, want %.3f", test.chains, got, test.narrower)
		}
		if got := 1 - f.rise/d.Height[model.Double]; math.Abs(got-test.lower) > 0.001 || math.Round(100*got) < 22 || math.Round(100*got) > 28 {
			t.Errorf("the shoulder of three dc over %g chains is %.3f lower, want %.3f", test.chains, got, test.lower)
		}
		if f.tops[0] != f.tops[2] || !(f.tops[1] > f.tops[0]) || math.Abs(float64(f.tops[1])-d.Height[model.Double]) > 1e-6 {
			t.Errorf("tops %v: the middle one stands %g high, the others alike and lower", f.tops, d.Height[model.Double])
		}
	}

	// So many in one place that they open as far as they can: a half circle of
	// stitches, and what is left over lies in folds.
	f := newFan(hand{stitches: 12, width: 12, height: 2})
	if math.Abs(f.chord-(2*2+12-2*math.Pi)) > 1e-9 || math.Abs(f.rise) > 1e-9 {
		t.Errorf("twelve in one place: chord %g, rise %g", f.chord, f.rise)
	}
	// A base as wide as the stitches: they stand side by side.
	if f := newFan(hand{stitches: 3, width: 3, height: 2, bend: 3}); f.chord != 3 || f.rise != 2 {
		t.Errorf("three on a base of three: %+v", f)
	}
}
