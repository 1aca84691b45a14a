package notation

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestApplyEdits(t *testing.T) {
	const text = "ébb tide"
	at := func(from, to int, now string) Edit {
		return Edit{Span: Span{Pos{Offset: from}, Pos{Offset: to}}, New: now}
	}
	tests := []struct {
		name  string
		edits []Edit
		want  string // "" for an error
	}{
		{"none", nil, text},
		{"one", []Edit{at(0, 4, "neap")}, "neap tide"},
		{"in any order", []Edit{at(5, 9, "sea"), at(0, 4, "low")}, "low sea"},
		{"at both ends", []Edit{at(9, 9, "."), at(0, 0, "the ")}, "the ébb tide."},
		{"side by side", []Edit{at(4, 5, "-"), at(0, 4, "flood"), at(5, 5, "the ")}, "flood-the tide"},
		{"before and instead", []Edit{at(0, 4, "flood"), at(0, 0, "the ")}, "the flood tide"},
		{"twice the same", []Edit{at(0, 0, "the "), at(0, 0, "the ")}, "the ébb tide"},
		{"all", []Edit{at(0, 9, "x")}, "x"},
		{"nothing left", []Edit{at(0, 5, "")}, "tide"},
		{"two in one place", []Edit{at(4, 4, "a"), at(4, 4, "b")}, ""},
		{"one across another", []Edit{at(0, 5, "a"), at(4, 9, "b")}, ""},
		{"one within another", []Edit{at(0, 9, "a"), at(2, 2, "b")}, ""},
		{"one within another, and more", []Edit{at(0, 9, "a"), at(1, 2, "b"), at(3, 4, "c")}, ""},
		{"past the end", []Edit{at(9, 10, "a")}, ""},
		{"before the beginning", []Edit{at(-1, 0, "a")}, ""},
		{"backwards", []Edit{at(3, 2, "a")}, ""},
	}
	for _, test := range tests {
		got, err := ApplyEdits(text, test.edits...)
		if got != test.want || (err != nil) != (test.want == "") {
			t.Errorf("%s: %q, %v", test.name, got, err)
		}
		// Which of the two is wrong can be asked.
		var refused *EditError
		if err != nil && (!errors.As(err, &refused) || (refused.Other != nil) != strings.Contains(err.Error(), "overlap") ||
			!slices.Contains(test.edits, refused.Edit)) {
			t.Errorf("%s: %v is %#v", test.name, err, refused)
		}
	}
}
