package main

import (
	"io"

	"lastpump/fuel/bailout"
	"lastpump/fuel/wayout"
	"lastpump/route"
)

// bailOuts reads where a rider in trouble gets help, which has to be looked for along this line; nil
// where no file is given.
func (a *app) bailOuts(file string, line *route.Line, l *loop) ([]bailout.Mark, error) {
	if file == "" {
		return nil, nil
	}
	ways, err := read(a, file, func(r io.Reader, name string) ([]bailout.Way, error) {
		ways, notes, err := bailout.Read(r, name, wayout.Sum(line))
		l.notes = append(l.notes, notes...)
		return ways, err
	})
	if err != nil {
		return nil, err
	}
	return bailout.Gather(line, ways), nil
}
