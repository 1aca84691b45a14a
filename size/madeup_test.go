package size_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/size"
)

// tile is a square that lies flat: 7 dc a side, at a gauge of 14 dc over 10 cm.
const tile = `shape square
gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc, 4 corners
rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 7 dc per side
`

func dimension(t reporter, s *size.Sheet, what size.DimensionKind) float64 {
	t.Helper()
	if s.MadeUp != nil {
		for _, d := range s.MadeUp.Sizes {
			if d.What == what {
				if !(d.Size.Low <= d.Size.Expected && d.Size.Expected <= d.Size.High) {
					t.Fatalf("%s: band %+v", what, d.Size)
				}
				return float64(d.Size.Expected)
			}
		}
	}
	t.Fatalf("no %s in %+v", what, s.MadeUp)
	return 0
}

// TestMadeUpSizes works out each kind by hand, from the side of a motif, the
// height of a row of sc and the share of the seam that is left open.
func TestMadeUpSizes(t *testing.T) {
	plain := sheet(t, tile)
	m, _ := plain.Finished()
	side, points := float64(m.Side.Expected), float64(m.Points.Expected)
	_, h := plain.Gauge.Dimensions.Of(kind(t, "sc"))
	row := float64(plain.Gauge.Length(h))
	border := "edge of panel\nrnd 1: [sc in each st and ch] around\n"
	neck := "edge of neck\nrnd 1: [sc in each st and ch] around\n"
	for _, test := range []struct {
		text string
		want map[size.DimensionKind]float64
	}{
		{"panel 4 by 5", map[size.DimensionKind]float64{size.Width: 5 * side, size.Height: 4 * side}},
		{"panel 4 by 5 joined sl st", map[size.DimensionKind]float64{size.Width: 5 * side, size.Height: 4 * side}},
		{"panel 4 by 5 joined mattress", map[size.DimensionKind]float64{size.Width: 5 * side, size.Height: 4 * side}},
		// Joined in sc: up to a row for each seam, a half is expected.
		{"panel 4 by 5 joined sc", map[size.DimensionKind]float64{size.Width: 5*side + 4*row/2, size.Height: 4*side + 3*row/2}},
		{"panel 4 by 5\n" + border, map[size.DimensionKind]float64{size.Width: 5*side + 2*row, size.Height: 4*side + 2*row}},
		{"panel tube 3 by 8 joined sc", map[size.DimensionKind]float64{size.Around: 8*side + 8*row/2, size.Height: 3*side + 2*row/2}},
		{"panel tube 3 by 8\n" + border, map[size.DimensionKind]float64{size.Around: 8 * side, size.Height: 3*side + 2*row}},
		{"panel cushion 2 by 2", map[size.DimensionKind]float64{size.Width: 2 * side, size.Height: 2 * side}},
		{"panel cushion 2 by 2\n" + border, map[size.DimensionKind]float64{size.Width: 2*side + 2*row, size.FaceWidth: 2 * side, size.FaceHeight: 2 * side}},
		{"panel bag 3 by 2 joined sc", map[size.DimensionKind]float64{size.Width: 2*side + row/2, size.Height: 3*side + 2*row/2, size.Opening: 2 * (2*side + 2*row/2)}},
		{"panel bag 3 by 2\n" + border, map[size.DimensionKind]float64{size.Width: 2 * side, size.Height: 3*side + row, size.Opening: 4 * side}},
		// The neck: 6 of the front and 6 of the back, of 7 on each side of 4.
		{"panel wrap, neck 6 st", map[size.DimensionKind]float64{size.Width: 2 * side, size.Drop: side, size.NeckRound: 12 * side / 7, size.NeckFlat: 6 * side / 7, size.Hem: 8 * side}},
		{"panel wrap joined sc, neck 6 st", map[size.DimensionKind]float64{size.Width: 2*side + row/2, size.Drop: side + row/4, size.NeckRound: 12*side/7 + 2*row/2}},
		{"panel wrap, neck 6 st\n" + border + neck, map[size.DimensionKind]float64{size.Width: 2*side + 2*row, size.Drop: side + row, size.NeckRound: 12 * side / 7, size.Hem: 8*side + 8*row}},
		{"panel wrap on point", map[size.DimensionKind]float64{size.DropAtPoints: points, size.Drop: side, size.NeckRound: 2 * side, size.NeckFlat: side, size.Hem: 6 * side}},
	} {
		s := sheet(t, tile+test.text+"\n")
		for what, want := range test.want {
			near(t, test.text+": "+string(what), dimension(t, s, what), want, 1e-6)
		}
	}
	// A border that decreases draws the neck in: to 14 of 16 stitches and chains
	// (12 st, and two spaces where motifs meet).
	s := sheet(t, tile+"panel wrap, neck 6 st\nedge of neck\nrnd 1: [sc in each st and ch] around\nrnd 2: sc2tog over next 2 st, sc2tog over next 2 st, [sc in next st] around\n")
	near(t, "neck with a border", dimension(t, s, size.NeckRound), 12*side/7*14/16, 1e-6)
	if b := s.MadeUp.Borders[0]; b.EdgePlaces != 16 || b.RimPlaces != 14 || b.Needed != 0 {
		t.Errorf("%+v", b)
	}
	// So it does the opening of a bag, of two sides of each face.
	s = sheet(t, tile+"panel bag 2 by 2\nedge of panel\nrnd 1: [sc in each st and ch] around\nrnd 2: [sc2tog over next 2 st] around\n")
	near(t, "opening with a border", dimension(t, s, size.Opening), 2*side, 1e-6)
	// Without a gauge there are counts and no lengths.
	s = sheet(t, strings.Replace(tile, "gauge 14 dc by 7 rnds over 10 cm\n", "", 1)+"panel 4 by 5\n"+border)
	if u := s.MadeUp; u == nil || u.Sizes != nil || u.Seams[0] != (size.SeamSize{Count: 31, Places: 7}) || u.Borders[0].Width.Known() || u.Borders[0].EdgePlaces == 0 {
		t.Errorf("without a gauge: %+v", u)
	}
	// With square corners a border of a round of sc needs 2 h/w more places at
	// each of the four outer corners, and as many fewer at the two inner ones.
	s = sheet(t, tile+"panel 1 by 2\nedge of panel\nrnd 1: [sc in each st and ch, (sc, corner ch 1, sc) in corner] around\n")
	grown := int(math.Round(2 * h * 4))
	if b := s.MadeUp.Borders[0]; b.Needed != b.EdgePlaces+grown || b.RimPlaces != b.EdgePlaces+4 {
		t.Errorf("%+v, %d more", b, grown)
	}
	s = sheet(t, tile+"panel wrap on point\nedge of neck\nrnd 1: [sc in each st and ch, sc in corner] around\n")
	if b := s.MadeUp.Borders[0]; b.Needed != b.EdgePlaces-grown/2 || b.Inner != 2 {
		t.Errorf("%+v", b)
	}
}

