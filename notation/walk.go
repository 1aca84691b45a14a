package notation

// Walk calls visit for n and, while visit returns true, for everything inside
// n in the order of the text: the statements of a draft, the steps of a round,
// the members of a group, places, the items of a claim. n may be a *Draft.
func Walk(n Node, visit func(Node) bool) {
	if !visit(n) {
		return
	}
	steps := func(list []Step) {
		for _, s := range list {
			Walk(s, visit)
		}
	}
	place := func(p *Place) {
		if p != nil {
			Walk(p, visit)
		}
	}
	switch n := n.(type) {
	case *Draft:
		for _, s := range n.Statements {
			Walk(s, visit)
		}
	case *StitchDef:
		if n.Group != nil {
			Walk(n.Group, visit)
		}
	case *Round:
		steps(n.Steps)
		if n.Claim != nil {
			Walk(n.Claim, visit)
		}
	case *Claim:
		for _, item := range n.Items {
			Walk(item, visit)
		}
	case *Repeat:
		steps(n.Steps)
	case *Group:
		steps(n.Members)
		place(n.Place)
	case *Work:
		place(n.Place)
	case *Chain:
		place(n.Place)
	}
}
