package notation

import (
	"slices"
	"strings"
)

// The lines of the header and those of panels, from parse tree to statement.

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
		return &Shape{Span: p.at, Outline: o}
	case "lies":
		return &Lies{Span: p.at, As: Lie(p.choose("lies", c.Value, "flat", "cupped", "ruffled"))}
	case "for":
		return &For{Span: p.at, Who: Wearer(p.choose("for", c.Value, "infant", "child", "adult"))}
	}
	return &Working{Span: p.at, Rounds: Succession(p.choose("worked", c.Value, "joined", "spiral", "turned"))}
}

// checkLabel reports a text in quotes that goes on to what should follow it: what
// stands after the # of a colour is then a comment.
func (p *draftParser) checkLabel(label string) {
	words := strings.Fields(strings.ToLower(label))
	if n := len(words); n < 2 || words[n-1] != "colour" && words[n-1] != "color" || !strings.HasSuffix(words[n-2], ",") {
		return
	}
	i := slices.IndexFunc(p.stmt, func(t token) bool { return t.kind == tokString })
	name, _, _ := strings.Cut(label, ",")
	p.report("syntax", p.stmt[i].span(), "this text goes on to the word %s: a quotation mark is missing after %s", words[len(words)-1], printable(name))
}

func (p *draftParser) yarn(y *yarn) Statement {
	out := &Yarn{Span: p.at, Name: p.name(y.Name)}
	if y.Label != nil {
		out.Label = unquote(*y.Label)
		p.checkLabel(out.Label)
	}
	colours, lengths := 0, 0
	for _, m := range y.More {
		switch {
		case m.Colour != nil:
			if colours++; colours > 1 {
				p.report("syntax", p.span(m.at), "a yarn has one colour, and this one has it already; a yarn that changes has stretches: stretch 120 m \"rose\"")
				continue
			}
			out.Colour = p.colour(*m.Colour, p.span(m.at))
		case m.Stretch != nil:
			s := Stretch{Span: p.span(m.at), Length: p.quantity(m.Stretch.Length, false)}
			if m.Stretch.Label != nil {
				s.Label = unquote(*m.Stretch.Label)
			}
			if m.Stretch.Colour != nil {
				s.Colour = p.colour(*m.Stretch.Colour, s.Span)
			}
			out.Stretches = append(out.Stretches, s)
		default:
			if lengths++; lengths > 1 {
				p.report("syntax", p.span(m.at), "a yarn has one length per weight, and this one has it already")
				continue
			}
			out.Length = p.quantity(m.Length, false)
			out.Weight = p.quantity(m.Weight, true)
		}
	}
	return out
}

// colour reads a colour in quotes; what is none is reported, and "".
func (p *draftParser) colour(text string, at Span) string {
	if c := unquote(text); isColour(c) {
		return c
	}
	p.report("syntax", at, `a colour is written as # and six hexadecimal digits: colour "#d8c6a0"`)
	return ""
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
		out.From, out.To = p.fromTo(r.From, r.To)
		if out.From != 1 || out.To < out.From {
			p.report("syntax", p.one(r.From.Pos), "a gauge over rounds is measured across the whole piece, from rnd 1: gauge rnds 1-%d = 10 cm across", max(out.From, out.To))
		}
		out.Across = p.quantity(r.Across, false)
		return out
	}
	s := g.Stitches
	out.Stitches = p.amount(s.Count)
	out.Stitch = p.name(s.Stitch)
	if kindOf(s.Stitch.Text) != OfStitch {
		p.report("syntax", out.Stitch.Span, "a gauge names its stitch: gauge 14 dc by 8 rnds over 10 cm")
	}
	if s.Rounds != nil {
		out.Rounds = p.amount(s.Rounds)
	}
	out.Over = p.quantity(s.Over, false)
	return out
}

func (p *draftParser) weighed(w *weighed) Statement {
	out := &Weighed{Span: p.at, Weight: p.quantity(w.Weight, true)}
	out.From, out.To = p.fromTo(w.From, w.To)
	if out.From != 1 || out.To < out.From {
		p.report("syntax", p.one(w.From.Pos), "a motif is weighed with all its rounds, from rnd 1: weighed rnds 1-%d = 12 g", max(out.From, out.To))
	}
	return out
}

// panel reads how motifs are made up: how many there are, for all kinds but a
// wrap, which has four.
func (p *draftParser) panel(pl *panel) Statement {
	out := &Panel{Span: p.at, Kind: PanelFlat}
	if pl.Kind != "" {
		out.Kind = PanelKind(strings.ToLower(pl.Kind))
	}
	say := func(format string, args ...any) { p.report("syntax", p.span(pl.at), format, args...) }
	if pl.Rows != nil {
		out.Rows, out.Columns = p.count(pl.Rows, 1), p.count(pl.Columns, 1)
	}
	if pl.Neck != nil {
		out.Neck = p.count(pl.Neck, 1)
	}
	wrap := out.Kind == PanelWrap
	if pl.Point && wrap {
		out.Kind = PanelWrapOnPoint
	}
	switch {
	case pl.Point && !wrap:
		say("only a wrap is worn on the point: panel wrap on point")
	case wrap && pl.Rows != nil:
		say("a wrap is made of four motifs and takes no rows and columns: panel wrap, neck 40 st; panel wrap on point")
		out.Rows, out.Columns = 0, 0
	case !wrap && pl.Rows == nil:
		say("say how many motifs there are, in rows by columns: panel 4 by 5, panel cushion 2 by 2")
		out.Rows, out.Columns = 1, 1
	}
	switch {
	case out.Kind == PanelWrap && pl.Neck == nil:
		say("say how many stitches of the seam over the shoulders are left open for the neck: panel wrap joined whip, neck 40 st")
		out.Neck = 2
	case out.Kind == PanelWrap && out.Neck%2 == 1:
		say("the neck lies in the middle of two motifs, so its stitches are an even number: neck %d st", out.Neck+1)
		out.Neck++
	case out.Kind != PanelWrap && pl.Neck != nil:
		say("only a wrap that is square to the body has a neck of so many stitches: panel wrap, neck 40 st")
		out.Neck = 0
	}
	if pl.Join != nil {
		out.JoinName = p.name(pl.Join)
		switch join := JoinKind(strings.ToLower(pl.Join.Text)); join {
		case JoinWhip, JoinMattress:
			out.Join = join
		} // the others are stitches, which resolve.go reads in the draft's terms
	}
	return out
}

func (p *draftParser) allow(a *allow) Statement {
	words := make([]string, len(a.Rule))
	for i, w := range a.Rule {
		words[i] = strings.ToLower(w.Text)
	}
	out := &Allow{Span: p.at, Rule: strings.Join(words, "-")}
	out.RuleSpan = Span{p.one(a.Rule[0].Pos).Start, p.one(a.Rule[len(a.Rule)-1].Pos).End}
	if a.Reason != nil {
		out.Reason, out.HasReason = unquote(*a.Reason), true
	}
	return out
}
