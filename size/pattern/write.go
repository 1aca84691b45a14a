package pattern

import (
	"bufio"
	"io"
	"strings"
	"unicode/utf8"
)

// WriteMarkdown writes the pattern as Markdown. What the draft says in its own
// words is escaped.
func (p *Pattern) WriteMarkdown(w io.Writer) error {
	out := bufio.NewWriter(w)
	out.WriteString("# " + escape(p.Title) + "\n")
	for _, s := range p.Sections {
		out.WriteString("\n## " + s.Heading + "\n")
		for i, e := range s.Entries {
			if !s.List || i == 0 {
				out.WriteString("\n")
			}
			if s.List {
				out.WriteString("- ")
			}
			if e.Term != "" {
				out.WriteString("**" + escape(e.Term) + ":** ")
			}
			out.WriteString(escape(e.Text) + "\n")
		}
	}
	return out.Flush()
}

// escape keeps Markdown from taking signs for its own. Brackets stand as they
// are: they link to nothing.
var escape = strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "<", `\<`, "#", `\#`, "](", `]\(`, "\t", " ", "\n", " ", "\r", " ").Replace

// width is how long the lines of plain text are, in characters.
const width = 78

// WriteText writes the pattern as plain text, in lines of at most 78
// characters where words allow.
func (p *Pattern) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	underlined(out, p.Title, "=")
	for _, s := range p.Sections {
		out.WriteString("\n")
		underlined(out, s.Heading, "-")
		for _, e := range s.Entries {
			text, indent := e.Text, ""
			if e.Term != "" {
				text = e.Term + ": " + text
			}
			if s.List {
				text, indent = "- "+text, "  "
			} else {
				out.WriteString("\n")
			}
			wrap(out, text, indent)
		}
	}
	return out.Flush()
}

func underlined(out *bufio.Writer, text, line string) {
	text = strings.Join(strings.Fields(text), " ")
	out.WriteString(text + "\n" + strings.Repeat(line, utf8.RuneCountInString(text)) + "\n")
}

// wrap breaks a text into lines; all but the first are indented.
func wrap(out *bufio.Writer, text, indent string) {
	at := 0
	for i, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case at+1+n > width:
			out.WriteString("\n" + indent)
			at = len(indent)
		default:
			out.WriteByte(' ')
			at++
		}
		out.WriteString(word)
		at += n
	}
	out.WriteByte('\n')
}
