package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"example.com/roundel/notation"
)

// binary is the command as it is installed. To run out of stack or memory
// kills a process, and nothing recovers it; so some inputs need a process of
// their own.
var binary string

func TestMain(m *testing.M) {
	os.Exit(testMain(m))
}

func testMain(m *testing.M) int {
	dir, err := os.MkdirTemp("", "roundel-test-")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	binary = filepath.Join(dir, "roundel.exe")
	if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		panic(string(out))
	}
	return m.Run()
}

// process runs the binary.
func process(t *testing.T, in string, args ...string) done {
	t.Helper()
	var out, err bytes.Buffer
	c := exec.Command(binary, args...)
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(in), &out, &err
	if e := c.Run(); c.ProcessState == nil {
		t.Fatal(e)
	}
	return done{c.ProcessState.ExitCode(), out.String(), err.String()}
}

// TestHostile feeds the binary what no designer writes. Every text gets a
// clear answer, as a file and on standard input, from every command. (How much
// memory that takes is not asked here: a new process is charged with that of
// the test it was started from.)
func TestHostile(t *testing.T) {
	drafts(t)
	tests := []struct {
		name, text string
		finding    string // the first finding of check
		unreadable bool   // for fmt
	}{
		{"nested repeats", "ring\nrnd 1: " + strings.Repeat("[", 400_000), `\d+:\d+: error: .* \[limit\]`, true},
		{"nested groups", "ring\nrnd 1: " + strings.Repeat("(", 200_000) + "dc" + strings.Repeat(")", 200_000), `\d+:\d+: error: .* \[limit\]`, true},
		{"nested as deep as fits", "ring\nrnd 1: " + strings.Repeat("[", notation.DefaultBytes/2), `2:\d+: error: .* \[limit\]`, true},
		{"one line", strings.Repeat("x", 50_000_000), `1:1: error: .* \[limit\]`, true},
		{"one line of steps", "ring\nrnd 1: " + strings.Repeat("dc in ring, ", 4_200_000), `1:1: error: .* \[limit\]`, true},
		{"zero bytes", "ring\nrnd 1: 12 dc\x00 in ring\n", `2:13: error: .*U\+0000.* \[syntax\]`, true},
		{"only zero bytes", strings.Repeat("\x00", 100_000), `1:1: error: .*U\+0000.* \[syntax\]`, true},
		{"no letters at all", "ring\nrnd 1: 12 d\xc3\x28 in ring\n", `2:12: error: .*\\xc3.* \[syntax\]`, true},
		{"half a letter", "ring\nrnd 1: 12 dc in ring\nrnd 2: \xed\xa0\x80 dc in each st\n", `3:8: error: .* \[syntax\]`, true},
		{"nothing", "", `1:1: error: .* \[no-rounds\]`, false},
		{"comments", strings.Repeat("#\n", 20_000), `1:1: error: .* \[no-rounds\]`, false},
		{"millions of stitches", "ring\nrnd 1: 2000000000 dc in ring\n", `2:1: error: .* \[limit\]`, false},
		{"repeats of repeats", "ring\nrnd 1: [[[[dc in ring] 9999 times] 9999 times] 9999 times] 9999 times\n", `2:1: error: .* \[limit\]`, false},
		{"millions of rounds", "lies cupped\nring\nrnd 1: 12 dc in ring\nrnd 2-2000000000: dc in each st\n", `4:1: error: .* \[limit\]`, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if err := os.WriteFile("a.rnd", []byte(test.text), 0o666); err != nil {
				t.Fatal(err)
			}
			answer := func(args ...string) done {
				t.Helper()
				d := process(t, test.text, args...)
				if strings.Contains(d.err, "goroutine") {
					t.Errorf("%v fails:\n%.2000s", args, d.err)
				}
				return d
			}
			d := answer("check", "a.rnd")
			if d.status != 1 || !regexp.MustCompile(`^a\.rnd:`+test.finding).MatchString(d.out) || len(d.out) > 100_000 {
				t.Errorf("check: status %d, want a finding at %s:\n%.2000s%.2000s", d.status, test.finding, d.out, d.err)
			}
			if in := answer("check", "-"); in.status != 1 || in.out != strings.ReplaceAll(d.out, "a.rnd:", "standard input:") {
				t.Errorf("check -: status %d\n%.2000s", in.status, in.out)
			}
			if d := answer("check", "-format", "json", "a.rnd"); d.status != 1 {
				t.Errorf("check -format json: status %d", d.status)
			}
			for _, name := range []string{"rounds", "graph"} {
				if d := answer(name, "a.rnd"); d.status != 1 || d.err == "" || d.out == "" {
					t.Errorf("%s: status %d\n%.2000s", name, d.status, d.err)
				}
			}
			// A piece that is too large for a picture gets none.
			if d := answer("chart", "a.rnd"); d.status < 1 || d.status > 2 || d.err == "" || len(d.out) > 10_000_000 {
				t.Errorf("chart: status %d, %d bytes\n%.2000s", d.status, len(d.out), d.err)
			}
			want := 0
			if test.unreadable {
				want = 1
			}
			if d := answer("fmt", "-w", "a.rnd"); d.status != want || d.out != "" {
				t.Errorf("fmt -w: status %d\n%.2000s", d.status, d.err)
			}
			if test.unreadable && text(t, "a.rnd") != test.text {
				t.Error("fmt -w changes a file that it cannot read")
			}
		})
	}
}

// The binary as a whole: arguments, streams and exit status.
func TestBinary(t *testing.T) {
	drafts(t, "a.rnd", faulty)
	process(t, "", "check", "a.rnd").want(t, 1, `^a\.rnd:3:24: error: .*\[claim-count\]\n1 draft, .*\n$`, "")
	process(t, clean, "check", "-").want(t, 0, `nothing to report`, "")
	process(t, "").want(t, 2, "", `^usage:`)
	process(t, "", "check", "b.rnd").want(t, 2, "", `b\.rnd`)
}

// A full disk is told of.
func TestFullDisk(t *testing.T) {
	disk, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skipf("no full disk on %s", runtime.GOOS)
	}
	defer disk.Close()
	var stderr bytes.Buffer
	c := exec.Command(binary, "check", "-")
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(clean), disk, &stderr
	c.Run()
	done{status: c.ProcessState.ExitCode(), err: stderr.String()}.want(t, 3, "", `^roundel: write .*no space`)
}
