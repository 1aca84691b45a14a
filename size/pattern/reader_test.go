package pattern_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// What follows reads written rounds the way a maker does: from the words alone,
// going along the edge that the words of the rounds before have left. It
// shares nothing with the writer.

// A made is one thing made: a stitch, a run of chains or a picot.
type made struct {
	kind   string // American name
	chains int    // of a run or a picot
	corner bool
	into   []hole
	group  int      // stitches over the ring in one bracket have the same, other than 0
	loops  []string // by place
	yarn   string
	sits   int // of a picot on a run: chains before it
	onRun  bool
	start  int  // chains of a starting chain that counts as the stitch
	gap    bool // of an edge that no words tell of: a gap follows
}

// A hole is where a stitch goes in: on the edge of a round (0 the foundation),
// the index of a stitch or run there, and what of it.
type hole struct {
	round, at int
	what      string // ring, st, sp, ch, gap
	chain     int
}

// A worked is one round that was read.
type worked struct {
	number  int
	items   []made
	turned  bool
	count   string
	first   int // item that the round was joined to
	chained bool
	// What is worked beside the stitches: slip stitches that lead on, the
	// chains of a start that does not count, and how the round is closed.
	slips, uncounted int
	closed           string // sl st, invisible join, or ""
}

// A hand works a pattern.
type hand struct {
	terms  map[string]string // base names to American
	uk     bool
	skip   string
	ring   int    // chains, 0 for an adjustable ring
	edges  []made // of what a border is worked on, in place of a ring
	picots int    // chains of a picot where nothing else is said
	yarn   string
	rounds []*worked

	facing bool
	joined bool // to the first stitch of the last round
	// choose picks one of several places that are said to be alike.
	choose func(round int, list []hole) int

	cur      *worked
	base     *walk
	walks    map[int]*walk
	here     *hole // the place worked into last
	onBase   *hole // and the last on the round below
	stand    *hole // where the hook is before the first stitch
	starts   bool  // the round says that it starts in that place
	insts    bool  // the round works into stitches, by its words
	inChains bool  // or into single chains
	origin   *hole
	grouped  int
}

// A walk goes along an edge.
type walk struct {
	round int
	items []made
	rev   bool
	pos   int // next place: 2k a stitch or run, 2k+1 the gap after it
	sub   int // chains used of the run at pos
	begun bool
	// free is set where chains of the run at pos may be left without a word:
	// the hook came there by itself.
	free bool
	// told is set where the words have passed over places, so that the hook does
	// not go on from what it stands over.
	told bool
}

type readError string

func fail(format string, args ...any) { panic(readError(fmt.Sprintf(format, args...))) }

// A token is a word, a number or a sign.
var tokenPattern = regexp.MustCompile(`ch-\d+|[A-Za-z0-9_]+|[][(){},:;.]`)

type parser struct {
	tokens []string
	at     int
}

func (p *parser) peek(n int) string {
	if p.at+n < len(p.tokens) {
		return p.tokens[p.at+n]
	}
	return ""
}

func (p *parser) next() string {
	t := p.peek(0)
	p.at++
	return t
}

func (p *parser) got(words ...string) bool {
	for i, w := range words {
		if p.peek(i) != w {
			return false
		}
	}
	p.at += len(words)
	return true
}

func (p *parser) need(words ...string) {
	if !p.got(words...) {
		fail("want %q at %q", strings.Join(words, " "), strings.Join(p.tokens[min(p.at, len(p.tokens)):], " "))
	}
}

func (p *parser) number() (int, bool) {
	n, err := strconv.Atoi(p.peek(0))
	if err != nil {
		return 1, false
	}
	p.at++
	return n, true
}

// A noun is a kind of place: a stitch, a chain space of a length, ...
type noun struct {
	what   string // st, sp, ch, gap
	corner bool
	chains int
	of     string // "ring", "edge", or the number of a round
}

// A spot is a place in words.
type spot struct {
	how   string // in, around, back, front
	which string // ring, same, next, each, any, nth, from
	n     int
	noun  noun
	nth   int // of a chain in a run
	// A place that is found from a corner or space: the n-th before or after
	// one of them, by its number, 0 for any, -1 for the last.
	mark   *noun
	marked int
	before bool
	to     string // of each: corner or end, "" for all around
}

// A phrase is a step in words.
type phrase struct {
	what  string // work, ch, skip, picot, group, repeat, with, start, over, here
	kind  string
	count int
	corn  bool
	name  string
	spot  *spot
	over  []phrase // of skip and over: the places one after another
	body  []phrase
	times int
}

func (h *hand) kind(p *parser) string {
	w := p.next()
	if w == "ss" && h.uk || w == "sl" && !h.uk && p.got("st") {
		return "sl st"
	}
	if w == "rev" {
		w += " " + p.next()
	}
	return h.american(w)
}

