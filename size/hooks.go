package size

import (
	"math"
	"slices"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A HookSize is one of the usual sizes of hooks. Only the millimetres are
// unambiguous: letters and numbers vary from maker to maker.
type HookSize struct {
	Size Length
	US   string
	UK   string // "" where none was read
}

// Name returns what the size is called where patterns are written in these terms,
// as in "US H-8" or "UK 6"; "" where that was not read.
func (h HookSize) Name(terms notation.Terms) string {
	switch {
	case terms == notation.UK && h.UK != "":
		return "UK " + h.UK
	case terms != notation.UK && h.US != "":
		return "US " + h.US
	}
	return ""
}

// hookSizes lists the sizes for which the pair of mm and letter or number was
// read: in the Standard Yarn Weight System as printed in a magazine of October
// 2018, p. 64 (2.25, 3.5, 4.5, 5.5, 6.5, 9, 16 mm), and in three charts of hook
// sizes (sites, undated); 15 mm in a printed pattern.
var hookSizes = []HookSize{
	{2.25, "B-1", "13"}, {2.75, "C-2", "12"}, {3.25, "D-3", "10"}, {3.5, "E-4", "9"}, {3.75, "F-5", ""},
	{4, "G-6", "8"}, {4.5, "7", "7"}, {5, "H-8", "6"}, {5.5, "I-9", "5"}, {6, "J-10", "4"},
	{6.5, "K-10 1/2", "3"}, {8, "L-11", "0"}, {9, "M/N-13", "00"}, {10, "N/P-15", "000"}, {15, "P/Q", ""}, {16, "Q", ""},
}

// HookSizes lists the usual sizes of hooks, from thin to thick.
func HookSizes() []HookSize { return slices.Clone(hookSizes) }

// HookNamed returns the usual size that is this thick, ok false when there is
// none.
func HookNamed(size Length) (h HookSize, ok bool) {
	for _, h := range hookSizes {
		if math.Abs(float64(h.Size-size)) < 0.01 {
			return h, true
		}
	}
	return HookSize{}, false
}

// How stitches grow with the hook, in one yarn: as powers of its thickness.
// Fitted on hdc in one yarn with hooks of 3.5, 4, 4.5 and 5 mm (G20 to G23 in
// testdata/gauges.csv), which they meet within 1 %. That stitches are as wide as
// the hook is thick, as a rule of thumb has it, would be a power of 1.
const (
	widthByHook  = 0.51
	heightByHook = 0.73
)

// How much thinner or thicker a hook may be than that of the gauge for WithHook
// to say what it does: what it is fitted on goes from 3.5 to 5 mm.
const (
	LeastHookRatio = 0.7
	MostHookRatio  = 1.4
)

// WithHook returns the gauge that the same hand and yarn should have with a hook
// so many times as thick: stitches are ratio^0.51 times as wide and ratio^0.73
// times as tall. That rests on one yarn and hooks from 3.5 to 5 mm, so on ratios
// from LeastHookRatio to MostHookRatio; other yarns will differ, and a swatch decides. ratio is more
// than 0.
func (g Gauge) WithHook(ratio float64) Gauge {
	g.Unit *= Length(math.Pow(ratio, widthByHook))
	taller := math.Pow(ratio, heightByHook-widthByHook)
	for h := model.Slip; h <= model.TripleTreble; h++ {
		g.Dimensions.Height[h] *= taller
	}
	g.Dimensions.ClusterHeight *= taller
	return g
}
