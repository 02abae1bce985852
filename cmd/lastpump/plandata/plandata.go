// Package plandata is a plan as JSON, for other programs: [New] lays a plan out, [Write]
// and [Read] turn it into JSON and back. [Schema] describes every key, as README.md does.
//
// A key says its unit: _l are litres, _km kilometres, _m metres, _kg kilograms. Numbers are
// at full precision, and null is what is not known or does not apply.
package plandata

import (
	_ "embed"
	"encoding/json"
	"io"
	"runtime/debug"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/pass"
)

// Units are those of the sentences in a document; all figures are metric.
type Units = units.System

// The units.
const (
	Metric = units.Metric
	US     = units.US
	UK     = units.UK
)

// Schema is the JSON Schema of a document (draft 2020-12).
//
//go:embed schema.json
var Schema []byte

// Format names the version of the documents. Keys may be added to it, never renamed.
const Format = "lastpump-plan-1"

// A Document is a plan as JSON: litres, kilometres and degrees, at full
// precision. A null is not known or does not apply.
type Document struct {
	Format      string       `json:"format"`
	Version     *string      `json:"version"` // of the program
	Date        *string      `json:"date"`    // on which it is planned
	Answer      []string     `json:"answer"`
	Loop        Loop         `json:"loop"`
	Bike        Bike         `json:"bike"`
	Reserve     Reserve      `json:"reserve"`
	Start       Start        `json:"start"`
	Visits      []Visit      `json:"visits"`
	Legs        []Leg        `json:"legs"`
	Can         Can          `json:"can"`
	Passes      []Pass       `json:"passes"` // the pumps that are passed and not filled at
	Cash        []Cash       `json:"cash"`   // where only cash is taken
	Cans        []CanRow     `json:"cans"`   // how the same stops fare with none and with each sum of cans
	NotUsed     []NotUsed    `json:"not_used"`
	Totals      Totals       `json:"totals"`
	Warnings    []Warning    `json:"warnings"`
	Assumptions []Assumption `json:"assumptions"`
	Band        Band         `json:"band"`
	FromHere    *FromHere    `json:"from_here"` // null where all of it is planned
	Group       *Group       `json:"group"`
	LowGrade    []LowGrade   `json:"low_grade"`
	WhatIf      []Case       `json:"what_if"`
	Calls       []Call       `json:"calls"`           // whom to phone before the ride, who matters most first
	NotCalled   int          `json:"calls_not_tried"` // doubtful stops of which no answer was tried
	Options     Options      `json:"options"`
	Chosen      *Choice      `json:"chosen"` // null where all counted stops are filled at
	Time        *Time        `json:"time"`   // null without a departure
	BailOuts    []BailOut    `json:"bail_outs,omitempty"`
	BailOutsOf  *string      `json:"bail_outs_of,omitempty"` // whose map they are made of
}

// New lays a plan out for JSON, its sentences in the units given. Lists are never
// null.
func New(p *plan.Plan, u Units) Document {
	say := words.Of(p, u)
	answer := say.Answer()
	k := keyed(p.Stops)
	d := Document{
		Format: Format, Version: version(), Answer: answer[:],
		Date:    known(p.Options.Today.Format(time.DateOnly), !p.Options.Today.IsZero()),
		Options: optionsOf(p.Options),
		Loop:    loopOf(p, say.Arranged()), Bike: bikeOf(p.Bike, p.Cans.Own),
		Reserve: reserveOf(p.Options.Reserve),
		Start:   startOf(p.Start),
		Visits:  k.visits(p), Legs: each(p.Legs, k.leg), Can: k.can(p.Can),
		Passes: each(p.Passes, func(s pass.Pass) Pass {
			return Pass{s.Visit, float64(s.Tank), float64(s.FillUnder), s.Strayed.Kilometres()}
		}),
		Cash:     each(p.Totals.Cash, func(c plan.Cash) Cash { return Cash{c.Currency, c.Amount, c.InARow} }),
		Cans:     each(p.Cans.Rows, canRow),
		NotUsed:  each(p.NotUsed, notUsed),
		Totals:   totalsOf(p.Totals),
		Warnings: each(p.Warnings, func(w plan.Warning) Warning { return warningOf(w, warned.Of(say)) }),
		Assumptions: each(p.Assumptions, func(a plan.Assumption) Assumption {
			name, value := say.Assumption(a)
			return Assumption{name, value, string(a.Mark)}
		}),
		Band:     bandOf(p.Band),
		FromHere: k.fromHere(p, say),
		Group:    groupOf(p.Group, say),
		LowGrade: each(p.LowGrade, k.lowStretch), WhatIf: each(p.Cases, k.whatIf), Chosen: choiceOf(p.Choice),
		Calls: callsOf(p), NotCalled: p.NotCalled, Time: timeOf(p), BailOuts: bailOutsOf(p),
	}
	for i := range d.Legs {
		d.Legs[i].Number, d.Legs[i].RideH = i+1, p.Riding[i][clock.Likely].Hours()
	}
	d.addRoads(p)
	if d.BailOuts != nil {
		d.BailOutsOf = text(words.RoadsOf)
	}
	return d
}

// version gives the version of the program, as it was built.
func version() *string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return nil
	}
	return text(info.Main.Version)
}

// Write writes a document as indented JSON.
func Write(w io.Writer, d Document) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(d)
}

// Read reads what [Write] wrote. Unknown keys are an error.
func Read(r io.Reader) (Document, error) {
	var d Document
	dec := json.NewDecoder(r)
	dec.DisallowUnknownFields()
	err := dec.Decode(&d)
	return d, err
}

// each lays out every element of a list.
func each[T, U any](in []T, f func(T) U) []U {
	out := make([]U, len(in))
	for i, v := range in {
		out[i] = f(v)
	}
	return out
}

// list gives a list that is not null.
func list[T any](in []T) []T { return append([]T{}, in...) }

// known gives a pointer to a value, or nil where it is not known.
func known[T any](v T, ok bool) *T {
	if !ok {
		return nil
	}
	return &v
}

func text(s string) *string { return known(s, s != "") }

func index(i int) *int { return known(i, i >= 0) }

// number gives an index as a rider counts, from 1.
func number(i int) *int { return known(i+1, i >= 0) }
