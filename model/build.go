package model

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"example.com/roundel/notation"
)

// Limits bound what Build takes on. A field that is not above 0 stands for its
// default.
type Limits struct {
	Stitches int // stitches and chains in all; default 10 million
	Rounds   int // default 100,000
	Motifs   int // on a face of a panel; default 10,000
}

// The default limits.
const (
	DefaultStitches = 10_000_000
	DefaultRounds   = 100_000
	DefaultMotifs   = 10_000
)

// maxStitches keeps stitch numbers within 31 bits.
const maxStitches = math.MaxInt32 / 2

// maxMotifs keeps products of it within 63 bits.
const maxMotifs = math.MaxInt32 / 8

// An Option changes how Build works.
type Option func(*settings)

type settings struct {
	limits  Limits
	measure func(*Graph) Size
	found   []notation.Finding
}

// WithLimits sets limits, and defaults for the fields left out.
func WithLimits(l Limits) Option { return func(to *settings) { to.limits = l } }

// WithFound gives Build what was found while the draft was read. What only
// follows from one of these findings is held back, and counted in it where it
// stands.
func WithFound(found []notation.Finding) Option { return func(to *settings) { to.found = found } }

// Build works a draft round by round. It always returns a graph, which holds
// every round that could be worked, and the findings about those that could
// not, of the rules limit, bare-count, round-order, no-such-place,
// repeat-remainder, unworked, skip-miss, corner-order and claim-count; of
// panel-shape and edge-mismatch, where motifs are made up; of until-gauge and
// until-size, where rounds go on up to a size, which asks for WithMeasure; and
// of unknown-stitch, for names in a tree made by hand.
//
// A round that does not work out is worked as far as it goes and its Status
// says so; where it makes no claim and would come out with one step changed, it
// is worked with that. The rounds above are worked on what is there. A finding that would
// only repeat an earlier one is held back and counted in that one: a claim in
// a round whose steps are at fault, whatever comes out right on the count that
// the faulty round claims, and, where there is no telling what a round was to
// be, what does not come out on it.
//
// The error is that of ctx, when it ends before the work is done.
func Build(ctx context.Context, d *notation.Draft, options ...Option) (*Graph, []notation.Finding, error) {
	var set settings
	for _, o := range options {
		o(&set)
	}
	limits := set.limits
	if limits.Stitches <= 0 {
		limits.Stitches = DefaultStitches
	}
	if limits.Rounds <= 0 {
		limits.Rounds = DefaultRounds
	}
	if limits.Motifs <= 0 {
		limits.Motifs = DefaultMotifs
	}
	limits.Stitches = min(limits.Stitches, maxStitches)
	limits.Motifs = min(limits.Motifs, maxMotifs)
	b := newBuilder(ctx, d, limits)
	b.allowed, b.measure = allowances(d), set.measure
	b.misread = newMisread(d, set.found)
	b.onRing()
	b.build(d.Sections()[0].Rounds)
	b.makeUp()
	b.giveFixes()
	findings := notation.SortFindings(b.findings)
	if b.stopped {
		return b.g, findings, ctx.Err()
	}
	return b.g, findings, nil
}

// allowances lists the rules that statements are excepted from; those under nil
// hold for the whole draft.
func allowances(d *notation.Draft) map[notation.Statement][]string {
	out := map[notation.Statement][]string{}
	for _, c := range d.Covers() {
		if c.Whole || c.Over != nil {
			out[c.Over] = append(out[c.Over], c.Allow.Rule)
		}
	}
	return out
}

