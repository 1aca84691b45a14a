// Package size works out the geometry of a worked piece: how far each round
// reaches, how long it is and how long it would have to be to lie flat.
//
// Everything is measured in w, the width of one plain stitch; a Gauge, read
// from the draft's gauge line, says how long w is. Shape needs no gauge to
// tell whether a piece lies flat: that depends on the proportions of the
// stitches only.
//
// The model is a set of rules of thumb with physics behind them, fitted on
// motifs that are known to lie flat or not. It speaks of tendencies; it does
// not know the maker's hand, the yarn or the blocking.
package size
