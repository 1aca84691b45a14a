package size

import (
	"iter"
	"math"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// Yarn returns how long a yarn one stitch of a kind takes, in w:
//
//	Fabric width height         a stitch: solid sc, hdc and dc take the same
//	                            length for the same area, within 2 %
//	ChainYarn                   a slip stitch, and one chain
//	n x - (n-1) ChainYarn       n stitches of x closed together with one top
//
// Of the stitches that have no fixed number of legs, a cluster is taken for
// three dc closed together, a bobble for five, a puff for four hdc closed
// together, a popcorn for five dc and a bullion for three: common practice, no
// source.
//
// Fabric = 8.4 and ChainYarn = 4.5 are fitted on one worker's measurements, at
// a w taken from the usual gauge of such yarn: squares of sc, hdc and dc, single
// rows of each on a chain, and a chain ("Crochet Yarn Estimating", site,
// undated). Every one is met within 18 %; so hdc takes 1.45 and dc 2.05 times
// as much as sc, where the same worker's rows give 1.48 and 1.92 and swatches
// weighed by another 1.47 for hdc.
func (d *Dimensions) Yarn(k model.Kind) float64 {
	legs, height := k.Legs, k.Height
	switch k.Symbol {
	case "cluster":
		legs = 3
	case "bobble":
		legs = 5
	case "puff":
		legs = 4
	case "popcorn":
		return 5 * d.Fabric * d.Height[height]
	case "bullion":
		return 3 * d.Fabric * d.Height[height]
	}
	if height <= model.Slip {
		return d.ChainYarn
	}
	one := d.Fabric * d.Width[height] * d.Height[height]
	return math.Max(float64(legs)*one-float64(legs-1)*d.ChainYarn, one)
}

// The shares by which the yarn that is used differs from what is worked out
// here, and the lengths that are cut.
const (
	// spreadOfYarn: estimates for fabrics of named yarns and hooks range from
	// 8 to 12 w (testdata/yarn.csv), and no source does better without the
	// maker's own swatch.
	spreadOfYarn = 0.20
	// spreadOfWeighed: common practice, no source.
	spreadOfWeighed = 0.10
	// tail is what is left at every end to be woven in: about 6 in. Read are 4
	// to 6 in, about 6 in, and at least 5 in, in three guides.
	tail Length = 150
)

// A strand is the yarn of one stitch, or of one thing done between stitches.
type strand struct {
	round int // index in the graph
	// stitch is the number of the stitch in the round, from 1. Chains and
	// picots go with the stitch before them, and so does what closes the round;
	// what is worked before the first stitch has 0.
	stitch int
	yarn   int     // index in Yarns of the graph plus 1; 0 when none is declared
	length float64 // in w
}

// strands lists the yarn of a motif in working order. Besides the stitches
// there are the foundation ring, starting chains, the slip stitches that close
// rounds, and yarn carried along behind the stitches of another in the round.
func strands(g *model.Graph, draft *notation.Draft, d Dimensions) iter.Seq[strand] {
	kinds := g.Kinds()
	perKind := make([]float64, len(kinds))
	for i, k := range kinds {
		perKind[i] = d.Yarn(k)
	}
	joined := draft.Succession() != notation.Spiral
	return func(yield func(strand) bool) {
		for i, r := range g.Rounds() {
			if r.Status != model.Worked {
				return
			}
			carried := newCarried(g, i)
			n, stitch, yarn := 0, 0, 0
			for id, e := range g.Entries(i) {
				length := perKind[e.Kind()]
				before := 0.0
				if n == 0 && i == 0 && (g.Ring > 0 || r.First == 0) { // no border
					before = d.ring(g.Ring)
				}
				switch {
				case e.Start():
					length = d.ChainYarn * float64(g.Stitch(id).Chains)
				case !e.IsStitch():
					length = d.ChainYarn * float64(e.Chains())
				case n == 0 && startOf(draft, r) == notation.ChainUncounted:
					// A starting chain that counts is taken for the stitch.
					before += d.ChainYarn * float64(StartingChains(kinds[e.Kind()]))
				}
				if before > 0 && !yield(strand{round: i, yarn: e.Yarn(), length: before}) {
					return
				}
				n++
				if e.IsStitch() {
					stitch++
				}
				yarn = e.Yarn()
				for _, other := range carried.past(yarn) {
					if !yield(strand{i, stitch, other, d.Width[model.Double]}) {
						return
					}
				}
				if !yield(strand{i, stitch, yarn, length}) {
					return
				}
			}
			if n > 0 && joined && !joinsInvisibly(g, i) && !yield(strand{i, stitch, yarn, d.ChainYarn}) {
				return
			}
		}
	}
}

// ring is the yarn of the foundation: its chains, or about one chain for the
// loop of a drawn ring.
func (d *Dimensions) ring(chains int) float64 { return d.ChainYarn * math.Max(1, float64(chains)) }

// startOf is how a round begins.
func startOf(draft *notation.Draft, r model.Round) notation.Start {
	if r.Start != notation.StartUnsaid {
		return r.Start
	}
	return draft.Start()
}

// StartingChains is how many chains are as tall as a stitch, and begin a round
// of it.
//
// sl st 0, sc 1, hdc 2, dc 3, tr 4, dtr 5: "How to Crochet a Turning Chain"
// (site); sc to tr also in the lessons of the Crochet Guild of America, 1997. An
// extended stitch, which begins with a chain of its own, has one more than the
// stitch it extends, and trtr one more than dtr: common practice, no source.
func StartingChains(k model.Kind) int {
	switch k.Height {
	case model.Level, model.Slip:
		return 0
	case model.Single:
		return 1
	case model.ExtendedSingle, model.Half:
		return 2
	case model.ExtendedHalf, model.Double:
		return 3
	case model.ExtendedDouble, model.Treble:
		return 4
	case model.ExtendedTreble, model.DoubleTreble:
		return 5
	}
	return 6
}

// ChainCounts reports whether starting chains can stand for a stitch of this kind. It
// is not done for sc, whose single chain makes no place to work into (a rule
// in all guides read), nor where there is more to a stitch than its height.
func ChainCounts(k model.Kind) bool {
	switch k.Name {
	case "hdc", "dc", "tr", "dtr", "trtr":
		return true
	}
	return false
}

// joinsInvisibly reports whether a round is closed with needle and thread.
func joinsInvisibly(g *model.Graph, i int) bool {
	return slices.ContainsFunc(g.Steps(i), func(s notation.Step) bool {
		join, ok := s.(*notation.Join)
		return ok && join.Invisible
	})
}

// CutsYarn reports whether the yarns of a round, given by its index in the
// graph, are cut at its end, whatever the next round is worked in: it is fastened
// off or joined with needle and thread, or the next begins with a standing
// stitch, as its own line says, for which there must be an end.
func CutsYarn(g *model.Graph, round int) bool {
	for _, s := range g.Steps(round) {
		switch s := s.(type) {
		case *notation.FastenOff:
			return true
		case *notation.Join:
			if s.Invisible {
				return true
			}
		}
	}
	return round+1 < g.NumRounds() && g.Round(round+1).Statement.Start == notation.StandingStitch
}

// carried follows which yarns lie behind the stitches of a round: each from its
// first stitch in the round to its last.
type carried struct {
	left map[int]int // by yarn: stitches still to come
	live []int       // those begun, in order
	now  []int
}

func newCarried(g *model.Graph, round int) *carried {
	c := &carried{}
	if g.Round(round).Len == 0 {
		return c
	}
	// Most rounds are of one yarn.
	first, several := -1, false
	for _, e := range g.Entries(round) {
		if first < 0 {
			first = e.Yarn()
		}
		several = several || e.Yarn() != first
	}
	if several {
		c.left = map[int]int{}
		for _, e := range g.Entries(round) {
			c.left[e.Yarn()]++
		}
	}
	return c
}

// past goes past a stitch of a yarn, and lists the yarns that lie behind it.
func (c *carried) past(yarn int) []int {
	if c.left == nil {
		return nil
	}
	c.left[yarn]--
	if !slices.Contains(c.live, yarn) {
		c.live = append(c.live, yarn)
	}
	c.now = c.now[:0]
	for _, y := range c.live {
		if y != yarn && c.left[y] > 0 {
			c.now = append(c.now, y)
		}
	}
	return c.now
}

// ends counts, by yarn, the ends that a motif leaves to be woven in: one where
// a yarn begins and one where it is cut. A yarn goes on from round to round as
// long as it is used in each; a round that is fastened off cuts it. Within a
// round it is carried along.
func ends(g *model.Graph) map[int]int {
	count := map[int]int{}
	live := map[int]bool{}
	for i, r := range g.Rounds() {
		if r.Status != model.Worked {
			break
		}
		used := map[int]bool{}
		before := -1
		for _, e := range g.Entries(i) {
			if y := e.Yarn(); y != before { // there are many of each
				used[y], before = true, y
			}
		}
		if len(used) == 0 {
			continue
		}
		for y := range used {
			if !live[y] {
				count[y] += 2 // where it begins, and where it will be cut
			}
		}
		live = used
		if CutsYarn(g, i) {
			live = nil
		}
	}
	return count
}

// A YarnUse is what a draft takes of one yarn. Lengths are known at a gauge,
// weights where the yarn line says how long so much of it is, or a swatch was
// weighed.
type YarnUse struct {
	Name, Label string // "" when none
	// Stitches is what the stitches of one motif take, and all that is worked
	// between them.
	Stitches Estimate[Length]
	// Ends are those of one motif, to be woven in, each Tail long.
	Ends int
	Tail Length
	// Seams and Borders are what those take, all together.
	Seams, Borders Estimate[Length]
	// Total is for all motifs, seams and borders, ends included.
	Total  Estimate[Length]
	Weight Estimate[Weight] // of Total
	// Buy is Total as expected, and the margin; so is BuyWeight.
	Buy       Length
	BuyWeight Weight
	// Ball is the weight that the yarn line gives a length for, 0 when it gives
	// none. Balls is how many of them have BuyWeight, and BallsMost how many
	// would do if it comes to the most expected, and the margin.
	Ball             Weight
	Balls, BallsMost int
}

// A Swatch is the maker's own: what the first rounds of one motif weigh.
type Swatch struct {
	Rounds int
	Weight Weight
	// Expected is what they should weigh by the lengths of the yarn lines; 0
	// where none gives a length for a weight.
	Expected Weight
	// Used says that the yarn is reckoned by it. A weight more than five times
	// as large or small as expected is taken for a slip.
	Used bool
}

// mostOff is how far a swatch may be from what is expected, as a factor.
const mostOff = 5.0

// A reckoning is what is known of the yarns of a draft: by index in Yarns of
// the graph plus 1.
type reckoning struct {
	lines  []*notation.Yarn // nil for one that is not declared
	mm     []float64        // worked in one motif
	used   []bool
	early  []float64 // the same, of the rounds of the swatch
	seams  []float64 // mm of all seams, and of all borders
	border []float64
	ends   []int     // of one motif
	more   []int     // of seams and borders
	perMM  []float64 // g; 0 when not known
	perW   float64   // mm of yarn for each w of it that is reckoned
	swatch *Swatch
}

// yarns works out what is used of each yarn.
func (s *Sheet) yarns(draft *notation.Draft, g *model.Graph) {
	r := s.reckon(draft, g)
	off := spreadOfYarn
	offWeight := off
	if s.Swatch = r.swatch; s.Swatch != nil && s.Swatch.Used {
		offWeight = spreadOfWeighed
		if s.Swatch.Expected > 0 {
			off = spreadOfWeighed
		}
	}
	for i, name := range append([]string{""}, g.Yarns()...) {
		if !r.used[i] {
			continue
		}
		use := YarnUse{Name: name, Ends: r.ends[i], Tail: tail}
		all := s.Motifs*r.ends[i] + r.more[i]
		s.Ends += all
		if line := r.lines[i]; line != nil {
			use.Label = line.Label
			use.Ball = Weight(line.Weight.Value())
		}
		if s.Gauge.Unit > 0 {
			use.Stitches = about(Length(r.mm[i]), off)
			use.Seams, use.Borders = about(Length(r.seams[i]), off), about(Length(r.border[i]), off)
			tails := Length(all) * use.Tail
			use.Total = use.Stitches.Times(float64(s.Motifs)).Plus(use.Seams).Plus(use.Borders).Plus(Estimate[Length]{tails, tails, tails})
			use.toBuy(r.perMM[i], offWeight, s.Margin)
		}
		s.Yarns = append(s.Yarns, use)
	}
	s.Changes, s.MoreChanges = s.changes(draft, g, r)
}

// reckon adds up the yarn of a motif and sets it right by the swatch.
func (s *Sheet) reckon(draft *notation.Draft, g *model.Graph) *reckoning {
	n := len(g.Yarns()) + 1
	r := &reckoning{
		lines: make([]*notation.Yarn, n), mm: make([]float64, n), used: make([]bool, n), early: make([]float64, n), seams: make([]float64, n),
		border: make([]float64, n), ends: make([]int, n), more: make([]int, n), perMM: make([]float64, n), perW: float64(s.Gauge.Unit),
	}
	swatch := draft.Weighed()
	for st := range strands(g, draft, s.Gauge.Dimensions) {
		mm := st.length * r.perW
		r.mm[st.yarn] += mm
		r.used[st.yarn] = true
		if swatch != nil && g.Round(st.round).Number <= swatch.To {
			r.early[st.yarn] += mm
		}
	}
	byName := map[string]*notation.Yarn{}
	for y := range draft.Yarns() {
		if key := strings.ToLower(y.Name.Text); byName[key] == nil {
			byName[key] = y
		}
	}
	for i, name := range g.Yarns() {
		line := byName[strings.ToLower(name)]
		if r.lines[i+1] = line; line != nil && line.Length.Value() > 0 {
			r.perMM[i+1] = line.Weight.Value() / line.Length.Value()
		}
	}
	for y, count := range ends(g) {
		r.ends[y] = count
	}
	s.reckonMadeUp(draft, g, r)
	if swatch != nil && swatch.Weight.Value() > 0 && sum(r.early) > 0 {
		r.weigh(swatch)
	}
	return r
}

// reckonMadeUp adds up the yarn of seams, in the yarn that the motif ends with,
// and of borders. A line of seams has two ends.
func (s *Sheet) reckonMadeUp(draft *notation.Draft, g *model.Graph, r *reckoning) {
	p := g.Panel()
	if p == nil {
		return
	}
	d, unit := &s.Gauge.Dimensions, r.perW
	yarn := g.Node(g.Len() - 1).Yarn
	for _, seam := range p.Seams {
		r.seams[yarn] += float64(seam.Places()) * d.seamYarn(p.Join) * unit
	}
	r.more[yarn] += 2 * linesOf(p)
	for _, b := range g.Borders() {
		for st := range strands(b.Graph, draft, *d) {
			r.border[st.yarn] += st.length * unit
			r.used[st.yarn] = true
		}
		for y, count := range ends(b.Graph) {
			r.more[y] += count
		}
	}
}

// weigh sets lengths and weights right by the swatch: all yarns are worked by
// the same hand, so all by the same factor.
func (r *reckoning) weigh(line *notation.Weighed) {
	r.swatch = &Swatch{Rounds: line.To, Weight: Weight(line.Weight.Value())}
	known, length := 0.0, 0.0 // of the yarns whose weight is known
	for i, mm := range r.early {
		if r.perMM[i] > 0 {
			known, length = known+mm*r.perMM[i], length+mm
		}
	}
	if known == 0 {
		// The swatch tells how heavy the yarn is, not how much there is of it.
		for i := range r.perMM {
			r.perMM[i] = line.Weight.Value() / sum(r.early)
		}
		r.swatch.Used = true
		return
	}
	// A yarn of unknown weight is taken to be as heavy as the others.
	for i, x := range r.perMM {
		if x == 0 {
			r.perMM[i] = known / length
		}
	}
	expected := known / length * sum(r.early)
	r.swatch.Expected = Weight(expected)
	factor := line.Weight.Value() / expected
	if factor > mostOff || factor < 1/mostOff {
		return
	}
	r.swatch.Used = true
	r.perW *= factor
	for i := range r.mm {
		r.mm[i] *= factor
		r.seams[i] *= factor
		r.border[i] *= factor
	}
}

func sum(list []float64) float64 {
	total := 0.0
	for _, x := range list {
		total += x
	}
	return total
}

// toBuy works out weights and what to buy, of a yarn of so many g a mm, or 0
// when that is not known; off is how far the weight may be off.
func (u *YarnUse) toBuy(perMM, off, margin float64) {
	u.Buy = u.Total.Expected * Length(1+margin)
	if perMM == 0 {
		return
	}
	u.Weight = about(Weight(float64(u.Total.Expected)*perMM), off)
	u.BuyWeight = u.Weight.Expected * Weight(1+margin)
	if u.Ball > 0 {
		u.Balls = int(math.Ceil(float64(u.BuyWeight / u.Ball)))
		u.BallsMost = int(math.Ceil(float64(u.Weight.High * Weight(1+margin) / u.Ball)))
	}
}
