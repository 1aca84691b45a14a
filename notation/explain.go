package notation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// shapes say how each statement reads, for messages.
var shapes = map[string]string{
	"motif":   `motif "Title"`,
	"terms":   `terms us, or terms uk`,
	"shape":   `shape square (or circle, triangle, pentagon, hexagon, octagon, free)`,
	"lies":    `lies flat (or cupped, ruffled)`,
	"for":     `for infant (or child, adult)`,
	"worked":  `worked joined (or spiral, turned)`,
	"yarn":    `yarn sand "oat", colour "#d8c6a0", 200 m per 100 g`,
	"hook":    `hook 5 mm`,
	"gauge":   `gauge 14 dc by 8 rnds over 10 cm, or gauge rnds 1-3 = 10 cm across`,
	"weighed": `weighed rnds 1-5 = 12 g`,
	"begin":   `begin standing (or chainless, chain counts, chain uncounted)`,
	"stitch":  `stitch vst = (dc, ch 1, dc)`,
	"ring":    `ring, or ring ch 4`,
	"allow":   `allow claim-count "the reason"`,
	"panel":   `panel 4 by 5 joined sc (or panel tube 4 by 5, cushion, bag; panel wrap, neck 40 st; panel wrap on point)`,
	"edge":    `edge of panel, or edge of neck`,
	"rnd":     `rnd 2 with sand: [dc in next st, ch 1] around = 12 dc, 12 sp`,
}

// keywords are the words a statement can begin with, in the order of a draft.
var keywords = []string{"motif", "terms", "shape", "lies", "for", "yarn", "hook", "gauge", "weighed", "begin", "worked", "stitch", "ring", "rnd", "panel", "edge", "allow"}

// headerWords are those of the header.
var headerWords = keywords[:slices.Index(keywords, "rnd")]

// otherWords are words designers begin a line with, and the keyword they mean.
var otherWords = map[string]string{
	"title": "motif", "name": "motif", "pattern": "motif",
	"tension": "gauge", "needle": "hook", "mr": "ring", "magic": "ring",
	"color": "yarn", "colour": "yarn", "start": "begin",
	"border": "edge", "edging": "edge", "blanket": "panel", "weight": "weighed",
	"round": "rnd", "rounds": "rnd", "rnds": "rnd", "row": "rnd", "rows": "rnd", "r": "rnd", "rd": "rnd", "rds": "rnd", "rn": "rnd",
}

// explain reports why the statement cannot be read: its token at index at is
// the first that does not fit.
func (p *draftParser) explain(at int) {
	first := p.stmt[0]
	key := strings.ToLower(first.value)
	known := first.kind == tokWord && slices.Contains(keywords, key)
	// What means nothing anywhere is the cause wherever it stands first. The
	// parser stops in front of a comma when what follows it does not fit.
	bad := slices.IndexFunc(p.stmt, func(t token) bool { return t.kind == tokBad })
	switch {
	case bad >= 0 && bad <= at+1 && (known || bad == 0):
		p.explainBad(bad)
	case !known:
		p.explainStart()
	case p.explainBracket(at):
	case key == "rnd":
		p.explainRound(at)
	default:
		p.explainHeader(key, at)
	}
}

// say reports a syntax error at the statement's token at, or where it would
// have stood.
func (p *draftParser) say(at int, format string, args ...any) *Finding {
	return p.report("syntax", p.after(at), format, args...)
}

// after is the token at index at, or the place just past the statement.
func (p *draftParser) after(at int) Span {
	if at < len(p.stmt) {
		return p.stmt[at].span()
	}
	last := p.stmt[len(p.stmt)-1]
	return Span{last.end, last.end}
}

// tok is the statement's token at an index, or nothing outside the statement.
func (p *draftParser) tok(i int) token {
	if i < 0 || i >= len(p.stmt) {
		return token{}
	}
	return p.stmt[i]
}

// oneOf reports whether t is one of several words or marks.
func (t token) oneOf(list ...string) bool { return slices.ContainsFunc(list, t.is) }

// explainStart reports a line that begins with no keyword.
func (p *draftParser) explainStart() {
	t := p.stmt[0]
	word := strings.ToLower(t.value)
	base := strings.TrimRight(word, "0123456789")
	switch meant := otherWords[base]; {
	case t.kind == tokWord && base != word && (base == "rnd" || meant == "rnd"):
		p.say(0, "a round begins with rnd, a blank and its number: rnd %s:", printable(word[len(base):])).
			offer(write(t.span(), "rnd "+word[len(base):], meansRound(base)))
		return
	case t.kind == tokWord && meant == "rnd":
		p.say(0, "a round begins with rnd, not %s", quoted(t)).
			offer(write(t.span(), "rnd", meansRound(word)))
		return
	case t.kind == tokWord && meant != "" && base == word:
		p.say(0, "no line begins with %s; it is called %s here: %s", quoted(t), meant, shapes[meant]).
			offer(write(t.span(), meant, false))
		return
	}
	rounds := slices.ContainsFunc(p.draft.Statements, func(s Statement) bool { _, ok := s.(*Round); return ok })
	switch {
	case t.is("="):
		p.say(0, "a claim stands on the line of its round, after the last step")
	case t.oneOf("repeat", "rep"):
		p.say(0, "a repeat is written in square brackets: [ ... ] 4 times; the same round again: rnd 6: as rnd 4")
	case p.beginsStep(0) && rounds:
		p.say(0, "this reads like steps of the round above; a round goes on in the next line only after a comma or inside brackets")
	case p.beginsStep(0):
		p.say(0, "this reads like steps; they stand in a round: rnd 1: 12 dc in ring")
	case t.kind == tokWord && Closest(word, keywords) != "":
		near := Closest(word, keywords)
		p.say(0, "no line begins with %s; did you mean %s?", quoted(t), near).
			offer(write(t.span(), near, false))
	default:
		p.say(0, "no line begins with %s; a round begins with rnd and its number, a header line with one of %s",
			quoted(t), strings.Join(headerWords, ", "))
	}
}

