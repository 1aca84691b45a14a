package chart

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// A hue is one colour of a piece: that of a yarn, or of a stretch of a yarn that
// changes.
type hue struct {
	class  string
	name   string // for the legend
	yarn   int    // index in nodes
	colour rgb
	given  bool // the draft gives the colour
}

// A palette is the hues of a piece, and which stitch has which.
type palette struct {
	hues []hue   // the first stands for no yarn
	of   []int32 // by stitch
	// reckoned tells that some yarn changes its colour, and where it does so is
	// an estimate.
	reckoned bool
}

// note says so.
func (p *palette) note() string {
	if p == nil || !p.reckoned {
		return ""
	}
	return " Where a yarn changes its colour is an estimate."
}

// paletteOf finds the hues of a piece. Where a yarn changes is known when there is
// a gauge, for the first motif that is made; else it is shown in its first colour.
func paletteOf(d *notation.Draft, g *model.Graph) *palette {
	p := &palette{hues: []hue{{}}, of: make([]int32, g.Len())}
	first := []int{0} // hue of each yarn
	changing := false
	for _, name := range g.Yarns() {
		first = append(first, len(p.hues))
		line := yarnLine(d, name)
		if line == nil || len(line.Stretches) == 0 {
			h := hue{name: name}
			if line != nil {
				h.label(name, line.Label, line.Colour)
			}
			p.add(h, len(first)-1)
			continue
		}
		changing = true
		for _, s := range line.Stretches {
			var h hue
			h.label(name, s.Label, s.Colour)
			p.add(h, len(first)-1)
		}
	}
	for i := range g.NumRounds() {
		for id, n := range g.Entries(i) {
			p.of[id] = int32(first[n.Yarn()])
		}
	}
	if changing {
		p.change(d, g, first)
	}
	if g.Ring > 0 && g.NumRounds() > 0 && g.Round(0).Len > 0 {
		p.of[0] = p.of[g.Round(0).First]
	}
	return p
}

func yarnLine(d *notation.Draft, name string) *notation.Yarn {
	for y := range d.Yarns() {
		if y.Name.Text == name {
			return y
		}
	}
	return nil
}

func (h *hue) label(name, label, colour string) {
	h.name = name
	if label != "" && label != name {
		h.name += " (" + label + ")"
	}
	h.colour, h.given = parseColour(colour)
}

func (p *palette) add(h hue, yarn int) {
	h.class, h.yarn = fmt.Sprintf("y%d", len(p.hues)), yarn
	p.hues = append(p.hues, h)
}

// change lays the stretches of yarns that change along the stitches.
func (p *palette) change(d *notation.Draft, g *model.Graph, first []int) {
	sheet, err := size.NewSheet(context.Background(), d, g)
	if err != nil {
		return
	}
	p.reckoned = len(sheet.Changes) > 0
	for yarn, name := range g.Yarns() {
		yarn++
		var list []size.Change
		for _, c := range sheet.Changes {
			if c.Yarn == name && c.Motif == 1 {
				list = append(list, c)
			}
		}
		if len(list) == 0 {
			continue
		}
		now := first[yarn]
		for i, r := range g.Rounds() {
			stitch := 0
			for id, n := range g.Entries(i) {
				if n.IsStitch() {
					stitch++
				}
				for len(list) > 0 && list[0].Round == r.Number && list[0].Stitch <= max(1, stitch) {
					now = first[yarn] + list[0].Stretch
					list = list[1:]
				}
				if n.Yarn() == yarn {
					p.of[id] = int32(now)
				}
			}
		}
	}
}

// swatch shows the colour as it is given.
func (h hue) swatch(p *pen, at Point) {
	fill := "none"
	if h.given {
		fill = h.colour.String()
	}
	p.swatch(at, fill)
}

// rules are the rules of style for lines in the hues: their own colour, or as near
// to it as can be seen on the ground.
func (p *palette) rules() []string {
	if p == nil {
		return nil
	}
	var rules []string
	for _, h := range p.hues {
		if h.given {
			rules = append(rules,
				fmt.Sprintf(".%s{color:%s}", h.class, h.colour.seenOn(light.paper)),
				fmt.Sprintf(".%s{color:%s}", h.class, h.colour.seenOn(dark.paper)))
		}
	}
	return rules
}

// An rgb is a colour, each part from 0 to 255.
type rgb [3]float64

// parseColour reads "#d8c6a0".
func parseColour(text string) (c rgb, ok bool) {
	if len(text) != 7 || text[0] != '#' {
		return rgb{}, false
	}
	for i := range c {
		part, err := strconv.ParseUint(text[1+2*i:3+2*i], 16, 8)
		if err != nil {
			return rgb{}, false
		}
		c[i] = float64(part)
	}
	return c, true
}

func (c rgb) String() string {
	return fmt.Sprintf("#%02x%02x%02x", int(math.Round(c[0])), int(math.Round(c[1])), int(math.Round(c[2])))
}

// mixed is a colour with a share of another, from 0 to 1.
func (c rgb) mixed(with rgb, share float64) rgb {
	for i := range c {
		c[i] += (with[i] - c[i]) * share
	}
	return c
}

// leastContrast is how much lines must stand out from the ground: Web Content
// Accessibility Guidelines 2.2, W3C, 2023, criterion 1.4.11.
const leastContrast = 3.0

// seenOn returns the colour, as much darker on light ground or lighter on dark
// ground as it takes to be seen.
func (c rgb) seenOn(ground string) rgb {
	paper, _ := parseColour(ground)
	ink := rgb{255, 255, 255}
	if paper.luminance() > 0.5 {
		ink = rgb{}
	}
	for share := 0.0; share < 1; share += 0.02 {
		if m := c.mixed(ink, share); contrast(m, paper) >= leastContrast {
			return m
		}
	}
	return ink
}

// contrast and luminance are as the guidelines define them.
func contrast(a, b rgb) float64 {
	la, lb := a.luminance(), b.luminance()
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func (c rgb) luminance() float64 {
	part := func(x float64) float64 {
		if x /= 255; x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c[0]) + 0.7152*part(c[1]) + 0.0722*part(c[2])
}
