package check

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// source checks a text that no limit of time is set to.
func source(t testing.TB, text string, o Options) *Report {
	t.Helper()
	r, err := Source(context.Background(), "draft.rnd", text, o)
	if err != nil {
		t.Fatal(err)
	}
	checkSpans(t, text, r.Findings)
	return r
}

// places lists findings as "line rule", which a test can state without the
// words of the messages.
func places(list []Finding) []string {
	var out []string
	for _, f := range list {
		out = append(out, fmt.Sprintf("%d %s", f.Span.Start.Line, f.Rule))
	}
	return out
}

func wantPlaces(t *testing.T, what string, got []Finding, want []string) {
	t.Helper()
	if diff := cmp.Diff(want, places(got)); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
		for _, f := range got {
			t.Logf("%s: %s", f.Span, f.Text())
		}
	}
}

// noted is a rule of a caller's own: it says something about every round.
var noted = Rule{
	ID: "noted", Severity: notation.Info, Summary: "a round",
	Run: func(p *Pass) {
		for r := range p.Draft.Rounds() {
			p.Reportf(r.Head, "round %d", r.From)
		}
	},
}

// TestOwnGrowthRule: a rule of a caller's own is not taken for one of those about
// how a piece lies, which a line that cannot be read holds back.
func TestOwnGrowthRule(t *testing.T) {
	own := noted
	own.ID = "growth-noted"
	r := source(t, "lies cuppd\nring\nrnd 1: 12 dc in ring\nrnd 2: dc in each st\n", Options{Rules: append(Rules(), own)})
	wantPlaces(t, "findings", r.Findings, []string{"1 syntax", "3 growth-noted", "4 growth-noted"})
}

func TestSource(t *testing.T) {
	const text = "motif \"Tideline\"\nring\nrnd 1: 12 dc in ring = 13 dc\n"
	r := source(t, text, Options{})
	if r.File != "draft.rnd" || r.Source != text {
		t.Errorf("report is of %q, %q", r.File, r.Source)
	}
	if r.Draft.Title() != "Tideline" || r.Graph.NumRounds() != 1 || r.Graph.Counts(0).Total != 12 {
		t.Errorf("draft %q with %d rounds", r.Draft.Title(), r.Graph.NumRounds())
	}
	wantPlaces(t, "findings", r.Findings, []string{"3 claim-count"})
	if len(r.Allowed) != 0 {
		t.Errorf("allowed: %v", r.Allowed)
	}
}

// A file with nothing in it is a slip of whoever saved it.
func TestEmpty(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":         "",
		"blank lines":     "\n \n\t\n",
		"a comment":       "# Saltmarsh\n",
		"byte order mark": "\uFEFF",
	} {
		t.Run(name, func(t *testing.T) {
			r := source(t, text, Options{})
			wantPlaces(t, "findings", r.Findings, []string{"1 no-rounds"})
		})
	}
}

func TestFile(t *testing.T) {
	fsys := fstest.MapFS{
		"drafts/saltmarsh.rnd": {Data: []byte("ring\r\nrnd 1: 12 dc in ring = 13 dc\r\n")},
		"long.rnd":             {Data: []byte("ring\n" + strings.Repeat("# tide\n", 100))},
	}
	ctx := context.Background()
	t.Run("good", func(t *testing.T) {
		r, err := File(ctx, fsys, "drafts/saltmarsh.rnd", Options{})
		if err != nil {
			t.Fatal(err)
		}
		if r.File != "drafts/saltmarsh.rnd" {
			t.Errorf("file is called %q", r.File)
		}
		wantPlaces(t, "findings", r.Findings, []string{"2 claim-count"})
	})
	t.Run("missing", func(t *testing.T) {
		r, err := File(ctx, fsys, "drafts/harbour.rnd", Options{})
		if r != nil || !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("report %v, error %v", r, err)
		}
	})
	t.Run("directory", func(t *testing.T) {
		r, err := File(ctx, fsys, "drafts", Options{})
		if r != nil || err == nil || !strings.Contains(err.Error(), "directory") {
			t.Errorf("report %v, error %v", r, err)
		}
	})
	t.Run("limit", func(t *testing.T) {
		r, err := File(ctx, fsys, "long.rnd", Options{Text: notation.Limits{Bytes: 100}})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Source) != 101 {
			t.Errorf("read %d bytes; one past the limit of 100 is enough", len(r.Source))
		}
		wantPlaces(t, "findings", r.Findings, []string{"1 limit"})
	})
}

