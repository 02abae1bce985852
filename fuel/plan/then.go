package plan

import (
	"fmt"
	"math"
	"strings"

	"lastpump/fuel"
	"lastpump/route"
)

// compare sets each leg of the rest beside what it was in the plan of the whole.
func (d *draft) compare(whole *draft) {
	h := d.plan.Here
	if h == nil {
		return
	}
	if n := d.nodes[0]; n.visit >= 0 {
		h.Stop = d.plan.Visits[n.visit].Stop.Name
	}
	type end struct {
		to string
		at route.Metres
	}
	then := map[end]Leg{}
	for _, l := range whole.plan.Legs {
		then[end{l.To, l.ToAt}] = l
	}
	for _, l := range d.plan.Legs {
		was, ok := then[end{l.To, l.ToAt}]
		leg := HereLeg{To: l.To, ToAt: l.ToAt, Now: figuresOf(l), HasThen: ok}
		if ok {
			leg.Then = figuresOf(was)
		}
		leg.Allowed, leg.HasAllowed = d.allowed(l)
		leg.AllowedDry, leg.HasAllowedDry = d.shownRate(l.Start+l.Can, l.Drink.Ridden)
		h.Legs = append(h.Legs, leg)
	}
	h.Answer = d.plan.fromHere()
}

func figuresOf(l Leg) HereFigures { return HereFigures{l.Drink.Fuel.Likely, l.Arrive, l.Verdict} }

// allowed gives the consumption with which a leg just keeps its reserve. What is
// kept is a share of the tank or, where that is more, a distance at the rate of
// the leg itself, which falls with it: the lower of the two rates keeps both.
func (d *draft) allowed(l Leg) (fuel.Consumption, bool) {
	r := d.in.Options.Reserve
	with := l.Start + l.Can
	share, ok := d.shownRate(with-fuel.Litres(r.Share)*d.bike.Usable(), l.Drink.Ridden)
	if !ok {
		return 0, false
	}
	distance, _ := d.shownRate(with, l.Drink.Ridden+r.Distance)
	return min(share, distance), true
}

// shownRate gives the litres per 100 km as the bike shows them; none for no
// litres and for no distance.
func (d *draft) shownRate(l fuel.Litres, ridden route.Metres) (fuel.Consumption, bool) {
	rate := fuel.Consumption(float64(l) / d.bike.Shown(ridden).Kilometres() * 100)
	if !(l > 0 && ridden > 0) || math.IsInf(float64(rate), 0) {
		return 0, false
	}
	return rate, true
}

// fromHere says in a line how thirsty the bike is and what that changes.
func (p *Plan) fromHere() string {
	return "From here" + p.thirsty() + ": " + p.changed() + p.tightest() + "."
}

func (p *Plan) thirsty() string {
	h, u := p.Here, p.Options.Units
	if h.Used == nil {
		return ", with the thirst as planned"
	}
	figures := fmt.Sprintf("(%s, expected %s)", u.Held(h.Used.Litres), u.Needed(h.Likely))
	if math.Abs(h.Factor-1) < 0.005 {
		return ": it drinks as planned " + figures
	}
	return fmt.Sprintf(": it drinks %.2f times what was planned %s", h.Factor, figures)
}

// changed lists the legs with another verdict than in the plan of the whole, the
// first few of many.
func (p *Plan) changed() string {
	const most = 4
	var list []string
	for i, l := range p.Here.Legs {
		if l.HasThen && l.Then.Verdict != l.Now.Verdict {
			list = append(list, fmt.Sprintf("leg %d %s → %s", i+1, l.Then.Verdict, l.Now.Verdict))
		}
	}
	switch n := len(list); {
	case n == 0:
		return "no leg changes its verdict"
	case n > most:
		return fmt.Sprintf("%s, and %d more legs change", strings.Join(list[:most-1], ", "), n-most+1)
	}
	return strings.Join(list, ", ")
}

// tightest says of the leg with the least room how much it may drink.
func (p *Plan) tightest() string {
	u, which := p.Options.Units, -1
	least := math.Inf(1)
	for i, l := range p.Here.Legs {
		need := p.Legs[i].Drink.Fuel.Likely
		if need <= 0 {
			continue
		}
		room := 0.0 // what it may drink, in parts of what it does
		if l.HasAllowed {
			room = float64(l.Allowed.Over(p.Legs[i].Trip(p.Bike)) / need)
		}
		if room < least {
			which, least = i, room
		}
	}
	switch {
	case which < 0:
		return ""
	case !p.Here.Legs[which].HasAllowed:
		return fmt.Sprintf("; leg %d sets out with less than the reserve", which+1)
	}
	return fmt.Sprintf("; %s on leg %d", u.AtMost(p.Here.Legs[which].Allowed), which+1)
}

// hereAssumptions says from where the rest is planned, and on what.
func hereAssumptions(p *Plan, u fuel.Units, add func(string, Mark, string, ...any)) {
	h := p.Here
	if h == nil {
		return
	}
	at := kmOf(u, h.At)
	if h.Stop != "" {
		at = h.Stop + ", " + at
	}
	add("From here", Given, "%s of the whole line (--from); as it was planned means full at its start", at)
	if h.Used != nil {
		add("Used up to here", Given, "%s over %s by the trip meter (--used); expected %s, at the least %s, at the most %s; %.3f times the likely",
			u.Held(h.Used.Litres), u.Distance(h.Used.Trip), u.Needed(h.Likely), u.Needed(h.Low), u.Needed(h.High), h.Factor)
	}
	if h.OnTheWay() && p.Legs[0].FromVisit < 0 {
		add("Can up to the first pump", OurOwn, "empty: what is in one counts when it is in the tank (--start-fuel)")
	}
}

// measured says of a thirst how it was measured on the way.
func (h *Here) measured() string {
	if h == nil || h.Used == nil {
		return ""
	}
	return fmt.Sprintf(": %.4g as planned × %.4g measured on the way", h.Before, h.Factor)
}