// TestSeams counts seams, their stitches and their yarn.
func TestSeams(t *testing.T) {
	m, _ := sheet(t, tile).Finished()
	side := float64(m.Side.Expected)
	for _, test := range []struct {
		text          string
		count, places []int
		sewn          float64 // sides
		lines         int
	}{
		{"panel 4 by 5", []int{31}, []int{7}, 31, 7},
		{"panel 1 by 1", nil, nil, 0, 0},
		{"panel tube 1 by 3", []int{3}, []int{7}, 3, 3},
		{"panel cushion 1 by 1", []int{4}, []int{7}, 4, 1},
		{"panel bag 1 by 1", []int{3}, []int{7}, 3, 1},
		{"panel wrap, neck 6 st", []int{2, 2}, []int{7, 4}, 2 + 2*4.0/7, 4},
		{"panel wrap on point", []int{4}, []int{7}, 4, 4},
	} {
		s := sheet(t, tile+test.text+"\n")
		u := s.MadeUp
		var count, places []int
		for _, seam := range u.Seams {
			count, places = append(count, seam.Count), append(places, seam.Places)
		}
		if fmt.Sprint(count, places) != fmt.Sprint(test.count, test.places) || u.Lines != test.lines {
			t.Errorf("%s: %v of %v stitches, %d lines", test.text, count, places, u.Lines)
		}
		near(t, test.text+": sewn", float64(u.Sewn.Expected), test.sewn*side, 1e-6)
		if s.Ends != 2*s.Motifs+2*u.Lines {
			t.Errorf("%s: %d ends of %d motifs", test.text, s.Ends, s.Motifs)
		}
		near(t, test.text+": yarn", float64(s.Yarns[0].Seams.Expected), float64(s.Gauge.Length(test.sewn*7*3)), 1e-6)
	}
	// Worked seams take more than sewn ones, those of sc most.
	yarn := func(join string) float64 {
		return float64(sheet(t, tile+"panel 2 by 2 joined "+join+"\n").Yarns[0].Seams.Expected)
	}
	if !(yarn("whip") < yarn("sl st") && yarn("sl st") < yarn("sc")) {
		t.Errorf("whip %.0f, sl st %.0f, sc %.0f mm", yarn("whip"), yarn("sl st"), yarn("sc"))
	}
}

