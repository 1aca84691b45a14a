package model_test

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// smallLimits bounds the work of one case.
var smallLimits = model.WithLimits(model.Limits{Stitches: 5000, Rounds: 100})

// tokens of the notation, for drafts without sense.
var tokens = []string{
	"rnd 1:", "rnd 2:", "rnd 3:", "rnd 4:", "rnd 2-4:", "rnd 3, standing:", "rnd 2 with sand:", "\n", "\n", "\n", ",", ",", ",", ",",
	"[", "]", "(", ")", "2 times", "3 times", "around", "dc", "sc", "dc", "3 dc", "2 sc", "dc2tog", "cl", "vst", "drift", "FPdc", "ch 2", "ch 3 as dc", "picot 3",
	"corner", "corner ch 2", "in ring", "in ring", "in next st", "in next 2 st", "in next sp", "in next ch", "in next gap", "in corner", "in each st",
	"in each sp", "in each st and ch", "in same", "in next dc", "over next 2 st", "over same and next st", "in back loop of next st", "in next st of rnd 1",
	"in each of next 3 st", "sk 1 st", "sk 2 st", "sk sp", "sk 1 ch", "turn", "join", "fasten off", "with reed", "as rnd 1", "as rnd 2", "=", "= 12 dc", "= 4 sp",
	"3 dc per side", "4 corners", "/", "7", "shape square", "yarn sand", "yarn reed", "ring", "ring ch 4", "terms uk", "worked turned",
	"stitch drift = (dc, ch 1, dc)", "stitch drift = (drift, dc)", "# reed", "\"slate\"", "of", "rnd", "in", "next", "each",
}

// steps that are whole, so that more of the drafts get as far as being worked.
var wholeSteps = []string{
	"dc in next st", "2 dc in next st", "dc in next 2 st", "dc in each st", "2 dc in each of next 2 st", "dc in next sp", "3 dc in next sp", "dc in each sp",
	"dc in next ch", "dc in each st and ch", "dc in next gap", "(2 dc, corner ch 2, 2 dc) in corner", "dc in corner", "corner sc in next st", "corner ch 1", "ch 3",
	"sk 1 st", "sk 2 st", "sk sp", "sk 1 ch", "sk 1 gap", "sk corner", "picot 3", "vst in next st", "drift in next sp", "dc2tog", "dc2tog over same and next st", "cl over next 3 st", "cl in next sp",
	"dc in same", "(dc, ch 1) in same", "sc in back loop of next st", "dc in next st of rnd 1", "2 dc in next sp of rnd 1", "dc in next ch of rnd 2", "dc in next gap of rnd 1", "sc in each st of rnd 1",
	"3 dc in ring", "(2 dc, ch 1) in ring", "ch 3 as dc", "with reed", "2 dc", "(dc, ch 1, dc)", "dc in next cl", "sk 1 dc", "dc over next 2 st", "dc in next picot", "join", "turn",
}

func drawGarbage(t *rapid.T) string {
	list := rapid.SliceOfN(rapid.SampledFrom(tokens), 1, 60).Draw(t, "tokens")
	return "ring\nrnd 1: 6 dc in ring, ch 2\n" + strings.Join(list, " ") + "\n"
}

