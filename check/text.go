package check

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/roundel/notation"
)

// WriteText writes the findings of a report, one to a line:
//
//	file:line:col: severity: message [rule]
//
// With excerpts each is followed by the line it is about, the place marked
// under it, and the other places that the message speaks of.
func WriteText(w io.Writer, r *Report, excerpts bool) error {
	out := bufio.NewWriter(w)
	for _, f := range r.Findings {
		text := fmt.Sprintf("%s:%d:%d: %s: %s [%s]", r.File, f.Span.Start.Line, f.Span.Start.Column, f.Severity, f.Text(), f.Rule)
		fmt.Fprintln(out, visible(text))
		if !excerpts {
			continue
		}
		out.WriteString(excerpt(r.Source, f.Span))
		for _, rel := range f.Related {
			text := fmt.Sprintf("%s:%d:%d: %s", r.File, rel.Span.Start.Line, rel.Span.Start.Column, rel.Message)
			fmt.Fprintf(out, "    %s\n", visible(text))
		}
	}
	return out.Flush()
}

// WriteFixed writes the findings of a file that were fixed, one to a line:
//
//	file:line:col: fixed: what was done [rule]
func WriteFixed(w io.Writer, file string, made []Finding) error {
	out := bufio.NewWriter(w)
	for _, f := range made {
		fix, _ := f.Fix()
		text := fmt.Sprintf("%s:%d:%d: fixed: %s [%s]", file, f.Span.Start.Line, f.Span.Start.Column, fix.Message, f.Rule)
		fmt.Fprintln(out, visible(text))
	}
	return out.Flush()
}

// excerptWidth is how much of a long line an excerpt shows, in runes.
const excerptWidth = 100

// excerpt shows the line that a span begins in, with carets under the span. A
// span that goes on in further lines is marked to the end of its first, an
// empty one with one caret; of a long line the part round the span is shown. A
// source without such a place, or none at all, gives no excerpt.
func excerpt(source string, s notation.Span) string {
	if source == "" || s.Start.Offset < 0 || s.Start.Offset > len(source) {
		return ""
	}
	before, more := lineBefore(source, s.Start.Offset)
	after, rest := lineAfter(source, s.Start.Offset)
	marked := 0
	if to := min(s.End.Offset, len(source)); to > s.Start.Offset {
		marked = min(utf8.RuneCountInString(source[s.Start.Offset:to]), len(after))
	}
	if len(before)+len(after) > excerptWidth {
		// A third of the width goes to what stands before the span, and more
		// where little stands after it.
		keep := min(len(before), max(excerptWidth/3, excerptWidth-len(after)))
		more = keep < len(before)
		before = before[len(before)-keep:]
		rest = len(after) > excerptWidth-keep
		after = after[:min(len(after), excerptWidth-keep)]
		marked = min(marked, len(after))
	}
	lead, tail := "", ""
	if more {
		lead = "..."
	}
	if rest {
		tail = "..."
	}
	carets := under(after[:marked], '^')
	if marked == 0 {
		carets = "^"
	}
	return fmt.Sprintf("    %s%s%s\n    %s%s%s\n", lead, visible(string(before)+string(after)), tail,
		strings.Repeat(" ", len(lead)), under(before, ' '), carets)
}

// lineBefore returns what stands before a place in its line, as far as an
// excerpt may show it; more tells that the line begins further back. No more
// than that is looked at, as a line may be very long.
func lineBefore(source string, at int) (text []rune, more bool) {
	from := at
	for n := 0; n < excerptWidth && from > 0 && source[from-1] != '\n'; n++ {
		_, size := utf8.DecodeLastRuneInString(source[:from])
		from -= size
	}
	more = from > 0 && source[from-1] != '\n'
	// A byte order mark is no part of the text.
	return []rune(strings.TrimPrefix(source[from:at], "\uFEFF")), more
}

// lineAfter returns the rest of the line from a place on, in the same way.
func lineAfter(source string, at int) (text []rune, more bool) {
	to := at
	for n := 0; n < excerptWidth && to < len(source) && source[to] != '\n'; n++ {
		_, size := utf8.DecodeRuneInString(source[to:])
		to += size
	}
	if rest := strings.TrimPrefix(source[to:], "\r"); rest != "" && rest[0] != '\n' {
		return []rune(source[at:to]), true
	}
	return []rune(strings.TrimRight(source[at:to], "\r")), false
}

// under returns marks as wide as a text. Tabs stay tabs, as nobody knows how
// wide the terminal shows them.
func under(text []rune, mark byte) string {
	var b strings.Builder
	for _, r := range []rune(visible(string(text))) {
		switch {
		case r == '\t' && (mark == ' ' || b.Len() > 0):
			b.WriteByte('\t')
		default:
			for range width(r) {
				b.WriteByte(mark)
			}
		}
	}
	return b.String()
}

// width is how many columns a terminal gives to a rune: none to a mark that
// sits on the letter before it, two to the ideographs, syllables and pictures
// that are as wide as two letters.
func width(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case r >= 0xFF61 && r <= 0xFFDC: // the narrow forms of wide letters
		return 1
	case unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana),
		r >= 0x3000 && r <= 0x303E, r >= 0xFF01 && r <= 0xFF60, r >= 0xFFE0 && r <= 0xFFE6,
		r >= 0x1F300 && r <= 0x1F64F, r >= 0x1F680 && r <= 0x1F6FF, r >= 0x1F900 && r <= 0x1FAFF:
		return 2
	}
	return 1
}

// visible puts a replacement character for whatever would move the cursor,
// turn the direction of the text, or not be seen at all: shown as it is, it
// could make a line say something that the draft does not.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) {
			return utf8.RuneError
		}
		return r
	}, text)
}
