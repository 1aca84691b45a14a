package notation

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"pgregory.net/rapid"
)

// A maker draws valid drafts: what it makes, Parse takes without a finding.
type maker struct {
	t      *rapid.T
	terms  Terms
	yarns  []string
	groups []*StitchDef
	// ownShell is set when the draft has, or will have, a shell of its own.
	ownShell bool
}

// drafts is the generator of valid drafts, without positions and comments.
func drafts() *rapid.Generator[*Draft] {
	return rapid.Custom(func(t *rapid.T) *Draft {
		m := &maker{t: t, terms: rapid.SampledFrom([]Terms{US, UK}).Draw(t, "terms")}
		return m.draft()
	})
}

// pick draws one of a list.
func pick[T any](m *maker, label string, list ...T) T {
	return rapid.SampledFrom(list).Draw(m.t, label)
}

func (m *maker) number(label string, low, high int) int {
	return rapid.IntRange(low, high).Draw(m.t, label)
}

// chance is true once in n times.
func (m *maker) chance(label string, n int) bool { return m.number(label, 1, n) == 1 }

// text draws what may stand in quotes.
func (m *maker) text(label string) string {
	return rapid.StringOfN(rapid.RuneFrom([]rune("ab#*\\'=\u00e9\t"), unicode.L, unicode.P, unicode.S, unicode.Nd, unicode.Zs).Filter(func(r rune) bool {
		return r != '"' && r != unicode.ReplacementChar
	}), 0, 20, -1).Draw(m.t, label)
}

func (m *maker) draft() *Draft {
	d := &Draft{Terms: m.terms}
	for _, name := range []string{"sand", "Reed", "tide_2"}[:m.number("yarns", 0, 3)] {
		m.yarns = append(m.yarns, name)
	}
	var head []Statement
	for _, name := range m.yarns {
		head = append(head, m.yarn(name))
	}
	names := []string{"fan", "Wave2", "shell"}[:m.number("groups", 0, 3)]
	m.ownShell = slices.Contains(names, "shell")
	for _, name := range names {
		def := &StitchDef{Name: Name{Text: name}, Group: &Group{Members: m.steps(inGroup, 2)}}
		m.groups = append(m.groups, def)
		head = append(head, def)
	}
	if m.terms == UK || m.chance("terms line", 2) {
		head = append(head, &TermsLine{Terms: m.terms})
	}
	for _, line := range []func() Statement{
		func() Statement { return &Motif{Title: m.text("title")} },
		func() Statement {
			return &Shape{Outline: pick(m, "outline", Free, Circle, Triangle, Square, Pentagon, Hexagon, Octagon)}
		},
		func() Statement { return &Lies{As: pick(m, "lie", Flat, Cupped, Ruffled)} },
		func() Statement { return &Working{Rounds: pick(m, "succession", Joined, Spiral, Turned)} },
		func() Statement { return &Hook{Size: m.quantity("hook", Millimetre, Inch)} },
		m.gauge,
		func() Statement {
			return &Begin{Start: pick(m, "start", ChainCounts, ChainUncounted, StandingStitch, ChainlessStitch)}
		},
		func() Statement { return &Ring{Chains: m.number("ring", 0, 12)} },
		m.allow,
	} {
		if m.chance("line", 2) {
			head = append(head, line())
		}
	}
	d.Statements = rapid.Permutation(head).Draw(m.t, "order")
	for range m.number("rounds", 0, 4) {
		if m.chance("allow", 5) {
			d.Statements = append(d.Statements, m.allow())
		}
		d.Statements = append(d.Statements, m.round())
	}
	return d
}

func (m *maker) yarn(name string) Statement {
	y := &Yarn{Name: Name{Text: name}}
	if m.chance("label", 2) {
		y.Label = m.text("label")
	}
	if m.chance("colour", 2) {
		y.Colour = rapid.StringMatching(`#[0-9a-fA-F]{6}`).Draw(m.t, "colour")
	}
	if m.chance("length", 2) {
		y.Length = m.quantity("length", Metre, Yard, Centimetre)
		y.Weight = m.quantity("weight", Gram, Ounce)
	}
	return y
}

func (m *maker) quantity(label string, units ...Unit) Quantity {
	return Quantity{Amount: m.amount(label), Unit: pick(m, "unit", units...)}
}

func (m *maker) amount(label string) float64 {
	if m.chance("whole", 2) {
		return float64(m.number(label, 1, 1000))
	}
	return rapid.Float64Range(1e-9, 1e6).Draw(m.t, label)
}

