package model

import (
	"math"
	"slices"

	"example.com/roundel/notation"
)

// A belief is the draft as the designer sees it after a round that does not
// come out: worked on from what that round claims, not from what it makes. A
// round above that is at fault on the edge as it is, but right on the edge as
// it is believed to be, only echoes the fault below; its findings are held
// back.
//
// Where a round could not be read, or is missing, and no claim says what it is
// to be, the belief is a guess. Then there is no telling an echo from a fault,
// and whatever does not fit is held back, until a round comes out as it claims.
type belief struct {
	b       *builder       // works the rounds on the believed edge; nil where nothing is known of it
	reaches bool           // it has the rounds below too, to be worked into
	guess   bool           // what is believed may be wrong
	cause   cause          // the finding that the belief comes from
	found   map[string]int // findings about the round being worked, by rule; nil when it could not be worked
}

// work works a round on the believed edge.
func (v *belief) work(b *builder, w *work) {
	if v == nil {
		return
	}
	v.found = nil
	shadow := v.b
	if shadow == nil {
		return
	}
	if !v.reaches && usesOtherRounds(w.ops) {
		// What lies below is not known here.
		if v.b = nil; !v.guess {
			b.belief = nil
		}
		return
	}
	shadow.facing, shadow.base.reversed = b.facing, b.base.reversed
	shadow.rs = roundState{}
	c := &compiler{b: shadow}
	steps := w.stmt.Steps
	if w.stmt.As > 0 {
		steps, _ = b.stepsOf(w.stmt, w.number)
	}
	again := &work{stmt: w.stmt, number: w.number, index: w.index, c: c}
	again.ops, _ = c.round(steps) // the work has been turned already
	found := map[string]int{}
	for _, f := range shadow.attempt(again) {
		found[f.Rule]++
	}
	if shadow.stopped {
		return
	}
	shadow.byNumber[w.number] = len(shadow.g.rounds) - 1
	v.found = found
}

// hold returns the findings of a round that are its own, and counts the others
// in the finding they echo.
func (v *belief) hold(b *builder, w *work) []notation.Finding {
	at, gone := b.reachesGone(w.ops)
	if text, ok := b.misreads(w); ok {
		at, gone = text, true
	}
	if v != nil && (v.guess || worksGaps(w.ops)) {
		at, gone = v.cause, true
	}
	var own []notation.Finding
	if v != nil && !v.guess && worksStitches(w.ops) && v.speaksAgainst(w.findings) {
		b.fixing.confirmed = append(b.fixing.confirmed, v.cause)
	}
	for _, f := range w.findings {
		switch {
		case gone && slices.Contains(edgeRules, f.Rule) && !b.claimsOther(w, f.Span):
			b.holdIn(at, 1+f.Held)
			continue
		case v == nil || v.found == nil || v.found[f.Rule] > 0:
			// A mistake in the way a claim is written has nothing to do with the
			// edge, and is found on both.
			own = append(own, f)
			continue
		}
		b.holdIn(v.cause, 1+f.Held)
		b.fixing.doubted = append(b.fixing.doubted, v.cause)
		if f.Rule == "claim-count" {
			b.echo = v
		}
	}
	return own
}

// speaksAgainst reports whether a round that comes out on the edge as it is
// would not on the believed one. A claim says how many stitches there are, and
// not where spaces and gaps lie between them, so that only a round worked into
// stitches and corners can be asked.
func (v *belief) speaksAgainst(found []notation.Finding) bool {
	for rule := range v.found {
		if !slices.ContainsFunc(found, func(f notation.Finding) bool { return f.Rule == rule }) {
			return true
		}
	}
	return false
}

// next is what is believed after a round that has no finding of its own.
func (v *belief) next(b *builder, w *work) *belief {
	if v != nil && !v.guess && v.b != nil && v.b.rs.fault && w.index > 0 {
		// The fault of the first round of a statement is one of each: they are
		// what they claim.
		if again := b.believe(w, v.cause); again != nil {
			return again
		}
	}
	if v == nil || !v.guess && (v.b != nil || len(w.findings) > 0) {
		return v
	}
	switch {
	case w.stmt.Claim == nil && len(w.findings) == 0:
		return v
	case len(w.findings) == 0:
		return nil // it is as it is believed to be
	case w.stmt.Claim != nil && v.found != nil && len(v.found) == 0:
		v.guess = false
		return v
	}
	return b.guess(w, v.cause)
}

