package model

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/notation"
)

// A count without a place (3 dc) can be read in two ways. A round that has some
// is worked both ways, and goes on with the one that comes out right.

// Readings of the steps of a round that have a count and no place: bit i is
// set where all stitches of the i-th go in the next one st.
const (
	allInNext uint = 0
	allInOne       = ^allInNext
)

// mostMixed is how many such steps a round may have for all mixed readings to
// be tried.
const mostMixed = 3

// A fit says with which readings of its counts a round comes out right: all in
// the next stitches, one in each, or all in the next one.
type fit struct{ inNext, inOne bool }

// attempt works the round, choosing a reading for counts without a place, adds
// it to the graph and returns the findings about it.
func (b *builder) attempt(w *work) []notation.Finding {
	if len(w.c.bare) == 0 {
		return b.runFrom(w)
	}
	saved := b.save()
	fits := b.tryReadings(w, saved)
	reading := allInNext
	if fits.inOne && !fits.inNext {
		reading = allInOne
	}
	read(w.ops, reading)
	found := b.runFrom(w)
	w.mended = true
	unclear := slices.DeleteFunc(slices.Clone(w.c.bare), isShaping)
	if len(unclear) == 0 {
		return found
	}
	b.findings = b.findings[:saved.findings]
	for i, s := range unclear {
		f := b.tellBare(w, s, fits)
		if i == 0 && !b.quiet && fits == (fit{}) {
			f.Held = len(found)
		}
	}
	return b.take(saved.findings)
}

// isShaping reports whether a step is 6 inc or the like: that is no stitch, which
// is said where it was read, and what is meant has a place.
func isShaping(s *notation.Work) bool {
	return s.Stitch.Unknown && s.Stitch.Group != nil && s.Stitch.Group.Name.Text == strings.ToLower(s.Stitch.Text)
}

// tryReadings works both readings, and sets w.resolved where the round can be
// read in one way only.
func (b *builder) tryReadings(w *work, saved save) fit {
	closes := func(reading uint) bool {
		quiet := b.quiet
		b.quiet = true
		read(w.ops, reading)
		clean := len(b.runFrom(w)) == 0
		b.restore(saved)
		b.quiet = quiet
		return clean
	}
	fits := fit{inNext: closes(allInNext), inOne: closes(allInOne)}
	// Where one of them does, and nothing below is in doubt, a reading that
	// takes some steps this way and some that way must not close as well.
	n := len(w.c.bare)
	w.resolved = fits.inNext != fits.inOne && n <= mostMixed && !w.c.unknown && !b.fixing.unsure
	for reading := uint(1); w.resolved && !b.quiet && reading < 1<<n-1; reading++ {
		w.resolved = !closes(reading)
	}
	return fits
}

// tellBare reports a count without a place, with a fix for each way to read it.
func (b *builder) tellBare(w *work, s *notation.Work, fits fit) *notation.Finding {
	name := cmp.Or(s.Stitch.Text, b.draft.Terms.Name(s.Stitch.US))
	first, second := fmt.Sprintf("%s in next %d st", name, s.Count), fmt.Sprintf("%d %s in next st", s.Count, name)
	kind, ok := Lookup(b.us(s.Stitch))
	oneByOne := ok && kind.Legs > 1
	if oneByOne {
		first = fmt.Sprintf("[%s] %d times", name, s.Count)
	}
	hint := ""
	switch {
	case fits.inNext && !fits.inOne:
		hint = fmt.Sprintf("; round %d comes out right with the first", w.number)
	case fits.inOne && !fits.inNext:
		hint = fmt.Sprintf("; round %d comes out right with the second", w.number)
	}
	run := w.c.runs[s]
	if run != nil {
		hint += "; if all up to " + b.stepWords(run[len(run)-1]) + " belongs together, write " + b.groupWords(run)
	}
	b.rs.number = w.number
	b.reportWith(b.below(&b.rs.cur.edge), "bare-count", s.Span, "%d %s without a place can be read two ways: %s, or %s%s",
		s.Count, name, first, second, hint)
	f := &b.findings[len(b.findings)-1]
	edits := mendBare(s, false, oneByOne)
	if b.quiet || edits == nil {
		return f
	}
	sure := w.resolved && run == nil
	f.Fixes = []notation.Fix{
		{Message: "write " + first, Certain: sure && fits.inNext, Edits: edits},
		{Message: "write " + second, Certain: sure && fits.inOne, Edits: mendBare(s, true, false)},
	}
	if edits := bracketRun(run); edits != nil {
		f.Fixes = append([]notation.Fix{{Message: "write " + b.groupWords(run), Edits: edits}}, f.Fixes...)
	}
	return f
}

