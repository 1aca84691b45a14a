package size

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// A Target is a size that a motif is wanted in.
type Target struct {
	Length Length
	Side   bool // the length of one side; else across the motif
}

// ParseTarget reads a target: a length as for ParseLength, with "across" or
// "side" before it if wanted: "45 cm", "side 18in".
func ParseTarget(text string) (Target, error) {
	rest, side := strings.CutPrefix(strings.TrimSpace(text), "side")
	if !side {
		rest = strings.TrimPrefix(rest, "across")
	}
	l, err := ParseLength(strings.TrimSpace(rest))
	return Target{l, side}, err
}

// of returns the measure that the target is about.
func (t Target) of(m Measure) Estimate[Length] {
	if t.Side {
		return m.Side
	}
	return m.Across
}

// A Fit says how a motif would come to a size that is wanted.
type Fit struct {
	Target Target
	// Under is the largest number of rounds that does not pass the target, and
	// Over the smallest that reaches or passes it; either is nil when no such
	// number was found.
	Under, Over *RoundsFit
	// Each is what a further round would add if it grew like those after the
	// first do on the average, or like the first where there is no other,
	// where the draft has no round that can be worked again as it is; else 0.
	Each Length
	// Scale is by how much all stitches would have to be larger for the motif
	// to have the size with its rounds unchanged; less than 1 when smaller.
	Scale float64
	// Gauge is the gauge line of the draft, so scaled: fewer stitches and rounds
	// over the same length, or more across.
	Gauge notation.Gauge
	// Hook is the hook that should bring it about in the same yarn, and Hooks
	// the usual sizes below and above it, with what they would come to; none is
	// further from that of the draft than LeastHookRatio or MostHookRatio. See
	// Gauge.WithHook for what that rests on. Hook is 0, and Hooks empty, when
	// the draft names no hook or no such hook would do.
	Hook  Length
	Hooks []HookFit
}

// A RoundsFit is a motif with more rounds or fewer.
type RoundsFit struct {
	Rounds int // of the motif in all
	Change int // how many more than in the draft; less than 0 for fewer
	// From and To are the rounds that are worked by the steps of the statement
	// that was drawn out or shortened; those after it follow as they are. Both
	// are 0 when the motif as it is, or one that ends after an earlier round,
	// has the size.
	From, To int
	Size     Estimate[Length]

	grows bool // round To has more stitches than the one below
}

// A HookFit is what a motif would come to with another hook.
type HookFit struct {
	HookSize
	Expected Length
}

// WithTarget asks how the motif would come to a size, from LeastLength to
// MostLength.
func WithTarget(t Target) Option {
	return func(o *options) error {
		if err := t.Length.check("a target"); err != nil {
			return err
		}
		o.target = &t
		return nil
	}
}

// fit works out how the motif would come to a size.
func (s *Sheet) fit(ctx context.Context, draft *notation.Draft, g *model.Graph, t Target) error {
	m, ok := s.Finished()
	if !ok || !t.of(m).Known() {
		return nil // no gauge, or no sides
	}
	f := &Fit{Target: t, Scale: float64(t.Length / t.of(m).Expected)}
	s.Fit = f
	f.Gauge = *draft.Gauge()
	f.Gauge.Stitches /= f.Scale
	f.Gauge.Rounds /= f.Scale
	f.Gauge.Across.Amount *= f.Scale
	f.hook(g, s)
	return f.rounds(ctx, draft, g, s)
}

// hook works out the hook that brings the motif to its size.
func (f *Fit) hook(g *model.Graph, s *Sheet) {
	if s.Hook <= 0 {
		return
	}
	at := func(hook Length) Length {
		gauge := s.Gauge.WithHook(float64(hook / s.Hook))
		p := Shape(g, gauge.Dimensions)
		last := p.Rounds[len(s.Rounds)-1]
		if f.Target.Side {
			return gauge.Length(last.side())
		}
		return gauge.Length(last.Across)
	}
	thinnest := max(hookSizes[0].Size, LeastHookRatio*s.Hook)
	thickest := min(hookSizes[len(hookSizes)-1].Size, MostHookRatio*s.Hook)
	if at(thinnest) > f.Target.Length || at(thickest) < f.Target.Length {
		return
	}
	low, high := float64(thinnest), float64(thickest)
	for range 40 {
		if mid := (low + high) / 2; at(Length(mid)) < f.Target.Length {
			low = mid
		} else {
			high = mid
		}
	}
	f.Hook = Length(high)
	i := slices.IndexFunc(hookSizes, func(h HookSize) bool { return h.Size >= f.Hook-0.005 })
	for _, h := range hookSizes[max(0, i-1) : i+1] {
		if h.Size >= LeastHookRatio*s.Hook && h.Size <= MostHookRatio*s.Hook {
			f.Hooks = append(f.Hooks, HookFit{h, at(h.Size)})
		}
	}
}

