package chart_test

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size/chart"
)

// reporter is what a test, a benchmark and a property have in common.
type reporter interface {
	Helper()
	Fatalf(string, ...any)
	Errorf(string, ...any)
}

// work works a draft, mistakes and all.
func work(t reporter, text string) (*notation.Draft, *model.Graph) {
	t.Helper()
	d, _ := notation.Parse("", text)
	g, _, err := model.Build(context.Background(), d)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return d, g
}

type draft struct {
	name string
	*notation.Draft
	*model.Graph
}

// corpus is every draft that comes with the project.
func corpus(t testing.TB) []draft {
	t.Helper()
	var list []draft
	for _, root := range []string{"../../testdata", "../../examples"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".rnd") {
				return err
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			tree, graph := work(t, string(text))
			list = append(list, draft{path, tree, graph})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(list) < 100 {
		t.Fatalf("only %d drafts", len(list))
	}
	return list
}

// stitches draws the chart of stitches.
func stitches(t reporter, d *notation.Draft, g *model.Graph, o chart.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := chart.Stitches(&b, d, g, o); err != nil {
		t.Fatalf("%v", err)
	}
	return b.Bytes()
}
