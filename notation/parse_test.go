package notation

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

func messages(findings []Finding) []string {
	var list []string
	for _, f := range findings {
		list = append(list, fmt.Sprintf("%s %s: %s", f.Span.Start, f.Rule, f.Message))
	}
	return list
}

// TestBytes are slips that a text file cannot show.
func TestBytes(t *testing.T) {
	for name, tt := range map[string]struct {
		text string
		want []string
	}{
		"Latin-1":                           {"motif \"K\xfcste\"", []string{`1:7 syntax: this is not UTF-8 text ("K\xfcste"); save the draft as UTF-8`}},
		"Latin-1 in a name":                 {"yarn k\xfcste", []string{`1:7 syntax: this is not UTF-8 text (\xfc); save the draft as UTF-8`}},
		"Latin-1 in a comment":              {"ring # K\xfcste", nil},
		"UTF-16":                            {"\xff\xfer\x00i\x00n\x00g\x00\n\x00", []string{"1:1 syntax: this is UTF-16 text; save the draft as UTF-8"}},
		"NUL":                               {"ring\x00", []string{`1:5 syntax: "U+0000" has no meaning in a draft; only letters, digits, and , : = / - ( ) [ ] do, and text in quotes`}},
		"control in quotes":                 {"motif \"a\x07b\"", []string{"1:7 syntax: this text in quotes holds a control character; take it out"}},
		"return in quotes":                  {"motif \"a\rb\"", []string{"1:7 syntax: this text in quotes holds a control character; take it out"}},
		"tab in quotes":                     {"motif \"a\tb\"", nil},
		"unclosed, two-character line ends": {"motif \"a  \r\nring\r\n", []string{`1:7 syntax: this text in quotes is not closed; put " at its end`}},
		"no-break space":                    {"hook\u00a05 mm", []string{`1:5 syntax: "U+00A0" has no meaning in a draft; only letters, digits, and , : = / - ( ) [ ] do, and text in quotes`}},
		"emoji":                             {"\U0001f9f6", []string{"1:1 syntax: \"\U0001f9f6\" (U+1F9F6) has no meaning in a draft; only letters, digits, and , : = / - ( ) [ ] do, and text in quotes"}},
		"turned in quotes":                  {"motif \"a\u2067b\"", []string{"1:9 syntax: U+2067 turns the writing round from here on, and nothing turns it back before the text ends: it would be seen otherwise than it is read; take the character out"}},
		"turned and back":                   {"motif \"a\u2067b\u2069\" # \u202bab\u202c", nil},
		"turned in an isolate":              {"# a\u2067b\u202bc\u2069", nil},
		"turned back in an isolate":         {"# a\u202bb\u2067c\u202c\u2069", []string{"1:4 syntax: U+202B turns the writing round from here on, and nothing turns it back before the text ends: it would be seen otherwise than it is read; take the character out"}},
		"a long name":                       {"rnd 1: " + strings.Repeat("x", 5000), []string{"1:8 unknown-stitch: no stitch is called xxxxxxxxxxxxxxxxxxxxxxxx...; a group of your own is named in the header: stitch xxxxxxxxxxxxxxxxxxxxxxxx... = (dc, ch 1, dc)"}},
		"a long number":                     {"rnd " + strings.Repeat("9", 10_000) + ": dc", []string{"1:5 limit: 999999999999999999999999... is more than any piece has; the largest number is 2,147,483,647"}},
		"zeros before":                      {"rnd 007: dc in next 010 st", nil},
		"a byte order mark inside":          {"ring\n\ufeffrnd 1: dc", nil},
	} {
		t.Run(name, func(t *testing.T) {
			d, findings := Parse("", tt.text)
			if diff := cmp.Diff(tt.want, messages(findings)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			checkDraft(t, tt.text, d, findings)
		})
	}
	d, _ := Parse("", "rnd 007: dc in next 010 st")
	if got := Format(d); got != "rnd 7: dc in next 10 st\n" {
		t.Errorf("digits are decimal, got %s", got)
	}
}

// TestRecovery: several slips in one draft are all reported in one pass, each
// once, and cost no more than the statement they stand in.
func TestRecovery(t *testing.T) {
	text := `motif "Tideline square
terms us
shape sqare
yarn sand
yarn reed, colour "green"
stitch fan = (2 dc, ch 1, 2 dc
hook 5 foot
ring

rnd 1 with sand: [3 dc in ring, corner ch 2 4 times = 12 dc
rnd 2 with snad: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 28 dc # this one is read
# a note
rnd 3: [dc in next st, dd in next st] around = 44 dc
rnd 4 dc in each st = 44 dc
rnd 5: 2 dc in next 2 st, fan in next st
rnd 6: [dc in next st,
	ch 1
allow claim-count "counted by hand"
rnd 7: * dc in next st, ch 1, repeat from *
`
	d, findings := Parse("", text)
	want := []string{
		`1:7 syntax: this text in quotes is not closed; put " at its end`,
		`3:7 syntax: shape cannot be "sqare"; it is one of free, circle, triangle, square, pentagon, hexagon, octagon; did you mean square?`,
		`5:12 syntax: a colour is written as # and six hexadecimal digits: colour "#d8c6a0"`,
		`6:14 syntax: this ( is never closed; put ) where the group ends`,
		`7:8 syntax: "foot" is not a unit that fits here; use mm, cm, in, m or yd`,
		`10:45 syntax: a ] is missing before "4"`,
		`11:12 unknown-yarn: no yarn is called snad; did you mean sand?`,
		`13:24 unknown-stitch: no stitch is called dd; did you mean dc?`,
		`14:7 syntax: a colon is missing before "dc": rnd 2: dc in each st`,
		`15:8 syntax: 2 dc in next 2 st can be read two ways; say dc in next 2 st for one in each, or 2 dc in each of next 2 st for 2 in each`,
		`16:8 syntax: this [ is never closed; put ] where the repeat ends`,
		`19:8 syntax: * does not mark a repeat here; write [ ... ] 4 times, or [ ... ] around`,
	}
	if diff := cmp.Diff(want, messages(findings)); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	checkDraft(t, text, d, findings)

	var rounds []string
	for r := range d.Rounds() {
		yarn, claim := "", 0
		if r.Yarn != nil {
			yarn = r.Yarn.Text
		}
		if r.Claim != nil {
			claim = r.Claim.Items[0].Counts[0]
		}
		rounds = append(rounds, fmt.Sprintf("rnd %d yarn %q claim %d steps %d broken %t", r.From, yarn, claim, len(r.Steps), r.Broken))
	}
	wantRounds := []string{
		`rnd 1 yarn "sand" claim 12 steps 0 broken true`,
		`rnd 2 yarn "snad" claim 28 steps 1 broken false`,
		`rnd 3 yarn "" claim 44 steps 1 broken false`,
		`rnd 4 yarn "" claim 44 steps 0 broken true`,
		`rnd 5 yarn "" claim 0 steps 2 broken false`,
		`rnd 6 yarn "" claim 0 steps 0 broken true`,
		`rnd 7 yarn "" claim 0 steps 0 broken true`,
	}
	if diff := cmp.Diff(wantRounds, rounds); diff != "" {
		t.Errorf("rounds (-want +got):\n%s", diff)
	}
	for _, f := range findings {
		want := map[int]int{10: 1, 11: 2, 13: 3, 14: 4, 15: 5, 16: 6, 19: 7}[f.Span.Start.Line]
		if f.Round != want {
			t.Errorf("%s: %s: in round %d, want %d", f.Span, f.Message, f.Round, want)
		}
	}
	// The formatter lays out what was read and leaves alone what was not.
	formatted := Format(d)
	for _, kept := range []string{"shape sqare", `colour "green"`, "hook 5 foot", "2 dc in next 2 st", "# a note", "[dc in next st,\n\tch 1\nallow"} {
		if !strings.Contains(formatted, kept) {
			t.Errorf("%q is lost:\n%s", kept, formatted)
		}
	}
}

func TestLimits(t *testing.T) {
	slips := strings.Repeat("hook five\n", 30)
	names := "rnd 1: " + strings.Repeat("foo, ", 30) + "foo"
	for name, tt := range map[string]struct {
		text   string
		limits Limits
		want   []string
	}{
		"bytes, a line": {"ring", Limits{Bytes: 3}, []string{"1:1 limit: the text is longer than the 3 bytes allowed; from line 1 on it is not read"}},
		"bytes, several lines": {"ring # so\n\nhook 5 mm\nrnd 1: dc", Limits{Bytes: 12},
			[]string{"1:1 limit: the text is longer than the 12 bytes allowed; from line 3 on it is not read"}},
		"bytes, just so": {"ring", Limits{Bytes: 4}, nil},
		"depth":          {"rnd 1: [[[dc] 2 times] 2 times] 2 times\nrnd 2: dc", Limits{Depth: 2}, []string{"1:10 limit: brackets are nested more than 2 deep here; this statement is not read"}},
		"depth, just so": {"rnd 1: [[[dc] 2 times] 2 times] 2 times", Limits{Depth: 3}, nil},
		"syntax errors": {slips, Limits{Errors: 2}, []string{
			`1:6 syntax: "five" does not belong here; a hook line reads: hook 5 mm`,
			`2:6 syntax: "five" does not belong here; a hook line reads: hook 5 mm`,
			"3:6 limit: more findings of the rule syntax than the 2 allowed; this one and the others are not reported, and the statements after this one are not read",
		}},
		"syntax errors, just so": {strings.Repeat("hook five\n", 2), Limits{Errors: 2}, []string{
			`1:6 syntax: "five" does not belong here; a hook line reads: hook 5 mm`,
			`2:6 syntax: "five" does not belong here; a hook line reads: hook 5 mm`,
		}},
		"syntax errors in one statement": {"rnd 1: 0 dc, 0 dc, 0 dc", Limits{Errors: 1}, []string{
			"1:8 syntax: 0 is too small here; the least is 1",
			"1:14 limit: more findings of the rule syntax than the 1 allowed; this one and the others are not reported",
		}},
		// Findings of one rule leave room for those of another.
		"names": {names + "\nhook five", Limits{Errors: 1}, []string{
			"1:8 unknown-stitch: no stitch is called foo; a group of your own is named in the header: stitch foo = (dc, ch 1, dc)",
			"1:13 limit: more findings of the rule unknown-stitch than the 1 allowed; this one and the others are not reported",
			`2:6 syntax: "five" does not belong here; a hook line reads: hook 5 mm`,
		}},
		"late syntax errors": {"rnd 1: foo, foo\nrnd 2: dc over next 2 st\nring", Limits{Errors: 1}, []string{
			"1:8 unknown-stitch: no stitch is called foo; a group of your own is named in the header: stitch foo = (dc, ch 1, dc)",
			"1:13 limit: more findings of the rule unknown-stitch than the 1 allowed; this one and the others are not reported",
			"2:11 limit: more findings of the rule syntax than the 1 allowed; this one and the others are not reported",
			"3:1 syntax: the ring line belongs above the first round",
		}},
	} {
		t.Run(name, func(t *testing.T) {
			d, findings := Parse("", tt.text, WithLimits(tt.limits))
			if diff := cmp.Diff(tt.want, messages(findings)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			checkDraft(t, tt.text, d, findings)
		})
	}
}

// TestKeptStatements: with the limit passed, statements are kept as text, good
// ones too, and rounds with them.
func TestKeptStatements(t *testing.T) {
	text := "hook five\nhook six\nring # so\nrnd 1: dc in ring\n"
	d, _ := Parse("", text, WithLimits(Limits{Errors: 1}))
	for _, s := range d.Statements {
		r, isRound := s.(*Round)
		if _, isBad := s.(*Bad); !isBad && !(isRound && r.Broken && r.From == 1) {
			t.Errorf("%T is read past the limit", s)
		}
	}
	if got := Format(d); got != text {
		t.Errorf("formatted:\n%s", got)
	}
}

// TestFailure: if the parser itself fails, the text is kept and the place told.
func TestFailure(t *testing.T) {
	text := "\ufeff# so\nring\nrnd 1: dc\n"
	at := Span{Pos{12, 3, 1}, Pos{21, 3, 10}}
	d, findings := (&draftParser{draft: &Draft{File: "mat.rnd"}, at: at}).failed(text, "lost the thread")
	want := []Finding{{Rule: "syntax", Severity: Error, Span: at,
		Message: "internal error while reading this statement: lost the thread; please report it with the draft"}}
	if diff := cmp.Diff(want, findings); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if got := Format(d); d.File != "mat.rnd" || got != text[len(bom):] {
		t.Errorf("%s is formatted %q", d.File, got)
	}
}

// A counter is an endless reader that knows how much was read.
type counter struct{ n int }

func (c *counter) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'a'
	}
	c.n += len(p)
	return len(p), nil
}