// edging is the share of what rounds add on average below which a round is an
// edging, which nobody would work again and again to make a piece larger.
const edging = 0.7

// mostFitted bounds the pieces that are made to see how large they come out.
var mostFitted = model.Limits{Stitches: 500_000, Rounds: 2_000}

// rounds works out how many rounds would come to the size.
func (f *Fit) rounds(ctx context.Context, draft *notation.Draft, g *model.Graph, s *Sheet) error {
	m, _ := s.Finished()
	now := RoundsFit{Rounds: len(s.Rounds), Size: f.Target.of(m)}
	put := func(r RoundsFit) {
		size := r.Size.Expected
		if u := f.Under; size <= f.Target.Length && (u == nil || size > u.Size.Expected || size == u.Size.Expected && r.Rounds > u.Rounds) {
			f.Under = &r
		}
		if o := f.Over; size >= f.Target.Length && (o == nil || size < o.Size.Expected || size == o.Size.Expected && r.Rounds < o.Rounds) {
			f.Over = &r
		}
	}
	put(now)
	shorter := now.Size.Expected > f.Target.Length
	v, err := vary(ctx, draft, g, s, f.Target)
	if err != nil {
		return err
	}
	if v == nil {
		// No statement can be drawn out: the motif can only end earlier.
		for i, m := range s.Rounds[:len(s.Rounds)-1] {
			put(RoundsFit{Rounds: i + 1, Change: i + 1 - now.Rounds, Size: f.Target.of(m)})
		}
		if !shorter {
			// The first has the ring in it.
			f.Each = f.Target.of(m).Expected
			if first := f.Target.of(s.Rounds[0]); len(s.Rounds) > 1 && first.Known() {
				f.Each = (f.Each - first.Expected) / Length(len(s.Rounds)-1)
			}
		}
		return nil
	}
	// Step outwards from the draft in doubled steps, and then between the last
	// two.
	step := 1
	if shorter {
		step = -1
	}
	passed := func(r RoundsFit) bool { return (r.Size.Expected >= f.Target.Length) == !shorter }
	near, far := 0, 0
	for {
		k := max(near+step, v.least())
		r, ok, err := v.with(k)
		if err != nil {
			return err
		}
		if ok {
			put(r)
		}
		if !ok || passed(r) { // past the size, or past a limit
			far = k
			break
		}
		if near = k; k == v.least() {
			break
		}
		step *= 2
	}
	for far != 0 && far-near != 1 && near-far != 1 {
		k := (near + far) / 2
		r, ok, err := v.with(k)
		if err != nil {
			return err
		}
		if ok {
			put(r)
		}
		if !ok || passed(r) {
			far = k
		} else {
			near = k
		}
	}
	if f.Under == nil {
		for i, m := range s.Rounds[:len(s.Rounds)-1] {
			put(RoundsFit{Rounds: i + 1, Change: i + 1 - now.Rounds, Size: f.Target.of(m)})
		}
	}
	return nil
}

// A variable is a draft one of whose statements can stand for more rounds or
// fewer.
type variable struct {
	ctx    context.Context
	draft  *notation.Draft
	sheet  *Sheet
	target Target
	at     int         // of the statement in draft.Statements
	spans  map[int]int // by statement: how many rounds it stands for
	first  map[int]int // by statement: its first round
}

