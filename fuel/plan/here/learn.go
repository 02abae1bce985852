package here

import (
	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// Fills are the tanks that a rider has filled on the ride so far.
type Fills struct {
	Tanks   []Ridden // in their order
	Open    learn.Open
	Levels  []fills.Level  // what they say of the tank
	Remarks []fills.Remark // what was made of them
}

// Tell tells whether anything can be learnt from them.
func (f Fills) Tell() bool { return len(f.Tanks) > 0 || !f.Open.Empty() }

// A Ridden is a tank that was ridden, from one brim to the next.
type Ridden struct {
	learn.Tank
	From, To route.Metres // along the line; meaningless unless HasSpan
	HasSpan  bool
	NoGround bool // it counts as paved, because its ground is not known
}

// A Happened is a tank as it was planned and as it turned out.
type Happened struct {
	From, To route.Metres // along the line; meaningless unless HasSpan
	HasSpan  bool
	FromEnd  trip.End // what is there; meaningless unless HasEnds
	ToEnd    trip.End
	HasEnds  bool
	Planned  fuel.Figures // as the bike was known before the first of them
	Real     fuel.Litres
	NoGround bool      // planned as paved road, because its ground is not known
	Dry      bool      // it ran dry, and is not full again
	Told     bool      // it can be compared
	Why      learn.Why // why it was not learnt from; "" where it was
}

// Counts tells whether it may be held against the plan: it was learnt from, on ground that is known.
func (h Happened) Counts() bool { return h.Told && h.Why == "" && !h.NoGround }

// In tells whether it took neither more nor less than the band.
func (h Happened) In() bool { return h.Real >= h.Planned.Low && h.Real <= h.Planned.High }

// Over tells whether it took more than the high figure.
func (h Happened) Over() bool { return h.Real > h.Planned.High }

// Learn gives what the tanks have taught of a bike, and each as it was planned. Its error is
// a [*learn.ChangedError].
func (f Fills) Learn(b fuel.Bike) (*fuel.Learnt, []Happened, error) {
	s, err := learn.Resume(b)
	if err != nil {
		return nil, nil, err
	}
	before, tanks := s, make([]learn.Tank, len(f.Tanks))
	for i, t := range f.Tanks {
		tanks[i] = t.Tank
	}
	var out []Happened
	for i, e := range s.Through(tanks) {
		t := f.Tanks[i]
		out = append(out, Happened{From: t.From, To: t.To, HasSpan: t.HasSpan, Planned: before.Ahead(t.Needs).Figures,
			Real: t.Litres, NoGround: t.NoGround, Told: e.Step.HasOff(), Why: e.Step.Why})
		s = e.After
	}
	s, step := s.LearnOpen(f.Open)
	if dry := f.Open.Dry; dry != nil && step.HasOff() {
		h := Happened{Planned: before.Ahead(dry.Needs).Figures, Real: dry.Litres, Dry: true, Told: true, Why: step.Why}
		h.From, h.To, h.HasSpan = f.ranDry()
		out = append(out, h)
	}
	kept := s.Keep(b, fuel.LastFill{})
	return &kept, out, nil
}

// ranDry gives the way from the last brim to where the tank ran dry, where both are said.
func (f Fills) ranDry() (from, to route.Metres, ok bool) {
	var brim fills.Level
	for _, l := range f.Levels {
		switch l.Event {
		case fills.Full:
			brim, ok = l, false
		case fills.Dry:
			from, to, ok = brim.At, l.At, brim.HasAt && l.HasAt
		}
	}
	return from, to, ok
}

// Ahead gives how many times as much the line from a place on takes by one course as by another.
func Ahead(before, now *fuel.Course, from route.Metres) float64 {
	was := before.Between(from, before.Length()).Fuel.Likely
	if was <= 0 {
		return 1
	}
	return float64(now.Between(from, now.Length()).Fuel.Likely / was)
}

// Moved gives how many times as thirsty a bike is after what was learnt.
func Moved(before fuel.Bike, now *fuel.Learnt) float64 {
	return fuel.Exp(now.X[0] - before.Known().X[0])
}

// atPlace is how near along the line a tank may end to what is there: our estimate, for what a
// rider reads off his plan and writes down.
const atPlace route.Metres = 1000

// Together tells whether a tank was filled at a place along the line.
func Together(a, b route.Metres) bool { return max(a-b, b-a) <= atPlace }

// Name says what lies where tanks began and ended, by the plan of the whole.
func Name(all []Happened, whole *trip.Draft) {
	at := func(m route.Metres) (trip.End, bool) {
		for _, n := range whole.Nodes {
			if Together(n.On.At, m) {
				return n.End, true
			}
		}
		return trip.End{}, false
	}
	for i := range all {
		h := &all[i]
		if !h.HasSpan {
			continue
		}
		from, a := at(h.From)
		to, b := at(h.To)
		h.FromEnd, h.ToEnd, h.HasEnds = from, to, a && b
	}
}

// LastNeeds gives what the last kilometres, as the trip meter shows them, take of a bike of
// which nothing was learnt.
func (w Way) LastNeeds(shown route.Metres) fuel.Needs { return w.last(shown, fuel.Likely).Needs() }
