package notation

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// resolve reads every stitch name in the terms of the draft and binds the
// names of yarns and groups. It is the one place where terms matter.
func (p *draftParser) resolve() {
	d := p.draft
	var mixed []Span // statements with names that both terms have
	if t := first[*TermsLine](d); t != nil {
		d.Terms = t.Terms
	}
	r := &resolver{
		terms:  d.Terms,
		report: p.report,
		yarns:  names{list: map[string]string{}},
		groups: map[string]*StitchDef{},
		known:  map[string]suggestion{},
		draft:  d,
		found:  &p.findings,
	}
	for y := range d.Yarns() {
		r.yarns.add(y.Name.Text)
	}
	for def := range d.StitchDefs() {
		r.define(def)
	}
	for i, s := range d.Statements {
		before := p.faults
		r.both = false
		Walk(s, r.visit)
		if r.both {
			mixed = append(mixed, s.Range())
		}
		if p.faults > before {
			p.keepText(i)
		}
	}
	r.cycles(d)
	// A name of the other terms is a slip where the draft shows its own. Where
	// it stands among names that both have (dc, tr), those may be in the other
	// terms as well, and so may all of a draft that only says its terms.
	line := first[*TermsLine](d)
	for i := range p.findings {
		f := &p.findings[i]
		if f.Rule != "terms" {
			continue
		}
		among := slices.ContainsFunc(mixed, func(s Span) bool {
			return s.Start.Offset <= f.Span.Start.Offset && f.Span.Start.Offset < s.End.Offset
		})
		shows := r.shows || line != nil && len(mixed) == 0
		f.Fixes[0].Certain = f.Fixes[0].Certain || shows && !among
		if other := d.Terms.Other().String(); line != nil && !r.shows && !f.Fixes[0].Certain {
			f.Message += "; or write terms " + other + ", if that is what the draft is in"
			f.offer(Fix{Message: "write terms " + other, Edits: []Edit{{Span: line.Span, New: "terms " + other}}})
		}
	}
}

// isStitch reports whether a name is taken in US or UK terms, or is a word of
// the notation.
func isStitch(name string) bool {
	for _, t := range []Terms{US, UK} {
		if _, ok := t.Parse(name); ok {
			return true
		}
	}
	return slices.Contains(reserved, strings.ToLower(name)) || strings.EqualFold(name, "corner")
}

// Groups that have a name in the trade and need no definition; a draft may
// define them anew. Common practice, no source: the number of stitches in a
// shell differs from pattern to pattern. Each draft has its own, for a caller
// may change its tree.
func wellKnown() map[string]*StitchDef {
	known := map[string]*StitchDef{}
	dc := func(n int) *Work {
		return &Work{Count: n, HasCount: n > 1, Stitch: Name{Text: "dc", US: "dc"}}
	}
	for name, members := range map[string][]Step{
		"shell": {dc(5)},
		"vst":   {dc(1), &Chain{Count: 1}, dc(1)},
	} {
		known[name] = &StitchDef{Name: Name{Text: name}, Group: &Group{Members: members}}
	}
	return known
}

type resolver struct {
	terms  Terms
	shows  bool // a name was met that only the terms of the draft have
	both   bool // in this statement one that both have
	report func(rule string, at Span, format string, args ...any) *Finding
	yarns  names
	groups map[string]*StitchDef
	common map[string]*StitchDef // groups that need no definition, once used
	own    []string              // the names of groups, as written
	known  map[string]suggestion // for names that mean nothing, in lower case
	draft  *Draft
	now    *Round         // the round being read
	work   *Work          // the step being read
	found  *[]Finding     // about the lines as they were read
	bad    map[string]int // see badNames
	// What an increase is made of: in round mainOf, and in one that has no stitch
	// of its own.
	mainOf      *Round
	main, above string
}

// names are declared names, found without regard to case.
type names struct {
	list  map[string]string // by lower-case name
	order []string
}

func (n *names) add(name string) {
	if low := strings.ToLower(name); n.list[low] == "" {
		n.list[low] = name
		n.order = append(n.order, name)
	}
}

