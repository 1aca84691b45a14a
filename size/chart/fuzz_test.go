package chart_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size/chart"
)

// FuzzPictures draws whatever a text may be read as: every picture is well-formed,
// or the piece is too large for it.
func FuzzPictures(f *testing.F) {
	for _, d := range corpus(f) {
		f.Add(notation.Format(d.Draft), false)
	}
	f.Fuzz(func(t *testing.T, text string, colour bool) {
		d, _ := notation.Parse("", text)
		g, _, err := model.Build(context.Background(), d, model.WithLimits(model.Limits{Stitches: 3000, Rounds: 300}))
		if err != nil {
			t.Fatal(err)
		}
		for name, draws := range pictures {
			var b bytes.Buffer
			err := draws(&b, d, g, chart.Options{Colour: colour, Symbols: 3000})
			if limit := new(chart.LimitError); errors.As(err, &limit) {
				continue
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			in := xml.NewDecoder(&b)
			for {
				if _, err := in.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
			}
		}
	})
}
