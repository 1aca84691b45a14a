package notation

import (
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// Token kinds. Blanks make no token; every token knows where it begins and
// ends, so they are not missed.
const (
	tokWord lexer.TokenType = iota + 1
	tokNumber
	tokString
	tokPunct
	tokNewline // every line end; statements are cut in parse.go
	tokComment
	tokBad // anything else: one token for a run of it
)

// A token is a stretch of the text. Value is the text itself, but for words
// that belong together (sl st), which are one token with a single blank.
type token struct {
	kind       lexer.TokenType
	value      string
	start, end Pos
}

func (t token) span() Span { return Span{t.start, t.end} }

// is reports whether t is the given word or punctuation, in any case.
func (t token) is(s string) bool {
	return (t.kind == tokWord || t.kind == tokPunct) && foldEqual(t.value, s)
}

// foldEqual compares ASCII words without regard to case.
func foldEqual(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range len(a) {
		if lower(a[i]) != lower(b[i]) {
			return false
		}
	}
	return true
}

func lower(c byte) byte {
	if 'A' <= c && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}

// A scanner cuts a text into tokens. It never fails: what it does not know
// becomes a tokBad, which no grammar rule takes.
type scanner struct {
	text string
	pos  Pos
}

// scan returns all tokens of a text.
func scan(text string) []token {
	s := newScanner(text)
	tokens := make([]token, 0, len(text)/3+8) // a token is seldom shorter with the blank after it
	for {
		t, ok := s.next()
		if !ok {
			return joinWords(tokens)
		}
		tokens = append(tokens, t)
	}
}

// bom is the byte order mark that some editors put at the head of a file.
const bom = "\uFEFF"

func newScanner(text string) *scanner {
	s := &scanner{text: text, pos: Pos{Line: 1, Column: 1}}
	if strings.HasPrefix(text, bom) {
		s.pos.Offset = len(bom) // it takes no column
	}
	return s
}

func (s *scanner) peek() byte {
	if s.pos.Offset < len(s.text) {
		return s.text[s.pos.Offset]
	}
	return 0
}

// advance passes n bytes of ASCII.
func (s *scanner) advance(n int) {
	s.pos.Offset += n
	s.pos.Column += n
}

// blanks passes blanks. A byte order mark is one too when files were put
// together.
func (s *scanner) blanks() {
	for {
		switch c := s.peek(); {
		case c == ' ' || c == '\t' || c == '\r':
			s.advance(1)
		case c == bom[0] && strings.HasPrefix(s.text[s.pos.Offset:], bom):
			s.pos.Offset += len(bom)
			s.pos.Column++
		default:
			return
		}
	}
}

// next returns the next token; ok is false at the end of the text.
func (s *scanner) next() (t token, ok bool) {
	s.blanks()
	if s.pos.Offset >= len(s.text) {
		return token{start: s.pos, end: s.pos}, false
	}
	t.start = s.pos
	switch c := s.peek(); {
	case c == '\n':
		t.kind = tokNewline
		s.advance(1)
		t.end = s.pos
		s.pos.Line++
		s.pos.Column = 1
		t.value = "\n"
		return t, true
	case isLetter(c):
		t.kind = tokWord
		s.ascii(func(c byte) bool { return isLetter(c) || isDigit(c) || c == '_' })
	case isDigit(c):
		t.kind = tokNumber
		s.ascii(isDigit)
		if s.peek() == '.' && s.pos.Offset+1 < len(s.text) && isDigit(s.text[s.pos.Offset+1]) {
			s.advance(1)
			s.ascii(isDigit)
		}
	case c == '"':
		t.kind = tokString
		s.advance(1)
		s.runes(func(r rune) bool { return r != '"' && r != '\n' })
		if s.peek() == '"' {
			s.advance(1)
		} else {
			s.trim()
		}
		if !isQuoted(s.text[t.start.Offset:s.pos.Offset]) {
			t.kind = tokBad // explain.go says why
		}
	case c == '#':
		t.kind = tokComment
		s.runes(func(r rune) bool { return r != '\n' })
		s.trim()
	case isPunct(c):
		t.kind = tokPunct
		s.advance(1)
	default:
		t.kind = tokBad
		s.runes(func(r rune) bool {
			return r >= utf8.RuneSelf || !strings.ContainsRune(" \t\r\n\"#", r) &&
				!isLetter(byte(r)) && !isDigit(byte(r)) && !isPunct(byte(r))
		})
	}
	t.end = s.pos
	t.value = s.text[t.start.Offset:t.end.Offset]
	return t, true
}

func (s *scanner) ascii(in func(byte) bool) {
	i := s.pos.Offset
	for i < len(s.text) && in(s.text[i]) {
		i++
	}
	s.advance(i - s.pos.Offset)
}

func (s *scanner) runes(in func(rune) bool) {
	for s.pos.Offset < len(s.text) {
		r, size := utf8.DecodeRuneInString(s.text[s.pos.Offset:])
		if !in(r) {
			return
		}
		s.pos.Offset += size
		s.pos.Column++
	}
}

// trim takes back the blanks just passed: they are not part of a comment, or of
// a text that is not closed, at the end of a line.
func (s *scanner) trim() {
	for strings.IndexByte(" \t\r", s.text[s.pos.Offset-1]) >= 0 {
		s.advance(-1)
	}
}

// isQuoted reports whether text stands in quotes and can be shown: a chart or
// a web page has no use for control characters or for what is not UTF-8.
func isQuoted(text string) bool {
	control := func(r rune) bool { return r != '\t' && unicode.IsControl(r) }
	return len(text) > 1 && text[len(text)-1] == '"' && utf8.ValidString(text) && !strings.ContainsFunc(text, control)
}

func isLetter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }
func isDigit(c byte) bool  { return '0' <= c && c <= '9' }

