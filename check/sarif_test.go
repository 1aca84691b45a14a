package check

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"example.com/roundel/notation"
)

// sarifSchema is the schema of the standard: OASIS, Static Analysis Results
// Format (SARIF) Version 2.1.0 JSON Schema, sarif-schema-2.1.0.json of the
// committee's folder Schemata, unchanged.
var sarifSchema = sync.OnceValues(func() (*jsonschema.Schema, error) {
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	return c.Compile("testdata/sarif-schema-2.1.0.json")
})

// asSARIF writes reports and compares what comes out with the schema.
func asSARIF(t *testing.T, rules []Rule, reports ...*Report) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSARIF(&b, rules, reports...); err != nil {
		t.Fatal(err)
	}
	schema, err := sarifSchema()
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(value); err != nil {
		t.Errorf("not as the schema has it: %v", err)
	}
	return b.String()
}

// A log as a program reads it that knows the standard and not this package.
type log struct {
	Version string
	Runs    []struct {
		ColumnKind string
		Tool       struct {
			Driver struct {
				Name  string
				Rules []struct {
					ID                   string
					ShortDescription     text
					Help                 text
					DefaultConfiguration struct{ Level string }
				}
			}
		}
		Results []struct {
			RuleID           string
			RuleIndex        int
			Level            string
			Message          text
			Locations        []location
			RelatedLocations []location
			Fixes            []struct {
				Description     text
				ArtifactChanges []struct {
					ArtifactLocation artifact
					Replacements     []struct {
						DeletedRegion   place
						InsertedContent text
					}
				}
			}
			Suppressions []struct {
				Kind, Justification string
				Location            location
			}
		}
	}
}

type (
	text     struct{ Text, Markdown string }
	artifact struct{ URI, URIBaseID string }
	place    struct{ StartLine, StartColumn, EndLine, EndColumn int }
	location struct {
		PhysicalLocation struct {
			ArtifactLocation artifact
			Region           place
		}
		Message text
	}
)

func readSARIF(t *testing.T, rules []Rule, reports ...*Report) log {
	t.Helper()
	var out log
	if err := json.Unmarshal([]byte(asSARIF(t, rules, reports...)), &out); err != nil {
		t.Fatal(err)
	}
	if out.Version != "2.1.0" || len(out.Runs) != 1 || out.Runs[0].ColumnKind != "unicodeCodePoints" || out.Runs[0].Tool.Driver.Name != "roundel" {
		t.Fatalf("%+v", out)
	}
	return out
}

func TestWriteSARIF(t *testing.T) {
	// The rules that the report was made by are not those of the package.
	r := shown(t)
	golden(t, "findings.sarif", asSARIF(t, []Rule{{ID: "wind", Severity: notation.Warning, Summary: "it blows"}, {ID: "weather"}}, r))

	got := readSARIF(t, nil, r).Runs[0].Results
	if len(got) != len(r.Findings) {
		t.Fatalf("%d results, want %d", len(got), len(r.Findings))
	}
	for i, f := range r.Findings {
		res := got[i]
		level := map[notation.Severity]string{notation.Info: "note", notation.Warning: "warning", notation.Error: "error"}[f.Severity]
		if res.RuleID != f.Rule || res.RuleIndex != -1 || res.Level != level || res.Message.Text != f.Text() || len(res.Locations) != 1 || len(res.RelatedLocations) != len(f.Related) || len(res.Suppressions) != 0 {
			t.Errorf("result %d: %+v\nof %+v", i, res, f)
		}
		at := res.Locations[0].PhysicalLocation
		if want := (artifact{"drafts/tideline.rnd", "%SRCROOT%"}); at.ArtifactLocation != want {
			t.Errorf("result %d is in %+v", i, at.ArtifactLocation)
		}
		if want := (place{f.Span.Start.Line, f.Span.Start.Column, f.Span.End.Line, f.Span.End.Column}); at.Region != want {
			t.Errorf("result %d is at %+v, want %+v", i, at.Region, want)
		}
	}
}

