package model

import (
	"strings"

	"example.com/roundel/notation"
)

// A Height is the height class of a stitch: how tall it stands, from the chain
// upwards. Package size gives the classes their measures.
type Height uint8

// The height classes, from low to high.
const (
	Level  Height = iota // chains and picots: no height of their own
	Slip                 // slip stitch
	Single               // single crochet and its like
	ExtendedSingle
	Half
	ExtendedHalf
	Double
	ExtendedDouble
	Treble
	ExtendedTreble
	DoubleTreble
	TripleTreble
)

// A Kind is a kind of stitch.
type Kind struct {
	Name     string // American name, in the standard's casing
	UK       string // British name
	Legs     int    // legs the stitch stands on; more than 1 for dc3tog
	Together bool   // closed together with one top (dc3tog, cl)
	Post     string // "FP" or "BP" when worked round the post below
	Height   Height
	// Symbol names the drawing of the stitch in a chart: a plain word for the
	// shape, such as "tall-1" for a stem with a bar and one slash.
	Symbol string
	Source string // where the name and the meaning were read
}

// A row of the table of base stitches. Sources of the names, unless a row
// says otherwise: Craft Yarn Council, Standards & Guidelines for Knitting and
// Crochet, 5 Feb 2018, p. 1, as read in the page named in the row. Symbols:
// the same, p. 3.
type row struct {
	name   string
	legs   int
	height Height
	symbol string
	source string
}

var rows = []row{
	{"ch", 0, Level, "oval", "Understanding Crochet Abbreviations, 16 Sep 2022"},
	{"picot", 0, Level, "loop", "Pixie Wings, abbreviations and special stitches: ch 3, sl st to the first ch"},
	{"sl st", 1, Slip, "dot", "J. Leinhauser, How to Read a Crochet Pattern"},
	{"sc", 1, Single, "cross", "J. Leinhauser, How to Read a Crochet Pattern"},
	{"rev sc", 1, Single, "cross-wave", "a list of abbreviations for knitting and crochet, undated"},
	{"esc", 1, ExtendedSingle, "cross-stem", "Abbreviations in Crochet Patterns, 30 Jan 2012"},
	{"hdc", 1, Half, "tall-0", "J. Leinhauser, How to Read a Crochet Pattern"},
	{"ehdc", 1, ExtendedHalf, "tall-0-stem", "from memory"},
	{"dc", 1, Double, "tall-1", "J. Leinhauser, How to Read a Crochet Pattern"},
	{"edc", 1, ExtendedDouble, "tall-1-stem", "from memory"},
	{"tr", 1, Treble, "tall-2", "J. Leinhauser, How to Read a Crochet Pattern"},
	{"etr", 1, ExtendedTreble, "tall-2-stem", "from memory"},
	{"dtr", 1, DoubleTreble, "tall-3", "Abbreviations in Crochet Patterns, 30 Jan 2012"},
	{"trtr", 1, TripleTreble, "tall-4", "Crochet Stitch Heights"},
	// Stitches of several loops or legs with one top. Their height is that of
	// the stitches they are usually made of.
	{"cl", 1, Double, "cluster", "Abbreviations in Crochet Patterns, 30 Jan 2012 (CL)"},
	{"puff", 1, Half, "puff", "Shawls & Wraps CB960, 2015, p. 9 (PS)"},
	{"bobble", 1, Double, "bobble", "from memory"},
	{"popcorn", 1, Double, "popcorn", "Pixie Wings (pc)"},
	{"bullion", 1, Double, "bullion", "I. Beeton, Beeton's Book of Needlework, 1870, fig. 249"},
}

var baseRows = func() map[string]row {
	m := make(map[string]row, len(rows))
	for _, r := range rows {
		m[r.name] = r
	}
	return m
}()

// Lookup returns the kind with the given American name: a base stitch, one
// worked round the post (FPdc), or several closed together (dc3tog, for any
// number up to notation.MaxTogether). ok is false for any other name.
func Lookup(name string) (k Kind, ok bool) {
	parts, ok := notation.US.Parse(name)
	if !ok {
		return Kind{}, false
	}
	r, ok := baseRows[parts.Base]
	if !ok {
		return Kind{}, false
	}
	k = Kind{Name: parts.Name(), Legs: r.legs, Height: r.height, Symbol: r.symbol, Source: r.source, Post: parts.Post}
	k.UK = notation.UK.Name(k.Name)
	k.Together = parts.Base == "cl"
	if parts.Together > 0 {
		k.Legs, k.Together = parts.Together, true
		k.Symbol = "together-" + r.symbol
		k.Source = "dc2tog in the same list; others by the same rule"
	}
	if parts.Post != "" {
		k.Symbol = strings.ToLower(parts.Post) + "-" + k.Symbol
		k.Source = "FPdc, BPdc in the same list; others by the same rule"
	}
	return k, true
}

// Kinds returns the table of base stitches, from short to tall; the families
// (dc2tog, FPdc) are formed from them by Lookup.
func Kinds() []Kind {
	list := make([]Kind, 0, len(rows))
	for _, r := range rows {
		k, _ := Lookup(r.name)
		list = append(list, k)
	}
	return list
}
