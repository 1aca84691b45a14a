package main

import (
	"context"
	"flag"
	"fmt"
	"slices"

	"example.com/roundel/check"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/pattern"
)

// write writes a draft as a pattern. One with errors is not written: a pattern
// goes out of the house, and nobody sees from its text that it does not work.
func (c *command) write(argv []string) int {
	terms, format := "", "md"
	files, status, done := c.flags("write", "[-terms us|uk|both] [-format md|txt] FILE", func(f *flag.FlagSet) {
		f.StringVar(&terms, "terms", terms, "us, uk or both; those of the draft when not given")
		f.StringVar(&format, "format", format, "md for Markdown, txt for plain text")
	}, argv)
	if done {
		return status
	}
	if !slices.Contains([]string{"", "us", "uk", "both"}, terms) {
		return c.wrong("-terms is us, uk or both, not %q", terms)
	}
	if format != "md" && format != "txt" {
		return c.wrong("-format is md or txt, not %q", format)
	}
	status = c.show("write", files, func(r *check.Report) error {
		if r.Worst() >= notation.Error {
			return nil
		}
		return c.writePattern(r, terms, format)
	})
	if status == exitFindings {
		return c.faulty(files[0], "no pattern was written")
	}
	return status
}

func (c *command) writePattern(r *check.Report, terms, format string) error {
	sheet, err := size.NewSheet(context.Background(), r.Draft, r.Graph)
	if err != nil {
		return err
	}
	wanted := map[string][]notation.Terms{
		"": {r.Draft.Terms}, "us": {notation.US}, "uk": {notation.UK},
		"both": {r.Draft.Terms, r.Draft.Terms.Other()},
	}[terms]
	for i, t := range wanted {
		if i > 0 {
			fmt.Fprintln(c.out)
		}
		p := pattern.New(r.Draft, r.Graph, sheet, t)
		write := p.WriteMarkdown
		if format == "txt" {
			write = p.WriteText
		}
		if err := write(c.out); err != nil {
			return err
		}
	}
	return nil
}