func TestSARIFRules(t *testing.T) {
	rules := readSARIF(t, nil).Runs[0].Tool.Driver.Rules
	if len(rules) != len(Rules()) {
		t.Fatalf("%d rules", len(rules))
	}
	for i, r := range Rules() {
		got := rules[i]
		if got.ID != r.ID || got.ShortDescription.Text != r.Summary || got.DefaultConfiguration.Level == "note" != (r.Severity == notation.Info) {
			t.Errorf("rule %d: %+v", i, got)
		}
		for _, part := range []string{r.Doc.Text, r.Doc.Failing, r.Doc.Passing, r.Doc.Fix} {
			if !strings.Contains(got.Help.Text, part) || !strings.Contains(got.Help.Markdown, part) {
				t.Errorf("the help for %s lacks %q", r.ID, part)
			}
		}
	}
	// Each finding names its rule by id and by index.
	r := source(t, "yarn sand\nyarn reed\nring\nrnd 1: 12 dd in ring\nrnd 3: 2 dc in each st = 7 dc\n", Options{})
	for _, res := range readSARIF(t, nil, r).Runs[0].Results {
		if res.RuleIndex < 0 || rules[res.RuleIndex].ID != res.RuleID {
			t.Errorf("rule %s has the index %d", res.RuleID, res.RuleIndex)
		}
	}
}

