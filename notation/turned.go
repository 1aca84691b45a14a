package notation

import (
	"strings"
	"unicode/utf8"
)

// checkTurned reports characters in a comment or a text in quotes that turn the
// direction of writing round and are not undone before it ends: the line would
// be seen otherwise than it is read. (Unicode Technical Report 36, Security
// Considerations, on bidirectional text; from memory.)
func (p *draftParser) checkTurned() {
	for _, t := range p.tokens {
		if t.kind != tokComment && t.kind != tokString || strings.IndexByte(t.value, '\xe2') < 0 {
			continue
		}
		if at := turned(t.value); at >= 0 {
			r, size := utf8.DecodeRuneInString(t.value[at:])
			start := t.start
			start.Offset, start.Column = start.Offset+at, start.Column+utf8.RuneCountInString(t.value[:at])
			end := start
			end.Offset, end.Column = end.Offset+size, end.Column+1
			p.report("syntax", Span{start, end}, "%U turns the writing round from here on, and nothing turns it back before the text ends: it would be seen otherwise than it is read; take the character out", r)
		}
	}
}

// turned returns where a text is turned round without being turned back, -1 if
// it is not. What ends an embedding does not reach past the isolate it stands
// in; what ends an isolate ends the embeddings inside it too. (Unicode Standard
// Annex 9, Unicode Bidirectional Algorithm, rules X6a and X7; from memory.)
func turned(text string) int {
	type turn struct {
		at      int
		isolate bool
	}
	var open []turn
	isolates := 0 // of those open
	for i, r := range text {
		switch {
		case r >= '\u202a' && r <= '\u202b' || r >= '\u202d' && r <= '\u202e':
			open = append(open, turn{at: i})
		case r >= '\u2066' && r <= '\u2068':
			open = append(open, turn{at: i, isolate: true})
			isolates++
		case r == '\u202c' && len(open) > 0 && !open[len(open)-1].isolate:
			open = open[:len(open)-1]
		case r == '\u2069' && isolates > 0:
			for !open[len(open)-1].isolate {
				open = open[:len(open)-1]
			}
			open = open[:len(open)-1]
			isolates--
		}
	}
	if len(open) == 0 {
		return -1
	}
	return open[0].at
}
