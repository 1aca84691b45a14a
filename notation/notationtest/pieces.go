package notationtest

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Piece is a draft that closes by construction, and what comes out of it. The
// counts are worked out from the way the piece is drawn, without making a
// stitch, so that they can be held against those of package model.
type Piece struct {
	Header []notation.Statement
	Rounds []*Round
}

// A Round is one round statement of a piece: a repeat, and what stands before
// it.
type Round struct {
	Yarn string          // "" for the yarn in use
	Lead []notation.Step // worked once, before the repeat
	// Repeat holds the steps of the repeat, in runs that belong together.
	Repeat [][]notation.Step
	// Times is how often the repeat is worked, with Around written as around;
	// 0 for steps that stand by themselves, without brackets.
	Times  int
	Around bool
	// Closes says that around means the same as the number of times.
	Closes bool
	// Turns says that the round may begin with any of the runs of its repeat.
	Turns bool
	As    int // works the steps of that round, and has none of its own
	Claim *notation.Claim

	edges []edge // what comes out, one for each round of the statement
	side  *side
}

// Counts returns what comes out, one for each round that the statement stands
// for.
func (r *Round) Counts() []model.Counts {
	list := make([]model.Counts, len(r.edges))
	for i, e := range r.edges {
		list[i] = e.counts()
	}
	return list
}

// Sides returns what each side of the rounds holds, without the gaps. All sides
// of a round are alike; for a round without corners it says nothing.
func (r *Round) Sides() []model.Counts {
	list := make([]model.Counts, len(r.edges))
	for i, e := range r.edges {
		list[i] = e.side()
	}
	return list
}

// Steps returns the steps as the draft has them, the repeat in brackets.
func (r *Round) Steps() []notation.Step {
	steps := slices.Concat(r.Repeat...)
	if r.Times > 0 {
		repeat := &notation.Repeat{Steps: steps, Times: r.Times}
		if r.Around {
			repeat.Times, repeat.Around = 0, true
		}
		steps = []notation.Step{repeat}
	}
	return slices.Concat(r.Lead, steps)
}

// Draft returns the piece as a tree without positions.
func (p *Piece) Draft() *notation.Draft {
	d := &notation.Draft{Statements: slices.Clone(p.Header)}
	number := 1
	for _, r := range p.Rounds {
		s := &notation.Round{From: number, To: number + len(r.edges) - 1, As: r.As, Claim: r.Claim}
		if r.As == 0 {
			s.Steps = r.Steps()
		}
		if r.Yarn != "" {
			s.Yarn = &notation.Name{Text: r.Yarn}
		}
		d.Statements = append(d.Statements, s)
		number = s.To + 1
	}
	return d
}

// Counts returns what comes out, round by round.
func (p *Piece) Counts() []model.Counts { return p.each((*Round).Counts) }

// Sides returns what each side holds, round by round; see Round.Sides.
func (p *Piece) Sides() []model.Counts { return p.each((*Round).Sides) }

func (p *Piece) each(of func(*Round) []model.Counts) []model.Counts {
	var list []model.Counts
	for _, r := range p.Rounds {
		list = append(list, of(r)...)
	}
	return list
}

// String returns the piece in the notation of package notation, as a failing
// test shows it.
func (p *Piece) String() string { return notation.Format(p.Draft()) }

// GoString is String: rapid shows what it has drawn with it.
func (p *Piece) GoString() string { return "\n" + p.String() }

// Pieces generates pieces of one to ten rounds and a few hundred stitches at
// most in each. A third of them keep to what any notation has words for:
// stitches of four heights, groups and chains, in a ring, in stitches and in
// chain spaces. The others draw on everything else too: corners, gaps, loops,
// picots, stitches closed together, named groups, yarns, claims and so on.
func Pieces() *rapid.Generator[*Piece] {
	return rapid.Custom(func(t *rapid.T) *Piece {
		d := &drawer{t: t}
		switch rapid.SampledFrom([]string{"plain", "some", "all", "all"}).Draw(t, "words") {
		case "some":
			d.words = feature(rapid.Uint32Range(0, uint32(everything)).Draw(t, "features"))
		case "all":
			d.words = everything
		}
		return d.piece()
	})
}

