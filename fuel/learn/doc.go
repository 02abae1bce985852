// Package learn learns from fill-ups what a bike drinks: how thirsty it is, and what each
// ground does to it.
//
// Start with [New], or [Resume] where the bike file has what was learnt before. [State.Learn]
// takes one tank from brim to brim; [State.Ahead] then gives what a way will take, low,
// likely and high, and [State.Weight] the rider's own weight of a ground. Package
// fuel/learn/fills makes tanks of a file of fills.
//
// The idea that surprises: a plain mean of many tanks is too sure of itself. Most of the
// scatter from fill to fill is slow drift (season, tyres, load), so the tenth tank tells
// hardly more than the third, and the doubt never goes below that of one tank.
//
// # The filter
//
// It is an extended Kalman filter over θ, the logarithm of the thirst, and u, the
// logarithm of a factor on the weight of each of the nine unpaved grounds. With A the
// litres that the plan of a tank has on each ground and C those for its climb:
//
//	a = A·exp(u)   T = Σa + C   H = (1, a ÷ T)
//	v = ln(litres filled) − θ − ln T
//	V = HᵀPH   R = τ² + 2s² ÷ litres²   w = min(1, 5 ÷ (4 + v² ÷ (V + R)))
//	K = PH ÷ (V + R ÷ w)   x += Kv   P −= K(PH)ᵀ
//
// w lets a slip of the pen move nothing far. τ, the scatter of single tanks, is learnt
// beside it; before every tank but the first the thirst may have drifted.
//
// # Limits
//
// The constants are measured on 401 tanks of three motorcycles and scooters and 2,503 of
// nine cars, all on roads (our measurement). What is said of grounds is from simulation:
// no log of an off-road motorcycle with the ground of each tank was to be had. The
// efficiency of climbing cannot be learnt from tanks, and is not.
package learn
