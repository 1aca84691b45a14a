package size_test
import ("testing";"os";"path/filepath";"fmt";"context";"example.com/roundel/notation";"example.com/roundel/model";"example.com/roundel/size";"strings")
func TestDump(t *testing.T){
 out,_:=os.Create(os.Getenv("DUMP"))
 defer out.Close()
 var files []string
 for _,d:=range []string{"flat","published","trade"}{ f,_:=filepath.Glob("../testdata/"+d+"/*.rnd"); files=append(files,f...)}
 f,_:=filepath.Glob("../examples/*.rnd"); files=append(files,f...)
 for _,f:=range files{
  b,_:=os.ReadFile(f); dr,_:=notation.Parse(f,string(b)); g,_,_:=model.Build(context.Background(),dr)
  p:=size.Shape(g,size.DefaultDimensions())
  ref:=""
  for _,l:=range strings.Split(string(b),"\n"){ if strings.HasPrefix(l,"# reference score") || strings.HasPrefix(l,"# label"){ref+=" "+l}}
  worst:=0.0
  for _,r:=range p.Rounds{ if r.Score*r.Score>worst*worst{worst=r.Score}}
  fmt.Fprintf(out,"%s%s worst %.2f\n",f,ref,worst)
  for _,r:=range p.Rounds{ fmt.Fprintf(out,"  %d c%d sh %.4f ac %.4f gr %.4f made %.4f %.4f need %.4f %.4f mm %.4f sc %.4f sl %.4f db %.4f\n",r.Index,r.Corners,r.Shoulder,r.Across,r.Growth,r.MadeLeast,r.MadeMost,r.NeedLeast,r.NeedMost,r.Mismatch,r.Score,r.Slack,r.Doubt)}
 }
}
