package pattern

import (
	"fmt"
	"strings"

	"example.com/roundel/notation"
)

// A language is the words that differ between the two sets of terms. Sources:
// pairs of terms in "Mind your language", "Converting British Crochet
// Patterns" (site, 3 Jul 2017) and "Master Crochet Symbols Easily"; yrh in
// Shawls & Wraps CB960, 2015, p. 9; ss in a magazine of 2020.
type language struct {
	terms                     notation.Terms
	name                      string // of the terms
	slip, skipName, yo, gauge string
	colour, centre            string
	yarnOver                  string // yo in full
}

var languages = [...]*language{
	notation.US: {
		terms: notation.US, name: "US", slip: "sl st", skipName: "sk", yo: "yo", gauge: "gauge",
		colour: "color", centre: "center",
		yarnOver: "yarn over",
	},
	notation.UK: {
		terms: notation.UK, name: "UK", slip: "ss", skipName: "miss", yo: "yrh", gauge: "tension",
		colour: "colour", centre: "centre",
		yarnOver: "yarn round hook",
	},
}

// languageOf returns the words of some terms; those of the default, US, for any
// that there are not.
func languageOf(t notation.Terms) *language {
	if t == notation.UK {
		return languages[notation.UK]
	}
	return languages[notation.US]
}

// stitch is what a stitch is called, given its American name.
func (l *language) stitch(us string) string {
	if us == "sl st" {
		return l.slip
	}
	return l.terms.Name(us)
}

// words are stitches whose name is a word, which takes an s.
var words = map[string]bool{"picot": true, "puff": true, "popcorn": true, "bobble": true, "bullion": true}

// stitches is so many of a stitch: "3 dc", "2 popcorns", and for one the bare
// name.
func (l *language) stitches(n int, us string) string {
	switch name := l.stitch(us); {
	case n == 1:
		return name
	case words[us]:
		return fmt.Sprintf("%d %ss", n, name)
	default:
		return fmt.Sprintf("%d %s", n, name)
	}
}

// plural is a noun for so many of it.
func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// ordinal is first, 2nd, 3rd and so on.
func ordinal(n int) string {
	suffix := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	if n == 1 {
		return "first"
	}
	return fmt.Sprintf("%d%s", n, suffix)
}

// and joins the items of a list.
func and(items []string) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	last := len(items) - 1
	return strings.Join(items[:last], ", ") + " and " + items[last]
}

// sentence begins a text with a capital.
func sentence(text string) string {
	if text != "" && 'a' <= text[0] && text[0] <= 'z' {
		return strings.ToUpper(text[:1]) + text[1:]
	}
	return text
}
