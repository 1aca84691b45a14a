package pattern

import (
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A unit is what is worked into one place without leaving it: the stitches
// from number "from" up to "to" of the written round, and the chains and
// picots between them. A stitch with legs in several places is a unit.
type unit struct {
	from, to int
	places   []model.Place
	post     bool
	alone    bool // of the chains of its run it is worked into one only
	yarn     int
}

// unit returns the unit that begins with the k-th stitch of the round; an empty
// one when that is no stitch.
func (r *reader) unit(k int) unit {
	n := r.node(k)
	u := unit{from: k, to: k, yarn: n.Yarn}
	if !n.IsStitch() {
		return u
	}
	u.to, u.post = k+1, r.kinds[n.Kind].Post != ""
	u.places = slices.Collect(r.g.Into(n.ID))
	if n.Legs > 1 || n.Place == notation.NoPlace {
		return u
	}
	gap := n.Gap
	for j := k + 1; j < r.round.Len; j++ {
		m := r.node(j)
		if m.Yarn != n.Yarn {
			break
		}
		if !m.IsStitch() {
			if n.Place == notation.RingHole && r.kinds[m.Kind].Name == "ch" && !r.groups {
				break
			}
			continue
		}
		same := m.Place == n.Place && m.Below == n.Below && m.Chain == n.Chain && m.Loop == n.Loop &&
			(r.kinds[m.Kind].Post != "") == u.post && !m.Start
		if n.Place == notation.RingHole && gap || !same {
			break
		}
		u.to, gap = j+1, m.Gap
	}
	if n.Place == notation.Ch && !r.under(u.places[0]).ring {
		u.alone = r.aloneOnRun(u)
	}
	return u
}

// aloneOnRun reports whether no stitch beside the unit is worked into another
// chain of the same run, which has several.
func (r *reader) aloneOnRun(u unit) bool {
	run := u.places[0].Stitch
	if r.g.Node(run).Chains < 2 {
		return false
	}
	beside := func(k, by int) bool {
		for ; ; k += by {
			k = (k + r.round.Len) % r.round.Len
			n := r.node(k)
			switch {
			case k >= u.from && k < u.to: // it has come round
				return false
			case !n.IsStitch():
			case n.Place != notation.Ch || n.Below != run || n.Legs > 1:
				return false
			case n.Chain != u.places[0].Chain:
				return true
			}
		}
	}
	return !beside(u.from-1, -1) && !beside(u.to, 1)
}

// members words the stitches of a unit from number "from" on; many is set when
// they are several, so that they stand in each of several places.
func (r *reader) members(from, to int) (text string, many bool) {
	if to-from == 1 { // as most are
		return r.named(r.node(from)), false
	}
	list, many, together := r.inside(from, to)
	if together {
		return "(" + strings.Join(list, ", ") + ")", many
	}
	return list[0], many
}

// named is one stitch with what it makes.
func (r *reader) named(n model.Node) string {
	name := r.stitch(r.kinds[n.Kind].Name)
	if n.Corner {
		name = "corner " + name
	}
	return name
}

// inside words what stands in one place; together is set where it takes
// brackets to say that it does.
func (r *reader) inside(from, to int) (list []string, many, together bool) {
	var w wordings
	var steps []step
	r.entries(from, to, func(text string, n int) {
		many = many || n > 1 || len(steps) > 0
		steps = append(steps, w.step(text, n == 0))
	})
	return w.list(steps, 1), many, len(steps) > 1 || many && r.gaps && r.node(from).Place == notation.RingHole
}

// entries words stitches, chains and picots one after another: n of a stitch
// at a time, 0 for what is no stitch.
func (r *reader) entries(from, to int, each func(text string, n int)) {
	for k := from; k < to; {
		n := r.node(k)
		corner := ""
		if n.Corner {
			corner = "corner "
		}
		name := r.kinds[n.Kind].Name
		switch {
		case name == "picot":
			each(r.picot(n), 0)
			k++
		case !n.IsStitch():
			k = r.run(k, func(text string) { each(text, 0) })
		default:
			j := k + 1
			for ; j < to && !n.Corner; j++ {
				if m := r.node(j); m.Kind != n.Kind || m.Corner {
					break
				}
			}
			each(corner+r.stitches(j-k, name), j-k)
			k = j
		}
	}
}

// run words a run of chains with the picots on it, and returns the number of
// what comes after.
func (r *reader) run(k int, each func(text string)) int {
	run := r.node(k)
	corner := ""
	if run.Corner {
		corner = "corner "
	}
	made := 0
	chains := func(to int) {
		if to > made {
			each(fmt.Sprintf("%sch %d", corner, to-made))
			made = to
		}
	}
	for k++; k < r.round.Len; k++ {
		n := r.node(k)
		if r.kinds[n.Kind].Name != "picot" || n.Below != run.ID {
			break
		}
		chains(n.Sits)
		each(r.picot(n))
	}
	chains(run.Chains)
	return k
}
