package notationtest

import (
	"slices"
	"unicode"

	"pgregory.net/rapid"

	"example.com/roundel/notation"
)

// Drafts generates well-formed drafts: notation.Parse takes what
// notation.Format makes of them without a finding, and every construct of the
// notation occurs. They need not be workable, as Pieces are. The trees have no
// positions and no comments.
func Drafts() *rapid.Generator[*notation.Draft] {
	return rapid.Custom(func(t *rapid.T) *notation.Draft {
		m := &maker{t: t, terms: rapid.SampledFrom([]notation.Terms{notation.US, notation.UK}).Draw(t, "terms")}
		return m.draft()
	})
}

// A maker draws one well-formed draft.
type maker struct {
	t      *rapid.T
	terms  notation.Terms
	yarns  []string
	groups []*notation.StitchDef
	// ownShell is set when the draft has, or will have, a shell of its own.
	ownShell bool
}

// Where a step stands decides what it may be.
type where uint8

const (
	inRound where = iota
	inRepeat
	inGroup
)

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

func (m *maker) draft() *notation.Draft {
	d := &notation.Draft{Terms: m.terms}
	for _, name := range []string{"sand", "Reed", "tide_2"}[:m.number("yarns", 0, 3)] {
		m.yarns = append(m.yarns, name)
	}
	var head []notation.Statement
	for _, name := range m.yarns {
		head = append(head, m.yarn(name))
	}
	names := []string{"fan", "Wave2", "shell"}[:m.number("groups", 0, 3)]
	m.ownShell = slices.Contains(names, "shell")
	for _, name := range names {
		def := &notation.StitchDef{Name: notation.Name{Text: name}, Group: &notation.Group{Members: m.steps(inGroup, 2)}}
		m.groups = append(m.groups, def)
		head = append(head, def)
	}
	if m.terms == notation.UK || m.chance("terms line", 2) {
		head = append(head, &notation.TermsLine{Terms: m.terms})
	}
	for _, line := range []func() notation.Statement{
		func() notation.Statement { return &notation.Motif{Title: m.text("title")} },
		func() notation.Statement {
			return &notation.Shape{Outline: pick(m, "outline", notation.Free, notation.Circle, notation.Triangle, notation.Square, notation.Pentagon, notation.Hexagon, notation.Octagon)}
		},
		func() notation.Statement {
			return &notation.Lies{As: pick(m, "lie", notation.Flat, notation.Cupped, notation.Ruffled)}
		},
		func() notation.Statement {
			return &notation.For{Who: pick(m, "who", notation.Infant, notation.Child, notation.Adult)}
		},
		func() notation.Statement {
			return &notation.Weighed{From: 1, To: m.number("to", 1, 20), Weight: m.quantity("weight", notation.Gram, notation.Ounce)}
		},
		func() notation.Statement {
			return &notation.Working{Rounds: pick(m, "succession", notation.Joined, notation.Spiral, notation.Turned)}
		},
		func() notation.Statement {
			return &notation.Hook{Size: m.quantity("hook", notation.Millimetre, notation.Inch)}
		},
		m.gauge,
		func() notation.Statement {
			return &notation.Begin{Start: pick(m, "start", notation.ChainCounts, notation.ChainUncounted, notation.StandingStitch, notation.ChainlessStitch)}
		},
		func() notation.Statement { return &notation.Ring{Chains: m.number("ring", 0, 12)} },
		m.allow,
	} {
		if m.chance("line", 2) {
			head = append(head, line())
		}
	}
	panel := m.chance("panel", 3)
	if panel && m.chance("in the header", 2) {
		head = append(head, m.panel())
		panel = false
	}
	d.Statements = rapid.Permutation(head).Draw(m.t, "order")
	m.rounds(d, 0)
	if panel {
		d.Statements = append(d.Statements, m.panel())
	}
	if d.Panel() == nil || len(d.Sections()[0].Rounds) == 0 {
		return d
	}
	for _, of := range []notation.EdgeName{notation.EdgeOfPanel, notation.EdgeOfNeck} {
		if m.chance("edge", 2) {
			d.Statements = append(d.Statements, &notation.Edge{Of: of})
			m.rounds(d, 1)
		}
	}
	return d
}

