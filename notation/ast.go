package notation

// A Node is anything that stands somewhere in a draft.
type Node interface {
	Range() Span
}

// A Draft is one parsed text, or a tree made by hand, without positions. In such
// a tree a number that is not given stands for 1, the end of a range for its
// beginning, and a stitch may be named by Text alone; but a Place has its Kind,
// unless it is InRing, and a Skip its What. Lists hold no nil.
type Draft struct {
	File string // name for messages; may be empty
	// Terms are what the stitch names of the text are written in.
	Terms Terms
	// Statements stand in the order of the text, header and rounds alike.
	Statements []Statement
	// Tail holds the comments after the last statement.
	Tail []Comment
}

// A Statement is one statement of a draft: one of *Motif, *TermsLine, *Shape,
// *Lies, *For, *Working, *Yarn, *Hook, *Gauge, *Weighed, *Begin, *StitchDef,
// *Ring, *Allow, *Round, *Panel, *Edge, and *Bad for a line that could not be
// read.
type Statement interface {
	Node
	Attached() *Comments
}

// A Comment is one comment, from # to the end of its line.
type Comment struct {
	Span
	Text string // with the #
}

// Comments are the comments that belong to a statement, a step or an item of a
// claim. Every node that can carry them embeds a Comments.
type Comments struct {
	Before []Comment // on lines of their own, above
	After  []Comment // at the end of the line; Parse finds one at most
	// Inside are those before the closing bracket of a repeat or a group.
	Inside []Comment
}

// Attached returns c itself.
func (c *Comments) Attached() *Comments { return c }

// A Quantity is a length or a weight as written.
type Quantity struct {
	Span
	Amount float64
	Unit   Unit
}

// A Unit is a unit of length or weight.
type Unit string

// The units a draft may use.
const (
	Millimetre Unit = "mm"
	Centimetre Unit = "cm"
	Inch       Unit = "in"
	Metre      Unit = "m"
	Yard       Unit = "yd"
	Gram       Unit = "g"
	Ounce      Unit = "oz"
)

// factors convert to mm and g. International yard and pound agreement, 1959:
// 1 yd = 0.9144 m, 1 lb = 0.45359237 kg; so 1 in = 25.4 mm and
// 1 oz = 28.349523125 g exactly.
var factors = map[Unit]float64{
	Millimetre: 1, Centimetre: 10, Inch: 25.4, Metre: 1000, Yard: 914.4,
	Gram: 1, Ounce: 28.349523125,
}

// IsWeight reports whether u measures weight, not length.
func (u Unit) IsWeight() bool { return u == Gram || u == Ounce }

// Value returns the quantity in mm, or in g for a weight.
func (q Quantity) Value() float64 { return q.Amount * factors[q.Unit] }

// A Name is a name in the text and what it stands for.
type Name struct {
	Span
	Text string // as written
	// US is the American name of the stitch, in the standard's casing. It is
	// empty for yarns and named groups. For a name that nobody knows it is the
	// nearest stitch, so that the rounds above can still be worked, and
	// Unknown is set.
	US      string
	Group   *StitchDef // the named group meant, or nil
	Unknown bool
	// Foreign is set for a name that only the other terms have; US is then the
	// stitch it means there.
	Foreign bool
}

