package size_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/size"
)

// A layout is a panel on squared paper: the unit squares that its motifs lie on,
// and which sides of which are joined. Everything about it is counted from that,
// not from any formula.
type layout struct {
	faces   int
	squares map[[2]int]bool // by column and row, of one face
	wraps   int             // columns after which a tube closes; 0 elsewhere
	closed  map[string]bool // sides along which two faces are joined
}

func newLayout(kind string, rows, columns int) *layout {
	l := &layout{faces: 1, squares: map[[2]int]bool{}, closed: map[string]bool{}}
	for r := range rows {
		for c := range columns {
			l.squares[[2]int{c, r}] = true
		}
	}
	switch kind {
	case "tube ":
		l.wraps = columns
	case "cushion ":
		l.faces, l.closed = 2, map[string]bool{"left": true, "right": true, "top": true, "bottom": true}
	case "bag ":
		l.faces, l.closed = 2, map[string]bool{"left": true, "right": true, "bottom": true}
	}
	return l
}

// count goes along all sides of all squares: how many seams there are, how many
// sides are left free, and how many points of the free edge lie between two
// motifs.
func (l *layout) count() (seams, free, corners int) {
	sides := map[string][2]int{"left": {-1, 0}, "right": {1, 0}, "top": {0, 1}, "bottom": {0, -1}}
	joined := 0 // sides that are joined, two to a seam
	for at := range l.squares {
		outside := map[string]bool{}
		for side, step := range sides {
			next := [2]int{at[0] + step[0], at[1] + step[1]}
			if l.wraps > 0 {
				next[0] = (next[0] + l.wraps) % l.wraps
			}
			outside[side] = !l.squares[next]
			switch {
			case !outside[side]:
				joined += l.faces
			case l.closed[side]:
				joined += l.faces // to the other face
			default:
				free += l.faces
			}
		}
		for _, upright := range []string{"left", "right"} {
			for _, level := range []string{"top", "bottom"} {
				if outside[upright] && outside[level] && !l.closed[upright] && !l.closed[level] {
					corners += l.faces
				}
			}
		}
	}
	return joined / 2, free, corners
}

