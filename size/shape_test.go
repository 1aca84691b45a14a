package size_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// shape works a draft that must come out, with the default dimensions.
func shape(t reporter, text string) *size.Piece {
	t.Helper()
	return size.Shape(work(t, text), size.DefaultDimensions())
}

// TestTops works out where every top stands, by hand.
func TestTops(t *testing.T) {
	// The middle of a pair stands as high as one stitch, its two tops a
	// quarter of the angle (2/1.95) to either side.
	pair := 1.95 * math.Cos(0.25*2/1.95)
	three := 1.95 * math.Cos(3/1.95/3)
	shoulder := 1.95 * math.Cos(3/1.95/2)
	for name, test := range map[string]struct {
		text string
		want []float64
	}{
		"ring": {"ring\nrnd 1: 3 dc in ring\n", []float64{2.25, 2.25, 2.25}},
		// The ring itself comes first: its radius.
		"ring of chains":  {"ring ch 10\nrnd 1: [dc in ring, ch 4] 2 times\n", []float64{9 / (2 * math.Pi), 9/(2*math.Pi) + 1.95, 9/(2*math.Pi) + 1.95, 9/(2*math.Pi) + 1.95, 9/(2*math.Pi) + 1.95}},
		"one on another":  {"ring\nrnd 1: 4 dc in ring\nrnd 2: sc in each st\n", []float64{2.25, 2.25, 2.25, 2.25, 3.2, 3.2, 3.2, 3.2}},
		"of two heights":  {"ring\nrnd 1: [tr in ring, sc in ring, ch 3] 2 times\n", []float64{2.9, 1.25, 2.075, 2.9, 1.25, 2.075}},
		"pairs":           {"ring\nrnd 1: 2 dc in ring\nrnd 2: 2 dc in each st\n", []float64{2.25, 2.25, 2.25 + pair, 2.25 + pair, 2.25 + pair, 2.25 + pair}},
		"threes in a gap": {"ring\nrnd 1: [sc in ring, tr in ring] 1 times\nrnd 2: 3 dc in each gap\n", []float64{1.25, 2.9, 2.075 + three, 4.025, 2.075 + three, 2.075 + three, 4.025, 2.075 + three}},
		// A picot is where its stitch is; the chain space hangs from shoulders.
		"picots": {"ring\nrnd 1: 2 dc in ring\nrnd 2: [(dc, picot 3, 2 dc) in next st, picot 3, ch 1] 2 times\n", []float64{
			2.25, 2.25,
			2.25 + three, 2.25 + three, 4.2, 2.25 + three, 2.25 + three, 2.25 + shoulder,
			2.25 + three, 2.25 + three, 4.2, 2.25 + three, 2.25 + three, 2.25 + shoulder,
		}},
		// Legs in two places: their mean.
		"legs": {"ring\nrnd 1: [tr in ring, sc in ring] 2 times\nrnd 2: dc2tog over next 2 st, [dc2tog over next 2 st] around\n", []float64{2.9, 1.25, 2.9, 1.25, 4.025, 4.025}},
		// Chains alone hang where the round below stands.
		"chains only": {"ring\nrnd 1: 4 dc in ring\nrnd 2: corner ch 5, corner ch 5\n", []float64{2.25, 2.25, 2.25, 2.25, 2.25, 2.25}},
	} {
		draft := read(t, test.text)
		g, _, _ := model.Build(t.Context(), draft) // some leave stitches unworked
		var want []float32
		for _, x := range test.want {
			want = append(want, float32(x))
		}
		if diff := cmp.Diff(want, size.Shape(g, size.DefaultDimensions()).Tops(), cmpopts.EquateApprox(0, 1e-5)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

// TestScallops works out by hand what four scallops may fold and spread.
func TestScallops(t *testing.T) {
	p := shape(t, `ring
rnd 1: 12 sc in ring
rnd 2: [sc in next st, ch 8, sk 2 st] around
rnd 3: [9 sc in next sp] around
rnd 4: sc in each st
`)
	// Nine sc over a loop of eight chains open by more than half a circle, and
	// each has a quarter of the round.
	q := 0.8 * 8 * 0.9 / math.Pi
	chord, free := 2*(q+0.95), 0.25
	made := func(r size.Round, n, chord float64) float64 {
		return n * 2 * r.Shoulder * math.Atan(chord/(2*r.Shoulder))
	}
	near(t, "least", p.Rounds[2].MadeLeast, made(p.Rounds[2], 4, chord), 1e-4)
	near(t, "most", p.Rounds[2].MadeMost, made(p.Rounds[2], 4, chord)+4*free*(9-chord), 1e-4)
	near(t, "least of the round on it", p.Rounds[3].MadeLeast, made(p.Rounds[3], 36, 1)*(1-free*(1-chord/9)), 1e-4)
	near(t, "most of the round on it", p.Rounds[3].MadeMost, made(p.Rounds[3], 36, 1), 1e-4)

	// The same stitches on the ring itself are no scallops.
	p = shape(t, "ring ch 8\nrnd 1: 36 sc in ring\nrnd 2: sc in each st\n")
	for _, r := range p.Rounds {
		near(t, "spare", r.MadeMost-r.MadeLeast, 0, 1e-9)
	}
}

// TestWhatIsOneLobe: stitches stand in a fan only if they share one place.
func TestWhatIsOneLobe(t *testing.T) {
	// Decreases that share legs all round have no gap between them. They are
	// as long as so many stitches side by side, not one fan of the whole round.
	p := shape(t, "ring\nrnd 1: 24 sc in ring\nrnd 2: [sc in next st, sc2tog over same and next st, sc2tog over same and next st] around\n")
	below, r := p.Rounds[0], p.Rounds[1]
	near(t, "growth", r.Growth, 0.95, 1e-5)
	near(t, "length", r.MadeMost, 2*r.Shoulder*math.Atan(1/(2*r.Shoulder))*24, 1e-3)
	near(t, "shoulder below", below.Shoulder, 1.25, 1e-5)

	// A ring holds stitches all round, whether written as a group or not.
	for _, ring := range []string{"ring", "ring ch 6"} {
		one := shape(t, ring+"\nrnd 1: [3 dc in ring, ch 2] 4 times\nrnd 2: [3 dc in next sp, ch 2] around\n")
		other := shape(t, ring+"\nrnd 1: [(3 dc, ch 2) in ring] 4 times\nrnd 2: [3 dc in next sp, ch 2] around\n")
		if diff := differences(one, other); diff != "" {
			t.Errorf("%s: a group (-without +with):\n%s", ring, diff)
		}
	}

	// More lobes in one space than 16 bits can count: each has next to no
	// base, and stands as in a stitch.
	p = shape(t, "ring\nrnd 1: [dc in ring, ch 5] 2 times\nrnd 2: [(2 dc, ch 1) in next sp, [2 dc in same, ch 1] 65535 times, sk sp] around\n")
	r = p.Rounds[1]
	chord := 2 * 1.95 * math.Sin(1/1.95)
	near(t, "length of a pair", (r.MadeLeast-65536*0.45)/65536, 2*r.Shoulder*math.Atan(chord/(2*r.Shoulder)), 1e-3)
}

// TestLift: a loop hangs over the gap of its own round, also for what is
// worked into it from further up.
func TestLift(t *testing.T) {
	const first = "ring\nrnd 1: [sc in ring, ch 12] 6 times\n"
	// Rounds so full that they lift the loops as far as they go.
	lifted := func(text string) float64 {
		p := shape(t, text)
		r := p.Rounds[len(p.Rounds)-1]
		if r.Mismatch <= 0 {
			t.Fatalf("not full enough to take all of the lift: %+v", r)
		}
		return r.Shoulder
	}
	direct := lifted(first + "rnd 2: [20 tr in next sp] around\n")
	over := lifted(first + "rnd 2: [dc in next st, ch 1] around\nrnd 3: [20 tr in next sp of rnd 1] 6 times\n")
	near(t, "shoulder from two rounds up", over, direct, 1e-4)

	// Nothing is lifted by a round that has room enough.
	if r := last(shape(t, first+"rnd 2: [dc in next sp] around\n")); r.Mismatch >= 0 || math.Abs(r.Shoulder-1.25-1.95) > 1e-5 {
		t.Errorf("shoulder %g, want 3.2", r.Shoulder)
	}
}

// TestFewCorners: one corner or two make no polygon.
func TestFewCorners(t *testing.T) {
	for n := 1; n <= 2; n++ {
		r := last(shape(t, fmt.Sprintf("ring\nrnd 1: [6 dc in ring, corner ch 2] %d times\n", n)))
		if r.Corners != n {
			t.Errorf("%d corners: %+v", n, r)
		}
		near(t, "need", r.NeedMost, 2*math.Pi*r.Shoulder, 1e-9)
	}
}

// TestRingCloses: a round that is too short needs less by what the ring closes,
// one that is too long does not; a large ring of chains closes no further.
func TestRingCloses(t *testing.T) {
	const ring = 0.3
	for foundation, closes := range map[string]float64{"ring": ring, "ring ch 1": 0.9 / (2 * math.Pi), "ring ch 4": ring, "ring ch 20": ring} {
		for _, n := range []int{6, 60} {
			r := last(shape(t, fmt.Sprintf("%s\nrnd 1: %d dc in ring\n", foundation, n)))
			near(t, foundation+": least", r.NeedLeast, 2*math.Pi*(r.Shoulder-closes), 1e-5)
			near(t, foundation+": most", r.NeedMost, 2*math.Pi*r.Shoulder, 1e-5)
		}
	}
}

// TestOutlineStays: what a round needs follows from the outline of the one
// below, not from its distance alone.
func TestOutlineStays(t *testing.T) {
	const square = "ring\nrnd 1: [sc in ring, corner sc in ring] 4 times\nrnd 2-12: [sc in each st, (sc, corner sc, sc) in corner] 4 times\n"
	below := last(shape(t, square))
	near(t, "the square", below.Mismatch, 0, 0.03)

	// The walls of a box: no longer than the square, and every round ought to be
	// 2 pi 0.95 longer than the one below.
	for _, walls := range []string{"rnd 13-16: [sc in each st, corner sc in corner] 4 times\n", "rnd 13: [sc in each st, sc in corner] 4 times\nrnd 14-16: sc in each st\n"} {
		p := shape(t, square+walls)
		for k, r := range p.Rounds[12:] {
			need := math.Min(below.MadeLeast, below.NeedMost) + 2*math.Pi*0.95*float64(k+1)
			if r.NeedLeast < need-0.01 || r.NeedLeast > 1.02*need {
				t.Errorf("round %d: %+v, want some %g needed", r.Index+1, r, need)
			}
		}
		if r := last(p); r.Mismatch > -0.1 {
			t.Errorf("after four rounds: %+v", r)
		}
	}

	// An edging whose corners are not marked goes on as a square would, with
	// its corners rounded.
	r := last(shape(t, square+"rnd 13: [sc in each st, 3 sc in corner] 4 times\n"))
	if r.NeedMost < 2*math.Pi*r.Shoulder*1.2 || math.Abs(r.Mismatch) > 0.05 {
		t.Errorf("the edging: %+v", r)
	}

	// Round a circle nothing is different.
	for _, r := range shape(t, grown("sc", circleOf(6, 12))).Rounds {
		near(t, "need of a circle", r.NeedMost, 2*math.Pi*r.Shoulder, 1e-5)
	}
}

// TestDoubt: solid work leaves none, and chains leave as much as they are.
func TestDoubt(t *testing.T) {
	for _, r := range shape(t, grown("dc", circleOf(12, 8))).Rounds {
		if r.Slack != 0 || r.Doubt != 0 {
			t.Errorf("solid round %d: slack %g, doubt %g", r.Index+1, r.Slack, r.Doubt)
		}
	}
	// 36 sc and 36 times 1.8 w of chains, of which half hangs slack: but no
	// more than 0.7 w of each is kept.
	p := shape(t, "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\nrnd 4: [sc in next st, ch 2] around\n")
	r := p.Rounds[3]
	near(t, "slack", r.MadeMost-r.MadeLeast, 36*(1.8-0.7), 1e-9)
	near(t, "share", r.Slack, 1-r.MadeLeast/r.MadeMost, 1e-12)
	if r.Doubt <= 0 || r.Doubt > r.Slack {
		t.Errorf("doubt %g of slack %g", r.Doubt, r.Slack)
	}
	// Solid rounds on loops: where they are too long, the loops may give room;
	// where they are too short, the loops add nothing.
	const loops = "ring\nrnd 1: 12 dc in ring\nrnd 2: [dc in next st, ch 4] around\n"
	p = shape(t, loops+"rnd 3: 6 dc in each sp\n")
	if r := p.Rounds[2]; r.Mismatch <= 0 || math.Abs(r.Doubt-p.Rounds[1].Slack) > 1e-9 {
		t.Errorf("too long on loops: %+v", r)
	}
	p = shape(t, loops+"rnd 3: 2 dc in each sp\n")
	if r := p.Rounds[2]; r.Mismatch >= 0 || r.Doubt > 0.51*p.Rounds[1].Slack { // both rounds are in the mean
		t.Errorf("too short on loops: %+v", r)
	}
}

// TestStops: the geometry ends where the working does.
func TestStops(t *testing.T) {
	draft, _ := notation.Parse("", "ring\nrnd 1: 12 dc in ring\nrnd 2: dc in in next\nrnd 3: dc in each st\n")
	g, _, err := model.Build(t.Context(), draft)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(size.Shape(g, size.DefaultDimensions()).Rounds); n != 1 || g.NumRounds() != 3 {
		t.Errorf("%d rounds of %d, want 1 of 3", n, g.NumRounds())
	}
	if p := shape(t, "ring\n"); len(p.Rounds) != 0 || len(p.Tops()) != 0 {
		t.Errorf("nothing has %+v", p)
	}
}

// TestManyRounds: rounds that stay at the centre are passed over once, not
// once for every round above them.
func TestManyRounds(t *testing.T) {
	const rounds = 50_000
	p := shape(t, fmt.Sprintf("ring\nrnd 1: 6 sc in ring\nrnd 2-%d: 6 sc in ring\n", rounds))
	if len(p.Rounds) != rounds {
		t.Fatalf("%d rounds", len(p.Rounds))
	}
	for _, r := range p.Rounds {
		if r.Score != 0 || math.Abs(r.Shoulder-1.25) > 1e-5 {
			t.Fatalf("round %d: %+v", r.Index+1, r)
		}
	}
}

// Steps that are whole but need not fit one another.
var wild = []string{
	"dc in next st", "2 dc in next st", "dc in next 2 st", "dc in each st", "2 dc in each st", "5 tr in next sp", "3 dc in next sp", "dc in each sp", "40 dc in next sp",
	"sc in next ch", "dc in each st and ch", "dc in next gap", "3 dc in each gap", "(2 dc, corner ch 2, 2 dc) in corner", "dc in corner", "corner sc in next st", "corner ch 1",
	"ch 3", "ch 1", "ch 500", "sk 1 st", "sk 2 st", "sk sp", "picot 3", "vst in next st", "dc2tog", "dc2tog over same and next st", "cl over next 3 st", "cl in next sp", "puff in next st",
	"dc in same", "(dc, ch 1) in same", "sl st in next st", "dc in next st of rnd 1", "2 dc in next sp of rnd 1", "dc in next gap of rnd 1", "(3 dc, ch 1, trtr, picot 3, dc) in next sp",
	"3 dc in ring", "(2 dc, ch 1, 2 dc) in ring", "ch 3 as dc", "2 dc", "turn", "join", "dc in in",
}

// drawWild draws rounds of whole steps that need not fit.
func drawWild(t *rapid.T) string {
	var b strings.Builder
	for _, h := range []string{"worked turned", "shape square", "ring ch 5", "gauge 14 dc by 8 rnds over 10 cm", "gauge rnds 1-2 = 10 cm across"} {
		if rapid.Bool().Draw(t, h) {
			b.WriteString(h + "\n")
		}
	}
	for number := 1; number <= rapid.IntRange(1, 5).Draw(t, "rounds")+1; number++ {
		var steps []string
		for range rapid.IntRange(1, 4).Draw(t, "steps") {
			step := rapid.SampledFrom(wild).Draw(t, "step")
			if tail := rapid.SampledFrom([]string{"", "around", "3 times", "40 times"}).Draw(t, "tail"); tail != "" {
				step = "[" + step + ", " + rapid.SampledFrom(wild).Draw(t, "step") + "] " + tail
			}
			steps = append(steps, step)
		}
		if number == 1 && rapid.Bool().Draw(t, "plain start") {
			steps = []string{rapid.SampledFrom([]string{"8 dc in ring", "[2 dc in ring, corner ch 2] 4 times", "[sc in ring, ch 3] 5 times", "ch 4, corner ch 2", "dc in ring"}).Draw(t, "first")}
		}
		claim := rapid.SampledFrom([]string{"", "", "", " = 12 dc", " = 8 dc, 4 sp", " = 9 st, 4 corners"}).Draw(t, "claim")
		fmt.Fprintf(&b, "rnd %d: %s%s\n", number, strings.Join(steps, ", "), claim)
	}
	return b.String()
}

var tokens = append(slices.Clone(wild), "rnd 1:", "rnd 2:", "rnd 3-5:", "\n", "\n", ",", ",", "[", "]", "(", ")", "2 times", "around", "dc", "3", "in ring", "in next st", "in corner", "corner",
	"=", "12 dc", "gauge", "over 10 cm", "ring", "ring ch 4", "as rnd 1", "terms uk", "#", "\"")

// TestSound: whatever the draft, everything worked out is a number in the
// range that is promised for it.
func TestSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var text string
		switch rapid.IntRange(0, 3).Draw(t, "sort") {
		case 0:
			text = "ring\nrnd 1: 6 dc in ring, ch 2\n" + strings.Join(rapid.SliceOfN(rapid.SampledFrom(tokens), 1, 50).Draw(t, "tokens"), " ") + "\n"
		case 1:
			text = drawMotif(t)
		default:
			text = drawWild(t)
		}
		draft, _ := notation.Parse("", text)
		g, _, err := model.Build(context.Background(), draft, model.WithLimits(model.Limits{Stitches: 20_000, Rounds: 100}))
		if err != nil {
			t.Fatal(err)
		}
		gauge := size.GaugeOf(g, draft.Gauge())
		if !(gauge.Unit >= 0) || math.IsInf(float64(gauge.Unit), 0) {
			t.Fatalf("unit %g\nin:\n%s", gauge.Unit, text)
		}
		for _, d := range []size.Dimensions{gauge.Dimensions, drawDimensions(t)} {
			sound(t, g, size.Shape(g, d), text)
		}
	})
}