func (m *maker) gauge() Statement {
	if m.chance("across", 2) {
		return &Gauge{From: 1, To: m.number("to", 1, 20), Across: m.quantity("across", Centimetre, Inch)}
	}
	g := &Gauge{Stitches: m.amount("stitches"), Stitch: m.stitch("stitch"), Over: m.quantity("over", Centimetre, Inch)}
	if m.chance("rounds", 2) {
		g.Rounds = m.amount("rounds")
	}
	return g
}

func (m *maker) allow() Statement {
	a := &Allow{Rule: rapid.StringMatching(`[a-z][a-z0-9_]{0,5}(-[a-z][a-z0-9_]{0,5}){0,3}`).Draw(m.t, "rule"), HasReason: !m.chance("no reason", 4)}
	if a.HasReason {
		a.Reason = m.text("reason")
	}
	return a
}

// stitch draws the name of a stitch, not of a group.
func (m *maker) stitch(label string) Name {
	parts := Parts{Base: pick(m, label, "sc", "hdc", "dc", "tr", "dtr", "trtr", "esc", "ehdc", "edc", "etr", "rev sc",
		"sl st", "cl", "puff", "popcorn", "bobble", "bullion")}
	if compounds[parts.Base] {
		parts.Post = pick(m, "post", "", "", "", "FP", "BP")
		if m.chance("together", 4) {
			parts.Together = m.number("legs", 2, MaxTogether)
		}
	}
	us := parts.Name()
	return Name{Text: m.terms.Name(us), US: us}
}

// worked draws the name of anything that is worked.
func (m *maker) worked() Name {
	known := []*StitchDef{wellKnown()["vst"], wellKnown()["shell"]}
	if m.ownShell {
		known = known[:1]
	}
	if m.chance("group", 4) {
		def := pick(m, "group", append(known, m.groups...)...)
		return Name{Text: def.Name.Text, Group: def}
	}
	return m.stitch("worked")
}

func (m *maker) round() Statement {
	r := &Round{From: m.number("from", 1, 999)}
	r.To = r.From
	if m.chance("range", 3) {
		r.To += m.number("more", 0, 5)
	}
	if len(m.yarns) > 0 && m.chance("with", 2) {
		r.Yarn = &Name{Text: pick(m, "yarn", m.yarns...)}
	}
	r.Start = pick(m, "start", StartUnsaid, StartUnsaid, ChainCounts, ChainUncounted, StandingStitch, ChainlessStitch)
	if m.chance("as", 6) {
		r.As = m.number("as", 1, 999)
	} else {
		r.Steps = m.top()
	}
	if m.chance("claim", 2) {
		r.Claim = m.claim()
	}
	return r
}

// top draws the steps of a round.
func (m *maker) top() []Step {
	var steps []Step
	if m.chance("turn first", 6) {
		steps = append(steps, &Turn{})
	}
	steps = append(steps, m.steps(inRound, 3)...)
	if m.chance("join", 4) {
		steps = append(steps, &Join{Invisible: m.chance("invisible", 2)})
	}
	if m.chance("fasten", 4) {
		steps = append(steps, &FastenOff{})
	}
	if m.chance("turn last", 6) {
		steps = append(steps, &Turn{})
	}
	return steps
}

// steps draws one step or more; depth bounds the brackets in it.
func (m *maker) steps(w where, depth int) []Step {
	var list []Step
	for range m.number("steps", 1, 3) {
		list = append(list, m.step(w, depth))
	}
	return list
}

func (m *maker) step(w where, depth int) Step {
	kinds := []string{"work", "work", "work", "chain", "picot"}
	if w != inGroup {
		kinds = append(kinds, "skip")
	}
	if len(m.yarns) > 0 {
		kinds = append(kinds, "yarn")
	}
	if depth > 0 {
		kinds = append(kinds, "repeat", "group")
	}
	switch pick(m, "step", kinds...) {
	case "chain":
		return m.chain(w)
	case "picot":
		return &Picot{Chains: m.number("picot", 1, 6)}
	case "skip":
		s := &Skip{Count: m.number("skip", 1, 9)}
		s.What, s.Stitch = m.kind()
		return s
	case "yarn":
		return &ChangeYarn{Yarn: Name{Text: pick(m, "yarn", m.yarns...)}}
	case "repeat":
		inside := inRepeat
		if w == inGroup {
			inside = inGroup
		}
		r := &Repeat{Steps: m.steps(inside, depth-1)}
		if r.Around = w != inGroup && m.chance("around", 2); !r.Around {
			r.Times = m.number("times", 1, 40)
		}
		return r
	case "group":
		g := &Group{Members: m.steps(inGroup, depth-1)}
		if w != inGroup {
			g.Place = m.place()
		}
		return g
	}
	return m.work(w)
}

