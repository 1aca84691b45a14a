package size

import (
	"math"
	"slices"
)

// A hand is what the form of a lobe depends on.
type hand struct {
	stitches      int32
	width, height float64
	bend          float64 // base arc
}

// A fan is the form of a lobe, the same wherever it stands.
type fan struct {
	hand
	chord, rise float64   // rise: shoulder above base
	opens       float64   // angle over a loop of chains or of a shell, 0 elsewhere
	tops        []float32 // of each stitch above the base
	highest     float64   // of tops
	count       int       // lobes of the round at hand
}

// shell is how many stitches in one stitch make a shell; fewer are an increase.
const shell = 4

// newFan works out the form of a lobe; see Shape.
func newFan(h hand) fan {
	f := fan{hand: h, chord: h.width, rise: h.height, highest: h.height}
	if h.stitches == 1 || h.width-h.bend <= 1e-9 || h.height <= 0 {
		f.tops = slices.Repeat([]float32{float32(h.height)}, int(h.stitches))
		return f
	}
	angle := math.Min((h.width-h.bend)/h.height, math.Pi)
	q := h.bend / angle
	f.chord = 2 * (q + h.height) * math.Sin(angle/2)
	if h.bend > 0 || h.stitches >= shell {
		f.opens = angle
	}
	if h.bend <= 0 {
		f.chord += math.Max(0, h.width-math.Pi*h.height)
	}
	f.rise = (q+h.height)*math.Cos(angle/2) - q
	f.tops = make([]float32, h.stitches)
	for i := range f.tops {
		t := (float64(i)+0.5)/float64(h.stitches) - 0.5
		f.tops[i] = float32((q+h.height)*math.Cos(angle*t) - q)
	}
	f.highest = float64(slices.Max(f.tops))
	return f
}

// lookUp returns the number of the fan of a hand.
func (s *Shaper) lookUp(h hand) int32 {
	if s.fans[s.recent].hand == h {
		return s.recent
	}
	i, ok := s.fanOf[h]
	if !ok {
		i = int32(len(s.fans))
		s.fanOf[h] = i
		s.fans = append(s.fans, newFan(h))
	}
	s.recent = i
	return i
}