type builder struct {
	ctx    context.Context
	draft  *notation.Draft
	limits Limits
	g      *Graph
	// measure is asked how large the piece is; nil when nobody knows.
	measure func(*Graph) Size

	kindOf map[string]uint16
	yarnOf map[string]uint16

	findings []notation.Finding
	misread  *misread
	byNumber map[int]int // number of a round in the draft to its index
	gone     []gone      // numbers that no round has, though some should
	base     edge        // what the next round is worked into
	lost     bool        // the edge is not known; rounds cannot be worked
	lostBy   cause       // the finding that says why
	facing   bool        // whether the work has been turned an odd number of times
	yarnNow  uint16
	made     int64 // stitches and chains so far
	runs     int   // how often a round was worked, trials too
	ops      int64 // steps executed, for limits
	seen     int64 // stitches and steps at the last look at ctx
	stopped  bool  // a limit was met, or ctx ended
	strayed  cause // the last finding about a round that did not work out, until one comes out as it claims
	doubtful bool  // the last round does not work out, and there is no telling how it is meant
	quiet    bool  // a trial: its findings are thrown away
	reaches  bool  // some round works into an earlier one
	inwards  bool  // the edge worked on has corners that point into the piece
	belief   *belief
	copied   int // rounds and stitches copied for beliefs to stand on
	said     int // findings before the statement being worked

	fixing *fixing
	echo   *belief // holds back findings about the claim being worked

	pattern  []node // scratch for copies
	compiled struct {
		stmt *notation.Round
		c    *compiler
		ops  []op
		// turned tells that the round begins by turning the work.
		turned bool
	}

	// Read from the header once.
	outline    notation.Outline
	succession notation.Succession
	start      notation.Start
	allowed    map[notation.Statement][]string // see allowances

	rs roundState
}

func newBuilder(ctx context.Context, d *notation.Draft, limits Limits) *builder {
	b := &builder{
		ctx: ctx, draft: d, limits: limits,
		g:        &Graph{Title: d.Title(), Outline: d.Outline(), yarns: []string{""}, starts: map[int32]int32{}, sits: map[int32]int32{}},
		kindOf:   map[string]uint16{},
		yarnOf:   map[string]uint16{},
		byNumber: map[int]int{},
		fixing:   newFixing(d),
		misread:  newMisread(d, nil),
		lostBy:   noCause,
		strayed:  noCause,
	}
	b.outline, b.succession, b.start = d.Outline(), d.Succession(), d.Start()
	b.kind("ch")
	b.kind("picot")
	for y := range d.Yarns() {
		if key := strings.ToLower(y.Name.Text); b.yarnOf[key] == 0 && len(b.g.yarns) < math.MaxUint16 {
			b.g.yarns = append(b.g.yarns, y.Name.Text)
			b.yarnOf[key] = uint16(len(b.g.yarns) - 1)
		}
	}
	if len(b.g.yarns) > 1 {
		b.yarnNow = 1
	}
	return b
}

// onRing lays the foundation of a motif.
func (b *builder) onRing() {
	b.base = edge{nodes: &b.g.nodes, round: -1, counts: &counts{}}
	if b.g.Ring = min(max(b.draft.RingChains(), 0), math.MaxInt32); b.g.Ring > 0 {
		n := node{kind: kindCh, n: int32(b.g.Ring)}
		b.g.nodes.add(n)
		b.g.foundation = 1
		b.base.n = 1
		b.base.counts.add(&n)
		b.made += int64(b.g.Ring)
	}
}

// kind returns the index of the kind with an American name.
func (b *builder) kind(name string) uint16 {
	if k, ok := b.kindOf[name]; ok {
		return k
	}
	kind, ok := Lookup(name)
	if !ok {
		kind = Kind{Name: name, UK: name, Legs: 1, Height: Single, Source: "not a known stitch"}
	}
	b.g.kinds = append(b.g.kinds, kind)
	b.kindOf[name] = uint16(len(b.g.kinds) - 1)
	return b.kindOf[name]
}

// us returns the American name of a stitch, "" for a name that means nothing.
// Parse has found it already; in a tree made by hand the name as written will
// do.
func (b *builder) us(n notation.Name) string {
	if n.US == "" && !n.Unknown {
		if parts, ok := b.draft.Terms.Parse(n.Text); ok {
			return parts.Name()
		}
	}
	return n.US
}

