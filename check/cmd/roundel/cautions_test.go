package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/roundel/size"
)

// TestCautions: whatever a piece is and whoever it is for, every page that tells
// of it has the cautions that apply, in either terms, and no other.
func TestCautions(t *testing.T) {
	const (
		square = "shape square\nring\nrnd 1: [(2 STITCH, corner ch 2) in ring] 4 times\nrnd 2: [STITCH in each st, (2 STITCH, corner STITCH, 2 STITCH) in corner] 4 times\n"
		round  = "ring\nrnd 1: 12 STITCH in ring\nrnd 2: 2 STITCH in each st\n"
		gauge  = "gauge 14 STITCH by 7 rnds over 10 cm\n"
	)
	things := []struct {
		name, text    string
		garment, open bool
	}{
		{"mat", round, false, false},
		{"mat at a gauge", gauge + round, false, false},
		{"lace mat", gauge + round + "rnd 3: [STITCH in next st, ch 2, sk 1 st] around\n", false, true},
		{"hat", "lies cupped\n" + gauge + round + "rnd 3-9: STITCH in each st\n", false, false},
		{"hat without a gauge", "lies cupped\n" + round + "rnd 3-9: STITCH in each st\n", false, false},
		{"hat that is not said to be cupped", gauge + round + "rnd 3-9: STITCH in each st\n", false, false},
		{"ball", "lies cupped\n" + gauge + round + "rnd 3-5: STITCH in each st\nrnd 6: [STITCH2tog] around\n", false, false},
		{"blanket", square + "panel 4 by 5\n", false, false},
		{"blanket with picots", gauge + square + "panel 4 by 5\nedge of panel\nrnd 1: [STITCH in next st, picot 3] around\n", false, true},
		{"tube", gauge + square + "panel tube 2 by 4\n", false, false},
		{"cushion", square + "panel cushion 2 by 2\n", false, false},
		{"bag", gauge + square + "panel bag 2 by 2\n", false, false},
		{"wrap", square + "panel wrap, neck 2 st\n", true, false},
		{"wrap with a lace neck", gauge + square + "panel wrap, neck 2 st\nedge of neck\nrnd 1: [STITCH in next st, ch 3] around\n", true, true},
		{"wrap on point", gauge + square + "panel wrap on point\n", true, false},
	}
	all := []size.Caution{size.CordsAtNeck, size.Openwork, size.InfantSleep, size.SmallParts}
	dir := t.TempDir()
	for _, thing := range things {
		for _, who := range []string{"", "for adult\n", "for child\n", "for infant\n"} {
			var want []size.Caution
			if who == "for infant\n" || who == "for child\n" || who == "" && thing.garment {
				want = append(want, size.CordsAtNeck)
			}
			if who == "for infant\n" && thing.open {
				want = append(want, size.Openwork)
			}
			if who == "for infant\n" {
				want = append(want, size.InfantSleep, size.SmallParts)
			}
			for terms, stitch := range map[string]string{"terms us\n": "dc", "terms uk\n": "tr"} {
				pages := []string{"size", "write", "write -terms us", "write -terms uk -format txt"}
				if stitch == "dc" {
					pages = []string{"size -units in -motifs 9", "size -format json", "write -format txt", "write -terms both"}
				}
				file := filepath.Join(dir, "draft.rnd")
				if err := os.WriteFile(file, []byte(terms+who+strings.ReplaceAll(thing.text, "STITCH", stitch)), 0o666); err != nil {
					t.Fatal(err)
				}
				for _, args := range pages {
					got := call(t, "", append(strings.Fields(args), file)...)
					text := strings.Join(strings.Fields(got.out), " ")
					if args == "size -format json" {
						var page struct{ Cautions []string }
						if err := json.Unmarshal([]byte(got.out), &page); err != nil {
							t.Fatal(err)
						}
						text = strings.Join(page.Cautions, " ")
					}
					times := 1
					if args == "write -terms both" {
						times = 2
					}
					for _, c := range all {
						n := strings.Count(text, c.Text())
						if slices.Contains(want, c) && n != times || !slices.Contains(want, c) && n != 0 {
							t.Errorf("%s, %q, %q, roundel %s: %d times %q in\n%s%s", thing.name, who, terms, args, n, c.Text(), got.out, got.err)
						}
					}
				}
			}
		}
	}
	for _, c := range all {
		if !strings.HasSuffix(c.Text(), "Local regulations decide.") {
			t.Errorf("caution %d says %q", c, c.Text())
		}
	}
}