// What a draft allows is shown as suppressed, in its place, with the reason.
func TestSARIFSuppressed(t *testing.T) {
	const draft = "lies cupped\nyarn sand\nallow unused-name \"for the fringe\"\nyarn reed\nring\nrnd 1: 12 dc in ring = 11 dc\nallow claim-count \"printed so\"\nrnd 2: dc in each st = 13 dc\nallow claim-count\nrnd 3: dc in each st = 14 dc\n"
	r := source(t, draft, Options{})
	type one struct {
		Rule, Kind, Justification string
		Line, By                  int
	}
	var got []one
	for _, res := range readSARIF(t, nil, r).Runs[0].Results {
		o := one{Rule: res.RuleID, Line: res.Locations[0].PhysicalLocation.Region.StartLine}
		for _, s := range res.Suppressions {
			o.Kind, o.Justification, o.By = s.Kind, s.Justification, s.Location.PhysicalLocation.Region.StartLine
		}
		got = append(got, o)
	}
	want := []one{
		{"unused-name", "inSource", "for the fringe", 4, 3},
		{"claim-count", "", "", 6, 0},
		{"claim-count", "inSource", "printed so", 8, 7},
		{"allow-reason", "", "", 9, 0},
		{"claim-count", "inSource", "", 10, 9},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestSARIFArtifacts(t *testing.T) {
	tests := []struct {
		file string
		want artifact
	}{
		{"a.rnd", artifact{"a.rnd", "%SRCROOT%"}},
		{"./drafts//a.rnd", artifact{"drafts/a.rnd", "%SRCROOT%"}},
		{`drafts\sub\a.rnd`, artifact{"drafts/sub/a.rnd", "%SRCROOT%"}},
		{"../a.rnd", artifact{"../a.rnd", "%SRCROOT%"}},
		{"sea salt/é#1?.rnd", artifact{"sea%20salt/%C3%A9%231%3F.rnd", "%SRCROOT%"}},
		{"a:b.rnd", artifact{"./a:b.rnd", "%SRCROOT%"}},
		{"100%.rnd", artifact{"100%25.rnd", "%SRCROOT%"}},
		{"standard input", artifact{"standard%20input", "%SRCROOT%"}},
		{"/srv/drafts/a b.rnd", artifact{"file:///srv/drafts/a%20b.rnd", ""}},
		{`C:\drafts\a.rnd`, artifact{"file:///C:/drafts/a.rnd", ""}},
	}
	for _, test := range tests {
		r := &Report{File: test.file, Findings: []Finding{{Rule: "tide", Severity: notation.Info, Message: "low"}}}
		at := readSARIF(t, nil, r).Runs[0].Results[0].Locations[0].PhysicalLocation
		if at.ArtifactLocation != test.want {
			t.Errorf("%s is %+v, want %+v", test.file, at.ArtifactLocation, test.want)
		}
		// A finding without a place is about the beginning.
		if want := (place{1, 1, 1, 1}); at.Region != want {
			t.Errorf("region %+v", at.Region)
		}
	}
}

// Whoever makes the replacements of a fix, going by lines and characters, gets
// what ApplyEdits makes of it.
func TestSARIFFixes(t *testing.T) {
	fixes := 0
	for _, draft := range []string{
		"# 潮 🌊\nring\nrnd 1: 12 dc in ring = 13 dc, 5 st # é\n",
		"\uFEFFterms us\r\n\tring\r\nrnd 1: 12\thtr in ring = 11 htr\r\nrnd 2: [5 hdc] around\r\n",
		"terms uk # 🌊\nring\nrnd 1: [2 dtr2tog, ch3] 4 times = 8 stitches, 4 spaces\nrnd 2: sc in each stitch\n",
		"lies cupped\nring\nrnd 1: 12 dc in ring\nrnd 2: [2 dc2tog] around = 6 dc2tog\nrnd 3: 2 dc\n",
	} {
		r := source(t, draft, Options{})
		for i, res := range readSARIF(t, nil, r).Runs[0].Results {
			if len(res.Fixes) != len(r.Findings[i].Fixes) {
				t.Fatalf("%d fixes of %v", len(res.Fixes), r.Findings[i])
			}
			for k, fix := range r.Findings[i].Fixes {
				fixes++
				got := res.Fixes[k]
				text := fix.Message
				if !fix.Certain {
					text = "perhaps: " + text
				}
				if got.Description.Text != text || len(got.ArtifactChanges) != 1 || got.ArtifactChanges[0].ArtifactLocation.URI != "draft.rnd" {
					t.Errorf("fix %+v", got)
				}
				replaced := draft
				for _, rep := range slices.Backward(got.ArtifactChanges[0].Replacements) {
					from := offsetOf(draft, rep.DeletedRegion.StartLine, rep.DeletedRegion.StartColumn)
					to := offsetOf(draft, rep.DeletedRegion.EndLine, rep.DeletedRegion.EndColumn)
					replaced = replaced[:from] + rep.InsertedContent.Text + replaced[to:]
				}
				want, err := notation.ApplyEdits(draft, fix.Edits...)
				if err != nil {
					t.Fatal(err)
				}
				if replaced != want {
					t.Errorf("%s: %q, want %q", fix.Message, replaced, want)
				}
			}
		}
	}
	if fixes < 10 {
		t.Errorf("only %d fixes", fixes)
	}
}

// offsetOf finds a place by its line and its character in the line. A byte
// order mark is no character of the first.
func offsetOf(text string, line, column int) int {
	at := 0
	for range line - 1 {
		at += strings.IndexByte(text[at:], '\n') + 1
	}
	if line == 1 && strings.HasPrefix(text, "\uFEFF") {
		at += len("\uFEFF")
	}
	for i := range text[at:] {
		if column--; column == 0 {
			return at + i
		}
	}
	return len(text)
}

// All drafts there are, in one log, and nothing at all.
func TestSARIFCorpus(t *testing.T) {
	var reports []*Report
	for _, root := range []string{"../testdata", "../examples"} {
		err := fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || path.Ext(name) != ".rnd" {
				return err
			}
			r, err := File(t.Context(), os.DirFS(root), name, Options{})
			r.File = path.Join(path.Base(root), name)
			reports = append(reports, r)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	run := readSARIF(t, nil, reports...).Runs[0]
	want := 0
	for _, r := range reports {
		want += len(r.Findings) + len(r.Allowed)
	}
	if len(run.Results) != want || want < 20 {
		t.Errorf("%d results of %d findings", len(run.Results), want)
	}
	if run := readSARIF(t, []Rule{}).Runs[0]; run.Results == nil || run.Tool.Driver.Rules == nil {
		t.Error("no list of results, or of rules, where there are none")
	}
	asSARIF(t, nil, &Report{File: "a\xff.rnd", Findings: []Finding{{Rule: "tide", Message: "\xff\x00\u2028"}}})
	odd := readSARIF(t, nil, source(t, "ring\nrnd 1: {0}\n", Options{})).Runs[0].Results[0].Message.Text
	if !strings.Contains(odd, "{{") || strings.Contains(strings.ReplaceAll(odd, "{{", ""), "{") {
		t.Errorf("braces are not written twice: %s", odd)
	}
	// No file, but standard input with nothing in it.
	asSARIF(t, nil, source(t, "", Options{}))
}
