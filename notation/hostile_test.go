package notation

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// hostile are texts nobody writes: as long as a draft may be, and as much
// work as can be had out of that length.
func hostile(size int) map[string]string {
	fill := func(head, s, tail string) string {
		return head + strings.Repeat(s, (size-len(head)-len(tail))/len(s)) + tail
	}
	counted := func(head string, each func(i int) string) string {
		out := new(strings.Builder)
		out.WriteString(head)
		for i := 0; ; i++ {
			s := each(i)
			if out.Len()+len(s) > size {
				return out.String()
			}
			out.WriteString(s)
		}
	}
	return map[string]string{
		"names and commas":          fill("", "a,", ""),
		"steps":                     fill("rnd 1: ", "a,", "a"),
		"steps without end":         fill("rnd 1: ", "a,", ""),
		"short steps":               fill("rnd 1: ", "dc,", "dc"),
		"long steps":                fill("rnd 1: ", "corner 1 dc3tog over back loop of same and next 2 st of rnd 3,", "dc"),
		"open brackets":             fill("", "(", ""),
		"open brackets in a round":  fill("rnd 1: ", "[", ""),
		"open repeats":              fill("rnd 1: ", "[dc,", ""),
		"repeats, as deep as is":    fill("", "rnd 1:"+strings.Repeat("[", 32)+"a"+strings.Repeat("]2 times", 32)+"\n", ""),
		"repeats in a row":          fill("rnd 1: ", "[a]around,", "a"),
		"line ends":                 fill("", "\n", ""),
		"line ends in a bracket":    fill("rnd 1: [", "\n", ""),
		"comments":                  fill("", "#\n", ""),
		"comments in a bracket":     fill("rnd 1: [", "a,#\n", "a] around"),
		"comments in open brackets": fill("rnd 1: [", "#\n[", ""),
		"one word a line":           fill("", "a\n", ""),
		"one line twice":            fill("", "ring\n", ""),
		"short rounds":              fill("", "rnd 1:a\n", ""),
		"rounds with unknown yarns": counted("", func(i int) string { return fmt.Sprintf("rnd 1 with y%d:dc\n", i) }),
		"yarns":                     counted("", func(i int) string { return fmt.Sprintf("yarn y%d\n", i) }),
		"yarns, and unknown ones":   counted("", func(i int) string { return fmt.Sprintf("yarn yarn%d\nrnd 1 with yram%d:a\n", i, i) }),
		"groups in groups":          counted("", func(i int) string { return fmt.Sprintf("stitch g%d=(g%d)\n", i, i+1) }),
		"groups in all groups":      counted("", func(i int) string { return fmt.Sprintf("stitch g%d=(g%d,g%d)\n", i, i+1, i/2) }),
		"unknown names":             counted("rnd 1: a", func(i int) string { return fmt.Sprintf(",q%d", i) }),
		"unknown names, and groups": counted("", func(i int) string { return fmt.Sprintf("stitch group%d=(gruop%d)\n", i, i) }),
		"a rule of many words":      fill("allow a", "-a", ""),
		"a claim of many counts":    fill("rnd 1: dc = 1", "/1", " dc"),
		"a claim of many items":     fill("rnd 1: dc = 1 dc", ",1 dc", ""),
		"large numbers":             fill("rnd 1: ", "99999999999 dc,", "dc"),
		"a large number":            fill("rnd 1: ", "9", " dc"),
		"a long name":               fill("rnd 1: ", "a", ""),
		"a long yarn name":          fill("yarn ", "a", ""),
		"a long text":               fill("motif \"", "a", "\""),
		"quotes":                    fill("", "\"\n", ""),
		"NUL":                       fill("", "\x00", ""),
		"bytes that are not UTF-8":  fill("", "\xff", ""),
		"places":                    fill("rnd 1: ", "dc in next 4 st of rnd 3,", "dc"),
		"slips":                     fill("", "hook five\n", ""),
		"colons":                    fill("rnd 1", ":", ""),
		"commas":                    fill("rnd 1: dc", ",", ""),
		"equals signs":              fill("rnd 1: dc", "=", ""),
	}
}

// TestHostile uses an eighth of the length; BenchmarkHostile measures what the
// whole of it costs.
func TestHostile(t *testing.T) {
	for name, text := range hostile(DefaultBytes / 8) {
		t.Run(name, func(t *testing.T) {
			d, findings := Parse("", text)
			if len(findings) > 5*(DefaultErrors+1) {
				t.Errorf("%d findings", len(findings))
			}
			for _, f := range findings {
				if strings.Contains(f.Message, "internal error") || f.Rule == "limit" && strings.Contains(f.Message, "longer") || len(f.Message) > 500 {
					t.Errorf("%s: %.500s", f.Span, f.Message)
				}
			}
			if t.Failed() {
				return
			}
			checkKept(t, text, d)
		})
	}
}

// TestDeep: brackets are counted before a parser sees them that would take a
// stack frame for each.
func TestDeep(t *testing.T) {
	for _, text := range []string{
		strings.Repeat("(", 400_000),
		"rnd 1: " + strings.Repeat("[", 400_000),
		"rnd 1: " + strings.Repeat("[", 50_000) + "dc" + strings.Repeat("] 2 times", 50_000),
		"stitch fan = " + strings.Repeat("(", 50_000) + "dc" + strings.Repeat(")", 50_000),
	} {
		d, findings := Parse("", text, WithLimits(Limits{Bytes: len(text)}))
		if len(findings) != 1 || len(d.Statements) != 1 || asWritten(d.Statements[0]) != text {
			t.Errorf("%.20q: %d statements, findings %v", text, len(d.Statements), messages(findings))
		}
	}
}

// BenchmarkHostile prints what the longest draft allowed can cost at most: run
// it with -benchtime 1x.
func BenchmarkHostile(b *testing.B) {
	texts := hostile(DefaultBytes)
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			b.SetBytes(int64(len(texts[name])))
			b.ReportAllocs()
			for b.Loop() {
				Parse("", texts[name])
			}
		})
	}
}
