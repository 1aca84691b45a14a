package pattern

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A Pattern is a written pattern. Its texts are plain, without any markup.
type Pattern struct {
	Title    string
	Terms    notation.Terms
	Sections []Section
}

// A Section is one part of a pattern.
type Section struct {
	Heading string
	Entries []Entry
	// List tells that the entries are items of a list, not paragraphs.
	List bool
}

// An Entry is one paragraph, or one item of a list.
type Entry struct {
	// Term is what the text is about: an abbreviation, "Rnd 3"; "" where it
	// speaks for itself.
	Term, Text string
}

// New writes a draft and the graph that was built from it as a pattern, in the
// given terms. The sheet gives measures and yarn; without one, nil, there are
// none. A draft with errors is written as far as it was worked, which nobody
// should publish.
func New(d *notation.Draft, g *model.Graph, sheet *size.Sheet, terms notation.Terms) *Pattern {
	l := languages[min(int(terms), len(languages)-1)]
	p := &Pattern{Title: d.Title(), Terms: l.terms}
	if p.Title == "" {
		p.Title = "Motif without a name"
	}
	w := &writer{language: l, draft: d, g: g, sheet: sheet, pieces: newPieces(l, d, g)}
	w.notes = w.pieces[0].notes
	work := append([]Section{w.motif()}, w.making()...)
	special := Section{Heading: "Special stitches", Entries: w.special(), List: true}
	notes := Section{Heading: "Notes", Entries: w.remarks(), List: true}
	finishing := Section{Heading: "Finishing", Entries: w.finishing()}
	words := append([]Section{special, notes, finishing}, work...)
	sections := []Section{
		{Heading: "About this pattern", Entries: w.about()},
		{Heading: "Materials", Entries: w.materials(), List: true},
		{Heading: sentence(l.gauge), Entries: w.gaugeEntries()},
		{Heading: "Finished size", Entries: w.measurements(), List: true},
		{Heading: "Abbreviations", Entries: w.abbreviations(words), List: true},
		special, notes,
	}
	sections = append(append(sections, work...), finishing, Section{Heading: "Cautions", Entries: w.cautions(), List: true})
	for _, s := range sections {
		if len(s.Entries) > 0 {
			p.Sections = append(p.Sections, s)
		}
	}
	return p
}

// motif writes the rounds of the motif.
func (w *writer) motif() Section {
	s := Section{Heading: "Instructions"}
	piece := w.pieces[0]
	if p := w.g.Panel(); p != nil {
		s.Heading = "Motif"
		s.Entries = append(s.Entries, Entry{"", fmt.Sprintf("Make %d alike.", p.Motifs)})
	}
	if ring := piece.ring(); ring != "" {
		s.Entries = append(s.Entries, Entry{"Ring", ring})
	}
	s.Entries = append(s.Entries, entries(piece.rounds())...)
	return s
}

// entries are rounds with their counts behind them.
func entries(rounds []Round) []Entry {
	var list []Entry
	for _, r := range rounds {
		text := r.Text
		if r.Count != "" {
			text += " (" + r.Count + ")"
		}
		list = append(list, Entry{r.Label(), text})
	}
	return list
}

// Rounds writes the rounds of the motif alone.
func Rounds(d *notation.Draft, g *model.Graph, terms notation.Terms) []Round {
	p := newPieces(languages[min(int(terms), len(languages)-1)], d, g)[0]
	p.ring()
	return p.rounds()
}

// ring writes how the centre is made.
func (p *piece) ring() string {
	if p.g.NumRounds() == 0 || p.g.Round(0).Len == 0 {
		return ""
	}
	with := ""
	if yarn := p.g.Node(p.g.Round(0).First).Yarn; yarn > 0 {
		with = "with " + p.yarnName(yarn) + ", "
		p.live[yarn] = true
	}
	if p.g.Ring > 0 {
		return sentence(fmt.Sprintf("%sch %d; join with %s to first ch to form a ring.", with, p.g.Ring, p.slip))
	}
	return sentence(with + "make an adjustable ring.")
}

// A writer writes the parts of a pattern around its rounds.
type writer struct {
	*language
	draft  *notation.Draft
	g      *model.Graph
	sheet  *size.Sheet
	pieces []*piece // the motif, then the borders
	notes  *notes   // of all of them
}

