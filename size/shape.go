package size

import (
	"math"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Piece is the geometry of a worked draft, in units of w, the width of one
// plain stitch. Multiply by Gauge.Unit for mm.
type Piece struct {
	Rounds []Round
	// Top is the distance from the centre of the top of each stitch, and of
	// the middle of each chain space, along the fabric; by stitch number.
	Top []float32
}

// A Round is the geometry of one round.
//
// A piece lies flat when the length of every round is right for its distance
// from the centre: 2 pi r for a circle, 2 n tan(pi/n) r for a polygon with n
// sharp corners and apothem r, and anything between for one with round
// corners. Were C(s) the length of the round at distance s, the piece inside
// it would carry the curvature 2 pi - C'(s) (Gauss-Bonnet): too little length
// makes a cup, too much a ruffle.
type Round struct {
	Index   int // of the round in the graph
	Corners int
	// Shoulder is where the next round sits: the radius, or with corners the
	// apothem (half the side-to-side width), in w.
	Shoulder float64
	// Across is the diameter over the outermost tops, or with corners the
	// width from side to side, in w.
	Across float64
	// Growth is what the round adds to Shoulder, in w.
	Growth float64
	// MadeLeast and MadeMost are how long the round is, in w: with its chain
	// spaces hanging slack, and with them stretched.
	MadeLeast, MadeMost float64
	// NeedLeast and NeedMost are how long a flat round is at that distance, in
	// w: as a circle, and as a polygon with sharp corners; the same for a
	// round without corners.
	NeedLeast, NeedMost float64
	// Mismatch is how much too long (> 0) or too short (< 0) the round is:
	//	MadeLeast/NeedMost - 1    if that is > 0
	//	MadeMost/NeedLeast - 1    if that is < 0
	//	0                         otherwise: slack chains carry tension only,
	//	                          and corners may be sharp or round
	Mismatch float64
	// Score is the mismatch that a maker will see, over the last few rounds:
	// the mean of Mismatch weighted by Growth over the last rounds that
	// together grow by 4 w, or Mismatch/2.5 of this round if that is larger,
	// times min(1, Shoulder/6). The round on the ring and all within 3 w of the
	// centre are left out:
	// the ring, the first stitches and the hand take up what they have too
	// much or too little.
	Score float64
	// Slack is the share of the round's length that its chain spaces may take
	// up or not: 1 - MadeLeast/MadeMost.
	Slack float64
	// Doubt is how much of the rounds that Score speaks of is slack, from 0 to
	// 1: a round is as doubtful as itself or the round it stands on. Chains
	// lie in or out as they like, so Score says less of lace than of solid
	// work.
	Doubt float64

	onRing bool // worked into the foundation
}

// The constants of Score, fitted on motifs known to lie flat or not; see
// testdata/flat.
const (
	windowGrowth = 4.0 // w
	leastGrowth  = 0.3 // w; a round that adds nothing still counts
	centre       = 3.0 // w
	settled      = 6.0 // w
	oneRound     = 2.5
)

// Shape works out the geometry of every round, from the centre outwards, as
// rings of lobes with slack chains between them.
//
// A lobe is a group of stitches in one place with no chain between. It fans
// out over its base like a hand: of width W and height h, over a base arc b,
// it opens by the angle
//
//	a = min((W - b) / h, pi),   q = b / a
//
// and then takes the chord 2 (q + h) sin(a/2), with a shoulder
// (q + h) cos(a/2) - q above its base, its middle standing h above it. A
// single stitch takes W and stands h above its base. The base is the top of
// the stitch worked into; for a gap or a chain space it is the mean shoulder
// of the two neighbours, and b is then min(0.8 x length of the chains, W),
// shared among the lobes in one space. So a group of three takes less room
// than three stitches in a row, and the next round sits lower between groups.
//
// A loop of chains can be lifted, at most by what its length allows when the
// gap under it is as the round leaves it; the round above lifts all loops
// below it by the smallest common share that gives it the room it needs.
//
// Post stitches, overlay, joins, blocking and gravity are not modelled.
func Shape(g *model.Graph, d Dimensions) *Piece {
	s := &shaper{g: g, d: d, kinds: g.Kinds(), top: make([]float32, g.Len()), shoulder: make([]float32, g.Len())}
	s.inSpace = make([]uint16, g.Len())
	p := &Piece{Top: s.top}
	for i := range g.NumRounds() {
		if g.Round(i).Status == model.NotWorked {
			break
		}
		p.Rounds = append(p.Rounds, s.round(i))
	}
	score(p.Rounds)
	return p
}

// A shaper goes through the rounds.
type shaper struct {
	g     *model.Graph
	d     Dimensions
	kinds []model.Kind

	top      []float32 // by stitch; of a chain space, the mean shoulder beside it
	shoulder []float32 // of the lobe a stitch belongs to
	inSpace  []uint16  // lobes worked into a chain space
	before   float64   // shoulder of the round below
	gap      float64   // room under each chain space of the round below
	nodes    []model.Node
	lobes    []lobe
	fans     [4]fan // the fans worked out last
	nextFan  int
}

// A lobe is a group of stitches in one place, and its place in the round.
type lobe struct {
	from, to      int // in shaper.nodes
	base, lift    float64
	width, height float64
	bend          float64 // base arc
	corner        bool    // beside a corner made of chains
}

// A fan is a lobe's own geometry, the same wherever it stands.
type fan struct {
	width, height, bend float64
	stitches            int
	chord, rise         float64 // rise: shoulder above base
	angle, q            float64
}

func (s *shaper) fan(l *lobe) fan {
	n := l.to - l.from
	for i := range s.fans {
		f := &s.fans[i]
		if f.stitches == n && f.width == l.width && f.height == l.height && f.bend == l.bend {
			return *f
		}
	}
	f := fan{width: l.width, height: l.height, bend: l.bend, stitches: n, chord: l.width, rise: l.height}
	if n > 1 && l.width-l.bend > 1e-9 && l.height > 0 {
		f.angle = math.Min((l.width-l.bend)/l.height, math.Pi)
		f.q = l.bend / f.angle
		f.chord = 2 * (f.q + l.height) * math.Sin(f.angle/2)
		f.chord += math.Max(0, l.width-l.bend-math.Pi*l.height)
		f.rise = (f.q+l.height)*math.Cos(f.angle/2) - f.q
	}
	s.fans[s.nextFan] = f
	s.nextFan = (s.nextFan + 1) % len(s.fans)
	return f
}

// above is how far the top of a fan is above its base at a share t of its
// width, from -1/2 to 1/2.
func (f *fan) above(t float64) float64 {
	if f.angle == 0 {
		return f.height
	}
	return (f.q+f.height)*math.Cos(f.angle*t) - f.q
}

// round works out one round.
func (s *shaper) round(i int) Round {
	g := s.g
	s.nodes = s.nodes[:0]
	for n := range g.Nodes(i) {
		if n.Kind == picot {
			continue // closed on itself, it takes no room
		}
		s.nodes = append(s.nodes, n)
	}
	s.gather()
	out := Round{Index: i, Corners: g.Counts(i).Corners, onRing: g.Round(i).Below < 0}

	// What the shoulder and the length are made of. Bases rise with the share
	// of the lift that is taken; everything else stays.
	var sum, lifts, weight float64 // of the lobes that make the shoulder
	var side struct{ sum, lifts, weight float64 }
	chords := map[float64]int{}
	last := 0.0 // chord counted last, to spare the map
	count := 0
	for n := range s.lobes {
		l := &s.lobes[n]
		f := s.fan(l)
		if f.chord != last {
			if count > 0 {
				chords[last] += count
			}
			last, count = f.chord, 0
		}
		count++
		rise := (l.base + f.rise) * l.width
		sum, lifts, weight = sum+rise, lifts+l.lift*l.width, weight+l.width
		if !l.corner {
			side.sum, side.lifts, side.weight = side.sum+rise, side.lifts+l.lift*l.width, side.weight+l.width
		}
	}
	if count > 0 {
		chords[last] += count
	}
	liftable := lifts > 0
	if out.Corners > 0 && side.weight > 0 {
		sum, lifts, weight = side.sum, side.lifts, side.weight
	}
	var kept, full float64
	spaces := 0
	for _, n := range s.nodes {
		if n.Kind == chains {
			length := s.d.Chain * float64(n.Chains)
			kept += math.Min(s.d.SlackShare*length, s.d.SlackMost)
			full += length
			spaces++
		}
	}
	factor := 2 * math.Pi
	if n := float64(out.Corners); n > 2 {
		factor = 2 * n * math.Tan(math.Pi/n)
	}
	var taken float64 // length of the chords
	measure := func(share float64) float64 {
		r := s.before
		if weight > 0 {
			r = (sum + share*lifts) / weight
		}
		taken = 0
		for chord, n := range chords {
			if out.Corners == 0 && r > 0 {
				// A chord of a circle; the round is as long as its arc.
				chord = 2 * r * math.Atan(chord/(2*r))
			}
			taken += chord * float64(n)
		}
		out.Shoulder = r
		out.MadeLeast, out.MadeMost = taken+kept, taken+full
		out.NeedLeast, out.NeedMost = 2*math.Pi*r, factor*r
		return excess(out.MadeLeast, out.NeedMost)
	}
	share := 0.0
	if measure(0) > 0 && liftable {
		if share = 1; measure(1) < 0 {
			share = bisect(measure)
			measure(share)
		}
	}
	if over := excess(out.MadeLeast, out.NeedMost); over > 1e-6 {
		out.Mismatch = over
	} else if under := excess(out.MadeMost, out.NeedLeast); under < 0 {
		out.Mismatch = under
	}
	if out.MadeMost > 0 {
		out.Slack = 1 - out.MadeLeast/out.MadeMost
	}
	out.Growth = out.Shoulder - s.before
	out.Across = 2 * math.Max(out.Shoulder, 0)
	s.settle(share, &out)
	s.before = out.Shoulder
	s.gap = 0
	if spaces > 0 {
		s.gap = math.Max(0, (out.NeedMost-taken)/float64(spaces))
	}
	return out
}

// The kinds every graph begins with.
const (
	chains = 0
	picot  = 1
)

// excess is made over need, less 1; 0 where nothing is needed.
func excess(made, need float64) float64 {
	if need <= 0 {
		return 0
	}
	return made/need - 1
}

// bisect finds where a falling function of a share in [0, 1] comes down to 0.
func bisect(f func(float64) float64) float64 {
	low, high := 0.0, 1.0
	for range 40 {
		if mid := (low + high) / 2; f(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// gather cuts the round into lobes.
func (s *shaper) gather() {
	s.lobes = s.lobes[:0]
	open := false
	for i := range s.nodes {
		n := &s.nodes[i]
		if n.Kind == chains {
			open = false
			continue
		}
		if !open {
			s.lobes = append(s.lobes, lobe{from: i})
			if n.Place == notation.Sp {
				s.inSpace[n.Below]++
			}
		}
		l := &s.lobes[len(s.lobes)-1]
		l.to = i + 1
		width, height := s.d.of(&s.kinds[n.Kind])
		l.height = (l.height*l.width + height*width) / (l.width + width)
		l.width += width
		open = !n.Gap
	}
	for i := range s.lobes {
		l := &s.lobes[i]
		s.stand(l)
		l.corner = s.besideCorner(l.from-1) || s.besideCorner(l.to)
	}
}

// besideCorner reports whether the i-th node is a corner made of chains.
func (s *shaper) besideCorner(i int) bool {
	n := &s.nodes[(i+len(s.nodes))%len(s.nodes)]
	return n.Kind == chains && n.Corner
}

// stand works out what a lobe stands on.
func (s *shaper) stand(l *lobe) {
	n := &s.nodes[l.from]
	if n.Legs > 1 {
		for p := range s.g.Into(n.ID) {
			base, lift := s.place(p.Kind, p.Stitch)
			l.base += base / float64(n.Legs)
			l.lift += lift / float64(n.Legs)
		}
		return
	}
	l.base, l.lift = s.place(n.Place, n.Below)
	if n.Place == notation.Sp && !s.isRing(n.Below) {
		length := s.d.Chain * float64(s.g.Node(n.Below).Chains)
		l.bend = math.Min(0.8*length/float64(s.inSpace[n.Below]), l.width)
	}
}

// isRing reports whether a stitch number is that of the chain ring.
func (s *shaper) isRing(id int) bool { return s.g.Ring > 0 && id == 0 }

// place returns how far from the centre a place is, and how far it could be
// lifted.
func (s *shaper) place(kind notation.PlaceKind, id int) (base, lift float64) {
	switch {
	case kind == notation.NoPlace: // a round that was only claimed
		return s.before, 0
	case kind == notation.RingHole && s.g.Ring == 0:
		return s.d.Ring, 0
	case kind == notation.RingHole || s.isRing(id):
		return s.d.Chain * float64(s.g.Ring) / (2 * math.Pi), 0
	case kind == notation.Gap:
		return (float64(s.shoulder[id]) + float64(s.shoulder[s.after(id)])) / 2, 0
	case kind == notation.Sp || kind == notation.Ch:
		return float64(s.top[id]), s.lift(id)
	}
	return float64(s.top[id]), 0
}

// after returns the stitch that follows a gap.
func (s *shaper) after(id int) int {
	r := s.g.Round(s.g.Stitch(id).Round)
	for next := id + 1; next < r.First+r.Len; next++ {
		if s.g.Node(next).IsStitch() {
			return next
		}
	}
	for next := r.First; next < id; next++ {
		if s.g.Node(next).IsStitch() {
			return next
		}
	}
	return id
}

// lift is how far the middle of a chain space can be pulled outwards: a bow of
// half its length and half a stitch, over half the gap under it.
func (s *shaper) lift(id int) float64 {
	bow := (1 + s.d.Chain*float64(s.g.Node(id).Chains)) / 2
	under := (1 + s.gap) / 2
	if bow <= under {
		return 0
	}
	return math.Sqrt(bow*bow - under*under)
}

// settle writes down where every top comes to stand.
func (s *shaper) settle(share float64, out *Round) {
	outermost := 0.0
	for i := range s.lobes {
		l := &s.lobes[i]
		f := s.fan(l)
		base := l.base + share*l.lift
		n := float64(l.to - l.from)
		for k := l.from; k < l.to; k++ {
			t := (float64(k-l.from)+0.5)/n - 0.5
			top := base + f.above(t)
			s.top[s.nodes[k].ID] = float32(top)
			s.shoulder[s.nodes[k].ID] = float32(base + f.rise)
			outermost = math.Max(outermost, top)
		}
	}
	if out.Corners == 0 {
		out.Across = 2 * outermost
	}
	for i := range s.nodes {
		if n := &s.nodes[i]; n.Kind == chains {
			s.top[n.ID] = s.beside(i)
		}
	}
}

// beside is the mean shoulder of the lobes before and after the i-th node.
func (s *shaper) beside(i int) float32 {
	sum, n := float32(0), float32(0)
	for _, step := range []int{len(s.nodes) - 1, 1} {
		for k := 1; k < len(s.nodes); k++ {
			if j := (i + k*step) % len(s.nodes); s.nodes[j].IsStitch() {
				sum, n = sum+s.shoulder[s.nodes[j].ID], n+1
				break
			}
		}
	}
	if n == 0 {
		return float32(s.before)
	}
	return sum / n
}

// atCentre reports whether a round is left out of the score.
func (r *Round) atCentre() bool { return r.onRing || r.Shoulder < centre }

// score sets the Score and the Doubt of each round.
func score(rounds []Round) {
	var counted []int // those not at the centre
	for i := range rounds {
		r := &rounds[i]
		if !r.atCentre() {
			counted = append(counted, i)
		}
		var sum, doubt, weight float64
		for k := len(counted) - 1; k >= 0 && weight < windowGrowth; k-- {
			j := counted[k]
			g := math.Max(rounds[j].Growth, leastGrowth)
			slack := rounds[j].Slack
			if j > 0 {
				slack = math.Max(slack, rounds[j-1].Slack)
			}
			sum += rounds[j].Mismatch * g
			doubt += slack * g
			weight += g
		}
		if weight > 0 {
			r.Score, r.Doubt = sum/weight, doubt/weight
		}
		if x := r.Mismatch / oneRound; math.Abs(x) > math.Abs(r.Score) && !r.atCentre() {
			r.Score = x
		}
		r.Score *= math.Min(1, math.Max(r.Shoulder, 0)/settled)
	}
}

// Bands are the sizes of Score from which a piece is said not to lie flat.
// They are fitted on the labelled motifs of testdata/flat; 20 % too many
// increases come out at 0.14 to 0.15.
type Bands struct {
	Tolerance float64 // up to here the give of the stitches takes it up
	Likely    float64 // from here on the piece is likely to cup or ruffle
	Certain   float64 // from here on it will
}

// BandsOf returns the bands for dimensions: narrower ones where the heights
// are measured and not assumed, for published gauges of one stitch differ by
// 15 % (standard deviation, dc).
func BandsOf(d Dimensions) Bands {
	if d.Measured {
		return Bands{0.08, 0.12, 0.20}
	}
	return Bands{0.10, 0.15, 0.25}
}

// Widened returns the bands for a round of the given Doubt.
func (b Bands) Widened(doubt float64) Bands {
	f := 1 + 1.5*doubt
	return Bands{b.Tolerance * f, b.Likely * f, b.Certain * f}
}
