package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"example.com/roundel/check"
	"example.com/roundel/notation"
)

// foreign has a fault that is certain to be mended, and one that is not.
const (
	foreign = "terms us\nyarn sand\nring\nrnd 1 with snad: 12 htr in ring = 11 htr, 12 st # so\n"
	mended  = "terms us\nyarn sand\nring\nrnd 1 with snad: 12 hdc in ring = 12 hdc, 12 st # so\n"
)

func TestFix(t *testing.T) {
	drafts(t, "a.rnd", faulty, "sub/b.rnd", foreign, "sub/c.rnd", clean, "sub/d.rnd", broken)
	before := stat(t, "sub/c.rnd")
	d := call(t, "", "check", "-fix", "a.rnd", "sub")
	d.want(t, 1, `^a\.rnd:3:24: fixed: claim 12 dc \[claim-count\]
sub/b\.rnd:4:21: fixed: write hdc \[terms\]
sub/b\.rnd:4:35: fixed: claim 12 hdc \[claim-count\]
sub/b\.rnd:4:38: fixed: write hdc \[terms\]
sub/b\.rnd:4:12: error: no yarn is called snad; did you mean sand\? \[unknown-yarn\]
sub/d\.rnd:3:22: error: .* \[syntax\]
4 drafts, .*: 2 errors, 4 findings fixed, 1 round not checked
$`, "")
	for file, want := range map[string]string{"a.rnd": clean, "sub/b.rnd": mended, "sub/c.rnd": clean, "sub/d.rnd": broken} {
		want = strings.Replace(want, "Saltmarsh", map[bool]string{true: "Harbour", false: "Saltmarsh"}[file == "a.rnd"], 1)
		if got := text(t, file); got != want {
			t.Errorf("%s:\n%s", file, got)
		}
	}
	if !os.SameFile(before, stat(t, "sub/c.rnd")) {
		t.Error("a file without faults is written anew")
	}
	wantEntries(t, ".", "a.rnd", "sub")
	wantEntries(t, "sub", "b.rnd", "c.rnd", "d.rnd")
	// Once more changes nothing.
	call(t, "", "check", "-fix", "a.rnd").want(t, 0, `^1 draft, 1 round, 12 stitches: nothing to report\n$`, "")
	d = call(t, "", "check", "-fix", "sub/b.rnd")
	d.want(t, 1, `^sub/b\.rnd:4:12: error: [^\n]*\n1 draft[^\n]*: 1 error\n$`, "")
	if got := text(t, "sub/b.rnd"); got != mended {
		t.Errorf("after the second time:\n%s", got)
	}
}

