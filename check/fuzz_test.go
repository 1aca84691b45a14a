package check

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// FuzzSource checks any text, and writes the report in every form: nothing
// fails inside, every place lies in the text, and of two checks both find the
// same.
func FuzzSource(f *testing.F) {
	for _, pattern := range []string{"../examples/*.rnd", "../examples/broken/*.rnd", "../testdata/*/*.rnd"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal(pattern, err)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(text))
		}
	}
	for _, bomb := range bombs() {
		if len(bomb.text) < 4<<10 {
			f.Add(bomb.text)
		}
	}
	small := Options{Work: model.Limits{Stitches: 1000, Rounds: 50}}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4<<10 {
			return
		}
		r := source(t, text, small)
		notationtest.CheckGraph(t, r.Graph)
		for _, f := range append(r.Findings, r.Allowed...) {
			if !known(Rules(), f.Rule) {
				t.Errorf("%q\nno rule is called %s: %s", text, f.Rule, f.Message)
			}
		}
		if again := source(t, text, small); len(again.Findings) != len(r.Findings) || len(again.Allowed) != len(r.Allowed) {
			t.Errorf("%q\nfindings %v, the second time %v", text, places(r.Findings), places(again.Findings))
		}
		for _, err := range []error{
			WriteText(io.Discard, r, true), WriteJSON(io.Discard, r), WriteSARIF(io.Discard, nil, r),
			WriteRounds(io.Discard, r, notation.UK), WriteRoundsJSON(io.Discard, r), r.Graph.WriteJSON(io.Discard),
		} {
			if err != nil {
				t.Errorf("%q\n%v", text, err)
			}
		}
	})
}
