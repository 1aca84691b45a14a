// Package notation reads and writes drafts: the text in which a designer
// writes down a motif worked in rounds.
//
//	motif "Group square"
//	shape square
//	ring
//	rnd 1: [3 dc in ring, corner ch 2] 4 times = 12 dc
//	rnd 2: [(3 dc, corner ch 2, 3 dc) in corner] 4 times = 24 dc
//
// The language is described for designers in GRAMMAR.md beside this file; the
// productions that the parser follows are in testdata/grammar.ebnf.
//
// Parse gives a Draft, a tree of statements, rounds and steps, and a list of
// findings. A draft is read round by round, so that every error in it is
// reported at once and the rest can still be used. Stitch names are read in
// the terms of the draft, US or UK, here and nowhere else: everything that
// works on the tree sees American names.
//
// The package knows words, not stitches: whether a round can be worked on the
// one below it is the business of package model.
package notation
