package pattern

import (
	"fmt"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A start is how a round begins.
type start struct {
	*reader
	Beginning
	first model.Node    // the stitch, or run of chains, it begins with
	unit  unit          // what is worked into the first place; empty when it begins with chains
	to    []model.Place // where the yarn must be
	fresh bool          // the yarn must be joined
	on    bool          // it goes on from the round below without a join
	// slipsOn is set where the first stitch is itself the slip stitch that leads
	// to the first place.
	slipsOn bool

	sentences []string // before the steps
	lead      string   // how the sentence of the steps begins
	clause    []string // the first of the steps
	// done is how many entries of the unit are in the clause.
	done int
	// top names what the round is joined to at its end.
	top string
}

// start writes how a round begins, and chooses the stitch it begins with.
func (p *piece) start(r *reader) *start {
	s := &start{reader: r, on: r.goesOn()}
	if !s.on && !r.onRing() {
		r.begin()
	}
	s.fresh = !p.live[r.node(0).Yarn]
	s.write()
	s.First = r.start
	p.begins = append(p.begins, s.Beginning)
	s.Close = r.closing() // the next round may go on from this one
	p.begins[r.index].Close = s.Close
	p.lastYarn = r.node(-1).Yarn
	return s
}

// write finds the words for it.
func (s *start) write() {
	r := s.reader
	s.first, s.unit = r.node(0), r.unit(0)
	s.to = s.unit.places
	switch {
	case s.on:
		r.setSeam(r.spiralSeam())
	case !s.first.IsStitch():
		r.setSeam(r.seamAtHook(s.fresh))
		if last, ok := r.spots(0)[r.base]; ok && r.seam == nil {
			// The chains can hang nowhere but from the place worked into last.
			s.to = []model.Place{last.Place}
			r.seam = &seam{from: last, to: last, in: &last.Place}
		}
	}
	stands := s.stands()
	s.attach(stands)
	if !s.first.IsStitch() {
		s.top = "base of first ch"
		return
	}
	s.begun(stands)
	if s.done == 0 && !s.on && !s.slipsOn && len(s.to) > 0 && s.to[0].Kind != notation.RingHole {
		s.lead = strings.Join(append(s.clause, "starting in same "+kindWord(s.to[0])+": "), ", ")
		s.clause = nil
	}
}

// style is how the first stitch is to be made, where that is open.
func (s *start) style() notation.Start {
	if s.on || s.first.Start || !s.first.IsStitch() {
		return notation.StartUnsaid
	}
	return s.round.Start
}

// stands reports whether the first stitch is a standing one: it takes a new end
// of yarn.
func (s *start) stands() bool {
	return s.style() == notation.StandingStitch && s.fresh && !s.onRing() && len(s.to) == 1
}

// attach brings the yarn to the first place.
func (s *start) attach(stands bool) {
	switch {
	case s.on:
		if s.first.Yarn != s.lastYarn {
			s.clause = append(s.clause, "with "+s.yarnName(s.first.Yarn))
		}
	case !s.fresh || s.onRing():
		s.sentences = s.travel(s.to)
	case stands:
	case s.slipsFirst():
		s.make(fmt.Sprintf("join %s with %s (counts as %[2]s)", s.yarnName(s.first.Yarn), s.slip), into(s.to[0], false)+s.where(s.to))
	default:
		s.sentences = []string{fmt.Sprintf("Join %s with %s in %s.", s.yarnName(s.first.Yarn), s.slip, s.where(s.to))}
	}
}

// slipsFirst reports whether the first stitch is a plain slip stitch, which needs
// no other to come to its place.
func (s *start) slipsFirst() bool {
	return s.first.IsStitch() && !s.first.Start && s.kinds[s.first.Kind].Name == "sl st" && len(s.to) == 1
}

// begun makes the first stitch, or the chain before it.
func (s *start) begun(stands bool) {
	kind, style := s.kinds[s.first.Kind], s.style()
	name := s.named(s.first)
	s.top = "first " + s.stitch(kind.Name)
	one := len(s.to) == 1
	s.Chains, s.Counts = s.g.Stitch(s.first.ID).Chains, s.first.Start
	if style == notation.ChainCounts && one && size.ChainCounts(kind) {
		s.Chains, s.Counts = size.StartingChains(kind), true
	}
	chainless := style == notation.ChainlessStitch || style == notation.StandingStitch
	switch {
	case s.Counts:
		s.notes.counted = true
		s.top = fmt.Sprintf("top of starting ch-%d", s.Chains)
		s.make(fmt.Sprintf("ch %d (counts as %s)", s.Chains, name), "")
	case stands:
		s.notes.standing = true
		s.make("with "+s.yarnName(s.first.Yarn)+", standing "+name, into(s.to[0], s.unit.post)+s.where(s.to))
	case one && chainless && kind.Height > model.ExtendedSingle:
		s.notes.chainless = true
		where := "in ring"
		if s.to[0].Kind != notation.RingHole {
			where = into(s.to[0], s.unit.post) + "same " + kindWord(s.to[0])
		}
		s.make("chainless "+name, where)
	case style == notation.StartUnsaid:
		if !s.on {
			s.notes.unsaid = true
			s.notes.later = s.notes.later || s.index > 0 || s.base.n > 0 && !s.base.ring
			s.notes.firsts[kind.Name] = true
		}
	case size.StartingChains(kind) > 0:
		s.notes.uncounted = true
		s.Chains = size.StartingChains(kind)
		s.clause = append(s.clause, fmt.Sprintf("ch %d (does not count as a st)", s.Chains))
	}
}

// make makes the first stitch. What stands together over a ring is said
// together.
func (s *start) make(text, where string) {
	s.done = 1
	if rest := s.unit.from + 1; rest < s.unit.to && s.to[0].Kind == notation.RingHole && s.gaps {
		list, _, _ := s.inside(rest, s.unit.to)
		text, where = "("+strings.Join(append([]string{text}, list...), ", ")+")", "in ring"
		s.done = s.unit.to - s.unit.from
	}
	if where != "" {
		text += " " + where
	}
	s.clause = append(s.clause, text)
}

// begin chooses where the written round begins: as drafted where the hook comes
// past there soon and the yarn for it hangs there, and otherwise where the hook
// is.
func (r *reader) begin() {
	first, last := r.node(0), r.node(-1)
	movable := !first.Start && (first.IsStitch() || last.IsStitch())
	if !movable {
		return
	}
	yarn := r.inHand()
	if !r.live[yarn] {
		// New yarn is joined where a stitch is to be.
		for k := range r.round.Len {
			if n := r.node(k); n.IsStitch() && n.Yarn == yarn {
				r.start = n.ID
				break
			}
		}
		return
	}
	if r.base.n == 0 || r.base.ring {
		return
	}
	switch {
	case first.Yarn != yarn:
	case !first.IsStitch():
		if r.staysWithin(r.seamAtHook(false)) {
			return
		}
	default:
		if u := r.unit(0); len(u.places) == 0 || r.under(u.places[0]) != r.base || r.ahead(u.places[0]) <= r.base.n {
			return
		}
	}
	// The start lies behind the hook, or is for another yarn.
	best, nearest := r.start, 2*r.base.n
	for k := 0; k < r.round.Len; {
		u := r.unit(k)
		if r.mayBegin(u, yarn) {
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
		if !r.mayBegin(u, yarn) {
			continue
		}
		if d := r.ahead(u.places[0]); d <= nearest+2*nearBy && !r.passesCorner(d) {
			best = r.node(whole.at[i]).ID
			break
		}
	}
	r.start = best
}

// inHand is the yarn that the round had better begin with: that of its first
// stitch, unless that must be joined and another of the round hangs from the
// work.
func (r *reader) inHand() int {
	first := r.node(0).Yarn
	if r.live[first] {
		return first
	}
	for k := range r.round.Len {
		if n := r.node(k); n.IsStitch() && r.live[n.Yarn] {
			return n.Yarn
		}
	}
	return first
}

// mayBegin reports whether a round that begins with some yarn may begin with a
// unit of it: on the edge below, and not in the middle of what one stitch or space
// holds.
func (r *reader) mayBegin(u unit, yarn int) bool {
	if len(u.places) == 0 || u.yarn != yarn || r.under(u.places[0]) != r.base {
		return false
	}
	first, before := r.node(u.from), r.node(u.from-1)
	for k := u.from - 2; !before.IsStitch() && k > u.from-r.round.Len; k-- {
		before = r.node(k)
	}
	return !before.IsStitch() || before.Place != first.Place || before.Below != first.Below
}

// nearBy is how many slip stitches one would rather make than begin a round
// within a repeat: common practice, no source.
const nearBy = 4

// hook is the position of the place where the round before was joined.
func (r *reader) hook() int {
	if r.base.index < 0 {
		return 0 // the first stitch, or the first chain of a ring
	}
	top := r.begins[r.base.index].First
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
func (s *start) travel(to []model.Place) []string {
	if len(to) == 0 {
		return nil
	}
	p := to[0]
	e := s.under(p)
	slips := func(where string) []string {
		return []string{fmt.Sprintf("%s in %s.", sentence(s.slip), where)}
	}
	switch {
	case e == nil:
		return nil
	case e != s.base:
		s.Slips = []model.Place{p}
		return slips(s.ordinal(p))
	}
	if e.ring {
		n := e.chain(p) - 1
		if p.Kind != notation.Ch || n < 1 {
			return nil
		}
		s.slipChains(p, 2)
		return slips(nounOf("ch").next(n) + " of ring")
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
	at, end := s.hook(), s.hook()+s.ahead(p)
	for at < end {
		at++
		node := e.at((at + 2*e.n) % (2 * e.n))
		over := model.Place{Kind: notation.Sp, Stitch: node.ID}
		if node.IsStitch() {
			over.Kind = notation.St
		}
		switch {
		case at == end && p.Kind == notation.Ch:
			add(nounOf("ch"), e.chain(p))
			s.slipChains(p, 1)
			continue
		case at == end && s.slipsFirst():
			s.slipsOn = true
			continue
		case at == end:
			over = p
			add(s.noun(p, true), 1)
		case at%2 != 0:
			continue
		case node.IsStitch():
			add(nounOf("st"), 1)
		case s.kinds[node.Kind].Name == "ch":
			add(s.noun(over, false), 1)
		default:
			continue
		}
		s.Slips = append(s.Slips, over)
	}
	if n == 0 {
		return nil
	}
	return slips(and(append(words, last.next(n))))
}

// slipChains slips along the chains of a run, from one of them up to a place.
func (s *start) slipChains(to model.Place, from int) {
	e := s.under(to)
	for n := from; n <= e.chain(to); n++ {
		at := to
		at.Chain = n
		if e.reversed {
			at.Chain = e.g.Node(to.Stitch).Chains - n + 1
		}
		s.Slips = append(s.Slips, at)
	}
}

// closing is how a round is closed.
func (r *reader) closing() Close {
	invisible := false
	for _, st := range r.g.Steps(r.index) {
		if j, ok := st.(*notation.Join); ok {
			invisible = j.Invisible
		}
	}
	switch {
	case invisible:
		return CloseInvisible
	case r.joined(r.index):
		return CloseJoined
	case r.index == r.g.NumRounds()-1 || size.CutsYarn(r.g, r.index):
		return CloseNext
	}
	return Unclosed
}

// join words how a round is closed.
func (r *reader) join(s *start) string {
	turn := ""
	if r.index+1 < r.g.NumRounds() && r.g.Round(r.index+1).Turned != r.round.Turned {
		turn = "; turn"
	}
	switch s.Close {
	case CloseInvisible:
		r.notes.invisible = true
		return fmt.Sprintf("; close with an invisible join over %s%s.", s.top, turn)
	case CloseJoined:
		text := fmt.Sprintf("; join with %s to %s", r.slip, s.top)
		if next := r.nextYarn(); next != r.node(-1).Yarn && r.live[next] {
			text += ", changing to " + r.yarnName(next)
		}
		return text + turn + "."
	case CloseNext:
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
	if len(r.yarns) < 2 {
		return r.g.Node(r.g.Round(r.index + 1).First).Yarn
	}
	next := r.reader(r.index + 1)
	next.begin()
	return next.node(0).Yarn
}
