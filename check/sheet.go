package check

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// Units are what sizes, yarn and weights are written in: two units of length and
// one of weight. A field without a unit stands for that of Metric.
type Units struct{ Size, Yarn, Weight notation.Unit }

func (m Units) orMetric() Units {
	return Units{cmp.Or(m.Size, Metric.Size), cmp.Or(m.Yarn, Metric.Yarn), cmp.Or(m.Weight, Metric.Weight)}
}

// The two ways to write measures.
var (
	Metric = Units{notation.Centimetre, notation.Metre, notation.Gram}
	Inches = Units{notation.Inch, notation.Yard, notation.Ounce}
)

// WriteSheet writes the sheet of a draft for people: a page of measurements,
// yarn, gauge and hook that may be copied into a pattern. Stitch names are in
// the terms of the draft. Whatever is uncertain has its band beside it.
func WriteSheet(w io.Writer, r *Report, s *size.Sheet, m Units) error {
	out := bufio.NewWriter(w)
	if s.Title != "" {
		fmt.Fprintf(out, "%s\n\n", visible(s.Title))
	}
	p := &page{w: out, m: m.orMetric(), draft: r.Draft, sheet: s, hole: size.LeavesHole(r.Graph)}
	p.summary()
	p.madeUp()
	p.yarn()
	p.rounds()
	p.changes()
	p.fit()
	p.notes()
	return out.Flush()
}

// A page writes a sheet.
type page struct {
	w     io.Writer
	m     Units
	draft *notation.Draft
	sheet *size.Sheet
	hole  bool // it is drawn together at the end
}

// lines writes lines of a name and a text, the texts below one another. A line
// without a name goes on with the one above.
func (p *page) lines(list [][2]string) {
	tw := tabwriter.NewWriter(p.w, 0, 0, 2, ' ', 0)
	for _, l := range list {
		fmt.Fprintf(tw, "%s\t%s\n", l[0], l[1])
	}
	tw.Flush()
}

func (p *page) summary() {
	s := p.sheet
	var list [][2]string
	if s.Hook > 0 {
		list = append(list, [2]string{"Hook", p.hookText(s.Hook)})
	}
	if g := p.draft.Gauge(); g != nil {
		list = append(list, [2]string{"Gauge", p.gaugeText(*g)})
	}
	if n := len(s.Rounds); n > 0 {
		list = append(list, [2]string{"Rounds", fmt.Sprint(n)})
	}
	if last, ok := s.Finished(); ok {
		texts := p.measureTexts(last)
		name := "Finished size"
		if s.Motifs > 1 {
			name = "One motif"
		}
		for i, text := range texts {
			if i > 0 {
				name = ""
			}
			list = append(list, [2]string{name, text})
		}
		for _, r := range s.Reached {
			list = append(list, [2]string{fmt.Sprintf("Until %s %s", r.What, r.Wanted.Text(p.m.Size)), p.reachedText(r)})
		}
	} else {
		list = append(list, [2]string{"Finished size", p.noSize()})
	}
	p.lines(list)
}

// noSize says why it is not known how large a motif is.
func (p *page) noSize() string {
	const such = "such as gauge 14 dc by 8 rnds over 10 cm, or gauge rnds 1-3 = 10 cm across"
	switch {
	case p.draft.Gauge() == nil:
		return "not known without a gauge line, " + such
	case p.sheet.Gauge.Unit == 0:
		return "not known: the gauge line says nothing of the size of stitches; one that does would be " + such
	}
	return "not known: no round comes out as written"
}

// measureTexts says how large a piece is, each way of measuring in a text.
func (p *page) measureTexts(m size.Measure) []string {
	across := m.Across.Text(p.m.Size)
	switch {
	case p.sheet.Cupped:
		return p.cuppedTexts(m)
	case m.Corners == 0:
		return []string{across + " across"}
	case m.Corners == 4:
		return []string{across + " from side to side", m.Points.Text(p.m.Size) + " from corner to corner"}
	case m.Corners%2 == 0:
		return []string{across + " from side to side", m.Side.Text(p.m.Size) + " along a side", m.Points.Text(p.m.Size) + " from corner to corner"}
	}
	return []string{m.Points.Text(p.m.Size) + " from a corner to the opposite side", m.Side.Text(p.m.Size) + " along a side"}
}

