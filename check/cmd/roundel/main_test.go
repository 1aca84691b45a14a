package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/check"
)

// A done is what came of a call.
type done struct {
	status   int
	out, err string
}

// call runs the command in memory; in is its standard input.
func call(t *testing.T, in string, args ...string) done {
	t.Helper()
	return callWith(t, check.Options{}, in, args...)
}

func callWith(t *testing.T, o check.Options, in string, args ...string) done {
	t.Helper()
	var out, err bytes.Buffer
	c := &command{in: strings.NewReader(in), out: &out, err: &err, options: o}
	status := c.run(args)
	return done{status, out.String(), err.String()}
}

// want compares a status, and the outputs with regular expressions; an empty
// one stands for no output at all.
func (d done) want(t *testing.T, status int, out, err string) {
	t.Helper()
	if d.status != status {
		t.Errorf("status %d, want %d", d.status, status)
	}
	for _, c := range []struct{ name, got, want string }{{"standard output", d.out, out}, {"standard error", d.err, err}} {
		if c.want == "" && c.got != "" || !regexp.MustCompile(`(?s)`+c.want).MatchString(c.got) {
			t.Errorf("%s, want %q:\n%s", c.name, c.want, c.got)
		}
	}
}

// Drafts for the tests.
const (
	clean  = "motif \"Saltmarsh\"\nring\nrnd 1: 12 dc in ring = 12 dc, 12 st\n"
	faulty = "motif \"Harbour\"\nring\nrnd 1: 12 dc in ring = 13 dc, 12 st\n"
	warned = "motif \"Tideline\"\nyarn sand\nyarn reed\nring\nrnd 1: 12 dc in ring\n"
	broken = "motif \"Slate\"\nring\nrnd 1: 12 dc in ring ch 1\n"
)

