package notation

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"runtime/debug"
	"slices"
	"sort"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// Limits bound what Parse takes on. The zero value of a field stands for its
// default.
type Limits struct {
	Bytes  int // length of a text; default 1 MiB
	Depth  int // brackets in brackets; default 32
	Errors int // syntax findings reported; default 100
}

// The default limits.
const (
	DefaultBytes  = 1 << 20
	DefaultDepth  = 32
	DefaultErrors = 100
)

func (l Limits) withDefaults() Limits {
	if l.Bytes <= 0 {
		l.Bytes = DefaultBytes
	}
	if l.Depth <= 0 {
		l.Depth = DefaultDepth
	}
	if l.Errors <= 0 {
		l.Errors = DefaultErrors
	}
	return l
}

// An Option changes how Parse works.
type Option func(*Limits)

// WithLimits sets limits; zero fields keep their defaults.
func WithLimits(l Limits) Option { return func(to *Limits) { *to = l } }

// Parse reads a draft. It always returns a draft, which holds everything that
// could be read; the findings say what could not. Statements that cannot be
// read are kept as *Bad, or as a *Round with Broken set, so that no text is
// lost. file is only a name for messages.
//
// The findings are of the rules syntax, limit, terms, unknown-stitch and
// unknown-yarn, in the order of the text. None means that the draft is
// well-formed; whether its rounds can be worked is for package model to say.
func Parse(file, text string, options ...Option) (draft *Draft, findings []Finding) {
	var limits Limits
	for _, o := range options {
		o(&limits)
	}
	p := &draftParser{
		limits: limits.withDefaults(),
		draft:  &Draft{File: file},
		text:   text,
	}
	// The parser library panics on some inputs; whatever is left of that must
	// not reach the caller.
	defer func() {
		if r := recover(); r != nil {
			draft = p.draft
			findings = SortFindings(append(p.findings, Finding{
				Rule: "syntax", Severity: Error, Span: p.at,
				Message: fmt.Sprintf("internal error while reading this statement: %v; please report it with the draft", r),
			}))
			if debugPanics {
				debug.PrintStack()
			}
		}
	}()
	p.parse()
	return p.draft, SortFindings(p.findings)
}

// debugPanics prints the stack of a panic caught by Parse; tests set it.
var debugPanics = false

// ParseFile reads the draft in a file of fsys. It returns an error, and no
// draft, when the file cannot be read; everything else is a finding. A file
// longer than the limit is not read to its end.
func ParseFile(fsys fs.FS, name string, options ...Option) (*Draft, []Finding, error) {
	text, err := ReadFile(fsys, name, options...)
	if err != nil {
		return nil, nil, err
	}
	draft, findings := Parse(name, text, options...)
	return draft, findings, nil
}

// ReadFile reads the text of a draft from fsys, no further than one byte past
// the limit: enough for Parse to see that the text is too long.
func ReadFile(fsys fs.FS, name string, options ...Option) (string, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return "", &fs.PathError{Op: "read", Path: name, Err: errors.New("is a directory")}
	}
	return Read(f, options...)
}

// Read reads the text of a draft from r, no further than one byte past the
// limit.
func Read(r io.Reader, options ...Option) (string, error) {
	var limits Limits
	for _, o := range options {
		o(&limits)
	}
	text, err := io.ReadAll(io.LimitReader(r, int64(limits.withDefaults().Bytes)+1))
	return string(text), err
}

// A draftParser goes through a draft statement by statement, so that an error
// in one does not hide those in the others.
type draftParser struct {
	limits   Limits
	text     string
	tokens   []token
	draft    *Draft
	findings []Finding
	dropped  int  // syntax findings past the limit
	at       Span // the statement being read

	// The tokens of the statement being read, without comments.
	stmt []token
}

