package check

import (
	"context"
	"io/fs"
	"math"
	"os"
	"path"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/roundel/notation"
)

// growthOf returns the most severe finding that a piece ruffles, and that it
// cups; nil for none.
func growthOf(list []Finding) (ruffle, cup *Finding) {
	for i := range list {
		f := &list[i]
		switch {
		case f.Rule == "growth-ruffle" && (ruffle == nil || f.Severity > ruffle.Severity):
			ruffle = f
		case f.Rule == "growth-cup" && (cup == nil || f.Severity > cup.Severity):
			cup = f
		}
	}
	return ruffle, cup
}

// TestFlat judges the motifs of testdata/flat, of which it is known whether
// they lie flat.
func TestFlat(t *testing.T) {
	// Two that ruffle cup at first: an increase in every second or third stitch
	// of a few is less than a flat piece needs, and of many more.
	cupsFirst := map[string]bool{"N04": true, "N05": true}
	fsys := os.DirFS("../testdata/flat")
	names, err := fs.Glob(fsys, "*.rnd")
	if err != nil || len(names) < 54 {
		t.Fatalf("%d drafts, %v", len(names), err)
	}
	head := func(text, name string) string {
		m := regexp.MustCompile(`(?m)^# ` + name + `: (\S+)$`).FindStringSubmatch(text)
		if m == nil {
			return ""
		}
		return m[1]
	}
	for _, name := range names {
		id := strings.TrimSuffix(path.Base(name), ".rnd")
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		label := head(text, "label")
		reference, err := strconv.ParseFloat(head(text, "reference score"), 64)
		if err != nil {
			t.Errorf("%s: %v", id, err)
		}
		r, err := Source(context.Background(), name, text, Options{})
		if err != nil {
			t.Fatal(err)
		}
		ruffle, cup := growthOf(r.Findings)
		verdict := "flat"
		for word, f := range map[string]*Finding{"ruffle": ruffle, "cup": cup} {
			if f != nil {
				if verdict != "flat" {
					verdict += " and "
				} else {
					verdict = ""
				}
				verdict += word + " (" + f.Severity.String() + ")"
			}
		}
		score := 0.0
		for _, round := range shapeOf(t.Context(), r.Draft, r.Graph).rounds {
			if math.Abs(round.Score) > math.Abs(score) {
				score = round.Score
			}
		}
		t.Logf("%s %-6s reference %+.2f, here %+.2f: %s", id, label, reference, score, verdict)
		for _, f := range r.Findings {
			if f.Rule != "growth-ruffle" && f.Rule != "growth-cup" {
				t.Errorf("%s: %s: %s", id, f.Rule, f.Text())
			}
		}
		worst := notation.Severity(0)
		for _, f := range []*Finding{ruffle, cup} {
			if f != nil {
				worst = max(worst, f.Severity)
			}
		}
		switch {
		case head(text, "borderline") == "yes":
			if most := severityOf(reference); worst > most {
				t.Errorf("%s: on the border with %+.2f, judged %s", id, reference, verdict)
			}
		case label == "flat":
			if worst > notation.Info {
				t.Errorf("%s: lies flat, judged %s", id, verdict)
			}
		case label == "ruffle":
			if ruffle == nil || cup != nil && !cupsFirst[id] {
				t.Errorf("%s: ruffles, judged %s", id, verdict)
			}
		case label == "cup":
			if cup == nil || ruffle != nil {
				t.Errorf("%s: cups, judged %s", id, verdict)
			}
		default:
			t.Errorf("%s: label %q", id, label)
		}
	}
}

// severityOf is what a score may be reported as at most.
func severityOf(score float64) notation.Severity {
	switch score = math.Abs(score); {
	case score < 0.10:
		return 0
	case score < 0.15:
		return notation.Info
	}
	return notation.Warning
}

// A round that has as many stitches as would lie flat is not said to have too
// many or too few: what is off then is the rounds up to it.
func TestGrowthInRange(t *testing.T) {
	const below = `ring
rnd 1: 6 sc in ring
rnd 2: 2 sc in each st
rnd 3: [sc in next st, 2 sc in next st] around
rnd 4: [sc in next 2 st, 2 sc in next st] around
rnd 5: [sc in next 3 st, 2 sc in next st] around
rnd 6: [sc in next 4 st, 2 sc in next st] around
rnd 7: [sc in next 5 st, 2 sc in next st] around
rnd 8: [sc in next 6 st, 2 sc in next st] around
rnd 9: [sc in next 9 st, 2 sc in each of next 7 st] around
rnd 10: [sc in next 22 st, 2 sc in next st] around
rnd 11: [sc in next 11 st, 2 sc in next st] around
`
	for _, test := range []struct{ text, begins string }{
		{below, "round 9 is about "},
		{below + "rnd 12: [sc in next 24 st, sc2tog] around\n", "the rounds up to round 12 are about "},
	} {
		report, err := Source(context.Background(), "draft.rnd", test.text, Options{})
		if err != nil {
			t.Fatal(err)
		}
		ruffle, _ := growthOf(report.Findings)
		if ruffle == nil {
			t.Fatalf("%s\nno finding that it ruffles: %v", test.text, report.Findings)
		}
		says := strings.Contains(ruffle.Message, "too many")
		if alone := strings.HasPrefix(ruffle.Message, "round "); !strings.HasPrefix(ruffle.Message, test.begins) || says != alone {
			t.Errorf("%s\n%s", test.text, ruffle.Message)
		}
	}
}
