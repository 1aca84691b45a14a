package model_test

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// doubled is a header of n named groups, each of two of the one before.
func doubled(n int) string {
	var b strings.Builder
	b.WriteString("stitch wave0 = (dc, dc)\n")
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, "stitch wave%d = (wave%d, wave%d)\n", i, i-1, i-1)
	}
	return b.String()
}

// repeated writes n lines.
func repeated(n int, line func(i int) string) string {
	var b strings.Builder
	for i := 1; i <= n; i++ {
		b.WriteString(line(i) + "\n")
	}
	return b.String()
}

// allocated returns how many bytes f asks for, all told: a bound of what it
// holds at any time.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

const mb = 1 << 20

// TestHostile: drafts that stand for more than anybody can work get an answer,
// and memory stays in bounds. Time is not measured; where the answer took for
// ever, so would the test.
func TestHostile(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       []string // round, rule
		most       uint64
		limits     model.Limits
	}{
		{"repeats in repeats", "ring\nrnd 1: [[[dc in ring] 1000000 times] 1000000 times] 1000000 times\n", []string{"1 limit"}, mb, model.Limits{}},
		{"a number past all", "ring\nrnd 1: 999999999999999999999 dc in ring\n", []string{"1 limit"}, mb, model.Limits{}},
		{"largest numbers everywhere", "ring\nrnd 1: [(2147483647 dc, [2147483647 dc, ch 2147483647] 2147483647 times) in ring] 2147483647 times\n", []string{"1 limit"}, mb, model.Limits{}},
		{"largest numbers on an edge", "ring\nrnd 1: 3 dc in ring\nrnd 2: 2147483647 dc in each of next 2147483647 st\n", []string{"2 limit"}, mb, model.Limits{}},
		{"many in each", "ring\nrnd 1: 1000 dc in ring\nrnd 2: 1000000 dc in each st\n", []string{"2 limit"}, 512 * mb, model.Limits{}},
		{"many legs", "ring\nrnd 1: 3 dc in ring\nrnd 2: cl over next 2147483647 st\n", []string{"2 no-such-place"}, mb, model.Limits{}},
		{"many skips", "ring\nrnd 1: 3 dc in ring\nrnd 2: dc in next st, sk 2147483647 st\n", []string{"2 no-such-place"}, mb, model.Limits{}},
		{"a range of rounds", "ring\nrnd 1-1000000000: dc in ring\n", []string{"100000 limit"}, 512 * mb, model.Limits{}},
		{"a range of one round", "ring\nrnd 1000000000: dc in ring\n", []string{"1000000000 round-order"}, mb, model.Limits{}},
		{"doubled groups", doubled(60) + "ring\nrnd 1: wave60 in ring\n", []string{"1 limit"}, 512 * mb, model.Limits{}},
		{"doubled groups of one round", doubled(14) + "ring\nrnd 1: wave14 in ring\n", nil, 64 * mb, model.Limits{}},
		{"chains", "ring\nrnd 1: [ch 1] 1000000000 times\n", []string{"1 limit"}, mb, model.Limits{}},
		{"a run of chains", "ring\nrnd 1: ch 1000000000\n", []string{"1 limit"}, mb, model.Limits{}},
		{"picots", "ring\nrnd 1: sc in ring, [picot 3] 1000000000 times\n", []string{"1 limit"}, mb, model.Limits{}},
		{"yarns", "yarn sand\nring\nrnd 1: [with sand] 1000000000 times\n", []string{"1 limit"}, mb, model.Limits{Stitches: 1000}},
		{"yarns in a group", "yarn sand\nring\nrnd 1: ([with sand] 1000000000 times) in ring\n", []string{"1 limit"}, mb, model.Limits{Stitches: 1000}},
		{"a ring of chains", "ring ch 2147483647\nrnd 1: dc in ring\n", []string{"1 limit"}, mb, model.Limits{}},
		{"too many in all", "ring\nrnd 1: 1000 dc in ring\nrnd 2-100: 2 dc in each st\n", []string{"14 limit"}, 1024 * mb, model.Limits{}},
		{"motifs", square + "panel 2147483647 by 2147483647\n", []string{"0 limit"}, mb, model.Limits{}},
		{"motifs in a row", square + "panel cushion 1 by 2147483647\n", []string{"0 limit"}, mb, model.Limits{}},
		{"as many motifs as are allowed", square + "panel cushion 100 by 100\nedge of panel\nrnd 1: sc in each st\n", []string{"1 corner-order"}, 64 * mb, model.Limits{}},
		{"a long edge", "ring\nrnd 1: [100000 dc in ring, corner ch 2] 4 times\npanel 1 by 10000\nedge of panel\nrnd 1: sc in each st\n", []string{"0 limit"}, 128 * mb, model.Limits{}},
		{"edges", square + "panel 1 by 1\n" + strings.Repeat("edge of panel\nrnd 1: sc in each st\n", 1000), []string{"1 corner-order"}, mb, model.Limits{}},
		{"a claim of millions", "ring\nrnd 1: dc in ring = 9999999 dc\n", []string{"1 claim-count"}, 256 * mb, model.Limits{}},
	} {
		t.Run(test.name, func(t *testing.T) {
			draft, _ := notation.Parse("", test.text)
			var findings []notation.Finding
			var g *model.Graph
			var err error
			used := allocated(func() {
				g, findings, err = model.Build(t.Context(), draft, model.WithLimits(test.limits))
			})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.want, rulesOf(findings)); diff != "" && len(test.want)+len(findings) > 0 {
				t.Errorf("(-want +got):\n%s", diff)
			}
			if used > test.most {
				t.Errorf("%d MB allocated, want at most %d", used/mb, test.most/mb)
			}
			if g.Len() > model.DefaultStitches {
				t.Errorf("%d stitches", g.Len())
			}
		})
	}
}

