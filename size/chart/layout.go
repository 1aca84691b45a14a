package chart

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/pattern"
)

// A Layout says where every stitch of a piece is drawn. Rounds go
// counter-clockwise, as they are read; those worked on the other side of the
// work go clockwise.
type Layout struct {
	graph *model.Graph
	// begins says by round where it begins, and what is worked there.
	begins []pattern.Beginning
	ring   float64 // radius of the foundation, where feet stand
	lean   float64 // by how many turns the piece was turned in the end

	// By stitch. The head of a run of chains is its middle.
	head    []Point
	turn    []float64 // of the head, on the track of its round
	dist    []float64
	round   []int32
	footAt  []int32 // the feet of stitch i are feet[footAt[i]:footAt[i+1]]
	feet    []Point
	places  []model.Place // of each foot
	arcAt   []int32       // of a run of chains: 1 more than its arc in arcs
	arcs    []arc
	circles []circle // by round
}

// A circle is the geometry of one round.
type circle struct {
	track
	level float64 // distance of its tops, on average
	outer float64 // how far out it reaches
	seam  float64 // the turn at which it begins and ends
	chain float64 // the turn at which a starting chain stands that does not count
	tall  float64 // height of its stitches, on average
	crowd float64 // share of their width that stitches have, 1 at most
}

// The kinds every graph begins with.
const (
	chains = 0
	picot  = 1
)

// What stitches take up when they are drawn, in w.
const (
	chainLong    = 0.68 // one chain, along the run
	leastWidth   = 0.54 // share of its width that a stitch keeps
	leastStretch = 0.85 // share of its height that a stitch keeps
	ringFoot     = 0.27 // between feet in the ring
	picotTall    = 1.1
	mostOff      = 4.0  // of a top from the level of its round
	leastRise    = 0.6  // of a round above the one below, for its number
	mostBulge    = 12.0 // how far a run of chains hangs out at most
)

// chainRoom is the room that a run of chains would like to have between two
// stitches; chainLeast is what it can do with, for long runs hang out.
func chainRoom(n int) float64 {
	return chainLong * (math.Min(float64(n), 3) + math.Max(0, float64(n)-3)/2)
}

func chainLeast(n int) float64 { return math.Min(chainRoom(n), 0.5+0.12*float64(n)) }

// Lay works out where the stitches of a piece are drawn, given the draft that it
// was built from and their dimensions. It takes time and room in proportion to
// their number.
//
// The distance of a stitch from the centre is that of size.Piece, stretched as
// little as possible where a round has more stitches than there is room for side
// by side. On the round it stands above its feet, and aside of its neighbours.
// Rounds with three or more corners are drawn along the sides of a regular
// polygon. They begin where pattern.Beginnings says: room is left there for the
// number of the round.
func Lay(draft *notation.Draft, g *model.Graph, d size.Dimensions) *Layout {
	n := g.Len()
	l := &layouter{turns: turns(g), Layout: &Layout{
		graph: g, begins: pattern.Beginnings(draft, g), circles: make([]circle, 0, g.NumRounds()), // arcs point into it
		head: make([]Point, n), turn: make([]float64, n), dist: make([]float64, n),
		round: make([]int32, n), arcAt: make([]int32, n), footAt: make([]int32, n+1),
	}, after: make([]int32, n), cache: map[int][]Link{}}
	for _, k := range g.Kinds() {
		w, h := d.Of(k)
		l.width, l.height = append(l.width, w), append(l.height, h)
	}
	l.shape(d)
	for i := range l.piece.Rounds {
		l.lay(i)
	}
	l.upright()
	return l.Layout
}

// A layouter lays one round on the other.
type layouter struct {
	*Layout
	width, height []float64 // by kind

	piece   *size.Piece
	tops    []float32
	stretch stretch

	after []int32        // by stitch: the next one of its round, or run of chains
	cache map[int][]Link // of runs that stitches of the round at hand stand in

	// Of the round at hand, counter-clockwise from where it begins.
	items    []item
	posts    []post
	seamRoom float64
	chain    float64 // the part of it that a starting chain stands in
	turns    bool    // some rounds are worked on the other side
}

