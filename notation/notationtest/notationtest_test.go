package notationtest_test

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/roundel/model"
	"example.com/roundel/notation"
	"example.com/roundel/notation/notationtest"
)

// own is the notation of package notation.
type own struct{}

func (own) Parse(text string) (*notation.Draft, []notation.Finding) { return notation.Parse("", text) }

func (own) Print(d *notation.Draft, _ *model.Graph) (string, error) { return notation.Format(d), nil }

const saltmarsh = `motif "Saltmarsh"
yarn sand
stitch fan = (dc, ch 1, dc)
ring
rnd 1: [3 dc in ring, corner ch 2] 4 times # the centre
rnd 2-3: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] around = 7/11 dc per side
rnd 4: [fan in next st, sk 1 st] 20 times, fan in next st
`

func TestOwn(t *testing.T) { notationtest.Test(t, own{}, saltmarsh) }

func FuzzPieces(f *testing.F) { f.Fuzz(rapid.MakeFuzz(notationtest.Laws(own{}))) }
