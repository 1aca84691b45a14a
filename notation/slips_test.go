package notation

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares a text with a file in testdata, or rewrites the file.
func golden(t *testing.T, name, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
}

func list(findings []Finding) string {
	out := new(strings.Builder)
	for _, f := range findings {
		fmt.Fprintf(out, "%s %s: %s\n", f.Span, f.Rule, f.Message)
		for _, r := range f.Related {
			fmt.Fprintf(out, "    %s %s\n", r.Span, r.Message)
		}
		for _, fix := range f.Fixes {
			kind := "perhaps"
			if fix.Certain {
				kind = "certain"
			}
			fmt.Fprintf(out, "    %s: %s\n", kind, fix.Message)
		}
	}
	return out.String()
}

// TestSlips keeps every message in a file that can be read through: each must
// be true, in the trade's words, and point at the right place.
func TestSlips(t *testing.T) {
	const file = "testdata/slips.txt"
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	out := new(strings.Builder)
	slips := 0
	for i, block := range strings.Split(strings.TrimSpace(string(text)), "\n\n") {
		if i > 0 {
			out.WriteString("\n")
		}
		draft := new(strings.Builder)
		for line := range strings.Lines(block + "\n") {
			if strings.HasPrefix(line, "#") || strings.HasPrefix(line, ">") {
				out.WriteString(line)
			}
			if input, ok := strings.CutPrefix(line, "> "); ok {
				draft.WriteString(input)
			}
		}
		if draft.Len() == 0 {
			continue
		}
		slips++
		d, findings := Parse("", draft.String())
		if len(findings) == 0 {
			t.Errorf("nothing is said about %q", draft)
		}
		checkDraft(t, draft.String(), d, findings)
		out.WriteString(list(findings))
	}
	if slips < 60 {
		t.Errorf("only %d slips", slips)
	}
	golden(t, file, out.String())
}

// The words for an increase and a decrease are no stitches, but the rounds above
// are worked on what they mean.
func TestShapingGoesOn(t *testing.T) {
	d, findings := Parse("", "ring\nrnd 1: 6 sc in ring\nrnd 2: [inc, 6 inc, dec] around\n")
	if len(findings) != 3 {
		t.Fatalf("%s", list(findings))
	}
	var got []string
	Walk(d, func(n Node) bool {
		w, ok := n.(*Work)
		switch {
		case !ok || !w.Stitch.Unknown:
		case w.Stitch.Group != nil:
			two := w.Stitch.Group.Group.Members[0].(*Work)
			got = append(got, fmt.Sprint(two.Count, " ", two.Stitch.US))
		default:
			got = append(got, w.Stitch.US)
		}
		return true
	})
	if diff := cmp.Diff([]string{"2 sc", "2 sc", "sc2tog"}, got); diff != "" {
		t.Error(diff)
	}
}
