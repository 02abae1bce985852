package report

import (
	_ "embed"
	"html/template"
	"io"

	"lastpump/fuel/plan"
)

//go:embed home.html
var homePage string

var homeTemplate = template.Must(template.New("home").Parse(homePage))

// WriteHomeHTML writes the sheet left at home as one page that asks nothing of anybody:
// no script, no request. The same plan and contacts give the same bytes.
func WriteHomeHTML(w io.Writer, p *plan.Plan, contacts []Contact) error {
	return homeTemplate.Execute(w, newHomeSheet(p, contacts, visible))
}