// The header statements.
type (
	// Motif is the title: motif "Saltmarsh square".
	Motif struct {
		Span
		Comments
		Title string
	}
	// TermsLine is the line that says which terms hold: terms uk.
	TermsLine struct {
		Span
		Comments
		Terms Terms
	}
	// Shape is the intended outline: shape square.
	Shape struct {
		Span
		Comments
		Outline Outline
	}
	// Lies is what the designer intends the piece to do: lies flat.
	Lies struct {
		Span
		Comments
		As Lie
	}
	// Working is how one round follows another: worked joined.
	Working struct {
		Span
		Comments
		Rounds Succession
	}
	// For is who the piece is for: for child.
	For struct {
		Span
		Comments
		Who Wearer
	}
	// Yarn declares a yarn:
	//	yarn sand "oat", colour "#d8c6a0", 200 m per 100 g
	Yarn struct {
		Span
		Comments
		Name   Name
		Label  string
		Colour string   // "#d8c6a0", or ""
		Length Quantity // zero when not given
		Weight Quantity
		// Stretches are the colours of a yarn that changes, in the order in
		// which they come from the ball; after the last the first comes again.
		Stretches []Stretch
		Text      string // as written, where a mistake is in it; see Parse
	}
	// Hook is the hook: hook 5 mm.
	Hook struct {
		Span
		Comments
		Size Quantity
	}
	// Gauge is the maker's gauge in one of two forms:
	//	gauge 14 dc by 8 rnds over 10 cm
	//	gauge rnds 1-3 = 10 cm across
	Gauge struct {
		Span
		Comments
		// The first form; Rounds is 0 when not given.
		Stitches float64
		Stitch   Name
		Rounds   float64
		Over     Quantity
		// The second form; From is 0 in the first.
		From, To int
		Across   Quantity
	}
	// Weighed is the maker's own swatch: what the first rounds of one motif
	// weigh, all yarns together:
	//	weighed rnds 1-5 = 12 g
	Weighed struct {
		Span
		Comments
		From, To int // From is 1
		Weight   Quantity
	}
	// Begin is how rounds start: begin standing.
	Begin struct {
		Span
		Comments
		Start Start
	}
	// StitchDef names a group: stitch vst = (dc, ch 1, dc).
	StitchDef struct {
		Span
		Comments
		Name  Name
		Group *Group
		Text  string // as written, where a mistake is in it; see Parse
	}
	// Ring is the foundation: ring, or ring ch 4.
	Ring struct {
		Span
		Comments
		Chains int // 0 for an adjustable ring
	}
	// Panel says how equal motifs are made up:
	//	panel 4 by 5 joined sc
	//	panel wrap joined whip, neck 40 st
	Panel struct {
		Span
		Comments
		Kind          PanelKind
		Rows, Columns int // of one face; 0 for a wrap, which has four motifs
		Join          JoinKind
		JoinName      Name // the join as written, zero when none is
		// Neck is how many stitches of the seam over the shoulders are left
		// open, at the front and again at the back; 0 but for a square wrap.
		Neck int
		Text string // as written, where a mistake is in it; see Parse
	}
	// Edge is the foundation of border rounds, which follow it and are numbered
	// from 1: edge of panel.
	Edge struct {
		Span
		Comments
		Of   EdgeName
		Text string // as written, where a mistake is in it; see Parse
	}
	// Allow excepts the next round, or the draft, from a rule:
	//	allow claim-count "the book miscounts here"
	Allow struct {
		Span
		Comments
		Rule      string
		RuleSpan  Span
		Reason    string
		HasReason bool
	}
	// Bad is a statement that could not be read. Text keeps it as it stands.
	Bad struct {
		Span
		Comments
		Text string
	}
)

// A Stretch is one colour of a yarn that changes:
//
//	stretch 120 m "rose" colour "#d88f9a"
type Stretch struct {
	Span
	Length Quantity
	Label  string
	Colour string // "#d88f9a", or ""
}

// An Outline is the shape a motif is meant to have.
type Outline string

// The outlines. The zero value says nothing; Free says that the outline is none
// of the others.
const (
	OutlineUnsaid Outline = ""
	Free          Outline = "free"
	Circle        Outline = "circle"
	Triangle      Outline = "triangle"
	Square        Outline = "square"
	Pentagon      Outline = "pentagon"
	Hexagon       Outline = "hexagon"
	Octagon       Outline = "octagon"
)

// Corners returns how many corners the outline has; 0 for a circle or a free
// outline.
func (o Outline) Corners() int {
	switch o {
	case Triangle:
		return 3
	case Square:
		return 4
	case Pentagon:
		return 5
	case Hexagon:
		return 6
	case Octagon:
		return 8
	}
	return 0
}

// A Lie is how the finished piece lies.
type Lie string

// The ways to lie.
const (
	Flat    Lie = "flat"
	Cupped  Lie = "cupped"
	Ruffled Lie = "ruffled"
)