// Graphs generates the graphs of pieces.
func Graphs() *rapid.Generator[*model.Graph] {
	return rapid.Map(Pieces(), func(p *Piece) *model.Graph {
		g, _, err := model.Build(context.Background(), p.Draft())
		if err != nil {
			panic(err) // the context does not end
		}
		return g
	})
}

// A feature is something that a piece may hold beyond the plain things.
type feature uint32

const (
	header  feature = 1 << iota // title, claims
	yarns                       // more than one
	turned                      // rounds worked to and fro
	named                       // named groups
	corners                     // and sides
	gaps                        // as places
	singles                     // single chains as places, and rings of chains
	loops                       // back and front
	closed                      // stitches closed together
	picots
	starts // starting chains that count
	ranges // rounds worked again by the same steps
	nested // repeats in repeats
	other  // in same, stitches by name, skips before the repeat

	everything = 1<<iota - 1
)

// A drawer draws one piece. Round by round it takes the edge below, and draws
// a repeat whose use divides it.
type drawer struct {
	t      *rapid.T
	words  feature
	drift  *notation.StitchDef
	places int // numbers for places given out
}

func (d *drawer) may(f feature) bool { return d.words&f != 0 }

func (d *drawer) int(from, to int, label string) int {
	return rapid.IntRange(from, to).Draw(d.t, label)
}

func (d *drawer) chance(percent int, label string) bool {
	return d.int(0, 99, label) < percent
}

func (d *drawer) chanceOf(f feature, percent int, label string) bool {
	return d.may(f) && d.chance(percent, label)
}

func (d *drawer) place() int { d.places++; return d.places }

func (d *drawer) kind() string {
	return rapid.SampledFrom([]string{"sc", "hdc", "dc", "tr"}).Draw(d.t, "kind")
}

// Nodes of the tree.

func name(us string) notation.Name { return notation.Name{Text: us, US: us} }

func work(n int, kind string, in *notation.Place) *notation.Work {
	return &notation.Work{Count: n, HasCount: n > 1, Stitch: name(kind), Place: in}
}

func run(n int) *notation.Chain { return &notation.Chain{Count: n} }

func inRing() *notation.Place { return &notation.Place{How: notation.InRing, Kind: notation.RingHole} }

// A what is a kind of place to work into.
type what struct {
	kind   notation.PlaceKind
	stitch notation.Name
}

func (w what) next(n int) *notation.Place {
	return &notation.Place{How: notation.InNext, Count: n, Kind: w.kind, Stitch: w.stitch}
}

func (w what) each(n int) *notation.Place {
	return &notation.Place{How: notation.InEach, Count: n, Kind: w.kind, Stitch: w.stitch}
}

func (w what) skip(n int) *notation.Skip {
	return &notation.Skip{Count: n, What: w.kind, Stitch: w.stitch}
}

var (
	aStitch = what{kind: notation.St}
	aCorner = what{kind: notation.Corner}
)

// A part is a drawn run of steps, the places it uses and what it leaves.
type part struct {
	steps []notation.Step
	use   int
	out   []stretch
	named int
}

func one(s notation.Step, use int, out ...stretch) part {
	return part{steps: []notation.Step{s}, use: use, out: out}
}

func join(list []part) part {
	var all part
	for _, p := range list {
		all.steps = append(all.steps, p.steps...)
		all.use += p.use
		all.named += p.named
		all.out = append(all.out, p.out...)
	}
	return all
}

// parts draws steps that use exactly budget places of one kind. Chains stand
// only after a stitch, so that no two runs meet.
func (d *drawer) parts(budget int, w what, depth int) []part {
	var list []part
	afterStitch := false
	for budget > 0 {
		p := d.part(budget, w, depth, afterStitch)
		budget -= p.use
		list = append(list, p)
		for _, o := range p.out {
			if o.picots == 0 {
				afterStitch = o.chains == 0
			}
		}
		if budget == 0 && afterStitch && d.chance(30, "chains at the end") {
			n := d.int(1, 5, "chains")
			list = append(list, one(run(n), 0, chains(n)))
		}
	}
	return list
}