// american finds the American name of a stitch.
func (h *hand) american(w string) string {
	low := strings.ToLower(w[:1]) + w[1:]
	post, tail := "", ""
	if strings.HasPrefix(w, "FP") || strings.HasPrefix(w, "BP") {
		post, low = w[:2], w[2:]
	}
	if m := regexp.MustCompile(`^(.*?)(\d+tog)$`).FindStringSubmatch(low); m != nil {
		low, tail = m[1], m[2]
	}
	us, ok := h.terms[low]
	if !ok {
		us, ok = h.terms[strings.TrimSuffix(low, "s")]
	}
	if !ok {
		fail("no stitch: %q", w)
	}
	return post + us + tail
}

func (h *hand) noun(p *parser) noun {
	var n noun
	n.corner = p.got("corner")
	w := p.next()
	switch {
	case w == "st" || w == "sts":
		n.what = "st"
	case strings.HasPrefix(w, "ch-"):
		n.what = "sp"
		n.chains, _ = strconv.Atoi(w[3:])
		if !p.got("sp") {
			p.need("sps")
		}
	case w == "sp" || w == "sps":
		n.what = "gap"
		p.need("between")
		if !p.got("sts") {
			p.need("groups")
		}
	case w == "ch":
		n.what = "ch"
	default:
		fail("no place: %q", w)
	}
	if p.got("of") {
		if p.got("Rnd") {
			n.of = p.next()
		} else if p.got("the") {
			p.need("edge")
			n.of = "edge"
		} else {
			p.need("ring")
			n.of = "ring"
		}
	}
	return n
}

var ordinalPattern = regexp.MustCompile(`^(\d+)(st|nd|rd|th)$`)

func ordinalOf(w string) (int, bool) {
	if w == "first" {
		return 1, true
	}
	if m := ordinalPattern.FindStringSubmatch(w); m != nil {
		n, _ := strconv.Atoi(m[1])
		return n, true
	}
	return 0, false
}

// where reads a place; nil when none stands here.
func (h *hand) where(p *parser) *spot {
	s := &spot{n: 1}
	switch {
	case p.got("in", "BLO", "of"):
		s.how = "back"
	case p.got("in", "FLO", "of"):
		s.how = "front"
	case p.got("in"):
		s.how = "in"
	case p.got("around"):
		s.how = "around"
	default:
		return nil
	}
	nth, isNth := ordinalOf(p.peek(0))
	switch {
	case p.got("ring"):
		s.which = "ring"
	case p.got("same"):
		s.which = "same"
		s.noun.what = p.next()
	case p.got("next"):
		s.which = "next"
		s.n, _ = p.number()
		s.noun = h.noun(p)
	case p.got("each", "of", "next"):
		s.which = "next"
		s.n, _ = p.number()
		s.noun = h.noun(p)
	case p.got("each"):
		s.which = "each"
		s.noun = h.noun(p)
		switch {
		case p.got("to", "next", "corner"):
			s.to = "corner"
		case p.got("to", "end"):
			s.to = "end"
		case s.noun.of != "ring":
			p.need("around")
		}
	case p.got("any"):
		s.which = "any"
		s.noun = h.noun(p)
	case isNth && p.peek(1) == "ch" && p.peek(2) == "of" && p.peek(3) == "next":
		p.at += 4
		s.which, s.nth = "next", nth
		s.noun = h.noun(p)
	case isNth && p.peek(1) == "ch" && p.peek(2) == "of" && p.peek(3) != "ring":
		p.at += 3
		s.which, s.nth = "any", nth
		if !p.got("any") {
			s.which = "nth"
			s.n, _ = ordinalOf(p.next())
		}
		s.noun = h.noun(p)
		h.from(p, s)
	case isNth:
		p.at++
		s.which, s.n = "nth", nth
		s.noun = h.noun(p)
		h.from(p, s)
	default:
		s.which = "below"
		s.noun = h.noun(p)
		p.need("below")
	}
	return s
}

// from reads what a place is found from, if it is.
func (h *hand) from(p *parser, s *spot) {
	s.before = p.got("before")
	if !s.before && !p.got("after") {
		return
	}
	s.which = "from"
	switch w := p.next(); w {
	case "any":
	case "last":
		s.marked = -1
	default:
		ok := false
		if s.marked, ok = ordinalOf(w); !ok {
			fail("which one is %q?", w)
		}
	}
	mark := h.noun(p)
	s.mark = &mark
}

// steps reads steps up to a closing sign.
func (h *hand) steps(p *parser) []phrase {
	var list []phrase
	for {
		list = append(list, h.step(p))
		if !p.got(",") {
			return list
		}
	}
}

