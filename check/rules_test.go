package check

import (
	"context"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

func TestRuleDocs(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		t.Run(r.ID, func(t *testing.T) {
			if seen[r.ID] || r.Summary == "" || r.Doc.Text == "" || r.Severity == 0 {
				t.Errorf("rule is not fully documented, or documented twice")
			}
			seen[r.ID] = true
			failing, err := Source(context.Background(), "failing.rnd", r.Doc.Failing, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(failing.Findings) == 0 {
				t.Errorf("failing draft has no findings")
			}
			for _, f := range failing.Findings {
				t.Logf("%s: %s", f.Span, f.Text())
				if f.Rule != r.ID {
					t.Errorf("failing draft: %s: %s", f.Rule, f.Message)
				}
			}
			passing, _ := Source(context.Background(), "passing.rnd", r.Doc.Passing, Options{})
			for _, f := range passing.Findings {
				t.Errorf("passing draft: %s: %s", f.Rule, f.Message)
			}
		})
	}
}

func TestFindRule(t *testing.T) {
	for _, r := range Rules() {
		if got, ok := FindRule(Rules(), r.ID); !ok || got.ID != r.ID {
			t.Errorf("rule %s is not found", r.ID)
		}
	}
	if r, ok := FindRule(Rules(), "tideline"); ok {
		t.Errorf("found %s", r.ID)
	}
}

// TestPublishedErrors sees the rules find real errors: slips of printed
// patterns, at the step that cannot be worked and with the numbers that a
// worker would count.
func TestPublishedErrors(t *testing.T) {
	errors := []struct {
		rule, draft string
		line        int
		numbers     []string
	}{
		// 20 stitches, 3 to a repeat: 6 repeats use 18; 18 and 21 would fit.
		{"repeat-remainder", "beeton-doyley1-no11", 11, []string{"3", "20", "6", "18", "2", "21"}},
		// 112 stitches, 6 to a repeat: 18 repeats use 108.
		{"repeat-remainder", "beeton-tobacco-pouch-star-278", 22, []string{"6", "112", "18", "108", "4", "114"}},
		// Doubled three times and increased by half, 11 make 132, not 72.
		{"claim-count", "lwb-ring-mat", 17, []string{"72", "132"}},
		{"claim-count", "beeton-star-247", 11, []string{"8", "6"}},
		// Two spaces to a trefoil, of twelve; the book says twelve trefoils.
		{"claim-count", "beeton-daisy-250", 20, []string{"12", "6"}},
		// The book names only the stitches in the corner loops.
		{"unworked", "dillmont-square-tufts-474", 12, []string{"3"}},
		// A repeat of 23 bars, once and 23 times more, on 24 places.
		{"no-such-place", "dillmont-star-483-one-reading", 12, []string{"8"}},
		// The same six times make eight bars in one round, seven groups in the next.
		{"repeat-remainder", "dillmont-square-481-one-reading", 13, []string{"6", "24", "32", "4", "7"}},
	}
	seen := map[string]bool{}
	for _, e := range errors {
		seen[e.rule] = true
		t.Run(e.draft, func(t *testing.T) {
			r, err := File(context.Background(), published, e.draft+".rnd", Options{})
			if err != nil {
				t.Fatal(err)
			}
			at := slices.IndexFunc(r.Findings, func(f Finding) bool { return f.Rule == e.rule && f.Span.Start.Line == e.line })
			if at < 0 {
				t.Fatalf("no %s in line %d; findings: %v", e.rule, e.line, places(r.Findings))
			}
			f := r.Findings[at]
			t.Log(f.Text())
			if f.Severity != notation.Error {
				t.Errorf("severity %s", f.Severity)
			}
			for _, n := range e.numbers {
				if !regexp.MustCompile(`\b` + n + `\b`).MatchString(f.Message) {
					t.Errorf("%q does not give the number %s", f.Message, n)
				}
			}
		})
	}
	// The table has every rule that a published draft breaks.
	files, err := fs.Glob(published, "*.rnd")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d published drafts, %v", len(files), err)
	}
	for _, name := range files {
		// A shape that only blocking makes flat is no error; TestCorpus has it.
		r, err := File(context.Background(), published, name, Options{Rules: rules})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Findings {
			if !seen[f.Rule] {
				t.Errorf("%s:%s breaks %s, which has no published error in the table above", name, f.Span.Start, f.Rule)
				seen[f.Rule] = true
			}
		}
	}
}