func (d *drawer) part(budget int, w what, depth int, afterStitch bool) part {
	kind := d.kind()
	a := d.int(1, min(budget, 4), "places")
	b := d.int(2, 4, "in one")
	loop := notation.BothLoops
	if w.kind == notation.St && d.chanceOf(loops, 20, "loop") {
		loop = rapid.SampledFrom([]notation.Loop{notation.BackLoop, notation.FrontLoop}).Draw(d.t, "of")
	}
	next := func(n int) *notation.Place {
		p := w.next(n)
		p.Loop = loop
		return p
	}
	switch c := d.int(0, 13, "step"); {
	case c == 2:
		return one(work(b, kind, next(1)), 1, inOne(kind, b, d.place()))
	case c == 3:
		return one(work(b, kind, w.each(a)), a, stretch{kind: kind, groups: a, size: b})
	case c == 4 && afterStitch:
		n := d.int(1, 6, "chains")
		return part{steps: []notation.Step{run(n), w.skip(a)}, use: a, out: []stretch{chains(n)}}
	case c == 5 && afterStitch:
		return one(w.skip(a), a)
	case c == 6 && afterStitch:
		n := d.int(1, 6, "chains")
		return part{steps: []notation.Step{run(n), work(1, kind, next(1))}, use: 1, out: []stretch{chains(n), stitches(kind, 1)}}
	case c == 7:
		g, out := d.group()
		g.Place = w.next(1)
		return one(g, 1, out...)
	case c == 8 && d.may(named):
		place := d.place()
		s := &notation.Work{Count: 1, Stitch: notation.Name{Text: d.drift.Name.Text, Group: d.drift}, Place: w.next(1)}
		p := one(s, 1, inOne("dc", 1, place), chains(1), inOne("dc", 1, place))
		p.named = 1
		return p
	case c == 9 && budget >= 2 && w.kind != notation.Ch && d.may(closed):
		n := d.int(2, min(budget, 5), "legs")
		together := fmt.Sprintf("%s%dtog", kind, n)
		place := w.next(n)
		place.How = notation.Over
		if w == aStitch && d.chance(50, "short") {
			place = nil
		}
		return one(work(1, together, place), n, stitches(together, 1))
	case c == 10 && d.may(picots):
		return part{steps: []notation.Step{work(1, kind, w.next(1)), &notation.Picot{Chains: 3}}, use: 1,
			out: []stretch{stitches(kind, 1), {picots: 1}}}
	case c == 11 && d.may(other):
		same := work(1, kind, &notation.Place{How: notation.InSame})
		return part{steps: []notation.Step{work(1, kind, w.next(1)), same}, use: 1, out: []stretch{inOne(kind, 2, d.place())}}
	case c == 12 && d.may(yarns) && afterStitch:
		with := func(yarn string) *notation.ChangeYarn { return &notation.ChangeYarn{Yarn: notation.Name{Text: yarn}} }
		return part{steps: []notation.Step{with("reed"), work(1, kind, next(a)), with("sand")}, use: a, out: []stretch{stitches(kind, a)}}
	case c == 13 && depth > 0 && budget >= 2 && d.may(nested):
		n := d.int(2, min(budget, 4), "times")
		inner := join(d.parts(d.int(1, min(budget/n, 4), "inner use"), w, depth-1))
		p := one(&notation.Repeat{Steps: inner.steps, Times: n}, n*inner.use)
		p.named = n * inner.named
		for range n {
			p.out = append(p.out, d.fresh(inner.out)...)
		}
		return p
	}
	return one(work(1, kind, next(a)), a, stitches(kind, a))
}

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

// group draws a group; it begins and ends with a stitch.
func (d *drawer) group() (g *notation.Group, out []stretch) {
	g = &notation.Group{}
	place := d.place()
	for i := range d.int(1, 3, "members") {
		if i > 0 && d.chance(60, "chains in a group") {
			n := d.int(1, 4, "chains")
			g.Members, out = append(g.Members, run(n)), append(out, chains(n))
		}
		kind, n := d.kind(), d.int(1, 3, "stitches")
		g.Members, out = append(g.Members, work(n, kind, nil)), append(out, inOne(kind, n, place))
	}
	if d.chanceOf(picots, 15, "picot in a group") {
		g.Members, out = append(g.Members, &notation.Picot{Chains: 3}), append(out, stretch{picots: 1})
	}
	return g, out
}

