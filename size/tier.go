package size

import "example.com/roundel/model"

// A tier is where the stitches of one round have come to stand: those of the
// part of the round that was worked out, which the rest repeats.
type tier struct {
	first, end, part int32 // numbers of its stitches, and how many are worked out
	top              []float32
	// beyond holds two things. For a stitch it is the mean shoulder of its lobe
	// and the next one, where a lobe in the gap after it stands; for a chain
	// space, how far it can be lifted.
	beyond []float32
	// fold is what may be saved on a stitch worked into this one, as a share of
	// its length; see Shape. It is nil where there is nothing to save.
	fold []float32
}

func newTier(r *model.Round, part int) tier {
	both := make([]float32, 2*part)
	return tier{
		first: int32(r.First), end: int32(r.First + r.Len), part: int32(part),
		top: both[:part:part], beyond: both[part:],
	}
}

// at returns the index of a stitch of the round in top, beyond and fold.
func (t *tier) at(id int32) int32 {
	k := id - t.first
	if k >= t.part {
		k %= t.part
	}
	return k
}

func (t *tier) setFold(l *lobe, fold float32) {
	if t.fold == nil {
		t.fold = make([]float32, t.part)
	}
	for k := l.first - t.first; k <= l.last-t.first; k++ {
		t.fold[k] = fold
	}
}

func (t *tier) foldAt(id int32) float64 {
	if t.fold == nil {
		return 0
	}
	return float64(t.fold[t.at(id)])
}
