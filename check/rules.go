package check

import (
	"slices"
	"strings"

	"example.com/roundel/notation"
)

// A Rule is one thing that is checked in a draft.
type Rule struct {
	ID       string // stable: drafts name it in allow lines
	Summary  string // one line
	Doc      Doc
	Severity notation.Severity
	// Run puts the rule to a draft. It is nil for the rules about allow lines,
	// which are put when all others are done.
	Run func(*Pass)
}

// A Doc explains a rule.
type Doc struct {
	Text    string // a paragraph or two for designers
	Failing string // a draft that breaks the rule, and no other
	Passing string // the same draft, mended
}

// Rules returns the rules of this package, in the order in which they are
// explained.
func Rules() []Rule { return slices.Clone(rules) }

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

// unusedNames reports yarns and groups that are declared and never used. A
// draft with statements that could not be read is left alone: the names may be
// used there.
func unusedNames(p *Pass) {
	yarns, groups := map[string]bool{}, map[*notation.StitchDef]bool{}
	rounds := 0
	for _, s := range p.Draft.Statements {
		switch s := s.(type) {
		case *notation.Bad:
			return
		case *notation.Round:
			if s.Broken {
				return
			}
			if s.Yarn != nil {
				yarns[strings.ToLower(s.Yarn.Text)] = true
			} else if rounds == 0 {
				// The first round takes the first yarn when it names none.
				for y := range p.Draft.Yarns() {
					yarns[strings.ToLower(y.Name.Text)] = true
					break
				}
			}
			rounds++
		}
	}
	notation.Walk(p.Draft, func(n notation.Node) bool {
		switch n := n.(type) {
		case *notation.ChangeYarn:
			yarns[strings.ToLower(n.Yarn.Text)] = true
		case *notation.Work:
			groups[n.Stitch.Group] = true
		case *notation.ClaimItem:
			groups[n.Stitch.Group] = true
		}
		return true
	})
	for y := range p.Draft.Yarns() {
		if !yarns[strings.ToLower(y.Name.Text)] {
			p.Reportf(y.Name.Span, "the yarn %s is declared, but no round is worked with it; work with it (rnd 2 with %s: ...) or leave the line out", y.Name.Text, y.Name.Text)
		}
	}
	for d := range p.Draft.StitchDefs() {
		if !groups[d] {
			p.Reportf(d.Name.Span, "the group %s is named, but never used; use it or leave the line out", d.Name.Text)
		}
	}
}

func checkReason(p *Pass, a *notation.Allow) {
	if strings.TrimSpace(a.Reason) == "" {
		p.Reportf(a.Span, "an exception needs its reason: allow %s \"why this is meant\"", a.Rule)
	}
}

func checkUsed(p *Pass, a *notation.Allow, used bool, ids []string) {
	switch {
	case used:
	case alwaysReported(a.Rule):
		p.Reportf(a.RuleSpan, "%s cannot be allowed: such a draft cannot be read or worked; leave this line out", a.Rule)
	case !slices.Contains(ids, a.Rule):
		if near := notation.Closest(a.Rule, ids); near != "" {
			p.Reportf(a.RuleSpan, "no rule is called %s; did you mean %s?", a.Rule, near)
			return
		}
		p.Reportf(a.RuleSpan, "no rule is called %s", a.Rule)
	default:
		p.Reportf(a.Span, "nothing here needs this exception from %s; leave the line out", a.Rule)
	}
}
