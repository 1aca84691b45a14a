package notation

import (
	"strconv"
	"strings"
)

// Terms is the set of stitch names a draft is written in. The same name means
// different stitches in the two sets: a dc of British terms is an sc of
// American ones. Names are resolved once, when a draft is parsed; everything
// after that speaks American terms, as the Craft Yarn Council's list does.
type Terms uint8

const (
	US Terms = iota // American terms, the default
	UK              // British terms
)

func (t Terms) String() string {
	if t == UK {
		return "uk"
	}
	return "us"
}

// Other returns the other set of terms.
func (t Terms) Other() Terms {
	if t == UK {
		return US
	}
	return UK
}

// known takes any other value for the default.
func (t Terms) known() Terms {
	if t == UK {
		return UK
	}
	return US
}

// adjective is how a message names the terms.
func (t Terms) adjective() string {
	if t == UK {
		return "UK"
	}
	return "US"
}

// A pair is one stitch under its two names. Sources: Craft Yarn Council,
// Standards & Guidelines for Knitting and Crochet, 5 Feb 2018, pp. 1-2, as
// read in the pages named here:
//
//	sc..dtr     Converting British Crochet Patterns, 3 Jul 2017;
//	            Mind your language
//	trtr, e...  by the shift rule of the first source: an American name counts
//	            one wrap fewer than the British name of the same stitch
type pair struct{ us, uk string }

// The stitches whose names differ, from short to tall.
var pairs = []pair{
	{"sc", "dc"},
	{"hdc", "htr"},
	{"dc", "tr"},
	{"tr", "dtr"},
	{"dtr", "trtr"},
	{"trtr", "qtr"},
	{"esc", "edc"},
	{"ehdc", "ehtr"},
	{"edc", "etr"},
	{"etr", "edtr"},
	{"rev sc", "rev dc"},
}

// The stitches that are called the same in both terms.
var shared = []string{
	"sl st", "ch", "picot", "cl", "puff", "popcorn", "bobble", "bullion",
}

// Other spellings in use, in both terms or in one.
var spellings = [...]map[string]string{
	US: {"slst": "sl st", "cluster": "cl", "ps": "puff", "pc": "popcorn", "bo": "bobble",
		"trc": "tr", "rsc": "rev sc", "crab": "rev sc"},
	UK: {"slst": "sl st", "cluster": "cl", "ps": "puff", "pc": "popcorn", "bo": "bobble",
		"ss": "sl st", "ttr": "dtr", "quadtr": "trtr", "rdc": "rev sc", "crab": "rev sc"},
}

var (
	toUS   [2]map[string]string // by terms: lower-case name to American name
	fromUS [2]map[string]string // by terms: American name to name
)

func init() {
	for _, t := range []Terms{US, UK} {
		toUS[t] = map[string]string{}
		fromUS[t] = map[string]string{}
		for _, p := range pairs {
			name := p.us
			if t == UK {
				name = p.uk
			}
			toUS[t][name] = p.us
			fromUS[t][p.us] = name
		}
		for _, s := range shared {
			toUS[t][s] = s
			fromUS[t][s] = s
		}
		for s, us := range spellings[t] {
			toUS[t][s] = us
		}
	}
}

// MaxTogether is the largest n of a stitch such as dc5tog. The limit is ours;
// the largest found in print is 11.
const MaxTogether = 99

// Parts are what a stitch name says: an optional post (FPdc), a base stitch,
// and for stitches closed together how many (dc3tog).
type Parts struct {
	Post     string // "", "FP" or "BP"
	Base     string // American name of the base stitch
	Together int    // 0 when the stitch has one leg
}

// Name joins the parts again, in American terms.
func (p Parts) Name() string {
	name := p.Post + p.Base
	if p.Together > 0 {
		name += strconv.Itoa(p.Together) + "tog"
	}
	return name
}

// Parse takes a stitch name in terms t, in any case, apart. ok is false for a
// name that t does not have.
func (t Terms) Parse(name string) (parts Parts, ok bool) {
	s := strings.ToLower(name)
	if base, found := toUS[t.known()][s]; found {
		return Parts{Base: base}, true
	}
	if cut, found := strings.CutSuffix(s, "tog"); found {
		base := strings.TrimRight(cut, "0123456789")
		n, err := strconv.Atoi(cut[len(base):])
		if err != nil || n < 2 || n > MaxTogether || cut[len(base)] == '0' {
			return Parts{}, false
		}
		s, parts.Together = base, n
	}
	if cut, found := strings.CutPrefix(s, "fp"); found {
		s, parts.Post = cut, "FP"
	} else if cut, found := strings.CutPrefix(s, "bp"); found {
		s, parts.Post = cut, "BP"
	}
	base, found := toUS[t.known()][s]
	if !found || !compounds[base] {
		return Parts{}, false
	}
	parts.Base = base
	return parts, true
}

// compounds are the base stitches that can be closed together or worked round
// a post.
var compounds = map[string]bool{
	"sc": true, "hdc": true, "dc": true, "tr": true, "dtr": true, "trtr": true,
	"esc": true, "ehdc": true, "edc": true, "etr": true, "sl st": true,
}

// Name returns what terms t call the stitch with the American name us, in the
// casing of the standard list. A name that is no stitch, such as that of a
// named group, comes back as it is.
func (t Terms) Name(us string) string {
	parts, ok := US.Parse(us)
	if !ok {
		return us
	}
	parts.Base = fromUS[t.known()][parts.Base]
	return parts.Name()
}

// Names lists the stitch names of t, for suggestions.
func (t Terms) Names() []string {
	names := make([]string, 0, len(pairs)+len(shared))
	for _, p := range pairs {
		names = append(names, fromUS[t.known()][p.us])
	}
	return append(names, shared...)
}
