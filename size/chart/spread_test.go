package chart

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// near reports whether two figures are the same but for rounding.
func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

func drawRow(t *rapid.T) (want, gap []float64) {
	n := rapid.IntRange(1, 30).Draw(t, "things")
	want = rapid.SliceOfN(rapid.Float64Range(-10, 10), n, n).Draw(t, "want")
	gap = rapid.SliceOfN(rapid.Float64Range(0, 2), n, n).Draw(t, "gap")
	return want, gap
}

// squares is how far things are from where they want to be.
func squares(want, at []float64) float64 {
	sum := 0.0
	for i := range want {
		sum += (want[i] - at[i]) * (want[i] - at[i])
	}
	return sum
}

// TestSpread: things keep their gaps, and no other places that do are nearer to
// what is wanted: none of them can be moved, alone or with its neighbours, to
// advantage.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want, gap := drawRow(t)
		gap = gap[:len(gap)-1]
		at := spread(want, gap)
		keeps := func(at []float64) bool {
			for i := range gap {
				if at[i+1]-at[i] < gap[i]-1e-9 {
					return false
				}
			}
			return true
		}
		if !keeps(at) {
			t.Fatalf("%v does not keep the gaps %v", at, gap)
		}
		if keeps(want) && !slices.EqualFunc(want, at, near) {
			t.Fatalf("%v was possible, got %v", want, at)
		}
		best := squares(want, at)
		for first := range at {
			for last := first; last < len(at); last++ {
				for _, by := range []float64{-1e-3, 1e-3} {
					moved := slices.Clone(at)
					for i := first; i <= last; i++ {
						moved[i] += by
					}
					if keeps(moved) && squares(want, moved) < best-1e-6 {
						t.Fatalf("%d to %d are better moved by %v", first, last, by)
					}
				}
			}
		}
	})
}

// TestSpreadRound: things stay in order round the turn and keep their gaps, or
// equal shares of them where there is not room for all.
func TestSpreadRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want, gap := drawRow(t)
		slices.Sort(want)
		for i := range want {
			want[i] = (want[i] + 10) / 20.5 // a turn and no more
			gap[i] /= 20
		}
		tied := rapid.SliceOfN(rapid.Bool(), len(want), len(want)).Draw(t, "tied")
		at := spreadRound(want, gap, tied)
		share := math.Min(1, 0.999/total(gap))
		for i := range at {
			next := at[0] + 1
			if i+1 < len(at) {
				next = at[i+1]
			}
			if len(at) > 1 && next-at[i] < gap[i]*share-1e-6 {
				t.Fatalf("%d is %v before the next, want %v:\n%v", i, next-at[i], gap[i]*share, at)
			}
		}
	})
}

// TestWithin: things stay between the ends, in order.
func TestWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want, gap := drawRow(t)
		gap = append(gap, rapid.Float64Range(0.1, 2).Draw(t, "last gap"))
		tied := make([]bool, len(gap))
		low, high := -5.0, -5+rapid.Float64Range(0.1, 40).Draw(t, "room")
		at := within(want, gap, tied, low, high)
		share := math.Min(1, (high-low)/total(gap))
		before := low
		for i := range at {
			if at[i]-before < gap[i]*share-1e-6 {
				t.Fatalf("%d is %v after what is before, want %v", i, at[i]-before, gap[i]*share)
			}
			before = at[i]
		}
		if high-before < gap[len(gap)-1]*share-1e-6 {
			t.Fatalf("the last is %v before the end, want %v", high-before, gap[len(gap)-1]*share)
		}
	})
}

// TestStretch: every need is met, what is farther out as worked is farther out as
// drawn, nothing is drawn nearer than it is worked, and the farther out, the less
// is stretched.
func TestStretch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s stretch
		needs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) knee {
			return knee{rapid.Float64Range(0, 50).Draw(t, "worked"), rapid.Float64Range(0, 60).Draw(t, "drawn")}
		}), 1, 12).Draw(t, "needs")
		for _, n := range needs {
			s.need(n.x, n.e)
		}
		s.settle()
		for _, n := range needs {
			if s.drawn(n.x) < n.e-1e-9 {
				t.Fatalf("%v is drawn at %v, needs %v", n.x, s.drawn(n.x), n.e)
			}
		}
		extra := func(x float64) float64 { return s.drawn(x) - x }
		for x := 0.0; x < 60; x++ {
			if extra(x) < 0 || extra(x+1) < extra(x)-1e-9 {
				t.Fatalf("stretched by %v at %v, by %v at %v", extra(x), x, extra(x+1), x+1)
			}
			if extra(x+2)-extra(x+1) > extra(x+1)-extra(x)+1e-9 {
				t.Fatalf("stretched more and more at %v", x)
			}
		}
	})
}

