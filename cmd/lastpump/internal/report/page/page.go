// Package page writes a plan as one HTML page that needs nothing else: a chart of the tank, a
// sketch of the route, and the sections of the text.
package page

import (
	"cmp"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/first"
	"lastpump/cmd/lastpump/internal/words/shown"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/plan/picture"
	"lastpump/route"
)

//go:embed html/*
var htmlFiles embed.FS

//go:embed font/page-*.woff2
var pageFonts embed.FS

// A page is all that the template of the page lays out.
type page struct {
	Name       string
	Fonts      template.CSS // of our own files, never of input
	Script     template.JS  // likewise
	ScriptHash string       // as a security policy names it
	Standing   string       // how the first line of the answer reads
	Answer     [3]string
	Here       string
	Days       []pageDay
	Hours      string // what is not sure of those of pumps
	CardsNote  string
	Passes     string // the pumps that are passed; "" where none is
	Charts     []chart
	Sketches   []routeSketch
	Under      *under // the key to what lies under the sketches; nil where nothing does
	ChartNote  string
	Legs       []string // a name for the link to each
	Grounds    []string
	HasGap     bool
	Guessed    bool
	Sections   []section
	Says       says
	Readings   readings
	Again      *again // the planner in the page; nil where there is none
}

// says are the words of the page itself.
type says struct {
	Cards, Ride, Sections, Unfold, Legend, Figures, Legs, Touch, Tick, Ticked string
}

var pageSays = says{shown.Cards, shown.Ride, shown.Sections, shown.Unfold, shown.Legend, shown.Figures, shown.Rows, shown.Touch,
	first.Tick, first.Ticked}

// A pageWarning is a warning with its cures.
type pageWarning struct {
	Kind   string
	Look   string // or note
	Text   string
	Leg    int // from 1; 0 for none
	Cures  []pageCure
	Hours  []pageCure // of hours
	More   int
	NoCure string
}

type pageCure struct {
	Text, Verdict string
	Look          string
}

// Write writes a plan as one page that needs nothing else: pictures and fonts are in
// it, and it asks nothing of any network.
func Write(w io.Writer, p *plan.Plan, u units.System) error {
	tmpl, err := pageTemplate()
	if err != nil {
		return err
	}
	return tmpl.Execute(w, laidOut(p, u))
}

// laidOut is a plan as a page.
func laidOut(p *plan.Plan, u units.System) page {
	t := &planned{
		p: p, u: u, say: words.Of(p, u), shown: shown.Of(words.Of(p, u)),
		trace:  plan.Trace(p, picture.Fineness{Wide: pictureWide, High: pictureHigh}),
		sketch: plan.Sketch(p, sketchFine),
	}
	return t.page()
}

// A planned is a plan with what is drawn of it.
type planned struct {
	p      *plan.Plan
	u      units.System
	say    words.Voice
	shown  shown.Voice
	trace  picture.Trace
	sketch picture.Sketch
}

// height gives a height in metres as the number of an axis.
func (t *planned) height(ele float64) string {
	return fmt.Sprintf("%.0f", t.u.HeightIn(route.Metres(ele)))
}

// A numbered is a picture with the number by which a page refers to it.
type numbered struct {
	Number int
	It     any
}

var pageTemplate = sync.OnceValues(func() (*template.Template, error) {
	return template.New("page.html").Funcs(sheet.PageFuncs).Funcs(template.FuncMap{
		"inc":      func(i int) int { return i + 1 },
		"look":     sheet.Look[leg.Verdict],
		"numbered": func(i int, it any) numbered { return numbered{i + 1, it} },
	}).ParseFS(htmlFiles, "html/*.html", "html/*.css")
})

// script gives the page's script and how a security policy names it.
var script = sync.OnceValues(func() (js template.JS, hash string) {
	text, err := htmlFiles.ReadFile("html/page.js")
	if err != nil {
		return "", "" // the page is read without it
	}
	return template.JS(text), sourceHash(string(text))
})

// fontFaces gives the page's fonts as style rules.
var fontFaces = sync.OnceValue(func() template.CSS {
	var b strings.Builder
	for _, f := range []struct{ file, style string }{
		{"regular", "font-weight:400"}, {"bold", "font-weight:700"}, {"italic", "font-style:italic;font-weight:400"},
	} {
		data, err := pageFonts.ReadFile("font/page-" + f.file + ".woff2")
		if err != nil {
			continue // the page is read in another font
		}
		b.WriteString("@font-face{font-family:Page;" + f.style +
			";ascent-override:92%;descent-override:26%;line-gap-override:0%;src:url(data:font/woff2;base64," +
			base64.StdEncoding.EncodeToString(data) + ") format('woff2')}\n")
	}
	return template.CSS(b.String())
})

// How fine the pictures are, in dots of the widest form: what is finer than half a dot is
// not drawn. The sketch is so many times finer than its longer side.
const (
	pictureWide = 1200
	pictureHigh = 120
	sketchFine  = 1500
)

// here says what there is to say of where the rest of a ride begins; "" at the start.
func (t *planned) here() string {
	if t.p.Here == nil {
		return ""
	}
	return t.say.FromHere()
}

