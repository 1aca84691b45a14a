package model_test

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"example.com/roundel/model"
)

// An independent reading of the notation, to hold the package against. It
// never makes a stitch: a round is one repeat, written down as stretches, and
// the number of times it is worked. Rounds are drawn so that they close: the
// edge comes first, then a repeat whose use divides it.

// A stretch is a part of a repeat: groups of stitches, each group in one
// place; or one run of chains; or picots, which leave no place.
type stretch struct {
	kind   string // "" for chains
	groups int    // groups of stitches side by side
	size   int    // stitches in a group
	place  int    // stretches with the same number, but not 0, share a place
	chains int
	picots int
	corner bool
}

func stitches(kind string, n int) stretch { return stretch{kind: kind, groups: n, size: 1} }

func inOne(kind string, n, place int) stretch {
	return stretch{kind: kind, groups: 1, size: n, place: place}
}

func chains(n int) stretch { return stretch{chains: n} }

// A ring is the edge of a round: a repeat and how often it stands there. An
// edge with corners has one in every repeat.
type ring struct {
	unit  []stretch
	times int
	named int // named groups in a repeat
}

// counts works out what the ring holds, by the rules of the notation: spaces
// are runs of chains, a gap stands between neighbours that share no place and
// have no chains between them.
func (r ring) counts() model.Counts {
	c := model.Counts{Stitches: map[string]int{}}
	var first, last *stretch
	for i := range r.unit {
		s := &r.unit[i]
		c.Picots += s.picots
		if s.corner {
			c.Corners++
		}
		switch {
		case s.chains > 0:
			c.Spaces++
			c.Chains += s.chains
		case s.groups > 0:
			c.Stitches[s.kind] += s.groups * s.size
			c.Total += s.groups * s.size
			c.Gaps += s.groups - 1
		default:
			continue
		}
		if last != nil && apart(last, s) {
			c.Gaps++
		}
		if first == nil {
			first = s
		}
		last = s
	}
	for kind := range c.Stitches {
		c.Stitches[kind] *= r.times
	}
	for _, n := range []*int{&c.Total, &c.Spaces, &c.Chains, &c.Picots, &c.Corners, &c.Gaps} {
		*n *= r.times
	}
	// From one repeat to the next, and from the end to the beginning.
	switch {
	case first == nil || first.chains > 0 || last.chains > 0:
	case r.times > 1:
		c.Gaps += r.times
	case first == last && first.groups > 1, first != last && apart(last, first):
		c.Gaps++
	}
	return c
}

// apart reports whether a gap stands between two neighbouring stretches.
func apart(a, b *stretch) bool {
	return a.chains == 0 && b.chains == 0 && (a.place == 0 || a.place != b.place)
}

// side is what lies between two corners, without the gaps.
func (r ring) side() model.Counts {
	inner := ring{times: 1}
	for _, s := range r.unit {
		if !s.corner {
			inner.unit = append(inner.unit, s)
		}
	}
	c := inner.counts()
	c.Gaps = 0
	return c
}

// A drawnRound is a round as drawn, with what comes out of it.
type drawnRound struct {
	head   string   // between the number and the colon
	lead   string   // before the repeat
	steps  []string // of the repeat
	parts  bool     // the steps may begin with any of them
	tail   string   // after the repeat
	around bool     // may be written around as well as a number of times
	times  int
	as     int // works the steps of that round
	rounds []ring
	claim  string
}

// A drawnDraft is a draft that closes by construction.
type drawnDraft struct {
	header []string
	rounds []*drawnRound
}

// rings lists what comes out, round by round.
func (d *drawnDraft) rings() []ring {
	var list []ring
	for _, r := range d.rounds {
		list = append(list, r.rounds...)
	}
	return list
}

// A way is how drafts are written down: one meaning, several texts.
type way struct {
	repeat func(r *drawnRound) string
	claims bool
}

// asDrawn writes every repeat with its number, or around.
func asDrawn(r *drawnRound) string {
	steps := strings.Join(r.steps, ", ")
	if r.around {
		return "[" + steps + "] around"
	}
	return fmt.Sprintf("[%s] %d times", steps, r.times)
}

