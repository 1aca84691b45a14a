package pattern

import (
	"fmt"
	"maps"
	"slices"
	"sort"
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
	// begins is the stitch that each written round begins with. The round is
	// joined to it, so that is where the hook is then, unless the yarn is cut.
	begins   []int
	lastYarn int          // that the round before ended with
	joins    map[int]bool // rounds of a spiral that are known to be joined, or not

	notes *notes
}

// notes are what has come up in the rounds that the reader must be told.
type notes struct {
	unsaid, chainless, standing, uncounted, counted bool // starts
	carries, invisible, corners, gaps, earlier      bool
	edges                                           bool            // places of an edge are counted
	kinds                                           map[string]bool // stitches worked, by American name
	firsts                                          map[string]bool // those that rounds begin with
}

// newPieces prepares a motif for writing, and the borders of what it is made
// up into.
func newPieces(l *language, d *notation.Draft, g *model.Graph) []*piece {
	notes := &notes{kinds: map[string]bool{}, firsts: map[string]bool{}}
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
	// Text says what is worked, Count what comes out.
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
// letter are put together.
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
	return list
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
		p.begins = append(p.begins, r.First)
		out.Text = "Nothing is worked in this round."
		return out
	}
	read := p.reader(i)
	s := p.start(read)
	p.begins = append(p.begins, read.start)
	text := append(s.sentences, sentence(s.lead+strings.Join(append(s.clause, read.body(s)...), ", ")+read.join(s)))
	text = append(text, p.ending(i)...)
	p.lastYarn = read.node(-1).Yarn
	out.Text = strings.Join(text, " ")
	out.Count = p.count(i)
	return out
}

// A start is how a round begins.
type start struct {
	sentences []string // before the steps
	lead      string   // how the sentence of the steps begins
	clause    []string // the first of the steps
	// done is how many entries of the first unit are in the clause.
	done int
	// top names what the round is joined to at its end.
	top string
}