// yarn returns the index of a declared yarn; the yarn in use for any other
// name, which notation has reported.
func (b *builder) yarn(name string) uint16 {
	if i, ok := b.yarnOf[strings.ToLower(name)]; ok {
		return i
	}
	return b.yarnNow
}

// report adds a finding about the round being worked.
func (b *builder) report(rule string, at notation.Span, format string, args ...any) {
	b.reportWith(nil, rule, at, format, args...)
}

func (b *builder) reportWith(related []notation.Related, rule string, at notation.Span, format string, args ...any) {
	if b.quiet {
		b.findings = append(b.findings, notation.Finding{Rule: rule})
		return
	}
	b.findings = append(b.findings, notation.Finding{
		Rule: rule, Severity: notation.Error, Span: at, Message: fmt.Sprintf(format, args...),
		Related: related, Round: b.rs.number,
	})
}

// below is the round below as a related place.
func (b *builder) below(e *edge) []notation.Related {
	if e.round < 0 {
		return nil
	}
	r := &b.g.rounds[e.round]
	return []notation.Related{{
		Message: fmt.Sprintf("round %d: %s", r.Number, b.summary(&r.counts)),
		Span:    r.Statement.Head,
	}}
}

// build works the rounds of a section.
func (b *builder) build(rounds []*notation.Round) {
	numbers := numbersOf(rounds)
	b.reaches = slices.ContainsFunc(rounds, reachesDown)
	next := 1  // the number a round should have
	shift := 0 // by how much the numbers of the text are off, after rounds up to a size
	var sized *notation.Round
	for i, r := range rounds {
		said := len(b.findings)
		first, then := next, 0
		if !r.Next {
			first = min(r.From+shift, math.MaxInt32)
			b.rs.number = r.From
			switch {
			case sized == nil || r.From < 1:
				then = b.order(rounds[i:], numbers, next)
			case first != next && b.g.came(sized):
				b.misnumbered(r, sized, next)
				shift += next - first
				first = next
			}
		}
		b.fixing.unsure = b.fixing.unsure || r.Text != "" || len(b.findings) > said
		index, said := len(b.g.rounds), len(b.findings)
		last := b.statement(r, first)
		switch {
		case then == 0:
			next = max(next, last+1)
		case index < len(b.g.rounds): // under its number and under the one that is meant
			b.byNumber[next] = index
			next = then
		}
		if r.Until != nil && r.Until.What != notation.UntilRounds {
			sized = r
		}
		if b.stopped {
			return
		}
		b.mendClaim(r, index, said)
	}
}

// statement works the rounds of a statement, of which the first has a number,
// and returns the number of the last.
func (b *builder) statement(r *notation.Round, first int) (last int) {
	last = first + lastOf(r) - min(r.From, math.MaxInt32)
	switch {
	case r.Until == nil:
	case r.Until.What != notation.UntilRounds:
		return b.until(r, first)
	default:
		if last = r.Until.Rounds; last < first {
			b.rs.number = first
			b.report("until-size", r.Until.Span, "the piece has %s already; ask for more, or leave these rounds out", count(first-1, "round"))
		}
	}
	for n := first; n <= last && b.once(r, n, n-first); n++ {
	}
	return last
}

// reachesDown reports whether a round works into an earlier one.
func reachesDown(r *notation.Round) bool {
	reaches := false
	notation.Walk(r, func(n notation.Node) bool {
		if p, ok := n.(*notation.Place); ok {
			reaches = reaches || p.Round > 0
		}
		return !reaches
	})
	return reaches
}

