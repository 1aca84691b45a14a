package check

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

func fix(t rapid.TB, text string, o Options) *Fixed {
	t.Helper()
	fixed, err := Fix(context.Background(), "draft.rnd", text, o)
	if err != nil {
		t.Fatal(err)
	}
	return fixed
}

// TestFixes keeps what becomes of drafts in a file that can be read through.
func TestFixes(t *testing.T) {
	file, err := os.ReadFile(filepath.Join("testdata", "fixes.txt"))
	if err != nil {
		t.Fatal(err)
	}
	out := new(strings.Builder)
	mended := map[string]bool{}
	for i, block := range strings.Split(strings.TrimSpace(string(file)), "\n\n") {
		if i > 0 {
			out.WriteString("\n")
		}
		var draft string
		for line := range strings.Lines(block + "\n") {
			if strings.HasPrefix(line, "#") || strings.HasPrefix(line, ">") {
				out.WriteString(line)
			}
			if input, ok := strings.CutPrefix(line, "> "); ok {
				draft += input
			}
		}
		if draft == "" {
			continue
		}
		fixed := fix(t, draft, Options{})
		for _, f := range fixed.Made {
			mended[f.Rule] = true
			fix, _ := f.Fix()
			fmt.Fprintf(out, "made %s %s: %s\n", f.Span.Start, f.Rule, fix.Message)
		}
		if fixed.Text != draft {
			for line := range strings.Lines(fixed.Text) {
				out.WriteString("< " + line)
			}
		}
		for _, f := range fixed.Report.Findings {
			fmt.Fprintf(out, "left %s %s\n", f.Span.Start, f.Rule)
			for _, fix := range f.Fixes {
				fmt.Fprintf(out, "     perhaps: %s\n", fix.Message)
			}
		}
		for _, f := range fixed.Report.Allowed {
			fmt.Fprintf(out, "left %s %s, allowed\n", f.Span.Start, f.Rule)
		}
	}
	golden(t, "fixes.txt", out.String())
	for _, r := range Rules() {
		if (r.Doc.Fix != "") != mended[r.ID] {
			t.Errorf("%s: documented as fixed: %v, fixed above: %v", r.ID, r.Doc.Fix != "", mended[r.ID])
		}
	}
}

// The draft that breaks a rule is mended to the one that does not.
func TestFixOfDocs(t *testing.T) {
	for _, r := range Rules() {
		got := fix(t, r.Doc.Failing, Options{}).Text
		want := r.Doc.Failing
		if r.Doc.Fix != "" {
			want = r.Doc.Passing
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", r.ID, diff)
		}
	}
}

// Line ends, a byte order mark, blanks and comments stay as they are, to the
// last byte.
func TestFixKeepsBytes(t *testing.T) {
	const text = "\uFEFF# Saltmarsh, première\r\n\r\n ring\t\r\nRND 1 :12  DC in ring\t=11   dc  ,12 st # not 11\r\n\r\n# end"
	want := strings.Replace(text, "=11", "=12", 1)
	if got := fix(t, text, Options{}).Text; got != want {
		t.Errorf("%q\nbecame %q", text, got)
	}
}

// inserting is a rule with fixes of its own, each with the edits given, for a
// draft without a title.
func inserting(fixes ...[]notation.Edit) Rule {
	return Rule{ID: "own", Severity: notation.Warning, Run: func(p *Pass) {
		if p.Draft.Title() != "" {
			return // they were made
		}
		for i, edits := range fixes {
			p.Add(Finding{Message: fmt.Sprint("own ", i), Span: p.Draft.Range(), Fixes: []notation.Fix{{Message: "own", Certain: true, Edits: edits}}})
		}
	}}
}

// change changes the first place of a text that reads so.
func change(text, was, now string) notation.Edit {
	_, span := spanOf(strings.Replace(text, was, "|"+was+"|", 1))
	return notation.Edit{Span: span, New: now}
}

