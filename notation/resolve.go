package notation

import (
	"slices"
	"strings"
	"sync"
)

// resolve reads every stitch name in the terms of the draft and binds the
// names of yarns and groups. It is the one place where terms matter.
func (d *Draft) resolve(report func(rule string, at Span, format string, args ...any)) {
	if t := first[*TermsLine](d); t != nil {
		d.Terms = t.Terms
	}
	r := &resolver{draft: d, report: report, groups: map[string]*StitchDef{}, yarns: map[string]bool{}}
	for y := range d.Yarns() {
		r.yarns[strings.ToLower(y.Name.Text)] = true
		r.yarnNames = append(r.yarnNames, y.Name.Text)
	}
	for def := range d.StitchDefs() {
		if isStitch(def.Name.Text) {
			report("syntax", def.Name.Span, "%s is a stitch of its own; give the group another name", def.Name.Text)
			continue
		}
		if key := strings.ToLower(def.Name.Text); r.groups[key] == nil {
			r.groups[key] = def
			r.groupNames = append(r.groupNames, def.Name.Text)
		}
	}
	for _, s := range d.Statements {
		Walk(s, r.visit)
	}
	for def := range d.StitchDefs() {
		r.cycle(def)
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
// shell differs from pattern to pattern.
var wellKnown = sync.OnceValue(func() map[string]*StitchDef {
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
})

type resolver struct {
	draft      *Draft
	report     func(rule string, at Span, format string, args ...any)
	groups     map[string]*StitchDef
	groupNames []string
	yarns      map[string]bool
	yarnNames  []string
}

func (r *resolver) visit(n Node) bool {
	switch n := n.(type) {
	case *Gauge:
		if n.From == 0 {
			r.stitch(&n.Stitch)
		}
	case *Round:
		if n.Yarn != nil {
			r.yarn(n.Yarn)
		}
	case *ChangeYarn:
		r.yarn(&n.Yarn)
	case *Work:
		r.stitch(&n.Stitch)
		r.legs(n)
	case *Chain:
		if n.As != nil {
			r.stitch(n.As)
			if n.As.Group != nil {
				r.report("unknown-stitch", n.As.Span, "a starting chain counts as one stitch, not as the group %s", n.As.Text)
				*n.As = Name{Span: n.As.Span, Text: n.As.Text, US: "dc", Unknown: true}
			}
		}
	case *Skip:
		if n.What == OfStitch {
			r.stitch(&n.Stitch)
			r.single(&n.Stitch)
		}
	case *Place:
		if n.Kind == OfStitch {
			r.stitch(&n.Stitch)
			r.single(&n.Stitch)
		}
	case *ClaimItem:
		if n.What == OfStitch {
			r.stitch(&n.Stitch)
		}
	}
	return true
}

// legs compares the legs of a stitch with the places it is worked over.
func (r *resolver) legs(w *Work) {
	p := w.Place
	if p == nil || p.How != Over && p.How != OverSame || w.Stitch.Unknown {
		return
	}
	places := p.Count
	if p.How == OverSame {
		places++
	}
	parts, ok := US.Parse(w.Stitch.US)
	switch {
	case ok && parts.Together == places, parts.Base == "cl" && places > 1:
	case ok && parts.Together > 0:
		r.report("syntax", p.Span, "%s has %d legs, but works over %d places; write %s over next %d %s",
			w.Stitch.Text, parts.Together, places, w.Stitch.Text, parts.Together, p.kindName())
		p.How, p.Count = Over, parts.Together
	default:
		r.report("syntax", p.Span, "%s has one leg; over is for stitches closed together, such as dc2tog", w.Stitch.Text)
		p.How, p.Count = InNext, max(p.Count, 1)
	}
}

// kindName is how a message names the places.
func (p *Place) kindName() string {
	if p.Kind == OfStitch {
		return p.Stitch.Text
	}
	return p.Kind.String()
}

// single refuses a named group where one stitch is meant.
func (r *resolver) single(n *Name) {
	if n.Group != nil {
		r.report("unknown-stitch", n.Span, "%s is a group of several stitches; name the stitch or the space to work into", n.Text)
		*n = Name{Span: n.Span, Text: n.Text, Unknown: true}
	}
}

func (r *resolver) yarn(n *Name) {
	if r.yarns[strings.ToLower(n.Text)] {
		return
	}
	n.Unknown = true
	switch near := Closest(n.Text, r.yarnNames); {
	case near != "":
		r.report("unknown-yarn", n.Span, "no yarn is called %s; did you mean %s?", n.Text, near)
	case len(r.yarnNames) == 0:
		r.report("unknown-yarn", n.Span, "no yarn is called %s; declare it above the first round: yarn %s", n.Text, n.Text)
	default:
		r.report("unknown-yarn", n.Span, "no yarn is called %s; the draft declares %s", n.Text, strings.Join(r.yarnNames, ", "))
	}
}

func (r *resolver) stitch(n *Name) {
	if def := r.groups[strings.ToLower(n.Text)]; def != nil {
		n.Group = def
		return
	}
	if n.Group = wellKnown()[strings.ToLower(n.Text)]; n.Group != nil {
		return
	}
	terms := r.draft.Terms
	if parts, ok := terms.Parse(n.Text); ok {
		n.US = parts.Name()
		return
	}
	if parts, ok := terms.Other().Parse(n.Text); ok {
		n.US = parts.Name()
		r.report("terms", n.Span, "%s is a %s name, and this draft is in %s terms; here the stitch is called %s",
			n.Text, terms.Other().adjective(), terms.adjective(), terms.Name(n.US))
		return
	}
	n.Unknown = true
	near := r.near(n.Text)
	if near == "" {
		r.report("unknown-stitch", n.Span, "no stitch is called %s; a group of your own is named in the header: stitch %s = (dc, ch 1, dc)", n.Text, n.Text)
		return
	}
	r.report("unknown-stitch", n.Span, "no stitch is called %s; did you mean %s?", n.Text, near)
	if def := r.groups[strings.ToLower(near)]; def != nil {
		n.Group = def
	} else if parts, ok := terms.Parse(near); ok {
		n.US = parts.Name()
	}
}

// near suggests a name for a word that is none. dc2tgo is near dc2tog, though
// no list holds that name.
func (r *resolver) near(word string) string {
	names := append(r.draft.Terms.Names(), r.groupNames...)
	low := strings.ToLower(word)
	for _, base := range r.draft.Terms.Names() {
		if !compounds[toUS[r.draft.Terms][base]] {
			continue
		}
		if rest, ok := strings.CutPrefix(low, base); ok && rest != "" && isDigit(rest[0]) {
			digits := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))]
			names = append(names, base+digits+"tog")
		}
		names = append(names, "FP"+base, "BP"+base)
	}
	return Closest(word, names)
}

// cycle reports a group that is made of itself, once for each ring of groups,
// and cuts the ring.
func (r *resolver) cycle(def *StitchDef) {
	var path []*StitchDef
	done := map[*StitchDef]bool{}
	var look func(d *StitchDef) bool
	look = func(d *StitchDef) bool {
		if len(path) > 0 && d == def {
			return true
		}
		if done[d] {
			return false
		}
		done[d] = true
		path = append(path, d)
		defer func() { path = path[:len(path)-1] }()
		found := false
		Walk(d, func(n Node) bool {
			if w, ok := n.(*Work); ok && !found && w.Stitch.Group != nil {
				if look(w.Stitch.Group) {
					found = true
					r.cut(w, def)
				}
			}
			return !found
		})
		return found
	}
	look(def)
}

// cut makes the use of a group inside itself an unknown stitch.
func (r *resolver) cut(w *Work, def *StitchDef) {
	if w.Stitch.Unknown {
		return
	}
	r.report("unknown-stitch", w.Stitch.Span, "the group %s is made of itself", def.Name.Text)
	w.Stitch.Group, w.Stitch.Unknown = nil, true
}