// meansRound tells the words that can only be short for a round from those that
// may be short for a row, which is not worked in the round.
func meansRound(word string) bool {
	return word == "rnd" || otherWords[word] == "rnd" && !slices.Contains([]string{"r", "row", "rows"}, word)
}

// beginsStep reports whether a step can begin with the token at i.
func (p *draftParser) beginsStep(i int) bool {
	t := p.tok(i)
	if t.kind != tokWord {
		return t.kind == tokNumber || t.oneOf("[", "(")
	}
	if t.oneOf("ch", "sk", "picot", "corner", "turn", "join", "fasten", "with", "shell", "vst", "inc", "dec") {
		return true
	}
	for def := range p.draft.StitchDefs() {
		if t.is(def.Name.Text) {
			return true
		}
	}
	for _, terms := range []Terms{US, UK} {
		if _, ok := terms.Parse(t.value); ok {
			return true
		}
	}
	return false
}

// endsStep reports whether a step can end just before the token at i.
func (p *draftParser) endsStep(i int) bool {
	last, before := p.tok(i-1), p.tok(i-2)
	switch last.kind {
	case tokNumber:
		return before.oneOf("ch", "picot", "rnd")
	case tokWord:
		return !last.oneOf(leading...) && !last.oneOf("sk", "ch", "picot", "corner", "fasten")
	}
	return last.is(")")
}

// explainBad reports a token that has no meaning anywhere.
func (p *draftParser) explainBad(i int) {
	t := p.stmt[i]
	has := func(any string) bool { return strings.ContainsAny(t.value, any) }
	colon := slices.IndexFunc(p.stmt, func(t token) bool { return t.is(":") })
	switch {
	case strings.HasPrefix(t.value, `"`) && (len(t.value) == 1 || !strings.HasSuffix(t.value, `"`)):
		p.say(i, `this text in quotes is not closed; put " at its end`)
	case !utf8.ValidString(t.value):
		p.say(i, "this is not UTF-8 text (%s); save the draft as UTF-8", printable(t.value))
	case strings.HasPrefix(t.value, `"`):
		p.say(i, "this text in quotes holds a control character; take it out")
	case has("\u201c\u201d\u201e\u201f\u2018\u2019\u00ab\u00bb'`"):
		f := p.say(i, `a text stands in straight double quotes ("), not %s`, printable(t.value))
		if fix := p.rewrite(true, p.instead(`"`, "\u201c", "\u201d", "\u201e", "\u201f", "\u00ab", "\u00bb")); len(fix.Edits) == 2 {
			f.offer(fix)
		}
	case has("\u2010\u2011\u2012\u2013\u2014\u2015\u2212"):
		p.say(i, "use a plain hyphen (-), not %s", quoted(t)).
			offer(p.rewrite(true, p.instead("-", "\u2010", "\u2011", "\u2012", "\u2013", "\u2014", "\u2015", "\u2212")))
	case has("*"):
		p.say(i, "* does not mark a repeat here; write [ ... ] 4 times, or [ ... ] around")
	case has("\u00d7"):
		p.say(i, "how often is said after the bracket: [ ... ] 4 times")
	case has(";") && p.stmt[0].is("rnd") && (colon < 0 || i < colon):
		p.say(i, "a colon stands after the number of the round, not a semicolon: rnd 2: dc in each st").
			offer(write(t.span(), ":", t.value == ";"))
	case has(";"):
		p.say(i, "steps are separated by commas, not semicolons").
			offer(p.rewrite(true, p.instead(",", ";")))
	case has(".\u2026"):
		p.say(i, "no full stop is needed here; a statement ends with its line").
			offer(p.leaveOut(i, i == len(p.stmt)-1))
	case has("{}<>"):
		p.say(i, "repeats stand in [ ], groups in ( ); %s has no meaning in a draft", coded(t))
	case has("&+"):
		p.say(i, "steps are separated by commas, not %s", quoted(t))
	case strings.ContainsFunc(t.value, unicode.IsLetter) || has("_"):
		p.say(i, "%s cannot stand in a name; names are made of the letters a to z, digits and _, a letter first", coded(t))
	default:
		p.say(i, "%s has no meaning in a draft; only letters, digits, and , : = / - ( ) [ ] do, and text in quotes", coded(t))
	}
}

