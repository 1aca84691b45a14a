package check

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/size"
)

// The symmetry of a piece by definition, slowly: a map of every stitch to the
// one that takes its place, and a look at each whether it may.
type oracle struct {
	g      *model.Graph
	rounds [][]model.Node
	places map[int][]model.Place
	gaps   map[int]bool // whether a gap follows; a picot stands in the gap after its stitch
}

func oracleOf(g *model.Graph) *oracle {
	o := &oracle{g: g, places: map[int][]model.Place{}, gaps: map[int]bool{}}
	for i := range g.NumRounds() {
		nodes := slices.Collect(g.Nodes(i))
		o.rounds = append(o.rounds, nodes)
		for _, n := range nodes {
			o.places[n.ID] = slices.Collect(g.Into(n.ID))
			if o.gaps[n.ID] = n.Gap; isPicot(g, n) {
				o.gaps[n.ID] = o.gaps[n.ID-1]
			}
		}
	}
	return o
}

func isPicot(g *model.Graph, n model.Node) bool { return g.Kind(n.ID).Name == "picot" }

func same(x, y model.Node) bool {
	return x.Kind == y.Kind && x.Yarn == y.Yarn && x.Corner == y.Corner && (x.IsStitch() || x.Chains == y.Chains)
}

// rotates reports whether 1/n of a turn leaves the piece as it is.
func (o *oracle) rotates(n int) bool {
	image := map[int]int{}
	for i, nodes := range o.rounds {
		if len(nodes)%n != 0 {
			return false
		}
		step := len(nodes) / n
		if o.g.Round(i).Turned {
			step = len(nodes) - step
		}
		for k, x := range nodes {
			y := nodes[(k+step)%len(nodes)]
			if !same(x, y) || x.Gap != y.Gap {
				return false
			}
			image[x.ID] = y.ID
		}
	}
	for x, y := range image {
		if len(o.places[x]) != len(o.places[y]) {
			return false
		}
		for i, p := range o.places[x] {
			if p.Stitch >= 0 {
				p.Stitch = image[p.Stitch]
			}
			if p != o.places[y][i] {
				return false
			}
		}
	}
	return true
}

func (o *oracle) order() int {
	best := 1
	for n := 2; n <= len(o.rounds[0]); n++ {
		if o.rotates(n) {
			best = n
		}
	}
	return best
}

// readsAlike reports whether a round reads the same in both directions from its
// k-th stitch.
func (o *oracle) readsAlike(round, k int) bool {
	nodes := o.rounds[round]
	at := func(d int) model.Node { return nodes[((k+d)%len(nodes)+len(nodes))%len(nodes)] }
	for d := range nodes {
		x, y := at(d), at(-d)
		if !same(x, y) || x.Place != y.Place || x.Loop != y.Loop || o.gaps[x.ID] != o.gaps[at(-d-1).ID] {
			return false
		}
	}
	return true
}

// mirrors reports whether there is a mirror: one axis for each round, tried
// from the last round down, such that places are mirrored with what stands in
// them.
func (o *oracle) mirrors() bool { return o.mirrorsFrom(len(o.rounds)-1, map[int]int{}) }

func (o *oracle) mirrorsFrom(round int, above map[int]int) bool {
	if round < 0 {
		return true
	}
	nodes := o.rounds[round]
	n := len(nodes)
	first := nodes[0].ID
	for axis := range n {
		at := func(k int) int { return ((axis-k)%n + n) % n }
		fits := true
		for k, x := range nodes {
			// What follows x comes before its image.
			if !same(x, nodes[at(k)]) || o.gaps[x.ID] != o.gaps[nodes[at(k+1)].ID] {
				fits = false
				break
			}
		}
		for x, y := range above {
			if !fits {
				break
			}
			if isPicot(o.g, o.g.Node(x)) {
				continue // it stands between two stitches, not on one of them
			}
			from, to := o.places[x], slices.Clone(o.places[y])
			slices.Reverse(to) // left legs become right ones
			for i := range from {
				p, q := from[i], to[i]
				if p.Kind != q.Kind || p.Loop != q.Loop {
					fits = false
				}
				if p.Stitch < first || p.Stitch >= first+n || q.Stitch < first || q.Stitch >= first+n {
					continue // of another round
				}
				image := at(p.Stitch - first)
				if p.Kind == notation.Gap {
					// What follows the gap comes before its image.
					next := p.Stitch - first + 1
					for isPicot(o.g, nodes[next%n]) {
						next++
					}
					image = at(next)
				}
				if first+image != q.Stitch {
					fits = false
				}
				if p.Kind == notation.Ch && p.Chain+q.Chain != nodes[image].Chains+1 {
					fits = false
				}
			}
		}
		if !fits {
			continue
		}
		both := map[int]int{}
		for x, y := range above {
			both[x] = y
		}
		for k, x := range nodes {
			both[x.ID] = nodes[at(k)].ID
		}
		if o.mirrorsFrom(round-1, both) {
			return true
		}
	}
	return false
}

