package page

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"html/template"
	"io"

	"lastpump/cmd/lastpump/internal/planner"
	"lastpump/cmd/lastpump/internal/words/shown"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
)

// An again is the planner in a page, all of our own files but for the ride, which is JSON and base64.
type again struct {
	Says    shown.Again
	Changes shown.Changes
	Ride    json.RawMessage
	Files   template.HTML
	Worker  template.HTML
	Program template.HTML
	Script  template.JS
	Hash    string // of the script, as a security policy names it
}

// WriteWithPlanner writes a plan as [Write] does, with the planner in the page: it plans the ride again
// where there is no network.
func WriteWithPlanner(w io.Writer, p *plan.Plan, u units.System, r planner.Ride) error {
	tmpl, err := pageTemplate()
	if err != nil {
		return err
	}
	g := laidOut(p, u)
	if g.Again, err = newAgain(r); err != nil {
		return err
	}
	return tmpl.Execute(w, g)
}

func newAgain(r planner.Ride) (*again, error) {
	packed, err := planner.Pack(r)
	if err != nil {
		return nil, err
	}
	worker, err := planner.Worker()
	if err != nil {
		return nil, err
	}
	script, err := planner.Script()
	if err != nil {
		return nil, err
	}
	return &again{
		Says: shown.AgainSays, Changes: shown.WhatChanged, Ride: json.RawMessage(packed.Ride), Files: template.HTML(packed.Files),
		Worker: template.HTML(worker), Program: template.HTML(planner.Program()), Script: template.JS(script), Hash: sourceHash(script),
	}, nil
}

// sourceHash names a script as a security policy does, so that no other is run.
//
//	Content Security Policy Level 3, section 2.3.1: hash-source.
func sourceHash(script string) string {
	sum := sha256.Sum256([]byte(script))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