// explainBracket reports an error that comes from a bracket without its
// partner; false if it does not.
func (p *draftParser) explainBracket(at int) bool {
	open := openAt(p.stmt[:at])
	t := p.tok(at)
	switch {
	case t.oneOf(")", "]") && open < 0:
		p.say(at, "this %s closes nothing; there is no %s before it", t.value, partner(t.value))
	case t.oneOf(")", "]") && p.stmt[open].value != partner(t.value):
		p.say(at, "this %s does not close the %s before it; a %s ends with %s", t.value, p.stmt[open].value, bracketed(p.stmt[open].value), partner(p.stmt[open].value))
	case open < 0:
		return false
	case (at == len(p.stmt) || t.is("=")) && p.endsStep(at):
		p.say(open, "this %s is never closed; put %s where the %s ends", p.stmt[open].value, partner(p.stmt[open].value), bracketed(p.stmt[open].value))
	default:
		return false
	}
	return true
}

// explainHeader reports an error in a header line.
func (p *draftParser) explainHeader(key string, at int) {
	t, prev := p.tok(at), p.tok(at-1)
	switch {
	case key == "yarn" && at > 1 && !prev.is(",") && (t.oneOf("colour", "color") || t.kind == tokNumber && prev.kind != tokNumber):
		p.say(at, "a comma is missing before %s; a yarn line reads: %s", quoted(t), shapes[key])
	case key == "yarn" && prev.is("stretch"):
		p.say(at, "say how long the stretch is: stretch 120 m \"rose\"")
	case prev.kind == tokNumber && t.is(",") && p.tok(at+1).kind == tokNumber:
		p.say(at, "a decimal is written with a point: %s.%s", printable(prev.value), printable(p.tok(at+1).value))
	case key == "stitch" && at > 3 && p.stmt[2].is("="):
		p.explainStep(at)
	case key == "motif" && t.kind == tokWord && at == 1:
		p.say(at, "the title stands in quotes: %s", shapes[key])
	case key == "panel" && p.explainPanel(at):
	case at == len(p.stmt):
		p.say(at, "the %s line ends too early; it reads: %s", key, shapes[key])
	case key == "allow":
		p.say(at, "%s does not belong here; an allow line reads: %s", quoted(t), shapes[key])
	case key == "edge":
		p.say(at, "%s does not belong here; an edge line reads: %s", quoted(t), shapes[key])
	default:
		p.say(at, "%s does not belong here; a %s line reads: %s", quoted(t), key, shapes[key])
	}
}

// explainPanel reports an error in a panel line that is a likely slip; false if
// there is none.
func (p *draftParser) explainPanel(at int) bool {
	t, prev := p.tok(at), p.tok(at-1)
	switch {
	case at == 1 && t.is("flat"):
		p.say(at, "a panel that lies flat needs no word for it: panel 4 by 5")
	case at == 1 && t.kind == tokWord:
		p.say(at, "a panel cannot be %s; it is rows by columns (panel 4 by 5), tube, cushion, bag or wrap", quoted(t))
	case t.is("joined") && p.tok(2).is(","):
		if key := p.tok(1); key.is("wrap") && p.tok(3).is("neck") && at == 6 && at+2 == len(p.stmt) && p.tok(at+1).oneOf("whip", "mattress", "sl st", "sc") {
			own := fmt.Sprintf("panel wrap joined %s, neck %s st", strings.ToLower(p.tok(at+1).value), p.tok(4).value)
			p.say(at, "how motifs are joined stands before the comma: panel wrap joined %s, neck %s st", strings.ToLower(p.tok(at+1).value), printable(p.tok(4).value)).
				offer(write(p.at, own, p.at.Start.Line == p.at.End.Line))
			break
		}
		p.say(at, "how motifs are joined stands before the comma: panel wrap joined whip, neck 40 st")
	case t.is("on"):
		p.say(at, "only a wrap is worn on the point: panel wrap on point")
	case prev.is("by") && p.tok(at-2).is("joined"):
		p.say(at-1, "leave out by: panel 4 by 5 joined sc")
	case p.tok(at-1).kind == tokNumber && t.kind == tokWord && (timesMark(t.value) || t.is("rows")):
		p.say(at, "how many motifs is written in rows by columns: panel 4 by 5")
	case t.oneOf("whip", "mattress", "sl st", "sc", "dc"):
		p.say(at, "the word joined is missing before %s: panel 4 by 5 joined %s", quoted(t), strings.ToLower(t.value))
	case t.is("neck"):
		p.say(at, "a comma is missing before %s: panel wrap joined whip, neck 40 st", quoted(t))
	default:
		return false
	}
	return true
}

// explainRound reports an error in a round.
func (p *draftParser) explainRound(at int) {
	colon := slices.IndexFunc(p.stmt, func(t token) bool { return t.is(":") })
	claim := slices.IndexFunc(p.stmt, func(t token) bool { return t.is("=") })
	switch {
	case at <= 1:
		p.say(at, "a round begins with rnd and its number: %s", shapes["rnd"])
	case at <= colon || colon < 0:
		p.explainHead(at, colon >= 0)
	case at == colon+1 && (at == len(p.stmt) || p.stmt[at].is("=")):
		p.say(at, "the steps of this round are missing; the same steps as in another round: rnd 6: as rnd 4")
	case claim >= 0 && at > claim:
		p.explainClaim(at)
	default:
		p.explainStep(at)
	}
}

