package notation

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2/lexer"
)

// benchTexts are a draft of the usual size and a long one: the same border
// rounds over and over, as for a tablecloth.
func benchTexts(b *testing.B) map[string]string {
	b.Helper()
	text, err := os.ReadFile("testdata/seventeen.rnd")
	if err != nil {
		b.Fatal(err)
	}
	large := new(strings.Builder)
	large.WriteString("motif \"Tideline cloth\"\nring\n")
	for n := 1; large.Len() < 120_000; n++ {
		fmt.Fprintf(large, "rnd %d: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = %d dc per side # %d\n", n, 4*n, n)
	}
	return map[string]string{"seventeen": string(text), "large": large.String()}
}

func bench(b *testing.B, f func(text string)) {
	for _, name := range []string{"seventeen", "large"} {
		text := benchTexts(b)[name]
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				f(text)
			}
		})
	}
}

func BenchmarkScan(b *testing.B) {
	bench(b, func(text string) { scan(text) })
}

// BenchmarkGrammar is the parser library alone, on tokens that are there.
func BenchmarkGrammar(b *testing.B) {
	for _, name := range []string{"seventeen", "large"} {
		text := benchTexts(b)[name]
		p := &draftParser{text: text, tokens: scan(text)}
		var statements [][]token
		for _, c := range p.cut() {
			var stmt []token
			for _, t := range p.tokens[c.from:c.to] {
				if t.kind != tokComment && t.kind != tokNewline {
					stmt = append(stmt, t)
				}
			}
			statements = append(statements, stmt)
		}
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				for _, stmt := range statements {
					peeking, err := lexer.Upgrade(&tokenLexer{tokens: stmt})
					if err != nil {
						b.Fatal(err)
					}
					if _, err := parser().ParseFromLexer(peeking); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}

func BenchmarkParse(b *testing.B) {
	bench(b, func(text string) { Parse("", text) })
}

func BenchmarkFormat(b *testing.B) {
	for _, name := range []string{"seventeen", "large"} {
		text := benchTexts(b)[name]
		d, _ := Parse("", text)
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				Format(d)
			}
		})
	}
}
