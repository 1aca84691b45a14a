package check

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// Units are what sizes, yarn and weights are written in.
type Units struct{ Size, Yarn, Weight notation.Unit }

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
	p := &page{w: out, m: m, draft: r.Draft, sheet: s}
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
		list = append(list, [2]string{"Hook", hookText(s.Hook)})
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
		list = append(list, [2]string{"Finished size", "not known without a gauge line, such as gauge 14 dc by 8 rnds over 10 cm, or gauge rnds 1-3 = 10 cm across"})
	}
	p.lines(list)
}

// measureTexts says how large a piece is, each way of measuring in a text.
func (p *page) measureTexts(m size.Measure) []string {
	across := m.Across.Text(p.m.Size)
	switch {
	case m.Corners == 0:
		return []string{across + " across"}
	case m.Corners == 4:
		return []string{across + " from side to side", m.Points.Text(p.m.Size) + " from corner to corner"}
	case m.Corners%2 == 0:
		return []string{across + " from side to side", m.Side.Text(p.m.Size) + " along a side", m.Points.Text(p.m.Size) + " from corner to corner"}
	}
	return []string{m.Points.Text(p.m.Size) + " from a corner to the opposite side", m.Side.Text(p.m.Size) + " along a side"}
}

// reachedText says how many rounds came to a size: under and over.
func (p *page) reachedText(r size.Reached) string {
	n := r.To - r.From + 1
	rounds := fmt.Sprintf("rnd %d-%d", r.From, r.To)
	if n == 1 {
		rounds = fmt.Sprintf("rnd %d", r.To)
	}
	text := fmt.Sprintf("%s, %s: %s", countText(n, "round", "rounds"), rounds, r.Size.Text(p.m.Size))
	if r.Before.Known() {
		text += fmt.Sprintf("; %s: %s", countText(n-1, "round", "rounds"), r.Before.Text(p.m.Size))
	}
	return text
}

func hookText(thick size.Length) string {
	text := fmt.Sprintf("%g mm", float64(thick))
	if h, ok := size.HookNamed(thick); ok {
		text += " (US " + h.US + ")"
	}
	return text
}

// gaugeText writes a gauge as its line does.
func (p *page) gaugeText(g notation.Gauge) string {
	if g.From > 0 {
		rounds := fmt.Sprintf("round %d is", g.To)
		if g.From != g.To {
			rounds = fmt.Sprintf("rounds %d to %d are", g.From, g.To)
		}
		return fmt.Sprintf("%s %s %s across", rounds, amount(g.Across.Amount), g.Across.Unit)
	}
	text := fmt.Sprintf("%s %s", amount(g.Stitches), p.draft.Terms.Name(cmp.Or(g.Stitch.US, g.Stitch.Text)))
	if g.Rounds > 0 {
		text += fmt.Sprintf(" by %s rounds", amount(g.Rounds))
	}
	return fmt.Sprintf("%s over %s %s", text, amount(g.Over.Amount), g.Over.Unit)
}

