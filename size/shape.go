package size

import (
	"math"
	"slices"
	"sort"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Piece is the geometry of a worked draft, in units of w, the width of one
// plain stitch. Gauge.Length turns them into lengths.
type Piece struct {
	// Rounds are those that could be worked, in order: up to the first that
	// is model.NotWorked.
	Rounds []Round

	stitches int // of the graph
	ring     float32
	tiers    []tier // by round
}

// Tops works out the distance from the centre along the fabric, in w and at
// least 0, by stitch number: of the top of each stitch, and of the middle of
// each chain space as it hangs between its neighbours. A picot has that of what
// it sits on, a foundation ring of chains its radius. It is 0 for what belongs
// to no round in Rounds.
//
// Every call makes a new slice, as long as the graph: a piece knows the tops of
// what its rounds repeat only once.
func (p *Piece) Tops() []float32 {
	tops := make([]float32, p.stitches)
	if p.stitches > 0 {
		tops[0] = p.ring
	}
	for _, t := range p.tiers {
		for to := tops[t.first:t.end]; len(to) > 0; to = to[t.part:] {
			copy(to, t.top)
		}
	}
	return tops
}

// A Round is the geometry of one round. All numbers are finite.
//
// A piece lies flat when the length of every round is right for its distance
// from the centre: 2 pi r for a circle, 2 n tan(pi/n) r for a polygon with n
// sharp corners and apothem r, and anything between for one with round
// corners. Were C(s) the length of the round at distance s, the piece inside
// it would carry the curvature 2 pi - C'(s) (Gauss-Bonnet): too little length
// makes a cup, too much a ruffle. So a flat circle of stitches of height h and
// width w has 2 pi h/w more of them in every round.
type Round struct {
	Index   int // of the round in the graph
	Corners int // stitches and spaces of the round marked as corners
	// Shoulder is where the next round sits: the radius, or with corners the
	// apothem (half the side-to-side width), in w; at least 0. It is the mean
	// over the lobes, weighted by their width; with corners made of chains,
	// over the lobes that are not beside one.
	Shoulder float64
	// Across is the size of the piece so far when it is laid flat, in w; at
	// least 0, and never less than that of the round below. Without corners it
	// is the diameter over the outermost tops. With corners it is the width
	// from side to side over the tops of the sides, each lobe counted where it
	// is highest; where their number is odd, so that no side faces another, it
	// is twice the apothem. Shape says how it is laid.
	Across float64
	// Growth is what the round adds to Shoulder, in w; less than 0 when it
	// falls back behind the round below.
	Growth float64
	// MadeLeast and MadeMost are how long the round is, in w: with its chain
	// spaces hanging slack and its scallops folded, and with them stretched.
	// 0 <= MadeLeast <= MadeMost.
	//	MadeLeast = sum of chords (1 - fold) + sum of min(SlackShare L, SlackMost)
	//	MadeMost  = sum of chords + free (W - chord) + sum of L
	// over the lobes and the chain spaces of length L = Chain n; Shape says
	// what fold and free are, which are 0 but in scallops. A round without
	// corners is bent to its radius r = Shoulder: a chord c then counts as
	// 2 r atan(c/2r).
	MadeLeast, MadeMost float64
	// NeedLeast and NeedMost are how long a flat round is at that distance, in
	// w; 0 <= NeedLeast <= NeedMost. With F = 2 pi for a circle, and for
	// n >= 3 corners 2 n tan(pi/n):
	//	NeedLeast = the larger of 2 pi (Shoulder - c) and L + 2 pi g
	//	NeedMost  = the larger of F Shoulder and M + F Growth
	// A ring has a hole, and closes when the rounds draw inwards, by
	// c = Dimensions.Ring, or the radius of a ring of chains if that is less.
	// L and M are the least and the most that the round below can measure when
	// it lies flat, from MadeLeast to MadeMost but within what it needs: a curve
	// that keeps a distance g from a convex one is 2 pi g longer (Steiner), and
	// F g with corners as sharp. g is the least that a lobe of this round
	// reaches further. So a square keeps its corners under a round that marks
	// none, and stands up as a box when its rounds stop growing, though a
	// circle as far from the centre would be no longer.
	NeedLeast, NeedMost float64
	// Mismatch is how much too long (> 0) or too short (< 0) the round is, as
	// a share of what it needs; never less than -1:
	//	MadeLeast/NeedMost - 1    if that is > 0
	//	MadeMost/NeedLeast - 1    if that is < 0
	//	0                         otherwise: slack chains carry tension only,
	//	                          and corners may be sharp or round
	// It is 0 where the Shoulder is 0.
	Mismatch float64
	// Score is the mismatch that a maker will see, over the last few rounds:
	// the mean of Mismatch weighted by Growth (0.3 w at least) over the last
	// rounds that together grow by 4 w, or half the Mismatch of this round if
	// that is larger, times min(1, Shoulder/6). The round on the ring and all
	// within 3 w of the centre are left out: the ring, the first stitches and
	// the hand take up what they have too much or too little. Fitted; DefaultBands
	// says what sizes of it mean.
	Score float64
	// Slack is the share of the round's length that its chain spaces may take
	// up or not: 1 - MadeLeast/MadeMost, from 0 to 1.
	Slack float64
	// Doubt is how much of the rounds that Score speaks of is slack, from 0 to
	// 1. Chains lie in or out as they like, so Score says less of lace than of
	// solid work: a round may be longer or shorter by its own, and those of the
	// round it stands on, pushed outwards, may find room for one too long. They
	// give no length to one too short. The mean is weighted as in Score.
	Doubt float64

	onRing bool    // worked into the foundation
	laid   float64 // by how much laying flat changes Across, in w, either way
	// Score is damp times the mean of Mismatch, which is carried + share Mismatch.
	carried, share, damp float64
}

// Shape works out the geometry of every round, from the centre outwards, as
// rings of lobes with slack chains between them. Of rounds that look the same
// after a part of a turn (model.Round.Rotation) only that part is worked out,
// and time and room are in proportion to its stitches.
//
// A lobe is a group of stitches in one place with no chain between. It fans
// out over its base like a hand: of width W and height h (the mean of its
// stitches, weighted by width), over a base arc b, it opens by the angle
//
//	a = min((W - b) / h, pi),   q = b / a
//
// and then takes the chord 2 (q + h) sin(a/2), and what is left of its width
// beyond a half circle, max(0, W - b - pi h); but over a loop of chains, where
// stitches crowd, nothing for that. Its shoulder is
// (q + h) cos(a/2) - q above its base; a stitch that stands at the angle t
// from the middle has its top (q + h) cos(t) - q above it. A single stitch
// takes W and stands h above its base. The base is the top of the stitch
// worked into; for a stitch with legs in several places, their mean; for a gap
// or a chain space the mean shoulder of the two neighbours, and b for a space
// is then min(0.8 x length of the chains, W), shared among the lobes that a
// round has in it. So a group of three dc takes 6 to 10 % less room than three
// in a row, and the next round sits 22 to 28 % lower between groups. A ring is
// not one place: what is worked into it stands side by side all round.
//
// A loop of n chains can be lifted, at most by sqrt(A^2 - B^2) with
// A = (1 + Chain n)/2 and B = (1 + gap)/2, where the gap is the room that the
// round leaves for each of its spaces: NeedMost less the chords, shared among
// them. The round above lifts all loops below it by the smallest common share
// of that which gives it the room it needs. It leaves them where they are when
// lifting gives none: when only the lobes beside its corners stand on loops.
//
// A lobe over a loop, or a shell of four or more in one stitch, that opens
// further than its share of the round stands out as a scallop, which no round
// pulls straight. Free, from 0 to 1, is how far it does:
// ((a - 2 pi W / all W and L of the round) / pi)^2. Its outline W may be longer
// than the room it takes, up to the chord. What is worked into the stitches of a
// scallop over a loop follows the outline: fold, from 0 to 1, is the share of
// its length that it may save by that, free (1 - chord/W) of the lobe below;
// scallops on scallops fold what the lower ones leave.
//
// Across is taken of the piece laid flat, where a round that is too short for
// its distance from the centre draws it in, and one that is too long spreads
// it. Stitches give as easily along the round as across it. So a round that
// adds g to the radius R is a spring of stiffness 2 pi R/g between its two
// edges, and its length one of stiffness 2 pi g/R that draws it to the radius
// at which it would lie flat. What is more than a quarter too long lies in
// folds and spreads nothing.
//
// The model was made for this package and fitted, with its constants, on the
// motifs in testdata/flat; there is no published source. Post stitches,
// overlay, joins, blocking and gravity are not modelled.
func Shape(g *model.Graph, d Dimensions) *Piece {
	s := NewShaper(g, d)
	for {
		if _, ok := s.Next(); !ok {
			return s.Piece()
		}
	}
}

// The kinds every graph begins with.
const (
	chains = 0
	picot  = 1
)

// A Shaper works out the geometry of a piece round by round, for those who
// want to know how it comes out while it is still being worked. Shape does it
// in one go. All rounds together cost no more that way.
type Shaper struct {
	g     *model.Graph
	d     Dimensions
	whole bool // works out all of a round, whatever it repeats

	rounds []Round
	tiers  []tier // where the stitches of each round stand
	under  int    // the tier looked up last
	ring   float32
	closes float64                       // by how much the ring can close, in w
	before float64                       // shoulder of the round below
	laid   struct{ least, most float64 } // length of the round below when it lies flat
	scored []int                         // rounds that are not at the centre
	rim    rim

	fans   []fan   // all that occur
	single []int32 // of them those of one stitch, by kind
	fanOf  map[hand]int32
	recent int32 // the fan of several stitches looked up last

	// Of the round at hand, or of the part of it that is worked out:
	now        *tier
	lobes      []lobe
	hands      []hand // of the lobes of several stitches, in order
	spaces     []run
	picots     []run
	used       []int32 // the fans that occur, in order of appearance
	kept, full float64 // length of the chain spaces, slack and stretched
	corners    int
	scallops   bool // there are lobes over loops that open
	folds      bool // some tier has a fold
}

// NewShaper returns a Shaper for the rounds of a graph, which may still be
// growing.
func NewShaper(g *model.Graph, d Dimensions) *Shaper {
	s := &Shaper{
		g: g, d: d, fanOf: map[hand]int32{},
		rounds: make([]Round, 0, g.NumRounds()), tiers: make([]tier, 0, g.NumRounds()),
	}
	s.closes = d.Ring
	if g.Ring > 0 {
		s.ring = float32(d.Chain * float64(g.Ring) / (2 * math.Pi))
		s.closes = math.Min(s.closes, float64(s.ring))
	}
	return s
}

// Next works out the next round. It returns false when the graph has no further
// round, as yet, or has one that is model.NotWorked: nothing follows that.
func (s *Shaper) Next() (Round, bool) {
	i := len(s.rounds)
	if i >= s.g.NumRounds() {
		return Round{}, false
	}
	r := s.g.Round(i)
	if r.Status == model.NotWorked {
		return Round{}, false
	}
	s.rounds = append(s.rounds, s.round(i, &r))
	s.score()
	s.rim.lay(&s.rounds[i])
	return s.rounds[i], true
}

// Piece returns the rounds worked out so far.
func (s *Shaper) Piece() *Piece {
	return &Piece{Rounds: slices.Clip(s.rounds), stitches: s.g.Len(), ring: s.ring, tiers: slices.Clip(s.tiers)}
}

// A lobe is a group of stitches in one place, and its place in the round. It
// is kept small, for a round may have a million.
type lobe struct {
	first, last int32 // numbers of its stitches
	fan         int32 // in Shaper.fans
	below       int32
	chain       int32
	base, lift  float32
	place       notation.PlaceKind
	one         bool // a single stitch
	corner      bool // beside a corner made of chains
}

// A run is a run of chains or a picot.
type run struct {
	id int32
	n  int32 // chains of the run; for a picot, what it sits on, or -1
}

// round works out one round: a part of a turn, which it repeats so many times.
func (s *Shaper) round(i int, r *model.Round) Round {
	times := s.begin(i, r)
	sides, all := s.stand()
	saved, spare := s.scallop(times*all.weight + s.full)
	spare *= times
	out := Round{Index: i, Corners: s.corners, onRing: r.Below < 0}
	made := all
	if s.corners > 0 && sides.weight > 0 {
		made = sides
	}
	factor := PerRadius(s.corners)
	var taken float64 // length of the chords
	// measure returns how much too long the round is when a share of the lift
	// is taken.
	measure := func(share float64) float64 {
		r := s.before
		if made.weight > 0 {
			r = math.Max(0, (made.bases+share*made.lifts)/made.weight)
		}
		taken = 0
		for _, i := range s.used {
			f := &s.fans[i]
			chord := f.chord
			if s.corners == 0 && r > 0 {
				// A chord of a circle; the round is as long as its arc.
				chord = 2 * r * math.Atan(chord/(2*r))
			}
			taken += chord * times * float64(f.count)
		}
		out.Shoulder = r
		out.MadeLeast, out.MadeMost = taken*(1-saved)+s.kept, taken+spare+s.full
		out.NeedLeast, out.NeedMost = s.needs(r, factor)
		return out.MadeLeast - out.NeedMost
	}
	share := 0.0
	if measure(0) > 0 && made.lifts > 0 {
		if share = 1; measure(1) < 0 {
			share = bisect(measure)
			measure(share)
		}
	}
	if over := excess(out.MadeLeast, out.NeedMost); over > 1e-6 {
		out.Mismatch = over
	} else if under := excess(out.MadeMost, out.NeedLeast); under < -1e-6 {
		out.Mismatch = under
	}
	if out.MadeMost > 0 {
		out.Slack = 1 - out.MadeLeast/out.MadeMost
	}
	out.Growth = out.Shoulder - s.before
	s.before = out.Shoulder
	s.laid.least = math.Max(out.NeedLeast, math.Min(out.MadeLeast, out.NeedMost))
	s.laid.most = math.Max(out.NeedLeast, math.Min(out.MadeMost, out.NeedMost))
	outermost := s.settle(share)
	s.loosen((out.NeedMost - taken) / times)
	out.Across = 2 * outermost
	if s.corners > 0 {
		out.Across = 2 * out.Shoulder
		if made.weight > 0 {
			out.Across += 2 * made.tops / made.weight
		}
	}
	for _, i := range s.used {
		s.fans[i].count = 0
	}
	return out
}

// needs returns how long a round is that lies flat with its shoulder so far from
// the centre; see Round.
func (s *Shaper) needs(shoulder, factor float64) (least, most float64) {
	further := shoulder - s.before
	low := further
	for _, i := range s.used {
		low = math.Min(low, s.fans[i].rise)
	}
	least = math.Max(2*math.Pi*math.Max(0, shoulder-s.closes), s.laid.least+2*math.Pi*low)
	most = math.Max(factor*shoulder, s.laid.most+factor*further)
	return least, math.Max(least, most)
}

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

// begin reads a round, or the part of it that it repeats, and returns how many
// times that is. No group lies across two parts: a round does not come back into
// the place that it began in.
func (s *Shaper) begin(i int, r *model.Round) (times float64) {
	for k := len(s.single); k < s.g.NumKinds(); k++ {
		w, h := s.d.Of(s.g.KindAt(k))
		s.single = append(s.single, int32(len(s.fans)))
		s.fans = append(s.fans, newFan(hand{stitches: 1, width: w, height: h}))
	}
	part := r.Len
	if n := r.Rotation(); n > 1 && !s.whole {
		part /= n
	}
	s.read(i, r.First+part)
	s.tiers = append(s.tiers, newTier(r, part))
	s.now = &s.tiers[i]
	times = float64(r.Len / max(1, part))
	s.kept, s.full, s.corners = times*s.kept, times*s.full, int(times)*s.corners
	return times
}

// read cuts a round into lobes and chain spaces, up to a stitch.
func (s *Shaper) read(i, end int) {
	s.lobes, s.hands, s.spaces, s.picots = s.lobes[:0], s.hands[:0], s.spaces[:0], s.picots[:0]
	s.kept, s.full, s.corners, s.scallops = 0, 0, 0, false
	// What stands before the entry at hand, and at the very beginning.
	const (
		nothing = iota
		stitch
		space
		cornerSpace
	)
	first, before := nothing, nothing
	for id, n := range s.g.Entries(i) {
		if id >= end {
			break
		}
		if n.Corner() {
			s.corners++
		}
		now := stitch
		switch n.Kind() {
		case picot: // closed on itself, it takes no room
			s.picots = append(s.picots, run{int32(id), int32(n.Below())})
			continue
		case chains:
			if now = space; n.Corner() {
				now = cornerSpace
				if before == stitch {
					s.lobes[len(s.lobes)-1].corner = true
				}
			}
			length := s.d.Chain * float64(n.Chains())
			s.kept += math.Min(s.d.SlackShare*length, s.d.SlackMost)
			s.full += length
			s.spaces = append(s.spaces, run{int32(id), int32(n.Chains())})
		default:
			if before != stitch || !s.joins(id, n) {
				s.lobes = append(s.lobes, lobe{
					first: int32(id), last: int32(id), fan: s.single[n.Kind()], below: int32(n.Below()), chain: int32(n.Chain()),
					place: n.Place(), one: true, corner: before == cornerSpace,
				})
			}
		}
		if first == nothing {
			first = now
		}
		before = now
	}
	// The round closes: its end lies beside its beginning.
	if first == cornerSpace && before == stitch {
		s.lobes[len(s.lobes)-1].corner = true
	}
	if before == cornerSpace && first == stitch {
		s.lobes[0].corner = true
	}
}

// joins adds a stitch to the last lobe if it stands in the same place. A ring
// is not one place but all round: what is worked into it stands side by side.
func (s *Shaper) joins(id int, n model.Entry) bool {
	l := &s.lobes[len(s.lobes)-1]
	if n.Place() != l.place || n.Below() != int(l.below) || n.Chain() != int(l.chain) {
		return false
	}
	if l.place == notation.NoPlace || l.place == notation.RingHole || l.place == notation.Sp && s.isRing(l.below) {
		return false
	}
	if l.one {
		l.one = false
		s.hands = append(s.hands, s.fans[l.fan].hand)
	}
	h, more := &s.hands[len(s.hands)-1], &s.fans[s.single[n.Kind()]]
	h.height = (h.height*h.width + more.height*more.width) / (h.width + more.width)
	h.width += more.width
	h.stitches++
	l.last = int32(id)
	return true
}

// A footing is what the shoulder of a round is made of: the shoulders of its
// lobes as they stand and the lifts of their bases, weighted by their widths.
// The tops are how far the highest of each reaches beyond its shoulder.
type footing struct{ bases, lifts, tops, weight float64 }

func (f *footing) add(base, lift float64, form *fan) {
	f.bases += (base + form.rise) * form.width
	f.lifts += lift * form.width
	f.tops += (form.highest - form.rise) * form.width
	f.weight += form.width
}

// stand works out what each lobe stands on and what form it has. It returns
// the footing of the round: of all lobes, and of those on its sides.
func (s *Shaper) stand() (sides, all footing) {
	s.used = s.used[:0]
	bend := 0.0
	hands := s.hands
	for i := range s.lobes {
		l := &s.lobes[i]
		base, lift := s.foot(l)
		l.base, l.lift = float32(base), float32(lift)
		if l.place == notation.Sp && (i == 0 || !l.shares(&s.lobes[i-1])) {
			bend = s.bend(i)
		}
		if !l.one {
			h := hands[0]
			hands = hands[1:]
			if l.place == notation.Sp {
				h.bend = math.Min(bend, h.width)
			}
			l.fan = s.lookUp(h)
			s.scallops = s.scallops || s.fans[l.fan].opens > 0
		}
		f := &s.fans[l.fan]
		if f.count == 0 {
			s.used = append(s.used, l.fan)
		}
		f.count++
		all.add(base, lift, f)
		if !l.corner {
			sides.add(base, lift, f)
		}
	}
	return sides, all
}

// mostFold keeps what is folded from being nothing at all, which it would be
// for stitches very wide and hardly tall, by rounding.
const mostFold = 0.999

// scallop works out what share of its length the round may save by following
// scallops below, and how much its own may spread, in w. round is the length of
// its stitches and chains in a row.
func (s *Shaper) scallop(round float64) (saved, spare float64) {
	if !s.scallops && !s.folds {
		return 0, 0
	}
	chords := 0.0
	for i := range s.lobes {
		l := &s.lobes[i]
		f := &s.fans[l.fan]
		chords += f.chord
		below, own := 0.0, 0.0 // what may be saved on the stitch below, and on this
		if s.folds && l.place == notation.St {
			below = s.tier(l.below).foldAt(l.below)
		}
		if below == 0 && f.opens == 0 {
			continue
		}
		saved += below * f.chord
		if f.opens > 0 {
			free := math.Max(0, f.opens-2*math.Pi*f.width/round) / math.Pi
			free *= free
			spare += free * (f.width - f.chord)
			if f.bend > 0 { // a shell in one stitch folds over nothing
				own = free * (1 - f.chord/f.width)
			}
		}
		if fold := 1 - (1-below)*(1-own); fold > 0 {
			s.now.setFold(l, float32(math.Min(fold, mostFold)))
			s.folds = true
		}
	}
	if saved > 0 {
		saved /= chords
	}
	return saved, spare
}

// shares reports whether two lobes stand in one chain space.
func (l *lobe) shares(m *lobe) bool { return l.place == m.place && l.below == m.below }

// bend is the part of a chain space that each lobe in it takes, from the i-th
// lobe on, which is the first.
func (s *Shaper) bend(i int) float64 {
	l := &s.lobes[i]
	n := 1
	for i+n < len(s.lobes) && s.lobes[i+n].shares(l) {
		n++
	}
	return 0.8 * s.d.Chain * float64(s.g.Node(int(l.below)).Chains) / float64(n)
}

// foot returns how far from the centre a lobe stands, and how far that could
// be lifted.
func (s *Shaper) foot(l *lobe) (base, lift float64) {
	if l.place != notation.NoPlace {
		return s.place(l.place, l.below)
	}
	legs := 0.0
	for p := range s.g.Into(int(l.first)) {
		b, l := s.place(p.Kind, int32(p.Stitch))
		base, lift, legs = base+b, lift+l, legs+1
	}
	if legs == 0 { // in a round that was only claimed
		return s.place(notation.NoPlace, 0)
	}
	return base / legs, lift / legs
}

// place returns how far from the centre a place is, and how far it could be
// lifted. What has no place stands on the round below.
func (s *Shaper) place(kind notation.PlaceKind, id int32) (base, lift float64) {
	switch {
	case kind == notation.NoPlace:
		return s.before, 0
	case kind == notation.RingHole && s.g.Ring == 0:
		return s.d.Ring, 0
	case kind == notation.RingHole || s.isRing(id):
		return float64(s.ring), 0
	}
	t := s.tier(id)
	k := t.at(id)
	switch kind {
	case notation.Gap:
		return float64(t.beyond[k]), 0
	case notation.St:
		return float64(t.top[k]), 0
	}
	return float64(t.top[k]), float64(t.beyond[k])
}

// tier returns the tier of a stitch in a round below.
func (s *Shaper) tier(id int32) *tier {
	if t := &s.tiers[s.under]; t.first <= id && id < t.end {
		return t
	}
	s.under = sort.Search(len(s.tiers), func(i int) bool { return s.tiers[i].end > id })
	return &s.tiers[s.under]
}

// isRing reports whether a stitch number is that of the chain ring.
func (s *Shaper) isRing(id int32) bool { return s.g.Ring > 0 && id == 0 }

// settle writes down where every top comes to stand, and returns the outermost.
func (s *Shaper) settle(share float64) (outermost float64) {
	t := s.now
	if len(s.lobes) == 0 {
		fill(t.top, float32(s.before))
		return s.before
	}
	last := &s.lobes[len(s.lobes)-1]
	before := last.raised(share) + s.fans[last.fan].rise
	for i := range s.lobes {
		l := &s.lobes[i]
		f := &s.fans[l.fan]
		base := l.raised(share)
		outermost = max(outermost, base+f.highest)
		if l.one {
			t.top[l.first-t.first] = max(0, float32(base+f.height))
		} else {
			s.spread(l, f.tops, float32(base))
		}
		// What lies between this lobe and the one before hangs from their
		// shoulders.
		now := base + f.rise
		between := max(0, float32((before+now)/2))
		t.beyond[last.last-t.first] = between
		if i > 0 {
			fill(t.top[last.last+1-t.first:l.first-t.first], between)
		} else {
			fill(t.top[last.last+1-t.first:], between)
			fill(t.top[:l.first-t.first], between)
		}
		last, before = l, now
	}
	for _, p := range s.picots {
		if p.n >= 0 {
			t.top[p.id-t.first] = t.top[p.n-t.first]
		}
	}
	return outermost
}

// raised is how far from the centre the base of a lobe is once a share of its
// lift is taken.
func (l *lobe) raised(share float64) float64 { return float64(l.base) + share*float64(l.lift) }

// spread writes down the tops of a lobe of several stitches.
func (s *Shaper) spread(l *lobe, tops []float32, base float32) {
	ids := s.now.top[l.first-s.now.first : l.last+1-s.now.first]
	if len(ids) == len(tops) {
		for k, t := range tops {
			ids[k] = max(0, base+t)
		}
		return
	}
	// Picots sit among them.
	for k := range ids {
		if s.g.Node(int(l.first)+k).Kind != picot {
			ids[k] = max(0, base+tops[0])
			tops = tops[1:]
		}
	}
}

func fill(to []float32, top float32) {
	for i := range to {
		to[i] = top
	}
}

// loosen notes how far the middle of each chain space can be pulled outwards,
// when all of them together hang over a gap: a bow of half its length and half
// a stitch, over half the gap under it.
func (s *Shaper) loosen(gap float64) {
	under := (1 + math.Max(0, gap)/float64(len(s.spaces))) / 2
	for _, c := range s.spaces {
		bow := (1 + s.d.Chain*float64(c.n)) / 2
		s.now.beyond[c.id-s.now.first] = float32(math.Sqrt(math.Max(0, bow*bow-under*under)))
	}
}

// PerRadius returns how many times its radius a flat outline is long: 2 pi for a
// circle, and for a polygon with n >= 3 sharp corners, whose radius is the apothem,
// 2 n tan(pi/n). Fewer corners make no polygon.
func PerRadius(corners int) float64 {
	if corners < 3 {
		return 2 * math.Pi
	}
	n := float64(corners)
	return 2 * n * math.Tan(math.Pi/n)
}

// side is the length of one side, from corner to corner, in w; 0 with fewer than
// three corners.
func (r *Round) side() float64 {
	if r.Corners < 3 {
		return 0
	}
	return r.Across * math.Tan(math.Pi/float64(r.Corners))
}

// Bands are the sizes of Score, above 0 or below, from which a piece is said
// not to lie flat: shares, 0.10 for a tenth too long or too short. They are
// fitted on the labelled motifs of testdata/flat; 20 % too many increases come
// out at 0.14 to 0.15.
type Bands struct {
	Tolerance float64 // up to here the give of the stitches takes it up
	Likely    float64 // from here on the piece is likely to cup or ruffle
	Certain   float64 // from here on it will
}

// DefaultBands returns the bands for a piece judged by Gauge.Judging: 0.10, 0.15
// and 0.25. They are so wide because published gauges of one stitch differ by
// 15 % (standard deviation, dc; testdata/gauges.csv) and makers find flat what
// the usual increases give at most of them. Fitted.
func DefaultBands() Bands { return Bands{0.10, 0.15, 0.25} }

// Widened returns the bands for a round of the given Doubt, from 0 to 1: each
// times 1 + 1.5 doubt. Fitted.
func (b Bands) Widened(doubt float64) Bands {
	f := 1 + 1.5*doubt
	return Bands{b.Tolerance * f, b.Likely * f, b.Certain * f}
}

// A Level is the band that a score reaches.
type Level uint8

// The levels, from a piece that lies flat to one that cannot.
const (
	LevelFlat    Level = iota
	LevelAbout         // flat with the give of the stitches
	LevelLikely        // likely to cup or ruffle
	LevelCertain       // cups or ruffles
)

// Level tells which of the bands a score reaches that is too much of something:
// Score itself for a round that is too long, and -Score for one too short.
func (b Bands) Level(score float64) Level {
	switch {
	case score >= b.Certain:
		return LevelCertain
	case score >= b.Likely:
		return LevelLikely
	case score >= b.Tolerance:
		return LevelAbout
	}
	return LevelFlat
}

// Lies says in words how a piece lies up to a round, judged by the bands widened
// by its Doubt: "flat", "about flat", "likely to cup", "cups", "likely to ruffle"
// or "ruffles".
func (b Bands) Lies(r Round) string {
	verb := "ruffle"
	if r.Score < 0 {
		verb = "cup"
	}
	switch b.Widened(r.Doubt).Level(math.Abs(r.Score)) {
	case LevelCertain:
		return verb + "s"
	case LevelLikely:
		return "likely to " + verb
	case LevelAbout:
		return "about flat"
	}
	return "flat"
}