// TestBordersCounted: a border in another yarn takes that yarn, with its ends.
func TestBordersCounted(t *testing.T) {
	text := "yarn sand\nyarn reed\n" + strings.Replace(tile, "rnd 1:", "rnd 1 with sand:", 1) + "panel 2 by 3 joined whip\nedge of panel\nrnd 1 with reed: [sc in each st and ch] around\nrnd 2 with reed: sc in each st\n"
	text = strings.Replace(text, "rnd 2 with reed: sc in each st\n", "rnd 2: [sc in next st] around\n", 1)
	s := sheet(t, text)
	u := s.MadeUp.Borders[0]
	m, _ := s.Finished()
	if u.Rounds != 2 || u.Edges != 1 || u.Outer != 4 || u.Inner != 0 || s.Motifs != 6 {
		t.Errorf("%+v", u)
	}
	near(t, "edge", float64(u.Length.Expected), 10*float64(m.Side.Expected), 1e-6)
	reed := s.Yarns[1]
	if reed.Stitches.Known() || reed.Ends != 0 || !reed.Borders.Known() || reed.Seams.Known() {
		t.Errorf("%+v", reed)
	}
	near(t, "reed", float64(reed.Total.Expected), float64(reed.Borders.Expected)+2*150, 1e-6)
	if want := 6*2 + 2*3 + 2; s.Ends != want {
		t.Errorf("%d ends, want %d", s.Ends, want)
	}
	// Per stitch as in any other round: two rounds of sc and their joins.
	d := s.Gauge.Dimensions
	g := work(t, text)
	sc := g.Borders()[0].Graph.Counts(0).Total + g.Borders()[0].Graph.Counts(1).Total
	near(t, "yarn of the border", float64(reed.Borders.Expected), float64(s.Gauge.Length(float64(sc)*d.Yarn(kind(t, "sc"))+2*d.ChainYarn)), 1e-6)
	// A tube has two edges, and a border on each.
	one := sheet(t, strings.Replace(text, "panel 2 by 3", "panel tube 2 by 3", 1))
	if u := one.MadeUp.Borders; len(u) != 1 || u[0].Edges != 2 {
		t.Errorf("%+v", u)
	}
}

