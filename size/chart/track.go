package chart

import "math"

// A Point is a place in the plane of the chart, in w, the width of one plain
// stitch: X to the right, Y up, the centre of the piece at 0, 0.
type Point struct{ X, Y float64 }

func (p Point) plus(q Point) Point      { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point     { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(k float64) Point   { return Point{p.X * k, p.Y * k} }
func (p Point) dot(q Point) float64     { return p.X*q.X + p.Y*q.Y }
func (p Point) length() float64         { return math.Hypot(p.X, p.Y) }
func (p Point) angle() float64          { return math.Atan2(p.Y, p.X) }
func (p Point) towards(q Point) float64 { return q.minus(p).angle() }

// nearer is a place a distance nearer to q, half way at most.
func (p Point) nearer(q Point, by float64) Point {
	d := q.minus(p)
	if d.length() > 0 {
		p = p.plus(d.times(math.Min(by/d.length(), 0.5)))
	}
	return p
}

// middle is the middle of some points.
func middle(list []Point) Point {
	var sum Point
	for _, p := range list {
		sum = sum.plus(p)
	}
	return sum.times(1 / float64(len(list)))
}

func polar(angle, r float64) Point {
	sin, cos := math.Sincos(angle)
	return Point{r * cos, r * sin}
}

// turned turns a point about the centre.
func (p Point) turned(angle float64) Point {
	sin, cos := math.Sincos(angle)
	return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

// A track is the line that the tops of a round lie on: a circle, or a regular
// polygon, or something between that is rounded at the corners. A place on it is
// given by a turn, from 0 to 1 once round, counter-clockwise, and a distance:
// the radius, or for a polygon the apothem.
type track struct {
	corners int     // at least 3, or 0 for a circle
	first   float64 // the turn at which a corner stands
	sharp   float64 // from 0, a circle, to 1, a polygon
}

// locate divides a turn into the side it lies on and the place there, from -1 at
// one corner to 1 at the next.
func (t *track) locate(turn float64) (side, at float64) {
	n := float64(t.corners)
	u := (turn - t.first) * n
	side = math.Floor(u)
	return side, 2*(u-side) - 1
}

// middle is the angle of the middle of a side.
func (t *track) middle(side float64) float64 {
	return 2 * math.Pi * (t.first + (side+0.5)/float64(t.corners))
}

// point is where a turn and a distance lie.
func (t *track) point(turn, distance float64) Point {
	if t.corners == 0 {
		return polar(2*math.Pi*turn, distance)
	}
	side, at := t.locate(turn)
	half := math.Pi / float64(t.corners)
	round := polar(at*half, 1-t.sharp)
	straight := Point{t.sharp, t.sharp * at * math.Tan(half)}
	return round.plus(straight).times(distance).turned(t.middle(side))
}

// outward is the direction in which the distance grows.
func (t *track) outward(turn float64) float64 { return t.point(turn, 1).angle() }

// length is how long the track is at a distance.
func (t *track) length(distance float64) float64 {
	if t.corners == 0 {
		return 2 * math.Pi * distance
	}
	n := float64(t.corners)
	return 2 * n * distance * ((1-t.sharp)*math.Pi/n + t.sharp*math.Tan(math.Pi/n))
}

// above returns the turn at which a stitch stands straight above a foot, at a
// distance: farther out on the same ray of a circle, straight out from the side
// of a polygon.
func (t *track) above(foot Point, distance float64) float64 {
	turn := foot.angle() / (2 * math.Pi)
	if t.corners == 0 {
		return turn
	}
	side, _ := t.locate(turn)
	at := t.aboveSide(foot, distance, side)
	return t.turnAt(side, math.Max(-1, math.Min(1, at)))
}

// aboveSide is above for a side that is known. It returns the place on that side,
// which may lie beyond its ends.
func (t *track) aboveSide(foot Point, distance, side float64) float64 {
	half := math.Pi / float64(t.corners)
	p := foot.turned(-t.middle(side))
	onRay := p.angle() / half
	if distance <= 0 {
		return onRay
	}
	straight := p.Y / (distance * math.Tan(half))
	return (1-t.sharp)*onRay + t.sharp*straight
}

func (t *track) turnAt(side, at float64) float64 {
	return t.first + (side+(at+1)/2)/float64(t.corners)
}

// reach returns the distance at which a stitch of a height, standing on a foot,
// has its top at a turn. A stitch too short to come there lies as near as it can.
func (t *track) reach(foot Point, turn, height float64) float64 {
	v := t.point(turn, 1)
	vv, vp := v.dot(v), v.dot(foot)
	if vv == 0 {
		return height
	}
	disc := vp*vp - vv*(foot.dot(foot)-height*height)
	return (vp + math.Sqrt(math.Max(disc, 0.36*height*height*vv))) / vv
}

// wrap brings a difference of turns into the half open range from -1/2 to 1/2.
func wrap(turn float64) float64 { return turn - math.Floor(turn+0.5) }