// explainHead reports an error between rnd and the colon.
func (p *draftParser) explainHead(at int, colon bool) {
	starts := []string{"standing", "chainless", "chain"}
	if p.tok(at).oneOf("-", "with", ",") && p.tok(at-1).kind != tokPunct && !p.tok(at-1).is("with") {
		at++ // this fits; what follows it does not
	}
	t, prev := p.tok(at), p.tok(at-1)
	switch {
	case prev.is("with"):
		p.say(at, "with is followed by the name of a yarn")
	case t.is("until") && (prev.kind == tokNumber || prev.is("next")):
		p.say(at+1, "after until comes how large the piece becomes: until side 45 cm, until across 60 cm, until 14 rnds")
	case prev.oneOf("until", "side", "across"), p.tok(at-2).oneOf("until", "side", "across"):
		p.say(at, "after until comes how large the piece becomes: until side 45 cm, until across 60 cm, until 14 rnds")
	case t.is("until"):
		p.say(at, "until stands straight after the number: rnd 8 until side 45 cm with sand:")
	case prev.is("-"):
		p.say(at, "a range of rounds ends with a number: rnd 2-4")
	case prev.is("chain"):
		p.say(at, "a starting chain counts as a stitch or does not: chain counts, or chain uncounted")
	case prev.is(",") && t.is("with"):
		p.say(at, "the yarn stands before the comma: rnd 3 with sand, standing:")
	case prev.is(",") && t.kind == tokNumber, t.oneOf("and", "to", "/"):
		p.say(at, "rounds worked alike are written as a range: rnd 2-4")
	case prev.is(","):
		p.say(at, "after the comma comes how this round starts: standing, chainless, chain counts or chain uncounted")
	case t.oneOf(starts...):
		p.say(at, "a comma is missing before %s: rnd 3 with sand, standing:", quoted(t))
	case at == len(p.stmt), t.is("="):
		p.say(at, "a colon and the steps are missing: %s", shapes["rnd"])
	case colon:
		p.say(at, "%s does not belong before the colon; a round begins rnd 3:, rnd 2-4:, rnd 3 with sand: or rnd 3 with sand, standing:", quoted(t))
	default:
		p.say(at, "a colon is missing before %s: rnd 2: dc in each st", quoted(t))
	}
}

// explainStep reports an error in a step, a repeat or a group.
func (p *draftParser) explainStep(at int) {
	if p.tok(at).is(",") && p.endsStep(at) {
		at++ // the comma fits; what follows it does not
	}
	switch t, prev := p.tok(at), p.tok(at-1); {
	case p.otherWriting(at):
	case prev.oneOf(",", "[", "(", ":"):
		p.explainNoStep(at)
	case prev.is("]"), prev.kind == tokNumber && p.tok(at-2).is("]"):
		p.explainRepeat(at)
	case p.explainPlace(at):
	case prev.is("sk"), prev.kind == tokNumber && p.tok(at-2).is("sk"):
		p.say(at, "say what is skipped: sk 3 st, sk sp")
	case prev.is("picot") && p.tok(at-2).is("corner"):
		p.say(at-1, "a picot is no corner; mark the stitch that it sits on: corner dc in next st, picot 3")
	case prev.oneOf("ch", "picot"):
		p.say(at, "say how many chains: %s 3", strings.ToLower(prev.value))
	case prev.is("as"):
		p.say(at, "after as comes a stitch (ch 3 as dc) or a round (rnd 6: as rnd 4)")
	case prev.is("with"):
		p.say(at, "with is followed by the name of a yarn")
	case prev.is("fasten"):
		p.say(at, "the word off is missing: fasten off")
	case prev.is("corner") && p.tok(at-2).oneOf("in", "next", "each") && openAt(p.stmt[:at]) >= 0:
		p.explainBetween(at) // the corner is a place, and the step has ended
	case prev.is("corner"):
		p.say(at, "corner marks the one stitch or chain after it: (dc, corner ch 2, dc), (dc, corner dc, dc)")
	case prev.kind == tokNumber && t.kind != tokWord && !t.is("-") && !p.endsStep(at):
		p.say(at, "after %s comes the name of a stitch: %s dc in next st", printable(prev.value), printable(prev.value))
	case at == len(p.stmt):
		p.say(at, "the round ends too early; it reads like: %s", shapes["rnd"])
	default:
		p.explainBetween(at)
	}
}

