package pattern_test

import (
	"strings"
	"testing"

	"example.com/roundel/notation"
	"example.com/roundel/size/pattern"
)

// square has 7 dc on each side, and spaces or stitches at its corners.
const (
	square   = "begin chainless\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
	stitched = square + "rnd 3: [sc in each st, (corner sc) in corner] 4 times\n"
)

// TestMakingUp: what is said of a panel fits it: its faces, its one motif, its
// two edges, its corners.
func TestMakingUp(t *testing.T) {
	const twice = "edge of panel\nrnd 1: sc in each st and ch\n"
	const once = "edge of panel\nrnd 1: [sc in each st, sc in next sp, ch 3] around\n"
	for _, test := range []struct {
		draft string
		want  []string
		not   []string
	}{
		{square + "panel cushion 2 by 2\n" + twice, []string{
			"8 seams within the faces, of 7 places.", "8 seams between the faces, of 7 places.",
			"**Seams within a face:** Sew in whip stitch: hold the motifs RS together",
			"**Seam that joins the faces:** Sew in whip stitch: with the faces WS together",
			"56 sts and 8 ch sps, 4 of them corners.", "The corner ch are not among them", "through the corner ch of both sides as well",
		}, []string{"are numbered"}},
		{square + "panel cushion 1 by 1 joined mattress\n", []string{
			"Each motif is a face. Lay the 2 faces WS together and join them all round", "**Seam that joins the faces:** Sew in mattress stitch: with the faces WS together take the needle from outside",
			"one face after the other, each seen with its RS facing",
		}, []string{"Seams within a face", "1 row of 1"}},
		{square + "panel bag 1 by 2 joined mattress\n", []string{
			"**Seams within a face:** Sew in mattress stitch: RS up", "**Seam that joins the faces:** Sew in mattress stitch: with the faces WS together",
		}, nil},
		{square + "panel bag 1 by 2 joined sl st\n", []string{"Join in sl st: with the faces WS together"}, nil},
		{square + "panel 1 by 1\n" + twice, []string{"Make 1.", "Block the motif: ", "28 sts and 4 ch sps, all of them corners."}, []string{"join them", "places", "numbered", "Sew in", "alike"}},
		{square + "panel tube 1 by 1\n", []string{"Join the right side of the motif to its left side", "right of the motif to left of the motif, 7 places"}, []string{"1 row of 1", "numbered"}},
		{square + "panel tube 2 by 3\n" + twice, []string{"## Border of both edges", "each of the two edges, the lower and the upper."}, []string{"## Border of the lower", "## Border of the upper", "corners."}},
		{square + "panel 3 by 4\n", []string{"17 seams of 7 places."}, []string{"numbered"}},
		{stitched + "panel 2 by 2\n" + twice, []string{"64 sts, 4 of them corners.", "The corner sts are not among them"}, nil},
		{square + "panel wrap on point\n" + once, []string{"42 sts and 6 ch sps, 2 of them corners."}, nil},
	} {
		d, g, _ := built(t, test.draft)
		text := markdown(t, written(t, d, g, notation.US))
		for _, want := range test.want {
			if !strings.Contains(text, want) {
				t.Errorf("no %q in:\n%s", want, text)
			}
		}
		_, making, _ := strings.Cut(text, "## Motif")
		making, _, _ = strings.Cut(making, "## Finishing")
		for _, not := range test.not {
			if strings.Contains(making, not) {
				t.Errorf("%q in:\n%s", not, making)
			}
		}
	}
}

// TestEdgesOfTube: where the edges of a tube are written one by one they are
// told apart, and a motif that they are counted from is numbered.
func TestEdgesOfTube(t *testing.T) {
	d, g, findings := built(t, square+"panel tube 3 by 3\nedge of panel\nrnd 1: sk 3 st, sc in next 18 st\n")
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	p := written(t, d, g, notation.US)
	for _, heading := range []string{"Border of the lower edge", "Border of the upper edge"} {
		if e := section(p, heading); len(e) == 0 || !strings.Contains(e[0].Text, "of motif") {
			t.Errorf("%s: %v", heading, e)
		}
	}
	if !says(section(p, "Making up"), "The motifs are numbered from the left, row by row from the bottom.") {
		t.Error("nobody says how motifs are numbered")
	}
}

func says(entries []pattern.Entry, text string) bool {
	for _, e := range entries {
		if strings.Contains(e.Text, text) {
			return true
		}
	}
	return false
}
