package check

import (
	"context"
	"fmt"
	"math"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A shape is the geometry of the draft, worked out once for all rules.
type shape struct {
	gauge      size.Gauge
	dimensions size.Dimensions // by which it is judged
	rounds     []size.Round    // up to the first round that does not work out
	bands      size.Bands
}

// mostShaped bounds the pieces whose shape is worked out: a blanket has some
// hundred thousand stitches, and what is larger is a slip or an attack.
const mostShaped = 2_000_000

// shapeOf works out the shape of a piece, or as much of it as comes out before
// ctx ends.
func shapeOf(ctx context.Context, d *notation.Draft, g *model.Graph) *shape {
	if g.Len() > mostShaped {
		return &shape{gauge: size.Gauge{Dimensions: size.DefaultDimensions()}}
	}
	s := &shape{gauge: size.GaugeOf(g, d.Gauge()), bands: size.DefaultBands()}
	s.dimensions = s.gauge.Judging()
	shaper := size.NewShaper(g, s.dimensions)
	for ctx.Err() == nil {
		r, ok := shaper.Next()
		if !ok || g.Round(r.Index).Status != model.Worked {
			break
		}
		s.rounds = append(s.rounds, r)
	}
	return s
}

// A lie is how a piece comes out: where it stops being flat, and how far it
// goes.
type lie struct {
	first size.Round // past the band that is reached
	level level
}

// tells reports whether it is said of the piece, from a round on, that it will
// not lie flat.
func (l lie) tells(round int) bool { return l.level >= likely && l.first.Index >= round }

type level = size.Level

const (
	flat      = size.LevelFlat
	tolerable = size.LevelAbout
	likely    = size.LevelLikely
	certain   = size.LevelCertain
)

// level tells which band a score of a round reaches.
func (s *shape) level(r size.Round, score float64) level {
	return s.bands.Widened(r.Doubt).Level(score)
}

// lies finds the first round that is past the highest band reached, among
// rounds that are too long (sign 1) or too short (sign -1).
func (s *shape) lies(sign float64) lie {
	var out lie
	for _, r := range s.rounds {
		l := s.level(r, sign*r.Score)
		// Where it becomes likely is the place to look at, even if it
		// becomes certain further on.
		if l > out.level {
			if out.level < likely {
				out.first = r
			}
			out.level = l
		}
	}
	return out
}

// A way is one of the two in which a piece does not lie flat, and the words for
// it.
type way struct {
	as   notation.Lie // which a draft declares
	sign float64      // of Score
	verb string       // what the piece does
	long string       // what its rounds are too much of
	many string       // and what they have too much of, in stitches
	cure string       // which increases would mend it
}

var (
	ruffling = way{notation.Ruffled, 1, "ruffle", "long", "many", "fewer"}
	cupping  = way{notation.Cupped, -1, "cup", "short", "few", "more"}
)

// other is the other way.
func (w way) other() way {
	if w.sign > 0 {
		return cupping
	}
	return ruffling
}

func growthRuffle(p *Pass) { growth(p, ruffling) }
func growthCup(p *Pass)    { growth(p, cupping) }

// growth reports a piece that is too full, or too scant, to lie as it is meant
// to.
func growth(p *Pass, w way) {
	if p.Draft.Outline() == notation.Free {
		// What a round needs follows from its distance from the centre; round
		// a star or a leaf that is not the same all the way.
		return
	}
	s := p.shape()
	if len(s.rounds) == 0 {
		return
	}
	found, flare := s.lies(w.sign), flare{}
	if w == ruffling {
		flare = s.flare()
	}
	switch meant := p.Draft.Lies(); {
	case meant == w.as:
		if out := s.comesOut(); found.level < likely && !flare.found && !p.faulty() && (found.level == flat || out != notation.Flat) {
			notAsMeant(p, s, w, out)
		}
	case meant != notation.Flat:
		// A hat may be full at the crown, a ruffle scant at the start.
	case found.level >= likely || found.level == tolerable && s.lies(-w.sign).level < likely:
		// Of a piece that ruffles nobody wants to know that it might have cupped
		// a little.
		if n := p.Draft.Outline().Corners(); w == ruffling && n > 0 && s.flatWith(n) {
			return // corner-count asks for the corners to be marked
		}
		notFlat(p, s, w, found)
	case flare.found:
		from, to := p.Graph.Round(s.rounds[flare.from].Index), p.Graph.Round(s.rounds[flare.to].Index)
		p.ReportRoundf(to, "from round %d to round %d the rim grows %.0f %% faster than that of a flat piece: after the cup it flares and ruffles; spread the increases evenly over all rounds",
			from.Number, to.Number, 100*flare.faster)
	}
}

// flatWith reports whether a piece that marks no corners, and is too long for a
// circle, would lie flat if it had n sharp ones.
func (s *shape) flatWith(n int) bool {
	factor := size.PerRadius(n)
	for _, r := range s.rounds {
		if r.Corners > 0 || s.level(r, r.Score) > flat && r.MadeLeast > factor*r.Shoulder*(1+s.bands.Tolerance) {
			return false
		}
	}
	return true
}

// notAsMeant reports a piece that is declared to lie one way and comes out
// another.
func notAsMeant(p *Pass, s *shape, w way, out notation.Lie) {
	last := p.Graph.Round(s.rounds[len(s.rounds)-1].Index)
	much, instead := "", "leave the lies line out"
	if s.lies(w.sign).level == tolerable {
		much = "much "
	}
	if out != notation.Flat {
		instead = "write lies " + string(out)
	}
	p.ReportRoundf(last, "the draft says it lies %s, but no round up to round %d is %stoo %s for lying flat, so it comes out %s; work %s increases, or %s",
		w.as, last.Number, much, w.long, out, w.other().cure, instead)
}

// comesOut says how the piece lies in the end.
func (s *shape) comesOut() notation.Lie {
	switch {
	case s.lies(1).level >= likely:
		return notation.Ruffled
	case s.lies(-1).level >= likely:
		return notation.Cupped
	}
	return notation.Flat
}

// notFlat reports a piece that should lie flat and does not: what is off, what
// comes of it, where it begins, what that rests on, and what would mend it.
func notFlat(p *Pass, s *shape, w way, found lie) {
	r, begins := found.first, s.begins(found.first, w.sign)
	round := p.Graph.Round(r.Index)
	f := Finding{Severity: notation.Warning, Span: round.Statement.Head, Round: round.Number}
	will := "is likely to " + w.verb
	switch found.level {
	case tolerable:
		f.Severity = notation.Info
		will = "may " + w.verb + " a little until it is blocked"
	case certain:
		will = "will " + w.verb
	}
	// A round may carry no more than its share of what the rounds up to it lack,
	// and have as many stitches as would lie flat: then it is not at fault alone.
	stitches := stitchesOff(p, s, w, r, begins)
	if stitches != "" {
		f.Message = fmt.Sprintf("round %d is about %.0f %% too %s for its distance from the centre, so the piece %s; %s",
			round.Number, 100*math.Abs(r.Mismatch), w.long, will, stitches)
	} else {
		f.Message = fmt.Sprintf("the rounds up to round %d are about %.0f %% too %s for their distance from the centre, so the piece %s",
			round.Number, 100*math.Abs(r.Score), w.long, will)
	}
	if begins.Index < r.Index {
		f.Message += fmt.Sprintf("; it begins in round %d", p.Graph.Round(begins.Index).Number)
		if w.sign*begins.Mismatch > 0 {
			least, most := s.wouldDo(p, begins, begins)
			f.Message += fmt.Sprintf(", where %.0f to %.0f would", least, most)
			if stitches == "" {
				f.Message += " lie flat"
			}
		}
	}
	f.Message += fmt.Sprintf(" (%s)", assumed(p, s, r))
	n := round.Rotation()
	switch unmarked := w == ruffling && p.Draft.Outline() == notation.OutlineUnsaid && n >= 3 && n <= 8 && s.flatWith(n); {
	case unmarked:
		f.Severity = notation.Info
		f.Message += fmt.Sprintf("; the round looks the same %d times round: if that is a corner each time, mark it, as in corner %s, for with sharp corners it may lie flat", n, p.Draft.Terms.Name("dc"))
	case found.level > tolerable:
		f.Message += fmt.Sprintf("; work %s increases, or write lies %s in the header if it is meant", w.cure, w.as)
	}
	p.Add(f)
}

// stitchesOff says in stitches how far a round is off and what would do, where
// the fault begins in a round; it is empty where the round has a number that
// would do.
func stitchesOff(p *Pass, s *shape, w way, r, begins size.Round) string {
	if w.sign*r.Mismatch <= s.bands.Tolerance {
		return ""
	}
	counts := p.Graph.Counts(r.Index)
	n := float64(counts.Total)
	name := "st"
	if len(counts.Stitches) == 1 {
		for us := range counts.Stitches {
			name = p.Draft.Terms.Name(us)
		}
	}
	off := n - n*r.NeedMost/r.MadeLeast
	if w == cupping {
		off = n*r.NeedLeast/r.MadeMost - n
	}
	chains := ""
	if counts.Chains > 0 {
		chains = ", with chains in proportion"
	}
	least, most := s.wouldDo(p, r, begins)
	return fmt.Sprintf("it has about %.0f %s too %s: %.0f to %.0f would lie flat%s", math.Max(1, math.Round(off)), name, w.many, least, most, chains)
}

// wouldDo returns how many stitches a round may have to lie flat within the give
// of the stitches: on the rounds below as they are, if the fault begins in this
// one and there is such a number, and else on rounds below that are put right.
func (s *shape) wouldDo(p *Pass, r, begins size.Round) (least, most float64) {
	// A little less than what the stitches take up: with another count they
	// stand a little otherwise.
	give := 0.9 * s.bands.Tolerance
	low, high := -give, give
	if r.Index == begins.Index {
		l, h := r.Within(give * s.bands.Widened(r.Doubt).Tolerance / s.bands.Tolerance)
		if l, h = math.Max(low, l), math.Min(high, h); l < h {
			low, high = l, h
		}
	}
	n := float64(p.Graph.Counts(r.Index).Total)
	least = math.Ceil(n * r.NeedLeast / r.MadeMost * (1 + low))
	most = math.Floor(n * r.NeedMost / r.MadeLeast * (1 + high))
	return least, math.Max(least, most)
}

// begins returns the first of the rounds up to r that without a break are past
// what the stitches take up.
func (s *shape) begins(r size.Round, sign float64) size.Round {
	for k := r.Index - 1; k >= 0 && s.level(s.rounds[k], sign*s.rounds[k].Score) > flat; k-- {
		r = s.rounds[k]
	}
	return r
}

// assumed says what the verdict rests on: the proportions of the stitch that
// most of the distance from the centre is made of.
func assumed(p *Pass, s *shape, upTo size.Round) string {
	kinds := p.Graph.Kinds()
	grown := map[string]float64{} // by stitch
	for _, r := range s.rounds {
		if r.Index > upTo.Index {
			break
		}
		c := p.Graph.Counts(r.Index)
		for _, k := range kinds {
			if n := c.Stitches[k.Name]; n > 0 {
				_, height := s.dimensions.Of(k)
				grown[k.Name] += height * float64(n) / float64(c.Total)
			}
		}
	}
	most := 0
	for k := range kinds {
		if grown[kinds[k].Name] > grown[kinds[most].Name] {
			most = k
		}
	}
	w, h := s.dimensions.Of(kinds[most])
	text := fmt.Sprintf("taking %s as %.2f times as tall as wide", p.Draft.Terms.Name(kinds[most].Name), h/w)
	if s.gauge.Dimensions.Measured {
		return text + ", within the gauge given"
	}
	return text + "; a gauge that counts rounds makes this surer"
}

// A flare is a rim that grows faster than that of a flat piece, from one of the
// rounds to another, by a share of what a flat one grows by.
type flare struct {
	found    bool
	from, to int
	faster   float64
}

// flare finds the first flare of a piece that cups: its rounds are too short for
// their distance from the centre all along, and still it ruffles at the rim.
func (s *shape) flare() flare {
	if s.lies(-1).level < likely {
		return flare{}
	}
	const (
		faster = 0.20
		window = 4.0 // w
	)
	// The last rounds that together grow by so much, from round j on.
	j, grown := 0, 0.0
	for i := 1; i < len(s.rounds); i++ {
		grown += math.Max(s.rounds[i].Growth, 0)
		for j+1 < i && grown-math.Max(s.rounds[j+1].Growth, 0) >= window {
			j++
			grown -= math.Max(s.rounds[j].Growth, 0)
		}
		if grown < window || s.rounds[j].Shoulder < 3 {
			continue
		}
		need := s.rounds[i].NeedMost - s.rounds[j].NeedMost
		made := s.rounds[i].MadeLeast - s.rounds[j].MadeMost // the chains below may hang slack
		if need > 0 && made/need-1 >= faster {
			return flare{true, j, i, made/need - 1}
		}
	}
	return flare{}
}
