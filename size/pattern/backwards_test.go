package pattern_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/notation"
)

// TestBackwards: a round of reverse stitches is written in the order in which the
// hook meets its places going backwards, from the one before where the round below
// was joined, or from where new yarn is.
func TestBackwards(t *testing.T) {
	const (
		square = "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\n"
		how    = "orking backwards (from left to right for right-handers)"
		plain  = "rnd 2: [rev sc in each st, rev sc in corner] 4 times\n"
	)
	for _, test := range []struct{ draft, want string }{
		{square + plain, "W" + how + ": [rev sc in next corner ch-2 sp, rev sc in next 3 sts] 4 times; join with sl st to first rev sc."},
		{square + "rnd 2: [rev sc in next 2 st, ch 1, rev sc in next st, 2 rev sc in corner] 4 times\n",
			"[2 rev sc in next corner ch-2 sp, rev sc in next st, ch 1, rev sc in next 2 sts] 4 times"},
		{square + "rnd 2: [rev sc in next st, sk 1 st, rev sc in next st, (rev sc, ch 3, rev sc) in corner] 4 times\n",
			": [(rev sc, ch 3, rev sc) in next corner ch-2 sp, rev sc in next st, sk next st, rev sc in next st] 4 times"},
		{"begin chain uncounted\n" + square + plain, "Ch 1 (does not count as a st), w" + how + ": [rev sc in next corner"},
		{"begin chain uncounted\nyarn sand\nyarn reed\n" + strings.Replace(square, "1:", "1 with sand:", 1) + strings.Replace(plain, "2:", "2 with reed:", 1),
			"Join reed with sl st in any corner ch-2 sp. Ch 1 (does not count as a st), w" + how + ", starting in same sp: [rev sc in next corner ch-2 sp, rev sc in next 3 sts] 4 times"},
		{"begin standing\nyarn sand\nyarn reed\n" + strings.Replace(square, "1:", "1 with sand:", 1) + "rnd 2 with reed: [rev sc in corner, rev sc in each st] 4 times\n",
			"With reed, standing rev sc in first st before any corner ch-2 sp, w" + how + ": rev sc in next 2 sts, rev sc in next corner"},
		{"worked turned\n" + square + plain, "W" + how + ": rev sc in next 2 sts, [rev sc in next corner ch-2 sp, rev sc in next 3 sts] 3 times"},
		{"worked spiral\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: rev sc in each st\n", "join with sl st to first sc."},
		{square + "rnd 2: [rev sc in next 2 st, ch 1, rev sc in next st, 2 rev sc in corner] 4 times\nrnd 3: [sc in next 2 st, sc in sp, sc in next 3 st] 4 times\n", "[sc in "},
		{square + "rnd 2: [sc in each st, rev sc in corner] 4 times\n", "[sc in next 3 sts, rev sc in next corner ch-2 sp] 4 times"}, // both ways in one round
		{square + "panel 1 by 2\nedge of panel\nrnd 1: [rev sc in each st and ch, 2 rev sc in corner] around\n", how + ", starting in same"},
	} {
		d, g, _ := built(t, test.draft)
		p := written(t, d, g, notation.US)
		if text := fmt.Sprint(p.Sections); !strings.Contains(text, test.want) {
			t.Errorf("no %q in %s", test.want, text)
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			if err := read(t, d, g, terms); err != nil {
				t.Error(err)
			}
		}
	}
}

// TestBackwardsDrawn: any such round is read back, and so are those on it.
func TestBackwardsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &drawer{t: t}
		start := pick(d, "", "begin standing\n", "begin chain counts\n", "begin chain uncounted\n", "worked turned\n", "worked spiral\n")
		text := start + "yarn sand\nyarn reed\nring\nrnd 1 with sand: [3 sc in ring, corner ch 2] 4 times\n" +
			"rnd 2 with sand: " + pick(d, "sc in each st and sp", "[sc in next 2 st, ch 1, sc in next st, (sc, corner ch 1, sc) in corner] around", "[(sc, corner ch 2, sc) in corner] around") + "\n"
		for i := range d.number("rounds", 1, 2) {
			text += fmt.Sprintf("rnd %d with %s: %s\n", i+3, pick(d, "sand", "reed"), pick(d,
				"rev sc in each st", "rev sc in each st and sp", "[rev sc in next st, ch 2, sk 1 st] around", "[2 rev sc in next st, rev sc in next st] around",
				"[rev sc in next st, with reed, rev sc in next st] around", "[ch 1, rev sc in next st] around", "rev sc in each st and ch"))
		}
		text += "rnd next with sand: " + pick(d, "sc in each st", "rev sc in each st", "2 sc in each st") + "\n"
		draft, g, findings := built(t, text)
		if len(findings) > 0 {
			t.Skip("it does not come out")
		}
		if err := read(t, draft, g, notation.US); err != nil {
			t.Fatalf("%v\nin:\n%s", err, text)
		}
	})
}

// TestBackwardsPictures: the chart begins such a round where its words do, with
// the first stitch clockwise from its number.
func TestBackwardsPictures(t *testing.T) {
	for _, text := range []string{
		"ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [rev sc in each st, rev sc in corner] 4 times\n",
		"begin chain uncounted\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [rev sc in next 2 st, ch 1, rev sc in next st, 2 rev sc in corner] 4 times\n",
		"worked turned\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [rev sc in next 2 st, ch 1, rev sc in next st, 2 rev sc in corner, ch 2] 4 times\n",
		"yarn sand\nyarn reed\nring\nrnd 1 with sand: [3 dc in ring, corner ch 2] 4 times\nrnd 2 with reed: [ch 1, rev sc in next 3 st, 2 rev sc in corner] 4 times\n",
	} {
		d, g, _ := built(t, text)
		checkPictures(t, d, g, func(picture *svg) []int { return begun(t, picture, d, g) })
	}
}
