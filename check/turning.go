package check

import (
	"fmt"
	"math"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// cornerTurn reports rounds that work straight past the corners of the round
// below, and corners that are marked where nothing turns. Where a piece does not
// lie flat because of it, that is said once.
func cornerTurn(p *Pass) {
	found := p.lostCorners()
	if !found.any {
		return
	}
	r := p.Graph.Round(found.round)
	f := Finding{Span: r.Statement.Head, Round: r.Number}
	outline, name := p.Draft.Outline(), p.Draft.Terms.Name(found.stitch)
	if found.below < 0 {
		f.Message = fmt.Sprintf("round %d marks the corners of %s, but the round does not turn there any more than elsewhere, so the piece stays round; work about %d %s in the place of each corner",
			r.Number, a(outline), found.would, name)
	} else {
		below := p.Graph.Round(found.below)
		what := fmt.Sprintf("the corners of round %d", below.Number)
		if n := outline.Corners(); found.corners < n {
			what = fmt.Sprintf("%d of the %d corners of round %d", found.corners, n, below.Number)
		}
		so := fmt.Sprintf("the %s is lost from there on", outline)
		if found.last {
			f.Severity = notation.Info
			so = "the edge comes out round there"
		}
		f.Message = fmt.Sprintf("round %d works straight past %s, so %s; work about %d %s in each, and mark the middle of them as the corner",
			r.Number, what, so, found.would, name)
		f.Related = []notation.Related{{Message: fmt.Sprintf("the corners of round %d are made here", below.Number), Span: below.Statement.Head}}
	}
	p.Add(f)
}

// lostCorners says where the corners of a piece are lost, if they are.
type lostCorners struct {
	any     bool
	round   int
	below   int    // the round whose corners are passed over, -1 where none was ever turned
	corners int    // how many
	last    bool   // in the last round, and that is not drawn in there
	stitch  string // of which there are most in the round
	would   int    // of them would turn a corner
}

// lostCorners looks once for all rules about corners.
func (p *Pass) lostCorners() lostCorners {
	if p.shared.lost == nil {
		found := p.findLostCorners()
		if found.any && p.shape().lies(-1).tells(found.round) {
			found = lostCorners{}
		}
		p.shared.lost = &found
	}
	return *p.shared.lost
}

func (p *Pass) findLostCorners() lostCorners {
	n := p.Draft.Outline().Corners()
	if n == 0 || p.Draft.Lies() != notation.Flat || len(p.shape().rounds) == 0 {
		return lostCorners{}
	}
	// The last round that marks corners, and whether any turns: those in the
	// ring do, for there is nothing to compare them with, unless others follow.
	last, first, turns := -1, -1, false
	for _, i := range p.sound() {
		r := p.Graph.Round(i)
		if r.Corners() != n {
			if r.Corners() > 0 {
				return lostCorners{} // corner-count says so
			}
			continue
		}
		last = i
		if r.Below < 0 || turns {
			continue
		}
		d := &p.shape().gauge.Dimensions
		under := newRim(p.Graph, d, i).under(newRim(p.Graph, d, r.Below))
		if weak, _, _ := weakBends(p, i, under); weak < n {
			turns = true
		} else if first < 0 {
			first = i
		}
	}
	switch {
	case last < 0:
		return lostCorners{}
	case first >= 0 && !turns:
		return lostIn(p, first, -1, n)
	}
	// Rounds above it that mark none may turn all the same.
	bends := newRim(p.Graph, &p.shape().gauge.Dimensions, last).marked()
	below := last
	for _, i := range p.sound() {
		if i <= last {
			continue
		}
		if p.Graph.Round(i).Below != below {
			return lostCorners{}
		}
		weak, grows, above := weakBends(p, i, bends)
		if weak > 0 {
			found := lostIn(p, i, below, weak)
			found.last = grows >= 0 && i == len(p.sound())-1 && !p.faulty()
			return found
		}
		if len(above) < n {
			return lostCorners{}
		}
		below, bends = i, above
	}
	return lostCorners{}
}

// lostIn describes what is lost in a round, in the stitch of which it has most.
func lostIn(p *Pass, round, below, corners int) lostCorners {
	l := lostCorners{any: true, round: round, below: below, corners: corners, would: 3, stitch: "sc"}
	most := 0
	for _, k := range p.Graph.Kinds() {
		if c := p.Graph.Counts(round).Stitches[k.Name]; c > most {
			_, height := p.shape().gauge.Dimensions.Of(k)
			most, l.stitch = c, k.Name
			l.would = 1 + int(math.Round(2*math.Tan(math.Pi/float64(p.Draft.Outline().Corners()))*height))
		}
	}
	return l
}

// A bend is where an edge turns: what lies between two of its stitches or runs of
// chains, which are its neighbours.
type bend struct{ before, after int }

// A stand is a stitch of a round, counted from its first, and what it stands on
// of a bend of the round below; inChain tells that it is one chain of a run.
type stand struct {
	at, on  int
	inChain bool
}

// weakBends counts those of the bends of the round below that a round does not
// turn: there it grows by less than two fifths of what a rounded corner takes,
// 2 pi/n of the height of its stitches. The bends of the round itself follow,
// for rounds that mark no corners; fewer where it has none there to be told.
//
// A round grows at a bend by all it has from the first stitch that stands in the
// bend or on its neighbours to the last, less what these measure. Chains count
// at full length above, and below as they hang slack unless they are worked into
// one by one, so that in doubt a corner turns. Where no stitch stands near, as
// under a loop of lace, there is no telling, and it turns.
//
// The least growth at a bend that is not turned comes with them, in w.
func weakBends(p *Pass, round int, bends []bend) (weak int, grows float64, above []bend) {
	d := &p.shape().gauge.Dimensions
	e := newRim(p.Graph, d, round)
	below := newRim(p.Graph, d, e.r.Below)
	grows = math.Inf(1)
	least := 0.4 * 2 * math.Pi / float64(p.Draft.Outline().Corners()) * e.height()
	for i, stands := range e.standing(below, bends) {
		if len(stands) == 0 {
			continue
		}
		b := bends[i]
		grown := 0.0
		for _, id := range below.inside(b) {
			grown -= below.length(id, !slices.ContainsFunc(stands, func(s stand) bool { return s.on == id && s.inChain }))
		}
		for _, neighbour := range []int{b.before, b.after} {
			if slices.ContainsFunc(stands, func(s stand) bool { return s.on == neighbour }) {
				grown -= below.length(neighbour, true)
			}
		}
		for _, id := range e.between(stands[0].at, stands[len(stands)-1].at) {
			grown += e.length(id, false)
		}
		if least > 0 && grown < least {
			weak, grows = weak+1, min(grows, grown)
		}
		stands = slices.DeleteFunc(stands, func(s stand) bool { return s.on == b.before || s.on == b.after })
		if len(stands) > 0 {
			in := e.between(stands[0].at, stands[len(stands)-1].at)
			above = append(above, bend{e.next(in[(len(in)-1)/2], -1), e.next(in[len(in)/2], 1)})
		}
	}
	return weak, grows, above
}

// marked returns the bends of a round at its corners.
func (e rim) marked() []bend {
	var list []bend
	for _, id := range e.g.Corners(e.index) {
		list = append(list, bend{e.next(id, -1), e.next(id, 1)})
	}
	return list
}

// under returns the bends of the round below that the corners of this round stand
// on; fewer where they stand elsewhere.
func (e rim) under(below rim) []bend {
	var list []bend
	for _, id := range e.g.Corners(e.index) {
		from, to, ok := footing(e.g, e.r, id)
		if e.g.Node(id).IsStitch() {
			from, ok = e.foot(id)
			to = from
		}
		switch {
		case !ok:
		case from == to:
			list = append(list, bend{below.next(from, -1), below.next(from, 1)})
		default:
			list = append(list, bend{from, to})
		}
	}
	return list
}

// foot is the stitch or run of chains of the round below that a stitch stands on.
func (e rim) foot(id int) (int, bool) {
	for p := range e.g.Into(id) {
		if below := e.g.Round(e.r.Below); p.Stitch >= below.First && p.Stitch < below.First+below.Len {
			return p.Stitch, true
		}
	}
	return 0, false
}

// A rim is the edge of a round, with the measures of its stitches in w.
type rim struct {
	g     *model.Graph
	d     *size.Dimensions
	index int
	r     model.Round
}

func newRim(g *model.Graph, d *size.Dimensions, round int) rim {
	return rim{g, d, round, g.Round(round)}
}

// next is the stitch or run of chains after another, step 1, or before it, -1.
func (e rim) next(id, step int) int {
	for range e.r.Len {
		id = e.r.First + wrap(id-e.r.First+step, e.r.Len)
		if e.g.Kind(id).Name != "picot" {
			break
		}
	}
	return id
}

// inside lists what lies between the neighbours of a bend.
func (e rim) inside(b bend) []int {
	var list []int
	for id := e.next(b.before, 1); id != b.after && len(list) < e.r.Len; id = e.next(id, 1) {
		list = append(list, id)
	}
	return list
}

// between lists the stitches and runs of chains from one to another, both counted
// from the first of the round.
func (e rim) between(from, to int) []int {
	var list []int
	for k := range wrap(to-from, e.r.Len) + 1 {
		if id := e.r.First + (from+k)%e.r.Len; e.g.Kind(id).Name != "picot" {
			list = append(list, id)
		}
	}
	return list
}

// length is how long a stitch is, or a run of chains, stretched or slack.
func (e rim) length(id int, slack bool) float64 {
	n := e.g.Node(id)
	if n.IsStitch() {
		w, _ := e.d.Of(e.g.Kind(id))
		return w
	}
	chains := e.d.Chain * float64(n.Chains)
	if slack {
		return math.Min(e.d.SlackShare*chains, e.d.SlackMost)
	}
	return chains
}

// height is the mean height of the stitches, 0 of those that are worked straight
// over an edge: slip stitches, and the reverse ones.
func (e rim) height() float64 {
	sum, stitches := 0.0, 0
	for _, k := range e.g.Kinds() {
		n := e.g.Counts(e.index).Stitches[k.Name]
		if _, h := e.d.Of(k); k.Height > model.Slip && k.Name != "rev sc" {
			sum += float64(n) * h
		}
		stitches += n
	}
	return sum / float64(max(1, stitches))
}

// standing lists, for each of the bends of the round below, the stitches that
// stand in it or on its neighbours, in working order.
func (e rim) standing(below rim, bends []bend) [][]stand {
	in := map[int][]int{} // the bends that a stitch belongs to
	for i, b := range bends {
		for _, id := range append(below.inside(b), b.before, b.after) {
			in[id] = append(in[id], i)
		}
	}
	list := make([][]stand, len(bends))
	k := 0
	for n := range e.g.Nodes(e.index) {
		if n.IsStitch() {
			for p := range e.g.Into(n.ID) {
				for _, i := range in[p.Stitch] {
					if p.Kind == notation.Gap && p.Stitch == bends[i].after {
						continue // it stands behind the bend
					}
					list[i] = append(list[i], stand{k, p.Stitch, p.Kind == notation.Ch})
				}
			}
		}
		k++
	}
	for i, stands := range list {
		// The first is that after the widest gap.
		first, widest := 0, -1
		for j, s := range stands {
			before := stands[(j+len(stands)-1)%len(stands)]
			if gap := wrap(s.at-before.at-1, e.r.Len); gap > widest {
				first, widest = j, gap
			}
		}
		list[i] = slices.Concat(stands[first:], stands[:first])
	}
	return list
}

// a is the name of an outline with its article.
func a(outline notation.Outline) string {
	if outline == notation.Octagon {
		return "an octagon"
	}
	return "a " + string(outline)
}
