package pattern_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
	"example.com/roundel/size"
	"example.com/roundel/size/chart"
	"example.com/roundel/size/pattern"
)

// An svg is a chart as whoever looks at it has it.
type svg struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Kids    []svg      `xml:",any"`
	Text    string     `xml:",chardata"`
}

func (e *svg) attr(name string) string {
	for _, a := range e.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// all lists the elements for which a question is answered with yes.
func (e *svg) all(is func(*svg) bool) []*svg {
	var list []*svg
	if is(e) {
		list = append(list, e)
	}
	for i := range e.Kids {
		list = append(list, e.Kids[i].all(is)...)
	}
	return list
}

func (e *svg) byID(id string) *svg {
	for _, found := range e.all(func(e *svg) bool { return e.attr("id") == id }) {
		return found
	}
	return &svg{}
}

// A drawing is what a chart shows of a round.
type drawing struct {
	// Stitches are its symbols by what they stand for.
	Stitches map[string]int
	// Slips are the slip stitches beside them, Uncounted the chains of a start
	// that does not count.
	Slips, Uncounted, Invisible int
}

// drawings reads a chart, round by round.
func drawings(picture *svg, rounds int) []drawing {
	symbols := map[string]*svg{}
	for _, s := range picture.all(func(e *svg) bool { return e.attr("data-stitch")+e.attr("data-seam") != "" }) {
		symbols["#"+s.attr("id")] = s
	}
	uses := func(id string) (list []*svg) {
		for _, u := range picture.byID(id).all(func(e *svg) bool { return e.XMLName.Local == "use" }) {
			list = append(list, symbols[u.attr("href")])
		}
		return list
	}
	list := make([]drawing, rounds)
	for i := range list {
		d := &list[i]
		d.Stitches = map[string]int{}
		for _, s := range uses(fmt.Sprintf("round-%d", i+1)) {
			d.Stitches[s.attr("data-stitch")]++
		}
		for _, s := range uses(fmt.Sprintf("seam-%d", i+1)) {
			switch s.attr("data-seam") {
			case "sl st":
				d.Slips++
			case "invisible join":
				d.Invisible++
			case "ch":
				for _, path := range s.Kids { // each is an oval, drawn as two arcs
					d.Uncounted += strings.Count(path.attr("d"), "A") / 2
				}
			}
		}
	}
	return list
}

// drawing is what the words say of a round, put like what the chart shows.
func (w *worked) drawing() drawing {
	d := drawing{Stitches: map[string]int{}, Slips: w.slips, Uncounted: w.uncounted}
	for _, it := range w.items {
		if it.kind == "ch" {
			d.Stitches["ch"] += it.chains
			continue
		}
		d.Stitches[it.kind]++
	}
	switch w.closed {
	case "sl st":
		d.Slips++
	case "invisible join":
		d.Invisible++
	}
	return d
}

// begun finds the stitch or run of chains that each round of a chart begins with:
// the next one after its number, in the direction of work.
func begun(t rapid.TB, picture *svg, d *notation.Draft, g *model.Graph) []int {
	t.Helper()
	numbers := picture.byID("numbers").all(func(e *svg) bool { return e.XMLName.Local == "text" })
	if len(numbers) != g.NumRounds() {
		t.Fatalf("%d numbers for %d rounds", len(numbers), g.NumRounds())
	}
	at := func(e *svg, name string) float64 {
		x, err := strconv.ParseFloat(e.attr(name), 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	layout := chart.Lay(d, g, size.GaugeOf(g, d.Gauge()).Dimensions)
	list := make([]int, len(numbers))
	for i, n := range numbers {
		r := g.Round(i)
		if want := strconv.Itoa(r.Number); n.Text != want {
			t.Errorf("number %q, want %s", n.Text, want)
		}
		from := math.Atan2(-at(n, "y")+0.36*at(n, "font-size"), at(n, "x"))
		near := math.Inf(1)
		for id, e := range g.Entries(i) {
			if !e.IsStitch() && g.Kind(id).Name == "picot" {
				continue
			}
			head := layout.Head(id)
			ahead := math.Atan2(head.Y, head.X) - from
			if r.Turned {
				ahead = -ahead
			}
			if ahead -= 2 * math.Pi * math.Floor(ahead/(2*math.Pi)); ahead < near {
				near, list[i] = ahead, id
			}
		}
	}
	return list
}

// checkPictures holds the words of a motif against its chart: read from the stitch
// that the chart begins each round with, they give the graph; they work as many
// of each stitch as the chart shows; and they join, slip and chain beside them
// where it does.
func checkPictures(t rapid.TB, d *notation.Draft, g *model.Graph, begun func(picture *svg) []int) {
	t.Helper()
	var b bytes.Buffer
	if err := chart.Stitches(&b, d, g, chart.Options{}); err != nil {
		t.Fatal(err)
	}
	var picture svg
	if err := xml.Unmarshal(b.Bytes(), &picture); err != nil {
		t.Fatal(err)
	}
	p := written(t, d, g, notation.US)
	motif := "Instructions"
	if g.Panel() != nil {
		motif = "Motif"
	}
	h := newHand(t, p)
	if err := readRounds(section(p, motif), g, h, begun(&picture)); err != nil {
		t.Fatal(err)
	}
	for i, shown := range drawings(&picture, g.NumRounds()) {
		if diff := cmp.Diff(h.rounds[i].drawing(), shown); diff != "" {
			t.Errorf("round %d (-words +chart):\n%s", g.Round(i).Number, diff)
		}
	}
}

// TestPictures holds the words of all drafts that come with the project against
// their charts.
func TestPictures(t *testing.T) {
	for _, file := range drafts(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, g, _ := built(t, string(text))
			checkPictures(t, d, g, func(picture *svg) []int { return begun(t, picture, d, g) })
		})
	}
}

// TestPicturesDrawn does the same for pieces that nobody designed.
func TestPicturesDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := rapid.SampledFrom([]string{"", "begin chain counts\n", "begin chain uncounted\n", "begin standing\n", "begin chainless\n"}).Draw(t, "start")
		d, g, _ := built(t, start+notationtest.Pieces().Draw(t, "piece").String())
		// In a crowd numbers are moved aside.
		checkPictures(t, d, g, func(*svg) (list []int) {
			for _, b := range pattern.Beginnings(d, g) {
				list = append(list, b.First)
			}
			return list
		})
	})
}