// drawWild draws rounds of whole steps that need not fit.
func drawWild(t *rapid.T) string {
	var b strings.Builder
	for _, h := range []string{"worked turned", "shape square", "ring ch 5", "yarn sand", "yarn reed", "stitch drift = (dc, ch 1, dc)"} {
		if rapid.Bool().Draw(t, h) {
			b.WriteString(h + "\n")
		}
	}
	var list func(depth int) string
	list = func(depth int) string {
		var steps []string
		for range rapid.IntRange(1, 4).Draw(t, "steps") {
			if depth > 0 && rapid.IntRange(0, 2).Draw(t, "repeat") == 0 {
				tail := rapid.SampledFrom([]string{"around", "2 times", "3 times", "7 times"}).Draw(t, "tail")
				steps = append(steps, "["+list(depth-1)+"] "+tail)
				continue
			}
			steps = append(steps, rapid.SampledFrom(wholeSteps).Draw(t, "step"))
		}
		return strings.Join(steps, ", ")
	}
	first := rapid.SampledFrom([]string{"8 dc in ring", "[2 dc in ring, corner ch 2] 4 times", "[sc in ring, ch 3] 5 times", "dc in in", "[dc in ring, corner sc in ring, picot 3] 3 times"}).Draw(t, "first")
	b.WriteString("rnd 1: " + first + "\n")
	number := 2
	for range rapid.IntRange(1, 4).Draw(t, "rounds") {
		head := rapid.SampledFrom([]string{"rnd %d", "rnd %d", "rnd %d", "rnd %d-%d", "rnd 2", "rnd %d with reed"}).Draw(t, "head")
		head = strings.Replace(head, "%d", string(rune('0'+number)), 1)
		head = strings.Replace(head, "%d", string(rune('0'+number+1)), 1)
		number++
		body := list(2)
		switch rapid.IntRange(0, 9).Draw(t, "body") {
		case 0:
			body = "as rnd 1"
		case 1:
			body = "dc in in next st"
		case 2:
			body = "as rnd 2"
		}
		claim := rapid.SampledFrom([]string{"", "", "", " = 12 dc", " = 8 dc, 4 sp", " = 3 dc per side", " = 9 st, 4 corners", " = 4 ch, 2 picots, 1 vst"}).Draw(t, "claim")
		b.WriteString(head + ": " + body + claim + "\n")
	}
	return b.String()
}

// checkText builds any text and sees that the graph is sound.
func checkText(t interface {
	reporter
	Fatalf(string, ...any)
}, text string) {
	t.Helper()
	draft, unread := notation.Parse("", text)
	// So few stitches take no time; a draft that takes ten seconds hangs.
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	g, findings, err := model.Build(ctx, draft, smallLimits)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		t.Fatalf("%v\nin:\n%s", err, text)
	}
	checkInvariants(t, text, g, findings)
	var before, after strings.Builder
	if err := g.WriteJSON(&before); err != nil {
		t.Fatalf("%v\nin:\n%s", err, text)
	}
	// Working the tree must not have changed it.
	again, more, _ := model.Build(context.Background(), draft, smallLimits)
	if err := again.WriteJSON(&after); err != nil || before.String() != after.String() || len(more) != len(findings) {
		t.Errorf("built twice, two graphs (%v)\nin:\n%s", err, text)
	}
	if len(unread) > 0 {
		return
	}
	// The same in UK terms, with as many findings about the same rounds.
	uk, unread := notation.Parse("", notation.Format(notation.Translate(draft, notation.UK)))
	if len(unread) > 0 {
		t.Errorf("UK version: %s\nof:\n%s", unread[0].Text(), text)
		return
	}
	inUK, more, _ := model.Build(context.Background(), uk, smallLimits)
	after.Reset()
	if err := inUK.WriteJSON(&after); err != nil || before.String() != after.String() || len(more) != len(findings) {
		t.Errorf("in UK terms another graph (%v), %d findings and %d\nin:\n%s", err, len(findings), len(more), text)
	}
	for i := range min(len(findings), len(more)) {
		if a, b := findings[i], more[i]; a.Rule != b.Rule || a.Round != b.Round || a.Held != b.Held {
			t.Errorf("found: %s, in UK terms: %s\nin:\n%s", tell(a), tell(b), text)
		}
	}
}

func TestGarbage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkText(t, drawGarbage(t)) })
}

func TestWildRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkText(t, drawWild(t)) })
}

// FuzzBuild works any text. The seeds are the drafts of the repository.
func FuzzBuild(f *testing.F) {
	for _, text := range []string{plainSquare, groupSquare, miscountedMat, small, four, lace, blocks, pairs} {
		f.Add(text)
	}
	seeds := 0
	for _, root := range []string{"../testdata", "../examples"} {
		err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(name) != ".rnd" {
				return err
			}
			text, err := os.ReadFile(name)
			if err == nil {
				f.Add(string(text))
				seeds++
			}
			return err
		})
		if err != nil {
			f.Fatal(err)
		}
	}
	if seeds < 30 {
		f.Fatalf("only %d drafts found", seeds)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4<<10 {
			t.Skip()
		}
		// One draft that brings Build down must not hide the others.
		defer func() {
			if r := recover(); r != nil {
				t.Errorf("panic: %v\nin:\n%s", r, text)
			}
		}()
		checkText(t, text)
	})
}
