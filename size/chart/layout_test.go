package chart_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
	"example.com/roundel/size"
	"example.com/roundel/size/chart"
)

func far(p chart.Point) float64 { return math.Hypot(p.X, p.Y) }

func apart(p, q chart.Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// checkLayout holds what is true of every layout: stitches worked into a stitch
// stand on its head; rounds go on counter-clockwise, or clockwise when they are
// worked on the other side, once round; neighbours do not stand on each other.
func checkLayout(t reporter, d *notation.Draft, g *model.Graph) {
	t.Helper()
	l := chart.Lay(d, g, size.DefaultDimensions())
	for i := range drawn(g) {
		turned := 0.0
		var heads []chart.Point
		for id, e := range g.Entries(i) {
			head := l.Head(id)
			if !(far(head) < 1e6) {
				t.Errorf("stitch %d stands at %v", id, head)
			}
			if e.Kind() == 0 {
				if links := l.Links(id); len(links) != e.Chains() {
					t.Errorf("%d chains are %d links", e.Chains(), len(links))
				}
			}
			if !e.IsStitch() {
				continue
			}
			heads = append(heads, head)
			feet := l.Feet(id)
			k := 0
			for p := range g.Into(id) {
				if p.Kind == notation.St && apart(feet[k], l.Head(p.Stitch)) > 1e-6 {
					t.Errorf("stitch %d stands %v beside the stitch below", id, apart(feet[k], l.Head(p.Stitch)))
				}
				k++
			}
			if k > 0 && k != len(feet) {
				t.Errorf("stitch %d has %d feet in %d places", id, len(feet), k)
			}
		}
		for k := range heads {
			next := heads[(k+1)%len(heads)]
			step := math.Atan2(next.Y, next.X) - math.Atan2(heads[k].Y, heads[k].X)
			if g.Round(i).Turned {
				step = -step
			}
			turned += step - 2*math.Pi*math.Floor(step/(2*math.Pi))
			if len(heads) > 1 && apart(heads[k], next) < 0.25 {
				t.Errorf("round %d: neighbours %v w apart", i+1, apart(heads[k], next))
			}
		}
		if len(heads) > 2 && math.Abs(turned-2*math.Pi) > 1e-6 {
			t.Errorf("round %d goes round %.2f times", i+1, turned/(2*math.Pi))
		}
	}
}

func TestLayout(t *testing.T) {
	for _, d := range corpus(t) {
		t.Run(d.name, func(t *testing.T) { checkLayout(t, d.Draft, d.Graph) })
	}
	t.Run("drawn", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			d, g := work(t, notationtest.Pieces().Draw(t, "piece").String())
			checkLayout(t, d, g)
		})
	})
}

// TestSquare: a square looks square. It stands on a side; the corners of each
// round are as far out as each other, and so are the tops along each side.
func TestSquare(t *testing.T) {
	d, g := work(t, "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2-8: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n")
	l := chart.Lay(d, g, size.DefaultDimensions())
	for i := range g.NumRounds() {
		corners := g.Corners(i)
		for _, id := range corners {
			p := l.Head(id)
			if math.Abs(math.Abs(p.X)-math.Abs(p.Y)) > 0.25 || math.Abs(far(p)-far(l.Head(corners[0]))) > 0.25 {
				t.Errorf("round %d: a corner stands at %.2f", i+1, p)
			}
		}
		if i == 0 {
			continue // on the ring
		}
		half := 0.0
		for id, e := range g.Entries(i) {
			if !e.IsStitch() {
				continue
			}
			p := l.Head(id)
			out := math.Max(math.Abs(p.X), math.Abs(p.Y))
			if half == 0 {
				half = out
			}
			if math.Abs(out-half) > 0.25 {
				t.Errorf("round %d: stitch %d is %.2f out, the first %.2f", i+1, id, out, half)
			}
		}
	}
}

// TestCircle: a circle that has what it needs is drawn to scale: its rounds are as
// far out as size works out.
func TestCircle(t *testing.T) {
	draft, g := work(t, "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\nrnd 4: [dc in next 2 st, 2 dc in next st] around\n")
	d := size.DefaultDimensions()
	l, tops := chart.Lay(draft, g, d), size.Shape(g, d).Tops()
	ring := far(l.Feet(0)[0]) - d.Ring // the ring is drawn wider than it is
	for id := range g.Len() {
		if off := far(l.Head(id)) - ring - float64(tops[id]); math.Abs(off) > 0.5 {
			t.Errorf("stitch %d is drawn %.2f w farther out than worked", id, off)
		}
	}
}

// TestRoomForAll: where a round has far more stitches than fit, it is drawn
// farther out, so that they can be told apart.
func TestRoomForAll(t *testing.T) {
	d, g := work(t, "ring\nrnd 1: 12 dc in ring\nrnd 2-5: 3 dc in each st\n")
	l := chart.Lay(d, g, size.DefaultDimensions())
	last := g.Round(g.NumRounds() - 1)
	for id := last.First + 1; id < last.First+last.Len; id++ {
		if d := apart(l.Head(id-1), l.Head(id)); d < 0.4 {
			t.Errorf("stitches %d and %d are %.2f w apart", id-1, id, d)
		}
	}
}

