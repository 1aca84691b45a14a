package notation

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// lineWidth is where Format breaks long statements, in runes.
const lineWidth = 92

// Format writes a draft in the one way that all drafts are laid out: a
// statement a line, long ones broken after a comma, keywords in lower case,
// stitch names in the casing of the standard list. Comments and single blank
// lines stay. Statements that could not be read, or were read in spite of a
// mistake, stay as they are written.
//
// Where Parse finds no mistake, Format(Parse(Format(d))) is Format(d).
func Format(d *Draft) string {
	f := &formatter{terms: d.Terms}
	last := 0 // line on which the statement before ended
	for _, s := range d.Statements {
		at := s.Range()
		last = f.above(hoisted(s), last, at.Start.Line)
		f.gap(last, at.Start.Line)
		f.statement(s)
		for _, c := range s.Attached().After {
			f.out.WriteString(" " + c.Text)
		}
		f.out.WriteByte('\n')
		last = at.End.Line
	}
	f.above(d.Tail, last, math.MaxInt)
	return f.out.String()
}

// Translate returns the draft in other terms: the same stitches under their
// other names. Statements that were kept as written are not translated, nor
// are names that Parse found fault with. The two drafts share what is equal in
// both.
func Translate(d *Draft, to Terms) *Draft {
	out := &Draft{File: d.File, Terms: to, Tail: d.Tail}
	found := false
	for _, s := range d.Statements {
		if line, ok := s.(*TermsLine); ok {
			found = true
			s = &TermsLine{Span: line.Span, Comments: line.Comments, Terms: to}
		}
		out.Statements = append(out.Statements, s)
	}
	if !found && to != US {
		at := 0
		if len(out.Statements) > 0 {
			if _, ok := out.Statements[0].(*Motif); ok {
				at = 1
			}
		}
		rest := append([]Statement{&TermsLine{Terms: to}}, out.Statements[at:]...)
		out.Statements = append(out.Statements[:at:at], rest...)
	}
	return out
}

type formatter struct {
	out   strings.Builder
	terms Terms
}

// above writes comments on lines of their own and returns the line the last of
// them stood on. The statement they belong to begins on line before; comments
// from inside it go straight above it.
func (f *formatter) above(list []Comment, last, before int) int {
	for _, c := range list {
		f.gap(last, min(c.Start.Line, before))
		f.out.WriteString(c.Text + "\n")
		last = min(c.End.Line, before)
	}
	return last
}

// gap writes an empty line where the text had one or more.
func (f *formatter) gap(last, line int) {
	if last > 0 && line > last+1 {
		f.out.WriteByte('\n')
	}
}

// hoisted returns the comments to write above a statement: its own, and those
// inside it for which the text has no place, before the first step, after the
// last and before the claim. Parse leaves none there; other makers of drafts
// may.
func hoisted(s Statement) []Comment {
	list := s.Attached().Before
	var steps []Step
	var claim *Claim
	switch s := s.(type) {
	case *StitchDef:
		if s.Group != nil {
			steps = []Step{s.Group}
		}
	case *Round:
		steps, claim = s.Steps, s.Claim
	}
	if asWritten(s) != "" || len(steps) == 0 {
		return list
	}
	list = append(slices.Clone(list), steps[0].Attached().Before...)
	list = append(list, steps[len(steps)-1].Attached().After...)
	if claim != nil && len(claim.Items) > 0 {
		list = append(list, claim.Items[0].Before...)
	}
	return list
}

func (f *formatter) statement(s Statement) {
	if text := asWritten(s); text != "" {
		f.out.WriteString(plainLines(text))
		return
	}
	l := &line{terms: f.terms}
	if !commentsInside(s) {
		l.statement(s)
		f.out.WriteString(l.wrapped())
		return
	}
	switch s := s.(type) {
	case *StitchDef:
		l.add("stitch ", s.Name.Text, " = ")
		f.out.WriteString(l.text.String())
		f.stepLines([]Step{s.Group}, 0, true)
	case *Round:
		f.round(s)
	}
}

// plainLines gives every line of a text the line end of one character.
func plainLines(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], "\r")
	}
	return strings.Join(lines, "\n")
}

