package model

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/roundel/notation"
)

// Fixes of claims and of counts without a place. A fix is certain only where
// nothing speaks for another one: the round and those below are worked as they
// are written, and no round above comes out on the count that is to go. A claim
// and its round contradict each other, and either may be the slip: to mend the
// claim unasked, a round above has to speak for the steps, by coming out on what
// they make and not on what is claimed.

// fixing is what is known of the fixes of a draft, of its motif and its borders.
type fixing struct {
	unsure    bool                          // not everything so far is worked as it is written
	claims    map[int]*claimFix             // by index of the finding
	wanted    map[*notation.Round]*claimFix // by statement: what it last was to claim
	doubted   []cause                       // findings about claims that rounds above speak for
	confirmed []cause                       // and those that rounds above speak against
}

// newFixing begins with lines that could not be read, on which anything may
// depend.
func newFixing(d *notation.Draft) *fixing {
	misread := slices.ContainsFunc(d.Statements, func(s notation.Statement) bool {
		switch s := s.(type) {
		case *notation.Bad:
			return true
		case *notation.StitchDef:
			return s.Text != ""
		}
		return false
	})
	return &fixing{unsure: misread, claims: map[int]*claimFix{}, wanted: map[*notation.Round]*claimFix{}}
}

// A claimFix writes what comes out in place of what a statement claims. All
// findings about the claim share it.
type claimFix struct {
	edits []notation.Edit
	says  []string // what is claimed then
	above int      // claims above that are mended with it
	sure  bool
	// backed is set where the claim itself says elsewhere what comes out.
	backed bool
}

func (f *claimFix) fix() notation.Fix {
	message := "claim " + strings.Join(f.says, ", ")
	switch {
	case f.above == 1:
		message += ", and in the claim that follows from it what comes out there"
	case f.above > 1:
		message += fmt.Sprintf(", and in the %d claims that follow from it what comes out there", f.above)
	}
	return notation.Fix{Message: message, Certain: f.sure, Edits: f.edits}
}

// mendClaim fixes the claim of a statement once all its rounds are worked, from
// round first of the graph on. The findings about them stand from index from
// on, but for those that an earlier finding holds back.
func (b *builder) mendClaim(r *notation.Round, first, from int) {
	echo := b.echo
	b.echo = nil
	wrong := echo != nil
	for i := from; i < len(b.findings); i++ {
		wrong = wrong || b.findings[i].Rule == "claim-count"
	}
	if r.Claim == nil || !wrong && !b.g.onEdge() {
		return
	}
	rounds := b.g.rounds[first:]
	if b.stopped || r.Until != nil || len(rounds) != lastOf(r)-r.From+1 {
		return
	}
	own := &claimFix{sure: !b.fixing.unsure, backed: b.backed(r, first, len(rounds))}
	mended := map[notation.Span]bool{}
	for i, item := range r.Claim.Items {
		if b.claimedBefore(r.Claim.Items[:i], item) {
			continue
		}
		edits, says, sure := b.mendItem(r, item, first, len(rounds))
		if len(edits) == 0 {
			continue
		}
		own.edits = append(own.edits, edits...)
		own.says = append(own.says, says)
		own.sure = own.sure && sure
		mended[item.Span] = true
	}
	// A border may be worked on two edges, and one claim stands for both.
	if other := b.fixing.wanted[r]; other != nil && !slices.Equal(other.edits, own.edits) {
		other.sure, own.sure = false, false
	}
	b.fixing.wanted[r] = own
	if len(own.edits) == 0 {
		return
	}
	for i := from; i < len(b.findings); i++ {
		if f := &b.findings[i]; f.Rule == "claim-count" && mended[f.Span] {
			b.fixing.claims[i] = own
		}
	}
	// What an earlier finding holds back is mended with it.
	if echo == nil || int(echo.cause) >= from || slices.Contains(b.allowed[r], "claim-count") {
		return
	}
	if fix := b.fixing.claims[int(echo.cause)]; fix != nil {
		fix.edits = append(fix.edits, own.edits...)
		fix.above++
		fix.sure = fix.sure && own.sure
	}
}