// misnumbered reports a round with a number that is not the next, below rounds
// that go on up to a size.
func (b *builder) misnumbered(r, sized *notation.Round, next int) {
	related := []notation.Related{{Message: "at this gauge round " + strconv.Itoa(next-1) + " is the last here", Span: sized.Head}}
	b.reportWith(related, "round-order", r.Head, "the rounds above go on up to a size, so that the next one is round %d at this gauge, not round %d; write rnd next", next, r.From)
	if f := &b.findings[len(b.findings)-1]; r.Head != (notation.Span{}) {
		write := "rnd next"
		if n := lastOf(r) - r.From + 1; n > 1 {
			write += " " + strconv.Itoa(n)
		}
		f.Fixes = []notation.Fix{{Message: "write " + write, Edits: []notation.Edit{{Span: r.Head, New: write}}}}
	}
}

// order checks the number of the first of several rounds, which should be next.
// Where only that number is a slip, then is the number that should follow; else
// it is 0.
func (b *builder) order(rounds []*notation.Round, numbers []span, next int) (then int) {
	r := rounds[0]
	if r.From == next {
		return 0
	}
	at := cause(len(b.findings))
	lost, misread := b.misread.after[r]
	if last := len(b.g.rounds) - 1; !misread && last >= 0 {
		lost, misread = b.misread.numbered(b.g.rounds[last].Statement)
	}
	follows := 0 // the number of the round after it, where it has one
	if len(rounds) > 1 && !rounds[1].Next {
		follows = rounds[1].From
	}
	switch {
	case r.From < 1:
		b.report("round-order", r.Head, "rounds are numbered from 1; this one has the number %d", r.From)
	case r.From < next && misread:
		// The line that could not be read was the one that begins the rounds anew.
		b.holdIn(lost, 1)
		return lastOf(r) + 1
	case r.From < next:
		var related []notation.Related
		said := fmt.Sprintf("round %d stands after round %d; move it up", r.From, next-1)
		i, twice := b.byNumber[r.From]
		if twice {
			related = []notation.Related{{Message: "first written here", Span: b.g.rounds[i].Statement.Head}}
			said = fmt.Sprintf("round %d is written twice; the next number is %d", r.From, next)
		}
		b.reportWith(related, "round-order", r.Head, "%s", said)
		last := next + lastOf(r) - r.From
		switch {
		case follows == last+1:
			return follows
		case twice && b.belief == nil:
			b.belief = b.instead(i, at)
		}
	case follows > next && follows <= r.From:
		// So is this one: the rounds go on below it.
		b.reportWith([]notation.Related{{Message: "the rounds go on here", Span: rounds[1].Head}},
			"round-order", r.Head, "round %d stands between %s and round %d; its number is to be %s", r.From, b.roundName(next-1), follows, rndWords(next, follows-1))
		return follows
	default:
		from, to := missing(numbers, next, r.From-1)
		switch {
		case from == 0: // they all stand further down, and are reported there
			return 0
		case misread:
			at = lost
			b.holdIn(at, 1)
			b.belief = &belief{cause: at, guess: true}
		case from == to:
			b.report("round-order", r.Head, "round %d is missing: round %d follows %s", from, r.From, b.roundName(next-1))
		default:
			b.report("round-order", r.Head, "rounds %d to %d are missing: round %d follows %s", from, to, r.From, b.roundName(next-1))
		}
		b.lose(from, to, at)
	}
	return 0
}

// rndWords is how a round, or a range of rounds, is numbered.
func rndWords(from, to int) string {
	if from == to {
		return fmt.Sprintf("rnd %d", from)
	}
	return fmt.Sprintf("rnd %d-%d", from, to)
}

// lastOf is the number of the last round of a statement; a tree made by hand
// need not give it for a single round.
func lastOf(r *notation.Round) int { return min(max(r.From, r.To), math.MaxInt32) }

// A span is a run of round numbers.
type span struct{ from, to int }

// numbersOf lists the numbers that the rounds of a section have, as runs in
// rising order that do not touch.
func numbersOf(rounds []*notation.Round) []span {
	var list []span
	for _, r := range rounds {
		if !r.Next {
			list = append(list, span{r.From, lastOf(r)})
		}
	}
	slices.SortFunc(list, func(a, b span) int { return a.from - b.from })
	var merged []span
	for _, s := range list {
		if n := len(merged); n > 0 && s.from <= merged[n-1].to+1 {
			merged[n-1].to = max(merged[n-1].to, s.to)
			continue
		}
		merged = append(merged, s)
	}
	return merged
}