func (d *drawnDraft) text(w way) string {
	var b strings.Builder
	for _, h := range d.header {
		b.WriteString(h + "\n")
	}
	number := 1
	for _, r := range d.rounds {
		fmt.Fprintf(&b, "rnd %d", number)
		number += len(r.rounds)
		if len(r.rounds) > 1 {
			fmt.Fprintf(&b, "-%d", number-1)
		}
		b.WriteString(r.head + ": ")
		switch {
		case r.as > 0:
			fmt.Fprintf(&b, "as rnd %d", r.as)
		case r.times == 0:
			b.WriteString(strings.Join(r.steps, ", "))
		default:
			b.WriteString(r.lead + w.repeat(r) + r.tail)
		}
		if w.claims && r.claim != "" {
			b.WriteString(" = " + r.claim)
		}
		b.WriteString("\n")
	}
	return b.String()
}

var plainKinds = []string{"sc", "hdc", "dc", "tr"}

func drawKind(t *rapid.T) string { return rapid.SampledFrom(plainKinds).Draw(t, "kind") }

// A drawer draws one draft.
type drawer struct {
	t      *rapid.T
	yarns  bool
	places int // numbers for places given out
}

func (d *drawer) int(from, to int, label string) int {
	return rapid.IntRange(from, to).Draw(d.t, label)
}

func (d *drawer) chance(percent int, label string) bool {
	return d.int(0, 99, label) < percent
}

func (d *drawer) place() int { d.places++; return d.places }

// A step is a drawn step: how it is written, the places it uses and what it
// leaves.
type step struct {
	text  string
	use   int
	out   []stretch
	named int
}

// divisor draws a divisor of n, most of them small.
func (d *drawer) divisor(n, most int) int {
	var list []int
	for i := 1; i <= n && i <= most; i++ {
		if n%i == 0 {
			list = append(list, i)
		}
	}
	return rapid.SampledFrom(list).Draw(d.t, "use")
}

// group draws the members of a group; it begins and ends with a stitch.
func (d *drawer) group() (text string, out []stretch) {
	place := d.place()
	var parts []string
	for i := range d.int(1, 3, "members") {
		if i > 0 && d.chance(60, "chains in a group") {
			n := d.int(1, 4, "chains")
			parts, out = append(parts, fmt.Sprintf("ch %d", n)), append(out, chains(n))
		}
		kind, n := drawKind(d.t), d.int(1, 3, "stitches")
		if n == 1 {
			parts = append(parts, kind)
		} else {
			parts = append(parts, fmt.Sprintf("%d %s", n, kind))
		}
		out = append(out, inOne(kind, n, place))
	}
	if d.chance(15, "picot in a group") {
		parts, out = append(parts, "picot 3"), append(out, stretch{picots: 1})
	}
	return "(" + strings.Join(parts, ", ") + ")", out
}

// steps draws steps that use exactly budget places of one kind, called what.
// Chains stand only after a stitch, so that no two runs meet.
func (d *drawer) steps(budget int, what string, depth int) []step {
	var list []step
	afterStitch := false
	for budget > 0 {
		s := d.step(budget, what, depth, afterStitch)
		budget -= s.use
		list = append(list, s)
		for _, o := range s.out {
			if o.picots == 0 {
				afterStitch = o.chains == 0
			}
		}
		if budget == 0 && afterStitch && d.chance(30, "chains at the end") {
			n := d.int(1, 5, "chains")
			list = append(list, step{text: fmt.Sprintf("ch %d", n), out: []stretch{chains(n)}})
		}
	}
	return list
}

