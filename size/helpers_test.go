package size_test

import (
	"context"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// reporter is what a test, a benchmark and a property have in common.
type reporter interface {
	Helper()
	Fatalf(string, ...any)
}

// read parses a draft that must be well-formed.
func read(t reporter, text string) *notation.Draft {
	t.Helper()
	draft, findings := notation.Parse("", text)
	for _, f := range findings {
		t.Fatalf("%s %s: %s\nin:\n%s", f.Span, f.Rule, f.Text(), text)
	}
	return draft
}

// work works a draft that must come out without findings.
func work(t reporter, text string) *model.Graph {
	t.Helper()
	g, findings, err := model.Build(context.Background(), read(t, text))
	if err != nil {
		t.Fatalf("%v\nin:\n%s", err, text)
	}
	for _, f := range findings {
		t.Fatalf("%s %s: %s\nin:\n%s", f.Span, f.Rule, f.Text(), text)
	}
	return g
}

var _ reporter = (*testing.T)(nil)
