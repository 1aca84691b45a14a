package model

// A mark is what a repeat that does not fit is taken back to.
type mark struct {
	nodes, legs  int32
	made         int64
	cur          cursor
	consumed     int // places worked into or skipped, on any round
	consumedHere int // of those, on the round below
	prev         int32
	prevN        int32
	yarn         uint16
	last         leg // the place last worked into
	hasLast      bool
	passed       passed
	skip         pendingSkip
	lead         struct{ from, to int } // places skipped before the first one worked into
	asSpace      *op                    // the first step that took a corner as a space, after one was taken by name
}

// mark notes where the round stands before a repeat is worked once more.
func (b *builder) mark() mark {
	m := b.rs.mark
	m.nodes, m.legs, m.made = b.g.nodes.len, int32(len(b.g.legs)), b.made
	if m.prev >= 0 {
		m.prevN = b.g.nodes.at(m.prev).n
	}
	return m
}

// back undoes everything since a mark.
func (b *builder) back(m mark) {
	if m.prev >= 0 {
		prev := b.g.nodes.at(m.prev)
		prev.n = m.prevN
		prev.flags &^= flagGap
	}
	b.g.nodes.len, b.made = m.nodes, m.made
	b.g.legs = b.g.legs[:m.legs]
	b.rs.mark = m
}

// repeat works its body several times, or until the round closes.
func (b *builder) repeat(o *op) bool {
	outer := b.rs.pass
	b.rs.nested++
	ok := b.repeats(o)
	b.rs.nested--
	b.rs.pass = outer
	return ok
}

func (b *builder) repeats(o *op) bool {
	rs := &b.rs
	var local repeatTries
	tries := &local
	if rs.nested == 1 {
		tries = &rs.tries // for what is said about it at the end of the round
	}
	*tries = repeatTries{op: o, before: rs.used}
	var groups []groupCount
	if len(o.body) == 0 {
		return true
	}
	for o.around || tries.whole < int(o.count) {
		m, usedBefore := b.mark(), rs.used
		groups = append(groups[:0], rs.groups...)
		rs.pass = rs.consumed
		done := b.steps(o.body)
		if tries.whole == 1 && rs.nested > 1 && !o.around && rs.consumed == m.consumed && !rs.abort {
			b.takenAtOnce(tries)
		}
		if done {
			tries.whole++
			if tries.whole == 1 {
				tries.first = rs.used
			}
			if o.around && rs.consumed == m.consumed {
				b.noProgress(o)
				return true
			}
			if tries.whole > 1 && o.copyable {
				most := int(o.count) - tries.whole
				if o.around {
					most = noLimit
				}
				tries.whole += b.copies(m, usedBefore, groups, most)
			}
			continue
		}
		if rs.abort {
			return false
		}
		if !o.around && rs.nested > 1 {
			return false // the outermost repeat is what does not fit
		}
		out := rs.out
		rs.out = nil
		// What an earlier round gave to the repeat that did not come about
		// does not count.
		fits := rs.consumedHere == m.consumedHere && (rs.cur.begun || rs.consumed == m.consumed)
		if tries.whole == 0 {
			tries.first = rs.used
		}
		b.back(m)
		rs.groups = append(rs.groups[:0], groups...)
		if o.around && fits && tries.whole > 0 {
			return true // the round has come to where it began
		}
		b.remainder(tries, out)
		return true
	}
	return true
}

// repeatTries is what is known of a repeat when it stops.
type repeatTries struct {
	op            *op
	whole         int  // times that fit
	before, first uses // places used before the repeat, and after it was worked once
}

const noLimit = 1<<31 - 1
