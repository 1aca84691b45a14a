package notation

import (
	"strings"
	"testing"
)

// FuzzParse puts the laws to any text: no failure inside, every place inside
// the text, nothing lost, one layout, and rounds that are read quickly come out
// as the grammar says.
func FuzzParse(f *testing.F) {
	for _, text := range corpus(f) {
		f.Add(text)
	}
	for _, text := range quickRounds {
		f.Add(text)
	}
	for _, text := range []string{
		"", "\n", "\r", "\ufeff", "\ufeff# so\r\nring\r\n", "\xff\xfe", "#", "\"", "\"\"", "rnd", "rnd 1", "rnd 1:", "rnd 1: =", "rnd 1: dc =",
		"rnd 1: [dc in next st, # a\n # b\n ch 1 # c\n # d\n] around, # e\n sc in next sp = 12 dc, # f\n 3 sp # g\n# h",
		"stitch a = ( # b\n (dc # c\n) # d\n)", "stitch a = (b)\nstitch b = (a)", "allow -", "allow a-b \"", "rnd 1: sl\nst", "rnd 1: rev dc, sl st2tog in same",
		"rnd 2-1 with: dc in in, ch ch = = 1/", "rnd 1: [[[((((", "rnd 1: ]])", "rnd 1: dc2tog over same and next 3 sp of rnd 9", "hook 5,5 mm",
		"yarn a,\n# b\n\n\ncolour \"#000000\"", "ring,\nhook 5 mm", "rnd 1: dc,\nrnd 2: dc", "rnd 1: [dc\nstitch x = (dc)\n", "a\x00b", "\u2013 \u201c", "3dc", "rnd 1: 0dc",
		"rnd 99999999999: dc", "rnd 1: * dc *", "motif \"\xe9\"", "rnd 1: dc in next st\r\n\r\n\r\nrnd 2: [dc\r\n# x\r\n", "terms uk\nrnd 1: sc, dc, htr, qtr, foo",
	} {
		f.Add(text)
	}
	debugPanics = true
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4096 {
			return
		}
		d, findings := Parse("", text)
		checkDraft(t, text, d, findings)
		agree(t, text)
		formatted := Format(d)
		again, more := Parse("", formatted)
		if got := Format(again); got != formatted {
			t.Errorf("%q\nis formatted\n%q\nand then\n%q", text, formatted, got)
		}
		if !strings.Contains(list(findings), " limit: ") && len(findings) != len(more) {
			t.Errorf("%q\nis formatted\n%q\nfindings before\n%safter\n%s", text, formatted, list(findings), list(more))
		}
	})
}