// TestPanelOnPaper holds panels of squares of side s against squared paper: each
// seam adds its width beside it, a border its own on every free side.
func TestPanelOnPaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]string{"", "tube ", "cushion ", "bag "}).Draw(t, "kind")
		join := rapid.SampledFrom([]string{"whip", "mattress", "sl st", "sc"}).Draw(t, "join")
		rows, columns := rapid.IntRange(1, 5).Draw(t, "rows"), rapid.IntRange(1, 5).Draw(t, "columns")
		rounds, wide := rapid.IntRange(1, 3).Draw(t, "rounds"), rapid.IntRange(0, 3).Draw(t, "rounds of the border")
		text := "shape square\ngauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: [(3 dc, corner dc) in ring] 4 times\n"
		if rounds > 1 {
			text += fmt.Sprintf("rnd 2-%d: [dc in each st, (2 dc, corner dc, 2 dc) in corner] 4 times\n", rounds)
		}
		text += fmt.Sprintf("panel %s%d by %d joined %s\n", kind, rows, columns, join)
		if wide > 0 {
			text += fmt.Sprintf("edge of panel\nrnd 1-%d: [sc in next st] around\n", wide)
		}
		draft := read(t, text)
		g, findings, err := model.Build(t.Context(), draft)
		if err != nil || len(findings) > 0 {
			t.Fatal(err, findings, text)
		}
		s, err := size.NewSheet(t.Context(), draft, g)
		if err != nil {
			t.Fatal(err)
		}
		u := s.MadeUp
		motif, _ := s.Finished()
		side := float64(motif.Side.Expected)
		row := s.Gauge.Dimensions.Height[model.Single] * float64(s.Gauge.Unit)
		seam := 0.0 // its width
		if join == "sc" {
			seam = row / 2
		}
		border := float64(wide) * row

		paper := newLayout(kind, rows, columns)
		seams, free, corners := paper.count()
		places := 3 + 4*(rounds-1) // of a side
		if s.Motifs != paper.faces*rows*columns {
			t.Fatalf("%d motifs", s.Motifs)
		}
		if seams == 0 != (len(u.Seams) == 0) || seams > 0 && (len(u.Seams) != 1 || u.Seams[0].Count != seams || u.Seams[0].Places != places) {
			t.Fatalf("%d seams of %d places: %+v", seams, places, u.Seams)
		}
		near(t, "sewn", float64(u.Sewn.Expected), float64(seams)*side, 1e-6)
		if join == "whip" { // about three widths of yarn for each place
			near(t, "yarn of the seams", float64(s.Yarns[0].Seams.Expected), float64(seams*places*3)*float64(s.Gauge.Unit), 1e-6)
		}

		across := func(n int) float64 { return float64(n)*side + float64(n-1)*seam }
		var want map[size.DimensionKind]float64
		switch kind {
		case "":
			want = map[size.DimensionKind]float64{size.Width: across(columns) + 2*border, size.Height: across(rows) + 2*border}
		case "tube ":
			want = map[size.DimensionKind]float64{size.Around: across(columns) + seam, size.Height: across(rows) + 2*border}
		case "cushion ":
			want = map[size.DimensionKind]float64{size.Width: across(columns) + 2*border, size.Height: across(rows) + 2*border}
			if wide > 0 {
				want[size.FaceWidth], want[size.FaceHeight] = across(columns), across(rows)
			}
		case "bag ":
			want = map[size.DimensionKind]float64{size.Width: across(columns), size.Height: across(rows) + border, size.Opening: 2*across(columns) + 2*seam}
		}
		if len(want) != len(u.Sizes) {
			t.Fatalf("%+v", u.Sizes)
		}
		for what, x := range want {
			near(t, string(what), dimension(t, s, what), x, 1e-6)
		}

		if wide == 0 {
			return
		}
		// The edge of a cushion is where its faces are joined: it runs along one.
		b := u.Borders[0]
		long, places0 := float64(free)*side, free*places
		switch kind {
		case "cushion ":
			sides := 2 * (rows + columns)
			long, places0, corners = float64(sides)*side+float64(sides-4)*seam, sides*places+sides, 4
		case "":
			long, places0 = long+float64(free-4)*seam, places0+free
		case "tube ":
			long, places0 = float64(columns)*(side+seam), columns*places+columns
		case "bag ":
			long, places0 = long+float64(free)*seam, places0+free
		}
		edges := 1
		if kind == "tube " {
			edges = 2
		}
		near(t, "edge", float64(b.Length.Expected), long, 1e-6)
		near(t, "width of the border", float64(b.Width.Expected), border, 1e-6)
		if b.Edges != edges || b.Rounds != wide || b.EdgePlaces != places0 || b.RimPlaces != places0 || b.Outer != corners || b.Inner != 0 {
			t.Fatalf("%d places, %d corners: %+v", places0, corners, b)
		}
		// A strip of paper round a square is as much longer outside as four squares
		// of its width have sides there: twice its width at each corner.
		w := float64(s.Gauge.Unit)
		near(t, "needed", float64(b.Needed)*w, float64(places0)*w+float64(corners)*2*border, w/2+1e-6)
	})
}

