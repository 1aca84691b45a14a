package check

import (
	"context"
	"maps"
	"slices"

	"example.com/roundel/notation"
)

// A Fixed is what came of fixing a draft.
type Fixed struct {
	// Text is the draft with the fixes made. Whatever no fix is about, comments
	// and layout included, keeps every byte.
	Text string
	// Made are the findings whose certain fixes were made. They speak of the
	// draft as it was before they were; where one fix brings another to light,
	// of the draft in between.
	Made []Finding
	// Report is the report of the fixed draft: what is left to the designer.
	Report *Report
}

// mostPasses bounds how often a draft is checked again: fixes seldom bring
// others to light, and hardly ever twice.
const mostPasses = 20

// Fix checks the text of a draft as Source does, and makes the fixes that are
// certain; then again, until there are none. A fix is not made where it
// overlaps with another that wants something else, where the text would not
// parse with it, or where the draft allows what it is about. To fix the result
// again changes nothing.
//
// A text longer than the limit is not touched, as a caller may have only a part
// of it. The error is that of ctx, when it ends first; the text is then whole
// all the same, with the fixes that were made so far.
func Fix(ctx context.Context, name, text string, o Options) (*Fixed, error) {
	fixed := &Fixed{Text: text}
	bytes, errors := o.Text.Bytes, o.Text.Errors
	if bytes <= 0 {
		bytes = notation.DefaultBytes
	}
	if errors <= 0 {
		errors = notation.DefaultErrors
	}
	all := o // how much is reported is no limit to what is fixed
	all.Text.Errors = max(errors, len(text))
	for pass := 0; ; pass++ {
		report, err := Source(ctx, name, fixed.Text, all)
		fixed.Report = report
		var made []Finding
		text := fixed.Text
		if err == nil && pass < mostPasses && len(text) <= bytes {
			text, made = mend(report, all)
		}
		if len(made) > 0 && text != fixed.Text {
			fixed.Text = text
			fixed.Made = append(fixed.Made, made...)
			continue
		}
		if err == nil && len(report.Findings) > errors {
			fixed.Report, err = Source(ctx, name, fixed.Text, o)
		}
		return fixed, err
	}
}

// A certainFix is a fix that may be made, and what it mends.
type certainFix struct {
	notation.Fix
	finding Finding
}

// mend makes the certain fixes of a report and returns the findings they mend.
func mend(r *Report, o Options) (text string, made []Finding) {
	// The layout comes last: it changes lines that others are about.
	var fixes, last []certainFix
	for _, f := range r.Findings {
		fix, ok := f.Fix()
		switch {
		case ok && f.Rule == layoutID:
			last = append(last, certainFix{fix, f})
		case ok:
			fixes = append(fixes, certainFix{fix, f})
		}
	}
	unread := func(text string) int {
		_, found := notation.Parse(r.File, text, notation.WithLimits(o.Text))
		n := 0
		for _, f := range found {
			if unreadable(f) {
				n++
			}
		}
		return n
	}
	before := unread(r.Source)
	if fixes = apart(fixes); len(fixes) > 0 {
		fixes = readable(r.Source, fixes, unread, before)
	}
	if len(fixes) == 0 && len(last) > 0 {
		fixes = readable(r.Source, last, unread, before)
	}
	text, _ = apply(r.Source, fixes)
	for _, fix := range fixes {
		made = append(made, fix.finding)
	}
	return text, made
}

// apart leaves out the fixes that overlap with another one.
func apart(fixes []certainFix) []certainFix {
	owners := map[notation.Edit][]int{} // the same edit may be wanted twice
	for i, fix := range fixes {
		for _, e := range fix.Edits {
			owners[e] = append(owners[e], i)
		}
	}
	edits := slices.SortedFunc(maps.Keys(owners), notation.Edit.Compare)
	clash := map[int]bool{}
	reach := 0 // the edit so far that goes furthest
	for i, e := range edits {
		if i > 0 && e.Overlaps(edits[reach]) {
			for _, owner := range slices.Concat(owners[e], owners[edits[reach]]) {
				clash[owner] = true
			}
		}
		if e.Span.End.Offset >= edits[reach].Span.End.Offset {
			reach = i
		}
	}
	var out []certainFix
	for i, fix := range fixes {
		if !clash[i] {
			out = append(out, fix)
		}
	}
	return out
}

func apply(text string, fixes []certainFix) (string, error) {
	var edits []notation.Edit
	for _, fix := range fixes {
		edits = append(edits, fix.Edits...)
	}
	return notation.ApplyEdits(text, edits...)
}

// readable leaves out the fixes after which the text would not parse: those
// that are about what cannot be read must each make a statement readable, the
// others none unreadable. If all together do no harm none does; else the half
// is looked for that does.
func readable(text string, fixes []certainFix, unread func(string) int, before int) []certainFix {
	harmless := func(fixes []certainFix) bool {
		most := before
		for _, fix := range fixes {
			if fix.finding.Rule == "syntax" {
				most--
			}
		}
		after, err := apply(text, fixes)
		return err == nil && unread(after) <= most
	}
	switch {
	case harmless(fixes):
		return fixes
	case len(fixes) == 1:
		return nil
	}
	half := len(fixes) / 2
	first := readable(text, fixes[:half], unread, before)
	second := readable(text, fixes[half:], unread, before)
	if both := slices.Concat(first, second); harmless(both) {
		return both
	}
	return first
}
