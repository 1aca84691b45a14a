package size_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// sameAsWhole sees that nothing comes of working out a part of a round only:
// sums of the same figures, once taken one by one and once multiplied, are the
// same but for rounding.
func sameAsWhole(t reporter, name string, g *model.Graph, d size.Dimensions) {
	t.Helper()
	if diff := differences(size.ShapeWhole(g, d), size.Shape(g, d), cmpopts.EquateApprox(1e-5, 1e-5)); diff != "" {
		t.Fatalf("%s, whole and in part:\n%s", name, diff)
	}
}

// TestDraftsInPart compares the two on every draft there is.
func TestDraftsInPart(t *testing.T) {
	drafts, repeating := 0, 0
	for _, dir := range []string{"../testdata", "../examples"} {
		err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".rnd" {
				return err
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			draft, _ := notation.Parse(path, string(text))
			g, _, err := model.Build(t.Context(), draft)
			sameAsWhole(t, path, g, size.GaugeOf(g, draft.Gauge()).Dimensions)
			drafts++
			for _, r := range g.Rounds() {
				if r.Rotation() > 1 {
					repeating++
					break
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if drafts < 50 || repeating < drafts/2 {
		t.Errorf("of %d drafts %d have rounds that repeat themselves", drafts, repeating)
	}
}

// TestInPart compares the two on drafts drawn by chance.
func TestInPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawMotif(t)
		if rapid.Bool().Draw(t, "wild") {
			text = drawWild(t)
		}
		draft, _ := notation.Parse("", text)
		g, _, err := model.Build(t.Context(), draft, model.WithLimits(model.Limits{Stitches: 20_000, Rounds: 100}))
		if err != nil {
			t.Fatal(err)
		}
		d := size.DefaultDimensions()
		if rapid.Bool().Draw(t, "odd") {
			d = drawDimensions(t)
		}
		sameAsWhole(t, text, g, d)
	})
}

// TestInPartByHand has rounds with groups at the seam between two parts, and
// rounds that stand on parts of another length.
func TestInPartByHand(t *testing.T) {
	for _, text := range []string{
		// Groups next to the seam, and all in one place of a ring.
		"ring ch 6\nrnd 1: 6 dc in next sp\nrnd 2: 2 dc in each st\n",
		"ring\nrnd 1: 8 dc in ring\nrnd 2: [dc in next st, 2 dc in next st, dc in same] 4 times\n",
		"ring\nrnd 1: [dc in ring, ch 3] 6 times\nrnd 2: 2 dc in next sp, [ch 1, 2 dc in same, 2 dc in next sp] 5 times, ch 1, 2 dc in same\nrnd 3: sc in each st and ch\n",
		"ring ch 6\nrnd 1: 2 dc in next ch, [2 dc in next ch] 5 times\nrnd 2: dc in each gap\n",
		// Twelve, then six, then four, then one.
		"ring\nrnd 1: 12 dc in ring\nrnd 2: [dc in next st, 2 dc in next st] around\nrnd 3: [dc in next 4 st, (dc, ch 2, dc) in next st, picot 3, dc in next 4 st] around\nrnd 4: 40 sc in next sp, sc in each st\nrnd 5: sc in each st\n",
		// Turned, in spaces of a round further down, and closed over two.
		"ring\nrnd 1: [2 dc in ring, ch 2] 6 times\nrnd 2: turn, [sc in next st, ch 1, sc in next st, sk sp] around\nrnd 3: turn, [dc in next sp, 3 tr in next sp of rnd 1] around\nrnd 4: [dc2tog over next 2 st] around\n",
	} {
		draft := read(t, text)
		g, _, err := model.Build(t.Context(), draft)
		if err != nil {
			t.Fatal(err)
		}
		sameAsWhole(t, text, g, size.DefaultDimensions())
	}
}
