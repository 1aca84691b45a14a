package check

import (
	"fmt"
	"regexp"
	"slices"
	"testing"

	"example.com/roundel/notation"
)

func TestAllow(t *testing.T) {
	tests := []struct {
		name, text string
		findings   []string
		allowed    []string
	}{
		{
			name:    "in the header it covers the draft",
			text:    "allow claim-count \"the book\"\nring\nrnd 1: 12 dc in ring = 13 dc\nrnd 2: dc in each st\nrnd 3: dc in each st = 14 dc\n",
			allowed: []string{"3 claim-count", "5 claim-count"},
		},
		{
			name:    "the header ends with the first round, not with the first yarn or ring",
			text:    "ring\nallow claim-count \"the book\"\nrnd 1: 12 dc in ring\nrnd 2: dc in each st = 14 dc\n",
			allowed: []string{"4 claim-count"},
		},
		{
			name:    "it covers what stands in the header",
			text:    "yarn sand\nyarn reed\nallow unused-name \"for the fringe\"\nring\nrnd 1: 12 dc in ring\n",
			allowed: []string{"2 unused-name"},
		},
		{
			name:     "below the header it covers the next round only",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2: dc in each st = 13 dc\nrnd 3: dc in each st = 14 dc\n",
			allowed:  []string{"4 claim-count"},
			findings: []string{"5 claim-count"},
		},
		{
			name:     "not what stands above it",
			text:     "yarn sand\nyarn reed\nring\nrnd 1: 12 dc in ring\nallow unused-name \"for the fringe\"\nrnd 2: dc in each st\n",
			findings: []string{"2 unused-name", "5 allow-unused"},
		},
		{
			name: "all rounds of a range",
			text: "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2-4: dc in each st = 13/14/15 dc\n",
			// What is said of one place is said once for all rounds of a range.
			allowed: []string{"4 claim-count"},
		},
		{
			name:    "the panel",
			text:    "ring\nrnd 1: [3 dc in ring, corner ch 2] 3 times, 4 dc in ring, corner ch 2\nallow edge-mismatch \"eased in\"\npanel 1 by 2\n",
			allowed: []string{"4 edge-mismatch"},
		},
		{
			name:     "the panel, not the round below it",
			text:     "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nallow claim-count \"the book\"\npanel 1 by 2\nedge of panel\nrnd 1: [sc in each st, (sc, ch 2, sc) in corner] 4 times = 25 sc\n",
			findings: []string{"3 allow-unused", "6 claim-count"},
		},
		{
			name:    "a round of a border",
			text:    "ring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\npanel 1 by 2\nedge of panel\nallow claim-count \"the book\"\nrnd 1: [sc in each st, (sc, ch 2, sc) in corner] 4 times = 25 sc\n",
			allowed: []string{"6 claim-count"},
		},
		{
			name:    "a round over several lines",
			text:    "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2: dc in next 6 st,\n  dc in next 6 st = 13 dc\n",
			allowed: []string{"5 claim-count"},
		},
		{
			name:     "of its own rule only",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2: [dd in next 3 st] around = 13 dc\n",
			allowed:  []string{"4 claim-count"},
			findings: []string{"4 unknown-stitch"},
		},
		{
			name:    "several wait for one round",
			text:    "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nallow bare-count \"as printed\"\nrnd 2: [3 dc] around\nallow claim-count \"the book\"\nallow bare-count \"as printed\"\nrnd 3: [3 dc] around = 99 dc\n",
			allowed: []string{"5 bare-count", "8 bare-count"},
			// Where the steps are at fault the claim is not compared, so that
			// nobody can tell whether its exception is needed.
		},
		{
			name:     "of two that say the same the second is one too many",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nallow claim-count \"the book\"\nrnd 2: dc in each st = 13 dc\n",
			allowed:  []string{"5 claim-count"},
			findings: []string{"4 allow-unused"},
		},
		{
			name:     "the one above the round before the one in the header",
			text:     "allow claim-count \"the book\"\nring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2: dc in each st = 13 dc\n",
			allowed:  []string{"5 claim-count"},
			findings: []string{"1 allow-unused"},
		},
		{
			name:    "the one in the header for all other rounds",
			text:    "allow claim-count \"the book\"\nring\nrnd 1: 12 dc in ring = 11 dc\nallow claim-count \"the book\"\nrnd 2: dc in each st = 13 dc\n",
			allowed: []string{"3 claim-count", "5 claim-count"},
		},
		{
			name:     "without a reason it covers, and is reported itself",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count\nrnd 2: dc in each st = 13 dc\n",
			allowed:  []string{"4 claim-count"},
			findings: []string{"3 allow-reason"},
		},
		{
			name:     "an empty reason is none",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count \"  \"\nrnd 2: dc in each st = 13 dc\n",
			allowed:  []string{"4 claim-count"},
			findings: []string{"3 allow-reason"},
		},
		{
			name:     "one that has to go needs no reason",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count\nrnd 2: dc in each st = 12 dc\n",
			findings: []string{"3 allow-unused"},
		},
		{
			name:     "no round follows",
			text:     "ring\nrnd 1: 12 dc in ring = 13 dc\nallow claim-count \"the book\"\n",
			findings: []string{"2 claim-count", "3 allow-unused"},
		},
		{
			name:     "syntax is always reported",
			text:     "allow syntax \"as printed\"\nring\nrnd 1: 12 dc in ring ch 1\n",
			findings: []string{"1 allow-unused", "3 syntax"},
		},
		{
			name:     "so is a limit",
			text:     "ring\nrnd 1: 12 dc in ring\nallow limit \"large\"\nrnd 2: 20000000 dc in next st\n",
			findings: []string{"3 allow-unused", "4 limit"},
		},
		{
			name:     "and what is wrong with exceptions",
			text:     "allow allow-reason \"no\"\nallow allow-unused \"no\"\nring\nrnd 1: 12 dc in ring = 13 dc\n",
			findings: []string{"1 allow-unused", "2 allow-unused", "4 claim-count"},
		},
		{
			name:     "an unknown rule",
			text:     "allow claim-cuont \"the book\"\nring\nrnd 1: 12 dc in ring = 13 dc\n",
			findings: []string{"1 allow-unused", "3 claim-count"},
		},
		{
			name:     "in a round that cannot be read nobody knows what is needed",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2: [dc in next st around = 13 dc\n",
			findings: []string{"4 syntax"},
		},
		{
			name:     "nor in the rounds above it",
			text:     "ring\nrnd 1: 12 dc in\nallow claim-count \"the book\"\nrnd 2: dc in each st = 13 dc\n",
			findings: []string{"2 syntax"},
		},
		{
			name:     "nor in a round with an unknown stitch",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2: zz in each st = 13 dc\n",
			findings: []string{"4 unknown-stitch"},
		},
		{
			name:     "nor for the whole of a draft with such a round",
			text:     "allow claim-count \"the book\"\nring\nrnd 1: 12 dc in ring\nrnd 2: zz in each st = 13 dc\n",
			findings: []string{"4 unknown-stitch"},
		},
		{
			name:     "nor for the whole of a draft with a round that does not come out",
			text:     "allow claim-count \"the book\"\nring\nrnd 1: 12 dc in ring\nrnd 2: [dc in next 5 st] around = 13 dc\n",
			findings: []string{"4 repeat-remainder"},
		},
		{
			name:     "nor for the whole of a draft with such a line",
			text:     "allow unused-name \"for the fringe\"\nyarn sand\nyarn reed, red\nring\nrnd 1: 12 dc in ring\n",
			findings: []string{"3 syntax"},
		},
		{
			name:     "other rounds are judged all the same",
			text:     "ring\nrnd 1: 12 dc in ring\nallow claim-count \"the book\"\nrnd 2: dc in each st = 12 dc\nrnd 3: zz in each st\n",
			findings: []string{"3 allow-unused", "5 unknown-stitch"},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := source(t, test.text, Options{Rules: rules})
			wantPlaces(t, "findings", r.Findings, test.findings)
			wantPlaces(t, "allowed", r.Allowed, test.allowed)
		})
	}
}

