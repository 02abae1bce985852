package main

import (
	"regexp"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/route/input"
)

// parseFrom reads where the rider is: a kilometre, or the name of a stop.
func parseFrom(s string) (plan.Whereabouts, error) {
	if at, ok := kilometre(s); ok {
		return plan.Whereabouts{From: at, HasFrom: true}, nil
	}
	return plan.Whereabouts{FromStop: strings.TrimSpace(s)}, nil
}

var usedOver = regexp.MustCompile(`^(.*\S)\s+over\s+(\S.*)$`)

// parseUsed reads "9.8 L over 212 km".
func parseUsed(s string) (*here.Used, error) {
	m := usedOver.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return nil, input.BadValue(s, "does not say over what distance",
			`write "9.8 L over 212 km", or "2.6 USgal over 130 mi"`)
	}
	l, err := fuel.ParseLitres(m[1])
	if err != nil {
		return nil, err
	}
	d, err := parseRide(m[2])
	return &here.Used{Litres: l, Trip: d}, err
}
