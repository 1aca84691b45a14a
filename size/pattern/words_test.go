package pattern_test

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
	"example.com/roundel/size/pattern"
)

var update = flag.Bool("update", false, "write the golden files anew")

// everyDraft does something with every draft that comes with the project.
func everyDraft(t *testing.T, do func(t *testing.T, d *notation.Draft, g *model.Graph)) {
	t.Helper()
	for _, file := range drafts(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, g, _ := built(t, string(text))
			do(t, d, g)
		})
	}
}

func plain(t rapid.TB, p *pattern.Pattern) string {
	t.Helper()
	var b bytes.Buffer
	if err := p.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// own are the words of a draft that stand in its pattern as they are.
func own(d *notation.Draft) *strings.Replacer {
	list := []string{d.Title(), strings.Repeat("=", len(d.Title()))}
	for y := range d.Yarns() {
		list = append(list, y.Name.Text, y.Label)
	}
	slices.SortFunc(list, func(a, b string) int { return len(b) - len(a) }) // a label may begin with a name
	var pairs []string
	for _, words := range list {
		if words != "" {
			pairs = append(pairs, words, "")
		}
	}
	return strings.NewReplacer(pairs...)
}

// TestTerms: no word of the other terms is left in a text, and the words that
// differ are those of testdata/terms.csv.
func TestTerms(t *testing.T) {
	// What only one of the two has, with the stitches formed from its names.
	only := [2][]string{notation.US: {"color", "center", "neighboring"}, notation.UK: {"colour", "centre", "neighbouring"}}
	inBoth := map[string]bool{}
	us, uk := names(t, notation.US), names(t, notation.UK)
	for name := range us {
		if uk[name] != "" {
			inBoth[name] = true
		} else {
			only[notation.US] = append(only[notation.US], name)
		}
	}
	for name := range uk {
		if !inBoth[name] {
			only[notation.UK] = append(only[notation.UK], name)
		}
	}
	for _, row := range termRows(t) {
		if shared := regexp.MustCompile(`double (crochet|treble)`); row[0] != row[2] && !shared.MatchString(row[0]+" "+row[2]) {
			only[notation.US] = append(only[notation.US], row[0])
			only[notation.UK] = append(only[notation.UK], row[2])
		}
	}
	only[notation.US] = append(only[notation.US], "sl st", "sk", "yo", "gauge", "skip", "single crochet")
	only[notation.UK] = append(only[notation.UK], "ss", "miss", "yrh", "tension")
	patterns := [2]*regexp.Regexp{}
	for terms, words := range only {
		for i := range words {
			words[i] = regexp.QuoteMeta(words[i])
		}
		patterns[terms] = regexp.MustCompile(`(?i)(?:\b|[FB]P)(?:` + strings.Join(words, "|") + `)(?:\d+tog)?s?\b`)
	}
	everyDraft(t, func(t *testing.T, d *notation.Draft, g *model.Graph) {
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			text := own(d).Replace(strings.Join(strings.Fields(plain(t, written(t, d, g, terms))), " "))
			if left := patterns[terms.Other()].FindAllString(text, -1); len(left) > 0 {
				t.Errorf("%s terms: %q left over", terms, left)
			}
		}
	})
}