func (d *drawer) step(budget int, what string, depth int, afterStitch bool) step {
	kind := drawKind(d.t)
	a := d.int(1, min(budget, 4), "places")
	b := d.int(2, 4, "in one")
	loop := ""
	if what == "st" && d.chance(20, "loop") {
		loop = rapid.SampledFrom([]string{"back loop of ", "front loop of "}).Draw(d.t, "loop")
	}
	in := func(n int) string {
		if n == 1 {
			return "in " + loop + "next " + what
		}
		return fmt.Sprintf("in %snext %d %s", loop, n, what)
	}
	switch c := d.int(0, 13, "step"); {
	case c == 0 || c == 1:
		return step{text: kind + " " + in(a), use: a, out: []stretch{stitches(kind, a)}}
	case c == 2:
		return step{text: fmt.Sprintf("%d %s %s", b, kind, in(1)), use: 1, out: []stretch{inOne(kind, b, d.place())}}
	case c == 3:
		return step{text: fmt.Sprintf("%d %s in each of next %d %s", b, kind, a, what), use: a,
			out: []stretch{{kind: kind, groups: a, size: b}}}
	case c == 4 && afterStitch:
		n := d.int(1, 6, "chains")
		return step{text: fmt.Sprintf("ch %d, sk %d %s", n, a, what), use: a, out: []stretch{chains(n)}}
	case c == 5 && afterStitch:
		return step{text: fmt.Sprintf("sk %d %s", a, what), use: a}
	case c == 6 && afterStitch:
		n := d.int(1, 6, "chains")
		return step{text: fmt.Sprintf("ch %d, %s %s", n, kind, in(1)), use: 1, out: []stretch{chains(n), stitches(kind, 1)}}
	case c == 7:
		text, out := d.group()
		return step{text: text + " in next " + what, use: 1, out: out}
	case c == 8:
		p := d.place()
		return step{text: "drift in next " + what, use: 1, named: 1,
			out: []stretch{inOne("dc", 1, p), chains(1), inOne("dc", 1, p)}}
	case c == 9 && budget >= 2 && what != "ch":
		n := d.int(2, min(budget, 5), "legs")
		name := fmt.Sprintf("%s%dtog", kind, n)
		text := fmt.Sprintf("%s over next %d %s", name, n, what)
		if what == "st" && d.chance(50, "short") {
			text = name
		}
		return step{text: text, use: n, out: []stretch{stitches(name, 1)}}
	case c == 10:
		return step{text: fmt.Sprintf("%s in next %s, picot 3", kind, what), use: 1,
			out: []stretch{stitches(kind, 1), {picots: 1}}}
	case c == 11:
		return step{text: fmt.Sprintf("%s in next %s, %s in same", kind, what, kind), use: 1,
			out: []stretch{inOne(kind, 2, d.place())}}
	case c == 12 && d.yarns && afterStitch:
		return step{text: fmt.Sprintf("with reed, %s %s, with sand", kind, in(a)), use: a, out: []stretch{stitches(kind, a)}}
	case c == 13 && depth > 0 && budget >= 2:
		n := d.int(2, min(budget, 4), "times")
		inner := d.steps(d.divisorBelow(budget/n), what, depth-1)
		out := join(inner)
		s := step{use: n * out.use, named: n * out.named}
		for range n {
			s.out = append(s.out, d.fresh(out.out)...)
		}
		s.text = fmt.Sprintf("[%s] %d times", out.text, n)
		return s
	}
	return step{text: kind + " " + in(a), use: a, out: []stretch{stitches(kind, a)}}
}

func (d *drawer) divisorBelow(n int) int { return d.int(1, min(n, 4), "inner use") }

// fresh copies stretches to places of their own.
func (d *drawer) fresh(list []stretch) []stretch {
	places := map[int]int{0: 0}
	var out []stretch
	for _, s := range list {
		if _, ok := places[s.place]; !ok {
			places[s.place] = d.place()
		}
		s.place = places[s.place]
		out = append(out, s)
	}
	return out
}

// join makes one step of several.
func join(list []step) step {
	var all step
	var texts []string
	for _, s := range list {
		texts = append(texts, s.text)
		all.use += s.use
		all.named += s.named
		all.out = append(all.out, s.out...)
	}
	all.text = strings.Join(texts, ", ")
	return all
}

func texts(list []step) []string {
	var out []string
	for _, s := range list {
		out = append(out, s.text)
	}
	return out
}