func (t *planned) page() page {
	p, cards := t.p, t.cards()
	g := page{
		Name: cmp.Or(p.Name, "The loop"), Fonts: fontFaces(), Standing: standing(p), Answer: t.say.Answer(), Here: t.here(),
		Days: t.days(cards), Hours: strings.Join(first.Of(t.say).Hours(true), " "), CardsNote: first.Of(t.say).CardsNote(), Passes: first.Of(t.say).Passes(),
		ChartNote: t.shown.ChartNote(), Says: pageSays, Readings: t.readings(),
	}
	g.Script, g.ScriptHash = script()
	g.Readings.Key = cardsKey(p.Name, cards)
	for i := range p.Legs {
		g.Legs = append(g.Legs, t.say.Leg(i))
	}
	t.pictures(&g)
	for _, s := range t.trace.Ribbon {
		if !slices.Contains(g.Grounds, string(s.Ground)) {
			g.Grounds = append(g.Grounds, string(s.Ground))
		}
		g.Guessed = g.Guessed || s.Guessed
	}
	g.HasGap = len(p.Line.Gaps) > 0
	g.Sections = t.sections((*text.Report).Start, (*text.Report).Chosen, (*text.Report).ThenAndNow, (*text.Report).Group,
		(*text.Report).Days, (*text.Report).Legs, (*text.Report).Trip, (*text.Report).Ways, (*text.Report).Bail, (*text.Report).Fills, (*text.Report).When, (*text.Report).Totals, (*text.Report).Cans)
	if w := t.pageWarnings(); len(w) > 0 {
		g.Sections = append(g.Sections, section{Name: "warnings", Title: shown.Warnings, Warnings: w, Note: t.shown.WarningsNote()})
	}
	g.Sections = append(g.Sections, t.sections((*text.Report).LowGrade, (*text.Report).Stops, (*text.Report).Calls,
		(*text.Report).Others, (*text.Report).WhatIf, (*text.Report).Sums, (*text.Report).Assumptions, (*text.Report).Cautions)...)
	return g
}

// pictures draws the ride in each form, in as many pieces as that takes, charts and sketches in
// the same.
func (t *planned) pictures(g *page) {
	narrow, wide := t.pieces(chartForms[0]), t.pieces(chartForms[1])
	for k, pieces := range [][]piece{narrow, wide} {
		for _, p := range pieces {
			g.Charts = append(g.Charts, t.chart(chartForms[k], p))
		}
	}
	for _, f := range sketchForms {
		pieces := wide
		if f.class == chartForms[0].class {
			pieces = narrow
		}
		for _, p := range pieces {
			g.Sketches = append(g.Sketches, t.routeSketch(f, p))
		}
	}
	g.Under = underOf(g.Sketches)
}

// standing says how the first line of the answer reads: as the worst leg of all bikes does,
// badly where a dry pump strands, too, and not well where something else fails.
func standing(p *plan.Plan) string {
	bikes := []*plan.Plan{p}
	if p.Group != nil {
		bikes = p.Group.Bikes
	}
	worst := sheet.Good
	for _, p := range bikes {
		for _, l := range p.Legs {
			switch sheet.Look(l.Verdict) {
			case sheet.Bad:
				return sheet.Bad
			case sheet.Doubt:
				worst = sheet.Doubt
			}
		}
		if len(p.Answer.Stranded) > 0 {
			return sheet.Bad
		}
		if !p.Holds() {
			worst = sheet.Doubt
		}
	}
	return worst
}

func (t *planned) pageWarnings() []pageWarning {
	say := warned.Of(t.say)
	var out []pageWarning
	for _, w := range t.p.Warnings {
		cures, more := warned.CuresShown(w)
		g := pageWarning{
			Kind: string(w.Kind), Look: "note", Text: say.Warning(w), Leg: w.Leg + 1, More: more, NoCure: say.NoCure(w),
		}
		switch w.Kind {
		case plan.KindShort, plan.KindStranded, plan.KindBelowGrade:
			g.Look = sheet.Bad
		case plan.KindStops, plan.KindTight, plan.KindShut, plan.KindMaybeShut, plan.KindHoursNotKnown, plan.KindDark, plan.KindLastFuel, plan.KindGradeNotKnown, plan.KindGap,
			plan.KindCoarseLine:
			g.Look = sheet.Doubt
		}
		for _, c := range cures {
			g.Cures = append(g.Cures, pageCure{say.CureWithDetour(w, c), c.Verdict, sheet.Look(c.Verdict)})
		}
		for _, c := range w.Hours {
			g.Hours = append(g.Hours, pageCure{say.HourCure(c), warned.AfterHourCure(c), standingLook(c)})
		}
		out = append(out, g)
	}
	return out
}

// standingLook gives how it looks what a cure of hours leaves of the ride.
func standingLook(c days.Cure) string {
	switch s := c.Standing; {
	case c.Kind == days.Phone:
		return sheet.Good
	case s.LongShut > 0:
		return sheet.Bad
	case s.Shut+s.Doubtful > 0:
		return sheet.Doubt
	}
	return sheet.Good
}
