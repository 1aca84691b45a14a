package pattern

import (
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A line is the steps of a round, or of a stretch of it, in wordings.
type line struct {
	*reader
	*wordings
	steps []step
	at    []int // for each step the stitch of the round it begins with

	// What waits for more of its like: the same worked into each of several
	// places in a row.
	head   string
	many   bool // several stitches in each place
	post   bool
	into   model.Place
	noun   noun
	n      int
	from   int
	worked int // n of what was written last

	ended bool           // there is nothing after what waits
	last  model.Place    // the place worked into last
	begun bool           // there is one
	here  map[*edge]spot // the last on each edge
	yarn  int
}

// line words the steps of a round from one of its stitches up to another. The
// first entries of it, as many as are done, have been written already.
func (r *reader) line(w *wordings, from, to, done int) *line {
	l := &line{reader: r, wordings: w, here: r.spots(from), yarn: r.node(from).Yarn}
	if r.colourful && done == 0 {
		l.yarn = r.node(from - 1).Yarn
	}
	atSeam := from == 0 && r.seam != nil
	if atSeam {
		l.here[r.base] = r.seam.from
		if r.seam.in != nil {
			l.last, l.begun = *r.seam.in, true
		}
	}
	for k := from; k < to; {
		n := r.node(k)
		switch {
		case n.IsStitch():
			u := r.unit(k)
			u.to = min(u.to, to)
			if k > from || atSeam {
				l.skip(u, k)
			}
			l.change(u.yarn, k)
			l.work(u, done)
			k, done = u.to, 0
		case r.kinds[n.Kind].Name == "picot":
			l.change(n.Yarn, k)
			l.bare(r.picot(n), k)
			k++
		default:
			l.change(n.Yarn, k)
			at := k
			k = r.run(k, func(text string) { l.bare(text, at) })
		}
	}
	l.ended = to == r.round.Len
	l.flush()
	if to == r.round.Len && r.seam != nil {
		end := r.seam.to
		end.turn = r.onePlace
		l.skipTo(r.base, end, to)
	} else {
		l.skip(r.unit(to%r.round.Len), to)
	}
	return l
}

// spots returns the places that were worked into last on each edge before the
// k-th stitch, going round.
func (r *reader) spots(k int) map[*edge]spot {
	here := map[*edge]spot{}
	for i := 1; i <= r.round.Len && len(here) < len(r.edges); i++ {
		n := r.node(k - i)
		if !n.IsStitch() {
			continue
		}
		places := slices.Collect(r.g.Into(n.ID))
		for _, p := range slices.Backward(places) {
			e := r.under(p)
			if _, known := here[e]; e != nil && !known {
				here[e] = e.spot(p, p.Kind == notation.Ch && r.unit((k-i+r.round.Len)%r.round.Len).alone)
			}
		}
	}
	return here
}

// put adds a step that works into something, bare one that does not.
func (l *line) put(text string, at int) { l.add(text, at, false) }

func (l *line) bare(text string, at int) { l.add(text, at, true) }

func (l *line) add(text string, at int, bare bool) {
	l.flush()
	l.steps = append(l.steps, l.step(text, bare))
	l.at = append(l.at, at)
}

// change goes on with another yarn.
func (l *line) change(yarn, at int) {
	if yarn == l.yarn {
		return
	}
	l.flush()
	l.yarn = yarn
	l.put("with "+l.yarnName(yarn), at)
}

func (p *piece) yarnName(yarn int) string {
	if yarn == 0 {
		return "yarn"
	}
	return p.yarns[yarn-1]
}

// work words what is worked into one place; the first entries of it may be
// done.
func (l *line) work(u unit, done int) {
	if done < u.to-u.from {
		l.unit(u, done)
	}
	for _, p := range u.places {
		l.last, l.begun = p, true
		if e := l.under(p); e != nil {
			l.here[e] = e.spot(p, u.alone)
		}
	}
}

func (l *line) unit(u unit, done int) {
	head, many := l.members(u.from+done, u.to)
	switch {
	case len(u.places) == 0:
		l.put(head, u.from)
		return
	case len(u.places) > 1:
		l.put(head+" over "+l.over(u.places), u.from)
		return
	}
	p := u.places[0]
	e := l.under(p)
	switch {
	case p.Kind == notation.RingHole && (many || l.node(u.from+done).Corner):
		l.put(head+" in ring", u.from)
	case done > 0 || l.begun && p.Kind != notation.RingHole && samePlace(p, l.last):
		l.put(head+" "+into(p, u.post)+"same "+kindWord(p), u.from)
	case l.under(p) != l.base && l.isBelow(e, p):
		l.put(head+" "+into(p, u.post)+l.reader.noun(p, false).one+l.ofEdge(e)+" below", u.from)
	case l.unfound(e, u.from):
		l.put(head+" "+into(p, u.post)+l.ordinal(p), u.from)
	case u.alone:
		run := model.Place{Kind: notation.Sp, Stitch: p.Stitch}
		l.put(fmt.Sprintf("%s %s%s ch of next %s%s", head, into(p, u.post), ordinal(e.chain(p)), l.reader.noun(run, false).one, l.ofEdge(e)), u.from)
	default:
		l.more(u, head, many)
	}
}

func samePlace(p, q model.Place) bool {
	return p.Kind == q.Kind && p.Stitch == q.Stitch && p.Chain == q.Chain
}

// more works what may be worked into each of several places in a row.
func (l *line) more(u unit, head string, many bool) {
	p := u.places[0]
	n := l.reader.noun(p, !many && !l.node(u.to-1).Corner)
	same := l.n > 0 && l.head == head && l.noun == n && l.post == u.post && l.into.Kind == p.Kind &&
		l.into.Loop == p.Loop && l.under(l.into) == l.under(p)
	if !same {
		l.flush()
		l.head, l.many, l.post, l.into, l.noun, l.from = head, many, u.post, p, n, u.from
	}
	l.n++
}

// flush writes what waits.
func (l *line) flush() {
	n := l.n
	if n == 0 {
		return
	}
	l.n, l.worked = 0, n
	if to := l.upTo(); to != "" {
		l.put(l.head+" "+into(l.into, l.post)+"each st "+to, l.from)
		return
	}
	if l.into.Kind == notation.RingHole {
		l.put(l.stitches(n, l.kinds[l.node(l.from).Kind].Name)+" in ring", l.from)
		return
	}
	l.put(l.head+" "+into(l.into, l.post)+l.places(l.noun, n, l.many || l.into.Kind == notation.Sp || l.into.Kind == notation.Gap)+l.ofEdge(l.under(l.into)), l.from)
}

// upTo says how far what waits goes on, in a round that is written without
// figures: to the next corner, or to the end of the round. It is "" where it does
// neither.
func (l *line) upTo() string {
	if !l.growing || l.into.Kind != notation.St || l.noun.one != "st" || l.under(l.into) != l.base {
		return ""
	}
	after := (l.base.position(l.last) + 2) % (2 * l.base.n)
	if l.base.at(after).Corner {
		return "to next corner"
	}
	if u := l.reader.unit(0); len(u.places) > 0 && l.ended && l.under(u.places[0]) == l.base && l.base.position(u.places[0]) == after {
		return "to end"
	}
	return ""
}

// places words so many places in a row; each is set where something is worked
// into each of them that could be taken as spread over them.
func (l *line) places(n noun, count int, each bool) string {
	if each && count > 1 {
		return "each of " + n.next(count)
	}
	return n.next(count)
}

// over words the places that one stitch stands in.
func (l *line) over(places []model.Place) string {
	var words []string
	var last noun
	n, skips, then, loops := 0, false, "", ""
	var on *edge
	flush := func() {
		if n > 0 {
			words = append(words, then+loops+last.next(n)+l.ofEdge(on))
			then = ""
		}
		n = 0
	}
	for i, p := range places {
		e := l.under(p)
		if i == 0 && l.begun && samePlace(p, l.last) {
			words = append(words, loop(p)+"same "+kindWord(p))
			continue
		}
		if i > 0 && e != nil && e == l.under(places[i-1]) {
			if between := l.passed(e, e.spot(places[i-1], false), e.spot(p, false)); len(between) > 0 {
				flush()
				words = append(words, l.skipName+" "+and(between)+l.ofEdge(e))
				skips, then = true, "then "
			}
		}
		if what := l.reader.noun(p, true); what != last || e != on || loop(p) != loops {
			flush()
			last, on, loops = what, e, loop(p)
		}
		n++
	}
	flush()
	if skips {
		return "(" + strings.Join(words, ", ") + ")"
	}
	return and(words)
}

// skip words the places passed over before a unit.
func (l *line) skip(u unit, at int) {
	for _, p := range u.places {
		if e := l.under(p); e != nil {
			to := e.spot(p, u.alone)
			to.turn = at == l.round.Len && e == l.base && l.onePlace
			l.skipTo(e, to, at)
			return
		}
	}
}

func (l *line) skipTo(e *edge, to spot, at int) {
	if here, ok := l.reached(e, at); ok && !l.unfound(e, at) {
		if words := l.passed(e, here, to); len(words) > 0 {
			l.bare(l.skipName+" "+and(words)+l.ofEdge(e), at)
		}
	}
}

// reached is how far the work has come along an edge at some stitch: to the last
// place worked into there, or, on that of an earlier round, to what the hook stands
// over if that is further on.
func (l *line) reached(e *edge, at int) (spot, bool) {
	here, ok := l.here[e]
	if e == l.base {
		return here, ok
	}
	over, known := l.below(e)
	if turn := 2 * e.n; known && (at <= l.first(e) || (over.position-here.position+turn)%turn < turn/2) {
		return over, true
	}
	return here, ok
}

// unfound reports whether the first place on the edge of an earlier round, worked
// into at some stitch, cannot be told from where the hook is.
func (l *line) unfound(e *edge, at int) bool {
	if e == nil || e == l.base || e.ring || at == 0 || at != l.first(e) {
		return false
	}
	_, known := l.below(e)
	return !known
}

// first is the number of the first stitch of the written round that goes into an
// edge.
func (r *reader) first(e *edge) int {
	if r.firsts == nil || r.counted != r.start {
		r.firsts, r.counted = map[*edge]int{}, r.start
		for k := range r.round.Len {
			for p := range r.g.Into(r.node(k).ID) {
				e := r.under(p)
				if _, found := r.firsts[e]; !found {
					r.firsts[e] = k
				}
			}
		}
	}
	if k, found := r.firsts[e]; found {
		return k
	}
	return r.round.Len
}

// below is the place of an earlier round that the hook stands over, going down
// from the last place of the round below by the foot furthest on. Chains hang from
// the stitch before them.
func (l *line) below(e *edge) (spot, bool) {
	at, ok := l.here[l.base]
	if !ok || e.ring {
		return spot{}, false
	}
	p := at.Place
	for hung := 0; p.Stitch >= e.first+e.n; {
		n := l.g.Node(p.Stitch)
		if !n.IsStitch() {
			r := l.g.Round(l.roundOf(n.ID))
			if hung++; hung > r.Len {
				return spot{}, false // nothing but chains
			}
			p.Stitch = r.First + (n.ID-r.First-1+r.Len)%r.Len
			continue
		}
		p, hung = model.Place{}, 0
		back := l.g.Round(l.roundOf(n.ID)).Turned != l.round.Turned
		for p = range l.g.Into(n.ID) {
			if back {
				break
			}
		}
		if p.Kind == notation.RingHole || p.Kind == notation.NoPlace {
			return spot{}, false
		}
	}
	switch p.Kind {
	case notation.Ch: // from here it is a space
		p.Kind, p.Chain = notation.Sp, 0
	case notation.Gap: // the stitch before it, as the draft has it
		p.Kind = notation.St
	}
	return e.spot(p, false), p.Stitch >= e.first
}

// isBelow reports whether a place of an earlier round is the one that the hook
// stands over.
func (l *line) isBelow(e *edge, p model.Place) bool {
	if e == nil {
		return false
	}
	over, ok := l.below(e)
	return ok && over.Kind == p.Kind && over.position == e.position(p)
}

// passed words what lies between two places of an edge. Gaps are no places for
// whoever goes from stitch to stitch, nor stitches for whoever goes from space
// to space.
func (l *line) passed(e *edge, from, to spot) []string {
	var words []string
	var last noun
	n := 0
	flush := func() {
		if n > 0 {
			words = append(words, last.next(n))
		}
		n = 0
	}
	add := func(what noun, count int) {
		if what != last {
			flush()
			last = what
		}
		n += count
	}
	around := from.turn || to.turn
	if from.position == to.position && (!around || e.ring) {
		if from.Kind != notation.Ch || to.Kind != notation.Ch {
			return nil
		}
		between := e.chain(to.Place) - e.chain(from.Place) - 1
		if e.ring && between < 0 {
			between += e.g.Node(to.Stitch).Chains
		}
		add(nounOf("ch"), max(between, 0))
		flush()
		return words
	}
	if from.Kind == notation.Ch && !from.alone {
		add(nounOf("ch"), e.g.Node(from.Stitch).Chains-e.chain(from.Place))
	}
	turn := 2 * e.n
	far := (to.position - from.position + turn) % turn
	if around && far == 0 {
		far = turn
	}
	for i := 1; i < far; i++ {
		at := (from.position + i) % turn
		node := e.at(at)
		switch {
		case at%2 == 1:
			if node.Gap && to.Kind == notation.Gap && !e.stitchwise {
				add(l.reader.noun(model.Place{Kind: notation.Gap, Stitch: node.ID}, false), 1)
			}
		case node.IsStitch():
			if e.stitchwise {
				add(nounOf("st"), 1)
			}
		case l.kinds[node.Kind].Name == "ch" && (e == l.base || to.Kind == notation.Sp):
			add(l.reader.noun(model.Place{Kind: notation.Sp, Stitch: node.ID}, false), 1)
		}
	}
	if to.Kind == notation.Ch && !to.alone {
		add(nounOf("ch"), e.chain(to.Place)-1)
	}
	flush()
	return words
}
