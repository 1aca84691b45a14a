package notation

import "github.com/alecthomas/participle/v2/lexer"

// Most of a draft is rounds without a mistake. They are read here, straight
// from the tokens, into the tree that participle would make of them by the
// grammar, in a tenth of the time. Whatever does not fit is left to participle,
// which knows all of the grammar and where a mistake is. So a production that is
// rare need not be here; but what is here has to come out as the grammar says,
// which TestQuick and FuzzParse compare.

// quickRound reads a statement as a round; nil when it is none, or not one that
// is read here.
func quickRound(tokens []token) *round {
	q := &quick{tokens: tokens}
	r := q.round()
	if q.failed || q.i < len(tokens) {
		return nil
	}
	return r
}

// A quick goes along the tokens of a statement. When something does not fit it
// has failed, and no longer moves.
type quick struct {
	tokens []token
	i      int
	failed bool
}

// at is where the next token begins, or where the last one ended.
func (q *quick) at() lexer.Position {
	if q.i < len(q.tokens) {
		return position(q.tokens[q.i].start)
	}
	return position(q.tokens[len(q.tokens)-1].end)
}

// sees reports whether a word or a mark comes next.
func (q *quick) sees(s string) bool {
	return !q.failed && q.i < len(q.tokens) && q.tokens[q.i].is(s)
}

// takes passes a word or a mark if it comes next.
func (q *quick) takes(s string) bool {
	if !q.sees(s) {
		return false
	}
	q.i++
	return true
}

// needs passes a word or a mark, which must come next.
func (q *quick) needs(s string) {
	if !q.takes(s) {
		q.failed = true
	}
}

// oneOf passes one of several words and returns it as it is written; "" if none
// of them comes next.
func (q *quick) oneOf(words ...string) string {
	for _, w := range words {
		if q.takes(w) {
			return q.tokens[q.i-1].value
		}
	}
	return ""
}

// text passes a token of a kind and returns it; "" if there is none.
func (q *quick) text(kind lexer.TokenType) string {
	if q.failed || q.i == len(q.tokens) || q.tokens[q.i].kind != kind {
		return ""
	}
	q.i++
	return q.tokens[q.i-1].value
}

func (q *quick) word() *word {
	w := &word{Pos: q.at(), Text: q.text(tokWord)}
	q.failed = q.failed || w.Text == ""
	return w
}

func (q *quick) number() *number {
	n := q.anyNumber()
	q.failed = q.failed || n == nil
	return n
}

// anyNumber passes a number if one comes next.
func (q *quick) anyNumber() *number {
	at := q.at()
	if text := q.text(tokNumber); text != "" {
		return &number{Pos: at, Text: text}
	}
	return nil
}

func (q *quick) round() *round {
	r := &round{}
	q.needs("rnd")
	r.From = q.number()
	if q.takes("-") {
		r.To = q.number()
	}
	if q.takes("with") {
		r.Yarn = q.word()
	}
	if q.takes(",") {
		r.Start = q.start()
	}
	q.needs(":")
	if q.sees("as") { // a round as another, or a stitch of that name
		q.failed = true
	}
	r.Steps = q.steps()
	if q.sees("=") {
		r.Claim = q.claim()
	}
	return r
}

func (q *quick) start() *start {
	s := &start{}
	s.Pos = q.at()
	if s.Kind = q.oneOf("standing", "chainless"); s.Kind == "" {
		q.needs("chain")
		s.Chain = q.oneOf("counts", "uncounted")
		q.failed = q.failed || s.Chain == ""
	}
	s.EndPos = q.at()
	return s
}

func (q *quick) claim() *claim {
	c := &claim{}
	c.Pos = q.at()
	q.needs("=")
	for {
		item := &claimItem{}
		item.Pos = q.at()
		item.Counts = append(item.Counts, q.number())
		for q.takes("/") {
			item.Counts = append(item.Counts, q.number())
		}
		item.What = q.word()
		if item.PerSide = q.takes("per"); item.PerSide {
			q.needs("side")
		}
		item.EndPos = q.at()
		c.Items = append(c.Items, item)
		if !q.takes(",") {
			c.EndPos = q.at()
			return c
		}
	}
}

func (q *quick) steps() []*step {
	steps := []*step{q.step()}
	for q.takes(",") {
		steps = append(steps, q.step())
	}
	return steps
}

func (q *quick) step() *step {
	s := &step{}
	s.Pos = q.at()
	switch {
	case q.takes("["):
		s.Repeat = q.repeat()
	case q.sees("("):
		s.Group = q.group()
	case q.takes("sk"):
		s.Skip = &skip{Count: q.anyNumber(), What: q.word()}
	case q.takes("picot"):
		s.Picot = q.number()
	case q.takes("turn"):
		s.Turn = true
	case q.takes("join"):
		s.Join, s.Invisible = true, q.takes("invisible")
	case q.takes("fasten"):
		q.needs("off")
		s.Fasten = true
	case q.takes("with"):
		s.Yarn = q.word()
	default:
		s.Worked = q.worked()
	}
	s.EndPos = q.at()
	return s
}

func (q *quick) repeat() *repeat {
	r := &repeat{Steps: q.steps()}
	q.needs("]")
	if r.Around = q.takes("around"); !r.Around {
		r.Times = q.number()
		q.needs("times")
	}
	return r
}

func (q *quick) group() *group {
	g := &group{}
	g.Pos = q.at()
	q.needs("(")
	g.Members = q.steps()
	q.needs(")")
	g.Place = q.place()
	g.EndPos = q.at()
	return g
}

func (q *quick) worked() *worked {
	w := &worked{Corner: q.takes("corner")}
	if q.takes("ch") {
		w.Chain = &chain{Count: q.number()}
		if q.takes("as") {
			w.Chain.As = q.word()
		}
		w.Chain.Place = q.place()
		return w
	}
	w.Stitch = &stitch{Count: q.anyNumber(), Name: q.word(), Place: q.place()}
	return w
}

// place reads a place if there is one.
func (q *quick) place() *place {
	at := q.at()
	how := q.oneOf("in", "over")
	if how == "" {
		return nil
	}
	p := &place{How: how}
	p.Pos = at
	if p.Loop = q.oneOf("back", "front", "both"); p.Loop != "" {
		q.failed = q.failed || q.oneOf("loop", "loops") == ""
		q.needs("of")
	}
	switch {
	case q.takes("next"):
		p.Next, p.Count, p.What = true, q.anyNumber(), q.word()
	case q.takes("same"):
		p.Same = true
		if q.takes("and") {
			q.needs("next")
			p.And = &andNext{Count: q.anyNumber(), What: q.word()}
		} else if q.i < len(q.tokens) && q.tokens[q.i].kind == tokWord {
			p.Again = q.word()
		}
	case q.takes("each"):
		p.Each = true
		if q.takes("of") {
			q.needs("next")
			p.OfNext = q.number()
		}
		p.Every = q.word()
		if q.takes("and") {
			p.AndCh = q.word()
		}
	default:
		p.Bare = &bare{Count: q.anyNumber(), What: q.word()}
	}
	if q.takes("of") {
		q.needs("rnd")
		p.Round = q.number()
	}
	p.EndPos = q.at()
	return p
}