// drawDimensions draws stitches of odd proportions.
func drawDimensions(t *rapid.T) size.Dimensions {
	d := size.DefaultDimensions()
	measure := rapid.Float64Range(0.01, 20)
	for i := range d.Height {
		d.Height[i], d.Width[i] = measure.Draw(t, "height"), measure.Draw(t, "width")
	}
	d.Chain, d.Ring, d.SlackMost = measure.Draw(t, "chain"), measure.Draw(t, "ring"), measure.Draw(t, "slack")
	d.SlackShare = rapid.Float64Range(0.01, 1).Draw(t, "share")
	return d
}

func sound(t *rapid.T, g *model.Graph, p *size.Piece, text string) {
	t.Helper()
	fail := func(what string, x any) {
		t.Helper()
		t.Fatalf("%s: %+v\nin:\n%s", what, x, text)
	}
	tops := p.Tops()
	if len(tops) != g.Len() {
		fail("tops", len(tops))
	}
	for id, top := range tops {
		if !(top >= 0) || math.IsInf(float64(top), 0) {
			fail(fmt.Sprint("top of ", id), top)
		}
	}
	before := 0.0
	for i, r := range p.Rounds {
		for _, x := range []float64{r.Shoulder, r.Across, r.Growth, r.MadeLeast, r.MadeMost, r.NeedLeast, r.NeedMost, r.Mismatch, r.Score, r.Slack, r.Doubt} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				fail("no number", r)
			}
		}
		switch c := g.Counts(i); {
		case r.Index != i:
			fail("order", r)
		case r.Corners != c.Corners:
			fail("corners", r)
		case r.Shoulder < 0 || r.Across < 0:
			fail("less than nothing", r)
		case math.Abs(r.Growth-(r.Shoulder-before)) > 1e-9:
			fail("growth", r)
		case r.MadeLeast < 0 || r.MadeLeast > r.MadeMost || c.Total > 0 && r.MadeMost == 0:
			fail("made", r)
		case r.NeedLeast < 0 || r.NeedLeast > r.NeedMost || r.NeedMost < 2*math.Pi*r.Shoulder*(1-1e-9):
			fail("need", r)
		case r.Slack < 0 || r.Slack > 1 || r.Doubt < 0 || r.Doubt > 1+1e-12:
			fail("share", r)
		case r.Mismatch < -1 || r.Mismatch > 0 && r.MadeLeast < r.NeedMost || r.Mismatch < 0 && r.MadeMost > r.NeedLeast:
			fail("mismatch", r)
		}
		before = r.Shoulder
	}
	for i := len(p.Rounds); i < g.NumRounds(); i++ {
		if r := g.Round(i); i == len(p.Rounds) && r.Status != model.NotWorked {
			fail("left out", r.Number)
		}
	}
}

