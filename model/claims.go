package model

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/notation"
)

// checkClaim compares the claim of a round with what was made. A round whose
// steps are at fault is not checked: the claim is about the round as it should
// be. Those findings are counted as held back.
func (b *builder) checkClaim(w *work) {
	claim := w.stmt.Claim
	if claim == nil {
		return
	}
	round := len(b.g.rounds) - 1
	from := len(b.findings)
	for i, item := range claim.Items {
		if w.index == 0 && b.claimedBefore(claim.Items[:i], item) {
			what := b.what(item)
			if item.PerSide {
				what += " per side"
			}
			b.report("claim-count", item.Span, "%s is claimed twice; leave one of the two out, or name what is meant", what)
			continue
		}
		b.checkItem(w, round, item)
	}
	if !b.rs.fault && !w.c.unknown {
		// One slip in the steps shows in every count; the first will do.
		if held := len(b.findings) - from - 1; held > 0 {
			b.findings = b.findings[:from+1]
			b.findings[from].Held += held
		}
		return
	}
	// What no step makes is missing however the round comes out.
	var own []notation.Finding
	for _, f := range b.findings[from:] {
		if !b.quiet && b.claimsOther(w, f.Span) {
			own = append(own, f)
		}
	}
	held := len(b.findings) - from - len(own)
	b.findings = append(b.findings[:from], own...)
	if held > 0 && from > 0 && b.rs.fault {
		b.findings[from-1].Held += held
	}
}

// claimedBefore reports whether one of several items counts the same as another.
func (b *builder) claimedBefore(items []*notation.ClaimItem, item *notation.ClaimItem) bool {
	return slices.ContainsFunc(items, func(o *notation.ClaimItem) bool {
		return o.What == item.What && o.PerSide == item.PerSide && !item.Stitch.Unknown &&
			(item.What != notation.OfStitch || o.Stitch.Group == item.Stitch.Group && b.us(o.Stitch) == b.us(item.Stitch))
	})
}

// counted returns how much of what an item counts is in c.
func (b *builder) counted(item *notation.ClaimItem, c *counts) int {
	switch {
	case item.What == notation.Picots:
		return c.kind(kindPicot)
	case item.What != notation.OfStitch:
		return c.places(item.What)
	case item.Stitch.Group != nil:
		return c.groups[item.Stitch.Group]
	}
	us := b.us(item.Stitch)
	k, ok := b.kindOf[us]
	if !ok {
		return 0
	}
	if k == kindCh {
		return int(c.chains)
	}
	n := 0
	for i := range c.kinds {
		// A cluster over three places and one in one place are both clusters.
		if b.g.kinds[i].Name == us {
			n += c.kind(uint16(i))
		}
	}
	return n
}

// what is how a message names the things an item counts.
func (b *builder) what(item *notation.ClaimItem) string {
	switch {
	case item.What == notation.Corner:
		return "corners"
	case item.What == notation.Picots:
		return "picots"
	case item.What != notation.OfStitch:
		return item.What.String()
	case item.Stitch.Group != nil:
		return item.Stitch.Group.Name.Text
	}
	if us := b.us(item.Stitch); us != "" {
		return b.draft.Terms.Name(us)
	}
	return item.Stitch.Text
}

func (b *builder) checkItem(w *work, round int, item *notation.ClaimItem) {
	if item.Stitch.Unknown {
		return // reported where the name was read
	}
	span := lastOf(w.stmt) - w.stmt.From + 1
	claimed, ok := claimedCount(item, w.index)
	if len(item.Counts) > 1 && len(item.Counts) != span {
		if w.index == 0 {
			b.report("claim-count", item.Span, "%d counts are claimed for %s; write one for each round, or one for all",
				len(item.Counts), count(span, "round"))
		}
		return
	}
	if !ok {
		return
	}
	g := b.g
	r := &g.rounds[round]
	what := b.what(item)
	if !item.PerSide {
		if n := b.counted(item, &r.counts); n != claimed {
			b.reportWith(b.below(&b.rs.cur.edge), "claim-count", item.Span, "round %d is claimed to have %d %s; it has %d%s%s",
				w.number, claimed, numbered(item, what, claimed), n, b.worksOut(n), cmp.Or(claimHint(w.stmt, item, claimed-n, n), b.otherNames(item, &r.counts, claimed), b.otherCount(w, round, item, claimed)))
		}
		return
	}
	if item.What == notation.Corner || item.Stitch.Group != nil {
		if w.index == 0 {
			b.report("claim-count", item.Span, "%s cannot be counted per side; a side is what lies between two corners", what)
		}
		return
	}
	sides := g.sides(round)
	if len(sides) == 0 {
		b.reportWith(b.below(&b.rs.cur.edge), "claim-count", item.Span, "round %d is claimed to have %d %s per side, but it has no corners and so no sides; mark the corners: corner ch 2",
			w.number, claimed, what)
		return
	}
	each := make([]int, len(sides))
	wrong, equal := false, true
	for i := range sides {
		each[i] = b.counted(item, &sides[i])
		wrong = wrong || each[i] != claimed
		equal = equal && each[i] == each[0]
	}
	switch {
	case !wrong:
	case equal:
		b.reportWith(b.below(&b.rs.cur.edge), "claim-count", item.Span, "round %d is claimed to have %d %s per side; %s",
			w.number, claimed, what, eachSide(len(sides), each[0]))
	default:
		b.reportWith(b.below(&b.rs.cur.edge), "claim-count", item.Span, "round %d is claimed to have %d %s per side; its %d sides have %s",
			w.number, claimed, what, len(sides), shorten(each))
	}
}

