package chart_test

import (
	"bytes"
	"context"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
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

// A drawer draws one kind of picture.
type drawer func(io.Writer, *notation.Draft, *model.Graph, chart.Options) error

var pictures = map[string]drawer{"stitches": chart.Stitches, "plan": chart.Plan, "growth": chart.Growth}

// draw draws a picture of a piece that is not too large.
func draw(t reporter, picture drawer, d *notation.Draft, g *model.Graph, o chart.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := picture(&b, d, g, o); err != nil {
		t.Fatalf("%v", err)
	}
	return b.Bytes()
}

// checkPicture draws a picture and sees that it is the same every time, that
// nothing lies outside it and no two texts lie on each other, and that those who
// do not see it are told what it is.
func checkPicture(t reporter, draws drawer, d *notation.Draft, g *model.Graph, o chart.Options) *picture {
	t.Helper()
	text := draw(t, draws, d, g, o)
	if !bytes.Equal(text, draw(t, draws, d, g, o)) {
		t.Errorf("two pictures of one draft differ")
	}
	p := readPicture(t, text)
	view := p.view()
	for _, name := range []string{"use", "path", "circle", "rect"} {
		for _, e := range p.root.all(name) {
			var at extent
			ok := true
			if name == "use" {
				at = p.placed(t, e)
			} else {
				at, ok = e.drawn()
			}
			if ok && !view.holds(at) {
				t.Errorf("%s %v lies outside the picture: %+v, %+v", name, e.attrs, at, view)
			}
		}
	}
	texts := p.root.all("text")
	boxes := make([]extent, len(texts))
	for i, e := range texts {
		boxes[i] = e.label()
		if !view.holds(boxes[i]) {
			t.Errorf("the text %q lies outside the picture: %+v, %+v", e.text, boxes[i], view)
		}
		for k := range i {
			if boxes[i].overlaps(boxes[k]) {
				t.Errorf("the texts %q and %q lie on each other", texts[k].text, e.text)
			}
		}
	}
	if p.root.attrs["role"] != "img" {
		t.Errorf("no role")
	}
	for _, id := range []string{"title", "desc"} {
		if e := p.byID[id]; e == nil || e.name != id || e.text == "" || !slices.Contains(strings.Fields(p.root.attrs["aria-labelledby"]), id) {
			t.Errorf("no %s", id)
		}
	}
	return p
}
