package notation

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const grammarFile = "GRAMMAR.md"

func grammarDoc(t rapid.TB) string {
	t.Helper()
	text, err := os.ReadFile(grammarFile)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// fenced returns the contents of the code blocks of a language.
func fenced(text, language string) []string {
	var list []string
	for _, part := range strings.Split(text, "\n```"+language+"\n")[1:] {
		block, _, _ := strings.Cut(part, "\n```")
		list = append(list, block+"\n")
	}
	return list
}

// blocks returns the drafts in the grammar document.
func blocks(t rapid.TB) []string { return fenced(grammarDoc(t), "rnd") }

func TestGrammarDrafts(t *testing.T) {
	list := blocks(t)
	if len(list) < 20 {
		t.Errorf("%s holds %d drafts only", grammarFile, len(list))
	}
	for _, text := range list {
		d := parseClean(t, text)
		formatted := Format(d)
		again := parseClean(t, formatted)
		noDiff(t, "Format is stable", formatted, formatted, Format(again))
		noDiff(t, "the same draft", formatted, d, again, same())
	}
}

func TestGrammarIsPrinted(t *testing.T) {
	printed := parser().String() + "\n"
	golden(t, "testdata/grammar.ebnf", printed)
	list := fenced(grammarDoc(t), "ebnf")
	if len(list) != 1 {
		t.Fatalf("%s holds %d grammars", grammarFile, len(list))
	}
	if diff := cmp.Diff(printed, list[0]); diff != "" {
		t.Errorf("the grammar at the end of %s (-want +got):\n%s", grammarFile, diff)
	}
}
