package chart

import (
	"math"
	"slices"
)

// spread places things in a row as near to where they want to be as they can
// get, in the mean of squares, when each must keep a distance from the one
// before: gap[i] is that between i and i+1. Where they are not in each other's
// way they stand where they want to.
//
// Less the gaps before it, the place of each must not be smaller than that of
// the one before: that is isotonic regression, and neighbours in the wrong order
// are pooled (Ayer and others, An Empirical Distribution Function for Sampling
// with Incomplete Information, Ann. Math. Statist. 26, 1955, 641-647).
func spread(want, gap []float64) []float64 {
	type pool struct {
		sum float64
		n   int
	}
	pools := make([]pool, 0, len(want))
	before := 0.0
	for i, w := range want {
		p := pool{w - before, 1}
		for len(pools) > 0 {
			q := pools[len(pools)-1]
			if q.sum*float64(p.n) < p.sum*float64(q.n) {
				break
			}
			p.sum, p.n = p.sum+q.sum, p.n+q.n
			pools = pools[:len(pools)-1]
		}
		pools = append(pools, p)
		if i < len(gap) {
			before += gap[i]
		}
	}
	places := make([]float64, 0, len(want))
	before = 0
	for _, p := range pools {
		for range p.n {
			i := len(places)
			places = append(places, p.sum/float64(p.n)+before)
			if i < len(gap) {
				before += gap[i]
			}
		}
	}
	return places
}

// ease moves things in a row towards even distances: each is drawn to where it
// wants to be and, as strongly as evenness says, to its proper distance from its
// neighbours; those farther off than usual are not felt. It starts from want and
// comes nearer in few steps, so that what is far away matters little. before and
// after are the things beyond the ends; gap has one more than want, for them.
func ease(want, gap []float64, before, after func(x []float64) float64) []float64 {
	const (
		steps    = 12
		evenness = 1.5
		farthest = 2.0 // times the proper distance
	)
	n := len(want)
	x := slices.Clone(want)
	for range steps {
		for i := range x {
			var low, high float64
			if i > 0 {
				low = x[i-1]
			} else {
				low = before(x)
			}
			if i < n-1 {
				high = x[i+1]
			} else {
				high = after(x)
			}
			low = math.Max(low, x[i]-farthest*gap[i]) + gap[i]
			high = math.Min(high, x[i]+farthest*gap[i+1]) - gap[i+1]
			x[i] = (want[i] + evenness*(low+high)) / (1 + 2*evenness)
		}
	}
	return x
}

// proper shares out room among gaps. Where there is more than they need, those
// within a group, which are tied, stay nearly as they are.
func proper(gap []float64, tied []bool, room float64) []float64 {
	const loosest = 1.2
	sum, group := total(gap), 0.0
	for i, g := range gap {
		if tied[i] {
			group += g
		}
	}
	within, between := room/sum, room/sum
	if within > loosest && group < sum {
		within = loosest
		between = (room - within*group) / (sum - group)
	}
	out := make([]float64, len(gap))
	for i, g := range gap {
		if out[i] = g * between; tied[i] {
			out[i] = g * within
		}
	}
	return out
}

func total(list []float64) float64 {
	sum := 0.0
	for _, x := range list {
		sum += x
	}
	return sum
}

// spreadRound is spread for things round a turn of length 1, eased: the last gap
// is that between the last and the first. want rises, by one turn at most. When
// there is not room enough for all gaps they are all made smaller. tied tells
// which gaps are those within a group.
func spreadRound(want, gap []float64, tied []bool) []float64 {
	n := len(want)
	if n < 2 {
		return want
	}
	even := proper(gap, tied, 1)
	want = ease(want, append([]float64{even[n-1]}, even...),
		func(x []float64) float64 { return x[n-1] - 1 },
		func(x []float64) float64 { return x[0] + 1 })
	most := math.Min(1, 0.999/total(gap))
	// Three turns in a row: what is wanted in the middle one is not cut.
	wants, gaps := make([]float64, 0, 3*n), make([]float64, 0, 3*n)
	for turn := range 3 {
		for i := range want {
			wants = append(wants, want[i]+float64(turn-1))
			gaps = append(gaps, gap[i]*most)
		}
	}
	return spread(wants, gaps)[n : 2*n]
}

// within is spread for things between two ends, eased: the first and the last gap
// are those to the ends, so that there is one more than of want.
func within(want, gap []float64, tied []bool, low, high float64) []float64 {
	if len(want) == 0 {
		return nil
	}
	room := math.Max(0, high-low)
	want = ease(want, proper(gap, tied, room),
		func([]float64) float64 { return low },
		func([]float64) float64 { return high })
	share := math.Min(1, room/total(gap))
	inner := make([]float64, len(want)-1)
	for i := range inner {
		inner[i] = gap[i+1] * share
	}
	places := spread(want, inner)
	// What sticks out is pushed in, the nearest to an end first.
	at := low + gap[0]*share
	for i := range places {
		places[i] = math.Max(places[i], at)
		at = places[i] + gap[i+1]*share
	}
	at = high - gap[len(gap)-1]*share
	for i := len(places) - 1; i >= 0; i-- {
		places[i] = math.Min(places[i], at)
		at = places[i] - gap[i]*share
	}
	return places
}
