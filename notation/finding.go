package notation

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// A Severity says how much a finding matters.
type Severity uint8

const (
	// Info is worth knowing and needs no change.
	Info Severity = iota + 1
	// Warning is likely to be a slip, or will look wrong to a reader.
	Warning
	// Error is a draft that cannot be worked as written, or says something
	// about itself that is not so.
	Error
)

func (s Severity) String() string {
	switch s {
	case Info:
		return "info"
	case Warning:
		return "warning"
	case Error:
		return "error"
	}
	return "none"
}

// A Finding is one thing to report about a draft. Every stage reports in this
// type: reading the text, working the rounds, and the rules of package check.
type Finding struct {
	Rule     string // stable id of the rule, such as "claim-count"
	Severity Severity
	// Message says what was found, what was expected and, where there is
	// one, the smallest fix.
	Message string
	Span    Span
	// Related are the other places the message speaks of.
	Related []Related
	// Fixes are ways to mend the draft. Of several, at most one is to be made.
	Fixes []Fix
	// Held counts findings that were not reported because they would only
	// repeat this one further on. Text says so in words.
	Held int
	// Round is the number of the round the finding belongs to, 0 for the
	// header or the draft as a whole.
	Round int
	// Edge is the edge of a panel whose border that round belongs to, "" for a
	// round of the motif.
	Edge EdgeName
}

// A Related is a second place that explains a finding.
type Related struct {
	Message string
	Span    Span
}

// Text returns the message, with a sentence about findings held back.
func (f Finding) Text() string {
	switch f.Held {
	case 0:
		return f.Message
	case 1:
		return f.Message + " (1 finding that only follows from this one is held back)"
	}
	return f.Message + " (" + strconv.Itoa(f.Held) + " findings that only follow from this one are held back)"
}

// Fix returns the fix that is certain; ok is false where none is.
func (f Finding) Fix() (fix Fix, ok bool) {
	i := slices.IndexFunc(f.Fixes, func(fix Fix) bool { return fix.Certain })
	if i < 0 {
		return Fix{}, false
	}
	return f.Fixes[i], true
}

// SortFindings puts findings in the order of their places in the draft and
// drops exact repetitions.
func SortFindings(list []Finding) []Finding {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(a.Span.Start.Offset, b.Span.Start.Offset),
			cmp.Compare(a.Span.End.Offset, b.Span.End.Offset),
			strings.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Round, b.Round),
			strings.Compare(a.Message, b.Message),
		)
	})
	return slices.CompactFunc(list, func(a, b Finding) bool {
		return a.Span == b.Span && a.Rule == b.Rule && a.Message == b.Message
	})
}
