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
	gauge  size.Gauge
	rounds []size.Round // up to the first round that does not work out
	bands  size.Bands
}

// mostShaped bounds the pieces whose shape is worked out: a blanket has some
// hundred thousand stitches, and what is larger is a slip or an attack.
const mostShaped = 2_000_000

// shapeOf works out the shape of a piece, or as much of it as comes out before
// ctx ends.
func shapeOf(ctx context.Context, d *notation.Draft, g *model.Graph) *shape {
	if g.Len() > mostShaped {
		return &shape{}
	}
	s := &shape{gauge: size.GaugeOf(g, d.Gauge())}
	s.bands = size.BandsOf(s.gauge.Dimensions)
	shaper := size.NewShaper(g, s.gauge.Dimensions)
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
		if found.level == flat && !p.faulty() {
			notAsMeant(p, s, as)
		}
		return
	case meant != notation.Flat:
		return // a hat may be full at the crown, a ruffle scant at the start
	case found.level > flat:
		p.Add(growthFinding(p, s, found, sign))
		return
	}
	if sign > 0 {
		flares(p, s)
	}
}

// notAsMeant reports a piece that lies flat and should not.
func notAsMeant(p *Pass, s *shape, as notation.Lie) {
	last := s.rounds[len(s.rounds)-1]
	r := p.Graph.Round(last.Index)
	length, cure := "short", "fewer increases"
	if as == notation.Ruffled {
		length, cure = "long", "more increases"
	}
	out := comesOut(s)
	other := "leave the lies line out"
	if out != notation.Flat {
		other = "write lies " + string(out)
	}
	p.Reportf(r.Statement.Head, "the draft says it lies %s, but no round up to round %d is too %s for lying flat, so it comes out %s; work %s, or %s",
		as, r.Number, length, out, cure, other)
}

func comesOut(s *shape) notation.Lie {
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
	if sign*r.Mismatch > 0 {
		stitches = stitchesOff(p, s, r, more)
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
	f.Message += fmt.Sprintf(" (%s)", assumed(p, s, r))
	if found.level > tolerable {
		f.Message += fmt.Sprintf("; work %s increases, or write lies %s in the header if it is meant", cure, as)
	}
	return f
}

// stitchesOff says in stitches how far a round is off and what would do; it is
// empty where the round has a number that would do.
func stitchesOff(p *Pass, s *shape, r size.Round, more string) string {
	counts := p.Graph.Counts(r.Index)
	n := float64(counts.Total)
	name := "st"
	if len(counts.Stitches) == 1 {
		for us := range counts.Stitches {
			name = p.Draft.Terms.Name(us)
		}
	}
	least := n * r.NeedLeast / r.MadeMost
	most := n * r.NeedMost / r.MadeLeast
	off := n - most
	if more == "few" {
		off = least - n
	}
	least, most = math.Ceil(least*(1-s.bands.Tolerance)), math.Floor(most*(1+s.bands.Tolerance))
	if n >= least && n <= most {
		return ""
	}
	return fmt.Sprintf("it has about %.0f %s too %s: %.0f to %.0f would lie flat", math.Max(1, math.Round(off)), name, more, least, math.Max(least, most))
}

// assumed says what the verdict rests on: the proportions of the stitch that
// most of the distance from the centre is made of.
func assumed(p *Pass, s *shape, upTo size.Round) string {
	if s.gauge.Dimensions.Measured {
		return "at the gauge given"
	}
	kinds := p.Graph.Kinds()
	grown := map[string]float64{} // by stitch
	for _, r := range s.rounds {
		if r.Index > upTo.Index {
			break
		}
		c := p.Graph.Counts(r.Index)
		for _, k := range kinds {
			if n := c.Stitches[k.Name]; n > 0 {
				_, height := s.gauge.Dimensions.Of(k)
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
	w, h := s.gauge.Dimensions.Of(kinds[most])
	return fmt.Sprintf("taking %s as %.2f times as tall as wide; a gauge that counts rounds makes this surer", p.Draft.Terms.Name(kinds[most].Name), h/w)
}

// flares reports a piece that cups first and whose rim then grows faster than
// a flat one would: its rounds are too short for their distance from the
// centre all along, and still it ruffles at the rim.
func flares(p *Pass, s *shape) {
	if s.lies(-1).level < likely {
		return
	}
	const (
		faster = 0.20 // of what a flat rim grows by
		window = 4.0  // w
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
		if need <= 0 || made/need-1 < faster {
			continue
		}
		r := p.Graph.Round(s.rounds[i].Index)
		p.Add(Finding{Span: r.Statement.Head, Round: r.Number, Message: fmt.Sprintf(
			"from round %d to round %d the rim grows %.0f %% faster than that of a flat piece: after the cup it flares and ruffles; spread the increases evenly over all rounds",
			p.Graph.Round(s.rounds[j].Index).Number, r.Number, 100*(made/need-1))})
		return
	}
}
