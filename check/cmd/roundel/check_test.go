package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/roundel/check"
	"example.com/roundel/notation"
)

// files lists the files that the findings of a text report are about, once
// each, in order.
func files(out string) []string {
	var list []string
	for _, m := range regexp.MustCompile(`(?m)^(.*?):\d+:\d+: `).FindAllStringSubmatch(out, -1) {
		if n := len(list); n == 0 || list[n-1] != m[1] {
			list = append(list, m[1])
		}
	}
	return list
}

func TestCheck(t *testing.T) {
	drafts(t, "clean.rnd", clean, "faulty.rnd", faulty, "warned.rnd", warned, "broken.rnd", broken)
	call(t, "", "check", "clean.rnd").want(t, 0, `^1 draft, 1 round, 12 stitches: nothing to report\n$`, "")
	call(t, "", "check", "-format", "text", "faulty.rnd").want(t, 1,
		`^faulty\.rnd:3:24: error: round 1 .*13.*12.* \[claim-count\]\n1 draft, 1 round, 12 stitches: 1 error, -fix mends 1\n$`, "")
	call(t, "", "check", "warned.rnd").want(t, 0, `^warned\.rnd:3:6: warning: .* \[unused-name\]\n1 draft, 1 round, 12 stitches: 1 warning\n$`, "")
	call(t, "", "check", "clean.rnd", "faulty.rnd", "warned.rnd", "broken.rnd").want(t, 1,
		`4 drafts, 4 rounds, 36 stitches: 2 errors, 1 warning, 1 round not checked, -fix mends 1\n$`, "")
	call(t, faulty, "check", "-").want(t, 1, `^standard input:3:24: error: `, "")
	call(t, clean, "check", "-").want(t, 0, `nothing to report`, "")
	call(t, "", "check", "-").want(t, 1, `^standard input:1:1: error: .*\[no-rounds\]`, "")
	d := call(t, faulty, "check", "clean.rnd", "-", "faulty.rnd")
	d.want(t, 1, `3 drafts`, "")
	if diff := cmp.Diff([]string{"standard input", "faulty.rnd"}, files(d.out)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

func TestSARIF(t *testing.T) {
	drafts(t, "sub/a b.rnd", faulty, "c.rnd", clean)
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	type location struct {
		PhysicalLocation struct {
			ArtifactLocation struct{ URI string }
			Region           struct{ StartLine, StartColumn int }
		}
	}
	for _, arg := range []string{"sub", "./sub", filepath.Join(here, "sub"), "c.rnd"} {
		d := call(t, "", "check", "-format", "sarif", arg, "c.rnd")
		var got struct {
			Version string
			Runs    []struct {
				Tool struct {
					Driver struct{ Rules []struct{ ID string } }
				}
				Results []struct {
					RuleID    string
					Locations []location
				}
			}
		}
		if err := json.Unmarshal([]byte(d.out), &got); err != nil || d.err != "" {
			t.Fatalf("%v in %s%s", err, d.out, d.err)
		}
		if got.Version != "2.1.0" || len(got.Runs) != 1 || len(got.Runs[0].Tool.Driver.Rules) != len(check.Rules()) {
			t.Fatalf("%s: %s", arg, d.out)
		}
		results := got.Runs[0].Results
		if arg == "c.rnd" {
			if d.status != 0 || results == nil || len(results) != 0 {
				t.Errorf("a clean draft: status %d, %s", d.status, d.out)
			}
			continue
		}
		if d.status != 1 || len(results) != 1 || results[0].RuleID != "claim-count" {
			t.Fatalf("%s: status %d, %s", arg, d.status, d.out)
		}
		var want location
		want.PhysicalLocation.ArtifactLocation.URI = "sub/a%20b.rnd"
		want.PhysicalLocation.Region.StartLine, want.PhysicalLocation.Region.StartColumn = 3, 24
		if diff := cmp.Diff([]location{want}, results[0].Locations); diff != "" {
			t.Errorf("%s (-want +got):\n%s", arg, diff)
		}
	}
	// What is allowed is there with its reason.
	d := call(t, "ring\nallow claim-count \"printed so\"\nrnd 1: 12 dc in ring = 13 dc\n", "check", "-format", "sarif", "-")
	d.want(t, 0, `"justification": "printed so"`, "")
}

func TestSummary(t *testing.T) {
	// Rounds without increases, so that they are meant to cup.
	const cupped = "lies cupped\n"
	const rounds = "ring\nrnd 1: 12 dc in ring\n"
	tests := []struct{ text, want string }{
		{rounds, "1 draft, 1 round, 12 stitches: nothing to report"},
		{"ring\nrnd 1: dc in ring\n", "1 draft, 1 round, 1 stitch: nothing to report"},
		{"ring\n", "1 draft, 0 rounds, 0 stitches: 1 error"},
		{cupped + rounds + "rnd 2-4: dc in each st\n", "1 draft, 4 rounds, 48 stitches: nothing to report"},
		{cupped + rounds + "allow claim-count \"the book\"\nrnd 2: dc in each st = 13 dc\n", "1 draft, 2 rounds, 24 stitches: nothing to report, 1 finding allowed"},
		{cupped + "allow claim-count \"the book\"\nring\nrnd 1: 12 dc in ring = 14 dc\nrnd 2: dc in each st = 13 dc\n", "1 draft, 2 rounds, 24 stitches: nothing to report, 2 findings allowed"},
		{rounds + "rnd 2: dc in\nrnd 3: dc in each st\n", "1 draft, 3 rounds, 12 stitches: 1 error, 2 rounds not checked"},
		{cupped + "yarn sand\nyarn reed\nyarn slate\nring\nrnd 1: 12 dc in ring = 14 dc, 12 st\nrnd 2: dc in each st = 13 dc, 12 st\n", "1 draft, 2 rounds, 24 stitches: 2 errors, 2 warnings, -fix mends 2"},
	}
	for _, test := range tests {
		lines := strings.Split(strings.TrimSpace(call(t, test.text, "check", "-").out), "\n")
		if got := lines[len(lines)-1]; got != test.want {
			t.Errorf("%q:\n got %s\nwant %s", test.text, got, test.want)
		}
	}
	drafts(t, "a.rnd", clean)
	call(t, "", "check", "a.rnd", "b.rnd").want(t, 2, `: nothing to report, 1 file not checked\n$`, `b\.rnd`)
	call(t, "", "check", "b.rnd").want(t, 2, ``, `b\.rnd`)
}

func TestFail(t *testing.T) {
	drafts(t, "clean.rnd", clean, "faulty.rnd", faulty, "warned.rnd", warned)
	// A rule that finds something worth knowing in every draft.
	noted := check.Rule{ID: "noted", Severity: notation.Info, Run: func(p *check.Pass) { p.Reportf(p.Draft.Range(), "a draft") }}
	tests := []struct {
		fail, file string
		noted      bool
		status     int
	}{
		{"", "clean.rnd", false, 0},
		{"", "clean.rnd", true, 0},
		{"", "warned.rnd", true, 0},
		{"", "faulty.rnd", true, 1},
		{"error", "clean.rnd", true, 0},
		{"error", "warned.rnd", true, 0},
		{"error", "faulty.rnd", true, 1},
		{"warning", "clean.rnd", true, 0},
		{"warning", "warned.rnd", true, 1},
		{"warning", "faulty.rnd", true, 1},
		{"info", "clean.rnd", false, 0},
		{"info", "clean.rnd", true, 1},
		{"info", "warned.rnd", false, 1},
		{"info", "faulty.rnd", false, 1},
	}
	for _, test := range tests {
		for _, format := range []string{"text", "json"} {
			args := []string{"check", "-format", format}
			if test.fail != "" {
				args = append(args, "-fail="+test.fail)
			}
			options := check.Options{Rules: check.Rules()}
			if test.noted {
				options.Rules = append(options.Rules, noted)
			}
			d := callWith(t, options, "", append(args, test.file)...)
			if d.status != test.status || d.err != "" {
				t.Errorf("%s -fail %q, with info %v, %s: status %d, want %d\n%s%s", test.file, test.fail, test.noted, format, d.status, test.status, d.out, d.err)
			}
			// -fail changes the status, not what is shown.
			if test.noted && !strings.Contains(d.out, "noted") {
				t.Errorf("%s -fail %q: the info is not shown:\n%s", test.file, test.fail, d.out)
			}
		}
	}
}

// The worst that happened is the exit status: a file that cannot be read
// beats findings, in whatever order they come.
func TestCombined(t *testing.T) {
	drafts(t, "clean.rnd", clean, "faulty.rnd", faulty, "empty/x.txt", "")
	tests := []struct {
		args   string
		status int
	}{
		{"clean.rnd faulty.rnd", 1},
		{"faulty.rnd clean.rnd", 1},
		{"clean.rnd missing.rnd", 2},
		{"missing.rnd clean.rnd", 2},
		{"faulty.rnd missing.rnd", 2},
		{"missing.rnd faulty.rnd", 2},
		{"faulty.rnd empty", 2},
		{"empty faulty.rnd clean.rnd", 2},
	}
	for _, test := range tests {
		d := call(t, "", append([]string{"check"}, strings.Split(test.args, " ")...)...)
		if d.status != test.status {
			t.Errorf("%s: status %d, want %d", test.args, d.status, test.status)
		}
		if strings.Contains(test.args, "faulty") && !strings.Contains(d.out, "faulty.rnd:3:24: error: ") {
			t.Errorf("%s: the findings are not shown:\n%s", test.args, d.out)
		}
	}
}

func TestDirectories(t *testing.T) {
	drafts(t, "d/b.rnd", faulty, "d/a.rnd", faulty, "d/sub/c.rnd", faulty, "d/sub/notes.txt", faulty, "d/rnd", faulty,
		"e.rnd", faulty, "empty/notes.txt", "", "f/.rnd/g.rnd", faulty)
	all := []string{"d/a.rnd", "d/b.rnd", "d/sub/c.rnd"}
	tests := []struct {
		args   string
		want   []string
		status int
		err    string
	}{
		{"d", all, 1, ""},
		{"d/", all, 1, ""},
		{"./d", all, 1, ""},
		{"d/...", all, 1, ""},
		{"d/sub", []string{"d/sub/c.rnd"}, 1, ""},
		{".", append(append([]string{}, all...), "e.rnd", "f/.rnd/g.rnd"), 1, ""},
		{"./...", append(append([]string{}, all...), "e.rnd", "f/.rnd/g.rnd"), 1, ""},
		{"d/sub d/a.rnd", []string{"d/sub/c.rnd", "d/a.rnd"}, 1, ""},
		{"d/b.rnd d", []string{"d/b.rnd", "d/a.rnd", "d/sub/c.rnd"}, 1, ""}, // each once
		{"d/a.rnd ./d/a.rnd d/sub/../a.rnd", []string{"d/a.rnd"}, 1, ""},
		{"d/rnd", []string{"d/rnd"}, 1, ""}, // named, so checked
		{"empty", nil, 2, `^roundel: empty holds no drafts \(\*\.rnd\)\n$`},
		{"empty/...", nil, 2, `^roundel: empty/\.\.\. holds no drafts`},
		{"empty d/sub", []string{"d/sub/c.rnd"}, 2, `empty holds no drafts`},
		{"e.rnd/...", nil, 2, `e\.rnd/\.\.\.`},
		{"g/...", nil, 2, `g/\.\.\.: no such file`},
	}
	for _, test := range tests {
		t.Run(test.args, func(t *testing.T) {
			d := call(t, "", append([]string{"check"}, strings.Split(test.args, " ")...)...)
			if diff := cmp.Diff(test.want, files(d.out)); diff != "" {
				t.Errorf("files (-want +got):\n%s", diff)
			}
			if d.status != test.status || !regexp.MustCompile(test.err).MatchString(d.err) || test.err == "" && d.err != "" {
				t.Errorf("status %d, want %d; standard error, want %q:\n%s", d.status, test.status, test.err, d.err)
			}
		})
	}
}

// A link to a directory is as good as the directory.
func TestLinkedDirectory(t *testing.T) {
	drafts(t, "d/a.rnd", faulty)
	if err := os.Symlink("d", "link"); err != nil {
		t.Skip("no symbolic links here")
	}
	for _, arg := range []string{"link", "link/", "link/..."} {
		d := call(t, "", "check", arg)
		d.want(t, 1, `^link/a\.rnd:3:24: `, "")
	}
}

func TestCheckJSON(t *testing.T) {
	drafts(t, "clean.rnd", clean, "faulty.rnd", faulty, "warned.rnd", warned)
	call(t, "", "check", "-format", "json", "clean.rnd").want(t, 0, `^{\n  "version": 1,\n  "findings": \[\]\n}\n$`, "")
	call(t, "", "check", "-format=json", "empty").want(t, 2, `^{\n  "version": 1,\n  "findings": \[\]\n}\n$`, `no such file`)
	d := call(t, faulty, "check", "-format", "json", "warned.rnd", "clean.rnd", "-", "missing.rnd", "faulty.rnd")
	d.want(t, 2, `^{`, `^roundel: open missing\.rnd: .*\n$`)
	var got struct {
		Version  int
		Findings []struct{ Rule, File string }
	}
	if err := json.Unmarshal([]byte(d.out), &got); err != nil {
		t.Fatalf("%v in %s", err, d.out)
	}
	want := []struct{ Rule, File string }{{"unused-name", "warned.rnd"}, {"claim-count", "standard input"}, {"claim-count", "faulty.rnd"}}
	if diff := cmp.Diff(want, got.Findings); diff != "" || got.Version != 1 {
		t.Errorf("version %d, findings (-want +got):\n%s", got.Version, diff)
	}
}

// many writes n drafts, each at fault in its own way, some of them slow to
// check so that they are done out of order.
func many(t testing.TB, dir string, n int) (names []string) {
	t.Helper()
	for i := range n {
		name := filepath.Join(dir, fmt.Sprintf("%03d.rnd", i))
		stitches := 12
		if i%7 == 0 {
			stitches = 200_000
		}
		text := fmt.Sprintf("ring\nrnd 1: %d dc in ring = %d dc\n", stitches, i+13)
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
	}
	return names
}

// Drafts are checked side by side, and reported in order.
func TestOrder(t *testing.T) {
	drafts(t)
	names := many(t, "", 200)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	outputs := map[string]bool{}
	for _, procs := range []int{1, 2, 8} {
		runtime.GOMAXPROCS(procs)
		for _, args := range [][]string{append([]string{"check"}, names...), {"check", "."}} {
			d := call(t, "", args...)
			d.want(t, 1, `200 drafts, 200 rounds, .*: 200 errors\n$`, "")
			if diff := cmp.Diff(names, files(d.out)); diff != "" {
				t.Errorf("on %d cores (-want +got):\n%s", procs, diff)
			}
			outputs[d.out] = true
		}
	}
	if len(outputs) != 1 {
		t.Errorf("%d different outputs", len(outputs))
	}
}

func BenchmarkCheckAll(b *testing.B) {
	dir := b.TempDir()
	source, err := os.ReadFile("../../../testdata/published/beeton-tobacco-pouch-star-278.rnd")
	if err != nil {
		b.Fatal(err)
	}
	var names []string
	for i := range 200 {
		name := filepath.Join(dir, fmt.Sprintf("%03d.rnd", i))
		if err := os.WriteFile(name, source, 0o666); err != nil {
			b.Fatal(err)
		}
		names = append(names, name)
	}
	for _, procs := range []int{1, runtime.GOMAXPROCS(0)} {
		b.Run(fmt.Sprintf("procs=%d", procs), func(b *testing.B) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
			b.SetBytes(int64(len(names) * len(source)))
			b.ReportAllocs()
			for b.Loop() {
				c := &command{}
				inOrder(names, c.checkFile, func(r result) {
					if r.err != nil {
						b.Fatal(r.err)
					}
				})
			}
		})
	}
}