var published = os.DirFS("../testdata/published")

// TestReportedErrors: errors of printed patterns that are known from reports,
// one round each; what that round stands on is ours. Source of the first five:
// crochetbouquet.co.uk, week-three squares nine and twelve, in UK terms.
func TestReportedErrors(t *testing.T) {
	const twelve = "terms uk\nring ch 6\nrnd 1: [tr in ring, ch 1] 12 times = 12 tr\n"
	for _, e := range []struct {
		name, rule, text string
		line             int
		numbers          []string
	}{
		// Three trebles, and then "3 tr, 2 ch" repeated three times from the
		// star, are 12 only if three times is all; once and three more is 15.
		{"how often is three times", "claim-count", "terms uk\nring\nrnd 1: 3 tr in ring, ch 2, [3 tr in ring, ch 2] 4 times = 12 tr, 4 sp\n", 3, []string{"12", "15"}},
		// The first corner has a treble more than the three others.
		{"one corner unlike the others", "square-rotation", "terms uk\nshape square\nring\nrnd 1: [3 tr in ring, corner ch 2] 4 times = 12 tr\n" +
			"rnd 2: (3 tr, corner ch 2, 3 tr) in corner, [(3 tr, corner ch 2, 2 tr) in corner] 3 times\n", 5, []string{"4", "5", "6"}},
		// Worked between clusters of "2 tr", which have three.
		{"clusters that are not there", "skip-miss", twelve + "rnd 2: [3 tr in next sp] around = 36 tr\nrnd 3: [3 tr in next gap, ch 1, sk 2 tr] around\n", 5, []string{"1", "3"}},
		// 36 trebles and 12 chains, called 48 stitches.
		{"chains counted as stitches", "claim-count", twelve + "rnd 2: [3 tr in next sp] around = 36 tr\nrnd 3: [3 tr in next gap, ch 1, sk 3 tr] around = 48 st\n", 5, []string{"48", "36"}},
		{"a round left empty", "syntax", twelve + "rnd 2: [3 tr in next sp] around = 36 tr\nrnd 3:\n", 5, nil},
		// "Ch 4" that counts as a stitch and a chain, and is one number in the
		// text. (mariescozycorner.blogspot.com, 4 Mar 2009: a chain longer than
		// the stitch is a stitch and a space.)
		{"a stitch and a space in one chain", "starting-chain", "ring ch 4\nrnd 1: ch 4 as dc, [dc in ring, ch 1] 11 times\n", 2, []string{"1", "3"}},
		// Terms of knitting in a crochet pattern; which of them is not said.
		// (bellacrochet.blogspot.com, "Writing a Workable Crochet Pattern", part 2,
		// 26 Jan 2011)
		{"a term of knitting", "unknown-stitch", "ring\nrnd 1: 12 dc in ring\nrnd 2: [k2tog over next 2 st, ch 1] around\n", 3, nil},
		// A round closed one stitch off, which twists the square.
		// (girlgoingcountry.com, 2013)
		{"a round closed one stitch off", "corner-drift", "shape square\nring\nrnd 1: [2 dc in ring, corner dc in ring] 4 times\n" +
			"rnd 2: [dc in next st, (2 dc, corner dc, 2 dc) in next st, dc in next st] 4 times\n", 4, []string{"1"}},
	} {
		t.Run(e.name, func(t *testing.T) {
			r := source(t, e.text, Options{})
			if len(r.Findings) != 1 || r.Findings[0].Rule != e.rule || r.Findings[0].Span.Start.Line != e.line {
				t.Fatalf("findings %v, want %s in line %d", r.Findings, e.rule, e.line)
			}
			for _, n := range e.numbers {
				if text := r.Findings[0].Message; !regexp.MustCompile(`\b` + n + `\b`).MatchString(text) {
					t.Errorf("%q does not give the number %s", text, n)
				}
			}
		})
	}
}

