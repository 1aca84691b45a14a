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
