package notation

import "testing"

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
func StatementsOf(text string) Statements { return cutTokens(text) }

// ParseAlone has participle make trees of the tokens.
func (s Statements) ParseAlone(b *testing.B) {
	for _, stmt := range s {
		if _, err := parseTree(stmt); err != nil {
			b.Fatal(err)
		}
	}
}
