package model

import "example.com/roundel/notation"

// A Panel is what equal motifs are made up into: which side of which motif is
// joined to which, and the edges that are left.
//
// Motifs are numbered from 0, row by row from the bottom and from the left, one
// face or strip after the other. Side 0 of a motif is the one that its last
// round begins on, as in Sides, and lies at the bottom. The others follow with
// the right side facing: 1 at the right, 2 at the top, 3 at the left.
type Panel struct {
	Kind          notation.PanelKind
	Rows, Columns int // of one face
	Motifs        int
	Join          notation.JoinKind
	Seams         []Seam
	Edges         []PanelEdge
}

// A SidePart is a stretch of one side of a motif, or all of it. From and To
// count the places that are joined one to one, stitches and single chains,
// from where the side begins.
type SidePart struct {
	Motif, Side int
	From, To    int
}

// Places returns how many stitches and single chains there are.
func (p SidePart) Places() int { return p.To - p.From }

// A Seam joins two parts of sides, place to place. They run in opposite
// directions: where A begins B ends.
type Seam struct{ A, B SidePart }

// Places returns how many stitches, or single chains, are joined to as many.
func (s Seam) Places() int { return s.A.Places() }

// A Turn is how an edge goes on where a part of it ends.
type Turn uint8

// The turns.
const (
	Straight Turn = iota // two corners meet, and the edge runs straight on
	Outwards             // at a corner that sticks out
	Inwards              // at a corner that points into the piece, or where an opening ends
)

var turnNames = [...]string{"straight", "outwards", "inwards"}

func (t Turn) String() string {
	if int(t) < len(turnNames) {
		return turnNames[t]
	}
	return "no turn"
}

// An EdgePart is a part of an edge and how the edge goes on behind it.
type EdgePart struct {
	SidePart
	Then Turn
}

// A PanelEdge is an edge of a panel, once round, in the direction in which it
// is worked with the right side facing.
type PanelEdge struct {
	Name  notation.EdgeName
	Parts []EdgePart
	// Joined is set for the edge of a cushion: it runs along the seam between
	// the faces and is worked through both. Parts are those of the first face.
	Joined bool
	// What there is to work into; corners are stitches or spaces, too.
	Stitches, Spaces, Corners int
}

// A Border is the rounds worked on one edge.
type Border struct {
	Name notation.EdgeName
	// Edge is the index of the edge in Panel.Edges. A tube has two edges, and
	// a border on each.
	Edge int
	// Graph holds the rounds. Its first stitches, as many as Foundation says,
	// are copies of those of the edge, and belong to no round.
	Graph *Graph
}

// Panel returns what the motifs are made up into; nil when the draft does not
// say, or when they cannot be.
func (g *Graph) Panel() *Panel { return g.panel }

// Borders returns the borders, in the order of the draft.
func (g *Graph) Borders() []Border { return g.borders }

// Pieces returns all that is worked: the graph itself, which is the motif, and
// those of its borders.
func (g *Graph) Pieces() []*Graph {
	list := []*Graph{g}
	for _, b := range g.borders {
		list = append(list, b.Graph)
	}
	return list
}
