package resurvey
import ("testing";"math/rand/v2")
func BenchmarkKeepAlike(b *testing.B){ bk(b,func(int)float64{return -3}) }
func BenchmarkKeepRandom(b *testing.B){ r:=rand.New(rand.NewPCG(1,2)); l:=make([]float64,9000); for i:=range l{l[i]=r.Float64()*20-10}; bk(b,func(k int)float64{return l[k]}) }
func BenchmarkKeepRising(b *testing.B){ bk(b,func(k int)float64{return float64(k)/1000}) }
func bk(b *testing.B, bits func(int)float64){
 p:=newKeeper(9000,MostNear)
 for b.Loop(){ for k:=range 9000 {p.near(k,bits(k))}; p.keep(0) }
}