func TestFixOverlaps(t *testing.T) {
	const text = "ring\nrnd 1: 12 dc in ring\n"
	title := notation.Edit{New: "motif \"A\"\n"}
	other := notation.Edit{New: "motif \"B\"\n"}
	tests := []struct {
		name  string
		fixes [][]notation.Edit
		want  string
	}{
		{"one", [][]notation.Edit{{title}}, "motif \"A\"\n" + text},
		{"the same twice", [][]notation.Edit{{title}, {title}}, "motif \"A\"\n" + text},
		{"two texts in one place", [][]notation.Edit{{title}, {other}}, text},
		{"beside each other", [][]notation.Edit{{title}, {change(text, "ring\n", "ring ch 4\n")}}, "motif \"A\"\nring ch 4\nrnd 1: 12 dc in ring\n"},
		{"one in the other", [][]notation.Edit{{title}, {change(text, "12 dc", "13 dc")}, {change(text, "2", "4")}}, "motif \"A\"\n" + text},
		{"one across two", [][]notation.Edit{{title, change(text, "12", "16")}, {change(text, "12 dc in", "dc in")}, {change(text, "c in", "c  in"), change(text, ":", " :")}}, text},
		{"an overlap in one fix", [][]notation.Edit{{title}, {change(text, "12 dc", "13 dc"), change(text, "dc", "sc")}}, "motif \"A\"\n" + text},
		{"past the end", [][]notation.Edit{{title}, {{Span: notation.Span{Start: notation.Pos{Offset: 99}, End: notation.Pos{Offset: 99}}}}}, "motif \"A\"\n" + text},
		// What would not parse is left out, the others are made.
		{"no notation", [][]notation.Edit{{title}, {change(text, "dc", "((")}, {change(text, "12", "14")}}, "motif \"A\"\nring\nrnd 1: 14 dc in ring\n"},
		{"no notation at all", [][]notation.Edit{{change(text, "dc", "((")}, {change(text, ":", "")}}, text},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			o := Options{Rules: []Rule{inserting(test.fixes...)}}
			if diff := cmp.Diff(test.want, fix(t, text, o).Text); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// A rule that is never content does not keep Fix from coming to an end.
func TestFixEnds(t *testing.T) {
	restless := Rule{ID: "restless", Severity: notation.Info, Run: func(p *Pass) {
		p.Add(Finding{Message: "more", Fixes: []notation.Fix{{Message: "more", Certain: true, Edits: []notation.Edit{{New: "#\n"}}}}})
	}}
	fixed := fix(t, "ring\nrnd 1: 12 dc in ring\n", Options{Rules: []Rule{restless}})
	if n := strings.Count(fixed.Text, "#\n"); n != mostPasses || len(fixed.Made) != n {
		t.Errorf("%d passes, %d fixes", n, len(fixed.Made))
	}
}

// Of a text that is too long not all may be there, so nothing is written.
func TestFixTooLong(t *testing.T) {
	const text = "ring\nrnd 1: 12 dc in ring = 13 dc\n"
	fixed := fix(t, text, Options{Text: notation.Limits{Bytes: len(text) - 1}})
	if fixed.Text != text || len(fixed.Made) > 0 {
		t.Errorf("became %q", fixed.Text)
	}
}

// All is fixed, however much is reported of it, and however large the piece.
func TestFixLimits(t *testing.T) {
	text := "terms us\nring\nrnd 1: " + strings.Repeat("htr in ring, ", 300) + "htr in ring\n" + strings.Repeat("Round 2: dc in each st;\n", 3) + "rnd 5: 99999 hdc in ring\n"
	for _, o := range []Options{{}, {Text: notation.Limits{Errors: 2}, Work: model.Limits{Stitches: 1000}}} {
		fixed := fix(t, text, o)
		if want := strings.ReplaceAll(text, "htr", "hdc"); fixed.Text != want {
			t.Errorf("became %q", fixed.Text)
		}
		// What is left is reported as for any draft.
		again, err := Source(t.Context(), "draft.rnd", fixed.Text, o)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(places(again.Findings), places(fixed.Report.Findings)); diff != "" {
			t.Errorf("left (-checked +fixed):\n%s", diff)
		}
	}
}

func TestFixContext(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	const text = "terms us\nring\nrnd 1: 12 htr in ring\n"
	fixed, err := Fix(ctx, "draft.rnd", text, Options{})
	if err == nil || fixed.Text != text || fixed.Report == nil {
		t.Errorf("%+v, %v", fixed, err)
	}
}

// A sound draft is left alone.
func TestFixSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := notationtest.Pieces().Draw(t, "piece").String()
		if fixed := fix(t, text, Options{}); fixed.Text != text || len(fixed.Made) > 0 {
			t.Fatalf("%s\nbecame\n%s", text, fixed.Text)
		}
	})
}

// A wrong number in a claim is put right, or is left as it is; nothing else is
// ever changed.
func TestFixClaims(t *testing.T) {
	put := 0
	rapid.Check(t, func(t *rapid.T) {
		text := notationtest.Pieces().Draw(t, "piece").String()
		var numbers [][2]int
		for line := range lines(text) {
			_, claim, ok := strings.Cut(text[line[0]:line[1]], " = ")
			if !ok || !strings.HasPrefix(text[line[0]:], "rnd") {
				continue
			}
			for _, m := range regexp.MustCompile(`\d+`).FindAllStringIndex(claim, -1) {
				at := line[1] - len(claim)
				if before := claim[:m[0]]; before == "" || strings.HasSuffix(before, ", ") || strings.HasSuffix(before, "/") {
					numbers = append(numbers, [2]int{at + m[0], at + m[1]})
				}
			}
		}
		if len(numbers) == 0 {
			t.Skip("nothing is claimed")
		}
		at := rapid.SampledFrom(numbers).Draw(t, "number")
		was, _ := strconv.Atoi(text[at[0]:at[1]])
		now := rapid.IntRange(1, 2*was+1).Filter(func(n int) bool { return n != was }).Draw(t, "now")
		broken := text[:at[0]] + strconv.Itoa(now) + text[at[1]:]
		fixed := fix(t, broken, Options{})
		if fixed.Text != text && fixed.Text != broken {
			t.Fatalf("%s\nwas broken to\n%s\nand became\n%s", text, broken, fixed.Text)
		}
		if fixed.Text == text {
			put++
		}
	})
	if put == 0 {
		t.Error("nothing was put right")
	}
}

