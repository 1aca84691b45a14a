package chart

import (
	"math"
	"slices"
)

// An arc is the line that a run of chains lies on, counter-clockwise from one
// stitch to the next.
type arc struct {
	track      *track
	from, to   float64 // turns
	start, end float64 // distances
	bulge      float64 // how far its middle hangs outwards
	chains     int
}

// hang works out how far a run of chains hangs outwards: as far as its length
// makes it.
func (a *arc) hang(perTurn float64) {
	across := (a.to - a.from) * perTurn
	long := chainLong * float64(a.chains)
	a.bulge = 0.06 * across
	if long <= across {
		return
	}
	low, high := 0.0, math.Min(mostBulge, long)
	for range 20 {
		if mid := (low + high) / 2; bowLength(across, mid) > long {
			high = mid
		} else {
			low = mid
		}
	}
	a.bulge = math.Max(a.bulge, low)
}

// How a bow is cut to measure it and to space chains on it.
const bowParts = 16

// bow is the form of a hanging run over an even base from 0 to across: shallow
// ones are parts of a wave, deep ones open out to half an ellipse.
func bow(u, deep float64) (along, out float64) {
	sin, cos := math.Sincos(math.Pi * u)
	return u*(1-deep) + deep*(1-cos)/2, sin
}

// deep is how far a bow opens out, from 0 to 1.
func deep(across, bulge float64) float64 {
	if across <= 0 {
		return 1
	}
	return math.Max(0, math.Min(1, 2*bulge/across-0.4))
}

func bowLength(across, bulge float64) float64 {
	d := deep(across, bulge)
	sum, x0, y0 := 0.0, 0.0, 0.0
	for i := 1; i <= bowParts; i++ {
		x, y := bow(float64(i)/bowParts, d)
		x, y = x*across, y*bulge
		sum += math.Hypot(x-x0, y-y0)
		x0, y0 = x, y
	}
	return sum
}

// point is a place on the arc, from 0 at its beginning to 1 at its end.
func (a *arc) point(u float64) Point {
	across := (a.to - a.from) * a.track.length((a.start+a.end)/2)
	along, out := bow(u, deep(across, a.bulge))
	return a.track.point(a.from+(a.to-a.from)*along, a.start+(a.end-a.start)*along+a.bulge*out)
}

// walk cuts the arc and returns the places, and how far each is along it.
func (a *arc) walk() (at [2*bowParts + 1]Point, far [2*bowParts + 1]float64) {
	for i := range at {
		at[i] = a.point(float64(i) / (2 * bowParts))
		if i > 0 {
			far[i] = far[i-1] + at[i].minus(at[i-1]).length()
		}
	}
	return at, far
}

// A Link is one chain: where its middle lies, the direction of the run there in
// radians, and how large it is drawn: 1, less where there is no room for that, a little more where
// there is room to spare.
type Link struct {
	At        Point
	Direction float64
	Size      float64
}

// links spaces the chains of the arc evenly.
func (a *arc) links() []Link {
	if a.chains == 1 {
		return []Link{{a.point(0.5), a.point(0.4).towards(a.point(0.6)), 1}}
	}
	const parts = 2 * bowParts
	at, far := a.walk()
	step := far[parts] / float64(a.chains)
	list := make([]Link, 0, a.chains)
	part := 1
	for i := range a.chains {
		want := (float64(i) + 0.5) * step
		for part < parts && far[part] < want {
			part++
		}
		share := 0.0
		if d := far[part] - far[part-1]; d > 0 {
			share = (want - far[part-1]) / d
		}
		p, q := at[part-1], at[part]
		list = append(list, Link{p.plus(q.minus(p).times(share)), p.towards(q), math.Min(1.35, step/chainLong)})
	}
	return list
}

// links are the chains of a run, in the order in which they are worked.
func (l *Layout) links(id int) []Link {
	list := l.arcs[l.arcAt[id]-1].links()
	if l.graph.Round(int(l.round[id])).Turned {
		slices.Reverse(list)
	}
	return list
}