// guess goes on from what a round claims where there is no telling what it is
// worked on, or what it makes.
func (b *builder) guess(w *work, at cause) *belief {
	v := b.believe(w, at)
	if v == nil {
		v = &belief{cause: at}
	}
	steps, _ := b.stepsOf(w.stmt, w.number)
	v.guess = v.b == nil || !b.saysAll(w.stmt, steps)
	b.lose(w.number, w.number, at)
	return v
}

// mostBelieved bounds the size of a believed piece: it is worked beside the
// real one, only to say less. mostCopied bounds the rounds and stitches of all
// that are copied for such pieces to stand on.
const (
	mostBelieved = 200_000
	mostCopied   = 10 * mostBelieved
)

// shadow returns a builder for a believed piece.
func (b *builder) shadow() *builder {
	limits := b.limits
	limits.Stitches = min(limits.Stitches, mostBelieved)
	shadow := newBuilder(b.ctx, b.draft, limits)
	shadow.quiet, shadow.outline = true, b.outline
	shadow.base = edge{nodes: &shadow.g.nodes, round: -1, counts: &counts{}}
	for _, k := range b.g.kinds {
		shadow.kind(k.Name)
	}
	return shadow
}

// believe starts from what the round just worked claims. It returns nil when
// the claim does not say enough to work on.
func (b *builder) believe(w *work, at cause) *belief {
	if w.stmt.Claim == nil {
		return nil
	}
	shadow := b.shadow()
	last := len(b.g.rounds) - 1
	reaches := b.reaches && shadow.standOn(b, last)
	shadow.rs.number = w.number
	e, ok := shadow.claimed(w.stmt, w.index, &hint{b.g, &b.g.rounds[last]}, &shadow.g.nodes)
	if !ok {
		return nil
	}
	shadow.addRound(w.stmt, w.number, e.first, Assumed)
	shadow.byNumber[w.number] = len(shadow.g.rounds) - 1
	return &belief{b: shadow, reaches: reaches, cause: at}
}

// instead works a round that is written twice instead of the first of its number.
// It returns nil where that cannot be.
func (b *builder) instead(round int, at cause) *belief {
	below := b.g.rounds[round].Below
	shadow := b.shadow()
	if below < 0 || !shadow.standOn(b, round) {
		return nil
	}
	shadow.facing = b.facing
	shadow.base = shadow.edgeOf(below)
	return &belief{b: shadow, reaches: true, cause: at}
}

// standOn takes over the first rounds of the piece, as rounds further up may work
// into them. It reports false where there is too much to copy.
func (b *builder) standOn(real *builder, rounds int) bool {
	stitches := int32(real.g.rounds[rounds].First)
	if real.copied += rounds + int(stitches); stitches > mostBelieved || real.copied > mostCopied {
		return false
	}
	b.g.rounds = slices.Clone(real.g.rounds[:rounds])
	b.g.legs = slices.Clone(real.g.legs)
	for b.g.nodes.len < stitches {
		from := real.g.nodes.from(b.g.nodes.len, stitches-b.g.nodes.len)
		copy(b.g.nodes.extend(int32(len(from))), from)
	}
	for number, i := range real.byNumber {
		if i < rounds {
			b.byNumber[number] = i
		}
	}
	return true
}

// A hint is the round as it came out, which says what the claim leaves unsaid.
type hint struct {
	g *Graph
	r *Round
}

// chains is the length of the first chain space of the round, 1 if it has none.
func (h *hint) chains() int32 {
	for id := h.r.First; id < h.r.First+h.r.Len; id++ {
		if n := h.g.nodes.at(int32(id)); n.isSpace() {
			return n.n
		}
	}
	return 1
}

// A claimedKind is how many stitches of a kind are claimed.
type claimedKind struct {
	kind uint16
	n    int
}

