package size

import (
	"sort"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Change is a place where a yarn that changes its colour goes over into its
// next stretch, or where a motif begins with one.
type Change struct {
	Yarn  string
	Motif int // from 1, in the order in which they are made
	Round int // number of the round
	// Stitch is the number of the stitch in the round, from 1, in which the
	// stretch begins.
	Stitch  int
	Stretch int // index in the Stretches of the yarn line
	// Left is how much of the stretch is left from there on: all of it, but
	// where a motif begins in the middle of one.
	Left Length
}

// mostChanges bounds the changes that are listed, and mostLaid the stitches of a
// motif in which they are looked for.
const (
	mostChanges = 10_000
	mostLaid    = 1_000_000
)

// changes lists where yarns that change their colour do so, in working order,
// motif by motif, each motif going on where the one before ended, its ends
// included. more tells that there are more than are listed.
//
// They are reckoned with the length that is expected, so they are as uncertain
// as that is, and the more so the further from the first stitch.
func (s *Sheet) changes(draft *notation.Draft, g *model.Graph, r *reckoning) (list []Change, more bool) {
	for i := range r.lines {
		if line := r.lines[i]; line != nil && r.used[i] && len(line.Stretches) > 0 && s.Gauge.Unit > 0 {
			if g.Len() > mostLaid {
				return list, true
			}
			l := newLaid(s, draft, g, i, r)
			for motif := 1; motif <= s.Motifs; motif++ {
				if list, more = l.motif(list, motif); more {
					return list, true
				}
			}
		}
	}
	return list, false
}

// A laid is the yarn of one motif laid out along its stretches.
type laid struct {
	name      string
	stretches []Length // where each begins, and where the last ends
	strands   []Strand // of this yarn
	ends      []Length // where each strand ends, from the beginning of the motif
	length    Length   // of one motif
	g         *model.Graph
}

func newLaid(s *Sheet, draft *notation.Draft, g *model.Graph, yarn int, r *reckoning) *laid {
	l := &laid{name: g.Yarns()[yarn-1], stretches: []Length{0}, g: g}
	for _, st := range r.lines[yarn].Stretches {
		l.stretches = append(l.stretches, l.stretches[len(l.stretches)-1]+Length(length(st.Length)))
	}
	worked := 0.0
	for strand := range strands(g, draft, s.Gauge.Dimensions) {
		if strand.Yarn == yarn {
			worked += strand.Length
		}
	}
	if worked == 0 {
		return l
	}
	perW := Length(r.mm[yarn] / worked) // w, and the swatch
	at := tail
	for strand := range strands(g, draft, s.Gauge.Dimensions) {
		if strand.Yarn == yarn {
			at += Length(strand.Length) * perW
			l.strands = append(l.strands, strand)
			l.ends = append(l.ends, at)
		}
	}
	l.length = at + Length(ends(g)[yarn]-1)*tail
	return l
}

// motif adds the changes within one motif.
func (l *laid) motif(list []Change, motif int) ([]Change, bool) {
	ball := l.stretches[len(l.stretches)-1]
	if ball <= 0 || len(l.strands) == 0 {
		return list, false
	}
	from := Length(motif-1) * l.length
	from -= Length(int(from/ball)) * ball // in the ball
	stretch := sort.Search(len(l.stretches)-2, func(k int) bool { return l.stretches[k+1] > from })
	put := func(strand int, left Length) bool {
		st := l.strands[strand]
		list = append(list, Change{l.name, motif, l.g.Round(st.Round).Number, max(1, st.Stitch), stretch, left})
		return len(list) < mostChanges
	}
	next := l.stretches[stretch+1] - from // from the beginning of the motif
	if !put(0, next) {
		return list, true
	}
	for next < l.ends[len(l.ends)-1] {
		stretch = (stretch + 1) % (len(l.stretches) - 1)
		long := l.stretches[stretch+1] - l.stretches[stretch]
		if at := sort.Search(len(l.ends), func(k int) bool { return l.ends[k] > next }); long > 0 && !put(at, long) {
			return list, true
		}
		next += long
	}
	return list, false
}
