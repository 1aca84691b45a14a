package notation

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// How messages say names, tokens and numbers.

// shown is how a message says a name.
func shown(n Name) string { return printable(n.Text) }

// printable returns text fit for a message: what cannot be shown spelled out,
// and not too long.
func printable(s string) string {
	out := make([]rune, 0, len(s))
	for i, r := range s {
		if len(out) == 24 {
			return string(out) + "..."
		}
		if r == utf8.RuneError {
			if _, size := utf8.DecodeRuneInString(s[i:]); size == 1 {
				out = append(out, []rune(fmt.Sprintf(`\x%02x`, s[i]))...)
				continue
			}
		}
		if !unicode.IsPrint(r) {
			out = append(out, []rune(fmt.Sprintf("%U", r))...)
			continue
		}
		out = append(out, r)
	}
	return string(out)
}

// quoted shows a token in a message.
func quoted(t token) string {
	if t.kind == tokString {
		return "the text " + printable(t.value)
	}
	return `"` + printable(t.value) + `"`
}

// coded shows a character that is not on every keyboard with its number, since
// it may look like one that is.
func coded(t token) string {
	r, size := utf8.DecodeRuneInString(t.value)
	if size == len(t.value) && r >= utf8.RuneSelf && unicode.IsPrint(r) {
		return quoted(t) + fmt.Sprintf(" (%U)", r)
	}
	return quoted(t)
}

// kindName is how a message names the places.
func (p *Place) kindName() string {
	if p.Kind == OfStitch {
		return shown(p.Stitch)
	}
	return p.Kind.String()
}

// shortList names the first few of a list.
func shortList(list []string) string {
	const most = 8
	var out []string
	for _, s := range list[:min(len(list), most)] {
		out = append(out, printable(s))
	}
	if rest := len(list) - most; rest > 0 {
		out = append(out, "and "+plural(rest, "other"))
	}
	return strings.Join(out, ", ")
}

// plural says how many of a thing there are: 1 place, 2 places.
func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// thousands writes a number with a comma at every third digit.
func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
