package fuel

import (
	"fmt"

	"lastpump/route/input"

	"lastpump/octane"
	"lastpump/route"
)

// A Bike is one motorcycle as it sets out, with its rider and luggage.
type Bike struct {
	Name        string
	Invented    bool         // nobody has given it: it is taken for want of one
	Tank        Litres       // all that goes in
	Unusable    Litres       // what never reaches the engine
	Can         Litres       // spare fuel it carries, at the nominal mark; 0 for none
	Consumption Consumption  // on paved road, per kilometre as the bike shows them
	Odometer    float64      // kilometres shown per kilometre ridden; 1.03 shows 103 for 100
	TrueRate    bool         // Consumption is per kilometre ridden, not shown
	LoadedMass  Kilograms    // bike, rider, luggage
	Needs       octane.Grade // what the maker's manual asks for
	MeasuredOn  Ethanol      // the petrol that Consumption was measured on
	RiddenOn    Ethanol      // the petrol sold on the way
	Own         map[route.Ground]Weight

	ConsumptionTanks int     // of his own that the rider has Consumption from; 0 for a maker's figure, or not said
	LampAt           Litres  // usable litres left when the lamp comes on; 0 for no lamp, or not said
	ReserveTap       Litres  // usable litres left when the tap has to be turned; 0 likewise
	Riding           Riding  // by the clock
	Learnt           *Learnt // from tanks, see fuel/learn; nil where nothing is
}

// The figures of a bike that does not say otherwise: our estimate.
const (
	defaultUnusable Litres    = 0.5
	defaultMass     Kilograms = 260
	defaultEthanol  Ethanol   = 0.10
)

// DefaultBike is the one planned for where none is given: an ordinary
// single-cylinder machine with a small tank, two figures of which its rider
// should replace before trusting the plan. Our estimate.
func DefaultBike() Bike {
	return Bike{
		Name: "an ordinary single with a 14 L tank", Tank: 14, Unusable: defaultUnusable,
		Consumption: 4.5, Odometer: 1, LoadedMass: defaultMass, Needs: octane.FromRON(95),
		MeasuredOn: defaultEthanol, RiddenOn: defaultEthanol,
	}
}

// Usable gives what of a full tank reaches the engine.
func (b Bike) Usable() Litres { return b.Tank - b.Unusable }

// Rate gives the consumption on paved road per kilometre ridden. A rider
// measures over the kilometres the bike shows; where it shows too many, it
// drinks more on each one ridden.
func (b Bike) Rate() Consumption {
	if b.TrueRate {
		return b.Consumption
	}
	return b.Consumption * Consumption(b.Odometer)
}

// Shown gives the distance the trip meter shows after a distance ridden.
func (b Bike) Shown(ridden route.Metres) route.Metres { return ridden * route.Metres(b.Odometer) }

// EthanolFactor gives how much more the petrol on the way is drunk than the one
// measured on: the ratio of their energies.
func (b Bike) EthanolFactor() float64 { return b.MeasuredOn.Energy() / b.RiddenOn.Energy() }

// Physical constants of the climb.
const (
	gravity    = 9.80665 // m/s², standard acceleration, exactly (ISO 80000-3: from memory)
	efficiency = 0.25    // of the engine: our estimate
	heat       = 32.05e6 // J/L, lower heating value of petrol, from the 115 000 Btu per US gallon of [3]
)

// Climb gives the litres that lifting the bike takes: m·g·h/(η·H), about 0.32 L
// per 1000 m at 260 kg. Nothing is given back for descents.
func (b Bike) Climb(up route.Metres) Litres {
	return Litres(float64(b.LoadedMass) * gravity * float64(up) / (efficiency * heat))
}

// Check tells what of the bike cannot be. The error is a [*input.Error]
// without a file.
func (b Bike) Check() error {
	if _, what, hint := b.wrong(); what != "" {
		return &input.Error{What: what, Hint: hint}
	}
	return nil
}

// What is beyond these is no motorcycle but a slip of the keys: our estimate.
const (
	maxTank        Litres      = 80
	minConsumption Consumption = 0.5
	maxConsumption Consumption = 100
)

const hintLeft = `give the usable litres that are left then, like "3 L"`

// wrong says what of the bike cannot be, and under which key of a bike file it
// stands; "" where all can be.
func (b Bike) wrong() (key, what, hint string) {
	switch {
	case !(b.Tank > 0):
		return "tank", "the tank holds nothing", `give it like tank = "14 L"`
	case b.Tank > maxTank:
		return "tank", fmt.Sprintf("a tank of %.4g L: no motorcycle has over %.0f", b.Tank, maxTank),
			`is a point missing? give it like tank = "14 L"`
	case !(b.Unusable >= 0 && b.Unusable < b.Tank):
		return "unusable", fmt.Sprintf("unusable %.4g L of a tank of %.4g L leaves nothing to ride on", b.Unusable, b.Tank),
			"unusable is what stays in the tank when the engine stops, often 0.5 L"
	case !(b.Consumption >= minConsumption && b.Consumption <= maxConsumption):
		return "consumption", fmt.Sprintf("a consumption of %.4g L/100 km is not between %v and %v", b.Consumption,
				minConsumption, maxConsumption),
			`give it like consumption = "4.5 L/100km"`
	case !(b.Odometer >= 0.8 && b.Odometer <= 1.25):
		return "odometer", fmt.Sprintf("odometer %v is not between 0.8 and 1.25", b.Odometer),
			"1.03 means: the bike shows 103 where 100 are ridden"
	case !(b.LoadedMass >= 50 && b.LoadedMass <= 1000):
		return "loaded_mass", fmt.Sprintf("a loaded mass of %.4g kg is not between 50 and 1000", b.LoadedMass),
			"count the bike ready to ride, the rider and the luggage"
	case !(b.Can >= 0 && b.Can <= 60):
		return "can", fmt.Sprintf("a can of %.4g L is not between 0 and 60", b.Can), `give it like can = "3 L"`
	case !(b.LampAt >= 0 && b.LampAt < b.Usable()):
		return "lamp_at", fmt.Sprintf("a lamp at %.4g L of %.4g L usable", b.LampAt, b.Usable()), hintLeft
	case !(b.ReserveTap >= 0 && b.ReserveTap < b.Usable()):
		return "reserve_tap", fmt.Sprintf("a reserve tap at %.4g L of %.4g L usable", b.ReserveTap, b.Usable()), hintLeft
	case b.Needs.Scale == "":
		return "needs", "what the engine needs is not said", `give it like needs = "95 RON"`
	}
	return "", "", ""
}
