package check

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/roundel/notation"
)

// TestShapeRules has, for each rule about shape, what it says and where.
func TestShapeRules(t *testing.T) {
	const square = "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\n"
	const corner = "(2 dc, corner ch 2, 2 dc) in corner"
	const unmarked = "ring\nrnd 1: 12 dc in ring\nrnd 2: [dc in next 2 st, 5 dc in next st] 4 times\nrnd 3: [dc in next 4 st, 5 dc in next st, dc in next 2 st] 4 times\n" +
		"rnd 4: [dc in next 6 st, 5 dc in next st, dc in next 4 st] 4 times\nrnd 5: [dc in next 8 st, 5 dc in next st, dc in next 6 st] 4 times\n"
	tests := []struct {
		name, text string
		want       []string // of "line severity rule: message"
	}{
		{"a tube", "ring\nrnd 1: 12 dc in ring\nrnd 2-3: dc in each st\n",
			[]string{`^3 warning growth-cup: round 2 is about 51 % too short .* will cup; it has about 13 dc too few: 23 to 28 would lie flat \(taking dc as 1\.95 .*\); work more increases, or write lies cupped`}},
		{"the same, meant", "lies cupped\nring\nrnd 1: 12 dc in ring\nrnd 2-3: dc in each st\n", nil},
		{"the same, of no outline", "shape free\nring\nrnd 1: 12 dc in ring\nrnd 2-3: dc in each st\n", nil},
		{"a bowl that is flat", "lies cupped\nring\nrnd 1: 12 sc in ring\nrnd 2: [sc in next st, 2 sc in next st] around\nrnd 3: [sc in next 2 st, 2 sc in next st] around\n",
			[]string{`^5 warning growth-cup: the draft says it lies cupped, but no round up to round 3 is too short for lying flat, so it comes out flat; work fewer increases, or leave the lies line out`}},
		{"a bowl that ruffles", "lies cupped\nring\nrnd 1: 16 dc in ring\nrnd 2: 3 dc in each st\n",
			[]string{`^4 warning growth-cup: .* so it comes out ruffled; work fewer increases, or write lies ruffled`}},
		{"a ruffle", "ring\nrnd 1: 16 dc in ring\nrnd 2: 3 dc in each st\n",
			[]string{`^3 warning growth-ruffle: round 2 is about .* too long .* will ruffle; it has about 2\d dc too many: .*; work fewer increases, or write lies ruffled`}},
		{"the same, meant", "lies ruffled\nring\nrnd 1: 16 dc in ring\nrnd 2: 3 dc in each st\n", nil},
		{"a ruffle that is flat", "lies ruffled\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n",
			[]string{`^4 warning growth-ruffle: the draft says it lies ruffled, but .* comes out flat; work more increases, or leave the lies line out`}},
		{"within the give of the stitches", "ring\nrnd 1: 14 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\nrnd 4: [dc in next 2 st, 2 dc in next st] around\nrnd 5: [dc in next 3 st, 2 dc in next st] around\n",
			[]string{`^6 info growth-ruffle: .* may ruffle a little until it is blocked; it has about 7 dc too many: 56 to 67 would lie flat \(taking dc as 1\.95`}},
		{"in the terms of the draft", "terms uk\nring\nrnd 1: 12 tr in ring\nrnd 2: tr in each st\n",
			[]string{`^4 warning growth-cup: .* 13 tr too few.*taking tr as`}},
		{"by the maker's gauge", "gauge 14 dc by 14 rnds over 10 cm\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\nrnd 4: [dc in next 2 st, 2 dc in next st] around\n",
			[]string{`^5 warning growth-ruffle: .*\(taking dc as 1\.07 times as tall as wide, within the gauge given\)`}},
		{"from where it begins", "ring\nrnd 1: 16 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\n",
			[]string{`^4 warning growth-ruffle: round 3 is .* 9 dc too many: 34 to 42 would lie flat; it begins in round 2, where 25 to 28 would \(`}},
		{"chains with it", "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3-4: [dc in next st, ch 1] around\nrnd 5-6: [dc in next st, ch 1] around\n",
			[]string{`^5 warning growth-cup: .* would lie flat, with chains in proportion`}},
		{"full at first, then a tube", "ring\nrnd 1: 12 sc in ring\nrnd 2: 2 sc in each st\nrnd 3-12: sc in each st\n",
			[]string{`^4 warning growth-cup`}},
		{"a ruffle that cups first, meant", "lies ruffled\nring\nrnd 1: 12 sc in ring\nrnd 2-8: sc in each st\nrnd 9: 2 sc in each st\nrnd 10-11: [sc in next st, 2 sc in next st] around\n", nil},
		{"a bowl that might cup a little and ruffles", "lies cupped\nring\nrnd 1: 9 hdc in ring\nrnd 2: [hdc in next 2 st, 2 hdc in next st] around\nrnd 3: 3 hdc in each st\nrnd 4: 2 hdc in each st\n",
			[]string{`^6 warning growth-cup: the draft says it lies cupped, .* it comes out ruffled`}},
		{"a square without marks", "shape square\n" + unmarked,
			[]string{`^7 warning corner-count: .* no round marks a corner`}},
		{"a square without shape and marks", unmarked,
			[]string{`^5 info growth-ruffle: .*; the round looks the same 4 times round: if that is a corner each time, mark it, as in corner dc, for with sharp corners it may lie flat$`}},
		{"a circle too full for a square, too", "ring\nrnd 1: 12 dc in ring\nrnd 2: [dc in next 2 st, 5 dc in next st] 4 times\nrnd 3: [2 dc in each of next 4 st, 5 dc in next st, 2 dc in each of next 2 st] 4 times\n",
			[]string{`^4 warning growth-ruffle: .* will ruffle`}},
		{"not past a round that does not work out", "ring\nrnd 1: 12 dc in ring\nrnd 2: [dc in next 5 st] around\nrnd 3: dc in each st\n", nil},

		{"five corners", "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 5 times\n",
			[]string{`^3 warning corner-count: a square has 4 corners, but round 1 marks 5$`}},
		{"no corners", "shape square\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n",
			[]string{`^4 warning corner-count: the shape is a square, but no round marks a corner; mark .*\(corner ch 2\)`}},

		{"another stitch", square + "rnd 2: [" + corner + ", dc in each st] 3 times, " + corner + ", dc in next st, hdc in next st, dc in next st\n",
			[]string{`^4 warning square-rotation: the 4 sides of round 2 are not alike: 4th after the corner, side 1 has hdc and side 2 has dc$`}},
		{"another count", square + "rnd 2: [" + corner + ", dc in each st] 3 times, " + corner + ", dc in next st, 2 dc in next st, dc in next st\n",
			[]string{`^4 warning square-rotation: .*: side 1 has 8 stitches and spaces, side 2 has 7 stitches and spaces$`}},
		{"another yarn", "yarn sand\nyarn reed\n" + square + "rnd 2: [" + corner + ", dc in each st] 3 times, " + corner + ", with reed, dc in each st\n",
			[]string{`^6 warning square-rotation: .* 3rd after the corner, side 1 has dc in reed and side 2 has dc in sand$`}},
		{"another corner", square + "rnd 2: [" + corner + ", dc in each st] 3 times, (2 dc, corner ch 3, 2 dc) in corner, dc in each st\n",
			[]string{`^4 warning square-rotation: .*: corner 1 is ch 2, corner 4 is ch 3$`}},
		{"another place", square + "rnd 2: [" + corner + ", dc in next 3 st] 3 times, " + corner + ", dc in next st, sk 1 st, 2 dc in next st\n",
			[]string{`^4 warning square-rotation: .*: they hold the same stitches, but these are worked into different places$`}},
		{"a round above only repeats it", square + "rnd 2: [" + corner + ", dc in each st] 3 times, " + corner + ", dc in next 2 st, hdc in next st\nrnd 3: [" + corner + ", dc in each st] 3 times, " + corner + ", dc in next 5 st, hdc in next st, dc in next st\n",
			[]string{`^4 warning square-rotation: .* \(the same goes for 1 more round\)$`}},
		{"a count inside", "shape square\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: [(sc, corner ch 2, sc) in next st, sc in next 2 st] 4 times\n",
			[]string{`^3 info square-rotation: round 1, inside the square, is not alike on all 4 sides: its 6 stitches do not come round in 4 equal parts \(the same goes for 1 more round\)$`}},
		{"an order inside", "shape square\nring\nrnd 1: dc in ring, tr in ring, 10 dc in ring\nrnd 2: [(2 dc, corner ch 2, 2 dc) in next st, dc in next 2 st] 4 times\n",
			[]string{`^3 info square-rotation: .*: its stitches do not repeat 4 times$`}},

		{"a lopsided corner group", square + "rnd 2: [(3 dc, corner ch 2, dc) in corner, dc in each st] 4 times\n",
			[]string{`^4 info square-mirror: round 2 does not read the same to both sides of its corners: before a corner the group has 3 st, after it 1$`}},
		{"a lopsided side", square + "rnd 2: [" + corner + ", dc in next 2 st, hdc in next st] 4 times\n",
			[]string{`^4 info square-mirror: .*: the 3rd stitch or space after a corner is dc, the 3rd before it hdc$`}},
		{"corners of two stitches", "shape hexagon\nring\nrnd 1: 6 sc in ring\nrnd 2: [(sc, corner sc) in next st] 6 times\n", nil},

		{"corners counted off", "shape square\nring\nrnd 1: [2 dc in ring, corner dc in ring, 2 dc in ring] 4 times\nrnd 2: sk 1 st, [dc in next 2 st, (2 dc, corner dc, 2 dc) in next st, dc in next 2 st] 4 times\n",
			[]string{`^4 warning corner-drift: corner 1 of round 2 stands 1 stitch or space beside the corner of round 1, so .*; work it in corner$`}},

		{"a wandering corner is told once", square + "rnd 2: dc in next 2 st, " + strings.Replace(corner, "in corner", "in next st", 1) + ", 4 dc in next sp, [dc in next 3 st, " + corner + "] 3 times\n",
			[]string{`^4 warning corner-drift: corner 1 of round 2 stands 1 stitch or space beside`}},

		{"straight past the corners", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [sc in corner, sc in each st] 4 times\nrnd 4: sc in each st\n",
			[]string{`^5 warning corner-turn: round 3 works straight past the corners of round 2, so the square is lost from there on; work about 3 sc in each, and mark the middle`, `^6 info growth-cup`}},
		{"straight past them at last", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: sc in each st and ch\n",
			[]string{`^5 info corner-turn: round 3 works straight past the corners of round 2, so the edge comes out round there`}},
		{"corners skipped", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [sc in next 7 st] 4 times\n",
			[]string{`^5 warning corner-turn`}},
		{"one corner passed", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [3 sc in corner, sc in each st] 3 times, sc in corner, sc in each st\n",
			[]string{`^5 info corner-turn: round 3 works straight past 1 of the 4 corners of round 2`}},
		{"passed over a round above", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [3 sc in corner, sc in each st] 4 times\nrnd 4: sc in each st\nrnd 5: sc in each st\n",
			[]string{`^6 warning corner-turn: round 4 works straight past the corners of round 3`}},
		{"turned without marks", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [(sc, ch 2, sc) in corner, sc in each st] 4 times\nrnd 4: [3 sc in next sp, sc in next 9 st] 4 times\n", nil},
		{"slip stitches round the edge", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: sl st in each st and ch\n", nil},
		{"lace past the corners", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [sc in next 7 st, ch 5, sk sp] 4 times\n", nil},
		{"passed over and marked again", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [2 sc in corner, sc in each st] 4 times\nrnd 4: [(sc, corner sc, sc) in next st, sc in next 8 st] 4 times\n", nil},
		{"a circle that marks corners", "shape square\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\nrnd 4: [dc in next 2 st, 2 dc in next st, dc in next 2 st, 2 dc in next st, dc in next 2 st, corner dc in next st] 4 times\n",
			[]string{`^6 warning corner-turn: round 4 marks the corners of a square, but the round does not turn there any more than elsewhere, so the piece stays round; work about 5 dc in the place of each corner$`}},

		{"a picot on the middle stitch", square + "rnd 2: [(2 sc, corner ch 2, 2 sc) in corner, sc in next 2 st, picot 3, sc in next st] 4 times\n", nil},
		{"a picot beside the middle", square + "rnd 2: [(2 sc, corner ch 2, 2 sc) in corner, sc in next st, picot 3, sc in next 2 st] 4 times\n",
			[]string{`^4 info square-mirror`}},
		{"the edge of the square", square + "rnd 2: [" + corner + ", dc in each st] 4 times\nrnd 3: [3 sc in corner, sc in each st] 3 times, 3 sc in corner, sc in next 6 st, 2 sc in next st\n",
			[]string{`^5 info square-rotation: round 3, at the edge of the square, is not alike on all 4 sides: its 41 stitches`}},

		{"uneven growth", square + "rnd 2-3: [" + corner + ", dc in each st] 4 times\nrnd 4: [(dc, corner ch 2, dc) in corner, dc in each st] 4 times\n",
			[]string{`^5 warning side-growth: the sides grow by 2 in round 4 and by 4 in the rounds below: 3, 7, 11, 13; plain rounds grow evenly$`}},
		{"a round without growth", square + "rnd 2-3: [" + corner + ", dc in each st] 4 times\nrnd 4: [corner ch 2, sk sp, dc in each st] 4 times\n",
			[]string{`^5 warning side-growth: the sides grow by 0 in round 4 `}},
		{"walls", square + "rnd 2-3: [" + corner + ", dc in each st] 4 times\nrnd 4-7: [corner ch 2, sk sp, dc in each st] 4 times\n",
			[]string{`^5 warning growth-cup: `}},
		{"walls that are meant", "lies cupped\n" + square + "rnd 2-3: [" + corner + ", dc in each st] 4 times\nrnd 4-7: [corner ch 2, sk sp, dc in each st] 4 times\n", nil},
		{"another stitch grows otherwise", square + "rnd 2-3: [" + corner + ", dc in each st] 4 times\nrnd 4: [(sc, corner ch 2, sc) in corner, sc in each st] 4 times\n", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var got []string
			for _, f := range source(t, test.text, Options{Rules: Rules()}).Findings {
				if known(rules, f.Rule) {
					continue // a round that does not work out says so itself
				}
				got = append(got, strings.Join([]string{regexp.MustCompile(`^\d+`).FindString(f.Span.String()), f.Severity.String(), f.Rule + ": " + f.Text()}, " "))
			}
			if len(got) != len(test.want) {
				t.Fatalf("%d findings, want %d:\n%s", len(got), len(test.want), strings.Join(got, "\n"))
			}
			for i, want := range test.want {
				if !regexp.MustCompile(want).MatchString(got[i]) {
					t.Errorf("\n got %s\nwant %s", got[i], want)
				}
			}
		})
	}
}

// A piece that cups and whose rim then grows faster than a flat one flares.
func TestFlares(t *testing.T) {
	const bowl = "ring\nrnd 1: 12 sc in ring\nrnd 2-8: sc in each st\n"
	for text, want := range map[string]bool{
		bowl: false,
		// As flat as can be, from the rim of the cup on: a brim.
		bowl + "rnd 9: [sc in next st, 2 sc in next st] around\nrnd 10: [sc in next 2 st, 2 sc in next st] around\nrnd 11: [sc in next 3 st, 2 sc in next st] around\nrnd 12: [sc in next 4 st, 2 sc in next st] around\nrnd 13: [sc in next 5 st, 2 sc in next st] around\n": false,
		// Far more than that.
		bowl + "rnd 9: 2 sc in each st\nrnd 10-11: [sc in next st, 2 sc in next st] around\n": true,
	} {
		found := source(t, text, Options{}).Findings
		if !slices.ContainsFunc(found, func(f Finding) bool { return f.Rule == "growth-cup" }) {
			t.Errorf("the cup is not found in\n%s", text)
		}
		at := slices.IndexFunc(found, func(f Finding) bool { return f.Rule == "growth-ruffle" })
		if at >= 0 != want {
			t.Errorf("flares: %v, want %v\n%s", at >= 0, want, text)
		}
		if at >= 0 {
			t.Log(found[at].Text())
			if !regexp.MustCompile(`^from round \d+ to round (10|11) the rim grows \d+ % faster .* flares`).MatchString(found[at].Text()) {
				t.Errorf("%s", found[at].Text())
			}
		}
	}
}

// Squares that are published, and the demo drafts, have sound corners.
func TestPublishedCorners(t *testing.T) {
	squares := 0
	for name, text := range corpus(t) {
		if strings.Contains(name, "broken") || strings.Contains(name, "testdata/sides/") {
			continue
		}
		r, err := Source(context.Background(), name, text, Options{Rules: shapeRules})
		if err != nil {
			t.Fatal(err)
		}
		if r.Draft.Outline().Corners() == 0 {
			continue
		}
		squares++
		for _, f := range r.Findings {
			if strings.HasPrefix(f.Rule, "corner-") || f.Rule == "square-mirror" || f.Rule == "side-growth" {
				t.Errorf("%s:%s: %s: %s", name, f.Span.Start, f.Rule, f.Text())
			}
		}
	}
	if squares < 20 {
		t.Errorf("only %d drafts with corners", squares)
	}
}

// Rounds without end must not take time without end.
func TestManyRounds(t *testing.T) {
	for _, text := range []string{
		"ring\nrnd 1: 12 dc in ring\nrnd 2-90000: 12 dc in ring\n",
		"shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-90000: [(dc, corner ch 2, dc) in corner] 4 times\n",
		"lies cupped\nring\nrnd 1: 2 sc in ring\nrnd 2-90000: sc in each st\n",
		"ring\nrnd 1: 12 sc in ring\nrnd 2-8: sc in each st\nrnd 9-90000: 12 sc in ring\n",
	} {
		begin := time.Now()
		r := source(t, text, Options{})
		if r.Graph.NumRounds() != 90000 {
			t.Errorf("%d rounds", r.Graph.NumRounds())
		}
		// It takes half a second; looking at all rounds from each, a minute.
		if took := time.Since(begin); took > 10*time.Second {
			t.Errorf("%s for\n%s", took, text)
		}
		for _, f := range r.Findings {
			if f.Severity > notation.Warning {
				t.Errorf("%s: %s", f.Rule, f.Text())
			}
		}
	}
}

// What the findings say would lie flat does: a piece whose round has a number
// of stitches out of the range that is named, with those in which the fault
// begins put right first, is silent up to that round.
func TestWouldLieFlat(t *testing.T) {
	circle := func(stitch string, counts []int) string {
		var b strings.Builder
		fmt.Fprintf(&b, "shape circle\nring\nrnd 1: %d %s in ring\n", counts[0], stitch)
		for i, n := range counts[1:] {
			fmt.Fprintf(&b, "rnd %d: %s\n", i+2, strings.Join(spread(stitch, counts[i], n), ", "))
		}
		return b.String()
	}
	silent := func(stitch string, counts ...int) {
		t.Helper()
		text := circle(stitch, counts)
		for _, f := range source(t, text, Options{}).Findings {
			t.Errorf("%s\nin\n%s", f.Text(), text)
		}
	}
	says := regexp.MustCompile(`^round (\d+) .*: (\d+) to (\d+) would lie flat(?:; it begins in round (\d+), where (\d+) to (\d+) would)?`)
	tried := 0
	try := func(stitch string, counts []int) {
		t.Helper()
		for _, f := range source(t, circle(stitch, counts), Options{}).Findings {
			m := says.FindStringSubmatch(f.Text())
			if m == nil {
				t.Errorf("%d %s: %s", counts, stitch, f.Text())
				continue
			}
			tried++
			var n [7]int
			for i := range n {
				n[i], _ = strconv.Atoi(m[i])
			}
			round, begins := n[1], n[4]
			if begins == 0 {
				for _, x := range []int{n[2], (n[2] + n[3]) / 2, n[3]} {
					silent(stitch, append(slices.Clone(counts[:round-1]), x)...)
				}
				continue
			}
			for _, x := range []int{n[5], (n[5] + n[6]) / 2, n[6]} {
				right := append(slices.Clone(counts[:begins-1]), x)
				silent(stitch, right...)
				if round == begins+1 {
					silent(stitch, append(slices.Clone(right), n[2])...)
					silent(stitch, append(slices.Clone(right), n[3])...)
				}
			}
		}
	}
	for stitch, flat := range map[string]float64{"sc": 5.97, "hdc": 8.67, "dc": 12.25, "tr": 16.34} {
		for _, share := range []float64{0.65, 0.75, 0.8, 1.2, 1.25, 1.35} {
			var counts []int
			for i := range 8 {
				counts = append(counts, int(math.Round(flat*share*float64(i+1))))
			}
			try(stitch, counts)
		}
	}
	try("dc", []int{12, 24, 36, 48, 60, 72, 84, 62})
	try("dc", []int{12, 24, 36, 48, 60, 72, 84, 168})
	try("dc", []int{12, 24, 36, 48, 60, 72, 84, 84, 84})
	if tried < 25 {
		t.Errorf("only %d findings", tried)
	}
}

// spread works one round from so many stitches to so many, evenly.
func spread(stitch string, from, to int) []string {
	var steps []string
	for i := 0; i < from; {
		switch n := (i+1)*to/from - i*to/from; {
		case to < from && i+1 < from && (i+2)*to/from == i*to/from+1:
			steps = append(steps, stitch+"2tog")
			i += 2
		default:
			steps = append(steps, fmt.Sprintf("%d %s in next st", n, stitch))
			i++
		}
	}
	return steps
}
