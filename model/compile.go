package model

import (
	"math"

	"example.com/roundel/notation"
)

// An opcode is what a compiled step does.
type opcode uint8

const (
	opWork   opcode = iota // stitches of one kind, count to a place
	opGroup                // members in one place
	opChain                // a run of chains
	opSkip                 // pass over places
	opRepeat               // body, count times or around
	opPicot
	opYarn
	opTurn
	opLeftOut // a step that a remedy leaves out
)

// An op is one compiled step. Rounds are compiled once and worked many times:
// names are looked up here, not for every stitch.
type op struct {
	code     opcode
	corner   bool
	bare     int  // 3 dc without a place can be read two ways: which of these steps it is, from 1
	copyable bool // see copies
	legs     int
	around   bool
	kind     uint16
	yarn     uint16
	flags    flags
	count    int32 // stitches to a place; chains; times
	body     []op
	place    placeOp
	found    int                 // for each: the last run in which it found a place
	def      *notation.StitchDef // the named group, for counting
	step     notation.Step       // for messages
}

// A placeOp says which places a step takes.
type placeOp struct {
	how   notation.How
	what  selector
	count int32 // places; 0 for each, to the next corner or the end
	andCh bool
	none  bool // no place written
	// through lets each go on past corners: in a round that does not work into
	// corners, each sp and each st and ch take all there are.
	through bool
	flags   flags
	round   int
	node    *notation.Place // for messages; nil when none is written
}

// A selector picks places of one kind out of an edge.
type selector struct {
	kind   notation.PlaceKind
	stitch uint16 // for OfStitch
}

// compiler turns the steps of a round into ops.
type compiler struct {
	b     *builder
	depth int
	size  int
	// unknown is set when a stitch name means nothing, so that counts by kind
	// cannot be trusted.
	unknown bool
	// tooLarge is set when named groups within named groups grow beyond all
	// limits.
	tooLarge bool
	bare     []*notation.Work
	runs     map[*notation.Work][]notation.Step // of those, the ones that may be the beginning of a group
	loose    []*notation.Group                  // groups without a place
}

// maxOps bounds the compiled size of a round: named groups are copied where
// they are used, so that a few lines could otherwise stand for any number.
const maxOps = 1 << 16

// round compiles the steps of a round; turned tells that it begins by turning
// the work.
func (c *compiler) round(steps []notation.Step) (ops []op, turned bool) {
	ops = c.steps(steps, false)
	if !worksCorners(ops) {
		passCorners(ops)
	}
	if len(ops) > 0 && ops[0].code == opTurn {
		return ops[1:], true
	}
	return ops, false
}

func (c *compiler) steps(steps []notation.Step, inGroup bool) []op {
	ops := make([]op, 0, len(steps))
	for _, s := range steps {
		if c.size++; c.size > maxOps {
			c.tooLarge = true
			return ops
		}
		if o, ok := c.step(s, inGroup); ok {
			ops = append(ops, o)
		}
	}
	if !inGroup {
		c.groupRuns(steps)
	}
	return ops
}

// groupRuns notes the steps without a place that may all go in the place of the
// step that ends them, where only the brackets of the group were forgotten:
// 3 dc, corner ch 2, 3 dc in corner.
func (c *compiler) groupRuns(steps []notation.Step) {
	first := -1
	for i, s := range steps {
		switch s := s.(type) {
		case *notation.Work:
			switch {
			case s.Place == nil && s.Count > 1 && first < 0:
				first = i
				continue
			case s.Place == nil:
				continue
			case first >= 0 && holdsGroup(s.Place):
				for _, member := range steps[first:i] {
					if w, ok := member.(*notation.Work); ok && w.Count > 1 {
						if c.runs == nil {
							c.runs = map[*notation.Work][]notation.Step{}
						}
						c.runs[w] = steps[first : i+1]
					}
				}
			}
		case *notation.Chain:
			if s.As == nil {
				continue
			}
		case *notation.Picot:
			continue
		}
		first = -1
	}
}

// holdsGroup reports whether a place is one of those that groups are worked
// into.
func holdsGroup(p *notation.Place) bool {
	switch p.How {
	case notation.InRing, notation.InSame:
		return true
	case notation.InNext:
		return p.Count <= 1 && (p.Kind == notation.Corner || p.Kind == notation.Sp || p.Kind == notation.Gap)
	}
	return false
}