func (h *hand) step(p *parser) phrase {
	switch w := p.peek(0); {
	case w == "[" || w == "{":
		p.at++
		f := phrase{what: "repeat", body: h.steps(p)}
		p.need(map[string]string{"[": "]", "{": "}"}[w])
		f.times, _ = p.number()
		p.need("times")
		return f
	case p.got("("):
		f := phrase{what: "group", body: h.steps(p)}
		p.need(")")
		f.spot = h.where(p)
		return f
	case p.got("with"):
		return phrase{what: "with", name: p.next()}
	case p.got("starting", "in", "same"):
		h.starts = true
		p.next()
		p.need(":")
		return h.step(p)
	case p.got(h.skip):
		return phrase{what: "skip", over: h.stretches(p)}
	case p.got("picot"):
		return phrase{what: "picot", count: h.picots}
	case strings.HasPrefix(w, "ch-") && p.peek(1) == "picot":
		p.at += 2
		n, _ := strconv.Atoi(w[3:])
		return phrase{what: "picot", count: n}
	}
	f := phrase{what: "work", count: 1}
	f.corn = p.got("corner")
	if p.got("ch") {
		f.what = "ch"
		f.count, _ = p.number()
		if p.got("(", "counts", "as") {
			f.what, f.corn = "start", p.got("corner")
			f.kind = h.kind(p)
			p.need(")")
		} else if p.got("(", "does", "not", "count", "as", "a", "st", ")") {
			f.what = "uncounted"
		}
		return f
	}
	if p.got("join") {
		f.name = p.next()
		p.need("with")
		f.what, f.kind = "join", h.kind(p)
		p.need("(", "counts", "as")
		h.kind(p)
		p.need(")")
		f.spot = h.where(p)
		return f
	}
	if p.got("standing") || p.got("chainless") {
		f.what = "first"
		f.corn = p.got("corner")
	}
	f.count, _ = p.number()
	f.kind = h.kind(p)
	if p.got("over") {
		if p.got("(") {
			f.over = h.feet(p, ",")
			p.need(")")
		} else {
			f.over = h.feet(p, "and")
		}
		return f
	}
	f.spot = h.where(p)
	return f
}

// stretches reads "next 2 sts, next ch-1 sp and next st".
func (h *hand) stretches(p *parser) []phrase {
	var list []phrase
	for {
		p.need("next")
		n, _ := p.number()
		list = append(list, phrase{spot: &spot{which: "next", n: n, noun: h.noun(p)}})
		if !p.got("and") && !(p.peek(0) == "," && p.peek(1) == "next" && p.got(",")) {
			break
		}
	}
	// "of Rnd 1" at the end holds for all.
	for i := range list {
		list[i].spot.noun.of = list[len(list)-1].spot.noun.of
	}
	return list
}

// feet reads the places of one stitch.
func (h *hand) feet(p *parser, by string) []phrase {
	var list []phrase
	for {
		how := ""
		p.got("then")
		if p.got("BLO", "of") {
			how = "back"
		} else if p.got("FLO", "of") {
			how = "front"
		}
		switch {
		case p.got(h.skip):
			list = append(list, phrase{what: "skip", over: h.stretches(p)})
		case p.got("same"):
			list = append(list, phrase{what: "leg", spot: &spot{how: how, which: "same", n: 1, noun: noun{what: p.next()}}})
		default:
			p.need("next")
			n, _ := p.number()
			list = append(list, phrase{what: "leg", spot: &spot{how: how, which: "next", n: n, noun: h.noun(p)}})
		}
		another := slices.Contains([]string{"next", "BLO", "FLO"}, p.peek(1))
		if !p.got(by) && !(by == "and" && another && p.got(",")) {
			return list
		}
	}
}

// ringText reads how the centre is made.
func (h *hand) ringText(text string) {
	if m := regexp.MustCompile(`^With (\S+), (.*)$`).FindStringSubmatch(text); m != nil {
		h.yarn, text = m[1], m[2]
	}
	low := strings.ToLower(text)
	if m := regexp.MustCompile(`^ch (\d+); join with (sl st|ss) to first ch to form a ring\.$`).FindStringSubmatch(low); m != nil {
		h.ring, _ = strconv.Atoi(m[1])
		h.stand = &hole{0, 0, "ch", 1}
	} else if low != "make an adjustable ring." {
		fail("no ring: %q", text)
	}
}

// edge returns the walk along the edge of a round, 0 for the foundation.
func (h *hand) edge(number int) *walk {
	if w := h.walks[number]; w != nil {
		return w
	}
	w := &walk{round: number}
	if number == 0 {
		w.items = h.edges
		if h.ring > 0 {
			w.items = []made{{kind: "ch", chains: h.ring}}
		}
	} else {
		r := h.round(number)
		w.items, w.rev = r.items, r.turned != h.facing
	}
	h.walks[number] = w
	return w
}