// TestAbbreviations: those that are used are listed, and no others, with the
// meanings of testdata/terms.csv.
func TestAbbreviations(t *testing.T) {
	general := []string{"ch", "st", "sp", "rnd", "lp", "yo", "yrh", "RS", "WS", "BLO", "FLO", "sk", "cl"}
	everyDraft(t, func(t *testing.T, d *notation.Draft, g *model.Graph) {
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			known := slices.Clone(general)
			for name := range names(t, terms) {
				known = append(known, name)
			}
			p := written(t, d, g, terms)
			listed := map[string]string{}
			var text strings.Builder
			for _, s := range p.Sections {
				if s.Heading == "Abbreviations" {
					for _, e := range s.Entries {
						listed[e.Term] = e.Text
					}
					continue
				}
				if slices.Contains([]string{"About this pattern", "Materials", "Finished size", "Gauge", "Tension", "Cautions"}, s.Heading) {
					continue
				}
				for _, e := range s.Entries {
					fmt.Fprintf(&text, " %s: %s", e.Term, e.Text)
				}
			}
			uses := func(abbreviation string) bool {
				return regexp.MustCompile(`(?i:\b` + abbreviation[:1] + `)` + regexp.QuoteMeta(abbreviation[1:]) + `s?\b`).MatchString(text.String())
			}
			for a := range listed {
				if !strings.ContainsAny(a, "[({-") && !uses(a) {
					t.Errorf("%s terms: %q is listed and not used", terms, a)
				}
			}
			for _, a := range known {
				switch {
				case slices.Contains([]string{"puff", "popcorn", "bobble", "bullion", "picot"}, a): // words
				case a == "rev" || listed[a] != "":
				case uses(a):
					t.Errorf("%s terms: %q is used and not listed", terms, a)
				}
			}
			for _, compound := range regexp.MustCompile(`\b(?:[FB]P[a-z]+|[a-z]+\d+tog)\b`).FindAllString(text.String(), -1) {
				if low := strings.ToLower(compound[:1]) + compound[1:]; listed[compound] == "" && listed[low] == "" {
					t.Errorf("%s terms: %q is used and not listed", terms, compound)
				}
			}
			for _, row := range termRows(t) {
				full, abbreviation := row[terms*2], row[terms*2+1]
				if got := listed[abbreviation]; got != "" && got != full {
					t.Errorf("%s terms: %s stands for %q, want %q", terms, abbreviation, got, full)
				}
			}
		}
	})
}

var figure = regexp.MustCompile(`\d+(?:\.\d+)?(?: \d/\d)?(?:/\d+)?`)

// TestFigures: every figure about sizes and amounts is in the draft, in the
// graph or in the sheet.
func TestFigures(t *testing.T) {
	everyDraft(t, func(t *testing.T, d *notation.Draft, g *model.Graph) {
		sheet, err := size.NewSheet(t.Context(), d, g)
		if err != nil {
			t.Fatal(err)
		}
		known := map[string]bool{}
		from := func(list ...any) {
			for _, f := range figure.FindAllString(fmt.Sprintln(list...), -1) {
				known[f] = true
			}
		}
		lengths := func(list ...size.Estimate[size.Length]) {
			for _, e := range list {
				from(e.Text(notation.Centimetre), e.Text(notation.Inch))
			}
		}
		from(sheet.Ends, sheet.Motifs, 100*sheet.Margin, d.Outline().Corners())
		for _, m := range sheet.Rounds {
			lengths(m.Across, m.Points, m.Side, m.Edge, m.Depth)
			from(m.Number, m.Corners)
		}
		for _, y := range sheet.Yarns {
			from(y.Buy.TextUp(notation.Metre), y.Buy.TextUp(notation.Yard), y.BuyWeight.TextUp(notation.Gram), y.BuyWeight.TextUp(notation.Ounce), y.Balls, y.BallsMost)
			from(fmt.Sprintf("%g", y.Tail.In(notation.Centimetre)), y.Tail.Text(notation.Inch))
		}
		if u := sheet.MadeUp; u != nil {
			for _, s := range u.Sizes {
				lengths(s.Size)
			}
			for _, f := range u.Fits {
				from(f.Size)
			}
		}
		if h, ok := size.HookNamed(sheet.Hook); ok {
			from(h.US, h.UK)
		}
		// What the draft says, as it says it and in the other unit.
		quantity := func(q notation.Quantity) {
			from(fmt.Sprintf("%g", q.Amount))
			if q.Unit != "" && !q.Unit.IsWeight() {
				lengths(size.Estimate[size.Length]{Low: size.Length(q.Value()), Expected: size.Length(q.Value()), High: size.Length(q.Value())})
			}
		}
		for y := range d.Yarns() {
			quantity(y.Length)
			quantity(y.Weight)
			for _, s := range y.Stretches {
				quantity(s.Length)
			}
		}
		if h := d.Hook(); h != nil {
			quantity(h.Size)
		}
		if q := d.Gauge(); q != nil {
			quantity(q.Over)
			quantity(q.Across)
			from(q.From, q.To, fmt.Sprintf("%g %g", q.Stitches, q.Rounds))
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			for _, s := range written(t, d, g, terms).Sections {
				if !slices.Contains([]string{"Materials", "Gauge", "Tension", "Finished size", "Finishing"}, s.Heading) {
					continue
				}
				for _, e := range s.Entries {
					for _, f := range figure.FindAllString(e.Text, -1) {
						if !known[f] {
							t.Errorf("%s terms: %s: %s: nobody knows of %s", terms, s.Heading, e.Text, f)
						}
					}
				}
			}
		}
	})
}