// Without -fix nothing is written, and the summary says what it would do.
func TestNoFix(t *testing.T) {
	drafts(t, "a.rnd", faulty)
	if err := os.Chmod(".", 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(".", 0o777)
	before := stat(t, "a.rnd")
	call(t, "", "check", "a.rnd").want(t, 1, `1 error, -fix mends 1\n$`, "")
	if text(t, "a.rnd") != faulty || !os.SameFile(before, stat(t, "a.rnd")) {
		t.Error("the file is written")
	}
}

func TestFixJSON(t *testing.T) {
	drafts(t, "a.rnd", foreign)
	d := call(t, "", "check", "-fix", "-format", "json", "a.rnd")
	var got struct {
		Findings []struct {
			Rule  string
			Fixes []struct {
				Message string
				Certain bool
			}
		}
	}
	if err := json.Unmarshal([]byte(d.out), &got); err != nil || d.status != 1 {
		t.Fatalf("status %d, %v in %s", d.status, err, d.out)
	}
	if len(got.Findings) != 1 || got.Findings[0].Rule != "unknown-yarn" || len(got.Findings[0].Fixes) != 1 || got.Findings[0].Fixes[0].Certain {
		t.Errorf("left: %+v", got.Findings)
	}
	if text(t, "a.rnd") != mended {
		t.Error("nothing is written")
	}
}

// Layout is looked at only where it is asked for.
func TestFixLayout(t *testing.T) {
	drafts(t, "a.rnd", sloppy)
	call(t, "", "check", "a.rnd").want(t, 0, `nothing to report`, "")
	call(t, "", "check", "-fix", "a.rnd").want(t, 0, `nothing to report\n$`, "")
	if text(t, "a.rnd") != sloppy {
		t.Error("the draft is laid out without being asked")
	}
	call(t, "", "check", "-layout", "a.rnd").want(t, 0, `^a\.rnd:1:1: info: .* \[layout\]\n.*: 1 info, -fix mends 1\n$`, "")
	call(t, "", "check", "-layout", "-fail", "info", "a.rnd").want(t, 1, `\[layout\]`, "")
	call(t, "", "check", "-layout", "-format", "sarif", "a.rnd").want(t, 0, `"id": "layout".*"ruleId": "layout"`, "")
	call(t, "", "check", "-layout", "-fix", "a.rnd").want(t, 0, `^a\.rnd:1:1: fixed: .* \[layout\]\n.*: nothing to report, 1 finding fixed\n$`, "")
	if got := text(t, "a.rnd"); got != clean {
		t.Errorf("laid out:\n%s", got)
	}
}

// What a link leads to is fixed, the link stays; a file keeps its mode, its
// line ends and its byte order mark; one that is write-protected is not touched.
func TestFixFiles(t *testing.T) {
	dos := "\uFEFF" + strings.ReplaceAll(foreign, "\n", "\r\n")
	drafts(t, "real/a.rnd", dos, "links/x.txt", "", "kept.rnd", faulty, "long.rnd", faulty+strings.Repeat("# tide\n", 40_000))
	if err := os.Symlink("../real/a.rnd", "links/a.rnd"); err != nil {
		t.Skip("no symbolic links here")
	}
	for file, mode := range map[string]os.FileMode{"real/a.rnd": 0o640, "kept.rnd": 0o444} {
		if err := os.Chmod(file, mode); err != nil {
			t.Fatal(err)
		}
	}
	call(t, "", "check", "-fix", "links/a.rnd").want(t, 1, `3 findings fixed`, "")
	if info := stat(t, "links/a.rnd"); info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link is gone")
	}
	if info := stat(t, "real/a.rnd"); info.Mode() != 0o640 {
		t.Errorf("mode %v, it was -rw-r-----", info.Mode())
	}
	if got, want := text(t, "real/a.rnd"), "\uFEFF"+strings.ReplaceAll(mended, "\n", "\r\n"); got != want {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
	d := call(t, "", "check", "-fix", "kept.rnd")
	d.want(t, 2, "", `^roundel: kept\.rnd is write-protected\n$`)
	if text(t, "kept.rnd") != faulty {
		t.Error("a write-protected file is changed")
	}
	// Of a file that is longer than allowed only a part is read.
	before := text(t, "long.rnd")
	call(t, "", "check", "-fix", "long.rnd").want(t, 1, `\[limit\]`, "")
	if text(t, "long.rnd") != before {
		t.Error("a file that is too long is changed")
	}
	call(t, "", "check", "-fix", "missing.rnd").want(t, 2, "", `missing\.rnd`)
	wantEntries(t, ".", "kept.rnd", "links", "long.rnd", "real")
	wantEntries(t, "links", "a.rnd", "x.txt")
	wantEntries(t, "real", "a.rnd")
}

// A fix that fails is the failure of one file.
func TestFixPanic(t *testing.T) {
	drafts(t, "a.rnd", faulty, "b.rnd", warned)
	rule := check.Rule{ID: "fragile", Severity: notation.Error, Run: func(p *check.Pass) {
		if p.Draft.Title() == "Harbour" {
			panic("storm")
		}
	}}
	d := callWith(t, check.Options{Rules: []check.Rule{rule}}, "", "check", "-fix", "a.rnd", "b.rnd")
	d.want(t, 3, `nothing to report`, `a\.rnd: internal failure: storm`)
}

func stat(t *testing.T, file string) os.FileInfo {
	t.Helper()
	info, err := os.Lstat(file)
	if err != nil {
		t.Fatal(err)
	}
	return info
}
