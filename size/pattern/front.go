package pattern

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

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
		{"posts", "post sts"}, {"loops", "work into single loops"}, {"clusters", "clusters"}, {"taller", "very tall or extended sts"},
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
		amounts := fmt.Sprintf("with %.10g %% to spare", math.Round(100*w.sheet.Margin))
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
		what = append(what, fmt.Sprintf("%.10g %s per %.10g %s", line.Length.Amount, line.Length.Unit, line.Weight.Amount, line.Weight.Unit))
	}
	if line != nil && len(line.Stretches) > 0 {
		var stretches []string
		for _, s := range line.Stretches {
			stretch := fmt.Sprintf("%.10g %s", s.Length.Amount, s.Length.Unit)
			if name := cmp.Or(s.Label, s.Colour); name != "" {
				stretch = fmt.Sprintf("%s (%s)", name, stretch)
			}
			stretches = append(stretches, stretch)
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
		balls := fmt.Sprintf("%d %s of %.10g %s", use.Balls, plural(use.Balls, "ball", "balls"), line.Weight.Amount, line.Weight.Unit)
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
	text := fmt.Sprintf("%.10g %s", h.Size.Amount, h.Size.Unit)
	named, _ := size.HookNamed(size.Length(h.Size.Value()))
	if name := named.Name(w.terms); name != "" {
		text += " (" + name + ")"
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
		list = append(list, Entry{"", fmt.Sprintf("After Rnd %d the motif is %s across.", q.To, asGiven(q.Across))})
	} else {
		text := fmt.Sprintf("%.10g %s", q.Stitches, w.stitch(q.Stitch.US))
		if q.Rounds > 0 {
			rnds := "rnds"
			if q.Rounds == 1 {
				rnds = "rnd"
			}
			text += fmt.Sprintf(" and %.10g %s", q.Rounds, rnds)
		}
		list = append(list, Entry{"", fmt.Sprintf("%s to %s.", text, asGiven(q.Over))})
	}
	// A motif is measured as it grows.
	if n := len(w.sheet.Rounds); n > 2 {
		m := w.sheet.Rounds[(n-1)/2]
		if m.Across.Known() && m.Number != q.To {
			across := w.both(m.Across) + " across"
			if w.sheet.Cupped {
				across = w.both(m.Edge) + " round the edge"
			}
			list = append(list, Entry{"", fmt.Sprintf("To check as you go: about %s after Rnd %d.", across, m.Number)})
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
	case w.sheet.Cupped:
		if g, _ := w.sheet.Widest(); g.To < m.Number {
			widest := Round{From: g.From, To: g.To}
			put(motif+"round where it is widest, "+widest.Label(), g.Round)
		}
		put(motif+"round the edge", m.Edge)
		put(motif+"deep, from the "+w.centre+" to the edge along the fabric", m.Depth)
	case m.Corners == 0:
		put(motif+"across", m.Across)
	case m.Corners%2 == 1:
		put(motif+"twice from the "+w.centre+" to the middle of a side", m.Across)
		put(motif+"from a corner to the side facing it", m.Points)
	default:
		put(motif+"from side to side", m.Across)
		put(motif+"from corner to corner", m.Points)
	}
	if m.Corners > 0 && m.Corners != 4 && !w.sheet.Cupped {
		put(motif+"each side", m.Side)
	}
	list = append(list, w.bodies()...)
	return append(list, Entry{"", "The range is what other hands and yarns may come to."})
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

// both writes an estimate in inches and centimetres, the one that goes with the
// terms first.
func (w *writer) both(e size.Estimate[size.Length]) string {
	cm, in := e.Text(notation.Centimetre), e.Text(notation.Inch)
	if w.terms == notation.US {
		return in + ", or " + cm
	}
	return cm + ", or " + in
}

// length writes a length in both units, the one that goes with the terms first.
func (w *writer) length(l size.Length) string {
	if w.terms == notation.US {
		return fmt.Sprintf("%s (%s)", l.Text(notation.Inch), l.Text(notation.Centimetre))
	}
	return fmt.Sprintf("%s (%s)", l.Text(notation.Centimetre), l.Text(notation.Inch))
}

// asGiven writes a length in the unit it was given in, with the other in
// brackets.
func asGiven(q notation.Quantity) string {
	l, other := size.Length(q.Value()), notation.Centimetre
	switch q.Unit {
	case notation.Millimetre, notation.Centimetre:
		other = notation.Inch
	case notation.Metre:
		other = notation.Yard
	case notation.Yard:
		other = notation.Metre
	}
	return fmt.Sprintf("%.10g %s (%s)", q.Amount, q.Unit, l.Text(other))
}
