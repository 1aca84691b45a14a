// Package shingle is a toy notation of marks only, one line a round. It shows
// how little it takes to put another notation on top of package model: a text
// is read into a tree, and everything after that is there already.
//
// The first line is worked into a ring, each other line into the round of the
// line above:
//
//	:::-:::-:::-:::-
//	(:::)-&
//	::<:-:>-_&
//
// The marks are
//
//	, ; : !   a stitch in the next stitch: sc, hdc, dc, tr
//	<...>     all that stands between, in the next stitch
//	(...)     the same, in the next chain space
//	-         a chain
//	_ =       pass over a stitch, a chain space
//	&         last in a line: the same again and again, to the end of the round
//
// In the first line the stitches go into the ring, and <...> is a group there.
package shingle

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// Notation reads and prints this notation.
type Notation struct{}

var marks = map[rune]string{',': "sc", ';': "hdc", ':': "dc", '!': "tr"}

// Parse reads a text. A line that cannot be read is a broken round.
func (Notation) Parse(text string) (*notation.Draft, []notation.Finding) {
	d := &notation.Draft{Statements: []notation.Statement{&notation.Ring{}}}
	var findings []notation.Finding
	at := notation.Pos{Line: 1, Column: 1}
	number := 0
	for line := range strings.SplitAfterSeq(text, "\n") {
		if marks := strings.TrimSpace(line); marks != "" {
			number++
			p := &parser{number: number, at: at}
			d.Statements = append(d.Statements, p.line(strings.TrimRight(line, " \t\r\n")))
			findings = append(findings, p.findings...)
		}
		at.Offset, at.Line = at.Offset+len(line), at.Line+1
	}
	return d, findings
}

// A parser reads one line.
type parser struct {
	number   int
	at       notation.Pos
	findings []notation.Finding
}

func (p *parser) line(text string) *notation.Round {
	r := &notation.Round{From: p.number, To: p.number}
	r.Span.Start = p.at
	var open *notation.Group // between brackets
	var around bool
	for i, c := range text {
		mark := p.mark(text[i:])
		add := func(s notation.Step) {
			if open != nil {
				open.Members = append(open.Members, s)
				open.Span.End = mark.End
			} else {
				r.Steps = append(r.Steps, s)
			}
		}
		switch {
		case around:
			p.fault(mark, "& comes last in a line")
		case c == ' ' || c == '\t':
		case marks[c] != "":
			w := &notation.Work{Span: mark, Count: 1, Stitch: notation.Name{Text: marks[c], US: marks[c]}}
			if open == nil {
				w.Place = p.place(notation.St, mark)
			}
			add(w)
		case c == '-':
			add(&notation.Chain{Span: mark, Count: 1})
		case c == '<' && open == nil:
			open = &notation.Group{Span: mark, Place: p.place(notation.St, mark)}
		case c == '(' && open == nil && p.number > 1:
			open = &notation.Group{Span: mark, Place: p.place(notation.Sp, mark)}
		case open != nil && len(open.Members) > 0 && (c == '>' && open.Place.Kind != notation.Sp || c == ')' && open.Place.Kind == notation.Sp):
			open.Span.End = mark.End
			r.Steps, open = append(r.Steps, open), nil
		case c == '_' && open == nil:
			add(&notation.Skip{Span: mark, Count: 1, What: notation.St})
		case c == '=' && open == nil:
			add(&notation.Skip{Span: mark, Count: 1, What: notation.Sp})
		case c == '&' && open == nil && p.number > 1 && len(r.Steps) > 0:
			around = true
			whole := notation.Span{Start: r.Span.Start, End: mark.End}
			r.Steps = []notation.Step{&notation.Repeat{Span: whole, Steps: r.Steps, Around: true, Tail: mark}}
		default:
			p.fault(mark, "%q means nothing here", c)
		}
		p.at = mark.End
	}
	r.Span.End = p.at
	r.Head = r.Span
	if open != nil {
		p.fault(r.Span, "a bracket is not closed")
	}
	r.Broken = len(p.findings) > 0
	return r
}

// mark is where the first mark of a text stands.
func (p *parser) mark(text string) notation.Span {
	_, size := utf8.DecodeRuneInString(text)
	end := p.at
	end.Offset, end.Column = end.Offset+size, end.Column+1
	return notation.Span{Start: p.at, End: end}
}

func (p *parser) place(kind notation.PlaceKind, at notation.Span) *notation.Place {
	if p.number == 1 {
		return &notation.Place{Span: at, How: notation.InRing, Kind: notation.RingHole}
	}
	return &notation.Place{Span: at, How: notation.InNext, Count: 1, Kind: kind}
}

