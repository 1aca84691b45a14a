package model

import (
	"math"
	"slices"
	"sort"
	"strings"
	"unicode"

	"example.com/roundel/notation"
)

// A cause is the finding that others only follow from: one of the builder's, by
// its index, or one about the text, counted down from -1.
type cause int

// noCause stands for a finding that Build was not given.
const noCause cause = math.MinInt

// A misread is what the findings about the text say of the rounds: where the
// tree is not what the designer means.
type misread struct {
	found []notation.Finding
	// in are the statements with a mistake in what is worked; after, rounds that
	// follow a line which may be a round that could not be read.
	in    map[notation.Statement]cause
	after map[*notation.Round]cause
	gauge cause // a gauge line that could not be read, else noCause
	names cause // a line above the rounds that may name a group, else noCause
}

// newMisread looks for what cannot be trusted in a draft, given what was found
// while it was read.
func newMisread(d *notation.Draft, found []notation.Finding) *misread {
	m := &misread{found: found, in: map[notation.Statement]cause{}, after: map[*notation.Round]cause{}, gauge: noCause, names: noCause}
	if len(found) == 0 {
		return m
	}
	for i := range found {
		f := &found[i]
		switch f.Rule {
		case "syntax", "limit", "unknown-stitch":
		default:
			continue
		}
		if !f.Span.Start.IsValid() {
			continue // a tree made by hand has no places to tell
		}
		after := sort.Search(len(d.Statements), func(i int) bool { return d.Statements[i].Range().Start.Offset > f.Span.Start.Offset })
		if after == 0 {
			continue
		}
		s := d.Statements[after-1]
		if at := s.Range(); !at.Start.IsValid() || f.Span.Start.Offset > at.End.Offset {
			continue
		}
		if _, known := m.in[s]; !known && !inClaim(s, f.Span) {
			m.in[s] = cause(-1 - i)
		}
	}
	m.lines(d)
	return m
}

// inClaim reports whether a place is in the claim of a round whose steps could
// be read.
func inClaim(s notation.Statement, at notation.Span) bool {
	r, ok := s.(*notation.Round)
	if !ok || r.Broken || len(r.Steps) == 0 {
		return false
	}
	return at.Start.Offset >= r.Steps[len(r.Steps)-1].Range().End.Offset
}

// lines looks for lines that could not be read at all.
func (m *misread) lines(d *notation.Draft) {
	ring := slices.ContainsFunc(d.Statements, func(s notation.Statement) bool { _, ok := s.(*notation.Ring); return ok })
	var above *notation.Round // the round above
	lost, keyword := noCause, ""
	for _, s := range d.Statements {
		switch s := s.(type) {
		case *notation.Bad:
			at, ok := m.in[s]
			if !ok {
				continue
			}
			switch keyword = s.Keyword(); keyword {
			case "gauge":
				m.gauge = at
			case "stitch":
				m.names = at
			case "", "rnd", "ring":
				if lost == noCause {
					lost = at
				}
				if above == nil && keyword == "" && m.names == noCause {
					m.names = at
				}
				if above != nil && keyword == "" && above.Claim == nil && !above.Broken {
					m.in[above] = at // of which this may be the rest
				}
			}
		case *notation.Round:
			begins := above == nil && s.From <= 1 && !s.Next
			if lost != noCause && (!begins || !ring && keyword != "rnd") {
				m.after[s] = lost
			}
			above, lost = s, noCause
		}
	}
}

// A gone is a run of rounds that others may name, and that are not what the
// designer means: they are missing, or could not be read.
type gone struct {
	from, to int
	cause    cause
}

// lose notes that rounds are not what the designer means.
func (b *builder) lose(from, to int, at cause) {
	b.gone = append(b.gone, gone{from, to, at})
}

// goneBy says why a round is not what the designer means.
func (b *builder) goneBy(number int) (at cause, ok bool) {
	for _, g := range b.gone {
		if g.from <= number && number <= g.to {
			return g.cause, true
		}
	}
	return noCause, false
}

// reachesGone looks for a place in such a round among those that ops work into.
func (b *builder) reachesGone(ops []op) (at cause, ok bool) {
	if len(b.gone) == 0 {
		return noCause, false
	}
	for i := range ops {
		if n := ops[i].place.round; n > 0 {
			if at, ok = b.goneBy(n); ok {
				return at, true
			}
		}
		if at, ok = b.reachesGone(ops[i].body); ok {
			return at, true
		}
	}
	return noCause, false
}

// holdIn counts findings that are held back in the one they follow from.
func (b *builder) holdIn(at cause, n int) {
	switch {
	case at >= 0:
		b.findings[at].Held += n
	case at != noCause:
		b.misread.found[-1-at].Held += n
	}
}

// edgeRules are about how a round fits the edge it is worked on; all others are
// about the round itself.
var edgeRules = []string{"no-such-place", "repeat-remainder", "unworked", "skip-miss", "corner-order", "claim-count"}

