package model_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// TestSymmetry: how often a piece looks the same in a turn, and whether it does
// in a mirror, seen by hand.
func TestSymmetry(t *testing.T) {
	for _, test := range []struct {
		name, text string
		rotation   int
		mirror     bool
	}{
		{"square", plainSquare, 4, true},
		{"groups", groupSquare, 4, true},
		{"circle", "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n", 12, true},
		// Of each pair of round 2, always the second takes two.
		{"increases to one side", "ring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: [sc in next st, 2 sc in next st] around\n", 6, false},
		// Three kinds in a row read otherwise backwards.
		{"whirl", "ring\nrnd 1: [sc in ring, hdc in ring, dc in ring] 5 times\n", 5, false},
		// Each round has a mirror of its own, but not the same.
		{"mirrors that do not meet", "ring\nrnd 1: [sc in ring, dc in ring] 4 times\nrnd 2: [sc in next st, dc in next st, tr in next st, dc in next st] around\nrnd 3: [tr in next 2 st, sc in next 2 st] around\n", 2, false},
		{"one stitch out", "ring\nrnd 1: 11 dc in ring, sc in ring\nrnd 2: dc in each st\n", 1, true},
		{"two yarns", "yarn sand\nyarn reed\nring\nrnd 1: [2 dc in ring, with reed, 2 dc in ring, with sand] 3 times\n", 3, true},
		{"loops of two lengths", "ring\nrnd 1: [sc in ring, ch 3, sc in ring, ch 5] 3 times\n", 3, true},
		{"loops of three lengths", "ring\nrnd 1: [sc in ring, ch 3, sc in ring, ch 4, sc in ring, ch 5] 2 times\n", 2, false},
		{"picots", "ring\nrnd 1: [2 sc in ring, picot 3] 4 times\n", 4, true},
		{"chains of the ring", "ring ch 6\nrnd 1: [sc in next ch, dc in next ch] 3 times\n", 3, true},
		{"turned", "worked turned\nring\nrnd 1: [sc in ring, dc in ring, tr in ring] 4 times\nrnd 2: [dc in next 3 st] around\n", 4, false},
		{"back and front loops", "ring\nrnd 1: 12 sc in ring\nrnd 2: [sc in back loop of next st, sc in front loop of next st, sc in next st] around\n", 4, false},
		{"two together", "ring\nrnd 1: 12 dc in ring\nrnd 2: [dc2tog over next 2 st, ch 2] around\n", 6, true},
		{"single chains", "ring\nrnd 1: [sc in ring, ch 3] 4 times\nrnd 2: [sc in next ch, dc in next ch, sc in next ch] around\n", 4, true},
		{"the middle chain left out", "ring\nrnd 1: [sc in ring, ch 3] 4 times\nrnd 2: [sc in next ch, sk 2 ch] around\n", 4, false},
	} {
		g := clean(t, test.text)
		if got := g.Symmetry(); got != (model.Symmetry{Rotation: test.rotation, Mirror: test.mirror}) {
			t.Errorf("%s: %+v, want %d, %t\n%s", test.name, got, test.rotation, test.mirror, test.text)
		}
	}
}

// TestStepsAsAnother: a round that is worked as another has its steps, and none
// where that one is not above it.
func TestStepsAsAnother(t *testing.T) {
	for as, want := range map[int]int{1: 1, 2: 1, 3: 0, 4: 0, 9: 0} {
		d, _ := notation.Parse("", fmt.Sprintf("ring\nrnd 1: 6 sc in ring = 6 sc\nrnd 2: as rnd 1 = 6 sc\nrnd 3: as rnd %d = 6 sc\nrnd 4: as rnd 3 = 6 sc\n", as))
		g, _, err := model.Build(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		for round, want := range []int{1, 1, want, want} {
			if got := len(g.Steps(round)); got != want {
				t.Errorf("as round %d: round %d has %d steps, want %d", as, round+1, got, want)
			}
		}
	}
}

// TestRoundTurns: what looks the same after the whole of a piece is turned does
// so round by round, and a round that does not is different where it is said to
// be.
func TestRoundTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		g := workClean(t, p.String())
		whole := g.Symmetry().Rotation
		for i, r := range g.Rounds() {
			if r.Len > 0 && r.Rotation()%whole != 0 {
				t.Fatalf("the piece is the same %d times round, round %d %d times\nin:\n%s", whole, r.Number, r.Rotation(), p)
			}
			order := rapid.IntRange(2, 12).Draw(t, "order")
			at, ok := g.RoundRotates(i, order)
			switch {
			case ok || at < 0:
				if at < 0 && r.Len%order == 0 {
					t.Fatalf("round %d has %d stitches and cannot be divided by %d?\nin:\n%s", r.Number, r.Len, order, p)
				}
			default:
				next := r.First + (at-r.First+r.Len/order)%r.Len
				x, y := g.Node(at), g.Node(next)
				y.ID, x.Below, y.Below = x.ID, 0, 0 // places are compared by turning them
				if x == y && x.Place == notation.RingHole {
					t.Fatalf("round %d is said to differ at stitch %d, which is like stitch %d\nin:\n%s", r.Number, at, next, p)
				}
			}
		}
	})
}

