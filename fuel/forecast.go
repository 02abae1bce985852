package fuel

import "math"

// A Known is what is known of how much a bike drinks: the state of the filter in fuel/learn,
// which moves it from tank to tank. The thirst stands first, then the nine unpaved grounds,
// in the order of [WeighedGrounds].
type Known struct {
	X        [WeightCount]float64              // logarithms of the thirst and of the factor on each unpaved weight
	P        [WeightCount][WeightCount]float64 // their covariance
	SSQ, DoF float64                           // the scatter of single tanks, and of how many it is known
	Weights  [WeightCount]Weight
	Start    [WeightCount]float64 // standard deviation of each factor before the first tank
	Tanks    int                  // learnt from or seen, see [Known.LearntFrom]
}

// The constants of the filter: our measurement on 2,900 tanks of others, see fuel/learn.
const (
	sdMaker  = 0.12     // of a maker's figure, in the logarithm
	sdOwn    = 0.06     // of a figure from two or more own tanks (our estimate)
	ownTanks = 2        // so many
	tau2     = 0.0049   // the scatter of single tanks to begin with, squared
	dof      = 8        // how many tanks that is worth
	spanned  = 2.563103 // standard deviations between low and high of a weight: 80 % lie there
	Drift    = 0.03     // of the thirst from tank to tank, in the logarithm
	Brim     = 0.3      // litres that one brim is off
)

// Before gives what is known of a bike before its first tank: the figures of its file, in
// doubt as such figures are.
func (b Bike) Before() Known {
	k := Known{SSQ: dof * tau2, DoF: dof}
	sd := sdMaker
	if b.MeasuredByOwner() {
		sd = sdOwn
	}
	k.P[0][0] = sd * sd
	for i, g := range WeighedGrounds() {
		w := b.Weight(g)
		k.Weights[i] = w
		if i > 0 {
			k.Start[i] = Log(w.High/w.Low) / spanned
			k.P[i][i] = k.Start[i] * k.Start[i]
		}
	}
	return k
}

// MeasuredByOwner tells whether enough own tanks stand behind the consumption.
func (b Bike) MeasuredByOwner() bool { return b.ConsumptionTanks >= ownTanks }

// Known gives what is known of a bike: what was learnt from its tanks, else [Bike.Before].
func (b Bike) Known() Known {
	k := b.Before()
	if l := b.Learnt; l != nil {
		k.X, k.P, k.SSQ, k.DoF, k.Tanks = l.X, l.Covariance(), l.SSQ, l.DoF, l.Tanks
	}
	return k
}

// Exp gives e to a power. That of the library is written for each kind of processor, and may differ in its last
// bit from one to another: a plan is to be the same in a page as at home.
func Exp(x float64) float64 { return math.Expm1(x) + 1 }

// Log gives the natural logarithm, of which the same is true.
func Log(x float64) float64 { return math.Log1p(x - 1) }

// power gives a positive number to a power, of which the same is true.
func power(x, y float64) float64 { return Exp(y * Log(x)) }

// Tau2 is the scatter of single tanks, as a variance of the logarithm.
func (k Known) Tau2() float64 { return k.SSQ / k.DoF }

// OneSided is the 95th percentile of the normal distribution.
const OneSided = 1.644854

// LearntFrom is how many tanks have told of the scatter: those that were refused are not among
// them, nor a lamp or a tap.
func (k Known) LearntFrom() int { return int(min(float64(k.Tanks), math.Round(k.DoF-dof))) }

// T is how many standard deviations the low and the high end of a band of 90 % are off: the
// 95th percentile of Student's t, to 0.002 from 8 degrees of freedom up.
func (k Known) T() float64 { return OneSided + 1.523769/k.DoF + 1.420203/(k.DoF*k.DoF) }

// Factor gives what was learnt of the weight of a ground; nothing is of paved road.
func (k Known) Factor(ground int) float64 {
	if ground == 0 {
		return 1
	}
	return Exp(k.X[ground])
}

// Share gives how much of the doubt about a ground is left; all of it where there was none.
func (k Known) Share(ground int) float64 {
	if ground == 0 || k.Start[ground] == 0 {
		return 1
	}
	return math.Sqrt(k.P[ground][ground]) / k.Start[ground]
}

// A Standing says how far the weight of a ground is the rider's own.
type Standing string

// The standings, by how much of the doubt there was at the start is left.
const (
	General     Standing = "general"      // over 0.9
	PartlyYours Standing = "partly yours" // 0.6 to 0.9
	Yours       Standing = "yours"        // below
)

// Standing tells how far the weight of a ground is the rider's own.
func (k Known) Standing(ground int) Standing {
	switch f := k.Share(ground); {
	case f > 0.9:
		return General
	case f >= 0.6:
		return PartlyYours
	}
	return Yours
}

