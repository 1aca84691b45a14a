package check

import "example.com/roundel/notation"

// startingChains is how many chains stand for a stitch at the beginning of a
// round. Source for sc to tr: Crochet Guild of America, lessons, 1997; the
// rest go on by one chain a loop, extended stitches between their neighbours
// (common practice, no source). A chain less is often made, so that no hole
// shows; one more for tr in old books: Th. de Dillmont, Encyclopedia of
// Needlework, 1886, fig. 471, joined to the fifth chain, and fig. 485.
var startingChains = map[string]int{
	"sc": 1, "esc": 2, "hdc": 2, "ehdc": 3, "dc": 3, "edc": 4, "tr": 4, "etr": 5, "dtr": 5, "trtr": 6,
}

// startingChain reports chains that count as a stitch and stand late in a
// round, or are not as long as the stitch is tall.
func startingChain(p *Pass) {
	for r := range p.Draft.Rounds() {
		if !r.Broken {
			s := &starting{p: p}
			s.steps(r.Steps, 0)
		}
	}
	for def := range p.Draft.StitchDefs() {
		if def.Group != nil {
			s := &starting{p: p}
			s.steps(def.Group.Members, 0)
		}
	}
}

// A starting goes along the steps of a round.
type starting struct {
	p     *Pass
	begun bool // something is made, and the yarn was not changed since
	again bool // the steps are those of a repeat, for the second time
}

func (s *starting) steps(list []notation.Step, depth int) {
	if depth > notation.DefaultDepth { // a tree made by hand may be of any depth
		return
	}
	for _, step := range list {
		switch step := step.(type) {
		case *notation.Chain:
			if step.As != nil {
				s.chain(step)
			}
			s.begun = true
		case *notation.Work:
			// Slip stitches lead to where the round begins.
			s.begun = s.begun || step.Stitch.US != "sl st"
		case *notation.Picot:
			s.begun = true
		case *notation.ChangeYarn:
			s.begun = false
		case *notation.Group:
			s.steps(step.Members, depth+1)
		case *notation.Repeat:
			s.steps(step.Steps, depth+1)
			if !s.again && (step.Around || step.Times > 1) {
				// What begins the repeat is not the beginning any more.
				s.again = true
				s.steps(step.Steps, depth+1)
				s.again = false
			}
		}
	}
}

func (s *starting) late(c *notation.Chain) {
	s.p.Reportf(c.Span, "ch %d as %s stands late in the round; a starting chain is made once, where the round begins or with a new yarn; work %s here",
		c.Count, c.As.Text, c.As.Text)
}

func (s *starting) chain(c *notation.Chain) {
	if s.begun {
		s.late(c)
		return
	}
	want, known := startingChains[c.As.US]
	most, name := want, c.As.Text
	if c.As.US == "tr" {
		most++
	}
	switch {
	case !known || c.As.Unknown || c.As.Foreign:
	case c.Count > most:
		s.p.Reportf(c.Span, "a starting chain that counts as %s is ch %d, and this one is %d longer; where the rest is a chain space, write ch %d as %s, ch %d",
			name, want, c.Count-want, want, name, c.Count-want)
	case c.Count < want-1:
		s.p.Reportf(c.Span, "a starting chain that counts as %s is ch %d; ch %d is too short and pulls the round in; write ch %d as %s",
			name, want, c.Count, want, name)
	}
}
