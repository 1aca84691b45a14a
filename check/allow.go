package check

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// Exceptions are the allow lines of a draft, by what they cover: in the header
// the whole draft, elsewhere the next round or panel line. Of two lines that say
// the same the first counts.
type exceptions struct {
	draft map[string]*notation.Allow // by rule
	over  map[covered]*notation.Allow
	next  map[*notation.Allow]notation.Statement // of a line outside the header: what it covers
	// coverable are the rounds and the panel, in the order of the text.
	coverable []notation.Statement
}

type covered struct {
	over notation.Statement
	rule string
}

func exceptionsIn(d *notation.Draft) *exceptions {
	e := &exceptions{
		draft: map[string]*notation.Allow{},
		over:  map[covered]*notation.Allow{},
		next:  map[*notation.Allow]notation.Statement{},
	}
	for _, c := range d.Covers() {
		key := covered{c.Over, c.Allow.Rule}
		switch {
		case c.Whole:
			if e.draft[c.Allow.Rule] == nil {
				e.draft[c.Allow.Rule] = c.Allow
			}
			continue
		case c.Over != nil && e.over[key] == nil:
			e.over[key] = c.Allow
		}
		e.next[c.Allow] = c.Over
	}
	for _, s := range d.Statements {
		switch s.(type) {
		case *notation.Round, *notation.Panel:
			e.coverable = append(e.coverable, s)
		}
	}
	return e
}

// at returns the round or panel line that a place stands in, or nil.
func (e *exceptions) at(place notation.Span) notation.Statement {
	after := sort.Search(len(e.coverable), func(i int) bool { return e.coverable[i].Range().Start.Offset > place.Start.Offset })
	if after == 0 || !inside(place, e.coverable[after-1].Range()) {
		return nil
	}
	return e.coverable[after-1]
}

// inside reports whether a begins in b, or where b ends.
func inside(a, b notation.Span) bool {
	return a.Start.Offset >= b.Start.Offset && a.Start.Offset <= b.End.Offset
}

// covering returns the allow line that covers a finding, or nil.
func (e *exceptions) covering(f Finding) *notation.Allow {
	if whyNever(f.Rule) != "" {
		return nil
	}
	if a := e.over[covered{e.at(f.Span), f.Rule}]; a != nil {
		return a
	}
	return e.draft[f.Rule]
}

// whyNever says why no draft can except itself from a rule; "" for all others.
func whyNever(rule string) string {
	switch rule {
	case "syntax", "limit":
		return "what cannot be read or worked has to be mended"
	case "allow-reason", "allow-unused":
		return "every exception needs a reason and a use"
	}
	return ""
}

// except puts aside the findings that the draft allows, and then puts the
// rules about allow lines, which need to know what all the others found.
func (r *Report) except(all []Finding, e *exceptions, rules []Rule) {
	used := map[*notation.Allow]bool{}
	for _, f := range all {
		if a := e.covering(f); a != nil {
			used[a] = true
			r.Allowed = append(r.Allowed, f)
			continue
		}
		r.Findings = append(r.Findings, f)
	}
	checked := e.checked(r.Graph, all)
	unused, reason := r.passOn("allow-unused", rules), r.passOn("allow-reason", rules)
	for a := range r.Draft.Allows() {
		if !used[a] && unused != nil {
			if at, why := e.useless(a, checked, rules); why != "" {
				unused.Reportf(at, "%s", why)
				continue // a line that has to go needs no reason
			}
		}
		if reason != nil && strings.TrimSpace(a.Reason) == "" {
			reason.Reportf(a.Span, "an exception needs its reason: allow %s \"why this is meant\"", a.Rule)
		}
	}
	for _, p := range []*Pass{unused, reason} {
		if p != nil {
			r.Findings = append(r.Findings, p.findings...)
		}
	}
	r.Findings = notation.SortFindings(r.Findings)
}

// passOn returns a pass for one of the rules that have no Run, or nil when it
// is not among the rules.
func (r *Report) passOn(id string, rules []Rule) *Pass {
	i := slices.IndexFunc(rules, func(rule Rule) bool { return rule.ID == id && rule.Run == nil })
	if i < 0 {
		return nil
	}
	return &Pass{Draft: r.Draft, Graph: r.Graph, rule: &rules[i]}
}

// useless says why an allow line that excepted nothing has to go, and where
// that is to be reported. Where the draft could not be checked there is no
// telling, and why is "".
func (e *exceptions) useless(a *notation.Allow, checked map[notation.Statement]bool, rules []Rule) (at notation.Span, why string) {
	next, placed := e.next[a]
	never := whyNever(a.Rule)
	switch {
	case never != "":
		return a.RuleSpan, fmt.Sprintf("%s cannot be allowed: %s; leave this line out", a.Rule, never)
	case !known(rules, a.Rule) && (known(Rules(), a.Rule) || a.Rule == layoutID):
		return at, "" // the caller has left the rule out
	case !known(rules, a.Rule):
		if near := notation.Closest(a.Rule, ids(rules)); near != "" {
			return a.RuleSpan, fmt.Sprintf("no rule is called %s; did you mean %s?", a.Rule, near)
		}
		return a.RuleSpan, fmt.Sprintf("no rule is called %s; roundel explain lists the rules", a.Rule)
	case placed && next == nil:
		return a.Span, fmt.Sprintf("no round follows this exception from %s; write it above the round it is for, or in the header for the whole draft", a.Rule)
	case placed && e.over[covered{next, a.Rule}] != a, !placed && e.draft[a.Rule] != a:
		return a.Span, fmt.Sprintf("this exception from %s is given twice; leave one of the two out", a.Rule)
	case !checked[next]:
		return at, ""
	case placed:
		return a.Span, fmt.Sprintf("%s needs no exception from %s; leave the line out", nameOf(next), a.Rule)
	}
	return a.Span, fmt.Sprintf("nothing here needs this exception from %s; leave the line out", a.Rule)
}

// nameOf is what a message calls a round or the panel line.
func nameOf(s notation.Statement) string {
	switch s := s.(type) {
	case *notation.Panel:
		return "the panel"
	case *notation.Round:
		if !s.Next {
			return fmt.Sprintf("round %d", s.From)
		}
	}
	return "the next round"
}

// checked returns the rounds that could be read and worked as they are
// written, and the panel, so that all rules could be put to them; nil stands for
// the draft as a whole.
func (e *exceptions) checked(g *model.Graph, all []Finding) map[notation.Statement]bool {
	checked := map[notation.Statement]bool{nil: true}
	faulty := func(s notation.Statement) {
		delete(checked, s)
		delete(checked, nil)
	}
	pieces := g.Pieces()
	for _, s := range e.coverable {
		_, panel := s.(*notation.Panel)
		checked[s] = panel && g.Panel() != nil
	}
	for _, g := range pieces {
		for _, r := range g.Rounds() {
			checked[r.Statement] = true
		}
	}
	for _, g := range pieces {
		for _, r := range g.Rounds() {
			if r.Status != model.Worked {
				faulty(r.Statement)
			}
		}
	}
	for _, f := range all {
		switch f.Rule {
		case "syntax", "limit", "unknown-stitch", "unknown-yarn":
			faulty(e.at(f.Span))
		}
	}
	return checked
}

func known(rules []Rule, id string) bool {
	_, ok := FindRule(rules, id)
	return ok
}

func ids(rules []Rule) []string {
	list := make([]string, len(rules))
	for i, r := range rules {
		list[i] = r.ID
	}
	return list
}
