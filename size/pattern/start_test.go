package pattern_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/roundel/notation"
	"example.com/roundel/size/pattern"
)

// TestFarStart: new yarn is joined where a maker can find the place: from any
// of the corners, from one of them where they are unlike, and from the start of
// the round where that is near or there are no corners.
func TestFarStart(t *testing.T) {
	const wide = "begin chainless\nyarn sand\nyarn reed\nring\nrnd 1 with sand: [5 dc in ring, corner ch 2] 4 times\n" +
		"rnd 2-4 with sand: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
	// One side has a space in it, so that no corner is like another.
	const unlike = wide + "rnd 5 with sand: [sc in each st, (sc, corner ch 2, sc) in corner] 3 times, sc in next 9 st, ch 1, sk 1 st, sc in next 7 st, (sc, corner ch 2, sc) in corner\n"
	const far = "rnd 6 with reed: sk %d st, sc in next st, ch 99, sk 1 st\n"
	for _, test := range []struct{ draft, want string }{
		{wide + "rnd 5 with reed: sk 7 st, sc in next st, ch 60, sk 8 st\n", "Join reed with sl st in 8th st before any corner ch-2 sp."},
		{wide + "rnd 5 with reed: sk 3 st, sc in next st, ch 60, sk 8 st\n", "Join reed with sl st in 6th st after any corner ch-2 sp."},
		{unlike + fmt.Sprintf(far, 4), "Join reed with sl st in 6th st after last corner ch-2 sp of Rnd 5."},
		{unlike + fmt.Sprintf(far, 10), "Join reed with sl st in 5th st of Rnd 5."},
		{unlike + fmt.Sprintf(far, 17), "Join reed with sl st in first st before first corner ch-2 sp of Rnd 5."},
		{unlike + fmt.Sprintf(far, 22), "Join reed with sl st in 5th st after first corner ch-2 sp of Rnd 5."},
		{unlike + fmt.Sprintf(far, 34), "Join reed with sl st in 3rd st before 2nd corner ch-2 sp of Rnd 5."},
		{unlike + fmt.Sprintf(far, 59), "Join reed with sl st in 4th st after 3rd corner ch-2 sp of Rnd 5."},
		{"yarn sand\nyarn reed\nring\nrnd 1 with sand: 20 dc in ring\nrnd 2 with sand: sc in each st, ch 1\nrnd 3 with reed: sk 14 st, sc in next st, ch 9, sk 5 st\n", "Join reed with sl st in 15th st of Rnd 2."},
	} {
		d, g, _ := built(t, test.draft)
		rounds := pattern.Rounds(d, g, notation.US)
		if got := rounds[len(rounds)-1].Text; !strings.Contains(got, test.want) {
			t.Errorf("%s\nwant %s", got, test.want)
		}
		if err := read(t, d, g, notation.US); err != nil {
			t.Error(err)
		}
	}
}

// TestStartInHand: a round in several yarns begins with one that hangs from the
// work, where it hangs or soon after; one that begins with a slip stitch makes it
// once.
func TestStartInHand(t *testing.T) {
	const square = "yarn sand\nyarn reed\nring\nrnd 1 with sand: [3 dc in ring, corner ch 2] 4 times\n" +
		"rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
	const lace = "yarn sand\nyarn reed\nring\nrnd 1 with sand: [dc in ring, ch 2] 16 times\n"
	for _, test := range []struct{ draft, want string }{
		{square + "rnd 3: [[sc in next st, with reed, sc in next st, with sand] 3 times, sc in next st, (sc, corner ch 1, sc) in corner] 4 times\n",
			"Starting in same st: [{with sand, sc in next st, with reed, sc in next st} 2 times, with sand, sc in next st, (sc, corner ch 1, sc) in next corner ch-2 sp, sc in next st, with reed, sc in next st] 4 times; join with sl st to first sc."},
		{square + "rnd 3, chain uncounted: [[sc in next st, with reed, sc in next st, with sand] 3 times, sc in next st, (sc, corner ch 1, sc) in corner] 4 times\n",
			"Ch 1 (does not count as a st), starting in same st: [{with sand,"},
		{square + "rnd 3, chain counts: [[hdc in next st, with reed, hdc in next st, with sand] 3 times, hdc in next st, (hdc, corner ch 1, hdc) in corner] 4 times\n",
			"Ch 2 (counts as hdc), [with reed, hdc in next st, with sand, hdc in next st] 2 times, [(hdc, corner ch 1, hdc) in next corner ch-2 sp, {hdc in next st, with reed, hdc in next st, with sand} 3 times, hdc in next st] 3 times, (hdc, corner ch 1, hdc) in next corner ch-2 sp, hdc in next st, with reed, hdc in next st;"},
		// The yarn it was drafted to begin with is not there yet.
		{square + "rnd 3: [with reed, sc in next st, with sand, ch 1, sk 1 st, sc in next 5 st, (sc, corner ch 1, sc) in corner] 4 times\n",
			"Starting in same st: [sc in next 5 sts, (sc, corner ch 1, sc) in next corner ch-2 sp, with reed, sc in next st, with sand, ch 1, sk next st] 4 times; join with sl st to first sc."},
		// None of its yarns is.
		{square + "rnd 3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times, fasten off\nrnd 4: [with reed, sc in next st, with sand, sc in next 10 st, (sc, corner ch 1, sc) in corner] 4 times\n",
			"Join reed with sl st in first st after any corner ch-2 sp. Starting in same st: [with reed, sc in next st, with sand,"},
		{lace + "rnd 2: [sl st in next sp, ch 4] 16 times\n", "[sl st in next ch-2 sp, ch 4] 16 times; join with sl st to first sl st."},
		{lace + "rnd 2 with reed: [sl st in next sp, ch 4] 16 times\n", "Join reed with sl st (counts as sl st) in any ch-2 sp, ch 4, [sl st in next ch-2 sp, ch 4] 15 times; join with sl st to first sl st."},
		{lace + "rnd 2: [sc in each st, sc in next sp] 16 times\nrnd 3: sl st in each st\n", "Starting in same st: sl st in each st around;"},
		{square + "rnd 3: [(sl st, corner ch 2, sl st) in corner, sl st in each st] 4 times\n", "Sl st in next 4 sts. [(sl st, corner ch 2, sl st) in next corner ch-2 sp, sl st in next 7 sts] 4 times;"},
	} {
		d, g, _ := built(t, test.draft)
		rounds := pattern.Rounds(d, g, notation.US)
		if got := rounds[len(rounds)-1].Text; !strings.HasPrefix(got, test.want) {
			t.Errorf("%s\nwant %s", got, test.want)
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			if err := read(t, d, g, terms); err != nil {
				t.Error(err)
			}
		}
	}
}

