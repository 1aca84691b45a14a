package check

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"sync"
	"testing"

	"example.com/roundel/notation"
)

// TestTogether: any number of goroutines may check drafts at once, and look at
// one report. Each sees what one by itself sees. Run it with -race.
func TestTogether(t *testing.T) {
	const goroutines = 64
	texts := exampleDrafts(t)
	texts["nothing to read"] = "round 1: 12 d\u0441\n[[[\n"
	texts["faulty"] = "ring\nrnd 1: 12 dc in ring = 13 dc\nrnd 2: 2 dc in each st = 26 dc\nrnd 3: [3 shell in next st, vst in next st] around\n"
	names := slices.Sorted(maps.Keys(texts))
	// Everything that can be had of a report.
	all := func(r *Report) string {
		var b bytes.Buffer
		for _, err := range []error{
			WriteText(&b, r, true), WriteJSON(&b, r), WriteRounds(&b, r, notation.UK), WriteRoundsJSON(&b, r), r.Graph.WriteJSON(&b),
		} {
			if err != nil {
				t.Error(err)
			}
		}
		b.WriteString(notation.Format(notation.Translate(r.Draft, r.Draft.Terms.Other())))
		fmt.Fprint(&b, r.Worst(), r.Graph.Symmetry())
		return b.String()
	}
	check := func(name string) *Report {
		r, err := Source(t.Context(), name, texts[name], Options{})
		if err != nil {
			t.Error(err)
		}
		return r
	}
	reports, want := map[string]*Report{}, map[string]string{}
	for _, name := range names {
		reports[name] = check(name)
		want[name] = all(check(name))
	}
	var group sync.WaitGroup
	for i := range goroutines {
		group.Go(func() {
			for k := range names {
				name := names[(i+k)%len(names)]
				if got := all(check(name)); got != want[name] {
					t.Errorf("%s: checked at once with others it is\n%s\nby itself\n%s", name, got, want[name])
				}
				if got := all(reports[name]); got != want[name] {
					t.Errorf("%s: a report that others look at is\n%s\nby itself\n%s", name, got, want[name])
				}
			}
		})
	}
	group.Wait()
}