// TestManyHostileLines: what one line costs must not be had again for every
// line or round. Memory is measured for few lines and for many.
func TestManyHostileLines(t *testing.T) {
	for _, test := range []struct {
		name string
		text func(n int) string
		few  int
		many int
		most uint64 // for the many
	}{
		// Each claim is a piece to work on further up; one is in use at a time.
		{"claims", func(n int) string {
			return "ring\n" + repeated(n, func(i int) string { return fmt.Sprintf("rnd %d: dc in ring = 999999 dc", i) })
		}, 1, 20, 100 * mb},
		// They stand on the rounds below, which some round works into.
		{"claims on many rounds", func(n int) string {
			return "ring\nrnd 1: 2 dc in ring\nrnd 2-10000: dc in each st\n" + repeated(n, func(i int) string {
				return fmt.Sprintf("rnd %d: dc in each st = %d dc", 10_000+i, 3+i%2)
			}) + fmt.Sprintf("rnd %d: dc in next 2 st of rnd 3\n", 10_001+n)
		}, 1, 400, 400 * mb},
		// The numbers of long ranges, most of which are never worked.
		{"ranges", func(n int) string {
			return "ring\n" + repeated(n, func(i int) string { return fmt.Sprintf("rnd %d-2000000000: dc in ring", 1+20_000*i) })
		}, 1, 30, 100 * mb},
		// The same steps, written out again for every round of a range.
		{"groups", func(n int) string {
			return doubled(13) + fmt.Sprintf("ring\nrnd 1-%d: dc in ring, dc in next sp, wave13 in ring\n", n)
		}, 1, 40, 100 * mb},
	} {
		t.Run(test.name, func(t *testing.T) {
			cost := func(n int) uint64 {
				draft := read(t, test.text(n))
				return allocated(func() {
					if _, _, err := model.Build(t.Context(), draft, model.WithLimits(model.Limits{Stitches: 1_000_000, Rounds: 20_000})); err != nil {
						t.Fatal(err)
					}
				})
			}
			few, many := cost(test.few), cost(test.many)
			t.Logf("%d: %d kB, %d: %d kB", test.few, few>>10, test.many, many>>10)
			if many > test.most {
				t.Errorf("%d lines or rounds take %d MB, want at most %d (%d take %d)", test.many, many/mb, test.most/mb, test.few, few/mb)
			}
		})
	}
}

// TestGroupsOfThemselves: the reader cuts rings of groups; whatever is left
// must still come to an end.
func TestGroupsOfThemselves(t *testing.T) {
	for _, header := range []string{
		"stitch tide = (tide, dc)\n",
		"stitch tide = (tide, tide)\n",
		"stitch tide = (ebb, dc)\nstitch ebb = (tide, dc)\n",
		"stitch tide = (ebb, ebb)\nstitch ebb = (flow, flow)\nstitch flow = (tide, tide)\n",
	} {
		text := header + "ring\nrnd 1: 4 tide in ring\nrnd 2: dc in each st\n"
		draft, unread := notation.Parse("", text)
		if len(unread) == 0 {
			t.Errorf("nothing is said about:\n%s", text)
		}
		g, findings, err := model.Build(t.Context(), draft, model.WithLimits(model.Limits{Stitches: 10000}))
		if err != nil {
			t.Fatal(err)
		}
		checkInvariants(t, text, g, findings)
		if len(findings) > 0 {
			t.Errorf("a second finding for the same fault: %s\nin:\n%s", findings[0].Text(), text)
		}
	}
}

