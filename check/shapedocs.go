package check

import "example.com/roundel/notation"

// The rules about the shape of the piece.
var shapeRules = []Rule{
	{
		ID: "growth-ruffle", Severity: notation.Warning, Run: growthRuffle,
		Summary: "rounds too long to lie flat: the piece ruffles",
		Doc: Doc{
			Text: `A round lies flat when its length is right for its distance from the centre: a
circle needs 6.28 stitch heights more in every round, a square 8. When rounds are
longer, the edge waves. The finding names the first round where this shows, by how
much it is too long, and how many stitches would do.

The verdict rests on how tall a stitch is for its width. That differs between
makers; a gauge line that counts rounds is used when the draft has one, as exact
as its counts are: within half a stitch and half a round, what is usual counts. Slack
chains take up or give room, and the give of the stitches and blocking even out a
little: up to about 15 % is only worth knowing. A ruffle that is meant is declared:
lies ruffled.`,
			Failing: "shape circle\nring\nrnd 1: 16 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\nrnd 4: [dc in next 2 st, 2 dc in next st] around\n",
			Passing: "shape circle\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3: [dc in next st, 2 dc in next st] around\nrnd 4: [dc in next 2 st, 2 dc in next st] around\n",
		},
	},
	{
		ID: "growth-cup", Severity: notation.Warning, Run: growthCup,
		Summary: "rounds too short to lie flat: the piece cups",
		Doc: Doc{
			Text: `The rounds are shorter than their distance from the centre asks for, so the edge
pulls up into a bowl. See growth-ruffle for what is compared. A bowl, hat or basket
is declared: lies cupped; then it is a finding when the piece would lie flat.`,
			Failing: "shape circle\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3-6: dc in each st\n",
			Passing: "shape circle\nlies cupped\nring\nrnd 1: 12 dc in ring\nrnd 2: 2 dc in each st\nrnd 3-6: dc in each st\n",
		},
	},
	{
		ID: "corner-count", Severity: notation.Warning, Run: cornerCount,
		Summary: "not as many corners as the shape has",
		Doc: Doc{
			Text: `The shape line says what the outline is meant to be; a round that marks corners
marks as many as that outline has.`,
			Failing: "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 5 times\n",
			Passing: "shape pentagon\nring\nrnd 1: [3 dc in ring, corner ch 2] 5 times\n",
		},
	},
	{
		ID: "corner-turn", Severity: notation.Warning, Run: cornerTurn,
		Summary: "corners that are passed over, or marked where nothing turns",
		Doc: Doc{
			Text: `An edge turns where more stitches stand than elsewhere: in sc three in the place
of each corner of a square do it, in dc five, or two on each side of ch 2. A round
that works straight past a corner loses it; and a corner that is marked in a round
that is as round there as elsewhere is none. Rounds that turn the corners and mark
none are right, and so are slip stitches and reverse sc round the edge.`,
			Failing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
rnd 3: [sc in each st, sc in corner] 4 times
`,
			Passing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
rnd 3: [sc in each st, (sc, corner sc, sc) in corner] 4 times
`,
		},
	},
	{
		ID: "square-rotation", Severity: notation.Warning, Run: squareRotation,
		Summary: "the sides are not alike",
		Doc: Doc{
			Text: `Motifs are joined edge to edge, so each side must be the same sequence of
stitches, yarns included, worked into the same places. The finding says which sides
differ and where. It is only for information where a round without corners, inside
the square, does not come round in equal parts.`,
			Failing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2: [dc in next 3 st, (2 dc, corner ch 2, 2 dc) in corner] 3 times, dc in next st, hdc in next st, dc in next st, (2 dc, corner ch 2, 2 dc) in corner
rnd 3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
			Passing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
		},
	},
	{
		ID: "square-mirror", Severity: notation.Info, Run: squareMirror,
		Summary: "a corner does not read the same from both ends",
		Doc: Doc{
			Text: `From each corner the round reads the same in both directions, unless the motif is
meant to turn like a pinwheel. Where the sides are not even alike, only
square-rotation speaks.`,
			Failing: "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [dc in each st, (3 dc, corner ch 2, dc) in corner] 4 times\n",
			Passing: "shape square\nring\nrnd 1: [3 dc in ring, corner ch 2] 4 times\nrnd 2: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times\n",
		},
	},
	{
		ID: "corner-drift", Severity: notation.Warning, Run: cornerDrift,
		Summary: "a corner does not stand on the corner below",
		Doc: Doc{
			Text: `When corners are counted off instead of worked in corner, a slip of one stitch
makes them wander from round to round, and the square twists.`,
			Failing: `shape square
ring
rnd 1: [2 dc in ring, corner dc in ring, 2 dc in ring] 4 times
rnd 2: sk 1 st, [dc in next 2 st, (2 dc, corner dc, 2 dc) in next st, dc in next 2 st] 4 times
`,
			Passing: `shape square
ring
rnd 1: [2 dc in ring, corner dc in ring, 2 dc in ring] 4 times
rnd 2: [dc in each st, (2 dc, corner dc, 2 dc) in corner] 4 times
`,
		},
	},
	{
		ID: "side-growth", Severity: notation.Warning, Run: sideGrowth,
		Summary: "plain rounds whose sides grow unevenly",
		Doc: Doc{
			Text: `In rounds of one stitch with the same corners every side grows by the same number.
Where it does not, one of the rounds has another corner group than its neighbours.`,
			Failing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
rnd 4: [dc in each st, (dc, corner ch 2, dc) in corner] 4 times
`,
			Passing: `shape square
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times
rnd 2-4: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times
`,
		},
	},
}