// otherWriting reports ways to write down a step that are common elsewhere;
// false if this is none.
func (p *draftParser) otherWriting(at int) bool {
	t, prev, before := p.tok(at), p.tok(at-1), p.tok(at-2)
	next := p.tok(at + 1)
	base := strings.TrimRight(strings.ToLower(prev.value), "0123456789")
	begins := before.oneOf(",", "[", "(", ":") // prev is the first word of a step
	switch {
	case p.explainLone(at):
	case t.is("around") && prev.kind == tokWord && (before.is("each") || before.is("and") && p.tok(at-4).is("each")) && openAt(p.stmt[:at]) < 0:
		p.say(at, "leave around out: each goes on to the end of the round, or of a side").
			offer(p.leaveOut(at, at+1 == len(p.stmt) || next.oneOf(",", "=")))
	case t.is("around") && isPost(prev.value) && next.oneOf("next", "each", "same"):
		p.say(at, "a post stitch goes around the post by its name; write in: %s in %s st", printable(strings.ToLower(prev.value)), strings.ToLower(next.value)).
			offer(write(t.span(), "in", true))
	case t.oneOf("blo", "flo") && next.is("in") && p.tok(at+2).oneOf("next", "each", "same"):
		loop := loopWords(t)
		p.say(at, "one loop is named in the place: in %s of %s st", loop, strings.ToLower(p.tok(at+2).value)).
			offer(write(Span{t.start, next.end}, "in "+loop+" of", t.start.Line == next.end.Line))
	case t.oneOf("blo", "flo"):
		p.say(at, "one loop is named in the place: in %s of next st, in %s of each st", loopWords(t), loopWords(t))
	case t.is("(") && next.oneOf("count", "counts") && before.is("ch") && prev.kind == tokNumber:
		p.explainCounts(at)
	case t.is("(") && next.kind == tokNumber && p.tok(at+2).is(")") && p.stmt[0].is("rnd") && (at+3 >= len(p.stmt) || at+4 == len(p.stmt) && p.tok(at+3).value == "."):
		claim := "= " + printable(next.value) + " " + p.onlyStitch()
		p.say(at, "a claim stands after an equals sign: %s", claim).
			offer(write(Span{t.start, p.tok(at + 2).end}, claim, false))
	case prev.oneOf("skip", "miss", "sk") && t.oneOf("next", "the", "each"), before.oneOf("skip", "miss", "sk") && prev.oneOf("next", "the", "each"):
		p.say(at, "sk says how many and of what, without next: sk 2 st, sk sp")
	case prev.oneOf("skip", "miss"):
		p.say(at-1, "passing over is written sk: sk 2 st, sk sp").
			offer(p.rewrite(true, p.instead("sk", "skip", "miss")))
	case prev.kind == tokWord && base != strings.ToLower(prev.value) && slices.Contains(numbered, base):
		p.say(at-1, "a blank is missing in %s: %s %s", quoted(prev), base, printable(prev.value[len(base):])).
			offer(p.rewrite(true, func(i int) (string, bool) {
				word := strings.ToLower(p.stmt[i].value)
				base := strings.TrimRight(word, "0123456789")
				return base + " " + word[len(base):], base != word && slices.Contains(numbered, base)
			}))
	case prev.is("ch") && t.is("-"):
		p.say(at, "a chain space is called sp, whatever its length: in next sp; a run of chains is written ch 2")
	case prev.oneOf("chain", "chains", "chs"):
		p.say(at-1, "a run of chains is written ch and its number: ch 3")
	case t.oneOf("crochet", "crochets", "treble", "trebles", "stitch", "stitches", "chain", "chains", "space", "spaces", "together"):
		p.say(at, "%s does not belong here; stitches and places go by their abbreviations: dc, tr, dc2tog, sl st, ch 3, st, sp", quoted(t))
	case t.kind == tokNumber && next.is("tog"):
		one := strings.ToLower(prev.value) + t.value + "tog"
		p.say(at, "a stitch closed together is one word: %s", printable(one)).
			offer(write(Span{prev.start, next.end}, one, prev.start.Line == next.end.Line))
	case t.is("tog"):
		p.say(at, "a stitch closed together is one word: %stog", printable(strings.ToLower(prev.value)))
	case begins && prev.oneOf("and", "then"):
		p.say(at-1, "the comma is enough; leave out %s", quoted(prev)).
			offer(p.leaveOut(at-1, before.is(",") && p.beginsStep(at)))
	case t.is("and") && next.oneOf("ch", "sp") && before.is("next"):
		p.say(at, "and goes with each: in each %s and %s", strings.ToLower(prev.value), strings.ToLower(next.value))
	case t.oneOf("and", "then"):
		p.say(at, "steps are separated by commas, not by %s", quoted(t)).
			offer(p.comma(at, p.endsStep(at) && p.beginsStep(at+1)))
	case begins && prev.oneOf("in", "over"):
		p.say(at-1, "a step begins with the stitch, and its place follows: dc in next st")
	case prev.is("in") && before.kind == tokNumber && p.tok(at-3).oneOf(",", "[", "(", ":"):
		p.say(at-1, "the stitch is missing: %s dc in next st", printable(before.value))
	case prev.is("times") && before.kind == tokNumber && !p.tok(at-3).is("]"):
		p.say(at-1, "times stands after a repeat in square brackets: [ ... ] %s times", printable(before.value))
	case t.oneOf("in", "over") && (prev.oneOf("times", "around")):
		p.say(at, "a repeat has no place of its own; its steps have: [dc in next st, ch 1] 4 times")
	case t.oneOf("into", "inside", "on", "onto", "at"):
		p.say(at, "a place follows the word in: in next st, in next sp, in ring; not %s", quoted(t))
	case t.is("to") && prev.oneOf("sl st", "ss", "join"), prev.is("first") && before.is("in") && p.tok(at-3).oneOf("sl st", "ss"):
		p.say(at, "a round is closed by the word join; where it is joined follows from where it began")
	case prev.oneOf("the", "a", "an", "first", "last", "second", "third", "following", "previous", "any"):
		p.say(at-1, "places are taken in working order, without %s: in next st, in next sp, in same", quoted(prev))
	case prev.oneOf("rep", "repeat"):
		p.say(at-1, "a repeat is written in square brackets: [ ... ] 4 times, or [ ... ] around")
	case t.kind == tokWord && prev.oneOf("]", ")") && timesMark(t.value):
		p.explainTimes(at)
	case t.is("corner") && prev.kind == tokNumber && before.is("ch") && (next.oneOf(",", ")", "]", "=") || at+1 == len(p.stmt)):
		p.say(at, "corner stands before what it marks: corner ch %s", printable(prev.value)).
			offer(write(Span{before.start, t.end}, "corner ch "+prev.value, before.start.Line == t.end.Line))
	case t.is("ring") && prev.oneOf("magic", "adjustable") && before.is("in"):
		p.say(at-1, "the ring needs no word before it: in ring").
			offer(p.leaveOut(at-1, true))
	case t.kind == tokWord && begins && prev.oneOf("blo", "flo"):
		p.say(at-1, "one loop is named in the place: %s in %s of next st", printable(strings.ToLower(t.value)), loopWords(prev))
	case prev.is("join"):
		p.say(at, "join closes the round with a slip stitch and needs no more words; or: join invisible")
	case prev.is("of") && before.is("same"):
		p.say(at, "same is the place last worked into, in whichever round it lies; leave out of rnd")
	case t.is("rnd") && !prev.oneOf("of", "as"):
		p.say(at, "the next round begins on a line of its own")
	case t.oneOf("(", "-") && next.kind == tokNumber && p.tok(at+2).kind == tokWord && at+4 >= len(p.stmt):
		p.say(at, "a claim stands after an equals sign: = %s %s", printable(next.value), printable(p.tok(at+2).value))
	default:
		return false
	}
	return true
}