func (w *writer) about() []Entry {
	level, why := w.level()
	text := fmt.Sprintf("Project level: %s", level)
	if len(why) > 0 {
		text += ", for " + and(why)
	}
	return []Entry{
		{"", fmt.Sprintf("Written in %s terms.", w.name)},
		{"", text + "."},
	}
}

// both writes an estimate in inches and centimetres, the one that goes with the
// terms first.
func (w *writer) both(e size.Estimate[size.Length]) string {
	cm, in := e.Text(notation.Centimetre), e.Text(notation.Inch)
	if w.terms == notation.US {
		return in + ", or " + cm
	}
	return cm + ", or " + in
}

// length writes a length in the unit it was given in, with the other in
// brackets.
func length(q notation.Quantity) string {
	l, other := size.Length(q.Value()), notation.Centimetre
	switch q.Unit {
	case notation.Millimetre, notation.Centimetre:
		other = notation.Inch
	case notation.Metre:
		other = notation.Yard
	case notation.Yard:
		other = notation.Metre
	}
	return fmt.Sprintf("%g %s (%s)", q.Amount, q.Unit, l.Text(other))
}

func (w *writer) materials() []Entry {
	var list []Entry
	lines := map[string]*notation.Yarn{}
	for y := range w.draft.Yarns() {
		if key := strings.ToLower(y.Name.Text); lines[key] == nil {
			lines[key] = y
		}
	}
	if w.sheet != nil {
		for _, use := range w.sheet.Yarns {
			list = append(list, w.yarn(use, lines[strings.ToLower(use.Name)]))
		}
	}
	if w.sheet != nil && slices.ContainsFunc(w.sheet.Yarns, func(y size.YarnUse) bool { return y.Buy > 0 }) {
		amounts := fmt.Sprintf("with %g %% to spare", math.Round(100*w.sheet.Margin))
		if w.sheet.Motifs > 1 {
			amounts = fmt.Sprintf("for all %d motifs, joins and borders, ", w.sheet.Motifs) + amounts
		}
		list = append(list, Entry{"Amounts", amounts})
	}
	if h := w.draft.Hook(); h != nil && !h.Size.Unit.IsWeight() {
		list = append(list, Entry{"Hook", w.hook(h)})
	}
	notions := "yarn needle for the ends"
	if w.draft.Succession() == notation.Spiral {
		notions += "; a marker for the first st of the rnd"
	}
	return append(list, Entry{"Notions", notions})
}

func (w *writer) yarn(use size.YarnUse, line *notation.Yarn) Entry {
	e := Entry{Term: use.Name}
	if e.Term == "" {
		e.Term = "Yarn"
	}
	var what []string
	if use.Label != "" && use.Label != use.Name {
		what = append(what, use.Label)
	}
	if line != nil && line.Length.Value() > 0 && line.Weight.Value() > 0 {
		what = append(what, fmt.Sprintf("%g %s per %g %s", line.Length.Amount, line.Length.Unit, line.Weight.Amount, line.Weight.Unit))
	}
	if line != nil && len(line.Stretches) > 0 {
		var stretches []string
		for _, s := range line.Stretches {
			stretches = append(stretches, fmt.Sprintf("%s (%g %s)", s.Label, s.Length.Amount, s.Length.Unit))
		}
		what = append(what, "in stretches of "+and(stretches))
	}
	if use.Buy > 0 {
		amount := fmt.Sprintf("about %s (%s)", use.Buy.TextUp(notation.Metre), use.Buy.TextUp(notation.Yard))
		if w.terms == notation.US {
			amount = fmt.Sprintf("about %s (%s)", use.Buy.TextUp(notation.Yard), use.Buy.TextUp(notation.Metre))
		}
		if use.BuyWeight > 0 {
			amount += fmt.Sprintf(" or %s (%s)", use.BuyWeight.TextUp(notation.Gram), use.BuyWeight.TextUp(notation.Ounce))
		}
		what = append(what, amount)
	}
	if use.Ball > 0 && use.Balls > 0 && line != nil {
		balls := fmt.Sprintf("%d %s of %g %s", use.Balls, plural(use.Balls, "ball", "balls"), line.Weight.Amount, line.Weight.Unit)
		if use.BallsMost > use.Balls {
			balls += fmt.Sprintf(" (at most %d)", use.BallsMost)
		}
		what = append(what, balls)
	}
	e.Text = strings.Join(what, ", ")
	if e.Text == "" {
		e.Text = "as much as the piece takes"
	}
	return e
}