func drawTrack(t *rapid.T) *track {
	return &track{
		corners: rapid.SampledFrom([]int{0, 3, 4, 5, 6, 8, 12}).Draw(t, "corners"),
		first:   rapid.Float64Range(-1, 1).Draw(t, "first"),
		sharp:   rapid.Float64Range(0, 1).Draw(t, "sharp"),
	}
}

// TestTrack: a track goes round the centre once, as long as it says; corners are
// farthest out; a stitch above a point of the same track stands
// near to it.
func TestTrack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawTrack(t)
		far := rapid.Float64Range(0.5, 50).Draw(t, "distance")
		const parts = 7 * 3 * 4 * 5 * 8 // corners of all polygons are among them
		long, turns, before := 0.0, 0.0, k.point(k.first, far)
		most := 0.0
		for i := 1; i <= parts; i++ {
			p := k.point(k.first+float64(i)/parts, far)
			long += p.minus(before).length()
			turns += wrap((p.angle() - before.angle()) / (2 * math.Pi))
			before = p
			most = math.Max(most, p.length())
		}
		if math.Abs(turns-1) > 1e-6 {
			t.Fatalf("goes round %v times", turns)
		}
		if math.Abs(long-k.length(far)) > 0.06*long {
			t.Fatalf("%v long, says %v", long, k.length(far))
		}
		if k.corners > 0 && !near(k.point(k.first, far).length(), most) {
			t.Fatalf("the corner is %v out, and something %v", k.point(k.first, far).length(), most)
		}
		turn := rapid.Float64Range(0, 1).Draw(t, "turn")
		if above := k.above(k.point(turn, far), far); math.Abs(wrap(above-turn)) > 0.04 {
			t.Fatalf("%v stands above %v", above, turn)
		}
	})
}

// TestReach: a stitch comes as far out as its height takes it, if it can.
func TestReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawTrack(t)
		turn, far := rapid.Float64Range(0, 1).Draw(t, "turn"), rapid.Float64Range(1, 30).Draw(t, "distance")
		foot, height := k.point(turn, far), rapid.Float64Range(0.3, 4).Draw(t, "height")
		head := k.point(turn, k.reach(foot, turn, height))
		if got := head.minus(foot).length(); math.Abs(got-height) > 1e-6 || head.length() < foot.length() {
			t.Fatalf("%v long, want %v", got, height)
		}
	})
}

// TestLinks: chains lie one after the other along their run, evenly.
func TestLinks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawTrack(t)
		from := rapid.Float64Range(0, 1).Draw(t, "from")
		a := arc{
			track: k, from: from, to: from + rapid.Float64Range(0.01, 0.9).Draw(t, "turns"),
			start: rapid.Float64Range(1, 30).Draw(t, "start"), chains: rapid.IntRange(1, 60).Draw(t, "chains"),
		}
		a.end = a.start + rapid.Float64Range(-0.9, 3).Draw(t, "rise")
		a.hang(k.length((a.start + a.end) / 2))
		if a.bulge < 0 || a.bulge > math.Max(mostBulge, 0.06*(a.to-a.from)*k.length(a.start+3)) {
			t.Fatalf("hangs out by %v", a.bulge)
		}
		links := a.links()
		if len(links) != a.chains {
			t.Fatalf("%d links of %d chains", len(links), a.chains)
		}
		_, far := a.walk()
		even := far[len(far)-1] / float64(a.chains)
		for i := 1; i < len(links); i++ {
			if d := links[i].At.minus(links[i-1].At).length(); d > even+1e-6 {
				t.Fatalf("chain %d is %v from the one before, want %v at most", i, d, even)
			}
		}
	})
}
