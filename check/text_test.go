package check

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/notation"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares a text with a file of testdata.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
}

// spanOf finds the text between two bars in a source and returns the source
// without the bars.
func spanOf(marked string) (string, notation.Span) {
	from := strings.IndexByte(marked, '|')
	to := from + strings.IndexByte(marked[from+1:], '|')
	text := marked[:from] + marked[from+1:to+1] + marked[to+2:]
	pos := func(offset int) notation.Pos {
		line := strings.TrimPrefix(text[strings.LastIndexByte(text[:offset], '\n')+1:offset], "\uFEFF")
		return notation.Pos{Offset: offset, Line: 1 + strings.Count(text[:offset], "\n"), Column: 1 + utf8.RuneCountInString(line)}
	}
	return text, notation.Span{Start: pos(from), End: pos(to)}
}

func TestExcerpt(t *testing.T) {
	long := strings.Repeat("0123456789", 30)
	tests := []struct {
		name, source string // the span stands between bars
		want         string
	}{
		{"a word", "ring\nrnd 1: |12 dd| in ring\n", `
    rnd 1: 12 dd in ring
           ^^^^^
`},
		{"first word of the text", "|ring|\nrnd 1: 12 dc in ring\n", `
    ring
    ^^^^
`},
		{"last line without an end", "ring\n|rnd 1|", `
    rnd 1
    ^^^^^
`},
		{"a whole line", "|ring|", `
    ring
    ^^^^
`},
		{"nothing between the bars", "rnd 1: 12|| dc in ring\n", `
    rnd 1: 12 dc in ring
             ^
`},
		{"past the last letter of a line", "rnd 1:||\nrnd 2: dc in each st\n", `
    rnd 1:
          ^
`},
		{"end of the file", "ring\nrnd 1:||", `
    rnd 1:
          ^
`},
		{"end of the file, after the last line", "ring\n||", `
    
    ^
`},
		{"several lines", "rnd 1: |dc in next st,\n  dc in next st|\n", `
    rnd 1: dc in next st,
           ^^^^^^^^^^^^^^
`},
		{"tab before", "\trnd 1:\t12 |dd| in ring\n", "\n    \trnd 1:\t12 dd in ring\n    \t      \t   ^^\n"},
		{"tab within", "rnd 1: |12\tdd| in ring\n", "\n    rnd 1: 12\tdd in ring\n           ^^\t^^\n"},
		{"only a tab", "rnd 1:|\t|12 dc in ring\n", "\n    rnd 1:\t12 dc in ring\n          ^\n"},
		{"line ends of two characters", "ring\r\nrnd 1: 12 |dd|\r\nrnd 2: dc in each st\r\n", `
    rnd 1: 12 dd
              ^^
`},
		{"line end of two characters, end of line", "rnd 1:||\r\nrnd 2: dc\r\n", `
    rnd 1:
          ^
`},
		{"line end of two characters within the span", "motif |\"Tide\r|\nring\r\n", `
    motif "Tide
          ^^^^^
`},
		{"letters of two bytes", "# für\nmotif \"Möwe\" |x|\n", `
    motif "Möwe" x
                 ^
`},
		{"wide letters", "motif \"潮線\" |x|\n", `
    motif "潮線" x
                 ^
`},
		{"wide letters within", "motif |\"潮線\"| x\n", `
    motif "潮線" x
          ^^^^^^
`},
		{"halfwidth letters", "motif \"ｼｵ\" |x|\n", `
    motif "ｼｵ" x
               ^
`},
		{"pictures", "motif \"🐚\" |x|\n", `
    motif "🐚" x
               ^
`},
		{"marks on letters", "motif \"Me\u0301r\" |x|\n", "\n    motif \"Me\u0301r\" x\n                ^\n"},
		{"a letter that turns the direction", "motif \"a\u202Eb\" |x|\n", `
    motif "a�b" x
                ^
`},
		{"isolates", "# \u2066abc\u2069 |x|\n", `
    # �abc� x
            ^
`},
		{"letters of no width", "motif \"a\u200Bb\u2060c\u00ADd\" |x|\n", `
    motif "a�b�c�d" x
                    ^
`},
		{"within the span", "motif |a\u200Bb| x\n", `
    motif a�b x
          ^^^
`},
		{"colours of a terminal", "motif \"\x1b[31mred\" |x|\n", `
    motif "�[31mred" x
                     ^
`},
		{"zero bytes", "rnd 1: 12 dc|\x00| in ring\n", `
    rnd 1: 12 dc� in ring
                ^
`},
		{"line separators of other systems", "# a\u2028b\u0085c\rd |x|\n", `
    # a�b�c�d x
              ^
`},
		{"bytes that are no letters", "motif \"\xff\xfe\" |x|\n", `
    motif "��" x
               ^
`},
		{"byte order mark", "\uFEFFmotif |x|\n", `
    motif x
          ^
`},
		{"long line, at its beginning", "|01|" + long[2:] + "\n", "\n    " + long[:100] + "...\n    ^^\n"},
		{"long line, in the middle", long[:150] + "|01|" + long[152:] + "\n",
			"\n    ..." + long[117:217] + "...\n" + strings.Repeat(" ", 4+3+33) + "^^\n"},
		{"long line, at its end", long[:298] + "|89|\n", "\n    ..." + long[200:] + "\n" + strings.Repeat(" ", 4+3+98) + "^^\n"},
		{"long line, after its end", long + "||\n", "\n    ..." + long[200:] + "\n" + strings.Repeat(" ", 4+3+100) + "^\n"},
		{"long line, marked from end to end", "|" + long + "|\n", "\n    " + long[:100] + "...\n    " + strings.Repeat("^", 100) + "\n"},
		{"long line, marked far beyond", long[:150] + "|" + long[150:] + "|\n",
			"\n    ..." + long[117:217] + "...\n" + strings.Repeat(" ", 4+3+33) + strings.Repeat("^", 67) + "\n"},
		{"just as long as is shown", long[:90] + "|01|" + long[92:100] + "\n",
			"\n    " + long[:100] + "\n" + strings.Repeat(" ", 4+90) + "^^\n"},
		{"one longer than is shown", long[:90] + "|01|" + long[92:101] + "\n",
			"\n    ..." + long[1:101] + "\n" + strings.Repeat(" ", 4+3+89) + "^^\n"},
		{"one longer than is shown, at its beginning", "|01|" + long[2:101] + "\n",
			"\n    " + long[:100] + "...\n    ^^\n"},
		{"longer than is shown, near its beginning", long[:20] + "|01|" + long[22:110] + "\n",
			"\n    " + long[:100] + "...\n" + strings.Repeat(" ", 4+20) + "^^\n"},
		{"a line as long as is shown, with line ends of two characters", "|01|" + long[2:100] + "\r\n",
			"\n    " + long[:100] + "\n    ^^\n"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			text, span := spanOf(test.source)
			if diff := cmp.Diff(test.want[1:], excerpt(text, span)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// A report without its source, or with places that the source does not have,
// is written without excerpts.
func TestExcerptWithoutSource(t *testing.T) {
	at := func(offset int) notation.Span {
		p := notation.Pos{Offset: offset, Line: 2, Column: 3}
		return notation.Span{Start: p, End: p}
	}
	for name, got := range map[string]string{
		"no source":   excerpt("", at(0)),
		"far outside": excerpt("ring\n", at(99)),
		"negative":    excerpt("ring\n", at(-1)),
	} {
		if got != "" {
			t.Errorf("%s: %q", name, got)
		}
	}
	// The end may lie outside, or before the beginning.
	span := at(5)
	for _, end := range []int{-7, 0, 99} {
		span.End.Offset = end
		if got, want := excerpt("ring\nrnd 1", span), "    rnd 1\n    ^"; !strings.HasPrefix(got, want) {
			t.Errorf("end at %d: %q", end, got)
		}
	}
	var b bytes.Buffer
	if err := WriteText(&b, &Report{File: "a.rnd", Findings: []Finding{{Rule: "tide", Severity: notation.Info, Message: "high", Span: at(9)}}}, true); err != nil {
		t.Fatal(err)
	}
	if got, want := b.String(), "a.rnd:2:3: info: high [tide]\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// An excerpt looks no further than it shows: a draft may be one line, and
// every word of it a finding.
func TestExcerptOfHugeLine(t *testing.T) {
	line := strings.Repeat("dd ", 1<<20)
	at := notation.Pos{Offset: 3 << 19, Line: 1, Column: 3<<19 + 1}
	span := notation.Span{Start: at, End: at}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	const times = 16
	for range times {
		excerpt(line, span)
	}
	runtime.ReadMemStats(&after)
	if per := (after.TotalAlloc - before.TotalAlloc) / times; per > 1<<16 {
		t.Errorf("an excerpt of a long line takes %d bytes", per)
	}
}

// shown is a report with a finding of every severity, at places that are
// awkward to show, and with other places that they speak of.
func shown(t *testing.T) *Report {
	t.Helper()
	const text = "motif \"Tideline\"\n\tyarn reed # 潮\nring\nrnd 1: 12 dc in ring\nrnd 2: dc in each st\n"
	span := func(from, to string) notation.Span {
		i := strings.Index(text, from)
		_, span := spanOf(text[:i] + "|" + to + "|" + text[i+len(to):])
		return span
	}
	rules := []Rule{
		{ID: "weather", Severity: notation.Error, Run: func(p *Pass) {
			p.Add(Finding{
				Span: span("12 dc", "12 dc"), Message: "12 waves were expected, 11 came", Held: 2,
				Related: []notation.Related{{Message: "they were counted here", Span: span("each st", "each st")}},
				Fixes: []notation.Fix{
					{Message: "count \"again\"", Certain: true, Edits: []notation.Edit{{Span: span("12", "12"), New: "11"}, {Span: span(" dc in ring", ""), New: "\n"}}},
					{Message: "wait", Edits: []notation.Edit{{Span: span("12 dc", "12 dc")}}},
				},
			})
			p.Add(Finding{Span: span("dc in each", "dc in each"), Message: "rain", Held: 1})
		}},
		{ID: "wind", Severity: notation.Warning, Run: func(p *Pass) {
			p.Reportf(span("reed", "reed"), "a message in\ntwo lines, with a\u202Ehook")
		}},
		{ID: "tide", Severity: notation.Info, Run: func(p *Pass) { p.Reportf(span("ring\n", ""), "low") }},
	}
	r, err := Source(t.Context(), "drafts/tideline.rnd", text, Options{Rules: rules})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestWriteText(t *testing.T) {
	r := shown(t)
	for name, excerpts := range map[string]bool{"report.txt": false, "report-excerpts.txt": true} {
		var b bytes.Buffer
		if err := WriteText(&b, r, excerpts); err != nil {
			t.Fatal(err)
		}
		golden(t, name, b.String())
	}
	// A name of a file must not start lines of its own either.
	r.File = "a\nb.rnd:1:1: error: nonsense"
	var b bytes.Buffer
	if err := WriteText(&b, r, true); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "\nb.rnd") {
		t.Errorf("the name of a file breaks the line:\n%s", b.String())
	}
}

// mandala has what a table of rounds can show: several yarns, several stitches
// in a round, corners with sides alike and not, spaces, no stitches at all.
const mandala = `motif "Harbour mandala"
shape square
yarn sand
yarn reed
ring
rnd 1: 12 dc in ring = 12 dc
rnd 2 with reed: [dc in next st, tr in next st, hdc in next st, ch 1] around
rnd 3: [sc in next sp, ch 3, sc in next 3 st] around
rnd 4 with sand: [sc in next 2 st, corner ch 2, sc in next 2 st] 4 times
rnd 5: [sc in each st, (sc, corner ch 2, sc) in corner] 3 times, sc in next 3 st, dc in next st, (sc, corner ch 2, sc) in corner
`

func TestWriteRounds(t *testing.T) {
	r := source(t, mandala, Options{Rules: rules})
	wantPlaces(t, "findings", r.Findings, nil)
	for name, terms := range map[string]notation.Terms{"rounds-us.txt": notation.US, "rounds-uk.txt": notation.UK} {
		var b bytes.Buffer
		if err := WriteRounds(&b, r, terms); err != nil {
			t.Fatal(err)
		}
		golden(t, name, b.String())
	}
}

// The rounds of borders stand below those of the motif.
func TestWriteRoundsOfBorders(t *testing.T) {
	r := source(t, `terms uk
ring
rnd 1: [3 tr in ring, corner ch 2] 4 times
panel wrap on point
edge of panel
rnd 1: [dc in each st and ch, 3 dc in corner] 2 times = 32 dc
edge of neck
rnd 1: [dc in each st, dc in corner] 2 times
rnd 2: [dc in next 3 st] around
`, Options{})
	wantPlaces(t, "findings", r.Findings, []string{"9 repeat-remainder"})
	var b, j bytes.Buffer
	if err := WriteRounds(&b, r, notation.UK); err != nil {
		t.Fatal(err)
	}
	golden(t, "rounds-borders.txt", b.String())
	if err := WriteRoundsJSON(&j, r); err != nil {
		t.Fatal(err)
	}
	var back struct{ Borders []jsonBorderRounds }
	if err := json.Unmarshal(j.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(jsonBorderTables(BorderTables(r)), back.Borders); diff != "" {
		t.Errorf("JSON (-table +read):\n%s", diff)
	}
}

// Rounds that are not what the designer wrote say so.
func TestWriteRoundsAtFault(t *testing.T) {
	r := source(t, `ring
rnd 1: 12 dc in ring = 12 dc
rnd 2: [dc in next 5 st] around
rnd 3: dc in = 40 dc
rnd 4: dc in
rnd 5: dc in each st
`, Options{})
	var b bytes.Buffer
	if err := WriteRounds(&b, r, r.Draft.Terms); err != nil {
		t.Fatal(err)
	}
	golden(t, "rounds-fault.txt", b.String())
}

// A title with controls in it must not draw on the terminal, and a piece of
// many sides must not fill it.
func TestWriteRoundsAwkward(t *testing.T) {
	r := source(t, "ring\nrnd 1: [dc in ring, corner ch 1] 8 times, 2 dc in ring, corner ch 1\n", Options{})
	r.Graph.Title = "Tide\x1b[2Jline"
	var b bytes.Buffer
	if err := WriteRounds(&b, r, notation.US); err != nil {
		t.Fatal(err)
	}
	got := b.String()
	if strings.ContainsRune(got, '\x1b') || !strings.HasPrefix(got, "Tide�[2Jline\n") {
		t.Errorf("title: %q", got)
	}
	if want := strings.Repeat("1 dc | ", 7) + "...  "; !strings.Contains(got, want) {
		t.Errorf("sides: %q", got)
	}
}

// failing is a writer that takes so many bytes and no more.
type failing struct{ left int }

var errFull = errors.New("no room left")

func (f *failing) Write(p []byte) (int, error) {
	if len(p) > f.left {
		n := f.left
		f.left = 0
		return n, errFull
	}
	f.left -= len(p)
	return len(p), nil
}

// Every writer tells when what it wrote did not arrive.
func TestWriteErrors(t *testing.T) {
	r := shown(t)
	for _, room := range []int{0, 10, 60} {
		for name, err := range map[string]error{
			"WriteText":       WriteText(&failing{room}, r, true),
			"WriteJSON":       WriteJSON(&failing{room}, r),
			"WriteRounds":     WriteRounds(&failing{room}, r, notation.US),
			"WriteRoundsJSON": WriteRoundsJSON(&failing{room}, r),
		} {
			if !errors.Is(err, errFull) {
				t.Errorf("%s with room for %d bytes: error %v", name, room, err)
			}
		}
	}
}