func (m *maker) chain(w where) Step {
	c := &Chain{Count: m.number("chains", 1, 20), Corner: m.chance("corner", 5)}
	if !m.chance("as", 4) {
		return c
	}
	name := m.stitch("as")
	c.As = &name
	if w != inGroup && m.chance("placed", 2) {
		p := &Place{How: pick(m, "how", InNext, InSame, InRing)}
		switch p.How {
		case InNext:
			p.Count = 1
			p.Kind, p.Stitch = m.kind()
		case InRing:
			p.Kind = RingHole
		}
		c.Place = p
	}
	return c
}

func (m *maker) work(w where) Step {
	out := &Work{Count: 1, Stitch: m.worked()}
	out.Corner = out.Stitch.Group == nil && m.chance("corner", 5)
	if out.HasCount = m.chance("counted", 2); out.HasCount && !out.Corner {
		out.Count = m.number("count", 1, 12)
	}
	if w == inGroup || m.chance("bare", 4) {
		return out
	}
	out.Place = m.place()
	parts, _ := US.Parse(out.Stitch.US)
	if parts.Post != "" { // goes round a stitch only
		out.Place = &Place{How: InNext, Count: 1, Kind: St}
	}
	if p := out.Place; p.How == InNext && (out.Count > 1 || parts.Together > 0) {
		p.Count = 1 // several could be read two ways
	}
	if out.Count > 1 || parts.Together == 0 && parts.Base != "cl" || !m.chance("over", 2) {
		return out
	}
	p := &Place{How: pick(m, "over", Over, OverSame), Count: parts.Together}
	p.Kind, p.Stitch = m.kind()
	if parts.Post != "" {
		p.Kind, p.Stitch = St, Name{}
	}
	if parts.Base == "cl" {
		p.Count = m.number("legs", 2, 9)
	}
	if p.How == OverSame {
		p.Count--
	}
	m.below(p)
	if parts.Post != "" {
		p.Loop = BothLoops
	}
	out.Place = p
	return out
}

// place draws a place after in.
func (m *maker) place() *Place {
	p := &Place{How: pick(m, "how", InNext, InNext, InEach, InSame, InRing)}
	switch p.How {
	case InNext:
		p.Count = m.number("places", 1, 5)
		p.Kind, p.Stitch = m.kind()
	case InEach:
		p.Count = m.number("places", 0, 4)
		p.Kind, p.Stitch = m.kind()
		p.AndCh = p.Kind == St && p.Count == 0 && m.chance("and ch", 2)
	case InSame:
		if m.chance("kind", 3) {
			p.Kind, p.Stitch = m.kind()
		}
	case InRing:
		p.Kind = RingHole
		return p
	}
	m.below(p)
	return p
}

// below draws which loop is meant and which round.
func (m *maker) below(p *Place) {
	if p.Kind != Sp && p.Kind != Gap {
		p.Loop = pick(m, "loop", BothLoops, BothLoops, BackLoop, FrontLoop)
	}
	if p.How != InSame && m.chance("earlier", 5) {
		p.Round = m.number("round", 1, 99)
	}
}

func (m *maker) kind() (PlaceKind, Name) {
	kind := pick(m, "kind", St, St, Sp, Ch, Gap, Corner, OfStitch)
	if kind == OfStitch {
		return kind, m.stitch("of")
	}
	return kind, Name{}
}

func (m *maker) claim() *Claim {
	c := &Claim{}
	for range m.number("items", 1, 3) {
		item := &ClaimItem{
			Counts:  rapid.SliceOfN(rapid.IntRange(0, 400), 1, 3).Draw(m.t, "counts"),
			What:    pick(m, "what", St, Sp, Ch, Corner, Picots, OfStitch),
			PerSide: m.chance("per side", 3),
		}
		if item.What == OfStitch {
			item.Stitch = m.worked()
		}
		c.Items = append(c.Items, item)
	}
	return c
}

// sprinkle puts numbered comments into the text of a draft wherever a line may
// end, and returns the text and how many there are.
func sprinkle(t *rapid.T, text string) (string, int) {
	out := new(strings.Builder)
	n, depth := 0, 0
	comment := func() {
		if rapid.IntRange(1, 4).Draw(t, "comment") > 1 {
			return
		}
		if rapid.Bool().Draw(t, "on a line of its own") {
			out.WriteString("\n")
		}
		fmt.Fprintf(out, " # %d %s\n", n, rapid.SampledFrom([]string{"", "so", "\u00e9t\u00e9", "# \"[(,"}).Draw(t, "text"))
		n++
	}
	at := 0
	comment()
	for _, tok := range scan(text) {
		out.WriteString(text[at:tok.end.Offset])
		at = tok.end.Offset
		depth += depthOf(tok)
		if depth > 0 || tok.is(",") || tok.kind == tokNewline {
			comment()
		}
	}
	return out.String(), n
}
