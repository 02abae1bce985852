package survey

import (
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

// Figures are what a survey found, in numbers. Lengths are along the line unless they
// are said to be kilometres of the file.
type Figures struct {
	Length    route.Metres // of the line
	AsGiven   route.Metres // of the file, where points astray make it much longer than the line; else 0
	OnWays    route.Metres // on ways of the map
	NoRoad    route.Metres // without any road of the map near
	Holes     []Hole
	Apart     route.Metres // of the line's points on average, where that is too far to follow roads; else 0
	Reach     route.Metres // how far off the line a pump is counted
	WithFuel  int          // counted pumps that may have petrol
	NoGrade   int          // pumps of which no grade is known
	OnLine    int          // pumps with petrol so near to the line that there is no detour
	Near      int          // others that are counted
	Far       int          // others
	NoPetrol  int          // pumps without petrol
	NoHours   int          // pumps whose hours are not known
	NoPay     int          // and so on
	NoPhone   int
	Grounds   []GroundLength // that there are, in the order of route.AllGrounds
	Guessed   route.Metres   // of ground that is usual for the class of the road
	Unknown   route.Metres
	UnknownIn []Section
	Doubt     ScaleDoubt
}

// A Hole is a gap in the line.
type Hole struct{ Straight, Km route.Metres }

// A GroundLength is how much of a ground there is.
type GroundLength struct {
	Ground       route.Ground
	All, Guessed route.Metres
}

// A ScaleDoubt is a grade that looks like one of the other scale.
type ScaleDoubt struct {
	Pump  string // "" where there is none
	Grade octane.Grade
	Other octane.Scale
}

// Figures counts and adds up.
func (s *Survey) Figures() Figures {
	f := Figures{Length: s.Line.Length(), Reach: s.Options.reach(), Doubt: s.scaleDoubt()}
	if given := s.Line.FileLength(route.AsGiven); given-f.Length > 100 {
		f.AsGiven = given
	}
	const coarse route.Metres = 300
	if apart := f.Length / route.Metres(s.Line.Points()-1); apart > coarse {
		f.Apart = apart
	}
	for _, m := range s.Matches {
		if m.Way != nil {
			f.OnWays += m.Length()
		}
	}
	for _, l := range s.Blank {
		f.NoRoad += l.Length()
	}
	for _, g := range s.Line.Gaps {
		f.Holes = append(f.Holes, Hole{g.Straight, s.Line.FileAt(g.At)})
	}
	f.countPumps(s.Pumps, s.Options.Counted)
	f.addGrounds(s.Sections)
	return f
}

func (f *Figures) countPumps(pumps []Pump, counted route.Metres) {
	count := func(n *int, is bool) {
		if is {
			*n++
		}
	}
	for _, p := range pumps {
		some := !p.NoPetrol()
		count(&f.WithFuel, some && p.Off <= f.Reach)
		count(&f.NoGrade, some && len(p.Grades) == 0)
		count(&f.NoPetrol, !some)
		count(&f.OnLine, some && p.Off <= stop.OnLine)
		count(&f.Near, some && p.Off > stop.OnLine && p.Off <= counted)
		count(&f.Far, some && p.Off > stop.OnLine && p.Off > counted)
		count(&f.NoHours, p.Hours == "")
		count(&f.NoPay, p.Pay == "")
		count(&f.NoPhone, p.Phone == "")
	}
}

func (f *Figures) addGrounds(sections []Section) {
	for _, ground := range route.AllGrounds() {
		g := GroundLength{Ground: ground}
		for _, s := range sections {
			if s.Ground != ground {
				continue
			}
			g.All += s.Line.Length()
			if s.Guessed {
				g.Guessed += s.Line.Length()
			}
		}
		if g.All != 0 {
			f.Grounds = append(f.Grounds, g)
		}
	}
	for _, s := range sections {
		if s.Guessed {
			f.Guessed += s.Line.Length()
		}
		if s.Ground == route.Unknown {
			f.UnknownIn = append(f.UnknownIn, s)
			f.Unknown += s.Line.Length()
		}
	}
}

// scaleDoubt finds an octane number that looks like one of the other scale. From
// memory: pumps in North America post 85 to 94, elsewhere hardly one posts 84 to 89 RON.
func (s *Survey) scaleDoubt() ScaleDoubt {
	for _, p := range s.Pumps {
		for _, g := range p.Grades {
			switch {
			case g.Scale == octane.ScaleAKI && g.Number > 94:
				return ScaleDoubt{p.Name, g, octane.ScaleRON}
			case g.Scale == octane.ScaleRON && g.Number >= 84 && g.Number <= 89:
				return ScaleDoubt{p.Name, g, octane.ScaleAKI}
			}
		}
	}
	return ScaleDoubt{}
}