// rounds adds rounds to a draft, at least so many.
func (m *maker) rounds(d *notation.Draft, least int) {
	for range m.number("rounds", least, 4) {
		if m.chance("allow", 5) {
			d.Statements = append(d.Statements, m.allow())
		}
		d.Statements = append(d.Statements, m.round())
	}
}

func (m *maker) panel() notation.Statement {
	p := &notation.Panel{Kind: pick(m, "panel", notation.PanelFlat, notation.PanelTube, notation.PanelCushion, notation.PanelBag, notation.PanelWrap, notation.PanelWrapOnPoint)}
	switch p.Kind {
	case notation.PanelWrap:
		p.Neck = 2 * m.number("neck", 1, 50)
	case notation.PanelWrapOnPoint:
	default:
		p.Rows, p.Columns = m.number("rows", 1, 20), m.number("columns", 1, 20)
	}
	switch p.Join = pick(m, "join", notation.JoinUnsaid, notation.JoinWhip, notation.JoinMattress, notation.JoinSlip, notation.JoinSingle); p.Join {
	case notation.JoinUnsaid:
	case notation.JoinSlip, notation.JoinSingle:
		p.JoinName = notation.Name{Text: m.terms.Name(string(p.Join)), US: string(p.Join)}
	default:
		p.JoinName = notation.Name{Text: string(p.Join)}
	}
	return p
}

func (m *maker) yarn(name string) notation.Statement {
	y := &notation.Yarn{Name: notation.Name{Text: name}}
	if m.chance("label", 2) {
		y.Label = m.text("label")
	}
	if m.chance("colour", 2) {
		y.Colour = rapid.StringMatching(`#[0-9a-fA-F]{6}`).Draw(m.t, "colour")
	}
	if m.chance("length", 2) {
		y.Length = m.quantity("length", notation.Metre, notation.Yard, notation.Centimetre)
		y.Weight = m.quantity("weight", notation.Gram, notation.Ounce)
	}
	for range m.number("stretches", 0, 3) {
		st := notation.Stretch{Length: m.quantity("stretch", notation.Metre, notation.Yard)}
		if m.chance("label", 2) {
			st.Label = m.text("label")
		}
		if m.chance("colour", 2) {
			st.Colour = rapid.StringMatching(`#[0-9a-fA-F]{6}`).Draw(m.t, "colour")
		}
		y.Stretches = append(y.Stretches, st)
	}
	return y
}

func (m *maker) quantity(label string, units ...notation.Unit) notation.Quantity {
	return notation.Quantity{Amount: m.amount(label), Unit: pick(m, "unit", units...)}
}

func (m *maker) amount(label string) float64 {
	if m.chance("whole", 2) {
		return float64(m.number(label, 1, 1000))
	}
	return rapid.Float64Range(1e-9, 1e6).Draw(m.t, label)
}

func (m *maker) gauge() notation.Statement {
	if m.chance("across", 2) {
		return &notation.Gauge{From: 1, To: m.number("to", 1, 20), Across: m.quantity("across", notation.Centimetre, notation.Inch)}
	}
	g := &notation.Gauge{Stitches: m.amount("stitches"), Stitch: m.stitch("stitch"), Over: m.quantity("over", notation.Centimetre, notation.Inch)}
	if m.chance("rounds", 2) {
		g.Rounds = m.amount("rounds")
	}
	return g
}

func (m *maker) allow() notation.Statement {
	a := &notation.Allow{Rule: rapid.StringMatching(`[a-z][a-z0-9_]{0,5}(-[a-z][a-z0-9_]{0,5}){0,3}`).Draw(m.t, "rule"), HasReason: !m.chance("no reason", 4)}
	if a.HasReason {
		a.Reason = m.text("reason")
	}
	return a
}

// stitch draws the name of a stitch, not of a group.
func (m *maker) stitch(label string) notation.Name {
	parts := notation.Parts{Base: pick(m, label, "sc", "hdc", "dc", "tr", "dtr", "trtr", "esc", "ehdc", "edc", "etr", "rev sc",
		"sl st", "cl", "puff", "popcorn", "bobble", "bullion")}
	if families(parts.Base) {
		parts.Post = pick(m, "post", "", "", "", "FP", "BP")
		if m.chance("together", 4) {
			parts.Together = m.number("legs", 2, notation.MaxTogether)
		}
	}
	us := parts.Name()
	return notation.Name{Text: m.terms.Name(us), US: us}
}