// piece draws a whole piece.
func (d *drawer) piece() *Piece {
	p := &Piece{}
	if d.may(header) {
		p.Header = append(p.Header, &notation.Motif{Title: "Saltmarsh"})
	}
	if d.may(yarns) {
		p.Header = append(p.Header, &notation.Yarn{Name: notation.Name{Text: "sand"}}, &notation.Yarn{Name: notation.Name{Text: "reed"}})
	}
	if d.chanceOf(turned, 20, "turned") {
		p.Header = append(p.Header, &notation.Working{Rounds: notation.Turned})
	}
	if d.may(named) {
		d.drift = &notation.StitchDef{Name: notation.Name{Text: "drift"},
			Group: &notation.Group{Members: []notation.Step{work(1, "dc", nil), run(1), work(1, "dc", nil)}}}
		p.Header = append(p.Header, d.drift)
	}
	first, ring := d.first()
	p.Header = append(p.Header, ring)
	p.Rounds = append(p.Rounds, first)
	last := func() *Round { return p.Rounds[len(p.Rounds)-1] }
	numbers := []int{1}
	for range d.int(0, 4, "more rounds") {
		below := last().last()
		if c := below.counts(); c.Total+c.Spaces > 400 {
			break
		}
		numbers = append(numbers, numbers[len(numbers)-1]+len(last().edges))
		p.Rounds = append(p.Rounds, d.next(below))
	}
	// Rounds that hold whatever the edge is may be worked again by name.
	if r := last(); r.side != nil && !r.side.andCh && len(p.Rounds) > 1 && d.chanceOf(ranges, 50, "as") {
		if e, ok := r.side.on(r.last()); ok {
			p.Rounds = append(p.Rounds, &Round{As: numbers[len(numbers)-1], edges: []edge{e}})
		}
	}
	for _, r := range p.Rounds {
		if d.chanceOf(yarns, 30, "with") {
			r.Yarn = "sand"
		}
		if d.chanceOf(header, 60, "claim") {
			r.Claim = d.claim(r)
		}
	}
	return p
}

func (r *Round) last() edge { return r.edges[len(r.edges)-1] }

// first draws round 1 and the foundation.
func (d *drawer) first() (*Round, *notation.Ring) {
	kind, n, times := d.kind(), d.int(1, 6, "stitches"), d.int(2, 8, "times")
	ring := &notation.Ring{}
	repeat := func(out []stretch, steps ...notation.Step) (*Round, *notation.Ring) {
		return &Round{Repeat: [][]notation.Step{steps}, Times: times, edges: []edge{{unit: out, times: times}}}, ring
	}
	form := d.int(0, 6, "first round")
	switch {
	case form == 1:
		c := d.int(1, 5, "chains")
		return repeat([]stretch{stitches(kind, n), chains(c)}, work(n, kind, inRing()), run(c))
	case form == 2 && d.may(corners):
		c := &notation.Chain{Count: d.int(1, 5, "chains"), Corner: true}
		return repeat([]stretch{stitches(kind, n), chains(c.Count).asCorner()}, work(n, kind, inRing()), c)
	case form == 3 && d.may(corners):
		c := work(1, kind, inRing())
		c.Corner = true
		return repeat([]stretch{stitches(kind, n), stitches(kind, 1).asCorner()}, work(n, kind, inRing()), c)
	case form == 4:
		g, out := d.group()
		g.Place = inRing()
		return repeat(out, g)
	case form > 4 && d.may(singles):
		ring.Chains = d.int(3, 12, "chains of the ring")
		return d.over(edge{unit: []stretch{chains(ring.Chains)}, times: 1}, what{kind: notation.Ch}, ring.Chains), ring
	}
	n += d.int(2, 20, "more")
	r := &Round{edges: []edge{{unit: []stretch{stitches(kind, n)}, times: 1}}}
	if d.chanceOf(starts, 30, "starting chain") {
		as := name(kind)
		length := map[string]int{"sc": 1, "hdc": 2, "dc": 3, "tr": 4}[kind]
		r.Repeat = append(r.Repeat, []notation.Step{&notation.Chain{Count: length, As: &as}})
		n--
	}
	r.Repeat = append(r.Repeat, []notation.Step{work(n, kind, inRing())})
	return r, ring
}

