package notation

// comments hands each comment to the node it belongs to: a comment at the end
// of a line to what ends on that line, any other to what comes next. Steps and
// items of a claim carry comments of their own when a statement takes several
// lines. Statements kept as text keep the comments inside them in the text.
func (p *draftParser) comments(cuts []cutting) {
	k := 0
	var inside *placer // of statement k
	before := func(k int, c Comment) {
		if k == len(p.draft.Statements) {
			p.draft.Tail = append(p.draft.Tail, c)
			return
		}
		a := p.draft.Statements[k].Attached()
		a.Before = append(a.Before, c)
	}
	for i, t := range p.tokens {
		if t.kind != tokComment {
			continue
		}
		c := Comment{Span: t.span(), Text: t.value}
		for k < len(cuts) && i >= cuts[k].to {
			k++
			inside = nil
		}
		if k == len(cuts) || i < cuts[k].from {
			before(k, c)
			continue
		}
		s := p.draft.Statements[k]
		end := s.Range().End
		switch {
		case t.start.Offset >= end.Offset && t.start.Line == end.Line:
			s.Attached().After = append(s.Attached().After, c)
		case t.start.Offset >= end.Offset:
			before(k+1, c)
		case asWritten(s) != "":
		default:
			if inside == nil {
				inside = &placer{parts: carriers(s)}
			}
			inside.attach(s, c)
		}
	}
}

// commented is a node that can carry comments.
type commented interface {
	Node
	Attached() *Comments
}

// carriers lists the nodes inside a statement that can carry comments, in the
// order of the text.
func carriers(s Statement) []commented {
	var list []commented
	Walk(s, func(n Node) bool {
		if c, ok := n.(commented); ok && n != Node(s) {
			list = append(list, c)
		}
		return true
	})
	return list
}

// A placer goes along the parts of a statement, from comment to comment.
type placer struct {
	parts []commented // those ahead
	begun bool        // some part is behind or open
	open  []commented // those the comment stands in, from outer to inner
	ended commented   // the one that ended last, the outermost of several
}

// attach gives a comment inside statement s to one of its parts: to the one it
// interrupts, else to the one that ends before it on the same line, else to
// the next; at the end of brackets to the brackets. Before the first part, and
// in a statement without parts, it goes above the statement: a line end is not
// allowed there in the text.
func (a *placer) attach(s Statement, c Comment) {
	at := c.Start.Offset
	for len(a.parts) > 0 && a.parts[0].Range().Start.Offset < at {
		a.close(a.parts[0].Range().Start.Offset)
		a.open = append(a.open, a.parts[0])
		a.parts, a.begun = a.parts[1:], true
	}
	a.close(at)
	within := Span{End: s.Range().End} // the brackets around the comment
	var around *Comments
	if len(a.open) > 0 {
		inner := a.open[len(a.open)-1]
		if !hasParts(inner) {
			to := inner.Attached()
			to.Before = append(to.Before, c)
			return
		}
		within, around = inner.Range(), inner.Attached()
	}
	switch {
	case a.ended != nil && a.ended.Range().End.Line == c.Start.Line && a.ended.Range().Start.Offset > within.Start.Offset:
		to := a.ended.Attached()
		to.After = append(to.After, c)
	case a.begun && len(a.parts) > 0 && a.parts[0].Range().Start.Offset < within.End.Offset:
		to := a.parts[0].Attached()
		to.Before = append(to.Before, c)
	case around != nil:
		around.Inside = append(around.Inside, c)
	default:
		to := s.Attached()
		to.Before = append(to.Before, c)
	}
}

// close ends the open parts that end at or before a place.
func (a *placer) close(at int) {
	for n := len(a.open) - 1; n >= 0 && a.open[n].Range().End.Offset <= at; n-- {
		a.ended = a.open[n]
		a.open = a.open[:n]
	}
}

// hasParts reports whether other parts stand inside n.
func hasParts(n Node) bool {
	switch n.(type) {
	case *Repeat, *Group:
		return true
	}
	return false
}
