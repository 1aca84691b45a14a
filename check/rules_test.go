package check

import (
	"context"
	"testing"
)

func TestRuleDocs(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		t.Run(r.ID, func(t *testing.T) {
			if seen[r.ID] || r.Summary == "" || r.Doc.Text == "" || r.Severity == 0 {
				t.Errorf("rule is not fully documented, or documented twice")
			}
			seen[r.ID] = true
			failing, err := Source(context.Background(), "failing.rnd", r.Doc.Failing, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(failing.Findings) == 0 {
				t.Errorf("failing draft has no findings")
			}
			for _, f := range failing.Findings {
				t.Logf("%s: %s", f.Span, f.Text())
				if f.Rule != r.ID {
					t.Errorf("failing draft: %s: %s", f.Rule, f.Message)
				}
			}
			passing, _ := Source(context.Background(), "passing.rnd", r.Doc.Passing, Options{})
			for _, f := range passing.Findings {
				t.Errorf("passing draft: %s: %s", f.Rule, f.Message)
			}
		})
	}
}
