package fills

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/route/input"
)

// Read reads a file of fills. Lines that begin with # are remarks; the columns may come in
// any order, and other words for them are understood. Rows that are not in the order of
// their dates are sorted, exact repeats and rows of service left out, and the remarks of
// the log say so. The error joins up to ten [*input.Error], one for each bad row: what is
// not a day, a distance, an amount or an event, two units, distances that run back.
func Read(r io.Reader, name string) (*Log, error) {
	t, l, err := open(r, name)
	if err != nil {
		return nil, err
	}
	return l, l.read(t)
}

// open reads the header.
func open(r io.Reader, name string) (*reader, *Log, error) {
	t, err := input.NewRemarkedTable(r, name, columns, 1)
	if err != nil {
		return nil, nil, err
	}
	in := &reader{Table: t, file: name}
	if in.distance, err = in.one(distances, "the distance"); err != nil {
		return nil, nil, err
	}
	if in.volume, err = in.one(volumes, "the amount"); err != nil {
		return nil, nil, err
	}
	return in, &Log{File: name, Odometer: in.distance.isOdometer(), Miles: in.distance.times != 1000,
		Volume: in.volume.column}, nil
}

// A reader is a file of fills being read.
type reader struct {
	*input.Table
	file             string
	distance, volume unit
	services         []int // lines
}

// one finds the one column of several that a file has.
func (in *reader) one(of []unit, what string) (unit, error) {
	var there []unit
	var names []string
	for _, u := range of {
		names = append(names, u.column)
		if in.Has(u.column) {
			there = append(there, u)
		}
	}
	switch len(there) {
	case 1:
		return there[0], nil
	case 0:
		return unit{}, &input.Error{File: in.file, Line: 1, Col: 1, What: "no column with " + what + ", in a unit",
			Hint: "name one of " + strings.Join(names, ", ") + " in the first row"}
	}
	return unit{}, &input.Error{File: in.file, Line: 1, Col: 1,
		What: fmt.Sprintf("both %s and %s: %s stands in one unit", there[0].column, there[1].column, what),
		Hint: "keep one of them in all rows"}
}

func (l *Log) read(in *reader) error {
	var faults []error
	for in.Next() {
		row, err := in.row()
		switch {
		case err != nil:
			faults = append(faults, err)
		case in.isService(row):
			in.services = append(in.services, row.Line)
		default:
			l.Rows = append(l.Rows, row)
		}
	}
	faults = append(faults, in.Faults()...)
	l.Notes = in.Notes()
	if len(faults) == 0 {
		l.arrange()
		in.services = append(in.services, l.withoutLitres()...)
		faults = l.check()
	}
	if len(in.services) > 0 {
		slices.Sort(in.services)
		l.remark(OfService, in.services...)
	}
	if len(faults) > 0 {
		return input.JoinFaults(faults)
	}
	if l.seemsNotZeroed() {
		l.remark(NotZeroed)
	} else if ratio, ok := l.seemsShifted(); ok {
		l.Remarks = append(l.Remarks, Remark{Kind: OneRowOff, Ratio: ratio})
	}
	return nil
}

// ofService marks a row that has nothing to do with fuel.
const ofService Event = "service"

// isService tells whether a row says that it has nothing to do with fuel.
func (in *reader) isService(r Row) bool {
	return r.Event == ofService || !r.said && !r.HasLitres && slices.Contains(service, strings.ToLower(in.Get("note")))
}

func (in *reader) row() (r Row, err error) {
	r = Row{Line: in.Row(), Grade: input.OneLine(in.Get("grade")), Note: input.OneLine(in.Get("note"))}
	for _, read := range []func(*Row) error{in.date, in.event, in.figures, in.span, in.grounds} {
		if err := read(&r); err != nil || r.Event == ofService {
			return r, err
		}
	}
	return r, nil
}

// days are the forms of a date: a day, perhaps with a time, as programs write it (ISO 8601).
var days = []string{time.DateOnly, "2006-01-02 15:04", "2006-01-02T15:04", time.DateTime, "2006-01-02T15:04:05"}

func (in *reader) date(r *Row) (err error) {
	for _, form := range days {
		if r.Date, err = time.Parse(form, in.Get("date")); err == nil && r.Date.Year() > 1900 {
			return nil
		}
	}
	return in.Fault("date", fmt.Sprintf("date is %q, not a day", in.Get("date")), "write it as 2026-05-31")
}

func (in *reader) event(r *Row) error {
	word := strings.ToLower(in.Get("event"))
	r.said = word != ""
	var names []string
	for _, e := range Events() {
		names = append(names, string(e))
		if word == string(e) {
			r.Event = e
			return nil
		}
	}
	if e, ok := sameEvent[word]; ok {
		r.Event = e
		return nil
	}
	if slices.Contains(service, word) {
		r.Event = ofService
		return nil
	}
	return in.Fault("event", fmt.Sprintf("unknown event %q", in.Get("event")),
		input.Suggest(word, names)+"the events are "+strings.Join(names, ", "))
}

// The most that a row may say; what is beyond is a slip, or another unit: our estimate.
const (
	longestTrip     route.Metres = 2000e3
	longestOdometer route.Metres = 3e9
	mostLitres      fuel.Litres  = 160
)

