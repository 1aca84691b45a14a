package pattern

import (
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// special spells out every stitch and start that is more than the basic ones.
func (w *writer) special() []Entry {
	var list []Entry
	var kinds []model.Kind
	for _, p := range w.pieces {
		for _, k := range p.byHeight {
			if w.notes.kinds[k.Name] && !slices.ContainsFunc(kinds, func(other model.Kind) bool { return other.Name == k.Name }) {
				kinds = append(kinds, k)
			}
		}
	}
	slices.SortStableFunc(kinds, func(a, b model.Kind) int { return int(a.Height) - int(b.Height) })
	for _, k := range kinds {
		if text := w.howTo(k); text != "" {
			list = append(list, Entry{w.stitch(k.Name), text})
		}
	}
	for _, chains := range picotLengths(w.pieces) {
		list = append(list, Entry{w.pieces[0].picot(model.Node{Chains: chains}), fmt.Sprintf("ch %d, %s in the first of these ch.", chains, w.slip)})
	}
	notes := w.notes
	if notes.standing {
		list = append(list, Entry{"standing st", "with a slip knot of the new yarn on the hook, work the st named. It counts as any other."})
	}
	if notes.chainless {
		list = append(list, Entry{"chainless st", fmt.Sprintf("draw the lp on the hook up to the height of the st and hold it down with a finger, %s as often as the st asks, insert the hook where told, draw up a lp and finish the st. It counts as any other.", w.yo)})
	}
	if w.g.Ring == 0 && w.g.NumRounds() > 0 {
		list = append(list, Entry{"adjustable ring", "lay the yarn in a ring, draw up a lp through it, and work the first rnd over ring and tail together; then pull the tail to close the ring."})
	}
	if notes.invisible {
		list = append(list, Entry{"invisible join", "cut the yarn and draw it out of the last st; with a needle take it under the top of the st named and back into the top of the last st, to the size of a st."})
	}
	return list
}

// howTo spells a stitch out; "" for basic ones.
func (w *writer) howTo(k model.Kind) string {
	parts, ok := notation.US.Parse(k.Name)
	if !ok {
		return ""
	}
	base := w.stitch(parts.Base)
	switch {
	case parts.Together > 0:
		text := fmt.Sprintf("work %d %s, each up to its last %s", parts.Together, base, w.yo)
		if parts.Post != "" {
			text = fmt.Sprintf("work %d %s%s, each up to its last %s", parts.Together, parts.Post, base, w.yo)
		}
		return text + fmt.Sprintf(" and all where told; %s, draw through all lps on hook.", w.yo)
	case parts.Post == "FP":
		return fmt.Sprintf("work %s with the hook put from the front round behind the post of the st below and out to the front again.", base)
	case parts.Post == "BP":
		return fmt.Sprintf("work %s with the hook put from the back round before the post of the st below and out to the back again.", base)
	}
	switch parts.Base {
	case "esc", "ehdc", "edc", "etr":
		plain := w.stitch(strings.TrimPrefix(parts.Base, "e"))
		return fmt.Sprintf("begin as %s; when the lp is drawn up, %s, draw through 1 lp, then finish as %s.", plain, w.yo, plain)
	case "dtr":
		return fmt.Sprintf("%s 3 times, draw up a lp, [%s, draw through 2 lps] 4 times.", w.yo, w.yo)
	case "trtr":
		return fmt.Sprintf("%s 4 times, draw up a lp, [%s, draw through 2 lps] 5 times.", w.yo, w.yo)
	case "rev sc":
		return fmt.Sprintf("%s worked backwards along the edge, each into the place before the last one.", w.stitch("sc"))
	case "cl":
		return fmt.Sprintf("3 %s, each up to its last %s, all where told; %s, draw through all lps on hook.", w.stitch("dc"), w.yo, w.yo)
	case "bobble":
		return fmt.Sprintf("5 %s in the same place, each up to its last %s; %s, draw through all lps on hook.", w.stitch("dc"), w.yo, w.yo)
	case "popcorn":
		return fmt.Sprintf("5 %s in the same place; take the hook out, insert it in the first of them and draw the free lp through.", w.stitch("dc"))
	case "puff":
		return fmt.Sprintf("[%s, draw up a long lp] 4 times in the same place; %s, draw through all lps on hook.", w.yo, w.yo)
	case "bullion":
		return fmt.Sprintf("%s several times, always the same number; draw up a lp, and draw the next through it and all the wraps.", w.yo)
	}
	return ""
}

// remarks say what holds for all rounds.
func (w *writer) remarks() []Entry {
	n := w.notes
	var list []Entry
	note := func(format string, args ...any) { list = append(list, Entry{"", fmt.Sprintf(format, args...)}) }
	switch w.draft.Succession() {
	case notation.Spiral:
		note("The rnds run on in a spiral and are not joined: mark the first st of each.")
	case notation.Turned:
		note("Each rnd is joined with %s and the work turned.", w.slip)
	default:
		if slices.ContainsFunc(w.pieces, func(p *piece) bool { return p.turns }) {
			note("Each rnd is joined with %s. RS and WS at the head of a rnd say which side faces you.", w.slip)
		} else {
			note("Each rnd is joined with %s; the RS faces you all the time.", w.slip)
		}
	}
	if n.counted {
		note("A starting ch that counts as a st is one of the sts of the rnd; whatever goes into that st is worked into its top ch.")
	}
	if n.uncounted {
		note("A starting ch that does not count as a st is left alone: the first st goes into the same place, and the rnd is joined to that st.")
	}
	switch spiral := w.draft.Succession() == notation.Spiral; {
	case !n.unsaid:
	case spiral && !n.later:
		note("Only the first rnd is started, and how is left to you; the others go on from it.")
	case spiral:
		note("How a rnd is started that does not go on from the one before is left to you%s.", w.heights())
	default:
		note("How a rnd is started is left to you%s.", w.heights())
	}
	if n.standing && n.chainless {
		note("Where new yarn is joined a rnd begins with a standing st, and where the yarn goes on with a chainless one.")
	}
	picots := ""
	if len(picotLengths(w.pieces)) > 0 {
		picots = " and picots"
	}
	note("The figures at the end of a rnd are what it holds. Chains%s are not counted as sts. The %s that joins a rnd or a yarn, or leads on to the next place, is neither counted nor worked into.", picots, w.slip)
	if n.series {
		note("Where several rnds are written as one, figures with / between them are for these rnds in turn.")
	}
	if n.corners {
		note("Corner ch and corner sts are worked as any other; the word marks the corners of the motif. What is counted per side lies between one corner and the next.")
	}
	if n.gaps {
		note("A sp between sts or groups lies between 2 sts that stand side by side, below their tops; it is no ch sp.")
	}
	if len(picotLengths(w.pieces)) > 0 {
		note("Picots are left alone by the rnds that follow, and do not divide a ch sp.")
	}
	if n.carries {
		note("To change %s, draw the new yarn through with the last %s of the st before. Carry the yarn that is not in use behind the sts.", w.colour, w.yo)
	}
	if w.sheet != nil {
		for _, r := range w.sheet.Reached {
			note("%s", w.until(r))
		}
	}
	if w.notes.earlier {
		note("Where an earlier rnd is named, work into that one and leave the sts of the rnds between as they are. The next place there is the first beyond what your last st stands over.")
	}
	return list
}

// until says which rounds were made to come to a size, so that a maker whose
// stitches are of another size can make more or fewer.
func (w *writer) until(r size.Reached) string {
	rounds := fmt.Sprintf("Rnds %d to %d are", r.From, r.To)
	if r.From == r.To {
		rounds = fmt.Sprintf("Rnd %d is", r.From)
	}
	what := fmt.Sprintf("the motif measures %s across", w.length(r.Wanted))
	switch r.What {
	case notation.UntilSide:
		what = fmt.Sprintf("a side measures %s", w.length(r.Wanted))
	case notation.UntilRounds:
		return fmt.Sprintf("%s worked until there are %d rnds.", rounds, r.To)
	}
	made := r.To - r.From + 1
	return fmt.Sprintf("%s worked until %s: at this %s that takes %d %s.", rounds, what, w.gauge, made, plural(made, "rnd", "rnds"))
}

// heights lists starting chains by the stitches that rounds begin with.
func (w *writer) heights() string {
	var list []string
	for _, k := range model.Kinds() {
		if w.notes.firsts[k.Name] && size.ChainCounts(k) {
			list = append(list, fmt.Sprintf("ch %d for %s", size.StartingChains(k), w.stitch(k.Name)))
		}
	}
	text := ""
	if len(list) > 0 {
		text = ": the first st may be replaced by a ch that counts as it (" + strings.Join(list, ", ") + ")"
	}
	if w.notes.firsts["sc"] {
		text += fmt.Sprintf("; before a first %s ch 1, which does not count", w.stitch("sc"))
	}
	return text
}

func (w *writer) finishing() []Entry {
	var list []Entry
	if size.LeavesHole(w.g) {
		list = append(list, Entry{"", "Close the hole in the last rnd: fill the piece first, if it is to be stuffed; then take the end with a needle through the tops of the sts of the last rnd, pull it tight and secure it."})
	}
	if w.sheet != nil && w.sheet.Ends > 0 {
		tail := size.Length(0)
		for _, y := range w.sheet.Yarns {
			tail = max(tail, y.Tail)
		}
		list = append(list, Entry{"", fmt.Sprintf("Leave ends of %s and weave them in on the WS: %d in all.", w.length(tail), w.sheet.Ends)})
	} else {
		list = append(list, Entry{"", "Weave in the ends on the WS."})
	}
	switch corners := w.draft.Outline().Corners(); {
	case w.g.Panel() != nil: // the motifs are blocked before they are joined
	case w.draft.Lies() != notation.Flat:
		list = append(list, Entry{"", fmt.Sprintf("The piece is meant to lie %s: do not block it flat.", w.draft.Lies())})
	case corners > 0:
		list = append(list, Entry{"", fmt.Sprintf("Block: damp the piece, pin out its %d corners so that all sides are of one length, and let it dry.", corners)})
	default:
		list = append(list, Entry{"", "Block: damp the piece, pin it out flat and even, and let it dry."})
	}
	return list
}

func (w *writer) cautions() []Entry {
	if w.sheet == nil {
		return nil
	}
	var list []Entry
	for _, c := range w.sheet.Cautions {
		list = append(list, Entry{"", c.Text()})
	}
	return list
}