// round writes a round with comments in it: every step on a line of its own.
func (f *formatter) round(r *Round) {
	l := &line{terms: f.terms}
	l.roundHead(r)
	f.out.WriteString(l.text.String())
	f.stepLines(r.Steps, 1, true)
	if r.Claim == nil {
		return
	}
	f.out.WriteString(" = ")
	for i, item := range r.Claim.Items {
		if i > 0 {
			f.comments(item.Before, 1)
		}
		l := &line{terms: f.terms}
		l.claimItem(item)
		f.out.WriteString(l.text.String())
		f.endItem(item.After, i+1 < len(r.Claim.Items), 1)
	}
}

// stepLines writes steps on lines of their own, so that their comments have a
// place. At the top of a statement nothing stands before the first step or
// after the last one.
func (f *formatter) stepLines(steps []Step, depth int, top bool) {
	for i, s := range steps {
		first, last := i == 0, i == len(steps)-1
		if !(top && first) {
			f.comments(s.Attached().Before, depth)
		}
		l := &line{terms: f.terms}
		r, isRepeat := s.(*Repeat)
		g, isGroup := s.(*Group)
		switch {
		case isRepeat && commentsInside(s):
			f.inside("[", r.Steps, r.Inside, depth)
			l.repeatTail(r)
		case isGroup && commentsInside(s):
			f.inside("(", g.Members, g.Inside, depth)
			l.add(")")
			l.place(g.Place)
		default:
			l.step(s)
		}
		f.out.WriteString(l.text.String())
		if !(top && last) {
			f.endItem(s.Attached().After, !last, depth)
		}
	}
}

// inside writes what stands in brackets, with the comments at its end.
func (f *formatter) inside(open string, steps []Step, end []Comment, depth int) {
	f.out.WriteString(open)
	f.newline(depth + 1)
	f.stepLines(steps, depth+1, false)
	for _, c := range end {
		f.newline(depth + 1)
		f.out.WriteString(c.Text)
	}
	f.newline(depth)
}

func (f *formatter) comments(list []Comment, depth int) {
	for _, c := range list {
		f.out.WriteString(c.Text)
		f.newline(depth)
	}
}

// endItem ends an item of a list: a comma if more come, then its comment.
func (f *formatter) endItem(after []Comment, more bool, depth int) {
	if more {
		f.out.WriteByte(',')
	}
	for _, c := range after {
		f.out.WriteString(" " + c.Text)
	}
	if more {
		f.newline(depth)
	}
}

func (f *formatter) newline(depth int) {
	f.out.WriteString("\n" + strings.Repeat("    ", depth))
}

// commentsInside reports whether n holds comments that are not just before or
// after it.
func commentsInside(n Node) bool {
	found := false
	Walk(n, func(in Node) bool {
		if c, ok := in.(commented); ok {
			a := c.Attached()
			found = found || len(a.Inside) > 0 || in != n && len(a.Before)+len(a.After) > 0
		}
		return !found
	})
	return found
}

// A line is one statement without line ends; breaks are the places after a
// comma where it may be broken.
type line struct {
	text   strings.Builder
	breaks []lineBreak
	depth  int // brackets open
	terms  Terms
}

func (l *line) add(parts ...string) {
	for _, p := range parts {
		l.text.WriteString(p)
	}
}

func (l *line) comma() {
	l.add(",")
	l.breaks = append(l.breaks, lineBreak{l.text.Len(), l.depth})
	l.add(" ")
}

// A lineBreak is a place where a line may be broken, and how many brackets it
// lies in.
type lineBreak struct{ at, depth int }

// wrapped returns the text, broken after commas where it is too wide: at the
// comma that lies in the fewest brackets, so that groups stay together, unless
// that would leave most of the line empty.
func (l *line) wrapped() string {
	text, breaks := l.text.String(), l.breaks
	var out strings.Builder
	from, width := 0, lineWidth
	for utf8.RuneCountInString(text[from:]) > width && len(breaks) > 0 {
		best := 0
		used := utf8.RuneCountInString(text[from:breaks[0].at])
		for i, b := range breaks[1:] {
			reach := utf8.RuneCountInString(text[from:b.at])
			if reach > width {
				break
			}
			if b.depth <= breaks[best].depth || used < width/3 {
				best, used = i+1, reach
			}
		}
		out.WriteString(text[from:breaks[best].at] + "\n    ")
		from, breaks, width = breaks[best].at+1, breaks[best+1:], lineWidth-4
	}
	out.WriteString(text[from:])
	return out.String()
}

