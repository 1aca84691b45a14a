package check

import (
	"bytes"
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"example.com/roundel/size"
)

// sheetOf checks a draft and measures it.
func sheetOf(t *testing.T, name, text string, opts ...size.Option) (*Report, *size.Sheet) {
	t.Helper()
	r, err := Source(t.Context(), name, text, Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := size.NewSheet(t.Context(), r.Draft, r.Graph, opts...)
	if err != nil {
		t.Fatal(err)
	}
	return r, s
}

func target(t *testing.T, text string) size.Option {
	t.Helper()
	to, err := size.ParseTarget(text)
	if err != nil {
		t.Fatal(err)
	}
	return size.WithTarget(to)
}

// gradient has a yarn that changes its colour, a swatch, and infants to look
// out for.
const gradient = `motif "Dusk mat"
for infant
shape circle
yarn dusk "evening", 400 m per 100 g, stretch 12 m "rose" colour "#d88f9a", stretch 8 m
gauge 14 dc over 10 cm
weighed rnds 1-2 = 1.8 g
ring
rnd 1: 12 dc in ring
rnd 2: 2 dc in each st
rnd 3: [dc in next st, ch 2, sk 1 st] around
`

// until goes on to a size, and has an edging behind it.
const until = `motif "Spindrift square"
shape square
gauge 14 dc by 8 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc, 4 corners
rnd 2 until side 20 cm: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
rnd next: [sc in each st, (sc, corner ch 1, sc) in corner] 4 times
`

// hat goes straight on behind its crown.
const hat = `motif "Buoy hat"
lies cupped
gauge 13 hdc over 10 cm
ring
rnd 1: 8 hdc in ring
rnd 2: 2 hdc in each st
rnd 3: [hdc in next st, 2 hdc in next st] around
rnd 4: [hdc in next 2 st, 2 hdc in next st] around
rnd 5: [hdc in next 3 st, 2 hdc in next st] around
rnd 6: [hdc in next 4 st, 2 hdc in next st] around
rnd 7-16: hdc in each st
`

func TestWriteSheet(t *testing.T) {
	read := func(name string) string {
		text, err := os.ReadFile("../examples/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	for _, test := range []struct {
		golden, name, text string
		m                  Units
		opts               []size.Option
	}{
		{"size-tideline.txt", "tideline.rnd", read("tideline.rnd"), Metric, []size.Option{target(t, "45 cm")}},
		{"size-tidepool.txt", "tidepool.rnd", read("tidepool.rnd"), Units{}, nil}, // the same as Metric
		{"size-spindrift.txt", "spindrift.rnd", read("spindrift.rnd"), Metric, nil},
		{"size-spindrift-in.txt", "spindrift.rnd", read("spindrift.rnd"), Inches, nil},
		{"size-harbour.txt", "harbour.rnd", read("harbour.rnd"), Inches, []size.Option{target(t, "12 in")}},
		{"size-buoy.txt", "buoy.rnd", read("buoy.rnd"), Metric, nil},
		{"size-spindrift.txt", "spindrift.rnd", read("spindrift.rnd"), Metric, nil},
		{"size-tidepool.txt", "tidepool.rnd", read("tidepool.rnd"), Metric, nil},
		{"size-buoy-gauge.txt", "buoy.rnd", strings.Replace(read("buoy.rnd"), "hook 4 mm", "gauge 18 dc over 10 cm", 1), Metric, []size.Option{target(t, "side 6 cm"), size.WithMotifs(12)}},
		{"size-gradient.txt", "dusk.rnd", gradient, Metric, []size.Option{size.WithMotifs(3), size.WithMargin(0.2)}},
		{"size-until.txt", "until.rnd", until, Metric, []size.Option{target(t, "30 cm")}},
		{"size-hat.txt", "hat.rnd", hat, Metric, []size.Option{target(t, "25 cm")}},
		{"size-fault.txt", "fault.rnd", "gauge 14 dc over 10 cm\nring\nrnd 1: 12 dc in ring\nrnd 2: dc in\n", Metric, nil},
		{"size-nothing.txt", "nothing.rnd", "", Metric, nil},
	} {
		r, s := sheetOf(t, test.name, test.text, test.opts...)
		var b bytes.Buffer
		if err := WriteSheet(&b, r, s, test.m); err != nil {
			t.Fatal(err)
		}
		golden(t, test.golden, b.String())

		var j bytes.Buffer
		if err := WriteSheetJSON(&j, s, test.m); err != nil {
			t.Fatal(err)
		}
		var back jsonSheet
		if err := json.Unmarshal(j.Bytes(), &back); err != nil {
			t.Fatal(err)
		}
		if len(back.Rounds) != len(s.Rounds) || len(back.Yarns) != len(s.Yarns) || back.Ends != s.Ends || (back.Target != nil) != (s.Fit != nil) || len(back.Cautions) != len(s.Cautions) {
			t.Errorf("%s: JSON\n%s", test.name, j.String())
		}
		if test.golden == "size-tideline.txt" || test.golden == "size-gradient.txt" || test.golden == "size-hat.txt" || test.golden == "size-spindrift.txt" {
			golden(t, strings.TrimSuffix(test.golden, ".txt")+".json", j.String())
		}
	}
}

// A label with controls in it must not draw on the terminal.
func TestWriteSheetAwkward(t *testing.T) {
	r, s := sheetOf(t, "", "motif \"Tide\u202Eline\"\nyarn sand \"o\u200Fat\", stretch 1 m \"r\u200Eose\"\ngauge 14 dc over 10 cm\nring\nrnd 1: 12 dc in ring\n")
	var b bytes.Buffer
	if err := WriteSheet(&b, r, s, Metric); err != nil {
		t.Fatal(err)
	}
	if strings.ContainsAny(b.String(), "\u202E\u200F\u200E") {
		t.Errorf("%q", b.String())
	}
}

// TestSheetWords holds single lines of the page to what is true of the draft.
func TestSheetWords(t *testing.T) {
	const motif = "shape square\nring\nrnd 1: [(3 dc, corner ch 2) in ring] 4 times\nrnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
	const uk = "terms uk\nshape square\nring\nrnd 1: [(3 tr, corner ch 2) in ring] 4 times\n"
	const gauge = "gauge 14 dc by 7 rnds over 10 cm\n"
	const border = "edge of panel\nrnd 1: [sc in each st and ch] around\n"
	for _, test := range []struct {
		name, text string
		opts       []size.Option
		m          Units
		want, not  []string
	}{
		{"one motif", gauge + motif + "panel 1 by 1\n", nil, Metric, []string{"\nPanel: 1 motif, nothing to join\n"}, []string{"1 motifs", "seams"}},
		{"gauge to the letter", "gauge 3 dc by 1.1 rnds over 2.13 cm\nring\nrnd 1: 12 dc in ring\n", nil, Metric, []string{"Gauge          3 dc by 1.1 rounds over 2.13 cm\n"}, nil},
		{"UK", uk + "panel 2 by 2 joined sl st\n", nil, Metric, []string{"joined with ss\n"}, []string{"sl st"}},
		{"no gauge", motif + "panel 2 by 2\n", nil, Metric, []string{"Panel: 4 motifs, 2 by 2, joined with whip stitch\n", "4 of 7 places (stitches and single chains)\n"}, []string{" each"}},
		{"bag", gauge + motif + "panel bag 2 by 2\n" + border, nil, Metric, []string{"stitches and chains; to lie flat it needs about"}, []string{"square corners"}},
		{"target without a gauge", motif, []size.Option{target(t, "45 cm")}, Metric, []string{"To be 45 cm across\n  not worked out: that needs a gauge line\n"}, nil},
		{"no side", gauge + "ring\nrnd 1: 12 dc in ring\n", []size.Option{target(t, "side 45 cm")}, Metric, []string{"not worked out: the motif has no corners"}, nil},
		{"hook too far", "hook 4 mm\n" + gauge + motif, []size.Option{target(t, "45 cm")}, Metric, []string{"hook    out of reach"}, []string{"comes to"}},
		{"hat", hat, nil, Metric, []string{"37 cm (33.5 to 40.5) round the edge\n", " across there, held round\n", " deep, from the centre to the edge along the fabric\n"}, []string{"widest", "drawn together", "side"}},
		{"hat with a brim", hat + "rnd 17: [hdc in next 4 st, hdc2tog] around\n", nil, Metric, []string{"37 cm (33.5 to 40.5) round where it is widest, rnd 7-16\n", "31 cm (28 to 34) round the edge\n"}, []string{"drawn together"}},
		{"ball", hat + "rnd 17-18: [hdc2tog] around\nrnd 19: [hdc2tog] around\n", nil, Metric, []string{"round where it is widest, rnd 7-16\n", "round the edge, which is drawn together\n"}, nil},
		{"box", "lies cupped\n" + gauge + motif + "rnd 3-5: [dc in each st, corner dc in corner] 4 times\n", nil, Metric, []string{" round the edge\n", " along a side of the edge\n"}, []string{"held round", "from side to side"}},
		{"crown as wide as asked for", "lies cupped\ngauge 13 hdc by 9 rnds over 10 cm\nring\nrnd 1: 8 hdc in ring\nrnd 2 until across 7 cm: [hdc in next st, 2 hdc in next st] around\nrnd next 9: hdc in each st\n", nil, Metric, []string{"; laid flat\n"}, nil},
		{"too large for any yarn", gauge + motif, []size.Option{target(t, "45 cm")}, Metric, []string{"gauge   out of reach with the rounds unchanged: stitches would have to be 7 times as large\n"}, nil},
		{"too small for any yarn", gauge + motif, []size.Option{target(t, "5 mm")}, Metric, []string{"stitches would have to be 12 times as small\n"}, nil},
		{"a gauge and no round", gauge + "ring\nrnd 1: dc in next st\n", nil, Metric, []string{"Finished size  not known: no round comes out as written\n"}, []string{"without a gauge"}},
		{"a gauge of a round that is not there", "gauge rnds 1-9 = 10 cm across\nring\nrnd 1: 12 dc in ring\n", nil, Metric, []string{"Finished size  not known: the gauge line says nothing"}, []string{"without a gauge"}},
		{"a label like the name", "yarn sand \"Sand\"\n" + gauge + "ring\nrnd 1: 12 dc in ring\n", nil, Metric, []string{"\n  sand  "}, []string{"Sand"}},
		{"rounds that add nothing", gauge + "ring\nrnd 1: 12 dc in ring\nrnd 2: sl st in each st\nrnd 3: [sl st in next st of rnd 1] around\n", []size.Option{target(t, "10 cm")}, Metric, []string{"as it is"}, []string{"fewer"}},
		{"light", "yarn sand, 400 m per 100 g\n" + gauge + "ring\nrnd 1: 12 dc in ring\n", nil, Inches, []string{" oz ("}, []string{" 0 oz", "(0 to"}},
	} {
		r, s := sheetOf(t, test.name, test.text, test.opts...)
		var b bytes.Buffer
		if err := WriteSheet(&b, r, s, test.m); err != nil {
			t.Fatal(err)
		}
		for _, want := range test.want {
			if !strings.Contains(b.String(), want) {
				t.Errorf("%s: no %q in\n%s", test.name, want, b.String())
			}
		}
		for _, not := range test.not {
			if strings.Contains(b.String(), not) {
				t.Errorf("%s: %q in\n%s", test.name, not, b.String())
			}
		}
	}
}

// TestSheetExtremes: the page of the smallest piece there is and that of an order
// of many thousands have figures that can be read: none is nothing, below
// nothing, or written with an exponent.
func TestSheetExtremes(t *testing.T) {
	absurd := regexp.MustCompile(`NaN|Inf|\de[+-]?\d|-\d+(\.\d+)? (mm|cm|in|m|yd|g|oz)|\b0 (mm|cm|in|m|yd|g|oz)\b|\(0 to|\d\.\d{5,}|-0\b`)
	const (
		yarn   = "yarn sand, 200 m per 50 g, stretch 1 cm, stretch 1000000 m\n"
		one    = "ring\nrnd 1: 1 sc in ring\n"
		square = "shape square\nring\nrnd 1: [2 sc in ring, corner ch 1] 4 times\n"
		border = "edge of panel\nrnd 1: [sc in each st and ch] around\n"
	)
	for _, header := range []string{
		"gauge 70 sc over 10 cm\nhook 0.6 mm\n", // thread
		"gauge 70 sc by 70 rnds over 4.01 in\n" + yarn + "weighed rnds 1-1 = 0.1 g\n",
		"gauge 3.5 sc by 4 rnds over 10.16 cm\nhook 0.984 in\n" + yarn,
		"gauge 1000000 sc by 1000000 rnds over 1000000 cm\nhook 1000000 m\n" + yarn,
		"gauge rnds 1-1 = 1 mm across\n",
		"gauge rnds 1-1 = 1000000 m across\n" + yarn,
	} {
		for _, body := range []string{one, "lies cupped\n" + one, square, square + "panel 1 by 1\n" + border, square + "panel bag 2 by 2 joined sc\n" + border, square + "panel 200 by 200\n"} {
			for _, opts := range [][]size.Option{nil, {size.WithMotifs(size.MostMotifs)}, {size.WithMargin(1), target(t, "1 mm")}, {size.WithMargin(0), target(t, "100 m")}} {
				for _, m := range []Units{Metric, Inches} {
					r, s := sheetOf(t, "", header+body, opts...)
					var b bytes.Buffer
					if err := WriteSheet(&b, r, s, m); err != nil {
						t.Fatal(err)
					}
					if bad := absurd.FindString(b.String()); bad != "" {
						t.Errorf("%q in the page of\n%s%s%s", bad, header, body, b.String())
					}
				}
			}
		}
	}
}
