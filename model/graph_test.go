package model_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

func TestRounds(t *testing.T) {
	g := clean(t, lines(
		`motif "Tideline"`,
		"shape circle",
		"begin standing",
		"yarn sand",
		"yarn reed",
		"ring ch 5",
		"rnd 1: 4 sc in ring",
		"rnd 2-3 with reed, chainless: sc in each st",
		"rnd 4: sc in next 2 st, with SAND, sc in next st, [with reed, sc in next st] 1 times",
		"rnd 5, chain counts: ch 3 as dc, with sand, dc in each st",
		"rnd 6: turn, sc in each st of rnd 4",
	))
	if g.Title != "Tideline" || g.Outline != notation.Circle || g.Ring != 5 {
		t.Errorf("title %q, outline %q, ring %d", g.Title, g.Outline, g.Ring)
	}
	if diff := cmp.Diff([]string{"sand", "reed"}, g.Yarns()); diff != "" {
		t.Errorf("yarns (-want +got):\n%s", diff)
	}
	type round struct {
		Number     int
		Yarn       string
		Start      notation.Start
		First, Len int
		Turned     bool
		Below      int
		Line       int
		Yarns      string
	}
	var got []round
	for i, r := range g.Rounds() {
		var yarns []string
		for s := range g.Stitches(i) {
			yarns = append(yarns, s.Yarn)
		}
		got = append(got, round{r.Number, r.Yarn, r.Start, r.First, r.Len, r.Turned, r.Below, r.Statement.Span.Start.Line, strings.Join(yarns, " ")})
		if r.Status != model.Worked {
			t.Errorf("round %d is %s", r.Number, r.Status)
		}
		if fmt.Sprint(r) != fmt.Sprint(g.Round(i)) {
			t.Errorf("Rounds yields %v, Round(%d) is %v", r, i, g.Round(i))
		}
	}
	// A yarn that is taken up inside a round stays in use after it.
	want := []round{
		{1, "sand", "standing", 1, 4, false, -1, 7, "sand sand sand sand"},
		{2, "reed", "chainless", 5, 4, false, 0, 8, "reed reed reed reed"},
		{3, "reed", "chainless", 9, 4, false, 1, 8, "reed reed reed reed"},
		{4, "reed", "standing", 13, 4, false, 2, 9, "reed reed sand reed"},
		{5, "reed", "chain counts", 17, 4, false, 3, 10, "reed sand sand sand"},
		{6, "sand", "standing", 21, 4, true, 4, 11, "sand sand sand sand"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("rounds (-want +got):\n%s", diff)
	}
	if g.NumRounds() != 6 || g.Len() != 25 {
		t.Errorf("%d rounds, %d stitches", g.NumRounds(), g.Len())
	}
	if diff := cmp.Diff(model.Stitch{ID: 17, Kind: "dc", Round: 4, Yarn: "reed", Chains: 3}, g.Stitch(17)); diff != "" {
		t.Errorf("starting chain (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(model.Stitch{ID: 0, Kind: "ch", Round: -1, Chains: 5}, g.Stitch(0), cmp.FilterPath(
		func(p cmp.Path) bool { return p.String() == "Yarn" }, cmp.Ignore())); diff != "" {
		t.Errorf("foundation (-want +got):\n%s", diff)
	}
}

func TestEdge(t *testing.T) {
	g := clean(t, pairs+"rnd 3: [(sc, corner sc, sc) in next st, picot 3, ch 2, corner ch 1, sc in next st] 2 times\n")
	// Numbers 8 to 21, seven a repeat: three sc in one place, a picot, two
	// runs of chains, an sc; the run without a corner ends at the corner.
	want := []model.EdgePlace{}
	for first := 8; first <= 15; first += 7 {
		want = append(want,
			model.EdgePlace{Kind: notation.St, Stitch: first},
			model.EdgePlace{Kind: notation.St, Stitch: first + 1, Corner: true},
			model.EdgePlace{Kind: notation.St, Stitch: first + 2},
			model.EdgePlace{Kind: notation.Sp, Stitch: first + 4},
			model.EdgePlace{Kind: notation.Sp, Stitch: first + 5, Corner: true},
			model.EdgePlace{Kind: notation.St, Stitch: first + 6},
			model.EdgePlace{Kind: notation.Gap, Stitch: first + 6},
		)
	}
	if diff := cmp.Diff(want, slices.Collect(g.Edge(2))); diff != "" {
		t.Errorf("edge (-want +got):\n%s", diff)
	}
	// Stopping early must not go on.
	for range g.Edge(2) {
		break
	}
	n := 0
	for p := range g.Edge(2) {
		if n++; p.Kind == notation.Gap {
			break
		}
	}
	if n != 7 {
		t.Errorf("stopped after %d places, want 7", n)
	}
}

func TestCountsAndSides(t *testing.T) {
	for _, test := range []struct {
		name, text string
		counts     model.Counts
		sides      []model.Counts
	}{
		{
			"kinds", "ring\nrnd 1: [2 dc in ring, sc in ring, picot 3, ch 2] 3 times\n",
			// Between repeats stands a space; inside one, three stitches over
			// the ring with two gaps.
			model.Counts{Stitches: map[string]int{"dc": 6, "sc": 3}, Total: 9, Spaces: 3, Chains: 6, Picots: 3, Gaps: 6},
			nil,
		},
		{
			// A cluster is a cluster, however many places its legs stand in.
			"clusters over several places", twelve + "rnd 2: [cl in next st, cl over next 2 st] around\n",
			model.Counts{Stitches: map[string]int{"cl": 8}, Total: 8, Gaps: 8}, nil,
		},
		{
			"uneven sides, from the first", "ring\nrnd 1: dc in ring, corner ch 1, 2 dc in ring, corner ch 1, 3 dc in ring, corner ch 1\n",
			model.Counts{Stitches: map[string]int{"dc": 6}, Total: 6, Spaces: 3, Chains: 3, Corners: 3, Gaps: 3},
			[]model.Counts{side(1, 0), side(2, 1), side(3, 2)},
		},
		{
			"a round that begins at a corner", "ring\nrnd 1: corner ch 1, dc in ring, corner ch 1, 2 dc in ring, corner ch 1, 3 dc in ring\n",
			model.Counts{Stitches: map[string]int{"dc": 6}, Total: 6, Spaces: 3, Chains: 3, Corners: 3, Gaps: 3},
			[]model.Counts{side(1, 0), side(2, 1), side(3, 2)},
		},
		{
			// The side that the round begins on goes on after its last corner.
			"a round that begins inside a side", "ring\nrnd 1: dc in ring, corner ch 1, 2 dc in ring, corner ch 1, 3 dc in ring\n",
			model.Counts{Stitches: map[string]int{"dc": 6}, Total: 6, Spaces: 2, Chains: 2, Corners: 2, Gaps: 4},
			[]model.Counts{side(4, 3), side(2, 1)},
		},
		{
			// A corner stitch belongs to no side.
			"corner stitches", "ring\nrnd 1: [2 sc in ring, corner dc in ring, ch 2, sc in ring] 2 times\n",
			model.Counts{Stitches: map[string]int{"sc": 6, "dc": 2}, Total: 8, Spaces: 2, Chains: 4, Corners: 2, Gaps: 6},
			[]model.Counts{
				{Stitches: map[string]int{"sc": 3}, Total: 3, Spaces: 1, Chains: 2, Gaps: 3},
				{Stitches: map[string]int{"sc": 3}, Total: 3, Spaces: 1, Chains: 2, Gaps: 3},
			},
		},
		{
			"nothing but a corner", "ring\nrnd 1: corner ch 4\n",
			model.Counts{Stitches: map[string]int{}, Spaces: 1, Chains: 4, Corners: 1},
			[]model.Counts{{Stitches: map[string]int{}}},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			g := clean(t, test.text)
			last := g.NumRounds() - 1
			if diff := cmp.Diff(test.counts, g.Counts(last)); diff != "" {
				t.Errorf("counts (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(test.sides, g.Sides(last)); diff != "" && len(test.sides)+len(g.Sides(last)) > 0 {
				t.Errorf("sides (-want +got):\n%s", diff)
			}
		})
	}
}

// side is a side of dc only.
func side(dc, gaps int) model.Counts {
	return model.Counts{Stitches: map[string]int{"dc": dc}, Total: dc, Gaps: gaps}
}

// TestValidOddities holds drafts that the notation allows and that a reading
// of each rule by itself would refuse.
func TestValidOddities(t *testing.T) {
	for _, test := range []struct{ name, text, last string }{
		// Passing over places of another kind is silent, and the gap after the
		// last stitch is one of them like the ten before it.
		{"a gap worked once", twelve + "rnd 2: dc in next st, dc in next gap, dc in next 11 st\n",
			"rnd 2 [12]: dc@0 | dc@gap0 | dc@1 | dc@2 | dc@3 | dc@4 | dc@5 | dc@6 | dc@7 | dc@8 | dc@9 | dc@10 | dc@11 |"},
		{"a gap worked once, from the gap on", twelve + "rnd 2: dc in next gap, dc in next 12 st\n",
			"rnd 2 [12]: dc@gap0 | dc@1 | dc@2 | dc@3 | dc@4 | dc@5 | dc@6 | dc@7 | dc@8 | dc@9 | dc@10 | dc@11 | dc@0 |"},
		// Once the round below is worked all round, so is the one further down.
		{"around ends with the round below", four + "rnd 2: sc in each st\nrnd 3: [dc in next st of rnd 1, sk 1 st, sc in next st] around\n",
			"rnd 3 [8]: dc@0 | sc@5 | dc@2 | sc@7 |"},
		// A cluster is found by its name, however many places it stands in.
		{"a cluster over several places by name", twelve + "rnd 2: [cl in next st, cl over next 2 st] around\nrnd 3: sc in next 8 cl\n",
			"rnd 3 [20]: sc@12 | sc@13 | sc@14 | sc@15 | sc@16 | sc@17 | sc@18 | sc@19 |"},
	} {
		t.Run(test.name, func(t *testing.T) {
			list := picture(clean(t, test.text))
			if diff := cmp.Diff(test.last, list[len(list)-1]); diff != "" {
				t.Errorf("%s(-want +got):\n%s", test.text, diff)
			}
		})
	}
}

func TestStatusString(t *testing.T) {
	for status, want := range map[model.Status]string{
		model.Worked: "worked", model.Mended: "mended", model.Assumed: "assumed", model.NotWorked: "not worked",
	} {
		if got := status.String(); got != want {
			t.Errorf("%d is %q, want %q", status, got, want)
		}
	}
}

func TestLookup(t *testing.T) {
	for name, want := range map[string]model.Kind{
		"dc":      {Name: "dc", UK: "tr", Legs: 1, Height: model.Double, Symbol: "tall-1"},
		"DC":      {Name: "dc", UK: "tr", Legs: 1, Height: model.Double, Symbol: "tall-1"},
		"sl st":   {Name: "sl st", UK: "sl st", Legs: 1, Height: model.Slip, Symbol: "dot"},
		"ch":      {Name: "ch", UK: "ch", Height: model.Level, Symbol: "oval"},
		"picot":   {Name: "picot", UK: "picot", Height: model.Level, Symbol: "loop"},
		"fpdc":    {Name: "FPdc", UK: "FPtr", Legs: 1, Post: "FP", Height: model.Double, Symbol: "fp-tall-1"},
		"BPhdc":   {Name: "BPhdc", UK: "BPhtr", Legs: 1, Post: "BP", Height: model.Half, Symbol: "bp-tall-0"},
		"dc2tog":  {Name: "dc2tog", UK: "tr2tog", Legs: 2, Together: true, Height: model.Double, Symbol: "together-tall-1"},
		"sc99tog": {Name: "sc99tog", UK: "dc99tog", Legs: 99, Together: true, Height: model.Single, Symbol: "together-cross"},
		"FPtr3tog": {Name: "FPtr3tog", UK: "FPdtr3tog", Legs: 3, Together: true, Post: "FP", Height: model.Treble,
			Symbol: "fp-together-tall-2"},
		"cl":   {Name: "cl", UK: "cl", Legs: 1, Together: true, Height: model.Double, Symbol: "cluster"},
		"trtr": {Name: "trtr", UK: "qtr", Legs: 1, Height: model.TripleTreble, Symbol: "tall-4"},
	} {
		got, ok := model.Lookup(name)
		if !ok {
			t.Errorf("%s is not known", name)
			continue
		}
		if got.Source == "" {
			t.Errorf("%s has no source", name)
		}
		got.Source = ""
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
	for _, name := range []string{"", "htr", "dd", "dc1tog", "dc02tog", "dc100tog", "dctog", "FPcl", "FPFPdc", "ch2tog", "2tog", "shell", "st", "dc "} {
		if k, ok := model.Lookup(name); ok {
			t.Errorf("%q is known, as %+v", name, k)
		}
	}
}

func TestKinds(t *testing.T) {
	seen := map[string]bool{}
	for i, k := range model.Kinds() {
		if k.Name == "" || k.UK == "" || k.Symbol == "" || k.Source == "" || seen[k.Name] {
			t.Errorf("kind %+v lacks something, or comes twice", k)
		}
		seen[k.Name] = true
		if again, ok := model.Lookup(k.Name); !ok || again != k {
			t.Errorf("Lookup(%q) = %+v, %t; Kinds has %+v", k.Name, again, ok, k)
		}
		if us, ok := notation.UK.Parse(k.UK); !ok || us.Name() != k.Name {
			t.Errorf("%s is %s in UK terms, which is read as %s", k.Name, k.UK, us.Name())
		}
		if wantLegs := min(i, 2) / 2; k.Legs != wantLegs { // ch and picot stand on nothing
			t.Errorf("%s has %d legs", k.Name, k.Legs)
		}
	}
	if !slices.IsSortedFunc(model.Kinds()[:14], func(a, b model.Kind) int { return int(a.Height) - int(b.Height) }) {
		t.Error("the plain stitches do not stand from short to tall")
	}
	// Every stitch that the notation can name is in the table.
	for _, name := range notation.US.Names() {
		if !seen[name] {
			t.Errorf("no kind for %s", name)
		}
	}
	// What is handed out is a copy.
	list := model.Kinds()
	list[0].Name = "sand"
	g := clean(t, four)
	kinds := g.Kinds()
	kinds[0].Name = "reed"
	if model.Kinds()[0].Name != "ch" || g.Kinds()[0].Name != "ch" {
		t.Error("a change of the list changed the table")
	}
	var names []string
	for _, k := range g.Kinds() {
		names = append(names, k.Name)
	}
	if diff := cmp.Diff([]string{"ch", "picot", "sc"}, names); diff != "" {
		t.Errorf("kinds of a graph (-want +got):\n%s", diff)
	}
}

const small = `motif "Sand & reed"
shape square
yarn sand
ring ch 4
rnd 1: ch 1 as sc, 2 sc in ring
rnd 2: turn, (hdc, corner ch 2) in back loop of next st, picot 3, dc2tog
`

const smallJSON = `{"version":1,"motif":"Sand & reed","shape":"square","ring_chains":4,"yarns":["sand"],"kinds":[{"name":"ch","uk":"ch","legs":0,"symbol":"oval"},{"name":"picot","uk":"picot","legs":0,"symbol":"loop"},{"name":"sc","uk":"dc","legs":1,"symbol":"cross"},{"name":"hdc","uk":"htr","legs":1,"symbol":"tall-0"},{"name":"dc2tog","uk":"tr2tog","legs":2,"symbol":"together-tall-1"}],"rounds":[{"round":1,"status":"worked","below":-1,"first":1,"len":3,"gaps":[1,2,3],"corners":[]},{"round":2,"status":"worked","turned":true,"below":0,"first":4,"len":4,"gaps":[7],"corners":[5]}],
"stitches":[
{"id":0,"kind":"ch","round":-1,"chains":4},
{"id":1,"kind":"sc","round":0,"yarn":"sand","chains":1,"into":[{"place":"ring"}]},
{"id":2,"kind":"sc","round":0,"yarn":"sand","into":[{"place":"ring"}]},
{"id":3,"kind":"sc","round":0,"yarn":"sand","into":[{"place":"ring"}]},
{"id":4,"kind":"hdc","round":1,"yarn":"sand","into":[{"place":"st","stitch":3,"loop":"back"}]},
{"id":5,"kind":"ch","round":1,"yarn":"sand","chains":2,"corner":true},
{"id":6,"kind":"picot","round":1,"yarn":"sand","chains":3,"into":[{"place":"sp","stitch":5}]},
{"id":7,"kind":"dc2tog","round":1,"yarn":"sand","into":[{"place":"st","stitch":2},{"place":"st","stitch":1}]}]}
`

func TestWriteJSON(t *testing.T) {
	g := clean(t, small)
	if diff := cmp.Diff(smallJSON, jsonOf(t, g)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	text, err := json.Marshal(g)
	if err != nil {
		t.Fatal(err)
	}
	var a, b any
	if err := json.Unmarshal(text, &a); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(smallJSON), &b); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(b, a); diff != "" {
		t.Errorf("MarshalJSON (-want +got):\n%s", diff)
	}

	// A draft without rounds has lists, not nulls.
	const empty = `{"version":1,"motif":"","shape":"","ring_chains":0,"yarns":[],"kinds":[{"name":"ch","uk":"ch","legs":0,"symbol":"oval"},{"name":"picot","uk":"picot","legs":0,"symbol":"loop"}],"rounds":[],
"stitches":[]}
`
	if diff := cmp.Diff(empty, jsonOf(t, clean(t, ""))); diff != "" {
		t.Errorf("no draft (-want +got):\n%s", diff)
	}

	// An error of the writer comes back, whenever it comes.
	big := clean(t, "ring\nrnd 1: 2000 dc in ring\n")
	size := len(jsonOf(t, big))
	for _, after := range []int{0, 100, size / 2, size - 1} {
		if err := big.WriteJSON(&shortWriter{left: after}); !errors.Is(err, errFull) {
			t.Errorf("a writer that fails after %d bytes: %v", after, err)
		}
	}
	if err := big.WriteJSON(&shortWriter{left: size}); err != nil {
		t.Errorf("a writer that fails after all bytes: %v", err)
	}
}

var errFull = errors.New("full")

// A shortWriter takes so many bytes and no more.
type shortWriter struct{ left int }

func (w *shortWriter) Write(b []byte) (int, error) {
	n := min(len(b), w.left)
	if w.left -= n; n < len(b) {
		return n, errFull
	}
	return n, nil
}

// TestPicotsOnChains: a picot on a run of chains knows how many of them come
// before it, also in repeats that are copied.
func TestPicotsOnChains(t *testing.T) {
	g := clean(t, lines("ring", "rnd 1: 40 sc in ring",
		"rnd 2: [sc in next st, ch 2, picot 3, ch 1, picot 4, picot 5, ch 4, picot 3] 39 times, ch 6, picot 3, sc in next st, picot 3"))
	var sits []int
	for n := range g.Nodes(1) {
		if g.KindAt(n.Kind).Name == "picot" {
			sits = append(sits, n.Sits)
		}
	}
	// Runs of 7 chains with picots after 2, 3 and 7 of them; the last run goes
	// on with 6 more; the last picot is on a stitch.
	want := slices.Repeat([]int{2, 3, 3, 7}, 39)
	want = append(want, 13, 0)
	if diff := cmp.Diff(want, sits); diff != "" {
		t.Errorf("chains before picots (-want +got):\n%s", diff)
	}
}