// A Wearer is who a piece is for.
type Wearer string

// The wearers. The zero value says nothing.
const (
	WearerUnsaid Wearer = ""
	Infant       Wearer = "infant"
	Child        Wearer = "child"
	Adult        Wearer = "adult"
)

// A PanelKind is what equal motifs are made up into.
type PanelKind string

// The kinds of panels.
const (
	PanelFlat        PanelKind = "flat"          // rows by columns
	PanelTube        PanelKind = "tube"          // the left edge joined to the right
	PanelCushion     PanelKind = "cushion"       // two faces, joined all round
	PanelBag         PanelKind = "bag"           // two faces, open at the top
	PanelWrap        PanelKind = "wrap"          // four squares, folded over the shoulders
	PanelWrapOnPoint PanelKind = "wrap on point" // two strips of two, the points to the front and back
)

// A JoinKind is how motifs are joined.
type JoinKind string

// The joins. The zero value leaves it to the maker, and is taken as JoinWhip.
const (
	JoinUnsaid   JoinKind = ""
	JoinWhip     JoinKind = "whip"     // sewn, whip stitch
	JoinMattress JoinKind = "mattress" // sewn, mattress stitch
	JoinSlip     JoinKind = "sl st"
	JoinSingle   JoinKind = "sc" // in American terms, as all stitch names
)

// An EdgeName names an edge of what a panel makes.
type EdgeName string

// The edges. EdgeOfPanel is the hem of a wrap, the opening of a bag, and the
// joined edge of one face of a cushion.
const (
	EdgeUnread  EdgeName = "" // the line could not be read
	EdgeOfPanel EdgeName = "panel"
	EdgeOfNeck  EdgeName = "neck"
)

// A Succession is how one round follows another.
type Succession string

// The successions.
const (
	Joined Succession = "joined" // each round is closed with a slip stitch
	Spiral Succession = "spiral" // rounds run on without a join
	Turned Succession = "turned" // joined, and the work turned after each round
)

// A Start is how a round begins. It changes the written text and the yarn, not
// the count: a starting chain that counts is one of the stitches counted.
type Start string

// The starts. The zero value leaves it to the header, and there to the maker.
const (
	StartUnsaid     Start = ""
	ChainCounts     Start = "chain counts"
	ChainUncounted  Start = "chain uncounted"
	StandingStitch  Start = "standing"
	ChainlessStitch Start = "chainless"
)

// A Round is one round statement, which may stand for several rounds worked by
// the same steps.
type Round struct {
	Span
	Comments
	Head     Span // "rnd 3", for messages
	From, To int  // To equals From for a single round
	// Next is set where the text gives no number: rnd next, rnd next 3. From
	// is then 1 and To the number of rounds.
	Next bool
	// Until is set where the rounds go on up to a size; From equals To.
	Until     *Until
	Yarn      *Name
	Start     Start
	StartSpan Span
	As        int // works the steps of this round; 0 when it has steps of its own
	AsSpan    Span
	Steps     []Step
	Claim     *Claim
	// Broken is set when the steps could not be read. The numbers, the yarn
	// and the claim are filled in as far as they could be.
	Broken bool
	// Text is the statement as written where a syntax finding is about it, or
	// a number is too large: the steps are then what was made of them, and
	// Format writes the text.
	Text string
}

// Until says when the rounds of a statement are enough:
//
//	rnd 8 until side 45 cm:
//	rnd 8 until 14 rnds:
type Until struct {
	Span
	What   UntilKind
	Length Quantity // for UntilSide and UntilAcross
	Rounds int      // for UntilRounds
}

// An UntilKind is what is measured, or counted, to know when rounds are enough.
type UntilKind string

// What is measured or counted.
const (
	UntilUnread UntilKind = ""       // the statement could not be read
	UntilSide   UntilKind = "side"   // one side of the outline
	UntilAcross UntilKind = "across" // across the piece
	UntilRounds UntilKind = "rnds"   // the rounds of the piece in all
)

// A Claim is what the designer believes comes out of a round.
type Claim struct {
	Span
	Items []*ClaimItem
}