func isPunct(c byte) bool {
	switch c {
	case ',', ':', '=', '/', '-', '(', ')', '[', ']':
		return true
	}
	return false
}

// joinWords makes one token of the stitch names that are two words: sl st and
// its family (FPsl st, sl st2tog), and rev sc (rev dc in UK terms).
func joinWords(in []token) []token {
	out := in[:0]
	for i := 0; i < len(in); i++ {
		t := in[i]
		if i+1 < len(in) && oneName(t, in[i+1]) {
			i++
			t.value += " " + in[i].value
			t.end = in[i].end
		}
		out = append(out, t)
	}
	return out
}

// oneName reports whether two words are one stitch name.
func oneName(a, b token) bool {
	if a.kind != tokWord || b.kind != tokWord {
		return false
	}
	switch {
	case a.is("sl"), a.is("fpsl"), a.is("bpsl"):
		return b.is("st") || len(b.value) > 2 && foldEqual(b.value[:2], "st") && isDigit(b.value[2])
	case a.is("rev"):
		return b.is("sc") || b.is("dc")
	}
	return false
}

// definition shows our tokens to participle. A statement is parsed from tokens
// that were scanned once for the whole draft; Lex serves the library's own
// need to know the symbols and to lex a text by itself.
type definition struct{}

var (
	_ lexer.Definition       = definition{}
	_ lexer.StringDefinition = definition{}
)

func (definition) Symbols() map[string]lexer.TokenType {
	return map[string]lexer.TokenType{
		"EOF":     lexer.EOF,
		"Word":    tokWord,
		"Number":  tokNumber,
		"String":  tokString,
		"Punct":   tokPunct,
		"Newline": tokNewline,
		"Comment": tokComment,
		"Bad":     tokBad,
	}
}

func (d definition) Lex(filename string, r io.Reader) (lexer.Lexer, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return d.LexString(filename, string(text))
}

func (definition) LexString(_ string, text string) (lexer.Lexer, error) {
	return &tokenLexer{tokens: scan(text)}, nil
}

// A tokenLexer hands out tokens for participle, passing over comments and line
// ends, and closes with an end of file where the last token ends.
type tokenLexer struct {
	tokens []token
	i      int
}

func (l *tokenLexer) Next() (lexer.Token, error) {
	for l.i < len(l.tokens) {
		t := &l.tokens[l.i]
		l.i++
		if t.kind != tokComment && t.kind != tokNewline {
			return lexer.Token{Type: t.kind, Value: t.value, Pos: position(t.start)}, nil
		}
	}
	var end Pos
	if n := len(l.tokens); n > 0 {
		end = l.tokens[n-1].end
	}
	return lexer.EOFToken(position(end)), nil
}

func position(p Pos) lexer.Position {
	return lexer.Position{Offset: p.Offset, Line: p.Line, Column: p.Column}
}
