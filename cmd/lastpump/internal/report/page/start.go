package page

import (
	"html/template"
	"io"

	"lastpump/cmd/lastpump/internal/planner"
	"lastpump/cmd/lastpump/internal/words/shown"
	"lastpump/route"
)

// A start is the page that begins without a ride.
type start struct {
	Fonts      template.CSS
	Script     template.JS
	ScriptHash string
	Hosted     bool // served with a manifest and a service worker beside it
	Start      shown.Start
	Again      *again
}

// WritePlanner writes the planner as a page without a ride. One that is hosted has beside it the files of
// [planner.Site].
func WritePlanner(w io.Writer, hosted bool) error {
	tmpl, err := pageTemplate()
	if err != nil {
		return err
	}
	s := start{Fonts: fontFaces(), Hosted: hosted, Start: shown.StartSays}
	s.Script, s.ScriptHash = script()
	for _, g := range route.AllGrounds() {
		s.Start.Grounds = append(s.Start.Grounds, string(g))
	}
	if s.Again, err = newAgain(planner.Ride{}); err != nil {
		return err
	}
	return tmpl.ExecuteTemplate(w, "start.html", s)
}