// saysAll reports whether the claim of a round says all that what is worked into
// it depends on: how many spaces, corners and picots it has, if any. What it is
// made of is looked for in its steps; of a round that could not be read, in its
// words.
func (b *builder) saysAll(r *notation.Round, steps []notation.Step) bool {
	if r.Claim == nil {
		return false
	}
	if r.Broken {
		return b.plainWords(r.Text)
	}
	spaces, corners := false, false
	for _, item := range r.Claim.Items {
		spaces = spaces || item.What == notation.Sp && !item.PerSide
		corners = corners || item.What == notation.Corner || item.PerSide
	}
	says := true
	seen := map[*notation.StitchDef]bool{} // groups of groups say what they say once
	var look func(notation.Node) bool
	look = func(n notation.Node) bool {
		switch n := n.(type) {
		case *notation.Chain:
			says = says && (n.As != nil || spaces || corners && n.Corner)
		case *notation.Picot:
			says = false
		case *notation.Work:
			says = says && (corners || !n.Corner)
			switch def := n.Stitch.Group; {
			case def != nil && def.Group != nil && !seen[def]:
				seen[def] = true
				notation.Walk(def.Group, look)
			case def != nil && def.Group != nil:
			case n.Stitch.Unknown && n.Stitch.US == "":
				says = says && spaces // it may be a group with chains
			}
		}
		return says
	}
	for _, s := range steps {
		notation.Walk(s, look)
	}
	return says
}

// plainWords reports whether the words of a round speak of nothing but single
// stitches.
func (b *builder) plainWords(text string) bool {
	steps, _, _ := strings.Cut(strings.ToLower(text), "=")
	for _, w := range strings.FieldsFunc(steps, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' }) {
		if slices.Contains([]string{"ch", "corner", "picot", "shell", "vst"}, w) {
			return false
		}
		for def := range b.draft.StitchDefs() {
			if strings.EqualFold(def.Name.Text, w) {
				return false
			}
		}
	}
	return true
}

// misreads returns the finding about the text that the steps of a round cannot
// be trusted for. A name that means nothing is no such finding where it is near
// enough to one that does.
func (b *builder) misreads(w *work) (at cause, ok bool) {
	at, ok = b.misread.in[w.stmt]
	switch {
	case !ok:
		// A name that is not reported stands in a line that could not be read.
		at = b.misread.names
		ok = w.c.unknown && at != noCause
	case b.misread.found[-1-at].Rule == "unknown-stitch":
		ok = w.c.unknown
	}
	return at, ok
}

// claimsOther reports whether the item of a claim at a place counts what no step
// of the round makes, whatever it is worked on.
func (b *builder) claimsOther(w *work, at notation.Span) bool {
	if w.stmt.Claim == nil || w.c.unknown {
		return false
	}
	for _, item := range w.stmt.Claim.Items {
		if item.Span != at {
			continue
		}
		var makes func(ops []op) bool
		makes = func(ops []op) bool {
			return slices.ContainsFunc(ops, func(o op) bool {
				switch {
				case item.What == notation.Corner && o.corner,
					item.What == notation.Picots && o.code == opPicot,
					(item.What == notation.Sp || item.What == notation.Ch) && o.code == opChain,
					item.What == notation.St && o.code == opWork,
					item.What == notation.OfStitch && item.Stitch.Group != nil && o.def == item.Stitch.Group,
					item.What == notation.OfStitch && item.Stitch.Group == nil && o.code == opWork && b.g.kinds[o.kind].Name == b.us(item.Stitch):
					return true
				}
				return makes(o.body)
			})
		}
		return !makes(w.ops)
	}
	return false
}

// worksGaps reports whether ops work into gaps. No claim says where they are.
func worksGaps(ops []op) bool {
	return slices.ContainsFunc(ops, func(o op) bool { return o.place.what.kind == notation.Gap || worksGaps(o.body) })
}

// worksStitches reports whether ops work into stitches, and into nothing between
// them but corners.
func worksStitches(ops []op) bool {
	some, others := false, false
	var look func(ops []op, grouped bool)
	look = func(ops []op, grouped bool) {
		for i := range ops {
			switch p := &ops[i].place; p.what.kind {
			case notation.St, notation.OfStitch:
				some = some || !grouped && (p.how == notation.InNext || p.how == notation.InEach || p.how == notation.Over)
			case notation.Gap, notation.Sp, notation.Ch:
				others = true
			}
			look(ops[i].body, grouped || ops[i].code == opGroup)
		}
	}
	look(ops, false)
	return some && !others
}

// numbered returns the mistake in the number of a round, before its colon.
func (m *misread) numbered(r *notation.Round) (at cause, ok bool) {
	if at, ok = m.in[r]; !ok || !r.Broken {
		return noCause, false
	}
	colon := strings.IndexByte(r.Text, ':')
	return at, m.found[-1-at].Span.Start.Offset < r.Span.Start.Offset+colon
}
