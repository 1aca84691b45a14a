package notation

import (
	"slices"
	"strings"
)

// shapes say how each statement reads, for messages.
var shapes = map[string]string{
	"motif":  `motif "Title"`,
	"terms":  `terms us, or terms uk`,
	"shape":  `shape square (or circle, triangle, pentagon, hexagon, octagon, free)`,
	"lies":   `lies flat (or cupped, ruffled)`,
	"worked": `worked joined (or spiral, turned)`,
	"yarn":   `yarn sand "oat", colour "#d8c6a0", 200 m per 100 g`,
	"hook":   `hook 5 mm`,
	"gauge":  `gauge 14 dc by 8 rnds over 10 cm, or gauge rnds 1-3 = 10 cm across`,
	"begin":  `begin standing (or chainless, chain counts, chain uncounted)`,
	"stitch": `stitch vst = (dc, ch 1, dc)`,
	"ring":   `ring, or ring ch 4`,
	"allow":  `allow claim-count "the reason"`,
	"rnd":    `rnd 2 with sand: [dc in next st, ch 1] around = 12 dc, 12 sp`,
}

// keywords are the words a statement can begin with, in the order of a draft.
var keywords = []string{"motif", "terms", "shape", "lies", "yarn", "hook", "gauge", "begin", "worked", "stitch", "ring", "rnd", "allow"}

// explain reports why the statement cannot be read: its token at index at is
// the first that does not fit.
func (p *draftParser) explain(at int) {
	key := strings.ToLower(p.stmt[0].value)
	if !slices.Contains(keywords, key) || p.stmt[0].kind != tokWord {
		p.explainStart()
		return
	}
	// What cannot be a token at all is the cause wherever it stands first.
	if bad := slices.IndexFunc(p.stmt, func(t token) bool { return t.kind == tokBad }); bad >= 0 && bad <= at {
		p.explainBad(p.stmt[bad])
		return
	}
	if open, shut := brackets(p.stmt); open >= 0 || shut >= 0 {
		// A bracket without its partner explains the error only where the
		// error is at the bracket or past it.
		if open >= 0 && at >= len(p.stmt) {
			t := p.stmt[open]
			p.report("syntax", t.span(), "this %s is never closed; put %s where the %s ends", t.value, partner(t.value), bracketed(t.value))
			return
		}
		if shut >= 0 && at == shut {
			t := p.stmt[shut]
			p.report("syntax", t.span(), "this %s closes nothing; there is no %s before it", t.value, partner(t.value))
			return
		}
	}
	if key == "rnd" {
		p.explainRound(at)
		return
	}
	if at == len(p.stmt) {
		p.report("syntax", p.after(at), "the %s line ends too early; it reads: %s", key, shapes[key])
		return
	}
	p.report("syntax", p.stmt[at].span(), "%s does not belong here; a %s line reads: %s", quoted(p.stmt[at]), key, shapes[key])
}

// after is the place where the statement's next token would have stood.
func (p *draftParser) after(at int) Span {
	if at < len(p.stmt) {
		return p.stmt[at].span()
	}
	last := p.stmt[len(p.stmt)-1]
	return Span{last.end, last.end}
}

// explainStart reports a line that begins with no keyword.
func (p *draftParser) explainStart() {
	t := p.stmt[0]
	if t.kind == tokBad {
		p.explainBad(t)
		return
	}
	if t.kind == tokWord {
		word := strings.ToLower(t.value)
		if word == "round" || word == "row" || word == "r" || word == "rd" {
			p.report("syntax", t.span(), "a round begins with rnd, not %s", quoted(t))
			return
		}
		if near := Closest(t.value, keywords); near != "" {
			p.report("syntax", t.span(), "no line begins with %s; did you mean %s?", quoted(t), near)
			return
		}
	}
	p.report("syntax", t.span(), "no line begins with %s; a round begins with rnd and its number, a header line with one of %s",
		quoted(t), strings.Join(keywords[:11], ", "))
}