// draw draws a whole draft.
func draw(t *rapid.T) *drawnDraft {
	d := &drawer{t: t, yarns: rapid.Bool().Draw(t, "yarns")}
	out := &drawnDraft{header: []string{`motif "Saltmarsh"`}}
	if d.yarns {
		out.header = append(out.header, "yarn sand", "yarn reed")
	}
	if d.chance(20, "turned") {
		out.header = append(out.header, "worked turned")
	}
	out.header = append(out.header, "stitch drift = (dc, ch 1, dc)")
	first, foundation := d.first()
	out.header = append(out.header, foundation)
	out.rounds = append(out.rounds, first)
	for range d.int(0, 4, "more rounds") {
		below := out.rings()[len(out.rings())-1]
		if c := below.counts(); c.Total+c.Spaces > 400 {
			break
		}
		out.rounds = append(out.rounds, d.next(below))
	}
	// Rounds that hold whatever the edge is may be worked again by name.
	number := 1
	for i, r := range out.rounds {
		if last := out.rounds[len(out.rounds)-1]; i > 0 && r.again() && r == last && d.chance(50, "as") {
			if next, ok := d.corners(r, r.rounds[len(r.rounds)-1]); ok {
				out.rounds = append(out.rounds, &drawnRound{as: number, rounds: []ring{next}})
			}
		}
		number += len(r.rounds)
	}
	for _, r := range out.rounds {
		if d.yarns && d.chance(30, "with") {
			r.head = " with sand"
		}
		if d.chance(60, "claim") {
			r.claim = d.claim(r.rounds)
		}
	}
	return out
}

// first draws round 1 and the line of the foundation.
func (d *drawer) first() (*drawnRound, string) {
	kind, n := drawKind(d.t), d.int(1, 6, "stitches")
	times := d.int(2, 8, "times")
	r := &drawnRound{times: times}
	switch d.int(0, 6, "first round") {
	case 0:
		n += d.int(2, 20, "more")
		text := fmt.Sprintf("%d %s in ring", n, kind)
		if d.chance(30, "starting chain") {
			text = fmt.Sprintf("ch 3 as %s, %d %s in ring", kind, n-1, kind)
		}
		return &drawnRound{steps: []string{text}, rounds: []ring{{unit: []stretch{stitches(kind, n)}, times: 1}}}, "ring"
	case 1:
		c := d.int(1, 5, "chains")
		r.steps = []string{fmt.Sprintf("%d %s in ring", n, kind), fmt.Sprintf("ch %d", c)}
		r.rounds = []ring{{unit: []stretch{stitches(kind, n), chains(c)}, times: times}}
	case 2:
		c := d.int(1, 5, "chains")
		corner := chains(c)
		corner.corner = true
		r.steps = []string{fmt.Sprintf("%d %s in ring", n, kind), fmt.Sprintf("corner ch %d", c)}
		r.rounds = []ring{{unit: []stretch{stitches(kind, n), corner}, times: times}}
	case 3:
		corner := stitches(kind, 1)
		corner.corner = true
		r.steps = []string{fmt.Sprintf("%d %s in ring", n, kind), fmt.Sprintf("corner %s in ring", kind)}
		r.rounds = []ring{{unit: []stretch{stitches(kind, n), corner}, times: times}}
	case 4:
		text, out := d.group()
		r.steps = []string{text + " in ring"}
		r.rounds = []ring{{unit: out, times: times}}
	default:
		n = d.int(3, 12, "chains of the ring")
		return d.over(ring{unit: []stretch{chains(n)}, times: 1}, "ch", n), fmt.Sprintf("ring ch %d", n)
	}
	return r, "ring"
}