// TestEdging: an edging that runs over the sides of a small square, ten dc and
// three chains each, and takes in the first of the two stitches of round 1 that
// show between two sides: every third of 15 places. Source: The Ladies'
// Work-Book, anonymous, undated (about 1850s), Project Gutenberg #16605, motifs
// e and g.
func TestEdging(t *testing.T) {
	const text = `shape square
ring ch 10
rnd 1: [2 sc in ring, ch 7] 4 times = 8 sc, 4 sp
rnd 2: [(5 dc, corner ch 3, 5 dc) in next sp] 4 times = 40 dc, 4 corners
rnd 3: [sk 1 dc, sc in next dc, ch 5, sk 2 dc, sc in next dc, ch 5, sk 2 ch, sc in next ch, ch 5,
  sk 2 dc, sc in next dc, ch 5, sk 2 dc, sc in next sc of rnd 1, ch 5] 4 times = 20 sc, 20 sp
`
	r := source(t, text, Options{})
	wantPlaces(t, "findings", r.Findings, nil)
	var first, reached []int
	for s := range r.Graph.Stitches(0) {
		if s.Kind == "sc" {
			first = append(first, s.ID)
		}
	}
	for s := range r.Graph.Stitches(2) {
		for p := range r.Graph.Into(s.ID) {
			if r.Graph.Stitch(p.Stitch).Round == 0 {
				reached = append(reached, p.Stitch)
			}
		}
	}
	// The first loop of round 1 stands between its second and its third stitch.
	if want := []int{first[2], first[4], first[6], first[0]}; !slices.Equal(reached, want) {
		t.Errorf("works into the stitches %v of round 1, want %v", reached, want)
	}
	for _, slip := range [][2]string{{"[sk 1 dc", "[sk 2 dc"}, {"sk 2 ch", "sk 3 ch"}, {"ch 5] 4", "ch 5] 3"}, {"sk 2 dc, sc in next sc", "sk 1 dc, sc in next sc"}} {
		if r := source(t, strings.Replace(text, slip[0], slip[1], 1), Options{}); len(r.Findings) == 0 {
			t.Errorf("nothing is found with %q", slip[1])
		}
	}
}

// TestStagesAreRules sees that nothing is lost between the stages and the
// rules: whatever is found while a draft is read and worked belongs to a rule
// that passes it on.
func TestStagesAreRules(t *testing.T) {
	texts := map[string]string{
		"range without rounds": "ring\nrnd 1: 12 dc in ring\nrnd 2-4: dc in each st = 12/12 dc\n",
		"late header":          "ring\nrnd 1: 12 dc in ring\nyarn sand\n",
		"twice":                "ring\nring ch 4\nrnd 1: 12 dc in ring\n",
		"group of groups":      "stitch fan = (fan, dc)\nring\nrnd 1: [fan in ring] 4 times\n",
		"turned":               "worked turned\nring\nrnd 1: 12 dc in ring\nrnd 2: [sk 2 st, dc in next sp] around\n",
		"no steps":             "ring\nrnd 1:\nrnd 2: as rnd 7\n",
		"lies":                 "lies down\nhook 5 kg\ngauge 14 zz over 10 cm\nring\nrnd 1: 12 dc in ring\n",
		"earlier rounds":       "ring\nrnd 1: 12 dc in ring\nrnd 2: dc in next sp of rnd 9\n",
		"brackets":             "ring\nrnd 1: " + strings.Repeat("[", 99) + "\n",
	}
	for _, r := range Rules() {
		texts[r.ID] = r.Doc.Failing
	}
	found := map[string]bool{}
	for name, text := range texts {
		draft, list := notation.Parse("draft.rnd", text)
		_, more, err := size.Build(context.Background(), draft, model.WithFound(list))
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, more...)
		for _, f := range list {
			found[f.Rule] = true
			if !known(Rules(), f.Rule) {
				t.Errorf("%s: no rule %s, so that %q is lost", name, f.Rule, f.Message)
			}
		}
		reported := source(t, text, Options{}).Findings
		// What is held back is counted in the finding it would echo.
		lost, held := 0, 0
		for _, f := range notation.SortFindings(list) {
			same := func(g Finding) bool { return f.Rule == g.Rule && f.Span == g.Span && f.Message == g.Message }
			if !slices.ContainsFunc(reported, same) {
				lost += 1 + f.Held
			} else {
				lost += f.Held
			}
		}
		for _, f := range reported {
			held += f.Held
		}
		if lost != held {
			t.Errorf("%s: %d findings are not reported, %d are said to be held back", name, lost, held)
		}
	}
	// And no rule waits for findings that no stage makes.
	for _, r := range Rules() {
		ofCheck := []string{"unused-name", "no-rounds", "past-end", "starting-chain", "spiral-join", "border-scant", "neck-small", "allow-reason", "allow-unused"}
		if !found[r.ID] && !slices.Contains(ofCheck, r.ID) && !known(shapeRules, r.ID) {
			t.Errorf("nothing is found for the rule %s", r.ID)
		}
	}
}