// TestBusyWithNothing: steps that make nothing, many times over, must come to
// an end or heed the context.
func TestBusyWithNothing(t *testing.T) {
	for name, text := range map[string]string{
		// A join inside a repeat is refused by the reader and stays in the tree.
		"join":          "ring\nrnd 1: [join] 20000000 times\n",
		"join in group": "stitch ebb = (join)\nring\nrnd 1: 20000000 ebb in ring\n",
		"leading skip":  "ring\nrnd 1: 3 dc in ring\nrnd 2: sk 20000000 st, dc in next 3 st\n",
		"yarn":          "yarn sand\nring\nrnd 1: [with sand] 2000000000 times\n",
		"reaching down": "ring\nrnd 1: 20000 sc in ring\nrnd 2: [corner ch 1] 20000 times\nrnd 3: [sc in next sp, sc in next st of rnd 1] around\n",
	} {
		t.Run(name, func(t *testing.T) {
			draft, _ := notation.Parse("", text)
			ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
			defer cancel()
			_, _, err := model.Build(ctx, draft)
			if err == nil && ctx.Err() != nil {
				t.Errorf("went on after the context had ended:\n%s", text)
			}
		})
	}
}

// TestExactLimit: what fits the limit exactly is worked, and one more is not.
func TestExactLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		text := p.String()
		total := 0
		for _, c := range p.Counts() {
			total += c.Total + c.Chains + 3*c.Picots // every picot drawn has 3 chains
		}
		total += workClean(t, text).Ring
		_, findings := work(t, text, model.WithLimits(model.Limits{Stitches: total}))
		if len(findings) > 0 {
			t.Fatalf("limit %d: %s\nin:\n%s", total, findings[0].Text(), text)
		}
		if total == 1 {
			return // 0 is the default
		}
		g, findings := work(t, text, model.WithLimits(model.Limits{Stitches: total - 1}))
		if len(findings) != 1 {
			t.Fatalf("limit %d of %d: %v\nin:\n%s", total-1, total, tellAll(findings), text)
		}
		checkInvariants(t, text, g, findings)
	})
}

// TestLimitOnTheWay: where more than one beginning of a round is tried, the
// limit is the answer, not what comes out of a beginning that is not meant.
func TestLimitOnTheWay(t *testing.T) {
	// Round 3 comes out only from the beginning of a side; it makes the
	// stitches 17 to 26.
	text := lines(
		"ring",
		"rnd 1: [sc in ring, corner ch 1] 2 times",
		"rnd 2: [sc in each st and ch, (2 sc, corner ch 1, 2 sc) in corner] 2 times",
		"rnd 3: [[sc in next gap] 2 times, (sc, corner sc, sc) in corner] around")
	clean(t, text)
	_, findings := build(t, text, model.WithLimits(model.Limits{Stitches: 24}))
	if diff := cmp.Diff([]string{"3 limit"}, rulesOf(findings)); diff != "" {
		t.Errorf("(-want +got):\n%s\n%s", diff, strings.Join(tellAll(findings), "\n"))
	}
}

func TestExactDefaultLimit(t *testing.T) {
	draft := read(t, "ring\nrnd 1: 5000000 dc in ring\nrnd 2: [dc in next st] around\n")
	var g *model.Graph
	used := allocated(func() {
		var findings []notation.Finding
		var err error
		g, findings, err = model.Build(t.Context(), draft)
		if err != nil || len(findings) > 0 {
			t.Errorf("%v, %v", err, tellAll(findings))
		}
	})
	if g.Len() != model.DefaultStitches {
		t.Errorf("%d stitches, want %d", g.Len(), model.DefaultStitches)
	}
	if per := used / model.DefaultStitches; per > 32 {
		t.Errorf("%d bytes a stitch", per)
	}
	_, findings := build(t, "ring\nrnd 1: 5000000 dc in ring\nrnd 2: [dc in next st] around, dc in same\n")
	if diff := cmp.Diff([]string{"2 limit"}, rulesOf(findings)); diff != "" {
		t.Errorf("one more (-want +got):\n%s", diff)
	}
}