// amount writes an amount no finer than a swatch can be counted.
func amount(x float64) string { return fmt.Sprintf("%g", math.Round(4*x)/4) }

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
	motifs := fmt.Sprintf("%d motifs", p.sheet.Motifs)
	switch u.Kind {
	case notation.PanelFlat, notation.PanelTube:
		motifs += fmt.Sprintf(", %d by %d", u.Rows, u.Columns)
	case notation.PanelCushion, notation.PanelBag:
		motifs += fmt.Sprintf(", %d by %d in each of two faces", u.Rows, u.Columns)
	}
	join := joinNames[u.Join]
	if join == "" {
		join = p.draft.Terms.Name(string(u.Join))
	}
	fmt.Fprintf(p.w, "\n%s: %s, joined with %s\n", panelNames[u.Kind], motifs, join)
	var list [][2]string
	for _, d := range u.Sizes {
		list = append(list, [2]string{"  " + string(d.What), d.Size.Text(p.m.Size)})
	}
	for _, s := range u.Seams {
		list = append(list, [2]string{"  seams", fmt.Sprintf("%d of %s, %s each", s.Count, countText(s.Places, "stitch", "stitches"), s.Length.Text(p.m.Size))})
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

// borderTexts says how wide a border is, on what edge, and how its last round
// compares with what its corners ask for.
func (p *page) borderTexts(b *size.BorderSize) []string {
	wide := fmt.Sprintf("%s, %s wide", countText(b.Rounds, "round", "rounds"), b.Width.Text(p.m.Size))
	if b.Edges > 1 {
		wide += fmt.Sprintf(", on each of %d edges", b.Edges)
	}
	edge := fmt.Sprintf("on an edge of %s with %s", b.Length.Text(p.m.Size), countText(b.EdgePlaces, "stitch or chain", "stitches and chains"))
	if b.Outer > 0 {
		edge += ", " + countText(b.Outer, "outer corner", "outer corners")
	}
	if b.Inner > 0 {
		edge += ", " + countText(b.Inner, "inner corner", "inner corners")
	}
	texts := []string{wide, edge}
	if b.Needed > 0 && b.RimPlaces > 0 {
		texts = append(texts, fmt.Sprintf("its last round has %d; to lie flat with square corners it needs about %d", b.RimPlaces, b.Needed))
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
	case y.Label == "":
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
		text += ": " + ballsText(y.Balls)
		if y.BallsMost > y.Balls {
			text += fmt.Sprintf(", or at most %d,", y.BallsMost)
		}
		text += " of " + y.Ball.Text(p.m.Weight)
	}
	return text
}

func ballsText(n int) string {
	if n == 1 {
		return "1 ball"
	}
	return fmt.Sprintf("%d balls", n)
}

func (p *page) rounds() {
	if len(p.sheet.Rounds) == 0 {
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

func (p *page) fit() {
	f := p.sheet.Fit
	if f == nil {
		return
	}
	what := "across"
	if f.Target.Side {
		what = "along a side"
	}
	fmt.Fprintf(p.w, "\nTo be %s %s\n", f.Target.Length.Text(p.m.Size), what)
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
		list = append(list, [2]string{name, fmt.Sprintf("no round can be worked again as it is; further rounds like these would add about %s each", f.Each.Text(p.m.Size))})
	} else if f.Over == nil {
		list = append(list, [2]string{name, "more rounds do not reach it"})
	}
	list = append(list, [2]string{"  gauge", p.gaugeText(f.Gauge) + ", with the rounds unchanged"})
	if f.Hook > 0 {
		text := fmt.Sprintf("about %.1f mm, with the rounds unchanged", float64(f.Hook))
		for _, h := range f.Hooks {
			text += fmt.Sprintf("; %s comes to %s", hookText(h.Size), h.Expected.Text(p.m.Size))
		}
		list = append(list, [2]string{"  hook", text}, [2]string{"", "(after one yarn worked with hooks of 3.5 to 5 mm: work a swatch)"})
	}
	p.lines(list)
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
			text += fmt.Sprintf(" The yarn is reckoned by the swatch of %s that weighs %g %s.", countText(w.Rounds, "round", "rounds"), tenth(w.Weight.In(p.m.Weight)), p.m.Weight)
		default:
			text += fmt.Sprintf(" The swatch of %s should weigh about %s, not %g %s, so the yarn is not reckoned by it.",
				countText(w.Rounds, "round", "rounds"), w.Expected.Text(p.m.Weight), tenth(w.Weight.In(p.m.Weight)), p.m.Weight)
		}
		fmt.Fprintf(p.w, "\n%s\n", text)
	}
	for _, c := range s.Cautions {
		fmt.Fprintf(p.w, "\nCaution: %s\n", c.Text())
	}
}

// WriteSheetJSON writes the sheet as JSON, lengths and weights as numbers in
// the units that it names:
//
//	{"version":1,"motif":"...","units":{"size":"cm","yarn":"m","weight":"g"},
//	 "hook_mm":4.5,"stitch_width_mm":7.1,"motifs":1,
//	 "rounds":[{"round":1,"corners":4,"across":{"low":2.6,"expected":3,"high":3.5},
//	   "side":{...},"corner_to_corner":{...}}],
//	 "until":[{"from":2,"to":9,"of":"side","wanted":45,"size":{...},"before":{...}}],
//	 "yarns":[{"yarn":"sand","label":"oat","total":{...},"weight":{...},
//	   "margin":0.1,"buy":46,"buy_weight":23,"ball":100,"balls":1,"balls_most":1,"ends":2}],
//	 "ends":14,"made_up":{...},"changes":[{"yarn":"dusk","motif":1,"round":1,"stitch":1,"stretch":0,"left":12}],
//	 "target":{...},"cautions":["..."]}
//
// What is not known is left out. Of changes all are listed, up to ten thousand.
func WriteSheetJSON(w io.Writer, s *size.Sheet, m Units) error {
	return writeJSON(w, newJSONSheet(s, m))
}

