package model_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// square has 7 dc and a corner of ch 2 on every side.
const square = `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc, 4 corners
rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 7 dc per side
`

// sketch writes down an edge: the parts of sides it runs along, motif.side, with
// ^ at a corner outwards and v at one inwards.
func sketch(p *model.Panel, e model.PanelEdge) string {
	out := new(strings.Builder)
	fmt.Fprintf(out, "%s: %d st %d sp %d corners:", e.Name, e.Stitches, e.Spaces, e.Corners)
	for _, part := range e.Parts {
		fmt.Fprintf(out, " %d.%d", part.Motif, part.Side)
		if part.From > 0 || part.To != 7 {
			fmt.Fprintf(out, "[%d:%d]", part.From, part.To)
		}
		out.WriteString([]string{"", "^", "v"}[part.Then])
	}
	return out.String()
}

// TestPanels: each kind, counted by hand. Sides are 0 below, 1 right, 2 above,
// 3 left.
func TestPanels(t *testing.T) {
	for _, tt := range []struct {
		line          string
		motifs, seams int
		joined        int // places in all seams
		edges         []string
	}{
		{"panel 1 by 1", 1, 0, 0, []string{"panel: 28 st 4 sp 4 corners: 0.0^ 0.1^ 0.2^ 0.3^"}},
		{"panel 2 by 3 joined sc", 6, 7, 49, []string{"panel: 70 st 10 sp 4 corners: 0.0 1.0 2.0^ 2.1 5.1^ 5.2 4.2 3.2^ 3.3 0.3^"}},
		{"panel tube 1 by 1", 1, 1, 7, []string{"panel: 7 st 1 sp 0 corners: 0.0", "panel: 7 st 1 sp 0 corners: 0.2"}},
		{"panel tube 2 by 3", 6, 9, 63, []string{"panel: 21 st 3 sp 0 corners: 0.0 1.0 2.0", "panel: 21 st 3 sp 0 corners: 3.2 5.2 4.2"}},
		// Of a cushion, the edge of its first face.
		{"panel cushion 2 by 2", 8, 16, 112, []string{"panel: 56 st 8 sp 4 corners: 0.0 1.0^ 1.1 3.1^ 3.2 2.2^ 2.3 0.3^"}},
		{"panel bag 1 by 2", 4, 6, 42, []string{"panel: 28 st 4 sp 0 corners: 0.2 3.2 2.2 1.2"}},
		// Motifs 0 and 1 are the front, 2 and 3 the back. Three stitches of each are
		// open; the seam over each shoulder has four.
		{"panel wrap, neck 6 st", 4, 4, 22, []string{
			"panel: 56 st 8 sp 4 corners: 0.0 1.0^ 1.1 3.1^ 3.2 2.2^ 2.3 0.3^",
			"neck: 12 st 2 sp 0 corners: 2.0[4:7] 3.0[0:3]v 1.2[4:7] 0.2[0:3]v",
		}},
		// Motifs 0 and 1 are one strip, 2 and 3 the other. Eight
		// sides are left: six on the hem with its two points, two on the neck.
		{"panel wrap on point", 4, 4, 28, []string{
			"panel: 42 st 6 sp 2 corners: 0.0 1.0 2.3^ 2.0 3.0 0.3^",
			"neck: 14 st 2 sp 2 corners: 1.2v 3.2v",
		}},
	} {
		t.Run(tt.line, func(t *testing.T) {
			p := clean(t, square+tt.line+"\n").Panel()
			joined := 0
			for _, s := range p.Seams {
				joined += s.Places()
			}
			if p.Motifs != tt.motifs || len(p.Seams) != tt.seams || joined != tt.joined {
				t.Errorf("%d motifs, %d seams of %d places; want %d, %d, %d", p.Motifs, len(p.Seams), joined, tt.motifs, tt.seams, tt.joined)
			}
			var edges []string
			for _, e := range p.Edges {
				edges = append(edges, sketch(p, e))
			}
			if diff := gocmp.Diff(tt.edges, edges); diff != "" {
				t.Errorf("edges (-want +got):\n%s", diff)
			}
		})
	}
}