func TestRoundLimit(t *testing.T) {
	three := model.WithLimits(model.Limits{Rounds: 3})
	if g := clean(t, "ring\nrnd 1-3: dc in ring\n", three); g.NumRounds() != 3 {
		t.Errorf("%d rounds", g.NumRounds())
	}
	g, findings := build(t, "ring\nrnd 1-2: dc in ring\nrnd 3: dc in ring\nrnd 4: dc in next sp\nrnd 5: dc in next sp\n", three)
	if diff := cmp.Diff([]string{"4:1-4:6 round 4 limit: the draft has more than the 3 rounds allowed; the rest is not worked"}, tellAll(findings)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if g.NumRounds() != 3 {
		t.Errorf("%d rounds", g.NumRounds())
	}
}

// TestLimitAndClaims: a claim is worked on where a round is at fault or cannot
// be read; that work has limits too.
func TestLimitAndClaims(t *testing.T) {
	for _, text := range []string{
		"ring ch 5\nrnd 1: dc in ring = 8 dc\nrnd 2: dc in each st = 8 dc\n",
		"ring\nrnd 1: dc in in = 9 dc\nrnd 2: dc in in = 9 dc\nrnd 3: dc in each st = 9 dc\n",
		"ring\nrnd 1: dc in in next st = 9 dc\nrnd 2: dc in in next st = 9 dc\nrnd 3: dc in each st = 9 dc\n",
		"ring\nrnd 1: dc in in next st = 10 dc, 10 sp\nrnd 2: dc in each sp = 10 dc\n",
		"shape square\nring\nrnd 1: dc in in next st = 3 dc per side\n",
		"ring\nrnd 1: dc in ring = 10 dc\nrnd 2: 2 dc in each st = 20 dc\nrnd 3: 2 dc in each st = 40 dc\n",
	} {
		func() {
			defer func() {
				if r := recover(); r != nil {
					t.Errorf("panic: %v\nin:\n%s", r, text)
				}
			}()
			draft, _ := notation.Parse("", text)
			g, findings, err := model.Build(t.Context(), draft, model.WithLimits(model.Limits{Stitches: 10}))
			if err != nil {
				t.Fatal(err)
			}
			checkInvariants(t, text, g, findings)
		}()
	}
}

// TestSlips: drafts with one slip each that brought Build down, or left a graph
// that is none.
func TestSlips(t *testing.T) {
	for name, text := range map[string]string{
		"a claim of stitches in a round of chains": "ring\nrnd 1: [ch 3] 4 times = 4 dc\n",
		"a name near ch":                          "ring\nrnd 1: 4 dc in ring\nrnd 2: [cx in next st] around\n",
		"a name near ch, several":                 "ring\nrnd 1: 4 dc in ring\nrnd 2: 3 cx in each st\n",
		"a name near ch, after as":                "ring\nrnd 1: 4 dc in ring\nrnd 2: ch 3 as cx, dc in each st\n",
		"a name near ch, in a group":              "ring\nrnd 1: [dc in ring, ch 2] 2 times\nrnd 2: [(dc, cx) in next ch] around\n",
		"a name near picot":                       "ring\nrnd 1: 4 dc in ring\nrnd 2: [pict in next st] around\n",
		"a place near picot":                      "ring\nrnd 1: [dc in ring, picot 3] 4 times\nrnd 2: dc in next 4 picto\n",
		"a place near ch":                         "ring\nrnd 1: [dc in ring, ch 3] 4 times\nrnd 2: dc in next 4 cx\n",
		"a claim near ch":                         "ring\nrnd 1: [dc in ring, ch 3] 4 times = 12 cx\n",
		"a claim near ch, of a line not read":     "ring\nrnd 1: dc in in next st = 4 cx\nrnd 2: dc in each st\n",
		"a claim near picot, of a faulty round":   "ring\nrnd 1: 4 dc in ring\nrnd 2: [dc in next 3 st] around = 4 pict\nrnd 3: dc in each st\n",
		"claims above a line that cannot be read": "ring\nrnd 1: 4 dc in ring\nrnd 2: dc in in next st\nrnd 3: dc in each st = 4 dc\n",
		"as a round that is not there":            "ring\nrnd 1: 4 dc in ring\nrnd 2: as rnd 7 = 4 dc\n",
		"a repeat of chains and of stitches":      "ring\nrnd 1: 8 dc in ring\nrnd 2: [(2 dc, ch 1) in ring, [dc in next st] around] 3 times\n",
		"the same place in a repeat, turned":      "worked turned\nring\nrnd 1: [2 dc in ring, corner ch 2] 4 times\nrnd 2: dc in each st, [sk sp, dc in same] around\n",
		"a group of nothing":                      "stitch ebb = (join)\nring\nrnd 1: 4 ebb in ring\nrnd 2: [ebb in next st] around\n",
		"a round of nothing":                      "ring\nrnd 1: join\nrnd 2: dc in each st\nrnd 3: [dc in next sp] around\n",
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if r := recover(); r != nil {
					t.Errorf("panic: %v\nin:\n%s", r, text)
				}
			}()
			draft, unread := notation.Parse("", text)
			g, findings, err := model.Build(t.Context(), draft)
			if err != nil {
				t.Fatal(err)
			}
			if len(unread)+len(findings) == 0 {
				t.Errorf("nothing is said about:\n%s", text)
			}
			checkInvariants(t, text, g, findings)
		})
	}
}