func (w *writer) hook(h *notation.Hook) string {
	text := fmt.Sprintf("%g %s", h.Size.Amount, h.Size.Unit)
	if named, ok := size.HookNamed(size.Length(h.Size.Value())); ok {
		name := named.US
		if w.terms == notation.UK {
			name = named.UK
		}
		if name != "" {
			text += fmt.Sprintf(" (%s %s)", w.name, name)
		}
	}
	if w.draft.Gauge() != nil {
		text += fmt.Sprintf(", or whatever size gives you the %s", w.gauge)
	}
	return text
}

func (w *writer) gaugeEntries() []Entry {
	q := w.draft.Gauge()
	if q == nil || w.sheet == nil || w.sheet.Gauge.Unit == 0 {
		return nil
	}
	var list []Entry
	if q.From > 0 {
		list = append(list, Entry{"", fmt.Sprintf("After Rnd %d the motif is %s across.", q.To, length(q.Across))})
	} else {
		text := fmt.Sprintf("%g %s", q.Stitches, w.stitch(q.Stitch.US))
		if q.Rounds > 0 {
			text += fmt.Sprintf(" and %g %s", q.Rounds, plural(int(q.Rounds), "rnd", "rnds"))
		}
		list = append(list, Entry{"", fmt.Sprintf("%s to %s.", text, length(q.Over))})
	}
	// A motif is measured as it grows.
	if n := len(w.sheet.Rounds); n > 2 {
		m := w.sheet.Rounds[(n-1)/2]
		if m.Across.Known() && m.Number != q.To {
			list = append(list, Entry{"", fmt.Sprintf("To check as you go: about %s across after Rnd %d.", w.both(m.Across), m.Number)})
		}
	}
	return list
}

func (w *writer) measurements() []Entry {
	if w.sheet == nil {
		return nil
	}
	m, ok := w.sheet.Finished()
	if !ok || !m.Across.Known() {
		return nil
	}
	var list []Entry
	put := func(what string, e size.Estimate[size.Length]) {
		if e.Known() {
			list = append(list, Entry{sentence(what), "about " + w.both(e)})
		}
	}
	motif := ""
	if u := w.sheet.MadeUp; u != nil {
		for _, d := range u.Sizes {
			put(string(d.What), d.Size)
		}
		motif = "one motif, "
	}
	switch {
	case m.Corners == 0:
		put(motif+"across", m.Across)
	case m.Corners%2 == 1:
		put(motif+"twice from the "+w.centre+" to the middle of a side", m.Across)
		put(motif+"from a corner to the side facing it", m.Points)
	default:
		put(motif+"from side to side", m.Across)
		put(motif+"from corner to corner", m.Points)
	}
	if m.Corners > 0 && m.Corners != 4 {
		put(motif+"each side", m.Side)
	}
	list = append(list, w.bodies()...)
	return append(list, Entry{"", "In brackets: what other hands and yarns may come to."})
}

// bodies says whom a garment fits.
func (w *writer) bodies() []Entry {
	u := w.sheet.MadeUp
	if u == nil {
		return nil
	}
	var list []Entry
	for _, part := range []struct {
		part size.BodyPart
		what string
	}{{size.Head, "The neck passes over the head of"}, {size.Chest, "Loose round the chest of"}, {size.Back, "Reaches the waist at the age of"}} {
		var fits []string
		for _, f := range u.Fits {
			if f.Part == part.part && f.Fits {
				fits = append(fits, f.Size)
			}
		}
		if len(fits) > 0 {
			list = append(list, Entry{part.what, strings.Join(fits, ", ")})
		}
	}
	return list
}

