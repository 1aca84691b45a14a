package check

import (
	"context"
	"fmt"
	"io/fs"
	"iter"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
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
	Source string // the text as it was given; "" where a tree was given
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
	draft, found := notation.Parse(name, text, notation.WithLimits(o.Text), notation.WithContext(ctx))
	return checkDraft(ctx, draft, text, found, o)
}

// Draft checks a tree: one that has been parsed already, is read from another
// notation, or is made by hand. found is what was found while it was read. A
// tree made by hand has no positions; it is written out, and the findings are
// about that text, which is the Source of the report.
func Draft(ctx context.Context, d *notation.Draft, found []Finding, o Options) (*Report, error) {
	placed := func(s notation.Statement) bool { return s.Range().Start.IsValid() }
	if len(d.Statements) > 0 && !slices.ContainsFunc(d.Statements, placed) {
		return Source(ctx, d.File, notation.Format(d), o)
	}
	return checkDraft(ctx, d, "", slices.Clone(found), o)
}

func checkDraft(ctx context.Context, d *notation.Draft, text string, found []Finding, o Options) (*Report, error) {
	graph, more, err := size.Build(ctx, d, model.WithLimits(o.Work), model.WithFound(found))
	e := exceptionsIn(d)
	found = append(found, heldBack(e, found, more)...)
	for _, g := range graph.Pieces() {
		explainUnworked(g, found)
	}
	report := &Report{File: d.File, Source: text, Draft: d, Graph: graph}
	if ended := report.put(ctx, o.rules(), e, found); err == nil {
		err = ended
	}
	return report, err
}

// heldBack returns the findings of the working that are not about a round with
// a mistake in its text: that was mended to go on, and what is said of the
// mended round would only confuse. They are counted in the finding about the
// text.
func heldBack(e *exceptions, text, work []Finding) []Finding {
	causes := map[notation.Statement]*Finding{}
	for i := range text {
		f := &text[i]
		if s := e.at(f.Span); s != nil && (f.Rule == "syntax" || f.Rule == "limit") && causes[s] == nil {
			causes[s] = f
		}
	}
	var kept []Finding
	for _, f := range work {
		cause := causes[e.at(f.Span)]
		if cause == nil || f.Rule == "round-order" {
			kept = append(kept, f)
			continue
		}
		cause.Held += 1 + f.Held
	}
	return kept
}

// heldGrowth holds back what is said of how the piece lies where a line above the
// rounds could not be read that may say what it is worked on, or how it is to
// lie.
func heldGrowth(d *notation.Draft, list []Finding) []Finding {
	var cause *Finding
	for _, s := range d.Statements {
		if _, begun := s.(*notation.Round); begun || cause != nil {
			break
		}
		bad, ok := s.(*notation.Bad)
		if !ok || !slices.Contains([]string{"", "shape", "lies", "hook", "gauge", "ring"}, bad.Keyword()) {
			continue
		}
		if i := slices.IndexFunc(list, func(f Finding) bool { return f.Rule == "syntax" && inside(f.Span, bad.Span) }); i >= 0 {
			cause = &list[i]
		}
	}
	if cause == nil {
		return list
	}
	growth := func(f Finding) bool {
		return slices.Contains([]string{"growth-ruffle", "growth-cup", "side-growth"}, f.Rule)
	}
	for _, f := range list {
		if growth(f) {
			cause.Held += 1 + f.Held
		}
	}
	return slices.DeleteFunc(list, growth)
}

