package rides_test
import ("testing";"math/rand/v2")
func TestZZ(t *testing.T) {
	n, held, strand := 0,0,0
	for seed := uint64(100); seed < 1600; seed++ {
		d := drawLoop(seed)
		l, err := d.make()
		if err != nil { t.Logf("seed %d: %v", seed, err); continue }
		if !l.holds {continue}
		held++
		rnd := rand.New(rand.NewPCG(seed, 9))
		for k := range 150 {
			f := l.draw(rnd)
			if k%3==0 { f.pace = l.most }
			r := l.set(f, l.sheet)
			e := r.bySheet()
			n++
			if e == ranDry { strand++; if strand < 20 { t.Errorf("seed %d %v", seed, ridden{l,f,r,e}) } }
		}
	}
	t.Logf("%d loops, %d rides, %d stranded", held, n, strand)
}
