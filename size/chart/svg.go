package chart

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"

	"example.com/roundel/notation"
)

// unit is how many units of the picture one w takes.
const unit = 20.0

// A pen writes elements of a picture. It remembers the first error.
type pen struct {
	xml  *xml.Encoder
	open []xml.Name
	err  error
}

func newPen(w io.Writer) *pen { return &pen{xml: xml.NewEncoder(w)} }

func (p *pen) token(t xml.Token) {
	if p.err == nil {
		p.err = p.xml.EncodeToken(t)
	}
}

// start opens an element; attrs are names and values in turn. Those without a
// value are left out.
func (p *pen) start(name string, attrs ...string) {
	e := xml.StartElement{Name: xml.Name{Local: name}}
	for i := 0; i+1 < len(attrs); i += 2 {
		if attrs[i+1] != "" {
			e.Attr = append(e.Attr, xml.Attr{Name: xml.Name{Local: attrs[i]}, Value: attrs[i+1]})
		}
	}
	p.open = append(p.open, e.Name)
	p.token(e)
}

func (p *pen) end() {
	last := len(p.open) - 1
	p.token(xml.EndElement{Name: p.open[last]})
	p.open = p.open[:last]
}

// one writes an element with nothing in it, or nothing but text.
func (p *pen) one(name, text string, attrs ...string) {
	p.start(name, attrs...)
	if text != "" {
		p.token(xml.CharData(text))
	}
	p.end()
	p.line()
}

// group opens a group.
func (p *pen) group(class, id string) {
	p.start("g", "class", class, "id", id)
	p.line()
}

// close closes an element that stands on lines of its own.
func (p *pen) close() {
	p.end()
	p.line()
}

func (p *pen) line() { p.token(xml.CharData("\n")) }

// finish closes what is open and hands on what was written.
func (p *pen) finish() error {
	for len(p.open) > 0 {
		p.end()
	}
	p.line()
	if p.err != nil {
		return p.err
	}
	return p.xml.Flush()
}

// A box is a part of the picture, Y down.
type box struct{ left, top, right, bottom float64 }

var nowhere = box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

func (b *box) add(c box) {
	b.left, b.top = math.Min(b.left, c.left), math.Min(b.top, c.top)
	b.right, b.bottom = math.Max(b.right, c.right), math.Max(b.bottom, c.bottom)
}

func (b box) grown(by float64) box { return box{b.left - by, b.top - by, b.right + by, b.bottom + by} }
func (b box) width() float64       { return b.right - b.left }
func (b box) height() float64      { return b.bottom - b.top }
func (b box) attrs() []string {
	return []string{"x", number(b.left), "y", number(b.top), "width", number(b.width()), "height", number(b.height())}
}

func (b box) scaled(k float64) box { return box{b.left * k, b.top * k, b.right * k, b.bottom * k} }

// widen makes the box at least so wide.
func (b *box) widen(least float64) {
	if spare := least - b.width(); spare > 0 {
		b.left, b.right = b.left-spare/2, b.right+spare/2
	}
}

// around is the box of a circle, in units of the picture, Y down.
func around(at Point, r float64) box { return box{at.X - r, at.Y - r, at.X + r, at.Y + r} }

// begin opens the picture: its size, what it is for those who do not see it, and
// its style.
func (p *pen) begin(view box, title, text string, rules ...string) {
	p.start("svg", "xmlns", "http://www.w3.org/2000/svg",
		"viewBox", fmt.Sprintf("%s %s %s %s", number(view.left), number(view.top), number(view.width()), number(view.height())),
		"width", number(view.width()), "height", number(view.height()),
		"role", "img", "aria-labelledby", "title desc")
	p.line()
	p.one("title", title, "id", "title")
	p.one("desc", text, "id", "desc")
	p.one("style", style(rules))
	p.one("rect", "", append(view.attrs(), "class", "paper")...)
}

// A head is the title of a picture and what is said below it.
type head struct {
	title, text string
	lines       []string // of the text
	x, y, wide  float64
}

func headOf(title, text string) *head { return &head{title: title, text: text} }

// above makes room for the head above a picture and returns the box of both.
func (h *head) above(picture box) box {
	h.x, h.wide = picture.left+margin, picture.width()-2*margin
	h.lines = linesOf(h.text, textSize, h.wide)
	picture.top -= headRoom + lineStep*float64(len(h.lines)-1)
	h.y = picture.top + margin + 0.6*titleSize
	return picture
}

func (h *head) write(p *pen) {
	p.group("ink", "")
	size := math.Max(textSize, titleSize*math.Min(1, h.wide/textWidth(h.title, titleSize)))
	p.write(cut(h.title, size, h.wide), h.x, h.y, size, "start", "font-weight", "bold")
	for i, line := range h.lines {
		p.write(line, h.x, h.y+1.5*textSize+lineStep*float64(i), textSize, "start", "class", "faint")
	}
	p.close()
}

// lineStep is from one line of text to the next.
const lineStep = 1.35 * textSize

