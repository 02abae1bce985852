package plan

import (
	"context"

	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/picture"
	"lastpump/fuel/plan/whatif"
)

// Cures looks for what would mend what fails, and puts it with the warnings of the plan,
// of each bike where it is a group's, and the cans that would do without the rider's own with those of
// the plan. The error is that of the context.
func Cures(ctx context.Context, p *Plan) error {
	if p.Group != nil {
		for _, b := range p.Group.Bikes {
			if err := Cures(ctx, b); err != nil {
				return err
			}
		}
		p.Group.addLoans()
		copy(p.Warnings, p.Group.Bikes[0].Warnings) // notes on the files stand behind them
		return nil
	}
	var complaints []cure.Complaint
	var of []int
	for i, w := range p.Warnings {
		if c, ok := p.complaint(w); ok {
			complaints, of = append(complaints, c), append(of, i)
		}
	}
	found, err := cure.Find(ctx, p.draft, complaints, p.LowGrade, p.tell.at(FindingCures))
	for k, r := range found {
		p.Warnings[of[k]].Cures, p.Warnings[of[k]].NoCure = r.Cures, r.Lacking
	}
	if err != nil {
		return err
	}
	if err := p.withoutOwn(ctx); err != nil {
		return err
	}
	return p.hourCures(ctx)
}

// complaint gives what there is to cure of a warning.
func (p *Plan) complaint(w Warning) (cure.Complaint, bool) {
	switch w.Kind {
	case KindShort:
		return cure.OfLeg(p.draft, cure.Short, w.Leg), true
	case KindTight:
		return cure.OfLeg(p.draft, cure.Tight, w.Leg), true
	case KindBelowGrade:
		return cure.OfStretch(p.draft, w.Leg, w.Legs), true
	case KindStranded:
		return cure.OfVisit(p.draft, w.Visit), true
	}
	return cure.Complaint{}, false
}

// Trace samples the ride for pictures of a fineness.
func Trace(p *Plan, fine picture.Fineness) picture.Trace { return picture.TraceOf(p.draft, fine) }

// Sketch draws the line as a small map, so many times finer than its longer side.
func Sketch(p *Plan, fine int) picture.Sketch { return picture.SketchOf(p.draft, fine) }

// WhatIf makes the plan again for each thirst, each dry place, each two dry places that
// follow each other, and each stop that is only said to be there, and puts what comes of
// it into Cases, of each bike where it is a group's. The error is that of the context.
func WhatIf(ctx context.Context, p *Plan) (err error) {
	if p.Group != nil {
		for _, b := range p.Group.Bikes {
			if err := WhatIf(ctx, b); err != nil {
				return err
			}
		}
		p.Cases = p.Group.Bikes[0].Cases
		return nil
	}
	p.Cases, err = whatif.Try(ctx, p.draft, p.tell.at(TryingWhatIf))
	return err
}