// An item is a stitch or a run of chains.
type item struct {
	id     int32
	post   int32 // the stitch, or for a run the last one before it, in posts
	run    bool
	corner bool
	room   float64 // that it would like to have
}

// A post is a stitch.
type post struct {
	id            int32
	width, height float64
	foot          Point   // the mean of its feet
	footed        bool    // it has one
	deep          bool    // in a round farther down than the one below
	inCorner      bool    // in a corner of the round below
	runs          []item  // runs of chains after it
	after         float64 // room for those
	seam          int     // how many of them come before the end of the round; -1 if that is elsewhere
	turn          float64
}

// shape works out the geometry of the piece, and where it needs more room to be
// drawn than it has.
func (l *layouter) shape(d size.Dimensions) {
	l.piece = size.Shape(l.graph, d)
	l.tops = l.piece.Tops()
	worked := l.foundation(d)
	l.stretch.need(worked, l.ring)
	for i := range l.piece.Rounds {
		need := seamRoom(l.graph.Round(i).Number, 0, l.turns) + l.chainAt(i)
		for _, n := range l.graph.Entries(i) {
			switch {
			case n.IsStitch():
				need += leastWidth * l.width[n.Kind()]
			case n.Kind() == chains:
				need += chainLeast(n.Chains())
			}
		}
		t := track{corners: corners(l.graph, i), sharp: 1}
		l.stretch.need(l.worked(i), need/t.length(1))
	}
	l.stretch.settle()
}

// foundation works out how wide the ring is drawn, so that the feet in it can be
// told apart, and returns how wide it is worked.
func (l *layouter) foundation(d size.Dimensions) (worked float64) {
	feet := 0
	if len(l.piece.Rounds) > 0 {
		for _, n := range l.graph.Entries(0) {
			if n.Place() == notation.RingHole || n.Place() == notation.Sp && l.isRing(n.Below()) {
				feet++
			}
		}
	}
	l.ring = math.Max(0.45, ringFoot*float64(feet)/(2*math.Pi))
	worked = d.Ring
	if n := float64(l.graph.Ring); n > 0 {
		worked = d.Chain * n / (2 * math.Pi)
		l.ring = math.Max(l.ring, chainLong*math.Max(4, n)/(2*math.Pi)+0.25)
	}
	l.ring = math.Max(l.ring, worked)
	return worked
}

// worked is how far from the centre the tops of a round are, on average.
func (l *layouter) worked(round int) float64 {
	sum, n := 0.0, 0.0
	for id, e := range l.graph.Entries(round) {
		if e.IsStitch() {
			sum, n = sum+float64(l.tops[id]), n+1
		}
	}
	if n == 0 {
		return l.piece.Rounds[round].Shoulder
	}
	return sum / n
}

// seamRoom is the room left where a round begins, for its number. Between short
// stitches it takes more of it, and with an arrow too.
func seamRoom(number int, tall float64, arrow bool) float64 {
	room := 0.2 + 0.27*float64(len(strconv.Itoa(number)))
	if tall < 1.2 {
		room += 0.2
	}
	if arrow {
		room += 0.25
	}
	return room
}

// chainAt is the room that a starting chain takes where it does not count: it
// stands beside the first stitch.
func (l *Layout) chainAt(round int) float64 {
	if b := &l.begins[round]; b.Chains > 0 && !b.Counts {
		return 0.5
	}
	return 0
}

// corners is how many corners the outline of a round has, 0 for less than three.
func corners(g *model.Graph, round int) int {
	if n := g.Round(round).Corners(); n >= 3 {
		return n
	}
	return 0
}

func (l *Layout) isRing(id int) bool { return l.graph.Ring > 0 && id == 0 }

// A stretch maps distances as worked to distances as drawn.
type stretch struct {
	knees []knee
	least float64 // how far out everything is drawn from now on
}