func (h *hand) round(number int) *worked {
	for _, r := range h.rounds {
		if r.number == number {
			return r
		}
	}
	fail("no round %d yet", number)
	return nil
}

// work reads one round.
func (h *hand) work(label, text, count string) {
	m := regexp.MustCompile(`^Rnd (\d+)(?: \((RS|WS)\))?$`).FindStringSubmatch(label)
	if m == nil {
		fail("no label: %q", label)
	}
	h.cur = &worked{turned: h.facing, count: count}
	h.cur.number, _ = strconv.Atoi(m[1])
	if m[2] != "" && (m[2] == "WS") != h.facing {
		fail("%s, but the other side faces", label)
	}
	h.walks, h.here, h.onBase, h.origin, h.starts = map[int]*walk{}, nil, nil, nil, false
	below := 0
	if n := len(h.rounds); n > 0 {
		below = h.rounds[n-1].number
	}
	h.base = h.edge(below)
	switch {
	case len(h.rounds) > 0 && h.joined:
		r := h.rounds[len(h.rounds)-1]
		if r.chained {
			h.stand = &hole{below, r.first, "base", 0}
		} else {
			h.stand = &hole{below, r.first, "st", 0}
		}
	case len(h.rounds) > 0:
		h.stand = nil
	}
	sentences := regexp.MustCompile(`\.(?: |$)`).Split(text, -1)
	sentences = sentences[:len(sentences)-1]
	cut := ""
	if last := sentences[len(sentences)-1]; strings.HasPrefix(last, "Fasten off") {
		cut = last
		sentences = sentences[:len(sentences)-1]
	}
	if len(sentences) == 0 {
		fail("nothing to do in %q", text)
	}
	main := sentences[len(sentences)-1]
	for _, s := range sentences[:len(sentences)-1] {
		h.prepare(s)
	}
	steps, end, _ := strings.Cut(main, "; ")
	p := h.parser(steps)
	list := h.steps(p)
	if p.at != len(p.tokens) {
		fail("what is %q?", strings.Join(p.tokens[p.at:], " "))
	}
	h.insts, h.inChains = stitchwise(list), takesChains(list)
	h.cur.first = -1
	h.do(list)
	h.close()
	h.end(end)
	if cut == "Fasten off" || slices.Contains(tokenPattern.FindAllString(cut, -1), h.yarn) {
		h.joined = false
	}
	h.rounds = append(h.rounds, h.cur)
}

func (h *hand) parser(text string) *parser {
	p := &parser{tokens: tokenPattern.FindAllString(text, -1)}
	if w := p.tokens[0]; !strings.HasPrefix(w, "FP") && !strings.HasPrefix(w, "BP") {
		p.tokens[0] = strings.ToLower(w[:1]) + w[1:]
	}
	return p
}

// stitchwise reports whether steps go into stitches, or from chain to chain.
func stitchwise(list []phrase) bool {
	in := func(s *spot) bool {
		return s != nil && s.nth == 0 && (s.noun.what == "st" || s.noun.what == "ch") && s.which != "same"
	}
	for _, f := range list {
		if f.what != "skip" && (in(f.spot) || stitchwise(f.body)) {
			return true
		}
		for _, o := range f.over {
			if f.what != "skip" && o.what == "leg" && in(o.spot) {
				return true
			}
		}
	}
	return false
}

// prepare reads what stands before the steps: slip stitches on the way, or new
// yarn.
func (h *hand) prepare(s string) {
	p := h.parser(s)
	if p.got("work", "behind") || p.got("work", "in", "front", "of") {
		return // which side of what; where is said by the steps
	}
	if p.got("join") {
		h.yarn = p.next()
		p.need("with")
		h.kind(p)
		h.standAt(h.where(p))
		return
	}
	if h.kind(p) != "sl st" {
		fail("no way to begin: %q", s)
	}
	if h.stand == nil {
		fail("slip stitches from nowhere: %q", s)
	}
	p.need("in")
	if p.peek(0) != "next" {
		p.at--
		h.standAt(h.where(p))
		h.cur.slips++
		return
	}
	w := h.base
	w.behind(*h.stand)
	for _, f := range h.stretches(p) {
		for range f.spot.n {
			at := h.seek(f.spot.noun, true)
			h.stand = &at
			h.cur.slips++
		}
	}
	w.pos, w.sub, w.begun, w.free = 0, 0, false, false
}

// standAt goes to a place that is named by itself.
func (h *hand) standAt(s *spot) {
	at := h.named(s)
	h.stand = &at
}

