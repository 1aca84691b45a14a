package notation

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestPairs compares the names with the published pairs: Craft Yarn Council,
// Standards & Guidelines for Knitting and Crochet, 5 Feb 2018, p. 2; the
// extended and the longer stitches by its rule that an American name counts
// one less than the British name of the same stitch.
func TestPairs(t *testing.T) {
	for _, pair := range []struct{ us, uk string }{
		{"sl st", "sl st"},
		{"sc", "dc"},
		{"hdc", "htr"},
		{"dc", "tr"},
		{"tr", "dtr"},
		{"dtr", "trtr"},
		{"trtr", "qtr"},
		{"esc", "edc"},
		{"ehdc", "ehtr"},
		{"edc", "etr"},
		{"etr", "edtr"},
		{"rev sc", "rev dc"},
		{"ch", "ch"},
		{"picot", "picot"},
		{"cl", "cl"},
		{"puff", "puff"},
		{"popcorn", "popcorn"},
		{"bobble", "bobble"},
		{"bullion", "bullion"},
		{"sc2tog", "dc2tog"},
		{"hdc2tog", "htr2tog"},
		{"dc2tog", "tr2tog"},
		{"tr2tog", "dtr2tog"},
		{"FPdc", "FPtr"},
		{"BPdc", "BPtr"},
		{"FPsc", "FPdc"},
		{"BPhdc2tog", "BPhtr2tog"},
		{"sl st2tog", "sl st2tog"},
		{"FPsl st", "FPsl st"},
	} {
		if got := UK.Name(pair.us); got != pair.uk {
			t.Errorf("US %s is UK %s, want %s", pair.us, got, pair.uk)
		}
		if got := US.Name(pair.us); got != pair.us {
			t.Errorf("US %s is US %s", pair.us, got)
		}
		for terms, name := range map[Terms]string{US: pair.us, UK: pair.uk} {
			for _, written := range []string{name, strings.ToUpper(name), strings.ToLower(name)} {
				parts, ok := terms.Parse(written)
				if !ok || parts.Name() != pair.us {
					t.Errorf("%s in %s terms is %q, %t, want %s", written, terms, parts.Name(), ok, pair.us)
				}
				checkReadsAs(t, terms, written, pair.us)
			}
		}
	}
}

// checkReadsAs sees that a name is read in a draft, and written in the casing
// of the list.
func checkReadsAs(t *testing.T, terms Terms, written, us string) {
	t.Helper()
	if us == "ch" || us == "picot" {
		return // these are steps of their own
	}
	d := parseClean(t, fmt.Sprintf("terms %s\nrnd 1: %s in next st", terms, written))
	for r := range d.Rounds() {
		if got := r.Steps[0].(*Work).Stitch.US; got != us {
			t.Errorf("%s in a draft in %s terms is %s, want %s", written, terms, got, us)
		}
	}
	if want := fmt.Sprintf("rnd 1: %s in next st\n", terms.Name(us)); !strings.HasSuffix(Format(d), want) {
		t.Errorf("formatted %q, want %q", Format(d), want)
	}
}

func TestFamilies(t *testing.T) {
	for n := 2; n <= MaxTogether; n++ {
		for base := range compounds {
			for _, post := range []string{"", "FP", "BP"} {
				us := fmt.Sprintf("%s%s%dtog", post, base, n)
				parts, ok := US.Parse(us)
				if want := (Parts{Post: post, Base: base, Together: n}); !ok || parts != want {
					t.Fatalf("%s is %+v, %t", us, parts, ok)
				}
				uk := UK.Name(us)
				if want := post + UK.Name(base) + fmt.Sprint(n) + "tog"; uk != want {
					t.Fatalf("%s is UK %s, want %s", us, uk, want)
				}
				if parts, ok := UK.Parse(uk); !ok || parts.Name() != us {
					t.Fatalf("UK %s is %s, %t", uk, parts.Name(), ok)
				}
			}
		}
	}
	for _, name := range []string{"", "tog", "dctog", "dc0tog", "dc1tog", "dc02tog", "dc100tog", "dc99999999999999999999tog", "2tog", "dc2togg",
		"ch2tog", "picot2tog", "cl2tog", "rev sc2tog", "FP", "FPch", "FPBPdc", "FPcl", "dc tog", "htr", "sl  st"} {
		if parts, ok := US.Parse(name); ok {
			t.Errorf("%q is %+v", name, parts)
		}
	}
}

