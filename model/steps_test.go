package model_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Short rounds to work on. The first stitch is number 0 in all of them; where
// the foundation is a ring of chains, that is number 0.
const (
	four     = "ring\nrnd 1: 4 sc in ring\n"                                                 // 0 1 2 3, a gap after each
	three    = "ring\nrnd 1: 3 sc in ring\n"                                                 // 0 1 2
	lace     = "ring\nrnd 1: [sc in ring, ch 2] 2 times\n"                                   // sc 0, ch 1, sc 2, ch 3
	blocks   = "ring\nrnd 1: [2 dc in ring, corner ch 1] 2 times\n"                          // dc 0 1, corner 2, dc 3 4, corner 5
	pairs    = "ring\nrnd 1: [dc in ring, ch 1] 2 times\nrnd 2: [2 dc in next sp] 2 times\n" // 4 5, gap, 6 7, gap
	coloured = "yarn sand\nyarn reed\nring\n"
)

// Three petals over loops: sc 0 2 4 and loops 1 3 5, petals of 6-8, 9-11, 12-14.
const petals = "ring\nrnd 1: [sc in ring, ch 3] 3 times\nrnd 2: [(sc, dc, sc) in next sp] 3 times\n"

var petals2 = []string{"rnd 1 [0]: sc@ring ch3 sc@ring ch3 sc@ring ch3",
	"rnd 2 [6]: sc@sp1 dc@sp1 sc@sp1 | sc@sp3 dc@sp3 sc@sp3 | sc@sp5 dc@sp5 sc@sp5 |"}

const (
	eight1  = "rnd 1 [0]: sc@ring | sc@ring | sc@ring | sc@ring | sc@ring | sc@ring | sc@ring | sc@ring |"
	four1   = "rnd 1 [0]: sc@ring | sc@ring | sc@ring | sc@ring |"
	three1  = "rnd 1 [0]: sc@ring | sc@ring | sc@ring |"
	lace1   = "rnd 1 [0]: sc@ring ch2 sc@ring ch2"
	blocks1 = "rnd 1 [0]: dc@ring | dc@ring ch1* dc@ring | dc@ring ch1*"
	pairs1  = "rnd 1 [0]: dc@ring ch1 dc@ring ch1"
	pairs2  = "rnd 2 [4]: dc@sp1 dc@sp1 | dc@sp3 dc@sp3 |"
)