// explainLone reports a repeat of one stitch that stands without brackets, as in
// inc around, sc around, dec 6 times; false if this is none.
func (p *draftParser) explainLone(at int) bool {
	t, next := p.tok(at), p.tok(at+1)
	from := at - 1 // where the step begins
	if p.tok(from-1).kind == tokNumber {
		from--
	}
	name := p.tok(at - 1)
	if name.kind != tokWord || !p.tok(from-1).oneOf(",", "[", ":") || openAt(p.stmt[:from]) >= 0 && p.tok(from-1).is("[") && t.is("around") {
		return false
	}
	stitch, inc, dec := printable(strings.ToLower(name.value)), name.oneOf("inc", "increase"), name.oneOf("dec", "decrease")
	if _, ok := p.terms().Parse(name.value); !ok && !inc && !dec {
		return false
	}
	number := "" // how many there are, or how often
	end := at
	switch {
	case t.is("around") && (at+1 == len(p.stmt) || next.oneOf(",", "=")):
	case t.kind == tokNumber && (next.is("times") || (inc || dec) && (at+1 == len(p.stmt) || next.oneOf(",", "]", "="))):
		number = printable(t.value)
		if next.is("times") {
			end++
		}
	case timesMark(t.value) && len(t.value) > 1:
		number = printable(t.value[1:])
	case timesMark(t.value) && next.kind == tokNumber:
		number = printable(next.value)
		end++
	default:
		return false
	}
	count := ""
	if from < at-1 {
		count = printable(p.tok(from).value) + " "
	}
	var words string
	switch {
	case inc && count == "" && number == "":
		words = fmt.Sprintf("2 %s in each st", p.shapedStitch())
	case inc && count == "":
		words = fmt.Sprintf("2 %s in each of next %s st", p.shapedStitch(), number)
	case dec && count == "" && number == "":
		words = fmt.Sprintf("[%s2tog] around", p.shapedStitch())
	case dec && count == "":
		words = fmt.Sprintf("[%s2tog] %s times", p.shapedStitch(), number)
	case inc || dec:
		return false
	case count == "" && strings.HasSuffix(strings.ToLower(stitch), "tog") && number == "":
		words = "[" + stitch + "] around"
	case count == "" && strings.HasSuffix(strings.ToLower(stitch), "tog"):
		words = "[" + stitch + "] " + number + " times"
	case number == "":
		words = count + stitch + " in each st"
	case count == "":
		words = fmt.Sprintf("%s in next %s st", stitch, number)
	default:
		words = fmt.Sprintf("%s%s in each of next %s st", count, stitch, number)
	}
	p.say(at, "one stitch over and over is written with its places: %s", words).
		offer(write(Span{p.tok(from).start, p.tok(end).end}, words, false))
	return true
}

// shapedStitch is the stitch that an increase or a decrease of the statement is
// made of: its first one, or else the last one above it that can be closed
// together.
func (p *draftParser) shapedStitch() string {
	shapeable := func(word string) string {
		if parts, ok := p.terms().Parse(word); ok && parts.Base != "sl st" && compounds[parts.Base] {
			return p.terms().Name(parts.Base)
		}
		return ""
	}
	for _, t := range p.stmt {
		if name := shapeable(t.value); t.kind == tokWord && name != "" {
			return name
		}
	}
	const far = 100 // statements; the rounds at hand are made of one stitch
	for i := len(p.draft.Statements) - 1; i >= max(0, len(p.draft.Statements)-far); i-- {
		name := ""
		Walk(p.draft.Statements[i], func(n Node) bool {
			if w, ok := n.(*Work); ok {
				name = cmp.Or(shapeable(w.Stitch.Text), name)
			}
			return true
		})
		if name != "" {
			return name
		}
	}
	return p.terms().Name("dc")
}