// A turner writes drafts that look the same n times round.
type turner struct {
	t       *rapid.T
	n       int
	outline string
	rounds  [][]string // steps of one repeat
	turned  bool
	picots  bool // some stitches carry one
	// What one repeat leaves: stitches, and spaces between them if any, by
	// their chains.
	stitches int
	spaces   []int
	cornered bool
}

var outlines = map[int]string{3: "triangle", 4: "square", 5: "pentagon", 6: "hexagon", 8: "octagon"}

func (b *turner) kind() string {
	return rapid.SampledFrom([]string{"sc", "hdc", "dc", "dc", "FPdc"}).Draw(b.t, "kind")
}

func (b *turner) plain() string {
	return rapid.SampledFrom([]string{"sc", "hdc", "dc", "tr"}).Draw(b.t, "kind")
}

// corner makes the corner group, and counts its stitches.
func (b *turner) corner(place string) string {
	before, after := b.draw(1, 3), b.draw(1, 3)
	if b.draw(0, 2) > 0 {
		after = before
	}
	b.stitches += before + after
	kind := b.plain()
	return fmt.Sprintf("(%d %s, corner ch %d, %d %s) in %s", before, kind, b.draw(1, 3), after, kind, place)
}

func (b *turner) draw(from, to int) int { return rapid.IntRange(from, to).Draw(b.t, "count") }

func (b *turner) round() {
	var steps []string
	stitches, spaces := b.stitches, b.spaces
	if b.turned {
		slices.Reverse(spaces) // they are met from the other end
	}
	b.stitches, b.spaces = 0, nil
	work := func(step string, n int) {
		steps = append(steps, step)
		b.stitches += n
		if b.picots && n > 0 && b.draw(0, 4) == 0 {
			steps = append(steps, "picot 3")
		}
	}
	chains := func(n int) {
		steps = append(steps, fmt.Sprintf("ch %d", n), "sk 1 st")
		b.spaces = append(b.spaces, n)
	}
	switch {
	case len(b.rounds) == 0:
		for range b.draw(1, 3) {
			work(b.plain()+" in ring", 1)
		}
		if b.cornered = rapid.Bool().Draw(b.t, "corners at once"); b.cornered {
			work("corner ch 2", 0)
		}
	case !b.cornered && b.draw(0, 1) == 0:
		for left := stitches; left > 0; left-- {
			switch b.draw(0, 4) {
			case 0, 1:
				work("2 "+b.plain()+" in next st", 2)
			case 2:
				if left > 1 {
					work("dc2tog over next 2 st", 1)
					left--
					break
				}
				fallthrough
			default:
				work(b.kind()+" in next st", 1)
			}
		}
	case !b.cornered:
		b.cornered = true
		work(b.corner("next st"), 0)
		for range stitches - 1 {
			work(b.kind()+" in next st", 1)
		}
	case len(spaces) > 0:
		work(b.corner("corner"), 0)
		for _, chains := range spaces {
			if b.draw(0, 1) == 0 {
				for range chains {
					work(b.plain()+" in next ch", 1)
				}
				continue
			}
			n := b.draw(1, 3)
			work(fmt.Sprintf("%d %s in next sp", n, b.plain()), n)
		}
	case b.draw(0, 2) == 0:
		work(b.corner("corner"), 0)
		for range stitches / 2 {
			chains(b.draw(1, 3))
			work(b.plain()+" in next st", 1)
		}
		if stitches%2 == 1 {
			chains(1)
		}
	default:
		work(b.corner("corner"), 0)
		for range stitches {
			work(b.kind()+" in next st", 1)
		}
	}
	b.rounds = append(b.rounds, steps)
}

