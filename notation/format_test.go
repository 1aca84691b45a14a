package notation

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestFormat: the layout, and where comments go.
func TestFormat(t *testing.T) {
	for name, tt := range map[string]struct{ text, want string }{
		"casing and blanks": {
			"MOTIF   \"Reed\"\nTerms US\nRND 1  :12  DC  in  RING,Join Invisible=12 DC",
			"motif \"Reed\"\nterms us\nrnd 1: 12 dc in ring, join invisible = 12 dc\n",
		},
		"other spellings": {
			"yarn sand, color \"#d8c6a0\"\ngauge 14 dc by 8 rows over 10 cm\ngauge rnd 1 = 3 cm across\nring\nrnd 1: sk sts, dc in next corner, dc in next sps, sk sp, slst in same = 3 corner, 1 picots",
			"yarn sand, colour \"#d8c6a0\"\ngauge 14 dc by 8 rnds over 10 cm\ngauge rnds 1-1 = 3 cm across\nring\nrnd 1: sk 1 st, dc in corner, dc in next sp, sk sp, sl st in same = 3 corners, 1 picot\n",
		},
		"empty lines": {
			"\n\nring\n\n\n\n# one\n\n\nrnd 1: dc in ring\n\n",
			"ring\n\n# one\n\nrnd 1: dc in ring\n",
		},
		"long lines": {
			"rnd 1: [(2 dc, corner ch 2, 2 dc) in corner, dc in each st, sc in next sp, hdc in next gap, dc in next sp] 4 times = 4 corners, 12 sp",
			"rnd 1: [(2 dc, corner ch 2, 2 dc) in corner, dc in each st, sc in next sp, hdc in next gap,\n    dc in next sp] 4 times = 4 corners, 12 sp\n",
		},
		"a long line without a comma": {
			"motif \"" + strings.Repeat("reed ", 30) + "\"",
			"motif \"" + strings.Repeat("reed ", 30) + "\"\n",
		},
		"comments behind and above": {
			"# above\nring # behind\n# last",
			"# above\nring # behind\n# last\n",
		},
		"comments at every place of a round": {
			"# a\nrnd 1 with sand, # b\n standing: dc in next st, # c\n # d\n [ # e\n sc, # f\n # g\n (ch 1, dc # h\n # i\n ) in # j\n next sp # k\n # l\n ] around, # m\n # n\n join = 12 dc, # o\n # p\n 3 sp # q\n# r\n",
			`# a
# b
rnd 1 with sand, standing: dc in next st, # c
    # d
    [
        # e
        sc, # f
        # g
        (
            ch 1,
            dc # h
            # i
            # j
        ) in next sp # k
        # l
    ] around, # m
    # n
    join = 12 dc, # o
    # p
    3 sp # q
# r
`,
		},
		"comments in header lines": {
			"ring\n\nyarn sand, # a\n # b\n colour \"#d8c6a0\" # c\nstitch fan = (2 dc, # d\n ch 1 # e\n)\n",
			"ring\n\n# a\n# b\nyarn sand, colour \"#d8c6a0\" # c\nstitch fan = (\n    2 dc, # d\n    ch 1 # e\n)\n",
		},
		"comments round a repeat in a repeat": {
			"rnd 1: [dc, [ # a\n sc] # b\n 2 times # c\n] around # d\n",
			"rnd 1: [\n        dc,\n        [\n            # a\n            sc # b\n        ] 2 times # c\n    ] around # d\n",
		},
		"unread statements": {
			"rnd 1 :  dc in st,\r\n  ch 1\r\nSHAPE  oval\r\nrnd 2:[dc  # so\r\n, ch 1",
			"rnd 1 :  dc in st,\n  ch 1\nSHAPE  oval\nrnd 2:[dc  # so\n, ch 1\n",
		},
	} {
		t.Run(name, func(t *testing.T) {
			d, _ := Parse("", tt.text)
			got := Format(d)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			again, _ := Parse("", got)
			if diff := cmp.Diff(got, Format(again)); diff != "" {
				t.Errorf("formatted again (-want +got):\n%s", diff)
			}
		})
	}
}

// TestFormatBuilt: drafts that no text gives.
func TestFormatBuilt(t *testing.T) {
	note := func(text string) []Comment { return []Comment{{Text: "# " + text}} }
	dc := Name{US: "dc"}
	d := &Draft{Terms: UK, Statements: []Statement{
		&TermsLine{Terms: UK},
		&Motif{Title: "said \"so\"\nand\x00 so \xff"},
		&StitchDef{Name: Name{Text: "fan"}, Group: &Group{
			Comments: Comments{Before: note("a"), After: note("b")},
			Members:  []Step{&Work{Count: 2, HasCount: true, Stitch: dc}},
		}},
		&Round{Comments: Comments{Before: note("c")}, From: 1, To: 1,
			Steps: []Step{
				&Work{Comments: Comments{Before: note("d")}, Count: 1, Stitch: dc},
				&Work{Comments: Comments{Before: note("e"), After: note("f")}, Count: 1, Stitch: dc},
			},
			Claim: &Claim{Items: []*ClaimItem{
				{Comments: Comments{Before: note("g")}, Counts: []int{2}, What: St},
				{Comments: Comments{Before: note("h"), After: note("i")}, Counts: []int{1}, What: Gap},
			}},
		},
	}, Tail: note("j")}
	want := "terms uk\nmotif \"said soand so \ufffd\"\n# a\n# b\nstitch fan = (2 tr)\n" +
		"# c\n# d\n# f\n# g\nrnd 1: tr,\n    # e\n    tr = 2 st,\n    # h\n    1 gap # i\n# j\n"
	if diff := cmp.Diff(want, Format(d)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
