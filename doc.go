// Package roundel is the root of a library for people who design crochet
// motifs worked in rounds. It holds no code; the work is done, one step after
// another, by the packages below it:
//
//	draft (text)
//	   |  notation   reads it into a tree, resolves US and UK terms, writes it out
//	   v
//	 tree
//	   |  model      works the rounds: every stitch and the place it goes into
//	   v
//	 graph
//	   |  size       works out how far each round reaches, and how it lies
//	   v
//	 shape
//	   |  check      puts the rules to tree, graph and shape
//	   v
//	report           findings, table of rounds
//
// Open package notation to read, write or change drafts; model to walk over
// the stitches of a piece; size to measure it, size/pattern and size/chart to
// write it out and to draw it; check to find out what is wrong with a draft, in
// one call (check.Source) or by rules of your own; notation/notationtest to put
// another notation on top of model and see that it holds. The command is in
// check/cmd/roundel.
package roundel