// edit changes one thing in a repeat of a round, or nothing.
func (b *turner) edit(round int) []string {
	steps := slices.Clone(b.rounds[round])
	last := round == len(b.rounds)-1
	// Where single chains are worked into, their number cannot change.
	chained := !last && slices.ContainsFunc(b.rounds[round+1], func(s string) bool { return strings.HasSuffix(s, "in next ch") })
	at := b.draw(0, len(steps)-1)
	step := steps[at]
	fields := strings.Fields(step)
	switch b.draw(0, 6) {
	case 0: // another stitch
		for i, f := range fields {
			if slices.Contains([]string{"sc", "hdc", "dc", "tr", "FPdc"}, f) {
				fields[i] = b.plain()
			}
		}
		steps[at] = strings.Join(fields, " ")
	case 1: // one more, where nobody works into it
		if last && len(fields) == 4 && fields[1] == "in" && fields[3] == "st" {
			steps[at] = "2 " + step
		}
	case 2: // another yarn
		if !strings.HasPrefix(step, "sk") {
			steps = slices.Insert(steps, at+1, "with sand")
			steps = slices.Insert(steps, at, "with reed")
		}
	case 3: // a chain more
		if !chained {
			step = strings.NewReplacer("ch 1", "ch 2", "ch 2", "ch 3").Replace(step)
		}
		steps[at] = strings.Replace(step, "picot 3", "picot 4", 1)
	case 4: // a picot less
		if step == "picot 3" {
			steps = slices.Delete(steps, at, at+1)
		}
	case 5: // a skip one stitch later; spaces may run together
		if last && at+2 < len(steps) && steps[at+1] == "sk 1 st" {
			steps = slices.Concat(steps[:at], steps[at+2:at+3], steps[at:at+2], steps[at+3:])
		}
	}
	return steps
}

// A part is a repeat of a round.
type part struct {
	steps []string
	times int
}

// edited returns the rounds with one repeat of one of them changed; none for
// -1.
func (b *turner) edited(round int) [][]part {
	var rounds [][]part
	for i, steps := range b.rounds {
		if i != round {
			rounds = append(rounds, []part{{steps, b.n}})
			continue
		}
		mended := steps
		for range 4 { // many edits change nothing at the step drawn
			if slices.Equal(mended, steps) {
				mended = b.edit(i)
			}
		}
		before := b.draw(0, b.n-1)
		rounds = append(rounds, []part{{steps, before}, {mended, 1}, {steps, b.n - 1 - before}})
	}
	return rounds
}

func (b *turner) text(rounds [][]part) string {
	var text strings.Builder
	fmt.Fprintf(&text, "shape %s\nyarn sand\nyarn reed\n", b.outline)
	if b.turned {
		text.WriteString("worked turned\n")
	}
	text.WriteString("allow unused-name \"reed is for the edit\"\nring\n")
	for i, parts := range rounds {
		var steps []string
		for _, p := range parts {
			repeat := strings.Join(p.steps, ", ")
			switch {
			case p.times > 1 || len(parts) == 1:
				steps = append(steps, fmt.Sprintf("[%s] %d times", repeat, p.times))
			case p.times == 1:
				steps = append(steps, repeat)
			}
		}
		fmt.Fprintf(&text, "rnd %d with sand: %s\n", i+1, strings.Join(steps, ", "))
	}
	return text.String()
}

var cornerGroup = regexp.MustCompile(`^\((\d \w+), (corner ch \d), (\d \w+)\)`)

// inMirror returns the rounds as they look in a mirror: every round backwards.
func inMirror(rounds [][]part) [][]part {
	var out [][]part
	for _, parts := range rounds {
		var mirrored []part
		for _, p := range slices.Backward(parts) {
			var steps []string
			for _, step := range slices.Backward(p.steps) {
				switch step {
				case "with sand":
					step = "with reed"
				case "with reed":
					step = "with sand"
				}
				steps = append(steps, cornerGroup.ReplaceAllString(step, "($3, $2, $1)"))
			}
			mirrored = append(mirrored, part{steps, p.times})
		}
		out = append(out, mirrored)
	}
	return out
}

