package check

import (
	"io"
	"math"

	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// WriteSheetJSON writes the sheet as JSON, lengths and weights as numbers in
// the units that it names:
//
//	{"version":1,"motif":"...","units":{"size":"cm","yarn":"m","weight":"g"},
//	 "hook_mm":4.5,"stitch_width_mm":7.1,"motifs":1,
//	 "rounds":[{"round":1,"corners":4,"across":{"low":2.6,"expected":3,"high":3.5},
//	   "side":{...},"corner_to_corner":{...}}],
//	 "until":[{"from":2,"to":9,"of":"side","wanted":45,"size":{...},"before":{...}}],
//	 "yarns":[{"yarn":"sand","label":"oat","total":{...},"weight":{...},
//	   "margin":0.1,"buy":46,"buy_weight":23,"ball":100,"balls":1,"balls_most":1,"ends":2}],
//	 "ends":14,"made_up":{...},"changes":[{"yarn":"dusk","motif":1,"round":1,"stitch":1,"stretch":0,"left":12}],
//	 "target":{...},"cautions":["..."]}
//
// Of a piece that lies cupped, marked "cupped":true, rounds have
// "round_the_edge" and "depth" in place of the measures of a flat one.
// What is not known is left out. Of changes all are listed, up to ten thousand.
func WriteSheetJSON(w io.Writer, s *size.Sheet, m Units) error {
	return writeJSON(w, newJSONSheet(s, m.orMetric()))
}

type jsonSheet struct {
	Version     int           `json:"version"`
	Motif       string        `json:"motif"`
	Units       jsonUnits     `json:"units"`
	Hook        float64       `json:"hook_mm,omitempty"`
	StitchWidth float64       `json:"stitch_width_mm,omitempty"`
	Motifs      int           `json:"motifs"`
	Cupped      bool          `json:"cupped,omitempty"`
	Rounds      []jsonMeasure `json:"rounds"`
	Until       []jsonReached `json:"until,omitempty"`
	Yarns       []jsonYarn    `json:"yarns"`
	Ends        int           `json:"ends"`
	MadeUp      *jsonMadeUp   `json:"made_up,omitempty"`
	Changes     []jsonChange  `json:"changes,omitempty"`
	Target      *jsonFit      `json:"target,omitempty"`
	Cautions    []string      `json:"cautions"`
}

type jsonUnits struct {
	Size   notation.Unit `json:"size"`
	Yarn   notation.Unit `json:"yarn"`
	Weight notation.Unit `json:"weight"`
}

type jsonEstimate struct {
	Low      float64 `json:"low"`
	Expected float64 `json:"expected"`
	High     float64 `json:"high"`
}

type jsonMeasure struct {
	Round   int           `json:"round"`
	Corners int           `json:"corners"`
	Across  *jsonEstimate `json:"across,omitempty"`
	Side    *jsonEstimate `json:"side,omitempty"`
	Points  *jsonEstimate `json:"corner_to_corner,omitempty"`
	Edge    *jsonEstimate `json:"round_the_edge,omitempty"`
	Depth   *jsonEstimate `json:"depth,omitempty"`
}

type jsonReached struct {
	From   int           `json:"from"`
	To     int           `json:"to"`
	Of     string        `json:"of"` // "across" or "side"
	Wanted float64       `json:"wanted"`
	Size   *jsonEstimate `json:"size"`
	Before *jsonEstimate `json:"before,omitempty"`
}

type jsonYarn struct {
	Yarn      string        `json:"yarn"`
	Label     string        `json:"label,omitempty"`
	Total     *jsonEstimate `json:"total,omitempty"`
	Weight    *jsonEstimate `json:"weight,omitempty"`
	Margin    float64       `json:"margin"`
	Buy       float64       `json:"buy,omitempty"`
	BuyWeight float64       `json:"buy_weight,omitempty"`
	Ball      float64       `json:"ball,omitempty"`
	Balls     int           `json:"balls,omitempty"`
	BallsMost int           `json:"balls_most,omitempty"`
	Ends      int           `json:"ends"`
}

type jsonChange struct {
	Yarn    string  `json:"yarn"`
	Motif   int     `json:"motif,omitempty"` // not in a border
	Edge    string  `json:"edge,omitempty"`
	Round   int     `json:"round"`
	Stitch  int     `json:"stitch"`
	Stretch int     `json:"stretch"` // from 0
	Left    float64 `json:"left"`
}

type jsonFit struct {
	Length float64        `json:"length"`
	Of     string         `json:"of"` // "across" or "side"
	Under  *jsonRoundsFit `json:"under,omitempty"`
	Over   *jsonRoundsFit `json:"over,omitempty"`
	Each   float64        `json:"each,omitempty"`
	Scale  float64        `json:"scale"`
	Hook   float64        `json:"hook_mm,omitempty"`
	Hooks  []jsonHook     `json:"hooks,omitempty"`
}

type jsonRoundsFit struct {
	Rounds int           `json:"rounds"`
	Change int           `json:"change"`
	From   int           `json:"from,omitempty"`
	To     int           `json:"to,omitempty"`
	Size   *jsonEstimate `json:"size"`
}

type jsonHook struct {
	Size     float64 `json:"mm"`
	US       string  `json:"us"`
	Expected float64 `json:"expected"`
}

// tenth rounds to the tenth of a unit: finer would be false.
func tenth(x float64) float64 { return math.Round(10*x) / 10 }

func newJSONSheet(s *size.Sheet, m Units) jsonSheet {
	out := jsonSheet{
		Version: 1, Motif: s.Title, Units: jsonUnits(m), Hook: float64(s.Hook),
		StitchWidth: math.Round(100*float64(s.Gauge.Unit)) / 100, Motifs: s.Motifs, Cupped: s.Cupped,
		Rounds: []jsonMeasure{}, Yarns: []jsonYarn{}, Ends: s.Ends, Cautions: []string{},
	}
	for _, r := range s.Rounds {
		j := jsonMeasure{Round: r.Number, Corners: r.Corners}
		if s.Cupped {
			j.Edge, j.Depth = jsonLength(r.Edge, m.Size), jsonLength(r.Depth, m.Size)
		} else {
			j.Across, j.Side, j.Points = jsonLength(r.Across, m.Size), jsonLength(r.Side, m.Size), jsonLength(r.Points, m.Size)
		}
		out.Rounds = append(out.Rounds, j)
	}
	for _, r := range s.Reached {
		out.Until = append(out.Until, jsonReached{r.From, r.To, string(r.What), r.Wanted.In(m.Size), jsonLength(r.Size, m.Size), jsonLength(r.Before, m.Size)})
	}
	for _, y := range s.Yarns {
		j := jsonYarn{
			Yarn: y.Name, Label: y.Label, Total: jsonLength(y.Total, m.Yarn), Margin: s.Margin, Buy: tenth(y.Buy.In(m.Yarn)),
			BuyWeight: tenth(y.BuyWeight.In(m.Weight)), Ball: tenth(y.Ball.In(m.Weight)), Balls: y.Balls, BallsMost: y.BallsMost, Ends: y.Ends,
		}
		if w := y.Weight; w.Known() {
			j.Weight = &jsonEstimate{tenth(w.Low.In(m.Weight)), tenth(w.Expected.In(m.Weight)), tenth(w.High.In(m.Weight))}
		}
		out.Yarns = append(out.Yarns, j)
	}
	if s.MadeUp != nil {
		out.MadeUp = newJSONMadeUp(s.MadeUp, m)
	}
	for _, c := range s.Changes {
		out.Changes = append(out.Changes, jsonChange{c.Yarn, c.Motif, string(c.Edge), c.Round, c.Stitch, c.Stretch, tenth(c.Left.In(m.Yarn))})
	}
	if f := s.Fit; f != nil {
		rounds := func(r *size.RoundsFit) *jsonRoundsFit {
			if r == nil {
				return nil
			}
			return &jsonRoundsFit{r.Rounds, r.Change, r.From, r.To, jsonLength(r.Size, m.Size)}
		}
		j := &jsonFit{
			Length: f.Target.Length.In(m.Size), Of: "across", Under: rounds(f.Under), Over: rounds(f.Over),
			Each: tenth(f.Each.In(m.Size)), Scale: math.Round(1000*f.Scale) / 1000, Hook: tenth(float64(f.Hook)),
		}
		if f.Target.Side {
			j.Of = "side"
		}
		for _, h := range f.Hooks {
			j.Hooks = append(j.Hooks, jsonHook{float64(h.Size), h.US, tenth(h.Expected.In(m.Size))})
		}
		out.Target = j
	}
	for _, c := range s.Cautions {
		out.Cautions = append(out.Cautions, c.Text())
	}
	return out
}

type jsonMadeUp struct {
	Kind    string                   `json:"kind"`
	Rows    int                      `json:"rows"`
	Columns int                      `json:"columns"`
	Join    string                   `json:"join"`
	Sizes   map[string]*jsonEstimate `json:"sizes"`
	Seams   []jsonSeams              `json:"seams"`
	Borders []jsonBorder             `json:"borders"`
	Fits    []jsonBodyFit            `json:"fits"`
}

type jsonSeams struct {
	Count  int           `json:"count"`
	Places int           `json:"places"`
	Length *jsonEstimate `json:"length,omitempty"`
}

type jsonBorder struct {
	Edge   string        `json:"edge"`
	Edges  int           `json:"edges"`
	Rounds int           `json:"rounds"`
	Length *jsonEstimate `json:"length,omitempty"`
	Width  *jsonEstimate `json:"width,omitempty"`
	Places int           `json:"edge_places"`
	Rim    int           `json:"last_round_places"`
	Needed int           `json:"needed_places,omitempty"`
	Outer  int           `json:"outer_corners"`
	Inner  int           `json:"inner_corners"`
}

type jsonBodyFit struct {
	Of   string  `json:"of"`
	Size string  `json:"size"`
	Fits bool    `json:"fits"`
	Ease float64 `json:"ease"`
}

func newJSONMadeUp(u *size.MadeUp, m Units) *jsonMadeUp {
	out := &jsonMadeUp{
		Kind: string(u.Kind), Rows: u.Rows, Columns: u.Columns, Join: string(u.Join),
		Sizes: map[string]*jsonEstimate{}, Seams: []jsonSeams{}, Borders: []jsonBorder{}, Fits: []jsonBodyFit{},
	}
	for _, d := range u.Sizes {
		out.Sizes[string(d.What)] = jsonLength(d.Size, m.Size)
	}
	for _, s := range u.Seams {
		out.Seams = append(out.Seams, jsonSeams{s.Count, s.Places, jsonLength(s.Length, m.Size)})
	}
	for _, b := range u.Borders {
		out.Borders = append(out.Borders, jsonBorder{
			string(b.Edge), b.Edges, b.Rounds, jsonLength(b.Length, m.Size), jsonLength(b.Width, m.Size), b.EdgePlaces, b.RimPlaces, b.Needed, b.Outer, b.Inner,
		})
	}
	for _, f := range u.Fits {
		out.Fits = append(out.Fits, jsonBodyFit{string(f.Part), f.Size, f.Fits, tenth(f.Ease.In(m.Size))})
	}
	return out
}

// jsonLength is nil for what is not known.
func jsonLength(e size.Estimate[size.Length], u notation.Unit) *jsonEstimate {
	if !e.Known() {
		return nil
	}
	return &jsonEstimate{tenth(e.Low.In(u)), tenth(e.Expected.In(u)), tenth(e.High.In(u))}
}