// lines yields where each line of a text begins and ends.
func lines(text string) func(func([2]int) bool) {
	return func(yield func([2]int) bool) {
		from := 0
		for line := range strings.Lines(text) {
			if !yield([2]int{from, from + len(strings.TrimRight(line, "\n"))}) {
				return
			}
			from += len(line)
		}
	}
}

// Whatever the text: to fix it again changes nothing, no more of it is
// unreadable than before, and every line that no fix is about is still there.
func TestFixAgain(t *testing.T) {
	texts := []string{
		"terms us\nring\nrnd 1: 12 htr in ring = 13 htr\nrnd 2: [hdc, 2 htr] around = 17 htr\n",
		"ring\nrnd 1: [3 treble in ring, ch3] 4 times = 12 stitches\nrnd 2: as rnd 1\n",
		"shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times = 4 dc per side\nrnd 2-4: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 7/12/15 dc per side\n",
	}
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(texts).Draw(t, "text")
		if rapid.Bool().Draw(t, "a piece") {
			text = notationtest.Pieces().Draw(t, "piece").String()
		}
		for range rapid.IntRange(1, 4).Draw(t, "slips") {
			from := rapid.IntRange(0, len(text)).Draw(t, "from")
			to := min(from+rapid.IntRange(0, 3).Draw(t, "length"), len(text))
			in := rapid.SampledFrom([]string{"", " ", "\n", "\r\n", "1", "7", "12", "/", "htr", "sc", "dc", "stitch", "space", "ch3", "= 12 dc", "# so", "# so\n", ";", ".", "and", "skip 1 st", "Round 3:", "–", ", 2 dc", "ring", "\uFEFF"}).Draw(t, "in")
			text = text[:from] + in + text[to:]
		}
		before, err := Source(context.Background(), "draft.rnd", text, Options{})
		if err != nil {
			t.Fatal(err)
		}
		fixed := fix(t, text, Options{})
		if again := fix(t, fixed.Text, Options{}); again.Text != fixed.Text {
			t.Fatalf("%q\nbecame\n%q\nand then\n%q", text, fixed.Text, again.Text)
		}
		if a, b := unread(before), unread(fixed.Report); b > a {
			t.Fatalf("%q\nbecame\n%q\nwith %d statements that cannot be read, not %d", text, fixed.Text, b, a)
		}
		made += len(fixed.Made)
		if a, b := strings.Count(text, "# so"), strings.Count(fixed.Text, "# so"); a != b {
			t.Fatalf("%q\nbecame\n%q\nwith %d comments, not %d", text, fixed.Text, b, a)
		}
		touched := map[int]bool{}
		for _, f := range fixed.Made {
			for _, fix := range f.Fixes {
				for _, e := range fix.Edits {
					touched[e.Span.Start.Line] = true
				}
			}
		}
		was, is := strings.Split(text, "\n"), strings.Split(fixed.Text, "\n")
		if len(was) != len(is) {
			t.Fatalf("%q\nbecame\n%q\nwith another number of lines", text, fixed.Text)
		}
		for i := range was {
			if was[i] != is[i] && !touched[i+1] {
				t.Fatalf("%q\nbecame\n%q\nthough no fix is about line %d", text, fixed.Text, i+1)
			}
		}
	})
	if made == 0 {
		t.Error("no fix was ever made")
	}
}

// unread counts what cannot be read of a text. That a piece which is worked
// rightly now is larger than it may be has nothing to do with reading.
func unread(r *Report) int {
	n := 0
	_, found := notation.Parse("", r.Source)
	for _, f := range found {
		if unreadable(f) {
			n++
		}
	}
	return n
}

// FuzzFix puts the laws of fixes to any text.
func FuzzFix(f *testing.F) {
	file, err := os.ReadFile(filepath.Join("testdata", "fixes.txt"))
	if err != nil {
		f.Fatal(err)
	}
	for block := range strings.SplitSeq(string(file), "\n\n") {
		var draft string
		for line := range strings.Lines(block + "\n") {
			if input, ok := strings.CutPrefix(line, "> "); ok {
				draft += input
			}
		}
		f.Add(draft)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 2048 {
			return
		}
		o := Options{Rules: append(slices.Clone(rules), LayoutRule()), Work: model.Limits{Stitches: 5000, Rounds: 200}}
		before := source(t, text, o)
		fixed := fix(t, text, o)
		if again := fix(t, fixed.Text, o); again.Text != fixed.Text {
			t.Fatalf("%q\nbecame\n%q\nand then\n%q", text, fixed.Text, again.Text)
		}
		if a, b := unread(before), unread(fixed.Report); b > a {
			t.Fatalf("%q\nbecame\n%q\nwith %d statements that cannot be read, not %d", text, fixed.Text, b, a)
		}
	})
}
