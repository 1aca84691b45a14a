package size

import "math"

// The constants of Score, fitted on motifs known to lie flat or not; see
// testdata/flat.
const (
	windowGrowth = 4.0 // w
	leastGrowth  = 0.3 // w; a round that adds nothing still counts
	centre       = 3.0 // w; up to here rounds are left out
	settled      = 6.0 // w; from here on a score counts in full
	oneRound     = 0.5 // share of the mismatch of one round alone
	// Tops are kept as short numbers; what is as good as the edge of a window
	// is the edge.
	rounding = 1e-4 // w
)

// atCentre reports whether a round is left out of the score.
func (r *Round) atCentre() bool { return r.onRing || r.Shoulder < centre-rounding }

// score sets the Score and the Doubt of the last round.
func (s *Shaper) score() {
	i := len(s.rounds) - 1
	r := &s.rounds[i]
	if !r.atCentre() {
		s.scored = append(s.scored, i)
	}
	var sum, doubt, weight float64
	for k := len(s.scored) - 1; k >= 0 && weight < windowGrowth-rounding; k-- {
		j := s.scored[k]
		g := math.Max(s.rounds[j].Growth, leastGrowth)
		slack := s.rounds[j].Slack
		if j > 0 && s.rounds[j].Mismatch >= 0 {
			slack = math.Max(slack, s.rounds[j-1].Slack)
		}
		sum += s.rounds[j].Mismatch * g
		doubt += slack * g
		weight += g
	}
	if weight > 0 {
		r.Score, r.Doubt = sum/weight, doubt/weight
	}
	r.carried, r.damp = r.Score, math.Min(1, r.Shoulder/settled)
	if !r.atCentre() {
		r.share = math.Max(r.Growth, leastGrowth) / weight
		r.carried -= r.share * r.Mismatch
		if x := r.Mismatch * oneRound; math.Abs(x) > math.Abs(r.Score) {
			r.Score = x
		}
	}
	r.Score *= r.damp
}

// Within returns the least and the most that the Mismatch of the round may be
// for its Score to lie from -score to score, score being above 0, when the
// rounds below stay as they are. Where they are too far off themselves, least is
// above most; where they all belong to the centre, there is no limit.
func (r *Round) Within(score float64) (least, most float64) {
	if r.damp == 0 || r.share == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	limit := score / r.damp
	least = math.Max(-limit/oneRound, (-limit-r.carried)/r.share)
	most = math.Min(limit/oneRound, (limit-r.carried)/r.share)
	return least, most
}
