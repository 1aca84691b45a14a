package model_test

import (
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// A reporter takes complaints; *testing.T and *rapid.T are reporters.
type reporter = notationtest.TB

// An about shows the draft with every complaint about it.
type about struct {
	reporter
	text string
}

func (a about) Errorf(format string, args ...any) {
	a.Helper()
	a.reporter.Errorf(format+"\nin:\n%s", append(args, a.text)...)
}

// checkInvariants sees what must hold of every graph and every finding,
// whatever the draft.
func checkInvariants(t reporter, text string, g *model.Graph, findings []notation.Finding) {
	t.Helper()
	notationtest.CheckGraph(about{t, text}, g)
	notationtest.CheckFindings(about{t, text}, text, findings)
}

// TestInvariantsCanFail: an oracle that never complains proves nothing.
func TestInvariantsCanFail(t *testing.T) {
	g, findings := build(t, miscountedMat)
	complaints := &complaints{}
	checkInvariants(complaints, miscountedMat, g, findings)
	if complaints.n != 0 {
		t.Errorf("%d complaints about a sound graph", complaints.n)
	}
	// The same findings in a shorter text lie outside it.
	checkInvariants(complaints, miscountedMat[:120], g, findings)
	if complaints.n == 0 {
		t.Error("no complaint about findings outside the text")
	}
}

type complaints struct{ n int }

func (c *complaints) Helper()               {}
func (c *complaints) Errorf(string, ...any) { c.n++ }
