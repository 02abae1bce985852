package paper

import (
	_ "embed"
	"html/template"
	"io"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
)

//go:embed home.html
var homePage string

var homeTemplate = template.Must(template.New("home").Funcs(sheet.PageFuncs).Parse(homePage))

// WriteHomeHTML writes the sheet left at home as one page that asks nothing of anybody:
// no script, no request. The same plan and contacts give the same bytes.
func WriteHomeHTML(w io.Writer, p *plan.Plan, u units.System, contacts []Contact) error {
	return homeTemplate.Execute(w, newHomeSheet(p, u, contacts, shownNames(p)))
}

// shownNames gives how places are named where all letters are shown: with the alias of a
// list behind the name, for who cannot read it.
func shownNames(p *plan.Plan) func(string) string {
	aliases := map[string]string{}
	for _, s := range p.Stops {
		if s.Alias != "" && aliases[s.Name] == "" {
			aliases[s.Name] = " (" + sheet.Visible(s.Alias) + ")"
		}
	}
	return func(name string) string { return sheet.Visible(name) + aliases[name] }
}
