package notation

import "iter"

// What is asked of a draft: its header line by line, its rounds, what its
// exceptions cover.

// Range returns where the draft begins and ends.
func (d *Draft) Range() Span {
	if len(d.Statements) == 0 {
		return Span{}
	}
	return Span{d.Statements[0].Range().Start, d.Statements[len(d.Statements)-1].Range().End}
}

// Rounds returns the round statements in the order of the text, those of
// borders too; Sections tells them apart.
func (d *Draft) Rounds() iter.Seq[*Round] {
	return statementsOf[*Round](d)
}

// Yarns returns the yarn declarations.
func (d *Draft) Yarns() iter.Seq[*Yarn] { return statementsOf[*Yarn](d) }

// StitchDefs returns the named groups.
func (d *Draft) StitchDefs() iter.Seq[*StitchDef] { return statementsOf[*StitchDef](d) }

// Allows returns the exceptions.
func (d *Draft) Allows() iter.Seq[*Allow] { return statementsOf[*Allow](d) }

// A Section is the rounds that are worked on one foundation.
type Section struct {
	// Foundation is the *Edge of a border; of the motif it is the *Ring, or
	// nil when the draft has no ring line.
	Foundation Statement
	Rounds     []*Round
}

// Sections divides the rounds into those of the motif, which come first and
// may be none, and those of each border.
func (d *Draft) Sections() []Section {
	list := []Section{{}}
	if r := first[*Ring](d); r != nil {
		list[0].Foundation = r
	}
	for _, s := range d.Statements {
		switch s := s.(type) {
		case *Edge:
			list = append(list, Section{Foundation: s})
		case *Round:
			last := &list[len(list)-1]
			last.Rounds = append(last.Rounds, s)
		}
	}
	return list
}

// A roundNumber is the number of the first round of a statement, and the edge it
// is worked on in a border.
type roundNumber struct {
	first int
	edge  EdgeName
}

// numbers lists the numbers of all round statements, as far as the text tells: 0
// after rounds that are worked up to a size.
func (d *Draft) numbers() []roundNumber {
	var list []roundNumber
	for _, section := range d.Sections() {
		next := 1
		var edge EdgeName
		if e, ok := section.Foundation.(*Edge); ok {
			edge = e.Of
		}
		for _, r := range section.Rounds {
			first := r.From
			if r.Next {
				first = next
			}
			list = append(list, roundNumber{first, edge})
			switch {
			case r.Until != nil:
				next = 0
				if r.Until.What == UntilRounds && r.Until.Rounds >= first {
					next = r.Until.Rounds + 1
				}
			case first > 0:
				next = first + r.To - r.From + 1
			}
		}
	}
	return list
}

// A Cover is what an allow line covers.
type Cover struct {
	Allow *Allow
	// Whole is set for a line in the header: it covers the whole draft.
	Whole bool
	// Over is what any other line covers, the next *Round or *Panel; nil when
	// none follows.
	Over Statement
}

// Covers lists the allow lines with what they cover.
func (d *Draft) Covers() []Cover {
	var covers []Cover
	header, waiting := true, 0 // covers[waiting:] wait for the next statement
	for _, s := range d.Statements {
		switch s := s.(type) {
		case *Allow:
			covers = append(covers, Cover{Allow: s, Whole: header})
		case *Round, *Panel:
			for i := waiting; i < len(covers) && !header; i++ {
				covers[i].Over = s
			}
			if _, round := s.(*Round); round {
				header = false
			}
			waiting = len(covers)
		}
	}
	return covers
}

// Title returns the motif's title, or "".
func (d *Draft) Title() string {
	if m := first[*Motif](d); m != nil {
		return m.Title
	}
	return ""
}

// Outline returns the intended outline, OutlineUnsaid when none is given.
func (d *Draft) Outline() Outline {
	if s := first[*Shape](d); s != nil {
		return s.Outline
	}
	return OutlineUnsaid
}

// Lies returns how the piece is meant to lie, Flat when nothing is said.
func (d *Draft) Lies() Lie {
	if l := first[*Lies](d); l != nil {
		return l.As
	}
	return Flat
}

// For returns who the piece is for, WearerUnsaid when nothing is said.
func (d *Draft) For() Wearer {
	if f := first[*For](d); f != nil {
		return f.Who
	}
	return WearerUnsaid
}

// Succession returns how rounds follow one another, Joined when nothing is
// said.
func (d *Draft) Succession() Succession {
	if w := first[*Working](d); w != nil {
		return w.Rounds
	}
	return Joined
}

// Start returns how rounds begin by default.
func (d *Draft) Start() Start {
	if b := first[*Begin](d); b != nil {
		return b.Start
	}
	return StartUnsaid
}

// RingChains returns the chains of the foundation ring, 0 for an adjustable
// ring, which is also what a draft without a ring line begins with.
func (d *Draft) RingChains() int {
	if r := first[*Ring](d); r != nil {
		return r.Chains
	}
	return 0
}

// Hook returns the hook line, or nil.
func (d *Draft) Hook() *Hook { return first[*Hook](d) }

// Gauge returns the gauge line, or nil.
func (d *Draft) Gauge() *Gauge { return first[*Gauge](d) }

// Weighed returns the weight of a swatch, or nil.
func (d *Draft) Weighed() *Weighed { return first[*Weighed](d) }

// Panel returns how motifs are made up, or nil.
func (d *Draft) Panel() *Panel { return first[*Panel](d) }

func statementsOf[S Statement](d *Draft) iter.Seq[S] {
	return func(yield func(S) bool) {
		for _, s := range d.Statements {
			if s, ok := s.(S); ok && !yield(s) {
				return
			}
		}
	}
}

// first returns the first statement of its type, or the zero value.
func first[S Statement](d *Draft) (s S) {
	for s = range statementsOf[S](d) {
		break
	}
	return s
}
