package check

import (
	"slices"
	"strings"

	"example.com/roundel/notation"
)

// LayoutRule returns the rule about the standard layout, that of
// notation.Format. Layout is a matter of taste until a workshop agrees on one,
// so the rule is not among Rules: append it to them where it is wanted.
func LayoutRule() Rule {
	return Rule{
		ID: layoutID, Severity: notation.Info, Run: layout,
		Summary: "the draft is not in standard layout",
		Doc: Doc{
			Text: `Drafts that are laid out alike are easier to read, and a change in one shows only
what was changed. The rule is put only where it is asked for, and says nothing
while there are lines that cannot be read.`,
			Failing: "RING\nrnd 1:12 dc in ring=12 dc\n",
			Passing: "ring\nrnd 1: 12 dc in ring = 12 dc\n",
			Fix:     "the lines that differ are laid out, when nothing else is left to fix",
		},
	}
}

const layoutID = "layout"

func layout(p *Pass) {
	if p.Source == "" || slices.ContainsFunc(p.stages, unreadable) {
		return
	}
	was := slices.Collect(strings.Lines(p.Source))
	is := slices.Collect(strings.Lines(notation.Format(p.Draft)))
	fix := notation.Fix{Message: "lay out the lines that differ", Certain: true}
	places := linePlaces(was)
	for _, h := range hunks(was, is) {
		span := notation.Span{Start: places[h.from], End: places[h.to]}
		fix.Edits = append(fix.Edits, notation.Edit{Span: span, New: strings.Join(is[h.newFrom:h.newTo], "")})
	}
	if len(fix.Edits) == 0 {
		return
	}
	at := fix.Edits[0].Span
	p.Add(Finding{
		Span:    at,
		Message: "from here on lines are not in standard layout; roundel fmt -w lays the draft out",
		Fixes:   []notation.Fix{fix},
	})
}

func unreadable(f Finding) bool { return f.Rule == "syntax" || f.Rule == "limit" }

// linePlaces returns where each line begins, and where the text ends.
func linePlaces(lines []string) []notation.Pos {
	at := notation.Pos{Line: 1, Column: 1}
	places := []notation.Pos{at}
	for _, line := range lines {
		at.Offset += len(line)
		if strings.HasSuffix(line, "\n") {
			at.Line++
		} else {
			// The last line has no end; a byte order mark takes no column.
			at.Column += len([]rune(strings.TrimPrefix(line, "\uFEFF")))
		}
		places = append(places, at)
	}
	return places
}

// A hunk is a run of lines that differ: from and to in the one text, newFrom
// and newTo in the other.
type hunk struct{ from, to, newFrom, newTo int }

// hunks compares two lists of lines. What is alike at both ends is left out;
// between, lines are taken to be the same where each stands once in both lists,
// which is what headers and rounds do.
func hunks(was, is []string) []hunk {
	var list []hunk
	from, newFrom := 0, 0
	add := func(to, newTo int) {
		for from < to && newFrom < newTo && was[from] == is[newFrom] {
			from, newFrom = from+1, newFrom+1
		}
		end, newEnd := to, newTo
		for from < end && newFrom < newEnd && was[end-1] == is[newEnd-1] {
			end, newEnd = end-1, newEnd-1
		}
		if from < end || newFrom < newEnd {
			list = append(list, hunk{from, end, newFrom, newEnd})
		}
		from, newFrom = to, newTo
	}
	place := map[string]int{} // of a line that stands once in is; -1 for any other
	for i, line := range is {
		if _, twice := place[line]; twice {
			i = -1
		}
		place[line] = i
	}
	times := map[string]int{}
	for _, line := range was {
		times[line]++
	}
	for i, line := range was {
		if j, ok := place[line]; ok && j >= newFrom && times[line] == 1 {
			add(i, j)
		}
	}
	add(len(was), len(is))
	return list
}