// TestGolden holds whole patterns against files that were read with care.
func TestGolden(t *testing.T) {
	for _, file := range []struct {
		name  string
		terms notation.Terms
		write func(*pattern.Pattern, *bytes.Buffer) error
	}{
		{"saltmarsh.md", notation.US, func(p *pattern.Pattern, b *bytes.Buffer) error { return p.WriteMarkdown(b) }},
		{"harbour.txt", notation.UK, func(p *pattern.Pattern, b *bytes.Buffer) error { return p.WriteText(b) }},
		{"spindrift.txt", notation.US, func(p *pattern.Pattern, b *bytes.Buffer) error { return p.WriteText(b) }},
	} {
		t.Run(file.name, func(t *testing.T) {
			name, _, _ := strings.Cut(file.name, ".")
			text, err := os.ReadFile(filepath.Join("..", "..", "examples", name+".rnd"))
			if err != nil {
				t.Fatal(err)
			}
			d, g, _ := built(t, string(text))
			var got bytes.Buffer
			if err := file.write(written(t, d, g, file.terms), &got); err != nil {
				t.Fatal(err)
			}
			golden := filepath.Join("testdata", file.name)
			if *update {
				if err := os.WriteFile(golden, got.Bytes(), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got.String()); diff != "" {
				t.Errorf("(-golden +got):\n%s", diff)
			}
		})
	}
}

// TestEscapes: what a draft says in its own words is no markup, and breaks no
// line.
func TestEscapes(t *testing.T) {
	d, g, _ := built(t, "motif \"*Foam* [x](y) <b> # _1_ `a` \\\\\"\nyarn sand_2 \"oat *2*\"\nring\nrnd 1 with sand_2: 8 sc in ring\n")
	text := markdown(t, pattern.New(d, g, nil, notation.US))
	for _, want := range []string{"# \\*Foam\\* [x]\\(y) \\<b> \\# \\_1\\_ \\`a\\` \\\\", "Fasten off.", "With sand\\_2, make"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
}

// TestEnds: the yarns that the text fastens off, each of which has two ends,
// leave as many as the sheet counts for a motif.
func TestEnds(t *testing.T) {
	everyDraft(t, func(t *testing.T, d *notation.Draft, g *model.Graph) { checkEnds(t, d, g) })
}

func TestEndsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, g, _ := built(t, drawDraft(t).text(false))
		checkEnds(t, d, g)
	})
}

func checkEnds(t rapid.TB, d *notation.Draft, g *model.Graph) {
	t.Helper()
	for _, r := range g.Rounds() {
		if r.Status != model.Worked || r.Len == 0 {
			return // the sheet leaves it out
		}
	}
	sheet, err := size.NewSheet(context.Background(), d, g)
	if err != nil {
		t.Fatal(err)
	}
	want, got := 0, 0
	for _, y := range sheet.Yarns {
		want += y.Ends
	}
	for _, r := range pattern.Rounds(d, g, notation.US) {
		if m := regexp.MustCompile(`Fasten off([^.]*)\.$`).FindStringSubmatch(r.Text); m != nil {
			got += 2 * (1 + strings.Count(m[1], ",") + strings.Count(m[1], " and ")) * (r.To - r.From + 1)
		}
	}
	if got != want {
		t.Errorf("%d ends by the text, %d by the sheet", got, want)
	}
}

// TestNothing: a draft without anything makes a pattern without rounds.
func TestNothing(t *testing.T) {
	p := pattern.New(&notation.Draft{}, &model.Graph{}, nil, notation.US)
	if got := plain(t, p); !strings.Contains(got, "Motif without a name") || strings.Contains(got, "Rnd") {
		t.Errorf("a pattern of nothing:\n%s", got)
	}
	if rounds := pattern.Rounds(&notation.Draft{}, &model.Graph{}, notation.UK); len(rounds) > 0 {
		t.Errorf("rounds of nothing: %v", rounds)
	}
}