// next draws a round on an edge.
func (d *drawer) next(below edge) *Round {
	c := below.counts()
	var kinds []string
	if c.Total > 0 {
		kinds = append(kinds, "st", "st")
	}
	if c.Spaces > 0 {
		kinds = append(kinds, "sp", "sp")
	}
	if c.Spaces > 0 && d.may(singles) {
		kinds = append(kinds, "ch")
	}
	if c.Gaps > 0 && d.may(gaps) {
		kinds = append(kinds, "gap")
	}
	switch {
	case c.Corners > 0:
		kinds = append(kinds, "corner", "corner", "corner", "corner")
	case c.Total > 0:
		kinds = append(kinds, "each")
	}
	switch rapid.SampledFrom(kinds).Draw(d.t, "into") {
	case "st":
		w := aStitch
		if len(c.Stitches) == 1 && d.chanceOf(other, 30, "by name") {
			for us := range c.Stitches {
				w = what{notation.OfStitch, name(us)}
			}
		}
		return d.over(below, w, c.Total)
	case "sp":
		return d.over(below, what{kind: notation.Sp}, c.Spaces)
	case "ch":
		return d.over(below, what{kind: notation.Ch}, c.Chains)
	case "gap":
		return d.over(below, what{kind: notation.Gap}, c.Gaps)
	case "each":
		return d.each(below)
	}
	return d.sides(below)
}

// over draws a repeat that uses all n places of a kind.
func (d *drawer) over(below edge, w what, n int) *Round {
	var divisors []int
	for i := 1; i <= min(n, 12); i++ {
		if n%i == 0 {
			divisors = append(divisors, i)
		}
	}
	use := rapid.SampledFrom(divisors).Draw(d.t, "use")
	parts := d.parts(use, w, 1)
	all := join(parts)
	r := &Round{Times: n / use, Around: rapid.Bool().Draw(d.t, "around"), Closes: true, Turns: true,
		edges: []edge{{unit: all.out, times: n / use, named: all.named}}}
	for _, p := range parts {
		r.Repeat = append(r.Repeat, p.steps)
	}
	if w == aStitch && n > 2 && d.chanceOf(other, 15, "leading skip") {
		// The places skipped come round again at the end, and are worked.
		r.Lead, r.Turns = []notation.Step{aStitch.skip(d.int(1, min(n-1, 3), "skip"))}, false
	}
	return r
}

// each draws a round of one step on an edge without corners, perhaps of
// several rounds.
func (d *drawer) each(below edge) *Round {
	kind, n := d.kind(), d.int(1, 2, "in each")
	place := aStitch.each(0)
	r := &Round{Repeat: [][]notation.Step{{work(n, kind, place)}}}
	total := below.counts().Total
	if n == 1 && d.chanceOf(singles, 30, "and ch") {
		place.AndCh = true
		total += below.counts().Chains
	}
	rounds := 1
	if d.may(ranges) {
		rounds = d.int(1, 2, "rounds")
	}
	for range rounds {
		r.edges = append(r.edges, edge{unit: []stretch{{kind: kind, groups: total, size: n}}, times: 1})
		total *= n
	}
	return r
}

// A side is a round that works along the sides, one stitch in each, and into
// the corners: it holds on any edge with as many corners.
type side struct {
	kind   string
	andCh  bool
	corner []stretch
	times  int
}

// on works the round on an edge, unless the corners were not worked again.
func (s *side) on(below edge) (edge, bool) {
	c, along := below.counts(), below.side()
	if c.Corners != s.times || along.Total == 0 {
		return edge{}, false
	}
	n := along.Total
	if s.andCh {
		n += along.Chains
	}
	return edge{unit: slices.Concat([]stretch{stitches(s.kind, n)}, s.corner), times: below.times}, true
}

