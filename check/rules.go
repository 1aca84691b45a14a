package check

import (
	"cmp"
	"slices"
	"strings"

	"example.com/roundel/notation"
)

// A Rule is one thing that is checked in a draft.
type Rule struct {
	// ID is stable: drafts name it in allow lines. It is one word in lower
	// case, with hyphens.
	ID      string
	Summary string // one line
	Doc     Doc
	// Severity is the highest that a finding of the rule can have; 0 stands for
	// notation.Warning.
	Severity notation.Severity
	// Run puts the rule to a draft. It is nil for the rules about allow lines,
	// which are put when all others are done.
	Run func(*Pass)
}

// severity is the Severity, with its default.
func (r *Rule) severity() notation.Severity { return cmp.Or(r.Severity, notation.Warning) }

// A Doc explains a rule.
type Doc struct {
	Text    string // a paragraph or two for designers
	Failing string // a draft that breaks the rule, and no other
	Passing string // the same draft, mended
	// Fix says what Fix mends by itself, "" for a rule without certain fixes.
	Fix string
}

// Rules returns the rules of this package, in the order in which they are
// explained.
func Rules() []Rule { return slices.Concat(rules, shapeRules) }

// FindRule returns the rule with an id.
func FindRule(list []Rule, id string) (Rule, bool) {
	i := slices.IndexFunc(list, func(r Rule) bool { return r.ID == id })
	if i < 0 {
		return Rule{}, false
	}
	return list[i], true
}

// staged passes on what was found while the draft was read and worked.
func staged(p *Pass) {
	for _, f := range p.Stages() {
		p.Add(f)
	}
}

// pastEnd reports a gauge or a weight that is about rounds past the last one. Where
// a line could not be read, or rounds are worked up to a size, there is no
// telling which that is.
func pastEnd(p *Pass) {
	last, open := 0, false
	for _, s := range p.Draft.Statements {
		switch s := s.(type) {
		case *notation.Bad:
			open = true
		case *notation.Round:
			open = open || s.Broken || s.Until != nil
		}
	}
	for _, r := range p.Graph.Rounds() {
		last = max(last, r.Number)
	}
	if open || last == 0 {
		return
	}
	if g := p.Draft.Gauge(); g != nil && g.To > last {
		p.Reportf(g.Span, "the gauge is measured across round %d, and the draft ends with round %d; measure across a round that is there", g.To, last)
	}
	if w := p.Draft.Weighed(); w != nil && w.To > last {
		p.Reportf(w.Span, "rounds up to round %d were weighed, and the draft ends with round %d; weigh rounds that are there", w.To, last)
	}
}

// unusedNames reports yarns and groups that are declared and never used. Where
// a statement could not be read, or a name in a round is not near any that is
// known, the name that seems unused may be the one that was meant, and nothing
// is said.
func unusedNames(p *Pass) {
	var yarnNames []string
	for y := range p.Draft.Yarns() {
		yarnNames = append(yarnNames, y.Name.Text)
	}
	yarns, groups := map[string]bool{}, map[*notation.StitchDef]bool{}
	unsureYarns, unsureGroups := false, false
	useYarn := func(n notation.Name) {
		name := n.Text
		if n.Unknown {
			name = notation.Closest(name, yarnNames)
			unsureYarns = unsureYarns || name == ""
		}
		yarns[strings.ToLower(name)] = true
	}
	useStitch := func(n notation.Name) {
		groups[n.Group] = true
		unsureGroups = unsureGroups || n.Unknown && n.Group == nil && n.US == ""
	}
	begun := false
	notation.Walk(p.Draft, func(n notation.Node) bool {
		switch n := n.(type) {
		case *notation.Bad:
			unsureYarns, unsureGroups = true, true
		case *notation.Round:
			if n.Broken {
				unsureYarns, unsureGroups = true, true
			}
			if n.Yarn != nil {
				useYarn(*n.Yarn)
			} else if !begun && len(yarnNames) > 0 {
				// The first round takes the first yarn when it names none.
				yarns[strings.ToLower(yarnNames[0])] = true
			}
			begun = true
		case *notation.ChangeYarn:
			useYarn(n.Yarn)
		case *notation.Work:
			useStitch(n.Stitch)
		case *notation.ClaimItem:
			groups[n.Stitch.Group] = true
		}
		return true
	})
	if !begun {
		return // noRounds says so
	}
	for y := range p.Draft.Yarns() {
		if !unsureYarns && !yarns[strings.ToLower(y.Name.Text)] {
			p.Reportf(y.Name.Span, "the yarn %s is declared, but no round is worked with it; work with it (rnd 2 with %s: ...) or leave the line out", y.Name.Text, y.Name.Text)
		}
	}
	for d := range p.Draft.StitchDefs() {
		if !unsureGroups && !groups[d] {
			p.Reportf(d.Name.Span, "the group %s is named, but never used; use it or leave the line out", d.Name.Text)
		}
	}
}

// noRounds reports a draft in which there is nothing to work.
func noRounds(p *Pass) {
	for range p.Draft.Rounds() {
		return
	}
	for _, f := range p.stages {
		if f.Rule == "syntax" || f.Rule == "limit" {
			return // the rounds may be what could not be read
		}
	}
	end := p.Draft.Range().End
	if !end.IsValid() {
		end = notation.Pos{Line: 1, Column: 1}
	}
	p.Reportf(notation.Span{Start: end, End: end}, "the draft has no rounds; a round reads: rnd 1: 12 dc in ring")
}
