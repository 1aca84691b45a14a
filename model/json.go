package model

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"example.com/roundel/notation"
)

// The JSON of a graph. Names of stitches are American.
type jsonGraph struct {
	Version int    `json:"version"`
	Motif   string `json:"motif"`
	Shape   string `json:"shape"`
	Ring    int    `json:"ring_chains"`
	// Foundation is set for a border, Panel for a motif that is made up.
	Foundation int         `json:"foundation,omitempty"`
	Panel      *jsonPanel  `json:"panel,omitempty"`
	Yarns      []string    `json:"yarns"`
	Kinds      []jsonKind  `json:"kinds"`
	Rounds     []jsonRound `json:"rounds"`
}

type jsonPanel struct {
	Kind    string     `json:"kind"`
	Rows    int        `json:"rows"`
	Columns int        `json:"columns"`
	Motifs  int        `json:"motifs"`
	Join    string     `json:"join"`
	Seams   []jsonSeam `json:"seams"`
	Edges   []jsonEdge `json:"edges"`
}

type jsonSeam struct {
	A jsonPart `json:"a"`
	B jsonPart `json:"b"`
}

type jsonPart struct {
	Motif int    `json:"motif"`
	Side  int    `json:"side"`
	From  int    `json:"from"`
	To    int    `json:"to"`
	Then  string `json:"then,omitempty"`
}

type jsonEdge struct {
	Name     string     `json:"name"`
	Joined   bool       `json:"joined,omitempty"`
	Stitches int        `json:"stitches"`
	Spaces   int        `json:"spaces"`
	Corners  int        `json:"corners"`
	Parts    []jsonPart `json:"parts"`
}

type jsonKind struct {
	Name   string `json:"name"`
	UK     string `json:"uk"`
	Legs   int    `json:"legs"`
	Symbol string `json:"symbol"`
}

type jsonRound struct {
	Round   int    `json:"round"`
	Status  string `json:"status"`
	Turned  bool   `json:"turned,omitempty"`
	Below   int    `json:"below"`
	First   int    `json:"first"`
	Len     int    `json:"len"`
	Gaps    []int  `json:"gaps"`
	Corners []int  `json:"corners"`
}

type jsonStitch struct {
	ID     int         `json:"id"`
	Kind   string      `json:"kind"`
	Round  int         `json:"round"`
	Yarn   string      `json:"yarn,omitempty"`
	Chains int         `json:"chains,omitempty"`
	Corner bool        `json:"corner,omitempty"`
	Into   []jsonPlace `json:"into,omitempty"`
}

type jsonPlace struct {
	Place  string `json:"place"`
	Stitch *int   `json:"stitch,omitempty"`
	Chain  int    `json:"chain,omitempty"`
	Loop   string `json:"loop,omitempty"`
}

// WriteJSON writes the graph as one JSON object, a stitch a line:
//
//	{"version":1, "motif":"Title", "shape":"square", "ring_chains":0,
//	 "yarns":["sand"],
//	 "kinds":[{"name":"dc","uk":"tr","legs":1,"symbol":"tall-1"}],
//	 "rounds":[{"round":1,"status":"worked","below":-1,"first":0,"len":16,
//	            "gaps":[0,1],"corners":[3,7,11,15]}],
//	 "stitches":[{"id":0,"kind":"dc","round":0,"yarn":"sand",
//	              "into":[{"place":"ring"}]}]}
//
// A round's "below" and a stitch's "round" are indexes in "rounds", -1 for the
// foundation. A round consists of the stitches "first" to "first"+"len"-1, in
// working order; that is also its edge, picots left out. "gaps" are the
// stitches that a gap follows, "corners" those whose place is a corner. Runs
// of chains (kind ch) and picots carry their number of "chains". "place" is
// ring, st, sp, ch or gap; "stitch" the stitch worked into, or before the gap;
// "chain" which chain of a run, from 1; "loop" back or front.
//
// A draft that says how motifs are made up has two more fields, "panel" before
// "yarns" and "borders" at the end:
//
//	"panel":{"kind":"flat","rows":1,"columns":2,"motifs":2,"join":"whip",
//	         "seams":[{"a":{"motif":0,"side":1,"from":0,"to":7},
//	                   "b":{"motif":1,"side":3,"from":0,"to":7}}],
//	         "edges":[{"name":"panel","stitches":42,"spaces":6,"corners":4,
//	                   "parts":[{"motif":0,"side":0,"from":0,"to":7,
//	                             "then":"straight"}]}]},
//	"borders":[{"name":"panel","edge":0,"graph":{"foundation":48}}]
//
// See Panel for what they mean. The graph of a border is an object like the
// whole; its first stitches, "foundation" of them, are those of the edge. What
// follows where a part ends is straight, outwards or inwards.
//
// The same draft gives the same bytes.
func (g *Graph) WriteJSON(w io.Writer) error {
	out := bufio.NewWriter(w)
	if err := g.writeJSON(out); err != nil {
		return err
	}
	out.WriteByte('\n')
	return out.Flush()
}

