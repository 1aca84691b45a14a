package check

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// WriteText writes the findings of a report, one to a line:
//
//	file:line:col: severity: message [rule]
//
// With excerpts each is followed by the line it is about, the place marked
// under it, and the other places that the message speaks of.
func WriteText(w io.Writer, r *Report, excerpts bool) error {
	out := bufio.NewWriter(w)
	var lines []string
	if excerpts {
		lines = strings.Split(r.Source, "\n")
	}
	for _, f := range r.Findings {
		fmt.Fprintf(out, "%s:%d:%d: %s: %s [%s]\n", r.File, f.Span.Start.Line, f.Span.Start.Column, f.Severity, f.Text(), f.Rule)
		if !excerpts {
			continue
		}
		excerpt(out, lines, f.Span)
		for _, rel := range f.Related {
			fmt.Fprintf(out, "    %s:%d:%d: %s\n", r.File, rel.Span.Start.Line, rel.Span.Start.Column, rel.Message)
		}
	}
	return out.Flush()
}

// excerptWidth is how much of a long line an excerpt shows, in runes.
const excerptWidth = 100

// excerpt shows a line with carets under a span. Tabs stay tabs, so that the
// carets stand where the text does; a span over several lines is marked on its
// first; an empty one gets one caret; of a long line the part round the span
// is shown.
func excerpt(w io.Writer, lines []string, s notation.Span) {
	if s.Start.Line < 1 || s.Start.Line > len(lines) {
		return
	}
	line := []rune(strings.TrimRight(lines[s.Start.Line-1], "\r"))
	from := min(s.Start.Column-1, len(line))
	to := len(line)
	if s.End.Line == s.Start.Line {
		to = min(s.End.Column-1, len(line))
	}
	cut := 0
	if len(line) > excerptWidth {
		cut = max(0, min(from-excerptWidth/3, len(line)-excerptWidth))
		line = line[cut:min(len(line), cut+excerptWidth)]
		from, to = from-cut, min(to-cut, len(line))
	}
	to = max(to, from+1)
	lead, tail := "", ""
	if cut > 0 {
		lead = "..."
	}
	if cut+len(line) < utf8.RuneCountInString(lines[s.Start.Line-1])-1 {
		tail = "..."
	}
	pad := []rune(lead)
	for i := range pad {
		pad[i] = ' '
	}
	for _, r := range line[:from] {
		if r != '\t' {
			r = ' '
		}
		pad = append(pad, r)
	}
	shown := strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f || misleading(r) {
			return '\uFFFD'
		}
		return r
	}, string(line))
	fmt.Fprintf(w, "    %s%s%s\n    %s%s\n", lead, shown, tail, string(pad), strings.Repeat("^", to-from))
}

// misleading reports runes that change the direction of the text around them or
// have no width, which would make an excerpt lie.
func misleading(r rune) bool {
	switch {
	case r >= 0x200B && r <= 0x200F, r >= 0x202A && r <= 0x202E, r >= 0x2060 && r <= 0x2069, r == 0xFEFF:
		return true
	}
	return false
}

// A Round is one row of the table of rounds.
type Round struct {
	Round    int              `json:"round"`
	Yarn     string           `json:"yarn"`
	Stitches map[string]int   `json:"stitches"` // by American name
	Total    int              `json:"total"`    // all stitches; chains and picots are none
	Spaces   int              `json:"spaces"`
	Corners  int              `json:"corners"`
	PerSide  []map[string]int `json:"per_side"` // empty without corners
	// Status is left out for a round that is worked as written; otherwise it
	// is "mended", "assumed" or "not worked".
	Status string `json:"status,omitempty"`
}

// RoundTable lists what each round of a piece holds.
func RoundTable(g *model.Graph) []Round {
	table := make([]Round, 0, g.NumRounds())
	for i, r := range g.Rounds() {
		c := g.Counts(i)
		row := Round{
			Round: r.Number, Yarn: r.Yarn, Stitches: c.Stitches, Total: c.Total,
			Spaces: c.Spaces, Corners: c.Corners, PerSide: []map[string]int{},
		}
		for _, side := range g.Sides(i) {
			row.PerSide = append(row.PerSide, side.Stitches)
		}
		if r.Status != model.Worked {
			row.Status = r.Status.String()
		}
		table = append(table, row)
	}
	return table
}

// WriteRounds writes the table of rounds for people, with stitch names in the
// terms of the draft.
func WriteRounds(w io.Writer, g *model.Graph, terms notation.Terms) error {
	if g.Title != "" {
		fmt.Fprintf(w, "%s\n\n", g.Title)
	}
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprint(tw, "rnd\tyarn\tstitches\ttotal\tsp\tcorners\tper side\n")
	order := stitchOrder(g)
	for _, r := range RoundTable(g) {
		yarn := r.Yarn
		if yarn == "" {
			yarn = "-"
		}
		stitches := listed(order, r.Stitches, terms)
		if r.Status != "" {
			stitches += " (" + r.Status + ")"
		}
		fmt.Fprintf(tw, "%d\t%s\t%s\t%d\t%d\t%d\t%s\n", r.Round, yarn, stitches, r.Total, r.Spaces, r.Corners, sidesText(order, r.PerSide, terms))
	}
	return tw.Flush()
}

// stitchOrder lists the stitch names of a piece from short to tall, as the
// columns of a table should read.
func stitchOrder(g *model.Graph) []string {
	var order []string
	seen := map[string]bool{}
	kinds := g.Kinds()
	for h := model.Level; h <= model.TripleTreble; h++ {
		for _, k := range kinds {
			if k.Height == h && !seen[k.Name] {
				seen[k.Name] = true
				order = append(order, k.Name)
			}
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