type jsonSheet struct {
	Version     int           `json:"version"`
	Motif       string        `json:"motif"`
	Units       jsonUnits     `json:"units"`
	Hook        float64       `json:"hook_mm,omitempty"`
	StitchWidth float64       `json:"stitch_width_mm,omitempty"`
	Motifs      int           `json:"motifs"`
	Rounds      []jsonMeasure `json:"rounds"`
	Until       []jsonReached `json:"until,omitempty"`
	Yarns       []jsonYarn    `json:"yarns"`
	Ends        int           `json:"ends"`
	MadeUp      *jsonMadeUp   `json:"made_up,omitempty"`
	Changes     []jsonChange  `json:"changes,omitempty"`
	Target      *jsonFit      `json:"target,omitempty"`
	Cautions    []string      `json:"cautions"`
}

type jsonUnits struct {
	Size   notation.Unit `json:"size"`
	Yarn   notation.Unit `json:"yarn"`
	Weight notation.Unit `json:"weight"`
}

type jsonEstimate struct {
	Low      float64 `json:"low"`
	Expected float64 `json:"expected"`
	High     float64 `json:"high"`
}

type jsonMeasure struct {
	Round   int           `json:"round"`
	Corners int           `json:"corners"`
	Across  *jsonEstimate `json:"across"`
	Side    *jsonEstimate `json:"side,omitempty"`
	Points  *jsonEstimate `json:"corner_to_corner,omitempty"`
}

type jsonReached struct {
	From   int           `json:"from"`
	To     int           `json:"to"`
	Of     string        `json:"of"` // "across" or "side"
	Wanted float64       `json:"wanted"`
	Size   *jsonEstimate `json:"size"`
	Before *jsonEstimate `json:"before,omitempty"`
}

type jsonYarn struct {
	Yarn      string        `json:"yarn"`
	Label     string        `json:"label,omitempty"`
	Total     *jsonEstimate `json:"total,omitempty"`
	Weight    *jsonEstimate `json:"weight,omitempty"`
	Margin    float64       `json:"margin"`
	Buy       float64       `json:"buy,omitempty"`
	BuyWeight float64       `json:"buy_weight,omitempty"`
	Ball      float64       `json:"ball,omitempty"`
	Balls     int           `json:"balls,omitempty"`
	BallsMost int           `json:"balls_most,omitempty"`
	Ends      int           `json:"ends"`
}

type jsonChange struct {
	Yarn    string  `json:"yarn"`
	Motif   int     `json:"motif,omitempty"` // not in a border
	Edge    string  `json:"edge,omitempty"`
	Round   int     `json:"round"`
	Stitch  int     `json:"stitch"`
	Stretch int     `json:"stretch"` // from 0
	Left    float64 `json:"left"`
}

type jsonFit struct {
	Length float64        `json:"length"`
	Of     string         `json:"of"` // "across" or "side"
	Under  *jsonRoundsFit `json:"under,omitempty"`
	Over   *jsonRoundsFit `json:"over,omitempty"`
	Each   float64        `json:"each,omitempty"`
	Scale  float64        `json:"scale"`
	Hook   float64        `json:"hook_mm,omitempty"`
	Hooks  []jsonHook     `json:"hooks,omitempty"`
}

type jsonRoundsFit struct {
	Rounds int           `json:"rounds"`
	Change int           `json:"change"`
	From   int           `json:"from,omitempty"`
	To     int           `json:"to,omitempty"`
	Size   *jsonEstimate `json:"size"`
}

type jsonHook struct {
	Size     float64 `json:"mm"`
	US       string  `json:"us"`
	Expected float64 `json:"expected"`
}

// tenth rounds to the tenth of a unit: finer would be false.
func tenth(x float64) float64 { return math.Round(10*x) / 10 }

