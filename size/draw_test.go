package size_test

import (
	"fmt"
	"math"
	"strings"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/size"
)

// solid are stitches of every height class that a solid round is made of.
var solid = []string{"sc", "esc", "hdc", "ehdc", "dc", "edc", "tr", "etr", "dtr", "trtr"}

// grown writes a solid piece in rounds of the given counts, the increases of
// each round spread as evenly as they go.
func grown(stitch string, counts []int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "ring\nrnd 1: %d %s in ring\n", counts[0], stitch)
	for i, n := range counts[1:] {
		fmt.Fprintf(&b, "rnd %d: %s\n", i+2, strings.Join(even(stitch, counts[i], n), ", "))
	}
	return b.String()
}

// even works n stitches into fewer or as many, spread evenly.
func even(stitch string, into, n int) []string {
	var steps []string
	for k := 0; k < into; {
		each, run := (k+1)*n/into-k*n/into, 1
		for k+run < into && (k+run+1)*n/into-(k+run)*n/into == each {
			run++
		}
		switch {
		case each == 1:
			steps = append(steps, fmt.Sprintf("%s in next %d st", stitch, run))
		case run == 1:
			steps = append(steps, fmt.Sprintf("%d %s in next st", each, stitch))
		default:
			steps = append(steps, fmt.Sprintf("%d %s in each of next %d st", each, stitch, run))
		}
		k += run
	}
	return steps
}

// circleOf are the counts of rounds that each have the given increase more,
// which need not be whole.
func circleOf(increase float64, rounds int) []int {
	counts := make([]int, rounds)
	for i := range counts {
		counts[i] = int(math.Round(increase * float64(i+1)))
	}
	return counts
}

// polygonOf writes a solid piece of n corners with j stitches either side of
// each corner, which is a stitch, or chains.
func polygonOf(stitch string, n, j, chains, rounds int) string {
	corner := stitch
	if chains > 0 {
		corner = fmt.Sprintf("ch %d", chains)
	}
	return fmt.Sprintf("ring\nrnd 1: [%[1]s in ring, (corner %[2]s) in ring] %[3]d times\nrnd 2-%[5]d: [%[1]s in each st, (%[6]scorner %[2]s%[7]s) in corner] %[3]d times\n",
		stitch, corner, n, j, rounds, strings.Repeat(stitch+", ", j), strings.Repeat(", "+stitch, j))
}

// withHeight are the default dimensions with stitches of one kind of a height.
func withHeight(stitch string, height float64) size.Dimensions {
	d := size.DefaultDimensions()
	kind, ok := model.Lookup(stitch)
	if !ok {
		panic(stitch)
	}
	d.Height[kind.Height] = height
	return d
}

func last(p *size.Piece) size.Round { return p.Rounds[len(p.Rounds)-1] }

func drawSolid(t *rapid.T) string { return rapid.SampledFrom(solid).Draw(t, "stitch") }

// drawMotif draws a motif that comes out: solid, or with groups and chains.
func drawMotif(t *rapid.T) string {
	number := func(what string, least, most int) int { return rapid.IntRange(least, most).Draw(t, what) }
	rounds := number("rounds", 2, 8)
	switch rapid.SampledFrom([]string{"circle", "polygon", "groups", "lace", "loops", "gaps"}).Draw(t, "form") {
	case "circle":
		return grown(drawSolid(t), circleOf(rapid.Float64Range(4, 24).Draw(t, "increase"), rounds))
	case "polygon":
		return polygonOf(drawSolid(t), number("corners", 3, 8), number("beside", 1, 3), number("chains", 0, 3), rounds)
	case "groups": // of several kinds in a space, in rounds that do not grow
		group := strings.Join(rapid.SliceOfN(rapid.SampledFrom(solid), 1, 5).Draw(t, "group"), ", ")
		return fmt.Sprintf("ring ch %d\nrnd 1: [2 dc in ring, ch %d] %d times\nrnd 2-%d: [(%s, ch %d, dc) in next sp, ch 1, sk sp] around\n",
			number("ring", 3, 8), number("chains", 1, 6), 2*number("spaces", 2, 6), 2, group, number("inside", 1, 4))
	case "lace":
		return fmt.Sprintf("ring\nrnd 1: [%d dc in ring, ch %d] %d times\nrnd 2-%d: [%d %s in next sp, ch %d] around\n",
			number("first", 1, 4), number("chains", 1, 15), number("spaces", 3, 12), rounds, number("group", 1, 24), drawSolid(t), number("loops", 1, 15))
	case "loops":
		return fmt.Sprintf("ring\nrnd 1: %d dc in ring\nrnd 2: [sc in next st, ch %d] around\nrnd 3-%d: [sc in next sp, picot 3, ch %d] around\n",
			number("stitches", 6, 30), number("chains", 2, 9), rounds+1, number("loops", 2, 9))
	}
	return fmt.Sprintf("ring\nrnd 1: %d dc in ring\nrnd 2-%d: [%d %s in next gap] around\n",
		number("stitches", 6, 20), min(rounds, 3), number("group", 1, 3), drawSolid(t))
}
