package plan

import (
	"fmt"
	"strings"
)

// takeOnly says how little low grade to take up to the end of a leg.
func (h *healer) takeOnly(s LowStretch, leg int) string {
	p := h.sick.plan
	var nothing, parts []string
	to := ""
	for _, f := range s.Fills {
		if f.Leg > leg {
			break
		}
		_, to = p.Ends(f.Leg)
		name := p.Visits[f.Visit].Stop.Name
		if f.Litres <= 0 {
			nothing = append(nothing, name)
			continue
		}
		parts = append(parts, fmt.Sprintf("only %s of %s at %s", h.u.Needed(f.Litres), gradeName(f), name))
	}
	if len(nothing) > 0 {
		parts = append([]string{"nothing at " + strings.Join(nothing, ", ")}, parts...)
	}
	return fmt.Sprintf("take %s: that reaches %s with the reserve whole", strings.Join(parts, ", "), to)
}

// gradeName names the grade of a fill.
func gradeName(f LowFill) string {
	if !f.HasGrade {
		return "no known grade"
	}
	return f.Grade.String()
}

// carryGood says how to keep a tank up with good petrol from a can.
func (h *healer) carryGood(s LowStretch) string {
	p := h.sick.plan
	var parts []string
	for i, f := range s.Fills {
		if s.Lift.Pours[i] <= 0 {
			continue
		}
		with := "and nothing"
		if rest := f.Litres - s.Lift.Pours[i]; rest > hair {
			with = fmt.Sprintf("with only %s of %s", h.u.Needed(rest), gradeName(f))
		}
		parts = append(parts, fmt.Sprintf("%s at %s, %s", h.u.Needed(s.Lift.Pours[i]), p.Visits[f.Visit].Stop.Name, with))
	}
	return fmt.Sprintf("%s from %s: pour %s", canWith(h.u, s.Lift.Size.Litres, s.Lift.Litres, " of "+s.Lift.Grade.String()),
		p.NameOf(s.Lift.From), strings.Join(parts, "; "))
}
