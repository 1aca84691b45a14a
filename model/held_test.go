package model_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// TestOneFaultOneFinding: one fault in a draft is reported once, at its place.
// What only follows from it is held back and counted in it, whether it was found
// while the draft was read or worked.
func TestOneFaultOneFinding(t *testing.T) {
	const circle = "ring\nrnd 1: 6 sc in ring = 6 sc\n"
	for _, test := range []struct {
		name, text string
		want       []string // line, rule, and how many findings are held back
	}{
		// Names that mean nothing.
		{"an increase by its name", circle + "rnd 2: [2 sc in next st] around = 12 sc\nrnd 3: [sc, inc] around = 18 sc\nrnd 4: [sc in next 2 st, 2 sc in next st] around = 24 sc\n",
			[]string{"4 unknown-stitch"}},
		{"without a claim", circle + "rnd 2: [inc] around\nrnd 3: [sc, 2 sc in next st] around = 18 sc\nrnd 4: [sc in next 2 st, 2 sc in next st] around = 24 sc\n",
			[]string{"3 unknown-stitch"}},
		{"a group that has no name", circle + "rnd 2: [fan in next st, sk 1 st] around = 15 dc\nrnd 3: [dc in next 5 st] around = 15 dc\n",
			[]string{"3 unknown-stitch +2"}},
		{"a group whose line cannot be read", "stitch fan = (5 dc\n" + circle + "rnd 2: [fan in next st, sk 1 st] around = 15 dc\nrnd 3: [dc in next 5 st] around = 15 dc\n",
			[]string{"2 syntax +3"}},
		{"a yarn whose line cannot be read", "yarn sand\nyarn reed 200\n" + circle + "rnd 2 with reed: [2 sc in next st] around = 12 sc\nrnd 3: sc in next 6 st, with reed, sc in next 6 st\n",
			[]string{"2 syntax +2"}},

		// Counts without a place.
		{"two readings", "ring\nrnd 1: 12 dc in ring\nrnd 2: [2 dc] around\nrnd 3: [dc in next st, 2 dc in next st] around = 36 dc\n",
			[]string{"3 bare-count +1"}},

		// Numbers of rounds.
		{"a round written twice", circle + "rnd 2: [2 sc in next st] around = 12 sc\nrnd 2: [2 sc in next st] around = 12 sc\nrnd 3: [sc in next st, 2 sc in next st] around = 18 sc\n",
			[]string{"4 round-order +2"}},
		{"a number one less", circle + "rnd 2: [2 sc in next st] around = 12 sc\nrnd 2: [sc in next st, 2 sc in next st] around = 18 sc\nrnd 4: [sc in next 2 st, 2 sc in next st] around = 24 sc\nrnd 5: sc in each st of rnd 3\n",
			[]string{"4 round-order"}},
		{"a number one more", circle + "rnd 3: [2 sc in next st] around = 12 sc\nrnd 3: [sc in next st, 2 sc in next st] around = 18 sc\n",
			[]string{"3 round-order"}},
		{"a round that is missing", circle + "rnd 3: sc in each st\nrnd 4: as rnd 2\nrnd 5: sc in each st of rnd 2\n",
			[]string{"3 round-order +1"}},

		// Rounds that lose their corners, without a claim, and the next.
		{"corners passed over", "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [dc in each st, (2 dc, ch 1, 2 dc, corner ch 2, 2 dc) in corner] 4 times\n" +
			"rnd 3: [dc in next 5 st, dc in next 3 sp, (2 dc, corner ch 2, 2 dc) in corner] 4 times\nrnd 4: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n",
			[]string{"4 corner-order +1"}},
		{"no corner worked into", "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [dc in each st] 4 times\nrnd 3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n",
			[]string{"3 corner-order +1"}},

		{"no corner of a border worked into", "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\npanel 2 by 2\nedge of panel\nrnd 1: [sc in each st and ch] 4 times\nrnd 2: [sc in each st, (sc, corner ch 1, sc) in corner] 4 times\n",
			[]string{"5 corner-order +1"}},

		// Rounds of one statement.
		{"the steps of several rounds", "ring\nrnd 1: 12 dc in ring = 12 dc\nrnd 2-4: dc in next st = 12 dc\nrnd 5: dc in each st = 12 dc\n",
			[]string{"3 unworked +4"}},

		// Edges.
		{"an edge that is no other one", "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\npanel wrap on point\nedge of nek\nrnd 1: [sc in each st, sc in corner] around\nedge of panel\nrnd 1: [sc in each st, sc in corner] 2 times\n",
			[]string{"4 syntax"}},
		{"an edge whose name means nothing", "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\npanel wrap on point\nedge of sail\nrnd 1: sc in each st\nedge of panel\nrnd 1: [sc in each st, sc in corner] 2 times\n",
			[]string{"4 syntax"}},

		// Rounds and lines that cannot be read.
		{"corners that the claim does not speak of", "ring\nrnd 1: [3 dc in in ring, corner ch 2] 4 times = 12 dc\nrnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 28 dc\n",
			[]string{"2 syntax +2"}},
		{"a number that is missing", circle + "rnd : [2 sc in next st] around = 12 sc\nrnd 3: [sc in next st, 2 sc in next st] around = 18 sc\n",
			[]string{"3 syntax"}},
		{"a word twice", circle + "rnd rnd 2: [2 sc in next st] around = 12 sc\nrnd 3: [sc in next st, 2 sc in next st] around = 18 sc\n",
			[]string{"3 syntax"}},
		{"a line that may be a round", circle + "2 sc in next st around\nrnd 3: [sc in next st, 2 sc in next st] around = 18 sc\n",
			[]string{"3 syntax +2"}},
		{"the ring", "ring ch\nrnd 1: 6 sc in next ch = 6 sc\n",
			[]string{"1 syntax +2"}},
		{"gaps that no claim speaks of", circle + "rnd 2: [2 sc in in next st] around = 12 sc\nrnd 3: [2 sc in next gap] 6 times = 12 sc\n",
			[]string{"3 syntax +1"}},
		{"the gauge", "gauge 14 dc 10 cm\n" + circle + "rnd 2 until across 20 cm: 2 sc in each st\nrnd next: sc in each st = 96 sc\n",
			[]string{"1 syntax +2"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, found(t, test.text)); diff != "" {
				t.Errorf("%s(-want +got):\n%s", test.text, diff)
			}
		})
	}
}