// Weight gives the rider's own weight of a ground.
func (k Known) Weight(ground int) Weight {
	w, f := k.Weights[ground], k.Share(ground)
	likely := w.Likely * k.Factor(ground)
	return Weight{Low: likely * power(w.Low/w.Likely, f), Likely: likely, High: likely * power(w.High/w.Likely, f)}
}

// caution is how many times as far off as High [Most] is. Riders drawn from all there are, on
// loops made to be only just enough, are to be stranded on under ten of a thousand rides by a
// plan on a maker's figure: at 1 it is 18.4, at 1.1 13.6, at 1.2 10.8, at 1.3 from 7.4 to 9.0, and
// each tenth costs 9 % more in cans (our measurement, by simulation: fuel/plan/rides).
const caution = 1.3

// A Forecast tells how far off an [Amount] may be: the one home of low and high. It is made
// once by [Known.Forecast] and never changes.
type Forecast struct {
	Thirst float64
	Factor [WeightCount]float64 // of each weight
	Floor  [WeightCount]float64 // times the likely weight, what the high weight asks for
	P      [WeightCount][WeightCount]float64
	Tau2   float64 // the variance of single tanks
	T      float64 // standard deviations to the end of a band
}

// Forecast gives what is to be expected of a bike of which so much is known.
func (k Known) Forecast() *Forecast {
	f := &Forecast{Thirst: Exp(k.X[0]), P: k.P, Tau2: k.Tau2(), T: k.T()}
	for i, w := range k.Weights {
		f.Factor[i] = k.Factor(i)
		f.Floor[i] = power(w.High/w.Likely, k.Share(i))
	}
	return f
}

// Forecast gives what is to be expected of a bike.
func (b Bike) Forecast() *Forecast { return b.Known().Forecast() }

// An Amount is what a way takes, kept so that ways can be added up: unlike low and high
// figures all of it may be summed. It comes of a [Course] or of [Forecast.Amount].
type Amount struct {
	Likely Litres
	On     [WeightCount]Litres // of Likely, on each ground; not what climbing takes
	Short  Litres              // likely, by the low kilometres and climb
	Long   Litres              // likely, by the high ones
	Floor  Litres              // by the high weights and kilometres: no high figure is less
	By     *Forecast           // that tells how far off it may be; nil for nothing
}

// Amount gives what needs come to.
func (f *Forecast) Amount(n Needs) Amount {
	thirst := Litres(f.Thirst)
	c := n.Climb.times(f.Thirst)
	a := Amount{Likely: c.Likely, Short: c.Low, Long: c.High, Floor: c.High, By: f}
	for i, g := range n.Flat {
		w := thirst * Litres(f.Factor[i])
		a.On[i] = g.Likely * w
		a.Likely += g.Likely * w
		a.Short += g.Low * w
		a.Long += g.High * w
		a.Floor += g.High * w * Litres(f.Floor[i])
	}
	return a
}

// onGround is [Forecast.Amount] of litres on one ground.
func (f *Forecast) onGround(ground int, l Litres) Amount {
	l = f.likely(ground, l)
	a := Amount{Likely: l, Short: l, Long: l, Floor: l * Litres(f.Floor[ground]), By: f}
	a.On[ground] = l
	return a
}

// likely gives what was learnt of litres on a ground.
func (f *Forecast) likely(ground int, l Litres) Litres { return l * Litres(f.Thirst*f.Factor[ground]) }

// Plus adds what another way takes.
func (a Amount) Plus(o Amount) Amount { return a.add(&o, 1) }

// Minus takes off what another way takes that is part of it.
func (a Amount) Minus(o Amount) Amount { return a.add(&o, -1) }

// Times multiplies all of it.
func (a Amount) Times(by float64) Amount { return Amount{By: a.By}.add(&a, Litres(by)) }

// Measured gives what a way takes whose kilometres have been measured, and are so many times the likely
// ones: the climb stays as it is, as with [Needs.Measured].
func (a Amount) Measured(times float64) Amount {
	if a.By == nil {
		return a
	}
	for i, l := range a.On {
		more := l * Litres(times-1)
		a.On[i] += more
		a.Likely, a.Short, a.Long = a.Likely+more, a.Short+more, a.Long+more
		a.Floor += more * Litres(a.By.Floor[i])
	}
	return a
}

// add adds a share of o.
func (a Amount) add(o *Amount, share Litres) Amount {
	a.Likely += share * o.Likely
	a.Short += share * o.Short
	a.Long += share * o.Long
	a.Floor += share * o.Floor
	for i := range a.On {
		a.On[i] += share * o.On[i]
	}
	if a.By == nil {
		a.By = o.By
	}
	return a
}

// climbing adds litres for climbing, by each figure.
func (a Amount) climbing(c Figures) Amount {
	a.Likely += c.Likely
	a.Short += c.Low
	a.Long += c.High
	a.Floor += c.High
	return a
}

