// Command colours shows how to use roundel from another program: it lists how
// many stitches of each kind a draft asks for in each yarn.
//
//	go run ./examples/colours examples/tideline.rnd
package main

import (
	"context"
	"fmt"
	"io"
	"log"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"example.com/roundel/check"
	"example.com/roundel/notation"
)

func main() {
	log.SetFlags(0)
	if len(os.Args) != 2 {
		log.Fatal("usage: colours FILE")
	}
	dir, name := filepath.Split(os.Args[1])
	if dir == "" {
		dir = "."
	}
	if err := colours(os.Stdout, dir, name); err != nil {
		log.Fatal(err)
	}
}

func colours(w io.Writer, dir, name string) error {
	report, err := check.File(context.Background(), os.DirFS(dir), name, check.Options{})
	if err != nil {
		return err
	}
	if report.Worst() == notation.Error {
		check.WriteText(os.Stderr, report, false)
		return fmt.Errorf("%s does not come out as written", name)
	}
	g := report.Graph
	stitches := map[string]map[string]int{} // by yarn, then by stitch
	for i := range g.Rounds() {
		for s := range g.Stitches(i) {
			if stitches[s.Yarn] == nil {
				stitches[s.Yarn] = map[string]int{}
			}
			n := 1
			if s.Kind == "ch" { // a run of them; a picot, or a starting chain for a stitch, is one
				n = s.Chains
			}
			stitches[s.Yarn][s.Kind] += n
		}
	}
	for _, yarn := range slices.Sorted(maps.Keys(stitches)) {
		fmt.Fprintf(w, "%s:", yarn)
		for _, kind := range slices.Sorted(maps.Keys(stitches[yarn])) {
			fmt.Fprintf(w, " %d %s", stitches[yarn][kind], report.Draft.Terms.Name(kind))
		}
		fmt.Fprintln(w)
	}
	return nil
}
