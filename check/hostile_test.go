package check

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// A bomb is a text that nobody writes by hand, or that is not what it seems.
type bomb struct {
	name, text string
	limit      string // what stops it: a field of Options, or what is fixed; "" for none
}

// bombs are drafts that stand for more than anybody can work, and texts that
// are not what they seem.
func bombs() []bomb {
	const ring = "ring\nrnd 1: "
	doubled := "stitch a0 = (dc, dc)\n"
	for i := range 40 {
		doubled += fmt.Sprintf("stitch a%d = (a%d, a%d)\n", i+1, i, i)
	}
	return []bomb{
		{"repeats in repeats, never closed", ring + strings.Repeat("[", 400_000), "Text.Bytes"},
		{"repeats in repeats, as long as may be", ring + strings.Repeat("[", 65_000), "Text.Depth"},
		{"groups in groups", ring + strings.Repeat("(", 500) + "dc" + strings.Repeat(")", 500) + " in ring\n", "Text.Depth"},
		{"repeats of repeats", ring + "[[[[dc in ring] 9999 times] 9999 times] 9999 times] 9999 times\n", "Work.Stitches"},
		{"repeats of repeats of chains", ring + "dc in ring, [[[ch 9999] 9999 times] 9999 times] 9999 times\n", "Work.Stitches"},
		{"a repeat of nothing", "yarn sand\n" + ring + "[with sand] 2000000000 times, dc in ring\n", "Work.Stitches"},
		{"a large number", ring + "2000000000 dc in ring\n", "Work.Stitches"},
		{"a number past all", ring + strings.Repeat("9", 1000) + " dc in ring\n", "31 bits"},
		{"one long line", strings.Repeat("x", 50_000_000), "Text.Bytes"},
		{"one long round", ring + strings.Repeat("dc in ring, ", 4_000_000) + "dc in ring\n", "Text.Bytes"},
		{"a million rounds", "lies cupped\n" + ring + "6 dc in ring\nrnd 2-1000000: dc in each st\n", "Work.Rounds"},
		{"a million lines", "ring\n" + strings.Repeat("rnd 1: 6 dc in ring\n", 1_000_000), "Text.Bytes"},
		{"a thousand lines that cannot be read", strings.Repeat("round\n", 1000), "Text.Errors"},
		{"named groups, each twice in the next", doubled + ring + "a40 in ring\n", "65,536 steps a round"},
		{"the same above a line that cannot be read", doubled + "ring\nrnd 1: dc dc in\nrnd 2: a40 in next st = 12 dc\n", ""},
		{"a named group in itself", "stitch a = (a, dc)\n" + ring + "a in ring\n", ""},
		{"named groups in one another", "stitch a = (b, dc)\nstitch b = (c, dc)\nstitch c = (a, dc)\n" + ring + "a in ring\n", ""},
		{"a round that is as itself", ring + "6 dc in ring\nrnd 2: as rnd 2\n", ""},
		{"a claim of millions, and rounds on it", ring + "6 dc in ring = 9999999 dc\nrnd 2-9: dc in each st = 9999999 dc\n", ""},
		{"a panel of a million by a million", "shape square\n" + ring + "[3 dc in ring, corner ch 2] 4 times\npanel 1000000 by 1000000\nedge of panel\nrnd 1: [sc in each st, 3 sc in corner] 4 times\n", "Work.Motifs"},
		{"a border of a hundred by a hundred", "shape square\n" + ring + "[300 dc in ring, corner ch 2] 4 times\npanel 100 by 100\nedge of panel\nrnd 1-99: [sc in each st, 3 sc in corner] 4 times\n", "Work.Stitches"},
		{"rounds until a size that is never reached", "gauge 14 dc by 7 rnds over 10 cm\nlies cupped\n" + ring + "6 dc in ring\nrnd next until across 100 m: dc in each st\n", ""},
		{"rounds until a thousand miles", "gauge 14 dc by 7 rnds over 10 cm\n" + ring + "12 dc in ring\nrnd next until across 999999 m: 2 dc in each st\n", ""},
		{"nothing", "", ""},
		{"line ends of all kinds", "ring\r\nrnd 1: 6 dc in ring\rrnd 2: dc in each st\n", ""},
		{"a byte order mark in mid-text", "ring\n\ufeffrnd 1: 6 dc in ring\n", ""},
		{"UTF-16", "\xff\xfer\x00i\x00n\x00g\x00", ""},
		{"a NUL", ring + "6 dc\x00 in ring\n", ""},
		{"a byte that is no UTF-8", ring + "6 d\xe9 in ring\n", ""},
		{"half a surrogate pair", ring + "6 dc\xed\xa0\x80 in ring\n", ""},
		{"text turned round", ring + "6 dc \u202egnir ni\u202c in ring\n", ""},
		{"text turned round in a comment", ring + "6 dc in ring # \u202e 7 dc\n", ""},
		{"text turned round and back", ring + "6 dc in ring # \u2067\u05d9\u05dd\u2069\n", ""},
		{"text turned round in a title", "motif \"Salt\u202emarsh\"\n" + ring + "6 dc in ring = 7 dc\n", ""},
		{"a space of no width in a name", ring + "6 d\u200bc in ring\n", ""},
		{"a joiner of no width in a yarn", "yarn sand\n" + ring + "with sa\u200dnd, 6 dc in ring\n", ""},
		{"a Cyrillic c", ring + "6 d\u0441 in ring\n", ""},
		{"a Greek o", ring + "6 dc in ring\nrnd 2: [dc in next st] ar\u03bfund\n", ""},
		{"wide digits", ring + "\uff16 dc in ring\n", ""},
		{"Arabic digits", ring + "\u0666 dc in ring\n", ""},
		{"a multiplication sign", ring + "[dc in ring] 6 \u00d7\n", ""},
		{"typographic quotes and dashes", "motif \u201cSaltmarsh\u201d\n" + ring + "6 dc in ring\nrnd 2\u20133: dc in each st\n", ""},
		{"a hard space", ring + "6\u00a0dc in ring\n", ""},
		{"a letter in two pieces", "motif \"Cre\u0301me\"\n" + ring + "6 dc in ring\n", ""},
		{"a quote that is never closed", "motif \"Saltmarsh\n" + ring + "6 dc in ring\n", ""},
		{"escape sequences of a terminal", ring + "6 dc in ring\n\x1b[2Jrnd 2: dc in each st\n", ""},
	}
}