func (c *compiler) step(s notation.Step, inGroup bool) (op, bool) {
	o := op{step: s, count: 1}
	switch s := s.(type) {
	case *notation.Work:
		o.count = atLeastOne(s.Count)
		o.corner = s.Corner
		o.place = c.place(s.Place)
		if s.Count > 1 && s.Place == nil && !inGroup {
			c.bare = append(c.bare, s)
			o.bare = len(c.bare)
		}
		if s.Stitch.Group != nil {
			o.code, o.def = opGroup, s.Stitch.Group
			if s.Stitch.Group.Group != nil {
				o.body = c.steps(s.Stitch.Group.Group.Members, true)
			}
			return o, true
		}
		o.code, o.kind = opWork, c.stitch(s.Stitch)
		o.legs = c.b.g.kinds[o.kind].Legs
	case *notation.Group:
		o.code, o.body, o.place = opGroup, c.steps(s.Members, true), c.place(s.Place)
		if s.Place == nil && !inGroup {
			c.loose = append(c.loose, s)
		}
	case *notation.Chain:
		o.code, o.count, o.corner = opChain, atLeastOne(s.Count), s.Corner
		if s.As != nil {
			o.code, o.kind, o.flags, o.place = opWork, c.stitch(*s.As), flagStart, c.place(s.Place)
			o.count = 1
		}
	case *notation.Skip:
		o.code, o.place = opSkip, placeOp{what: c.selector(s.What, s.Stitch), count: atLeastOne(s.Count)}
	case *notation.Repeat:
		o.code, o.count, o.around = opRepeat, atLeastOne(s.Times), s.Around
		o.body = c.steps(s.Steps, inGroup)
		o.copyable = copyable(o.body)
	case *notation.Picot:
		o.code, o.count = opPicot, atLeastOne(s.Chains)
	case *notation.ChangeYarn:
		o.code, o.yarn = opYarn, c.b.yarn(s.Yarn.Text)
	case *notation.Turn:
		o.code = opTurn
	default:
		return op{}, false
	}
	return o, true
}

// atLeastOne reads a number of a tree that may be made by hand, where what is
// not given is 0.
func atLeastOne(n int) int32 { return int32(min(max(n, 1), math.MaxInt32)) }

func (c *compiler) stitch(n notation.Name) uint16 {
	us := c.b.us(n)
	if us == "" {
		c.meaningless(n)
		return c.b.kind("sc")
	}
	k := c.b.kind(us)
	if k <= kindPicot { // only as a guess at what a wrong name may mean
		c.unknown = true
		return c.b.kind("sc")
	}
	return k
}

func (c *compiler) selector(kind notation.PlaceKind, n notation.Name) selector {
	s := selector{kind: kind}
	if kind == notation.OfStitch {
		us := c.b.us(n)
		if us == "" {
			c.meaningless(n)
			return selector{kind: notation.St}
		}
		s.stitch = c.b.kind(us)
		switch s.stitch {
		case kindCh:
			return selector{kind: notation.Ch}
		case kindPicot:
			return selector{kind: notation.St}
		}
	}
	return s
}

// meaningless reports a name that means nothing, which is reported already
// where the name was read.
func (c *compiler) meaningless(n notation.Name) {
	c.unknown = true
	if n.Unknown {
		return
	}
	if n.Text == "" {
		c.b.report("unknown-stitch", n.Span, "a stitch without a name")
		return
	}
	c.b.report("unknown-stitch", n.Span, "%q is not a stitch", n.Text)
}

func (c *compiler) place(p *notation.Place) placeOp {
	if p == nil {
		return placeOp{what: selector{kind: notation.St}, count: 1, none: true}
	}
	o := placeOp{how: p.How, what: c.selector(p.Kind, p.Stitch), count: atLeastOne(p.Count), andCh: p.AndCh, round: p.Round, node: p}
	if p.How == notation.InEach && p.Count <= 0 {
		o.count = 0
	}
	switch p.Loop {
	case notation.BackLoop:
		o.flags = flagBack
	case notation.FrontLoop:
		o.flags = flagFront
	}
	return o
}

// worksCorners reports whether ops work into corners by that name.
func worksCorners(ops []op) bool {
	for i := range ops {
		if o := &ops[i]; o.place.what.kind == notation.Corner || worksCorners(o.body) {
			return true
		}
	}
	return false
}

// passCorners lets each go on past corners, but for each st, which always ends
// at a corner.
func passCorners(ops []op) {
	for i := range ops {
		o := &ops[i]
		switch o.place.what.kind {
		case notation.St, notation.OfStitch:
			o.place.through = o.place.andCh
		default:
			o.place.through = true
		}
		passCorners(o.body)
	}
}

// least returns a lower bound of the stitches and runs of chains that ops make
// wherever they are worked; it stops counting at the given limit.
func least(ops []op, limit int64) int64 {
	var n int64
	for i := range ops {
		o := &ops[i]
		var one int64
		switch o.code {
		case opWork:
			one = int64(o.count)
			if o.place.how == notation.InNext || o.place.how == notation.InEach {
				one *= int64(o.place.count) // 0 for each, which may find nothing
			}
		case opGroup:
			one = least(o.body, limit) * int64(o.count)
		case opRepeat:
			one = least(o.body, limit)
			if !o.around {
				one *= int64(o.count)
			} else {
				one = 0
			}
		case opChain, opPicot:
			one = int64(o.count)
		}
		if n += one; n > limit || one > limit {
			return limit + 1
		}
	}
	return n
}
