package check

import (
	"bufio"
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A Round is one row of the table of rounds.
type Round struct {
	Number   int
	Yarn     string
	Stitches map[string]int // by American name
	Total    int            // all stitches; chains and picots are none
	Spaces   int
	Corners  int
	PerSide  []map[string]int // empty without corners
	// FromCentre is how far the round reaches from the centre: the radius, or
	// half the width from side to side. It is 0 where the draft has no gauge, and
	// in a piece that lies cupped, which is never laid out to that width.
	FromCentre size.Length
	// Depth is how far the round is from the centre along the fabric, of a piece
	// that lies cupped and has a gauge; else 0.
	Depth size.Length
	// Lies says in words how the piece lies up to this round: "flat", "about
	// flat" within the give of the stitches, "likely to cup", "cups", "likely
	// to ruffle", "ruffles". It is "" where that is not judged.
	Lies string
	// Status is "" for a round that is worked as written; otherwise it is
	// "mended", "assumed" or "not worked".
	Status string
}

// A Border is the rounds worked on one edge of a panel.
type Border struct {
	Edge     notation.EdgeName
	Stitches int // what the edge has to work into
	Spaces   int
	Rounds   []Round // without FromCentre, Depth and Lies
}

// rowsOf lists what each round of a motif or a border holds.
func rowsOf(g *model.Graph) []Round {
	table := make([]Round, 0, g.NumRounds())
	for i, round := range g.Rounds() {
		c := g.Counts(i)
		row := Round{
			Number: round.Number, Yarn: round.Yarn, Stitches: c.Stitches, Total: c.Total,
			Spaces: c.Spaces, Corners: c.Corners, PerSide: []map[string]int{},
		}
		for _, side := range g.Sides(i) {
			row.PerSide = append(row.PerSide, side.Stitches)
		}
		if round.Status != model.Worked {
			row.Status = round.Status.String()
		}
		table = append(table, row)
	}
	return table
}

// BorderTables lists what the rounds of each border hold, in the order of the
// draft.
func BorderTables(r *Report) []Border {
	list := []Border{}
	for _, b := range r.Graph.Borders() {
		e := r.Graph.Panel().Edges[b.Edge]
		list = append(list, Border{Edge: b.Name, Stitches: e.Stitches, Spaces: e.Spaces, Rounds: rowsOf(b.Graph)})
	}
	return list
}

// RoundTable lists what each round of a checked draft holds, how far it
// reaches and how it lies.
func RoundTable(r *Report) []Round {
	g := r.Graph
	table := rowsOf(g)
	s := shapeOf(context.Background(), r.Draft, g)
	if len(s.rounds) == 0 {
		return table
	}
	for _, m := range size.Measures(g, r.Draft.Gauge()) {
		if r.Draft.Lies() == notation.Cupped {
			table[m.Index].Depth = m.Depth.Expected
			continue
		}
		table[m.Index].FromCentre = m.Across.Expected / 2
	}
	for _, round := range s.rounds {
		row := &table[round.Index]
		if r.Draft.Outline() != notation.Free {
			row.Lies = s.bands.Lies(round)
		}
	}
	return table
}

// WriteRounds writes the table of rounds for people, with stitch names in the
// given terms, those of the draft as a rule.
func WriteRounds(w io.Writer, r *Report, terms notation.Terms) error {
	g := r.Graph
	out := bufio.NewWriter(w)
	if g.Title != "" {
		fmt.Fprintf(out, "%s\n\n", visible(g.Title))
	}
	table := RoundTable(r)
	writeRows(out, g, table, terms, true)
	if len(table) > 0 {
		fmt.Fprintf(out, "\n%s\n", symmetryText(g.Symmetry()))
	}
	for i, b := range BorderTables(r) {
		fmt.Fprintf(out, "\nEdge of %s, worked on %d st and %d sp\n\n", b.Edge, b.Stitches, b.Spaces)
		writeRows(out, g.Borders()[i].Graph, b.Rounds, terms, false)
	}
	return out.Flush()
}

// writeRows writes rounds as a table, with how they lie where that is judged.
func writeRows(out io.Writer, g *model.Graph, table []Round, terms notation.Terms, judged bool) {
	reach, heading := func(r Round) size.Length { return r.FromCentre }, "from centre"
	if slices.ContainsFunc(table, func(r Round) bool { return r.Depth > 0 }) {
		reach, heading = func(r Round) size.Length { return r.Depth }, "along the fabric"
	}
	sized := slices.ContainsFunc(table, func(r Round) bool { return reach(r) > 0 })
	order := stitchOrder(g)
	tw := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	row := func(cells ...string) { fmt.Fprintln(tw, strings.Join(cells, "\t")) }
	head := []string{"rnd", "yarn", "stitches", "total", "sp", "corners", "per side"}
	if sized {
		head = append(head, heading)
	}
	if judged {
		head = append(head, "lies")
	}
	row(head...)
	for _, r := range table {
		stitches := listed(order, r.Stitches, terms)
		if r.Status != "" {
			stitches += " (" + r.Status + ")"
		}
		cells := []string{fmt.Sprint(r.Number), cmp.Or(r.Yarn, "-"), stitches, fmt.Sprint(r.Total), fmt.Sprint(r.Spaces), fmt.Sprint(r.Corners), sidesText(order, r.PerSide, terms)}
		switch {
		case sized && reach(r) > 0:
			cells = append(cells, fmt.Sprintf("%.1f cm", reach(r).In(notation.Centimetre)))
		case sized:
			cells = append(cells, "-")
		}
		if judged {
			cells = append(cells, cmp.Or(r.Lies, "-"))
		}
		row(cells...)
	}
	tw.Flush() // to out, which remembers an error
}

func symmetryText(s model.Symmetry) string {
	turns := fmt.Sprintf("the same %d times round", s.Rotation)
	switch {
	case s.Rotation > 1 && s.Mirror:
		return "Symmetry: " + turns + ", and in a mirror."
	case s.Rotation > 1:
		return "Symmetry: " + turns + ", not in a mirror."
	case s.Mirror:
		return "Symmetry: the same in a mirror."
	}
	return "Symmetry: none."
}

// stitchOrder lists the stitch names of a piece from short to tall, as the
// columns of a table should read.
func stitchOrder(g *model.Graph) []string {
	kinds := g.Kinds()
	slices.SortStableFunc(kinds, func(a, b model.Kind) int { return cmp.Compare(a.Height, b.Height) })
	var order []string
	for _, k := range kinds {
		if !slices.Contains(order, k.Name) {
			order = append(order, k.Name)
		}
	}
	return order
}

func listed(order []string, counts map[string]int, terms notation.Terms) string {
	var parts []string
	for _, name := range order {
		if n := counts[name]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, terms.Name(name)))
		}
	}
	if len(parts) == 0 {
		return "-"
	}
	return strings.Join(parts, ", ")
}

// sidesText says what each side holds: once when all are alike.
func sidesText(order []string, sides []map[string]int, terms notation.Terms) string {
	if len(sides) == 0 {
		return "-"
	}
	texts := make([]string, len(sides))
	alike := true
	for i, s := range sides {
		texts[i] = listed(order, s, terms)
		alike = alike && texts[i] == texts[0]
	}
	if alike {
		return texts[0]
	}
	if len(texts) > 8 {
		texts = append(texts[:7:7], "...")
	}
	return strings.Join(texts, " | ")
}