// sides draws a round that works along the sides and into the corners.
func (d *drawer) sides(below edge) *Round {
	c, s := below.counts(), below.side()
	r := &Round{Times: c.Corners, Around: rapid.Bool().Draw(d.t, "around"), Closes: true, Turns: true}
	stitchCorner := s.Total*c.Corners < c.Total
	corner, cornerOut := d.corner()
	kind := d.kind()
	var along part
	var again *side
	switch v := d.int(0, 4, "along"); {
	case v == 0 && s.Total > 0:
		// Steps with numbers of their own fit a whole side only.
		along = join(d.parts(s.Total, aStitch, 1))
	case v == 1 && s.Total > 0 && d.may(singles):
		place := aStitch.each(0)
		place.AndCh = true
		along = one(work(1, kind, place), 0, stitches(kind, s.Total+s.Chains))
		again = &side{kind: kind, andCh: true}
	case v == 2 && !stitchCorner:
		// Corners only: the round does not work into stitches.
	case v == 3 && !stitchCorner && c.Gaps >= c.Corners && c.Gaps%c.Corners == 0 && d.may(gaps):
		n, b := c.Gaps/c.Corners, d.int(1, 3, "in a gap")
		in := work(b, kind, what{kind: notation.Gap}.next(1))
		along = one(&notation.Repeat{Steps: []notation.Step{in}, Times: n}, 0, stretch{kind: kind, groups: n, size: b})
	case s.Total > 0:
		along = one(work(1, kind, aStitch.each(0)), 0, stitches(kind, s.Total))
		again = &side{kind: kind}
	}
	if len(along.steps) > 0 {
		r.Repeat = append(r.Repeat, along.steps)
	}
	r.Repeat = append(r.Repeat, []notation.Step{corner})
	r.edges = []edge{{unit: slices.Concat(along.out, cornerOut), times: c.Corners, named: along.named}}
	if again == nil {
		return r
	}
	again.corner, again.times = cornerOut, c.Corners
	r.side = again
	if d.may(ranges) {
		for range d.int(0, 2, "rounds more") {
			if e, ok := again.on(r.last()); ok {
				r.edges = append(r.edges, e)
			}
		}
	}
	return r
}

// corner draws what goes into a corner.
func (d *drawer) corner() (notation.Step, []stretch) {
	kind, n, place := d.kind(), d.int(2, 3, "beside the corner"), d.place()
	in := aCorner.next(1)
	switch d.int(0, 4, "corner") {
	case 0:
		mark := work(1, kind, nil)
		mark.Corner = true
		return &notation.Group{Members: []notation.Step{work(1, kind, nil), mark, work(1, kind, nil)}, Place: in},
			[]stretch{inOne(kind, 1, place), inOne(kind, 1, place).asCorner(), inOne(kind, 1, place)}
	case 1:
		mark := work(1, kind, in)
		mark.Corner = true
		return mark, []stretch{stitches(kind, 1).asCorner()}
	case 2:
		return work(n, kind, in), []stretch{inOne(kind, n, place)}
	}
	c := &notation.Chain{Count: d.int(1, 4, "chains"), Corner: true}
	return &notation.Group{Members: []notation.Step{work(n, kind, nil), c, work(n, kind, nil)}, Place: in},
		[]stretch{inOne(kind, n, place), chains(c.Count).asCorner(), inOne(kind, n, place)}
}

// claim draws a true claim about the rounds of a statement, nil for none.
func (d *drawer) claim(r *Round) *notation.Claim {
	c := &notation.Claim{}
	add := func(item notation.ClaimItem, rounds []model.Counts, of func(model.Counts) int) {
		for _, c := range rounds {
			item.Counts = append(item.Counts, of(c))
		}
		c.Items = append(c.Items, &item)
	}
	rounds, sides := r.Counts(), r.Sides()
	cornered := rounds[0].Corners > 0 && rounds[len(rounds)-1].Corners > 0
	for _, kind := range slices.Sorted(maps.Keys(rounds[0].Stitches)) {
		of := func(c model.Counts) int { return c.Stitches[kind] }
		item := notation.ClaimItem{What: notation.OfStitch, Stitch: name(kind)}
		if d.chance(60, "claim a kind") {
			add(item, rounds, of)
		}
		if cornered && d.chance(30, "claim a side") {
			item.PerSide = true
			add(item, sides, of)
		}
	}
	for _, item := range []struct {
		what notation.PlaceKind
		of   func(model.Counts) int
	}{
		{notation.St, func(c model.Counts) int { return c.Total }},
		{notation.Sp, func(c model.Counts) int { return c.Spaces }},
		{notation.Ch, func(c model.Counts) int { return c.Chains }},
		{notation.Corner, func(c model.Counts) int { return c.Corners }},
		{notation.Picots, func(c model.Counts) int { return c.Picots }},
	} {
		if d.chance(25, "claim "+item.what.String()) {
			add(notation.ClaimItem{What: item.what}, rounds, item.of)
		}
	}
	if n := r.edges[0].named * r.edges[0].times; n > 0 && len(r.edges) == 1 && d.chance(50, "claim drift") {
		c.Items = append(c.Items, &notation.ClaimItem{Counts: []int{n}, What: notation.OfStitch,
			Stitch: notation.Name{Text: d.drift.Name.Text, Group: d.drift}})
	}
	if len(c.Items) == 0 {
		return nil
	}
	return c
}
