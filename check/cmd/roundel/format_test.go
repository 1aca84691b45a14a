package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// sloppy is clean in another layout.
const sloppy = "motif   \"Saltmarsh\"\nRING\nrnd 1:12 DC in ring=12 dc, 12 st\n"

func TestFormat(t *testing.T) {
	drafts(t, "clean.rnd", clean, "sloppy.rnd", sloppy, "broken.rnd", broken, "faulty.rnd", faulty)
	call(t, "", "fmt", "clean.rnd").want(t, 0, `.`, "")
	if d := call(t, "", "fmt", "sloppy.rnd"); d.status != 0 || d.out != clean || d.err != "" {
		t.Errorf("%+v", d)
	}
	if d := call(t, sloppy, "fmt", "-"); d.status != 0 || d.out != clean || d.err != "" {
		t.Errorf("standard input: %+v", d)
	}
	if d := call(t, "", "fmt", "sloppy.rnd", "clean.rnd"); d.status != 0 || d.out != clean+clean {
		t.Errorf("two files: %+v", d)
	}
	// Layout is not a matter of right counts.
	if d := call(t, "", "fmt", "faulty.rnd"); d.status != 0 || d.out != faulty {
		t.Errorf("faulty: %+v", d)
	}
	// What cannot be read is not laid out; the others are.
	d := call(t, "", "fmt", "broken.rnd", "sloppy.rnd")
	d.want(t, 1, `Saltmarsh`, `^broken\.rnd:3:\d+: error: .*\[syntax\]\n$`)
	if d.out != clean {
		t.Errorf("output:\n%s", d.out)
	}
	call(t, broken, "fmt", "-").want(t, 1, "", `^standard input:3:\d+: error: `)
	call(t, "", "fmt", "broken.rnd", "missing.rnd", "sloppy.rnd").want(t, 2, `^motif`, `broken\.rnd.*missing\.rnd`)
	if text(t, "sloppy.rnd") != sloppy {
		t.Error("without -w the file is written")
	}
}

func TestFormatList(t *testing.T) {
	drafts(t, "clean.rnd", clean, "sloppy.rnd", sloppy, "dos.rnd", strings.ReplaceAll(clean, "\n", "\r\n"), "broken.rnd", broken)
	call(t, "", "fmt", "-l", "clean.rnd").want(t, 0, "", "")
	call(t, "", "fmt", "-l", "sloppy.rnd", "clean.rnd", "dos.rnd").want(t, 1, `^sloppy\.rnd\ndos\.rnd\n$`, "")
	call(t, sloppy, "fmt", "-l", "-").want(t, 1, `^standard input\n$`, "")
	call(t, clean, "fmt", "-l", "-").want(t, 0, "", "")
	call(t, "", "fmt", "-l", "broken.rnd").want(t, 1, "", `\[syntax\]`)
	if text(t, "sloppy.rnd") != sloppy {
		t.Error("-l writes the file")
	}
	call(t, "", "fmt", "-l", "-w", "sloppy.rnd", "clean.rnd").want(t, 1, `^sloppy\.rnd\n$`, "")
	call(t, "", "fmt", "-l", "-w", "sloppy.rnd", "clean.rnd").want(t, 0, "", "")
}

func TestFormatWrite(t *testing.T) {
	drafts(t, "clean.rnd", clean, "sub/sloppy.rnd", sloppy, "dos.rnd", strings.ReplaceAll(sloppy, "\n", "\r\n"), "broken.rnd", broken)
	if err := os.Chmod("sub/sloppy.rnd", 0o640); err != nil {
		t.Fatal(err)
	}
	before := stat(t, "clean.rnd")
	call(t, "", "fmt", "-w", "clean.rnd", "sub/sloppy.rnd", "dos.rnd").want(t, 0, "", "")
	for _, file := range []string{"clean.rnd", "sub/sloppy.rnd", "dos.rnd"} {
		if got := text(t, file); got != clean {
			t.Errorf("%s:\n%s", file, got)
		}
	}
	if got := stat(t, "sub/sloppy.rnd").Mode(); got != 0o640 {
		t.Errorf("mode %v, it was -rw-r-----", got)
	}
	if !os.SameFile(before, stat(t, "clean.rnd")) {
		t.Error("a file in standard layout is written anew")
	}
	call(t, "", "fmt", "-w", "broken.rnd", "sub/sloppy.rnd").want(t, 1, "", `^broken\.rnd:3:\d+: error: `)
	if text(t, "broken.rnd") != broken {
		t.Error("a draft that cannot be read is changed")
	}
	wantEntries(t, ".", "broken.rnd", "clean.rnd", "dos.rnd", "sub")
	wantEntries(t, "sub", "sloppy.rnd")
}

// wantEntries sees that nothing is left over in a directory.
func wantEntries(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("%s holds %v, want %v", dir, got, want)
	}
}

// What a link leads to is written, the link stays.
func TestFormatLink(t *testing.T) {
	drafts(t, "real/draft.rnd", sloppy, "links/x.txt", "")
	if err := os.Symlink(filepath.Join("..", "real", "draft.rnd"), "links/draft.rnd"); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := os.Symlink("nowhere.rnd", "links/dangling.rnd"); err != nil {
		t.Fatal(err)
	}
	call(t, "", "fmt", "-w", "links/draft.rnd").want(t, 0, "", "")
	if info, err := os.Lstat("links/draft.rnd"); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v %v", info, err)
	}
	if got := text(t, "real/draft.rnd"); got != clean {
		t.Errorf("the draft:\n%s", got)
	}
	wantEntries(t, "real", "draft.rnd")
	wantEntries(t, "links", "dangling.rnd", "draft.rnd", "x.txt")
	call(t, "", "fmt", "-w", "links/dangling.rnd").want(t, 2, "", `dangling\.rnd: no such file`)
	wantEntries(t, "links", "dangling.rnd", "draft.rnd", "x.txt")
}

// Whoever takes away the right to write a file means it.
func TestFormatWriteProtected(t *testing.T) {
	drafts(t, "a.rnd", sloppy, "b.rnd", clean)
	for _, file := range []string{"a.rnd", "b.rnd"} {
		if err := os.Chmod(file, 0o444); err != nil {
			t.Fatal(err)
		}
	}
	call(t, "", "fmt", "-w", "a.rnd", "b.rnd").want(t, 2, "", `^roundel: a\.rnd is write-protected\n$`)
	if text(t, "a.rnd") != sloppy {
		t.Error("the file is written all the same")
	}
	wantEntries(t, ".", "a.rnd", "b.rnd")
}