// TestAllowMessages looks at the words: each tells what to do with the line.
func TestAllowMessages(t *testing.T) {
	const rounds = "ring\nrnd 1: 12 dc in ring\n"
	tests := []struct{ text, want string }{
		{"allow claim-count\nring\nrnd 1: 12 dc in ring = 13 dc\n", `^1:1-1:18 .*needs its reason: allow claim-count "`},
		{"allow claim-count \"why\"\n" + rounds, `^1:1-1:24 .*nothing here needs .*claim-count`},
		{rounds + "allow unworked \"why\"\nrnd 2: dc in each st\n", `^3:1-3:21 .*round 2 needs no exception from unworked`},
		{rounds + "allow claim-count \"why\"\nallow claim-count \"why\"\nrnd 2: dc in each st = 13 dc\n", `^4:1-4:24 .*given twice`},
		{"allow claim-count \"why\"\nallow claim-count \"why\"\nring\nrnd 1: 12 dc in ring = 13 dc\n", `^2:1-2:24 .*given twice`},
		{rounds + "allow unworked \"why\"\n", `^3:1-3:21 .*no round follows .*above the round .*header`},
		{"allow claim-cuont \"why\"\n" + rounds, `^1:7-1:18 .*no rule is called claim-cuont; did you mean claim-count\?`},
		{"allow tideline \"why\"\n" + rounds, `^1:7-1:15 .*no rule is called tideline; roundel explain`},
		{"allow syntax \"why\"\n" + rounds, `^1:7-1:13 .*syntax cannot be allowed: .*mended`},
		{"allow allow-unused \"why\"\n" + rounds, `^1:7-1:19 .*allow-unused cannot be allowed: .*a reason and a use`},
	}
	for _, test := range tests {
		r := source(t, test.text, Options{Rules: rules})
		if len(r.Findings) != 1 {
			t.Errorf("%q: %d findings %v", test.text, len(r.Findings), places(r.Findings))
			continue
		}
		f := r.Findings[0]
		if got := fmt.Sprintf("%s %s", f.Span, f.Text()); !regexp.MustCompile(test.want).MatchString(got) {
			t.Errorf("%q:\n got %s\nwant %s", test.text, got, test.want)
		}
	}
}