func TestContext(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	r, err := Source(ctx, "draft.rnd", "yarn sand\nyarn reed\nring\nrnd 1: [dc in ring] 100000 times\nrnd 2: dc in each st\n", Options{})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("error %v", err)
	}
	// What was found by then is there: that nothing was read.
	wantPlaces(t, "findings", r.Findings, []string{"1 limit"})
	if _, err := File(ctx, fstest.MapFS{"a.rnd": {Data: []byte("ring\nrnd 1: [dc in ring] 100000 times\nrnd 2: dc in each st\n")}}, "a.rnd", Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("File: error %v", err)
	}
}

func TestOptions(t *testing.T) {
	const text = "yarn sand\nyarn reed\nring\nrnd 1 with sand: 12 dc in ring = 13 dc\nrnd 2: 2 dc in each st\n"
	tests := []struct {
		name    string
		text    string
		options Options
		want    []string
	}{
		{"default", text, Options{}, []string{"2 unused-name", "4 claim-count"}},
		{"a rule added", text, Options{Rules: append(Rules(), noted)},
			[]string{"2 unused-name", "4 noted", "4 claim-count", "5 noted"}},
		{"a rule instead of the others", text, Options{Rules: []Rule{noted}}, []string{"4 noted", "5 noted"}},
		{"no rules", text, Options{Rules: []Rule{}}, nil},
		{"a rule left out", text, Options{Rules: slices.DeleteFunc(Rules(), func(r Rule) bool { return r.ID == "claim-count" })},
			[]string{"2 unused-name"}},
		{"length", text, Options{Text: notation.Limits{Bytes: 60}}, []string{"1 limit"}},
		{"depth", "ring\nrnd 1: [[dc in ring] 2 times] 2 times\n", Options{Text: notation.Limits{Depth: 1}}, []string{"2 limit"}},
		{"stitches", text, Options{Work: model.Limits{Stitches: 20}}, []string{"2 unused-name", "4 claim-count", "5 limit"}},
		{"rounds", "lies cupped\nring\nrnd 1: 12 dc in ring\nrnd 2-5: dc in each st\n", Options{Work: model.Limits{Rounds: 3}}, []string{"4 limit"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			wantPlaces(t, "findings", source(t, test.text, test.options).Findings, test.want)
		})
	}
}

// Rules gives a copy, so that a caller who changes it changes nobody's draft.
func TestRulesIsACopy(t *testing.T) {
	mine := Rules()
	mine[0] = noted
	if Rules()[0].ID == noted.ID {
		t.Error("a change to what Rules returns shows in the next call")
	}
}

