package check

import (
	"bytes"
	"cmp"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"example.com/roundel/notation"
)

// An edit changes one token of a draft.
type edit struct {
	line   int
	is, to string
	text   string // the whole draft, edited
}

var tokens = regexp.MustCompile(`#[^\n]*|"[^"\n]*"|[A-Za-z]\w*|\d+(?:\.\d+)?|\S`)

// edits makes every edit of a draft that changes one token: each is dropped,
// and doubled; a number is made one more and one less; a stitch is changed for
// another.
func edits(text string, terms notation.Terms) []edit {
	var list []edit
	for _, at := range tokens.FindAllStringIndex(text, -1) {
		is := text[at[0]:at[1]]
		if is[0] == '#' {
			continue
		}
		change := func(to string) {
			list = append(list, edit{strings.Count(text[:at[0]], "\n") + 1, is, to, text[:at[0]] + to + text[at[1]:]})
		}
		change("")
		change(is + " " + is)
		if n, err := strconv.Atoi(is); err == nil {
			change(strconv.Itoa(n + 1))
			change(strconv.Itoa(n - 1))
		}
		if _, ok := terms.Parse(is); ok {
			for _, us := range []string{"sc", "hdc", "dc", "tr"} {
				if name := terms.Name(us); name != is {
					change(name)
				}
			}
		}
	}
	return list
}

// An effect is what an edit does to a draft.
type effect int

const (
	toUnreadable effect = iota // it cannot be read any more
	toCounts                   // a round holds other stitches, spaces, corners, picots or gaps
	toClaims                   // a claim says something else
	toPlaces                   // the same number of stitches, in other places or another yarn
	toChains                   // runs of chains are longer or shorter
	toWords                    // nothing that is worked
	effects
)

var effectNames = [effects]string{
	"cannot be read any more", "other stitches, spaces, corners, picots or gaps in a round", "another claim",
	"the same stitches in other places, or in another yarn", "longer or shorter runs of chains, and nothing else", "nothing that is worked",
}

// effectOf compares the report about an edited draft with that about the draft
// as it is.
func effectOf(was, is *Report) effect {
	for _, f := range is.Findings {
		switch f.Rule {
		case "syntax", "limit", "terms", "unknown-stitch", "unknown-yarn":
			return toUnreadable
		}
	}
	held := func(r *Report) string {
		var b strings.Builder
		for _, g := range r.Graph.Pieces() {
			for i := range g.Rounds() {
				c := g.Counts(i)
				c.Chains = 0
				fmt.Fprintln(&b, c)
			}
		}
		return b.String()
	}
	claimed := func(r *Report) string {
		d := &notation.Draft{Terms: r.Draft.Terms}
		for round := range r.Draft.Rounds() {
			d.Statements = append(d.Statements, &notation.Round{From: round.From, To: round.To, Claim: round.Claim})
		}
		return notation.Format(d)
	}
	// Chains made equally long.
	placed := func(r *Report) string {
		var b bytes.Buffer
		r.Graph.WriteJSON(&b)
		return regexp.MustCompile(`"chains":\d+`).ReplaceAllString(b.String(), "")
	}
	lengths := func(r *Report) string {
		var b strings.Builder
		for id := range r.Graph.Len() {
			fmt.Fprint(&b, r.Graph.Stitch(id).Chains, " ")
		}
		return b.String()
	}
	switch {
	case held(was) != held(is):
		return toCounts
	case claimed(was) != claimed(is):
		return toClaims
	case placed(was) != placed(is):
		return toPlaces
	case lengths(was) != lengths(is):
		return toChains
	}
	return toWords
}

// why says, of edits that no rule reports, why that is so: by what they do, or
// one by one.
var (
	whyEffect = map[effect]string{
		toPlaces: "a ring of chains takes any number of stitches, however long it is; and where several rounds below would do, any may be meant",
		toChains: "no claim counts these chains, nothing works into them one by one, and one more or less changes the length of the round by less than the give of the stitches",
		toWords:  "there is nothing to report: titles, yarns, the hook and the gauge may be what they like, and some words may be left out",
	}
	whyEdit = map[string]string{
		`beeton-armchair-couvrette.rnd:17 "sl" -> ""`: "the claim 48 st instead of 48 sl st is true",
		`beeton-armchair-couvrette.rnd:22 "sl" -> ""`: "the claim 72 st instead of 72 sl st is true",
		`beeton-armchair-couvrette.rnd:27 "sl" -> ""`: "the claim 108 st instead of 108 sl st is true",
		`hwkc-tam-oshanter.rnd:50 "47" -> "46"`:       "the last rounds, worked straight, are as many as one likes",
		`hwkc-tam-oshanter.rnd:50 "47" -> "48"`:       "the last rounds, worked straight, are as many as one likes",
		`hwkc-toque-wedge-mended.rnd:15 "10" -> "9"`:  "the last rounds, worked straight, are as many as one likes",
		`hwkc-toque-wedge-mended.rnd:15 "10" -> "11"`: "the last rounds, worked straight, are as many as one likes",
		`beeton-rosette-280.rnd:11 "sl" -> ""`:        "the claim 11 st instead of 11 sl st is true",
		`beeton-rosette-281.rnd:9 "sl" -> ""`:         "the claim 7 st instead of 7 sl st is true",
		`beeton-star-247-rim.rnd:11 "sl" -> ""`:       "the claim 6 st instead of 6 sl st is true",
		`lwb-motif-e-square.rnd:11 "sk" -> ""`:        "the claim does not speak of dc, and there is room for the one worked, not passed over",
	}
)

