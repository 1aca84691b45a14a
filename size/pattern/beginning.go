package pattern

import (
	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Beginning is where a round begins, how it is begun, and how it is closed
// there: what is worked beside its stitches. The words of a written round and
// its drawing in a chart both come from it.
type Beginning struct {
	// First is the stitch, or the run of chains, that the round begins with, by
	// its number in the graph. A round goes round: where the draft begins far
	// from the hook, another is the first.
	First int
	// Slips are the places that slip stitches lead along from where the hook is
	// to the first place, that one included.
	Slips []model.Place
	// Chains is the length of the starting chain, 0 when there is none; Counts
	// tells that it stands for the first stitch.
	Chains int
	Counts bool
	Close  Close
}

// A Close is how a round is closed.
type Close string

// The ways to close a round.
const (
	// Unclosed rounds of a spiral go on as the next.
	Unclosed Close = ""
	// CloseJoined rounds are joined with a slip stitch to what they begin with.
	CloseJoined Close = "joined"
	// CloseNext is the end of a spiral: a slip stitch in the next stitch.
	CloseNext Close = "slip stitch in next stitch"
	// CloseInvisible rounds are joined with needle and thread.
	CloseInvisible Close = "invisible join"
)

// Beginnings says how the rounds of the motif begin, by their index in the
// graph.
func Beginnings(d *notation.Draft, g *model.Graph) []Beginning {
	p := newPiece(languages[notation.US], d, g, newNotes())
	p.ring()
	for i, r := range g.Rounds() {
		if r.Len == 0 {
			p.begins = append(p.begins, Beginning{First: r.First})
			continue
		}
		p.start(p.reader(i))
		p.leave(i)
	}
	return p.begins
}