// named finds a place that is named by itself.
func (h *hand) named(s *spot) hole {
	n := s.noun
	if s.mark != nil {
		n = *s.mark
	}
	w := h.walkOf(n)
	var list []hole
	for k := range w.items {
		for _, pos := range []int{2 * k, 2*k + 1} {
			if at, ok := w.forward(pos, n); ok {
				list = append(list, at)
			}
		}
	}
	if s.mark != nil {
		switch {
		case s.marked < 0 && len(list) > 0:
			list = list[len(list)-1:]
		case s.marked > len(list):
			list = nil
		case s.marked > 0:
			list = list[s.marked-1 : s.marked]
		}
		for i, l := range list {
			list[i] = w.from(l, s)
		}
	}
	for i := range list {
		if at := &list[i]; s.nth > 0 { // a chain of it
			at.what, at.chain = "ch", s.nth
			if w.rev {
				at.chain = w.items[at.at].chains - s.nth + 1
			}
		}
	}
	switch {
	case s.which == "nth" && s.n <= len(list):
		return list[s.n-1]
	case s.which == "from" && s.marked != 0 && len(list) == 1:
		return list[0]
	case (s.which == "any" || s.which == "from" && s.marked == 0) && len(list) > 0:
		return list[h.choose(h.cur.number, list)]
	}
	fail("no such place: %v", *s)
	return hole{}
}

// from goes from a place to the n-th of a kind before or after it.
func (w *walk) from(mark hole, s *spot) hole {
	by, turn, n := 1, 2*len(w.items), s.n
	if s.before {
		by = turn - 1
	}
	pos := w.turn(2 * mark.at)
	for range turn {
		pos = (pos + by) % turn
		at, ok := w.forward(w.turn(pos), s.noun)
		if n -= map[bool]int{true: 1}[ok]; n == 0 {
			return at
		}
	}
	fail("no %v so far from %v", s.noun, mark)
	return hole{}
}

func (h *hand) walkOf(n noun) *walk {
	switch n.of {
	case "", "edge":
		return h.base
	case "ring":
		return h.edge(0)
	}
	number, _ := strconv.Atoi(n.of)
	return h.edge(number)
}

// turn changes a position in the order of making into one in the order of
// meeting, and back.
func (w *walk) turn(pos int) int {
	if w.rev {
		pos = (4*len(w.items) - 2 - pos) % (2 * len(w.items))
	}
	return pos
}

// forward looks whether a position, in the order of making, is a place.
func (w *walk) forward(pos int, n noun) (hole, bool) {
	k := pos / 2
	it := w.items[k]
	if pos%2 == 1 {
		if n.what != "gap" || !w.gap(k) {
			return hole{}, false
		}
		return hole{w.round, k, "gap", 0}, true
	}
	if n.corner && !it.corner {
		return hole{}, false
	}
	switch {
	case n.what == "st" && it.kind != "ch" && it.kind != "picot":
		return hole{w.round, k, "st", 0}, true
	case n.what == "sp" && it.kind == "ch" && it.chains == n.chains && it.corner == n.corner:
		return hole{w.round, k, "sp", 0}, true
	case n.what == "ch" && it.kind == "ch":
		return hole{w.round, k, "ch", 1}, true
	}
	return hole{}, false
}

// gap reports whether a gap follows item k: the next stitch follows without
// chains between, in a place of its own.
func (w *walk) gap(k int) bool {
	x := w.items[k]
	if x.kind == "ch" || x.kind == "picot" || w.round == 0 {
		return x.gap
	}
	for i := 1; i < len(w.items); i++ {
		y := w.items[(k+i)%len(w.items)]
		if y.kind == "picot" {
			continue
		}
		if y.kind == "ch" {
			return false
		}
		for _, a := range x.into {
			for _, b := range y.into {
				if a == b && (a.what != "ring" || x.group != 0 && x.group == y.group && k+i < len(w.items)) {
					return false
				}
			}
		}
		return true
	}
	return false
}

// after is the position just after a place where the hook is.
func (w *walk) after(at hole) int {
	switch pos := w.turn(2 * at.at); {
	case at.what == "base" && w.rev:
		return pos + 1
	case at.what == "base":
		return pos
	case at.what == "gap":
		return w.turn(2*at.at+1) + 1
	default:
		return pos + 1
	}
}

// seek goes on to the next place of a kind. What is passed on the way must be
// of no account: gaps and picots always, and stitches where the round works
// into spaces only.
func (h *hand) seek(n noun, slips bool) hole {
	w := h.walkOf(n)
	if len(w.items) == 0 {
		fail("an edge without places")
	}
	turn := 2 * len(w.items)
	for range turn + 2 {
		pos := w.turn(w.pos % turn)
		it := w.items[pos/2]
		at, ok := w.forward(pos, n)
		if ok && n.what == "ch" {
			at.chain = w.sub + 1
			if w.rev {
				at.chain = it.chains - w.sub
			}
			if w.sub++; w.sub == it.chains {
				w.pos, w.sub = w.pos+1, 0
			}
			return at
		}
		if ok && w.sub == 0 {
			w.pos++
			return at
		}
		switch {
		case pos%2 == 1, it.kind == "picot":
		case w.sub > 0 && w.free:
		case w.sub > 0:
			fail("round %d: chains of %d left in silence on the way to %v", h.cur.number, it.chains-w.sub, n)
		case it.kind != "ch" && (n.what == "sp" || n.what == "gap") && !h.insts && !slips:
		case w.round != h.base.round: // an earlier round
		default:
			fail("round %d: %s passed in silence on the way to %v", h.cur.number, it.kind, n)
		}
		w.pos, w.sub, w.free = w.pos+1, 0, false
	}
	fail("round %d: no %v", h.cur.number, n)
	return hole{}
}