// A knee says that what is worked at x must be drawn farther out by e.
type knee struct{ x, e float64 }

func (s *stretch) need(worked, drawn float64) {
	s.knees = append(s.knees, knee{math.Max(0, worked), math.Max(0, drawn-worked)})
}

// settle finds the line that does as all knees say and bends the least: to make
// room for one round, those below it move out as springs in a row would. It is
// the least concave line above the knees that does not fall.
func (s *stretch) settle() {
	slices.SortFunc(s.knees, func(a, b knee) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(b.e, a.e)) })
	out := []knee{{}}
	for _, k := range s.knees {
		if k.e <= out[len(out)-1].e {
			continue
		}
		if k.x == 0 {
			out[0] = k
			continue
		}
		for len(out) > 1 {
			a, b := out[len(out)-2], out[len(out)-1]
			if (b.e-a.e)*(k.x-b.x) > (k.e-b.e)*(b.x-a.x) {
				break
			}
			out = out[:len(out)-1]
		}
		out = append(out, k)
	}
	s.knees = out
}

func (s *stretch) drawn(x float64) float64 {
	at, found := slices.BinarySearchFunc(s.knees, x, func(k knee, x float64) int { return cmp.Compare(k.x, x) })
	e := 0.0
	switch {
	case found:
		e = s.knees[at].e
	case at == len(s.knees):
		e = s.knees[at-1].e
	case at > 0:
		a, b := s.knees[at-1], s.knees[at]
		e = a.e + (b.e-a.e)*(x-a.x)/(b.x-a.x)
	}
	return x + math.Max(e, s.least)
}

// upright turns the piece so that a polygon stands on one of its sides, and
// rounds begin at the top, or as near to it as that allows.
func (l *layouter) upright() {
	if len(l.circles) == 0 {
		return
	}
	l.lean = 0.25 - l.circles[0].seam
	if last := &l.circles[len(l.circles)-1]; last.corners > 0 {
		n := float64(last.corners)
		down := 0.75 - (last.first + 0.5/n) // brings the middle of a side to the bottom
		l.lean = down + math.Round((l.lean-down)*n)/n
	}
	for i := range l.head {
		l.head[i] = l.head[i].turned(2 * math.Pi * l.lean)
		l.turn[i] += l.lean
	}
	for i := range l.feet {
		l.feet[i] = l.feet[i].turned(2 * math.Pi * l.lean)
	}
	for i := range l.circles {
		l.circles[i].first += l.lean
		l.circles[i].seam += l.lean
		l.circles[i].chain += l.lean
	}
	for i := range l.arcs {
		l.arcs[i].from += l.lean
		l.arcs[i].to += l.lean
	}
}

// Head is where the top of a stitch lies, by its number in the graph: of a run of
// chains its middle, of a picot the place it sits on. For what is not drawn it is
// the centre.
func (l *Layout) Head(id int) Point { return l.head[id] }

// Feet are the places that a stitch stands on, one for each that model.Graph.Into
// lists, and one straight below it where nothing is known: on a run of chains side
// by side, in a stitch all in one point. Chains and picots have none.
func (l *Layout) Feet(id int) []Point {
	return slices.Clone(l.feet[l.footAt[id]:l.footAt[id+1]])
}

// Axis is the direction from the middle of a stitch's feet to its head, in
// radians, counter-clockwise from the right. For chains and picots it is the
// direction straight out from the round.
func (l *Layout) Axis(id int) float64 {
	feet := l.feet[l.footAt[id]:l.footAt[id+1]]
	if len(feet) == 0 {
		if len(l.circles) == 0 {
			return 0
		}
		return l.circles[l.round[id]].outward(l.turn[id])
	}
	return middle(feet).towards(l.head[id])
}

// Links are the single chains of a run, in the order in which they are worked;
// none for anything else. The foundation ring is no run.
func (l *Layout) Links(id int) []Link {
	if l.arcAt[id] == 0 {
		return nil
	}
	return l.links(id)
}