func (p *draftParser) parse() {
	if len(p.text) > p.limits.Bytes {
		p.limit(Span{Pos{0, 1, 1}, Pos{0, 1, 1}},
			"the text is longer than the %s bytes allowed; nothing after that is read", thousands(p.limits.Bytes))
		cut := p.limits.Bytes
		// Leave off the line that was cut in two.
		cut = strings.LastIndexByte(p.text[:cut], '\n') + 1
		p.text = p.text[:cut]
	}
	p.tokens = scan(p.text)
	if tooDeep, at := p.depth(); tooDeep {
		p.limit(at, "brackets are nested more than %d deep here; the draft is not read", p.limits.Depth)
		p.keepAll()
		return
	}
	cuts := p.cut()
	for i, c := range cuts {
		if p.dropped > 0 && i > 0 {
			// Past the limit of errors the rest is kept, not read.
			p.bad(c)
			continue
		}
		p.statement(c)
	}
	if p.dropped > 0 {
		at := p.findings[len(p.findings)-1].Span
		p.limit(at, "more than %d syntax errors; the statements after this one are not read", p.limits.Errors)
	}
	p.order()
	p.draft.resolve(p.report)
	p.comments(cuts)
}

// report adds a finding, as an error.
func (p *draftParser) report(rule string, at Span, format string, args ...any) {
	if rule == "syntax" {
		if len(p.findings) >= p.limits.Errors {
			p.dropped++
			return
		}
	}
	p.findings = append(p.findings, Finding{Rule: rule, Severity: Error, Span: at, Message: fmt.Sprintf(format, args...)})
}

func (p *draftParser) limit(at Span, format string, args ...any) {
	p.report("limit", at, format, args...)
}

// depth finds the first bracket that is nested too deep. Deep nesting must be
// caught before the recursive parser sees it.
func (p *draftParser) depth() (bool, Span) {
	depth := 0
	for _, t := range p.tokens {
		if t.kind != tokPunct {
			continue
		}
		switch t.value {
		case "(", "[":
			if depth++; depth > p.limits.Depth {
				return true, t.span()
			}
		case ")", "]":
			depth = max(depth-1, 0)
		}
		if t.value == ":" {
			depth = 0 // a new round: what was open was never closed
		}
	}
	return false, Span{}
}

// keepAll keeps the whole text as one bad statement.
func (p *draftParser) keepAll() {
	if n := len(p.tokens); n > 0 {
		at := Span{p.tokens[0].start, p.tokens[n-1].end}
		p.draft.Statements = append(p.draft.Statements, &Bad{Span: at, Text: strings.TrimRight(p.text[at.Start.Offset:], " \t\r\n")})
	}
}

// A cutting is the run of tokens of one statement: tokens[from:to].
type cutting struct{ from, to int }

// cut finds the statements. A statement ends at the end of its line, and goes
// on after a comma and inside brackets; but a line that begins a round begins
// a statement, so that a bracket that was never closed costs one round only.
func (p *draftParser) cut() []cutting {
	var cuts []cutting
	from, depth := -1, 0
	last := -1 // last token that is no comment or line end
	end := func(to int) {
		if from >= 0 {
			cuts = append(cuts, cutting{from, to})
		}
		from, depth, last = -1, 0, -1
	}
	for i, t := range p.tokens {
		switch {
		case t.kind == tokComment:
		case t.kind == tokNewline:
			if from >= 0 && (depth == 0 && !p.tokens[last].is(",") || p.startsRound(i+1, last)) {
				end(i)
			}
		default:
			if from < 0 {
				from = i
			}
			last = i
			if t.kind == tokPunct {
				switch t.value {
				case "(", "[":
					depth++
				case ")", "]":
					depth = max(depth-1, 0)
				}
			}
		}
	}
	end(len(p.tokens))
	return cuts
}

// startsRound reports whether the line after a line end begins a round, given
// the last token before: "of" and "as" are followed by "rnd 3" too.
func (p *draftParser) startsRound(i, last int) bool {
	for i < len(p.tokens) && (p.tokens[i].kind == tokComment || p.tokens[i].kind == tokNewline) {
		i++
	}
	if i+1 >= len(p.tokens) || !p.tokens[i].is("rnd") || p.tokens[i+1].kind != tokNumber {
		return false
	}
	return !p.tokens[last].is("of") && !p.tokens[last].is("as")
}