func TestSpellings(t *testing.T) {
	for _, tt := range []struct {
		terms       Terms
		written, us string
	}{
		{US, "slst", "sl st"}, {UK, "ss", "sl st"}, {US, "cluster", "cl"}, {US, "PS", "puff"}, {UK, "pc", "popcorn"}, {US, "bo", "bobble"},
		{US, "trc", "tr"}, {UK, "ttr", "dtr"}, {UK, "quadtr", "trtr"}, {US, "rsc", "rev sc"}, {UK, "rdc", "rev sc"}, {US, "crab", "rev sc"},
	} {
		if parts, ok := tt.terms.Parse(tt.written); !ok || parts.Name() != tt.us {
			t.Errorf("%s in %s terms is %q, %t, want %s", tt.written, tt.terms, parts.Name(), ok, tt.us)
		}
		checkReadsAs(t, tt.terms, tt.written, tt.us)
	}
}

// TestTranslate: both directions, by example; the laws are in laws_test.go.
func TestTranslate(t *testing.T) {
	const us = `# as worked at the harbour
motif "Reed ring"
ring
rnd 1: 8 SC in ring = 8 sc
rnd 2: [FPdc2tog over next 2 st, shell in next dc, 2 tr in same] around = 4 fpdc2tog
hook 5 foot
`
	const uk = `# as worked at the harbour
motif "Reed ring"
terms uk
ring
rnd 1: 8 dc in ring = 8 dc
rnd 2: [FPtr2tog over next 2 st, shell in next tr, 2 dtr in same] around = 4 FPtr2tog
hook 5 foot
`
	d, _ := Parse("", us)
	over := Format(Translate(d, UK))
	if diff := cmp.Diff(uk, over); diff != "" {
		t.Errorf("US to UK (-want +got):\n%s", diff)
	}
	d, _ = Parse("", uk)
	want := strings.Replace(strings.Replace(us, "SC", "sc", 1), "fpdc2tog", "FPdc2tog", 1)
	want = strings.Replace(want, "ring\"\n", "ring\"\nterms us\n", 1)
	if diff := cmp.Diff(want, Format(Translate(d, US))); diff != "" {
		t.Errorf("UK to US (-want +got):\n%s", diff)
	}
	if d.Terms != UK || Format(d) != uk {
		t.Error("Translate changed its draft")
	}
}

// TestClosest: the longer a word, the more of it may be wrong.
func TestClosest(t *testing.T) {
	stitches := US.Names()
	for _, tt := range []struct {
		word string
		list []string
		want string
	}{
		{"", stitches, ""},
		{"d", stitches, ""},
		{"dd", stitches, "dc"},
		{"cd", []string{"dc"}, ""},            // neither letter is in its place
		{"dctgo", []string{"dctog"}, "dctog"}, // swapped
		{"xx", stitches, ""},
		{"xy", []string{"xc", "ay"}, "xc"},
		{"ab", []string{"cb", "ac"}, "cb"}, // equally near: the first
		{"ab", []string{"xabc"}, ""},
		{"hdcc", stitches, "hdc"},
		{"hcd", stitches, "hdc"},
		{"hxx", stitches, ""},
		{"bobbel", stitches, "bobble"},
		{"boble", stitches, "bobble"},
		{"popkron", stitches, "popcorn"},
		{"BULLION", stitches, "bullion"},
		{"sqare", []string{"circle", "square"}, "square"},
		{"skware", []string{"circle", "square"}, "square"},
		{"sqr", []string{"square"}, ""},
		{"repeat-remaindr", []string{"repeat-remainder"}, "repeat-remainder"},
		{"repet-remaindar", []string{"repeat-remainder"}, "repeat-remainder"},
		{"rpet-rmaindar", []string{"repeat-remainder"}, ""},
		{"sand", []string{"Sand"}, "Sand"},
	} {
		if got := Closest(tt.word, tt.list); got != tt.want {
			t.Errorf("closest to %q is %q, want %q", tt.word, got, tt.want)
		}
	}
}