// fault reports the first fault of a line; others may only follow from it.
func (p *parser) fault(at notation.Span, format string, args ...any) {
	if len(p.findings) == 0 {
		p.findings = append(p.findings, notation.Finding{
			Rule: "syntax", Severity: notation.Error, Span: at, Round: p.number, Message: fmt.Sprintf(format, args...)})
	}
}

var errNoMarks = errors.New("there are no marks for this")

// Print writes a piece, stitch by stitch as it was worked.
func (Notation) Print(_ *notation.Draft, g *model.Graph) (string, error) {
	if g.Title != "" || g.Outline != notation.OutlineUnsaid || g.Ring > 0 || len(g.Yarns()) > 0 {
		return "", errNoMarks
	}
	var out strings.Builder
	for i, r := range g.Rounds() {
		p := &printer{g: g, below: places(g, r.Below)}
		if !p.round(i) || r.Turned || r.Status != model.Worked || r.Below != i-1 || r.Len == 0 {
			return "", errNoMarks
		}
		out.WriteString(p.text() + "\n")
	}
	return out.String(), nil
}

// places lists the stitches and chain spaces of a round; nil for the ring.
func places(g *model.Graph, round int) []model.EdgePlace {
	var list []model.EdgePlace
	if round >= 0 {
		for p := range g.Edge(round) {
			if p.Kind != notation.Gap {
				list = append(list, p)
			}
		}
	}
	return list
}

// A printer prints one round.
type printer struct {
	g     *model.Graph
	below []model.EdgePlace // not yet worked into or passed
	kind  notation.PlaceKind
	words []string
}

// round prints all stitches of a round; false where there are no marks.
func (p *printer) round(i int) bool {
	var last model.Node
	var inside, chains string // marks for the place last worked into, and after them
	flush := func() {
		switch {
		case inside == "":
		case p.kind == notation.Sp:
			p.words = append(p.words, "("+inside+")")
		case len(inside) > 1:
			p.words = append(p.words, "<"+inside+">")
		default:
			p.words = append(p.words, inside)
		}
		if chains != "" {
			p.words = append(p.words, chains)
		}
	}
	for n := range p.g.Nodes(i) {
		kind := p.g.Kind(n.ID).Name
		mark := markOf(kind)
		switch {
		case kind == "ch" && !n.Corner:
			chains += strings.Repeat("-", n.Chains)
			continue
		case mark == "" || n.Corner || n.Loop != notation.BothLoops || p.g.Stitch(n.ID).Chains > 0:
			return false
		}
		same := inside != "" && last.Place == n.Place && last.Below == n.Below
		if n.Place == notation.RingHole {
			same = same && chains == "" && !last.Gap // stitches of one group
		}
		if same {
			inside += chains + mark
		} else {
			flush()
			if !p.passTo(n) {
				return false
			}
			inside = mark
		}
		last, chains = n, ""
	}
	flush()
	for _, e := range p.below {
		p.pass(e)
	}
	return true
}

func markOf(stitch string) string {
	for mark, name := range marks {
		if name == stitch {
			return string(mark)
		}
	}
	return ""
}

// passTo goes along the round below to the place of a stitch.
func (p *printer) passTo(n model.Node) bool {
	first := p.kind == notation.NoPlace
	if first {
		p.kind = n.Place
	}
	if n.Place != p.kind {
		return false
	}
	if p.below == nil {
		return n.Place == notation.RingHole
	}
	at := slices.IndexFunc(p.below, func(e model.EdgePlace) bool { return e.Kind == n.Place && e.Stitch == n.Below })
	if at < 0 {
		return false
	}
	for _, e := range p.below[:at] {
		if first && e.Kind == p.kind {
			return false // the round does not begin where the one below began
		}
		p.pass(e)
	}
	p.below = p.below[at+1:]
	return true
}

func (p *printer) pass(e model.EdgePlace) {
	switch {
	case e.Kind != p.kind:
	case e.Kind == notation.St:
		p.words = append(p.words, "_")
	default:
		p.words = append(p.words, "=")
	}
}

// text joins the words of a round, and puts & for what comes again and again.
func (p *printer) text() string {
	n := len(p.words)
	for unit := 1; unit <= n/2 && p.below != nil; unit++ {
		if n%unit == 0 && slices.Equal(p.words[unit:], p.words[:n-unit]) {
			return strings.Join(p.words[:unit], "") + "&"
		}
	}
	return strings.Join(p.words, "")
}