// cuppedTexts says how large a piece is that does not lie flat: how far round
// where it is widest and at its edge, and how far down.
func (p *page) cuppedTexts(m size.Measure) []string {
	widest, _ := p.sheet.Widest()
	edge := m.Edge.Text(p.m.Size) + " round the edge"
	var texts []string
	if widest.To < m.Number {
		texts = append(texts, widest.Round.Text(p.m.Size)+" round where it is widest, "+rndText(widest.From, widest.To))
		if p.hole {
			edge += ", which is drawn together"
		}
	} else {
		texts, edge = append(texts, edge), ""
	}
	if m.Corners == 0 {
		texts = append(texts, widest.Across().Text(p.m.Size)+" across there, held round")
	}
	if edge != "" {
		texts = append(texts, edge)
	}
	if m.Corners > 2 {
		texts = append(texts, m.Edge.Times(1/float64(m.Corners)).Text(p.m.Size)+" along a side of the edge")
	}
	return append(texts, m.Depth.Text(p.m.Size)+" deep, from the centre to the edge along the fabric")
}

// rndText names the rounds from one to another.
func rndText(from, to int) string {
	if from == to {
		return fmt.Sprintf("rnd %d", to)
	}
	return fmt.Sprintf("rnd %d-%d", from, to)
}

// reachedText says how many rounds came to a size: under and over.
func (p *page) reachedText(r size.Reached) string {
	n := r.To - r.From + 1
	text := fmt.Sprintf("%s, %s: %s", countText(n, "round", "rounds"), rndText(r.From, r.To), r.Size.Text(p.m.Size))
	if r.Before.Known() {
		text += fmt.Sprintf("; %s: %s", countText(n-1, "round", "rounds"), r.Before.Text(p.m.Size))
	}
	if p.sheet.Cupped {
		text += "; laid flat"
	}
	return text
}

func (p *page) hookText(thick size.Length) string {
	text := plain(math.Round(100*float64(thick))/100) + " mm"
	h, _ := size.HookNamed(thick)
	if name := h.Name(p.draft.Terms); name != "" {
		text += " (" + name + ")"
	}
	return text
}

// gaugeText writes a gauge as its line does, to the letter.
func (p *page) gaugeText(g notation.Gauge) string {
	if g.From > 0 {
		rounds := fmt.Sprintf("round %d is", g.To)
		if g.From != g.To {
			rounds = fmt.Sprintf("rounds %d to %d are", g.From, g.To)
		}
		return fmt.Sprintf("%s %s %s across", rounds, plain(g.Across.Amount), g.Across.Unit)
	}
	text := fmt.Sprintf("%s %s", plain(g.Stitches), p.draft.Terms.Name(cmp.Or(g.Stitch.US, g.Stitch.Text)))
	if g.Rounds > 0 {
		text += fmt.Sprintf(" by %s rounds", plain(g.Rounds))
	}
	return fmt.Sprintf("%s over %s %s", text, plain(g.Over.Amount), g.Over.Unit)
}

func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// countable rounds a gauge that was worked out: no finer than a swatch can be
// counted and measured.
func countable(g notation.Gauge) notation.Gauge {
	for _, x := range []*float64{&g.Stitches, &g.Rounds, &g.Across.Amount} {
		if *x >= 0.25 {
			*x = math.Round(4**x) / 4
		} else {
			*x = math.Round(100**x) / 100
		}
	}
	return g
}