// backed reports whether for every wrong number of stitches in a claim another
// one is right that is about the same round, or about one on top of it, and
// nothing else is wrong.
func (b *builder) backed(r *notation.Round, first, rounds int) bool {
	right := false
	for i := rounds - 1; i >= 0; i-- {
		wrong := false
		for _, item := range r.Claim.Items {
			n, ok := b.comesOut(item, first+i)
			claimed, said := claimedCount(item, i)
			stitches := item.What == notation.St || item.What == notation.OfStitch
			switch {
			case ok && said && n == claimed:
				right = right || stitches
			case stitches:
				wrong = true
			default:
				return false
			}
		}
		if wrong && !right {
			return false
		}
	}
	return right
}

// mendItem returns the edits that make an item of a claim true, what it says
// then, and whether nothing else can be meant; no edits where it is true, or
// where no number would make it so.
func (b *builder) mendItem(r *notation.Round, item *notation.ClaimItem, first, rounds int) (edits []notation.Edit, says string, sure bool) {
	if item.Stitch.Unknown || len(item.CountSpans) == 0 || len(item.CountSpans) != len(item.Counts) {
		return nil, "", false
	}
	if b.meansAll(r, item, first, rounds) {
		says = fmt.Sprintf("%d st", item.Counts[0])
		return []notation.Edit{{Span: item.Stitch.Span, New: "st"}}, says, false
	}
	right := make([]string, rounds)
	equal, wrong := true, false
	sure = true
	for i := range rounds {
		n, ok := b.comesOut(item, first+i)
		if !ok || n == 0 {
			return nil, "", false // another kind may be meant
		}
		right[i] = strconv.Itoa(n)
		equal = equal && right[i] == right[0]
		claimed, ok := claimedCount(item, i)
		wrong = wrong || !ok || claimed != n
		sure = sure && (item.What == notation.Corner || claimHint(r, item, claimed-n, n) == "")
	}
	if equal && len(item.Counts) != rounds {
		right = right[:1]
	}
	says = strings.Join(right, "/") + " " + b.what(item)
	if item.PerSide {
		says += " per side"
	}
	if len(right) == len(item.Counts) {
		for i, at := range item.CountSpans {
			if right[i] != strconv.Itoa(item.Counts[i]) {
				edits = append(edits, notation.Edit{Span: at, New: right[i]})
			}
		}
		return edits, says, sure
	}
	if !wrong && len(item.Counts) == 1 {
		return nil, "", false
	}
	at := notation.Span{Start: item.CountSpans[0].Start, End: item.CountSpans[len(item.CountSpans)-1].End}
	return []notation.Edit{{Span: at, New: strings.Join(right, "/")}}, says, sure
}

// meansAll reports whether an item claims under the name of a stitch as many as
// there are with those closed together of it: 18 sc of 12 sc and 6 sc2tog. The
// number may be the slip as well, so the fix is not certain.
func (b *builder) meansAll(r *notation.Round, item *notation.ClaimItem, first, rounds int) bool {
	if item.What != notation.OfStitch || item.Stitch.Group != nil || item.PerSide || len(item.Counts) != 1 || !item.Stitch.Span.Start.IsValid() {
		return false
	}
	for _, other := range r.Claim.Items {
		if other != item && (other.What == notation.OfStitch || other.What == notation.St) {
			return false
		}
	}
	for i := range rounds {
		c := &b.g.rounds[first+i].counts
		if n := b.counted(item, c); n == 0 || n == item.Counts[0] || c.stitches() != item.Counts[0] {
			return false
		}
		for k, n := range c.kinds {
			if parts, ok := notation.US.Parse(b.g.kinds[k].Name); k > kindPicot && n > 0 && (!ok || parts.Base != b.us(item.Stitch)) {
				return false
			}
		}
	}
	return true
}

// comesOut is the number that an item counts in a round; ok is false where
// there is no one number.
func (b *builder) comesOut(item *notation.ClaimItem, round int) (n int, ok bool) {
	r := &b.g.rounds[round]
	if !item.PerSide {
		return b.counted(item, &r.counts), true
	}
	if item.What == notation.Corner || item.Stitch.Group != nil {
		return 0, false
	}
	sides := b.g.sides(round)
	for i := range sides {
		here := b.counted(item, &sides[i])
		if i > 0 && here != n {
			return 0, false
		}
		n = here
	}
	return n, len(sides) > 0
}

