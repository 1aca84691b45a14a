package chart_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/chart"
)

// TestPlans draws the colours, and TestGrowths the growth, of every draft that
// comes with the project.
func TestPlans(t *testing.T) {
	for _, d := range corpus(t) {
		p := checkPicture(t, chart.Plan, d.Draft, d.Graph, chart.Options{})
		for i := range drawn(d.Graph) {
			if g := p.byID[fmt.Sprintf("round-%d", i+1)]; g == nil || len(g.all("path")) == 0 {
				t.Errorf("%s: round %d is not drawn", d.name, i+1)
			}
		}
	}
}

// TestPlan: each part of a round is filled with the colour of its yarn, outer
// rounds below inner ones.
func TestPlan(t *testing.T) {
	d, g := work(t, `yarn sand "oat", colour "#d8c6a0"
yarn reed, colour "#6f8f6a"
yarn slate
ring
rnd 1 with sand: 12 dc in ring
rnd 2 with reed: 2 dc in each st
rnd 3: [with sand, dc in next 4 st, with slate, 2 dc in next st, dc in next st] 4 times
`)
	p := checkPicture(t, chart.Plan, d, g, chart.Options{})
	var got []string
	for _, e := range p.root.all("path") {
		if fill := e.attrs["fill"]; fill != "" {
			got = append(got, e.parent.attrs["id"]+" "+fill)
		}
	}
	const sand, reed, slate = "#d8c6a0", "#6f8f6a", "#cfc8ba"
	want := []string{
		"round-3 " + sand, "round-3 " + slate, "round-3 " + sand, "round-3 " + slate,
		"round-3 " + sand, "round-3 " + slate, "round-3 " + sand, "round-3 " + slate,
		"round-2 " + reed, "round-1 " + sand,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("bands (-want +got):\n%s", diff)
	}
	var legend []string
	for _, e := range p.byID["legend"].all("text") {
		legend = append(legend, e.text)
	}
	if diff := cmp.Diff([]string{"sand (oat): rounds 1, 3", "reed: round 2", "slate: round 3, colour not given"}, legend); diff != "" {
		t.Errorf("legend (-want +got):\n%s", diff)
	}
}

// TestChangingYarn: a yarn that changes its colour is shown in its stretches where
// there is a gauge to say how far each goes.
func TestChangingYarn(t *testing.T) {
	const text = `yarn dusk, 400 m per 100 g, stretch 2 m "rose" colour "#d88f9a", stretch 3 m "plum" colour "#704060"
%sring
rnd 1: 12 dc in ring
rnd 2-5: [dc in next 2 st, 2 dc in next st] around
`
	d, g := work(t, fmt.Sprintf(text, "gauge 14 dc by 8 rnds over 10 cm\n"))
	p := checkPicture(t, chart.Plan, d, g, chart.Options{})
	fills := map[string]int{}
	for _, e := range p.root.all("path") {
		fills[e.attrs["fill"]]++
	}
	if fills["#d88f9a"] == 0 || fills["#704060"] == 0 {
		t.Errorf("both colours should be there: %v", fills)
	}
	if desc := p.byID["desc"].text; !strings.Contains(desc, "is an estimate") {
		t.Errorf("nobody is told that it is an estimate: %s", desc)
	}
	d, g = work(t, fmt.Sprintf(text, ""))
	p = checkPicture(t, chart.Plan, d, g, chart.Options{})
	for _, e := range p.root.all("path") {
		if e.attrs["fill"] == "#704060" {
			t.Error("without a gauge nobody knows where the second colour begins")
		}
	}
}

func TestGrowths(t *testing.T) {
	for _, d := range corpus(t) {
		p := checkPicture(t, chart.Growth, d.Draft, d.Graph, chart.Options{})
		for i := range drawn(d.Graph) {
			if p.byID[fmt.Sprintf("round-%d", i+1)] == nil {
				t.Errorf("%s: round %d is not drawn", d.name, i+1)
			}
		}
	}
}

// TestGrowth holds the plot against the figures of package size: where the marks
// stand, and what the description says.
func TestGrowth(t *testing.T) {
	text, err := os.ReadFile("../../examples/tideline.rnd")
	if err != nil {
		t.Fatal(err)
	}
	d, g := work(t, string(text))
	p := checkPicture(t, chart.Growth, d, g, chart.Options{})
	gauge := size.GaugeOf(g, d.Gauge())
	rounds := size.Shape(g, gauge.Judging()).Rounds
	// The axis tells how high a cm is.
	perCM := 0.0
	var zero float64
	for _, e := range p.byID["axes"].all("text") {
		switch e.text {
		case "0":
			zero = num(e.attrs["y"])
		case "100":
			perCM = (zero - num(e.attrs["y"])) / 100
		}
	}
	if perCM <= 0 {
		t.Fatal("the axis has no 0, or no 100")
	}
	desc := p.byID["desc"].text
	for i, r := range rounds {
		made := gauge.Length((r.MadeLeast + r.MadeMost) / 2).In(notation.Centimetre)
		for _, mark := range p.byID[fmt.Sprintf("round-%d", i+1)].all("circle") {
			if y := -num(mark.attrs["cy"]); math.Abs(y/perCM-made) > 0.2 {
				t.Errorf("round %d is drawn %.1f cm long, it is %.1f", i+1, y/perCM, made)
			}
		}
		if want := fmt.Sprintf("Round %d: made %.1f", i+1, gauge.Length(r.MadeLeast).In(notation.Centimetre)); !strings.Contains(desc, want) {
			t.Errorf("the description lacks %q:\n%s", want, desc)
		}
	}
}

// TestVerdicts: marks say what check says, and of a piece with a free outline
// nothing.
func TestVerdicts(t *testing.T) {
	const ruffle = "shape %s\nring\nrnd 1: 12 dc in ring\nrnd 2-5: 2 dc in each st\n"
	const cup = "shape %s\nring\nrnd 1: 12 dc in ring\nrnd 2-8: dc in each st\n"
	for _, c := range []struct {
		text, outline string
		want          []string
	}{
		{ruffle, "circle", []string{", about flat", ", ruffles"}}, {ruffle, "free", nil},
		{cup, "circle", []string{", cups"}}, {cup, "free", nil},
	} {
		d, g := work(t, fmt.Sprintf(c.text, c.outline))
		desc := checkPicture(t, chart.Growth, d, g, chart.Options{Terms: []notation.Terms{notation.UK}}).byID["desc"].text
		for _, word := range []string{", about flat", ", likely to ruffle", ", ruffles", ", likely to cup", ", cups"} {
			if got := strings.Contains(desc, word); got != slices.Contains(c.want, word) {
				t.Errorf("%s %q: %v\n%s", c.outline, word, got, desc)
			}
		}
	}
}
