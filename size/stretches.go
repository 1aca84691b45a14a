package size

import (
	"math"
	"sort"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Change is a place where a yarn that changes its colour goes over into its
// next stretch, or where a motif or a border begins with one.
type Change struct {
	Yarn string
	// Motif is the number of the motif, from 1, in the order in which they are
	// made; 0 in a border, which Edge names.
	Motif int
	Edge  notation.EdgeName
	Round int // number of the round
	// Stitch is the number of the stitch in the round, from 1, in which the
	// stretch begins.
	Stitch  int
	Stretch int // index in the Stretches of the yarn line
	// Left is how much of the stretch is left from there on: all of it, but
	// where a motif or border begins in the middle of one.
	Left Length
}

// mostChanges bounds the changes that are listed, and mostLaid the stitches of a
// motif in which they are looked for.
const (
	mostChanges = 10_000
	mostLaid    = 1_000_000
)

// changes lists where yarns that change their colour do so, in working order:
// motif by motif, then the seams, of which nothing is said, and the borders.
// Each goes on where the one before ended, its ends included. more tells that
// there are more than are listed.
//
// They are reckoned with the length that is expected, so they are as uncertain
// as that is, and the more so the further from the first stitch.
func (s *Sheet) changes(draft *notation.Draft, g *model.Graph, r *reckoning) (list []Change, more bool) {
	for yarn, line := range r.lines {
		if line == nil || !r.used[yarn] || len(line.Stretches) == 0 || s.Gauge.Unit == 0 {
			continue
		}
		b := newBall(line)
		put := func(l *laid, c Change) bool {
			c.Yarn = g.Yarns()[yarn-1]
			list, more = b.work(list, l, c)
			return more
		}
		if g.Len() > mostLaid {
			return list, true
		}
		motif := layOut(g, draft, s.Gauge.Dimensions, yarn, r)
		for n := 1; n <= s.Motifs; n++ {
			if put(motif, Change{Motif: n}) {
				return list, true
			}
		}
		b.used += Length(r.seams[yarn])
		for _, border := range g.Borders() {
			if put(layOut(border.Graph, draft, s.Gauge.Dimensions, yarn, r), Change{Edge: border.Name}) {
				return list, true
			}
		}
	}
	return list, false
}

// A laid is the yarn of one motif or border laid out in a line.
type laid struct {
	strands []strand // of this yarn
	ends    []Length // where each strand ends, from the beginning
	length  Length   // of all, with the last end
	g       *model.Graph
}

func layOut(g *model.Graph, draft *notation.Draft, d Dimensions, yarn int, r *reckoning) *laid {
	l := &laid{g: g}
	at := tail
	for st := range strands(g, draft, d) {
		if st.yarn == yarn {
			at += Length(st.length * r.perW)
			l.strands = append(l.strands, st)
			l.ends = append(l.ends, at)
		}
	}
	if len(l.strands) > 0 {
		l.length = at + Length(ends(g)[yarn]-1)*tail
	}
	return l
}

// A ball is a yarn that changes its colour, and how much of it is used.
type ball struct {
	stretches []Length // where each begins, and where the last ends
	used      Length
}

func newBall(line *notation.Yarn) *ball {
	b := &ball{stretches: []Length{0}}
	for _, st := range line.Stretches {
		b.stretches = append(b.stretches, b.stretches[len(b.stretches)-1]+length(st.Length))
	}
	return b
}

// work works a motif or border off the ball, and adds the changes in it.
func (b *ball) work(list []Change, l *laid, at Change) (changes []Change, more bool) {
	whole := b.stretches[len(b.stretches)-1]
	if whole <= 0 || len(l.strands) == 0 {
		return list, false
	}
	from := b.used - Length(math.Floor(float64(b.used/whole)))*whole
	b.used += l.length
	at.Stretch = sort.Search(len(b.stretches)-2, func(k int) bool { return b.stretches[k+1] > from })
	put := func(strand int, left Length) bool {
		st := l.strands[strand]
		at.Round, at.Stitch, at.Left = l.g.Round(st.round).Number, max(1, st.stitch), left
		list = append(list, at)
		return len(list) < mostChanges
	}
	next := b.stretches[at.Stretch+1] - from // from the beginning of the piece
	if !put(0, next) {
		return list, true
	}
	for next < l.ends[len(l.ends)-1] {
		at.Stretch = (at.Stretch + 1) % (len(b.stretches) - 1)
		long := b.stretches[at.Stretch+1] - b.stretches[at.Stretch]
		if strand := sort.Search(len(l.ends), func(k int) bool { return l.ends[k] > next }); long > 0 && !put(strand, long) {
			return list, true
		}
		next += long
	}
	return list, false
}