func newJSONSheet(s *size.Sheet, m Units) jsonSheet {
	out := jsonSheet{
		Version: 1, Motif: s.Title, Units: jsonUnits(m), Hook: float64(s.Hook),
		StitchWidth: math.Round(100*s.Gauge.Unit) / 100, Motifs: s.Motifs,
		Rounds: []jsonMeasure{}, Yarns: []jsonYarn{}, Ends: s.Ends, Cautions: []string{},
	}
	for _, r := range s.Rounds {
		out.Rounds = append(out.Rounds, jsonMeasure{r.Number, r.Corners, jsonLength(r.Across, m.Size), jsonLength(r.Side, m.Size), jsonLength(r.Points, m.Size)})
	}
	for _, r := range s.Reached {
		out.Until = append(out.Until, jsonReached{r.From, r.To, string(r.What), r.Wanted.In(m.Size), jsonLength(r.Size, m.Size), jsonLength(r.Before, m.Size)})
	}
	for _, y := range s.Yarns {
		j := jsonYarn{
			Yarn: y.Name, Label: y.Label, Total: jsonLength(y.Total, m.Yarn), Margin: s.Margin, Buy: tenth(y.Buy.In(m.Yarn)),
			BuyWeight: tenth(y.BuyWeight.In(m.Weight)), Ball: tenth(y.Ball.In(m.Weight)), Balls: y.Balls, BallsMost: y.BallsMost, Ends: y.Ends,
		}
		if w := y.Weight; w.Known() {
			j.Weight = &jsonEstimate{tenth(w.Low.In(m.Weight)), tenth(w.Expected.In(m.Weight)), tenth(w.High.In(m.Weight))}
		}
		out.Yarns = append(out.Yarns, j)
	}
	if s.MadeUp != nil {
		out.MadeUp = newJSONMadeUp(s.MadeUp, m)
	}
	for _, c := range s.Changes {
		out.Changes = append(out.Changes, jsonChange{c.Yarn, c.Motif, string(c.Edge), c.Round, c.Stitch, c.Stretch, tenth(c.Left.In(m.Yarn))})
	}
	if f := s.Fit; f != nil {
		rounds := func(r *size.RoundsFit) *jsonRoundsFit {
			if r == nil {
				return nil
			}
			return &jsonRoundsFit{r.Rounds, r.Change, r.From, r.To, jsonLength(r.Size, m.Size)}
		}
		j := &jsonFit{
			Length: f.Target.Length.In(m.Size), Of: "across", Under: rounds(f.Under), Over: rounds(f.Over),
			Each: tenth(f.Each.In(m.Size)), Scale: math.Round(1000*f.Scale) / 1000, Hook: tenth(float64(f.Hook)),
		}
		if f.Target.Side {
			j.Of = "side"
		}
		for _, h := range f.Hooks {
			j.Hooks = append(j.Hooks, jsonHook{float64(h.Size), h.US, tenth(h.Expected.In(m.Size))})
		}
		out.Target = j
	}
	for _, c := range s.Cautions {
		out.Cautions = append(out.Cautions, c.Text())
	}
	return out
}

type jsonMadeUp struct {
	Kind    string                   `json:"kind"`
	Rows    int                      `json:"rows"`
	Columns int                      `json:"columns"`
	Join    string                   `json:"join"`
	Sizes   map[string]*jsonEstimate `json:"sizes"`
	Seams   []jsonSeams              `json:"seams"`
	Borders []jsonBorder             `json:"borders"`
	Fits    []jsonBodyFit            `json:"fits"`
}

type jsonSeams struct {
	Count    int           `json:"count"`
	Stitches int           `json:"stitches"`
	Length   *jsonEstimate `json:"length"`
}

type jsonBorder struct {
	Edge   string        `json:"edge"`
	Edges  int           `json:"edges"`
	Rounds int           `json:"rounds"`
	Length *jsonEstimate `json:"length"`
	Width  *jsonEstimate `json:"width,omitempty"`
	Places int           `json:"edge_places"`
	Rim    int           `json:"last_round_places"`
	Needed int           `json:"needed_places,omitempty"`
	Outer  int           `json:"outer_corners"`
	Inner  int           `json:"inner_corners"`
}

type jsonBodyFit struct {
	Of   string  `json:"of"`
	Size string  `json:"size"`
	Fits bool    `json:"fits"`
	Ease float64 `json:"ease"`
}

func newJSONMadeUp(u *size.MadeUp, m Units) *jsonMadeUp {
	out := &jsonMadeUp{
		Kind: string(u.Kind), Rows: u.Rows, Columns: u.Columns, Join: string(u.Join),
		Sizes: map[string]*jsonEstimate{}, Seams: []jsonSeams{}, Borders: []jsonBorder{}, Fits: []jsonBodyFit{},
	}
	for _, d := range u.Sizes {
		out.Sizes[string(d.What)] = jsonLength(d.Size, m.Size)
	}
	for _, s := range u.Seams {
		out.Seams = append(out.Seams, jsonSeams{s.Count, s.Places, jsonLength(s.Length, m.Size)})
	}
	for _, b := range u.Borders {
		out.Borders = append(out.Borders, jsonBorder{
			string(b.Edge), b.Edges, b.Rounds, jsonLength(b.Length, m.Size), jsonLength(b.Width, m.Size), b.EdgePlaces, b.RimPlaces, b.Needed, b.Outer, b.Inner,
		})
	}
	for _, f := range u.Fits {
		out.Fits = append(out.Fits, jsonBodyFit{string(f.Part), f.Size, f.Fits, tenth(f.Ease.In(m.Size))})
	}
	return out
}

// jsonLength is nil for what is not known.
func jsonLength(e size.Estimate[size.Length], u notation.Unit) *jsonEstimate {
	if !e.Known() {
		return nil
	}
	return &jsonEstimate{tenth(e.Low.In(u)), tenth(e.Expected.In(u)), tenth(e.High.In(u))}
}
