package size

import "example.com/roundel/notation"

// A Body is a measurement of a body, not of a garment.
type Body struct {
	Part   BodyPart
	Wearer notation.Wearer
	Size   string // "6-12 months", "M"
	// Least and Most are the measurement; the same where one figure is given.
	Least, Most Length
}

// A BodyPart is what is measured of a body.
type BodyPart string

// What is measured of bodies.
const (
	Head  BodyPart = "head"  // round the forehead
	Chest BodyPart = "chest" // round the fullest part
	Back  BodyPart = "back"  // from the prominent bone of the neck to the waist
)

const inch Length = 25.4

// heads are in rising order. "Measurements
// for Designers: Hat Sizes" (weblog), December 2014, general guidelines; as
// read there, in inches.
var heads = []Body{
	{Head, notation.Infant, "newborn", 14 * inch, 14 * inch},
	{Head, notation.Infant, "0-6 months", 16 * inch, 16 * inch},
	{Head, notation.Infant, "6-12 months", 17 * inch, 17 * inch},
	{Head, notation.Child, "toddler", 19 * inch, 19 * inch},
	{Head, notation.Child, "child", 20.5 * inch, 20.5 * inch},
	{Head, notation.Child, "teen", 21 * inch, 21 * inch},
	{Head, notation.Adult, "woman", 21 * inch, 21 * inch},
	{Head, notation.Adult, "man", 22 * inch, 22 * inch},
}

// chests are in rising order: the sizes of women, put together from two published patterns that follow the standard of
// the trade ("Dotty Pullover", which prints the top of each range; a pattern
// sheet of 2021, which prints sizes in pairs), in inches. No measurement of the
// chests of children or men was read.
var chests = []Body{
	{Chest, notation.Adult, "XS", 28 * inch, 30 * inch},
	{Chest, notation.Adult, "S", 32 * inch, 34 * inch},
	{Chest, notation.Adult, "M", 36 * inch, 38 * inch},
	{Chest, notation.Adult, "L", 40 * inch, 42 * inch},
	{Chest, notation.Adult, "1X", 44 * inch, 46 * inch},
	{Chest, notation.Adult, "2X", 48 * inch, 50 * inch},
	{Chest, notation.Adult, "3X", 52 * inch, 54 * inch},
	{Chest, notation.Adult, "4X", 56 * inch, 58 * inch},
	{Chest, notation.Adult, "5X", 60 * inch, 62 * inch},
}

// backs are those of children by age in years: "Measurements for Designers: Children" (site), which
// starts from the standard of the trade; in inches.
var backs = []Body{
	{Back, notation.Child, "2 years", 8.5 * inch, 8.5 * inch},
	{Back, notation.Child, "4 years", 9.5 * inch, 9.5 * inch},
	{Back, notation.Child, "6 years", 10.5 * inch, 10.5 * inch},
	{Back, notation.Child, "8 years", 12.5 * inch, 12.5 * inch},
	{Back, notation.Child, "10 years", 14 * inch, 14 * inch},
	{Back, notation.Child, "12 years", 15 * inch, 15 * inch},
	{Back, notation.Child, "14 years", 15.5 * inch, 15.5 * inch},
	{Back, notation.Child, "16 years", 16 * inch, 16 * inch},
}

// looseEase is what a loose garment measures more than the chest: 4 to 6 in
// (fit guideline of a yarn maker as restated in a weblog, 4 August 2011). A wrap
// is nothing less.
const looseEase = 4 * inch
