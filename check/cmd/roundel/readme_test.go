package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestReadme runs the calls that the README shows, on the drafts that it
// shows, and compares what comes out with what it says.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?ms)^```(\\w*)\n(.*?)^```$").FindAllStringSubmatch(string(text), -1)
	var drafts []string
	calls := 0
	dir := t.TempDir()
	t.Chdir(dir)
	for _, b := range blocks {
		if b[1] == "rnd" {
			drafts = append(drafts, b[2])
			continue
		}
		shown, want, ok := strings.Cut(b[2], "\n")
		args, ok2 := strings.CutPrefix(shown, "$ go run ./check/cmd/roundel ")
		if !ok || !ok2 {
			continue
		}
		calls++
		draft := drafts[len(drafts)-1]
		if strings.Contains(want, "claimed to have 13 dc") {
			draft = strings.Replace(draft, "= 12 dc", "= 13 dc", 1) // as the text asks
		}
		words := strings.Fields(args)
		if err := os.WriteFile(filepath.Join(dir, words[len(words)-1]), []byte(draft), 0o666); err != nil {
			t.Fatal(err)
		}
		got := call(t, "", words...)
		if diff := cmp.Diff(want, got.out); diff != "" {
			t.Errorf("%s (-README +output):\n%s%s", shown, diff, got.err)
		}
	}
	if calls < 3 || len(drafts) < 3 {
		t.Errorf("only %d calls and %d drafts found", calls, len(drafts))
	}
}