// numbered drops the s of a plural where only one is claimed.
func numbered(item *notation.ClaimItem, what string, n int) string {
	if n == 1 && (item.What == notation.Corner || item.What == notation.Picots) {
		return strings.TrimSuffix(what, "s")
	}
	return what
}

func eachSide(sides, n int) string {
	if sides == 1 {
		return fmt.Sprintf("its only side has %d", n)
	}
	return fmt.Sprintf("each of its %d sides has %d", sides, n)
}

// shorten joins a list, leaving out the middle of a long one.
func shorten(counts []int) string {
	list := make([]string, len(counts))
	for i, n := range counts {
		list[i] = fmt.Sprint(n)
	}
	if len(list) > 16 {
		list = append(append(list[:12:12], "..."), list[len(list)-1])
	}
	return strings.Join(list, ", ")
}

// worksOut says what else the round holds when one kind of it was claimed.
func (b *builder) worksOut(n int) string {
	r := &b.g.rounds[len(b.g.rounds)-1]
	if all := b.summary(&r.counts); n == 0 || strings.Contains(all, ",") {
		return " (" + all + ")"
	}
	return ""
}

// claimHint names a likely cause of a count that is off.
func claimHint(r *notation.Round, item *notation.ClaimItem, missing, made int) string {
	switch {
	case item.What == notation.Corner && missing > 0 && made == 0:
		return "; a corner is marked where it is made: corner ch 2"
	case missing == 1 && len(r.Steps) > 0 && (item.What == notation.OfStitch || item.What == notation.St):
		if c, ok := r.Steps[0].(*notation.Chain); ok && c.As == nil {
			as := "dc"
			if item.What == notation.OfStitch {
				as = cmp.Or(item.Stitch.Text, item.Stitch.US)
			}
			return fmt.Sprintf("; if the chain at its beginning counts as a stitch, write ch %d as %s", c.Count, as)
		}
	}
	return ""
}

// otherNames asks, of a claim in a draft in British terms, whether American
// names were written: whether it would be true if they were.
func (b *builder) otherNames(item *notation.ClaimItem, c *counts, claimed int) string {
	if b.draft.Terms != notation.UK || item.What != notation.OfStitch || item.Stitch.Group != nil {
		return ""
	}
	for k, n := range c.kinds {
		if k <= kindPicot || int(n) != claimed {
			continue
		}
		us, uk := b.g.kinds[k].Name, b.name(uint16(k))
		if parts, ok := notation.US.Parse(item.Stitch.Text); ok && parts.Name() == us {
			return fmt.Sprintf("; was the US name written in the claim? In UK terms a US %s is %s", us, uk)
		}
		if parts, ok := notation.US.Parse(uk); ok && parts.Name() == b.us(item.Stitch) {
			return fmt.Sprintf("; were US names written in the steps? In UK terms a US %s is %s", parts.Name(), b.what(item))
		}
	}
	return ""
}

// otherCount tells of a claim that is true in another way of counting: with the
// stitches closed together, or without the slip stitches.
func (b *builder) otherCount(w *work, round int, item *notation.ClaimItem, claimed int) string {
	c := &b.g.rounds[round].counts
	if b.meansAll(w.stmt, item, round, 1) {
		return fmt.Sprintf("; all its stitches together are %d st", claimed)
	}
	for k, n := range c.kinds {
		if n > 0 && item.What == notation.St && b.g.kinds[k].Name == "sl st" && c.stitches()-int(n) == claimed {
			return "; slip stitches are counted as well"
		}
	}
	return ""
}

// claimedCount is what an item claims for the i-th round of its statement.
func claimedCount(item *notation.ClaimItem, i int) (int, bool) {
	switch {
	case len(item.Counts) == 1:
		return item.Counts[0], true
	case i >= 0 && i < len(item.Counts):
		return item.Counts[i], true
	}
	return 0, false
}
