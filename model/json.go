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
	Version int         `json:"version"`
	Motif   string      `json:"motif"`
	Shape   string      `json:"shape"`
	Ring    int         `json:"ring_chains"`
	Yarns   []string    `json:"yarns"`
	Kinds   []jsonKind  `json:"kinds"`
	Rounds  []jsonRound `json:"rounds"`
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
// The same draft gives the same bytes.
func (g *Graph) WriteJSON(w io.Writer) error {
	out := bufio.NewWriter(w)
	head := jsonGraph{Version: 1, Motif: g.Title, Shape: string(g.Outline), Ring: g.Ring, Yarns: g.Yarns(), Kinds: []jsonKind{}, Rounds: []jsonRound{}}
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
	fmt.Fprint(out, "]}\n")
	return out.Flush()
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
