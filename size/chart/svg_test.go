package chart_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A picture is an SVG as a reader of its own sees it, without the code that wrote
// it: a tree, checked to be well-formed.
type picture struct {
	root *element
	byID map[string]*element
}

type element struct {
	name   string
	attrs  map[string]string
	kids   []*element
	text   string
	parent *element
}

func readPicture(t reporter, text []byte) *picture {
	t.Helper()
	p := &picture{byID: map[string]*element{}}
	d := xml.NewDecoder(bytes.NewReader(text))
	d.Strict = true
	var at *element
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := &element{name: tok.Name.Local, attrs: map[string]string{}, parent: at}
			for _, a := range tok.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			if id := e.attrs["id"]; id != "" {
				if p.byID[id] != nil {
					t.Fatalf("id %s stands twice", id)
				}
				p.byID[id] = e
			}
			if at == nil {
				if p.root != nil {
					t.Fatalf("two roots")
				}
				p.root = e
			} else {
				at.kids = append(at.kids, e)
			}
			at = e
		case xml.EndElement:
			at = at.parent
		case xml.CharData:
			if at != nil {
				at.text += string(tok)
			}
		}
	}
	if p.root == nil || p.root.name != "svg" {
		t.Fatalf("no svg")
	}
	return p
}

// all lists the elements of a name, in order.
func (e *element) all(name string) []*element {
	var list []*element
	if e.name == name {
		list = append(list, e)
	}
	for _, k := range e.kids {
		list = append(list, k.all(name)...)
	}
	return list
}

// inherited is the value of an attribute of an element or what it stands in.
func (e *element) inherited(attr string) string {
	for ; e != nil; e = e.parent {
		if v, ok := e.attrs[attr]; ok {
			return v
		}
	}
	return ""
}

func num(text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(fmt.Sprintf("%q is no number", text))
	}
	return x
}

// stitches counts the symbols of stitches by what they stand for, leaving out
// those of what is worked beside them.
func (p *picture) stitches(t reporter) map[string]int {
	t.Helper()
	counts := map[string]int{}
	for _, u := range p.root.all("use") {
		def := p.byID[strings.TrimPrefix(u.attrs["href"], "#")]
		if def == nil || def.parent.name != "defs" {
			t.Fatalf("%s is not defined", u.attrs["href"])
		}
		if seam := def.attrs["data-seam"]; (seam == "") == (def.attrs["data-stitch"] == "") {
			t.Fatalf("%s is a stitch %q and a seam %q", u.attrs["href"], def.attrs["data-stitch"], seam)
		} else if seam == "" {
			counts[def.attrs["data-stitch"]]++
		}
	}
	return counts
}

type extent struct{ left, top, right, bottom float64 }

func (e *extent) add(x, y float64) {
	e.left, e.top = math.Min(e.left, x), math.Min(e.top, y)
	e.right, e.bottom = math.Max(e.right, x), math.Max(e.bottom, y)
}

