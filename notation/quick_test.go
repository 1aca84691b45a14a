package notation

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// cutTokens cuts a text into the tokens of its statements.
func cutTokens(text string) [][]token {
	p := &draftParser{text: text, tokens: scan(text)}
	var out [][]token
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

// agree sees that what is read quickly is what participle makes of it by the
// grammar, and reports how many statements that was.
func agree(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string) (read int) {
	t.Helper()
	depth := 0
	for _, tok := range scan(text) {
		if depth += max(depthOf(tok), 0); depth > 500 {
			return 0 // Parse does not let such a statement come so far
		}
	}
	for _, stmt := range cutTokens(text) {
		r := quickRound(stmt)
		if r == nil {
			continue
		}
		read++
		tree, err := parseTree(stmt)
		if err != nil {
			t.Fatalf("read quickly, but not by the grammar: %v\nin:\n%s", err, text)
		}
		if diff := cmp.Diff(tree, &statement{Round: r}, cmp.AllowUnexported(statement{}, step{}, group{}, place{}, claim{}, claimItem{}, start{})); diff != "" {
			t.Fatalf("by the grammar (-) and quickly (+):\n%s\nin:\n%s", diff, text)
		}
	}
	return read
}

// TestQuickDrafts compares the two on every draft there is, in which nearly all
// rounds should be read quickly.
func TestQuickDrafts(t *testing.T) {
	rounds, read := 0, 0
	for _, dir := range []string{"testdata", "../testdata", "../examples"} {
		err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".rnd" {
				return err
			}
			text, err := os.ReadFile(path)
			draft, _ := Parse(path, string(text))
			for range draft.Rounds() {
				rounds++
			}
			read += agree(t, string(text))
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if rounds < 500 || read < rounds*9/10 {
		t.Errorf("of %d rounds %d were read quickly", rounds, read)
	}
}

// roundWords are all that a round is made of, and some things that it is not.
var roundWords = []string{"rnd", "1", "2", "12", "-", "with", "sand", ":", ",", "=", "/", "(", ")", "[", "]",
	"in", "over", "back", "front", "both", "loop", "loops", "of", "next", "same", "each", "and", "as", "until", "side",
	"st", "sp", "ch", "gap", "ring", "corner", "dc", "sc2tog", "sl st", "DC", "sk", "picot", "turn", "join", "invisible",
	"fasten", "off", "times", "around", "per", "standing", "chain", "counts", "chainless", "\"text\"", "?"}

// TestQuick compares the two on words thrown together, and on rounds with one
// word changed.
func TestQuick(t *testing.T) {
	read := 0
	rapid.Check(t, func(t *rapid.T) {
		text := "rnd 1: "
		switch rapid.SampledFrom([]string{"as it is", "edited", "words"}).Draw(t, "what") {
		case "as it is":
			text = rapid.SampledFrom(quickRounds).Draw(t, "round")
		case "edited":
			text = rapid.SampledFrom(quickRounds).Draw(t, "round")
			var words []string
			for _, tok := range scan(text) {
				words = append(words, tok.value)
			}
			at := rapid.IntRange(0, len(words)-1).Draw(t, "at")
			words[at] = rapid.SampledFrom(roundWords).Draw(t, "word")
			if rapid.Bool().Draw(t, "dropped") {
				words[at] = ""
			}
			text = ""
			for _, w := range words {
				text += w + " "
			}
		case "words":
			for _, w := range rapid.SliceOfN(rapid.SampledFrom(roundWords), 1, 12).Draw(t, "words") {
				text += w + " "
			}
		}
		read += agree(t, text)
	})
	if read == 0 {
		t.Error("nothing was read quickly: nothing is asked")
	}
}

// quickRounds have every production that is read quickly.
var quickRounds = []string{
	"rnd 1-3 with sand, standing: [dc in next st, (2 dc, corner ch 2, dc) in next 3 sp] 4 times = 12/23/34 dc per side, 4 corners",
	"rnd 2, chain counts: ch 3 as dc in same, [sk 2 st, dc2tog over same and next st, picot 3] around, turn",
	"rnd 3: dc in back loop of each st and ch, sc in each of next 4 dc of rnd 1, with reed, dc in corner, join invisible, fasten off = 5 sp",
	"rnd 4: [(sc, [ch 1, sc] 2 times) in next sp, dc3tog over next 3 st, 6 dc in ring, sc in same st] around",
}
