package check

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/roundel/notation/notationtest"
)

// wants reads the expectations of a draft: comments of the form
//
//	# want "regexp" "regexp"
//
// each for one finding that begins in that line, matched against
// "rule: message".
func wants(t *testing.T, text string) map[int][]*regexp.Regexp {
	t.Helper()
	out := map[int][]*regexp.Regexp{}
	for i, line := range strings.Split(text, "\n") {
		_, rest, ok := strings.Cut(line, "# want ")
		if !ok {
			continue
		}
		for rest = strings.TrimSpace(rest); rest != ""; rest = strings.TrimSpace(rest) {
			quoted, err := strconv.QuotedPrefix(rest)
			if err != nil {
				t.Fatalf("line %d: bad want %q: %v", i+1, rest, err)
			}
			rest = rest[len(quoted):]
			pattern, _ := strconv.Unquote(quoted)
			re, err := regexp.Compile(pattern)
			if err != nil {
				t.Fatalf("line %d: %v", i+1, err)
			}
			out[i+1] = append(out[i+1], re)
		}
	}
	return out
}

// compare matches findings with wants; a missing and an extra finding both
// fail.
func compare(t *testing.T, findings []Finding, wants map[int][]*regexp.Regexp) {
	t.Helper()
	for _, f := range findings {
		text := f.Rule + ": " + f.Text()
		line := f.Span.Start.Line
		found := false
		for i, re := range wants[line] {
			if re.MatchString(text) {
				wants[line] = append(wants[line][:i:i], wants[line][i+1:]...)
				found = true
				break
			}
		}
		if !found {
			t.Errorf("unexpected finding at %s: %s", f.Span.Start, text)
		}
	}
	for line, list := range wants {
		for _, re := range list {
			t.Errorf("line %d: no finding matches %q", line, re)
		}
	}
}

// TestCorpus checks every draft in testdata and examples: published motifs
// with the counts of their books as claims, trade rules, demo drafts. What is
// wrong with them is noted in the drafts. TestFlat has those of testdata/flat.
func TestCorpus(t *testing.T) {
	drafts := 0
	for _, root := range []string{"../testdata", "../examples"} {
		if _, err := os.Stat(root); errors.Is(err, fs.ErrNotExist) {
			continue // a folder without drafts is not in a clone
		}
		fsys := os.DirFS(root)
		err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || path.Ext(name) != ".rnd" || path.Dir(name) == "flat" {
				return err
			}
			drafts++
			t.Run(path.Join(path.Base(root), name), func(t *testing.T) {
				text, err := fs.ReadFile(fsys, name)
				if err != nil {
					t.Fatal(err)
				}
				report, err := Source(context.Background(), name, string(text), Options{})
				if err != nil {
					t.Fatal(err)
				}
				compare(t, report.Findings, wants(t, string(text)))
				checkSpans(t, string(text), report.Findings)
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if drafts < 30 {
		t.Errorf("only %d drafts found", drafts)
	}
}

// checkSpans sees that every range lies inside the text.
func checkSpans(t testing.TB, text string, findings []Finding) {
	t.Helper()
	notationtest.CheckFindings(t, text, findings)
	for _, f := range findings {
		if !f.Span.Start.IsValid() {
			t.Errorf("%s: no place: %s", f.Rule, f.Message)
		}
	}
}
