package check

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/printer"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestAPI holds what can be imported against testdata/api.txt at the top, so
// that nothing is added, changed or taken away without being seen. A line that
// goes breaks those who use it.
func TestAPI(t *testing.T) {
	var b strings.Builder
	err := filepath.WalkDir("..", func(dir string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || !d.IsDir():
			return err
		case d.Name() == "testdata" || d.Name() == "examples" || d.Name() == "cmd" || d.Name() == "internal" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..":
			return fs.SkipDir
		}
		lines := exported(t, dir)
		if len(lines) > 0 {
			fmt.Fprintf(&b, "package %s\n\n%s\n\n", filepath.ToSlash(strings.TrimPrefix(dir, ".."+string(filepath.Separator))), strings.Join(lines, "\n"))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	got := strings.TrimSuffix(b.String(), "\n")
	for _, library := range []string{"participle", "lexer."} {
		if strings.Contains(got, library) {
			t.Errorf("%s shows in the API", library)
		}
	}
	if golden(t, "../../testdata/api.txt", got); t.Failed() {
		t.Log("if the change is meant, run go test ./check -run API -update")
	}
}

// exported lists the exported declarations of the package in a directory,
// without their comments and bodies.
func exported(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		if !ast.FileExports(file) {
			continue
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Recv != nil && !ast.IsExported(receiver(d)) {
					continue
				}
				d.Body = nil
				list = append(list, printed(t, d))
			case *ast.GenDecl:
				if d.Tok == token.IMPORT {
					continue
				}
				if d.Tok == token.CONST { // values may follow from one another
					list = append(list, printed(t, d))
					continue
				}
				for _, s := range d.Specs {
					list = append(list, printed(t, &ast.GenDecl{Tok: d.Tok, Specs: []ast.Spec{s}}))
				}
			}
		}
	}
	slices.Sort(list)
	return list
}

// receiver names the type that a method belongs to.
func receiver(d *ast.FuncDecl) string {
	name := ""
	ast.Inspect(d.Recv.List[0].Type, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && name == "" {
			name = id.Name
		}
		return true
	})
	return name
}

// printed is a declaration without positions, so in one layout.
func printed(t *testing.T, d ast.Decl) string {
	t.Helper()
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.StructType:
			n.Incomplete = false
		case *ast.InterfaceType:
			n.Incomplete = false
		}
		return true
	})
	var b bytes.Buffer
	config := printer.Config{Mode: printer.UseSpaces, Tabwidth: 4}
	if err := config.Fprint(&b, token.NewFileSet(), d); err != nil {
		t.Fatal(err)
	}
	var lines []string
	for line := range strings.Lines(b.String()) {
		if strings.TrimSpace(line) != "" {
			lines = append(lines, strings.TrimRight(line, " \n"))
		}
	}
	return strings.Join(lines, "\n")
}
