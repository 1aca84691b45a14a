package notation

import "strings"

// Closest returns the candidate that word is most likely a slip for, or "".
// The number of edits allowed grows with the length of the word, so that a
// short abbreviation does not match every other one: none for one letter, one
// edit (or two neighbouring letters swapped) from two letters on, two from six
// on, three from ten on. A two-letter word must keep its first or last letter.
// Of two candidates equally near, the first wins.
func Closest(word string, candidates []string) string {
	word = strings.ToLower(word)
	limit := 0
	switch n := len(word); {
	case n >= 10:
		limit = 3
	case n >= 6:
		limit = 2
	case n >= 2:
		limit = 1
	}
	best, bestAt := "", limit+1
	for _, c := range candidates {
		low := strings.ToLower(c)
		if d := edits(word, low, bestAt); d < bestAt {
			if len(word) == 2 && len(low) <= 2 && word[0] != low[0] && word[1] != low[len(low)-1] {
				continue
			}
			best, bestAt = c, d
		}
	}
	return best
}

// edits is the number of insertions, deletions, replacements and swaps of
// neighbours between a and b (optimal string alignment), or something above
// limit where it is more than that.
func edits(a, b string, limit int) int {
	if d := len(a) - len(b); d > limit || -d > limit {
		return limit + 1
	}
	n := len(b) + 1
	var space [3 * 32]int // enough for any name on the list
	rows := space[:]
	if len(rows) < 3*n {
		rows = make([]int, 3*n)
	}
	before, last, row := rows[:n], rows[n:2*n], rows[2*n:3*n]
	for j := range last {
		last[j] = j
	}
	lowest := 0 // of the row before
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j < n; j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if i > 1 && least > limit && lowest > limit {
			return limit + 1 // it only grows from here
		}
		lowest = least
		before, last, row = last, row, before
	}
	return last[len(b)]
}