// spread returns the kinds of so many stitches, each kind spread as evenly as
// the claimed numbers allow.
func spread(list []claimedKind, stitches int) []uint16 {
	out := make([]uint16, stitches)
	total := 0
	for _, c := range list {
		total += c.n
	}
	made := make([]int, len(list))
	for i := range out {
		best, lack := 0, math.MinInt
		for k, c := range list {
			// How far the kind is behind its share of the first i stitches.
			if l := c.n*(i+1) - made[k]*total; l > lack {
				best, lack = k, l
			}
		}
		made[best]++
		out[i] = list[best].kind
	}
	return out
}

// claimed makes a round of what a claim says: stitches, perhaps in equal groups
// with a chain space after each, perhaps in equal sides with a corner after
// each. ok is false when the claim does not say enough.
func (b *builder) claimed(r *notation.Round, i int, h *hint, nodes *store) (e edge, ok bool) {
	e.first = nodes.len
	if r.Claim == nil {
		return e, false
	}
	spaces, claimedCorners, perSide := 0, 0, false
	for _, item := range r.Claim.Items {
		perSide = perSide || item.PerSide // then totals only say the same again
	}
	var kinds []claimedKind
	stitches := 0
	for _, item := range r.Claim.Items {
		n, ok := claimedCount(item, i)
		if !ok {
			return e, false
		}
		var kind uint16
		switch {
		case item.What == notation.Corner:
			claimedCorners = n
			continue
		case item.What == notation.Ch, item.What == notation.Picots, item.PerSide != perSide:
			continue
		case item.What == notation.Sp && !item.PerSide:
			spaces = n
			continue
		case item.What == notation.OfStitch && item.Stitch.Group == nil && b.us(item.Stitch) != "":
			kind = b.kind(b.us(item.Stitch))
		case item.What == notation.St:
			kind = b.kind("sc") // any stitch will do
		default:
			return e, false
		}
		if kind <= kindPicot {
			return e, false
		}
		kinds = append(kinds, claimedKind{kind, n})
		stitches += n
	}
	corners := b.outline.Corners()
	if claimedCorners > 0 {
		corners = claimedCorners
	}
	if h != nil {
		if claimedCorners == 0 && (!perSide || corners == 0) {
			corners = int(h.r.counts.corners)
		}
		if h.r.counts.kind(kindPicot) > 0 {
			return e, false
		}
		if have, sp := h.r.counts.stitches(), h.r.counts.spaces(); spaces == 0 && sp > 0 && have%sp == 0 && !perSide {
			// The claim does not speak of the spaces: keep their share.
			if group := have / sp; group > 0 && stitches%group == 0 {
				spaces = stitches / group
			}
		}
	}
	groups, size := 1, stitches
	if perSide {
		stitches *= corners
	}
	switch {
	case stitches == 0:
		return e, false
	case stitches+spaces > mostBelieved || b.made+int64(stitches+spaces) > int64(b.limits.Stitches):
		return e, false
	case perSide:
		groups, spaces = corners, corners
	case spaces > 0 && stitches%spaces != 0:
		return e, false
	case spaces > 0:
		groups, size = spaces, stitches/spaces
	}
	chains := int32(1)
	if h != nil {
		chains = h.chains()
	}
	o := &op{}
	order := spread(kinds, stitches)
	place := int32(-2)
	b.rs.mark = mark{prev: -1, yarn: b.yarnNow}
	for g := range groups {
		for k := range size {
			// Each stitch has a place of its own, but small groups between
			// spaces are taken to share one.
			if spaces == 0 || perSide || k == 0 {
				place--
			}
			b.emit(node{kind: order[g*size+k], below: place, where: inStitch}, o)
		}
		if spaces > 0 {
			n := node{kind: kindCh, n: chains, below: -1, yarn: b.yarnNow}
			if perSide || corners == spaces {
				n.flags = flagCorner
			}
			b.rs.prev = nodes.add(n)
		}
	}
	b.rs.first = e.first
	b.closeGap()
	for id := e.first; id < nodes.len; id++ {
		n := nodes.at(id)
		n.below = -1
		n.where = nowhere
	}
	return e, true
}

// usesOtherRounds reports whether ops work into earlier rounds.
func usesOtherRounds(ops []op) bool {
	for i := range ops {
		if ops[i].place.round > 0 || usesOtherRounds(ops[i].body) {
			return true
		}
	}
	return false
}