// panelNames are what pages call what motifs are made up into.
var panelNames = map[notation.PanelKind]string{
	notation.PanelFlat: "Panel", notation.PanelTube: "Tube", notation.PanelCushion: "Cushion", notation.PanelBag: "Bag",
	notation.PanelWrap: "Folded wrap", notation.PanelWrapOnPoint: "Folded wrap on the point",
}

// joinNames are what pages call joins; the stitches among them are named in the
// terms of the draft.
var joinNames = map[notation.JoinKind]string{
	notation.JoinWhip: "whip stitch", notation.JoinMattress: "mattress stitch",
}

func (p *page) madeUp() {
	u := p.sheet.MadeUp
	if u == nil {
		return
	}
	motifs := countText(p.sheet.Motifs, "motif", "motifs")
	switch {
	case len(u.Seams) == 0: // 1 by 1
	case u.Kind == notation.PanelFlat || u.Kind == notation.PanelTube:
		motifs += fmt.Sprintf(", %d by %d", u.Rows, u.Columns)
	case u.Kind == notation.PanelCushion || u.Kind == notation.PanelBag:
		motifs += fmt.Sprintf(", %d by %d in each of two faces", u.Rows, u.Columns)
	}
	fmt.Fprintf(p.w, "\n%s: %s, %s\n", panelNames[u.Kind], motifs, p.joinText(u))
	var list [][2]string
	for _, d := range u.Sizes {
		list = append(list, [2]string{"  " + string(d.What), d.Size.Text(p.m.Size)})
	}
	for _, s := range u.Seams {
		list = append(list, [2]string{"  seams", p.seamText(s)})
	}
	for _, b := range u.Borders {
		name := "  border of " + string(b.Edge)
		for _, text := range p.borderTexts(&b) {
			list = append(list, [2]string{name, text})
			name = ""
		}
	}
	p.lines(list)
	p.bodies(u)
}

// joinText says what motifs are joined with, as the written pattern does.
func (p *page) joinText(u *size.MadeUp) string {
	join := joinNames[u.Join]
	switch {
	case len(u.Seams) == 0:
		return "nothing to join"
	case u.Join == notation.JoinSlip && p.draft.Terms == notation.UK:
		join = "ss" // drafts write sl st in either terms, UK patterns ss
	case join == "":
		join = p.draft.Terms.Name(string(u.Join))
	}
	return "joined with " + join
}

// seamText says how many seams of one length there are; what is joined in them
// are the stitches and single chains of a side.
func (p *page) seamText(s size.SeamSize) string {
	text := fmt.Sprintf("%d of %s (stitches and single chains)", s.Count, countText(s.Places, "place", "places"))
	if s.Length.Known() {
		text += ", " + s.Length.Text(p.m.Size) + " each"
	}
	return text
}

// borderTexts says how wide a border is, on what edge, and how its last round
// compares with what its corners ask for.
func (p *page) borderTexts(b *size.BorderSize) []string {
	wide := countText(b.Rounds, "round", "rounds")
	if b.Width.Known() {
		wide += ", " + b.Width.Text(p.m.Size) + " wide"
	}
	if b.Edges > 1 {
		wide += fmt.Sprintf(", on each of %d edges", b.Edges)
	}
	edge := "on an edge "
	if b.Length.Known() {
		edge += "of " + b.Length.Text(p.m.Size) + " "
	}
	edge += "with " + countText(b.EdgePlaces, "stitch or chain", "stitches and chains")
	if b.Outer > 0 {
		edge += ", " + countText(b.Outer, "outer corner", "outer corners")
	}
	if b.Inner > 0 {
		edge += ", " + countText(b.Inner, "inner corner", "inner corners")
	}
	texts := []string{wide, edge}
	if b.Needed > 0 && b.RimPlaces > 0 {
		flat := "to lie flat"
		if b.Outer+b.Inner > 0 {
			flat += " with square corners"
		}
		texts = append(texts, fmt.Sprintf("its last round has %s; %s it needs about %d", countText(b.RimPlaces, "stitch or chain", "stitches and chains"), flat, b.Needed))
	}
	return texts
}