// linesOf divides a text into lines of a width, between words.
func linesOf(text string, size, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && textWidth(line+" "+word, size) > width {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	return append(lines, line)
}

// swatch shows a colour.
func (p *pen) swatch(at Point, fill string) {
	b := box{at.X - 11, at.Y - 8, at.X + 11, at.Y + 8}
	p.one("rect", "", append(b.attrs(), "rx", "3", "fill", fill, "stroke", "currentColor", "stroke-width", "0.8")...)
}

// A look is the colours of a picture on light or dark ground.
type look struct{ paper, ink, second, faint, mark, band string }

var (
	light = look{paper: "#fffdf8", ink: "#1c1d21", second: "#1f6391", faint: "#6a6c73", mark: "#f1d49b", band: "#dfe9e2"}
	dark  = look{paper: "#15171b", ink: "#ececee", second: "#86bde6", faint: "#a4a7af", mark: "#6a5423", band: "#2b3a32"}
)

func (l look) rules() string {
	return fmt.Sprintf(".paper{fill:%s}.ink{color:%s}.second{color:%s}.faint{color:%s}.mark{fill:%s}.band{fill:%s}", l.paper, l.ink, l.second, l.faint, l.mark, l.band)
}

// style is the style of a picture. rules are pairs: what holds on light ground,
// and what holds on dark ground instead. Print is on light ground always.
func style(rules []string) string {
	var b strings.Builder
	b.WriteString("svg{color-scheme:light dark;font-family:system-ui,'Segoe UI','DejaVu Sans',sans-serif}" +
		"text{fill:currentColor}" +
		".lines{fill:none;stroke:currentColor;stroke-width:1.5;stroke-linecap:round;stroke-linejoin:round}" +
		".full{fill:currentColor;stroke:none}")
	var night strings.Builder
	b.WriteString(light.rules())
	night.WriteString(dark.rules())
	for i := 0; i+1 < len(rules); i += 2 {
		b.WriteString(rules[i])
		night.WriteString(rules[i+1])
	}
	fmt.Fprintf(&b, "@media screen and (prefers-color-scheme:dark){%s}", night.String())
	return b.String()
}

// textWidth is about how wide a text is, rather too wide: fonts differ.
func textWidth(text string, size float64) float64 {
	w := 0.0
	for _, r := range text {
		switch {
		case r >= 0x1100:
			w += 1.05
		case r >= 'A' && r <= 'Z' || r == 'm' || r == 'w' || r > 0x7f:
			w += 0.82
		default:
			w += 0.62
		}
	}
	return w * size
}

// cut shortens a text to a width.
func cut(text string, size, width float64) string {
	if textWidth(text, size) <= width {
		return text
	}
	runes := []rune(text)
	w := textWidth("…", size)
	for i, r := range runes {
		if w += textWidth(string(r), size); w > width {
			return string(runes[:i]) + "…"
		}
	}
	return text
}

// write writes a text with its middle, or its beginning, at x and its baseline at
// y.
func (p *pen) write(text string, x, y, size float64, anchor string, attrs ...string) {
	p.one("text", text, append([]string{"x", number(x), "y", number(y), "font-size", number(size), "text-anchor", anchor}, attrs...)...)
}

// circle draws a circle; lengths are in w, Y is up.
func (p *pen) circle(at Point, r float64) {
	p.one("circle", "", "cx", number(at.X*unit), "cy", number(-at.Y*unit), "r", number(r*unit))
}

// number writes the number of a round.
func (p *pen) number(text string, at Point) {
	p.write(text, at.X*unit, -at.Y*unit+0.36*numberSize, numberSize, "middle", "font-weight", "bold")
}

// arrow draws an arrowhead.
func (p *pen) arrow(at Point, along float64) {
	tip, back, side := at.plus(polar(along, 0.16)), at.minus(polar(along, 0.14)), polar(along+math.Pi/2, 0.13)
	f := newFigure()
	f.path(&f.filled, "M", tip)
	f.path(&f.filled, "L", back.plus(side), back.minus(side))
	f.draw(p)
	p.line()
}

// draw writes the drawing.
func (f *figure) draw(p *pen) {
	if f.lines.Len() > 0 {
		p.start("path", "d", f.lines.String())
		p.end()
	}
	if f.filled.Len() > 0 {
		p.start("path", "class", "full", "d", f.filled.String())
		p.end()
	}
}

// labels are boxes that must not overlap, in w, found by the cells they lie in.
type labels map[[2]int][]box

// place finds room for a label with its middle at a place, or as near to it as
// can be along a direction, either way.
func (l *labels) place(at Point, along, wide, tall float64) Point {
	if *l == nil {
		*l = labels{}
	}
	for step := range 400 {
		off := float64((step+1)/2) * tall / 2
		if step%2 == 1 {
			off = -off
		}
		p := at.plus(polar(along, off))
		b := box{p.X - wide/2, p.Y - tall/2, p.X + wide/2, p.Y + tall/2}
		if l.free(b) {
			at = p
			break
		}
	}
	b := box{at.X - wide/2, at.Y - tall/2, at.X + wide/2, at.Y + tall/2}
	l.cells(b, func(c [2]int) { (*l)[c] = append((*l)[c], b) })
	return at
}

func (l *labels) free(b box) bool {
	free := true
	l.cells(b, func(c [2]int) {
		for _, o := range (*l)[c] {
			if b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom {
				free = false
			}
		}
	})
	return free
}

func (l *labels) cells(b box, each func([2]int)) {
	for x := int(math.Floor(b.left)); x <= int(math.Floor(b.right)); x++ {
		for y := int(math.Floor(b.top)); y <= int(math.Floor(b.bottom)); y++ {
			each([2]int{x, y})
		}
	}
}

// named is what a stitch is called, in all terms that are wanted.
func named(us string, terms []notation.Terms) string {
	names := make([]string, 0, len(terms))
	same := true
	for _, t := range terms {
		names = append(names, t.Name(us))
		same = same && names[0] == t.Name(us)
	}
	if same {
		return names[0]
	}
	for i, t := range terms {
		names[i] += " (" + strings.ToUpper(t.String()) + ")"
	}
	return strings.Join(names, ", ")
}