func TestUnusedName(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"yarn never used", "yarn sand\nyarn reed\nring\nrnd 1 with sand: 12 dc in ring\n", []string{"2 unused-name"}},
		{"two of them", "yarn sand\nyarn reed\nyarn slate\nring\nrnd 1 with reed: 12 dc in ring\n", []string{"1 unused-name", "3 unused-name"}},
		{"only yarn, never named", "yarn sand\nring\nrnd 1: 12 dc in ring\n", nil},
		{"first round takes the first yarn", "yarn sand\nyarn reed\nring\nrnd 1: 12 dc in ring\nrnd 2 with reed: dc in each st\n", nil},
		{"later rounds do not", "yarn sand\nyarn reed\nring\nrnd 1 with reed: 12 dc in ring\nrnd 2: dc in each st\n", []string{"1 unused-name"}},
		{"yarn changed within a round", "yarn sand\nyarn reed\nring\nrnd 1: 6 dc in ring, with reed, 6 dc in ring\n", nil},
		{"yarn changed within a repeat", "yarn sand\nyarn reed\nring\nrnd 1: [dc in ring, with reed, dc in ring, with sand] 6 times\n", nil},
		{"letter case", "yarn Sand\nyarn reed\nring\nrnd 1 with SAND: 12 dc in ring\nrnd 2 with Reed: dc in each st\n", nil},
		{"no yarns at all", "ring\nrnd 1: 12 dc in ring\n", nil},

		{"group never used", "stitch fan = (dc, ch 1, dc)\nring\nrnd 1: 12 dc in ring\n", []string{"1 unused-name"}},
		{"group used", "stitch fan = (dc, ch 1, dc)\nring\nrnd 1: [fan in ring] 4 times\n", nil},
		{"group used in a repeat of repeats", "stitch fan = (dc, ch 1, dc)\nring\nrnd 1: [[fan in ring] 2 times] 2 times\n", nil},
		{"group used in a group", "stitch fan = (dc, ch 1, dc)\nstitch shore = (fan, ch 2, fan)\nring\nrnd 1: [shore in ring] 4 times\n", nil},
		{"group used in an unused group", "stitch fan = (dc, ch 1, dc)\nstitch shore = (fan, ch 2, fan)\nring\nrnd 1: 12 dc in ring\n", []string{"2 unused-name"}},
		{"group of its own name", "stitch shell = (dc, ch 1, dc)\nring\nrnd 1: [shell in ring] 4 times\n", nil},
		{"group in another letter case", "stitch fan = (dc, ch 1, dc)\nring\nrnd 1: [FAN in ring] 4 times\n", nil},

		// One slip, one finding: the name that seems unused is the one meant.
		{"misspelt yarn", "yarn sand\nring\nrnd 1 with snad: 12 dc in ring\n", []string{"3 unknown-yarn"}},
		{"misspelt yarn beside an unused one", "yarn sand\nyarn reed\nring\nrnd 1 with snad: 12 dc in ring\n", []string{"2 unused-name", "4 unknown-yarn"}},
		{"yarn of quite another name", "yarn sand\nring\nrnd 1 with tidewrack: 12 dc in ring\n", []string{"3 unknown-yarn"}},
		{"misspelt group", "stitch petal = (dc, ch 1, dc)\nring\nrnd 1: [petla in ring] 4 times\n", []string{"3 unknown-stitch"}},
		{"misspelt group beside an unused one", "stitch petal = (dc, ch 1, dc)\nstitch leaf = (tr, ch 1, tr)\nring\nrnd 1: [petla in ring] 4 times\n", []string{"2 unused-name", "4 unknown-stitch"}},
		{"group of quite another name", "stitch petal = (dc, ch 1, dc)\nring\nrnd 1: [qq in ring] 4 times\n", []string{"3 unknown-stitch"}},
		{"misspelt stitch", "stitch petal = (dc, ch 1, dc)\nring\nrnd 1: 12 dd in ring\n", []string{"1 unused-name", "3 unknown-stitch"}},
		{"a round that cannot be read", "yarn sand\nyarn reed\nstitch fan = (dc, ch 1, dc)\nring\nrnd 1: 12 dc in ring\nrnd 2 with: fan in each st\n", []string{"6 syntax"}},
		{"a line that cannot be read", "yarn sand\nyarn reed\nring\nround 1: 12 dc in ring\n", []string{"4 syntax"}},
		{"a header line that cannot be read", "yarn sand\nyarn reed\nstich fan = (dc, ch 1, dc)\nring\nrnd 1: 12 dc in ring\n", []string{"3 syntax"}},
		{"a gauge past the end", "gauge rnds 1-9 = 10 cm across\nring\nrnd 1: 12 dc in ring\n", []string{"1 past-end"}},
		{"a weight past the end", "weighed rnds 1-3 = 9 g\nring\nrnd 1: 12 dc in ring\n", []string{"1 past-end"}},
		{"up to the end", "gauge rnds 1-1 = 4 cm across\nweighed rnds 1-1 = 2 g\nring\nrnd 1: 12 dc in ring\n", nil},
		{"past a round that is not read", "weighed rnds 1-2 = 9 g\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in\n", []string{"4 syntax"}},
		{"no rounds yet", "yarn sand\nstitch fan = (dc, ch 1, dc)\nring\n", []string{"3 no-rounds"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			wantPlaces(t, "findings", source(t, test.text, Options{Rules: rules}).Findings, test.want)
		})
	}
}

