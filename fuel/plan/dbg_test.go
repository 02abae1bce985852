package plan_test
import ("testing";"math/rand/v2";"lastpump/fuel/plan";"fmt";"time")
func TestDbg(t *testing.T) {
	for _, k := range []int{40,60,100,200} {
	for seed := range uint64(6) {
		in := pumps(t, rand.New(rand.NewPCG(seed, 9)), k)
		w := plan.NewWeigher(in)
		s := time.Now()
		taken, err := w.Choose(0)
		d1 := time.Since(s)
		fmt.Println(k, seed, d1, err, w.Worth(taken), in.Bike.Can)
		if d1 > 8*time.Second { return }
	}
	}
}