// TestWrapOnPaper: four squares have 16 sides. Those of the wrap on point that are
// not joined make a hem of six and a neck of two, whose corners point into the
// piece; the wrap that is folded at the shoulders has a hem of eight, and a slit.
func TestWrapOnPaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rounds := rapid.IntRange(2, 6).Draw(t, "rounds")
		wide := rapid.IntRange(1, 3).Draw(t, "rounds of the border")
		places := 3 + 4*(rounds-1)
		neck := 2 * rapid.IntRange(1, places-1).Draw(t, "half of the neck")
		join := rapid.SampledFrom([]string{"whip", "sc"}).Draw(t, "join")
		text := fmt.Sprintf("shape square\ngauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: [(3 dc, corner dc) in ring] 4 times\nrnd 2-%d: [dc in each st, (2 dc, corner dc, 2 dc) in corner] 4 times\n", rounds)
		borders := fmt.Sprintf("edge of panel\nrnd 1-%d: [sc in next st] around\nedge of neck\nrnd 1-%d: [sc in next st] around\n", wide, wide)
		on := func(panel string) (*size.Sheet, float64, float64, float64) {
			s := sheet(t, text+panel+" joined "+join+panelNeck(panel, neck)+"\n"+borders)
			m, _ := s.Finished()
			row := s.Gauge.Dimensions.Height[model.Single] * float64(s.Gauge.Unit)
			seam := 0.0
			if join == "sc" {
				seam = row / 2
			}
			return s, float64(m.Side.Expected), seam, float64(wide) * row
		}

		s, side, seam, border := on("panel wrap")
		hem, slit := s.MadeUp.Borders[0], s.MadeUp.Borders[1]
		near(t, "hem", dimension(t, s, size.Hem), 8*side+4*seam+8*border, 1e-6)
		near(t, "width", dimension(t, s, size.Width), 2*side+seam+2*border, 1e-6)
		near(t, "drop", dimension(t, s, size.Drop), side+seam/2+border, 1e-6)
		near(t, "slit", float64(slit.Length.Expected), 2*float64(neck)/float64(places)*side+2*seam, 1e-6)
		near(t, "neck", 2*dimension(t, s, size.NeckFlat), dimension(t, s, size.NeckRound), 1e-6)
		if hem.Outer != 4 || hem.Inner != 0 || hem.EdgePlaces != 8*(places+1) {
			t.Fatalf("%+v", hem)
		}
		if slit.Needed != 0 || slit.Outer != 0 {
			t.Fatalf("%+v", slit)
		}
		// The shoulders are as long as the slit is short.
		sewn := 2*side + 2*(1-float64(neck)/2/float64(places))*side
		near(t, "sewn", float64(s.MadeUp.Sewn.Expected), sewn, 1e-6)

		s, side, seam, border = on("panel wrap on point")
		hem, around := s.MadeUp.Borders[0], s.MadeUp.Borders[1]
		if hem.Outer != 2 || hem.Inner != 0 || hem.EdgePlaces != 6*(places+1) || around.Outer != 0 || around.Inner != 2 || around.EdgePlaces != 2*(places+1) {
			t.Fatalf("%+v, %+v", hem, around)
		}
		near(t, "hem on point", dimension(t, s, size.Hem), 6*side+4*seam+4*border, 1e-6)
		near(t, "drop on point", dimension(t, s, size.Drop), side+border, 1e-6)
		near(t, "drop at points", dimension(t, s, size.DropAtPoints), float64(mustFinish(t, s).Points.Expected)+border, 1e-6)
		near(t, "sewn on point", float64(s.MadeUp.Sewn.Expected), 4*side, 1e-6)
		near(t, "neck on point", float64(around.Length.Expected), 2*side, 1e-6)
		// Inside a corner a strip is shorter by twice its width.
		w := float64(s.Gauge.Unit)
		near(t, "needed inside", float64(around.Needed)*w, float64(around.EdgePlaces)*w-2*2*border, w/2+1e-6)
		near(t, "needed outside", float64(hem.Needed)*w, float64(hem.EdgePlaces)*w+2*2*border, w/2+1e-6)
	})
}

func panelNeck(panel string, neck int) string {
	if panel == "panel wrap" {
		return fmt.Sprintf(", neck %d st", neck)
	}
	return ""
}

func mustFinish(t reporter, s *size.Sheet) size.Measure {
	t.Helper()
	m, ok := s.Finished()
	if !ok {
		t.Fatalf("nothing is measured: %+v", s)
	}
	return m
}