// put puts the rules to the draft, given what was found while it was read and
// worked. The error is that of ctx, which is asked before each rule.
func (r *Report) put(ctx context.Context, rules []Rule, e *exceptions, stages []Finding) (ended error) {
	var all []Finding
	shared := &shared{ctx: ctx, faulty: map[int]bool{}}
	for _, f := range stages {
		if f.Severity == notation.Error && f.Edge == "" && e.covering(f) == nil {
			shared.faulty[f.Round] = true
		}
	}
	for i := range rules {
		if rules[i].Run == nil {
			continue
		}
		p := &Pass{Source: r.Source, Draft: r.Draft, Graph: r.Graph, rule: &rules[i], stages: stages, shared: shared}
		if ended == nil {
			ended = ctx.Err()
		}
		if ended != nil {
			staged(p) // what was found by then is told
		} else {
			rules[i].Run(p)
		}
		all = append(all, p.findings...)
	}
	r.except(heldGrowth(r.Draft, notation.SortFindings(all)), e, rules)
	return ended
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

// explainUnworked adds to the finding about a round that could not be worked
// which of the rounds after it are not worked because of it.
func explainUnworked(g *model.Graph, found []Finding) {
	for i := 0; i < g.NumRounds(); i++ {
		if g.Round(i).Status != model.NotWorked {
			continue
		}
		// The statement at fault, which may stand for several rounds, and then
		// those that stand on it.
		cause := g.Round(i).Statement
		for i < g.NumRounds() && g.Round(i).Statement == cause {
			i++
		}
		first := i
		for i < g.NumRounds() && g.Round(i).Status == model.NotWorked {
			i++
		}
		if i == first {
			continue
		}
		from, to := g.Round(first), g.Round(i-1)
		text := fmt.Sprintf("round %d is not checked for this reason", from.Number)
		if to.Number != from.Number {
			text = fmt.Sprintf("rounds %d to %d are not checked for this reason", from.Number, to.Number)
		}
		related := notation.Related{Message: text, Span: from.Statement.Head}
		about := func(f Finding) bool { return inside(f.Span, cause.Span) }
		if at := slices.IndexFunc(found, about); at >= 0 {
			found[at].Related = append(found[at].Related, related)
		}
	}
}

// A Pass is one rule put to one draft.
type Pass struct {
	// Source is the text of the draft, "" where a tree was given.
	Source string
	Draft  *notation.Draft
	// Graph is the worked draft. Rounds whose status is not model.Worked are
	// not what the designer means, and most rules keep to Rounds.
	Graph *model.Graph

	rule     *Rule
	stages   []Finding
	findings []Finding
	shared   *shared
}

// A shared is what several rules need, worked out by the first that asks.
type shared struct {
	ctx     context.Context
	faulty  map[int]bool // by number: rounds with an error found before
	sound   []int
	shape   *shape
	rotates map[int]bool // by round
	lost    *lostCorners // once asked for
	drift   *wandering
}

// Rounds iterates over the rounds that are what the designer believes, with
// their index in the graph: up to the first that does not work out as written
// or in which an error was found. To judge those that stand on it would only
// say the same again.
func (p *Pass) Rounds() iter.Seq2[int, model.Round] {
	return func(yield func(int, model.Round) bool) {
		for _, i := range p.sound() {
			if !yield(i, p.Graph.Round(i)) {
				return
			}
		}
	}
}

// Shape returns the geometry of Rounds, in the same order, by the dimensions that
// Gauge.Judging gives; how large the rounds come out size.Measures says. It is worked out once
// for all rules, so that none may change it; of a piece of more than 2,000,000
// stitches it is not worked out at all, and nil.
func (p *Pass) Shape() []size.Round { return p.shape().rounds }

// Gauge returns the gauge of the draft; without a gauge line its Unit is 0.
func (p *Pass) Gauge() size.Gauge { return p.shape().gauge }

func (p *Pass) shape() *shape {
	if p.shared.shape == nil {
		p.shared.shape = shapeOf(p.shared.ctx, p.Draft, p.Graph)
		p.shared.shape.rounds = p.shared.shape.rounds[:min(len(p.shared.shape.rounds), len(p.sound()))]
	}
	return p.shared.shape
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

// Add reports a finding. Without a rule id it is one of the rule that is being
// put; without a severity it has that of the rule, and never a higher one.
func (p *Pass) Add(f Finding) {
	if f.Rule == "" {
		f.Rule = p.rule.ID
	}
	if most := p.rule.severity(); f.Severity == 0 || f.Severity > most {
		f.Severity = most
	}
	p.findings = append(p.findings, f)
}

// Reportf reports a finding at a place of the draft.
func (p *Pass) Reportf(at notation.Span, format string, args ...any) {
	p.Add(Finding{Span: at, Message: fmt.Sprintf(format, args...)})
}

// ReportRoundf reports a finding about a round of the motif.
func (p *Pass) ReportRoundf(r model.Round, format string, args ...any) {
	p.Add(Finding{Span: r.Statement.Head, Round: r.Number, Message: fmt.Sprintf(format, args...)})
}