// define takes up a named group.
func (r *resolver) define(def *StitchDef) {
	if isStitch(def.Name.Text) {
		r.report("syntax", def.Name.Span, "%s has a meaning of its own; give the group another name", shown(def.Name))
		return
	}
	if low := strings.ToLower(def.Name.Text); r.groups[low] == nil {
		r.groups[low] = def
		r.own = append(r.own, def.Name.Text)
	}
}

func (r *resolver) visit(n Node) bool {
	switch n := n.(type) {
	case *Gauge:
		if n.From == 0 {
			r.stitch(&n.Stitch)
		}
	case *Panel:
		r.join(n)
	case *Round:
		r.now = n
		if n.Yarn != nil {
			r.yarn(n.Yarn)
		}
	case *ChangeYarn:
		r.yarn(&n.Yarn)
	case *Work:
		r.work = n
		r.stitch(&n.Stitch)
		r.work = nil
		if us := n.Stitch.US; compounds[us] && us != "sl st" {
			r.above = r.terms.Name(us)
		}
		r.post(n)
		if n.Corner && n.Stitch.Group != nil {
			r.report("syntax", n.CornerSpan, "%s has several stitches; mark the corner inside the group, where it is named", shown(n.Stitch))
			n.Corner = false
		}
		r.legs(n)
	case *Chain:
		if n.As != nil {
			r.stitch(n.As)
			if n.As.Group != nil {
				r.report("unknown-stitch", n.As.Span, "a starting chain counts as one stitch, not as the group %s", shown(*n.As))
				*n.As = Name{Span: n.As.Span, Text: n.As.Text, US: "dc", Unknown: true}
			}
		}
	case *Skip:
		if n.What == OfStitch {
			r.kind(&n.Stitch)
			r.single(&n.Stitch)
		}
	case *Place:
		if n.Kind == OfStitch {
			r.kind(&n.Stitch)
			r.single(&n.Stitch)
		}
	case *ClaimItem:
		if n.What == OfStitch {
			r.kind(&n.Stitch)
		}
	}
	return true
}

// join reads the stitch that motifs are joined with.
func (r *resolver) join(p *Panel) {
	name := &p.JoinName
	if name.Text == "" || p.Join != JoinUnsaid {
		return
	}
	if parts, ok := r.terms.Parse(name.Text); ok {
		name.US = parts.Name()
	} else if parts, ok := r.terms.Other().Parse(name.Text); ok && parts.Name() == string(JoinSingle) {
		r.stitch(name) // reports the terms
	}
	switch join := JoinKind(name.US); join {
	case JoinSlip, JoinSingle:
		p.Join = join
	default:
		r.report("syntax", name.Span, "motifs are joined whip, mattress, sl st or %s, not %s", r.terms.Name(string(JoinSingle)), shown(*name))
		p.Join = JoinWhip
	}
}

// legs compares the legs of a stitch with the places it is worked over.
func (r *resolver) legs(w *Work) {
	p := w.Place
	if p == nil || w.Stitch.Unknown || p.Kind == NoPlace {
		return
	}
	parts, _ := US.Parse(w.Stitch.US)
	name, kind := shown(w.Stitch), p.kindName()
	places := p.Count
	switch {
	case p.How == InNext && p.Count > 1 && parts.Together > 0:
		r.report("syntax", p.Span, "%s in next %d %s can be read two ways; say %s over next %d %s for one stitch, or %s in each of next %d %s for %d, with all legs in one place",
			name, p.Count, kind, name, parts.Together, kind, name, p.Count, kind, p.Count)
		p.How = InEach
		return
	case p.How == OverSame:
		places++
	case p.How != Over:
		return
	}
	switch {
	case parts.Together == places && places > 0, parts.Base == "cl" && places > 1:
	case parts.Together > 0:
		fix := "over next " + strconv.Itoa(parts.Together)
		if p.How == OverSame {
			fix = "over same and next"
			if parts.Together > 2 {
				fix += " " + strconv.Itoa(parts.Together-1)
			}
		}
		r.report("syntax", p.Span, "%s has %d legs, but works over %s; write %s %s %s", name, parts.Together, plural(places, "place"), name, fix, kind)
		p.How, p.Count = Over, parts.Together
	case parts.Base == "cl":
		r.report("syntax", p.Span, "over is for legs in several places; write %s in next %s for a cluster in one", name, kind)
		p.How = InNext
	default:
		r.report("syntax", p.Span, "%s has one leg; over is for stitches closed together, such as dc2tog", name)
		p.How, p.Count = InNext, max(p.Count, 1)
	}
}

