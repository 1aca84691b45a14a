package main

import (
	"context"
	"flag"

	"example.com/roundel/check"
	"example.com/roundel/size"
)

// size writes how large a draft comes out and what it takes.
func (c *command) size(argv []string) int {
	format, units, target := "text", "cm", ""
	margin, motifs := 100*size.DefaultMargin, 0
	files, status, done := c.flags("size", "[-units cm|in] [-format text|json] [-target 45cm] [-motifs N] [-margin N] FILE", func(f *flag.FlagSet) {
		f.StringVar(&format, "format", format, "text or json")
		f.StringVar(&units, "units", units, "cm (with m and g) or in (with yd and oz)")
		f.StringVar(&target, "target", target, `a size the motif should have: 45cm (across), or "side 45cm"`)
		f.Float64Var(&margin, "margin", margin, "per cent of yarn to spare, 0 to 100")
		f.IntVar(&motifs, "motifs", motifs, "how many motifs are made; 0 for one, or as many as the panel has")
	}, argv)
	if done {
		return status
	}
	measures, ok := map[string]check.Units{"cm": check.Metric, "in": check.Inches}[units]
	switch {
	case format != "text" && format != "json":
		return c.wrong("-format is text or json, not %q", format)
	case !ok:
		return c.wrong("-units is cm or in, not %q", units)
	}
	options := []size.Option{size.WithMargin(margin / 100)}
	if motifs != 0 {
		options = append(options, size.WithMotifs(motifs))
	}
	if target != "" {
		t, err := size.ParseTarget(target)
		if err != nil {
			return c.wrong("-target: %v", err)
		}
		options = append(options, size.WithTarget(t))
	}
	if err := size.CheckOptions(options...); err != nil {
		return c.wrong("%v", err)
	}
	status = c.show("size", files, func(r *check.Report) error {
		sheet, err := size.NewSheet(context.Background(), r.Draft, r.Graph, options...)
		if err != nil {
			return err
		}
		if format == "json" {
			return check.WriteSheetJSON(c.out, sheet, measures)
		}
		return check.WriteSheet(c.out, r, sheet, measures)
	})
	if status == exitFindings {
		return c.faulty(files[0], "the sizes are those of what could be worked")
	}
	return status
}
