// Package pattern writes a worked piece out as a pattern that can be
// published: what is needed, how large it comes out, and every round in the
// wording of the trade, with its count.
//
//	draft, err := ...                       // notation.Parse, model.Build
//	sheet, err := size.NewSheet(ctx, draft, graph)
//	p := pattern.New(draft, graph, sheet, notation.US)
//	err = p.WriteMarkdown(os.Stdout)
//
// The rounds are put into words from the graph, not from the draft's own text:
// what a step works into is where its stitches stand, and repeats are found
// again in what comes out. So a draft with its repeats written out reads like
// one without, and US and UK texts differ in nothing but their words. What the
// graph does not know, how rounds are started and joined, is read from the
// draft. Measures and yarn are those of package size; where the draft has no
// gauge there are none.
//
// The same draft gives the same bytes. The text grows with the number of
// different steps, not of stitches; writing it takes time in proportion to the
// stitches.
package pattern
