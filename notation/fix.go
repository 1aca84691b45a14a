package notation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Fix is one way to mend what a finding is about.
type Fix struct {
	// Message says what the fix does: "claim 12 dc".
	Message string
	// Certain is set where nothing else can be right, so that the fix may be
	// made without asking. Any other fix is for the designer to choose.
	Certain bool
	// Edits change the draft as it was given. They belong together, do not
	// overlap, and are in the order of the text.
	Edits []Edit
}

// write is the fix that puts a text in place of another.
func write(at Span, text string, certain bool) Fix {
	return Fix{Message: writing(text), Certain: certain, Edits: []Edit{{Span: at, New: text}}}
}

// writing says what is written.
func writing(text string) string {
	switch text {
	case ",":
		text = "a comma"
	case ":":
		text = "a colon"
	case "-":
		text = "a hyphen"
	case `"`:
		text = "straight quotes"
	}
	return "write " + text
}

// offer adds a fix, if it changes anything, to a finding that was taken.
func (f *Finding) offer(fix Fix) {
	if f != nil && len(fix.Edits) > 0 {
		f.Fixes = append(f.Fixes, fix)
	}
}

// An Edit puts a new text in place of a stretch of a draft, from one Offset to
// the other: lines and columns are not looked at. An empty span is a place
// between two characters, and the edit an insertion.
type Edit struct {
	Span Span
	New  string
}

// Overlaps reports whether two edits cannot both be made: they change the same
// text, one inserts into what the other changes, or both insert at the same
// place, where nobody could say which text comes first.
func (e Edit) Overlaps(f Edit) bool {
	from, to, otherFrom, otherTo := e.Span.Start.Offset, e.Span.End.Offset, f.Span.Start.Offset, f.Span.End.Offset
	return from == otherFrom && to == otherTo || from < otherTo && otherFrom < to
}

// Compare puts edits in the order of the text.
func (e Edit) Compare(f Edit) int {
	return cmp.Or(
		cmp.Compare(e.Span.Start.Offset, f.Span.Start.Offset),
		cmp.Compare(e.Span.End.Offset, f.Span.End.Offset),
		strings.Compare(e.New, f.New),
	)
}

// Same reports whether two fixes make the same edits.
func (f Fix) Same(g Fix) bool { return slices.Equal(f.Edits, g.Edits) }

// ApplyEdits makes edits of a text; those given twice are made once. Whatever
// no edit is about keeps every byte. The error is an *EditError, when an edit
// lies outside the text, or two of them overlap.
func ApplyEdits(text string, edits ...Edit) (string, error) {
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, Edit.Compare)
	edits = slices.Compact(edits)
	var out strings.Builder
	at := 0
	for i, e := range edits {
		from, to := e.Span.Start.Offset, e.Span.End.Offset
		switch {
		case from < 0 || from > to || to > len(text):
			return "", &EditError{Edit: e}
		case i > 0 && (from < at || e.Overlaps(edits[i-1])):
			return "", &EditError{Edit: e, Other: &edits[i-1]}
		}
		out.WriteString(text[at:from])
		out.WriteString(e.New)
		at = to
	}
	out.WriteString(text[at:])
	return out.String(), nil
}

// An EditError refuses an edit that lies outside the text, or overlaps with
// another.
type EditError struct {
	Edit  Edit
	Other *Edit // the one it overlaps with; nil when it lies outside the text
}

func (e *EditError) Error() string {
	if e.Other == nil {
		return fmt.Sprintf("the edit of %s lies outside the text", e.Edit.stretch())
	}
	return fmt.Sprintf("the edits of %s and of %s overlap", e.Other.stretch(), e.Edit.stretch())
}

// stretch says what an edit replaces.
func (e Edit) stretch() string {
	return fmt.Sprintf("bytes %d to %d", e.Span.Start.Offset, e.Span.End.Offset)
}
