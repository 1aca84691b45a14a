package check

import (
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// stems are the stitches that are as tall as they are and nothing more, so that a
// chain can be held against them. A chain less than size.StartingChains is often
// made, so that no hole shows; one more for tr in old books: Th. de Dillmont,
// Encyclopedia of Needlework, 1886, fig. 471, joined to the fifth chain, and fig.
// 485.
var stems = []string{"sc", "esc", "hdc", "ehdc", "dc", "edc", "tr", "etr", "dtr", "trtr"}

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
	kind, known := model.Lookup(c.As.US)
	want := size.StartingChains(kind)
	most, name := want, c.As.Text
	if c.As.US == "tr" {
		most++
	}
	switch {
	case !known || !slices.Contains(stems, c.As.US) || c.As.Unknown || c.As.Foreign:
	case c.Count > most:
		s.p.Reportf(c.Span, "a starting chain that counts as %s is ch %d, and this one is %d longer; where the rest is a chain space, write ch %d as %s, ch %d",
			name, want, c.Count-want, want, name, c.Count-want)
	case c.Count < want-1:
		s.p.Reportf(c.Span, "a starting chain that counts as %s is ch %d; ch %d is too short and pulls the round in; write ch %d as %s",
			name, want, c.Count, want, name)
	}
}
