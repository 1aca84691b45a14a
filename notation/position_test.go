package notation

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"
)

// outline lists the nodes of a draft with their places and their words.
func outline(text string, d *Draft) string {
	out := new(strings.Builder)
	line := func(depth int, what string, s Span) {
		fmt.Fprintf(out, "%s%s %s %q\n", strings.Repeat("  ", depth), s, what, text[s.Start.Offset:s.End.Offset])
	}
	spanType := reflect.TypeFor[Span]()
	var visit func(n Node, depth int)
	visit = func(n Node, depth int) {
		line(depth, strings.TrimPrefix(fmt.Sprintf("%T", n), "*notation."), n.Range())
		v := reflect.ValueOf(n).Elem()
		for i := range v.NumField() {
			field := v.Type().Field(i)
			value := v.Field(i)
			if field.Type.Kind() == reflect.Pointer && !value.IsNil() && value.Elem().Type() == reflect.TypeFor[Name]() {
				value = value.Elem()
			}
			if value.Type() != spanType && (value.Kind() != reflect.Struct || !value.FieldByName("Span").IsValid()) || field.Anonymous {
				continue
			}
			if value.Type() != spanType {
				value = value.FieldByName("Span")
			}
			if s := value.Interface().(Span); s != (Span{}) {
				line(depth+1, "."+field.Name, s)
			}
		}
		if c, ok := n.(commented); ok {
			for _, comment := range append(c.Attached().Before, c.Attached().After...) {
				line(depth+1, "comment", comment.Span)
			}
		}
		Walk(n, func(in Node) bool {
			if in != n {
				visit(in, depth+1)
			}
			return in == n
		})
	}
	for _, s := range d.Statements {
		visit(s, 0)
	}
	return out.String()
}

// TestSpans keeps the place of every node: columns count characters, a tab is
// one, offsets count bytes.
func TestSpans(t *testing.T) {
	file, err := os.ReadFile("testdata/spans.rnd")
	if err != nil {
		t.Fatal(err)
	}
	text := string(file)
	d := parseClean(t, text)
	checkDraft(t, text, d, nil)
	golden(t, "testdata/spans.txt", outline(text, d))

	// Line ends of two characters and a byte order mark move offsets, and
	// nothing else.
	windows := "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n")
	again := parseClean(t, windows)
	checkDraft(t, windows, again, nil)
	noDiff(t, "the same places", windows, outline(text, d), strings.ReplaceAll(outline(windows, again), `\r\n`, `\n`))
	noDiff(t, "the same draft", windows, d, again, same())
	noDiff(t, "the same layout", windows, Format(d), Format(again))
}

func TestKinds(t *testing.T) {
	// Every kind of node stands in the draft that the places are read off.
	file, err := os.ReadFile("testdata/spans.rnd")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	Walk(parseClean(t, string(file)), func(n Node) bool {
		seen[fmt.Sprintf("%T", n)] = true
		return true
	})
	for _, n := range []Node{
		&Draft{}, &Motif{}, &TermsLine{}, &Shape{}, &Lies{}, &For{}, &Working{}, &Yarn{}, &Hook{}, &Gauge{}, &Weighed{}, &Begin{}, &StitchDef{}, &Ring{}, &Allow{}, &Round{}, &Panel{}, &Edge{},
		&Claim{}, &ClaimItem{}, &Work{}, &Group{}, &Chain{}, &Skip{}, &Repeat{}, &Picot{}, &Turn{}, &Join{}, &FastenOff{}, &ChangeYarn{}, &Place{},
	} {
		if !seen[fmt.Sprintf("%T", n)] {
			t.Errorf("Walk does not meet a %T", n)
		}
	}
}

func TestPos(t *testing.T) {
	for _, tt := range []struct {
		pos  Pos
		want string
	}{
		{Pos{}, "-"},
		{Pos{0, 1, 1}, "1:1"},
		{Pos{99, 12, 7}, "12:7"},
	} {
		if got := tt.pos.String(); got != tt.want {
			t.Errorf("%+v is %q, want %q", tt.pos, got, tt.want)
		}
	}
}