// next draws a round on an edge.
func (d *drawer) next(below ring) *drawnRound {
	c := below.counts()
	var kinds []string
	if c.Total > 0 {
		kinds = append(kinds, "st", "st")
	}
	if c.Spaces > 0 {
		kinds = append(kinds, "sp", "sp", "ch")
	}
	if c.Gaps > 0 {
		kinds = append(kinds, "gap")
	}
	if c.Corners > 0 {
		kinds = append(kinds, "corner", "corner", "corner", "corner")
	} else if c.Total > 0 {
		kinds = append(kinds, "each")
	}
	switch what := rapid.SampledFrom(kinds).Draw(d.t, "into"); what {
	case "st":
		if len(c.Stitches) == 1 && d.chance(30, "by name") {
			for name := range c.Stitches {
				what = name
			}
		}
		return d.over(below, what, c.Total)
	case "sp":
		return d.over(below, "sp", c.Spaces)
	case "ch":
		return d.over(below, "ch", c.Chains)
	case "gap":
		return d.over(below, "gap", c.Gaps)
	case "each":
		return d.each(below)
	}
	return d.side(below)
}

// over draws a repeat that uses all n places of a kind.
func (d *drawer) over(below ring, what string, n int) *drawnRound {
	use := d.divisor(n, 12)
	steps := d.steps(use, what, 1)
	all := join(steps)
	r := &drawnRound{steps: texts(steps), parts: true, times: n / use, around: rapid.Bool().Draw(d.t, "around"),
		rounds: []ring{{unit: all.out, times: n / use, named: all.named}}}
	if what == "st" && n > 2 && d.chance(15, "leading skip") {
		// The places skipped come round again at the end, and are worked.
		r.lead, r.parts = fmt.Sprintf("sk %d st, ", d.int(1, min(n-1, 3), "skip")), false
	}
	return r
}

// each draws a round of one step on an edge without corners, perhaps of
// several rounds.
func (d *drawer) each(below ring) *drawnRound {
	kind, n := drawKind(d.t), d.int(1, 2, "in each")
	r := &drawnRound{steps: []string{kind + " in each st"}}
	if n > 1 {
		r.steps[0] = fmt.Sprintf("%d %s", n, r.steps[0])
	}
	total := below.counts().Total
	chainsToo := n == 1 && d.chance(30, "and ch")
	if chainsToo {
		r.steps[0] += " and ch"
		total += below.counts().Chains
	}
	for range d.int(1, 2, "rounds") {
		total *= n
		r.rounds = append(r.rounds, ring{unit: []stretch{{kind: kind, groups: total, size: 1}}, times: 1})
		if n > 1 {
			r.rounds[len(r.rounds)-1].unit[0] = stretch{kind: kind, groups: total / n, size: n}
		}
	}
	return r
}

// side draws a round that works along the sides and into the corners.
func (d *drawer) side(below ring) *drawnRound {
	c, s := below.counts(), below.side()
	r := &drawnRound{times: c.Corners, around: rapid.Bool().Draw(d.t, "around"), parts: true}
	stitchCorner := s.Total*c.Corners < c.Total
	corner, cornerOut := d.corner()
	kind := drawKind(d.t)
	var along string
	var out []stretch
	named := 0
	switch v := d.int(0, 4, "along"); {
	case v == 0 && s.Total > 0:
		// Steps with numbers of their own fit a whole side only.
		all := join(d.steps(s.Total, "st", 1))
		along, out, named = all.text, all.out, all.named
	case v == 1 && s.Total+s.Chains > 0 && s.Total > 0:
		along, out = kind+" in each st and ch", []stretch{stitches(kind, s.Total+s.Chains)}
	case v == 2 && !stitchCorner:
		// Corners only: the round does not work into stitches.
	case v == 3 && !stitchCorner && c.Gaps >= c.Corners && c.Gaps%c.Corners == 0:
		n, b := c.Gaps/c.Corners, d.int(1, 3, "in a gap")
		along = fmt.Sprintf("[%d %s in next gap] %d times", b, kind, n)
		out = []stretch{{kind: kind, groups: n, size: b}}
	case s.Total > 0:
		along, out = kind+" in each st", []stretch{stitches(kind, s.Total)}
	}
	r.steps = []string{along, corner}
	if along == "" {
		r.steps = []string{corner}
	}
	first := ring{unit: append(append([]stretch{}, out...), cornerOut...), times: c.Corners, named: named}
	r.rounds = []ring{first}
	if strings.HasSuffix(along, " in each st") || strings.HasSuffix(along, " and ch") {
		for range d.int(0, 2, "rounds more") {
			if next, ok := d.corners(r, r.rounds[len(r.rounds)-1]); ok {
				r.rounds = append(r.rounds, next)
			}
		}
	}
	return r
}