// TestStartsOfSpiral: the notes of a spiral tell of no more starts than it has.
func TestStartsOfSpiral(t *testing.T) {
	const starts = "rnd is started"
	for _, test := range []struct{ draft, want string }{
		{"worked spiral\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\n", "Only the first rnd is started, and how is left to you; the others go on from it."},
		{"worked spiral\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st, fasten off\nrnd 3: sc in each st\n", "How a rnd is started that does not go on from the one before is left to you; before a first sc ch 1, which does not count."},
		{"worked spiral\nbegin chain uncounted\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\n", ""},
		{"ring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\n", "How a rnd is started is left to you; before a first sc ch 1, which does not count."},
	} {
		d, g, _ := built(t, test.draft)
		got := ""
		for _, e := range section(written(t, d, g, notation.US), "Notes") {
			if strings.Contains(e.Text, starts) {
				got += e.Text
			}
		}
		if got != test.want {
			t.Errorf("%s%q, want %q", test.draft, got, test.want)
		}
	}
}

// TestAsGiven: the lines of the header are quoted as they are written.
func TestAsGiven(t *testing.T) {
	d, g, _ := built(t, "yarn dusk, 100 m per 50 g, stretch 20 m, stretch 30.5 m colour \"#112233\", stretch 40 m \"rose\"\ngauge 3 dc by 1.5 rnds over 2.13 cm\nring\nrnd 1: 12 dc in ring\n")
	p := written(t, d, g, notation.US)
	yarn, gauge := section(p, "Materials")[0].Text, section(p, "Gauge")[0].Text
	if want := "in stretches of 20 m, #112233 (30.5 m) and rose (40 m),"; !strings.Contains(yarn, want) {
		t.Errorf("%q, want %q in it", yarn, want)
	}
	if want := "3 dc and 1.5 rnds to 2.13 cm (3/4 in)."; gauge != want {
		t.Errorf("%q, want %q", gauge, want)
	}
}

// TestClosing: what was narrowed down to a few stitches is drawn together, and
// nothing else is.
func TestClosing(t *testing.T) {
	const ball = "worked spiral\nlies cupped\nring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: [sc in next st, 2 sc in next st] around\nrnd 4: sc in each st\n"
	for _, test := range []struct {
		draft  string
		closed bool
	}{
		{ball + "rnd 5: [sc in next st, sc2tog] around\nrnd 6: [sc2tog] around\n", true},
		{ball + "rnd 5: [sc2tog] around\n", true},
		{ball + "rnd 5: [sc in next st, sc2tog] around\n", false}, // a wide opening
		{ball, false},                          // a cup
		{"ring\nrnd 1: 8 sc in ring\n", false}, // a disc
		{"ring\nrnd 1: 4 sc in ring\nrnd 2: 2 sc in each st\n", false},   // one of two rounds
		{ball + "rnd 5: [sc in next st, ch 9, sk 2 st] around\n", false}, // arches
		{ball + "rnd 5: [sc3tog] around, picot 3\n", false},              // an edging
	} {
		d, g, _ := built(t, test.draft)
		e := section(written(t, d, g, notation.UK), "Finishing")
		if closed := strings.HasPrefix(e[0].Text, "Close the hole in the last rnd: fill the piece first, if it is to be stuffed;"); closed != test.closed {
			t.Errorf("%s%v, want closed %v", test.draft, e, test.closed)
		}
	}
}

