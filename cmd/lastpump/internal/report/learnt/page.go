package learnt

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
)

//go:embed page.html
var pageHTML string

var pageTemplate = template.Must(template.New("learnt").Parse(pageHTML))

// A document is the page as it is laid out.
type pageDocument struct {
	Title    string
	Answer   []string
	Pictures []picture
	Lists    []list
}

type list struct {
	Head  string
	Lines []string
}

// A picture is drawn in a box of so many units; below it stands what it shows as a table.
type picture struct {
	Head, Caption string
	Wide, High    int
	Shapes        []shape
	Table         *table
}

// A shape is a path, a circle where it has a radius, or else a text.
type shape struct {
	Class, Path, Text, Anchor string
	X, Y, R                   float64
}

type table struct {
	Heads []cell
	Rows  [][]cell
}

type cell struct {
	Text   string
	Number bool
}

// WriteHTML writes what was learnt as one page that needs nothing besides: no script, no other file.
func WriteHTML(w io.Writer, r Report, u units.System) error {
	t := &writer{sheet.NewText(io.Discard), r, u}
	d := pageDocument{Title: filled.PageTitle(r.Bike.Name), Answer: t.answers(), Lists: []list{
		{filled.HeadTold, t.toldLines()}, {filled.HeadFile, t.remarkLines()},
	}}
	if len(r.Entries) > 0 {
		d.Pictures = append(d.Pictures, t.tanksPicture(), t.thirstPicture())
	}
	d.Pictures = append(d.Pictures, t.groundsPicture())
	return pageTemplate.Execute(w, d)
}

// The box of a picture, and the margins in it.
const (
	wide, high                = 720, 260
	left, right, above, below = 46, 14, 12, 26
)

// A scale lays figures on a side of the box.
type scale struct{ from, to, at, end float64 }

func (s scale) of(v float64) float64 { return s.at + (s.end-s.at)*(v-s.from)/(s.to-s.from) }

// upright is a scale from the foot of the box to its top, with a grid.
func upright(from, to float64, show func(float64) string) (scale, []shape) {
	s := scale{from, to, high - below, above}
	var out []shape
	step := niceStep((to - from) / 4)
	for v := math.Ceil(from/step) * step; v <= to+step/1e6; v += step {
		y := s.of(v)
		out = append(out, shape{Class: "grid", Path: fmt.Sprintf("M%d %.1fH%d", left, y, wide-right)},
			shape{X: left - 6, Y: y + 4, Anchor: "end", Text: show(v)})
	}
	return s, out
}

// niceStep gives 1, 2 or 5 times a power of ten, no smaller than a step.
func niceStep(step float64) float64 {
	power := math.Pow10(int(math.Floor(math.Log10(step))))
	for _, n := range []float64{1, 2, 5} {
		if n*power >= step {
			return n * power
		}
	}
	return 10 * power
}

// across gives where the n-th of so many tanks stands.
func across(i, n int) float64 {
	return left + (float64(i)+0.5)*(wide-left-right)/float64(n)
}

// names writes the rows of the file under the tanks, as many as there is room for.
func (t *writer) names() (out []shape) {
	n := len(t.r.Entries)
	every := (n + 19) / 20
	for i := 0; i < n; i += every {
		out = append(out, shape{X: across(i, n), Y: high - 8, Anchor: "middle", Text: fmt.Sprint(t.r.Tanks.Tanks[i].To.Line)})
	}
	return out
}

// tanksPicture shows of each tank the band that was expected and what was filled.
func (t *writer) tanksPicture() picture {
	n, most := len(t.r.Entries), fuel.Litres(0)
	for _, e := range t.r.Entries {
		most = max(most, e.Forecast.High, e.Tank.Litres)
	}
	litres := func(v float64) string { return fmt.Sprintf("%g", v) }
	s, shapes := upright(0, math.Max(t.u.VolumeIn(most)*1.05, 1), litres)
	half := math.Min(14, 0.35*(wide-left-right)/float64(n))
	for i, e := range t.r.Entries {
		x, y := across(i, n), func(l fuel.Litres) float64 { return s.of(t.u.VolumeIn(l)) }
		if f := e.Forecast; f.Likely > 0 {
			shapes = append(shapes,
				shape{Class: "band", Path: fmt.Sprintf("M%.1f %.1fH%.1fV%.1fH%.1fZ", x-half, y(f.High), x+half, y(f.Low), x-half)},
				shape{Class: "line", Path: fmt.Sprintf("M%.1f %.1fH%.1f", x-half, y(f.Likely), x+half)})
		}
		if l := e.Tank.Litres; l > 0 {
			class := "dot"
			switch {
			case !e.Step.Used:
				class = "left"
			case l > e.Forecast.High || l < e.Forecast.Low:
				class = "out"
			}
			shapes = append(shapes, shape{Class: class, X: x, Y: y(l), R: 4, Text: filled.MadeOf(e.Step)})
		}
	}
	heads, rows := t.tankRows()
	return picture{Head: filled.HeadTanks, Caption: filled.TanksShown(t.u), Wide: wide, High: high,
		Shapes: append(shapes, t.names()...), Table: tableOf(heads, rows)}
}