func drawTurner(t *rapid.T) *turner {
	n := rapid.SampledFrom([]int{3, 4, 5, 6, 8}).Draw(t, "corners")
	b := &turner{t: t, n: n, outline: outlines[n], turned: rapid.IntRange(0, 3).Draw(t, "turned") == 0, picots: rapid.Bool().Draw(t, "picots")}
	for range rapid.IntRange(1, 5).Draw(t, "rounds") {
		b.round()
		if b.stitches > 14 {
			break
		}
	}
	return b
}

// TestInMirror draws pieces, changes one thing in one repeat or nothing, and
// sees that the piece and its mirror image are judged alike.
func TestInMirror(t *testing.T) {
	broken := 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawTurner(t)
		for i, steps := range b.rounds { // a picot stands after its stitch, in a mirror before it
			b.rounds[i] = slices.DeleteFunc(slices.Clone(steps), func(s string) bool { return s == "picot 3" })
		}
		rounds := b.edited(rapid.IntRange(-1, len(b.rounds)-1).Draw(t, "edited"))
		var reports []*Report
		for _, text := range []string{b.text(rounds), b.text(inMirror(rounds))} {
			r, err := Source(t.Context(), "draft.rnd", text, Options{Rules: shapeRules})
			if err != nil {
				t.Fatal(err)
			}
			if works(r.Graph) < r.Graph.NumRounds() {
				t.Fatalf("%s%v", text, places(r.Findings))
			}
			reports = append(reports, r)
		}
		text := reports[0].Source + "\nin a mirror\n" + reports[1].Source
		if diff := cmp.Diff(verdicts(reports[0]), verdicts(reports[1])); diff != "" {
			t.Errorf("%s (-as drawn +in a mirror):\n%s", text, diff)
		}
		if a, b := reports[0].Graph.Symmetry(), reports[1].Graph.Symmetry(); a != b {
			t.Errorf("%s symmetry %+v, in a mirror %+v", text, a, b)
		}
		shapes := [2][]size.Round{shapeOf(t.Context(), reports[0].Draft, reports[0].Graph).rounds, shapeOf(t.Context(), reports[1].Draft, reports[1].Graph).rounds}
		for i := range shapes[0] {
			if a, b := shapes[0][i].Shoulder, shapes[1][i].Shoulder; math.Abs(a-b) > 1e-5*(1+a) {
				t.Errorf("%s round %d reaches %v, in a mirror %v", text, i+1, a, b)
			}
		}
		if len(verdicts(reports[0])) > 0 {
			broken++
		}
	})
	if broken == 0 {
		t.Error("no piece with a finding: nothing is asked")
	}
}

// TestSymmetryOracle draws pieces that look the same on all sides, changes one
// thing in one repeat, and asks the rule and the graph what the oracle knows.
func TestSymmetryOracle(t *testing.T) {
	broken, kept, mirrored := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawTurner(t)
		n := b.n
		text := b.text(b.edited(rapid.IntRange(-1, len(b.rounds)-1).Draw(t, "edited")))
		r, err := Source(t.Context(), "draft.rnd", text, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, round := range r.Graph.Rounds() {
			if round.Status != model.Worked {
				t.Fatalf("%s%v", text, places(r.Findings))
			}
		}
		o := oracleOf(r.Graph)
		whole := o.rotates(n)
		// Where corners wander or are lost, that is why the sides are not alike.
		says := func(rules ...string) bool {
			return slices.ContainsFunc(r.Findings, func(f Finding) bool { return slices.Contains(rules, f.Rule) })
		}
		if whole && says("square-rotation") || !whole && !says("square-rotation", "corner-drift", "corner-turn") {
			t.Errorf("looks the same %d times round: %v; findings %v\n%s", n, whole, places(r.Findings), text)
		}
		want := model.Symmetry{Rotation: o.order(), Mirror: o.mirrors()}
		if got := r.Graph.Symmetry(); got != want {
			t.Errorf("symmetry %+v, by definition %+v\n%s", got, want, text)
		}
		repeats(t, o, text)
		if whole {
			kept++
		} else {
			broken++
		}
		if want.Mirror {
			mirrored++
		}
	})
	if broken == 0 || kept == 0 || mirrored == 0 {
		t.Errorf("%d pieces broken, %d kept, %d with a mirror: nothing is asked", broken, kept, mirrored)
	}
	t.Logf("%d pieces broken, %d kept, %d with a mirror", broken, kept, mirrored)
}

