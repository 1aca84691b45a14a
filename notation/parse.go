package notation

import (
	"errors"
	"fmt"
	"runtime/debug"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// Parse reads a draft. It always returns a draft, which holds everything that
// could be read; the findings say what could not. No text is lost: a statement
// that cannot be read is kept as *Bad, or as a *Round with Broken set, and one
// that was read in spite of a mistake keeps its Text. file is only a name for
// messages.
//
// The findings are of the rules syntax, limit, terms, unknown-stitch and
// unknown-yarn, in the order of the text. None means that the draft is
// well-formed; whether its rounds can be worked is for package model to say.
func Parse(file, text string, options ...Option) (draft *Draft, findings []Finding) {
	p := newParser(file, text, configOf(options))
	// The parser library panics on some inputs; whatever is left of that must
	// not reach the caller.
	defer func() {
		if r := recover(); r != nil {
			draft, findings = p.failed(text, r)
		}
	}()
	p.parse()
	return p.draft, SortFindings(p.findings)
}

// failed is the answer to a failure of the parser itself: the whole text is
// kept, and the statement named at which it happened.
func (p *draftParser) failed(text string, reason any) (*Draft, []Finding) {
	if debugPanics {
		debug.PrintStack()
	}
	p.text = text
	draft := &Draft{File: p.draft.File, Statements: []Statement{p.keepFrom(newScanner(text).pos)}}
	return draft, SortFindings(append(p.findings, Finding{
		Rule: "syntax", Severity: Error, Span: p.at,
		Message: fmt.Sprintf("internal error while reading this statement: %v; please report it with the draft", reason),
	}))
}

// debugPanics prints the stack of a panic caught by Parse; tests set it.
var debugPanics = false

// A draftParser goes through a draft statement by statement, so that an error
// in one does not hide those in the others.
type draftParser struct {
	config
	text     string
	tokens   []token
	draft    *Draft
	findings []Finding

	found  map[string]int  // findings by rule, those past the limit included
	past   map[string]Span // by rule, where the limit was passed
	faults int             // mistakes that make the tree differ from the text
	muted  bool            // findings would only echo one that was reported
	trial  bool            // see trialOf
	unread bool            // statements are kept because of too many syntax errors

	at   Span    // the statement being read
	stmt []token // its tokens, without comments and line ends
}

func newParser(file, text string, c config) *draftParser {
	return &draftParser{
		config: c, text: text, draft: &Draft{File: file},
		found: map[string]int{}, past: map[string]Span{},
	}
}

func (p *draftParser) parse() {
	rest := p.measure()
	p.tokens = scan(p.text)
	p.checkTurned()
	cuts := p.cut()
	for i, c := range cuts {
		if p.ctx.Err() != nil {
			cuts = append(cuts[:i], cutting{c.from, len(p.tokens)})
			rest := p.keepFrom(p.tokens[c.from].start)
			p.report("limit", Span{rest.Start, rest.Start}, "the reading was called off; from line %d on the draft is not read", rest.Start.Line)
			p.add(rest)
			break
		}
		p.statement(c)
	}
	p.order()
	p.resolve()
	if rest != nil {
		p.draft.Statements = append(p.draft.Statements, rest)
	}
	p.comments(cuts)
	p.tellPast()
	p.numberFindings()
}

// measure cuts a text that cannot be read to its end, and returns the part
// that is only kept, or nil.
func (p *draftParser) measure() *Bad {
	// Empty lines above do not count: Format leaves them out.
	if start := strings.TrimLeft(p.text, " \t\r\n"); strings.HasPrefix(start, "\xff\xfe") || strings.HasPrefix(start, "\xfe\xff") {
		rest := p.keepFrom(Pos{0, 1, 1})
		p.report("syntax", Span{rest.Span.Start, rest.Span.Start}, "this is UTF-16 text; save the draft as UTF-8")
		p.text = ""
		return rest
	}
	if len(p.text) <= p.limits.Bytes {
		return nil
	}
	// Leave off the line that the limit cuts in two.
	cut := strings.LastIndexByte(p.text[:p.limits.Bytes], '\n') + 1
	from := newScanner(p.text).pos
	if cut > 0 {
		from = Pos{cut, 1 + strings.Count(p.text[:cut], "\n"), 1}
	}
	rest := p.keepFrom(from)
	first := Pos{0, 1, 1}
	p.report("limit", Span{first, first}, "the text is longer than the %s bytes allowed; from line %d on it is not read", thousands(p.limits.Bytes), rest.Span.Start.Line)
	p.text = p.text[:cut]
	return rest
}

// keepFrom keeps the text from a place on as a statement that is not read.
func (p *draftParser) keepFrom(from Pos) *Bad {
	text := p.text[from.Offset:]
	for text != "" && strings.IndexByte(" \t\r\n", text[0]) >= 0 {
		from.Offset++
		from.Column++
		if text[0] == '\n' {
			from.Line, from.Column = from.Line+1, 1
		}
		text = text[1:]
	}
	text = strings.TrimRight(text, " \t\r\n")
	end := Pos{from.Offset + len(text), from.Line + strings.Count(text, "\n"), from.Column}
	if i := strings.LastIndexByte(text, '\n'); i >= 0 {
		end.Column = 1 + utf8.RuneCountInString(text[i+1:])
	} else {
		end.Column += utf8.RuneCountInString(text)
	}
	return &Bad{Span: Span{from, end}, Text: text}
}

// report adds a finding, as an error, and returns it until the next one is
// reported; nil where it is not taken.
func (p *draftParser) report(rule string, at Span, format string, args ...any) *Finding {
	if rule == "syntax" || rule == "limit" {
		p.faults++
	}
	if p.muted {
		return nil
	}
	switch p.found[rule]++; {
	case p.found[rule] <= p.limits.Errors:
		p.findings = append(p.findings, Finding{Rule: rule, Severity: Error, Span: at, Message: fmt.Sprintf(format, args...)})
		return &p.findings[len(p.findings)-1]
	case p.found[rule] == p.limits.Errors+1:
		p.past[rule] = at
	}
	return nil
}

// full reports whether findings of a rule are no longer taken.
func (p *draftParser) full(rule string) bool { return p.found[rule] > p.limits.Errors }

// tellPast says which findings were left out.
func (p *draftParser) tellPast() {
	for _, rule := range []string{"syntax", "limit", "terms", "unknown-stitch", "unknown-yarn"} {
		if !p.full(rule) {
			continue
		}
		message := fmt.Sprintf("more findings of the rule %s than the %s allowed; this one and the others are not reported", rule, thousands(p.limits.Errors))
		if rule == "syntax" && p.unread {
			message += ", and the statements after this one are not read"
		}
		p.findings = append(p.findings, Finding{Rule: "limit", Severity: Error, Span: p.past[rule], Message: message})
	}
}

// numberFindings notes in each finding the round it stands in.
func (p *draftParser) numberFindings() {
	rounds := slices.Collect(p.draft.Rounds())
	numbers := p.draft.numbers()
	for i := range p.findings {
		f := &p.findings[i]
		after := sort.Search(len(rounds), func(i int) bool { return rounds[i].Span.Start.Offset > f.Span.Start.Offset })
		if after > 0 && f.Span.Start.Offset <= rounds[after-1].Span.End.Offset {
			f.Round, f.Edge = numbers[after-1].first, numbers[after-1].edge
		}
	}
}

// A cutting is the run of tokens of one statement: tokens[from:to].
type cutting struct{ from, to int }

// cut finds the statements. A statement ends at the end of its line, and goes
// on after a comma and inside brackets; but a line that cannot go on from the
// one above, because it reads like the beginning of a statement, is one, so
// that a bracket that was never closed costs one round only.
func (p *draftParser) cut() []cutting {
	var cuts []cutting
	from, depth := -1, 0
	last := -1 // last token that is no comment or line end
	end := func(to int) {
		cuts = append(cuts, cutting{from, to})
		from, depth = -1, 0
	}
	for i, t := range p.tokens {
		switch t.kind {
		case tokComment:
			continue
		case tokNewline:
			if from >= 0 && depth == 0 && !p.tokens[last].is(",") {
				end(i)
			}
			continue
		}
		if from >= 0 && t.start.Line > p.tokens[last].end.Line && p.begins(i, last) {
			end(i)
		}
		if from < 0 {
			from = i
		}
		last = i
		switch depthOf(t) {
		case 1:
			depth++
		case -1:
			depth = max(depth-1, 0)
		}
	}
	if from >= 0 {
		end(len(p.tokens))
	}
	return cuts
}

// depthOf is 1 for an opening bracket, -1 for a closing one, else 0.
func depthOf(t token) int {
	if t.kind != tokPunct {
		return 0
	}
	switch t.value {
	case "(", "[":
		return 1
	case ")", "]":
		return -1
	}
	return 0
}

// leading are words that do not end a step: what stands in the next line
// belongs to them.
var leading = []string{"of", "as", "in", "over", "next", "each", "with", "and", "same"}

// begins reports whether the token at i, the first on its line, begins a
// statement, given the last token before. Names of yarns and groups may be
// such words too; what follows tells.
func (p *draftParser) begins(i, last int) bool {
	if i+1 >= len(p.tokens) || slices.ContainsFunc(leading, p.tokens[last].is) {
		return false
	}
	word, next := p.tokens[i], p.tokens[i+1]
	if word.kind != tokWord {
		return false
	}
	switch key := strings.ToLower(word.value); key {
	case "hook":
		return next.kind == tokNumber
	case "rnd":
		return next.kind == tokNumber || next.is("next")
	case "panel":
		return next.kind == tokNumber || next.oneOf("tube", "cushion", "bag", "wrap", "joined", "on")
	case "gauge":
		return next.kind == tokNumber || next.is("rnd") || next.is("rnds")
	case "motif":
		return next.kind == tokString
	case "ring":
		return false
	default:
		return slices.Contains(keywords, key) && next.kind == tokWord && !next.is("in") && !next.is("over")
	}
}

// statement parses one statement and adds it to the draft.
func (p *draftParser) statement(c cutting) {
	p.stmt = p.stmt[:0]
	depth, deepest := 0, 0
	var deep token
	for _, t := range p.tokens[c.from:c.to] {
		if t.kind == tokComment || t.kind == tokNewline {
			continue
		}
		p.stmt = append(p.stmt, t)
		if depth = max(depth+depthOf(t), 0); depth > deepest {
			if deepest = depth; depth == p.limits.Depth+1 {
				deep = t
			}
		}
	}
	p.at = Span{p.stmt[0].start, p.stmt[len(p.stmt)-1].end}
	switch {
	case p.full("syntax"):
		p.unread = true
		p.add(p.salvage())
	case deepest > p.limits.Depth:
		// Deep nesting must not reach the recursive parser.
		p.report("limit", deep.span(), "brackets are nested more than %d deep here; this statement is not read", p.limits.Depth)
		p.add(p.salvage())
	default:
		tree, at := p.tree()
		if tree == nil {
			found := len(p.findings)
			p.explain(at)
			if len(p.findings) > found {
				p.seeThrough(&p.findings[found])
			}
			if !p.claimless(at) {
				p.add(p.salvage())
			}
			break
		}
		before := p.faults
		p.add(p.convert(tree))
		if p.faults > before {
			p.keepText(len(p.draft.Statements) - 1)
		}
	}
}

func (p *draftParser) add(s Statement) { p.draft.Statements = append(p.draft.Statements, s) }

// tree parses the statement's tokens. Without a tree it returns the index of
// the token that does not fit, which is the number of tokens at the end.
func (p *draftParser) tree() (*statement, int) {
	if r := quickRound(p.stmt); r != nil {
		return &statement{Round: r}, 0
	}
	tree, err := parseTree(p.stmt)
	if err == nil {
		return tree, 0
	}
	var at participle.Error
	if errors.As(err, &at) {
		return nil, p.token(at.Position().Offset)
	}
	return nil, len(p.stmt)
}

// parseTree has participle parse the tokens of a statement.
func parseTree(tokens []token) (*statement, error) {
	peeking, err := lexer.Upgrade(&tokenLexer{tokens: tokens})
	if err != nil {
		return nil, err
	}
	return parser().ParseFromLexer(peeking)
}

// bad is the statement being read, kept as it stands.
func (p *draftParser) bad() *Bad {
	return &Bad{Span: p.at, Text: p.text[p.at.Start.Offset:p.at.End.Offset]}
}

// Keyword is the word of the notation that the line begins with, or else the one
// that is meant by the word it begins with; "" for none.
func (b *Bad) Keyword() string {
	word, _, _ := strings.Cut(b.Text, " ")
	word = strings.ToLower(word)
	if slices.Contains(keywords, word) {
		return word
	}
	return otherWords[word]
}

// keepText keeps the words of a statement that has a mistake in it beside what
// was made of them, so that Format does not put ours in their place. Of most
// header lines nothing is left without the mistake.
func (p *draftParser) keepText(i int) {
	at := p.draft.Statements[i].Range()
	text := p.text[at.Start.Offset:at.End.Offset]
	switch s := p.draft.Statements[i].(type) {
	case *Round:
		s.Text = text
	case *Yarn:
		s.Text = text
	case *StitchDef:
		s.Text = text
	case *Panel:
		s.Text = text
	case *Edge:
		s.Text = text
	default:
		p.draft.Statements[i] = &Bad{Span: at, Text: text}
	}
}

// asWritten returns the words of a statement that is kept as it stands, "" for
// one that was read without a mistake.
func asWritten(s Statement) string {
	switch s := s.(type) {
	case *Bad:
		return s.Text
	case *Round:
		return s.Text
	case *Yarn:
		return s.Text
	case *StitchDef:
		return s.Text
	case *Panel:
		return s.Text
	case *Edge:
		return s.Text
	}
	return ""
}

// claimless reads a round whose claim is at fault, at token at, without the
// claim: its steps are sound, and the rounds above stand on them.
func (p *draftParser) claimless(at int) bool {
	eq := slices.IndexFunc(p.stmt, func(t token) bool { return t.is("=") })
	if eq < 0 || at <= eq || !p.stmt[0].is("rnd") {
		return false
	}
	whole := p.stmt
	p.stmt = whole[:eq]
	tree, _ := p.tree()
	if tree != nil {
		p.add(p.convert(tree))
		p.keepText(len(p.draft.Statements) - 1)
	}
	p.stmt = whole
	return tree != nil
}

// salvage returns what can be had of a statement with a syntax error: of a
// round its number, its yarn and its claim, so that the rounds after it can
// still be checked; of an edge that the rounds after it are not those of the
// motif; of anything else the text.
func (p *draftParser) salvage() Statement {
	bad := p.bad()
	stmt := p.stmt
	key := strings.ToLower(stmt[0].value)
	if key == "edge" || otherWords[key] == "edge" {
		return &Edge{Span: bad.Span, Text: bad.Text}
	}
	i := 0 // the number
	for i < len(stmt) && (stmt[i].is("rnd") || i == 0 && otherWords[key] == "rnd") {
		i++
	}
	if i == len(stmt) || i == 0 && (len(stmt) < 2 || !stmt[1].is(":") && !stmt[1].is("with")) {
		return bad
	}
	r := &Round{Span: bad.Span, Head: Span{stmt[0].start, stmt[i].end}, From: 1, To: 1, Broken: true, Text: bad.Text}
	switch from, err := number32(stmt[i].value); {
	case stmt[i].is("next"), i > 0 && stmt[i].is(":"), i > 0 && stmt[i].is("with"):
		r.Next = true
	case stmt[i].kind != tokNumber || err != nil || from == 0:
		return bad
	default:
		r.From, r.To = from, from
	}
	if stmt[i].kind == tokNumber || stmt[i].is("next") {
		i++
	} else {
		r.Head = stmt[0].span()
	}
	if r.Next && i < len(stmt) && stmt[i].kind == tokNumber {
		if n, err := number32(stmt[i].value); err == nil && n > 0 {
			r.To = n
			r.Head.End = stmt[i].end
		}
		i++
	} else if i+1 < len(stmt) && stmt[i].is("-") && stmt[i+1].kind == tokNumber {
		if to, err := number32(stmt[i+1].value); err == nil && to >= r.From {
			r.To = to
			r.Head.End = stmt[i+1].end
		}
		i += 2
	}
	if i < len(stmt) && stmt[i].is("until") {
		r.Until = &Until{Span: stmt[i].span()}
	}
	if i+1 < len(stmt) && stmt[i].is("with") && stmt[i+1].kind == tokWord {
		r.Yarn = &Name{Span: stmt[i+1].span(), Text: stmt[i+1].value}
	}
	if eq := slices.IndexFunc(stmt, func(t token) bool { return t.is("=") }); eq > 0 {
		if peeking, err := lexer.Upgrade(&tokenLexer{tokens: stmt[eq:]}); err == nil {
			if tree, err := claimParser().ParseFromLexer(peeking); err == nil {
				p.muted = true
				r.Claim = p.claim(tree)
				p.muted = false
			}
		}
	}
	return r
}

// order reports header statements that come after a round, edges that come
// before one or before the panel, and what is given twice, or declares a name
// twice.
func (p *draftParser) order() {
	seen := map[string]Span{}
	rounds, edges := false, false
	panel := p.draft.Panel()
	for _, s := range p.draft.Statements {
		key := statementKey(s)
		above := false
		switch s := s.(type) {
		case *Round:
			rounds = true
			continue
		case *Allow, *Bad:
			continue
		case *Panel:
			if edges {
				p.report("syntax", s.Span, "the panel line belongs above its edges")
				continue
			}
			above = true
		case *Edge:
			if s.Of == EdgeUnread {
				edges = true
				continue
			}
			switch {
			case !rounds:
				p.report("syntax", s.Span, "an edge comes of motifs that are made; the %s line belongs below the last round of the motif", key)
			case panel == nil && !p.badPanel():
				p.report("syntax", s.Span, "an edge is one of what the motifs are made up into; say what that is in a line above: panel 4 by 5 joined sc")
			}
			edges, above = true, true
		case *Yarn:
			key += " " + strings.ToLower(s.Name.Text)
		case *StitchDef:
			key += " " + strings.ToLower(s.Name.Text)
		}
		at := s.Range()
		if rounds && !above {
			p.report("syntax", at, "the %s line belongs above the first round", statementKey(s))
			continue
		}
		first, twice := seen[key]
		if !twice {
			seen[key] = at
			continue
		}
		f := p.report("syntax", at, "%s is given twice, first in line %d; leave one of the two out", printable(key), first.Start.Line)
		if f != nil {
			f.Related = []Related{{"first given here", first}}
		}
	}
}

// badPanel reports whether a line that could not be read says how motifs are
// made up.
func (p *draftParser) badPanel() bool {
	return slices.ContainsFunc(p.draft.Statements, func(s Statement) bool {
		bad, ok := s.(*Bad)
		if !ok || len(bad.Text) < len("panel") {
			return false
		}
		return foldEqual(bad.Text[:len("panel")], "panel")
	})
}

// statementKey is the word a statement begins with.
func statementKey(s Statement) string {
	switch s := s.(type) {
	case *Motif:
		return "motif"
	case *TermsLine:
		return "terms"
	case *Shape:
		return "shape"
	case *Lies:
		return "lies"
	case *For:
		return "for"
	case *Working:
		return "worked"
	case *Yarn:
		return "yarn"
	case *Hook:
		return "hook"
	case *Gauge:
		return "gauge"
	case *Weighed:
		return "weighed"
	case *Begin:
		return "begin"
	case *StitchDef:
		return "stitch"
	case *Ring:
		return "ring"
	case *Allow:
		return "allow"
	case *Round:
		return "rnd"
	case *Panel:
		return "panel"
	case *Edge:
		return "edge of " + string(s.Of)
	}
	return ""
}