func (in *reader) figures(r *Row) (err error) {
	d, ok, err := in.number(in.distance, "a distance")
	if err != nil {
		return err
	}
	r.Distance, r.HasDistance = route.Metres(d), ok
	v, ok, err := in.number(in.volume, "an amount")
	if err != nil {
		return err
	}
	r.Litres, r.HasLitres = fuel.Litres(v), ok
	column := in.distance.column
	switch {
	case !in.distance.isOdometer() && r.Distance > longestTrip:
		return in.Fault(column, fmt.Sprintf("%s is %s, longer than any tank", column, in.Get(column)),
			"is it the odometer? call the column odometer_km or odometer_mi")
	case r.Distance > longestOdometer:
		return in.Fault(column, fmt.Sprintf("%s is %s, farther than any bike has gone", column, in.Get(column)), "")
	case r.Litres > mostLitres:
		return in.Fault(in.volume.column, fmt.Sprintf("%s is %s, more than any tank", in.volume.column,
			in.Get(in.volume.column)), in.hintVolume(r.Litres))
	case r.HasLitres && r.Litres == 0 && r.Event != Dry:
		r.HasLitres = false
	}
	if (r.Event == Lamp || r.Event == Reserve || r.Event == Dry) && !r.HasDistance {
		return in.Fault(column, fmt.Sprintf("%s without %s: it tells nothing", r.Event, column),
			"write what the meter showed then")
	}
	return nil
}

// hintVolume guesses that litres stand in a column of gallons.
func (in *reader) hintVolume(l fuel.Litres) string {
	if in.volume.times != 1 && float64(l)/in.volume.times <= float64(mostLitres) {
		return "are these litres? call the column litres"
	}
	return "is a point missing?"
}

// withUnit is a number with a unit behind it.
var withUnit = regexp.MustCompile(`^([-+.\d,]+)\s*([A-Za-z][A-Za-z ]*)$`)

// thousands is a number whose commas stand between thousands.
var thousands = regexp.MustCompile(`^\d{1,3}(,\d{3})+(\.\d+)?$`)

// number reads a figure in the unit of its column; ok is false where it is not known.
func (in *reader) number(u unit, what string) (v float64, ok bool, err error) {
	text := in.Pointed(u.column)
	if slices.Contains(unknown, strings.ToLower(text)) {
		return 0, false, nil
	}
	if m := withUnit.FindStringSubmatch(text); m != nil {
		word := strings.ToLower(strings.ReplaceAll(m[2], " ", ""))
		if text = m[1]; !slices.Contains(u.words, word) {
			return 0, false, in.Fault(u.column, fmt.Sprintf("%s is %q, in another unit", u.column, in.Get(u.column)),
				"keep one unit in all rows: the first row names it")
		}
	}
	if thousands.MatchString(text) && !in.DecimalComma() {
		text = strings.ReplaceAll(text, ",", "")
	}
	v, ok = input.Number(text)
	if !ok || v < 0 || v > 1e9 {
		return 0, false, in.Fault(u.column, fmt.Sprintf("%s is %q, not %s", u.column, in.Get(u.column), what),
			"write 12.5, or leave it empty where it is not known")
	}
	return v * u.times, true, nil
}

// kilometre is the unit of places along a line.
func kilometre(column string) unit { return unit{column, 1000, kilometres} }

// span reads between which places of the line the tank was ridden.
func (in *reader) span(r *Row) error {
	from, hasFrom, err := in.number(kilometre("from_km"), "a place along the line")
	if err != nil {
		return err
	}
	to, hasTo, err := in.number(kilometre("to_km"), "a place along the line")
	switch {
	case err != nil:
		return err
	case hasFrom != hasTo:
		return in.Fault("from_km", "one of from_km and to_km without the other", "write both, or neither")
	case to < from:
		return in.Fault("to_km", "to_km is before from_km", "kilometres are those of the line, in the order of the ride")
	}
	r.From, r.To, r.HasSpan = route.Metres(from), route.Metres(to), hasFrom
	return nil
}

// grounds reads the columns that are named after grounds.
func (in *reader) grounds(r *Row) error {
	for _, g := range route.AllGrounds() {
		v, ok, err := in.number(unit{string(g), in.distance.times, in.distance.words}, "a distance")
		if err != nil {
			return err
		}
		if ok && v > 0 {
			r.HasGrounds = true
			r.Shown[fuel.WeighedAs(g)] += route.Metres(v)
		}
	}
	if r.HasGrounds && r.HasSpan {
		return in.Fault("from_km", "both a span of the line and kilometres of grounds", "one of them tells the ground")
	}
	return nil
}

// goesBack says why one row cannot follow another, or "".
func (l *Log) goesBack(last, r Row) (what, hint string) {
	switch {
	case l.Odometer && r.Distance < last.Distance:
		return fmt.Sprintf("the odometer goes back, from %s in row %d to %s", l.number(last.Distance), last.Line,
			l.number(r.Distance)), "is the date of one of them right, or a digit?"
	case l.Odometer && r.Distance == last.Distance && r.Event.fills() && last.Event.fills():
		return fmt.Sprintf("the odometer stands where it stood in row %d", last.Line), "is one of them written twice?"
	case !l.Odometer && !last.Event.fills() && r.Distance < last.Distance:
		return fmt.Sprintf("the trip goes back, from %s in row %d to %s", l.number(last.Distance), last.Line,
			l.number(r.Distance)), "it is zeroed at a fill, and nowhere else"
	}
	return "", ""
}

// number writes a distance as the log has it.
func (l *Log) number(d route.Metres) string {
	if l.Miles {
		return fmt.Sprintf("%.1f", float64(d/fuel.Mile))
	}
	return fmt.Sprintf("%.1f", d.Kilometres())
}

// ErrNothing is the cause of an [*input.Error] for a log from which nothing can be learnt.
var ErrNothing = errors.New("nothing can be learnt from the log")