// explainTimes reports x or x 6 behind a bracket.
func (p *draftParser) explainTimes(at int) {
	t, next := p.tok(at), p.tok(at+1)
	number, end := t.value[1:], at
	if number == "" && next.kind == tokNumber {
		number, end = next.value, at+1
	}
	if number == "" {
		p.say(at, "how often is said after the bracket: [ ... ] 4 times")
		return
	}
	f := p.say(at, "how often is said after the bracket: [ ... ] %s times", printable(number))
	if p.tok(at - 1).is("]") {
		f.offer(write(Span{t.start, p.tok(end).end}, number+" times", true))
	}
}

// explainCounts reports a note in brackets that says what a starting chain
// stands for.
func (p *draftParser) explainCounts(at int) {
	end := at
	for end < len(p.stmt) && !p.stmt[end].is(")") {
		end++
	}
	if end-at > 8 {
		end = len(p.stmt)
	}
	as := "dc"
	for _, t := range p.stmt[at:end] {
		if _, ok := p.terms().Parse(t.value); ok {
			as = strings.ToLower(t.value)
		}
	}
	number := printable(p.tok(at - 1).value)
	f := p.say(at, "a starting chain that counts as a stitch is written: ch %s as %s", number, as)
	if end < len(p.stmt) {
		f.offer(write(Span{p.stmt[at].start, p.stmt[end].end}, "as "+as, false))
	}
}

// onlyStitch is the stitch that a round is made of, or st where it has several.
func (p *draftParser) onlyStitch() string {
	only := ""
	for _, t := range p.stmt {
		if t.kind != tokWord || t.oneOf("ch", "picot", "sl st") {
			continue
		}
		if parts, ok := p.terms().Parse(t.value); ok {
			if name := p.terms().Name(parts.Name()); only != "" && name != only {
				return "st"
			} else {
				only = name
			}
		}
	}
	if only == "" {
		return "st"
	}
	return only
}

// terms are those of the draft as far as it has been read.
func (p *draftParser) terms() Terms {
	if t := first[*TermsLine](p.draft); t != nil {
		return t.Terms
	}
	return US
}

// isPost reports whether a word is the name of a post stitch in either terms.
func isPost(word string) bool {
	for _, terms := range []Terms{US, UK} {
		if parts, ok := terms.Parse(word); ok && parts.Post != "" {
			return true
		}
	}
	return false
}

// loopWords are the words for blo and flo.
func loopWords(t token) string {
	if t.is("flo") {
		return "front loop"
	}
	return "back loop"
}

// numbered are the words that a number follows.
var numbered = []string{"sk", "ch", "picot"}

// timesMark reports whether a word is x or x4.
func timesMark(s string) bool {
	return s != "" && lower(s[0]) == 'x' && strings.Trim(s[1:], "0123456789") == ""
}

// explainNoStep reports what stands where a step should begin.
func (p *draftParser) explainNoStep(at int) {
	t, prev := p.tok(at), p.tok(at-1)
	if t.is("corner") && p.tok(at+1).is(",") {
		p.say(at, "corner marks the one stitch or chain after it, without a comma: corner ch 2")
		return
	}
	if at < len(p.stmt) && !t.oneOf("]", ")", ",", "=") {
		p.say(at, "a step cannot begin with %s", quoted(t))
		return
	}
	after := "the comma"
	if !prev.is(",") {
		after = "the " + prev.value
	}
	p.say(at, "a step is missing after %s", after)
}

// explainRepeat reports an error after the closing bracket of a repeat.
func (p *draftParser) explainRepeat(at int) {
	t, prev := p.tok(at), p.tok(at-1)
	switch {
	case prev.kind == tokNumber:
		p.say(at, "the word times is missing: [ ... ] %s times", printable(prev.value))
	case t.is("twice"):
		p.say(at, "a number of times is written: [ ... ] 2 times")
	default:
		p.say(at, "say how often the repeat is worked: [ ... ] 4 times, or [ ... ] around")
	}
}

// explainPlace reports an error in a place; false if there is none.
func (p *draftParser) explainPlace(at int) bool {
	t, prev := p.tok(at), p.tok(at-1)
	const kinds = "a kind of place: st, sp, ch, gap, corner, or the name of a stitch"
	switch {
	case prev.is("in"):
		p.say(at, "after in comes the place: next st, next 4 st, each st, next sp, next gap, corner, ring or same")
	case prev.is("over"):
		p.say(at, "after over come the places of the legs: over next 2 st, or over same and next st")
	case prev.is("next") && p.tok(at-2).is("of"):
		p.say(at, "say in how many: in each of next 3 st")
	case prev.is("next") && p.tok(at-2).is("each"):
		p.say(at-1, "each or next, not both: in each st, in next st, in each of next 3 st")
	case prev.oneOf("next", "each"):
		p.say(at, "after %s comes %s", strings.ToLower(prev.value), kinds)
	case prev.kind == tokNumber && p.tok(at-2).oneOf("next", "in", "over"):
		p.say(at, "after %s comes %s", printable(prev.value), kinds)
	case prev.is("of") && p.tok(at-2).is("each"):
		p.say(at, "say of which: in each of next 3 st")
	case prev.is("of") && p.tok(at-2).oneOf("loop", "loops"):
		p.say(at, "after %s of comes the stitch: in back loop of next st, in back loop of each st", strings.ToLower(p.tok(at-2).value))
	case prev.is("rnd") && p.tok(at-2).is("as"):
		p.say(at, "a round is named by its number: as rnd 4")
	case prev.oneOf("back", "front", "both") && p.tok(at-2).oneOf("in", "over"), prev.is("of") && p.tok(at-2).oneOf("back", "front", "both"):
		p.say(at, "one loop is named like this: in back loop of next st, in front loop of each st")
	case prev.oneOf("of", "rnd"), t.is("of"):
		p.say(at, "an earlier round is named by its number: in next sp of rnd 3")
	case prev.oneOf("loop", "loops") && p.tok(at-2).oneOf("back", "front", "both"):
		p.say(at, "the word of is missing: in %s %s of next st", strings.ToLower(p.tok(at-2).value), strings.ToLower(prev.value))
	case prev.is("and") && p.tok(at-2).is("same"):
		p.say(at, "the word next is missing: over same and next st")
	case prev.is("and"):
		p.say(at, "the only two kinds taken together are stitches and chains: in each st and ch")
	case t.is("next") && strings.HasSuffix(strings.ToLower(prev.value), "tog"):
		p.say(at, "the word over is missing before %s: dc2tog over next 2 st", quoted(t))
	case t.oneOf("next", "each", "same") && prev.kind == tokWord:
		p.say(at, "the word in is missing before %s", quoted(t))
	default:
		return false
	}
	return true
}