// missing returns the first run of numbers between from and to that no round
// has, 0 and 0 if there is none.
func missing(numbers []span, from, to int) (int, int) {
	i := sort.Search(len(numbers), func(i int) bool { return numbers[i].to >= from })
	if i < len(numbers) && numbers[i].from <= from {
		from = numbers[i].to + 1
		i++
	}
	if from > to {
		return 0, 0
	}
	if i < len(numbers) {
		to = min(to, numbers[i].from-1)
	}
	return from, to
}

func (b *builder) roundName(n int) string {
	if n < 1 {
		return "the foundation"
	}
	return fmt.Sprintf("round %d", n)
}

// round works one round and makes its edge the next base.
// It is the index-th round of its statement, from 0.
func (b *builder) round(r *notation.Round, number, index int) {
	if r.Yarn != nil {
		b.yarnNow = b.yarn(r.Yarn.Text)
	}
	if b.ended() {
		return
	}
	if r.Broken || b.lost {
		b.unread(r, number, index)
		return
	}
	steps := r.Steps
	if r.As > 0 {
		from, broken := b.stepsOf(r, number)
		if from == nil {
			b.rs.number = number
			at, gone := b.goneBy(r.As)
			switch {
			case broken: // what is wrong with it has been reported
			case gone && r.As < number:
				b.holdIn(at, 1)
			default:
				b.report("round-order", r.AsSpan, "round %d cannot be worked as round %d, which is not above it", number, r.As)
			}
			b.unread(r, number, index)
			return
		}
		steps = from
	}
	b.rs.number = number
	if at, ok := b.misread.after[r]; ok && index == 0 {
		b.belief = &belief{cause: at, guess: true}
	}
	if b.compiled.stmt != r { // once for all rounds of a range
		b.compiled.stmt, b.compiled.c = r, &compiler{b: b}
		b.compiled.ops, b.compiled.turned = b.compiled.c.round(steps)
	}
	c, ops := b.compiled.c, b.compiled.ops
	if c.tooLarge {
		b.report("limit", r.Head, "round %d grows beyond %d steps when its named groups are written out; it is not worked", number, maxOps)
		b.stopped = true
		return
	}
	if b.compiled.turned && b.succession != notation.Turned {
		b.turn() // where every round is turned the work is turned already
	}
	w := &work{stmt: r, number: number, index: index, ops: ops, c: c}
	b.belief.work(b, w)
	w.findings = b.attempt(w)
	for i := range w.findings {
		w.place(&w.findings[i])
	}
	b.settle(w)
}

// stretch is how many stitches or steps are worked between two looks at ctx: a
// millisecond or two.
const stretch = 1 << 16

// goOn looks, after every stretch, at ctx and at the number of steps, and
// reports whether to go on.
func (b *builder) goOn() bool {
	if b.made+b.ops-b.seen < stretch {
		return true
	}
	b.seen = b.made + b.ops
	// Steps that make nothing could go on for ever.
	if !b.ended() && b.ops > 4*int64(b.limits.Stitches)+1<<20 {
		b.tooMuch("round %d takes more steps, and looks for more places, than a piece of the %d stitches allowed can need; the rest is not worked")
	}
	return !b.stopped
}

// ended ends the work when ctx has ended.
func (b *builder) ended() bool {
	if b.ctx.Err() != nil {
		b.stopped, b.rs.abort = true, true
	}
	return b.stopped
}

// stepsOf follows "as rnd" to the steps of an earlier round; nil when there is
// no such round, or it could not be read, which broken tells.
func (b *builder) stepsOf(r *notation.Round, number int) (steps []notation.Step, broken bool) {
	for r.As > 0 {
		i, ok := b.byNumber[r.As]
		if !ok || r.As >= number {
			return nil, false
		}
		number, r = r.As, b.g.rounds[i].Statement
	}
	if r.Broken {
		return nil, true
	}
	return r.Steps, false
}