// TestSeries: many rounds that differ in their figures alone are one paragraph,
// which is read back; few are not, nor are those whose words differ. Rounds of the
// same steps have no figures in their words.
func TestSeries(t *testing.T) {
	const (
		first  = "begin chain counts\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\n"
		steps  = ": [(2 dc, corner ch 2, 2 dc) in corner, dc in each st] 4 times\n"
		square = first + "rnd 2-%d" + steps
		toSize = "gauge 14 dc by 7 rnds over 10 cm\n" + first + "rnd 2 until %s: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n"
	)
	apart := func(rounds int) string {
		text := first
		for i := 2; i <= rounds; i++ {
			text += fmt.Sprintf("rnd %d", i) + steps
		}
		return text
	}
	for _, test := range []struct {
		draft, label, want string
	}{
		{apart(8), "Rnds 3-7", "dc in next 7/11/15/19/23 sts, [(2 dc, corner ch 2, 2 dc) in next corner ch-2 sp, dc in next 7/11/15/19/23 sts] 3 times"},
		{apart(8), "Rnds 3-7", " (44/60/76/92/108 dc, 4 corner ch-2 sps, 11/15/19/23/27 dc per side)"},
		{apart(7), "Rnd 3", "dc in next 7 sts"},
		{"worked turned\n" + apart(8), "Rnd 3 (RS)", "dc in next "},
		{fmt.Sprintf(square, 8), "Rnds 3-7", "(dc, corner ch 2, 2 dc) in same sp, dc in each st to next corner, [(2 dc, corner ch 2, 2 dc) in next corner ch-2 sp, dc in each st to next corner] 3 times; join"},
		{fmt.Sprintf(square, 8), "Rnds 3-7", " (44/60/76/92/108 dc, 4 corner ch-2 sps, 11/15/19/23/27 dc per side)"},
		{fmt.Sprintf(square, 5), "Rnd 3", "dc in next 7 sts"},
		{fmt.Sprintf(toSize, "4 rnds"), "Rnd 3", "Ch 3 (counts as dc), [dc in each st to next corner, (2 dc, corner ch 2, 2 dc) in next corner ch-2 sp] 4 times, dc in each st to end; join"},
		{fmt.Sprintf(toSize, "side 30 cm"), "Rnds 3-10", "dc in each st to end; join with sl st to top of starting ch-3. (44/60/"},
		// Steps that go into so many stitches are written so.
		{first + "rnd 2: [dc in each st, (dc, corner ch 2, dc) in corner] 4 times\nrnd 3-8: [dc in next 2 st, dc in each st, (dc, corner ch 2, dc) in corner] 4 times\n", "Rnd 3", "dc in next 3 sts"},
	} {
		d, findings := notation.Parse("", test.draft)
		g, more, err := size.Build(t.Context(), d)
		if err != nil || len(findings)+len(more) > 0 {
			t.Fatal(err, findings, more)
		}
		p := written(t, d, g, notation.US)
		if !slices.ContainsFunc(section(p, "Instructions"), func(e pattern.Entry) bool {
			return e.Term == test.label && strings.Contains(e.Text, test.want)
		}) {
			t.Errorf("no %s with %q in %v", test.label, test.want, section(p, "Instructions"))
		}
		for _, terms := range []notation.Terms{notation.US, notation.UK} {
			if err := read(t, d, g, terms); err != nil {
				t.Error(err)
			}
		}
	}
}

// A panel of one motif is not joined, and a hat is measured by its edge.
func TestWordsOfPieces(t *testing.T) {
	for _, test := range []struct{ heading, text, want, not string }{
		{"Making up", "shape square\ngauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\npanel 1 by 1\n", "Block the motif:", "places"},
		{"Finished size", "lies cupped\ngauge 10 dc over 10 cm\nring\nrnd 1: 12 dc in ring\nrnd 2-9: dc in each st\n", "Round the edge", "Across"},
		{"Finished size", "lies cupped\ngauge 10 sc over 10 cm\nring\nrnd 1: 12 sc in ring\nrnd 2: 2 sc in each st\nrnd 3-9: sc in each st\nrnd 10: [sc in next st, sc2tog] around\n", "Round where it is widest, Rnds 3-9", "Across"},
	} {
		draft, _ := notation.Parse("", test.text)
		g, findings, err := size.Build(t.Context(), draft)
		if err != nil || len(findings) > 0 {
			t.Fatal(err, findings)
		}
		text := fmt.Sprint(section(written(t, draft, g, notation.US), test.heading))
		if !strings.Contains(text, test.want) || strings.Contains(text, test.not) {
			t.Errorf("%s: %s", test.heading, text)
		}
	}
}

// TestGroupsInRing: a group over the ring is written whole, with the chains in it,
// where the next group follows it without any.
func TestGroupsInRing(t *testing.T) {
	const corners = "[(2 dc, corner ch 2, 2 dc) in ring] "
	for _, test := range []struct{ draft, want string }{
		{"ring\nrnd 1: " + corners + "4 times\n", corners + "4 times; join"},
		{"begin chain counts\nring\nrnd 1: " + corners + "4 times\n", "(ch 3 (counts as dc), dc, corner ch 2, 2 dc) in ring, " + corners + "3 times; join"},
		{"ring\nrnd 1: [(2 dc) in ring, (2 dc) in ring, ch 1] 4 times\n", "[{(2 dc) in ring} 2 times, ch 1] 4 times; join"},
		{"ring\nrnd 1: [2 dc in ring, corner ch 2] 4 times\n", "[2 dc in ring, corner ch 2] 4 times; join"},
	} {
		d, g, _ := built(t, test.draft)
		if text := fmt.Sprint(section(written(t, d, g, notation.US), "Instructions")); !strings.Contains(text, test.want) {
			t.Errorf("no %q in %s", test.want, text)
		}
		if err := read(t, d, g, notation.US); err != nil {
			t.Error(err)
		}
	}
}
