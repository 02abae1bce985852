package rides_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/route"
	"lastpump/testdata/kit"
)

// A fault is planted in what riders are given, to see that the rides find it.
type fault struct {
	name  string
	tight draft // a strip on which it shows; with a can of its own where one is needed
	plant func(d draft, l *loop) (*sheet, error)
}

// faults are the six. On each strip the plan holds as it should be. All are paved:
// the high figure is 1.155 x 5 = 5.775 L/100 km, and a dry place is judged by 1.155^1.3 x 5 = 6.03.
func faults() []fault {
	// A to B 158 km and from there 7 km to C take 9.95 L of 10 at the most. A pass of
	// 2000 m takes 0.77 more: then a dry B asks for the can.
	pass := stripDraft(320, func(km float64) float64 { return max(0, 2000-40*max(km-80, 80-km)) }, 158, 165)
	pass.in.Bike.Can = 3
	// 164 km of line take 9.89 L at the most; with a stretch of 1.1 the 158 km to B take 10.04 at
	// the high figure.
	wound := stripDraft(310, level, 158, 164)
	wound.in.Bike.Can, wound.stretch = 3, 1.1
	// 206 km take 12.4 L at the most: with 3 L in the can, not with 1.5.
	far := stripDraft(356, level, 200, 206)
	far.in.Bike.Can = 3
	late := stripDraft(320, level, 158, 165)
	// The same 206 km twice over.
	often := stripDraft(562, level, 200, 206, 406, 412)
	often.in.Bike.Can = 3
	// If B is dry, 205 km on to C take 10.25 L at the likely figure, and 160 km there
	// and back 9.65 at the most.
	back := stripDraft(362, level, 80, 205, 212)
	return []fault{
		{"no climb", pass, noClimb},
		{"stretch 1", wound, func(d draft, l *loop) (*sheet, error) { d.stretch = 1; return d.again(l) }},
		{"half the can", far, changed(func(s *sheet) {
			for i := range s.legs {
				s.legs[i].can /= 2
			}
		})},
		{"can filled once", often, changed(func(s *sheet) {
			for i, filled := 0, false; i < len(s.stops); i++ {
				s.stops[i].can = s.stops[i].can && !filled
				filled = filled || s.stops[i].can
			}
		})},
		{"turn back 20 % late", late, changed(func(s *sheet) {
			for i := range s.legs {
				s.legs[i].turnBack *= 1.2
			}
		})},
		{"dry places ignored", back, changed(func(s *sheet) {
			for i := range s.stops {
				if s.stops[i].dry == goBack {
					s.stops[i].dry, s.stops[i].to = goOn, s.stops[i+1].name
				}
			}
		})},
	}
}

// noClimb plans on level ground.
func noClimb(d draft, l *loop) (*sheet, error) {
	var flat []route.Track
	for _, t := range d.tracks {
		var segments [][]route.Point
		for _, s := range t.Segments {
			s = append([]route.Point(nil), s...)
			for i := range s {
				s[i].Ele = 0
			}
			segments = append(segments, s)
		}
		flat = append(flat, route.Track{Segments: segments})
	}
	d.tracks = flat
	return d.again(l)
}

// again plans a draft, which has been changed, with the bike, the options and the cans that
// a loop has been planned with.
func (d draft) again(l *loop) (*sheet, error) {
	line, err := d.line()
	if err != nil {
		return nil, err
	}
	d.in.Line, d.in.Bike, d.in.Options = line, l.plan.Bike, l.plan.Options
	d.in.Options.Carry = plan.Carry{Cans: l.plan.Cans.Carried}
	q, err := plan.Make(context.Background(), d.in)
	if err != nil {
		return nil, err
	}
	return read(q, l.road), nil
}

// changed gives the sheet of the true plan with a change.
func changed(change func(*sheet)) func(draft, *loop) (*sheet, error) {
	return func(_ draft, l *loop) (*sheet, error) {
		s := read(l.plan, l.road)
		change(s)
		return s, nil
	}
}

// strandings counts the riders of n whom the faulty sheet strands, and of these whom
// the true one strands too, on the same ride.
func strandings(l *loop, faulty *sheet, rnd *rand.Rand, n int) (with, anyway int) {
	for range n {
		f := l.draw(rnd)
		if l.set(f, faulty).bySheet() != ranDry {
			continue
		}
		with++
		if l.set(f, l.sheet).bySheet() == ranDry {
			anyway++
		}
	}
	return with, anyway
}

// Each of six faults strands riders who get home without it, on a loop that is tight
// enough to show it.
func TestFaultsAreFound(t *testing.T) {
	for _, f := range faults() {
		t.Run(f.name, func(t *testing.T) {
			l, err := f.tight.make()
			if err != nil {
				t.Fatal(err)
			}
			if !l.holds || l.bought {
				t.Fatalf("the plan of the strip does not hold: %v", l.plan.Answer)
			}
			s, err := f.plant(f.tight, l)
			if err != nil {
				t.Fatal(err)
			}
			with, anyway := strandings(l, s, rand.New(rand.NewPCG(4, 1)), 500)
			if with == 0 || anyway > 0 {
				t.Errorf("strands %d of 500, of them %d without the fault too", with, anyway)
			}
			t.Logf("strands %d of 500", with)
		})
	}
}

// The same faults on the drawn loops whose plan holds: they are not only found where
// one looks for them.
func TestFaultsOnDrawnLoops(t *testing.T) {
	holding, _ := both(t)
	drawn := map[string]draft{}
	for _, seed := range seeds() {
		d := drawLoop(seed)
		drawn[d.name] = d
	}
	for _, f := range faults() {
		rnd := rand.New(rand.NewPCG(5, 1))
		rides, with, anyway := 0, 0, 0
		for _, l := range holding {
			d, ok := drawn[l.name]
			if !ok { // an example
				continue
			}
			s, err := f.plant(d, l)
			if err != nil {
				t.Fatal(err)
			}
			n := kit.Share(80, 8)
			a, b := strandings(l, s, rnd, n)
			rides, with, anyway = rides+n, with+a, anyway+b
		}
		if with == 0 || anyway > 0 {
			t.Errorf("%s strands %d of %d, of them %d without it too", f.name, with, rides, anyway)
		}
		t.Logf("%-20s strands %d of %d", f.name, with, rides)
	}
}