// A ClaimItem is one count of a claim: 7/11/15 dc per side.
type ClaimItem struct {
	Span
	Comments
	Counts []int // one for all rounds, or one for each round of a range
	// CountSpans are the places of the Counts in a parsed draft.
	CountSpans []Span
	What       PlaceKind
	Stitch     Name // for OfStitch
	PerSide    bool
}

// A Step is one step of a round: *Work, *Group, *Chain, *Skip, *Repeat,
// *Picot, or *Turn, *Join, *FastenOff, *ChangeYarn.
type Step interface {
	Node
	Attached() *Comments
}

type (
	// Work is stitches of one kind: 3 dc in next sp.
	Work struct {
		Span
		Comments
		Count      int  // 1 when HasCount is false
		CountSpan  Span // of the number, where Parse found one
		HasCount   bool // says so in the text: 1 dc, not dc
		Stitch     Name
		Corner     bool // marks the place it leaves as a corner
		CornerSpan Span
		Place      *Place // nil: in the next st, or where the group is
	}
	// Group is several members in one place: (2 dc, ch 1, 2 dc) in next sp.
	Group struct {
		Span
		Comments
		Members []Step
		Place   *Place // nil in a definition
	}
	// Chain is a run of chains: ch 3; with As, one that counts as a stitch.
	Chain struct {
		Span
		Comments
		Count      int
		As         *Name
		Corner     bool
		CornerSpan Span
		Place      *Place // only with As
	}
	// Skip passes over places on purpose: sk 3 st.
	Skip struct {
		Span
		Comments
		Count  int
		What   PlaceKind
		Stitch Name // for OfStitch
	}
	// Repeat works its steps several times, or around.
	Repeat struct {
		Span
		Comments
		Steps  []Step
		Times  int // 0 with Around
		Around bool
		// Tail is where "4 times" or "around" stands.
		Tail Span
	}
	// Picot is a closed loop on the stitch just made.
	Picot struct {
		Span
		Comments
		Chains int
	}
	// Turn turns the work; it stands first or last in a round.
	Turn struct {
		Span
		Comments
	}
	// Join closes the round with a slip stitch, or invisibly.
	Join struct {
		Span
		Comments
		Invisible bool
	}
	// FastenOff cuts the yarn.
	FastenOff struct {
		Span
		Comments
	}
	// ChangeYarn goes on with another yarn.
	ChangeYarn struct {
		Span
		Comments
		Yarn Name
	}
)

// A PlaceKind is a kind of place on the finished edge of a round, or a kind of
// thing that can be counted.
type PlaceKind uint8

// The kinds of places.
const (
	NoPlace  PlaceKind = iota
	St                 // the top of a stitch
	Sp                 // a chain space, one run of chains
	Ch                 // one chain of a run
	Gap                // between two stitches
	Corner             // the place marked corner
	RingHole           // the centre ring
	OfStitch           // a stitch of a given name
	Picots             // picots, in claims only
)

var placeNames = [...]string{"", "st", "sp", "ch", "gap", "corner", "ring", "stitch", "picot"}

func (k PlaceKind) String() string {
	if int(k) < len(placeNames) {
		return placeNames[k]
	}
	return "no kind of place"
}

// How says which of the places are taken.
type How uint8

// The ways to take places.
const (
	InNext   How = iota // in next st, in next 4 st
	InEach              // in each st; in each of next 3 st, which has a Count
	InSame              // in same: the place last worked into
	InRing              // in ring
	Over                // legs spread over several places: over next 2 st
	OverSame            // first leg in the same place again: over same and next st
)

// A Loop is the part of a stitch's top that is worked into.
type Loop uint8

// The loops.
const (
	BothLoops Loop = iota
	BackLoop
	FrontLoop
)

// A Place says where a step is worked.
type Place struct {
	Span
	How      How
	Count    int // places: 4 for "next 4 st"; 1 for "next st"; 0 for "each st"
	Kind     PlaceKind
	KindSpan Span
	Stitch   Name // for OfStitch
	AndCh    bool // each st and ch
	Loop     Loop
	Round    int // of rnd 3; 0 for the round below
}