// statement parses one statement and adds it to the draft.
func (p *draftParser) statement(c cutting) {
	p.stmt = p.stmt[:0]
	for _, t := range p.tokens[c.from:c.to] {
		if t.kind != tokComment && t.kind != tokNewline {
			p.stmt = append(p.stmt, t)
		}
	}
	p.at = Span{p.stmt[0].start, p.stmt[len(p.stmt)-1].end}

	peeking, err := lexer.Upgrade(&tokenLexer{tokens: p.stmt})
	if err == nil {
		var tree *statement
		tree, err = parser().ParseFromLexer(peeking)
		if err == nil {
			p.convert(tree)
			return
		}
	}
	at := len(p.stmt) // index of the token that did not fit; the end if none
	var perr participle.Error
	if errors.As(err, &perr) {
		offset := perr.Position().Offset
		at = sort.Search(len(p.stmt), func(i int) bool { return p.stmt[i].start.Offset >= offset })
	}
	p.explain(at)
	p.salvage(c)
}

// bad keeps a statement that is not read.
func (p *draftParser) bad(c cutting) {
	at := Span{p.tokens[c.from].start, p.lastToken(c).end}
	p.draft.Statements = append(p.draft.Statements, &Bad{Span: at, Text: p.text[at.Start.Offset:at.End.Offset]})
}

func (p *draftParser) lastToken(c cutting) token {
	i := c.to - 1
	for p.tokens[i].kind == tokComment || p.tokens[i].kind == tokNewline {
		i--
	}
	return p.tokens[i]
}

// salvage keeps what can be had of a statement with a syntax error: of a round
// its number, its yarn and its claim, so that the rounds after it can still be
// checked; of anything else the text.
func (p *draftParser) salvage(c cutting) {
	p.bad(c)
	bad := p.draft.Statements[len(p.draft.Statements)-1].(*Bad)
	if !p.stmt[0].is("rnd") || len(p.stmt) < 2 || p.stmt[1].kind != tokNumber {
		return
	}
	from, err := number32(p.stmt[1].value)
	if err != nil || from == 0 {
		return
	}
	r := &Round{Span: bad.Span, Head: Span{p.stmt[0].start, p.stmt[1].end}, From: from, To: from, Broken: true, Text: bad.Text}
	i := 2
	if i+1 < len(p.stmt) && p.stmt[i].is("-") && p.stmt[i+1].kind == tokNumber {
		if to, err := number32(p.stmt[i+1].value); err == nil && to >= from {
			r.To = to
			r.Head.End = p.stmt[i+1].end
		}
		i += 2
	}
	if i+1 < len(p.stmt) && p.stmt[i].is("with") && p.stmt[i+1].kind == tokWord {
		r.Yarn = &Name{Span: p.stmt[i+1].span(), Text: p.stmt[i+1].value}
	}
	if eq := slices.IndexFunc(p.stmt, func(t token) bool { return t.is("=") }); eq > 0 {
		tokens := p.stmt[eq:]
		if peeking, err := lexer.Upgrade(&tokenLexer{tokens: tokens}); err == nil {
			if tree, err := claimParser().ParseFromLexer(peeking); err == nil {
				// Its own mistakes would only echo the one reported.
				n := len(p.findings)
				r.Claim = p.claim(tree)
				p.findings = p.findings[:n]
			}
		}
	}
	p.draft.Statements[len(p.draft.Statements)-1] = r
}