func (p *draftParser) explainBad(t token) {
	switch {
	case strings.HasPrefix(t.value, `"`):
		p.report("syntax", t.span(), "this text in quotes is not closed; put \" at its end")
	case strings.ContainsAny(t.value, "\u201c\u201d\u201e\u2018\u2019"):
		p.report("syntax", t.span(), "use straight quotes (\") round a text, not %s", quoted(t))
	case strings.ContainsAny(t.value, "\u2013\u2014\u2212"):
		p.report("syntax", t.span(), "use a plain hyphen (-), not %s", quoted(t))
	case strings.ContainsRune(t.value, '*'):
		p.report("syntax", t.span(), "* does not mark a repeat here; write [ ... ] 4 times, or [ ... ] around")
	case strings.ContainsRune(t.value, ';'):
		p.report("syntax", t.span(), "steps are separated by commas, not semicolons")
	case strings.ContainsRune(t.value, '.'):
		p.report("syntax", t.span(), "no full stop is needed here; a statement ends with its line")
	default:
		p.report("syntax", t.span(), "%s has no meaning in a draft; only letters, digits, and , : = / - ( ) [ ] do, and text in quotes", quoted(t))
	}
}

// explainRound reports an error in a round.
func (p *draftParser) explainRound(at int) {
	stmt := p.stmt
	end := at == len(stmt)
	var tok token
	if !end {
		tok = stmt[at]
	}
	prev := stmt[max(at-1, 0)]
	span := p.after(at)
	say := func(format string, args ...any) { p.report("syntax", span, format, args...) }
	colon := slices.IndexFunc(stmt, func(t token) bool { return t.is(":") })
	claim := slices.IndexFunc(stmt, func(t token) bool { return t.is("=") })

	switch {
	case at <= 1:
		say("a round begins with its number: %s", shapes["rnd"])
	case colon < 0 || at < colon:
		switch {
		case prev.is("with"):
			say("with is followed by the name of a yarn")
		case prev.is("-"):
			say("a range of rounds needs its last number: rnd 2-4")
		case prev.is(","):
			say("after the comma comes how this round starts: standing, chainless, chain counts or chain uncounted")
		case end:
			say("a colon and the steps are missing: %s", shapes["rnd"])
		default:
			say("a colon is missing before %s: rnd 2: dc in each st", quoted(tok))
		}
	case at == colon+1 && end:
		say("the steps of this round are missing")
	case claim >= 0 && at > claim:
		p.explainClaim(at)
	case prev.is(","), prev.is("["), prev.is("("), at == colon+1:
		switch {
		case end || tok.is("]") || tok.is(")") || tok.is(",") || tok.is("="):
			after := "after the comma"
			if !prev.is(",") {
				after = "after " + quoted(prev)
			}
			say("a step is missing %s", after)
		default:
			say("a step cannot begin with %s", quoted(tok))
		}
	case prev.is("]"):
		say("say how often the repeat is worked: [ ... ] 4 times, or [ ... ] around")
	case prev.kind == tokNumber && at >= 2 && stmt[at-2].is("]"):
		say("the word times is missing: [ ... ] %s times", prev.value)
	case prev.is("in"):
		say("after in comes the place: next st, next 4 st, each st, next sp, next gap, corner, ring or same")
	case prev.is("next"), prev.is("each"), prev.is("of"), prev.is("over"):
		say("after %s comes a kind of place: st, sp, ch, gap, corner, or the name of a stitch", prev.value)
	case prev.is("sk"), prev.kind == tokNumber && at >= 2 && stmt[at-2].is("sk"):
		say("say what is skipped: sk 3 st, sk sp")
	case prev.is("ch"), prev.is("picot"):
		say("say how many chains: %s 3", prev.value)
	case prev.is("as"):
		say("after as comes a stitch (ch 3 as dc) or a round (as rnd 4)")
	case prev.is("with"):
		say("with is followed by the name of a yarn")
	case prev.is("fasten"):
		say("the word off is missing: fasten off")
	case prev.is("corner"):
		say("corner marks the stitch or chain after it: corner ch 2, corner sc")
	case prev.kind == tokNumber:
		say("after %s comes the name of a stitch", prev.value)
	case end:
		say("the round ends too early; it reads like: %s", shapes["rnd"])
	case (tok.is("times") || tok.is("around") || tok.kind == tokNumber && at+1 < len(stmt) && stmt[at+1].is("times")) && openBracket(stmt[:at]):
		say("a ] is missing before %s", quoted(tok))
	case tok.is("times") || tok.is("around"):
		say("%s stands after a repeat in square brackets: [ ... ] %s", quoted(tok), strings.ToLower(tok.value))
	case tok.is(":"):
		say("this colon is one too many; steps are separated by commas")
	case tok.is("rnd"):
		say("the next round begins on a line of its own")
	case tok.kind == tokNumber && prev.kind == tokWord && at+1 < len(stmt) && stmt[at+1].kind != tokWord:
		say("the number stands before the stitch: %s %s", tok.value, prev.value)
	case tok.kind == tokWord || tok.kind == tokNumber || tok.is("[") || tok.is("("):
		say("a comma is missing before %s", quoted(tok))
	default:
		say("%s does not belong after %s", quoted(tok), quoted(prev))
	}
}