// post refuses post stitches where there is no post.
func (r *resolver) post(w *Work) {
	parts, ok := US.Parse(w.Stitch.US)
	if !ok || parts.Post == "" || w.Stitch.Unknown || w.Place == nil {
		return
	}
	switch p := w.Place; {
	case p.How == InRing, p.Kind == Sp, p.Kind == Ch, p.Kind == Gap:
		r.report("syntax", p.Span, "%s goes round the post of a stitch, and there is no stitch in this place; name one: in next st, in next dc", shown(w.Stitch))
	case p.Loop != BothLoops:
		r.report("syntax", p.Span, "%s goes round the post of a stitch, not into a loop; leave out the loop", shown(w.Stitch))
	}
}

// single refuses a named group where one stitch is meant.
func (r *resolver) single(n *Name) {
	if n.Group != nil {
		r.report("unknown-stitch", n.Span, "%s is a group of several stitches; name the stitch or the space to work into", shown(*n))
		*n = Name{Span: n.Span, Text: n.Text, Unknown: true}
	}
}

func (r *resolver) yarn(n *Name) {
	low := strings.ToLower(n.Text)
	if r.yarns.list[low] != "" {
		return
	}
	n.Unknown = true
	if r.declaredBadly(low) {
		return
	}
	name := shown(*n)
	switch near := r.suggest("yarn "+low, func() suggestion { return suggestion{name: Closest(n.Text, r.yarns.order)} }).name; {
	case near != "":
		r.report("unknown-yarn", n.Span, "no yarn is called %s; did you mean %s?", name, printable(near)).
			offer(write(n.Span, near, false))
	case len(r.yarns.order) == 0:
		r.report("unknown-yarn", n.Span, "no yarn is called %s; declare it above the first round: yarn %s", name, name)
	default:
		r.report("unknown-yarn", n.Span, "no yarn is called %s; the draft declares %s", name, shortList(r.yarns.order))
	}
}

// declaredBadly counts the use of a name in the finding about a line above the
// rounds that could not be read and has the name in it: that line may declare it.
func (r *resolver) declaredBadly(low string) bool {
	if r.bad == nil {
		r.bad = r.badNames()
	}
	i, bad := r.bad[low]
	if bad {
		(*r.found)[i].Held++
	}
	return bad
}

// badNames lists the words of the lines above the rounds that could not be read,
// with the index of the finding about each.
func (r *resolver) badNames() map[string]int {
	list := map[string]int{}
	for _, s := range r.draft.Statements {
		switch s.(type) {
		case *Round:
			return list
		case *Bad:
		default:
			continue
		}
		at := s.Range()
		i := slices.IndexFunc(*r.found, func(f Finding) bool {
			return f.Rule == "syntax" && at.Start.Offset <= f.Span.Start.Offset && f.Span.Start.Offset <= at.End.Offset
		})
		if i < 0 {
			continue
		}
		for k, t := range scan(s.(*Bad).Text) {
			// The name stands behind the first word, or in its place.
			if w := strings.ToLower(t.value); k < 3 && t.kind == tokWord && !slices.Contains(keywords, w) {
				list[w] = i
			}
		}
	}
	return list
}

func (r *resolver) stitch(n *Name) { r.name(n, nil) }

// kind resolves the name of a stitch that is worked into, skipped or counted.
func (r *resolver) kind(n *Name) { r.name(n, kindsSpelledOut) }

