// Package model works a draft: it expands the rounds of a notation.Draft into
// a graph of stitches, each with the place it is worked into, and reports what
// cannot be worked as written.
//
// A round is worked into the edge of the one below. The edge is a ring of
// places in working order: the tops of stitches, chain spaces, the gaps
// between stitches, and among them the corners. Build goes once round that
// edge for every round; whatever does not close, is passed over or is not
// there becomes a finding, and the round is worked as far as it goes, so that
// the rounds above can be looked at too.
//
// Equal motifs can be made up. A Panel says which side is joined to which, and
// which edges are left; the rounds of a border are a graph of their own, worked
// into copies of the stitches of such an edge.
//
// Text, chart, counts and sizes are all read off the Graph.
//
// A round has an index in its graph, from 0, and the number that the draft gives
// it, from 1, and in a border from 1 again. What is called Index, and the Round of
// a Stitch, are indexes, in package size too; Number, From and To are numbers, and
// so is the Round of what is said to people: notation.Finding, size.Change.
//
// There are three ways to look at the stitches of a round. Stitches gives them
// by name, with the name of their yarn: for what is written or shown. Nodes
// gives numbers, and the place below: for code that compares many. Entries
// reads them where they lie, and costs a quarter of that: for code that looks
// at every one of a million. Into lists the places of a stitch that stands in
// several, which none of the three does.
package model
