package check_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"log"
	"os"
	"testing/fstest"

	"example.com/roundel/check"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

const coaster = `motif "Harbour coaster"
yarn sand
yarn slate
ring
rnd 1 with sand: 12 dc in ring = 12 dc
rnd 2: 2 dc in each st = 22 dc
`

func ExampleSource() {
	report, err := check.Source(context.Background(), "coaster.rnd", coaster, check.Options{})
	if err != nil {
		log.Fatal(err) // the context has ended
	}
	for _, f := range report.Findings {
		fmt.Println(f.Span.Start, f.Severity, f.Rule)
	}
	fmt.Println("worst:", report.Worst())
	// Output:
	// 3:6 warning unused-name
	// 6:26 error claim-count
	// worst: error
}

// A piece without increases pulls up into a bowl. That is a finding, unless the
// draft says that it is meant; then it would be one if the piece lay flat.
func ExampleSource_lies() {
	const bowl = "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3-6: dc in each st\n"
	const mat = "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n"
	for _, draft := range []string{bowl, "lies cupped\n" + bowl, mat, "lies cupped\n" + mat} {
		report, err := check.Source(context.Background(), "draft.rnd", draft, check.Options{})
		if err != nil {
			log.Fatal(err)
		}
		if len(report.Findings) == 0 {
			fmt.Println("nothing to report")
		}
		for _, f := range report.Findings {
			fmt.Println(f.Message)
		}
	}
	// Output:
	// round 3 is about 34 % too short for its distance from the centre, so the piece will cup; it has about 12 dc too few: 34 to 41 would lie flat (taking dc as 1.95 times as tall as wide; a gauge that counts rounds makes this surer); work more increases, or write lies cupped in the header if it is meant
	// nothing to report
	// nothing to report
	// the draft says it lies cupped, but no round up to round 2 is too short for lying flat, so it comes out flat; work fewer increases, or leave the lies line out
}

