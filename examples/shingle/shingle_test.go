package shingle_test

import (
	"context"
	"fmt"
	"os"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/check"
	"example.com/roundel/examples/shingle"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// A square of groups, its corners made of chains.
const pebbles = `:::-:::-:::-:::-
(:::-:::)&
<:--:>____<:--:>_&
`

func TestNotation(t *testing.T) { notationtest.Test(t, shingle.Notation{}, pebbles) }

func FuzzPieces(f *testing.F) { f.Fuzz(rapid.MakeFuzz(notationtest.Laws(shingle.Notation{}))) }

func FuzzText(f *testing.F) {
	f.Add(pebbles)
	f.Fuzz(func(t *testing.T, text string) { notationtest.CheckText(t, shingle.Notation{}, text) })
}

// What is read can be checked by all rules, and written in the notation of
// package notation.
func Example() {
	d, findings := shingle.Notation{}.Parse(":::-:::-:::-:::-\n(:::-:::)&\n<:-:>____&\n")
	d.File = "pebbles"
	report, err := check.Draft(context.Background(), d, findings, check.Options{})
	if err != nil {
		panic(err)
	}
	check.WriteText(os.Stdout, report, false)
	fmt.Print(notation.Format(d))
	// Output:
	// pebbles:3:10: error: the repeat does not close: it uses 5 st, and round 2 has 24; 4 repeats use 20 and 4 are left over (20 or 25 would fit) [repeat-remainder]
	// ring
	// rnd 1: dc in ring, dc in ring, dc in ring, ch 1, dc in ring, dc in ring, dc in ring, ch 1,
	//     dc in ring, dc in ring, dc in ring, ch 1, dc in ring, dc in ring, dc in ring, ch 1
	// rnd 2: [(dc, dc, dc, ch 1, dc, dc, dc) in next sp] around
	// rnd 3: [(dc, ch 1, dc) in next st, sk 1 st, sk 1 st, sk 1 st, sk 1 st] around
}

func ExampleNotation_Print() {
	d, _ := notation.Parse("", "ring\nrnd 1: [3 dc in ring, ch 1] 4 times\nrnd 2: [(2 dc, ch 1, 2 dc) in next sp] around\n")
	report, err := check.Draft(context.Background(), d, nil, check.Options{})
	if err != nil {
		panic(err)
	}
	text, err := shingle.Notation{}.Print(d, report.Graph)
	fmt.Print(text, err)
	// Output:
	// :::-:::-:::-:::-
	// (::-::)&
	// <nil>
}
