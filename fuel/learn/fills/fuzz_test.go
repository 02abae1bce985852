package fills_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/route/input"
)

// FuzzRead asks of any text: a log whose rows are in order and finite, from which a state
// follows that is sound; or faults that each say where and what. And whatever can be read
// takes one row more, or says why not.
func FuzzRead(f *testing.F) {
	f.Add(sample)
	f.Add("# x\ndate;odometer_mi;gal_us;sand;event\n2026-07-01;\"47,671\";2,1;;\n2026-07-02;47771;2;60;missed\n2026-07-03;47871;2;;\n")
	f.Add("date,trip_km,litres,event,note\n2026-07-01,,,\n2026-07-02,130,,lamp\n2026-07-02,140,,reserve\n2026-07-03,250,2,dry,\n2026-07-04,270,14,,x\n2026-07-04,20,1,part\n")
	f.Add("date,trip_km,litres,from_km,to_km\n2026-07-01,,,,\n2026-07-02,150,8,0,150\n2026-07-02,150,8,0,150\n2026-07-01,90,4,150,180\n")
	b := fuel.DefaultBike()
	b.LampAt, b.ReserveTap, b.Can = 3, 2, 5
	ride := aRide(b)
	f.Fuzz(func(t *testing.T, text string) {
		l, err := fills.Read(strings.NewReader(text), "f.csv")
		if err != nil {
			placed(t, err)
			return
		}
		for i, r := range l.Rows {
			if i > 0 && r.Date.Before(l.Rows[i-1].Date) || !finite(float64(r.Distance)) || !finite(float64(r.Litres)) ||
				r.Litres < 0 || r.Distance < 0 || r.Line < 1 || r.To < r.From {
				t.Fatalf("row %+v", r)
			}
		}
		learns(t, l, b, ride)
		added, err := fills.Add([]byte(text), "f.csv", fills.NewRow{Date: day(30), Event: fills.Full})
		if err != nil {
			placed(t, err)
		} else if !strings.HasPrefix(string(added.Text), text) || len(added.Log.Rows) != len(l.Rows)+1 {
			t.Fatalf("a row added makes %d of %d:\n%q", len(added.Log.Rows), len(l.Rows), added.Text)
		}
	})
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func learns(t *testing.T, l *fills.Log, b fuel.Bike, ride *fills.Ride) {
	k, err := l.Tanks(b, ride)
	if err != nil {
		placed(t, err)
		return
	}
	s := learn.New(b)
	for _, e := range s.Through(k.Learn()) {
		s = e.After
	}
	s, _ = s.LearnOpen(k.Open)
	a := s.Ahead(b.FlatNeeds("sand", fuel.Distances{Low: 1e5, Likely: 1e5, High: 1e5}))
	if !(a.Low > 0 && a.Low < a.Likely && a.Likely < a.High && finite(float64(a.High)) && s.SDTheta() > 0) {
		t.Fatalf("ahead %+v, θ %v ± %v", a, s.Theta(), s.SDTheta())
	}
}

// placed checks that faults say what they are about.
func placed(t *testing.T, err error) {
	t.Helper()
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		joined = single{err}
	}
	for _, e := range joined.Unwrap() {
		var ie *input.Error
		if strings.HasPrefix(e.Error(), "and ") {
			continue
		}
		if !errors.As(e, &ie) || ie.What == "" || ie.File == "" || ie.Line < 0 || ie.Line > 0 && ie.Col < 1 {
			t.Fatalf("a fault without a place: %v", e)
		}
	}
}

type single struct{ error }

func (s single) Unwrap() []error { return []error{s.error} }
