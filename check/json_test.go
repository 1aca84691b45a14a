package check

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// The machine forms as a program reads them that knows nothing of this
// package: any field that is not listed here is an error.
type (
	findingsFile struct {
		Version  *int `json:"version"`
		Findings *[]struct {
			Rule     *string `json:"rule"`
			Severity *string `json:"severity"`
			Message  *string `json:"message"`
			File     *string `json:"file"`
			Range    *rangeOf
			Related  *[]struct {
				Message *string  `json:"message"`
				File    *string  `json:"file"`
				Range   *rangeOf `json:"range"`
			} `json:"related"`
			Fixes *[]struct {
				Message *string `json:"message"`
				Certain *bool   `json:"certain"`
				Edits   *[]struct {
					Range *rangeOf `json:"range"`
					New   *string  `json:"new"`
				} `json:"edits"`
			} `json:"fixes"`
		} `json:"findings"`
	}
	rangeOf struct {
		Start *placeOf `json:"start"`
		End   *placeOf `json:"end"`
	}
	placeOf struct {
		Line   *int `json:"line"`
		Column *int `json:"column"`
	}
	roundsFile struct {
		Version *int    `json:"version"`
		Motif   *string `json:"motif"`
		Rounds  *[]struct {
			Round    *int              `json:"round"`
			Yarn     *string           `json:"yarn"`
			Stitches *map[string]int   `json:"stitches"`
			Total    *int              `json:"total"`
			Spaces   *int              `json:"spaces"`
			Corners  *int              `json:"corners"`
			PerSide  *[]map[string]int `json:"per_side"`
			Across   float64           `json:"from_centre_cm"`
			Depth    float64           `json:"depth_cm"`
			Lies     string            `json:"lies"`
			Status   string            `json:"status"`
		} `json:"rounds"`
		Symmetry *struct {
			Rotation *int  `json:"rotation"`
			Mirror   *bool `json:"mirror"`
		} `json:"symmetry"`
	}
)

// decode reads exactly one value, and nothing after it.
func decode(t *testing.T, text string, into any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	if _, err := d.Token(); err != io.EOF {
		t.Errorf("something follows the JSON: %v", err)
	}
}

func TestWriteJSON(t *testing.T) {
	r := shown(t)
	second := source(t, "allow claim-count\nring\nrnd 1: 12 dc in ring = 13 dc\n", Options{})
	text := asJSON(t, r, second)
	golden(t, "findings.json", text)

	var got findingsFile
	decode(t, text, &got)
	if *got.Version != 1 {
		t.Errorf("version %d", *got.Version)
	}
	all := append(append([]Finding{}, r.Findings...), second.Findings...)
	if len(*got.Findings) != len(all) {
		t.Fatalf("%d findings, want %d", len(*got.Findings), len(all))
	}
	for i, f := range all {
		j := (*got.Findings)[i]
		file := r.File
		if i >= len(r.Findings) {
			file = second.File
		}
		if *j.Rule != f.Rule || *j.Severity != f.Severity.String() || *j.Message != f.Text() || *j.File != file {
			t.Errorf("finding %d is %s %s %s %q", i, *j.File, *j.Rule, *j.Severity, *j.Message)
		}
		place := [4]int{*j.Range.Start.Line, *j.Range.Start.Column, *j.Range.End.Line, *j.Range.End.Column}
		if want := [4]int{f.Span.Start.Line, f.Span.Start.Column, f.Span.End.Line, f.Span.End.Column}; place != want {
			t.Errorf("finding %d is at %v, want %v", i, place, want)
		}
		if len(*j.Related) != len(f.Related) {
			t.Fatalf("finding %d has %d related places, want %d", i, len(*j.Related), len(f.Related))
		}
		for k, rel := range f.Related {
			jr := (*j.Related)[k]
			if *jr.Message != rel.Message || *jr.File != file || *jr.Range.Start.Line != rel.Span.Start.Line || *jr.Range.End.Column != rel.Span.End.Column {
				t.Errorf("finding %d, related place %d: %q", i, k, *jr.Message)
			}
		}
		if len(*j.Fixes) != len(f.Fixes) {
			t.Fatalf("finding %d has %d fixes, want %d", i, len(*j.Fixes), len(f.Fixes))
		}
		for k, fix := range f.Fixes {
			jf := (*j.Fixes)[k]
			if *jf.Message != fix.Message || *jf.Certain != fix.Certain || len(*jf.Edits) != len(fix.Edits) {
				t.Fatalf("finding %d, fix %d: %q", i, k, *jf.Message)
			}
			for n, e := range fix.Edits {
				je := (*jf.Edits)[n]
				if *je.New != e.New || *je.Range.Start.Column != e.Span.Start.Column || *je.Range.End.Line != e.Span.End.Line {
					t.Errorf("finding %d, fix %d, edit %d: %q", i, k, n, *je.New)
				}
			}
		}
	}
}

