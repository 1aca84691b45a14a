package pattern

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A piece is what is being written: one motif, or one border, and how far the
// writing of its rounds has come.
type piece struct {
	*language
	draft *notation.Draft
	g     *model.Graph
	kinds []model.Kind
	// byHeight are the kinds from short to tall.
	byHeight []model.Kind
	yarns    []string
	// picots is the length of all picots of the pattern, 0 when they differ.
	picots int
	// turns tells that the work is turned at some time, so that it matters
	// which side a round is worked from.
	turns bool

	live map[int]bool // yarns that hang from the work
	// begins is how each written round begins. The round is joined to its first
	// stitch, so that is where the hook is then, unless the yarn is cut.
	begins   []Beginning
	lastYarn int          // that the round before ended with
	joins    map[int]bool // rounds of a spiral that are known to be joined, or not

	notes *notes
}

// notes are what has come up in the rounds that the reader must be told.
type notes struct {
	unsaid, chainless, standing, uncounted, counted bool // starts
	carries, invisible, corners, gaps, earlier      bool
	later                                           bool            // a round is started without a word that is not the first of a motif
	series                                          bool            // rounds are written as one with their figures in a row
	edges                                           bool            // places of an edge are counted
	kinds                                           map[string]bool // stitches worked, by American name
	firsts                                          map[string]bool // those that rounds begin with
}

func newNotes() *notes { return &notes{kinds: map[string]bool{}, firsts: map[string]bool{}} }

// newPieces prepares a motif for writing, and the borders of what it is made
// up into.
func newPieces(l *language, d *notation.Draft, g *model.Graph) []*piece {
	notes := newNotes()
	pieces := []*piece{newPiece(l, d, g, notes)}
	for _, b := range g.Borders() {
		pieces = append(pieces, newPiece(l, d, b.Graph, notes))
	}
	if lengths := picotLengths(pieces); len(lengths) == 1 {
		for _, p := range pieces {
			p.picots = lengths[0]
		}
	}
	return pieces
}

func newPiece(l *language, d *notation.Draft, g *model.Graph, notes *notes) *piece {
	p := &piece{language: l, draft: d, g: g, kinds: g.Kinds(), yarns: g.Yarns(), live: map[int]bool{}, joins: map[int]bool{}, notes: notes}
	p.byHeight = slices.SortedStableFunc(slices.Values(p.kinds), func(a, b model.Kind) int { return int(a.Height) - int(b.Height) })
	for _, r := range g.Rounds() {
		p.turns = p.turns || r.Turned
	}
	return p
}

// picotLengths lists the chains of all picots.
func picotLengths(pieces []*piece) []int {
	var list []int
	for _, p := range pieces {
		for i := range p.g.NumRounds() {
			if p.g.Counts(i).Picots == 0 {
				continue
			}
			for n := range p.g.Nodes(i) {
				if p.kinds[n.Kind].Name == "picot" && !slices.Contains(list, n.Chains) {
					list = append(list, n.Chains)
				}
			}
		}
	}
	slices.Sort(list)
	return list
}

// picot names a picot: by the chains in it where they differ.
func (p *piece) picot(n model.Node) string {
	if p.picots == n.Chains {
		return "picot"
	}
	return fmt.Sprintf("ch-%d picot", n.Chains)
}

// A Round is one written round, or several that are worked alike.
type Round struct {
	From, To int // numbers in the draft; To equals From for one
	// Side is "RS" or "WS" in a piece that is turned, "" in one that is not.
	Side string
	// Text says what is worked, Count what comes out. A figure that differs
	// from round to round is given for each: "dc in next 7/11/15/19/23 sts".
	Text, Count string
}

// Label is what a round is headed with: "Rnd 3", "Rnds 7-9 (WS)".
func (r Round) Label() string {
	label := fmt.Sprintf("Rnd %d", r.From)
	if r.To > r.From {
		label = fmt.Sprintf("Rnds %d-%d", r.From, r.To)
	}
	if r.Side != "" {
		label += " (" + r.Side + ")"
	}
	return label
}

// rounds writes all rounds of a piece. Rounds whose text is the same to the
// letter are put together, and many that differ in their figures alone.
func (p *piece) rounds() []Round {
	var list []Round
	for i := range p.g.NumRounds() {
		next := p.round(i)
		if k := len(list) - 1; k >= 0 && list[k].Text == next.Text && list[k].Count == next.Count && list[k].Side == next.Side && list[k].To+1 == next.From {
			list[k].To = next.To
			continue
		}
		list = append(list, next)
	}
	return p.inSeries(list)
}