// z is how many standard deviations the ends of nine in ten are off.
const z = 1.644854

// thirstPicture shows how the thirst was known after each tank.
func (t *writer) thirstPicture() picture {
	n := len(t.r.Entries)
	least, most := 0.95, 1.05
	ends := func(i int) (low, likely, high float64) {
		a := t.r.Entries[i].After
		return fuel.Exp(a.Theta() - z*a.SDTheta()), fuel.Exp(a.Theta()), fuel.Exp(a.Theta() + z*a.SDTheta())
	}
	for i := range n {
		low, _, high := ends(i)
		least, most = min(least, low), max(most, high)
	}
	s, shapes := upright(least, most, func(v float64) string { return fmt.Sprintf("%.2f", v) })
	var over, under, mid []string
	var dots []shape
	for i := range n {
		low, likely, high := ends(i)
		x := across(i, n)
		over = append(over, fmt.Sprintf("%.1f %.1f", x, s.of(high)))
		under = append([]string{fmt.Sprintf("%.1f %.1f", x, s.of(low))}, under...)
		mid = append(mid, fmt.Sprintf("%.1f %.1f", x, s.of(likely)))
		dots = append(dots, shape{Class: "dot", X: x, Y: s.of(likely), R: 3, Text: fmt.Sprintf("%.3f (%.3f–%.3f)", likely, low, high)})
	}
	shapes = append(shapes, shape{Class: "band", Path: "M" + strings.Join(append(over, under...), "L") + "Z"},
		shape{Class: "grid", Path: fmt.Sprintf("M%d %.1fH%d", left, s.of(1), wide-right)},
		shape{Class: "line", Path: "M" + strings.Join(mid, "L")})
	return picture{Head: filled.HeadThirst, Caption: filled.ThirstShown, Wide: wide, High: high,
		Shapes: append(append(shapes, dots...), t.names()...)}
}

// rowHigh is the height of a ground in its picture.
const rowHigh = 22

// groundsPicture shows the weight of each ground with its band, and that of the bike file.
func (t *writer) groundsPicture() picture {
	const name = 110
	all := t.r.Now.Grounds()
	most := 1.0
	for _, g := range all {
		most = max(most, g.Weight.High)
	}
	s := scale{0.5, math.Ceil(most*2) / 2, name, wide - right}
	foot := above + rowHigh*len(all)
	var shapes []shape
	for v := 0.5; v <= s.to+1e-9; v += 0.5 {
		shapes = append(shapes, shape{Class: "grid", Path: fmt.Sprintf("M%.1f %dV%d", s.of(v), above, foot)},
			shape{X: s.of(v), Y: float64(foot + 16), Anchor: "middle", Text: fmt.Sprintf("%.1f", v)})
	}
	for i, g := range all {
		y := float64(above) + (float64(i)+0.5)*rowHigh
		low, high := s.of(g.Weight.Low), s.of(g.Weight.High)
		file := s.of(t.r.Bike.Weight(g.Ground).Likely)
		shapes = append(shapes, shape{X: name - 8, Y: y + 4, Anchor: "end", Text: string(g.Ground)},
			shape{Class: "band", Path: fmt.Sprintf("M%.1f %.1fH%.1fV%.1fH%.1fZ", low, y-6, high, y+6, low)},
			shape{Class: "line", Path: fmt.Sprintf("M%.1f %.1fV%.1f", file, y-8, y+8)},
			shape{Class: "dot", X: s.of(g.Weight.Likely), Y: y, R: 4, Text: string(g.Standing)})
	}
	heads, rows := t.groundRows()
	return picture{Head: filled.HeadGrounds, Caption: filled.GroundsShown, Wide: wide, High: foot + below, Shapes: shapes,
		Table: tableOf(heads, rows)}
}

// tableOf lays out a table as the text has it.
func tableOf(heads []sheet.Column, rows [][]string) *table {
	t := &table{}
	for _, h := range heads {
		t.Heads = append(t.Heads, cell{h.Head, h.Right})
	}
	for _, r := range rows {
		var cells []cell
		for i, text := range r {
			cells = append(cells, cell{text, heads[i].Right})
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}