func TestStartingChain(t *testing.T) {
	const first = "yarn sand\nyarn reed\nring\nrnd 1 with sand: [3 dc in ring, corner ch 2] 4 times\n"
	tests := []struct {
		name, round string
		want        []string
	}{
		{"first", "ch 3 as dc, dc in next 2 st, [dc in corner, dc in next 3 st] 3 times, dc in corner", nil},
		{"first in a group", "(ch 3 as dc, 2 dc, ch 2, 3 dc) in corner, [(3 dc, ch 2, 3 dc) in corner] 3 times", nil},
		{"first in a repeat of once", "[ch 3 as dc, dc in next 2 st] 1 times, [dc in corner, dc in next 3 st] 3 times, dc in corner", nil},
		{"after slip stitches", "sl st in next 2 st, ch 3 as dc, [dc in corner, dc in next 3 st] 3 times, dc in corner", nil},
		{"after a skip", "sk 1 st, ch 3 as dc, dc in next st, [dc in corner, dc in next 3 st] 3 times, dc in corner, dc in next st", nil},
		{"after a turn", "turn, ch 3 as dc in next sp, 2 dc in same, [3 dc in next sp] 3 times", nil},
		{"with another yarn", "[3 dc in next sp] 2 times, with reed, ch 3 as dc in next sp, 2 dc in same, 3 dc in next sp", nil},
		{"as in a book of 1886", "ch 5 as tr, dc in next 2 st, [dc in corner, dc in next 3 st] 3 times, dc in corner", nil},
		{"a chain less", "ch 2 as dc, dc in next 2 st, [dc in corner, dc in next 3 st] 3 times, dc in corner", nil},

		{"late", "[3 dc in next sp] 3 times, ch 3 as dc in next sp, 2 dc in same", []string{"5 starting-chain"}},
		{"last in a group", "(dc, ch 3 as dc) in next sp, [2 dc in next sp] 3 times", []string{"5 starting-chain"}},
		{"after chains", "ch 2, ch 3 as dc in next sp, [2 dc in next sp] 3 times", []string{"5 starting-chain"}},
		{"in a repeat", "[ch 3 as dc in next sp, 2 dc in same] 4 times", []string{"5 starting-chain"}},
		{"in a repeat of a repeat", "[[ch 3 as dc in next sp] 1 times, 2 dc in same] 4 times", []string{"5 starting-chain"}},
		{"too short", "ch 1 as dc, dc in next 2 st, [dc in corner, dc in next 3 st] 3 times, dc in corner", []string{"5 starting-chain"}},
		{"too long", "ch 4 as dc, dc in next 2 st, [dc in corner, dc in next 3 st] 3 times, dc in corner", []string{"5 starting-chain"}},
		{"too long for a tall one", "ch 6 as tr, dc in next 2 st, [dc in corner, dc in next 3 st] 3 times, dc in corner", []string{"5 starting-chain"}},
		{"too long for a short one", "ch 2 as sc, sc in next 2 st, [sc in corner, sc in next 3 st] 3 times, sc in corner", []string{"5 starting-chain"}},
		{"no stitch", "ch 3 as dd, dc in next 2 st, [dc in corner, dc in next 3 st] 3 times, dc in corner", []string{"5 unknown-stitch"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			wantPlaces(t, "findings", source(t, first+"rnd 2 with sand: "+test.round+"\n", Options{Rules: slices.DeleteFunc(slices.Clone(rules), func(r Rule) bool { return r.ID == "unused-name" })}).Findings, test.want)
		})
	}
	// In a named group, and in the words of the draft.
	r := source(t, "terms uk\nstitch fan = (tr, ch 5 as tr)\nring\nrnd 1: ch 5 as tr, [fan in ring] 4 times\n", Options{Rules: rules})
	wantPlaces(t, "findings", r.Findings, []string{"2 starting-chain", "4 starting-chain"})
	const want = "a starting chain that counts as tr is ch 3, and this one is 2 longer; where the rest is a chain space, write ch 3 as tr, ch 2"
	if got := r.Findings[1].Message; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

func TestSpiralJoin(t *testing.T) {
	const head = "worked spiral\nyarn sand\nyarn reed\nring\nrnd 1 with sand: 6 sc in ring"
	tests := []struct {
		name, rest string
		want       []string
	}{
		{"no join", "\nrnd 2: 2 sc in each st\nrnd 3-4: sc in each st\n", nil},
		{"at the end", "\nrnd 2: 2 sc in each st\nrnd 3: sc in each st, join\n", nil},
		{"before another yarn", "\nrnd 2: 2 sc in each st, join\nrnd 3 with reed: sc in each st\n", nil},
		{"before a start of its own", "\nrnd 2: 2 sc in each st, join\nrnd 3, chain uncounted: sc in each st\n", nil},
		{"before a starting chain", "\nrnd 2: 2 sc in each st, join\nrnd 3: ch 3 as dc, dc in each st\n", nil},
		{"the yarn is cut", "\nrnd 2: 2 sc in each st, join, fasten off\nrnd 3 with reed: sc in each st\n", nil},
		{"turned once it is joined at the end", "\nrnd 2: 2 sc in each st, join, turn\n", nil},

		{"within", "\nrnd 2: 2 sc in each st, join\nrnd 3: sc in each st\n", []string{"6 spiral-join"}},
		{"before the same yarn, named", "\nrnd 2: 2 sc in each st, join invisible\nrnd 3 with SAND: sc in each st\n", []string{"6 spiral-join"}},
		{"in a range", "\nrnd 2: 2 sc in each st\nrnd 3-4: sc in each st, join\n", []string{"7 spiral-join"}},
		{"told once", ", join\nrnd 2: 2 sc in each st, join\nrnd 3: sc in each st, join\n", []string{"5 spiral-join"}},
		{"each with a starting chain", ", join\nrnd 2: ch 1 as sc, sc in same, 2 sc in each st, join\nrnd 3: ch 1 as sc, sc in each st, join\n", []string{"5 spiral-join"}},
		{"turned", "\nrnd 2: 2 sc in each st, turn\nrnd 3: sc in each st\n", []string{"6 spiral-join"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			wantPlaces(t, "findings", source(t, head+test.rest, Options{Rules: slices.DeleteFunc(slices.Clone(rules), func(r Rule) bool { return r.ID == "unused-name" })}).Findings, test.want)
		})
	}
	// The number of rnd next is that of the rounds as they are worked.
	f := source(t, head+"\nrnd next 2: 2 sc in each st\nrnd next: sc in each st, join\nrnd next: sc in each st\n", Options{}).Findings
	i := slices.IndexFunc(f, func(f Finding) bool { return f.Rule == "spiral-join" })
	if i < 0 || f[i].Round != 4 || !strings.Contains(f[i].Message, "round 4 is joined") {
		t.Errorf("got %+v, want a join of round 4", f)
	}
}

func TestNoRounds(t *testing.T) {
	r := source(t, "motif \"Tideline\"\nring\n", Options{})
	wantPlaces(t, "findings", r.Findings, []string{"2 no-rounds"})
	if got := r.Findings[0].Span.String(); got != "2:5-2:5" {
		t.Errorf("the rounds are missing at %s, want the end of the last line", got)
	}
	// Where the rounds may be what could not be read, that is the one fault.
	for _, text := range []string{
		"ring\nround 1: 12 dc in ring\n",
		"ring\nrnd: 12 dc in ring\n",
		strings.Repeat("#", notation.DefaultBytes+1),
	} {
		for _, f := range source(t, text, Options{}).Findings {
			if f.Rule == "no-rounds" {
				t.Errorf("%.40q: %s", text, f.Text())
			}
		}
	}
}