// repeats asks what the graph says of each round, which it takes from a part of
// it, and sees that it holds for all of it.
func repeats(t *rapid.T, o *oracle, text string) {
	t.Helper()
	for i, nodes := range o.rounds {
		r := o.g.Round(i)
		// Every round stands on the one below.
		if want := (&oracle{g: o.g, rounds: o.rounds[:i+1], places: o.places}).order(); r.Rotation() != want {
			t.Errorf("round %d looks the same after 1/%d of a turn, by definition 1/%d\n%s", r.Number, r.Rotation(), want, text)
		}
		var corners []int
		for k, n := range nodes {
			if !n.Corner {
				continue
			}
			corners = append(corners, n.ID)
			if _, ok := o.g.RoundMirrors(i, n.ID); ok != o.readsAlike(i, k) {
				t.Errorf("round %d in both directions from stitch %d: alike %v\n%s", r.Number, n.ID, ok, text)
			}
		}
		if diff := cmp.Diff(corners, o.g.Corners(i)); diff != "" {
			t.Errorf("corners of round %d (-want +got):\n%s\n%s", r.Number, diff, text)
		}
	}
}

// TestLayers asks the same of pieces with rounds that nothing stands on: they
// may have any mirror that what they stand on has.
func TestLayers(t *testing.T) {
	const loops = "ring\nrnd 1: [sc in ring, ch 4] 6 times\n"
	mirrored := 0
	for _, text := range []string{
		loops + "rnd 2: [(sc, 4 dc, sc) in next sp] 6 times\nrnd 3: [sc in next st of rnd 1, ch 6] 6 times\nrnd 4: [(sc, 6 dc, sc) in next sp] 6 times\nrnd 5: [sc in next st of rnd 3, ch 8] 6 times\n",
		loops + "rnd 2: [(sc, 4 dc, sc) in next sp] 6 times\nrnd 3: [sc in next st of rnd 1, ch 6] 6 times\nrnd 4: [(sc, 6 dc, hdc) in next sp] 6 times\nrnd 5: [sc in next st of rnd 3, ch 8] 6 times\n",
		loops + "rnd 2: [(sc, [ch 3, sc] 4 times) in next sp, ch 3] 6 times\nrnd 3: [sc in next st of rnd 1, ch 7] 6 times\nrnd 4: [(sc, [ch 3, sc] 4 times) in next sp, ch 3] 6 times\n",
		loops + "rnd 2: [(sc, 4 dc) in next sp, (4 dc, sc) in next sp] 3 times\nrnd 3: [sc in next st of rnd 1, ch 6] 6 times\n",
		loops + "rnd 2: [(sc, 4 dc) in next sp, (4 dc, sc) in next sp] 3 times\nrnd 3: [sc in next st of rnd 1, ch 6, sc in next st of rnd 1, ch 7] 3 times\n",
		loops + "rnd 2: (sc, 4 dc) in next sp, [dc in next sp] 5 times\nrnd 3: [sc in next st of rnd 1, ch 6] 5 times, sc in next st of rnd 1, ch 7\n",
		loops + "rnd 2: 5 dc in next sp, [dc in next sp] 5 times\nrnd 3: [sc in next st of rnd 1, ch 6] 5 times, sc in next st of rnd 1, ch 7\n",
		loops + "rnd 2: 5 dc in next sp, [dc in next sp] 5 times\nrnd 3: [sc in next st of rnd 1, ch 6] 4 times, sc in next st of rnd 1, ch 7, sc in next st of rnd 1, ch 6\n",
	} {
		r, err := Source(t.Context(), "draft.rnd", text, Options{})
		if err != nil || len(r.Graph.Counts(r.Graph.NumRounds()-1).Stitches) == 0 {
			t.Fatal(text, err, places(r.Findings))
		}
		o := oracleOf(r.Graph)
		want := model.Symmetry{Rotation: o.order(), Mirror: o.mirrors()}
		if got := r.Graph.Symmetry(); got != want {
			t.Errorf("symmetry %+v, by definition %+v\n%s", got, want, text)
		}
		if want.Mirror {
			mirrored++
		}
	}
	if mirrored < 2 || mirrored > 5 {
		t.Errorf("%d have a mirror: nothing is asked", mirrored)
	}
}
