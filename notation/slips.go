package notation

import (
	"slices"
	"strings"
)

// The fixes of slips in a statement that cannot be read.

// rewrite is the fix that writes other words for tokens of the statement, with
// all that are written in the same way, so that a habit of the designer's costs
// one fix. The function says what to write for the token at i; ok is false for
// one that stays.
func (p *draftParser) rewrite(certain bool, words func(i int) (text string, ok bool)) Fix {
	fix := Fix{Certain: certain}
	var says []string
	for i, t := range p.stmt {
		text, ok := words(i)
		if !ok {
			continue
		}
		fix.Edits = append(fix.Edits, Edit{t.span(), text})
		if say := writing(text); !slices.Contains(says, say) {
			says = append(says, say)
		}
	}
	fix.Message = strings.Join(says, ", ")
	return fix
}

// instead is the words for tokens that read like any of several.
func (p *draftParser) instead(text string, of ...string) func(i int) (string, bool) {
	return func(i int) (string, bool) { return text, slices.Contains(of, strings.ToLower(p.stmt[i].value)) }
}

// comma is the fix that writes a comma in place of a word between two steps.
func (p *draftParser) comma(at int, certain bool) Fix {
	span := p.tok(at).span()
	if before := p.tok(at - 1).end; before.Line == span.Start.Line { // else a comment may stand between
		span.Start = before
	}
	return write(span, ",", certain)
}

// leaveOut is the fix that leaves out a token, with the blanks after it.
func (p *draftParser) leaveOut(at int, certain bool) Fix {
	span := p.tok(at).span()
	if next := p.tok(at + 1).start; next.Line == span.End.Line {
		span.End = next
	}
	return Fix{Message: "leave out " + printable(p.tok(at).value), Certain: certain, Edits: []Edit{{Span: span}}}
}

// mostSlips bounds the slips of different kinds that one fix puts right.
const mostSlips = 10

// seeThrough takes the certain fix of a statement that cannot be read to its
// end: where the statement has further slips their fixes must be certain too,
// and are made with it. A fix after which the statement still does not parse is
// not certain.
func (p *draftParser) seeThrough(f *Finding) {
	i := slices.IndexFunc(f.Fixes, func(fix Fix) bool { return fix.Certain })
	if i < 0 || p.trial {
		return
	}
	fix := &f.Fixes[i]
	fix.Certain = false
	text, edits := p.text[p.at.Start.Offset:p.at.End.Offset], slices.Clone(fix.Edits)
	for i := range edits {
		edits[i].Span.Start.Offset -= p.at.Start.Offset
		edits[i].Span.End.Offset -= p.at.Start.Offset
	}
	says := []string{fix.Message}
	for len(says) <= mostSlips {
		var err error
		if text, err = ApplyEdits(text, edits...); err != nil {
			return
		}
		left := p.trialOf(text)
		at := slices.IndexFunc(left, func(f Finding) bool { return f.Rule == "syntax" || f.Rule == "limit" })
		if at < 0 {
			fix.Certain = true
			break
		}
		next, ok := left[at].Fix()
		if !ok {
			return
		}
		edits = next.Edits
		says = append(says, next.Message)
	}
	if len(says) > 1 && fix.Certain {
		*fix = Fix{Message: strings.Join(says, ", "), Certain: true, Edits: []Edit{{p.at, text}}}
	}
}

// trialOf parses a text only to see whether a fix mends it: the fixes found on
// the way are not seen through.
func (p *draftParser) trialOf(text string) []Finding {
	q := newParser("", text, p.config)
	q.trial = true
	q.parse()
	return SortFindings(q.findings)
}