func TestReadStops(t *testing.T) {
	endless := &counter{}
	text, err := Read(endless)
	if err != nil || len(text) != DefaultBytes+1 {
		t.Errorf("read %d bytes, %v", len(text), err)
	}
	if endless.n > 2*DefaultBytes {
		t.Errorf("took %d bytes from the reader", endless.n)
	}
	d, findings := Parse("", text)
	if len(findings) != 1 || findings[0].Rule != "limit" {
		t.Errorf("findings %v", findings)
	}
	checkKept(t, text, d)

	text, err = Read(strings.NewReader("ring\nrnd 1: dc"), WithLimits(Limits{Bytes: 6}))
	if text != "ring\nrn" || err != nil {
		t.Errorf("read %q, %v", text, err)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestReadErrors(t *testing.T) {
	if _, err := Read(failing{}); err != io.ErrUnexpectedEOF {
		t.Errorf("error %v", err)
	}
	fsys := fstest.MapFS{"drafts/mat.rnd": {Data: []byte("ring")}}
	for _, name := range []string{"drafts", "drafts/none.rnd"} {
		d, findings, err := ParseFS(fsys, name)
		if d != nil || findings != nil || err == nil {
			t.Errorf("%s: %v, %v, %v", name, d, findings, err)
		}
	}
	d, findings, err := ParseFS(fsys, "drafts/mat.rnd")
	if err != nil || len(findings) > 0 || d.File != "drafts/mat.rnd" || len(d.Statements) != 1 {
		t.Errorf("%+v, %v, %v", d, findings, err)
	}
}

func TestEmpty(t *testing.T) {
	for _, text := range []string{"", "\n\n", " \t\r\n", "\ufeff"} {
		d := parseClean(t, text)
		if len(d.Statements) > 0 || d.Range() != (Span{}) {
			t.Errorf("%q has %d statements, %s", text, len(d.Statements), d.Range())
		}
		if got := Format(d); got != "" {
			t.Errorf("%q is formatted %q", text, got)
		}
	}
	d := parseClean(t, "# one\n\n  # two")
	if got := Format(d); got != "# one\n\n# two\n" {
		t.Errorf("comments alone are formatted %q", got)
	}
	if d.Title() != "" || d.Outline() != OutlineUnsaid || d.Lies() != Flat || d.Succession() != Joined || d.Start() != StartUnsaid ||
		d.RingChains() != 0 || d.Hook() != nil || d.Gauge() != nil || d.Terms != US {
		t.Error("an empty draft has other defaults")
	}
}

// TestNames: what a name is bound to, and where that differs from what stands
// in the text.
func TestNames(t *testing.T) {
	d, findings := Parse("", `terms uk
yarn Sand
stitch Fan = (2 tr, ch 1, 2 tr)
ring
rnd 1 with SAND: sc in ring, FAN in ring, vst in ring, tre in ring, foo in ring, HTR in ring
`)
	want := []string{
		"5:18 terms: sc is a US name, and this draft is in UK terms; here the stitch is called dc",
		"5:56 unknown-stitch: no stitch is called tre; did you mean tr?",
		"5:69 unknown-stitch: no stitch is called foo; a group of your own is named in the header: stitch foo = (dc, ch 1, dc)",
	}
	if diff := cmp.Diff(want, messages(findings)); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	type bound struct {
		Text, US, Group  string
		Unknown, Foreign bool
	}
	var got []bound
	for r := range d.Rounds() {
		for _, s := range r.Steps {
			n := s.(*Work).Stitch
			b := bound{Text: n.Text, US: n.US, Unknown: n.Unknown, Foreign: n.Foreign}
			if n.Group != nil {
				b.Group = n.Group.Name.Text
			}
			got = append(got, b)
		}
	}
	if diff := cmp.Diff([]bound{
		{Text: "sc", US: "sc", Foreign: true},
		{Text: "FAN", Group: "Fan"},
		{Text: "vst", Group: "vst"},
		{Text: "tre", US: "dc", Unknown: true},
		{Text: "foo", Unknown: true},
		{Text: "HTR", US: "hdc"},
	}, got); diff != "" {
		t.Errorf("names (-want +got):\n%s", diff)
	}
	// A name in doubt is never replaced by the formatter: that would turn a
	// slip in the terms line into another piece.
	wantText := "rnd 1 with SAND: sc in ring, Fan in ring, vst in ring, tre in ring, foo in ring, htr in ring\n"
	if got := Format(d); !strings.HasSuffix(got, wantText) {
		t.Errorf("formatted:\n%s", got)
	}
	if got := Format(Translate(d, US)); !strings.HasSuffix(got, "rnd 1 with SAND: sc in ring, Fan in ring, vst in ring, tre in ring, foo in ring, hdc in ring\n") {
		t.Errorf("translated:\n%s", got)
	}
}

// TestCycles: groups made of one another are reported once a ring.
func TestCycles(t *testing.T) {
	_, findings := Parse("", `stitch a1 = (dc, b1)
stitch b1 = (dc, c1, d1)
stitch c1 = (a1)
stitch d1 = (dc)
stitch e1 = (e1, e1)
rnd 1: a1 in ring
`)
	want := []string{
		"3:14 unknown-stitch: the group a1 is made of itself",
		"5:14 unknown-stitch: the group e1 is made of itself",
		"5:18 unknown-stitch: the group e1 is made of itself",
	}
	if diff := cmp.Diff(want, messages(findings)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestHeader(t *testing.T) {
	d := parseClean(t, "lies ruffled\nworked spiral\nbegin chain uncounted\nring ch 5\nshape octagon\nallow unworked \"open\"\n")
	if d.Lies() != Ruffled || d.Succession() != Spiral || d.Start() != ChainUncounted || d.RingChains() != 5 || d.Outline().Corners() != 8 {
		t.Errorf("read %v, %v, %v, ring of %d, %v", d.Lies(), d.Succession(), d.Start(), d.RingChains(), d.Outline())
	}
	for a := range d.Allows() {
		if a.Rule != "unworked" || a.Reason != "open" {
			t.Errorf("exception %+v", a)
		}
	}
	for i, o := range []Outline{Free, Circle, Free, Triangle, Square, Pentagon, Hexagon, Free, Octagon} {
		if want := i; o != Free && o != Circle && o.Corners() != want {
			t.Errorf("%s has %d corners", o, o.Corners())
		}
	}
	if Circle.Corners() != 0 || Free.Corners() != 0 {
		t.Error("a circle has corners")
	}
}

func TestQuantities(t *testing.T) {
	for text, want := range map[string]float64{
		"5 mm": 5, "0.5 cm": 5, "1 in": 25.4, "2 m": 2000, "1 yd": 914.4, "50 g": 50, "2 oz": 56.69904625,
	} {
		amount, unit, _ := strings.Cut(text, " ")
		var q Quantity
		fmt.Sscan(amount, &q.Amount)
		q.Unit = Unit(unit)
		if got := q.Value(); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("%s is %v, want %v", text, got, want)
		}
		if got := q.String(); got != text {
			t.Errorf("%s is written %q", text, got)
		}
	}
}

func TestSortFindings(t *testing.T) {
	at := func(n int) Span { return Span{Pos{n, 1, n + 1}, Pos{n + 1, 1, n + 2}} }
	got := SortFindings([]Finding{
		{Rule: "syntax", Span: at(5), Message: "b"},
		{Rule: "syntax", Span: at(5), Message: "a"},
		{Rule: "limit", Span: at(5), Message: "z"},
		{Rule: "syntax", Span: at(1), Message: "b"},
		{Rule: "syntax", Span: at(5), Message: "b"},
	})
	want := []string{"1:2 syntax: b", "1:6 limit: z", "1:6 syntax: a", "1:6 syntax: b"}
	if diff := cmp.Diff(want, messages(got)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestFindingText(t *testing.T) {
	for held, want := range []string{
		"off", "off (1 finding that only follows from this one is held back)", "off (2 findings that only follow from this one are held back)",
	} {
		if got := (Finding{Message: "off", Held: held}).Text(); got != want {
			t.Errorf("with %d held: %s", held, got)
		}
	}
	if got := fmt.Sprint(Info, Warning, Error, Severity(0)); got != "info warning error none" {
		t.Errorf("severities: %s", got)
	}
}

func TestParseFile(t *testing.T) {
	const name = "../examples/tideline.rnd"
	d, findings, err := ParseFile(name)
	if err != nil || len(findings) > 0 || d.Title() != "Tideline square" || d.File != name {
		t.Errorf("ParseFile: title %q, file %q, findings %v, error %v", d.Title(), d.File, findings, err)
	}
	for _, name := range []string{"no-such-file.rnd", "."} {
		if d, _, err := ParseFile(name); err == nil || d != nil {
			t.Errorf("ParseFile(%q) = %v, %v; want an error", name, d, err)
		}
	}
}

// TestPanel: how motifs are made up, and the rounds of the borders apart from
// those of the motif. What cannot be read keeps them apart too.
func TestPanel(t *testing.T) {
	d, findings := Parse("", `for child
weighed rnds 1-2 = 1 oz
yarn dusk, stretch 120 m "rose" colour "#d88f9a", stretch 10 yd
ring ch 4
rnd 1 with dusk: 12 dc in ring
rnd next 2: dc in each st
rnd next until side 45 cm: dc in each st
panel wrap joined sl st, neck 40 st
edge of panel
rnd 1: sc in each st
edge of the neck
rnd 1: sc in each st
rnd next until with dusk: sc in each st
`)
	want := []string{
		`11:13 syntax: "neck" does not belong here; an edge line reads: edge of panel, or edge of neck`,
		"13:16 syntax: after until comes how large the piece becomes: until side 45 cm, until across 60 cm, until 14 rnds",
	}
	if diff := cmp.Diff(want, messages(findings)); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	if p := d.Panel(); p.Kind != PanelWrap || p.Join != JoinSlip || p.Neck != 40 || p.Rows != 0 {
		t.Errorf("panel %+v", p)
	}
	if w := d.Weighed(); d.For() != Child || w.To != 2 || w.Weight.Value() != 28.349523125 {
		t.Errorf("for %q, weighed %+v", d.For(), w)
	}
	var got []string
	for _, s := range d.Sections() {
		got = append(got, fmt.Sprintf("%T", s.Foundation))
		for _, r := range s.Rounds {
			got = append(got, fmt.Sprintf("rnd %d-%d next %t until %v broken %t", r.From, r.To, r.Next, r.Until != nil, r.Broken))
		}
	}
	if diff := cmp.Diff([]string{
		"*notation.Ring",
		"rnd 1-1 next false until false broken false",
		"rnd 1-2 next true until false broken false",
		"rnd 1-1 next true until true broken false",
		"*notation.Edge",
		"rnd 1-1 next false until false broken false",
		"*notation.Edge",
		"rnd 1-1 next false until false broken false",
		"rnd 1-1 next true until true broken true",
	}, got); diff != "" {
		t.Errorf("sections (-want +got):\n%s", diff)
	}
	if got := slices.Collect(d.Yarns())[0].Stretches; len(got) != 2 || got[0].Label != "rose" || got[1].Length.Value() != 9144 {
		t.Errorf("stretches %+v", got)
	}
	// In UK terms a join is named as there.
	text := "terms uk\nring\nrnd 1: tr in ring\npanel 2 by 3 joined dc\n"
	if uk := parseClean(t, text); uk.Panel().Join != JoinSingle || Format(uk) != text ||
		!strings.HasSuffix(Format(Translate(uk, US)), "panel 2 by 3 joined sc\n") {
		t.Errorf("%+v\n%s", uk.Panel(), Format(Translate(uk, US)))
	}
}

// TestRoundNumbers: a finding says which round it is in as far as the text
// tells.
func TestRoundNumbers(t *testing.T) {
	_, findings := Parse("", `rnd 1: foo
rnd next 2: foo
rnd next until 6 rnds: foo
rnd next: foo
rnd next until side 9 cm: foo
rnd next: foo
rnd 12: foo
rnd next: foo
`)
	var got []int
	for _, f := range findings {
		got = append(got, f.Round)
	}
	if diff := cmp.Diff([]int{1, 2, 4, 7, 8, 0, 12, 13}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
