package notation

import (
	"errors"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// convert turns a parse tree into a statement of the draft, and reports what
// the grammar lets through but the notation does not.
func (p *draftParser) convert(tree *statement) Statement {
	switch at := p.at; {
	case tree.Motif != nil:
		return &Motif{Span: at, Title: unquote(tree.Motif.Title)}
	case tree.Choice != nil:
		return p.choice(tree.Choice)
	case tree.Yarn != nil:
		return p.yarn(tree.Yarn)
	case tree.Hook != nil:
		return &Hook{Span: at, Size: p.quantity(tree.Hook.Size, false)}
	case tree.Gauge != nil:
		return p.gauge(tree.Gauge)
	case tree.Weighed != nil:
		return p.weighed(tree.Weighed)
	case tree.Begin != nil:
		start, _ := p.start(tree.Begin.Start)
		return &Begin{Span: at, Start: start}
	case tree.Stitch != nil:
		def := &StitchDef{Span: at, Name: p.name(tree.Stitch.Name), Group: p.group(tree.Stitch.Group)}
		if place := def.Group.Place; place != nil {
			p.report("syntax", place.Span, "a named group has no place of its own; the place comes where the group is used: %s in next sp", shown(def.Name))
			def.Group.Place = nil
		}
		return def
	case tree.Ring != nil:
		r := &Ring{Span: at}
		if tree.Ring.Chains != nil {
			r.Chains = p.count(tree.Ring.Chains, 1)
		}
		return r
	case tree.Allow != nil:
		return p.allow(tree.Allow)
	case tree.Panel != nil:
		return p.panel(tree.Panel)
	case tree.Edge != nil:
		names := []string{string(EdgeOfPanel), string(EdgeOfNeck)}
		of := EdgeName(p.choose("an edge", tree.Edge.Of, names...))
		if low := strings.ToLower(tree.Edge.Of.Text); !slices.Contains(names, low) {
			of = EdgeName(Closest(low, names)) // else unread: it is not one more edge of panel
		}
		return &Edge{Span: at, Of: of}
	}
	return p.round(tree.Round)
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

// one is the span of the token that a word or a number is.
func (p *draftParser) one(pos lexer.Position) Span { return p.stmt[p.token(pos.Offset)].span() }

func (p *draftParser) name(w *word) Name {
	return Name{Span: p.one(w.Pos), Text: w.Text}
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
		p.report("limit", p.one(n.Pos), "%s is more than any piece has; the largest number is %s", printable(n.Text), thousands(math.MaxInt32))
	case err != nil:
		p.report("syntax", p.one(n.Pos), "%s is not a whole number", n.Text)
		return least
	case v < least:
		p.report("syntax", p.one(n.Pos), "%d is too small here; the least is %d", v, least)
		return least
	}
	return v
}

func (p *draftParser) amount(n *number) float64 {
	v, err := strconv.ParseFloat(n.Text, 64)
	if err != nil || v <= 0 || v > 1e6 {
		p.report("syntax", p.one(n.Pos), "%s is out of range; an amount is more than 0 and at most 1,000,000", printable(n.Text))
		return 1
	}
	return v
}

func (p *draftParser) quantity(q *quantity, weight bool) Quantity {
	unit := Unit(strings.ToLower(q.Unit.Text))
	if _, ok := factors[unit]; !ok || unit.IsWeight() != weight {
		fit := "mm, cm, in, m or yd"
		if weight {
			fit = "g or oz"
		}
		p.report("syntax", p.one(q.Unit.Pos), `"%s" is not a unit that fits here; use %s`, printable(q.Unit.Text), fit)
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
	p.report("syntax", p.one(w.Pos), `%s cannot be "%s"; it is one of %s%s`, key, printable(w.Text), strings.Join(options, ", "), hint)
	return options[0]
}

// fromTo reads a range of rounds; to may be nil.
func (p *draftParser) fromTo(from, to *number) (int, int) {
	n := p.count(from, 1)
	if to == nil {
		return n, n
	}
	return n, p.count(to, 1)
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

// unquote takes off the quotes, which every string token has.
func unquote(s string) string { return s[1 : len(s)-1] }

func (p *draftParser) round(r *round) Statement {
	out := &Round{Span: p.at}
	out.Head = Span{p.stmt[0].start, p.stmt[1].end}
	if r.Next != nil {
		out.Next, out.From, out.To = true, 1, 1
		if r.Next.Count != nil {
			out.To = p.count(r.Next.Count, 1)
			out.Head.End = p.span(r.Next.at).End
		}
	} else if out.From = p.count(r.From, 0); out.From == 0 {
		p.report("syntax", p.one(r.From.Pos), "rounds are numbered from 1")
		return p.bad()
	}
	out.To = max(out.To, out.From)
	if r.To != nil {
		out.To = p.count(r.To, 1)
		out.Head.End = p.one(r.To.Pos).End
		if out.To < out.From {
			p.report("syntax", out.Head, "rnd %d-%d runs backwards; write the smaller number first", out.From, out.To)
			out.From, out.To = out.To, out.From
		}
	}
	if r.Until != nil {
		out.Until = p.until(r.Until)
		if out.To > out.From {
			p.report("syntax", out.Head, "until says how many rounds there are; it reads rnd 8 until side 45 cm, or rnd next until side 45 cm")
			out.To = out.From
		}
	}
	if r.Yarn != nil {
		name := p.name(r.Yarn)
		out.Yarn = &name
	}
	out.Start, out.StartSpan = p.start(r.Start)
	if r.As != nil {
		out.As = p.count(r.As, 1)
		out.AsSpan = p.one(r.As.Pos)
	}
	for _, s := range r.Steps {
		out.Steps = append(out.Steps, p.step(s, inRound))
	}
	p.ends(out.Steps)
	if r.Claim != nil {
		out.Claim = p.claim(r.Claim)
		if out.Until != nil {
			p.oneFigure(out.Claim)
		}
	}
	return out
}

func (p *draftParser) until(u *until) *Until {
	out := &Until{Span: p.span(u.at), What: UntilRounds}
	if u.Rounds != nil {
		out.Rounds = p.count(u.Rounds, 1)
		return out
	}
	out.What = UntilKind(strings.ToLower(u.What))
	out.Length = p.quantity(u.Length, false)
	return out
}

// oneFigure refuses lists in the claim of rounds that are not counted
// beforehand.
func (p *draftParser) oneFigure(c *Claim) {
	for _, item := range c.Items {
		if len(item.Counts) > 1 {
			p.report("syntax", item.Span, "how many rounds there will be is not known here, so a claim has one figure for all of them: = 4 corners")
			item.Counts = item.Counts[:1]
		}
	}
}

// ends reports what may stand only at an end of a round and does not.
func (p *draftParser) ends(steps []Step) {
	closed := true              // nothing is worked from here to the end
	worked, cut := false, false // is anything, or the yarn cut, before another is taken up
	for i, s := range slices.Backward(steps) {
		switch s.(type) {
		case *Turn:
			if i > 0 && i < len(steps)-1 {
				p.report("syntax", s.Range(), "turn stands in the middle of the round; the work is turned only before the first step or after the last")
			}
		case *Join:
			if !closed {
				p.report("syntax", s.Range(), "join stands in the middle of the round; a round is joined once, at its end")
			}
		case *FastenOff:
			switch {
			case worked:
				p.report("syntax", s.Range(), "fasten off stands in the middle of the round; once the yarn is cut the round goes on only with another: fasten off, with YARN")
			case cut:
				p.report("syntax", s.Range(), "fasten off is written twice; the yarn is cut once")
			}
			cut = true
		case *ChangeYarn:
			worked, cut = false, false
		default:
			closed, worked = false, true
		}
	}
}

func (p *draftParser) claim(c *claim) *Claim {
	out := &Claim{Span: p.span(c.at)}
	for _, item := range c.Items {
		to := &ClaimItem{Span: p.span(item.at), PerSide: item.PerSide}
		for _, n := range item.Counts {
			to.Counts = append(to.Counts, p.count(n, 0))
			to.CountSpans = append(to.CountSpans, p.one(n.Pos))
		}
		to.What = kindOf(item.What.Text)
		if to.What == OfStitch {
			to.Stitch = p.name(item.What)
		}
		if to.What == Gap || to.What == RingHole || to.What == NoPlace {
			p.report("syntax", p.one(item.What.Pos), `a claim counts st, a stitch by name, sp, ch, corners or picot, not "%s"`, printable(item.What.Text))
			to.What = St
		}
		out.Items = append(out.Items, to)
	}
	return out
}

// kindOf reads a kind of place. A word that is none is a stitch name, but for
// the words of the notation, which are nothing: NoPlace.
func kindOf(word string) PlaceKind {
	switch low := strings.ToLower(word); low {
	case "st", "sts":
		return St
	case "sp", "sps":
		return Sp
	case "ch", "chs":
		return Ch
	case "gap", "gaps":
		return Gap
	case "corner", "corners":
		return Corner
	case "ring":
		return RingHole
	case "picot", "picots":
		return Picots
	default:
		if slices.Contains(reserved, low) {
			return NoPlace
		}
	}
	return OfStitch
}

// placed reads a kind of place that can be worked into or skipped.
func (p *draftParser) placed(w *word) (PlaceKind, Name) {
	switch kind := kindOf(w.Text); kind {
	case Picots:
		p.report("syntax", p.one(w.Pos), "a picot is closed and leaves no place to work into")
		return St, Name{}
	case NoPlace:
		p.report("syntax", p.one(w.Pos), `"%s" is no kind of place; the kinds are st, sp, ch, gap, corner, or a stitch by name`, w.Text)
		return St, Name{}
	case OfStitch:
		return kind, p.name(w)
	default:
		return kind, Name{}
	}
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
		return &Picot{Span: at, Chains: p.count(s.Picot, 1)}
	case s.Turn:
		if w != inRound {
			p.report("syntax", at, "turn stands inside a repeat or group; the work can be turned only before or after a round")
		}
		return &Turn{Span: at}
	case s.Join:
		if w != inRound {
			p.report("syntax", at, "join stands inside a repeat or group; a round is joined once, at its end")
		}
		return &Join{Span: at, Invisible: s.Invisible}
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
		out.Tail = Span{p.one(r.Times.Pos).Start, at.End}
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

// cornerSpan is where the word corner stands before a member.
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
		if kind := kindOf(name.Text); kind != OfStitch {
			p.report("syntax", name.Span, "a starting chain counts as a stitch: ch 3 as dc")
			name.Unknown = true
		}
		out.As = &name
	}
	if w.Chain.Place == nil {
		return out
	}
	place := p.place(w.Chain.Place)
	switch {
	case out.As == nil:
		p.report("syntax", place.Span, "a run of chains is worked into nothing; only a starting chain that counts as a stitch has a place: ch 3 as dc in next sp")
	case where == inGroup:
		p.noPlace(place)
	case place.How != InNext && place.How != InSame && place.How != InRing || place.Count > 1:
		p.report("syntax", place.Span, "a starting chain stands in one place: in next st, in next sp, in same or in ring")
	default:
		out.Place = place
	}
	return out
}

// reserved are words that are no stitch even where the grammar takes one.
var reserved = []string{"in", "next", "each", "of", "over", "around", "times", "same", "as", "and",
	"st", "sts", "sp", "sps", "gap", "gaps", "chs", "corner", "corners", "picots", "side", "sides", "per", "off", "ring", "rnd",
	"back", "front", "loop", "invisible", "sk", "turn", "join", "with", "fasten"}

// unfinished says what is missing after a word that the grammar took for the
// name of a stitch.
var unfinished = map[string]string{
	"ch":     "a run of chains is written ch and its number: ch 3",
	"chs":    "a run of chains is written ch and its number: ch 3",
	"picot":  "a picot is written picot and the number of its chains: picot 3",
	"picots": "a picot is written picot and the number of its chains: picot 3",
	"sk":     "say what is skipped: sk 3 st, sk sp",
	"fasten": "the word off is missing: fasten off",
	"with":   "with is followed by the name of a yarn",
	"corner": "corner marks the one stitch or chain after it: (dc, corner ch 2, dc), (dc, corner dc, dc)",
}

// stitchName reads the name of a stitch that is worked.
func (p *draftParser) stitchName(w *word) Name {
	n := p.name(w)
	low := strings.ToLower(w.Text)
	switch {
	case unfinished[low] != "":
		p.report("syntax", n.Span, "%s", unfinished[low])
	case slices.Contains(reserved, low):
		p.report("syntax", n.Span, `"%s" is not a stitch; a step names a stitch and then its place: dc in next st`, w.Text)
	default:
		return n
	}
	n.Unknown = true
	return n
}

func (p *draftParser) work(w *worked, at Span, where where) Step {
	s := w.Stitch
	out := &Work{Span: at, Count: 1, Stitch: p.stitchName(s.Name), Corner: w.Corner}
	if w.Corner {
		out.CornerSpan = cornerSpan(at)
	}
	if s.Count != nil {
		out.Count, out.HasCount, out.CountSpan = p.count(s.Count, 1), true, p.one(s.Count.Pos)
		if w.Corner && out.Count > 1 {
			p.report("syntax", at, "one stitch is the corner, not %d; mark that one: (dc, corner dc, dc) in next st", out.Count)
		}
	}
	if s.Place == nil {
		return out
	}
	place := p.place(s.Place)
	if where == inGroup {
		p.noPlace(place)
		return out
	}
	out.Place = place
	if out.Count == 1 {
		return out
	}
	switch name := shown(out.Stitch); {
	case place.How == InNext && place.Count > 1:
		p.report("syntax", out.Span, "%d %s in next %d %s can be read two ways; say %s in next %d %s for one in each, or %d %s in each of next %d %s for %d in each",
			out.Count, name, place.Count, place.kindName(), name, place.Count, place.kindName(),
			out.Count, name, place.Count, place.kindName(), out.Count)
		place.How = InEach
	case place.How == Over || place.How == OverSame:
		p.report("syntax", out.Span, "stitches with legs in several places come one at a time; put the step in a repeat: [%s over ...] %d times", name, out.Count)
		out.Count = 1
	}
	return out
}

func (p *draftParser) place(pl *place) *Place {
	out := &Place{Span: p.span(pl.at), Count: 1}
	switch strings.ToLower(pl.Loop) {
	case "back":
		out.Loop = BackLoop
	case "front":
		out.Loop = FrontLoop
	}
	if pl.Round != nil {
		out.Round = p.count(pl.Round, 1)
	}
	var what *word
	var count *number
	switch {
	case pl.Next:
		out.How, what, count = InNext, pl.What, pl.Count
	case pl.Same && pl.And != nil:
		out.How, what, count = OverSame, pl.And.What, pl.And.Count
	case pl.Same:
		out.How, what, out.Count = InSame, pl.Again, 0
	case pl.Each:
		out.How, what, count, out.Count = InEach, pl.Every, pl.OfNext, 0
	default:
		out.How, what, count = InNext, pl.Bare.What, pl.Bare.Count
	}
	if count != nil {
		out.Count = p.count(count, 1)
	}
	if pl.Bare != nil && kindOf(what.Text) == NoPlace {
		out.Kind = St
		p.report("syntax", out.Span, "after %s comes a kind of place: st, sp, ch, gap, corner, or the name of a stitch", strings.ToLower(what.Text))
		return out
	}
	if what != nil {
		out.Kind, out.Stitch = p.placed(what)
		out.KindSpan = p.one(what.Pos)
	}
	if out.Kind == RingHole {
		out.How, out.Count = InRing, 0
	}
	p.checkPlace(out, pl)
	return out
}

// meansRing reports whether a word is what the ring is called elsewhere.
func meansRing(word string) bool {
	return slices.Contains([]string{"mr", "mc", "circle", "hole"}, strings.ToLower(word))
}

// checkPlace reports the first thing about a place that means nothing or can
// be read in more than one way.
func (p *draftParser) checkPlace(out *Place, pl *place) {
	say := func(format string, args ...any) { p.report("syntax", out.Span, format, args...) }
	in, kind := strings.ToLower(pl.How), out.kindName()
	over := in == "over"
	switch {
	case out.How == InRing:
		if over || pl.Next || pl.Same || pl.Each || pl.Bare.Count != nil || out.Round > 0 || out.Loop != BothLoops {
			say("the ring is one place, at the centre; write in ring")
			out.Round, out.Loop = 0, BothLoops
		}
		return
	case in == "in" && pl.Bare != nil && pl.Bare.Count == nil && out.Loop == BothLoops && meansRing(pl.Bare.What.Text):
		p.report("syntax", out.Span, "the centre is called ring: in ring").offer(write(out.KindSpan, "ring", true))
		out.How, out.Count, out.Kind, out.Stitch = InRing, 0, RingHole, Name{}
		return
	case over && pl.Bare != nil && pl.Bare.Count == nil:
		say("write over next 2 %s, with the number of legs", kind)
		return
	case over && pl.Bare != nil:
		say("write over next %d %s", out.Count, kind)
	case over && (out.How == InEach || out.How == InSame):
		say("over takes the next places: over next 2 st, or over same and next st")
		out.How, out.Count, out.Kind = InNext, 1, max(out.Kind, St)
		return
	case pl.Bare != nil && pl.Bare.Count != nil:
		say("say which: in next %d %s, or in each of next %d %s", out.Count, kind, out.Count, kind)
	case pl.Bare != nil && out.Kind != Corner:
		say("say which: in next %s, in each %s, or in same", kind, kind)
	case out.How == OverSame && !over:
		say("legs in two places are worked over them: over same and next %s", kind)
		out.How = InNext
	case out.How == InSame && out.Round > 0:
		say("same is the place last worked into, in whichever round it lies; leave of rnd %d out", out.Round)
	case out.Loop != BothLoops && (out.Kind == Sp || out.Kind == Gap):
		say("a loop is part of a stitch; write in next %s", kind)
	case pl.AndCh != nil && (kindOf(pl.AndCh.Text) != Ch || out.Kind != St || out.Count > 0):
		say("the only two kinds taken together are stitches and chains: in each st and ch")
	case pl.AndCh != nil:
		out.AndCh = true
	}
	if over && out.How == InNext {
		out.How = Over
	}
}
