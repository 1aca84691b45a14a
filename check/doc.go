// Package check says what is wrong with a draft: it reads it, works it and
// puts every rule to it.
//
//	report, err := check.Source(ctx, "saltmarsh.rnd", text, check.Options{})
//	for _, f := range report.Findings {
//		fmt.Println(f.Span.Start, f.Severity, f.Text(), f.Rule)
//	}
//
// Source checks a text, File a file, Draft a tree that was read from another
// notation or made by hand. Fix mends what can be mended in one way only. What
// is found can be written as text, JSON or SARIF; RoundTable lists what every
// round holds, and WriteSheet how large the piece comes out.
//
// A Rule is a value. Rules lists those of this package, and a caller may add
// rules of its own: a Pass gives them the tree, the graph and the shape of the
// draft, worked out once for all. What a rule means, with a draft that breaks it
// and one that keeps it, stands in its Doc.
//
// The command roundel, in cmd/roundel, is a thin shell over this package.
package check