// name resolves the name of a stitch, given words that are no names, but clear.
func (r *resolver) name(n *Name, words map[string]suggestion) {
	if n.Unknown {
		return // reported where it was read
	}
	low := strings.ToLower(n.Text)
	if def := r.group(low); def != nil {
		n.Group = def
		return
	}
	if parts, ok := r.terms.Parse(n.Text); ok {
		n.US = parts.Name()
		if other, both := r.terms.Other().Parse(n.Text); !both {
			r.shows = true
		} else if other.Name() != parts.Name() {
			r.both = true
		}
		return
	}
	if parts, ok := r.terms.Other().Parse(n.Text); ok {
		n.US, n.Foreign = parts.Name(), true
		own := r.terms.Name(n.US)
		r.report("terms", n.Span, "%s is a %s name, and this draft is in %s terms; here the stitch is called %s",
			shown(*n), r.terms.Other().adjective(), r.terms.adjective(), own).
			offer(write(n.Span, own, own == r.terms.Other().Name(n.US))) // else resolve knows whether it is certain
		return
	}
	n.Unknown = true
	if r.declaredBadly(low) {
		return
	}
	s, ok := words[low]
	if !ok {
		s, ok = r.shaping(low)
	}
	if !ok {
		s = r.suggest(low, func() suggestion { return r.near(low) })
	}
	if name := shown(*n); s.whole {
		r.report("unknown-stitch", r.work.Span, "no stitch is called %s; did you mean %s?", name, s.write).
			offer(write(r.work.Span, s.write, s.certain))
	} else if s.write != "" {
		r.report("unknown-stitch", n.Span, "no stitch is called %s; did you mean %s?", name, printable(s.write)).
			offer(write(n.Span, s.write, s.certain))
	} else {
		r.report("unknown-stitch", n.Span, "no stitch is called %s; a group of your own is named in the header: stitch %s = (dc, ch 1, dc)", name, name)
	}
	if n.Group = s.group; n.Group == nil {
		n.Group = r.group(strings.ToLower(s.name))
	}
	if n.Group != nil {
		return
	}
	if parts, ok := r.terms.Parse(s.name); ok {
		n.US = parts.Name()
	}
}

// group returns the group with a lower-case name, or nil.
func (r *resolver) group(low string) *StitchDef {
	if def := r.groups[low]; def != nil {
		return def
	}
	if low != "shell" && low != "vst" {
		return nil
	}
	if r.common == nil {
		r.common = wellKnown()
	}
	return r.common[low]
}

// A suggestion is what a name that means nothing may be a slip for.
type suggestion struct {
	name  string // the stitch, group or yarn to go on with, "" for none
	write string // what to write, "" for no idea
	// certain is set where nothing else can be meant.
	certain bool
	group   *StitchDef // to go on with in place of name
	whole   bool       // write stands for the whole step, not only for the name
}

// maxSuggestions bounds the different names that are looked at closely.
const maxSuggestions = 100

// suggest looks up what was found out about a name before, or finds it out.
func (r *resolver) suggest(key string, find func() suggestion) suggestion {
	s, ok := r.known[key]
	if !ok && len(r.known) < maxSuggestions {
		s = find()
		r.known[key] = s
	}
	return s
}

// spelledOut are words that designers write for an abbreviation, and that are
// too far from it for Closest.
var spelledOut = map[string]suggestion{
	"sl": {name: "sl st", write: "sl st", certain: true}, "slip": {name: "sl st", write: "sl st", certain: true},
	"treble": {name: "tr", write: "tr", certain: true}, "trebles": {name: "tr", write: "tr", certain: true},
	"chain": {write: "ch 3"}, "chains": {write: "ch 3"},
	"v":      {name: "vst", write: "vst"},
	"stitch": {write: "st"}, "stitches": {write: "st"}, "space": {write: "sp"}, "spaces": {write: "sp"},
}

