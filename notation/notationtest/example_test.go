package notationtest_test

import (
	"context"
	"fmt"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// A piece comes with the counts it was drawn with.
func ExamplePieces() {
	p := notationtest.Pieces().Example(4)
	g, findings, err := model.Build(context.Background(), p.Draft())
	if err != nil {
		panic(err)
	}
	fmt.Println(len(findings), "findings")
	for i, want := range p.Counts() {
		if got := g.Counts(i); got.Total != want.Total || got.Spaces != want.Spaces {
			fmt.Printf("round %d: %+v, want %+v\n", i+1, got, want)
		}
	}
	// Output:
	// 0 findings
}

// A well-formed draft can be written out and read again.
func ExampleDrafts() {
	d := notationtest.Drafts().Example(1)
	_, findings := notation.Parse("", notation.Format(d))
	fmt.Println(len(findings), "findings")
	// Output:
	// 0 findings
}

func ExampleGraphs() {
	g := notationtest.Graphs().Example(2)
	for i, r := range g.Rounds() {
		fmt.Println(r.Number, r.Status, g.Counts(i).Total > 0)
	}
	// Output:
	// 1 worked true
	// 2 worked true
	// 3 worked true
	// 4 worked true
}

// A notation is used in a test with Test; here the laws for any text are put
// to a notation that reads nothing, and loses its place.
func ExampleCheckText() {
	notationtest.CheckText(printing{}, lost{}, "12 dc")
	// Output:
	// "12 dc"
	// this means nothing: no place 2:1, offset 5
	// "12 dc"
	// this means nothing: no place 2:1, offset 5
}

type lost struct{}

func (lost) Parse(text string) (*notation.Draft, []notation.Finding) {
	end := notation.Pos{Offset: len(text), Line: 2, Column: 1}
	return &notation.Draft{}, []notation.Finding{{Rule: "syntax", Severity: notation.Error,
		Message: "this means nothing", Span: notation.Span{Start: end, End: end}}}
}

func (lost) Print(*notation.Draft, *model.Graph) (string, error) { return "", nil }

// printing is a TB that prints.
type printing struct{}

func (printing) Helper() {}

func (printing) Errorf(format string, args ...any) { fmt.Printf(format+"\n", args...) }

// A tree made by hand needs no positions, and only the numbers that are not 1.
func ExampleCheckGraph() {
	dc := notation.Name{Text: "dc"}
	d := &notation.Draft{Statements: []notation.Statement{
		&notation.Round{From: 1, Steps: []notation.Step{
			&notation.Work{Count: 6, Stitch: dc, Place: &notation.Place{How: notation.InRing}},
		}},
		&notation.Round{From: 2, Steps: []notation.Step{
			&notation.Repeat{Around: true, Steps: []notation.Step{
				&notation.Work{Count: 2, Stitch: dc, Place: &notation.Place{Kind: notation.St}},
			}},
		}},
	}}
	g, findings, err := model.Build(context.Background(), d)
	notationtest.CheckGraph(printing{}, g)
	fmt.Println(g.Counts(1).Stitches, findings, err)
	// Output:
	// map[dc:12] [] <nil>
}

// Graphs are compared by their JSON forms.
func ExampleDiffGraphs() {
	build := func(text string) *model.Graph {
		d, _ := notation.Parse("", text)
		g, _, err := model.Build(context.Background(), d)
		if err != nil {
			panic(err)
		}
		return g
	}
	a, b := build("ring\nrnd 1: [dc in ring] 2 times\n"), build("ring\nrnd 1: 2 dc in ring\n")
	fmt.Printf("%q\n", notationtest.DiffGraphs(a, b))
	fmt.Println(notationtest.DiffGraphs(a, build("ring\nrnd 1: 2 hdc in ring\n")) != "")
	// Output:
	// ""
	// true
}