// TestTwoFaults: what is held back for one fault is not another one.
func TestTwoFaults(t *testing.T) {
	const circle = "ring\nrnd 1: 6 sc in ring = 6 sc\n"
	for _, test := range []struct {
		name, text string
		want       []string
	}{
		{"a name, and a count further up", circle + "rnd 2: [inc] around = 12 sc\nrnd 3: [sc in next st, 2 sc in next st] around = 18 sc\nrnd 4: [sc in next 2 st, 2 sc in next st] around = 25 sc\n",
			[]string{"3 unknown-stitch", "5 claim-count"}},
		{"a round that cannot be read, and a count", circle + "rnd 2: [2 sc in in next st] around = 12 sc\nrnd 3: [sc in next st, 2 sc in next st] around = 19 sc\n",
			[]string{"3 syntax", "4 claim-count"}},
		{"another stitch in the claim, on what is not known", "ring\nrnd 1: [3 dc in in ring, corner ch 2] 4 times = 12 dc\nrnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 28 tr\n",
			[]string{"2 syntax +1", "3 claim-count"}},
		{"a round that is missing, and a count", circle + "rnd 3: sc in each st = 40 sc\n",
			[]string{"3 round-order", "3 claim-count"}},
		{"a round twice, and a count", circle + "rnd 2: [2 sc in next st] around = 12 sc\nrnd 2: [2 sc in next st] around = 12 sc\nrnd 3: [sc in next st, 2 sc in next st] around = 19 sc\n",
			[]string{"4 round-order +1", "5 claim-count"}},
		{"a step that does not close, and another stitch in the claim", circle + "rnd 2: [sc in next 4 st] around = 8 dc\n",
			[]string{"3 repeat-remainder", "3 claim-count"}},
		{"corners that are lost, and a count further up", "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [dc in each st] 4 times\nrnd 3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\nrnd 4: 12 dc in ring = 12 dc\nrnd 5: dc in each st = 13 dc\n",
			[]string{"3 corner-order +1", "6 claim-count"}},
		{"the steps of several rounds, and a count further up", "ring\nrnd 1: 12 dc in ring = 12 dc\nrnd 2-4: dc in next st = 12 dc\nrnd 5: dc in each st = 13 dc\n",
			[]string{"3 unworked +3", "4 claim-count"}},
		{"nothing to work on, and a count further up", circle + "rnd 2: dc in in next st\nrnd 3: sc in each st = 9 sc\nrnd 4: [sc in next 3 st, ch 1] around = 10 sc\n",
			[]string{"3 syntax", "5 claim-count"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, found(t, test.text)); diff != "" {
				t.Errorf("%s(-want +got):\n%s", test.text, diff)
			}
		})
	}
}

// found reads and works a draft, and lists what is found by line and rule.
func found(t *testing.T, text string) []string {
	t.Helper()
	draft, found := notation.Parse("", text)
	_, more, err := model.Build(t.Context(), draft, model.WithFound(found))
	if err != nil {
		t.Fatal(err)
	}
	list := []string{}
	for _, f := range notation.SortFindings(append(found, more...)) {
		s := fmt.Sprintf("%d %s", f.Span.Start.Line, f.Rule)
		if f.Held > 0 {
			s += fmt.Sprintf(" +%d", f.Held)
		}
		list = append(list, s)
	}
	return list
}