// do works steps.
func (h *hand) do(list []phrase) {
	for _, f := range list {
		switch f.what {
		case "repeat":
			for range f.times {
				h.do(f.body)
			}
		case "with":
			h.yarn = f.name
		case "skip":
			h.arrive()
			for _, o := range f.over {
				h.pass(o.spot)
			}
		case "ch":
			if len(h.cur.items) == 0 && h.stand != nil {
				h.hang()
			}
			h.chain(f)
		case "picot":
			h.picot(f)
		case "uncounted":
			h.cur.uncounted += f.count
		case "start":
			h.start(f)
		case "group":
			h.places(f, func() {
				h.grouped++
				h.members(f.body, h.grouped, f.spot)
			})
		case "first", "join":
			if f.what == "join" {
				h.yarn = f.name
			}
			if f.spot.which != "same" && f.spot.which != "ring" {
				h.standAt(f.spot)
			}
			h.atStand(f)
		case "work":
			if len(f.over) > 0 {
				h.legs(f)
				continue
			}
			h.places(f, func() { h.stitches(f, 0, f.spot) })
		}
	}
}

// arrive begins the round where the hook is, if it has not begun.
func (h *hand) arrive() {
	w := h.base
	if w.begun || h.stand == nil {
		return
	}
	w.begun = true
	if h.stand.round != w.round {
		o := h.edge(h.stand.round)
		o.pos, o.begun = o.after(*h.stand)-1, true
		return
	}
	if len(w.items) == 0 {
		return
	}
	if !h.starts {
		w.behind(*h.stand)
		return
	}
	w.pos = w.after(*h.stand) - 1
	if h.stand.what == "base" {
		w.pos++
	}
	if h.stand.what == "ch" {
		w.pos = w.turn(2 * h.stand.at)
		w.sub = h.stand.chain - 1
		if w.rev {
			w.sub = w.items[h.stand.at].chains - h.stand.chain
		}
	}
}

// hang begins the round with chains, which hang from where the hook is.
func (h *hand) hang() {
	w := h.edge(h.stand.round)
	w.begun, h.base.begun = true, true
	w.behind(*h.stand)
	if h.stand.what != "base" {
		h.here, h.origin = h.stand, h.stand
	}
}

// below goes down from the last place on the round below to the round of a walk.
func (h *hand) below(w *walk) (hole, bool) {
	if h.onBase == nil {
		return hole{}, false
	}
	at := *h.onBase
	for at.round > w.round {
		items := h.round(at.round).items
		k := at.at
		for n := 0; items[k].kind == "ch"; n++ {
			if n > len(items) {
				return hole{}, false
			}
			k = (k - 1 + len(items)) % len(items)
		}
		into := items[k].into
		if len(into) == 0 || into[0].at < 0 {
			return hole{}, false
		}
		if h.round(at.round).turned != h.facing { // the foot that is furthest on
			at = into[0]
		} else {
			at = into[len(into)-1]
		}
	}
	switch at.what {
	case "ch":
		at.what, at.chain = "sp", 0
	case "gap":
		at.what = "st"
	}
	return at, at.round == w.round
}

// align goes forward along an earlier round to beyond what the hook stands over.
func (h *hand) align(w *walk) {
	if w.told {
		w.told = false
		return
	}
	at, ok := h.below(w)
	if w == h.base || !ok {
		return
	}
	pos, turn := w.after(at), 2*len(w.items)
	ahead := ((pos-w.pos)%turn + turn) % turn
	switch {
	case !w.begun:
		w.pos, w.begun = pos, true
	case ahead > 0 && ahead < turn/2:
		w.pos, w.sub = w.pos+ahead, 0
	}
}

// pass passes over places on purpose.
func (h *hand) pass(s *spot) {
	h.align(h.walkOf(s.noun))
	for range s.n {
		at := h.seek(s.noun, false)
		if h.origin == nil {
			h.origin = &at
		}
	}
	h.walkOf(s.noun).told = true
}