// An allow line may name a rule of the caller's own, and one that the caller
// has left out.
func TestAllowAndOwnRules(t *testing.T) {
	const text = "ring\nrnd 1: 12 dc in ring\nallow noted \"seen\"\nrnd 2: dc in each st\nallow claim-count \"the book\"\nrnd 3: dc in each st = 13 dc\n"
	r := source(t, text, Options{Rules: slices.Concat(rules, []Rule{noted})})
	wantPlaces(t, "findings", r.Findings, []string{"2 noted", "6 noted"})
	wantPlaces(t, "allowed", r.Allowed, []string{"4 noted", "6 claim-count"})

	var few []Rule
	for _, r := range slices.Concat(rules, []Rule{noted}) {
		if r.ID != "claim-count" {
			few = append(few, r)
		}
	}
	r = source(t, text, Options{Rules: few})
	wantPlaces(t, "findings without claim-count", r.Findings, []string{"2 noted", "6 noted"})

	// What stands behind a round, and before the next, is in neither.
	late := Rule{ID: "late", Severity: notation.Info, Run: func(p *Pass) {
		for a := range p.Draft.Allows() {
			p.Reportf(a.Span, "an exception")
		}
	}}
	r = source(t, "ring\nrnd 1: 12 dc in ring\nallow late \"seen\"\nrnd 2: dc in each st\nallow noted \"seen\"\nrnd 3: dc in each st\n", Options{Rules: []Rule{late}})
	wantPlaces(t, "findings beside rounds", r.Findings, []string{"3 late", "5 late"})

	// Nobody asks for the use of exceptions.
	r = source(t, "allow noted\n"+text, Options{Rules: []Rule{noted}})
	wantPlaces(t, "findings of one rule", r.Findings, nil)
	wantPlaces(t, "allowed of one rule", r.Allowed, []string{"3 noted", "5 noted", "7 noted"})

	// Only for their reason.
	reason, ok := FindRule(Rules(), "allow-reason")
	if !ok {
		t.Fatal("no rule allow-reason")
	}
	r = source(t, "allow noted\nring\nrnd 1: 12 dc in ring\n", Options{Rules: []Rule{reason}})
	wantPlaces(t, "findings about reasons", r.Findings, []string{"1 allow-reason"})
	if len(r.Findings) == 1 && r.Findings[0].Severity != notation.Error {
		t.Errorf("severity %s", r.Findings[0].Severity)
	}
}
