package pattern

import (
	"fmt"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A Pattern is a written pattern. Its texts are plain, without any markup.
type Pattern struct {
	Title    string
	Terms    notation.Terms
	Sections []Section
}

// A Section is one part of a pattern.
type Section struct {
	Heading string
	Entries []Entry
	// List tells that the entries are items of a list, not paragraphs.
	List bool
}

// An Entry is one paragraph, or one item of a list.
type Entry struct {
	// Term is what the text is about: an abbreviation, "Rnd 3"; "" where it
	// speaks for itself.
	Term, Text string
}

// New writes a draft and the graph that was built from it as a pattern, in the
// given terms. The sheet gives measures and yarn; without one, nil, there are
// none. A draft with errors is written as far as it was worked, which nobody
// should publish.
func New(d *notation.Draft, g *model.Graph, sheet *size.Sheet, terms notation.Terms) *Pattern {
	l := languageOf(terms)
	p := &Pattern{Title: d.Title(), Terms: l.terms}
	if p.Title == "" {
		p.Title = "Motif without a name"
	}
	w := &writer{language: l, draft: d, g: g, sheet: sheet, pieces: newPieces(l, d, g)}
	w.notes = w.pieces[0].notes
	work := append([]Section{w.motif()}, w.making()...)
	special := Section{Heading: "Special stitches", Entries: w.special(), List: true}
	notes := Section{Heading: "Notes", Entries: w.remarks(), List: true}
	finishing := Section{Heading: "Finishing", Entries: w.finishing()}
	words := append([]Section{special, notes, finishing}, work...)
	sections := []Section{
		{Heading: "About this pattern", Entries: w.about()},
		{Heading: "Materials", Entries: w.materials(), List: true},
		{Heading: sentence(l.gauge), Entries: w.gaugeEntries()},
		{Heading: "Finished size", Entries: w.measurements(), List: true},
		{Heading: "Abbreviations", Entries: w.abbreviations(words), List: true},
		special, notes,
	}
	sections = append(append(sections, work...), finishing, Section{Heading: "Cautions", Entries: w.cautions(), List: true})
	for _, s := range sections {
		if len(s.Entries) > 0 {
			p.Sections = append(p.Sections, s)
		}
	}
	return p
}

// A writer writes the parts of a pattern around its rounds.
type writer struct {
	*language
	draft  *notation.Draft
	g      *model.Graph
	sheet  *size.Sheet
	pieces []*piece // the motif, then the borders
	notes  *notes   // of all of them
}

// motif writes the rounds of the motif.
func (w *writer) motif() Section {
	s := Section{Heading: "Instructions"}
	piece := w.pieces[0]
	if p := w.g.Panel(); p != nil {
		s.Heading = "Motif"
		text := "Make 1."
		if p.Motifs > 1 {
			text = fmt.Sprintf("Make %d alike.", p.Motifs)
		}
		s.Entries = append(s.Entries, Entry{"", text})
	}
	if ring := piece.ring(); ring != "" {
		s.Entries = append(s.Entries, Entry{"Ring", ring})
	}
	s.Entries = append(s.Entries, entries(piece.rounds())...)
	return s
}

// entries are rounds with their counts behind them.
func entries(rounds []Round) []Entry {
	var list []Entry
	for _, r := range rounds {
		text := r.Text
		if r.Count != "" {
			text += " (" + r.Count + ")"
		}
		list = append(list, Entry{r.Label(), text})
	}
	return list
}

// Rounds writes the rounds of the motif alone.
func Rounds(d *notation.Draft, g *model.Graph, terms notation.Terms) []Round {
	p := newPieces(languageOf(terms), d, g)[0]
	p.ring()
	return p.rounds()
}
