package check

import (
	"encoding/json"
	"io"

	"example.com/roundel/notation"
)

// The machine forms of a report. Lines and columns count from 1, columns in
// runes; the end of a range is the place after its last character.

type jsonReport struct {
	Version  int           `json:"version"`
	Findings []jsonFinding `json:"findings"`
}

type jsonFinding struct {
	Rule     string        `json:"rule"`
	Severity string        `json:"severity"`
	Message  string        `json:"message"`
	File     string        `json:"file"`
	Range    jsonRange     `json:"range"`
	Related  []jsonRelated `json:"related"`
	Fixes    []jsonFix     `json:"fixes"`
}

type jsonFix struct {
	Message string     `json:"message"`
	Certain bool       `json:"certain"`
	Edits   []jsonEdit `json:"edits"`
}

type jsonEdit struct {
	Range jsonRange `json:"range"`
	New   string    `json:"new"`
}

type jsonRelated struct {
	Message string    `json:"message"`
	File    string    `json:"file"`
	Range   jsonRange `json:"range"`
}

type jsonRange struct {
	Start jsonPos `json:"start"`
	End   jsonPos `json:"end"`
}

type jsonPos struct {
	Line   int `json:"line"`
	Column int `json:"column"`
}

func toJSON(s notation.Span) jsonRange {
	return jsonRange{jsonPos{s.Start.Line, s.Start.Column}, jsonPos{s.End.Line, s.End.Column}}
}

// WriteJSON writes the findings of several reports as one JSON object:
//
//	{"version":1,"findings":[{"rule","severity","message","file",
//	  "range":{"start":{"line","column"},"end":{"line","column"}},
//	  "related":[{"message","file","range"}],
//	  "fixes":[{"message","certain","edits":[{"range","new"}]}]}]}
//
// The edits of a fix are independent of each other and change the draft as it
// was given.
func WriteJSON(w io.Writer, reports ...*Report) error {
	out := jsonReport{Version: 1, Findings: []jsonFinding{}}
	for _, r := range reports {
		for _, f := range r.Findings {
			jf := jsonFinding{f.Rule, f.Severity.String(), f.Text(), r.File, toJSON(f.Span), []jsonRelated{}, []jsonFix{}}
			for _, rel := range f.Related {
				jf.Related = append(jf.Related, jsonRelated{rel.Message, r.File, toJSON(rel.Span)})
			}
			for _, fix := range f.Fixes {
				edits := []jsonEdit{}
				for _, e := range fix.Edits {
					edits = append(edits, jsonEdit{toJSON(e.Span), e.New})
				}
				jf.Fixes = append(jf.Fixes, jsonFix{fix.Message, fix.Certain, edits})
			}
			out.Findings = append(out.Findings, jf)
		}
	}
	return writeJSON(w, out)
}

// WriteRoundsJSON writes the table of rounds as JSON, stitch names in American
// terms whatever the terms of the draft:
//
//	{"version":1,"motif":"...","rounds":[{"round":1,"yarn":"sand",
//	  "stitches":{"dc":12},"total":12,"spaces":4,"corners":4,
//	  "per_side":[{"dc":3},{"dc":3},{"dc":3},{"dc":3}],
//	  "from_centre_cm":2.1,"lies":"flat"}],
//	 "symmetry":{"rotation":4,"mirror":true},
//	 "borders":[{"edge":"panel","on_stitches":42,"on_spaces":6,"rounds":[]}]}
//
// "borders" is left out where there are none, and of a round what is not known
// or not judged, and the "status" of one that is worked as written.
// Of a piece that lies cupped "depth_cm" stands in place of "from_centre_cm": how
// far the round is from the centre along the fabric.
func WriteRoundsJSON(w io.Writer, r *Report) error {
	type symmetry struct {
		Rotation int  `json:"rotation"`
		Mirror   bool `json:"mirror"`
	}
	return writeJSON(w, struct {
		Version  int                `json:"version"`
		Motif    string             `json:"motif"`
		Rounds   []jsonRound        `json:"rounds"`
		Symmetry symmetry           `json:"symmetry"`
		Borders  []jsonBorderRounds `json:"borders,omitempty"`
	}{1, r.Graph.Title, jsonRounds(RoundTable(r)), symmetry(r.Graph.Symmetry()), jsonBorderTables(BorderTables(r))})
}

type (
	jsonRound struct {
		Round      int              `json:"round"`
		Yarn       string           `json:"yarn"`
		Stitches   map[string]int   `json:"stitches"`
		Total      int              `json:"total"`
		Spaces     int              `json:"spaces"`
		Corners    int              `json:"corners"`
		PerSide    []map[string]int `json:"per_side"`
		FromCentre float64          `json:"from_centre_cm,omitempty"`
		Depth      float64          `json:"depth_cm,omitempty"` // in place of it where the piece lies cupped
		Lies       string           `json:"lies,omitempty"`
		Status     string           `json:"status,omitempty"`
	}
	jsonBorderRounds struct {
		Edge     notation.EdgeName `json:"edge"`
		Stitches int               `json:"on_stitches"`
		Spaces   int               `json:"on_spaces"`
		Rounds   []jsonRound       `json:"rounds"`
	}
)

func jsonRounds(table []Round) []jsonRound {
	list := make([]jsonRound, len(table))
	for i, r := range table {
		reach, depth := tenth(r.FromCentre.In(notation.Centimetre)), tenth(r.Depth.In(notation.Centimetre))
		list[i] = jsonRound{r.Number, r.Yarn, r.Stitches, r.Total, r.Spaces, r.Corners, r.PerSide, reach, depth, r.Lies, r.Status}
	}
	return list
}

func jsonBorderTables(tables []Border) []jsonBorderRounds {
	list := make([]jsonBorderRounds, len(tables))
	for i, b := range tables {
		list[i] = jsonBorderRounds{b.Edge, b.Stitches, b.Spaces, jsonRounds(b.Rounds)}
	}
	return list
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