// TestHostile: every bomb gets an answer, within the limits, that says what is
// wrong and where. The table of answers is testdata/hostile.txt. It does not
// measure time; where the answer took for ever, so would the test.
func TestHostile(t *testing.T) {
	var b strings.Builder
	b.WriteString("Texts that nobody writes, or that are not what they seem: the limit that stops\neach, and what is said first, or of the limit. Written by go test ./check -run TestHostile\n-update.\n")
	for _, bomb := range bombs() {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		r := source(t, bomb.text, Options{})
		runtime.ReadMemStats(&after)
		if used := (after.TotalAlloc - before.TotalAlloc) >> 20; used > 512 {
			t.Errorf("%s: %d MB allocated", bomb.name, used)
		}
		limited := slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Rule == "limit" })
		if (bomb.limit != "") != limited {
			t.Errorf("%s: stopped by %q, findings %v", bomb.name, bomb.limit, places(r.Findings))
		}
		fmt.Fprintf(&b, "\n%s", bomb.name)
		if bomb.limit != "" {
			fmt.Fprintf(&b, " (%s)", bomb.limit)
		}
		if len(r.Findings) == 0 {
			b.WriteString("\n    nothing to report\n")
			continue
		}
		f := r.Findings[0]
		if limited {
			f = r.Findings[slices.IndexFunc(r.Findings, func(f Finding) bool { return f.Rule == "limit" })]
		}
		fmt.Fprintf(&b, "\n    %s %s: %.300s\n", f.Span.Start, f.Rule, visible(f.Message))
	}
	golden(t, "hostile.txt", b.String())
}

// examples are the drafts that come with the project.
func exampleDrafts(t *testing.T) map[string]string {
	texts := map[string]string{}
	for _, pattern := range []string{"../examples/*.rnd", "../examples/broken/*.rnd"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			texts[name] = string(text)
		}
	}
	return texts
}

// TestCutOff: a draft that ends at any byte gets an answer.
func TestCutOff(t *testing.T) {
	for name, text := range exampleDrafts(t) {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			for i := range len(text) {
				r := source(t, text[:i], Options{})
				notationtest.CheckGraph(t, r.Graph)
			}
		})
	}
}

// TestEveryByte: any byte in any line gets an answer; those that are no part of
// the notation are found where they stand.
func TestEveryByte(t *testing.T) {
	for name, text := range exampleDrafts(t) {
		lines := strings.SplitAfter(text, "\n")
		for b := range 256 {
			at := b % len(lines)
			head := strings.Join(lines[:at], "")
			text := head + string([]byte{byte(b)}) + strings.Join(lines[at:], "")
			r := source(t, text, Options{})
			if b >= utf8.RuneSelf || b < ' ' && b != '\t' && b != '\n' && b != '\r' {
				if !slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Span.Start.Offset == len(head) }) {
					t.Errorf("%s: byte %#x in line %d is not found", name, b, at+1)
				}
			}
		}
	}
}

// TestOtherLineEnds: line ends of two characters and a byte order mark change
// nothing.
func TestOtherLineEnds(t *testing.T) {
	for name, text := range exampleDrafts(t) {
		want := source(t, text, Options{})
		for how, other := range map[string]string{
			"CR LF":           strings.ReplaceAll(text, "\n", "\r\n"),
			"byte order mark": "\ufeff" + text,
			"both":            "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n"),
			"no last one":     strings.TrimRight(text, "\n"),
			"empty lines":     strings.ReplaceAll(text, "\nrnd", "\n\n\nrnd"),
		} {
			got := source(t, other, Options{})
			if diff := notationtest.DiffGraphs(want.Graph, got.Graph); diff != "" || len(got.Findings) != len(want.Findings) {
				t.Errorf("%s with %s: findings %v, want %v; %s", name, how, places(got.Findings), places(want.Findings), diff)
			}
		}
	}
}

// TestLimitsAreOptions: each limit can be set, and is a finding of its own.
func TestLimitsAreOptions(t *testing.T) {
	const text = "ring\nrnd 1: [[(dc, ch 1) in ring] 2 times] 3 times\nrnd 2: dc in each sp\nrnd\nrnd\nrnd\n"
	for name, test := range map[string]struct {
		o    Options
		want string
	}{
		"bytes":    {Options{Text: notation.Limits{Bytes: 60}}, "longer than the 60 bytes allowed"},
		"depth":    {Options{Text: notation.Limits{Depth: 2}}, "nested more than 2 deep"},
		"errors":   {Options{Text: notation.Limits{Errors: 2}}, "than the 2 allowed"},
		"stitches": {Options{Work: model.Limits{Stitches: 11}}, "past the 11 stitches"},
		"rounds":   {Options{Work: model.Limits{Rounds: 1}}, "more than the 1 rounds"},
	} {
		r := source(t, text, test.o)
		if !slices.ContainsFunc(r.Findings, func(f Finding) bool {
			return f.Rule == "limit" && strings.Contains(f.Message, test.want)
		}) {
			t.Errorf("%s: no finding of the rule limit says %q: %v", name, test.want, r.Findings)
		}
	}
}
