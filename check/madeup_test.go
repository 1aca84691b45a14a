package check

import (
	"regexp"
	"slices"
	"testing"
)

func TestBorderScant(t *testing.T) {
	const square = "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-4: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
	const bag = square + "panel bag 1 by 1\nedge of panel\n"
	tests := []struct {
		name, text string
		want       []string
	}{
		{"as many", bag + "rnd 1: sc in each st and ch\n", nil},
		{"a tenth less", bag + "rnd 1: [sc in next 13 st, sc2tog, sk 1 sp] around\n", nil},
		{"loops", bag + "rnd 1: [sc in next st, ch 5, sk 2 st] 5 times, [sc in next st, ch 5, sk 2 st] 5 times\n", nil},
		{"half", bag + "rnd 1: [sc in next st, sk 1 st] 7 times, sc in next st, [sc in next st, sk 1 st] 7 times, sc in next st\n", []string{"7 border-scant"}},
		{"half of it, above", bag + "rnd 1: sc in each st and ch\nrnd 2: [sc2tog] around\nrnd 3: sc in each st\n", []string{"8 border-scant"}},
		{"meant", bag + "allow border-scant \"gathered\"\nrnd 1: [sc2tog] around\n", nil},
		{"spaces only", square + "panel tube 1 by 1\nedge of panel\nrnd 1: [sc in next 3 st, sk 2 st] 3 times, sk sp\n", []string{"7 border-scant"}},
		{"corners of a flat piece", square + "panel 1 by 2\nedge of panel\nrnd 1-3: [sc in each st, (sc, corner ch 2, sc) in corner] 4 times\n", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			found := source(t, test.text, Options{}).Findings
			wantPlaces(t, "findings", slices.DeleteFunc(found, func(f Finding) bool { return f.Rule == "allow-unused" }), test.want)
		})
	}
	r := source(t, bag+"rnd 1: sc in each st and ch\nrnd 2: [sc2tog] around\n", Options{})
	const want = "round 2 has 17 stitches and chains, on an edge of 34: the border draws it in to about 50 % of its length; with about 34 it would lie as it is; work into each stitch and chain of the edge, or allow it where it is meant"
	if len(r.Findings) != 1 || r.Findings[0].Message != want || r.Findings[0].Edge != "panel" {
		t.Errorf("%+v\nwant %s", r.Findings, want)
	}
}

func TestNeckSmall(t *testing.T) {
	const gauge = "gauge 14 dc by 7 rnds over 10 cm\n"
	motif := func(rounds string) string {
		return "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-" + rounds + ": [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
	}
	tests := []struct {
		name, text, want string // the severity and the message
	}{
		{"too small", "for adult\n" + gauge + motif("12") + "panel wrap, neck 20 st\n", `^warning the neck is 28\.5 cm .* does not pass over the smallest head of those it is for, 53 cm \(woman\); leave more of the seam open: neck 38 st$`},
		{"as it says", "for adult\n" + gauge + motif("12") + "panel wrap, neck 38 st\n", ""},
		{"large enough within the band", "for adult\n" + gauge + motif("12") + "panel wrap, neck 36 st\n", `^info the neck is .* may not pass .* neck 38 st$`},
		{"large enough for an infant", "for infant\n" + gauge + motif("12") + "panel wrap, neck 26 st\n", ""},
		{"nobody is named", gauge + motif("12") + "panel wrap, neck 20 st\n", ""},
		{"no gauge", "for adult\n" + motif("12") + "panel wrap, neck 20 st\n", ""},
		{"the motifs are small", "for adult\n" + gauge + motif("3") + "panel wrap, neck 10 st\n", `^warning .*; make the motifs larger$`},
		{"its border draws it in", "for adult\n" + gauge + motif("12") + "panel wrap, neck 44 st\nedge of neck\nallow border-scant \"gathered\"\nrnd 1: [sc2tog] around\n", `^warning .*; work more stitches in its border$`},
		{"its border, too", "for adult\n" + gauge + motif("12") + "panel wrap, neck 20 st\nedge of neck\nallow border-scant \"gathered\"\nrnd 1: [sc2tog] around\n", `^warning .*; work more stitches in its border, and leave more of the seam open: neck 38 st$`},
		{"on the point", "for adult\n" + gauge + motif("3") + "panel wrap on point\n", `^warning .*; make the motifs larger$`},
		{"on the point, large", "for adult\n" + gauge + motif("16") + "panel wrap on point\n", ""},
		{"no wrap", "for adult\n" + gauge + motif("3") + "panel 2 by 2\n", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := ""
			for _, f := range source(t, test.text, Options{}).Findings {
				if f.Rule != "neck-small" {
					t.Errorf("%s: %s", f.Rule, f.Message)
					continue
				}
				got += f.Severity.String() + " " + f.Message
			}
			if test.want == "" && got != "" || !regexp.MustCompile(test.want).MatchString(got) {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}