func TestPass(t *testing.T) {
	span := notation.Span{Start: notation.Pos{Line: 1, Column: 1}, End: notation.Pos{Line: 1, Column: 1}}
	rule := Rule{ID: "tide", Severity: notation.Warning, Run: func(p *Pass) {
		p.Add(Finding{Span: span, Message: "own"})
		p.Add(Finding{Span: span, Message: "own, said to be an error", Severity: notation.Error})
		p.Add(Finding{Span: span, Message: "other", Rule: "other", Severity: notation.Info})
		p.Add(Finding{Span: span, Message: "other, nothing said", Rule: "other"})
		if n := len(p.Stages()); n != 0 {
			t.Errorf("%d findings of the stages are called tide", n)
		}
	}}
	var got []string
	for _, f := range source(t, "ring\nrnd 1: 12 dd in ring\n", Options{Rules: []Rule{rule}}).Findings {
		got = append(got, fmt.Sprintf("%s %s: %s", f.Severity, f.Rule, f.Message))
	}
	want := []string{
		"info other: other",
		"warning other: other, nothing said",
		"warning tide: own",
		"warning tide: own, said to be an error",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
}

func TestWorst(t *testing.T) {
	finding := func(s notation.Severity) Finding { return Finding{Severity: s} }
	tests := []struct {
		list []Finding
		want notation.Severity
	}{
		{nil, 0},
		{[]Finding{finding(notation.Info)}, notation.Info},
		{[]Finding{finding(notation.Warning), finding(notation.Info)}, notation.Warning},
		{[]Finding{finding(notation.Info), finding(notation.Error), finding(notation.Warning)}, notation.Error},
	}
	for _, test := range tests {
		r := &Report{Findings: test.list, Allowed: []Finding{finding(notation.Error)}}
		if got := r.Worst(); got != test.want {
			t.Errorf("worst of %v is %s, want %s", test.list, got, test.want)
		}
	}
}

// A round that cannot be read, and claims nothing, takes the rounds above it
// with it; its finding says so.
func TestNotCheckedForThisReason(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string // related places of all findings
	}{
		{"none above", "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each of\n", nil},
		{"one above", "ring\nrnd 1: 12 dc in\nrnd 2: dc in each st\n", []string{"3: round 2 is not checked for this reason"}},
		{"several above", "ring\nrnd 1: 12 dc in\nrnd 2: dc in each st\nrnd 3-5: dc in each st\n",
			[]string{"3: rounds 2 to 5 are not checked for this reason"}},
		{"a range at fault", "ring\nrnd 1-3: 12 dc in\nrnd 4: dc in each st\n", []string{"3: round 4 is not checked for this reason"}},
		{"a claim in its place", "ring\nrnd 1: 12 dc in = 12 dc\nrnd 2: dc in each st\n", nil},
		{"two of them", "ring\nrnd 1: 12 dc in\nrnd 2: dc in each st\nrnd 3: dc in = 12 dc\nrnd 4: dc in\nrnd 5: dc in each st\n",
			[]string{"3: round 2 is not checked for this reason", "6: round 5 is not checked for this reason"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var got []string
			for _, f := range source(t, test.text, Options{}).Findings {
				for _, rel := range f.Related {
					got = append(got, fmt.Sprintf("%d: %s", rel.Span.Start.Line, rel.Message))
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("related (-want +got):\n%s", diff)
			}
		})
	}
}

// TestShared checks drafts in many goroutines at once: with one draft in
// common, and one list of rules, all reports must be alike.
func TestShared(t *testing.T) {
	// The groups that need no definition are kept for all drafts together.
	const text = `motif "Harbour"
yarn sand
yarn reed
ring
rnd 1 with sand: [vst in ring, corner ch 2] 4 times = 9 dc
rnd 2: [dc in each st and ch, shell in corner] 4 times
rnd 3: [dd in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`
	options := Options{Rules: append(Rules(), noted)}
	want := asJSON(t, source(t, text, options))
	shared := source(t, text, options)
	var wg sync.WaitGroup
	for range 64 {
		wg.Go(func() {
			r, err := Source(context.Background(), "draft.rnd", text, options)
			if err != nil {
				t.Error(err)
				return
			}
			if got := asJSON(t, r); got != want {
				t.Errorf("reports differ (-want +got):\n%s", cmp.Diff(want, got))
			}
			// A finished report may be read by all of them.
			if got := asJSON(t, shared); got != want {
				t.Errorf("the shared report reads otherwise (-want +got):\n%s", cmp.Diff(want, got))
			}
			var b bytes.Buffer
			if err := WriteRounds(&b, shared, notation.UK); err != nil || b.Len() == 0 {
				t.Errorf("rounds: %v", err)
			}
		})
	}
	wg.Wait()
}

func asJSON(t testing.TB, reports ...*Report) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJSON(&b, reports...); err != nil {
		t.Error(err)
	}
	return b.String()
}

// A rule of one's own sees the rounds that come out as written, and their
// shape.
func TestPassRounds(t *testing.T) {
	const sound = "gauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: dc in each st"
	for draft, want := range map[string][]int{
		sound:                     {1, 2, 3},
		sound + " = 24 dc":        {1, 2, 3},
		sound + " = 25 dc":        {1, 2}, // an error of its own
		sound + ", dc in next st": {1, 2}, // not worked as written
	} {
		var rounds, shaped []int
		rule := Rule{ID: "own", Severity: notation.Info, Run: func(p *Pass) {
			for _, r := range p.Rounds() {
				rounds = append(rounds, r.Number)
			}
			for _, r := range p.Shape() {
				shaped = append(shaped, p.Graph.Round(r.Index).Number)
			}
			if got := p.Gauge().Unit; math.Abs(float64(got)-100.0/14) > 1e-9 {
				t.Errorf("a stitch is %g mm wide, want 100/14", got)
			}
		}}
		source(t, draft+"\n", Options{Rules: append(Rules(), rule)})
		if !slices.Equal(rounds, want) || !slices.Equal(shaped, want) {
			t.Errorf("%q: rounds %v, shaped %v, want %v", draft, rounds, shaped, want)
		}
	}
}

// A rule without a severity warns, and a finding about a round says which.
func TestReportRoundf(t *testing.T) {
	rule := Rule{ID: "own", Run: func(p *Pass) {
		for _, r := range p.Rounds() {
			p.ReportRoundf(r, "round %d", r.Number)
		}
	}}
	r := source(t, "ring\nrnd 1: 12 dc in ring\nrnd 2-3: 2 dc in each st\n", Options{Rules: []Rule{rule}})
	var got []string
	for _, f := range r.Findings {
		got = append(got, fmt.Sprintf("%s %s %d: %s", f.Span.Start, f.Severity, f.Round, f.Message))
	}
	want := []string{"2:1 warning 1: round 1", "3:1 warning 2: round 2", "3:1 warning 3: round 3"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
