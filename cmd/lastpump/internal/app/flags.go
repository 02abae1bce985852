package app

import (
	"strings"

	"lastpump/octane"
	"lastpump/route/input"
)

// A FlagValue is a flag as it is written, and what reads it.
type FlagValue struct {
	flag, value string
	into        func(string) error
}

// Flag is a flag as it is written, without its dashes; into reads it.
func Flag(flag, value string, into func(string) error) FlagValue { return FlagValue{flag, value, into} }

// ReadFlags reads the flags that are given. The error names the first that is wrong.
func ReadFlags(flags ...FlagValue) error {
	for _, f := range flags {
		if f.value == "" {
			continue
		}
		if err := f.into(f.value); err != nil {
			return FlagError(f.flag, err)
		}
	}
	return nil
}

// Into makes a reader that puts what it has read into a variable.
func Into[T any](parse func(string) (T, error), v *T) func(string) error {
	return func(s string) (err error) {
		*v, err = parse(s)
		return err
	}
}

// ParseScale reads what the number on the pumps means, --pump-scale; "" where it is not said.
func ParseScale(s string) (octane.Scale, error) {
	switch v := octane.Scale(strings.ToUpper(s)); v {
	case "", octane.ScaleRON, octane.ScaleAKI:
		return v, nil
	}
	return "", FlagError("pump-scale", input.BadValue(s, "is no scale",
		"write RON or AKI: what the number on the pumps means"))
}
