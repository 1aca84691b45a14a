package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/roundel/check"
	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size/chart"
)

// pictures are those that chart draws.
var pictures = map[string]func(io.Writer, *notation.Draft, *model.Graph, chart.Options) error{
	"stitches": chart.Stitches, "plan": chart.Plan, "growth": chart.Growth,
}

// allTerms are the values of -terms.
var allTerms = map[string][]notation.Terms{
	"": nil, "us": {notation.US}, "uk": {notation.UK}, "both": {notation.US, notation.UK},
}

// chart draws a picture of a draft.
func (c *command) chart(argv []string) int {
	var o chart.Options
	picture, file, terms := "stitches", "", ""
	files, status, done := c.flags("chart", "[-picture stitches|plan|growth] [-colour] [-terms us|uk|both] [-symbols N] [-o FILE.svg] FILE", func(f *flag.FlagSet) {
		f.StringVar(&picture, "picture", picture, "stitches: the chart; plan: the colours of the rounds; growth: how long they are, and ought to be")
		f.StringVar(&file, "o", "", "file to write the picture to, instead of standard output")
		f.BoolVar(&o.Colour, "colour", false, "draw stitches in the colours of their yarns")
		f.StringVar(&terms, "terms", "", "terms that stitches are named in: us, uk or both; if left out, those of the draft")
		f.IntVar(&o.Symbols, "symbols", chart.DefaultSymbols, "how many symbols a picture may have")
	}, argv)
	if done {
		return status
	}
	draw, ok := pictures[picture]
	if !ok {
		return c.wrong("-picture is stitches, plan or growth, not %q", picture)
	}
	if o.Terms, ok = allTerms[terms]; !ok {
		return c.wrong("-terms is us, uk or both, not %q", terms)
	}
	var trouble error
	status = c.show("chart", files, func(r *check.Report) error {
		var b bytes.Buffer
		if trouble = draw(&b, r.Draft, r.Graph, o); trouble != nil {
			return nil
		}
		if file != "" {
			trouble = os.WriteFile(file, b.Bytes(), 0o666)
			return nil
		}
		_, err := b.WriteTo(c.out)
		return err
	})
	if trouble == nil && status == exitFindings {
		return c.faulty(files[0], "the picture shows what could be worked")
	}
	if trouble == nil {
		return status
	}
	if limit := new(chart.LimitError); errors.As(trouble, &limit) {
		trouble = fmt.Errorf("%s: %w; -symbols sets how many", shown(files[0]), trouble)
	}
	fmt.Fprintf(c.err, "roundel: %v\n", trouble)
	return max(status, exitUsage)
}