// TestSeams: back to back the columns of two faces run in opposite directions.
func TestSeams(t *testing.T) {
	for line, want := range map[string]string{
		"panel bag 1 by 2":      "0.1-1.3 2.1-3.3 1.1-2.3 3.1-0.3 0.0-3.0 1.0-2.0",
		"panel cushion 1 by 2":  "0.1-1.3 2.1-3.3 1.1-2.3 3.1-0.3 0.0-3.0 1.0-2.0 0.2-3.2 1.2-2.2",
		"panel tube 2 by 2":     "0.1-1.3 0.2-2.0 1.2-3.0 2.1-3.3 1.1-0.3 3.1-2.3",
		"panel wrap on point":   "0.1-1.3 2.1-3.3 1.1-2.2 3.1-0.2",
		"panel wrap, neck 2 st": "0.1-1.3 0.2-2.0 1.2-3.0 2.1-3.3",
	} {
		var got []string
		for _, s := range clean(t, square+line+"\n").Panel().Seams {
			got = append(got, fmt.Sprintf("%d.%d-%d.%d", s.A.Motif, s.A.Side, s.B.Motif, s.B.Side))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %s, want %s", line, strings.Join(got, " "), want)
		}
	}
}

// TestSides: side 0 is the one that the round begins on, or begins with at a
// corner; the others follow with the right side facing.
func TestSides(t *testing.T) {
	const steps = "corner sc in next st, sc in next st, corner sc in next st, sc in next 2 st, corner sc in next st, sc in next 3 st, corner sc in next st, sc in next 4 st"
	for _, tt := range []struct {
		header, last string
		want         []int
	}{
		{"", steps, []int{1, 2, 3, 4}},
		{"worked turned\n", steps, []int{1, 4, 3, 2}},
		{"", "sc in next st, " + strings.Replace(steps, "sc in next 4 st", "sc in next 3 st", 1), []int{4, 1, 2, 3}},
		{"worked turned\n", "sc in next st, " + strings.Replace(steps, "sc in next 4 st", "sc in next 3 st", 1), []int{4, 3, 2, 1}},
	} {
		g := clean(t, tt.header+"ring\nrnd 1: 14 sc in ring\nrnd 2: "+tt.last+"\npanel 1 by 1\n")
		got := make([]int, 4)
		for _, part := range g.Panel().Edges[0].Parts {
			got[part.Side] = part.Places()
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%q %s: %v, want %v", tt.header, tt.last, got, tt.want)
		}
	}
}

// borders works a draft and describes the rounds of its borders.
func borders(t *testing.T, text string) []string {
	t.Helper()
	var list []string
	for _, b := range clean(t, text).Borders() {
		for i, r := range b.Graph.Rounds() {
			c := b.Graph.Counts(i)
			list = append(list, fmt.Sprintf("%s rnd %d on %d: %d st %d sp %d corners", b.Name, r.Number, b.Graph.Foundation(), c.Total, c.Spaces, c.Corners))
		}
	}
	return list
}