// TestPanelJSON: the JSON form says of what is made up what Panel says.
func TestPanelJSON(t *testing.T) {
	for _, text := range []string{
		"ring\nrnd 1: [5 dc in ring, corner ch 2] 4 times\npanel 2 by 3\nedge of panel\nrnd 1: [sc in each st and ch, 3 sc in corner] 4 times\n",
		"ring\nrnd 1: [5 dc in ring, corner ch 2] 4 times\npanel wrap on point joined sc\nedge of panel\nrnd 1: [sc in each st and ch, 3 sc in corner] 2 times\nedge of neck\nrnd 1: [sc in each st, sc in corner] 2 times\n",
	} {
		g := clean(t, text)
		data, err := json.Marshal(g)
		if err != nil {
			t.Fatal(err)
		}
		type part struct {
			Motif, Side, From, To int
			Then                  string
		}
		var got struct {
			Panel struct {
				Kind, Join            string
				Rows, Columns, Motifs int
				Seams                 []struct{ A, B part }
				Edges                 []struct {
					Name                      string
					Joined                    bool
					Stitches, Spaces, Corners int
					Parts                     []part
				}
			}
			Borders []struct {
				Name  string
				Edge  int
				Graph json.RawMessage
			}
		}
		if err := json.Unmarshal(data, &got); err != nil {
			t.Fatal(err)
		}
		p := g.Panel()
		want := got
		want.Panel.Kind, want.Panel.Join = string(p.Kind), string(p.Join)
		want.Panel.Rows, want.Panel.Columns, want.Panel.Motifs = p.Rows, p.Columns, p.Motifs
		side := func(s model.SidePart) part { return part{Motif: s.Motif, Side: s.Side, From: s.From, To: s.To} }
		want.Panel.Seams = nil
		for _, s := range p.Seams {
			want.Panel.Seams = append(want.Panel.Seams, struct{ A, B part }{side(s.A), side(s.B)})
		}
		want.Panel.Edges = want.Panel.Edges[:0:0]
		for i, e := range p.Edges {
			to := got.Panel.Edges[i]
			to.Name, to.Joined, to.Stitches, to.Spaces, to.Corners, to.Parts = string(e.Name), e.Joined, e.Stitches, e.Spaces, e.Corners, nil
			for _, s := range e.Parts {
				made := side(s.SidePart)
				made.Then = s.Then.String()
				to.Parts = append(to.Parts, made)
			}
			want.Panel.Edges = append(want.Panel.Edges, to)
		}
		if diff := cmp.Diff(want.Panel, got.Panel); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
		if len(got.Borders) != len(g.Borders()) || len(got.Borders) == 0 {
			t.Fatalf("%d borders, want %d", len(got.Borders), len(g.Borders()))
		}
		for i, b := range g.Borders() {
			var graph struct {
				Foundation int
				Stitches   []json.RawMessage
			}
			if err := json.Unmarshal(got.Borders[i].Graph, &graph); err != nil {
				t.Fatal(err)
			}
			if fmt.Sprint(got.Borders[i].Name, got.Borders[i].Edge, graph.Foundation, len(graph.Stitches)) !=
				fmt.Sprint(b.Name, b.Edge, b.Graph.Foundation(), b.Graph.Len()) {
				t.Errorf("border %s: %+v, %d stitches, want %d on %d", b.Name, got.Borders[i].Name, len(graph.Stitches), b.Graph.Len(), b.Graph.Foundation())
			}
		}
	}
}