// explainBetween reports what stands where a step could have ended.
func (p *draftParser) explainBetween(at int) {
	t, prev, next := p.tok(at), p.tok(at-1), p.tok(at+1)
	open := openAt(p.stmt[:at])
	inRepeat := open >= 0 && p.stmt[open].value == "["
	repeats := t.oneOf("times", "around") || t.kind == tokNumber && next.is("times")
	switch {
	case repeats && prev.is(")"):
		p.say(at, "( ) is a group, all in one place; a repeat stands in square brackets: [ ... ] 4 times")
	case repeats && inRepeat:
		p.say(at, "a ] is missing before %s", quoted(t))
	case t.kind == tokNumber && next.is("times"):
		p.say(at, `"%s times" stands after a repeat in square brackets: [ ... ] %s times`, printable(t.value), printable(t.value))
	case repeats:
		p.say(at, "%s stands after a repeat in square brackets: [ ... ] 4 times, or [ ... ] around", quoted(t))
	case t.is(":"):
		p.say(at, "this colon is one too many; steps are separated by commas")
	case t.kind == tokNumber && prev.kind == tokWord && (next.kind != tokWord || next.oneOf("in", "over", "around", "times")):
		p.say(at, "the number stands before what it counts: %s %s", printable(t.value), printable(prev.value))
	case t.is("-") && prev.kind == tokNumber:
		p.say(at, "a step takes one number; only rounds are written as a range: rnd 2-4")
	case p.beginsStep(at):
		before := p.tok(at - 1).end
		p.say(at, "a comma is missing before %s", quoted(t)).
			offer(Fix{Message: "write a comma", Edits: []Edit{{Span{before, before}, ","}}})
	case t.kind == tokWord:
		p.say(at, "%s does not belong here; a step reads dc in next st, and a comma stands between steps", quoted(t))
	case t.kind == tokString:
		p.say(at, "a text in quotes does not belong in a round; a note goes behind #")
	default:
		p.say(at, "%s does not belong after %s", quoted(t), quoted(prev))
	}
}

// explainClaim reports an error after the equals sign.
func (p *draftParser) explainClaim(at int) {
	const reads = "a claim reads: = 12 dc, 12 sp, or = 22/26/30 dc per side"
	if t := p.tok(at); t.is("/") && p.tok(at-1).kind == tokNumber || t.is(",") && p.tok(at-1).kind == tokWord || t.is("per") {
		at++ // this fits; what follows it does not
	}
	t, prev := p.tok(at), p.tok(at-1)
	switch {
	case t.is("="):
		p.say(at, "a round has one claim; put a comma between its counts: = 12 dc, 12 sp")
	case prev.kind == tokNumber && t.is("-"):
		p.say(at, "counts of several rounds are separated by /: = 22/26/30 dc per side")
	case prev.kind == tokNumber && (at == len(p.stmt) || t.is(",")):
		n := printable(prev.value)
		p.say(at, "say what is counted: %s dc, %s sp, %s st, %s corners", n, n, n, n)
	case prev.is("per"):
		p.say(at, "the word side is missing: 22 dc per side")
	case prev.oneOf("=", ",", "/"):
		p.say(at, "a count is missing after the %s; %s", strings.Replace(prev.value, ",", "comma", 1), reads)
	case t.kind == tokNumber:
		p.say(at, "a comma is missing before %s: = 12 dc, 12 sp", quoted(t))
	case t.oneOf("each", "a", "every", "by", "side", "sides"):
		p.say(at, "counts per side are written: = 22 dc per side")
	case t.oneOf("around", "times", "]"):
		p.say(at, "%s belongs to the steps; the claim stands after the last step", quoted(t))
	default:
		p.say(at, "%s does not belong in a claim; %s", quoted(t), reads)
	}
}

// openAt returns the index of the innermost bracket that is open at the end of
// tokens, -1 for none.
func openAt(tokens []token) int {
	var open []int
	for i, t := range tokens {
		switch depthOf(t) {
		case 1:
			open = append(open, i)
		case -1:
			open = open[:max(len(open)-1, 0)]
		}
	}
	if len(open) == 0 {
		return -1
	}
	return open[len(open)-1]
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