// TestBorders: rounds on the edges, counted by hand.
func TestBorders(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		want       []string
	}{
		// Three sides of 7 with two joins of ch 2 between them make 25, one side 7.
		{"flat", square + `panel 1 by 3
edge of panel
rnd 1: [sc in each st and ch, (sc, corner ch 1, sc) in corner] 4 times
rnd 2: [sc in each st, (sc, corner ch 1, sc) in corner] 4 times = 80 sc, 4 corners
`, []string{"panel rnd 1 on 64: 72 st 4 sp 4 corners", "panel rnd 2 on 64: 80 st 4 sp 4 corners"}},
		// Spaces at the joins are passed where only stitches are worked.
		{"stitches only", square + `panel 1 by 3
edge of panel
rnd 1: [sc in each st, (sc, corner ch 1, sc) in corner] 4 times = 64 sc
`, []string{"panel rnd 1 on 64: 64 st 4 sp 4 corners"}},
		{"stitch by stitch", square + `panel 2 by 2
edge of panel
rnd 1: [(sc, corner ch 1, sc) in corner, sc in next 7 st, sc in next sp, sc in next 7 st] 4 times = 17 sc per side
`, []string{"panel rnd 1 on 64: 68 st 4 sp 4 corners"}},
		// The corner of a square is one stitch: 4 corners, 4 joins, 8 sides of 5.
		{"corners of one stitch", `ring
rnd 1: [2 sc in ring, corner sc in ring] 4 times = 12 sc
rnd 2: [sc in each st, (sc, corner ch 2, sc) in corner] 4 times = 4 sc per side
rnd 3: [sc in each st, (corner sc) in corner, sc in same] 4 times = 5 sc per side
panel 2 by 2
edge of panel
rnd 1: [sc in each st, 3 sc in corner] 4 times = 56 sc
`, []string{"panel rnd 1 on 48: 56 st 0 sp 0 corners"}},
		// On the hem three sides of 7 and two joins; on the neck a side of 7.
		{"wrap on point", square + `panel wrap on point
edge of panel
rnd 1: [sc in each st and ch, (sc, corner ch 1, sc) in corner] 2 times = 27 sc per side
edge of neck
rnd 1: [sc in each st, corner sc in corner] 2 times = 16 sc, 7 sc per side
rnd 2: [sc in each st, sc in corner] 2 times = 16 sc
`, []string{"panel rnd 1 on 48: 54 st 2 sp 2 corners", "neck rnd 1 on 16: 16 st 0 sp 2 corners", "neck rnd 2 on 16: 16 st 0 sp 0 corners"}},
		// Twelve stitches and two joins of ch 2.
		{"wrap", square + `panel wrap, neck 6 st
edge of neck
rnd 1: sc in each st and ch = 16 sc
`, []string{"neck rnd 1 on 14: 16 st 0 sp 0 corners"}},
		// Of a space of three chains one is open and two are joined, on either side.
		{"a space cut by the end of the neck", `ring
rnd 1: [2 dc in ring, ch 3, 2 dc in ring, corner ch 2] 4 times
panel wrap, neck 6 st
edge of neck
rnd 1: sc in each st and ch = 16 sc
`, []string{"neck rnd 1 on 14: 16 st 0 sp 0 corners"}},
		// Where the neck ends two stitches meet that have the seam between them.
		{"gaps at the end of the neck", `ring
rnd 1: [5 dc in ring, corner ch 2] 4 times
panel wrap, neck 4 st
edge of neck
rnd 1: 2 sc in each gap = 8 sc
`, []string{"neck rnd 1 on 10: 8 st 0 sp 0 corners"}},
		// Each edge has three sides of 7 and three joins of ch 2.
		{"tube, both edges", square + `panel tube 2 by 3
edge of panel
rnd 1: sc in each st and ch = 27 sc
`, []string{"panel rnd 1 on 24: 27 st 0 sp 0 corners", "panel rnd 1 on 24: 27 st 0 sp 0 corners"}},
		{"a chain that counts as the first stitch", square + `panel bag 1 by 1
edge of panel
rnd 1: ch 1 as sc, sc in each st and ch = 18 sc
`, []string{"panel rnd 1 on 16: 18 st 0 sp 0 corners"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := borders(t, tt.text)
			if diff := gocmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestBorderYarn: a round that names no yarn goes on with the last one, from the
// motif to the border and from one border to the next.
func TestBorderYarn(t *testing.T) {
	g := clean(t, "yarn sand\nyarn reed\nyarn foam\n"+square+`rnd 3 with reed: [sc in each st, sc in corner, corner ch 1] 4 times
panel wrap on point
edge of panel
rnd 1: [sc in each st and ch, sc in corner] 2 times
rnd 2 with foam: sc in each st
edge of neck
rnd 1: [sc in each st, sc in corner] 2 times
`)
	var got []string
	for _, piece := range g.Pieces() {
		for _, r := range piece.Rounds() {
			got = append(got, r.Yarn)
		}
	}
	if diff := gocmp.Diff([]string{"sand", "sand", "reed", "reed", "foam", "foam"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// TestBorderGraph: what a border is worked on, and what it goes on with. A last
// round that is worked with the wrong side facing is met the other way round.
func TestBorderGraph(t *testing.T) {
	for header, side := range map[string]string{
		"":                "dc* ch2 sc sc sc ch1",
		"worked turned\n": "dc* ch1 sc sc sc ch2",
	} {
		g := clean(t, header+`yarn sand
yarn reed
ring
rnd 1 with sand: [(2 sc, dc, corner ch 2) in ring] 4 times
rnd 2 with reed: [sc in each st, (ch 1, corner dc, ch 2) in corner] 4 times
panel 1 by 1
edge of panel
rnd 1: ch 3 as dc in corner, dc in each st and ch, [corner dc in corner, dc in each st and ch] 3 times = 28 dc
`).Borders()[0].Graph
		var kinds []string
		for id := range g.Foundation() {
			s := g.Stitch(id)
			kind := s.Kind
			if kind == "ch" {
				kind += fmt.Sprint(s.Chains)
			}
			if s.Corner {
				kind += "*"
			}
			if kinds = append(kinds, kind); s.Yarn != "reed" || s.Round != -1 {
				t.Errorf("%+v", s)
			}
		}
		if got, want := strings.Join(kinds, " "), strings.Join([]string{side, side, side, side}, " "); got != want {
			t.Errorf("%q: on %s, want %s", header, got, want)
		}
		if r := g.Round(0); r.Yarn != "reed" || r.Turned || r.Below != -1 || g.Symmetry().Rotation != 1 {
			t.Errorf("%q: %+v", header, r)
		}
		notationtest.CheckGraph(t, g)
	}
}

// TestPanelLaws: every stitch of every side is in one seam or on one edge, and
// a border finds what the edge says there is.
func TestPanelLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, sides := motif(t)
		rows, columns := rapid.IntRange(1, 4).Draw(t, "rows"), rapid.IntRange(1, 4).Draw(t, "columns")
		line := fmt.Sprintf(rapid.SampledFrom([]string{
			"panel %d by %d", "panel tube %d by %d", "panel cushion %d by %d", "panel bag %d by %d",
		}).Draw(t, "kind"), rows, columns)
		if short := min(sides[0], sides[1]); sides[0] == sides[1] && short > 1 && rapid.Bool().Draw(t, "wrap") {
			line = "panel wrap on point"
			if rapid.Bool().Draw(t, "square") {
				line = fmt.Sprintf("panel wrap, neck %d st", 2*rapid.IntRange(1, short-1).Draw(t, "half"))
			}
		}
		text += line + "\nedge of panel\nrnd 1: sc in each st and ch\n"
		d, findings := notation.Parse("", text)
		if len(findings) > 0 {
			t.Fatalf("%v\n%s", findings, text)
		}
		g, _, err := model.Build(t.Context(), d)
		if err != nil || g.Panel() == nil {
			t.Fatalf("no panel: %v\n%s", err, text)
		}
		p := g.Panel()

		var parts []model.SidePart
		for _, s := range p.Seams {
			if s.A.Places() != s.B.Places() {
				t.Fatalf("%+v joins unequal parts\n%s", s, text)
			}
			parts = append(parts, s.A, s.B)
		}
		for _, e := range p.Edges {
			for _, part := range e.Parts {
				if !e.Joined {
					parts = append(parts, part.SidePart)
				}
			}
		}
		slices.SortFunc(parts, func(a, b model.SidePart) int {
			return cmp.Or(a.Motif-b.Motif, a.Side-b.Side, a.From-b.From, a.To-b.To)
		})
		i := 0
		for m := range p.Motifs {
			for side := range 4 {
				at := 0
				for ; i < len(parts) && parts[i].Motif == m && parts[i].Side == side; i++ {
					if parts[i].From != at {
						t.Fatalf("motif %d, side %d: %d to %d\n%s", m, side, at, parts[i].From, text)
					}
					at = parts[i].To
				}
				if at != sides[side%2] {
					t.Fatalf("motif %d, side %d ends at %d, not %d\n%s", m, side, at, sides[side%2], text)
				}
			}
		}
		if i < len(parts) {
			t.Fatalf("left over: %+v\n%s", parts[i:], text)
		}

		for _, b := range g.Borders() {
			e := p.Edges[b.Edge]
			stitches, spaces, corners := 0, 0, 0
			for id := range b.Graph.Foundation() {
				s := b.Graph.Stitch(id)
				if s.Corner {
					corners++
				}
				if s.Kind == "ch" {
					spaces++
				} else {
					stitches++
				}
			}
			if stitches != e.Stitches || spaces != e.Spaces || corners != e.Corners || b.Name != e.Name {
				t.Fatalf("%d st, %d sp, %d corners on %+v\n%s", stitches, spaces, corners, e, text)
			}
			notationtest.CheckGraph(t, b.Graph)
		}
	})
}

// motif draws a motif of one round whose sides have so many places, those that
// lie across from one another as many.
func motif(t *rapid.T) (text string, sides [2]int) {
	var steps []string
	side := func(i int) string {
		var list []string
		for range rapid.IntRange(1, 3).Draw(t, "parts") {
			n := rapid.IntRange(1, 5).Draw(t, "places")
			sides[i] += n
			list = append(list, fmt.Sprintf(rapid.SampledFrom([]string{"%d dc in ring", "%d sc in ring", "ch %d"}).Draw(t, "what"), n))
		}
		return strings.Join(list, ", ")
	}
	across := side(0)
	along := across
	if sides[1] = sides[0]; rapid.Bool().Draw(t, "oblong") {
		sides[1] = 0
		along = side(1)
	}
	for _, s := range []string{across, along, across, along} {
		steps = append(steps, s, rapid.SampledFrom([]string{"corner ch 2", "corner dc in ring"}).Draw(t, "corner"))
	}
	return "ring\nrnd 1: " + strings.Join(steps, ", ") + "\n", sides
}

// TestWildPanels: a panel line made by hand may hold any numbers, and Build and
// Format must come back; nothing is made up of more motifs than are allowed.
func TestWildPanels(t *testing.T) {
	numbers := []int{math.MinInt, -1, 0, 1, 2, 3, 7, 12, 13, 101, math.MaxInt32, math.MaxInt}
	rapid.Check(t, func(t *rapid.T) {
		d, _ := notation.Parse("", square+"edge of panel\nrnd 1: sc in each st and ch\nedge of neck\nrnd 1: sc in each st and ch\n")
		p := &notation.Panel{
			Kind: notation.PanelKind(rapid.SampledFrom([]string{"", "flat", "tube", "cushion", "bag", "wrap", "wrap on point", "sail"}).Draw(t, "kind")),
			Rows: rapid.SampledFrom(numbers).Draw(t, "rows"), Columns: rapid.SampledFrom(numbers).Draw(t, "columns"),
			Neck: rapid.SampledFrom(numbers).Draw(t, "neck"),
			Join: notation.JoinKind(rapid.SampledFrom([]string{"", "whip", "sc", "glue"}).Draw(t, "join")),
		}
		d.Statements = append([]notation.Statement{p}, d.Statements...)
		text := notation.Format(d)
		g, findings, err := model.Build(t.Context(), d, smallLimits)
		if err != nil {
			t.Fatal(err)
		}
		notationtest.CheckGraph(about{t, text}, g)
		about := func(f notation.Finding) bool { return f.Round == 0 && !f.Span.Start.IsValid() }
		if (g.Panel() == nil) != slices.ContainsFunc(findings, about) {
			t.Fatalf("panel %v, findings %v\n%s", g.Panel(), tellAll(findings), text)
		}
		if p := g.Panel(); p != nil && (p.Motifs > 2*model.DefaultMotifs || p.Motifs < 1) {
			t.Fatalf("%d motifs\n%s", p.Motifs, text)
		}
	})
}