// TestAssumed: a round that was only claimed stands on the round below.
func TestAssumed(t *testing.T) {
	draft, _ := notation.Parse("", "ring\nrnd 1: 12 dc in ring\nrnd 2: dc in in next st = 20 sc\nrnd 3: sc in each st\n")
	g, _, err := model.Build(t.Context(), draft)
	if err != nil || g.Round(1).Status != model.Assumed {
		t.Fatalf("%v, %+v", err, g.Round(1))
	}
	p := size.Shape(g, size.DefaultDimensions())
	near(t, "shoulder of the claimed round", p.Rounds[1].Shoulder, 2.25+0.95, 1e-5)
	near(t, "shoulder above it", p.Rounds[2].Shoulder, 2.25+2*0.95, 1e-5)
}

// TestPerRadius: the outline of a polygon of apothem 1, from corner to corner; with
// many corners it comes near the circle.
func TestPerRadius(t *testing.T) {
	for n := 3; n <= 1000; n++ {
		corner := func(i int) (x, y float64) {
			at := 2 * math.Pi * float64(i) / float64(n)
			return math.Cos(at) / math.Cos(math.Pi/float64(n)), math.Sin(at) / math.Cos(math.Pi/float64(n))
		}
		long := 0.0
		for i := range n {
			x, y := corner(i)
			x2, y2 := corner(i + 1)
			long += math.Hypot(x2-x, y2-y)
		}
		near(t, fmt.Sprintf("%d corners", n), size.PerRadius(n), long, 1e-9)
	}
	for _, n := range []int{0, 1, 2, 1_000_000} {
		near(t, "a circle", size.PerRadius(n), 2*math.Pi, 1e-9)
	}
}
