package size_test
import ("testing";"example.com/roundel/model";"example.com/roundel/notation")
var sink int
func BenchmarkIter(b *testing.B){
 g,_,_:=model.Build(b.Context(), read(b, solidSquare(1_000_000)))
 b.Run("nodes",func(b *testing.B){ for b.Loop(){ for i:=range g.NumRounds(){ for n:=range g.Nodes(i){ if n.Kind>1 {sink+=n.Below}; if n.Gap {sink++}; if n.Place==notation.Sp {sink++} }}}
 b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(g.Len()),"ns/stitch")})
 b.Run("node",func(b *testing.B){ for b.Loop(){ for i:=range g.NumRounds(){ r:=g.Round(i); for id:=r.First;id<r.First+r.Len;id++{ n:=g.Node(id); if n.Kind>1 {sink+=n.Below}; if n.Gap {sink++}; if n.Place==notation.Sp {sink++}}}}
 b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(g.Len()),"ns/stitch")})
}