// TestSteps works one round of every kind of step and place. The pictures were
// worked out by hand; see picture for how to read them.
func TestSteps(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       []string
	}{
		// The ring.
		{"in ring", three, []string{three1}},
		{"in a ring of chains", "ring ch 4\nrnd 1: 3 sc in ring\n", []string{"rnd 1 [1]: sc@ring | sc@ring | sc@ring |"}},
		{"chains of the ring", "ring ch 4\nrnd 1: [dc in next ch, ch 1] around\n",
			[]string{"rnd 1 [1]: dc@ch0.1 ch1 dc@ch0.2 ch1 dc@ch0.3 ch1 dc@ch0.4 ch1"}},
		{"every chain of the ring", "ring ch 3\nrnd 1: sc in each ch\n",
			[]string{"rnd 1 [1]: sc@ch0.1 | sc@ch0.2 | sc@ch0.3 |"}},
		{"the ring as a space", "ring ch 4\nrnd 1: 3 dc in next sp\n", []string{"rnd 1 [1]: dc@sp0 dc@sp0 dc@sp0"}},
		{"a group in the ring", "ring\nrnd 1: [(2 dc, ch 1) in ring] 2 times\n", []string{"rnd 1 [0]: dc@ring dc@ring ch1 dc@ring dc@ring ch1"}},
		{"a later round in the ring", three + "rnd 2: 2 dc in ring\n", []string{three1, "rnd 2 [3]: dc@ring | dc@ring |"}},

		// Next.
		{"no place", three + "rnd 2: dc, dc, dc\n", []string{three1, "rnd 2 [3]: dc@0 | dc@1 | dc@2 |"}},
		{"next st", three + "rnd 2: dc in next st, dc in next 2 st\n", []string{three1, "rnd 2 [3]: dc@0 | dc@1 | dc@2 |"}},
		{"several in next st", three + "rnd 2: 2 dc in next st, dc in next 2 st\n", []string{three1, "rnd 2 [3]: dc@0 dc@0 | dc@1 | dc@2 |"}},
		{"next sp", lace + "rnd 2: [3 dc in next sp] 2 times\n", []string{lace1, "rnd 2 [4]: dc@sp1 dc@sp1 dc@sp1 | dc@sp3 dc@sp3 dc@sp3 |"}},
		{"next ch", lace + "rnd 2: dc in next 4 ch\n", []string{lace1, "rnd 2 [4]: dc@ch1.1 | dc@ch1.2 | dc@ch3.1 | dc@ch3.2 |"}},
		{"two in one chain", lace + "rnd 2: [2 dc in next ch, dc in next ch] around\n",
			[]string{lace1, "rnd 2 [4]: dc@ch1.1 dc@ch1.1 | dc@ch1.2 | dc@ch3.1 dc@ch3.1 | dc@ch3.2 |"}},
		{"next gap", pairs + "rnd 3: [dc in next gap, ch 1] around\n", []string{pairs1, pairs2, "rnd 3 [8]: dc@gap5 ch1 dc@gap7 ch1"}},
		{"next gap between single stitches", three + "rnd 2: dc in next 3 gap\n", []string{three1, "rnd 2 [3]: dc@gap0 | dc@gap1 | dc@gap2 |"}},
		{"corner", blocks + "rnd 2: [(dc, ch 1, dc) in corner] 2 times\n", []string{blocks1, "rnd 2 [6]: dc@sp2 ch1 dc@sp2 | dc@sp5 ch1 dc@sp5 |"}},
		{"a stitch by name", "ring\nrnd 1: 2 dc in ring, 2 sc in ring\nrnd 2: sc in next sc, sc in next sc, sc in next 2 dc\n",
			[]string{"rnd 1 [0]: dc@ring | dc@ring | sc@ring | sc@ring |", "rnd 2 [4]: sc@2 | sc@3 | sc@0 | sc@1 |"}},
		{"a stitch by name, past others", "ring\nrnd 1: [dc in ring, sc in ring] 2 times\nrnd 2: [2 dc in next dc, sk 1 sc] around\n",
			[]string{"rnd 1 [0]: dc@ring | sc@ring | dc@ring | sc@ring |", "rnd 2 [4]: dc@0 dc@0 | dc@2 dc@2 |"}},
		{"stitches and spaces in turn", lace + "rnd 2: [dc in next st, 2 dc in next sp] around\n",
			[]string{lace1, "rnd 2 [4]: dc@0 | dc@sp1 dc@sp1 | dc@2 | dc@sp3 dc@sp3 |"}},

		// Each.
		{"each st", three + "rnd 2: dc in each st\n", []string{three1, "rnd 2 [3]: dc@0 | dc@1 | dc@2 |"}},
		{"several in each st", three + "rnd 2: 2 dc in each st\n", []string{three1, "rnd 2 [3]: dc@0 dc@0 | dc@1 dc@1 | dc@2 dc@2 |"}},
		{"each of next", three + "rnd 2: 2 dc in each of next 2 st, dc in each st\n", []string{three1, "rnd 2 [3]: dc@0 dc@0 | dc@1 dc@1 | dc@2 |"}},
		{"each sp", lace + "rnd 2: 2 dc in each sp\n", []string{lace1, "rnd 2 [4]: dc@sp1 dc@sp1 | dc@sp3 dc@sp3 |"}},
		{"each gap", pairs + "rnd 3: 2 sc in each gap\n", []string{pairs1, pairs2, "rnd 3 [8]: sc@gap5 sc@gap5 | sc@gap7 sc@gap7 |"}},
		{"each ch", lace + "rnd 2: sc in each ch\n", []string{lace1, "rnd 2 [4]: sc@ch1.1 | sc@ch1.2 | sc@ch3.1 | sc@ch3.2 |"}},
		{"each st and ch", lace + "rnd 2: sc in each st and ch\n",
			[]string{lace1, "rnd 2 [4]: sc@0 | sc@ch1.1 | sc@ch1.2 | sc@2 | sc@ch3.1 | sc@ch3.2 |"}},
		{"each of a name", "ring\nrnd 1: 2 dc in ring, 2 sc in ring\nrnd 2: sc in each dc, sk 2 sc\n",
			[]string{"rnd 1 [0]: dc@ring | dc@ring | sc@ring | sc@ring |", "rnd 2 [4]: sc@0 | sc@1 |"}},
		{"each corner", blocks + "rnd 2: (dc, ch 1) in each corner\n", []string{blocks1, "rnd 2 [6]: dc@sp2 ch1 dc@sp5 ch1"}},
		{"each stops at a corner", blocks + "rnd 2: [dc in each st, 2 dc in corner] 2 times\n",
			[]string{blocks1, "rnd 2 [6]: dc@0 | dc@1 | dc@sp2 dc@sp2 | dc@3 | dc@4 | dc@sp5 dc@sp5 |"}},
		{"each stops at a corner that is a stitch", "ring\nrnd 1: [sc in ring, corner sc in ring] 2 times\nrnd 2: [dc in each st, 2 dc in corner] 2 times\n",
			[]string{"rnd 1 [0]: sc@ring | sc*@ring | sc@ring | sc*@ring |", "rnd 2 [4]: dc@0 | dc@1 dc@1 | dc@2 | dc@3 dc@3 |"}},
		{"each begins after a corner", blocks + "rnd 2: [2 dc in corner, dc in each st] 2 times\n",
			[]string{blocks1, "rnd 2 [6]: dc@sp2 dc@sp2 | dc@3 | dc@4 | dc@sp5 dc@sp5 | dc@0 | dc@1 |"}},
		{"a side begins after the last corner", "ring\nrnd 1: [corner ch 1, 2 dc in ring] 2 times\nrnd 2: [dc in each st, 2 dc in corner] 2 times\n",
			[]string{"rnd 1 [0]: ch1* dc@ring | dc@ring ch1* dc@ring | dc@ring", "rnd 2 [6]: dc@4 | dc@5 | dc@sp0 dc@sp0 | dc@1 | dc@2 | dc@sp3 dc@sp3 |"}},
		{"each st and ch leaves the corner", "ring\nrnd 1: [dc in ring, ch 2, dc in ring, corner ch 2] 2 times\nrnd 2: [sc in each st and ch, 3 sc in corner] 2 times\n",
			[]string{
				"rnd 1 [0]: dc@ring ch2 dc@ring ch2* dc@ring ch2 dc@ring ch2*",
				"rnd 2 [8]: sc@0 | sc@ch1.1 | sc@ch1.2 | sc@2 | sc@sp3 sc@sp3 sc@sp3 | sc@4 | sc@ch5.1 | sc@ch5.2 | sc@6 | sc@sp7 sc@sp7 sc@sp7 |",
			}},

		// The same place, and legs over several.
		{"same", three + "rnd 2: dc in next st, dc in same, dc in next 2 st\n", []string{three1, "rnd 2 [3]: dc@0 dc@0 | dc@1 | dc@2 |"}},
		{"same after a ring", "ring\nrnd 1: sc in ring, 2 sc in same\n", []string{three1}},
		{"same chain", lace + "rnd 2: [dc in next ch, ch 1, dc in same, sk 1 ch] around\n",
			[]string{lace1, "rnd 2 [4]: dc@ch1.1 ch1 dc@ch1.1 | dc@ch3.1 ch1 dc@ch3.1 |"}},
		{"same gap", three + "rnd 2: [dc in next gap, dc in same] 3 times\n", []string{three1, "rnd 2 [3]: dc@gap0 dc@gap0 | dc@gap1 dc@gap1 | dc@gap2 dc@gap2 |"}},
		{"a group in the same place", three + "rnd 2: [dc in next st, (ch 1, dc) in same] 3 times\n",
			[]string{three1, "rnd 2 [3]: dc@0 ch1 dc@0 | dc@1 ch1 dc@1 | dc@2 ch1 dc@2 |"}},
		{"the same place again and again", "ring\nrnd 1: 8 sc in ring\nrnd 2: dc in next st, [sk 1 st, dc in same] 7 times\n",
			[]string{eight1, "rnd 2 [8]: dc@0 dc@0 dc@0 dc@0 dc@0 dc@0 dc@0 dc@0"}},
		{"the same space again and again", "ring\nrnd 1: 8 sc in ring, ch 1\nrnd 2: dc in next sp, [sc in same, sk 1 st] 8 times\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring | sc@ring | sc@ring | sc@ring | sc@ring | sc@ring | sc@ring ch1",
				"rnd 2 [9]: dc@sp8 sc@sp8 sc@sp8 sc@sp8 sc@sp8 sc@sp8 sc@sp8 sc@sp8 sc@sp8"}},
		{"over", four + "rnd 2: dc2tog over next 2 st, dc in next 2 st\n", []string{four1, "rnd 2 [4]: dc2tog@0+1 | dc@2 | dc@3 |"}},
		{"legs without a place", four + "rnd 2: dc3tog, dc\n", []string{four1, "rnd 2 [4]: dc3tog@0+1+2 | dc@3 |"}},
		{"over sp", lace + "rnd 2: dc2tog over next 2 sp\n", []string{lace1, "rnd 2 [4]: dc2tog@sp1+sp3"}},
		{"over ch", lace + "rnd 2: [dc2tog over next 2 ch] around\n", []string{lace1, "rnd 2 [4]: dc2tog@ch1.1+ch1.2 | dc2tog@ch3.1+ch3.2 |"}},
		{"over gap", three + "rnd 2: dc3tog over next 3 gap\n", []string{three1, "rnd 2 [3]: dc3tog@gap0+gap1+gap2"}},
		{"over corner", blocks + "rnd 2: dc2tog over next 2 corner\n", []string{blocks1, "rnd 2 [6]: dc2tog@sp2+sp5"}},
		{"over same and next st", four + "rnd 2: dc in next st, dc2tog over same and next st, dc in next 2 st\n",
			[]string{four1, "rnd 2 [4]: dc@0 dc2tog@0+1 | dc@2 | dc@3 |"}},
		{"over same and next gap", pairs + "rnd 3: [dc in next 2 st, dc2tog over same and next gap] 2 times\n",
			[]string{pairs1, pairs2, "rnd 3 [8]: dc@4 | dc@5 dc2tog@5+gap5 | dc@6 | dc@7 dc2tog@7+gap7 |"}},
		{"over same and next ch", lace + "rnd 2: [dc in next ch, dc2tog over same and next ch] 2 times\n",
			[]string{lace1, "rnd 2 [4]: dc@ch1.1 dc2tog@ch1.1+ch1.2 | dc@ch3.1 dc2tog@ch3.1+ch3.2 |"}},
		{"over same and next corner", blocks + "rnd 2: [dc in next 2 st, dc2tog over same and next corner] 2 times\n",
			[]string{blocks1, "rnd 2 [6]: dc@0 | dc@1 dc2tog@1+sp2 | dc@3 | dc@4 dc2tog@4+sp5 |"}},
		{"a chain of legs", four + "rnd 2: dc in next st, [dc2tog over same and next st] 3 times, dc in same\n",
			[]string{four1, "rnd 2 [4]: dc@0 dc2tog@0+1 dc2tog@1+2 dc2tog@2+3 dc@3 |"}},
		{"dc3tog in one place", three + "rnd 2: [(dc3tog, ch 1, dc3tog) in next st] 3 times\n",
			[]string{three1, "rnd 2 [3]: dc3tog@0 ch1 dc3tog@0 | dc3tog@1 ch1 dc3tog@1 | dc3tog@2 ch1 dc3tog@2 |"}},
		{"dc3tog in a space", lace + "rnd 2: [dc3tog in next sp] 2 times\n", []string{lace1, "rnd 2 [4]: dc3tog@sp1 | dc3tog@sp3 |"}},
		{"clusters", four + "rnd 2: cl in next st, cl over next 3 st\n", []string{four1, "rnd 2 [4]: cl@0 | cl@1+2+3 |"}},

		// Loops and posts.
		{"loops", three + "rnd 2: sc in back loop of next st, sc in front loop of next st, sc in both loops of next st\n",
			[]string{three1, "rnd 2 [3]: sc@back0 | sc@front1 | sc@2 |"}},
		{"back loop of each", three + "rnd 2: sc in back loop of each st\n", []string{three1, "rnd 2 [3]: sc@back0 | sc@back1 | sc@back2 |"}},
		{"back loop of a chain", lace + "rnd 2: sc in back loop of next 4 ch\n", []string{lace1, "rnd 2 [4]: sc@backch1.1 | sc@backch1.2 | sc@backch3.1 | sc@backch3.2 |"}},
		{"decrease in front loops", four + "rnd 2: [sc2tog over front loop of next 2 st] 2 times\n", []string{four1, "rnd 2 [4]: sc2tog@front0+front1 | sc2tog@front2+front3 |"}},
		{"posts", three + "rnd 2: FPdc in next st, BPsc in next st, dc\n", []string{three1, "rnd 2 [3]: FPdc@0 | BPsc@1 | dc@2 |"}},

		{"same, by another loop", four + "rnd 2: [sc in back loop of next st, (dc, hdc) in front loop of same, sc2tog over same and next st] 2 times\n",
			[]string{four1, "rnd 2 [4]: sc@back0 dc@front0 hdc@front0 sc2tog@0+1 | sc@back2 dc@front2 hdc@front2 sc2tog@2+3 |"}},

		// Earlier rounds. A stitch that reaches further down goes into the next place
		// beyond what the stitch worked into last stands over, or into what the place
		// after that stands over, whichever comes first.
		{"of rnd, each", three + "rnd 2: sl st in front loop of each st\nrnd 3: dc in back loop of each st of rnd 1\n",
			[]string{three1, "rnd 2 [3]: sl st@front0 | sl st@front1 | sl st@front2 |", "rnd 3 [6]: dc@back0 | dc@back1 | dc@back2 |"}},
		{"of rnd, straight below", four + "rnd 2: sc in each st\nrnd 3: [sc in next st, dc in next st of rnd 1, sk 1 st] around\n",
			[]string{four1, "rnd 2 [4]: sc@0 | sc@1 | sc@2 | sc@3 |", "rnd 3 [8]: sc@4 | dc@1 | sc@6 | dc@3 |"}},
		{"of rnd, below increases", "ring\nrnd 1: 2 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: [sc in next st, FPdc in next st of rnd 1, sk 1 st] around\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: sc@0 sc@0 | sc@1 sc@1 |", "rnd 3 [6]: sc@2 | FPdc@0 | sc@4 | FPdc@1 |"}},
		{"of rnd, below decreases", four + "rnd 2: [sc2tog] 2 times\nrnd 3: [sc in next st, dc in next st of rnd 1] around\n",
			[]string{four1, "rnd 2 [4]: sc2tog@0+1 | sc2tog@2+3 |", "rnd 3 [6]: sc@4 | dc@2 | sc@5 | dc@0 |"}},
		{"of rnd, a space further down", lace + "rnd 2: [dc in next st, ch 2, sk 1 sp] 2 times\nrnd 3: [sc in next st, 2 dc in next sp of rnd 1] around\n",
			[]string{lace1, "rnd 2 [4]: dc@0 ch2 dc@2 ch2", "rnd 3 [8]: sc@4 | dc@sp1 dc@sp1 | sc@6 | dc@sp3 dc@sp3 |"}},
		{"of rnd, what shows between petals", petals + "rnd 3: [sc in next 3 st, sc in next st of rnd 1] 3 times\n",
			append(petals2, "rnd 3 [15]: sc@6 | sc@7 | sc@8 | sc@2 | sc@9 | sc@10 | sc@11 | sc@4 | sc@12 | sc@13 | sc@14 | sc@0 |")},
		{"of rnd, in the midst of petals", petals + "rnd 3: [sc in next st, dc in next sp of rnd 1, sk 1 st, sc in next st] 3 times\n",
			append(petals2, "rnd 3 [15]: sc@6 | dc@sp1 | sc@8 | sc@9 | dc@sp3 | sc@11 | sc@12 | dc@sp5 | sc@14 |")},
		{"of rnd, between petals turned", petals + "rnd 3: turn, [sc in next 3 st, sc in next st of rnd 1] 3 times\n",
			append(petals2, "rnd 3 turned [15]: sc@14 | sc@13 | sc@12 | sc@4 | sc@11 | sc@10 | sc@9 | sc@2 | sc@8 | sc@7 | sc@6 | sc@0 |")},
		{"of rnd, skipped before", four + "rnd 2: sc in each st\nrnd 3: [sk 1 st, dc in next st of rnd 1, sc in next st] around\n",
			[]string{four1, "rnd 2 [4]: sc@0 | sc@1 | sc@2 | sc@3 |", "rnd 3 [8]: dc@0 | sc@5 | dc@2 | sc@7 |"}},
		{"of rnd, after one that reaches further down", "ring\nrnd 1: [dc in ring, ch 2] 3 times\nrnd 2: [sc in next dc, ch 3] around\n" +
			"rnd 3: [sc in next sc, tr in next sp of rnd 1] around\nrnd 4: [sc in next sc, sc in next tr, dc in next sc of rnd 2] around\n",
			[]string{"rnd 1 [0]: dc@ring ch2 dc@ring ch2 dc@ring ch2", "rnd 2 [6]: sc@0 ch3 sc@2 ch3 sc@4 ch3",
				"rnd 3 [12]: sc@6 | tr@sp1 | sc@8 | tr@sp3 | sc@10 | tr@sp5 |",
				"rnd 4 [18]: sc@12 | sc@13 | dc@8 | sc@14 | sc@15 | dc@10 | sc@16 | sc@17 | dc@6 |"}},
		{"of rnd, where all reach past it", four + "rnd 2: sc in each st\nrnd 3: [dc in next st of rnd 1, picot 3] 4 times\nrnd 4: [sc in next st, dc in next st of rnd 2] 4 times\n",
			[]string{four1, "rnd 2 [4]: sc@0 | sc@1 | sc@2 | sc@3 |", "rnd 3 [8]: dc@0 | picot3@8 dc@1 | picot3@10 dc@2 | picot3@12 dc@3 | picot3@14",
				"rnd 4 [16]: sc@8 | dc@4 | sc@10 | dc@5 | sc@12 | dc@6 | sc@14 | dc@7 |"}},
		{"of rnd, in the midst of petals with a chain", "ring\nrnd 1: [sc in ring, ch 4] 3 times\nrnd 2: [(dc, ch 2, dc) in next sp] around\n" +
			"rnd 3: [sc in next dc, sc in next sp of rnd 1, sc in next dc] 3 times\n",
			[]string{"rnd 1 [0]: sc@ring ch4 sc@ring ch4 sc@ring ch4", "rnd 2 [6]: dc@sp1 ch2 dc@sp1 | dc@sp3 ch2 dc@sp3 | dc@sp5 ch2 dc@sp5 |",
				"rnd 3 [15]: sc@6 | sc@sp1 | sc@8 | sc@9 | sc@sp3 | sc@11 | sc@12 | sc@sp5 | sc@14 |"}},
		{"of rnd, far ahead of the hook", four + "rnd 2: sc in each st\nrnd 3: sc in each st, [ch 1, dc in next st of rnd 1] 4 times\n",
			[]string{four1, "rnd 2 [4]: sc@0 | sc@1 | sc@2 | sc@3 |", "rnd 3 [8]: sc@4 | sc@5 | sc@6 | sc@7 ch1 dc@0 ch1 dc@1 ch1 dc@2 ch1 dc@3 |"}},
		{"of rnd, in gaps turned", "worked turned\nring\nrnd 1: 4 dc in ring\nrnd 2: [2 dc in next gap] around\nrnd 3: [sc in next 2 st, sc in next st of rnd 1] 4 times\n",
			[]string{"rnd 1 [0]: dc@ring | dc@ring | dc@ring | dc@ring |",
				"rnd 2 turned [4]: dc@gap2 dc@gap2 | dc@gap1 dc@gap1 | dc@gap0 dc@gap0 | dc@gap3 dc@gap3 |",
				"rnd 3 [12]: sc@11 | sc@10 | sc@0 | sc@9 | sc@8 | sc@1 | sc@7 | sc@6 | sc@2 | sc@5 | sc@4 | sc@3 |"}},
		{"of rnd, behind a chain", four + "rnd 2: [dc in next st, ch 1, sk 1 st] 2 times\nrnd 3: [sc in next st, dc in next st of rnd 1] 2 times\n",
			[]string{four1, "rnd 2 [4]: dc@0 ch1 dc@2 ch1", "rnd 3 [8]: sc@4 | dc@1 | sc@6 | dc@3 |"}},
		{"of rnd, past a picot", four + "rnd 2: [sc in next st, picot 3, sc in next st] 2 times\nrnd 3: [sc in next st, dc in next st of rnd 1, sk 1 st] 2 times\n",
			[]string{four1, "rnd 2 [4]: sc@0 | picot3@4 sc@1 | sc@2 | picot3@7 sc@3 |", "rnd 3 [10]: sc@4 | dc@1 | sc@7 | dc@3 |"}},
		{"of rnd, below decreases turned", four + "rnd 2: [sc2tog] 2 times\nrnd 3: turn, [sc in next st, dc in next st of rnd 1] 2 times\n",
			[]string{four1, "rnd 2 [4]: sc2tog@0+1 | sc2tog@2+3 |", "rnd 3 turned [6]: sc@5 | dc@1 | sc@4 | dc@3 |"}},
		{"of rnd, the round below", three + "rnd 2: dc in next 3 st of rnd 1\n", []string{three1, "rnd 2 [3]: dc@0 | dc@1 | dc@2 |"}},
		{"of rnd, three rounds down", three + "rnd 2-3: sc in each st\nrnd 4: [sc in next st, FPdc in next st of rnd 1, sk 1 st, sc in next st]  1 times\n",
			[]string{three1, "rnd 2 [3]: sc@0 | sc@1 | sc@2 |", "rnd 3 [6]: sc@3 | sc@4 | sc@5 |", "rnd 4 [9]: sc@6 | FPdc@1 | sc@8 |"}},

		// Skips.
		{"sk st", four + "rnd 2: [dc in next st, ch 1, sk 1 st] 2 times\n", []string{four1, "rnd 2 [4]: dc@0 ch1 dc@2 ch1"}},
		{"sk several", four + "rnd 2: [dc in next st, ch 2, sk 3 st] around\n", []string{four1, "rnd 2 [4]: dc@0 ch2"}},
		{"skip between stitches", four + "rnd 2: [sc in next st, sk 1 st] around\n", []string{four1, "rnd 2 [4]: sc@0 | sc@2 |"}},
		{"sk sp", lace + "rnd 2: [dc in next sp, sk sp] around\n", []string{lace1, "rnd 2 [4]: dc@sp1"}},
		{"sk ch", lace + "rnd 2: [sk 1 ch, dc in next ch] around\n", []string{lace1, "rnd 2 [4]: dc@ch1.2 | dc@ch3.2 |"}},
		{"sk gap", four + "rnd 2: [dc in next gap, sk 1 gap] around\n", []string{four1, "rnd 2 [4]: dc@gap0 | dc@gap2 |"}},
		{"sk corner", blocks + "rnd 2: [dc in next 2 st, sk 1 corner] 2 times\n", []string{blocks1, "rnd 2 [6]: dc@0 | dc@1 | dc@3 | dc@4 |"}},
		{"sk a name", "ring\nrnd 1: [dc in ring, sc in ring] 2 times\nrnd 2: [dc in next dc, ch 1, sk 1 sc] around\n",
			[]string{"rnd 1 [0]: dc@ring | sc@ring | dc@ring | sc@ring |", "rnd 2 [4]: dc@0 ch1 dc@2 ch1"}},
		{"leading skip", four + "rnd 2: sk 1 st, dc in next 3 st\n", []string{four1, "rnd 2 [4]: dc@1 | dc@2 | dc@3 |"}},
		{"leading skip, worked at the end", four + "rnd 2: sk 1 st, dc in next 4 st\n", []string{four1, "rnd 2 [4]: dc@1 | dc@2 | dc@3 | dc@0 |"}},
		{"leading skip in a repeat", four + "rnd 2: [sk 1 st, dc in next st] around\n", []string{four1, "rnd 2 [4]: dc@1 | dc@3 |"}},
		{"leading skip before a repeat", four + "rnd 2: sk 1 st, [dc in next st, sk 1 st] around\n", []string{four1, "rnd 2 [4]: dc@1 | dc@3 |"}},
		{"leading skip of spaces", lace + "rnd 2: sk sp, 2 dc in next sp\n", []string{lace1, "rnd 2 [4]: dc@sp3 dc@sp3"}},

		// Chains and picots.
		{"a run of chains", three + "rnd 2: [sc in next st, ch 3] around\n", []string{three1, "rnd 2 [3]: sc@0 ch3 sc@1 ch3 sc@2 ch3"}},
		{"chains after chains are one run", three + "rnd 2: [sc in next st, ch 1, ch 2] around\n", []string{three1, "rnd 2 [3]: sc@0 ch3 sc@1 ch3 sc@2 ch3"}},
		{"a corner space ends a run", three + "rnd 2: sc in next st, ch 1, corner ch 2, sc in next 2 st\n",
			[]string{three1, "rnd 2 [3]: sc@0 ch1 ch2* sc@1 | sc@2 |"}},
		{"chains in a repeat", three + "rnd 2: sc in next st, [ch 1] 4 times, sc in next 2 st\n", []string{three1, "rnd 2 [3]: sc@0 ch4 sc@1 | sc@2 |"}},
		{"picot", three + "rnd 2: [sc in next st, picot 3] around\n", []string{three1, "rnd 2 [3]: sc@0 | picot3@3 sc@1 | picot3@5 sc@2 | picot3@7"}},
		{"picot on a run of chains", "ring\nrnd 1: 2 sc in ring\nrnd 2: [sc in next st, ch 2, picot 3, ch 1] around\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: sc@0 ch3 picot3@sp3 sc@1 ch3 picot3@sp6"}},
		{"a picot leaves no place", three + "rnd 2: [sc in next st, picot 3] around\nrnd 3: sc in each st and ch\n",
			[]string{three1, "rnd 2 [3]: sc@0 | picot3@3 sc@1 | picot3@5 sc@2 | picot3@7", "rnd 3 [9]: sc@3 | sc@5 | sc@7 |"}},
		{"a picot inside a group", "ring\nrnd 1: 2 sc in ring\nrnd 2: [(dc, picot 4, dc) in next st] around\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: dc@0 picot4@2 dc@0 | dc@1 picot4@5 dc@1 |"}},
		{"starting chain in the ring", "ring\nrnd 1: ch 3 as dc, 2 dc in ring\n", []string{"rnd 1 [0]: dc~3@ring | dc@ring | dc@ring |"}},
		{"starting chain in a ring of chains", "ring ch 4\nrnd 1: ch 3 as dc, 2 dc in ring\n", []string{"rnd 1 [1]: dc~3@ring | dc@ring | dc@ring |"}},
		{"starting chain", three + "rnd 2: ch 3 as dc, dc in each st\n", []string{three1, "rnd 2 [3]: dc~3@0 | dc@1 | dc@2 |"}},
		{"starting chain in a space", lace + "rnd 2: ch 2 as hdc in next sp, hdc in same, 2 hdc in next sp\n",
			[]string{lace1, "rnd 2 [4]: hdc~2@sp1 hdc@sp1 | hdc@sp3 hdc@sp3 |"}},
		{"starting chain in a group", lace + "rnd 2: (ch 3 as dc, dc) in next sp, 2 dc in next sp\n",
			[]string{lace1, "rnd 2 [4]: dc~3@sp1 dc@sp1 | dc@sp3 dc@sp3 |"}},
		{"a corner starting chain", three + "rnd 2: corner ch 1 as sc, sc in next 2 st\n", []string{three1, "rnd 2 [3]: sc~1*@0 | sc@1 | sc@2 |"}},

		// Corners.
		{"corner space in a group", three + "rnd 2: [(dc, corner ch 2, dc) in next st] 3 times\n",
			[]string{three1, "rnd 2 [3]: dc@0 ch2* dc@0 | dc@1 ch2* dc@1 | dc@2 ch2* dc@2 |"}},
		{"corner stitch in a group", three + "rnd 2: [(sc, corner sc, sc) in next st] 3 times\n",
			[]string{three1, "rnd 2 [3]: sc@0 sc*@0 sc@0 | sc@1 sc*@1 sc@1 | sc@2 sc*@2 sc@2 |"}},
		{"corner stitch of its own", three + "rnd 2: corner dc in next st, dc in next 2 st\n", []string{three1, "rnd 2 [3]: dc*@0 | dc@1 | dc@2 |"}},
		{"a corner may be taken for what it is", blocks + "rnd 2: [dc in next 2 st, 2 dc in next sp] 2 times\n",
			[]string{blocks1, "rnd 2 [6]: dc@0 | dc@1 | dc@sp2 dc@sp2 | dc@3 | dc@4 | dc@sp5 dc@sp5 |"}},

		// Groups.
		{"a group in each st", "ring\nrnd 1: 2 sc in ring\nrnd 2: (dc, ch 1, dc) in each st\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: dc@0 ch1 dc@0 | dc@1 ch1 dc@1 |"}},
		{"a named group", "stitch drift = (dc, ch 1, dc)\nring\nrnd 1: 2 sc in ring\nrnd 2: [drift in next st] around\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: dc@0 ch1 dc@0 | dc@1 ch1 dc@1 |"}},
		{"a named group of named groups", "stitch drift = (dc, ch 1, dc)\nstitch dune = (drift, ch 2, drift)\nring\nrnd 1: 1 sc in ring\nrnd 2: dune in next st\n",
			[]string{"rnd 1 [0]: sc@ring", "rnd 2 [1]: dc@0 ch1 dc@0 ch2 dc@0 ch1 dc@0"}},
		{"two named groups in one place", "stitch drift = (dc, ch 1, dc)\nring\nrnd 1: 1 sc in ring\nrnd 2: 2 drift in next st\n",
			[]string{"rnd 1 [0]: sc@ring", "rnd 2 [1]: dc@0 ch1 dc@0 dc@0 ch1 dc@0"}},
		{"a named group without a place", "stitch drift = (dc, ch 1, dc)\nring\nrnd 1: 2 sc in ring\nrnd 2: drift, drift\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: dc@0 ch1 dc@0 | dc@1 ch1 dc@1 |"}},
		{"the well-known groups", "ring\nrnd 1: 2 sc in ring\nrnd 2: vst in next st, shell in next st\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: dc@0 ch1 dc@0 | dc@1 dc@1 dc@1 dc@1 dc@1 |"}},
		{"a repeat in a group", "ring\nrnd 1: 1 sc in ring\nrnd 2: ([sc, ch 1] 2 times, sc) in next st\n",
			[]string{"rnd 1 [0]: sc@ring", "rnd 2 [1]: sc@0 ch1 sc@0 ch1 sc@0"}},
		{"a group in a group", "ring\nrnd 1: 1 sc in ring\nrnd 2: (sc, (ch 1, sc), sc) in next st\n",
			[]string{"rnd 1 [0]: sc@ring", "rnd 2 [1]: sc@0 ch1 sc@0 sc@0"}},

		// Repeats and rounds.
		{"a repeat in a repeat", "ring\nrnd 1: 6 sc in ring\nrnd 2: [[sc in next st, ch 1] 2 times, sc in next st] 2 times\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring | sc@ring | sc@ring | sc@ring | sc@ring |",
				"rnd 2 [6]: sc@0 ch1 sc@1 ch1 sc@2 | sc@3 ch1 sc@4 ch1 sc@5 |"}},
		{"a repeat before and after other steps", four + "rnd 2: dc in next st, [sc in next st] 2 times, dc in next st\n",
			[]string{four1, "rnd 2 [4]: dc@0 | sc@1 | sc@2 | dc@3 |"}},
		{"a range of rounds", blocks + "rnd 2-3: [dc in each st, corner dc in corner] 2 times\n",
			[]string{blocks1, "rnd 2 [6]: dc@0 | dc@1 | dc*@sp2 | dc@3 | dc@4 | dc*@sp5 |", "rnd 3 [12]: dc@6 | dc@7 | dc*@8 | dc@9 | dc@10 | dc*@11 |"}},
		{"as an earlier round", "ring\nrnd 1: 2 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: sc in each st\nrnd 4: as rnd 2\n",
			[]string{"rnd 1 [0]: sc@ring | sc@ring |", "rnd 2 [2]: sc@0 sc@0 | sc@1 sc@1 |", "rnd 3 [6]: sc@2 | sc@3 | sc@4 | sc@5 |",
				"rnd 4 [10]: sc@6 sc@6 | sc@7 sc@7 | sc@8 sc@8 | sc@9 sc@9 |"}},
		{"as a round that is as another", "ring\nrnd 1: 1 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: as rnd 2\nrnd 4: as rnd 3\n",
			[]string{"rnd 1 [0]: sc@ring", "rnd 2 [1]: sc@0 sc@0", "rnd 3 [3]: sc@1 sc@1 | sc@2 sc@2 |",
				"rnd 4 [7]: sc@3 sc@3 | sc@4 sc@4 | sc@5 sc@5 | sc@6 sc@6 |"}},
		{"join and fasten off make nothing", three + "rnd 2: sc in each st, join invisible, fasten off\n", []string{three1, "rnd 2 [3]: sc@0 | sc@1 | sc@2 |"}},
		{"worked turned", "worked turned\nring\nrnd 1: 3 sc in ring\nrnd 2: sc in next st, 2 sc in next st, sc in next st\nrnd 3: sc in each st\n",
			[]string{three1, "rnd 2 turned [3]: sc@2 | sc@1 sc@1 | sc@0 |", "rnd 3 [7]: sc@6 | sc@5 | sc@4 | sc@3 |"}},
		{"turned over chains", "worked turned\nring\nrnd 1: [sc in ring, ch 2] 2 times\nrnd 2: sc in each ch\n",
			[]string{lace1, "rnd 2 turned [4]: sc@ch3.2 | sc@ch3.1 | sc@ch1.2 | sc@ch1.1 |"}},
		{"turned over gaps", "worked turned\n" + pairs + "rnd 3: turn, dc in each gap\n",
			[]string{pairs1, "rnd 2 turned [4]: dc@sp3 dc@sp3 | dc@sp1 dc@sp1 |", "rnd 3 [8]: dc@gap5 | dc@gap7 |"}},
		{"turn before a round", three + "rnd 2: turn, sc in each st\nrnd 3: sc in each st\n",
			[]string{three1, "rnd 2 turned [3]: sc@2 | sc@1 | sc@0 |", "rnd 3 turned [6]: sc@3 | sc@4 | sc@5 |"}},
		{"turn after a round", "ring\nrnd 1: 3 sc in ring, turn\nrnd 2: sc in each st\n", []string{three1, "rnd 2 turned [3]: sc@2 | sc@1 | sc@0 |"}},
		{"spiral", "worked spiral\n" + three + "rnd 2: 2 sc in each st\n", []string{three1, "rnd 2 [3]: sc@0 sc@0 | sc@1 sc@1 | sc@2 sc@2 |"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, picture(clean(t, test.text))); diff != "" {
				t.Errorf("%s(-want +got):\n%s", test.text, diff)
			}
		})
	}
}

// TestManyFeet: two stitches over many places have a gap between them unless they
// share one.
func TestManyFeet(t *testing.T) {
	const forty = "ring\nrnd 1: 40 sc in ring\nrnd 2: sc in next st, cl over next 19 st, "
	for rest, want := range map[string]string{
		"cl over same and next 19 st, sc in next st\n": "+19 cl@19+20+",
		"cl over next 19 st, sc in next st\n":          "+19 | cl@20+21+",
	} {
		if got := picture(clean(t, forty+rest))[1]; !strings.Contains(got, want) {
			t.Errorf("%s: %s\nwant %s", rest, got, want)
		}
	}
}
