package pattern

import (
	"fmt"
	"slices"
	"strings"
)

// Repeats are found again in the steps of a round, whatever way the draft has
// written them. Steps are compared by their wording: what reads alike is alike.

// A step is one step of a round, by the number of its wording.
type step = int32

// wordings numbers the steps of a round.
type wordings struct {
	text   []string
	bare   []bool // chains, picots and skips: a repeat had better not begin with them
	number map[string]step
}

func (w *wordings) step(text string, bare bool) step {
	if s, ok := w.number[text]; ok {
		return s
	}
	if w.number == nil {
		w.number = map[string]step{}
	}
	s := step(len(w.text))
	w.text, w.bare, w.number[text] = append(w.text, text), append(w.bare, bare), s
	return s
}

// period returns the smallest p such that the steps are the first p of them
// repeated: len(steps) when they repeat nothing.
func period(steps []step) int {
	n := len(steps)
	if n == 0 {
		return 0
	}
	// fail[i] is the length of the longest proper prefix of steps[:i+1] that
	// also ends it (Knuth, Morris and Pratt, SIAM J. Comput. 6, 1977, p. 323).
	fail := make([]int32, n)
	for i := 1; i < n; i++ {
		k := fail[i-1]
		for k > 0 && steps[i] != steps[k] {
			k = fail[k-1]
		}
		if steps[i] == steps[k] {
			k++
		}
		fail[i] = k
	}
	if p := n - int(fail[n-1]); n%p == 0 {
		return p
	}
	return n
}

// longestRepeat bounds the steps of a repeat that is looked for within a round;
// one that makes up the whole round may have any number.
const longestRepeat = 48

// brackets are those of a repeat, and of a repeat in a repeat. Deeper down
// everything is written out.
var brackets = []string{"[]", "{}"}

// list words steps in order, what stands several times in a row as a repeat;
// depth is how many repeats they stand in already.
func (w *wordings) list(steps []step, depth int) []string {
	var out []string
	for i := 0; i < len(steps); {
		long, times := 1, 1
		if depth < len(brackets) {
			long, times = repeat(steps[i:])
		}
		if times > 1 && !w.betterLater(steps[i:], long, times) {
			out = append(out, w.repeat(steps[i:i+long], times, depth))
			i += long * times
			continue
		}
		out = append(out, w.text[steps[i]])
		i++
	}
	return out
}

// betterLater reports whether the repeat at the beginning of steps would begin
// with chains or a skip, and can begin a step later just as well.
func (w *wordings) betterLater(steps []step, long, times int) bool {
	end := long * times
	works := func(s step) bool { return !w.bare[s] }
	return w.bare[steps[0]] && end < len(steps) && steps[end] == steps[0] && slices.ContainsFunc(steps[:long], works)
}

// repeat words steps that are worked a number of times.
func (w *wordings) repeat(steps []step, times, depth int) string {
	pair := brackets[depth]
	return fmt.Sprintf("%c%s%c %d times", pair[0], strings.Join(w.list(steps, depth+1), ", "), pair[1], times)
}

// repeat returns the repeat at the beginning of steps that leaves least to
// write, the shortest of several; times is 1 when there is none.
func repeat(steps []step) (long, times int) {
	long, times = 1, 1
	saved := 0
	for p := 1; p <= longestRepeat && 2*p <= len(steps); p++ {
		same := 0
		for same+p < len(steps) && steps[same] == steps[same+p] {
			same++
		}
		if n := same / p; n*p > saved {
			saved, long, times = n*p, p, n+1
		}
	}
	return long, times
}
