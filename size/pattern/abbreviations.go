package pattern

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/roundel/notation"
)

// Abbreviations are found in the finished text, so that those that are used are
// listed and no others. Their meanings: Craft Yarn Council, Standards &
// Guidelines for Knitting and Crochet, 5 Feb 2018, p. 1, as read in
// "Understanding Crochet Abbreviations" (site, 16 Sep 2022), "Abbreviations in
// Crochet Patterns" (site, 30 Jan 2012) and glossaries of printed patterns; UK
// names by "Converting British Crochet Patterns" (site, 3 Jul 2017).

// names are stitches in full, by American name: US, UK.
var names = map[string][2]string{
	"sl st":  {"slip stitch", "slip stitch"},
	"sc":     {"single crochet", "double crochet"},
	"hdc":    {"half double crochet", "half treble"},
	"dc":     {"double crochet", "treble"},
	"tr":     {"treble crochet", "double treble"},
	"dtr":    {"double treble crochet", "triple treble"},
	"trtr":   {"triple treble crochet", "quadruple treble"},
	"esc":    {"extended single crochet", "extended double crochet"},
	"ehdc":   {"extended half double crochet", "extended half treble"},
	"edc":    {"extended double crochet", "extended treble"},
	"etr":    {"extended treble crochet", "extended double treble"},
	"rev sc": {"reverse single crochet", "reverse double crochet"},
	"cl":     {"cluster", "cluster"},
}

// fullName is what a stitch abbreviation of these terms stands for; "" for
// what is none.
func (l *language) fullName(abbreviation string) string {
	parts, ok := l.terms.Parse(abbreviation)
	if !ok {
		return ""
	}
	full, ok := names[parts.Base]
	if !ok {
		return ""
	}
	name := full[l.terms]
	switch parts.Post {
	case "FP":
		name = "front post " + name
	case "BP":
		name = "back post " + name
	}
	if parts.Together > 0 {
		name += " " + strconv.Itoa(parts.Together)
		if l.terms == notation.US {
			name += " stitches"
		}
		name += " together"
	}
	return name
}

// general are the abbreviations that are no stitches.
func (l *language) general(word string) (abbreviation, meaning string) {
	switch word {
	case "ch":
		return "ch", "chain"
	case "st", "sts":
		return "st", "stitch"
	case "sp", "sps":
		return "sp", "space"
	case "rnd", "rnds":
		return "rnd", "round"
	case "lp", "lps":
		return "lp", "loop"
	case l.yo:
		return l.yo, l.yarnOver
	case "RS":
		return "RS", "right side"
	case "WS":
		return "WS", "wrong side"
	case "BLO":
		return "BLO", "back loop only"
	case "FLO":
		return "FLO", "front loop only"
	case "sk":
		if l.terms == notation.US {
			return "sk", "skip"
		}
	}
	return "", ""
}

var word = regexp.MustCompile(`ch-\d+ sp|sl st|rev [sd]c|\d*[A-Za-z]+[A-Za-z0-9]*`)

// abbreviations lists those used in sections of the text.
func (w *writer) abbreviations(sections []Section) []Entry {
	found := map[string]string{}
	signs := map[string]bool{}
	look := func(text string) {
		for _, s := range word.FindAllString(text, -1) {
			low := strings.ToLower(s[:1]) + s[1:]
			switch {
			case strings.HasPrefix(s, "ch-"):
				found["ch-1 sp, ch-2 sp, ..."] = "space made by so many chains"
				found["ch"], found["sp"] = "chain", "space"
			default:
				for _, t := range []string{s, low} {
					if a, meaning := w.general(t); a != "" {
						found[a] = meaning
						break
					}
					if full := w.fullName(t); full != "" && t == w.abbreviationOf(t) {
						found[t] = full
						break
					}
				}
			}
		}
		for _, sign := range []string{"[", "{"} {
			if strings.Contains(text, sign) {
				signs[sign] = true
			}
		}
		if strings.Contains(text, ") in ") || strings.Contains(text, ") around ") {
			signs["("] = true
		}
	}
	for _, s := range sections {
		for _, e := range s.Entries {
			look(e.Term)
			look(e.Text)
		}
	}
	list := make([]Entry, 0, len(found)+3)
	for a, meaning := range found {
		list = append(list, Entry{a, meaning})
	}
	slices.SortFunc(list, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(strings.ToLower(a.Term), strings.ToLower(b.Term)), cmp.Compare(a.Term, b.Term))
	})
	if signs["["] {
		list = append(list, Entry{"[ ]", "work what is inside as many times in all as is said after it"})
	}
	if signs["{"] {
		list = append(list, Entry{"{ }", "the same, within [ ] or ( )"})
	}
	if signs["("] {
		list = append(list, Entry{"( )", "work what is inside into the one place named after it"})
	}
	return list
}

// abbreviationOf is how these terms write a stitch, so that other spellings
// are not taken for abbreviations.
func (l *language) abbreviationOf(name string) string {
	parts, ok := l.terms.Parse(name)
	if !ok {
		return ""
	}
	return l.stitch(parts.Name())
}