// Fix puts right what is certain and leaves the rest to the designer: here the
// chain may be meant to count as a stitch.
func ExampleFix() {
	const draft = `terms uk
ring
rnd 1: 12 hdc in ring = 11 htr, 12 st   # by heart
rnd 2: ch 2, 2 htr in each st = 25 htr
`
	fixed, err := check.Fix(context.Background(), "draft.rnd", draft, check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Print(fixed.Text)
	for _, f := range fixed.Report.Findings {
		fmt.Println("left:", f.Message)
	}
	// Output:
	// terms uk
	// ring
	// rnd 1: 12 htr in ring = 12 htr, 12 st   # by heart
	// rnd 2: ch 2, 2 htr in each st = 25 htr
	// left: round 2 is claimed to have 25 htr; it has 24 (24 htr, 1 sp); if the chain at its beginning counts as a stitch, write ch 2 as htr
}

func ExampleFile() {
	// Any file system does; os.DirFS("drafts") for a directory.
	drafts := fstest.MapFS{"coaster.rnd": {Data: []byte(coaster)}}
	report, err := check.File(context.Background(), drafts, "coaster.rnd", check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(report.Draft.Title(), "-", report.Graph.NumRounds(), "rounds,", len(report.Findings), "findings")

	_, err = check.File(context.Background(), drafts, "saltmarsh.rnd", check.Options{})
	fmt.Println(err)
	// Output:
	// Harbour coaster - 2 rounds, 2 findings
	// open saltmarsh.rnd: file does not exist
}

func ExampleRules() {
	rule, ok := check.FindRule(check.Rules(), "claim-count")
	if !ok {
		log.Fatal("no such rule")
	}
	fmt.Printf("%s (%s): %s\n", rule.ID, rule.Severity, rule.Summary)
	fmt.Print(rule.Doc.Failing)
	// Output:
	// claim-count (error): the count after = is not what comes out
	// ring
	// rnd 1: 12 dc in ring = 12 dc
	// rnd 2: 2 dc in each st = 22 dc
	// rnd 3: [dc in next st, 2 dc in next st] around = 36 dc
}

// A workshop may have rules of its own, here that every motif has a title.
func ExampleRule() {
	titled := check.Rule{
		ID:       "titled",
		Summary:  "a motif without a title",
		Severity: notation.Warning,
		Run: func(p *check.Pass) {
			if p.Draft.Title() == "" {
				p.Reportf(p.Draft.Range(), "the motif has no title; begin with: motif \"Title\"")
			}
		},
	}
	options := check.Options{Rules: append(check.Rules(), titled)}
	report, err := check.Source(context.Background(), "draft.rnd", "ring\nrnd 1: 12 dc in ring\n", options)
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range report.Findings {
		fmt.Println(f.Rule, f.Severity, f.Message)
	}
	// Output:
	// titled warning the motif has no title; begin with: motif "Title"
}

// Rules share the geometry of the piece: here lace of which most is slack is to
// be starched.
func ExamplePass_Shape() {
	starch := check.Rule{
		ID:       "starch",
		Summary:  "a round that wants starch",
		Severity: notation.Info,
		Run: func(p *check.Pass) {
			for _, r := range p.Shape() {
				if round := p.Graph.Round(r.Index); r.Slack > 0.6 {
					p.ReportRoundf(round, "of round %d %.0f %% are slack chains: starch it", round.Number, 100*r.Slack)
				}
			}
		},
	}
	const text = `ring
rnd 1: 12 dc in ring
rnd 2: [dc in next st, ch 3] around
rnd 3: [sc in next sp, ch 5] around
`
	report, err := check.Source(context.Background(), "saltmarsh.rnd", text, check.Options{Rules: []check.Rule{starch}})
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range report.Findings {
		fmt.Println(f.Span.Start, f.Message)
	}
	// Output:
	// 4:1 of round 3 69 % are slack chains: starch it
}

func ExampleWriteSARIF() {
	report, err := check.Source(context.Background(), "drafts/coaster.rnd", coaster, check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	var out bytes.Buffer
	if err := check.WriteSARIF(&out, nil, report); err != nil {
		log.Fatal(err)
	}
	var read struct {
		Runs []struct {
			Results []struct{ RuleID, Level string }
		}
	}
	if err := json.Unmarshal(out.Bytes(), &read); err != nil {
		log.Fatal(err)
	}
	for _, r := range read.Runs[0].Results {
		fmt.Println(r.RuleID, r.Level)
	}
	// Output:
	// unused-name warning
	// claim-count error
}

func ExampleWriteText() {
	report, err := check.Source(context.Background(), "coaster.rnd", coaster, check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	report.Findings = report.Findings[:1]
	if err := check.WriteText(os.Stdout, report, true); err != nil {
		log.Fatal(err)
	}
	// Output:
	// coaster.rnd:3:6: warning: the yarn slate is declared, but no round is worked with it; work with it (rnd 2 with slate: ...) or leave the line out [unused-name]
	//     yarn slate
	//          ^^^^^
}

func ExampleWriteJSON() {
	report, err := check.Source(context.Background(), "coaster.rnd", "ring\n", check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	if err := check.WriteJSON(os.Stdout, report); err != nil {
		log.Fatal(err)
	}
	// Output:
	// {
	//   "version": 1,
	//   "findings": [
	//     {
	//       "rule": "no-rounds",
	//       "severity": "error",
	//       "message": "the draft has no rounds; a round reads: rnd 1: 12 dc in ring",
	//       "file": "coaster.rnd",
	//       "range": {
	//         "start": {
	//           "line": 1,
	//           "column": 5
	//         },
	//         "end": {
	//           "line": 1,
	//           "column": 5
	//         }
	//       },
	//       "related": [],
	//       "fixes": []
	//     }
	//   ]
	// }
}

func ExampleRoundTable() {
	report, err := check.Source(context.Background(), "coaster.rnd", coaster, check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	for _, r := range check.RoundTable(report) {
		fmt.Println(r.Number, r.Yarn, r.Stitches["dc"], "dc")
	}
	// Output:
	// 1 sand 12 dc
	// 2 sand 24 dc
}

func ExampleWriteRounds() {
	const text = `motif "Saltmarsh square"
shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`
	report, err := check.Source(context.Background(), "saltmarsh.rnd", text, check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	if err := check.WriteRounds(os.Stdout, report, report.Draft.Terms); err != nil {
		log.Fatal(err)
	}
	// Output:
	// Saltmarsh square
	//
	// rnd  yarn  stitches  total  sp  corners  per side  lies
	// 1    -     12 dc     12     4   4        3 dc      flat
	// 2    -     28 dc     28     4   4        7 dc      flat
	// 3    -     44 dc     44     4   4        11 dc     flat
	//
	// Symmetry: the same 4 times round, and in a mirror.
}

func ExampleWriteSheet() {
	const text = `motif "Saltmarsh panel"
shape square
yarn sand "oat", 200 m per 100 g
gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
panel 4 by 5 joined sc
`
	report, err := check.Source(context.Background(), "saltmarsh.rnd", text, check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := size.NewSheet(context.Background(), report.Draft, report.Graph)
	if err != nil {
		log.Fatal(err)
	}
	if err := check.WriteSheet(os.Stdout, report, sheet, check.Metric); err != nil {
		log.Fatal(err)
	}
	// Output:
	// Saltmarsh panel
	//
	// Gauge      14 dc by 7 rounds over 10 cm
	// Rounds     3
	// One motif  9 cm (8 to 10) from side to side
	//            12 cm (10.5 to 13.5) from corner to corner
	//
	// Panel: 20 motifs, 4 by 5, joined with sc
	//   width   46 cm (40 to 53)
	//   height  37 cm (32 to 42.5)
	//   seams   31 of 11 places (stitches and single chains), 9 cm (8 to 10) each
	//
	// Yarn, for 20 motifs
	//   sand (oat)  250 m (210 to 295), 11 m a motif, 125 g (105 to 150); with 10 % to spare 275 m, 140 g: 2 balls of 100 g
	//
	// Ends to weave in: 54.
	//
	// rnd  across           corner to corner
	// 1    3.5 cm (3 to 4)  4 cm (3.5 to 4.5)
	// 2    6 cm (5.5 to 7)  8 cm (7 to 9)
	// 3    9 cm (8 to 10)   12 cm (10.5 to 13.5)
	//
	// In brackets stands what a figure may come out at, as hands and yarns differ. A swatch that was weighed makes the yarn surer.
}

// A tree that is made by hand, or comes from another notation, is checked like
// a text, which is what it is written out as.
func ExampleDraft() {
	dc := notation.Name{Text: "dc"}
	d := &notation.Draft{Statements: []notation.Statement{
		&notation.Round{From: 1, Steps: []notation.Step{
			&notation.Work{Count: 12, Stitch: dc, Place: &notation.Place{How: notation.InRing}},
		}},
		&notation.Round{From: 2, Steps: []notation.Step{
			&notation.Repeat{Around: true, Steps: []notation.Step{
				&notation.Work{Count: 2, Stitch: dc, Place: &notation.Place{Kind: notation.St}},
				&notation.Skip{Count: 4, What: notation.St},
			}},
		}},
	}}
	report, err := check.Draft(context.Background(), d, nil, check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Print(report.Source)
	for _, f := range report.Findings {
		fmt.Println(f.Span.Start, f.Rule)
	}
	// Output:
	// rnd 1: 12 dc in ring
	// rnd 2: [2 dc in next st, sk 4 st] around
	// 2:35 repeat-remainder
}

// Whether drafts are laid out alike is looked at where a workshop wants it.
func ExampleLayoutRule() {
	options := check.Options{Rules: append(check.Rules(), check.LayoutRule())}
	fixed, err := check.Fix(context.Background(), "draft.rnd", "RING\nrnd 1:12 dc in ring\n", options)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Print(fixed.Text)
	// Output:
	// ring
	// rnd 1: 12 dc in ring
}

func ExampleWriteFixed() {
	fixed, err := check.Fix(context.Background(), "draft.rnd", "ring\nrnd 1: 12 dc in ring = 11 dc, 12 st\n", check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	if err := check.WriteFixed(os.Stdout, "draft.rnd", fixed.Made); err != nil {
		log.Fatal(err)
	}
	// Output:
	// draft.rnd:2:24: fixed: claim 12 dc [claim-count]
}

func ExampleWriteRoundsJSON() {
	report, err := check.Source(context.Background(), "coaster.rnd", "gauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: 12 dc in ring\n", check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	if err := check.WriteRoundsJSON(os.Stdout, report); err != nil {
		log.Fatal(err)
	}
	// Output:
	// {
	//   "version": 1,
	//   "motif": "",
	//   "rounds": [
	//     {
	//       "round": 1,
	//       "yarn": "",
	//       "stitches": {
	//         "dc": 12
	//       },
	//       "total": 12,
	//       "spaces": 0,
	//       "corners": 0,
	//       "per_side": [],
	//       "from_centre_cm": 1.5,
	//       "lies": "flat"
	//     }
	//   ],
	//   "symmetry": {
	//     "rotation": 12,
	//     "mirror": true
	//   }
	// }
}

// A program that reads the sheet finds in it what units its lengths are in.
func ExampleWriteSheetJSON() {
	report, err := check.Source(context.Background(), "coaster.rnd", "gauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: 12 dc in ring\n", check.Options{})
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := size.NewSheet(context.Background(), report.Draft, report.Graph)
	if err != nil {
		log.Fatal(err)
	}
	var out bytes.Buffer
	if err := check.WriteSheetJSON(&out, sheet, check.Inches); err != nil {
		log.Fatal(err)
	}
	var read struct {
		Units  struct{ Size string }
		Rounds []struct {
			Across struct{ Low, Expected, High float64 }
		}
	}
	if err := json.Unmarshal(out.Bytes(), &read); err != nil {
		log.Fatal(err)
	}
	a := read.Rounds[0].Across
	fmt.Println(a.Low, "to", a.High, read.Units.Size)
	// Output: 1 to 1.4 in
}
