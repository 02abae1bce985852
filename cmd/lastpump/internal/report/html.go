package report

import (
	"embed"
	"encoding/base64"
	"html/template"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"
)

//go:embed html/*
var htmlFiles embed.FS

//go:embed font/roadbook-*.woff2
var pageFonts embed.FS

// A page is all that the template of the page lays out.
type page struct {
	Name     string
	Fonts    template.CSS // of our own files, never of input
	Standing string       // good, doubt or bad: how the first line of the answer reads
	Answer   [3]string
	Intro    []section
	Charts   []chart
	Sketches []routeSketch
	Grounds  []string
	HasGap   bool
	Guessed  bool
	Sections []section
	Warnings []pageWarning
	Kept     string // what cures keep of the plan
	After    []section
	Units    pageUnits
	Readings readings
}

// A pageWarning is a warning with its cures.
type pageWarning struct {
	Kind, Mood, Text string
	Leg              int // from 1; 0 for none
	Cures            []pageCure
	More             int
	NoCure           string
}

type pageCure struct{ Text, Verdict, Mood string }

// WriteHTML writes a plan as one page that needs nothing else: pictures and fonts are in
// it, and it asks nothing of any network.
func WriteHTML(w io.Writer, p *plan.Plan) error {
	tmpl, err := pageTemplate()
	if err != nil {
		return err
	}
	t := &texter{p: p, u: p.Options.Units, style: Style{Marks: true}}
	return tmpl.Execute(w, t.page())
}

var pageTemplate = sync.OnceValues(func() (*template.Template, error) {
	return template.New("page.html").Funcs(template.FuncMap{"mood": mood}).ParseFS(htmlFiles, "html/*")
})

// fontFaces gives the page's fonts as style rules.
var fontFaces = sync.OnceValue(func() template.CSS {
	var b strings.Builder
	for _, f := range []struct{ file, style string }{
		{"regular", "font-weight:400"}, {"bold", "font-weight:700"}, {"italic", "font-style:italic;font-weight:400"},
	} {
		data, err := pageFonts.ReadFile("font/roadbook-" + f.file + ".woff2")
		if err != nil {
			continue // the page is read in another font
		}
		b.WriteString("@font-face{font-family:Roadbook;" + f.style + ";ascent-override:92%;descent-override:26%;line-gap-override:0%;src:url(data:font/woff2;base64," +
			base64.StdEncoding.EncodeToString(data) + ") format('woff2')}\n")
	}
	return template.CSS(b.String())
})

func (t *texter) page() page {
	p := t.p
	g := page{Name: p.Name, Fonts: fontFaces(), Standing: standing(p), Answer: p.Answer, Readings: t.readings()}
	if g.Name == "" {
		g.Name = "The loop"
	}
	g.Units = g.Readings.Units
	for _, f := range chartForms {
		g.Charts = append(g.Charts, t.chart(f))
	}
	for _, f := range sketchForms {
		g.Sketches = append(g.Sketches, t.sketch(f))
	}
	for _, s := range p.Trace.Ribbon {
		if !slices.Contains(g.Grounds, string(s.Ground)) {
			g.Grounds = append(g.Grounds, string(s.Ground))
		}
		g.Guessed = g.Guessed || s.Guessed
	}
	g.HasGap = len(p.Line.Gaps) > 0
	g.Intro = t.sections(t.thenAndNow, t.group, t.start, t.chosen)
	g.Sections = t.sections(t.legs, t.trip, t.fills, t.totals)
	g.Warnings = t.pageWarnings()
	if p.Choice != nil {
		g.Kept = ", with the stops as chosen"
	}
	g.After = t.sections(t.lowGrade, t.stops, t.others, t.whatIf, t.pencil, t.assumptions, t.cautions)
	return g
}

// standing says how the first line of the answer reads.
func standing(p *plan.Plan) string {
	worst := "good"
	for _, l := range p.Legs {
		switch m := mood(string(l.Verdict)); {
		case m == "bad":
			return m
		case m == "doubt":
			worst = m
		}
	}
	if !p.Holds() {
		return "doubt"
	}
	return worst
}

func (t *texter) pageWarnings() []pageWarning {
	var out []pageWarning
	for _, w := range t.p.Warnings {
		g := pageWarning{Kind: string(w.Kind), Mood: "note", Text: w.Text, Leg: w.Leg + 1, NoCure: w.NoCure}
		switch w.Kind {
		case plan.KindShort, plan.KindStranded, plan.KindBelowGrade:
			g.Mood = "bad"
		case plan.KindTight, plan.KindLastFuel, plan.KindGradeNotKnown, plan.KindGap, plan.KindCoarseLine:
			g.Mood = "doubt"
		}
		for k, c := range w.Cures {
			if k == mostCures {
				g.More = len(w.Cures) - k
				break
			}
			g.Cures = append(g.Cures, pageCure{Text: t.cure(c), Verdict: c.Verdict, Mood: mood(c.Verdict)})
		}
		out = append(out, g)
	}
	return out
}

// readings are the figures at each sample, in the units of the plan, for whoever points
// at a place of the picture.
type readings struct {
	Units  pageUnits  `json:"units"`
	Total  float64    `json:"total"`
	Legs   []legWords `json:"legs"`
	Ground []string   `json:"grounds"`
	Ridden []float64  `json:"ridden"`
	Line   []float64  `json:"line"`
	Trip   []float64  `json:"trip"`
	Tank   []float64  `json:"tank"`
	Least  []float64  `json:"least"`
	Most   []float64  `json:"most"`
	Can    []float64  `json:"can"`
	Height []*float64 `json:"height"`
	Under  []int      `json:"ground"`
	Leg    []int      `json:"leg"`
}

type pageUnits struct {
	Distance string `json:"distance"`
	Volume   string `json:"volume"`
	Height   string `json:"height"`
	Digits   int    `json:"digits"` // of litres or gallons
}

// legWords say of a leg what is told when it is chosen.
type legWords struct {
	Title   string `json:"title"`
	Verdict string `json:"verdict"`
}

func (t *texter) readings() readings {
	r := readings{Units: pageUnits{t.u.DistanceUnit(), t.u.VolumeUnit(), t.u.HeightUnit(), t.u.VolumeDigits()}, Total: t.u.DistanceIn(t.p.Trace.Ridden)}
	for i, l := range t.p.Legs {
		r.Legs = append(r.Legs, legWords{t.legTitle(i), string(l.Verdict)})
	}
	for _, g := range route.AllGrounds {
		r.Ground = append(r.Ground, string(g))
	}
	far := func(m route.Metres) float64 { return math.Round(t.u.DistanceIn(m)*100) / 100 }
	volume := func(l fuel.Litres) float64 { return math.Round(t.u.VolumeIn(l)*1000) / 1000 }
	for _, s := range t.p.Trace.Samples {
		r.Ridden, r.Line, r.Trip = append(r.Ridden, far(s.Ridden)), append(r.Line, far(s.At)), append(r.Trip, far(s.Trip))
		r.Tank, r.Least, r.Most = append(r.Tank, volume(s.Tank)), append(r.Least, volume(s.Least)), append(r.Most, volume(s.Most))
		r.Can = append(r.Can, volume(s.Can))
		var height *float64
		if s.HasEle {
			h := math.Round(t.u.HeightIn(route.Metres(s.Ele)))
			height = &h
		}
		r.Height = append(r.Height, height)
		r.Under = append(r.Under, slices.Index(route.AllGrounds, s.Ground))
		r.Leg = append(r.Leg, s.Leg)
	}
	return r
}