// families reports whether other stitches are formed from a base stitch, such
// as FPdc and dc2tog from dc.
func families(base string) bool {
	_, ok := notation.US.Parse("FP" + base)
	return ok
}

// known are the groups that need no definition.
func (m *maker) known() []*notation.StitchDef {
	var list []*notation.StitchDef
	d, _ := notation.Parse("", "rnd 1: vst, shell")
	for r := range d.Rounds() {
		for _, s := range r.Steps {
			list = append(list, s.(*notation.Work).Stitch.Group)
		}
	}
	return list
}

// worked draws the name of anything that is worked.
func (m *maker) worked() notation.Name {
	known := m.known()
	if m.ownShell {
		known = known[:1]
	}
	if m.chance("group", 4) {
		def := pick(m, "group", append(known, m.groups...)...)
		return notation.Name{Text: def.Name.Text, Group: def}
	}
	return m.stitch("worked")
}

func (m *maker) round() notation.Statement {
	r := &notation.Round{From: m.number("from", 1, 999)}
	r.To = r.From
	if r.Next = m.chance("next", 5); r.Next {
		r.From, r.To = 1, 1
	}
	switch {
	case m.chance("until", 5):
		r.Until = &notation.Until{What: pick(m, "until", notation.UntilSide, notation.UntilAcross, notation.UntilRounds)}
		if r.Until.What == notation.UntilRounds {
			r.Until.Rounds = m.number("rounds", 1, 99)
		} else {
			r.Until.Length = m.quantity("until", notation.Centimetre, notation.Inch)
		}
	case m.chance("range", 3):
		r.To += m.number("more", 0, 5)
	}
	if len(m.yarns) > 0 && m.chance("with", 2) {
		r.Yarn = &notation.Name{Text: pick(m, "yarn", m.yarns...)}
	}
	r.Start = pick(m, "start", notation.StartUnsaid, notation.StartUnsaid, notation.ChainCounts, notation.ChainUncounted, notation.StandingStitch, notation.ChainlessStitch)
	if m.chance("as", 6) {
		r.As = m.number("as", 1, 999)
	} else {
		r.Steps = m.top()
	}
	if m.chance("claim", 2) {
		r.Claim = m.claim()
		for _, item := range r.Claim.Items {
			if r.Until != nil { // one figure for all rounds
				item.Counts = item.Counts[:1]
			}
		}
	}
	return r
}

// top draws the steps of a round.
func (m *maker) top() []notation.Step {
	var steps []notation.Step
	if m.chance("turn first", 6) {
		steps = append(steps, &notation.Turn{})
	}
	steps = append(steps, m.steps(inRound, 3)...)
	if m.chance("join", 4) {
		steps = append(steps, &notation.Join{Invisible: m.chance("invisible", 2)})
	}
	if m.chance("fasten", 4) {
		steps = append(steps, &notation.FastenOff{})
	}
	if m.chance("turn last", 6) {
		steps = append(steps, &notation.Turn{})
	}
	return steps
}

// steps draws one step or more; depth bounds the brackets in it.
func (m *maker) steps(w where, depth int) []notation.Step {
	var list []notation.Step
	for range m.number("steps", 1, 3) {
		list = append(list, m.step(w, depth))
	}
	return list
}

func (m *maker) step(w where, depth int) notation.Step {
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
		return &notation.Picot{Chains: m.number("picot", 1, 6)}
	case "skip":
		s := &notation.Skip{Count: m.number("skip", 1, 9)}
		s.What, s.Stitch = m.kind()
		return s
	case "yarn":
		return &notation.ChangeYarn{Yarn: notation.Name{Text: pick(m, "yarn", m.yarns...)}}
	case "repeat":
		inside := inRepeat
		if w == inGroup {
			inside = inGroup
		}
		r := &notation.Repeat{Steps: m.steps(inside, depth-1)}
		if r.Around = w != inGroup && m.chance("around", 2); !r.Around {
			r.Times = m.number("times", 1, 40)
		}
		return r
	case "group":
		g := &notation.Group{Members: m.steps(inGroup, depth-1)}
		if w != inGroup {
			g.Place = m.place()
		}
		return g
	}
	return m.work(w)
}

