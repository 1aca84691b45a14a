// Package size is to hold the geometry of a worked piece: measurements, how
// flat it lies, and yarn. It is empty so far.
package size
