// Package pattern writes a worked piece out as a pattern that can be
// published: what is needed, how large it comes out, and every round in the
// wording of the trade, with its count.
//
//	draft, findings := notation.Parse(name, text)
//	graph, findings, err := size.Build(ctx, draft)
//	sheet, err := size.NewSheet(ctx, draft, graph)
//	p := pattern.New(draft, graph, sheet, notation.US)
//	err = p.WriteMarkdown(os.Stdout)
//
// size.Build measures the piece where rounds go on until it has a size, so that
// they are written as many times as it takes; for drafts without such rounds it
// does what model.Build does, which works them once.
//
// The rounds are put into words from the graph, not from the draft's own text:
// what a step works into is where its stitches stand, and repeats are found
// again in what comes out. So a draft with its repeats written out reads like
// one without, and US and UK texts differ in nothing but their words. What the
// graph does not know, how rounds are started and joined, is read from the
// draft. So is whether rounds grow by the same steps into each stitch, five of
// them or more, or up to a size: they are written "in each st to next corner", where
// others have figures. Measures and yarn are those of package size; where the draft has no
// gauge there are none.
//
// A round begins as the draft says, with a chain that counts or not, a standing
// or a chainless stitch; where it says nothing that is left to the maker, and
// said. A chain that should count is written as one that does not where the
// first stitch is an sc, or more than its height (size.ChainCounts), and a
// standing stitch as a chainless one where the yarn goes on, for it takes a new
// end of yarn. A chainless sc is one after ch 1. The slip stitches that lead to
// the first place are counted along the edge from the stitch that the round
// below was joined to; a round that was drafted to begin behind that stitch, or in
// a yarn that must be joined while another of the round hangs there, is written
// from there, since a round goes round. Beginnings says all that without
// words; a chart is drawn by it. Yarn is cut where the next round does not use it.
//
// Where stitches go into an earlier round between those of the round below, the
// next place there is the first beyond what the last stitch stands over, and what
// it stands over itself is "below".
//
// The same draft gives the same bytes. The text grows with the number of
// different steps, not of stitches; writing it takes time in proportion to the
// stitches.
package pattern