func (m *maker) chain(w where) notation.Step {
	c := &notation.Chain{Count: m.number("chains", 1, 20), Corner: m.chance("corner", 5)}
	if !m.chance("as", 4) {
		return c
	}
	name := m.stitch("as")
	c.As = &name
	if w != inGroup && m.chance("placed", 2) {
		p := &notation.Place{How: pick(m, "how", notation.InNext, notation.InSame, notation.InRing)}
		switch p.How {
		case notation.InNext:
			p.Count = 1
			p.Kind, p.Stitch = m.kind()
		case notation.InRing:
			p.Kind = notation.RingHole
		}
		c.Place = p
	}
	return c
}

func (m *maker) work(w where) notation.Step {
	out := &notation.Work{Count: 1, Stitch: m.worked()}
	out.Corner = out.Stitch.Group == nil && m.chance("corner", 5)
	if out.HasCount = m.chance("counted", 2); out.HasCount && !out.Corner {
		out.Count = m.number("count", 1, 12)
	}
	if w == inGroup || m.chance("bare", 4) {
		return out
	}
	out.Place = m.place()
	parts, _ := notation.US.Parse(out.Stitch.US)
	if parts.Post != "" { // goes round a stitch only
		out.Place = &notation.Place{How: notation.InNext, Count: 1, Kind: notation.St}
	}
	if p := out.Place; p.How == notation.InNext && (out.Count > 1 || parts.Together > 0) {
		p.Count = 1 // several could be read two ways
	}
	if out.Count > 1 || parts.Together == 0 && parts.Base != "cl" || !m.chance("over", 2) {
		return out
	}
	p := &notation.Place{How: pick(m, "over", notation.Over, notation.OverSame), Count: parts.Together}
	p.Kind, p.Stitch = m.kind()
	if parts.Post != "" {
		p.Kind, p.Stitch = notation.St, notation.Name{}
	}
	if parts.Base == "cl" {
		p.Count = m.number("legs", 2, 9)
	}
	if p.How == notation.OverSame {
		p.Count--
	}
	m.below(p)
	if parts.Post != "" {
		p.Loop = notation.BothLoops
	}
	out.Place = p
	return out
}

// place draws a place after in.
func (m *maker) place() *notation.Place {
	p := &notation.Place{How: pick(m, "how", notation.InNext, notation.InNext, notation.InEach, notation.InSame, notation.InRing)}
	switch p.How {
	case notation.InNext:
		p.Count = m.number("places", 1, 5)
		p.Kind, p.Stitch = m.kind()
	case notation.InEach:
		p.Count = m.number("places", 0, 4)
		p.Kind, p.Stitch = m.kind()
		p.AndCh = p.Kind == notation.St && p.Count == 0 && m.chance("and ch", 2)
	case notation.InSame:
		if m.chance("kind", 3) {
			p.Kind, p.Stitch = m.kind()
		}
	case notation.InRing:
		p.Kind = notation.RingHole
		return p
	}
	m.below(p)
	return p
}

// below draws which loop is meant and which round.
func (m *maker) below(p *notation.Place) {
	if p.Kind != notation.Sp && p.Kind != notation.Gap {
		p.Loop = pick(m, "loop", notation.BothLoops, notation.BothLoops, notation.BackLoop, notation.FrontLoop)
	}
	if p.How != notation.InSame && m.chance("earlier", 5) {
		p.Round = m.number("round", 1, 99)
	}
}

func (m *maker) kind() (notation.PlaceKind, notation.Name) {
	kind := pick(m, "kind", notation.St, notation.St, notation.Sp, notation.Ch, notation.Gap, notation.Corner, notation.OfStitch)
	if kind == notation.OfStitch {
		return kind, m.stitch("of")
	}
	return kind, notation.Name{}
}

func (m *maker) claim() *notation.Claim {
	c := &notation.Claim{}
	for range m.number("items", 1, 3) {
		item := &notation.ClaimItem{
			Counts:  rapid.SliceOfN(rapid.IntRange(0, 400), 1, 3).Draw(m.t, "counts"),
			What:    pick(m, "what", notation.St, notation.Sp, notation.Ch, notation.Corner, notation.Picots, notation.OfStitch),
			PerSide: m.chance("per side", 3),
		}
		if item.What == notation.OfStitch {
			item.Stitch = m.worked()
		}
		c.Items = append(c.Items, item)
	}
	return c
}
