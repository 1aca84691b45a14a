package check

import "example.com/roundel/notation"

// The rules, with their documentation. Every failing draft yields findings of
// its rule only, every passing draft none; a test sees to that.
var rules = []Rule{
	{
		ID: "syntax", Severity: notation.Error, Run: staged,
		Summary: "a statement cannot be read",
		Doc: Doc{
			Text: `The line does not follow the notation. It is kept as it stands, the rest of the
draft is read and checked all the same, and rounds that stand on a round that
could not be read are worked on what that round claims, or left alone where it
claims nothing.`,
			Failing: "ring\nrnd 1: 12 dc in ring; ch 1\n",
			Passing: "ring\nrnd 1: 12 dc in ring, ch 1\n",
			Fix:     "habits of writing that can mean one thing only are put into the notation: Round 3, skip 2 st, ch3, dc 2 tog, semicolons and the word and between steps, a full stop at the end, dashes and quotation marks of a typesetter",
		},
	},
	{
		ID: "limit", Severity: notation.Error, Run: staged,
		Summary: "the draft is larger than allowed",
		Doc: Doc{
			Text: `A draft may be so many bytes long, its brackets so many deep, and the piece may
have so many stitches and rounds. The limits are far above any real piece; they
are there so that a slip in a number, or a hostile draft, gets an answer instead
of taking all memory. Programs that use the library can set them.`,
			Failing: "ring\nrnd 1: 999999999999 dc in ring\n",
			Passing: "ring\nrnd 1: 99 dc in ring\n",
		},
	},
	{
		ID: "unknown-stitch", Severity: notation.Error, Run: staged,
		Summary: "a stitch name that means nothing",
		Doc: Doc{
			Text: `The name is neither on the list of stitches nor a group named in the header.
Where one name is near, the round is worked with it, so that the rounds above
can be checked.`,
			Failing: "ring\nrnd 1: 12 treble in ring = 12 tr\n",
			Passing: "ring\nrnd 1: 12 tr in ring = 12 tr\n",
			Fix:     "words that can mean one thing only, such as stitch, space, treble, ch3, are replaced by the abbreviation",
		},
	},
	{
		ID: "terms", Severity: notation.Error, Run: staged,
		Summary: "a stitch name of the other terms",
		Doc: Doc{
			Text: `The name exists only in the terms that the draft is not written in: sc in UK
terms, htr in US terms. The round is worked with the stitch that the name means
in its own terms. A name that exists in both (dc, tr) is read in the terms of
the draft; no rule can know that another stitch was meant.`,
			Failing: "terms uk\nring\nrnd 1: 8 sc in ring\n",
			Passing: "terms uk\nring\nrnd 1: 8 dc in ring\n",
			Fix:     "the name is replaced by the one that the stitch has in the terms of the draft, where the draft says its terms, or has another name that only they have",
		},
	},
	{
		ID: "unknown-yarn", Severity: notation.Error, Run: staged,
		Summary: "a yarn that is not declared",
		Doc: Doc{
			Text: `Every yarn is declared in the header, so that its amount can be worked out and a
slip in its name is found.`,
			Failing: "yarn sand\nring\nrnd 1 with sand: 12 dc in ring\nrnd 2 with snad: 2 dc in each st\n",
			Passing: "yarn sand\nring\nrnd 1 with sand: 12 dc in ring\nrnd 2 with sand: 2 dc in each st\n",
		},
	},
	{
		ID: "unused-name", Severity: notation.Warning, Run: unusedNames,
		Summary: "a yarn or group that is declared and never used",
		Doc: Doc{
			Text: `A reader buys every yarn that is listed and learns every special stitch. The
first round is worked with the first yarn when it names none.`,
			Failing: "yarn sand\nyarn reed\nring\nrnd 1 with sand: 12 dc in ring\n",
			Passing: "yarn sand\nyarn reed\nring\nrnd 1 with sand: 12 dc in ring\nrnd 2 with reed: 2 dc in each st\n",
		},
	},
	{
		ID: "bare-count", Severity: notation.Error, Run: staged,
		Summary: "several stitches without a place",
		Doc: Doc{
			Text: `Readers take "2 dc" both ways: one in each of the next two stitches, or both in
the next one. The round is worked with the reading that comes out
right, where only one does.`,
			Failing: "ring\nrnd 1: 12 dc in ring\nrnd 2: [2 dc] around = 24 dc\n",
			Passing: "ring\nrnd 1: 12 dc in ring\nrnd 2: [2 dc in next st] around = 24 dc\n",
			Fix:     "the place is written where the round comes out right with one of the two readings only",
		},
	},
	{
		ID: "round-order", Severity: notation.Error, Run: staged,
		Summary: "a round is missing, repeated or out of order",
		Doc: Doc{
			Text: `Rounds are numbered from 1 without a hole, in the order in which they are
worked. Where a round is missing, the next one is worked on the round that is
there.`,
			Failing: "ring\nrnd 1: 12 dc in ring\nrnd 3: 2 dc in each st\n",
			Passing: "ring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n",
		},
	},
	{
		ID: "past-end", Severity: notation.Warning, Run: pastEnd,
		Summary: "a gauge or a weight of rounds that the draft does not have",
		Doc: Doc{
			Text: `A gauge may be measured across the piece, and a swatch weighed, after a round that
is named. Without such a round nothing can be worked out from it.`,
			Failing: "gauge rnds 1-3 = 10 cm across\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n",
			Passing: "gauge rnds 1-2 = 10 cm across\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\n",
		},
	},
	{
		ID: "no-rounds", Severity: notation.Error, Run: noRounds,
		Summary: "a draft with nothing to work",
		Doc: Doc{
			Text: `The file is empty, or holds a header and no rounds. It may be the wrong file, or
one that was not saved to its end.`,
			Failing: "motif \"Tideline\"\nring\n",
			Passing: "motif \"Tideline\"\nring\nrnd 1: 12 dc in ring\n",
		},
	},
	{
		ID: "starting-chain", Severity: notation.Warning, Run: startingChain,
		Summary: "a chain that counts as a stitch, where or as long as none is made",
		Doc: Doc{
			Text: `A starting chain lifts the work to the height of the round: it is made once, at
the beginning or with a new yarn, and is as long as the stitch it counts as is
tall, ch 1 for sc, ch 2 for hdc, ch 3 for dc, ch 4 for tr, or one chain less; old
books make ch 5 for tr. A longer one is often a stitch and a chain space in one
breath: ch 5 for a dc and ch 2.`,
			Failing: `ring
rnd 1: ch 5 as dc, [dc in ring, ch 2] 7 times
`,
			Passing: `ring
rnd 1: ch 3 as dc, ch 2, [dc in ring, ch 2] 7 times
`,
		},
	},
	{
		ID: "spiral-join", Severity: notation.Warning, Run: spiralJoin,
		Summary: "a spiral whose rounds are joined or turned",
		Doc: Doc{
			Text: `In a spiral one round runs on into the next without a join. A join at the end of
the piece is usual, and so is one before a round that begins with another yarn or
with chains of its own. Any other, and a turn without a join, is at odds with the
line worked spiral.`,
			Failing: `worked spiral
ring
rnd 1: 6 sc in ring
rnd 2: 2 sc in each st, join
rnd 3: [sc in next st, 2 sc in next st] around
`,
			Passing: `worked spiral
ring
rnd 1: 6 sc in ring
rnd 2: 2 sc in each st
rnd 3: [sc in next st, 2 sc in next st] around, join
`,
		},
	},
	{
		ID: "no-such-place", Severity: notation.Error, Run: staged,
		Summary: "a step works into a place that is not there",
		Doc: Doc{
			Text: `The round below has no place of that kind, or none is left.`,
			Failing: `ring
rnd 1: 12 dc in ring
rnd 2: [3 dc in next sp] around
`,
			Passing: `ring
rnd 1: [dc in ring, ch 1] 12 times
rnd 2: [3 dc in next sp] around
`,
		},
	},
	{
		ID: "repeat-remainder", Severity: notation.Error, Run: staged,
		Summary: "a repeat does not fit the round below",
		Doc: Doc{
			Text: `A repeat worked around must come out exactly where the round began, and a repeat
worked a number of times must neither run out of places nor leave some over. The
message says how many places one repeat uses, how many there are, and which
counts of the round below would fit. The rounds above are checked on as many
whole repeats as fit.`,
			Failing: "ring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: [sc in next 4 st, 2 sc in next st] around\n",
			Passing: "ring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st\nrnd 3: [sc in next st, 2 sc in next st] around\n",
		},
	},
	{
		ID: "unworked", Severity: notation.Error, Run: staged,
		Summary: "stitches that nobody worked into or skipped",
		Doc: Doc{
			Text: `In a round that works into stitches, every stitch of the round below is worked
into or skipped by name. A round that works only into spaces or gaps passes the
stitches between them without a word.`,
			Failing: `ring
rnd 1: [2 dc in ring, ch 1] 6 times
rnd 2: [2 dc in next st, 2 dc in next sp] around
`,
			Passing: `ring
rnd 1: [2 dc in ring, ch 1] 6 times
rnd 2: [2 dc in next st, sk 1 st, 2 dc in next sp] around
`,
		},
	},
	{
		ID: "skip-miss", Severity: notation.Error, Run: staged,
		Summary: "a skip that does not arrive",
		Doc: Doc{
			Text: `A skip is a promise: after it the next place worked into is right there. When more
places of the same kind lie between, the number skipped is wrong, or the round
below is not what the designer has in mind.`,
			Failing: `ring
rnd 1: 16 dc in ring
rnd 2: [3 dc in next st, sk 1 st] around
rnd 3: [sc in next gap, ch 4, sk 2 dc] around
`,
			Passing: `ring
rnd 1: 16 dc in ring
rnd 2: [3 dc in next st, sk 1 st] around
rnd 3: [sc in next gap, ch 4, sk 3 dc] around
`,
		},
	},
	{
		ID: "corner-order", Severity: notation.Error, Run: staged,
		Summary: "corners are passed over or never reached",
		Doc: Doc{
			Text: `"each" ends at a corner, so a round that works each stitch must also say what
happens in the corners; and a round that works into some corners of the round
below works into all of them.`,
			Failing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2: dc in each st
`,
			Passing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
		},
	},
	{
		ID: "claim-count", Severity: notation.Error, Run: staged,
		Summary: "the count after = is not what comes out",
		Doc: Doc{
			Text: `What stands after = is what the designer believes; it is compared with what the
steps make, kind by kind, and side by side where sides are claimed. Kinds that
are not named are not compared. In a round whose steps are at fault the claim is
not compared, because it would only say the same again.`,
			Failing: "ring\nrnd 1: 12 dc in ring = 12 dc\nrnd 2: 2 dc in each st = 22 dc\nrnd 3: [dc in next st, 2 dc in next st] around = 36 dc\n",
			Passing: "ring\nrnd 1: 12 dc in ring = 12 dc\nrnd 2: 2 dc in each st = 24 dc\nrnd 3: [dc in next st, 2 dc in next st] around = 36 dc\n",
			Fix:     "the number is replaced by what comes out where something else in the draft speaks for it: a round above comes out right on what there is and not on the claim, or the claim itself says it in another way; nothing is mended where a round above comes out right on the claim, a starting chain may be meant to count, or a round below is at fault",
		},
	},
	{
		ID: "until-gauge", Severity: notation.Error, Run: staged,
		Summary: "rounds up to a size that cannot be measured",
		Doc: Doc{
			Text: `How many rounds it takes until a piece has a size follows from the gauge of the
draft, and a side is what lies between two corners. Where one of the two is
missing, one round is worked. Of a gauge that is taken across rounds the last
has to stand above the rounds that are counted. The rounds of a border are
counted: until 3 rnds.`,
			Failing: `ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2 until side 20 cm: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
			Passing: `gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2 until side 20 cm: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
		},
	},
	{
		ID: "until-size", Severity: notation.Error, Run: staged,
		Summary: "a size that the piece has already, or never comes to",
		Doc: Doc{
			Text: `Rounds go on until the piece has the size or is larger. Where it is that large
before the first of them, none is worked; where it hardly grows, or would take
more rounds than are allowed, the rest is left out.`,
			Failing: `gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2 until side 2 cm: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
			Passing: `gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2 until side 20 cm: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
		},
	},
	{
		ID: "panel-shape", Severity: notation.Error, Run: staged,
		Summary: "motifs that cannot be made up in this way",
		Doc: Doc{
			Text: `Motifs that are joined in rows have four corners, marked in their last round, and
something between the corners that can be joined. A neck that is left open in a
seam is shorter than the seam. Only a wrap has an edge of neck.`,
			Failing: `ring
rnd 1: [3 dc in ring, corner ch 2] 6 times
panel 4 by 5 joined sc
`,
			Passing: `ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
panel 4 by 5 joined sc
`,
		},
	},
	{
		ID: "edge-mismatch", Severity: notation.Error, Run: staged,
		Summary: "sides that are joined and have unequal numbers of stitches",
		Doc: Doc{
			Text: `However motifs are joined, stitch is joined to stitch and chain to chain, so the
two sides need the same number of both together. With a stitch more on one of
them the seam puckers, and every further motif adds to it. Side 1 is the one
that the last round begins on; it lies at the bottom, and the others follow.
Source for joining one to one: R. Stroot, Hastings Tribune; M. B. Temple,
craftandhobby.com.`,
			Failing: `ring
rnd 1: [3 dc in ring, corner ch 2] 3 times, 4 dc in ring, corner ch 2
panel 1 by 2
`,
			Passing: `ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
panel 1 by 2
`,
		},
	},
	{
		ID: "border-scant", Severity: notation.Warning, Run: borderScant,
		Summary: "a border with too few stitches for its edge",
		Doc: Doc{
			Text: `On a straight edge a border lies as it is with as many stitches and chains as the
edge has, and at each outer corner with twice its own width more. With less than
three quarters of that it draws the edge in: a hem gathers, and the opening of a bag
or a neck becomes smaller. Where that is meant, an allow line above the round says
so. How large it comes out, roundel size says.`,
			Failing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
panel bag 1 by 1
edge of panel
rnd 1: [sc in each of next 11 st, sk 1 sp] around
rnd 2: [sc2tog] around
`,
			Passing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
panel bag 1 by 1
edge of panel
rnd 1: [sc in each of next 11 st, sk 1 sp] around
rnd 2: [sc in each st] around
`,
		},
	},
	{
		ID: "neck-small", Severity: notation.Warning, Run: neckSmall,
		Summary: "a neck that no head passes",
		Doc: Doc{
			Text: `The neck of a wrap goes over the head. Where the draft has a gauge and says who the
piece is for, the opening, as its border leaves it, is compared with the heads of
those: it should pass over one of them at least. It is only for information where
the neck may be as large, hands and yarns being what they are. Source of the heads:
Measurements for Designers: Hat Sizes (weblog), December 2014.`,
			Failing: `shape square
for adult
gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-12: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
panel wrap, neck 20 st
`,
			Passing: `shape square
for adult
gauge 14 dc by 7 rnds over 10 cm
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-12: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
panel wrap, neck 44 st
`,
		},
	},
	{
		ID: "allow-reason", Severity: notation.Error,
		Summary: "an exception without a reason",
		Doc: Doc{
			Text: `An allow line says why the exception is meant, for the next person who reads the
draft.`,
			Failing: "yarn sand\nyarn reed\nallow unused-name\nring\nrnd 1 with sand: 12 dc in ring\n",
			Passing: "yarn sand\nyarn reed\nallow unused-name \"reed is for the fringe\"\nring\nrnd 1 with sand: 12 dc in ring\n",
		},
	},
	{
		ID: "allow-unused", Severity: notation.Warning,
		Summary: "an exception that nothing needs",
		Doc: Doc{
			Text: `The draft keeps the rule where it is excepted from it, or the rule does not exist,
or cannot be excepted from. An exception left standing would hide the next slip.
In a round that could not be worked as it is written there is no telling yet.`,
			Failing: "ring\nallow claim-count \"the book miscounts\"\nrnd 1: 12 dc in ring = 12 dc\n",
			Passing: "ring\nallow claim-count \"the book miscounts\"\nrnd 1: 12 dc in ring = 13 dc\n",
		},
	},
}
