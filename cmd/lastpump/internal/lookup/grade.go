package lookup

import (
	"fmt"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/octane"

	"github.com/spf13/cobra"
)

// Grade is the command that tells whether a grade is enough, and what a mixture is worth.
func Grade(a *app.App) *cobra.Command {
	var need, scale string
	c := &cobra.Command{
		Use:   "grade GRADE…",
		Short: "is a grade enough, and what is a mixture worth",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return app.Misuse("grade takes at least one grade", `lastpump grade "91 AKI" --need "95 RON"`)
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return grade(a, args, need, scale) },
	}
	c.Flags().StringVar(&need, "need", "", "")
	c.Flags().StringVar(&scale, "pump-scale", "", "")
	return c
}

func grade(a *app.App, args []string, need, scale string) error {
	posted, err := app.ParseScale(scale)
	if err != nil {
		return err
	}
	var portions []typed.Portion
	for _, arg := range args {
		p, err := typed.ReadPortion(arg, posted)
		if err != nil {
			return err
		}
		portions = append(portions, p)
	}
	var needs octane.Grade
	if need != "" {
		if needs, err = octane.ParsePosted(need, posted); err != nil {
			return app.FlagError("need", err)
		}
	}
	if portions[0].HasVolume {
		return mix(a, portions, needs)
	}
	for _, p := range portions {
		if p.HasVolume {
			return app.Misuse("a mixture needs the litres of each part", `write "4 L of 91 RON" "10 L of 95 RON"`)
		}
		compare(a, p.Grade, needs)
	}
	return nil
}

// compare says what one grade is worth.
func compare(a *app.App, g, needs octane.Grade) {
	if needs.Scale == "" {
		fmt.Fprintf(a.Stdout, "%s is worth %s and %s.\n", g, words.Interval(g.In(octane.ScaleRON)),
			words.Interval(g.In(octane.ScaleAKI)))
		return
	}
	v := g.Against(needs)
	worth := ""
	if in := g.In(needs.Scale); g.Scale != needs.Scale {
		worth = " (" + words.Interval(in) + ")"
	}
	fmt.Fprintf(a.Stdout, "%s%s %s.\n", g, worth, sentence(v, needs))
	say(a, v)
}

// mix says what a mixture is worth. Grades of two scales are turned into the
// scale of the need first; without one they are not mixed.
func mix(a *app.App, portions []typed.Portion, needs octane.Grade) error {
	parts := make([]octane.Part, len(portions))
	for i, p := range portions {
		if !p.HasVolume {
			return app.Misuse("a mixture needs the litres of each part", `write "4 L of 91 RON" "10 L of 95 RON"`)
		}
		parts[i] = p.Part
	}
	var m octane.Mixture
	if needs.Scale == "" {
		var err error
		if m, err = octane.Blend(parts...); err != nil {
			return app.Misuse(err.Error(), `say what the engine asks for, and it is done in that scale: --need "95 RON"`)
		}
	} else {
		for _, p := range parts {
			m = m.AddGrade(p.Volume, p.Grade, needs)
		}
	}
	if m.Volume() <= 0 {
		return app.Misuse("a mixture of nothing", `write "4 L of 91 RON"`)
	}
	worth := words.Interval(octane.Interval{Scale: m.Scale(), Low: m.Low(), High: m.High()})
	if needs.Scale == "" {
		fmt.Fprintf(a.Stdout, "%s L of %s.\n", units.Down(m.Volume()), worth)
		return nil
	}
	v := m.Against(needs)
	fmt.Fprintf(a.Stdout, "%s L of %s %s.\n", units.Down(m.Volume()), worth, sentence(v, needs))
	lift(a, parts, needs, v)
	say(a, v)
	return nil
}

// lift says how much more of the better of two petrols would do.
func lift(a *app.App, parts []octane.Part, needs octane.Grade, v octane.Verdict) {
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
	fmt.Fprintf(a.Stdout, "%s L of %s need at least %s L of %s with them.\n", units.Down(low.Volume), low.Grade,
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
func say(a *app.App, v octane.Verdict) {
	fmt.Fprintln(a.Stdout, "The maker's manual decides; altitude gives no credit.")
	if v == octane.Below {
		a.Exit = app.ExitFails
	}
}
