package fuel

import "lastpump/route"

// A Road is a way off the line by kilometres of ground, as a map has it. It is never changed.
type Road struct {
	Ground   []RoadGround // those that it has, in the order of [route.AllGrounds]
	Up, Down route.Metres // climb ridden out, and ridden home; meaningless unless HasClimb
	HasClimb bool
}

// A RoadGround is how much of a way is of one ground.
type RoadGround struct {
	Ground route.Ground
	Length route.Metres
}

// Length gives how long the way is.
func (r *Road) Length() (sum route.Metres) {
	for _, g := range r.Ground {
		sum += g.Length
	}
	return sum
}

// Guessed gives how much of it is of ground that is not known.
func (r *Road) Guessed() (sum route.Metres) {
	for _, g := range r.Ground {
		if g.Ground == route.Unknown {
			sum += g.Length
		}
	}
	return sum
}

// RoadOut gives what a way off the line takes ridden out. Where its climb is not known it is
// counted as on a line without heights.
func (c *Course) RoadOut(r *Road) Amount { return c.road(r, r.Up) }

// RoadHome gives what it takes ridden home.
func (c *Course) RoadHome(r *Road) Amount { return c.road(r, r.Down) }

func (c *Course) road(r *Road, up route.Metres) (a Amount) {
	for _, g := range r.Ground {
		a = a.Plus(c.flat(g.Length, g.Ground))
	}
	return a.climbing(c.roadClimb(r, up))
}

// roadClimb gives what climbing takes, up so far where that is known.
func (c *Course) roadClimb(r *Road, up route.Metres) Figures {
	if r.HasClimb {
		l := c.climb(up)
		return Figures{l, l, l}
	}
	km := r.Length() / 1000
	return Figures{c.climb(unknownClimb.low * km), c.climb(unknownClimb.likely * km), c.climb(unknownClimb.high * km)}
}

// AddRoad adds a way off the line, ridden out or home, and whatever it takes. It gives the
// likely litres. A climb that is not known is in them, and in none of the kilometres of line
// without heights: the line may have all of them.
func (c *Course) AddRoad(d *Drink, r *Road, out bool) Litres {
	ahead, back, up := c.RoadOut(r), c.RoadHome(r), r.Up
	if !out {
		ahead, back, up = back, ahead, r.Down
	}
	length := r.Length()
	d.Ridden += length
	d.RiddenAll = d.RiddenAll.Plus(length)
	d.Amount, d.Back = d.Amount.Plus(ahead), d.Back.Plus(back)
	d.Fuel = d.Amount.Figures()
	d.Guessed += r.Guessed()
	d.Climb += c.roadClimb(r, up).Likely
	if r.HasClimb {
		d.Up += up
	}
	for _, g := range r.Ground {
		d.addGround(g.Ground, g.Length, c)
	}
	return ahead.Likely
}
