package check

import (
	"fmt"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// spiralJoin reports rounds of a spiral that are joined, or are turned without
// being joined. Some joins a spiral has: at its end, and before a round that
// begins with another yarn or with a start of its own. Where every round has
// one there is no spiral.
func spiralJoin(p *Pass) {
	if p.Draft.Succession() != notation.Spiral {
		return
	}
	var found []Finding
	yarn := ""
	for y := range p.Draft.Yarns() {
		yarn = y.Name.Text
		break
	}
	numbers := numbersOf(p.Graph)
	for _, section := range p.Draft.Sections() {
		var edge notation.EdgeName
		if e, ok := section.Foundation.(*notation.Edge); ok {
			edge = e.Of
		}
		every, joined := true, 0
		var first *notation.Round
		for i, r := range section.Rounds {
			end := endOf(r, yarn)
			yarn = end.yarn
			var next *notation.Round
			switch {
			case r.To > r.From || r.Until != nil:
				next = r // the same steps once more
			case i+1 < len(section.Rounds):
				next = section.Rounds[i+1]
			}
			if next == nil || r.Broken || r.As > 0 || next.Broken {
				continue
			}
			if end.joined {
				joined++
			} else {
				every = false
			}
			what := ""
			switch {
			case end.turned && !end.joined:
				what = fmt.Sprintf("round %d is turned, and the next one would go back over stitches that are not joined; leave turn out, or write worked turned", numbers[r])
			case end.joined && !end.cut && !startsAnew(next, yarn):
				what = fmt.Sprintf("round %d is joined, and the next one goes on from there in the same yarn; leave join out, or write worked joined", numbers[r])
			case end.joined && first == nil:
				first = r
			}
			if what != "" {
				found = append(found, Finding{Span: r.Head, Round: numbers[r], Edge: edge, Message: "the draft is worked spiral, without joins, but " + what})
			}
		}
		if every && joined > 1 && first != nil {
			found = append(found, Finding{Span: first.Head, Round: numbers[first], Edge: edge,
				Message: "the draft is worked spiral, without joins, but every round is joined; write worked joined"})
		}
	}
	if len(found) == 0 {
		return
	}
	f := found[0] // the others have the same cause
	for _, s := range p.Draft.Statements {
		if w, ok := s.(*notation.Working); ok {
			f.Related = []notation.Related{{Message: "the draft says so here", Span: w.Span}}
			break
		}
	}
	p.Add(f)
}

// numbersOf returns the numbers that the first rounds of statements have: those
// of rnd next are not in the text.
func numbersOf(g *model.Graph) map[*notation.Round]int {
	numbers := map[*notation.Round]int{}
	for _, piece := range g.Pieces() {
		for _, r := range piece.Rounds() {
			if _, known := numbers[r.Statement]; !known {
				numbers[r.Statement] = r.Number
			}
		}
	}
	return numbers
}

// An end is how a round ends.
type end struct {
	joined, turned, cut bool
	yarn                string // as written
}

// endOf looks at the steps of a round that begins in a yarn.
func endOf(r *notation.Round, yarn string) end {
	e := end{yarn: yarn}
	if r.Yarn != nil {
		e.yarn = r.Yarn.Text
	}
	for _, s := range r.Steps {
		switch s := s.(type) {
		case *notation.Join:
			e.joined = true
		case *notation.Turn:
			e.turned = true
		case *notation.FastenOff:
			e.cut = true
		case *notation.ChangeYarn:
			e.yarn = s.Yarn.Text
		}
	}
	return e
}

// startsAnew reports whether a round takes another yarn, says how it starts, or
// begins with chains.
func startsAnew(r *notation.Round, yarn string) bool {
	if r.Start != notation.StartUnsaid || r.Yarn != nil && !strings.EqualFold(r.Yarn.Text, yarn) {
		return true
	}
	for steps := r.Steps; len(steps) > 0; {
		switch s := steps[0].(type) {
		case *notation.Chain:
			return true
		case *notation.Repeat:
			steps = s.Steps
		case *notation.Group:
			steps = s.Members
		default:
			return false
		}
	}
	return false
}