func (l *line) statement(s Statement) {
	switch s := s.(type) {
	case *Round:
		l.roundHead(s)
		l.steps(s.Steps)
		l.claim(s.Claim)
	case *Motif:
		l.add("motif ", quote(s.Title))
	case *TermsLine:
		l.add("terms ", s.Terms.String())
	case *Shape:
		l.add("shape ", string(cmp.Or(s.Outline, Free)))
	case *Lies:
		l.add("lies ", string(s.As))
	case *For:
		l.add("for ", string(s.Who))
	case *Working:
		l.add("worked ", string(s.Rounds))
	case *Yarn:
		l.add("yarn ", s.Name.Text)
		if s.Label != "" {
			l.add(" ", quote(s.Label))
		}
		if s.Colour != "" {
			l.comma()
			l.add("colour ", quote(s.Colour))
		}
		if s.Length.Amount > 0 {
			l.comma()
			l.add(s.Length.String(), " per ", s.Weight.String())
		}
		for _, st := range s.Stretches {
			l.comma()
			l.add("stretch ", st.Length.String())
			if st.Label != "" {
				l.add(" ", quote(st.Label))
			}
			if st.Colour != "" {
				l.add(" colour ", quote(st.Colour))
			}
		}
	case *Hook:
		l.add("hook ", s.Size.String())
	case *Gauge:
		if s.From > 0 {
			l.add("gauge rnds ", strconv.Itoa(s.From), "-", strconv.Itoa(s.To), " = ", s.Across.String(), " across")
			return
		}
		l.add("gauge ", number64(s.Stitches), " ", l.name(s.Stitch))
		if s.Rounds > 0 {
			l.add(" by ", number64(s.Rounds), " rnds")
		}
		l.add(" over ", s.Over.String())
	case *Weighed:
		l.add("weighed rnds ", howMany(s.From), "-", howMany(s.To), " = ", s.Weight.String())
	case *Begin:
		l.add("begin ", string(s.Start))
	case *StitchDef:
		l.add("stitch ", s.Name.Text, " = ")
		l.step(cmp.Or(s.Group, &Group{}))
	case *Ring:
		l.add("ring")
		if s.Chains > 0 {
			l.add(" ch ", strconv.Itoa(s.Chains))
		}
	case *Panel:
		l.panel(s)
	case *Edge:
		l.add("edge of ", string(cmp.Or(s.Of, EdgeOfPanel)))
	case *Allow:
		l.add("allow ", s.Rule)
		if s.HasReason {
			l.add(" ", quote(s.Reason))
		}
	}
}

func (l *line) panel(p *Panel) {
	l.add("panel")
	if p.Kind != PanelFlat && p.Kind != "" {
		l.add(" ", string(p.Kind))
	}
	if p.Kind != PanelWrap && p.Kind != PanelWrapOnPoint {
		l.add(" ", howMany(p.Rows), " by ", howMany(p.Columns))
	}
	switch p.Join {
	case JoinUnsaid:
	case JoinSlip, JoinSingle:
		name := p.JoinName
		name.US = string(p.Join)
		l.add(" joined ", l.name(name))
	default:
		l.add(" joined ", string(p.Join))
	}
	if p.Neck > 0 {
		l.comma()
		l.add("neck ", strconv.Itoa(p.Neck), " st")
	}
}

// quote puts text in quotes. A text holds no quotes, no line ends and no
// control characters; what could not be read back is left out.
func quote(s string) string {
	q := `"` + s + `"`
	if !strings.Contains(s, `"`) && isQuoted(q) {
		return q
	}
	return `"` + strings.Map(func(r rune) rune {
		if r == '"' || r != '\t' && unicode.IsControl(r) {
			return -1
		}
		return r
	}, s) + `"`
}

// howMany writes a number of things; what a tree made by hand does not give is 1.
func howMany(n int) string { return strconv.Itoa(max(n, 1)) }