func (g *Graph) writeJSON(out *bufio.Writer) error {
	head := jsonGraph{Version: 1, Motif: g.Title, Shape: string(g.Outline), Ring: g.Ring, Yarns: g.Yarns(), Kinds: []jsonKind{}, Rounds: []jsonRound{}, Panel: g.panel.json()}
	if g.onEdge() {
		head.Foundation = g.foundation
	}
	for _, k := range g.kinds {
		head.Kinds = append(head.Kinds, jsonKind{k.Name, k.UK, k.Legs, k.Symbol})
	}
	for i, r := range g.rounds {
		jr := jsonRound{Round: r.Number, Status: r.Status.String(), Turned: r.Turned, Below: r.Below, First: r.First, Len: r.Len, Gaps: []int{}, Corners: []int{}}
		for p := range g.Edge(i) {
			if p.Kind == notation.Gap {
				jr.Gaps = append(jr.Gaps, p.Stitch)
			}
			if p.Corner {
				jr.Corners = append(jr.Corners, p.Stitch)
			}
		}
		head.Rounds = append(head.Rounds, jr)
	}
	text, err := marshal(head)
	if err != nil {
		return err
	}
	out.Write(text[:len(text)-1])
	out.WriteString(",\n\"stitches\":[")
	round := -1
	for id := range g.Len() {
		for round+1 < len(g.rounds) && g.rounds[round+1].First <= id {
			round++
		}
		text, err := marshal(g.jsonStitch(id, round))
		if err != nil {
			return err
		}
		if id > 0 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
		if _, err := out.Write(text); err != nil {
			return err
		}
	}
	out.WriteByte(']')
	for i, b := range g.borders {
		before := ",\n"
		if i == 0 {
			before = ",\n\"borders\":["
		}
		fmt.Fprintf(out, `%s{"name":%q,"edge":%d,"graph":`, before, b.Name, b.Edge)
		if err := b.Graph.writeJSON(out); err != nil {
			return err
		}
		out.WriteByte('}')
	}
	if len(g.borders) > 0 {
		out.WriteByte(']')
	}
	return out.WriteByte('}')
}

func (p *Panel) json() *jsonPanel {
	if p == nil {
		return nil
	}
	out := &jsonPanel{Kind: string(p.Kind), Rows: p.Rows, Columns: p.Columns, Motifs: p.Motifs, Join: string(p.Join), Seams: []jsonSeam{}, Edges: []jsonEdge{}}
	part := func(p SidePart) jsonPart { return jsonPart{Motif: p.Motif, Side: p.Side, From: p.From, To: p.To} }
	for _, s := range p.Seams {
		out.Seams = append(out.Seams, jsonSeam{part(s.A), part(s.B)})
	}
	for _, e := range p.Edges {
		to := jsonEdge{Name: string(e.Name), Joined: e.Joined, Stitches: e.Stitches, Spaces: e.Spaces, Corners: e.Corners, Parts: []jsonPart{}}
		for _, p := range e.Parts {
			to.Parts = append(to.Parts, part(p.SidePart))
			to.Parts[len(to.Parts)-1].Then = p.Then.String()
		}
		out.Edges = append(out.Edges, to)
	}
	return out
}

func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}

func (g *Graph) jsonStitch(id, round int) jsonStitch {
	s := g.stitch(int32(id), round)
	out := jsonStitch{ID: id, Kind: s.Kind, Round: round, Yarn: s.Yarn, Chains: s.Chains, Corner: s.Corner}
	for p := range g.Into(id) {
		jp := jsonPlace{Place: p.Kind.String(), Chain: p.Chain}
		if p.Stitch >= 0 {
			jp.Stitch = &p.Stitch
		}
		switch p.Loop {
		case notation.BackLoop:
			jp.Loop = "back"
		case notation.FrontLoop:
			jp.Loop = "front"
		}
		out.Into = append(out.Into, jp)
	}
	return out
}

// MarshalJSON returns what WriteJSON writes.
func (g *Graph) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	err := g.WriteJSON(&b)
	return b.Bytes(), err
}
