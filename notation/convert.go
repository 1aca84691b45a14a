package notation

import (
	"errors"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// convert turns a parse tree into a statement of the draft, and reports what
// the grammar lets through but the notation does not.
func (p *draftParser) convert(tree *statement) {
	add := func(s Statement) { p.draft.Statements = append(p.draft.Statements, s) }
	switch at := p.at; {
	case tree.Round != nil:
		add(p.round(tree.Round))
	case tree.Motif != nil:
		add(&Motif{Span: at, Title: unquote(tree.Motif.Title)})
	case tree.Choice != nil:
		add(p.choice(tree.Choice))
	case tree.Yarn != nil:
		add(p.yarn(tree.Yarn))
	case tree.Hook != nil:
		add(&Hook{Span: at, Size: p.quantity(tree.Hook.Size, false)})
	case tree.Gauge != nil:
		add(p.gauge(tree.Gauge))
	case tree.Begin != nil:
		start, _ := p.start(tree.Begin.Start)
		add(&Begin{Span: at, Start: start})
	case tree.Stitch != nil:
		def := &StitchDef{Span: at, Name: p.name(tree.Stitch.Name)}
		def.Group = p.group(tree.Stitch.Group)
		if def.Group.Place != nil {
			p.report("syntax", def.Group.Place.Span, "a named group has no place of its own; the place comes where it is used")
			def.Group.Place = nil
		}
		add(def)
	case tree.Ring != nil:
		r := &Ring{Span: at}
		if tree.Ring.Chains != nil {
			r.Chains = p.count(tree.Ring.Chains, 1)
		}
		add(r)
	case tree.Allow != nil:
		add(p.allow(tree.Allow))
	}
}

// token returns the index of the statement's token that begins at an offset,
// or the number of tokens for the end.
func (p *draftParser) token(offset int) int {
	return sort.Search(len(p.stmt), func(i int) bool { return p.stmt[i].start.Offset >= offset })
}

// span is what a production covers.
func (p *draftParser) span(a at) Span {
	i, j := p.token(a.Pos.Offset), p.token(a.EndPos.Offset)
	return Span{p.stmt[i].start, p.stmt[max(j-1, i)].end}
}

func (p *draftParser) name(w *word) Name {
	return Name{Span: p.span(w.at), Text: w.Text}
}

var errTooLarge = errors.New("too large")

// number32 reads digits as a number that fits 31 bits. Anything larger is
// above every limit anyway.
func number32(digits string) (int, error) {
	n, err := strconv.ParseInt(digits, 10, 32)
	if errors.Is(err, strconv.ErrRange) {
		return math.MaxInt32, errTooLarge
	}
	return int(n), err
}

// count reads a whole number of at least least.
func (p *draftParser) count(n *number, least int) int {
	v, err := number32(n.Text)
	switch {
	case err == errTooLarge:
		p.limit(p.span(n.at), "%s is more than any piece has; the largest number is %s", printable(n.Text), thousands(math.MaxInt32))
	case err != nil:
		p.report("syntax", p.span(n.at), "%s is not a whole number", n.Text)
		return least
	case v < least:
		p.report("syntax", p.span(n.at), "%d is too small here; the least is %d", v, least)
		return least
	}
	return v
}

func (p *draftParser) amount(n *number) float64 {
	v, err := strconv.ParseFloat(n.Text, 64)
	if err != nil || v <= 0 || v > 1e6 {
		p.report("syntax", p.span(n.at), "%s is out of range; an amount is more than 0 and at most 1,000,000", printable(n.Text))
		return 1
	}
	return v
}

func (p *draftParser) quantity(q *quantity, weight bool) Quantity {
	unit := Unit(strings.ToLower(q.Unit.Text))
	if _, ok := factors[unit]; !ok || unit.IsWeight() != weight {
		want := "mm, cm, in, m or yd"
		if weight {
			want = "g or oz"
		}
		p.report("syntax", p.span(q.Unit.at), "%q is not a unit that fits here; use %s", q.Unit.Text, want)
		unit = Millimetre
		if weight {
			unit = Gram
		}
	}
	return Quantity{Span: p.span(q.at), Amount: p.amount(q.Amount), Unit: unit}
}

// choose reads a word that must be one of several.
func (p *draftParser) choose(key string, w *word, options ...string) string {
	low := strings.ToLower(w.Text)
	if slices.Contains(options, low) {
		return low
	}
	hint := ""
	if near := Closest(low, options); near != "" {
		hint = "; did you mean " + near + "?"
	}
	p.report("syntax", p.span(w.at), "%s cannot be %q; it is one of %s%s", key, w.Text, strings.Join(options, ", "), hint)
	return options[0]
}

func (p *draftParser) choice(c *choice) Statement {
	switch strings.ToLower(c.Key) {
	case "terms":
		t := US
		if p.choose("terms", c.Value, "us", "uk") == "uk" {
			t = UK
		}
		return &TermsLine{Span: p.at, Terms: t}
	case "shape":
		o := Outline(p.choose("shape", c.Value, "free", "circle", "triangle", "square", "pentagon", "hexagon", "octagon"))
		if o == "free" {
			o = Free
		}
		return &Shape{Span: p.at, Outline: o}
	case "lies":
		return &Lies{Span: p.at, As: Lie(p.choose("lies", c.Value, "flat", "cupped", "ruffled"))}
	}
	return &Working{Span: p.at, Rounds: Succession(p.choose("worked", c.Value, "joined", "spiral", "turned"))}
}

func (p *draftParser) yarn(y *yarn) Statement {
	out := &Yarn{Span: p.at, Name: p.name(y.Name)}
	if y.Label != nil {
		out.Label = unquote(*y.Label)
	}
	colours, lengths := 0, 0
	for _, m := range y.More {
		switch {
		case m.Colour != nil:
			if colours++; colours > 1 {
				p.report("syntax", p.span(m.at), "a yarn has one colour")
			}
			out.Colour = unquote(*m.Colour)
			if !isColour(out.Colour) {
				p.report("syntax", p.span(m.at), "a colour is written as six hexadecimal digits: colour \"#d8c6a0\"")
				out.Colour = ""
			}
		default:
			if lengths++; lengths > 1 {
				p.report("syntax", p.span(m.at), "a yarn has one length per weight")
			}
			out.Length = p.quantity(m.Length, false)
			out.Weight = p.quantity(m.Weight, true)
		}
	}
	return out
}

func isColour(s string) bool {
	if len(s) != 7 || s[0] != '#' {
		return false
	}
	for i := 1; i < len(s); i++ {
		if c := lower(s[i]); !isDigit(c) && (c < 'a' || c > 'f') {
			return false
		}
	}
	return true
}

func (p *draftParser) gauge(g *gauge) Statement {
	out := &Gauge{Span: p.at}
	if r := g.Rounds; r != nil {
		out.From = p.count(r.From, 1)
		out.To = out.From
		if r.To != nil {
			out.To = p.count(r.To, 1)
		}
		if out.From != 1 || out.To < out.From {
			p.report("syntax", p.span(r.From.at), "a gauge over rounds counts from the centre: gauge rnds 1-%d = 10 cm across", max(out.To, 1))
			out.From, out.To = 1, max(out.To, 1)
		}
		out.Across = p.quantity(r.Across, false)
		return out
	}
	s := g.Stitches
	out.Stitches = p.amount(s.Count)
	out.Stitch = p.name(s.Stitch)
	if s.Rounds != nil {
		out.Rounds = p.amount(s.Rounds)
	}
	out.Over = p.quantity(s.Over, false)
	return out
}

func (p *draftParser) start(s *start) (Start, Span) {
	if s == nil {
		return StartUnsaid, Span{}
	}
	at := p.span(s.at)
	if s.Chain != "" {
		return Start("chain " + strings.ToLower(s.Chain)), at
	}
	return Start(strings.ToLower(s.Kind)), at
}

func (p *draftParser) allow(a *allow) Statement {
	out := &Allow{Span: p.at}
	for i, w := range a.Rule {
		if i > 0 {
			out.Rule += "-"
		}
		out.Rule += strings.ToLower(w.Text)
	}
	out.RuleSpan = Span{p.span(a.Rule[0].at).Start, p.span(a.Rule[len(a.Rule)-1].at).End}
	if a.Reason != nil {
		out.Reason, out.HasReason = unquote(*a.Reason), true
	}
	return out
}

func unquote(s string) string { return strings.TrimSuffix(strings.TrimPrefix(s, `"`), `"`) }

func (p *draftParser) round(r *round) Statement {
	out := &Round{Span: p.at, From: p.count(r.From, 1)}
	out.To = out.From
	out.Head = Span{p.stmt[0].start, p.stmt[1].end}
	if r.To != nil {
		out.To = p.count(r.To, 1)
		out.Head.End = p.span(r.To.at).End
		if out.To < out.From {
			p.report("syntax", out.Head, "rnd %d-%d runs backwards; write the smaller number first", out.From, out.To)
			out.From, out.To = out.To, out.From
		}
	}
	if r.Yarn != nil {
		name := p.name(r.Yarn)
		out.Yarn = &name
	}
	out.Start, out.StartSpan = p.start(r.Start)
	if r.As != nil {
		out.As = p.count(r.As, 1)
		out.AsSpan = p.span(r.As.at)
	}
	for i, s := range r.Steps {
		s := p.step(s, inRound)
		edge := i == 0 || i == len(r.Steps)-1
		if _, turn := s.(*Turn); turn && !edge {
			p.report("syntax", s.Range(), "turn stands in the middle of the round; the work can be turned only before or after a round")
		}
		out.Steps = append(out.Steps, s)
	}
	if r.Claim != nil {
		out.Claim = p.claim(r.Claim)
	}
	return out
}

func (p *draftParser) claim(c *claim) *Claim {
	out := &Claim{Span: p.span(c.at)}
	for _, item := range c.Items {
		to := &ClaimItem{Span: p.span(item.at), PerSide: item.PerSide}
		for _, n := range item.Counts {
			to.Counts = append(to.Counts, p.count(n, 0))
		}
		to.What, to.Stitch = p.kind(item.What)
		if to.What == Gap || to.What == RingHole {
			p.report("syntax", p.span(item.What.at), "a claim counts stitches, st, sp, ch, corners or picots, not %q", item.What.Text)
			to.What = St
		}
		out.Items = append(out.Items, to)
	}
	return out
}

// kind reads a kind of place; a word that is none is a stitch name.
func (p *draftParser) kind(w *word) (PlaceKind, Name) {
	switch strings.ToLower(w.Text) {
	case "st", "sts":
		return St, Name{}
	case "sp", "sps":
		return Sp, Name{}
	case "ch", "chs":
		return Ch, Name{}
	case "gap", "gaps":
		return Gap, Name{}
	case "corner", "corners":
		return Corner, Name{}
	case "ring":
		return RingHole, Name{}
	case "picot", "picots":
		return Picots, Name{}
	}
	return OfStitch, p.name(w)
}

// placed is kind for something that can be worked into.
func (p *draftParser) placed(w *word) (PlaceKind, Name) {
	kind, name := p.kind(w)
	if kind == Picots {
		p.report("syntax", p.span(w.at), "a picot is closed and leaves no place to work into")
		return St, Name{}
	}
	return kind, name
}

// Where a step stands decides what it may be.
type where uint8

const (
	inRound  where = iota // at the top of a round
	inRepeat              // in square brackets
	inGroup               // in round brackets: everything goes in one place
)

func (p *draftParser) step(s *step, w where) Step {
	at := p.span(s.at)
	switch {
	case s.Repeat != nil:
		return p.repeat(s.Repeat, at, w)
	case s.Group != nil:
		g := p.group(s.Group)
		if w == inGroup && g.Place != nil {
			p.noPlace(g.Place)
			g.Place = nil
		}
		return g
	case s.Skip != nil:
		out := &Skip{Span: at, Count: 1}
		if s.Skip.Count != nil {
			out.Count = p.count(s.Skip.Count, 1)
		}
		out.What, out.Stitch = p.placed(s.Skip.What)
		if out.What == RingHole {
			p.report("syntax", at, "the ring cannot be skipped")
			out.What = St
		}
		if w == inGroup {
			p.report("syntax", at, "nothing is skipped inside a group: all its members go in one place")
		}
		return out
	case s.Picot != nil:
		return &Picot{Span: at, Chains: p.count(s.Picot.Chains, 1)}
	case s.Turn:
		if w != inRound {
			p.report("syntax", at, "turn stands inside a repeat or group; the work can be turned only before or after a round")
		}
		return &Turn{Span: at}
	case s.Join != nil:
		if w != inRound {
			p.report("syntax", at, "join stands inside a repeat or group; a round is joined once, at its end")
		}
		return &Join{Span: at, Invisible: s.Join.Invisible}
	case s.Fasten:
		if w != inRound {
			p.report("syntax", at, "fasten off stands inside a repeat or group; the yarn is cut once, at the end of the round")
		}
		return &FastenOff{Span: at}
	case s.Yarn != nil:
		return &ChangeYarn{Span: at, Yarn: p.name(s.Yarn)}
	case s.Worked.Chain != nil:
		return p.chain(s.Worked, at, w)
	}
	return p.work(s.Worked, at, w)
}

func (p *draftParser) noPlace(place *Place) {
	p.report("syntax", place.Span, "a member of a group has no place of its own; the place comes after the group: (2 dc, ch 1, 2 dc) in next sp")
}

func (p *draftParser) repeat(r *repeat, at Span, w where) Step {
	out := &Repeat{Span: at, Around: r.Around}
	inside := inRepeat
	if w == inGroup {
		inside = inGroup
	}
	for _, s := range r.Steps {
		out.Steps = append(out.Steps, p.step(s, inside))
	}
	if r.Times != nil {
		out.Times = p.count(r.Times, 1)
		out.Tail = Span{p.span(r.Times.at).Start, at.End}
		return out
	}
	last := p.stmt[p.token(at.End.Offset)-1]
	out.Tail = last.span()
	if w == inGroup {
		p.report("syntax", out.Tail, "inside a group nothing goes around; say how many times")
		out.Around, out.Times = false, 1
	}
	return out
}

func (p *draftParser) group(g *group) *Group {
	out := &Group{Span: p.span(g.at)}
	for _, m := range g.Members {
		out.Members = append(out.Members, p.step(m, inGroup))
	}
	if g.Place != nil {
		out.Place = p.place(g.Place)
		if out.Place.How == Over || out.Place.How == OverSame {
			p.report("syntax", out.Place.Span, "a group has one place; over is for stitches closed together, such as dc2tog")
			out.Place.How = InNext
		}
	}
	return out
}

// corner is where the word corner stands before a member.
func cornerSpan(at Span) Span {
	end := at.Start
	end.Offset += len("corner")
	end.Column += len("corner")
	return Span{at.Start, end}
}

func (p *draftParser) chain(w *worked, at Span, where where) Step {
	out := &Chain{Span: at, Count: p.count(w.Chain.Count, 1), Corner: w.Corner}
	if w.Corner {
		out.CornerSpan = cornerSpan(at)
	}
	if w.Chain.As != nil {
		name := p.name(w.Chain.As)
		out.As = &name
	}
	if w.Chain.Place != nil {
		out.Place = p.place(w.Chain.Place)
		switch {
		case out.As == nil:
			p.report("syntax", out.Place.Span, "a chain is worked into nothing; only a starting chain that counts as a stitch has a place: ch 3 as dc in next sp")
			out.Place = nil
		case where == inGroup:
			p.noPlace(out.Place)
			out.Place = nil
		case out.Place.How != InNext && out.Place.How != InSame && out.Place.How != InRing || out.Place.Count > 1:
			p.report("syntax", out.Place.Span, "a starting chain stands in one place: in next st, in next sp, in same or in ring")
			out.Place = nil
		}
	}
	return out
}

// reserved are words that are no stitch even where the grammar takes one.
var reserved = []string{"in", "next", "each", "of", "over", "around", "times", "same", "as", "and",
	"st", "sts", "sp", "sps", "gap", "side", "per", "off", "ring", "rnd", "back", "front", "loop", "invisible",
	"sk", "turn", "join", "with", "fasten"}

func (p *draftParser) work(w *worked, at Span, where where) Step {
	s := w.Stitch
	out := &Work{Span: at, Count: 1, Stitch: p.name(s.Name), Corner: w.Corner}
	if w.Corner {
		out.CornerSpan = cornerSpan(at)
	}
	if s.Count != nil {
		out.Count, out.HasCount = p.count(s.Count, 1), true
		if w.Corner && out.Count > 1 {
			p.report("syntax", at, "only one stitch can be the corner: sc, corner sc, sc")
		}
	}
	if slices.Contains(reserved, strings.ToLower(s.Name.Text)) {
		p.report("syntax", out.Stitch.Span, "%q is not a stitch; a step names a stitch and then its place: dc in next st", s.Name.Text)
	}
	if s.Place == nil {
		return out
	}
	out.Place = p.place(s.Place)
	if where == inGroup {
		p.noPlace(out.Place)
		out.Place = nil
		return out
	}
	if out.HasCount && out.Count > 1 && out.Place.How == InNext && out.Place.Count > 1 {
		p.report("syntax", out.Span, "%d %s in next %d %s can be read two ways; write %d %s in each of next %d %s",
			out.Count, s.Name.Text, out.Place.Count, out.Place.Kind, out.Count, s.Name.Text, out.Place.Count, out.Place.Kind)
		out.Place.How = InEach
	}
	if out.HasCount && out.Count > 1 && (out.Place.How == Over || out.Place.How == OverSame) {
		p.report("syntax", out.Span, "stitches over several places come one at a time; put the step in a repeat: [%s over ...] %d times", s.Name.Text, out.Count)
		out.Count = 1
	}
	return out
}

func (p *draftParser) place(pl *place) *Place {
	out := &Place{Span: p.span(pl.at)}
	switch strings.ToLower(pl.Loop) {
	case "back":
		out.Loop = BackLoop
	case "front":
		out.Loop = FrontLoop
	}
	over := strings.EqualFold(pl.How, "over")
	what := pl.What
	switch {
	case pl.Next:
		out.How, out.Count = InNext, 1
		if over {
			out.How = Over
		}
		if pl.Count != nil {
			out.Count = p.count(pl.Count, 1)
		}
	case pl.Same && pl.And != nil:
		out.How, out.Count = OverSame, 1
		what = pl.And.What
		if pl.And.Count != nil {
			out.Count = p.count(pl.And.Count, 1)
		}
		if !over {
			p.report("syntax", out.Span, "legs in two places are worked over them: over same and next st")
		}
	case pl.Same:
		out.How = InSame
		if what = pl.Again; what == nil {
			return p.checkOver(out, over)
		}
	case pl.Each:
		out.How = InEach
		what = pl.Every
		if pl.OfNext != nil {
			out.Count = p.count(pl.OfNext, 1)
		}
	default:
		return p.barePlace(out, pl, over)
	}
	out.Kind, out.Stitch = p.placed(what)
	out.KindSpan = p.span(what.at)
	if out.Kind == RingHole {
		p.report("syntax", out.Span, "the ring is one place; write in ring")
		out.How = InRing
	}
	if pl.AndCh != nil {
		k, _ := p.kind(pl.AndCh)
		if k != Ch || out.Kind != St || out.Count > 0 {
			p.report("syntax", out.Span, "the only two kinds taken together are: in each st and ch")
		} else {
			out.AndCh = true
		}
	}
	p.ofRound(out, pl)
	return p.checkOver(out, over)
}

func (p *draftParser) checkOver(out *Place, over bool) *Place {
	if over && out.How != Over && out.How != OverSame {
		p.report("syntax", out.Span, "over takes the next places: over next 2 st, or over same and next st")
		out.How, out.Count = Over, max(out.Count, 1)
		if out.Kind == NoPlace {
			out.Kind = St
		}
	}
	return out
}

// barePlace reads what comes after in without next, each or same: the ring, a
// corner, or something that is not said clearly enough.
func (p *draftParser) barePlace(out *Place, pl *place, over bool) *Place {
	out.Kind, out.Stitch = p.placed(pl.Bare.What)
	out.KindSpan = p.span(pl.Bare.What.at)
	out.How, out.Count = InNext, 1
	if over {
		out.How = Over
	}
	switch {
	case pl.Bare.Count != nil:
		out.Count = p.count(pl.Bare.Count, 1)
		p.report("syntax", out.Span, "say which: in next %d %s, or in each of next %d %s", out.Count, pl.Bare.What.Text, out.Count, pl.Bare.What.Text)
	case out.Kind == RingHole:
		out.How, out.Count = InRing, 0
	case out.Kind != Corner:
		p.report("syntax", out.Span, "say which: in next %s, in each %s, or in same", pl.Bare.What.Text, pl.Bare.What.Text)
	}
	p.ofRound(out, pl)
	if out.How == InRing && (over || out.Round > 0 || out.Loop != BothLoops) {
		p.report("syntax", out.Span, "the ring is one place at the centre; write in ring")
		out.Round, out.Loop = 0, BothLoops
	}
	return out
}

func (p *draftParser) ofRound(out *Place, pl *place) {
	if pl.Round != nil {
		out.Round = p.count(pl.Round, 1)
	}
}