// A tired context ends when it has been asked so many times.
type tired struct {
	context.Context
	cancel context.CancelFunc
	asked  atomic.Int64
	most   int64
}

func newTired(t *testing.T, most int64) *tired {
	ctx, cancel := context.WithCancel(t.Context())
	return &tired{Context: ctx, cancel: cancel, most: most}
}

func (c *tired) ask() {
	if c.asked.Add(1) >= c.most {
		c.cancel()
	}
}

func (c *tired) Err() error            { c.ask(); return c.Context.Err() }
func (c *tired) Done() <-chan struct{} { c.ask(); return c.Context.Done() }

// Drafts of about two million stitches, or steps, made in different ways.
func bigDrafts() map[string]string {
	return map[string]string{
		"repeats": "ring\nrnd 1: 200 dc in ring\nrnd 2-10000: [dc in next 2 st] around\n",
		"each":    "ring\nrnd 1: 200 dc in ring\nrnd 2-10000: dc in each st\n",
		"ring":    "ring\nrnd 1-10000: 200 dc in ring\n",
		"sides":   "ring\nrnd 1: [50 dc in ring, corner ch 1] 4 times\nrnd 2-10000: [dc in each st, corner ch 1, sk corner] 4 times\n",
		"faults":  "ring\nrnd 1: 200 dc in ring\nrnd 2-10000: [dc in next 3 st] around = 200 dc\n",
		"yarns":   "yarn sand\nring\nrnd 1: [with sand] 2000000 times\n",
		"steps":   doubled(9) + "ring\nrnd 1-2000: wave9 in ring\n",
		"lost":    doubled(9) + "ring\nrnd 1-2000: dc, wave9 in ring\n",
		"numbers": "ring\n" + repeated(20, func(i int) string { return fmt.Sprintf("rnd %d-2000000000: dc in ring", 1+100_000*i) }),
	}
}

// TestCancelled: a context that has ended already is heeded before any work.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	texts := bigDrafts()
	texts["small"] = plainSquare
	texts["one step"] = "ring\nrnd 1: 2000000 dc in ring\n"
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			draft := read(t, text)
			var g *model.Graph
			var err error
			used := allocated(func() { g, _, err = model.Build(ctx, draft) })
			if !errors.Is(err, context.Canceled) {
				t.Errorf("error %v, want that of the context", err)
			}
			if g == nil {
				t.Fatal("no graph")
			}
			if used > 4*mb || g.Len() > 10000 {
				t.Errorf("%d kB allocated and %d stitches made for nothing", used>>10, g.Len())
			}
		})
	}
}

// TestCancelledInTheMiddle: a context that ends while a large piece is worked
// stops it, and what is there so far is sound.
func TestCancelledInTheMiddle(t *testing.T) {
	for name, text := range bigDrafts() {
		t.Run(name, func(t *testing.T) {
			ctx := newTired(t, 10)
			g, findings, err := model.Build(ctx, read(t, text))
			if !errors.Is(err, context.Canceled) {
				t.Errorf("error %v after the context was asked %d times", err, ctx.asked.Load())
			}
			if g.Len() > 1_000_000 {
				t.Errorf("%d stitches after the context was asked %d times", g.Len(), ctx.asked.Load())
			}
			checkInvariants(t, text, g, findings)
			for _, f := range findings {
				if f.Rule == "limit" {
					t.Errorf("an interruption is no limit: %s", f.Text())
				}
			}
		})
	}
}

// TestManyReaders: any number of readers may look at one graph. Worth running
// with -race.
func TestManyReaders(t *testing.T) {
	g := clean(t, plainSquare)
	want := jsonOf(t, g)
	t.Run("readers", func(t *testing.T) {
		for i := range 4 {
			t.Run(fmt.Sprint(i), func(t *testing.T) {
				t.Parallel()
				if jsonOf(t, g) != want {
					t.Error("another graph")
				}
				for i := range g.NumRounds() {
					g.Counts(i)
					g.Sides(i)
				}
			})
		}
	})
}