// places does something in every place of a step.
func (h *hand) places(f phrase, do func()) {
	s := f.spot
	if s == nil { // what stands nowhere
		do()
		return
	}
	if s.which == "ring" {
		h.at(hole{0, -1, "ring", 0})
		do()
		return
	}
	n := s.n
	if s.which == "each" && s.to != "" {
		n = h.upTo(s)
	} else if s.which == "each" {
		n = 0
		for _, it := range h.walkOf(s.noun).items {
			switch {
			case s.noun.what == "ch":
				n += it.chains
			case it.kind != "ch" && it.kind != "picot":
				n++
			}
		}
	}
	for range n {
		h.at(h.one(s))
		do()
	}
}

// upTo counts the stitches from here to the next corner, or to where the round
// began.
func (h *hand) upTo(s *spot) int {
	h.arrive()
	w, n, turn := h.base, 0, 2*len(h.base.items)
	for pos := w.pos; pos < w.pos+turn; pos++ {
		at := w.turn(pos % turn)
		it := w.items[at/2]
		switch {
		case at%2 == 1 || it.kind == "picot":
		case it.corner && s.to == "corner", s.to == "end" && h.origin != nil && at/2 == h.origin.at:
			return n
		case it.corner || it.kind == "ch":
			fail("round %d: a %s on the way to the %s", h.cur.number, it.kind, s.to)
		default:
			n++
		}
	}
	fail("round %d: no %s", h.cur.number, s.to)
	return 0
}

// one is the next place that words name.
func (h *hand) one(s *spot) hole {
	if s.which == "same" {
		at := h.here
		if at == nil {
			at = h.stand
		}
		if at == nil {
			fail("the same as what?")
		}
		return *at
	}
	h.arrive()
	n := s.noun
	if w := h.walkOf(n); s.which == "below" {
		at, ok := h.below(w)
		if !ok {
			fail("nothing is below")
		}
		pos := w.turn(2 * at.at)
		if at.what == "gap" {
			pos = w.turn(2*at.at + 1)
		}
		if found, ok := w.forward(w.turn(pos), n); !ok || found != at {
			fail("%v is below, not %v", at, n)
		}
		w.begun = true
		w.behind(at)
		return at
	}
	if s.which == "nth" || s.which == "from" {
		at, w := h.named(s), h.walkOf(n)
		if s.mark != nil {
			w = h.walkOf(*s.mark)
		}
		w.begun = true
		w.behind(at)
		return at
	}
	h.align(h.walkOf(n))
	if w := h.walkOf(n); s.nth > 0 && w.sub > 0 {
		if h.here != nil { // else the hook is in that very chain
			w.pos++
		}
		w.sub = 0
	}
	at := h.seek(n, false)
	if s.nth > 0 {
		at.what, at.chain = "ch", s.nth
		if w := h.walkOf(n); w.rev {
			at.chain = n.chains - s.nth + 1
		}
	}
	return at
}

func (h *hand) at(at hole) {
	h.here = &at
	if at.round == h.base.round && len(h.base.items) > 0 {
		h.onBase = &at
	}
	if h.origin == nil {
		h.origin = &at
	}
}

func (h *hand) add(it made) {
	it.yarn = h.yarn
	if h.cur.first < 0 {
		h.cur.first, h.cur.chained = len(h.cur.items), it.kind == "ch"
	}
	h.cur.items = append(h.cur.items, it)
}

// stitches works stitches where the hook is now, as the place says.
func (h *hand) stitches(f phrase, group int, s *spot) {
	loop := ""
	if s != nil && (s.how == "back" || s.how == "front") {
		loop = s.how
	}
	for range f.count {
		it := made{kind: f.kind, corner: f.corn, group: group, loops: []string{loop}}
		if h.here != nil && s != nil {
			it.into = []hole{*h.here}
		}
		h.add(it)
	}
}

// members works the members of a group, all in one place.
func (h *hand) members(list []phrase, group int, s *spot) {
	for _, f := range list {
		switch f.what {
		case "repeat":
			for range f.times {
				h.members(f.body, group, s)
			}
		case "ch":
			h.chain(f)
		case "picot":
			h.picot(f)
		case "start":
			h.add(made{kind: f.kind, start: f.count, corner: f.corn, into: []hole{*h.here}, group: group})
		default:
			h.stitches(f, group, s)
		}
	}
}

func (h *hand) chain(f phrase) {
	// Chains with nothing but picots between are one run.
	for i := len(h.cur.items) - 1; i >= 0 && !f.corn; i-- {
		it := &h.cur.items[i]
		if it.kind == "picot" && it.onRun {
			continue
		}
		if it.kind == "ch" && !it.corner && it.yarn == h.yarn {
			it.chains += f.count
			return
		}
		break
	}
	h.add(made{kind: "ch", chains: f.count, corner: f.corn})
}