// giveFixes hands the fixes of claims to their findings.
func (b *builder) giveFixes() {
	for i, fix := range b.fixing.claims {
		at := cause(i)
		fix.sure = fix.sure && (fix.backed || slices.Contains(b.fixing.confirmed, at)) && !slices.Contains(b.fixing.doubted, at)
	}
	for i, fix := range b.fixing.claims {
		b.findings[i].Fixes = []notation.Fix{fix.fix()}
	}
}

// mendBare writes a reading of a count without a place: 3 dc is dc in next
// 3 st, or 3 dc in next st.
func mendBare(s *notation.Work, inOne, oneByOne bool) []notation.Edit {
	count, name := s.CountSpan, s.Stitch.Span
	if !count.Start.IsValid() || !name.Start.IsValid() {
		return nil
	}
	insert := func(at notation.Pos, text string) notation.Edit {
		return notation.Edit{Span: notation.Span{Start: at, End: at}, New: text}
	}
	number := count
	if count.End.Line == name.Start.Line { // else a comment may stand between
		number.End = name.Start
	}
	switch {
	case inOne:
		return []notation.Edit{insert(name.End, " in next st")}
	case oneByOne:
		return []notation.Edit{{Span: number, New: "["}, insert(name.End, fmt.Sprintf("] %d times", s.Count))}
	}
	return []notation.Edit{{Span: number}, insert(name.End, fmt.Sprintf(" in next %d st", s.Count))}
}

// bracketRun puts steps in the brackets of a group, in the place of the last of
// them.
func bracketRun(run []notation.Step) []notation.Edit {
	if len(run) == 0 {
		return nil
	}
	from := run[0].Range().Start
	to := run[len(run)-1].(*notation.Work).Stitch.Span.End
	if !from.IsValid() || !to.IsValid() {
		return nil
	}
	return []notation.Edit{
		{Span: notation.Span{Start: from, End: from}, New: "("},
		{Span: notation.Span{Start: to, End: to}, New: ")"},
	}
}

// groupWords writes steps as a group in the place of the last of them.
func (b *builder) groupWords(run []notation.Step) string {
	words := make([]string, len(run))
	for i, s := range run {
		words[i] = b.stepWords(s)
	}
	place := ""
	last := len(run) - 1
	words[last], place, _ = strings.Cut(words[last], " in ")
	return "(" + strings.Join(words, ", ") + ") in " + place
}

// stepWords writes a step of a run that may be a group.
func (b *builder) stepWords(s notation.Step) string {
	corner := func(is bool) string {
		if is {
			return "corner "
		}
		return ""
	}
	switch s := s.(type) {
	case *notation.Chain:
		return fmt.Sprintf("%sch %d", corner(s.Corner), atLeastOne(s.Count))
	case *notation.Picot:
		return fmt.Sprintf("picot %d", atLeastOne(s.Chains))
	case *notation.Work:
		words := corner(s.Corner)
		if s.Count > 1 {
			words += strconv.Itoa(s.Count) + " "
		}
		words += cmp.Or(s.Stitch.Text, b.draft.Terms.Name(s.Stitch.US))
		if s.Place == nil {
			return words
		}
		switch p := s.Place; {
		case p.How == notation.InRing:
			words += " in ring"
		case p.How == notation.InSame:
			words += " in same"
		case p.Kind == notation.Corner:
			words += " in corner"
		default:
			words += " in next " + p.Kind.String()
		}
		if s.Place.Round > 0 {
			words += fmt.Sprintf(" of rnd %d", s.Place.Round)
		}
		return words
	}
	return ""
}

// bothReadings sees to it that a step worked in several rounds is not mended
// for one of them in a way that is wrong for another.
func bothReadings(f, other *notation.Finding) {
	for i := range f.Fixes {
		for _, fix := range other.Fixes {
			if fix.Certain && !fix.Same(f.Fixes[i]) {
				f.Fixes[i].Certain = false
			}
		}
	}
}