// A work is one round to be worked.
type work struct {
	stmt     *notation.Round
	number   int
	index    int // which round of the statement, from 0
	ops      []op
	c        *compiler
	findings []notation.Finding
	mended   bool // the steps do not work out
	righted  bool // one change of a step makes them work out, and they were worked with it
	resolved bool // counts without a place can be read in one way only
	from     int  // place of the edge below at which the round begins
}

// take removes and returns the findings from index from on.
func (b *builder) take(from int) []notation.Finding {
	list := append([]notation.Finding(nil), b.findings[from:]...)
	b.findings = b.findings[:from]
	return list
}

// place makes a finding point to the round it is about: to "as rnd 4" where the
// steps stand in another round, with the number of the round where that is not
// the first of the statement.
func (w *work) place(f *notation.Finding) {
	r := w.stmt
	if r.As == 0 && r.From == lastOf(r) && r.Until == nil {
		return
	}
	if name := fmt.Sprintf("round %d ", w.number); (r.As > 0 || w.index > 0) && !strings.HasPrefix(f.Message, name) {
		f.Message = "in " + name[:len(name)-1] + ", " + f.Message
	}
	if at := f.Span.Start.Offset; r.As > 0 && (at < r.Span.Start.Offset || at >= r.Span.End.Offset) {
		f.Related = append([]notation.Related{{Message: "the step is written here", Span: f.Span}}, f.Related...)
		f.Span = r.AsSpan
	}
}

// settle records the findings of a round, holding back those that only echo an
// earlier one, and prepares for the next.
func (b *builder) settle(w *work) {
	last := &b.g.rounds[len(b.g.rounds)-1]
	if w.mended {
		last.Status = Mended
	}
	b.g.findRotation(len(b.g.rounds)-1, b.ended)
	b.byNumber[w.number] = len(b.g.rounds) - 1
	reported := b.repeated(w, b.belief.hold(b, w))
	b.doubtful = false
	at := cause(len(b.findings))
	b.findings = append(b.findings, reported...)
	text, misread := b.misreads(w)
	switch {
	case misread:
		b.belief = b.guess(w, text)
	case len(reported) == 0:
		if len(w.findings) == 0 && w.stmt.Claim != nil {
			b.strayed = noCause
		}
		b.belief = b.belief.next(b, w)
	case b.excepted(w.stmt, reported):
		// The designer stands by the round as it is.
		b.belief = nil
	default:
		if b.belief = b.believe(w, at); b.belief == nil && len(w.c.bare) > 0 && !w.resolved {
			b.belief = &belief{cause: at, guess: true} // either reading may be meant
		}
		if b.belief == nil && b.losesCorners(w) {
			b.belief = &belief{cause: at, guess: true} // of how many there are to be
		}
		if w.mended {
			b.strayed = at
		}
		b.doubtful = w.mended && b.belief == nil
	}
	if w.mended && !w.resolved && (len(reported) == 0 || !b.excepted(w.stmt, reported)) {
		b.fixing.unsure = true
	}
	if w.mended && last.Len == 0 {
		// Nothing was made, so nothing can be worked into it.
		last.Status = NotWorked
		b.lost, b.lostBy = true, noCause
		switch {
		case len(reported) > 0:
			b.lostBy = at
		case b.belief != nil:
			b.lostBy = b.belief.cause
		}
	}
}

// losesCorners reports whether a round that does not work out has other corners
// than the edge it is worked on, so that what goes from corner to corner further
// up does not come out either.
func (b *builder) losesCorners(w *work) bool {
	below := b.rs.cur.counts
	return w.mended && !w.righted && below.corners > 0 && b.g.rounds[len(b.g.rounds)-1].counts.corners != below.corners
}

