// Package size works out how large a worked piece comes out, how it lies, and
// what it takes to make it.
//
// Shape is the geometry: how far each round reaches, how long it is and how
// long it would have to be to lie flat. It is measured in w, the width of one
// plain stitch, and needs no gauge: whether a piece lies flat depends on the
// proportions of the stitches only. A Gauge, read from the draft's gauge line,
// says how long w is: Gauge.Length turns what is measured in w into a Length.
//
// Build works a draft as model.Build does, and measures it meanwhile, so that
// rounds can go on until the piece has a size.
//
// NewSheet puts together what a pattern says about a piece: measurements after
// each round, yarn, ends, what motifs are made up into, how it would come to
// another size. Lengths are in mm and weights in g; Text writes them in other
// units. Whatever is estimated is an Estimate, with the band in which it can
// honestly be expected.
//
// The model is a set of rules of thumb with physics behind them, fitted on
// motifs that are known to lie flat or not. It speaks of tendencies; it does
// not know the maker's hand, the yarn or the blocking.
package size