// drafts goes to a new directory with files in it, given as name and text.
func drafts(t *testing.T, files ...string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for i := 0; i < len(files); i += 2 {
		if err := os.MkdirAll(filepath.Dir(files[i]), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(files[i], []byte(files[i+1]), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// text reads a file.
func text(t *testing.T, file string) string {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestHelp(t *testing.T) {
	for _, arg := range []string{"help", "-h", "-help", "--help"} {
		d := call(t, "", arg)
		d.want(t, 0, `usage:.*roundel check .*roundel graph FILE`, "")
		for _, name := range names {
			if !strings.Contains(d.out, "roundel "+name) || !strings.Contains(d.out, "\n"+name+" ") {
				t.Errorf("%s does not speak of %s", arg, name)
			}
		}
	}
	for _, name := range names {
		call(t, "", name, "-h").want(t, 0, `^usage: roundel `+name+` `, "")
	}
}

// A wrong call is answered with what would be right, and exit status 2.
func TestWrongCalls(t *testing.T) {
	drafts(t, "a.rnd", clean, "b.rnd", clean)
	tests := []struct{ args, err string }{
		{"", `^usage:\n  roundel check`},
		{"chekc a.rnd", `there is no command "chekc"; did you mean check\?\n.*roundel help`},
		{"sizes a.rnd", `there is no command "sizes"; did you mean size\?\n.*roundel help`},
		{"yarn a.rnd", `there is no command "yarn"\n.*roundel help`},
		{"size", `size takes one file, got 0`},
		{"size -units mm a.rnd", `-units is cm or in, not "mm"`},
		{"size -format xml a.rnd", `-format is text or json, not "xml"`},
		{"size -target 45 a.rnd", `-target: "45" is not a length; write it like 45 cm or 18 in`},
		{"size -target 0cm a.rnd", `-target: .*out of range; it may be from 1 mm to 100 m`},
		{"size -margin 101 a.rnd", `a margin of 101 % is out of range; it may be from 0 % to 100 %`},
		{"size -motifs -1 a.rnd", `a number of motifs of -1 is out of range; it may be from 1 to 100000`},
		{"size -margin NaN a.rnd", `out of range`},
		{"check", `check needs a file, a directory, or -`},
		{"check -format yaml a.rnd", `-format is text, json or sarif, not "yaml"`},
		{"check -fail fatal a.rnd", `-fail is error, warning or info, not "fatal"`},
		{"check -fail  a.rnd", `-fail is error, warning or info, not ""`},
		{"check -w a.rnd", `not defined: -w\nusage: roundel check .*-fail`},
		{"check a.rnd -fail info", `-fail stands after a file; flags come first .*\./-fail`},
		{"rounds", `rounds takes one file, got 0`},
		{"rounds a.rnd b.rnd", `rounds takes one file, got 2`},
		{"rounds -format xml a.rnd", `-format is text or json, not "xml"`},
		{"rounds -fail error a.rnd", `not defined: -fail\nusage: roundel rounds`},
		{"check -fix a.rnd -", `check -fix .*standard input`},
		{"check -fix", `check needs a file`},
		{"fmt", `fmt needs a file, or -`},
		{"fmt -w -", `fmt -w .*standard input`},
		{"fmt -l -w a.rnd -", `fmt -w .*standard input`},
		{"fmt -x a.rnd", `not defined: -x\nusage: roundel fmt`},
		{"fmt a.rnd -w", `-w stands after a file`},
		{"explain claim-count unworked", `explain takes one rule, got 2`},
		{"explain claim-cuont", `there is no rule "claim-cuont"; did you mean claim-count\?`},
		{"explain tide", `there is no rule "tide"; roundel explain lists the rules`},
		{"explain -x", `not defined: -x\nusage: roundel explain`},
		{"chart", `chart takes one file, got 0`},
		{"chart -picture photo a.rnd", `-picture is stitches, plan or growth, not "photo"`},
		{"chart -terms au a.rnd", `-terms is us, uk or both, not "au"`},
		{"chart a.rnd -colour", `-colour stands after a file`},
		{"graph", `graph takes one file, got 0`},
		{"graph a.rnd b.rnd", `graph takes one file, got 2`},
		{"graph -format json a.rnd", `not defined: -format\nusage: roundel graph`},
	}
	for _, test := range tests {
		t.Run(test.args, func(t *testing.T) {
			var args []string
			if test.args != "" {
				args = strings.Split(test.args, " ")
			}
			d := call(t, clean, args...)
			d.want(t, 2, "", test.err)
			if strings.Contains(d.err, "panic") || strings.Contains(d.err, "%!") {
				t.Errorf("message: %s", d.err)
			}
		})
	}
	if text(t, "a.rnd") != clean {
		t.Error("a wrong call has changed the draft")
	}
}

// A file that cannot be read gives exit status 2 whatever the command.
func TestUnreadable(t *testing.T) {
	drafts(t, "dir.rnd/x.txt", "", "a.rnd", clean, "locked.rnd", clean)
	if err := os.Symlink("loop.rnd", "loop.rnd"); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := os.Chmod("locked.rnd", 0); err != nil {
		t.Fatal(err)
	}
	files := map[string]string{
		"missing.rnd": `missing\.rnd: no such file`,
		"loop.rnd":    `loop\.rnd: too many`,
		"a.rnd/b.rnd": `a\.rnd/b\.rnd: not a directory`,
		"":            `no such file`,
	}
	if f, err := os.Open("locked.rnd"); err == nil {
		f.Close() // whoever runs this may read everything
	} else {
		files["locked.rnd"] = `locked\.rnd: permission denied`
	}
	for _, args := range [][]string{{"check"}, {"rounds"}, {"rounds", "-format", "json"}, {"fmt"}, {"fmt", "-w"}, {"fmt", "-l"}, {"graph"}} {
		for file, message := range files {
			t.Run(strings.Join(args, " ")+" "+file, func(t *testing.T) {
				call(t, "", append(args, file)...).want(t, 2, "", `^roundel: open .*`+message)
			})
		}
		if args[0] != "check" {
			call(t, "", append(args, "dir.rnd")...).want(t, 2, "", `^roundel: .*dir\.rnd.* is a directory`)
		}
	}
	// In JSON the list of findings is there all the same.
	call(t, "", "check", "-format", "json", "missing.rnd").want(t, 2, `"findings": \[\]`, `missing\.rnd`)
}

type failingReader struct{}

func (failingReader) Read([]byte) (int, error) { return 0, errors.New("the line is dead") }

func TestUnreadableInput(t *testing.T) {
	for _, name := range []string{"check", "rounds", "fmt", "graph"} {
		var out, err bytes.Buffer
		c := &command{in: failingReader{}, out: &out, err: &err}
		d := done{c.run([]string{name, "-"}), out.String(), err.String()}
		d.want(t, 2, "", `the line is dead`)
	}
}

// full is an output that takes so many bytes and no more.
type full struct{ left int }

func (f *full) Write(p []byte) (int, error) {
	n := min(f.left, len(p))
	f.left -= n
	if n < len(p) {
		return n, errors.New("no room left")
	}
	return n, nil
}

// A report that did not arrive must not pass for a clean one.
func TestFullOutput(t *testing.T) {
	drafts(t, "a.rnd", clean, "b.rnd", faulty, "c.rnd", strings.ReplaceAll(clean, " in", "  in"))
	calls := []string{
		"help", "check -h", "check a.rnd", "check b.rnd", "check a.rnd b.rnd missing.rnd", "check -format json a.rnd", "check -format json b.rnd",
		"rounds a.rnd", "rounds b.rnd", "rounds -format json a.rnd", "fmt a.rnd", "fmt -l c.rnd", "explain", "explain claim-count", "graph a.rnd",
		"chart a.rnd", "chart b.rnd",
	}
	for _, args := range calls {
		all := call(t, "", strings.Split(args, " ")...).out
		if all == "" {
			t.Errorf("%s: no output", args)
			continue
		}
		for _, room := range []int{0, len(all) / 2, len(all) - 1} {
			var err bytes.Buffer
			c := &command{in: strings.NewReader(""), out: &full{room}, err: &err}
			status := c.run(strings.Split(args, " "))
			if status != 3 || strings.Count(err.String(), "roundel: no room left\n") != 1 {
				t.Errorf("%s with room for %d bytes of %d: status %d, %q", args, room, len(all), status, err.String())
			}
		}
		c := &command{in: strings.NewReader(""), out: &full{len(all)}, err: io.Discard}
		if got, want := c.run(strings.Split(args, " ")), call(t, "", strings.Split(args, " ")...).status; got != want {
			t.Errorf("%s with just enough room: status %d, want %d", args, got, want)
		}
	}
}

// panics is a rule that fails on the draft called Slate.
var panics = check.Rule{ID: "panics", Severity: 1, Run: func(p *check.Pass) {
	if p.Draft.Title() == "Slate" {
		panic("low water")
	}
}}

// An internal failure on one draft is told, with exit status 3, and the others
// are checked all the same.
func TestInternalFailure(t *testing.T) {
	slate := strings.Replace(clean, "Saltmarsh", "Slate", 1)
	drafts(t, "1.rnd", faulty, "2.rnd", slate, "3.rnd", faulty)
	options := check.Options{Rules: append(check.Rules(), panics)}
	const failure = `^roundel: 2\.rnd: internal failure: low water\n.*main_test\.go`
	d := callWith(t, options, "", "check", "1.rnd", "2.rnd", "missing.rnd", "3.rnd")
	d.want(t, 3, `^1\.rnd:3:.*\n3\.rnd:3:.*\n2 drafts, 2 rounds, 24 stitches: 2 errors, 2 files not checked, -fix mends 2\n$`, failure+`.*missing\.rnd`)
	callWith(t, options, "", "check", "-format", "json", ".").want(t, 3, `"1\.rnd".*"3\.rnd"`, failure)
	callWith(t, options, "", "rounds", "2.rnd").want(t, 3, "", failure)
	callWith(t, options, "", "graph", "2.rnd").want(t, 3, "", failure)
	callWith(t, options, slate, "check", "-").want(t, 3, "", `standard input: internal failure`)
	callWith(t, options, "", "check", "1.rnd").want(t, 1, `13 dc`, "")
}

// A failure outside the checking of a draft is caught as well.
func TestInternalFailureElsewhere(t *testing.T) {
	var err bytes.Buffer
	c := &command{in: nil, out: io.Discard, err: &err}
	d := done{status: c.run([]string{"fmt", "-"}), err: err.String()}
	d.want(t, 3, "", `^roundel: internal failure: .*nil pointer`)
}

// On a terminal findings come with the line they are about; the two outputs
// need not both be terminals.
func TestExcerpts(t *testing.T) {
	drafts(t, "a.rnd", faulty)
	const caret = `13 dc, 12 st\n +\^+\n`
	for _, on := range []bool{false, true} {
		for _, args := range []string{"check a.rnd", "rounds a.rnd"} {
			var out, err bytes.Buffer
			c := &command{out: &out, err: &err}
			got := &out
			if args == "check a.rnd" {
				c.excerptsOut = on
			} else {
				c.excerptsErr, got = on, &err
			}
			if status := c.run(strings.Split(args, " ")); status != 1 {
				t.Errorf("%s: status %d", args, status)
			}
			if shown := regexp.MustCompile(caret).MatchString(got.String()); shown != on {
				t.Errorf("%s: excerpt %v, want %v:\n%s", args, shown, on, got.String())
			}
		}
	}
}

func TestRounds(t *testing.T) {
	drafts(t, "us.rnd", clean, "uk.rnd", "terms uk\n"+strings.ReplaceAll(clean, "dc", "tr"), "bad.rnd", faulty, "warned.rnd", warned, "broken.rnd", broken)
	const head = `rnd +yarn +stitches +total +sp +corners +per side +lies\n`
	const symmetry = `\nSymmetry: .* 12 times round, .*mirror\.\n`
	call(t, "", "rounds", "us.rnd").want(t, 0, `^Saltmarsh\n\n`+head+`1 +- +12 dc +12 +0 +0 +- +flat\n`+symmetry+`$`, "")
	call(t, "", "rounds", "-format", "text", "uk.rnd").want(t, 0, `^Saltmarsh\n\n`+head+`1 +- +12 tr +12 +0 +0 +- +flat\n`+symmetry+`$`, "")
	call(t, clean, "rounds", "-").want(t, 0, `12 dc`, "")
	// The table of a draft with errors is there, with the errors beside it.
	call(t, "", "rounds", "bad.rnd").want(t, 1, `12 dc`, `^bad\.rnd:3:24: error: .*\[claim-count\]\n$`)
	call(t, "", "rounds", "broken.rnd").want(t, 1, `not worked`, `broken\.rnd:3:.*\[syntax\]`)
	call(t, "", "rounds", "warned.rnd").want(t, 0, `12 dc`, "")
	for file, status := range map[string]int{"us.rnd": 0, "uk.rnd": 0, "bad.rnd": 1} {
		d := call(t, "", "rounds", "-format", "json", file)
		if d.status != status {
			t.Errorf("%s: status %d", file, d.status)
		}
		var got struct {
			Version int
			Motif   string
			Rounds  []struct {
				Round    int
				Stitches map[string]int
				PerSide  []any `json:"per_side"`
			}
		}
		if err := json.Unmarshal([]byte(d.out), &got); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		if got.Version != 1 || got.Motif == "" || len(got.Rounds) != 1 || got.Rounds[0].Round != 1 || got.Rounds[0].Stitches["dc"] != 12 || got.Rounds[0].PerSide == nil {
			t.Errorf("%s: %+v", file, got)
		}
	}
}

func TestGraph(t *testing.T) {
	drafts(t, "a.rnd", clean+"rnd 2: [dc in next st, ch 1] around\n", "bad.rnd", faulty)
	type graph struct {
		Version  int
		Motif    string
		Rounds   []struct{ Round, First, Len int }
		Stitches []struct {
			ID, Round int
			Kind      string
		}
	}
	read := func(d done) (g graph) {
		if err := json.Unmarshal([]byte(d.out), &g); err != nil {
			t.Fatalf("%v in %s", err, d.out)
		}
		return g
	}
	d := call(t, "", "graph", "a.rnd")
	d.want(t, 0, `\n$`, "")
	g := read(d)
	if g.Version != 1 || g.Motif != "Saltmarsh" || len(g.Rounds) != 2 || len(g.Stitches) != 36 {
		t.Errorf("version %d, motif %q, %d rounds, %d stitches", g.Version, g.Motif, len(g.Rounds), len(g.Stitches))
	}
	kinds := map[string]int{}
	for i, s := range g.Stitches {
		kinds[s.Kind]++
		if s.ID != i {
			t.Errorf("stitch %d is called %d", i, s.ID)
		}
	}
	if diff := cmp.Diff(map[string]int{"dc": 24, "ch": 12}, kinds); diff != "" {
		t.Errorf("stitches (-want +got):\n%s", diff)
	}
	if in := call(t, text(t, "a.rnd"), "graph", "-"); in.out != d.out {
		t.Error("standard input gives another graph")
	}
	d = call(t, "", "graph", "bad.rnd")
	d.want(t, 1, `"kind":"dc"`, `^bad\.rnd:3:24: error: .*\[claim-count\]\n$`)
	if len(read(d).Stitches) != 12 {
		t.Errorf("graph of a draft at fault: %s", d.out)
	}
}

func TestExplain(t *testing.T) {
	list := call(t, "", "explain")
	list.want(t, 0, `.`, "")
	lines := strings.Split(strings.TrimSuffix(list.out, "\n"), "\n")
	rules := append(check.Rules(), check.LayoutRule())
	if len(lines) != len(rules) {
		t.Fatalf("%d rules are listed, there are %d", len(lines), len(rules))
	}
	for i, r := range rules {
		if want := regexp.MustCompile(fmt.Sprintf(`^%s +%s +%s$`, r.ID, r.Severity, regexp.QuoteMeta(r.Summary))); !want.MatchString(lines[i]) {
			t.Errorf("line %d: %q", i+1, lines[i])
		}
		d := call(t, "", "explain", r.ID)
		d.want(t, 0, `^`+r.ID+` \(`+r.Severity.String()+`\): `, "")
		for _, part := range []string{r.Summary, r.Doc.Text, indent(r.Doc.Failing), indent(r.Doc.Passing)} {
			if !strings.Contains(d.out, part) {
				t.Errorf("explain %s does not show %q", r.ID, part)
			}
		}
		// And what the command says about the failing draft.
		report, err := check.Source(t.Context(), "", r.Doc.Failing, check.Options{Rules: rules})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range report.Findings {
			if !strings.Contains(d.out, fmt.Sprintf("\n    %s: %s\n", f.Span.Start, f.Text())) {
				t.Errorf("explain %s does not show the finding %q", r.ID, f.Text())
			}
		}
	}
}

// write gives the pattern in the terms asked for, and nothing of a draft with
// errors but what is wrong with it.
func TestWrite(t *testing.T) {
	drafts(t, "a.rnd", clean, "b.rnd", faulty, "c.rnd", warned, "uk.rnd", "terms uk\nring\nrnd 1: 12 tr in ring\n")
	const us, uk = `12 dc in ring; join with sl st to first dc\. Fasten off\. \(12 dc\)`, `12 tr in ring; join with ss to first tr\. Fasten off\. \(12 tr\)`
	call(t, "", "write", "a.rnd").want(t, 0, `^# Saltmarsh\n.*\*\*Rnd 1:\*\* `+us, "")
	call(t, "", "write", "-terms", "uk", "a.rnd").want(t, 0, `\*\*Rnd 1:\*\* `+uk, "")
	call(t, "", "write", "-terms", "both", "a.rnd").want(t, 0, `Written in US terms.*Rnd 1:\*\* `+us+`.*\n\n# Saltmarsh\n.*Written in UK terms.*Rnd 1:\*\* `+uk, "")
	call(t, "", "write", "uk.rnd").want(t, 0, `Written in UK terms.*Rnd 1:\*\* `+uk, "")
	call(t, "", "write", "-format", "txt", "a.rnd").want(t, 0, `^Saltmarsh\n=========\n.*\nRnd 1: `+us, "")
	call(t, clean, "write", "-").want(t, 0, us, "")
	call(t, "", "write", "b.rnd").want(t, 1, "", `b\.rnd:3:.*claim-count\]\nroundel: b\.rnd has errors: no pattern was written\n$`)
	call(t, faulty, "write", "-").want(t, 1, "", `\nroundel: standard input has errors: no pattern was written\n$`)
	call(t, "", "size", "b.rnd").want(t, 1, `Harbour`, `claim-count\]\nroundel: b\.rnd has errors: the sizes are those of what could be worked\n$`)
	call(t, "", "write", "c.rnd").want(t, 0, us[:12], "") // a warning does not keep it back
	call(t, "", "write", "-terms", "au", "a.rnd").want(t, 2, "", `-terms is us, uk or both, not "au"`)
	call(t, "", "write", "-format", "pdf", "a.rnd").want(t, 2, "", `-format is md or txt, not "pdf"`)
	call(t, "", "write").want(t, 2, "", `write takes one file, got 0`)
}
