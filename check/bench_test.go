package check

import (
	"context"
	"testing"

	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// seventeen is a draft of an ordinary size: a medallion that grows into a
// square, in the steps that published motifs are made of.
const seventeen = `# A medallion for the bench: grown as a circle, squared off, then bordered.
motif "Tideline medallion"
shape square
yarn sand "oat", colour "#d8c6a0", 200 m per 100 g
yarn reed "reed green"
yarn slate
hook 4.5 mm
begin standing
ring ch 4
rnd 1 with sand: 12 dc in ring = 12 dc
rnd 2 with reed: [dc in next st, ch 1] around = 12 dc, 12 sp
rnd 3: [3 dc in next sp] around = 36 dc
rnd 4 with slate: [sc in next 2 st, 2 sc in next st] around = 48 sc
rnd 5: [sc in next st, ch 5, sk 3 st] around = 12 sc, 12 sp
rnd 6: [sc in next 3 ch, sk 2 ch, sc in next st] around = 48 sc
rnd 7 with sand: [dc in next 3 st, dc in back loop of next st] around = 48 dc
rnd 8: [FPdc in next st, dc in next 3 st] around = 12 FPdc, 36 dc
rnd 9 with reed: [sc in next 5 st, hdc in next st, dc in next st, (2 tr, corner ch 2, 2 tr) in next st, dc in next st, hdc in next st, sc in next 2 st] 4 times = 15 st per side
rnd 10-13: [dc in each st, (2 dc, corner ch 2, 2 dc) in corner] 4 times = 19/23/27/31 dc per side
rnd 14 with slate: [(2 dc, corner ch 2, 2 dc) in corner, [ch 1, sk 1 st, dc in next st] 15 times, ch 1, sk 1 st] 4 times
rnd 15: [(dc, corner ch 2, dc) in corner, dc in next 2 st, [dc in next sp, dc in next st] 15 times, dc in next sp, dc in next 2 st] 4 times
rnd 16: [(sc, corner ch 1, sc) in corner, sc in each st] 4 times
rnd 17 with sand: [sc in each st, (sc, corner sc, sc) in corner] around
`

func BenchmarkSource(b *testing.B) {
	if r := source(b, seventeen, Options{}); r.Graph.NumRounds() != 17 || len(r.Findings) > 0 {
		b.Fatalf("%d rounds, findings %v", r.Graph.NumRounds(), places(r.Findings))
	}
	b.SetBytes(int64(len(seventeen)))
	b.ReportAllocs()
	for b.Loop() {
		Source(context.Background(), "draft.rnd", seventeen, Options{})
	}
}

// BenchmarkParse is the part of BenchmarkSource that goes into reading.
func BenchmarkParse(b *testing.B) {
	b.SetBytes(int64(len(seventeen)))
	b.ReportAllocs()
	for b.Loop() {
		notation.Parse("draft.rnd", seventeen)
	}
}

// BenchmarkRules is the part that goes into the rules alone.
func BenchmarkRules(b *testing.B) {
	draft, found := notation.Parse("draft.rnd", seventeen)
	graph, more, err := model.Build(context.Background(), draft)
	if err != nil {
		b.Fatal(err)
	}
	found = append(found, more...)
	b.SetBytes(int64(len(seventeen)))
	b.ReportAllocs()
	for b.Loop() {
		r := &Report{Source: seventeen, Draft: draft, Graph: graph}
		r.put(Rules(), exceptionsIn(r.Draft), found)
	}
}
