package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func Example() {
	colours(os.Stdout, "..", "tideline.rnd")
	// Output:
	// reed: 44 ch 64 dc 148 sc
	// sand: 40 ch 604 dc
	// slate: 8 ch 64 dc 12 hdc 24 tr
}

// TestChains: chains are counted one by one in a space, but not those of a
// picot, nor of a starting chain, which is a stitch.
func TestChains(t *testing.T) {
	const draft = "yarn sand\nring\nrnd 1: ch 3 as dc, picot 3, 11 dc in ring\nrnd 2: [dc in next st, ch 2] around\n"
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "tide.rnd"), []byte(draft), 0o666); err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := colours(&b, dir, "tide.rnd"); err != nil {
		t.Fatal(err)
	}
	if want := "sand: 24 ch 24 dc 1 picot\n"; b.String() != want {
		t.Errorf("%q, want %q", b.String(), want)
	}
}