// read chooses a reading.
func read(ops []op, reading uint) {
	for i := range ops {
		o := &ops[i]
		if o.bare > 0 {
			n := int32(o.step.(*notation.Work).Count)
			inOne := reading>>(o.bare-1)&1 == 1 || reading == allInOne
			switch {
			case inOne:
				o.count, o.place.count, o.place.none = n, 1, false
			case o.legs > 1: // one after another
				o.count, o.place.count, o.place.none = n, 1, true
			default:
				o.count, o.place.count, o.place.none = 1, n, false
			}
		}
		if o.code == opRepeat {
			read(o.body, reading)
		}
	}
}

// runFrom works a round from where it begins, or with the remedy for its fault,
// where that makes it come out and no claim says what it should come to: so the
// rounds above are not said to be wrong because this one is.
func (b *builder) runFrom(w *work) []notation.Finding {
	saved := b.save()
	findings := b.begin(w)
	rem := b.rs.remedy
	if rem == nil || b.stopped {
		return findings
	}
	b.restore(saved)
	quiet, again := b.quiet, *w
	again.mended = false
	b.quiet = true
	rem.change()
	clean := len(b.begin(&again)) == 0
	rem.undo()
	b.quiet = quiet
	if clean && !b.quiet && w.stmt.As == 0 && len(findings) > 0 && len(rem.fix.Edits) > 0 {
		findings[0].Fixes = []notation.Fix{rem.fix}
	}
	if w.righted = clean && w.stmt.Claim == nil; !w.righted {
		b.restore(saved)
		w.mended = false
		b.begin(w)
	}
	return findings
}

// begin works a round from where it begins. A round begins where the one below
// began; but on an edge with corners it begins just after the last corner, at
// the beginning of a side, when it opens with each. A round that does not come
// out from the one and does from the other begins there; one that comes out
// from neither begins where it goes less astray, if it works into the corners by
// name.
func (b *builder) begin(w *work) []notation.Finding {
	first, second := 0, b.base.side()
	if opensWithEach(w.ops) {
		first, second = second, first
	}
	saved := b.save()
	w.from = first
	findings := b.run(w)
	if !w.mended || b.stopped || first == second {
		return findings
	}
	astray := b.rs.astray()
	b.restore(saved)
	again := *w
	again.from, again.mended = second, false
	other := b.run(&again)
	if !again.mended || b.stopped || worksCorners(w.ops) && slices.Compare(b.rs.astray(), astray) < 0 {
		*w = again
		return other
	}
	b.restore(saved)
	w.mended = false
	return b.run(w)
}

// astray says how far a round that does not come out is from doing so: by the
// corners it passes over, then by the stitches it does not work into.
func (rs *roundState) astray() []int {
	corners := rs.passed.corners
	if rs.past.op != nil {
		corners = max(corners, 1)
	}
	rest := rs.ahead(rs.cur.pos)
	return []int{corners, rs.passed.stitches + rest.stitches}
}

// A remedy is a change of one step with which a round may come out.
type remedy struct {
	change, undo func()
	fix          notation.Fix // without edits where another step may be meant as well
}

// remedy notes what may mend the fault that is about to be reported.
func (b *builder) remedy(change, undo func(), message string, edits ...notation.Edit) {
	if b.rs.fault {
		return
	}
	if slices.ContainsFunc(edits, func(e notation.Edit) bool { return !e.Span.Start.IsValid() }) {
		edits = nil // a tree made by hand
	}
	b.rs.remedy = &remedy{change, undo, notation.Fix{Message: message, Edits: edits}}
}

// changeTimes notes that a repeat may be meant to be worked so many times.
func (b *builder) changeTimes(o *op, n int) {
	was := o.count
	b.remedy(func() { o.count = int32(n) }, func() { o.count = was }, "write "+times(n),
		notation.Edit{Span: o.step.(*notation.Repeat).Tail, New: times(n)})
}

// opensWithEach reports whether the first place that ops use is each of a kind
// up to the corner.
func opensWithEach(ops []op) bool {
	for i := range ops {
		o := &ops[i]
		switch o.code {
		case opRepeat:
			if len(o.body) > 0 {
				return opensWithEach(o.body)
			}
		case opWork, opGroup:
			pl := &o.place
			return pl.how == notation.InEach && pl.count == 0 && pl.round == 0 && !pl.none
		case opSkip:
			return false
		}
	}
	return false
}

// A save is a point to go back to after a trial.
type save struct {
	nodes    int32
	legs     int
	rounds   int
	findings int
	base     edge
	facing   bool
	yarn     uint16
	made     int64
	stopped  bool
}

func (b *builder) save() save {
	return save{b.g.nodes.len, len(b.g.legs), len(b.g.rounds), len(b.findings), b.base, b.facing, b.yarnNow, b.made, b.stopped}
}

func (b *builder) restore(s save) {
	b.g.nodes.len, b.g.legs, b.g.rounds = s.nodes, b.g.legs[:s.legs], b.g.rounds[:s.rounds]
	b.findings, b.base, b.facing, b.yarnNow, b.made, b.stopped = b.findings[:s.findings], s.base, s.facing, s.yarn, s.made, s.stopped
}