// bodies says how a garment goes over a body.
func (p *page) bodies(u *size.MadeUp) {
	fit, tight := map[size.BodyPart][]string{}, map[size.BodyPart][]string{}
	for _, f := range u.Fits {
		if f.Fits {
			fit[f.Part] = append(fit[f.Part], f.Size)
		} else {
			tight[f.Part] = append(tight[f.Part], fmt.Sprintf("%s (%s short)", f.Size, (-f.Ease).Text(p.m.Size)))
		}
	}
	var list [][2]string
	for _, l := range []struct {
		name  string
		texts []string
	}{
		{"neck passes over the head of", fit[size.Head]},
		{"neck is too small for", tight[size.Head]},
		{"loose round the chest of", fit[size.Chest]},
		{"reaches the waist at an age of", fit[size.Back]},
	} {
		if len(l.texts) > 0 {
			list = append(list, [2]string{"  " + l.name, strings.Join(l.texts, ", ")})
		}
	}
	p.lines(list)
}

func (p *page) yarn() {
	s := p.sheet
	if len(s.Yarns) == 0 {
		return
	}
	known := s.Gauge.Unit > 0
	if known {
		what := "Yarn"
		if s.Motifs > 1 {
			what = fmt.Sprintf("Yarn, for %d motifs", s.Motifs)
		}
		fmt.Fprintf(p.w, "\n%s\n", what)
		var list [][2]string
		for _, y := range s.Yarns {
			list = append(list, [2]string{"  " + yarnName(y), p.yarnText(y)})
		}
		p.lines(list)
	}
	fmt.Fprintf(p.w, "\nEnds to weave in: %d.\n", s.Ends)
}

func yarnName(y size.YarnUse) string {
	switch {
	case y.Name == "":
		return "the yarn"
	case y.Label == "" || strings.EqualFold(y.Label, y.Name):
		return visible(y.Name)
	}
	return visible(y.Name + " (" + y.Label + ")")
}

func (p *page) yarnText(y size.YarnUse) string {
	text := y.Total.Text(p.m.Yarn)
	if p.sheet.Motifs > 1 && y.Stitches.Known() {
		one := y.Stitches.Expected + size.Length(y.Ends)*y.Tail
		text += ", " + one.Text(p.m.Yarn) + " a motif"
	}
	buy := y.Buy.TextUp(p.m.Yarn)
	if y.Weight.Known() {
		text += ", " + y.Weight.Text(p.m.Weight)
		buy += ", " + y.BuyWeight.TextUp(p.m.Weight)
	}
	text += fmt.Sprintf("; with %.0f %% to spare %s", 100*p.sheet.Margin, buy)
	if y.Balls > 0 {
		text += ": " + countText(y.Balls, "ball", "balls")
		if y.BallsMost > y.Balls {
			text += fmt.Sprintf(", or at most %d,", y.BallsMost)
		}
		text += " of " + y.Ball.Text(p.m.Weight)
	}
	return text
}

func (p *page) rounds() {
	if len(p.sheet.Rounds) == 0 {
		return
	}
	if p.sheet.Cupped {
		p.cuppedRounds()
		return
	}
	corners := 0
	for _, m := range p.sheet.Rounds {
		corners = max(corners, m.Corners)
	}
	fmt.Fprintln(p.w)
	tw := tabwriter.NewWriter(p.w, 0, 0, 2, ' ', 0)
	fmt.Fprint(tw, "rnd\tacross")
	if corners > 0 {
		if corners != 4 {
			fmt.Fprint(tw, "\tside")
		}
		fmt.Fprint(tw, "\tcorner to corner")
	}
	fmt.Fprintln(tw)
	for _, m := range p.sheet.Rounds {
		fmt.Fprintf(tw, "%d\t%s", m.Number, m.Across.Text(p.m.Size))
		if corners > 0 {
			if corners != 4 {
				fmt.Fprintf(tw, "\t%s", p.known(m.Side))
			}
			fmt.Fprintf(tw, "\t%s", p.known(m.Points))
		}
		fmt.Fprintln(tw)
	}
	tw.Flush()
}

