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

type level uint8

const (
	flat level = iota
	tolerable
	likely
	certain
)

// level tells which band a score of a round reaches.
func (s *shape) level(r size.Round, score float64) level {
	switch bands := s.bands.Widened(r.Doubt); {
	case score >= bands.Certain:
		return certain
	case score >= bands.Likely:
		return likely
	case score >= bands.Tolerance:
		return tolerable
	}
	return flat
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

// words says how the piece lies up to a round.
func (s *shape) words(r size.Round) string {
	verb := "ruffle"
	if r.Score < 0 {
		verb = "cup"
	}
	switch s.level(r, math.Abs(r.Score)) {
	case certain:
		return verb + "s"
	case likely:
		return "likely to " + verb
	case tolerable:
		return "about flat"
	}
	return "flat"
}

func growthRuffle(p *Pass) { growth(p, 1, notation.Ruffled) }
func growthCup(p *Pass)    { growth(p, -1, notation.Cupped) }

// growth reports a piece that is too full (sign 1) or too scant (sign -1) to
// lie as it is meant to.
func growth(p *Pass, sign float64, as notation.Lie) {
	if p.Draft.Outline() == notation.Free {
		// What a round needs follows from its distance from the centre; round
		// a star or a leaf that is not the same all the way.
		return
	}
	s := p.shape()
	if len(s.rounds) == 0 {
		return
	}
	found := s.lies(sign)
	switch meant := p.Draft.Lies(); {
	case meant == as:
		flared := sign > 0 && s.flare().found
		if out := s.comesOut(); found.level < likely && !flared && !p.faulty() && (found.level == flat || out != notation.Flat) {
			notAsMeant(p, s, as, out)
		}
		return
	case meant != notation.Flat:
		return // a hat may be full at the crown, a ruffle scant at the start
	case found.level >= likely || found.level == tolerable && s.lies(-sign).level < likely:
		// Of a piece that ruffles nobody wants to know that it might have cupped
		// a little.
		n := p.Draft.Outline().Corners()
		if sign > 0 && n > 0 && s.flatWith(n) {
			return // corner-count asks for the corners to be marked
		}
		p.Add(growthFinding(p, s, found, sign))
		return
	}
	if f := s.flare(); sign > 0 && f.found {
		r := p.Graph.Round(s.rounds[f.to].Index)
		p.Add(Finding{Span: r.Statement.Head, Round: r.Number, Message: fmt.Sprintf(
			"from round %d to round %d the rim grows %.0f %% faster than that of a flat piece: after the cup it flares and ruffles; spread the increases evenly over all rounds",
			p.Graph.Round(s.rounds[f.from].Index).Number, r.Number, 100*f.faster)})
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

// notAsMeant reports a piece that lies flat and should not.
func notAsMeant(p *Pass, s *shape, as, out notation.Lie) {
	last := s.rounds[len(s.rounds)-1]
	r := p.Graph.Round(last.Index)
	length, cure, much := "short", "fewer increases", ""
	if s.lies(1).level == tolerable && as == notation.Ruffled || s.lies(-1).level == tolerable && as == notation.Cupped {
		much = "much "
	}
	if as == notation.Ruffled {
		length, cure = "long", "more increases"
	}
	other := "leave the lies line out"
	if out != notation.Flat {
		other = "write lies " + string(out)
	}
	p.ReportRoundf(r, "the draft says it lies %s, but no round up to round %d is %stoo %s for lying flat, so it comes out %s; work %s, or %s",
		as, r.Number, much, length, out, cure, other)
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

func growthFinding(p *Pass, s *shape, found lie, sign float64) Finding {
	r := found.first
	round := p.Graph.Round(r.Index)
	f := Finding{Severity: notation.Warning, Span: round.Statement.Head, Round: round.Number}
	long, verb, more, cure, as := "long", "ruffle", "many", "fewer", notation.Ruffled
	if sign < 0 {
		long, verb, more, cure, as = "short", "cup", "few", "more", notation.Cupped
	}
	// A round may carry no more than its share of what the rounds up to it lack,
	// and have as many stitches as would lie flat: then it is not at fault alone.
	off, stitches := "", ""
	b := s.begins(r, sign)
	if sign*r.Mismatch > 0 {
		stitches = stitchesOff(p, s, r, b, more)
	}
	if stitches != "" {
		off = fmt.Sprintf("round %d is about %.0f %% too %s for its distance from the centre", round.Number, 100*math.Abs(r.Mismatch), long)
	} else {
		off = fmt.Sprintf("the rounds up to round %d are about %.0f %% too %s for their distance from the centre", round.Number, 100*math.Abs(r.Score), long)
	}
	will := "is likely to " + verb
	switch found.level {
	case tolerable:
		f.Severity = notation.Info
		will = "may " + verb + " a little until it is blocked"
	case certain:
		will = "will " + verb
	}
	f.Message = fmt.Sprintf("%s, so the piece %s", off, will)
	if stitches != "" {
		f.Message += "; " + stitches
	}
	if b.Index < r.Index {
		f.Message += fmt.Sprintf("; it begins in round %d", p.Graph.Round(b.Index).Number)
		if least, most := s.wouldDo(p, b, b); sign*b.Mismatch > 0 {
			f.Message += fmt.Sprintf(", where %.0f to %.0f would", least, most)
			if stitches == "" {
				f.Message += " lie flat"
			}
		}
	}
	f.Message += fmt.Sprintf(" (%s)", assumed(p, s, r))
	if n := round.Rotation(); sign > 0 && p.Draft.Outline() == notation.OutlineUnsaid && n >= 3 && n <= 8 && s.flatWith(n) {
		f.Severity = notation.Info
		f.Message += fmt.Sprintf("; the round looks the same %d times round: if that is a corner each time, mark it, as in corner %s, for with sharp corners it may lie flat", n, p.Draft.Terms.Name("dc"))
		return f
	}
	if found.level > tolerable {
		f.Message += fmt.Sprintf("; work %s increases, or write lies %s in the header if it is meant", cure, as)
	}
	return f
}

// stitchesOff says in stitches how far a round is off and what would do, where
// the fault begins in a round; it is empty where the round has a number that
// would do.
func stitchesOff(p *Pass, s *shape, r, begins size.Round, more string) string {
	if math.Abs(r.Mismatch) <= s.bands.Tolerance {
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
	if more == "few" {
		off = n*r.NeedLeast/r.MadeMost - n
	}
	chains := ""
	if counts.Chains > 0 {
		chains = ", with chains in proportion"
	}
	least, most := s.wouldDo(p, r, begins)
	return fmt.Sprintf("it has about %.0f %s too %s: %.0f to %.0f would lie flat%s", math.Max(1, math.Round(off)), name, more, least, most, chains)
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
