// Package notationtest helps those who test a notation, their own or that of
// package notation.
//
// A notation is a way to write pieces down. Whatever it looks like, it reads a
// text into a notation.Draft and lets package model work that: the tree is the
// way to a model.Graph, and check.Draft puts all rules to it. Trees made by hand
// need no positions.
//
//	func TestNotation(t *testing.T) {
//		notationtest.Test(t, tideline.Notation{}, "texts to begin with")
//	}
//
// Test puts the laws to a notation: what it prints it reads again as the same
// piece, with the same counts; whatever the text, it does not panic, and says
// where in the text it finds fault; it gives the same answer twice, and to
// several goroutines at once. Laws and CheckText are the two properties that
// Test is made of, for fuzzing:
//
//	func FuzzPieces(f *testing.F) {
//		f.Fuzz(rapid.MakeFuzz(notationtest.Laws(tideline.Notation{})))
//	}
//
//	func FuzzText(f *testing.F) {
//		f.Fuzz(func(t *testing.T, text string) {
//			notationtest.CheckText(t, tideline.Notation{}, text)
//		})
//	}
//
// Pieces, Drafts and Graphs are generators for properties of one's own, and
// CheckGraph sees whether a graph is sound.
package notationtest
