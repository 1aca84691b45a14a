package pattern_test

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/pattern"
)

// names are the stitches of testdata/terms.csv and those formed by the same
// rule, as American names by what the terms call them.
func names(t rapid.TB, terms notation.Terms) map[string]string {
	t.Helper()
	list := map[string]string{}
	for _, same := range []string{"ch", "picot", "cl", "puff", "popcorn", "bobble", "bullion"} {
		list[same] = same
	}
	for _, row := range termRows(t) {
		us, uk := row[1], row[3]
		if us == "" || uk == "" || strings.HasPrefix(us, "FP") || strings.HasPrefix(us, "BP") || strings.HasSuffix(us, "tog") || us == "yo" {
			continue
		}
		name := us
		if terms == notation.UK {
			name = uk
		}
		list[name] = us
		switch us { // extended stitches keep their e, by the same rule
		case "sc", "hdc", "dc", "tr":
			list["e"+name] = "e" + us
		}
		if us == "sc" {
			list["rev "+name] = "rev " + us
		}
	}
	return list
}

func termRows(t rapid.TB) [][]string {
	t.Helper()
	f, err := os.Open(filepath.FromSlash("../../testdata/terms.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// drafts lists all drafts that come with the project.
func drafts(t rapid.TB) []string {
	t.Helper()
	var files []string
	for _, glob := range []string{"../../examples/*.rnd", "../../testdata/*/*.rnd"} {
		list, err := filepath.Glob(filepath.FromSlash(glob))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, list...)
	}
	if len(files) < 100 {
		t.Fatalf("only %d drafts found", len(files))
	}
	return files
}

func built(t rapid.TB, text string) (*notation.Draft, *model.Graph, []notation.Finding) {
	t.Helper()
	d, findings := notation.Parse("", text)
	g, more, err := model.Build(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return d, g, append(findings, more...)
}

func written(t rapid.TB, d *notation.Draft, g *model.Graph, terms notation.Terms) *pattern.Pattern {
	t.Helper()
	sheet, err := size.NewSheet(context.Background(), d, g)
	if err != nil {
		t.Fatal(err)
	}
	return pattern.New(d, g, sheet, terms)
}

func section(p *pattern.Pattern, heading string) []pattern.Entry {
	for _, s := range p.Sections {
		if s.Heading == heading {
			return s.Entries
		}
	}
	return nil
}

// read works the written rounds and holds what comes out against the graph,
// stitch for stitch and place for place.
func read(t rapid.TB, d *notation.Draft, g *model.Graph, terms notation.Terms) error {
	t.Helper()
	p := written(t, d, g, terms)
	motif := "Instructions"
	borders := g.Borders()
	if g.Panel() != nil {
		motif = "Motif"
	}
	if err := readRounds(section(p, motif), g, newHand(t, p), nil); err != nil {
		return err
	}
	for _, s := range p.Sections {
		if !strings.HasPrefix(s.Heading, "Border") {
			continue
		}
		times := 1
		if strings.Contains(s.Entries[0].Text, "each of the two edges") {
			times = 2
		}
		for range times {
			if len(borders) == 0 {
				return fmt.Errorf("%s: there is no such border", s.Heading)
			}
			h, b := newHand(t, p), borders[0].Graph
			borders = borders[1:]
			for id := range b.Round(0).First {
				n := b.Node(id)
				h.edges = append(h.edges, made{kind: b.Kind(id).Name, chains: n.Chains, corner: n.Corner, gap: n.Gap})
			}
			if err := readRounds(s.Entries, b, h, nil); err != nil {
				return fmt.Errorf("%s: %w", s.Heading, err)
			}
		}
	}
	if len(borders) > 0 {
		return fmt.Errorf("%d borders are not written", len(borders))
	}
	return nil
}

var skips = [...]string{notation.US: "sk", notation.UK: "miss"}

// newHand reads what a pattern says of its stitches.
func newHand(t rapid.TB, p *pattern.Pattern) *hand {
	h := &hand{terms: names(t, p.Terms), uk: p.Terms == notation.UK, skip: skips[p.Terms]}
	for _, s := range section(p, "Special stitches") {
		if s.Term == "picot" {
			h.picots, _ = strconv.Atoi(regexp.MustCompile(`\d+`).FindString(s.Text))
		}
	}
	return h
}

// readRounds works the rounds of one section. Where begins is given, it is what
// the words must begin each round with.
func readRounds(entries []pattern.Entry, g *model.Graph, h *hand, begins []int) (err error) {
	c := &comparison{g: g, h: h, begins: begins, ids: map[int][]int{}}
	h.choose = c.choose
	label, text := "", ""
	defer func() {
		if r := recover(); r != nil {
			f, ok := r.(readError)
			if !ok {
				panic(r)
			}
			err = fmt.Errorf("%s: %s\n%s: %s", label, string(f), label, text)
		}
	}()
	for _, e := range entries {
		label, text = e.Term, e.Text
		switch e.Term {
		case "":
		case "Ring":
			h.ringText(e.Text)
		default:
			c.rounds(e)
		}
	}
	if len(h.rounds) != g.NumRounds() {
		return fmt.Errorf("%d rounds, want %d", len(h.rounds), g.NumRounds())
	}
	return nil
}

// A comparison holds what was read against the graph.
type comparison struct {
	g      *model.Graph
	h      *hand
	begins []int // what rounds must begin with; nil where it may be any stitch
	// ids are the stitches of the graph that what was read stands for, by round
	// number.
	ids map[int][]int
}

var range_ = regexp.MustCompile(`^Rnds (\d+)-(\d+)(.*)$`)

func (c *comparison) rounds(e pattern.Entry) {
	from, to, rest := 0, 0, ""
	if m := range_.FindStringSubmatch(e.Term); m != nil {
		from, _ = strconv.Atoi(m[1])
		to, _ = strconv.Atoi(m[2])
		rest = m[3]
	} else {
		from, _ = strconv.Atoi(regexp.MustCompile(`\d+`).FindString(e.Term))
		to, rest = from, strings.TrimPrefix(e.Term, fmt.Sprintf("Rnd %d", from))
	}
	open := strings.LastIndex(e.Text, " (")
	if open < 0 {
		fail("no count in %q", e.Text)
	}
	for n := from; n <= to; n++ {
		inTurn := func(text string) string {
			return regexp.MustCompile(`\d+(/\d+)+`).ReplaceAllStringFunc(text, func(row string) string {
				figures := strings.Split(row, "/")
				if len(figures) != to-from+1 {
					fail("%d figures for %d rounds: %s", len(figures), to-from+1, row)
				}
				return figures[n-from]
			})
		}
		c.h.work(fmt.Sprintf("Rnd %d%s", n, rest), inTurn(e.Text[:open]), inTurn(strings.TrimSuffix(e.Text[open+2:], ")")))
		c.compare(len(c.h.rounds) - 1)
	}
}

// compare holds one round against the graph.
func (c *comparison) compare(i int) {
	got, r := c.h.rounds[i], c.g.Round(i)
	if got.number != r.Number {
		fail("number %d, want %d", got.number, r.Number)
	}
	if len(got.items) != r.Len {
		fail("%d stitches, chain spaces and picots, want %d", len(got.items), r.Len)
	}
	if want := counted(c.g.Counts(i)); counts(got.items) != want {
		fail("it comes to %s, want %s", counts(got.items), want)
	}
	c.claim(i)
	// A round goes round: the words may begin with any of its stitches.
	why, best := "", 0
	for shift := range r.Len {
		if c.begins != nil && c.begins[i] != r.First+shift {
			continue
		}
		ids := make([]int, r.Len)
		for k := range ids {
			ids[k] = r.First + (shift+k)%r.Len
		}
		if c.first(got.items[0], ids[0]) != "" {
			continue
		}
		c.ids[got.number] = ids
		how, far := c.differs(got.items, ids)
		if how == "" {
			return
		}
		if far >= best {
			why, best = how, far
		}
	}
	fail("no way to lay the words over the graph: %s", why)
}

// first compares the first stitch alone.
func (c *comparison) first(it made, id int) string {
	return c.item(it, id, -1)
}

func (c *comparison) differs(items []made, ids []int) (why string, far int) {
	for k, it := range items {
		if why := c.item(it, ids[k], k); why != "" {
			return why, k
		}
	}
	return "", len(items)
}

// item says how a thing that was read differs from what the graph has.
func (c *comparison) item(it made, id, k int) string {
	s, n := c.g.Stitch(id), c.g.Node(id)
	bad := func(what string, got, want any) string {
		return fmt.Sprintf("item %d (%s): %s %v, want %v", k, it.kind, what, got, want)
	}
	switch {
	case it.kind != s.Kind:
		return bad("kind", it.kind, s.Kind)
	case it.corner != s.Corner:
		return bad("corner", it.corner, s.Corner)
	case (it.kind == "ch" || it.kind == "picot") && it.chains != s.Chains:
		return bad("chains", it.chains, s.Chains)
	case n.Start && it.start != s.Chains:
		return bad("starting chain", it.start, s.Chains)
	case it.kind == "picot" && it.sits != n.Sits:
		return bad("chains before", it.sits, n.Sits)
	case it.kind == "ch" || it.kind == "picot":
		return ""
	case s.Yarn != "" && it.yarn != s.Yarn:
		return bad("yarn", it.yarn, s.Yarn)
	}
	places := slices.Collect(c.g.Into(id))
	if c.g.Round(s.Round).Status == model.Assumed {
		return ""
	}
	if len(places) != len(it.into) {
		return bad("number of places", len(it.into), len(places))
	}
	for i, p := range places {
		if got, want := it.into[i], c.hole(p); got != want {
			return bad("place", got, want)
		}
		loop := map[notation.Loop]string{notation.BackLoop: "back", notation.FrontLoop: "front"}[p.Loop]
		if it.start == 0 && i < len(it.loops) && it.loops[i] != loop {
			return bad("loop", it.loops[i], loop)
		}
	}
	return ""
}

// hole is a place of the graph as a reader of the words knows it.
func (c *comparison) hole(p model.Place) hole {
	if p.Kind == notation.RingHole {
		return hole{0, -1, "ring", 0}
	}
	h := hole{what: map[notation.PlaceKind]string{notation.St: "st", notation.Sp: "sp", notation.Ch: "ch", notation.Gap: "gap"}[p.Kind], chain: p.Chain}
	round := c.g.Stitch(p.Stitch).Round
	if round < 0 {
		h.at = p.Stitch
		return h
	}
	h.round = c.g.Round(round).Number
	h.at = slices.Index(c.ids[h.round], p.Stitch)
	return h
}

// choose picks, of places that are said to be alike, the one that the graph
// has.
func (c *comparison) choose(round int, list []hole) int {
	for i, r := range c.g.Rounds() {
		if r.Number != round {
			continue
		}
		for s := range c.g.Stitches(i) {
			for p := range c.g.Into(s.ID) {
				if at := slices.Index(list, c.hole(p)); at >= 0 {
					return at
				}
			}
		}
	}
	return 0
}

// counts writes what was made like counted writes what the graph has.
func counts(items []made) string {
	c := model.Counts{Stitches: map[string]int{}}
	for _, it := range items {
		switch it.kind {
		case "ch":
			c.Spaces++
			c.Chains += it.chains
		case "picot":
			c.Picots++
		default:
			c.Stitches[it.kind]++
			c.Total++
		}
		if it.corner {
			c.Corners++
		}
	}
	return counted(c)
}

func counted(c model.Counts) string {
	c.Gaps = 0
	return fmt.Sprintf("%+v", c)
}

// claim reads the count at the end of a round and holds it against what was
// made.
func (c *comparison) claim(i int) {
	got := c.h.rounds[i]
	want := map[string]int{}
	total, kinds := 0, map[string]bool{}
	for _, it := range got.items {
		corner := ""
		if it.corner {
			corner = "corner "
		}
		switch it.kind {
		case "ch":
			want[fmt.Sprintf("%sch-%d sp", corner, it.chains)]++
		case "picot":
			want["picot"]++
		default:
			want[it.kind]++
			total++
			kinds[it.kind] = true
			if it.corner {
				want["corner st"]++
			}
		}
	}
	text := got.count
	if m := regexp.MustCompile(`^(\d+) sts: `).FindStringSubmatch(text); m != nil {
		if n, _ := strconv.Atoi(m[1]); n != total || len(kinds) < 2 {
			fail("%d sts counted, %d made", n, total)
		}
		text = text[len(m[0]):]
	}
	have := map[string]int{}
	for _, item := range regexp.MustCompile(`[,;] `).Split(text, -1) {
		n, what, _ := strings.Cut(item, " ")
		number, err := strconv.Atoi(n)
		if err != nil {
			fail("no count: %q", item)
		}
		if side, ok := strings.CutSuffix(what, " per side"); ok {
			c.perSide(i, number, side)
			continue
		}
		if us, ok := c.h.tryKind(what); ok {
			what = us
		} else if number != 1 {
			what = strings.TrimSuffix(what, "s")
		}
		have[what] += number
	}
	if diff := cmp.Diff(want, have); diff != "" {
		fail("count at the end (-made +counted):\n%s", diff)
	}
}

func (c *comparison) perSide(i, number int, what string) {
	for _, side := range c.g.Sides(i) {
		n := side.Total
		if what != "st" && what != "sts" {
			us, ok := c.h.tryKind(what)
			if !ok {
				us, _ = c.h.tryKind(strings.TrimSuffix(what, "s"))
			}
			n = side.Stitches[us]
			if n != side.Total {
				fail("%s are not all on a side", what)
			}
		}
		if n != number {
			fail("%d per side, want %d", number, n)
		}
	}
}

func (h *hand) tryKind(name string) (us string, ok bool) {
	if name == "sl st" || name == "ss" {
		return "sl st", true
	}
	if strings.Contains(name, "sp") || strings.HasPrefix(name, "corner") {
		return "", false
	}
	defer func() {
		if recover() != nil {
			us, ok = "", false
		}
	}()
	return h.american(name), true
}

// TestReadBack: the words of every draft, read in both terms, give the graph.
func TestReadBack(t *testing.T) {
	for _, file := range drafts(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, g, _ := built(t, string(text))
			for _, terms := range []notation.Terms{notation.US, notation.UK} {
				if err := read(t, d, g, terms); err != nil {
					t.Errorf("%s terms: %v", terms, err)
				}
			}
		})
	}
}
