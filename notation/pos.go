package notation

import "fmt"

// A Pos is a place in a draft. Line and Column count from 1, Column in runes;
// Offset counts bytes from 0. The zero Pos is no place at all: nodes that were
// built rather than parsed carry it.
type Pos struct {
	Offset, Line, Column int
}

// IsValid reports whether p came from a text.
func (p Pos) IsValid() bool { return p.Line > 0 }

// String returns "line:column", or "-" for no place.
func (p Pos) String() string {
	if !p.IsValid() {
		return "-"
	}
	return fmt.Sprintf("%d:%d", p.Line, p.Column)
}

// A Span is a stretch of a draft, from Start up to but not including End.
type Span struct {
	Start, End Pos
}

// Range returns s itself; every node embeds a Span and so answers Range.
func (s Span) Range() Span { return s }

// String returns "line:column-line:column", or "-" for no place.
func (s Span) String() string {
	if !s.Start.IsValid() {
		return "-"
	}
	return s.Start.String() + "-" + s.End.String()
}