// body words the steps of a round after its start.
func (r *reader) body(s start) []string {
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

// start writes how a round begins, and chooses the stitch it begins with.
func (p *piece) start(r *reader) start {
	first := r.node(0)
	fresh := !p.live[first.Yarn]
	on := r.goesOn()
	if !on && !r.onRing() {
		r.begin(fresh)
		first = r.node(0)
	}
	switch {
	case on:
		r.setSeam(r.spiralSeam())
	case !first.IsStitch():
		r.setSeam(r.seamAtHook(fresh))
	}
	var s start
	u := r.unit(0)
	to := u.places
	if last, ok := r.spots(0)[r.base]; ok && !first.IsStitch() && !on && r.seam == nil {
		// The chains can hang nowhere but from the place worked into last.
		to = []model.Place{last.Place}
		r.seam = &seam{from: last, to: last, in: &last.Place}
	}
	style := r.round.Start
	if on || first.Start || !first.IsStitch() {
		style = notation.StartUnsaid
	}
	stands := first.IsStitch() && len(u.places) == 1 && style == notation.StandingStitch && fresh && !r.onRing()
	switch {
	case on:
		if first.Yarn != p.lastYarn {
			s.clause = append(s.clause, "with "+p.yarnName(first.Yarn))
		}
	case r.onRing():
		s.sentences = append(s.sentences, r.travel(to)...)
	case fresh && stands:
	case fresh:
		s.sentences = append(s.sentences, fmt.Sprintf("Join %s with %s in %s.", p.yarnName(first.Yarn), p.slip, r.where(to)))
	default:
		s.sentences = append(s.sentences, r.travel(to)...)
	}
	if !first.IsStitch() {
		s.top = "base of first ch"
		return s
	}
	kind := p.kinds[first.Kind]
	name := p.stitch(kind.Name)
	s.top = "first " + name
	if first.Corner {
		name = "corner " + name
	}
	one := len(u.places) == 1
	here := " in ring"
	if !one || u.places[0].Kind != notation.RingHole {
		here = ""
		if one {
			here = " " + into(u.places[0], u.post) + "same " + kindWord(u.places[0])
		}
	}
	chains, counted := p.g.Stitch(first.ID).Chains, first.Start
	if style == notation.ChainCounts && one && size.ChainCounts(kind) {
		chains, counted = size.StartingChains(kind), true
	}
	// What stands together over a ring is said together.
	start := func(text, where string) {
		s.done = 1
		if rest := u.from + 1; rest < u.to && u.places[0].Kind == notation.RingHole && r.gaps {
			list, _, _ := r.inside(rest, u.to)
			text, where = "("+strings.Join(append([]string{text}, list...), ", ")+")", " in ring"
			s.done = u.to - u.from
		}
		s.clause = append(s.clause, text+where)
	}
	switch {
	case counted:
		p.notes.counted = true
		s.top = fmt.Sprintf("top of starting ch-%d", chains)
		start(fmt.Sprintf("ch %d (counts as %s)", chains, name), "")
	case stands:
		p.notes.standing = true
		s.clause = append(s.clause, fmt.Sprintf("with %s, standing %s %s%s", p.yarnName(first.Yarn), name, into(u.places[0], u.post), r.where(to)))
		s.done = 1
	case one && (style == notation.StandingStitch || style == notation.ChainlessStitch) && kind.Height > model.ExtendedSingle:
		p.notes.chainless = true
		start("chainless "+name, here)
	case style != notation.StartUnsaid && size.StartingChains(kind) > 0:
		p.notes.uncounted = true
		s.clause = append(s.clause, fmt.Sprintf("ch %d (does not count as a st)", size.StartingChains(kind)))
	case style == notation.StartUnsaid:
		p.notes.unsaid = p.notes.unsaid || !on
		p.notes.firsts[kind.Name] = p.notes.firsts[kind.Name] || size.ChainCounts(kind) || kind.Name == "sc"
	}
	if s.done == 0 && !on && len(u.places) > 0 && u.places[0].Kind != notation.RingHole {
		s.lead = strings.Join(append(s.clause, "starting in same "+kindWord(u.places[0])+": "), ", ")
		s.clause = nil
	}
	return s
}

// begin chooses where the written round begins: as drafted where the hook comes
// past there soon, and otherwise where the hook is.
func (r *reader) begin(fresh bool) {
	first, last := r.node(0), r.node(-1)
	movable := !first.Start && !r.colourful && (first.IsStitch() || last.IsStitch())
	if !movable {
		return
	}
	if fresh {
		// New yarn is joined where a stitch is to be.
		for k := range r.round.Len {
			if n := r.node(k); n.IsStitch() {
				r.start = n.ID
				break
			}
		}
		return
	}
	if r.base.n == 0 || r.base.ring {
		return
	}
	if !first.IsStitch() {
		if r.staysWithin(r.seamAtHook(false)) {
			return
		}
	} else if u := r.unit(0); len(u.places) == 0 || r.under(u.places[0]) != r.base || r.ahead(u.places[0]) <= r.base.n {
		return
	}
	// The start lies behind the hook.
	best, nearest := r.start, 2*r.base.n
	for k := 0; k < r.round.Len; {
		u := r.unit(k)
		if len(u.places) > 0 && r.under(u.places[0]) == r.base {
			if d := r.ahead(u.places[0]); d < nearest {
				best, nearest = r.node(k).ID, d
			}
		}
		k = max(u.to, k+1)
	}
	// The beginning of a repeat is better, if it is near and this side of a
	// corner.
	var w wordings
	whole := r.line(&w, 0, r.round.Len, 0)
	n := period(whole.steps)
	for i := n; i < len(whole.steps); i += n {
		u := r.unit(whole.at[i])
		if len(u.places) == 0 || r.under(u.places[0]) != r.base {
			continue
		}
		if d := r.ahead(u.places[0]); d <= nearest+2*nearBy && !r.passesCorner(d) {
			best = r.node(whole.at[i]).ID
			break
		}
	}
	r.start = best
}

// nearBy is how many slip stitches one would rather make than begin a round
// within a repeat: common practice, no source.
const nearBy = 4

// hook is the position of the place where the round before was joined.
func (r *reader) hook() int {
	if r.base.index < 0 {
		return 0 // the first stitch, or the first chain of a ring
	}
	top := r.begins[r.base.index]
	n := r.g.Node(top)
	at := r.base.turned(2 * (top - r.base.first))
	if !n.IsStitch() { // joined to the base of chains
		if r.base.reversed {
			return at + 1
		}
		return at - 1
	}
	return at
}

// ahead is how many positions the hook is before a place.
func (r *reader) ahead(p model.Place) int {
	turn := 2 * r.base.n
	return ((r.base.position(p)-r.hook())%turn + turn) % turn
}

// passesCorner reports whether there is a corner less than so many positions
// ahead of the hook.
func (r *reader) passesCorner(ahead int) bool {
	turn := 2 * r.base.n
	for at := r.hook() + 1; at < r.hook()+ahead; at++ {
		if p := (at + turn) % turn; p%2 == 0 && r.base.at(p).Corner {
			return true
		}
	}
	return false
}

// travel words the slip stitches from where the hook is to the first of the
// places given.
func (r *reader) travel(to []model.Place) []string {
	if len(to) == 0 {
		return nil
	}
	p := to[0]
	e := r.under(p)
	slips := func(where string) []string {
		return []string{fmt.Sprintf("%s in %s.", sentence(r.slip), where)}
	}
	switch {
	case e == nil:
		return nil
	case e != r.base:
		return slips(r.ordinal(p))
	}
	if e.ring {
		if n := e.chain(p) - 1; p.Kind == notation.Ch && n > 0 {
			return slips(nounOf("ch").next(n) + " of ring")
		}
		return nil
	}
	var words []string
	var last noun
	n := 0
	add := func(what noun, count int) {
		if what != last && n > 0 {
			words = append(words, last.next(n))
			n = 0
		}
		last = what
		n += count
	}
	at, end := r.hook(), r.hook()+r.ahead(p)
	for at < end {
		at++
		node := e.at((at + 2*e.n) % (2 * e.n))
		switch {
		case at == end && p.Kind == notation.Ch:
			add(nounOf("ch"), e.chain(p))
		case at == end:
			add(r.noun(p, true), 1)
		case at%2 != 0:
		case node.IsStitch():
			add(nounOf("st"), 1)
		case r.kinds[node.Kind].Name == "ch":
			add(r.noun(model.Place{Kind: notation.Sp, Stitch: node.ID}, false), 1)
		}
	}
	if n == 0 {
		return nil
	}
	return slips(and(append(words, last.next(n))))
}

// where names the first of the places given, which new yarn is joined in.
func (r *reader) where(to []model.Place) string {
	if len(to) == 0 { // chains only: any place will do
		if r.base.n == 0 {
			return "ring"
		}
		return r.ordinal(r.base.place(r.firstPlace()))
	}
	p := to[0]
	e := r.under(p)
	if e == nil {
		return "ring"
	}
	if p.Kind == notation.Ch {
		run := model.Place{Kind: notation.Sp, Stitch: p.Stitch}
		return fmt.Sprintf("%s ch of %s", ordinal(e.chain(p)), r.where([]model.Place{run}))
	}
	if e == r.base && !e.ring {
		what := r.noun(p, false)
		if r.alike(e, what, p.Kind) {
			return "any " + what.one
		}
		before := e.at((e.position(p) - 2 + 2*e.n) % (2 * e.n))
		if p.Kind == notation.St && (before.Corner || !before.IsStitch()) && r.kinds[before.Kind].Name != "picot" {
			mark := model.Place{Kind: notation.St, Stitch: before.ID}
			if !before.IsStitch() {
				mark.Kind = notation.Sp
			}
			if what := r.noun(mark, false); r.alike(e, what, mark.Kind) {
				return "first st after any " + what.one
			}
		}
	}
	return r.ordinal(p)
}

// alike reports whether there are several places of a noun on an edge, and it
// makes no difference which is taken.
func (r *reader) alike(e *edge, what noun, kind notation.PlaceKind) bool {
	n := 0
	for k := range e.n {
		if r.is(kind, what, e.first+k) {
			n++
		}
	}
	return n > 1 && r.repeats(e.index, n)
}

// repeats reports whether a round and all it stands on look the same after 1/n
// of a turn.
func (p *piece) repeats(round, n int) bool {
	if p.g.Round(0).Below < 0 && p.g.Round(0).First > 0 && p.g.Ring == 0 { // on an edge
		for i := -1; i <= round; i++ {
			if !p.turnsInto(i, n) {
				return false
			}
		}
		return true
	}
	rotation := p.g.Round(round).Rotation()
	return rotation > 0 && rotation%n == 0
}

// turnsInto reports whether one round looks the same after 1/n of a turn, if
// those below do; -1 is the foundation.
func (p *piece) turnsInto(round, n int) bool {
	span := func(i int) (first, length int) {
		if i < 0 {
			return 0, p.g.Round(0).First
		}
		return p.g.Round(i).First, p.g.Round(i).Len
	}
	first, length := span(round)
	if length%n != 0 {
		return false
	}
	// after is where a stitch of a round comes to lie.
	after := func(id int) (int, bool) {
		i := p.roundOf(id)
		first, length := span(i)
		by := length / n
		if (i >= 0 && p.g.Round(i).Turned) != (round >= 0 && p.g.Round(round).Turned) {
			by = length - by
		}
		return first + (id-first+by)%length, length%n == 0
	}
	for id := first; id < first+length; id++ {
		to, _ := after(id)
		x, y := p.g.Node(id), p.g.Node(to)
		if x.Kind != y.Kind || x.Yarn != y.Yarn || x.Chains != y.Chains || x.Corner != y.Corner || x.Gap != y.Gap || x.Loop != y.Loop || x.Legs != y.Legs || x.Sits != y.Sits {
			return false
		}
		if round < 0 {
			continue
		}
		places := slices.Collect(p.g.Into(to))
		i := 0
		for q := range p.g.Into(id) {
			if q.Stitch >= 0 {
				moved, ok := after(q.Stitch)
				if !ok {
					return false
				}
				q.Stitch = moved
			}
			if q != places[i] {
				return false
			}
			i++
		}
	}
	return true
}

// roundOf returns the index of the round that a stitch belongs to, -1 for the
// foundation.
func (p *piece) roundOf(id int) int {
	return sort.Search(p.g.NumRounds(), func(i int) bool { return p.g.Round(i).First > id }) - 1
}

// ordinal names a place by its number among its like, in the order in which
// its round is written.
func (r *reader) ordinal(p model.Place) string {
	e := r.under(p)
	if e.ring {
		return "first " + r.noun(p, true).one + r.ofEdge(e)
	}
	begin, of := e.first, " of the edge"
	if e.index >= 0 {
		begin, of = r.begins[e.index], fmt.Sprintf(" of Rnd %d", r.g.Round(e.index).Number)
	} else {
		r.notes.edges = true
	}
	what := r.noun(p, p.Kind == notation.St)
	n := 0
	for k := range e.n {
		id := e.first + (begin-e.first+k)%e.n
		if r.is(p.Kind, what, id) {
			n++
		}
		if id == p.Stitch {
			break
		}
	}
	return ordinal(n) + " " + what.one + of
}

// is reports whether a stitch, space or gap goes by a noun.
func (r *reader) is(kind notation.PlaceKind, what noun, id int) bool {
	node := r.g.Node(id)
	switch kind {
	case notation.St:
		if !node.IsStitch() {
			return false
		}
	case notation.Gap:
		if !node.Gap {
			return false
		}
	case notation.Sp:
		if r.kinds[node.Kind].Name != "ch" {
			return false
		}
	}
	return r.noun(model.Place{Kind: kind, Stitch: id}, kind == notation.St && what.one == "st") == what
}

// join words how a round is closed.
func (r *reader) join(s start) string {
	last := r.index == r.g.NumRounds()-1
	invisible := false
	for _, st := range r.g.Steps(r.index) {
		if j, ok := st.(*notation.Join); ok {
			invisible = j.Invisible
		}
	}
	turn := ""
	if !last && r.g.Round(r.index+1).Turned != r.round.Turned {
		turn = "; turn"
	}
	switch {
	case invisible:
		r.notes.invisible = true
		return fmt.Sprintf("; close with an invisible join over %s%s.", s.top, turn)
	case r.joined(r.index):
		text := fmt.Sprintf("; join with %s to %s", r.slip, s.top)
		if next := r.nextYarn(); next >= 0 && next != r.node(-1).Yarn && r.uses(r.index, next) {
			text += ", changing to " + r.yarnName(next)
		}
		return text + turn + "."
	case last || size.CutsYarn(r.g, r.index):
		return fmt.Sprintf("; %s in next st%s.", r.slip, turn)
	}
	return turn + "."
}

// joined reports whether a round is closed with a join: in a spiral only where
// the draft says so, or the next round does not go on from there.
func (p *piece) joined(i int) bool {
	if p.draft.Succession() != notation.Spiral {
		return true
	}
	joined, known := p.joins[i]
	if !known {
		joined = p.needsJoin(i)
		p.joins[i] = joined
	}
	return joined
}

func (p *piece) needsJoin(i int) bool {
	for _, s := range p.g.Steps(i) {
		if _, ok := s.(*notation.Join); ok {
			return true
		}
	}
	if i+1 == p.g.NumRounds() || size.CutsYarn(p.g, i) {
		return false
	}
	r := p.g.Round(i + 1)
	if r.Statement.Start != notation.StartUnsaid || r.Len > 0 && p.g.Node(r.First).Start {
		return true // it has a start of its own
	}
	next := p.reader(i + 1)
	return !next.staysWithin(next.spiralSeam())
}

// nextYarn is the yarn that the next round begins with, -1 when there is none.
func (r *reader) nextYarn() int {
	if r.index+1 >= r.g.NumRounds() || r.g.Round(r.index+1).Len == 0 {
		return -1
	}
	return r.g.Node(r.g.Round(r.index + 1).First).Yarn
}

func (p *piece) uses(round, yarn int) bool {
	for _, e := range p.g.Entries(round) {
		if e.Yarn() == yarn {
			return true
		}
	}
	return false
}

// ending words which yarns are cut after a round: those that the next does not
// use, and all where the draft says so.
func (p *piece) ending(i int) []string {
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
	var off []string
	for _, y := range slices.Sorted(maps.Keys(used)) {
		if !cut && next[y] {
			p.live[y] = true
			continue
		}
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

// count writes what a round holds: the stitches by kind, the spaces by length,
// picots, and what stands on each side where the sides are alike.
func (p *piece) count(i int) string {
	c := p.g.Counts(i)
	var parts, kinds []string
	for _, k := range p.byHeight {
		if n := c.Stitches[k.Name]; n > 0 {
			kinds = append(kinds, p.counted(n, k.Name))
			p.notes.kinds[k.Name] = true
		}
	}
	stitches, separator := strings.Join(kinds, ", "), ", "
	if len(kinds) > 1 {
		separator = "; "
		stitches = fmt.Sprintf("%d sts: %s", c.Total, stitches)
	}
	if stitches != "" {
		parts = append(parts, stitches)
	}
	type space struct {
		corner bool
		chains int
	}
	spaces := map[space]int{}
	corners := 0
	for _, e := range p.g.Entries(i) {
		switch {
		case e.IsStitch():
			if e.Corner() {
				corners++
			}
		case p.kinds[e.Kind()].Name == "ch":
			spaces[space{e.Corner(), e.Chains()}]++
		}
	}
	order := slices.SortedFunc(maps.Keys(spaces), func(a, b space) int {
		if a.corner != b.corner {
			if b.corner {
				return -1
			}
			return 1
		}
		return a.chains - b.chains
	})
	for _, s := range order {
		corner := ""
		if s.corner {
			corner = "corner "
		}
		parts = append(parts, fmt.Sprintf("%d %sch-%d %s", spaces[s], corner, s.chains, plural(spaces[s], "sp", "sps")))
	}
	if corners > 0 {
		parts = append(parts, fmt.Sprintf("%d corner %s", corners, plural(corners, "st", "sts")))
	}
	if c.Picots > 0 {
		parts = append(parts, fmt.Sprintf("%d %s", c.Picots, plural(c.Picots, "picot", "picots")))
	}
	if side := p.side(i); side != "" {
		parts = append(parts, side)
	}
	return strings.Join(parts, separator)
}

// counted is a number of stitches, one included.
func (p *piece) counted(n int, us string) string {
	if n == 1 {
		return "1 " + p.stitch(us)
	}
	return p.stitches(n, us)
}

// side writes what each side of a round holds, where all hold the same.
func (p *piece) side(i int) string {
	if p.g.Round(i).Corners() < 2 {
		return ""
	}
	sides := p.g.Sides(i)
	for _, s := range sides[1:] {
		if !maps.Equal(s.Stitches, sides[0].Stitches) {
			return ""
		}
	}
	if sides[0].Total == 0 {
		return ""
	}
	if len(sides[0].Stitches) == 1 {
		for us, n := range sides[0].Stitches {
			return p.counted(n, us) + " per side"
		}
	}
	return fmt.Sprintf("%d %s per side", sides[0].Total, plural(sides[0].Total, "st", "sts"))
}