// cuppedRounds are those of a piece that does not lie flat.
func (p *page) cuppedRounds() {
	fmt.Fprintln(p.w)
	tw := tabwriter.NewWriter(p.w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, "rnd\tround the edge\tdeep")
	for _, m := range p.sheet.Rounds {
		fmt.Fprintf(tw, "%d\t%s\t%s\n", m.Number, m.Edge.Text(p.m.Size), m.Depth.Text(p.m.Size))
	}
	tw.Flush()
}

func (p *page) known(e size.Estimate[size.Length]) string {
	if !e.Known() {
		return "-"
	}
	return e.Text(p.m.Size)
}

// changesShown is how many changes of a yarn's colour a page lists.
const changesShown = 60

func (p *page) changes() {
	s := p.sheet
	if len(s.Changes) == 0 {
		return
	}
	stretches := map[string][]notation.Stretch{}
	for y := range p.draft.Yarns() {
		if key := strings.ToLower(y.Name.Text); stretches[key] == nil {
			stretches[key] = y.Stretches
		}
	}
	fmt.Fprint(p.w, "\nWhere the yarn changes its colour, if it goes on from motif to motif\n")
	tw := tabwriter.NewWriter(p.w, 0, 0, 2, ' ', 0)
	for i, c := range s.Changes {
		if i == changesShown {
			break
		}
		stretch := stretches[strings.ToLower(c.Yarn)][c.Stretch]
		at := fmt.Sprintf("rnd %d, stitch %d", c.Round, c.Stitch)
		switch {
		case c.Motif == 0:
			at = fmt.Sprintf("edge of %s, %s", c.Edge, at)
		case s.Motifs > 1:
			at = fmt.Sprintf("motif %d, %s", c.Motif, at)
		}
		name := cmp.Or(stretch.Label, stretch.Colour, fmt.Sprintf("stretch %d", c.Stretch+1))
		fmt.Fprintf(tw, "  %s\t%s\t%s of it\n", visible(at), visible(name), c.Left.Text(p.m.Yarn))
	}
	tw.Flush()
	if len(s.Changes) > changesShown || s.MoreChanges {
		fmt.Fprintln(p.w, "  and so on")
	}
}

// mostScale is by how much, as a factor, stitches of another yarn and hook may be
// larger or smaller for a page to give the gauge: common practice, no source.
const mostScale = 5.0

func (p *page) fit() {
	f, t := p.sheet.Fit, p.sheet.Target
	if t == nil {
		return
	}
	what := "across"
	if t.Side {
		what = "along a side"
	}
	fmt.Fprintf(p.w, "\nTo be %s %s\n", t.Length.Text(p.m.Size), what)
	if f == nil {
		fmt.Fprintf(p.w, "  not worked out: %s\n", p.noFit())
		return
	}
	var list [][2]string
	name := "  rounds"
	for _, r := range []*size.RoundsFit{f.Under, f.Over} {
		if r == nil || r == f.Over && f.Under != nil && f.Under.Rounds == r.Rounds {
			continue
		}
		list = append(list, [2]string{name, p.roundsText(r)})
		name = ""
	}
	if f.Each > 0 {
		list = append(list, [2]string{name, fmt.Sprintf("no round can be worked again as it is; further rounds would add about %s each, if they grow as those above do on the average", f.Each.Text(p.m.Size))})
	} else if f.Over == nil {
		list = append(list, [2]string{name, "more rounds do not reach it"})
	}
	gauge := p.gaugeText(countable(f.Gauge)) + ", with the rounds unchanged"
	switch {
	case f.Scale > mostScale:
		gauge = fmt.Sprintf("out of reach with the rounds unchanged: stitches would have to be %.0f times as large", f.Scale)
	case f.Scale < 1/mostScale:
		gauge = fmt.Sprintf("out of reach with the rounds unchanged: stitches would have to be %.0f times as small", 1/f.Scale)
	}
	list = append(list, [2]string{"  gauge", gauge})
	if f.Hook > 0 {
		text := fmt.Sprintf("about %.1f mm, with the rounds unchanged", float64(f.Hook))
		for _, h := range f.Hooks {
			text += fmt.Sprintf("; %s comes to %s", p.hookText(h.Size), h.Expected.Text(p.m.Size))
		}
		list = append(list, [2]string{"  hook", text}, [2]string{"", "(after one yarn worked with hooks of 3.5 to 5 mm: work a swatch)"})
	} else if p.sheet.Hook > 0 {
		list = append(list, [2]string{"  hook", fmt.Sprintf("out of reach with the rounds unchanged: no usual size from %g to %g times as thick as that of the draft would do", size.LeastHookRatio, size.MostHookRatio)})
	}
	p.lines(list)
}