// explainClaim reports an error after the equals sign.
func (p *draftParser) explainClaim(at int) {
	span := p.after(at)
	prev := p.stmt[at-1]
	switch {
	case prev.kind == tokNumber && (at == len(p.stmt) || p.stmt[at].kind != tokPunct):
		p.report("syntax", span, "say what is counted: %s dc, %s sp, %s st, %s corners", prev.value, prev.value, prev.value, prev.value)
	case prev.is("per"):
		p.report("syntax", span, "the word side is missing: 22 dc per side")
	case at < len(p.stmt) && p.stmt[at].is("="):
		p.report("syntax", span, "a round has one claim; put a comma between its counts: = 12 dc, 12 sp")
	case prev.is("=") || prev.is(",") || prev.is("/"):
		p.report("syntax", span, "a count is missing after %s; a claim reads: = 12 dc, 12 sp, or = 22/26/30 dc per side", quoted(prev))
	default:
		p.report("syntax", span, "%s does not belong in a claim; a claim reads: = 12 dc, 12 sp, or = 22/26/30 dc per side", quoted(p.stmt[at]))
	}
}

// brackets finds the last opening bracket that is never closed and the first
// closing one that closes nothing, or has the wrong partner; -1 for none.
func brackets(tokens []token) (open, shut int) {
	var stack []int
	shut = -1
	for i, t := range tokens {
		if t.kind != tokPunct {
			continue
		}
		switch t.value {
		case "(", "[":
			stack = append(stack, i)
		case ")", "]":
			if len(stack) > 0 && tokens[stack[len(stack)-1]].value == partner(t.value) {
				stack = stack[:len(stack)-1]
			} else if shut < 0 {
				shut = i
			}
		}
	}
	if len(stack) > 0 {
		return stack[len(stack)-1], shut
	}
	return -1, shut
}

// openBracket reports whether a repeat is open at the end of tokens.
func openBracket(tokens []token) bool {
	open, _ := brackets(tokens)
	return open >= 0 && tokens[open].value == "["
}

func partner(bracket string) string {
	return map[string]string{"(": ")", ")": "(", "[": "]", "]": "["}[bracket]
}

func bracketed(open string) string {
	if open == "[" {
		return "repeat"
	}
	return "group"
}

// quoted shows a token in a message.
func quoted(t token) string {
	if t.kind == tokString {
		return "the text " + printable(t.value)
	}
	return `"` + printable(t.value) + `"`
}
