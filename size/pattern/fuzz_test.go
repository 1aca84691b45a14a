package pattern_test

import (
	"context"
	"io"
	"os"
	"testing"
	"unicode/utf8"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/pattern"
)

// FuzzNew: whatever the text, there is a pattern, and no panic.
func FuzzNew(f *testing.F) {
	for _, file := range drafts(f) {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	for _, text := range []string{
		"", "rnd 1: 12 dc in ring = 13 dc", "ring\nrnd 1: ]\nrnd 2: sc in each st", "ring ch 6\nrnd 1: [sc in next ch, ch 3, sk 1 ch] around\nrnd 2: dc in each st of rnd 9",
		"worked spiral\nring ch 1\nrnd next: as rnd 1\nrnd next: as rnd 1 = 1 st",
		"worked spiral\nring\nrnd 1: 6 sc in ring, turn\nrnd 2: [sk 1 st, sc in next st] around, join invisible\nrnd 3: ch 3 as dc, sc in each st",
		"ring\nrnd 1: ch 4\nrnd 2: ch 3\nrnd 3: sc in next sp\nrnd 4: picot 3",
		"ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\npanel tube 1 by 3\nedge of panel\nrnd 1: ch 3\nrnd 2: sc in each sp\nrnd 3: ]",
		"ring\nrnd 1: 8 sc in ring = 8 sc\nrnd 2: sc in next 3 st\nrnd 3: dd in each st = 8 dc\nrnd 4: [dc in next 5 st] around",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, _ := notation.Parse("", text)
		g, _, err := model.Build(context.Background(), d, model.WithLimits(model.Limits{Stitches: 20_000, Rounds: 200}))
		if err != nil {
			t.Fatal(err)
		}
		sheet, err := size.NewSheet(context.Background(), d, g)
		if err != nil {
			t.Fatal(err)
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			p := pattern.New(d, g, sheet, terms)
			for _, s := range p.Sections {
				for _, e := range s.Entries {
					if !utf8.ValidString(e.Text) && utf8.ValidString(text) {
						t.Errorf("not UTF-8: %q", e.Text)
					}
				}
			}
			if err := p.WriteMarkdown(io.Discard); err != nil {
				t.Error(err)
			}
			if err := p.WriteText(io.Discard); err != nil {
				t.Error(err)
			}
		}
	})
}
