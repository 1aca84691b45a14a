package notation

import (
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar, one struct a production. It is LL(1), and it takes a little
// more than is legal, so that convert.go can say in our own words what is
// missing. participle prints it as EBNF, which is kept in
// testdata/grammar.ebnf.

// at is where a production begins, and where the token after it begins. Only
// productions whose place is asked for carry it: it makes trees a good deal
// larger.
type at struct {
	Pos    lexer.Position
	EndPos lexer.Position
}

type statement struct {
	Round   *round     `parser:"@@"`
	Motif   *motif     `parser:"| @@"`
	Choice  *choice    `parser:"| @@"`
	Yarn    *yarn      `parser:"| @@"`
	Hook    *hook      `parser:"| @@"`
	Gauge   *gauge     `parser:"| @@"`
	Weighed *weighed   `parser:"| @@"`
	Begin   *begin     `parser:"| @@"`
	Stitch  *stitchDef `parser:"| @@"`
	Ring    *ring      `parser:"| @@"`
	Allow   *allow     `parser:"| @@"`
	Panel   *panel     `parser:"| @@"`
	Edge    *edge      `parser:"| @@"`
}

type motif struct {
	Title string `parser:"'motif' @String"`
}

type choice struct {
	Key   string `parser:"@('terms' | 'shape' | 'lies' | 'for' | 'worked')"`
	Value *word  `parser:"@@"`
}

// Words and numbers are one token each.
type word struct {
	Pos  lexer.Position
	Text string `parser:"@Word"`
}

type number struct {
	Pos  lexer.Position
	Text string `parser:"@Number"`
}

type quantity struct {
	at
	Amount *number `parser:"@@"`
	Unit   *word   `parser:"@@"`
}

type yarn struct {
	Name  *word        `parser:"'yarn' @@"`
	Label *string      `parser:"@String?"`
	More  []*yarnExtra `parser:"(',' @@)*"`
}

type yarnExtra struct {
	at
	Colour  *string   `parser:"('colour' | 'color') @String"`
	Stretch *stretch  `parser:"| 'stretch' @@"`
	Length  *quantity `parser:"| @@"`
	Weight  *quantity `parser:"'per' @@"`
}

type stretch struct {
	Length *quantity `parser:"@@"`
	Label  *string   `parser:"@String?"`
	Colour *string   `parser:"(('colour' | 'color') @String)?"`
}

type hook struct {
	Size *quantity `parser:"'hook' @@"`
}

type gauge struct {
	Rounds   *gaugeRounds   `parser:"'gauge' ( ('rnds' | 'rnd') @@"`
	Stitches *gaugeStitches `parser:"| @@ )"`
}

type gaugeRounds struct {
	From   *number   `parser:"@@"`
	To     *number   `parser:"('-' @@)?"`
	Across *quantity `parser:"'=' @@ 'across'"`
}

type gaugeStitches struct {
	Count  *number   `parser:"@@"`
	Stitch *word     `parser:"@@"`
	Rounds *number   `parser:"('by' @@ ('rnds' | 'rnd' | 'rows' | 'row'))?"`
	Over   *quantity `parser:"'over' @@"`
}

type weighed struct {
	From   *number   `parser:"'weighed' ('rnds' | 'rnd') @@"`
	To     *number   `parser:"('-' @@)?"`
	Weight *quantity `parser:"'=' @@"`
}

type begin struct {
	Start *start `parser:"'begin' @@"`
}

type start struct {
	at
	Kind  string `parser:"@('standing' | 'chainless')"`
	Chain string `parser:"| 'chain' @('counts' | 'uncounted')"`
}

type stitchDef struct {
	Name  *word  `parser:"'stitch' @@"`
	Group *group `parser:"'=' @@"`
}

type ring struct {
	Chains *number `parser:"'ring' ('ch' @@)?"`
}

type allow struct {
	Rule   []*word `parser:"'allow' @@ ('-' @@)*"`
	Reason *string `parser:"@String?"`
}

type panel struct {
	at
	Kind    string  `parser:"'panel' @('tube' | 'cushion' | 'bag' | 'wrap')?"`
	Point   bool    `parser:"@('on' 'point')?"`
	Rows    *number `parser:"( @@"`
	Columns *number `parser:"'by' @@ )?"`
	Join    *word   `parser:"('joined' @@)?"`
	Neck    *number `parser:"(',' 'neck' @@ ('st' | 'sts'))?"`
}

type edge struct {
	Of *word `parser:"'edge' 'of' @@"`
}

type round struct {
	From  *number `parser:"'rnd' ( @@"`
	To    *number `parser:"  ('-' @@)?"`
	Next  *next   `parser:"| @@ )"`
	Until *until  `parser:"@@?"`
	Yarn  *word   `parser:"('with' @@)?"`
	Start *start  `parser:"(',' @@)?"`
	As    *number `parser:"':' ( 'as' 'rnd' @@"`
	Steps []*step `parser:"| @@ (',' @@)* )"`
	Claim *claim  `parser:"@@?"`
}

// A next is rounds that follow whatever the rounds before came to.
type next struct {
	at
	Count *number `parser:"'next' @@?"`
}

type until struct {
	at
	What   string    `parser:"'until' ( @('side' | 'across')"`
	Length *quantity `parser:"  @@"`
	Rounds *number   `parser:"| @@ ('rnds' | 'rnd') )"`
}

type claim struct {
	at
	Items []*claimItem `parser:"'=' @@ (',' @@)*"`
}

type claimItem struct {
	at
	Counts  []*number `parser:"@@ ('/' @@)*"`
	What    *word     `parser:"@@"`
	PerSide bool      `parser:"@('per' 'side')?"`
}

type step struct {
	at
	Repeat    *repeat `parser:"'[' @@"`
	Group     *group  `parser:"| @@"`
	Skip      *skip   `parser:"| 'sk' @@"`
	Picot     *number `parser:"| 'picot' @@"`
	Turn      bool    `parser:"| @'turn'"`
	Join      bool    `parser:"| @'join'"`
	Invisible bool    `parser:"  @'invisible'?"`
	Fasten    bool    `parser:"| @('fasten' 'off')"`
	Yarn      *word   `parser:"| 'with' @@"`
	Worked    *worked `parser:"| @@"`
}

type repeat struct {
	Steps  []*step `parser:"@@ (',' @@)* ']'"`
	Times  *number `parser:"( @@ 'times'"`
	Around bool    `parser:"| @'around' )"`
}

type group struct {
	at
	Members []*step `parser:"'(' @@ (',' @@)* ')'"`
	Place   *place  `parser:"@@?"`
}

type skip struct {
	Count *number `parser:"@@?"`
	What  *word   `parser:"@@"`
}

type worked struct {
	Corner bool    `parser:"@'corner'?"`
	Chain  *chain  `parser:"( 'ch' @@"`
	Stitch *stitch `parser:"| @@ )"`
}

type chain struct {
	Count *number `parser:"@@"`
	As    *word   `parser:"('as' @@)?"`
	Place *place  `parser:"@@?"`
}

type stitch struct {
	Count *number `parser:"@@?"`
	Name  *word   `parser:"@@"`
	Place *place  `parser:"@@?"`
}

type place struct {
	at
	How    string   `parser:"@('in' | 'over')"`
	Loop   string   `parser:"( @('back' | 'front' | 'both') ('loop' | 'loops') 'of' )?"`
	Next   bool     `parser:"( @'next'"`
	Count  *number  `parser:"@@?"`
	What   *word    `parser:"@@"`
	Same   bool     `parser:"| @'same'"`
	And    *andNext `parser:"( @@"`
	Again  *word    `parser:"| @@ )?"`
	Each   bool     `parser:"| @'each'"`
	OfNext *number  `parser:"( 'of' 'next' @@ )?"`
	Every  *word    `parser:"@@"`
	AndCh  *word    `parser:"( 'and' @@ )?"`
	Bare   *bare    `parser:"| @@ )"`
	Round  *number  `parser:"( 'of' 'rnd' @@ )?"`
}

type andNext struct {
	Count *number `parser:"'and' 'next' @@?"`
	What  *word   `parser:"@@"`
}

type bare struct {
	Count *number `parser:"@@?"`
	What  *word   `parser:"@@"`
}

// The parser is built once, on first use.
var parser = sync.OnceValue(func() *participle.Parser[statement] {
	return participle.MustBuild[statement](
		participle.Lexer(definition{}),
		participle.CaseInsensitive("Word"),
	)
})

var claimParser = sync.OnceValue(func() *participle.Parser[claim] {
	p, err := participle.ParserForProduction[claim](parser())
	if err != nil {
		panic(err)
	}
	return p
})