func nothing() extent { return extent{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

func (e extent) holds(f extent) bool {
	const give = 0.2 // rounding
	return e.left-give <= f.left && e.top-give <= f.top && f.right <= e.right+give && f.bottom <= e.bottom+give
}

func (e extent) overlaps(f extent) bool {
	const give = 0.05
	return e.left+give < f.right && f.left+give < e.right && e.top+give < f.bottom && f.top+give < e.bottom
}

// view is the view box.
func (p *picture) view() extent {
	f := strings.Fields(p.root.attrs["viewBox"])
	x, y := num(f[0]), num(f[1])
	return extent{x, y, x + num(f[2]), y + num(f[3])}
}

var pathPart = regexp.MustCompile(`[A-Za-z]|-?[0-9.]+`)

// points are places that a symbol goes through, or turns by: the ends of its
// lines and what curves lean to, and of an ellipse the ends of its axes.
func (e *element) points() [][2]float64 {
	var list [][2]float64
	for _, path := range e.all("path") {
		letter := ""
		var nums []float64
		flush := func() {
			switch letter {
			case "A":
				for len(nums) >= 7 {
					from, to := list[len(list)-1], [2]float64{nums[5], nums[6]}
					cx, cy := (from[0]+to[0])/2, (from[1]+to[1])/2
					dx, dy := to[0]-cx, to[1]-cy
					if r := math.Hypot(dx, dy); r > 0 { // half an ellipse
						k := nums[1] / r
						list = append(list, [2]float64{cx - dy*k, cy + dx*k}, [2]float64{cx + dy*k, cy - dx*k})
					}
					list = append(list, to)
					nums = nums[7:]
				}
			default:
				for len(nums) >= 2 {
					list = append(list, [2]float64{nums[0], nums[1]})
					nums = nums[2:]
				}
			}
			nums = nums[:0]
		}
		for _, part := range pathPart.FindAllString(path.attrs["d"], -1) {
			if c := part[0]; c >= 'A' {
				flush()
				letter = part
				continue
			}
			nums = append(nums, num(part))
		}
		flush()
	}
	return list
}

var transform = regexp.MustCompile(`^translate\((-?[0-9.]+) (-?[0-9.]+)\)(?:rotate\((-?[0-9.]+)\))?$`)

// frame reads a transform: where it sets the origin, and by how many degrees it
// turns.
func (e *element) frame(t reporter) (x, y, turn float64) {
	t.Helper()
	m := transform.FindStringSubmatch(e.attrs["transform"])
	if m == nil {
		t.Fatalf("transform %q", e.attrs["transform"])
	}
	if m[3] != "" {
		turn = num(m[3])
	}
	return num(m[1]), num(m[2]), turn
}

// placed is where a symbol comes to lie.
func (p *picture) placed(t reporter, use *element) extent {
	t.Helper()
	x, y, turn := use.frame(t)
	sin, cos := math.Sincos(turn * math.Pi / 180)
	out := nothing()
	for _, q := range p.byID[strings.TrimPrefix(use.attrs["href"], "#")].points() {
		out.add(x+q[0]*cos-q[1]*sin, y+q[0]*sin+q[1]*cos)
	}
	return out
}

var scale = regexp.MustCompile(`^scale\((-?[0-9.]+)\)$`)

// drawn is where a shape that is drawn at its place lies: outside the definitions
// and in no frame but one that makes it smaller.
func (e *element) drawn() (at extent, ok bool) {
	k := 1.0
	for up := e; up != nil; up = up.parent {
		if up.name == "defs" {
			return extent{}, false
		}
		if t := up.attrs["transform"]; t != "" {
			m := scale.FindStringSubmatch(t)
			if m == nil {
				return extent{}, false
			}
			k *= num(m[1])
		}
	}
	at = nothing()
	switch e.name {
	case "path":
		if strings.ContainsAny(e.attrs["d"], "Hh") {
			return extent{}, false
		}
		for _, p := range e.points() {
			at.add(p[0]*k, p[1]*k)
		}
	case "circle":
		x, y, r := num(e.attrs["cx"])*k, num(e.attrs["cy"])*k, num(e.attrs["r"])*k
		at.add(x-r, y-r)
		at.add(x+r, y+r)
	case "rect":
		x, y := num(e.attrs["x"]), num(e.attrs["y"])
		at.add(x*k, y*k)
		at.add((x+num(e.attrs["width"]))*k, (y+num(e.attrs["height"]))*k)
	default:
		return extent{}, false
	}
	return at, true
}

// label is about where a text lies: its letters are taken as 0.6 times as wide as
// the type is large, and half as wide again for what is not Latin.
func (e *element) label() extent {
	size := num(e.inherited("font-size"))
	wide := 0.0
	for _, r := range e.text {
		if wide += 0.6 * size; utf8.RuneLen(r) > 2 {
			wide += 0.3 * size
		}
	}
	x, y := num(e.attrs["x"]), num(e.attrs["y"])
	switch e.inherited("text-anchor") {
	case "middle":
		x -= wide / 2
	case "end":
		x -= wide
	}
	return extent{x, y - 0.75*size, x + wide, y + 0.2*size}
}