// noFit says why it is not worked out how a motif would come to a size.
func (p *page) noFit() string {
	switch {
	case p.sheet.Gauge.Unit == 0:
		return "that needs a gauge line"
	case p.sheet.Cupped:
		return "a cupped piece has a length round its edge and a depth, and is not measured flat"
	case len(p.sheet.Rounds) == 0:
		return "no round comes out as written"
	}
	return "the motif has no corners, and so no sides"
}

func (p *page) roundsText(r *size.RoundsFit) string {
	text := fmt.Sprintf("%s: %s", countText(r.Rounds, "round", "rounds"), r.Size.Text(p.m.Size))
	switch {
	case r.Change == 0:
		text += ", as it is"
	case r.From == 0:
		text += fmt.Sprintf(", %d fewer: end after round %d", -r.Change, r.Rounds)
	case r.Change < 0:
		text += fmt.Sprintf(", %d fewer: %s", -r.Change, rangeText(r.From, r.To))
	default:
		text += fmt.Sprintf(", %d more: %s", r.Change, rangeText(r.From, r.To))
	}
	return text
}

func rangeText(from, to int) string {
	if from == to {
		return fmt.Sprintf("only rnd %d by the steps of rnd %d", from, from)
	}
	return fmt.Sprintf("rnd %d-%d by the steps of rnd %d", from, to, from)
}

func countText(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// weighed writes what a swatch weighs, to the tenth of a unit as scales show it.
func (p *page) weighed(w size.Weight) string {
	if x := tenth(w.In(p.m.Weight)); x > 0 {
		return plain(x) + " " + string(p.m.Weight)
	}
	return w.Text(p.m.Weight)
}

// notes say what the figures rest on, and what to take care of.
func (p *page) notes() {
	s := p.sheet
	if s.Gauge.Unit > 0 {
		text := "In brackets stands what a figure may come out at, as hands and yarns differ."
		if g := p.draft.Gauge(); g.From == 0 && !s.Gauge.Dimensions.Measured {
			text += " A gauge that counts rounds too makes the sizes surer."
		}
		switch w := s.Swatch; {
		case w == nil:
			text += " A swatch that was weighed makes the yarn surer."
		case w.Used:
			text += fmt.Sprintf(" The yarn is reckoned by the swatch of %s that weighs %s.", countText(w.Rounds, "round", "rounds"), p.weighed(w.Weight))
		default:
			text += fmt.Sprintf(" The swatch of %s should weigh about %s, not %s, so the yarn is not reckoned by it.",
				countText(w.Rounds, "round", "rounds"), w.Expected.Text(p.m.Weight), p.weighed(w.Weight))
		}
		fmt.Fprintf(p.w, "\n%s\n", text)
	}
	for _, c := range s.Cautions {
		fmt.Fprintf(p.w, "\nCaution: %s\n", c.Text())
	}
}