// TestFits: the neck has to pass over the head.
func TestFits(t *testing.T) {
	fits := func(text string) map[size.BodyPart]map[string]bool {
		out := map[size.BodyPart]map[string]bool{}
		for _, f := range sheet(t, text).MadeUp.Fits {
			if out[f.Part] == nil {
				out[f.Part] = map[string]bool{}
			}
			out[f.Part][f.Size] = f.Fits
			if f.Part == size.Head && f.Fits != (f.Ease >= 0) {
				t.Errorf("%+v", f)
			}
		}
		return out
	}
	large := strings.Replace(tile, "rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 7 dc per side", "rnd 2-14: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times", 1)
	// 55 st a side: 72 of them are some 51 cm round, less than the head of a
	// child, 20.5 in, and more than that of a toddler, 19 in.
	m, _ := sheet(t, large).Finished()
	near(t, "neck", 72*float64(m.Side.Expected)/55, 19.75*25.4, 0.75*25.4)
	got := fits("for child\n" + large + "panel wrap, neck 36 st\n")
	if h := got[size.Head]; !h["toddler"] || len(h) != 3 || h["child"] || h["teen"] {
		t.Errorf("child: %v", got)
	}
	if len(got[size.Chest]) != 0 || !got[size.Back]["2 years"] || got[size.Back]["16 years"] {
		t.Errorf("child: %v", got)
	}
	got = fits("for adult\n" + large + "panel wrap, neck 50 st\n")
	if h := got[size.Head]; !h["woman"] || !h["man"] || len(h) != 2 {
		t.Errorf("adult: %v", got)
	}
	if c := got[size.Chest]; len(c) != 9 || !c["XS"] || c["5X"] {
		t.Errorf("adult: %v", got)
	}
	if got = fits("for infant\n" + large + "panel wrap, neck 10 st\n"); len(got) != 1 || len(got[size.Head]) != 3 || got[size.Head]["newborn"] {
		t.Errorf("infant: %v", got)
	}
	if got = fits(large + "panel 4 by 5\n"); len(got) != 0 {
		t.Errorf("a blanket: %v", got)
	}
}

// TestMadeUpLaws: what is made up of more motifs is larger, and scales with the
// gauge; the perimeter of a flat panel is what its edge runs along.
func TestMadeUpLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, columns := rapid.IntRange(1, 6).Draw(t, "rows"), rapid.IntRange(1, 6).Draw(t, "columns")
		kind := rapid.SampledFrom([]string{"", "tube ", "cushion ", "bag "}).Draw(t, "kind")
		join := rapid.SampledFrom([]string{"whip", "mattress", "sl st", "sc"}).Draw(t, "join")
		panel := func(rows, columns int) string {
			return fmt.Sprintf("panel %s%d by %d joined %s\n", kind, rows, columns, join)
		}
		s := sheet(t, tile+panel(rows, columns))
		more := sheet(t, tile+panel(rows, columns+1))
		across := size.Width
		if kind == "tube " {
			across = size.Around
		}
		if a, b := dimension(t, s, across), dimension(t, more, across); a >= b {
			t.Fatalf("%d columns %g, one more %g", columns, a, b)
		}
		near(t, "height of more columns", dimension(t, more, size.Height), dimension(t, s, size.Height), 1e-9)
		k := rapid.Float64Range(0.5, 2).Draw(t, "k")
		other := sheet(t, strings.Replace(tile, "over 10 cm", fmt.Sprintf("over %f mm", 100*k), 1)+panel(rows, columns))
		for i, d := range s.MadeUp.Sizes {
			near(t, "scaled "+string(d.What), float64(other.MadeUp.Sizes[i].Size.Expected), k*float64(d.Size.Expected), 1e-5*float64(d.Size.Expected)*k)
		}
		if kind == "" {
			g := work(t, tile+panel(rows, columns))
			places := 0
			for _, part := range g.Panel().Edges[0].Parts {
				places += part.Places()
			}
			if places != 7*2*(rows+columns) {
				t.Fatalf("%d places on the edge of %d by %d", places, rows, columns)
			}
		}
	})
}
