package chart

import (
	"cmp"
	"math"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// lay lays one round.
func (l *layouter) lay(i int) {
	below := circle{}
	if i > 0 {
		below = l.circles[i-1]
	}
	l.circles = append(l.circles, circle{track: below.track, level: l.stretch.drawn(l.worked(i))})
	c := &l.circles[i]
	if i > 0 {
		c.level = math.Max(c.level, below.level+leastRise)
	}
	l.read(i)
	for k := range l.posts {
		c.tall += l.posts[k].height / float64(len(l.posts))
	}
	l.roomAtSeam(i, c.tall, 1)
	l.getClear(c, below.outer)
	n := corners(l.graph, i)
	switch {
	case len(l.posts) == 0:
		l.loose(c)
	default:
		// A round that has to go farther out has more room there, and where stitches
		// are drawn narrower a starting chain and the number beside it are not: once
		// more.
		for again := range 2 {
			if again > 0 && l.chain > 0 {
				l.roomAtSeam(i, c.tall, math.Max(0.7, c.crowd))
			}
			if n > 0 {
				l.turnCorners(c, n)
				l.alongSides(c)
			} else {
				l.allRound(c)
			}
			l.stand(c)
		}
		c.seam, c.chain = l.seam(l.graph.Round(i).Turned)
		l.hangChains(c)
	}
	l.setPicots(c, i)
	l.stretch.least = math.Max(l.stretch.least, c.level-l.worked(i))
}

// roomAtSeam sets the room left where a round begins, in which things are drawn
// in a share of their width.
func (l *layouter) roomAtSeam(i int, tall, crowd float64) {
	l.chain = l.chainAt(i) / crowd
	l.seamRoom = seamRoom(l.graph.Round(i).Number, tall, l.turns)/crowd + l.chain
}

// read gathers what the round consists of.
func (l *layouter) read(i int) {
	l.items, l.posts = l.items[:0], l.posts[:0]
	clear(l.cache)
	r := l.graph.Round(i)
	for id, n := range l.graph.Entries(i) {
		l.round[id], l.footAt[id] = int32(i), int32(len(l.feet))
		switch {
		case n.IsStitch():
			l.addFeet(id)
			l.items = append(l.items, item{id: int32(id), corner: n.Corner(), room: l.width[n.Kind()]})
		case n.Kind() == chains:
			l.items = append(l.items, item{id: int32(id), corner: n.Corner(), room: chainRoom(n.Chains()), run: true})
		}
		l.footAt[id+1] = int32(len(l.feet))
	}
	// A round goes round: it is laid from the stitch that its words begin with.
	if first := slices.IndexFunc(l.items, func(it item) bool { return int(it.id) == l.begins[i].First }); first > 0 {
		l.items = append(l.items[first:len(l.items):len(l.items)], l.items[:first]...)
	}
	for k, it := range l.items {
		l.after[it.id] = l.items[(k+1)%len(l.items)].id
	}
	if r.Turned {
		slices.Reverse(l.items)
	}
	for k := range l.items {
		if it := &l.items[k]; !it.run {
			l.posts = append(l.posts, l.post(it, i))
		}
		l.items[k].post = int32(len(l.posts) - 1)
	}
	n := len(l.posts)
	if n == 0 {
		return
	}
	last := &l.posts[n-1]
	for _, it := range l.items {
		p := last
		if it.post >= 0 {
			p = &l.posts[it.post]
		}
		if it.run {
			p.runs = append(p.runs, it)
			p.after += it.room
		}
	}
	// The runs that the round begins with hang from its last stitch too, after
	// those that it ends with.
	lead := 0
	for lead < len(l.items) && l.items[lead].post < 0 {
		l.items[lead].post = int32(n - 1)
		lead++
	}
	last.runs = append(last.runs[lead:len(last.runs):len(last.runs)], last.runs[:lead]...)
	last.seam = len(last.runs) - lead
}

func (l *layouter) addFeet(id int) {
	feet := len(l.places)
	for p := range l.graph.Into(id) {
		l.places = append(l.places, p)
	}
	if len(l.places) == feet { // in a round that was only claimed
		l.places = append(l.places, model.Place{Stitch: -1})
	}
	l.feet = append(l.feet, make([]Point, len(l.places)-feet)...)
}

// post finds out where a stitch stands.
func (l *layouter) post(it *item, round int) post {
	kind := l.graph.Node(int(it.id)).Kind
	p := post{id: it.id, seam: -1, width: l.width[kind], height: l.height[kind]}
	for j := l.footAt[p.id]; j < l.footAt[p.id+1]; j++ {
		place := l.places[j]
		below := -1 // the round it stands in
		if place.Stitch >= 0 && !l.isRing(place.Stitch) {
			below = int(l.round[place.Stitch])
			p.inCorner = p.inCorner || l.graph.Node(place.Stitch).Corner
		}
		p.deep = p.deep || below < round-1
		if at, ok := l.place(place); ok {
			l.feet[j] = at
			p.footed = true
		}
	}
	l.stands(&p)
	return p
}

// stands sets the place that a stitch stands on.
func (l *layouter) stands(p *post) { p.foot = middle(l.feet[l.footAt[p.id]:l.footAt[p.id+1]]) }

// place is where a place lies that a stitch is worked into; ok is false for one
// that is all round, or not known.
func (l *layouter) place(p model.Place) (at Point, ok bool) {
	switch {
	case p.Kind == notation.RingHole || p.Kind == notation.NoPlace:
		return Point{}, false
	case l.isRing(p.Stitch):
		return polar(l.ringAngle(p.Chain), l.ring), p.Kind == notation.Ch
	case p.Kind == notation.Ch && l.arcAt[p.Stitch] > 0:
		links, ok := l.cache[p.Stitch]
		if !ok {
			links = l.links(p.Stitch)
			l.cache[p.Stitch] = links
		}
		return links[min(max(p.Chain-1, 0), len(links)-1)].At, true
	case p.Kind == notation.Gap:
		next := l.after[p.Stitch]
		turn := l.turn[p.Stitch] + wrap(l.turn[next]-l.turn[p.Stitch])/2
		far := math.Max(0, math.Min(l.dist[p.Stitch], l.dist[next])-0.3)
		return l.circles[l.round[p.Stitch]].point(turn, far), true
	}
	return l.head[p.Stitch], true
}

// ringAngle is where a chain of the foundation ring lies, from 1 on.
func (l *Layout) ringAngle(chain int) float64 {
	return 2 * math.Pi * (l.lean + (float64(chain)-0.5)/float64(l.graph.Ring))
}

// getClear sees that a round that is worked into rounds farther down is drawn
// outside those between.
func (l *layouter) getClear(c *circle, outer float64) {
	deep := 0
	for k := range l.posts {
		if l.posts[k].deep {
			deep++
		}
	}
	if 2*deep > len(l.posts) {
		c.level = math.Max(c.level, outer+0.4+0.6*c.tall)
	}
}

// gap is the room wanted between a stitch and the next one.
func (l *layouter) gap(k int) float64 {
	p := &l.posts[k]
	gap := (p.width+l.posts[(k+1)%len(l.posts)].width)/2 + p.after
	if p.seam >= 0 {
		gap += l.seamRoom
	}
	return gap
}

// tied reports whether a stitch and the next one stand in the same place.
func (l *layouter) tied(k int) bool {
	p, next := &l.posts[k], &l.posts[(k+1)%len(l.posts)]
	a, b := l.places[l.footAt[p.id]], l.places[l.footAt[next.id]]
	return p.footed && next.footed && a.Kind == b.Kind && a.Stitch == b.Stitch && a.Chain == b.Chain
}

// ahead is how far a stitch is from the next one, in turns.
func (l *layouter) ahead(k int) float64 {
	room := l.posts[(k+1)%len(l.posts)].turn - l.posts[k].turn
	if room -= math.Floor(room); room > 0 {
		return room
	}
	return 1
}

// allRound places the stitches of a round without corners.
func (l *layouter) allRound(c *circle) {
	gaps := make([]float64, len(l.posts))
	length, sum := c.length(c.level), 0.0
	for k := range l.posts {
		gaps[k] = l.gap(k) / length
		sum += gaps[k]
	}
	c.crowd = math.Min(1, 1/sum)
	first := slices.IndexFunc(l.posts, func(p post) bool { return p.footed })
	if first < 0 { // evenly
		last := &l.posts[len(l.posts)-1]
		at := l.seamRoom/2 + l.posts[0].width/2
		for _, it := range last.runs[last.seam:] {
			at += it.room
		}
		at /= length
		for k := range l.posts {
			l.posts[k].turn = at / sum
			at += gaps[k]
		}
		return
	}
	tied := make([]bool, len(l.posts))
	for k := range tied {
		tied[k] = l.tied(k)
	}
	for k, turn := range spreadRound(l.wants(c, first, gaps), gaps, tied) {
		l.posts[k].turn = turn
	}
}

// wants lists where the stitches of a round would stand if they were alone;
// first is the first that has a foot.
func (l *layouter) wants(c *circle, first int, gaps []float64) []float64 {
	want := make([]float64, len(l.posts))
	want[first] = c.above(l.posts[first].foot, c.level)
	for k := first - 1; k >= 0; k-- {
		want[k] = want[k+1] - gaps[k]
	}
	for k := first + 1; k < len(want); k++ {
		want[k] = want[k-1] + gaps[k-1]
		if p := &l.posts[k]; p.footed {
			// A round goes on, so a step ahead may be long; one back is short.
			want[k] = want[k-1] + wrap(c.above(p.foot, c.level)-want[k-1]-0.25) + 0.25
			want[k] = math.Min(want[k], want[0]+1)
		}
	}
	return want
}

// beside returns the stitch that an item is, or for a run those before and after
// it.
func (l *layouter) beside(it item) []*post {
	p := &l.posts[it.post]
	if !it.run {
		return []*post{p}
	}
	return []*post{p, &l.posts[(int(it.post)+1)%len(l.posts)]}
}

// turnCorners turns the polygon so that its corners stand above the places they
// are worked into, and finds out how sharp they can be: their stitches do not
// become much longer than a polygon that grows evenly asks for.
func (l *layouter) turnCorners(c *circle, n int) {
	c.corners = n
	var sum Point // of the directions below the corners, n times their angle
	var low, tall, count float64
	room, at := l.seamRoom, l.seamRoom/2
	for _, it := range l.items {
		room += it.room
	}
	first, near := math.NaN(), math.NaN() // turn of the first corner, by the room before it, and by its feet
	for _, it := range l.items {
		if it.corner {
			for _, p := range l.beside(it) {
				low, tall, count = low+math.Max(p.foot.length(), l.ring), tall+p.height, count+1
			}
			if turn, ok := l.under(it); ok {
				sum = sum.plus(polar(2*math.Pi*turn*float64(n), 1))
				if math.IsNaN(near) {
					near = turn
				}
			}
			if math.IsNaN(first) {
				first = (at + it.room/2) / room
			}
		}
		at += it.room
	}
	c.first = first
	if !math.IsNaN(near) {
		// Of the n turns that come to the same, the one near the first corner.
		turn := sum.angle() / (2 * math.Pi * float64(n))
		c.first = turn + math.Round((near-turn)*float64(n))/float64(n)
	}
	far := 1 / math.Cos(math.Pi/float64(n))
	reach := (low + 1.3*far*tall) / count
	c.sharp = math.Max(0, math.Min(1, (reach/c.level-1)/(far-1)))
}

// under is the turn of the place that a corner stands on: for a run of chains the
// middle between those of the stitches beside it.
func (l *layouter) under(it item) (turn float64, ok bool) {
	beside := l.beside(it)
	for _, p := range beside {
		if !p.footed {
			return 0, false
		}
	}
	turn = beside[0].foot.angle() / (2 * math.Pi)
	ahead := beside[len(beside)-1].foot.angle()/(2*math.Pi) - turn
	return turn + (ahead-math.Floor(ahead+1e-9))/2, true
}

// alongSides places the stitches of a round with corners, one side after the
// other.
func (l *layouter) alongSides(c *circle) {
	start := slices.IndexFunc(l.items, func(it item) bool { return it.corner })
	var run []*post // of the side
	var gaps []float64
	var tied []bool
	side := 0.0
	open := l.items[start].room / 2
	c.crowd = 1
	for step := 1; step <= len(l.items); step++ {
		j := (start + step) % len(l.items)
		it := l.items[j]
		if j == 0 {
			open += l.seamRoom
		}
		if it.run && !it.corner {
			open += it.room
			continue
		}
		before := (int(it.post) + len(l.posts) - 1) % len(l.posts)
		tied = append(tied, len(run) > 0 && !it.corner && l.tied(before))
		gaps = append(gaps, open+it.room/2)
		open = it.room / 2
		if !it.corner {
			run = append(run, &l.posts[it.post])
			continue
		}
		l.alongSide(c, side, run, gaps, tied)
		if !it.run {
			l.posts[it.post].turn = c.turnAt(side, 1)
		}
		side++
		run, gaps, tied = run[:0], gaps[:0], tied[:0]
	}
}

// alongSide places the stitches of one side. gaps are those from corner to
// corner.
func (l *layouter) alongSide(c *circle, side float64, run []*post, gaps []float64, tied []bool) {
	half := c.length(c.level) / float64(c.corners) / 2
	all, at := total(gaps), 0.0
	c.crowd = math.Min(c.crowd, 2*half/all)
	want := make([]float64, len(run))
	for i, p := range run {
		at += gaps[i]
		want[i] = half * (2*at/all - 1)
		if p.footed {
			want[i] = half * c.aboveSide(p.foot, c.level, side)
		}
	}
	for i, x := range within(want, gaps, tied, -half, half) {
		run[i].turn = c.turnAt(side, x/half)
	}
}

// seam is the turn at which the round ends and begins, where its number stands,
// and the one at which its starting chain does: between that and the first
// stitch.
func (l *layouter) seam(turned bool) (seam, chain float64) {
	k := len(l.posts) - 1
	p := &l.posts[k]
	at := p.width / 2
	for _, it := range p.runs[:p.seam] {
		at += it.room
	}
	turn := func(at float64) float64 { return p.turn + l.ahead(k)*at/l.gap(k) }
	// The chain keeps nearer to the stitch, which it leans to, than to the number.
	number, beside := (l.seamRoom-l.chain)/2, 0.3*l.chain
	if l.chain > 0 {
		number *= 0.75
	}
	if turned { // the first stitch comes before
		return turn(at + l.seamRoom - number), turn(at + beside)
	}
	return turn(at + number), turn(at + l.seamRoom - beside)
}

// stand works out how far out the stitches of a round have their tops.
func (l *layouter) stand(c *circle) {
	l.spreadFeet()
	// Those that stand on the round below at a side come as far out as their
	// height makes them; the others keep to the level of the round.
	free := func(p *post) bool { return p.footed && !p.deep && !(c.corners > 0 && p.inCorner) }
	reach := make([]float64, len(l.posts))
	sum, tall, n := 0.0, 0.0, 0.0
	for k := range l.posts {
		if p := &l.posts[k]; free(p) {
			reach[k] = c.reach(p.foot, p.turn, p.height)
			sum, tall, n = sum+reach[k], tall+p.height, n+1
		}
	}
	mean := 0.0
	if n > 0 {
		mean = sum / n
		c.level = math.Max(c.level, mean-(1-leastStretch)*tall/n)
	}
	c.outer = c.level
	for k := range l.posts {
		p := &l.posts[k]
		far := c.level
		if free(p) {
			off := math.Max(-mostOff, math.Min(mostOff, reach[k]-mean))
			if c.corners > 0 { // sides are straight
				off *= 0.4
			}
			far += off
		}
		l.turn[p.id], l.dist[p.id] = p.turn, far
		l.head[p.id] = c.point(p.turn, far)
		c.outer = math.Max(c.outer, far)
		if !p.footed {
			l.stepDown(p)
		}
	}
}

// stepDown sets the feet of a stitch that may stand anywhere straight below its
// head: on the ring, or where its height puts it.
func (l *layouter) stepDown(p *post) {
	head := l.head[p.id]
	for j := l.footAt[p.id]; j < l.footAt[p.id+1]; j++ {
		far := l.ring
		if l.places[j].Kind == notation.NoPlace {
			far = math.Max(0, head.length()-p.height)
		}
		l.feet[j] = polar(head.angle(), far)
	}
}

// spreadFeet sets the feet in one chain space or gap apart from each other.
func (l *layouter) spreadFeet() {
	type foot struct {
		post  *post
		at    int32
		space int
		off   float64 // of the stitch from the middle of the space, in turns
	}
	var feet []foot
	for k := range l.posts {
		p := &l.posts[k]
		for j := l.footAt[p.id]; j < l.footAt[p.id+1]; j++ {
			place := l.places[j]
			if (place.Kind == notation.Sp || place.Kind == notation.Gap) && !l.isRing(place.Stitch) {
				feet = append(feet, foot{p, j, place.Stitch, wrap(p.turn - l.turn[place.Stitch])})
			}
		}
	}
	slices.SortStableFunc(feet, func(a, b foot) int {
		return cmp.Or(cmp.Compare(a.space, b.space), cmp.Compare(a.off, b.off))
	})
	for len(feet) > 0 {
		n := 1
		for n < len(feet) && feet[n].space == feet[0].space {
			n++
		}
		most := 0.0
		for _, f := range feet[:n] {
			most = math.Max(most, math.Abs(f.off))
		}
		for i, f := range feet[:n] {
			l.feet[f.at] = l.within(f.space, f.off, most, float64(i)-float64(n-1)/2, n)
			l.stands(f.post)
		}
		feet = feet[n:]
	}
}

// within is where one of n feet stands in a chain space: nearly below its head,
// which is off the middle by so many turns, the farthest by most, and within the
// space. In the gap after a stitch feet stand close, in their order.
func (l *layouter) within(id int, off, most, order float64, n int) Point {
	if at := l.arcAt[id]; at > 0 {
		a := &l.arcs[at-1]
		wide := a.to - a.from
		share := 0.85
		if most > 0 {
			share = math.Min(share, 0.46*wide/most)
		}
		return a.point(0.5 + off*share/wide)
	}
	middle, _ := l.place(model.Place{Kind: notation.Gap, Stitch: id})
	return middle.plus(polar(middle.angle()+math.Pi/2, order*math.Min(0.2, 0.6/float64(n))))
}

// hangChains hangs the runs of chains between the stitches.
func (l *layouter) hangChains(c *circle) {
	for k := range l.posts {
		p, next := &l.posts[k], &l.posts[(k+1)%len(l.posts)]
		room, whole := l.ahead(k), l.gap(k)
		start, rise := l.dist[p.id], l.dist[next.id]-l.dist[p.id]
		at := p.width / 2
		for i, it := range p.runs {
			if i == p.seam {
				at += l.seamRoom
			}
			from, to := at, at+it.room
			at = to
			// Beside a stitch it comes near to its top.
			if i == 0 && i != p.seam {
				from -= p.width / 4
			}
			if i == len(p.runs)-1 && i+1 != p.seam {
				to += next.width / 4
			}
			from, to = from/whole, to/whole
			l.hang(c, it.id, arc{
				from: p.turn + room*from, to: p.turn + room*to,
				start: start + rise*from, end: start + rise*to,
			})
		}
	}
}

// hang hangs one run of chains.
func (l *layouter) hang(c *circle, id int32, a arc) {
	a.track, a.chains = &c.track, l.graph.Node(int(id)).Chains
	a.hang(c.length(c.level))
	l.arcs = append(l.arcs, a)
	l.arcAt[id] = int32(len(l.arcs))
	l.turn[id] = (a.from + a.to) / 2
	l.dist[id] = (a.start+a.end)/2 + a.bulge
	l.head[id] = a.point(0.5)
	c.outer = math.Max(c.outer, l.dist[id])
}

// loose lays a round of nothing but chains.
func (l *layouter) loose(c *circle) {
	room := l.seamRoom
	for _, it := range l.items {
		room += it.room
	}
	c.outer = c.level
	at := l.seamRoom / 2
	for _, it := range l.items {
		l.hang(c, it.id, arc{from: at / room, to: (at + it.room) / room, start: c.level, end: c.level})
		at += it.room
	}
}

// setPicots sets picots on what they sit on.
func (l *layouter) setPicots(c *circle, i int) {
	for id, n := range l.graph.Entries(i) {
		on := n.Below()
		if n.Kind() != picot || on < 0 {
			continue
		}
		l.turn[id], l.dist[id], l.head[id] = l.turn[on], l.dist[on], l.head[on]
		if at := l.arcAt[on]; at > 0 {
			a := &l.arcs[at-1]
			u := float64(l.graph.Node(id).Sits) / float64(max(1, a.chains))
			l.turn[id], l.head[id] = a.from+(a.to-a.from)*u, a.point(u)
		}
		c.outer = math.Max(c.outer, l.dist[id]+picotTall)
	}
}
