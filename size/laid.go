package size

import "math"

// foldsFrom is the share by which a round is too long beyond which stitches no
// longer crowd but lie in folds.
const foldsFrom = 0.25

// A rim is the edge of a piece laid flat. Going outwards, all inside it is one
// spring: the height of a round is in series with it, and its length beside it.
type rim struct {
	radius float64 // as laid
	give   float64 // one over the stiffness, in 1/2 pi
	widest float64 // of the piece so far
}

// lay adds a round, and sets how far across it is, given how far across its
// tops are with every stitch standing straight.
func (l *rim) lay(r *Round) {
	beyond := r.Across/2 - r.Shoulder
	l.radius = math.Max(0, l.radius+r.Growth)
	if r.Growth > 0 && r.NeedLeast > 0 {
		least := r.Shoulder * r.MadeLeast / r.NeedMost
		most := r.MadeMost / (2 * math.Pi)
		want := math.Max(math.Min(l.radius, most), math.Min(least, (1+foldsFrom)*l.radius))
		draw := r.Growth / l.radius
		l.give += draw
		l.radius = (l.radius + draw*l.give*want) / (1 + draw*l.give)
		l.give /= 1 + draw*l.give
	}
	r.laid = 2 * math.Abs(l.radius-r.Shoulder)
	l.widest = math.Max(l.widest, 2*(l.radius+beyond))
	r.Across = l.widest
}