func (h *hand) picot(f phrase) {
	it := made{kind: "picot", chains: f.count}
	for i := len(h.cur.items) - 1; i >= 0; i-- {
		if prev := h.cur.items[i]; prev.kind != "picot" {
			if prev.kind == "ch" {
				it.onRun, it.sits = true, prev.chains
			}
			break
		}
	}
	h.add(it)
}

// start makes a starting chain that counts.
func (h *hand) start(f phrase) {
	it := made{kind: f.kind, start: f.count, corner: f.corn}
	switch {
	case h.stand != nil && (h.stand.round != 0 || len(h.edges) > 0 || h.ring > 0 && len(h.rounds) == 0 && h.inChains):
		h.arrive()
		h.skipTo()
		h.at(*h.stand)
		it.into = []hole{*h.stand}
	default:
		h.at(hole{0, -1, "ring", 0})
		it.into = []hole{*h.here}
	}
	h.add(it)
}

// takesChains reports whether steps go into the single chains of a ring.
func takesChains(list []phrase) bool {
	for _, f := range list {
		if f.spot != nil && f.spot.noun.what == "ch" || takesChains(f.body) {
			return true
		}
	}
	return false
}

// atStand works a first stitch where the hook is.
func (h *hand) atStand(f phrase) {
	if f.spot.which == "ring" {
		h.at(hole{0, -1, "ring", 0})
	} else {
		h.arrive()
		h.skipTo()
		h.at(*h.stand)
	}
	h.stitches(f, 0, f.spot)
}

// skipTo moves past the place where the hook is.
func (h *hand) skipTo() { h.edge(h.stand.round).behind(*h.stand) }

// behind goes to just behind a place.
func (w *walk) behind(at hole) {
	w.pos, w.sub = w.after(at), 0
	if at.what != "ch" {
		return
	}
	it := w.items[at.at]
	w.pos, w.sub, w.free = w.turn(2*at.at), at.chain, true
	if w.rev {
		w.sub = it.chains - at.chain + 1
	}
	if w.sub >= it.chains {
		w.pos, w.sub = w.pos+1, 0
	}
}

// legs works one stitch with legs in several places.
func (h *hand) legs(f phrase) {
	it := made{kind: f.kind}
	for _, o := range f.over {
		if o.what == "skip" {
			for _, s := range o.over {
				h.pass(s.spot)
			}
			continue
		}
		for range o.spot.n {
			at := h.one(o.spot)
			h.at(at)
			it.into, it.loops = append(it.into, at), append(it.loops, strings.Trim(o.spot.how, "in"))
		}
	}
	h.add(it)
}

// close sees to it that the round has come round: nothing is left between the
// last place and the first.
func (h *hand) close() {
	w := h.base
	works := func(it made) bool {
		return slices.ContainsFunc(it.into, func(at hole) bool { return at.round == w.round })
	}
	if !slices.ContainsFunc(h.cur.items, works) { // nothing but chains, or into earlier rounds
		return
	}
	if h.origin == nil || h.origin.round != w.round || h.origin.at < 0 || len(w.items) == 0 || w.pos == 0 && w.sub == 0 {
		return
	}
	begin := w.turn(2 * h.origin.at)
	if h.origin.what == "gap" {
		begin = w.turn(2*h.origin.at + 1)
	}
	turn := 2 * len(w.items)
	end := begin + turn
	for w.pos > end {
		end += turn
	}
	if h.here != nil && *h.here == *h.origin && w.pos > begin+2 {
		return // the last place is the first
	}
	for pos := w.pos; pos < end; pos++ {
		at := w.turn(pos % turn)
		it := w.items[at/2]
		switch {
		case at%2 == 1, it.kind == "picot":
		case it.kind == "ch" && h.origin.what == "ch" && at/2 == h.origin.at:
		case it.kind == "ch" && w.round == 0:
		case it.kind == "ch", h.insts:
			fail("round %d: %s (item %d) left over at the end", h.cur.number, it.kind, at/2)
		}
	}
}

// end reads how the round is closed.
func (h *hand) end(text string) {
	h.joined = false
	for _, part := range strings.Split(text, "; ") {
		switch {
		case part == "":
		case part == "turn":
			h.facing = !h.facing
		case regexp.MustCompile(`^join with (sl st|ss) to (first|top of starting ch-\d+|base of first ch)`).MatchString(part),
			strings.HasPrefix(part, "close with an invisible join over "):
			h.joined = true
			h.cur.closed = "sl st"
			if strings.HasPrefix(part, "close with an invisible join") {
				h.cur.closed = "invisible join"
			}
			if m := regexp.MustCompile(`, changing to (\w+)`).FindStringSubmatch(part); m != nil {
				h.yarn = m[1]
			}
		case regexp.MustCompile(`^(sl st|ss) in next st$`).MatchString(part):
			h.cur.closed = "sl st"
		default:
			fail("what is %q?", part)
		}
	}
}