// repeated holds back what was said of the same place of a statement in an
// earlier of its rounds.
func (b *builder) repeated(w *work, list []notation.Finding) []notation.Finding {
	if w.index == 0 {
		b.said = len(b.findings)
		return list
	}
	var fresh []notation.Finding
	for _, f := range list {
		known := false
		for i := b.said; i < len(b.findings) && !known; i++ {
			if g := &b.findings[i]; g.Rule == f.Rule && g.Span == f.Span {
				g.Held += 1 + f.Held
				bothReadings(g, &f)
				known = true
			}
		}
		if !known {
			fresh = append(fresh, f)
		}
	}
	return fresh
}

// excepted reports whether the draft allows all findings about a round.
func (b *builder) excepted(r *notation.Round, list []notation.Finding) bool {
	for _, f := range list {
		if !slices.Contains(b.allowed[r], f.Rule) && !slices.Contains(b.allowed[nil], f.Rule) {
			return false
		}
	}
	return true
}

// unread adds a round that cannot be worked: empty, or with what it claims.
func (b *builder) unread(r *notation.Round, number, index int) {
	b.rs.number = number
	b.byNumber[number] = len(b.g.rounds)
	at, misread := b.misread.in[r]
	if r.As > 0 && !misread {
		at, misread = b.goneBy(r.As)
	}
	if !misread {
		at, misread = b.lostBy, b.lost
	}
	if misread {
		b.lose(number, number, at)
	}
	b.belief = nil
	b.fixing.unsure = true
	if e, ok := b.claimed(r, index, nil, &b.g.nodes); ok {
		b.addRound(r, number, e.first, Assumed)
		b.g.findRotation(len(b.g.rounds)-1, b.ended)
		b.lost = false
		if steps, _ := b.stepsOf(r, number); misread {
			b.belief = &belief{cause: at, guess: !b.saysAll(r, steps)}
		}
		return
	}
	b.lostBy = at
	b.lost = true
	b.addRound(r, number, b.g.nodes.len, NotWorked)
}

// addRound closes a round that began with stitch first, and makes it the base.
func (b *builder) addRound(r *notation.Round, number int, first int32, status Status) {
	g := b.g
	round := Round{
		Number: number, Yarn: g.yarns[b.yarnNow], Start: r.Start,
		First: int(first), Len: int(g.nodes.len - first), Status: status,
		Turned: b.facing, Below: b.base.round, Statement: r,
	}
	if round.Start == notation.StartUnsaid {
		round.Start = b.start
	}
	round.counts.addAll(&g.nodes, first, g.nodes.len, len(g.kinds))
	if len(b.rs.groups) > 0 && status == Worked {
		round.counts.groups = map[*notation.StitchDef]int{}
		for _, c := range b.rs.groups {
			round.counts.groups[c.def] += c.n
		}
	}
	g.rounds = append(g.rounds, round)
	if status != NotWorked {
		b.base = b.edgeOf(len(g.rounds) - 1)
	}
}

// edgeOf returns the edge of a round as it meets the work now.
func (b *builder) edgeOf(i int) edge {
	r := &b.g.rounds[i]
	return edge{nodes: &b.g.nodes, first: int32(r.First), n: int32(r.Len), reversed: r.Turned != b.facing, round: i, number: r.Number, counts: &r.counts}
}

// summary writes counts as a claim does: 12 dc, 12 sp.
func (b *builder) summary(c *counts) string {
	var parts []string
	for k, n := range c.kinds {
		if k > kindPicot && n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, b.name(uint16(k))))
		}
	}
	if n := c.spaces(); n > 0 {
		parts = append(parts, fmt.Sprintf("%d sp", n))
	}
	if c.corners > 0 {
		parts = append(parts, count(int(c.corners), "corner"))
	}
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, ", ")
}

// name is what the draft calls a kind.
func (b *builder) name(k uint16) string { return b.draft.Terms.Name(b.g.kinds[k].Name) }