// shaping reads the words for an increase and a decrease, which are made of the
// stitch of the round.
func (r *resolver) shaping(low string) (s suggestion, ok bool) {
	step := r.work
	// A number without a place says how many there are, one after another.
	several := step != nil && step.HasCount && step.Count > 1 && step.Place == nil && !step.Corner
	switch low {
	case "inc", "increase":
		main := r.mainStitch()
		s.write = "2 " + main
		switch {
		case several:
			s.write, s.whole = fmt.Sprintf("2 %s in each of next %d st", main, step.Count), true
		case step == nil || step.Place == nil:
			s.write += " in next st"
		}
		if parts, ok := r.terms.Parse(main); ok && step != nil {
			pair := &Work{Count: 2, HasCount: true, Stitch: Name{Text: main, US: parts.Name()}}
			s.group = &StitchDef{Name: Name{Text: low}, Group: &Group{Members: []Step{pair}}}
		}
	case "dec", "decrease":
		s.name = r.mainStitch() + "2tog"
		s.write = s.name
		if several {
			s.write, s.whole = fmt.Sprintf("[%s] %d times", s.name, step.Count), true
		}
	default:
		return s, false
	}
	return s, true
}

// mainStitch is the first stitch of the round being read that can be closed
// together, or else of the last round above that has one, or of the draft.
func (r *resolver) mainStitch() string {
	if r.now != nil && r.mainOf != r.now {
		r.mainOf, r.main = r.now, r.shapeable(r.now)
	}
	if r.main == "" && r.above == "" {
		r.above = r.terms.Name("dc")
		for round := range r.draft.Rounds() {
			if first := r.shapeable(round); first != "" {
				r.above = first
				break
			}
		}
	}
	return cmp.Or(r.main, r.above)
}

// shapeable is the first stitch of a round that can be closed together, by its
// name; "" for none.
func (r *resolver) shapeable(round *Round) (name string) {
	Walk(round, func(n Node) bool {
		if w, ok := n.(*Work); ok && name == "" {
			if parts, ok := r.terms.Parse(w.Stitch.Text); ok && parts.Base != "sl st" && compounds[parts.Base] {
				name = r.terms.Name(parts.Base)
			}
		}
		return name == ""
	})
	return name
}

// kindsSpelledOut are words for the kinds of places and of things that are
// counted.
var kindsSpelledOut = map[string]suggestion{
	"stitch": {write: "st", certain: true}, "stitches": {write: "st", certain: true},
	"space": {write: "sp", certain: true}, "spaces": {write: "sp", certain: true},
	"chain": {write: "ch", certain: true}, "chains": {write: "ch", certain: true},
}

// near suggests a name for a word that is none. dc2tgo is near dc2tog, though
// no list holds that name.
func (r *resolver) near(low string) suggestion {
	if s, ok := spelledOut[low]; ok {
		return s
	}
	base := strings.TrimRight(low, "0123456789")
	if number := low[len(base):]; number != "" {
		if base == "ch" || base == "picot" {
			return suggestion{write: base + " " + number, certain: true}
		}
		if _, ok := r.terms.Parse(base); ok || r.group(base) != nil {
			return suggestion{name: base, write: number + " " + base}
		}
	}
	list := append(r.terms.Names(), "shell", "vst")
	list = append(list, r.own...)
	for _, base := range r.terms.Names() {
		if !compounds[toUS[r.terms][base]] {
			continue
		}
		if rest, ok := strings.CutPrefix(low, base); ok && rest != "" && isDigit(rest[0]) {
			digits := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))]
			list = append(list, base+digits+"tog")
		}
		list = append(list, "FP"+base, "BP"+base)
	}
	near := Closest(low, list)
	return suggestion{name: near, write: near}
}

// cycles reports groups that are made of themselves, at each use that closes a
// ring of groups, and cuts the ring there.
func (r *resolver) cycles(d *Draft) {
	const open, done = 1, 2
	state := map[*StitchDef]int{}
	var look func(*StitchDef)
	look = func(def *StitchDef) {
		state[def] = open
		Walk(def, func(n Node) bool {
			w, ok := n.(*Work)
			if !ok || w.Stitch.Group == nil {
				return true
			}
			switch inner := w.Stitch.Group; state[inner] {
			case open:
				r.report("unknown-stitch", w.Stitch.Span, "the group %s is made of itself", shown(inner.Name))
				w.Stitch.Group, w.Stitch.Unknown = nil, true
			case done:
			default:
				look(inner)
			}
			return true
		})
		state[def] = done
	}
	for def := range d.StitchDefs() {
		if state[def] == 0 {
			look(def)
		}
	}
}