// TestDeepRounds: rounds that are worked into rounds farther down are drawn
// outside those between.
func TestDeepRounds(t *testing.T) {
	d, g := work(t, "ring ch 6\nrnd 1: [sc in next ch, ch 4] 6 times\nrnd 2: [(sc, 4 dc, sc) in next sp] 6 times\nrnd 3: [sc in next st of rnd 1, ch 6] 6 times\n")
	l := chart.Lay(d, g, size.DefaultDimensions())
	outer := 0.0
	for id := range g.Entries(1) {
		outer = math.Max(outer, far(l.Head(id)))
	}
	for id := range g.Entries(2) {
		if out := far(l.Head(id)); out < outer {
			t.Errorf("stitch %d of round 3 is %.2f out, round 2 reaches %.2f", id, out, outer)
		}
	}
}

// symbolOf returns how the first stitch of a kind is drawn.
func symbolOf(t *testing.T, text, kind string) string {
	t.Helper()
	d, g := work(t, text)
	p := readPicture(t, draw(t, chart.Stitches, d, g, chart.Options{}))
	for _, e := range p.root.all("g") {
		if e.attrs["data-stitch"] == kind {
			return fmt.Sprint(e.all("path")[0].attrs)
		}
	}
	t.Fatalf("no %s", kind)
	return ""
}

// TestOtherSide: the chart shows the right side of the work, whichever side a
// round is worked on, so that front and back change places in rounds that are
// turned.
func TestOtherSide(t *testing.T) {
	const joined = "ring\nrnd 1: 12 dc in ring\nrnd 2: %s around\n"
	const turned = "worked turned\n" + joined
	in := func(text, steps string) string { return fmt.Sprintf(text, "["+steps+"]") }
	for _, c := range []struct{ front, back, kind, other string }{
		{"FPdc in next st", "BPdc in next st", "FPdc", "BPdc"},
		{"tr in front loop of next st", "tr in back loop of next st", "tr", "tr"},
	} {
		front, back := symbolOf(t, in(joined, c.front), c.kind), symbolOf(t, in(joined, c.back), c.other)
		if front == back {
			t.Errorf("%s and %s look the same", c.front, c.back)
		}
		if got := symbolOf(t, in(turned, c.front), c.kind); marks(got) != marks(back) {
			t.Errorf("%s on the other side is drawn\n%s, want\n%s", c.front, got, back)
		}
	}
}

// marks is a drawing without its long lines, which depend on where things stand.
func marks(path string) string {
	return strings.Join(regexp.MustCompile(`[QC][^ML]*`).FindAllString(path, -1), "")
}

// TestSymbols: stitches that differ look different, and taller ones have a slash
// more.
func TestSymbols(t *testing.T) {
	seen := map[string]string{}
	for _, k := range model.Kinds() {
		if k.Height == model.Level {
			continue
		}
		d, g := work(t, fmt.Sprintf("ring\nrnd 1: 12 %s in ring\n", k.Name))
		p := readPicture(t, draw(t, chart.Stitches, d, g, chart.Options{}))
		// In the legend all tall stitches are as tall.
		first := p.byID["legend"].all("g")[1]
		look := ""
		for _, path := range first.all("path") {
			look += path.attrs["d"]
		}
		if other, ok := seen[look]; ok {
			t.Errorf("%s and %s look the same", k.Name, other)
		}
		seen[look] = k.Name
	}
	lines := func(kind string) int {
		d, g := work(t, fmt.Sprintf("ring\nrnd 1: 12 %s in ring\n", kind))
		p := readPicture(t, draw(t, chart.Stitches, d, g, chart.Options{}))
		return strings.Count(p.byID["s0"].all("path")[0].attrs["d"], "M")
	}
	for i, kind := range []string{"hdc", "dc", "tr", "dtr", "trtr"} {
		if n := lines(kind); n != 2+i {
			t.Errorf("%s has %d lines, want a stem, a bar and %d slashes", kind, n, i)
		}
	}
}

// TestUpright: no stitch stands on its head: the top of each lies farther out than
// its foot, but where a round does not come out and its stitches are drawn all
// round.
func TestUpright(t *testing.T) {
	for _, d := range corpus(t) {
		p := readPicture(t, draw(t, chart.Stitches, d.Draft, d.Graph, chart.Options{}))
		for i := range drawn(d.Graph) {
			if d.Graph.Round(i).Status != model.Worked {
				continue
			}
			for _, u := range p.byID[fmt.Sprintf("round-%d", i+1)].all("use") {
				x, y, turn := u.frame(t)
				stitch := p.byID[strings.TrimPrefix(u.attrs["href"], "#")].attrs["data-stitch"]
				if stitch == "ch" || stitch == "picot" {
					continue
				}
				sin, cos := math.Sincos(turn * math.Pi / 180)
				if up := x*sin - y*cos; up < 0 {
					t.Errorf("%s: a %s of round %d at %.0f, %.0f points inwards", d.name, stitch, i+1, x, y)
				}
			}
		}
	}
}

