package check

import (
	"context"
	"fmt"
	"io/fs"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Finding is one thing to report; see notation.Finding.
type Finding = notation.Finding

// Options change how a draft is checked. The zero value is the default.
type Options struct {
	// Rules are the rules to put to the draft; nil stands for Rules(). To add
	// one: append(check.Rules(), mine).
	Rules []Rule
	// Text and Work bound the size of the draft and of the piece.
	Text notation.Limits
	Work model.Limits
}

func (o Options) rules() []Rule {
	if o.Rules == nil {
		return Rules()
	}
	return o.Rules
}

// A Report is what came of checking a draft.
type Report struct {
	File   string
	Source string // the text as it was given
	Draft  *notation.Draft
	Graph  *model.Graph
	// Findings are in the order of the text.
	Findings []Finding
	// Allowed are findings that an allow line of the draft excepts.
	Allowed []Finding
}

// Worst returns the highest severity among the findings, 0 for none.
func (r *Report) Worst() notation.Severity {
	worst := notation.Severity(0)
	for _, f := range r.Findings {
		worst = max(worst, f.Severity)
	}
	return worst
}

// Source checks the text of a draft. name is only used in messages. The report
// is complete whatever the text holds; the error is that of ctx, when it ends
// first, and the report then holds what was found so far.
func Source(ctx context.Context, name, text string, o Options) (*Report, error) {
	draft, found := notation.Parse(name, text, notation.WithLimits(o.Text))
	report := &Report{File: name, Source: text, Draft: draft}
	graph, more, err := model.Build(ctx, draft, model.WithLimits(o.Work))
	report.Graph = graph
	found = append(found, more...)
	explainUnworked(graph, found)

	rules := o.rules()
	var all []Finding
	for i := range rules {
		if rules[i].Run == nil {
			continue
		}
		p := &Pass{Draft: draft, Graph: graph, rule: &rules[i], stages: found}
		rules[i].Run(p)
		all = append(all, p.findings...)
	}
	report.except(all, rules)
	return report, err
}

// File checks the draft in a file of fsys. The error tells that the file could
// not be read, with a nil report, or is that of ctx, as for Source.
func File(ctx context.Context, fsys fs.FS, name string, o Options) (*Report, error) {
	text, err := notation.ReadFile(fsys, name, notation.WithLimits(o.Text))
	if err != nil {
		return nil, err
	}
	return Source(ctx, name, text, o)
}

// explainUnworked adds to the finding about a round that could not be read
// which rounds are not worked because of it.
func explainUnworked(g *model.Graph, found []Finding) {
	var cause *notation.Round
	first, last, firstSpan := 0, 0, notation.Span{}
	flush := func() {
		if cause == nil || last == 0 {
			return
		}
		for i := range found {
			f := &found[i]
			if f.Span.Start.Offset < cause.Span.Start.Offset || f.Span.Start.Offset > cause.Span.End.Offset {
				continue
			}
			text := fmt.Sprintf("round %d is not checked for this reason", first)
			if last > first {
				text = fmt.Sprintf("rounds %d to %d are not checked for this reason", first, last)
			}
			f.Related = append(f.Related, notation.Related{Message: text, Span: firstSpan})
			break
		}
		cause, last = nil, 0
	}
	for _, r := range g.Rounds() {
		switch {
		case r.Status != model.NotWorked:
			flush()
		case cause == nil:
			cause = r.Statement
		case r.Statement == cause:
		default:
			if last == 0 {
				first, firstSpan = r.Number, r.Statement.Head
			}
			last = r.Number
		}
	}
	flush()
}

// A Pass is one rule put to one draft.
type Pass struct {
	Draft *notation.Draft
	// Graph is the worked draft. Rounds whose status is not model.Worked are
	// not what the designer means; most rules leave them alone.
	Graph *model.Graph

	rule     *Rule
	stages   []Finding
	findings []Finding
}

// Stages returns the findings with the rule's id that were made while the
// draft was read and worked.
func (p *Pass) Stages() []Finding {
	var own []Finding
	for _, f := range p.stages {
		if f.Rule == p.rule.ID {
			own = append(own, f)
		}
	}
	return own
}

// Add reports a finding. An empty rule id or severity is that of the rule.
func (p *Pass) Add(f Finding) {
	if f.Rule == "" {
		f.Rule = p.rule.ID
	}
	if f.Severity == 0 || f.Rule == p.rule.ID {
		f.Severity = p.rule.Severity
	}
	p.findings = append(p.findings, f)
}

// Reportf reports a finding at a place of the draft.
func (p *Pass) Reportf(at notation.Span, format string, args ...any) {
	p.Add(Finding{Span: at, Message: fmt.Sprintf(format, args...)})
}

// except sorts the findings and puts aside those that the draft allows.
func (r *Report) except(all []Finding, rules []Rule) {
	used := map[*notation.Allow]bool{}
	for _, f := range notation.SortFindings(all) {
		if a := r.allowed(f); a != nil {
			used[a] = true
			r.Allowed = append(r.Allowed, f)
			continue
		}
		r.Findings = append(r.Findings, f)
	}
	r.checkAllows(used, rules)
	r.Findings = notation.SortFindings(r.Findings)
}

// allowed returns the allow line that covers a finding, or nil.
func (r *Report) allowed(f Finding) *notation.Allow {
	if alwaysReported(f.Rule) {
		return nil
	}
	header := true
	var waiting []*notation.Allow
	var whole []*notation.Allow
	for _, s := range r.Draft.Statements {
		switch s := s.(type) {
		case *notation.Allow:
			if s.Rule != f.Rule {
				continue
			}
			if header {
				whole = append(whole, s)
			} else {
				waiting = append(waiting, s)
			}
		case *notation.Round:
			header = false
			if len(waiting) > 0 && inside(f.Span, s.Span) {
				return waiting[0]
			}
			waiting = waiting[:0]
		}
	}
	if len(whole) > 0 {
		return whole[0]
	}
	return nil
}

func inside(a, b notation.Span) bool {
	return a.Start.Offset >= b.Start.Offset && a.Start.Offset <= b.End.Offset
}

// alwaysReported names the rules that no draft can except itself from.
func alwaysReported(rule string) bool {
	return slices.Contains([]string{"syntax", "limit", "allow-reason", "allow-unused"}, rule)
}

// checkAllows puts the rules about allow lines, which need to know what all
// the others found.
func (r *Report) checkAllows(used map[*notation.Allow]bool, rules []Rule) {
	var ids []string
	for _, rule := range rules {
		ids = append(ids, rule.ID)
	}
	for a := range r.Draft.Allows() {
		for i := range rules {
			p := &Pass{Draft: r.Draft, Graph: r.Graph, rule: &rules[i]}
			switch rules[i].ID {
			case "allow-reason":
				checkReason(p, a)
			case "allow-unused":
				checkUsed(p, a, used[a], ids)
			}
			r.Findings = append(r.Findings, p.findings...)
		}
	}
}
