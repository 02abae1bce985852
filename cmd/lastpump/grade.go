package main

import (
	"fmt"
	"regexp"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/octane"

	"github.com/spf13/cobra"
)

func (a *app) gradeCommand() *cobra.Command {
	var need, scale string
	c := &cobra.Command{
		Use:   "grade GRADE…",
		Short: "is a grade enough, and what is a mixture worth",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return &usageError{"grade takes at least one grade", `lastpump grade "91 AKI" --need "95 RON"`}
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.grade(args, need, scale) },
	}
	c.Flags().StringVar(&need, "need", "", "")
	c.Flags().StringVar(&scale, "pump-scale", "", "")
	return c
}

// A portion is a grade and, in a mixture, how much of it.
type portion struct {
	octane.Part
	hasVolume bool
}

func (a *app) grade(args []string, need, scale string) error {
	posted, err := parseScale(scale)
	if err != nil {
		return err
	}
	var portions []portion
	for _, arg := range args {
		p, err := parsePortion(arg, posted)
		if err != nil {
			return err
		}
		portions = append(portions, p)
	}
	var needs octane.Grade
	if need != "" {
		if needs, err = octane.ParsePosted(need, posted); err != nil {
			return flagError("need", err)
		}
	}
	if portions[0].hasVolume {
		return a.mix(portions, needs)
	}
	for _, p := range portions {
		if p.hasVolume {
			return &usageError{"a mixture needs the litres of each part", `write "4 L of 91 RON" "10 L of 95 RON"`}
		}
		a.compare(p.Grade, needs)
	}
	return nil
}

var portionOf = regexp.MustCompile(`^(.*\S)\s+of\s+(\S.*)$`)

func parsePortion(s string, posted octane.Scale) (portion, error) {
	m := portionOf.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		g, err := octane.ParsePosted(s, posted)
		return portion{Part: octane.Part{Grade: g}}, err
	}
	l, err := fuel.ParseLitres(m[1])
	if err != nil {
		return portion{}, err
	}
	g, err := octane.ParsePosted(m[2], posted)
	return portion{octane.Part{Volume: float64(l), Grade: g}, true}, err
}

// compare says what one grade is worth.
func (a *app) compare(g, needs octane.Grade) {
	if needs.Scale == "" {
		fmt.Fprintf(a.stdout, "%s is worth %s and %s.\n", g, words.Interval(g.In(octane.ScaleRON)),
			words.Interval(g.In(octane.ScaleAKI)))
		return
	}
	v := g.Against(needs)
	worth := ""
	if in := g.In(needs.Scale); g.Scale != needs.Scale {
		worth = " (" + words.Interval(in) + ")"
	}
	fmt.Fprintf(a.stdout, "%s%s %s.\n", g, worth, sentence(v, needs))
	a.say(v)
}

// mix says what a mixture is worth. Grades of two scales are turned into the
// scale of the need first; without one they are not mixed.
func (a *app) mix(portions []portion, needs octane.Grade) error {
	parts := make([]octane.Part, len(portions))
	for i, p := range portions {
		if !p.hasVolume {
			return &usageError{"a mixture needs the litres of each part", `write "4 L of 91 RON" "10 L of 95 RON"`}
		}
		parts[i] = p.Part
	}
	var m octane.Mixture
	if needs.Scale == "" {
		var err error
		if m, err = octane.Blend(parts...); err != nil {
			return &usageError{err.Error(), `say what the engine asks for, and it is done in that scale: --need "95 RON"`}
		}
	} else {
		for _, p := range parts {
			m = m.AddGrade(p.Volume, p.Grade, needs)
		}
	}
	if m.Volume() <= 0 {
		return &usageError{"a mixture of nothing", `write "4 L of 91 RON"`}
	}
	worth := words.Interval(octane.Interval{Scale: m.Scale(), Low: m.Low(), High: m.High()})
	if needs.Scale == "" {
		fmt.Fprintf(a.stdout, "%s L of %s.\n", units.Down(m.Volume()), worth)
		return nil
	}
	v := m.Against(needs)
	fmt.Fprintf(a.stdout, "%s L of %s %s.\n", units.Down(m.Volume()), worth, sentence(v, needs))
	a.lift(parts, needs, v)
	a.say(v)
	return nil
}

// lift says how much more of the better of two petrols would do.
func (a *app) lift(parts []octane.Part, needs octane.Grade, v octane.Verdict) {
	if v == octane.Meets || len(parts) != 2 {
		return
	}
	low, high := parts[0], parts[1]
	if low.Grade.In(needs.Scale).Low > high.Grade.In(needs.Scale).Low {
		low, high = high, low
	}
	share, ok := octane.ShareToReach(low.Grade.In(needs.Scale).Low, high.Grade.In(needs.Scale).Low, needs.Number)
	if !ok || share >= 1 {
		return
	}
	fmt.Fprintf(a.stdout, "%s L of %s need at least %s L of %s with them.\n", units.Down(low.Volume), low.Grade,
		units.Up(low.Volume*share/(1-share)), high.Grade)
}

func sentence(v octane.Verdict, needs octane.Grade) string {
	switch v {
	case octane.Meets:
		return fmt.Sprintf("meets %s", needs)
	case octane.Below:
		return fmt.Sprintf("is below %s", needs)
	}
	return fmt.Sprintf("is doubtful for %s: it may be a little under", needs)
}

// say ends a verdict with what decides, and sets the exit code.
func (a *app) say(v octane.Verdict) {
	fmt.Fprintln(a.stdout, "The maker's manual decides; altitude gives no credit.")
	if v == octane.Below {
		a.exit = exitFails
	}
}