// TestColours: in colour each stitch is drawn in a class of its yarn, and the
// classes are as near to the yarn as can be seen on light and on dark ground.
func TestColours(t *testing.T) {
	d, g := work(t, "yarn foam, colour \"#f4f6f4\"\nyarn slate, colour \"#4d5a66\"\nring\nrnd 1 with foam: 12 dc in ring\nrnd 2 with slate: [dc in next st, with foam, dc in next st, with slate] around\n")
	p := checkPicture(t, chart.Stitches, d, g, chart.Options{Colour: true})
	counts := map[string]int{}
	for i := range g.NumRounds() {
		for _, u := range p.byID[fmt.Sprintf("round-%d", i+1)].all("use") {
			counts[u.inherited("class")]++
		}
	}
	if counts["y1"] != 18 || counts["y2"] != 6 || len(counts) != 2 {
		t.Errorf("stitches by class: %v", counts)
	}
	style := p.root.all("style")[0].text
	light, dark, ok := strings.Cut(style, "@media screen and (prefers-color-scheme:dark)")
	if !ok {
		t.Fatalf("no style for dark screens: %s", style)
	}
	for scheme, rules := range map[string]string{"light": light, "dark": dark} {
		paper := colourOf(t, rules, "paper")
		for class, least := range map[string]float64{"y1": 3, "y2": 3, "ink": 7, "second": 4.5, "faint": 4.5} {
			if c := contrast(colourOf(t, rules, class), paper); c < least-0.01 {
				t.Errorf("%s, .%s: contrast %.2f, want %v", scheme, class, c, least)
			}
		}
	}
	if c := colourOf(t, light, "y2"); c != [3]float64{0x4d, 0x5a, 0x66} {
		t.Errorf("slate can be seen as it is, and is drawn as %v", c)
	}
}

func colourOf(t *testing.T, rules, class string) (c [3]float64) {
	t.Helper()
	m := regexp.MustCompile(`\.` + class + `\{(?:color|fill):#(..)(..)(..)\}`).FindStringSubmatch(rules)
	if m == nil {
		t.Fatalf("no rule for .%s in %s", class, rules)
	}
	for i := range c {
		fmt.Sscanf(m[i+1], "%x", new(int))
		var part int
		fmt.Sscanf(m[i+1], "%x", &part)
		c[i] = float64(part)
	}
	return c
}

// contrast is that of the Web Content Accessibility Guidelines 2.2 (W3C, 2023).
func contrast(a, b [3]float64) float64 {
	luminance := func(c [3]float64) float64 {
		sum := 0.0
		for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
			x := c[i] / 255
			if x <= 0.04045 {
				x /= 12.92
			} else {
				x = math.Pow((x+0.055)/1.055, 2.4)
			}
			sum += weight * x
		}
		return sum
	}
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// TestLongNames: names that go on and on are cut short where they would make the
// picture larger.
func TestLongNames(t *testing.T) {
	long := strings.Repeat("Saltmarsh & <wide> ", 2000)
	name := "sand" + strings.Repeat("y", 40_000)
	d, g := work(t, fmt.Sprintf("motif %q\nyarn %s %q, colour \"#d8c6a0\"\nring\nrnd 1: 12 dc in ring\nrnd 2-30: dc in each st\n", long, name, long))
	for picture, draws := range pictures {
		p := checkPicture(t, draws, d, g, chart.Options{Colour: true})
		if v := p.view(); v.right-v.left > 3000 {
			t.Errorf("%s: %v wide", picture, v.right-v.left)
		}
		if !strings.Contains(p.byID["title"].text, long) {
			t.Errorf("%s: the title is cut in the description too", picture)
		}
	}
}

// TestStartingChains: where starting chains count, they are drawn in place of the
// stitch, and explained.
func TestStartingChains(t *testing.T) {
	for text, want := range map[string]string{
		"ring\nrnd 1: ch 3 as dc, 11 dc in ring\n":                                              "ch 3 that counts as dc",
		"begin chain counts\nring\nrnd 1: 12 tr in ring\n":                                      "ch 4 that counts as tr",
		"begin chain counts\nring\nrnd 1: 12 sc in ring\n":                                      "", // one chain makes no place
		"begin standing\nring\nrnd 1: 12 tr in ring\n":                                          "",
		"terms uk\nbegin chain counts\nring\nrnd 1: 12 tr in ring\n":                            "ch 3 that counts as tr",
		"begin chain counts\nworked spiral\nring\nrnd 1: 12 dc in ring\nrnd 2: tr in each st\n": "ch 3 that counts as dc",
	} {
		d, g := work(t, text)
		checkStitches(t, d, g, chart.Options{})
		p := readPicture(t, draw(t, chart.Stitches, d, g, chart.Options{}))
		got := ""
		for _, e := range p.byID["legend"].all("text") {
			if strings.Contains(e.text, "counts") {
				got += e.text
			}
		}
		if got != want {
			t.Errorf("the legend says %q, want %q, of:\n%s", got, want, text)
		}
	}
}
