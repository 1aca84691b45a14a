// Package check says what is wrong with a draft: it reads it, works it and
// puts every rule to it.
//
//	report, err := check.Source(ctx, "saltmarsh.rnd", text, check.Options{})
//	for _, f := range report.Findings {
//		fmt.Println(f.Span.Start, f.Severity, f.Text(), f.Rule)
//	}
//
// A Rule is a value. Rules lists those of this package, and a caller may add
// rules of its own. What a rule means, with a draft that breaks it and one
// that keeps it, stands in its Doc.
//
// The command roundel, in cmd/roundel, is a thin shell over this package.
package check