// Without findings there is a list all the same, an empty one.
func TestWriteJSONEmpty(t *testing.T) {
	const want = "{\n  \"version\": 1,\n  \"findings\": []\n}\n"
	clean := source(t, "ring\nrnd 1: 12 dc in ring\n", Options{})
	for name, got := range map[string]string{"no reports": asJSON(t), "a clean report": asJSON(t, clean)} {
		if got != want {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// Names and texts that are no proper UTF-8, or look like markup, arrive as
// JSON that can be read.
func TestWriteJSONAwkward(t *testing.T) {
	r := &Report{File: "a\xff<b>.rnd", Findings: []Finding{{Rule: "tide", Severity: 1, Message: "\"low\" & \x00 <high>\u2028"}}}
	var got findingsFile
	decode(t, asJSON(t, r), &got)
	f := (*got.Findings)[0]
	if *f.File != "a�<b>.rnd" || *f.Message != "\"low\" & \x00 <high>\u2028" {
		t.Errorf("file %q, message %q", *f.File, *f.Message)
	}
	if !strings.Contains(asJSON(t, r), "<b>") {
		t.Error("angle brackets are escaped, which makes the text hard to read")
	}
}

func TestWriteRoundsJSON(t *testing.T) {
	r := source(t, mandala, Options{})
	var b bytes.Buffer
	if err := WriteRoundsJSON(&b, r); err != nil {
		t.Fatal(err)
	}
	golden(t, "rounds.json", b.String())
	var got roundsFile
	decode(t, b.String(), &got)
	if *got.Version != 1 || *got.Motif != "Harbour mandala" || len(*got.Rounds) != 5 {
		t.Fatalf("version %d, motif %q, %d rounds", *got.Version, *got.Motif, len(*got.Rounds))
	}
	for i, row := range *got.Rounds {
		if *row.Round != i+1 || row.Status != "" {
			t.Errorf("row %d is of round %d, status %q", i, *row.Round, row.Status)
		}
		total := 0
		for _, n := range *row.Stitches {
			total += n
		}
		if total != *row.Total {
			t.Errorf("round %d: the stitches are %d in all, the total is %d", *row.Round, total, *row.Total)
		}
		// The sides hold what the round holds, but for corners that are
		// stitches; here all are spaces.
		sides := map[string]int{}
		for _, side := range *row.PerSide {
			for name, n := range side {
				sides[name] += n
			}
		}
		if len(*row.PerSide) != *row.Corners {
			t.Errorf("round %d has %d corners and %d sides", *row.Round, *row.Corners, len(*row.PerSide))
		}
		if *row.Corners > 0 {
			if diff := cmp.Diff(*row.Stitches, sides); diff != "" {
				t.Errorf("round %d (-all +sides):\n%s", *row.Round, diff)
			}
		}
	}
}

// The names in JSON are American whatever the terms of the draft.
func TestWriteRoundsJSONTerms(t *testing.T) {
	uk := source(t, "terms uk\nring\nrnd 1: 12 tr in ring\n", Options{})
	us := source(t, "terms us\nring\nrnd 1: 12 dc in ring\n", Options{})
	var a, b bytes.Buffer
	if err := WriteRoundsJSON(&a, uk); err != nil {
		t.Fatal(err)
	}
	if err := WriteRoundsJSON(&b, us); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(b.String(), a.String()); diff != "" {
		t.Errorf("(-us +uk):\n%s", diff)
	}
	if !strings.Contains(a.String(), `"dc": 12`) {
		t.Errorf("no dc in %s", a.String())
	}
}

// Lengths are written no finer than they are known.
func TestWriteRoundsJSONLengths(t *testing.T) {
	r := source(t, "gauge 14 dc by 7 rnds over 10 cm\n"+mandala, Options{})
	var b bytes.Buffer
	if err := WriteRoundsJSON(&b, r); err != nil {
		t.Fatal(err)
	}
	var got roundsFile
	decode(t, b.String(), &got)
	for i, row := range *got.Rounds {
		want := float64(RoundTable(r)[i].FromCentre) / 10
		if want <= 0 || math.Abs(row.Across-want) > 0.051 || strings.Contains(b.String(), fmt.Sprint(want)) {
			t.Errorf("round %d reaches %v cm, want %v to the tenth", *row.Round, row.Across, want)
		}
	}
}

func TestWriteRoundsJSONEmpty(t *testing.T) {
	var b bytes.Buffer
	if err := WriteRoundsJSON(&b, source(t, "ring\n", Options{})); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `"rounds": []`) {
		t.Errorf("no empty list of rounds: %s", b.String())
	}
}

// A round that is not worked as written carries its status.
func TestRoundTableStatus(t *testing.T) {
	r := source(t, "ring\nrnd 1: 12 dc in ring\nrnd 2: [dc in next 5 st] around\nrnd 3: dc in = 40 dc\nrnd 4: dc in\n", Options{})
	var got []string
	for _, row := range RoundTable(r) {
		got = append(got, row.Status)
		if row.PerSide == nil || row.Stitches == nil {
			t.Errorf("round %d has no list of sides or stitches at all", row.Number)
		}
	}
	if diff := cmp.Diff([]string{"", "mended", "assumed", "not worked"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A piece that lies cupped is measured along the fabric, as on its size page, and
// not by how far it would reach if it lay flat.
func TestRoundsOfCuppedPiece(t *testing.T) {
	r := source(t, "lies cupped\ngauge 16 sc by 18 rnds over 10 cm\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3-9: sc in each st\n", Options{})
	measures := size.Measures(r.Graph, r.Draft.Gauge())
	for i, row := range RoundTable(r) {
		if row.FromCentre != 0 || row.Depth != measures[i].Depth.Expected || row.Depth <= 0 {
			t.Errorf("round %d: %v from the centre, %v along the fabric, want %v", row.Number, row.FromCentre, row.Depth, measures[i].Depth.Expected)
		}
	}
	var text, data bytes.Buffer
	if err := errors.Join(WriteRounds(&text, r, notation.US), WriteRoundsJSON(&data, r)); err != nil {
		t.Fatal(err)
	}
	deep := measures[8].Depth.Expected.In(notation.Centimetre)
	for _, want := range []string{"along the fabric", fmt.Sprintf("%.1f cm", deep)} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the table lacks %q:\n%s", want, &text)
		}
	}
	if strings.Contains(text.String(), "from centre") || strings.Contains(data.String(), "from_centre_cm") || !strings.Contains(data.String(), `"depth_cm": `) {
		t.Errorf("the reach of a flat piece:\n%s\n%s", &text, &data)
	}
}