// again reports whether the steps of a round hold on any edge with corners.
func (r *drawnRound) again() bool {
	return len(r.steps) == 2 && strings.HasSuffix(r.steps[0], " in each st") && strings.Contains(r.steps[1], "corner")
}

// corners works the steps of a round with corners on an edge further up.
func (d *drawer) corners(r *drawnRound, below ring) (ring, bool) {
	c := below.counts()
	if c.Corners != r.times {
		return ring{}, false // the corners were not worked again
	}
	s := below.side()
	total := s.Total
	if strings.HasSuffix(r.steps[0], " and ch") {
		total += s.Chains
	}
	if s.Total == 0 {
		return ring{}, false
	}
	kind, _, _ := strings.Cut(r.steps[0], " ")
	unit := []stretch{stitches(kind, total)}
	for _, o := range r.rounds[0].unit[1:] {
		unit = append(unit, o)
	}
	return ring{unit: unit, times: below.times}, true
}

// corner draws what goes into a corner.
func (d *drawer) corner() (text string, out []stretch) {
	kind, n, place := drawKind(d.t), d.int(2, 3, "beside the corner"), d.place()
	switch d.int(0, 4, "corner") {
	case 0:
		mark := inOne(kind, 1, place)
		mark.corner = true
		return fmt.Sprintf("(%s, corner %s, %s) in corner", kind, kind, kind),
			[]stretch{inOne(kind, 1, place), mark, inOne(kind, 1, place)}
	case 1:
		mark := stitches(kind, 1)
		mark.corner = true
		return fmt.Sprintf("corner %s in corner", kind), []stretch{mark}
	case 2:
		return fmt.Sprintf("%d %s in corner", n, kind), []stretch{inOne(kind, n, place)}
	}
	c := d.int(1, 4, "chains")
	mark := chains(c)
	mark.corner = true
	return fmt.Sprintf("(%d %s, corner ch %d, %d %s) in corner", n, kind, c, n, kind),
		[]stretch{inOne(kind, n, place), mark, inOne(kind, n, place)}
}

// claim writes a true claim about the rounds of a statement.
func (d *drawer) claim(rounds []ring) string {
	var items []string
	add := func(what string, of func(ring) int) {
		var list []string
		for _, r := range rounds {
			list = append(list, fmt.Sprint(of(r)))
		}
		items = append(items, strings.Join(list, "/")+" "+what)
	}
	c := rounds[0].counts()
	last := rounds[len(rounds)-1].counts()
	for _, kind := range stitchNames(c.Stitches) {
		if d.chance(60, "claim a kind") {
			add(kind, func(r ring) int { return r.counts().Stitches[kind] })
		}
		if c.Corners > 0 && last.Corners > 0 && d.chance(30, "claim a side") {
			add(kind+" per side", func(r ring) int { return r.side().Stitches[kind] })
		}
	}
	for _, item := range []struct {
		what string
		of   func(model.Counts) int
	}{
		{"st", func(c model.Counts) int { return c.Total }},
		{"sp", func(c model.Counts) int { return c.Spaces }},
		{"ch", func(c model.Counts) int { return c.Chains }},
		{"corners", func(c model.Counts) int { return c.Corners }},
		{"picots", func(c model.Counts) int { return c.Picots }},
	} {
		if d.chance(25, "claim "+item.what) {
			add(item.what, func(r ring) int { return item.of(r.counts()) })
		}
	}
	if rounds[0].named > 0 && len(rounds) == 1 && d.chance(50, "claim drift") {
		add("drift", func(r ring) int { return r.named * r.times })
	}
	return strings.Join(items, ", ")
}