// TestEarlierRounds: the next place of an earlier round is the first beyond what
// the last stitch stands over. An edging over the sides of a small square takes in
// the first of the two stitches of round 1 that show between them (The Ladies'
// Work-Book, anonymous, undated, Project Gutenberg #16605, motifs e and g).
func TestEarlierRounds(t *testing.T) {
	const twelve = "begin chainless\nring\nrnd 1: 12 dc in ring\nrnd 2: dc in each st\n"
	const petals = "begin chainless\nring\nrnd 1: [sc in ring, ch 3] 6 times\nrnd 2: [(sc, 3 dc, sc) in next sp] 6 times\n"
	for _, test := range []struct{ draft, want string }{
		{"ring ch 10\nrnd 1: [2 sc in ring, ch 7] 4 times\nrnd 2: [(5 dc, corner ch 3, 5 dc) in next sp] 4 times\n" +
			"rnd 3: [sk 1 dc, sc in next dc, ch 5, sk 2 dc, sc in next dc, ch 5, sk 2 ch, sc in next ch, ch 5, sk 2 dc, sc in next dc, ch 5, sk 1 dc, sc in next sc of rnd 1, ch 5, sk 1 dc] 4 times\n",
			"sk next 2 sts, sc in next st, ch 5, sc in next st of Rnd 1, ch 5, sk next 3 sts] 4 times;"},
		{twelve + "rnd 3: [dc in next st, dc in next st of rnd 1, sk 1 st] 6 times\n", "dc in next st of Rnd 1, sk next st, [dc in next st, dc in next st of Rnd 1, sk next st] 5 times;"},
		{twelve + "rnd 3: [dc in next 2 st, sk 1 st, dc in next st of rnd 1] 4 times\n", "[dc in next 2 sts, dc in next st of Rnd 1, sk next st] 3 times"},
		{"begin chainless\nring\nrnd 1: 12 dc in ring\nrnd 2: [dc2tog] 6 times\nrnd 3: [dc in next st, dc in next st of rnd 1] 6 times\n", "dc in next st of Rnd 1, [dc in next st, dc in next st of Rnd 1] 5 times;"},
		{petals + "rnd 3: [sc in next 5 st, sc in next st of rnd 1] 6 times\n", "[sc in next 5 sts, sc in next st of Rnd 1] 6 times;"},
		{petals + "rnd 3: [sc in next 2 st, sc in next sp of rnd 1, sk 1 st, sc in next 2 st] 6 times\n", "sc in ch-3 sp of Rnd 1 below, sk next st,"},
		{petals + "rnd 3: [sc in next st of rnd 1, ch 4] 6 times\n", "[sc in next st of Rnd 1, ch 4] 6 times"},
	} {
		d, g, findings := built(t, test.draft)
		if len(findings) > 0 {
			t.Fatal(findings)
		}
		rounds := pattern.Rounds(d, g, notation.US)
		if got := rounds[len(rounds)-1].Text; !strings.Contains(got, test.want) {
			t.Errorf("%s\nwant %s", got, test.want)
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			if err := read(t, d, g, terms); err != nil {
				t.Error(err)
			}
		}
	}
}

// TestAside: where the rounds between took the other loop, it is said on which side
// of them an earlier round is reached, and nowhere else.
func TestAside(t *testing.T) {
	const twelve = "ring\nrnd 1: 12 sc in ring\n"
	for _, test := range []struct{ draft, want string }{
		{twelve + "rnd 2: sc in front loop of each st\nrnd 3: 2 dc in back loop of each st of rnd 1\n", "Work behind Rnd 2. Sl st in first st of Rnd 1."},
		{twelve + "rnd 2: sc in back loop of each st\nrnd 3: 2 dc in front loop of each st of rnd 1\n", "Work in front of Rnd 2. Sl st in first st of Rnd 1."},
		{twelve + "rnd 2: sc in back loop of each st\nrnd 3: 2 sc in each st\nrnd 4: 2 dc in front loop of each st of rnd 1\n", "Work in front of Rnds 2-3. "},
		{twelve + "rnd 2: sc in each st\nrnd 3: 2 dc in back loop of each st of rnd 1\n", "Sl st in first st of Rnd 1."},
		{twelve + "rnd 2: sc in front loop of each st\nrnd 3: 2 dc in front loop of each st of rnd 1\n", "Sl st in first st of Rnd 1."},
	} {
		d, g, _ := built(t, test.draft)
		rounds := pattern.Rounds(d, g, notation.US)
		if got := rounds[len(rounds)-1].Text; !strings.HasPrefix(got, test.want) {
			t.Errorf("%s\nwant %s", got, test.want)
		}
		if err := read(t, d, g, notation.US); err != nil {
			t.Error(err)
		}
	}
}
