package plan

import "lastpump/fuel"

// dry says of each place what happens if it is dry, and marks the last sure
// fuel before each doubtful stretch.
func (d *draft) dry() {
	for k := 1; k < len(d.nodes)-1; k++ {
		d.plan.Visits[d.nodes[k].visit].IfDry = d.ifDry(k)
	}
	for k, n := range d.nodes[:len(d.nodes)-1] {
		if n.visit >= 0 {
			d.plan.Visits[n.visit].LastFuel = d.lastFuel(k)
		}
	}
}

// lastFuel tells whether what follows a place is doubtful: the leg, the next
// place if it is dry, or the word for it.
func (d *draft) lastFuel(k int) bool {
	if d.plan.Legs[k].Verdict != OK {
		return true
	}
	next := d.nodes[k+1]
	if k+1 == len(d.nodes)-1 { // the end is no place any more
		return false
	}
	v := d.plan.Visits[next.visit]
	return v.IfDry.Outcome != On || !sure(v.Stop)
}

// ifDry says what happens if the place at a node is dry: whether the next other
// place, or else the last one, is within reach of what is left in the tank. No
// reserve is kept in this. It is nil at the start and at the end.
func (d *draft) ifDry(k int) *IfDry {
	if k <= 0 {
		return nil
	}
	l := d.plan.Legs[k-1]
	return d.ifDryWith(k, l.Start+l.Can, l.slack())
}

// ifDryWith is ifDry for what the leg to the place sets out with.
func (d *draft) ifDryWith(k int, with, slack fuel.Litres) *IfDry {
	if k >= len(d.nodes)-1 {
		return nil
	}
	need := d.plan.Legs[k-1].Drink.Fuel
	left, leftHigh := with-need.Likely, with-need.High
	next, on := d.onward(k)
	last, back := d.backward(k)
	switch {
	case left >= on.Likely-slack:
		return &IfDry{On, d.nodes[next].name, max(0, left-on.Likely), leftHigh < on.High}
	case left >= back.Likely-slack:
		return &IfDry{Back, d.nodes[last].name, max(0, left-back.Likely), leftHigh < back.High}
	case back.Likely < on.Likely:
		return &IfDry{Stranded, d.nodes[last].name, left - back.Likely, false}
	}
	return &IfDry{Stranded, d.nodes[next].name, left - on.Likely, false}
}

// onward gives the next node that is another place, or the end, and the fuel to
// it.
func (d *draft) onward(k int) (int, fuel.Figures) {
	var f fuel.Figures
	for j := k; ; j++ {
		f = f.Plus(d.plan.Legs[j].Drink.Fuel)
		if j+1 == len(d.nodes)-1 || d.nodes[j+1].number != d.nodes[k].number {
			return j + 1, f
		}
	}
}

// backward gives the last node that is another place, or the start, and the fuel
// back to it.
func (d *draft) backward(k int) (int, fuel.Figures) {
	var f fuel.Figures
	for j := k - 1; ; j-- {
		f = f.Plus(d.plan.Legs[j].Drink.Back)
		if j == 0 || d.nodes[j].number != d.nodes[k].number {
			return j, f
		}
	}
}
