package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func seventeen(b *testing.B) string {
	b.Helper()
	text, err := os.ReadFile("../../../notation/testdata/seventeen.rnd")
	if err != nil {
		b.Fatal(err)
	}
	return string(text)
}

// BenchmarkCheckMany checks a directory of drafts. With -cpu 1,2 it shows what
// a second core is worth.
func BenchmarkCheckMany(b *testing.B) {
	text, dir := seventeen(b), b.TempDir()
	const drafts = 200
	for i := range drafts {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.rnd", i)), []byte(text), 0o666); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(drafts * len(text)))
	for b.Loop() {
		c := &command{in: strings.NewReader(""), out: io.Discard, err: io.Discard}
		if status := c.run([]string{"check", dir}); status != exitClean {
			b.Fatal(status)
		}
	}
}

// BenchmarkCall calls the compiled command on one draft, and gofmt on Go source
// of the same length.
func BenchmarkCall(b *testing.B) {
	gofmt, err := exec.LookPath("gofmt")
	if err != nil {
		b.Skip(err)
	}
	dir := b.TempDir()
	roundel, draft, source := filepath.Join(dir, "roundel"), filepath.Join(dir, "draft.rnd"), filepath.Join(dir, "source.go")
	if out, err := exec.Command("go", "build", "-o", roundel, ".").CombinedOutput(); err != nil {
		b.Fatal(err, string(out))
	}
	text := seventeen(b)
	code := "package source\n"
	for i := 0; len(code) < len(text); i++ {
		code += fmt.Sprintf("\n// stitches%d counts those of a round.\nfunc stitches%[1]d(corners, side int) int {\n\tif side < 1 {\n\t\treturn 0\n\t}\n\treturn corners * (side + 1)\n}\n", i)
	}
	for name, text := range map[string]string{draft: text, source: code} {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			b.Fatal(err)
		}
	}
	for _, call := range [][]string{{gofmt, "-l", source}, {roundel, "check", draft}} {
		b.Run(filepath.Base(call[0]), func(b *testing.B) {
			for b.Loop() {
				if out, err := exec.Command(call[0], call[1:]...).CombinedOutput(); err != nil {
					b.Fatal(err, string(out))
				}
			}
		})
	}
}