// A tally is what became of the edits of some drafts.
type tally struct {
	edits, found [effects]int
	rules        [effects]map[string]int // the rule of the first finding
	missed       [effects][]string
}

// tallyOf edits drafts, taking every step-th edit.
func tallyOf(t *testing.T, step int, files []string) *tally {
	out := &tally{}
	for f := range out.rules {
		out.rules[f] = map[string]int{}
	}
	k := 0
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		was := source(t, string(text), Options{})
		for _, e := range edits(string(text), was.Draft.Terms) {
			if k++; k%step != 0 {
				continue
			}
			is := source(t, e.text, Options{})
			f := effectOf(was, is)
			out.edits[f]++
			if len(is.Findings) > 0 {
				out.found[f]++
				out.rules[f][is.Findings[0].Rule]++
				continue
			}
			out.missed[f] = append(out.missed[f], fmt.Sprintf("%s:%d %q -> %q", filepath.Base(name), e.line, e.is, e.to))
		}
	}
	return out
}

// check sees that what goes unreported is explained, and little.
func (a *tally) check(t *testing.T) {
	t.Helper()
	n, found := 0, 0
	for f := range effects {
		for _, m := range a.missed[f] {
			if whyEffect[f] == "" && whyEdit[m] == "" {
				t.Errorf("%s: unreported, without a reason", m)
			}
		}
		if f == toUnreadable || f == toCounts || f == toClaims {
			n, found = n+a.edits[f], found+a.found[f]
		}
	}
	if 100*found < 99*n {
		t.Errorf("%d of %d edits that break the text, a count or a claim are reported, want at least 99 in 100", found, n)
	}
}

func (a *tally) write(b *strings.Builder) {
	fmt.Fprintf(b, "%6s %8s %8s   %s\n", "edits", "reported", "share", "by the rule of the first finding")
	for f := range effects {
		fmt.Fprintf(b, "\n%s\n%6d %8d %6.1f %%   ", effectNames[f], a.edits[f], a.found[f], 100*float64(a.found[f])/float64(max(a.edits[f], 1)))
		rules := slices.SortedFunc(maps.Keys(a.rules[f]), func(x, y string) int {
			return cmp.Or(a.rules[f][y]-a.rules[f][x], strings.Compare(x, y))
		})
		for i, r := range rules {
			if i > 0 {
				b.WriteString(", ")
			}
			fmt.Fprintf(b, "%s %d", r, a.rules[f][r])
		}
		b.WriteString("\n")
		if why := whyEffect[f]; why != "" && len(a.missed[f]) > 0 {
			fmt.Fprintf(b, "       not reported: %s\n", why)
			continue
		}
		for _, m := range a.missed[f] {
			fmt.Fprintf(b, "       not reported: %s: %s\n", m, whyEdit[m])
		}
	}
}

var whole = flag.Bool("whole", false, "edit every token of the published drafts too, not one in fifty")

// TestEdits changes single tokens of drafts that are right, and sees what is
// reported. The table of all edits is testdata/edits.txt; the published drafts
// are edited as a whole only with -whole or -update, else one edit in fifty.
func TestEdits(t *testing.T) {
	examples, err := filepath.Glob("../examples/*.rnd")
	if err != nil || len(examples) == 0 {
		t.Fatal(len(examples), err)
	}
	var right []string
	files, err := filepath.Glob("../testdata/published/*.rnd")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		if text, err := os.ReadFile(name); err != nil || len(source(t, string(text), Options{}).Findings) == 0 {
			right = append(right, name)
		}
	}
	if len(right) < 30 {
		t.Fatalf("only %d published drafts are right", len(right))
	}
	ours := tallyOf(t, 1, examples)
	ours.check(t)
	if !*whole && !*update {
		tallyOf(t, 50, right).check(t)
	}
	var b strings.Builder
	fmt.Fprintf(&b, `Every edit of one token, in drafts in which there is nothing to report: each token
is dropped, and doubled, a number made one more and one less, a stitch changed
for another. Written by go test ./check -run TestEdits -update.

== examples: %d drafts
`, len(examples))
	ours.write(&b)
	const rest = "\n== testdata/published"
	if *whole || *update {
		published := tallyOf(t, 1, right)
		published.check(t)
		fmt.Fprintf(&b, rest+": %d drafts\n", len(right))
		published.write(&b)
		golden(t, "edits.txt", b.String())
		return
	}
	want, err := os.ReadFile("testdata/edits.txt")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(want), rest)
	if diff := gocmp.Diff(head, b.String()); diff != "" {
		t.Errorf("testdata/edits.txt (-want +got):\n%s", diff)
	}
}