// Figures gives the three figures of a way that is ridden from one brim to the next: what a
// plan goes by. One tank in twenty takes less than Low, and one more than High.
func (a Amount) Figures() Figures {
	if a.By == nil {
		return Figures{}
	}
	f, _ := a.By.band(&a, a.By.alone())
	return f
}

// At gives one of them, or what a dry place is judged by.
func (a Amount) At(f Figure) Litres {
	switch {
	case f == Likely || a.By == nil:
		return a.Likely
	case !(a.Likely > 0):
		return 0
	}
	off := a.By.T * a.By.deviation(&a, a.By.alone())
	switch f {
	case Low:
		return a.low(off)
	case High:
		return a.high(off)
	}
	return a.high(off * caution)
}

// low gives the litres that are so far off under the likely ones, in the logarithm.
func (a *Amount) low(off float64) Litres { return a.Short * Litres(Exp(-off)) }

// high gives the litres that are so far off over them.
func (a *Amount) high(off float64) Litres { return max(a.Long*Litres(Exp(off)), a.Floor) }

// alone gives the variance that one leg has by itself: its drift and its scatter.
func (f *Forecast) alone() float64 { return Drift*Drift + f.Tau2 }

// Band gives the 90 % band of a leg, or of legs that follow each other from brim to brim, and
// the standard deviation of the logarithm.
func (f *Forecast) Band(legs ...Amount) (Figures, float64) {
	all, scatter := f.sum(legs)
	return f.band(&all, scatter)
}

// OnPaved gives how much less and how much more than so many likely litres on paved road the
// low and the high figure are, as shares.
func (f *Forecast) OnPaved(l Litres) (under, over float64) {
	all := f.onGround(0, l/Litres(f.Thirst)).Figures()
	return 1 - float64(all.Low/all.Likely), float64(all.High/all.Likely) - 1
}

// sum adds up legs, and gives the variance of what each has by itself: a drift stays for all
// legs behind it, the scatter is of one.
func (f *Forecast) sum(legs []Amount) (all Amount, scatter float64) {
	for _, l := range legs {
		all = all.Plus(l)
	}
	if !(all.Likely > 0) {
		return all, 0
	}
	rest := 0.0
	for j := len(legs) - 1; j >= 0; j-- {
		w := float64(legs[j].Likely / all.Likely)
		rest += w
		scatter += Drift*Drift*rest*rest + f.Tau2*w*w
	}
	return all, scatter
}

// band gives the three figures of an amount with a variance of its own, and the standard
// deviation.
func (f *Forecast) band(a *Amount, scatter float64) (Figures, float64) {
	if !(a.Likely > 0) {
		return Figures{}, 0
	}
	sd := f.deviation(a, scatter)
	off := f.T * sd
	return Figures{Low: a.low(off), Likely: a.Likely, High: a.high(off)}, sd
}

// deviation gives the standard deviation of the logarithm of an amount with a variance of its
// own.
func (f *Forecast) deviation(a *Amount, scatter float64) float64 {
	likely := float64(a.Likely)
	return math.Sqrt(f.doubt(a) + scatter + min(Brim*Brim/(likely*likely), f.Tau2))
}

// doubt gives the variance that is of the thirst and of the weights.
func (f *Forecast) doubt(a *Amount) float64 {
	sum := f.P[0][0]
	for i := 1; i < WeightCount; i++ {
		if a.On[i] == 0 {
			continue
		}
		h := float64(a.On[i] / a.Likely)
		sum += h * (2*f.P[0][i] + h*f.P[i][i])
		for j := i + 1; j < WeightCount; j++ {
			if a.On[j] != 0 {
				sum += 2 * h * float64(a.On[j]/a.Likely) * f.P[i][j]
			}
		}
	}
	return max(0, sum)
}

// Until gives the share of a bit of way, from 0 to 1, at which what has been used reaches the
// litres; used grows with the share.
func Until(l Litres, used func(share float64) Litres) float64 {
	a, b := 0.0, 1.0
	fa, fb := float64(used(a)-l), float64(used(b)-l)
	if fa >= 0 {
		return a
	}
	if fb <= 0 {
		return b
	}
	const near = 1e-12
	for range 80 { // false position, halved where one end stays (Illinois)
		x := (a*fb - b*fa) / (fb - fa)
		fx := float64(used(x) - l)
		switch {
		case math.Abs(fx) <= near*(1+float64(l)) || b-a <= near:
			return x
		case fx < 0:
			a, fa, fb = x, fx, fb/2
		default:
			b, fb, fa = x, fx, fa/2
		}
	}
	return a
}

// Needs gives the likely litres without what was learnt of the bike.
func (a Amount) Needs() (n Needs) {
	if a.By == nil {
		return n
	}
	climb := a.Likely
	for i, l := range a.On {
		climb -= l
		l /= Litres(a.By.Thirst * a.By.Factor[i])
		n.Flat[i] = Figures{l, l, l}
	}
	climb = max(0, climb) / Litres(a.By.Thirst)
	n.Climb = Figures{climb, climb, climb}
	return n
}