// vary looks for a statement that can be drawn out: the last that stands for
// several rounds, or else the last that closes when it is worked once more and
// is no mere edging. It is nil when there is none.
func vary(ctx context.Context, draft *notation.Draft, g *model.Graph, s *Sheet, t Target) (*variable, error) {
	v := &variable{ctx: ctx, draft: draft, sheet: s, target: t, spans: map[int]int{}, first: map[int]int{}}
	index := map[*notation.Round]int{}
	for i, st := range draft.Statements {
		if r, ok := st.(*notation.Round); ok {
			index[r] = i
		}
	}
	for i, r := range g.Rounds() {
		if i >= len(s.Rounds) {
			break
		}
		at, ok := index[r.Statement]
		if !ok {
			return nil, nil
		}
		if v.spans[at]++; v.spans[at] == 1 {
			v.first[at] = r.Number
		}
	}
	var several, single []int
	for at, n := range v.spans {
		if n > 1 {
			several = append(several, at)
		} else {
			single = append(single, at)
		}
	}
	slices.Sort(several)
	slices.Sort(single)
	for _, at := range slices.Backward(several) {
		v.at = at
		if _, ok, err := v.with(1); ok || err != nil {
			return v, err
		}
	}
	for _, at := range slices.Backward(single) {
		v.at = at
		if ok, err := v.growsOn(); ok || err != nil {
			return v, err
		}
		if at < single[max(0, len(single)-3)] {
			break // further back it is another motif
		}
	}
	return nil, nil
}

// growsOn reports whether the statement, of one round, can be worked again and
// again: it closes, has more stitches each time, and is no mere edging.
func (v *variable) growsOn() (bool, error) {
	one, ok, err := v.with(1)
	if !ok || err != nil {
		return false, err
	}
	two, ok, err := v.with(2)
	if !ok || err != nil {
		return false, err
	}
	now := v.target.of(v.sheet.Rounds[len(v.sheet.Rounds)-1]).Expected
	average := now / Length(len(v.sheet.Rounds))
	return one.grows && two.grows && two.Size.Expected-one.Size.Expected >= edging*average, nil
}

// least is the change that leaves the statement one round.
func (v *variable) least() int { return 1 - v.spans[v.at] }

// with works the draft with the statement standing for k rounds more, and
// measures it; ok is false when it does not come out.
func (v *variable) with(k int) (r RoundsFit, ok bool, err error) {
	draft, ok := v.drawnOut(k)
	if !ok || k < v.least() {
		return r, false, nil
	}
	g, findings, err := model.Build(v.ctx, draft, model.WithLimits(mostFitted))
	if err != nil {
		return r, false, err
	}
	for _, f := range findings {
		if f.Severity == notation.Error {
			return r, false, nil
		}
	}
	list := measures(g, v.draft.Gauge(), v.sheet.Gauge, Shape(g, v.sheet.Gauge.Dimensions))
	if len(list) != len(v.sheet.Rounds)+k {
		return r, false, nil
	}
	from := v.first[v.at]
	r = RoundsFit{
		Rounds: len(list), Change: k, From: from, To: from + v.spans[v.at] - 1 + k,
		Size: v.target.of(list[len(list)-1]),
	}
	// Rounds are numbered from 1 without a hole.
	r.grows = r.To >= 2 && g.Counts(r.To-1).Total > g.Counts(r.To-2).Total
	return r, true, nil
}

// drawnOut copies the draft with the statement standing for k rounds more. It
// leaves out the claims, which are about the rounds as they were. ok is false
// when a later round speaks of one by its number that is then another.
func (v *variable) drawnOut(k int) (out *notation.Draft, ok bool) {
	copied := *v.draft
	copied.Statements = nil
	last := v.first[v.at] + v.spans[v.at] - 1
	for i, st := range v.draft.Statements {
		r, isRound := st.(*notation.Round)
		n, made := v.spans[i]
		switch st.(type) {
		case *notation.Panel, *notation.Edge:
			continue // it is about one motif
		case *notation.Round:
			if !made {
				continue
			}
		}
		if !isRound {
			copied.Statements = append(copied.Statements, st)
			continue
		}
		now := *r
		now.Claim, now.Until, now.Next = nil, nil, false
		now.From, now.To = v.first[i], v.first[i]+n-1
		switch {
		case i == v.at:
			now.To += k
		case i > v.at:
			now.From, now.To = now.From+k, now.To+k
			if now.As > last {
				now.As += k
			}
			if reachesPast(r, v.first[v.at]) {
				return nil, false
			}
		}
		copied.Statements = append(copied.Statements, &now)
	}
	return &copied, true
}

// reachesPast reports whether a round works into an earlier one from a number
// on.
func reachesPast(r *notation.Round, number int) bool {
	found := false
	notation.Walk(r, func(n notation.Node) bool {
		if p, ok := n.(*notation.Place); ok && p.Round >= number {
			found = true
		}
		return true
	})
	return found
}

// String writes the target as ParseTarget reads it.
func (t Target) String() string {
	what := "across"
	if t.Side {
		what = "side"
	}
	return fmt.Sprintf("%s %g mm", what, float64(t.Length))
}