func (w *writer) finishing() []Entry {
	var list []Entry
	if w.sheet != nil && w.sheet.Ends > 0 {
		tail := size.Length(0)
		for _, y := range w.sheet.Yarns {
			tail = max(tail, y.Tail)
		}
		list = append(list, Entry{"", fmt.Sprintf("Leave ends of %s and weave them in on the WS: %d in all.",
			length(notation.Quantity{Amount: tail.In(notation.Centimetre), Unit: notation.Centimetre}), w.sheet.Ends)})
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

// level finds the project level. The Craft Yarn Council names four, for the
// project and not for its maker ("Proper Project Level Definitions", site, 4
// Apr 2018, restating p. 12 of its standards of that year): Basic for basic
// stitches with simple increases and decreases, Easy for simple patterns of
// stitches, colours and shapes, Intermediate for more involved ones, Complex
// for several techniques at once. What counts as which is taken from here:
//
//	Basic         sc, hdc, dc, sl st and ch in one colour, one stitch or
//	              several in a stitch or the ring, two closed together
//	Easy          spaces, corners, picots, tr; rounds in several colours
//	Intermediate  one or two of: posts, single loops, clusters and their
//	              like, extended and taller stitches, crab stitch, several
//	              colours in a round, earlier rounds worked into
//	Complex       three or more of them
func (w *writer) level() (level string, why []string) {
	easy, involved := w.techniques()
	switch {
	case len(involved) > 2:
		return "Complex", involved
	case len(involved) > 0:
		return "Intermediate", involved
	case len(easy) > 0:
		return "Easy", easy
	}
	return "Basic", nil
}

// techniques lists what a piece asks of its maker beyond the basic stitches.
func (w *writer) techniques() (easy, involved []string) {
	has := map[string]bool{}
	for _, p := range w.pieces {
		yarn := -1
		for i := range p.g.NumRounds() {
			first := true
			for n := range p.g.Nodes(i) {
				technique(has, p.kinds[n.Kind], n)
				switch {
				case yarn < 0 || n.Yarn == yarn:
				case first:
					has["colours"] = true
				default:
					has["colour"] = true
				}
				yarn, first = n.Yarn, false
			}
		}
	}
	if w.notes.earlier {
		has["earlier"] = true
	}
	pick := func(order [][2]string) (list []string) {
		for _, o := range order {
			if has[o[0]] {
				list = append(list, o[1])
			}
		}
		return list
	}
	easy = pick([][2]string{
		{"spaces", "ch sps"}, {"gaps", "work between sts"}, {"corners", "corners"}, {"picots", "picots"}, {"tall", "tall sts"},
		{"colours", "changes of " + w.colour},
	})
	involved = pick([][2]string{
		{"posts", "post sts"}, {"loops", "work into single loops"}, {"clusters", "clusters"}, {"taller", "very tall and extended sts"},
		{"reverse", "reverse sts"}, {"colour", "several " + w.colour + "s in a rnd"}, {"earlier", "work into earlier rnds"},
	})
	return easy, involved
}

// technique notes what one stitch asks.
func technique(has map[string]bool, k model.Kind, n model.Node) {
	has["corners"] = has["corners"] || n.Corner
	has["gaps"] = has["gaps"] || n.Place == notation.Gap
	has["loops"] = has["loops"] || n.Loop != notation.BothLoops
	has["posts"] = has["posts"] || k.Post != ""
	parts, _ := notation.US.Parse(k.Name)
	switch parts.Base {
	case "ch":
		has["spaces"] = true
	case "picot":
		has["picots"] = true
	case "tr":
		has["tall"] = true
	case "sl st", "sc", "hdc", "dc":
	case "rev sc":
		has["reverse"] = true
	case "cl", "puff", "popcorn", "bobble", "bullion":
		has["clusters"] = true
	default:
		has["taller"] = true
	}
	if parts.Together > 0 && (n.Legs == 1 || parts.Together > 2) {
		has["clusters"] = true
	}
}

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
	if n.unsaid {
		note("How a rnd is started is left to you: with a st without a chain, or with a ch as tall as the first st (%s), which then counts as that st.", w.heights())
	}
	note("The figures in brackets after a rnd are what it holds. Ch and picots are not counted as sts. The %s that joins a rnd or a yarn, or leads on to the next place, is neither counted nor worked into.", w.slip)
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
	if w.notes.earlier {
		note("Where an earlier rnd is named, work into that one and leave the sts of the rnds between as they are.")
	}
	return list
}

// heights lists starting chains by the stitches that rounds begin with.
func (w *writer) heights() string {
	var list []string
	for _, k := range model.Kinds() {
		if w.notes.firsts[k.Name] {
			list = append(list, fmt.Sprintf("%d for %s", size.StartingChains(k), w.stitch(k.Name)))
		}
	}
	return strings.Join(list, ", ")
}