// order reports header statements that come after a round, are given twice, or
// declare a name twice.
func (p *draftParser) order() {
	seen := map[string]Span{}
	rounds := false
	for _, s := range p.draft.Statements {
		key := statementKey(s)
		switch s := s.(type) {
		case *Round:
			rounds = true
			continue
		case *Allow, *Bad:
			continue
		case *Yarn:
			key = "yarn " + strings.ToLower(s.Name.Text)
		case *StitchDef:
			key = "stitch " + strings.ToLower(s.Name.Text)
		}
		at := s.Range()
		if rounds {
			p.report("syntax", at, "the %s line belongs above the first round", statementKey(s))
			continue
		}
		if before, twice := seen[key]; twice {
			p.report("syntax", at, "%s is given twice, first in line %d; leave one of the two out", key, before.Start.Line)
			if n := len(p.findings); n > 0 && p.findings[n-1].Span == at {
				p.findings[n-1].Related = []Related{{"first given here", before}}
			}
			continue
		}
		seen[key] = at
	}
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
	case *Working:
		return "worked"
	case *Yarn:
		return "yarn"
	case *Hook:
		return "hook"
	case *Gauge:
		return "gauge"
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
	case *Bad:
		return s.Text
	}
	return ""
}

// comments hands each comment to the node it belongs to: a comment at the end
// of a line to what ends on that line, any other to what comes next. Steps and
// items of a claim carry comments of their own when a statement takes several
// lines. Statements kept as text keep the comments inside them in the text.
func (p *draftParser) comments(cuts []cutting) {
	k := 0
	var parts []commented // of statement k
	before := func(k int, c Comment) {
		if k == len(cuts) {
			p.draft.Tail = append(p.draft.Tail, c)
			return
		}
		a := p.draft.Statements[k].Attached()
		a.Before = append(a.Before, c)
	}
	for i, t := range p.tokens {
		if t.kind != tokComment {
			continue
		}
		c := Comment{Span: t.span(), Text: strings.TrimRight(t.value, " \t\r")}
		for k < len(cuts) && i >= cuts[k].to {
			k++
			parts = nil
		}
		if k == len(cuts) || i < cuts[k].from {
			before(k, c)
			continue
		}
		s := p.draft.Statements[k]
		end := s.Range().End
		switch {
		case t.start.Offset >= end.Offset && t.start.Line == end.Line:
			s.Attached().After = append(s.Attached().After, c)
		case t.start.Offset >= end.Offset:
			before(k+1, c)
		case isVerbatim(s):
		default:
			if parts == nil {
				parts = carriers(s)
			}
			attach(parts, s, c)
		}
	}
}

// isVerbatim reports whether a statement is kept as text.
func isVerbatim(s Statement) bool {
	switch s := s.(type) {
	case *Bad:
		return true
	case *Round:
		return s.Broken
	}
	return false
}

// commented is a node that can carry comments.
type commented interface {
	Node
	Attached() *Comments
}

// carriers lists the nodes inside a statement that can carry comments, in the
// order of the text.
func carriers(s Statement) []commented {
	var list []commented
	Walk(s, func(n Node) bool {
		if c, ok := n.(commented); ok && n != Node(s) {
			list = append(list, c)
		}
		return true
	})
	return list
}

// attach gives a comment inside a statement to one of its parts: to the part
// it interrupts, else to the part that ends before it on the same line, else
// to the next part. Where there is no such part, and before the first one, it
// goes above the statement: a line end is not allowed there in the text.
func attach(parts []commented, s Statement, c Comment) {
	at := c.Start.Offset
	var ended, next commented
	for i, n := range parts {
		r := n.Range()
		if r.End.Offset <= at {
			// Of parts that end together the outermost counts; it comes first.
			if ended == nil || ended.Range().End.Offset < r.End.Offset {
				ended = n
			}
			continue
		}
		if r.Start.Offset > at {
			if i > 0 {
				next = n
			}
			break
		}
		if !hasParts(n) { // the comment interrupts n
			next, ended = n, nil
			break
		}
	}
	switch {
	case ended != nil && ended.Range().End.Line == c.Start.Line:
		ended.Attached().After = append(ended.Attached().After, c)
	case next != nil:
		next.Attached().Before = append(next.Attached().Before, c)
	default:
		s.Attached().Before = append(s.Attached().Before, c)
	}
}

// hasParts reports whether other parts stand inside n.
func hasParts(n Node) bool {
	switch n.(type) {
	case *Repeat, *Group:
		return true
	}
	return false
}

// thousands writes a number with a comma at every third digit.
func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
