package pattern

import (
	"fmt"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A noun names places: "st" and "sts", "corner ch-2 sp" and "corner ch-2 sps".
type noun struct{ one, many string }

func nounOf(one string) noun {
	if at := strings.Index(one, " between "); at >= 0 {
		return noun{one, one[:at] + "s" + one[at:]}
	}
	if strings.HasSuffix(one, "ch") {
		return noun{one, one}
	}
	return noun{one, one + "s"}
}

// next is so many of it in a row: "next st", "next 4 sts".
func (n noun) next(count int) string {
	if count == 1 {
		return "next " + n.one
	}
	return fmt.Sprintf("next %d %s", count, n.many)
}

// noun names the place that a stitch is worked into. plain is set where nothing
// happens that would make a corner worth naming.
func (r *reader) noun(p model.Place, plain bool) noun {
	corner := ""
	if p.Stitch >= 0 && r.g.Node(p.Stitch).Corner && p.Kind != notation.Gap && p.Kind != notation.Ch {
		corner = "corner "
	}
	switch p.Kind {
	case notation.Sp:
		return nounOf(fmt.Sprintf("%sch-%d sp", corner, r.g.Node(p.Stitch).Chains))
	case notation.Ch:
		return nounOf("ch")
	case notation.Gap:
		if e := r.under(p); e != nil && e.groups {
			return nounOf("sp between groups")
		}
		return nounOf("sp between sts")
	}
	if plain {
		corner = ""
	}
	return nounOf(corner + "st")
}

// kindWord is the last word of a noun: what "same" is said of.
func kindWord(p model.Place) string {
	switch p.Kind {
	case notation.Sp, notation.Gap:
		return "sp"
	case notation.Ch:
		return "ch"
	}
	return "st"
}

// ofEdge says on which edge a place is, where that is not the round below.
func (r *reader) ofEdge(e *edge) string {
	switch {
	case e == nil || e == r.base && !e.ring:
		return ""
	case e.ring:
		return " of ring"
	case e.index < 0:
		return " of the edge"
	}
	return fmt.Sprintf(" of Rnd %d", r.g.Round(e.index).Number)
}

// into is the word before a place.
func into(p model.Place, post bool) string {
	if post {
		return "around "
	}
	return "in " + loop(p)
}

// loop says which loop of a place is meant, where it is one.
func loop(p model.Place) string {
	switch p.Loop {
	case notation.BackLoop:
		return "BLO of "
	case notation.FrontLoop:
		return "FLO of "
	}
	return ""
}