func (p *piece) round(i int) Round {
	r := p.g.Round(i)
	out := Round{From: r.Number, To: r.Number}
	if p.turns {
		out.Side = "RS"
		if r.Turned {
			out.Side = "WS"
		}
	}
	if r.Len == 0 {
		p.begins = append(p.begins, Beginning{First: r.First})
		out.Text = "Nothing is worked in this round."
		return out
	}
	read := p.reader(i)
	s := p.start(read)
	steps := append(s.clause, read.body(s)...)
	off := p.leave(i)
	text := append(append(read.aside(), s.sentences...), sentence(s.lead+strings.Join(steps, ", ")+read.join(s)))
	text = append(text, p.ending(off)...)
	out.Text = strings.Join(text, " ")
	out.Count = p.count(i)
	return out
}

// ring writes how the centre is made.
func (p *piece) ring() string {
	if p.g.NumRounds() == 0 || p.g.Round(0).Len == 0 {
		return ""
	}
	with := ""
	if yarn := p.g.Node(p.g.Round(0).First).Yarn; yarn > 0 {
		with = "with " + p.yarnName(yarn) + ", "
		p.live[yarn] = true
	}
	if p.g.Ring > 0 {
		return sentence(fmt.Sprintf("%sch %d; join with %s to first ch to form a ring.", with, p.g.Ring, p.slip))
	}
	return sentence(with + "make an adjustable ring.")
}

// body words the steps of a round after its start.
func (r *reader) body(s *start) []string {
	var w wordings
	whole := r.line(&w, 0, r.round.Len, 0)
	steps := whole.steps
	n := period(steps)
	times := len(steps) / n
	switch {
	case times == 1 && s.done == 0:
		if len(steps) == 1 {
			if all := whole.all(); all != "" {
				return []string{all}
			}
		}
		if strings.HasPrefix(w.text[steps[0]], "with ") { // which yarn it is has been said
			steps = steps[1:]
		}
		return w.list(steps, 0)
	case times == 1:
		return w.list(r.line(&w, 0, r.round.Len, s.done).steps, 0)
	case s.done == 0:
		return []string{w.repeat(steps[:n], times, 0)}
	}
	// The first repeat has the start in it and is written out; a round that does
	// not begin with a repeat has a part of one at both ends.
	head := n
	if r.start != r.round.First {
		head = 1 + slices.IndexFunc(steps[1:n], func(s step) bool { return strings.HasPrefix(w.text[s], "(") })
	}
	if head == 0 {
		head = n
	}
	if head < n && strings.HasPrefix(w.text[steps[head-1]], "with ") {
		head-- // it is a part of what comes
	}
	out := w.list(r.line(&w, 0, whole.at[head], s.done).steps, 0)
	if times == 2 {
		return append(out, w.list(steps[head:], 0)...)
	}
	out = append(out, w.repeat(steps[head:head+n], times-1, 0))
	return append(out, w.list(steps[head+(times-1)*n:], 0)...)
}

// all words a line that does one thing in every stitch of an edge, or every
// chain of a ring; "" when it does not.
func (l *line) all() string {
	e := l.under(l.into)
	switch {
	case l.worked == 0 || l.post || e == nil:
	case e.ring:
		if l.into.Kind == notation.Ch && l.worked == l.g.Ring {
			return l.head + " " + into(l.into, false) + "each ch of ring"
		}
	case l.into.Kind == notation.St && l.worked == e.stitches():
		return l.head + " " + into(l.into, false) + "each st" + l.ofEdge(e) + " around"
	}
	return ""
}

// leave goes from one round to the next. It returns the yarns that are cut
// between them: those that the next does not use, and all where the draft says
// so.
func (p *piece) leave(i int) (off []int) {
	used := map[int]bool{}
	for _, e := range p.g.Entries(i) {
		used[e.Yarn()] = true
	}
	cut := size.CutsYarn(p.g, i)
	next := map[int]bool{}
	if i+1 < p.g.NumRounds() {
		for _, e := range p.g.Entries(i + 1) {
			next[e.Yarn()] = true
		}
	}
	p.live = map[int]bool{}
	for _, y := range slices.Sorted(maps.Keys(used)) {
		if !cut && next[y] {
			p.live[y] = true
			continue
		}
		off = append(off, y)
	}
	return off
}

// ending words which yarns are cut.
func (p *piece) ending(yarns []int) []string {
	var off []string
	for _, y := range yarns {
		off = append(off, p.yarnName(y))
	}
	switch {
	case len(off) == 0:
		return nil
	case len(p.yarns) < 2:
		return []string{"Fasten off."}
	}
	return []string{"Fasten off " + and(off) + "."}
}
