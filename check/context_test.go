package check

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/roundel/model"
	"example.com/roundel/notation/notationtest"
)

// A looked context counts how often it is looked at, notes the longest time
// between two looks, and ends at a given look.
type looked struct {
	context.Context
	looks, end int // 0 for never
	last       time.Time
	longest    time.Duration
}

func (c *looked) Err() error {
	c.looks++
	now := time.Now()
	if !c.last.IsZero() {
		c.longest = max(c.longest, now.Sub(c.last))
	}
	c.last = now
	if c.end > 0 && c.looks >= c.end {
		return context.Canceled
	}
	return nil
}

// long are drafts that keep every stage busy for as long as the limits let
// them; n is about how many stitches there are. They are as long as a draft may
// be for the most that it may have.
func long(n int) map[string]string {
	share := func(of int) int { return max(of*min(n, 1_000_000)/1_000_000, 10) }
	return map[string]string{
		"one round":             fmt.Sprintf("ring\nrnd 1: %d dc in ring\n", n-1),
		"many small rounds":     fmt.Sprintf("ring\nrnd 1: 6 sc in ring\nrnd 2-%d: sc in each st\n", min(n/6, 99_999)),
		"rounds that are wrong": fmt.Sprintf("ring\nrnd 1: 6 sc in ring\nrnd 2-%d: [sc in next 5 st] around = 7 sc\n", min(n/6, 99_999)),
		"each":                  fmt.Sprintf("ring\nrnd 1: %d dc in ring\nrnd 2: dc in each st\n", n/2-1),
		"groups":                fmt.Sprintf("stitch a = (dc, dc)\nstitch b = (a, a)\nstitch c = (b, b)\nring\nrnd 1: %d c in ring\n", n/8),
		"repeats":               fmt.Sprintf("ring\nrnd 1: [3 dc in ring, ch 1] %d times\nrnd 2-9: [3 dc in next sp, ch 1] around\n", n/36),
		"legs":                  fmt.Sprintf("ring\nrnd 1: %d sc in ring\nrnd 2: [sc99tog] around\n", n/10),
		"up to a size":          fmt.Sprintf("gauge 14 dc by 7 rnds over 10 cm\nring\nrnd 1: 12 dc in ring\nrnd 2 until %d rnds: dc in each st\n", min(n/12, 99_999)),
		"a border":              fmt.Sprintf("ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\npanel %d by %[1]d\nedge of panel\nrnd 1-9: [sc in each st, 3 sc in corner] 4 times\n", min(n/5000+1, 100)),
		"steps of nothing":      "yarn sand\nring\nrnd 1: [with sand] 2000000000 times\n",
		"earlier rounds":        fmt.Sprintf("ring\nrnd 1: %d sc in ring\nrnd 2: [corner ch 1] %[1]d times\nrnd 3: [sc in next sp, sc in next st of rnd 1] around\n", share(20_000)),
		"a long statement":      "rnd 1: " + strings.Repeat("corner 1 dc3tog over back loop of same and next 2 st of rnd 3,", share(2080)) + "dc",
		"many statements":       strings.Repeat("rnd 1:a\n", share(16_000)),
	}
}

// TestContextEnds: whenever the context ends, the work ends with it, at once
// and with its error, and what is there by then is sound.
func TestContextEnds(t *testing.T) {
	for name, text := range long(20_000) {
		t.Run(name, func(t *testing.T) {
			o := Options{Work: model.Limits{Stitches: 20_000}}
			whole := &looked{Context: t.Context()}
			if _, err := Source(whole, "", text, o); err != nil {
				t.Fatal(err)
			}
			for _, end := range []int{1, 2, whole.looks / 3, whole.looks / 2, whole.looks - 1, whole.looks} {
				ctx := &looked{Context: t.Context(), end: max(end, 1)}
				r, err := Source(ctx, "", text, o)
				if !errors.Is(err, context.Canceled) {
					t.Fatalf("ended at look %d of %d: %v", end, whole.looks, err)
				}
				if more := ctx.looks - ctx.end; more > 8 {
					t.Errorf("ended at look %d of %d, and looked %d times more", end, whole.looks, more)
				}
				if r.Graph.Len() < 5000 { // larger ones take long to look through
					notationtest.CheckGraph(t, r.Graph)
				}
			}
			// One that ends when all is done changes nothing.
			if _, err := Source(&looked{Context: t.Context(), end: whole.looks + 1}, "", text, o); err != nil {
				t.Errorf("ended after the last look: %v", err)
			}
		})
	}
}

// BenchmarkContext measures the longest time, in ms, that a draft as long as
// the limits let it be is worked without a look at the context. Run it with
// -benchtime 5x.
func BenchmarkContext(b *testing.B) {
	for name, text := range long(model.DefaultStitches) {
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			longest := time.Hour // of the best run: others may have been held up
			for b.Loop() {
				ctx := &looked{Context: b.Context(), last: time.Now()}
				if _, err := Source(ctx, "", text, Options{}); err != nil {
					b.Fatal(err)
				}
				ctx.Err()
				longest = min(longest, ctx.longest)
			}
			b.ReportMetric(float64(longest.Microseconds())/1000, "ms-longest")
		})
	}
}
