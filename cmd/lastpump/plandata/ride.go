package plandata

import (
	"cmp"
	"math"
	"slices"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// keyed are the stops by which ends of legs are named.
type keyed []stop.Stop

func loopOf(p *plan.Plan, arranged string) Loop {
	l := p.Line
	return Loop{
		Name: p.Name, Points: l.Points(), LineKm: l.Length().Kilometres(), Stretch: l.Stretch.Factor,
		RiddenKm: p.Loop.Ridden.Kilometres(), AscentM: known(float64(p.Loop.Ascent), p.Loop.HasAscent), Closed: l.Closed,
		KnownM: float64(p.Loop.Ascent),
		Parts: each(l.Parts, func(t route.Part) Part {
			return Part{t.Name, t.From.Kilometres(), t.To.Kilometres(), t.Number, t.Backwards}
		}),
		Halts: each(l.Halts, func(h route.Halt) Halt {
			return Halt{h.At.Kilometres(), h.Taken.Kilometres(), h.Points, h.For.Minutes()}
		}),
		Arranged: text(arranged),
		Cut:      p.Cut.Where != "",
		Gaps:     each(l.Gaps, func(g route.Gap) Gap { return Gap{g.At.Kilometres(), g.Straight.Kilometres(), g.Ridden} }),
	}
}

func reserveOf(r leg.Reserve) Reserve {
	return Reserve{Share: r.Share, DistanceKm: r.Distance.Kilometres(), Litres: float64(r.Litres)}
}

func bikeOf(b fuel.Bike, own leg.Carried) Bike {
	return Bike{b.Name, float64(b.Tank), float64(b.Unusable), float64(b.Consumption), float64(b.LoadedMass),
		b.Needs.String(), b.Odometer, float64(own.Total())}
}

func bandOf(b plan.Band) Band {
	return Band{string(b.Basis), b.Tanks, b.Under, b.Over, Figures{float64(b.Ride.Low), float64(b.Ride.Likely), float64(b.Ride.High)}}
}

// visits lays the visits out. Where the tank is full at the start and nothing is filled, the
// fill there is of what is in the tank.
func (k keyed) visits(p *plan.Plan) []Visit {
	out := each(p.Visits, k.visit)
	i := p.Legs[0].FromVisit
	if i < 0 || p.Visits[i].Fill == nil {
		return out
	}
	if f := p.Visits[i].Fill; f.High <= 0 && f.Can <= 0 && p.Start.Mixture == nil {
		out[i].Fill.Grade = text(p.Start.Grade.String())
		out[i].Fill.Verdict = string(p.Start.Grade.Against(p.Bike.Needs))
	}
	return out
}

func optionsOf(o plan.Options) Options {
	return Options{
		CorridorKm: o.Corridor.Kilometres(), Trust: string(o.Trust), Skip: list(o.Skip),
		StartFuelL:  known(float64(o.StartFuel), o.HasStartFuel),
		SinceFillKm: known(o.SinceFill.Kilometres(), o.SinceFill > 0),
		StartGrade:  known(o.StartGrade.String(), o.StartGrade.Scale != ""), Thirst: o.Thirst,
		LowGrade: string(o.LowGrade), FillAt: cmp.Or(string(o.FillAt), string(plan.FillEverywhere)),
		DetoursKm: o.Detours.Kilometres(), Detours: known("auto", o.FillAt == plan.FillChosen),
	}
}

func (k keyed) visit(v trip.Visit) Visit {
	s := v.Stop
	out := Visit{
		Stop: s.Name, Lat: s.At.Lat(), Lon: s.At.Lon(), LineKm: v.At.Kilometres(), OffLineKm: v.Off.Kilometres(),
		DetourKm: v.Detour.Kilometres(), Standing: string(s.Standing),
		Confirmed: known(s.Confirmed.Format(time.DateOnly), s.HasConfirmed),
		Hours:     text(s.Hours), Pay: text(s.Pay), Phone: text(s.Phone), Note: text(s.Note),
		Grades:  each(s.Grades, octane.Grade.String),
		Prices:  each(s.Prices, func(p stop.Price) Price { return Price{p.Amount, p.Currency, p.Per} }),
		Counted: v.Counted, WhyNot: text(words.WhyNot(v)),
		Also: list(v.Also), LastFuel: v.LastFuel != nil, Unsure: v.UnsureAhead, Need: text(string(v.Need)),
	}
	out.clocked(v.Hour)
	if f := v.Fill; f != nil {
		out.Fill = &Fill{known(f.Grade.String(), f.HasGrade), string(f.Verdict), float64(f.Litres), float64(f.Low),
			float64(f.High), float64(f.TankAfter), float64(f.Can)}
	}
	if v.Mixture != nil {
		m := mixtureOf(*v.Mixture)
		out.Mixture = &m
	}
	if d := v.IfDry; d != nil {
		out.IfDry = &IfDry{Outcome: string(d.Outcome), To: d.To.Key(k), SpareL: float64(d.Spare), Bare: d.Bare,
			High: string(d.High), Back: d.Back.Key(k)}
		if d.To.HasStop() {
			out.IfDry.Standing = text(string(k[d.To.Stop].Standing))
		}
	}
	return out
}

func mixtureOf(m leg.Mixture) Mixture {
	return Mixture{m.Low, m.High, string(m.Scale), string(m.Verdict)}
}

func notUsed(n plan.NotUsed) NotUsed {
	out := NotUsed{Stop: n.Stop, OffLineKm: n.Off.Kilometres()}
	if n.In != nil {
		in := "gap"
		if n.In.Leap {
			in = "leap"
		}
		out.In = &in
	}
	return out
}

func (k keyed) leg(l trip.Leg) Leg {
	return Leg{
		From: l.From.Key(k), To: l.To.Key(k), FromVisit: index(l.FromVisit), ToVisit: index(l.ToVisit),
		FromKm: l.FromAt.Kilometres(), ToKm: l.ToAt.Kilometres(), RiddenKm: l.Drink.Ridden.Kilometres(),
		AscentM: known(float64(l.Drink.Up), l.Drink.HasClimb()), KnownM: float64(l.Drink.Up),
		Ground: each(l.Drink.Grounds, func(g fuel.Ground) Ground {
			return Ground{string(g.Ground), g.Ridden.Kilometres(), float64(g.Likely)}
		}),
		ClimbL: float64(l.Drink.Climb), DetourL: float64(l.Detour),
		FuelL:  Figures{float64(l.Drink.Fuel.Low), float64(l.Drink.Fuel.Likely), float64(l.Drink.Fuel.High)},
		StartL: float64(l.Start), CanL: float64(l.Can), PouredL: float64(l.Poured), KeptL: float64(l.Kept), ArriveL: float64(l.Arrive),
		Verdict: string(l.Verdict), ShortL: float64(l.Short),
		Headroom: known(l.Headroom, l.HasHeadroom && !math.IsInf(l.Headroom, 0)),
		SafeToKm: l.SafeTo.Kilometres(), DryAtKm: l.DryAt.Kilometres(), TurnBackKm: l.TurnBack.Kilometres(),
		TurnBackAt: [2]float64{l.TurnBackByPoint.Lat(), l.TurnBackByPoint.Lon()},
		TurnBackBy: l.TurnBackBy.Kilometres(), Mixture: mixtureOf(l.Mixture),
		DryAtHighKm: l.DryAtHigh.Kilometres(), TurnHighKm: l.TurnBackHigh.Kilometres(),
		UnknownGrKm: l.Drink.Guessed.Kilometres(),
	}
}

// onLikely gives the uses that the likely figures ask for.
func onLikely(uses []trip.Use) []trip.Use {
	return slices.DeleteFunc(slices.Clone(uses), func(u trip.Use) bool { return u.Bare })
}

func (k keyed) can(c trip.Can) Can {
	return Can{
		float64(c.ForPlan), float64(c.ForAnyDryPump),
		sizeOf(c.SizeForPlan), sizeOf(c.SizeForDry),
		each(onLikely(c.Uses), func(u trip.Use) Use {
			return Use{u.Leg, u.Leg + 1, string(u.Why), u.FillAt.Key(k), u.PourAt.Kilometres(), float64(u.Litres), float64(u.IfDry),
				float64(u.Full), u.FullAt.Kilometres(), u.PourBy.Kilometres()}
		}),
		float64(c.ForDryHigh), sizeOf(c.SizeForDryHigh),
	}
}

func canRow(r plan.CanRow) CanRow {
	return CanRow{litres(r.Cans), r.NotOK, r.Stranded, r.Stranded + r.Bare, float64(r.Weight), r.Planned}
}

func litres(c leg.Carried) []float64 {
	return each(c, func(l fuel.Litres) float64 { return float64(l) })
}

func totalsOf(t plan.Totals) Totals {
	return Totals{
		each(t.Grades, func(g plan.GradeTotal) Grade { return Grade{g.Grade, float64(g.Litres)} }),
		each(t.Money, func(m plan.Money) Money { return Money{m.Currency, m.Amount} }),
		float64(t.Unpriced), float64(t.CanWeight), float64(t.DryWeight),
	}
}