func number64(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// String returns the quantity as a draft writes it: "10 cm".
func (q Quantity) String() string { return number64(q.Amount) + " " + string(q.Unit) }

func (l *line) roundHead(r *Round) {
	switch {
	case r.Next && r.To > 1:
		l.add("rnd next ", strconv.Itoa(r.To))
	case r.Next:
		l.add("rnd next")
	case r.To > r.From:
		l.add("rnd ", strconv.Itoa(r.From), "-", strconv.Itoa(r.To))
	default:
		l.add("rnd ", strconv.Itoa(r.From))
	}
	if u := r.Until; u != nil && u.What == UntilRounds {
		l.add(" until ", howMany(u.Rounds), " rnds")
	} else if u != nil {
		l.add(" until ", string(u.What), " ", u.Length.String())
	}
	if r.Yarn != nil {
		l.add(" with ", r.Yarn.Text)
	}
	if r.Start != StartUnsaid {
		l.add(", ", string(r.Start))
	}
	l.add(": ")
	if r.As > 0 {
		l.add("as rnd ", strconv.Itoa(r.As))
	}
}

func (l *line) claim(c *Claim) {
	if c == nil || len(c.Items) == 0 {
		return
	}
	l.add(" = ")
	for i, item := range c.Items {
		if i > 0 {
			l.comma()
		}
		l.claimItem(item)
	}
}

func (l *line) claimItem(item *ClaimItem) {
	for i, n := range item.Counts {
		if i > 0 {
			l.add("/")
		}
		l.add(strconv.Itoa(n))
	}
	l.add(" ")
	switch item.What {
	case OfStitch:
		l.add(l.name(item.Stitch))
	case Corner:
		l.add("corners")
	default:
		l.add(item.What.String())
	}
	if item.PerSide {
		l.add(" per side")
	}
}

// name writes a stitch name in the terms of the draft.
func (l *line) name(n Name) string {
	switch {
	case n.Unknown || n.Foreign:
		return n.Text
	case n.Group != nil:
		return n.Group.Name.Text
	case n.US != "":
		return l.terms.Name(n.US)
	}
	return n.Text
}

func (l *line) steps(list []Step) {
	for i, s := range list {
		if i > 0 {
			l.comma()
		}
		l.step(s)
	}
}

func (l *line) step(s Step) {
	switch s := s.(type) {
	case *Work:
		if s.Corner {
			l.add("corner ")
		}
		if s.HasCount || s.Count > 1 {
			l.add(howMany(s.Count), " ")
		}
		l.add(l.name(s.Stitch))
		l.place(s.Place)
	case *Group:
		l.add("(")
		l.depth++
		l.steps(s.Members)
		l.depth--
		l.add(")")
		l.place(s.Place)
	case *Chain:
		if s.Corner {
			l.add("corner ")
		}
		l.add("ch ", howMany(s.Count))
		if s.As != nil {
			l.add(" as ", l.name(*s.As))
		}
		l.place(s.Place)
	case *Skip:
		l.add("sk ")
		if s.Count > 1 || s.What != Sp {
			l.add(howMany(s.Count), " ")
		}
		l.kind(s.What, s.Stitch)
	case *Repeat:
		l.add("[")
		l.depth++
		l.steps(s.Steps)
		l.depth--
		l.repeatTail(s)
	case *Picot:
		l.add("picot ", howMany(s.Chains))
	case *Turn:
		l.add("turn")
	case *Join:
		l.add("join")
		if s.Invisible {
			l.add(" invisible")
		}
	case *FastenOff:
		l.add("fasten off")
	case *ChangeYarn:
		l.add("with ", s.Yarn.Text)
	}
}

func (l *line) repeatTail(r *Repeat) {
	if r.Around {
		l.add("] around")
		return
	}
	l.add("] ", howMany(r.Times), " times")
}

func (l *line) kind(k PlaceKind, n Name) {
	if k == OfStitch {
		l.add(l.name(n))
		return
	}
	l.add(k.String())
}

func (l *line) place(p *Place) {
	if p == nil {
		return
	}
	in := " in "
	if p.How == Over || p.How == OverSame {
		in = " over "
	}
	l.add(in)
	switch p.Loop {
	case BackLoop:
		l.add("back loop of ")
	case FrontLoop:
		l.add("front loop of ")
	}
	switch p.How {
	case InNext, Over, OverSame:
		if p.How == OverSame {
			l.add("same and ")
		}
		if p.Kind == Corner && p.Count == 1 && p.How == InNext {
			l.add("corner")
			break
		}
		l.add("next ")
		if p.Count > 1 {
			l.add(strconv.Itoa(p.Count), " ")
		}
		l.kind(p.Kind, p.Stitch)
	case InEach:
		l.add("each ")
		if p.Count > 0 {
			l.add("of next ", strconv.Itoa(p.Count), " ")
		}
		l.kind(p.Kind, p.Stitch)
		if p.AndCh {
			l.add(" and ch")
		}
	case InSame:
		l.add("same")
		if p.Kind != NoPlace {
			l.add(" ")
			l.kind(p.Kind, p.Stitch)
		}
	case InRing:
		l.add("ring")
	}
	if p.Round > 0 {
		l.add(" of rnd ", strconv.Itoa(p.Round))
	}
}
