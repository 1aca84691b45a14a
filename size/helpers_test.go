package size_test

import (
	"context"
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// reporter is what a test, a benchmark and a property have in common.
type reporter interface {
	Helper()
	Fatalf(string, ...any)
}

// read parses a draft that must be well-formed.
func read(t reporter, text string) *notation.Draft {
	t.Helper()
	draft, findings := notation.Parse("", text)
	for _, f := range findings {
		t.Fatalf("%s %s: %s\nin:\n%s", f.Span, f.Rule, f.Text(), text)
	}
	return draft
}

// work works a draft that must come out without findings.
func work(t reporter, text string) *model.Graph {
	t.Helper()
	g, findings, err := model.Build(context.Background(), read(t, text))
	if err != nil {
		t.Fatalf("%v\nin:\n%s", err, text)
	}
	for _, f := range findings {
		t.Fatalf("%s %s: %s\nin:\n%s", f.Span, f.Rule, f.Text(), text)
	}
	return g
}

// table reads the rows of a file of testdata, by the names of their columns.
func table(t *testing.T, name string) (rows []map[string]string) {
	t.Helper()
	file, err := os.Open("../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	list, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, fields := range list[1:] {
		row := map[string]string{}
		for i, column := range list[0] {
			row[column] = fields[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// number reads a number of a table, which is more than 0.
func number(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(row[column], 64)
	if err != nil || x <= 0 {
		t.Fatalf("%s: %s: %q", row["id"], column, row[column])
	}
	return x
}

var _ reporter = (*testing.T)(nil)
