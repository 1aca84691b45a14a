package chart

import (
	"fmt"
	"math"
	"strconv"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A yarn is how one yarn is shown.
type yarn struct {
	class  string
	name   string // for the legend; "" for no yarn
	colour rgb
	given  bool // the draft gives its colour
}

// yarnsOf lists the yarns of a piece by their index in nodes; 0 stands for none.
func yarnsOf(d *notation.Draft, g *model.Graph) []yarn {
	list := []yarn{{}}
	for _, name := range g.Yarns() {
		y := yarn{class: fmt.Sprintf("y%d", len(list)), name: name}
		for decl := range d.Yarns() {
			if decl.Name.Text != name {
				continue
			}
			if decl.Label != "" {
				y.name += ", " + decl.Label
			}
			y.colour, y.given = parseColour(decl.Colour)
			break
		}
		list = append(list, y)
	}
	return list
}

// swatch shows the colour as it is given.
func (y yarn) swatch(p *pen, at Point) {
	fill := "none"
	if y.given {
		fill = y.colour.String()
	}
	b := box{at.X - 11, at.Y - 8, at.X + 11, at.Y + 8}
	p.one("rect", "", append(b.attrs(), "rx", "3", "fill", fill, "stroke", "currentColor", "stroke-width", "0.8")...)
}

// yarnRules are the rules of style for yarns: their own colour, or as near to it
// as can be seen on the ground.
func yarnRules(yarns []yarn) []string {
	var rules []string
	for _, y := range yarns {
		if y.given {
			rules = append(rules,
				fmt.Sprintf(".%s{color:%s}", y.class, y.colour.seenOn(light.paper)),
				fmt.Sprintf(".%s{color:%s}", y.class, y.colour.seenOn(dark.paper)))
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
