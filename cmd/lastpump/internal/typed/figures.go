package typed

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/input"
)

// Cans gives what reads which cans are carried: auto up to the most, none, or those that
// the rider has, "5L", "2x3L" or "5L+3L".
func Cans(most fuel.Litres) func(string) (plan.Carry, error) {
	return func(s string) (plan.Carry, error) {
		plain := strings.ToLower(strings.ReplaceAll(s, "×", "x"))
		switch plain {
		case "auto":
			return plan.Carry{Most: most}, nil
		case "none":
			return plan.Carry{Cans: leg.Carried{}}, nil
		}
		const hint = "write auto, none, or what you have: 5L, 2x3L, 5L+3L"
		cans := leg.Carried{}
		for _, part := range strings.Split(plain, "+") {
			times, size := 1, part
			if n, each, ok := strings.Cut(part, "x"); ok {
				v, err := strconv.Atoi(strings.TrimSpace(n))
				if err != nil || v < 1 {
					return plan.Carry{}, input.BadValue(s, "is no number of cans", hint)
				}
				times, size = v, each
			}
			l, err := fuel.ParseLitres(size)
			if err != nil || !(l > 0) {
				return plan.Carry{}, input.BadValue(s, "is no can", hint)
			}
			for range min(times, 3) {
				cans = append(cans, l)
			}
		}
		if len(cans) > 2 {
			return plan.Carry{}, input.BadValue(s, "is more than two cans", hint)
		}
		slices.SortFunc(cans, func(a, b fuel.Litres) int { return cmp.Compare(b, a) })
		return plan.Carry{Cans: cans}, nil
	}
}

// Reserve reads "20%", "50km", "2L" or several of them; what is not named is 0.
func Reserve(s string) (leg.Reserve, error) {
	var r leg.Reserve
	const hint = "write 20%, 50km, 2L or 15%,30km"
	named := map[string]bool{}
	for _, part := range strings.Split(s, ",") {
		part = strings.TrimSpace(part)
		what, err := readReserve(&r, part, hint)
		if err != nil {
			return r, err
		}
		if named[what] {
			return r, input.BadValue(s, "names one thing twice", hint)
		}
		named[what] = true
	}
	return r, nil
}

// volume is what ends in a unit of volume, known or not.
var volume = regexp.MustCompile(`(?i)\d\s*(l|lit|(us|imp|uk)?\s*gal)[a-z ]*$`)

// readReserve reads one part of a reserve and tells of what it is.
func readReserve(r *leg.Reserve, part, hint string) (what string, err error) {
	if share, isShare := strings.CutSuffix(part, "%"); isShare {
		v, err := strconv.ParseFloat(strings.TrimSpace(share), 64)
		if err != nil || !(v >= 0 && v < 100) {
			return "", input.BadValue(part, "is no share of the tank", hint)
		}
		r.Share = v / 100
		return "share", nil
	}
	if _, bare := input.Number(part); bare {
		return "", input.BadValue(part, "has no unit",
			fmt.Sprintf("write %s%% of the tank, %skm, or litres: %sL", part, part, part))
	}
	if volume.MatchString(part) {
		r.Litres, err = fuel.ParseLitres(part)
		return "litres", err
	}
	r.Distance, err = Ride(part)
	return "distance", err
}

// Thirst reads how many times the consumption a bike uses.
func Thirst(s string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err == nil {
		return v, nil
	}
	hint := "write how many times the consumption: 1.15 for 15 % more"
	if share, ok := strings.CutSuffix(strings.TrimSpace(s), "%"); ok {
		if v, err := strconv.ParseFloat(strings.TrimSpace(share), 64); err == nil && v > -50 && v <= 200 {
			hint = fmt.Sprintf("for %s %% more write %.4g", strings.TrimSpace(share), 1+v/100)
		}
	}
	return 0, input.BadValue(s, "is not how many times the consumption", hint)
}

// A Portion is a grade and, in a mixture, how much of it.
type Portion struct {
	octane.Part
	HasVolume bool
}

var portionOf = regexp.MustCompile(`^(.*\S)\s+of\s+(\S.*)$`)

// ReadPortion reads "91 RON", or "4 L of 91 RON"; a bare number is on the scale that pumps post.
// HasVolume tells of what cannot be read, too, whether it is of something.
func ReadPortion(s string, posted octane.Scale) (Portion, error) {
	m := portionOf.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		g, err := octane.ParsePosted(s, posted)
		return Portion{Part: octane.Part{Grade: g}}, err
	}
	l, err := fuel.ParseLitres(m[1])
	if err != nil {
		return Portion{HasVolume: true}, err
	}
	g, err := octane.ParsePosted(m[2], posted)
	return Portion{octane.Part{Volume: float64(l), Grade: g}, true}, err
}

// Ride reads a distance that is ridden. Under a kilometre it is a slip: "50m"
// is fifty metres, and whoever writes it means miles.
func Ride(s string) (route.Metres, error) {
	d, err := fuel.ParseDistance(s)
	if err == nil && d > 0 && d < 1000 {
		return 0, input.BadValue(s, "is under a kilometre", "write 50km or 30mi")
	}
	return d, err
}

// Day reads a day, "2026-05-31", as its midnight in UTC.
func Day(s string) (time.Time, error) {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return d, input.BadValue(s, "is not a day", "write it as 2026-05-31")
	}
	return d, nil
}
