package pattern

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/roundel/notation"
)

// fewestInSeries and mostInSeries bound the rounds that are written as one where
// they differ in their figures: fewer are read more easily one by one, and in
// longer rows of figures nobody keeps their place. Common practice, no source.
const (
	fewestInSeries = 5
	mostInSeries   = 12
)

// numeral is a number that stands by itself, as the 3 of "next 3 sts" does and
// that of "ch-3 sp" does not.
var numeral = regexp.MustCompile(`(^|[\n (\[{])(\d+)\b([ ,;.)\]}]|$)`)

// numerals are the numbers of a text, and what stands around them.
func numerals(text string) (figures []int, around []string) {
	at := 0
	for _, m := range numeral.FindAllStringSubmatchIndex(text, -1) {
		n, err := strconv.Atoi(text[m[4]:m[5]])
		if err != nil {
			continue
		}
		figures, around = append(figures, n), append(around, text[at:m[4]])
		at = m[5]
	}
	return figures, append(around, text[at:])
}

// A series is rounds of the same words, whose figures grow or shrink by the same
// from each to the next.
type series struct {
	rounds  []Round
	around  []string
	figures [][]int // by round
}

// add takes the next round in; false when it does not belong.
func (s *series) add(r Round) bool {
	// Text and count are read as one; no text has a line break in it.
	figures, around := numerals(r.Text + "\n" + r.Count)
	k := len(s.rounds)
	if k > 0 {
		last := s.rounds[k-1]
		if r.From != r.To || last.From != last.To || r.From != last.To+1 || r.Side != last.Side || !slices.Equal(around, s.around) {
			return false
		}
	}
	for i, n := range figures {
		if k > 1 && n-s.figures[k-1][i] != s.figures[1][i]-s.figures[0][i] {
			return false
		}
	}
	s.rounds, s.around, s.figures = append(s.rounds, r), around, append(s.figures, figures)
	return true
}

// round writes a series as one: "dc in next 7/11/15/19/23 sts".
func (s *series) round() Round {
	var b strings.Builder
	for i, text := range s.around {
		b.WriteString(text)
		if i == len(s.around)-1 {
			break
		}
		b.WriteString(strconv.Itoa(s.figures[0][i]))
		for _, figures := range s.figures[1:] {
			if figures[i] == s.figures[0][i] {
				break // it is the same in all
			}
			b.WriteString("/" + strconv.Itoa(figures[i]))
		}
	}
	out := s.rounds[0]
	out.To = s.rounds[len(s.rounds)-1].To
	out.Text, out.Count, _ = strings.Cut(b.String(), "\n")
	return out
}

// growing reports whether a round is one of many of the same steps, or of those
// that go on up to a size, and its steps go into each stitch there is. A maker
// whose stitches are of another size makes more of them or fewer, and reads "dc in
// each st to next corner" where figures would be those of one size.
func (p *piece) growing(round int) bool {
	own := p.g.Steps(round)
	if !takesEach(own) {
		return false
	}
	said := p.g.Round(round).Statement
	if said.Until != nil {
		return true
	}
	many := 1
	for _, by := range []int{-1, 1} {
		for i := round + by; i >= 0 && i < p.g.NumRounds() && many < fewestInSeries; i += by {
			if p.g.Round(i).Statement != said {
				if steps := p.g.Steps(i); len(steps) == 0 || &steps[0] != &own[0] {
					break
				}
			}
			many++
		}
	}
	return many >= fewestInSeries
}

// takesEach reports whether steps go into each stitch of a stretch, and into none
// by their number.
func takesEach(steps []notation.Step) bool {
	each := false
	var counted func(steps []notation.Step) bool
	counted = func(steps []notation.Step) bool {
		for _, s := range steps {
			var at *notation.Place
			switch s := s.(type) {
			case *notation.Skip:
				return true
			case *notation.Repeat:
				if counted(s.Steps) {
					return true
				}
			case *notation.Work:
				if at = s.Place; at == nil {
					return true // in the next stitch
				}
			case *notation.Group:
				at = s.Place
			}
			if at == nil || at.Kind != notation.St && at.Kind != notation.OfStitch {
				continue
			}
			each = each || at.Count == 0
			if at.Count > 0 && at.How != notation.InSame {
				return true
			}
		}
		return false
	}
	return !counted(steps) && each
}

// inSeries puts rounds together that differ in nothing but how far their
// figures have come.
func (p *piece) inSeries(list []Round) []Round {
	var out []Round
	for len(list) > 0 {
		var s series
		for len(s.rounds) < min(len(list), mostInSeries) && s.add(list[len(s.rounds)]) {
		}
		if len(s.rounds) < fewestInSeries {
			out, list = append(out, list[0]), list[1:]
			continue
		}
		p.notes.series = true
		out, list = append(out, s.round()), list[len(s.rounds):]
	}
	return out
}
