package notation

import (
	"testing"

	"github.com/alecthomas/participle/v2/lexer"
)

// What the tests outside the package share with those inside; package
// notationtest imports this one, so that its generators can only be used
// outside.
var (
	Same            = same
	WithoutComments = withoutComments
	ParseClean      = parseClean
	NoDiff          = noDiff
	CheckDraft      = checkDraft
	CommentsOf      = commentsOf
	Sprinkle        = sprinkle
)

// Scan cuts a text into tokens.
func Scan(text string) int { return len(scan(text)) }

// Statements are the tokens of a draft, for the parser library alone.
type Statements [][]token

// StatementsOf cuts a text as Parse does.
func StatementsOf(text string) Statements {
	p := &draftParser{text: text, tokens: scan(text)}
	var out Statements
	for _, c := range p.cut() {
		var stmt []token
		for _, t := range p.tokens[c.from:c.to] {
			if t.kind != tokComment && t.kind != tokNewline {
				stmt = append(stmt, t)
			}
		}
		out = append(out, stmt)
	}
	return out
}

// ParseAlone has participle make trees of the tokens.
func (s Statements) ParseAlone(b *testing.B) {
	for _, stmt := range s {
		peeking, err := lexer.Upgrade(&tokenLexer{tokens: stmt})
		if err == nil {
			_, err = parser().ParseFromLexer(peeking)
		}
		if err != nil {
			b.Fatal(err)
		}
	}
}
