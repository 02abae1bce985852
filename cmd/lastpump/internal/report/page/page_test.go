package page_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/page"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/testdata/kit"

	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

func init() { kit.Draws(15) }

func pageHTML(t samples.T, p samples.Plan) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := page.Write(&b, p.Plan, p.Units); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// within gives the elements of a name inside another.
func within(n *html.Node, name string) (out []*html.Node) {
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if c.Type == html.ElementNode && c.Data == name {
			out = append(out, c)
		}
		out = append(out, within(c, name)...)
	}
	return out
}

// textIn gives the text inside an element.
func textIn(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		b.WriteString(textIn(c))
	}
	return b.String()
}

// classed keeps the elements that have a class.
func classed(nodes []*html.Node, class string) (out []*html.Node) {
	for _, n := range nodes {
		if strings.Contains(" "+samples.Attribute(n, "class")+" ", " "+class+" ") {
			out = append(out, n)
		}
	}
	return out
}

// pictures gives the drawings of a kind on a page: chart or sketch.
func pictures(p samples.Page, kind string) []*html.Node { return classed(p.All("svg"), kind) }

// Whatever the plan, the page asks for nothing, leads nowhere that is not on it, says
// the answer and the name of each stop as they are, and draws within its pictures.
func TestPageOfDrawnPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		b := pageHTML(t, p)
		if !bytes.Equal(b, pageHTML(t, p)) {
			t.Fatal("written twice it differs")
		}
		if len(b) >= 1e6 {
			t.Fatalf("%d bytes", len(b))
		}
		seen := samples.Parse(t, b)
		leadsNowhereElse(t, seen)
		flat := strings.Join(strings.Fields(seen.Text), " ")
		for _, a := range p.Answer() {
			if !strings.Contains(flat, strings.Join(strings.Fields(a), " ")) {
				t.Fatalf("the answer is not there: %s", a)
			}
		}
		for _, v := range p.Visits {
			if !strings.Contains(samples.Squeezed(seen.Text), samples.Squeezed(v.Stop.Name)) {
				t.Fatalf("%q is not there", v.Stop.Name)
			}
		}
		for _, kind := range []string{"chart", "sketch"} {
			touched := map[string]int{}
			for _, svg := range pictures(seen, kind) {
				drawnWithin(t, svg)
				form := strings.TrimPrefix(samples.Attribute(svg, "class"), kind+" ")
				touched[form] += len(classed(append(within(svg, "rect"), within(svg, "path")...), "touch"))
			}
			for form, n := range touched {
				if n != len(p.Legs) {
					t.Fatalf("%s %s: a finger finds %d of %d legs", kind, form, n, len(p.Legs))
				}
			}
		}
	})
}

// phoneOrMap are the links that are no requests: RFC 3966 numbers without what is for the eye,
// RFC 5870 coordinates.
var phoneOrMap = regexp.MustCompile(`^tel:\+?[0-9+]{5,}$|^geo:-?\d{1,2}\.\d+,-?\d{1,3}\.\d+$`)

// leadsNowhereElse checks that a page loads nothing and that its links lead to ids on
// it, each of which is there once.
func leadsNowhereElse(t samples.T, p samples.Page) {
	t.Helper()
	ids := map[string]bool{}
	for _, n := range p.Elements {
		if id := samples.Attribute(n, "id"); id != "" {
			if ids[id] {
				t.Fatalf("id %q is there twice", id)
			}
			ids[id] = true
		}
	}
	for _, n := range p.Elements {
		for _, a := range n.Attr {
			switch a.Key {
			case "src", "srcset", "data", "action", "poster":
				t.Fatalf("<%s> loads %s", n.Data, a.Val)
			case "href":
				if phoneOrMap.MatchString(a.Val) {
					continue
				}
				if !strings.HasPrefix(a.Val, "#") || !ids[a.Val[1:]] {
					t.Fatalf("<%s> leads to %s", n.Data, a.Val)
				}
			}
		}
	}
}

var figures = regexp.MustCompile(`-?\d+(\.\d+)?`)

// drawnWithin checks that all figures of a picture are numbers, and its texts and
// rectangles inside it.
func drawnWithin(t samples.T, svg *html.Node) {
	t.Helper()
	box := strings.Fields(samples.Attribute(svg, "viewbox") + samples.Attribute(svg, "viewBox"))
	if len(box) != 4 {
		t.Fatalf("viewBox %v", box)
	}
	wide, high := samples.Number(t, box[2]), samples.Number(t, box[3])
	at := func(n *html.Node, x, y float64) {
		t.Helper()
		const edge = 1 // of a line that is drawn along it
		if !(x >= -edge && x <= wide+edge && y >= -edge && y <= high+edge) {
			t.Fatalf("<%s class=%q> at %v, %v of %v × %v", n.Data, samples.Attribute(n, "class"), x, y, wide, high)
		}
	}
	for _, n := range within(svg, "rect") {
		x, y := samples.Number(t, samples.Attribute(n, "x")), samples.Number(t, samples.Attribute(n, "y"))
		at(n, x, y)
		at(n, x+samples.Number(t, samples.Attribute(n, "width")), y+samples.Number(t, samples.Attribute(n, "height")))
	}
	for _, n := range within(svg, "text") {
		if turned := figures.FindAllString(samples.Attribute(n, "transform"), -1); turned != nil {
			at(n, samples.Number(t, turned[0]), samples.Number(t, turned[1]))
			continue
		}
		at(n, samples.Number(t, samples.Attribute(n, "x")), samples.Number(t, samples.Attribute(n, "y")))
	}
	for _, n := range within(svg, "path") {
		if d := samples.Attribute(n, "d"); strings.ContainsAny(d, "NIni") {
			t.Fatalf("path %s", d)
		}
	}
}

// A ruler turns dots of a picture into the figures that its own axis has beside them.
type ruler struct{ at, value, per float64 }

func (r ruler) read(dot float64) float64 { return r.value + (dot-r.at)*r.per }

// rulers finds the axes of a chart as an eye does: litres by the figures left of it,
// distance by those under it.
func rulers(t *testing.T, svg *html.Node) (litres, distance ruler) {
	t.Helper()
	var left, under [][2]float64 // dot, figure
	for _, n := range classed(within(svg, "text"), "figure") {
		v, err := strconv.ParseFloat(textIn(n), 64)
		if err != nil {
			continue
		}
		switch x, y := samples.Number(t, samples.Attribute(n, "x")), samples.Number(t, samples.Attribute(n, "y")); {
		case samples.Attribute(n, "text-anchor") == "end" && v < 100:
			left = append(left, [2]float64{y - 4, v}) // its base stands 4 dots under its line
		case samples.Attribute(n, "text-anchor") == "middle" && (v == 0 || v >= 20):
			under = append(under, [2]float64{x, v})
		}
	}
	along := func(ticks [][2]float64) ruler {
		if len(ticks) < 2 {
			t.Fatalf("an axis with the figures %v", ticks)
		}
		a, b := ticks[0], ticks[len(ticks)-1]
		return ruler{a[0], a[1], (b[1] - a[1]) / (b[0] - a[0])}
	}
	return along(left), along(under)
}

// The picture read by its own axes says what the plan says: where each leg begins and
// ends, with what in the tank.
func TestChartReadByItsAxes(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		p := samples.Example(t, name)
		u := p.Units
		for _, svg := range pictures(samples.Parse(t, pageHTML(t, p)), "chart") {
			litres, distance := rulers(t, svg)
			tank := classed(within(svg, "path"), "tank")
			if len(tank) != len(p.Legs) {
				t.Fatalf("%s: %d lines for %d legs", name, len(tank), len(p.Legs))
			}
			ridden := 0.0
			for i, l := range p.Legs {
				dots := figures.FindAllString(samples.Attribute(tank[i], "d"), -1)
				read := func(k int) (x, y float64) {
					return distance.read(samples.Number(t, dots[k])), litres.read(samples.Number(t, dots[k+1]))
				}
				same := func(what string, got, want, per float64) {
					t.Helper()
					// A dot and a half: figures of dots are written to a tenth, of ticks too.
					if math.Abs(got-want) > 1.5*math.Abs(per) {
						t.Errorf("%s, leg %d, %s: drawn at %.3f, planned %.3f", name, i+1, what, got, want)
					}
				}
				x, y := read(0)
				same("its begin", x, ridden, distance.per)
				same("the tank there", y, u.VolumeIn(l.Start), litres.per)
				ridden += u.DistanceIn(l.Drink.Ridden)
				x, y = read(len(dots) - 2)
				same("its end", x, ridden, distance.per)
				same("the tank there", y, u.VolumeIn(l.Arrive-(l.Can-l.Poured)), litres.per)
			}
		}
	}
}

var titled = regexp.MustCompile(`^(.*), (?:km|mi) [\d.]+`)

// The sketch measured by its own scale bar has the pumps as far apart as they are on the
// sphere (haversine formula, mean radius 6371.0088 km), and north is up.
func TestSketchMeasuredByItsScale(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		p := samples.Example(t, name)
		where := map[string][2]float64{} // longitude, latitude
		for _, v := range p.Visits {
			where[v.Stop.Name] = v.Stop.At
		}
		for _, svg := range pictures(samples.Parse(t, pageHTML(t, p)), "sketch") {
			perDot := scaleOf(t, svg, p)
			type seen struct {
				name string
				x, y float64
			}
			var pumps []seen
			for _, n := range classed(within(svg, "path"), "pump") {
				if m := titled.FindStringSubmatch(textIn(n)); m != nil {
					d := figures.FindAllString(samples.Attribute(n, "d"), -1)
					pumps = append(pumps, seen{m[1], samples.Number(t, d[0]) + 4.5, samples.Number(t, d[1])})
				}
			}
			if len(pumps) < 4 {
				t.Fatalf("%s: %d pumps", name, len(pumps))
			}
			for i, a := range pumps {
				for _, b := range pumps[:i] {
					km := perDot * math.Hypot(a.x-b.x, a.y-b.y)
					want := haversine(where[a.name], where[b.name])
					// The sketch is flat; a degree of longitude is not as long at its upper edge as at its lower.
					if math.Abs(km-want) > 0.02*want+2*perDot {
						t.Errorf("%s, %s to %s: %.1f km drawn, %.1f km there", name, a.name, b.name, km, want)
					}
					if north := where[a.name][1] - where[b.name][1]; math.Abs(north) > 0.05 && (north > 0) != (a.y < b.y) {
						t.Errorf("%s: %s and %s, which is north of which", name, a.name, b.name)
					}
				}
			}
		}
	}
}

// scaleOf gives the kilometres of a dot by the scale bar.
func scaleOf(t *testing.T, svg *html.Node, p samples.Plan) float64 {
	t.Helper()
	wide := 0.0
	for _, n := range classed(within(svg, "rect"), "bar") {
		wide += samples.Number(t, samples.Attribute(n, "width"))
	}
	for _, n := range classed(within(svg, "text"), "figure") {
		var v float64
		var unit string
		if k, _ := fmt.Sscanf(textIn(n), "%f %s", &v, &unit); k == 2 && unit == p.Units.DistanceUnit() {
			if unit == "mi" {
				v *= 1.609344 // the international mile, exactly (NIST SP 811)
			}
			return v / wide
		}
	}
	t.Fatal("no scale bar")
	return 0
}

func haversine(a, b [2]float64) float64 {
	rad := math.Pi / 180
	h := math.Pow(math.Sin((b[1]-a[1])*rad/2), 2) +
		math.Cos(a[1]*rad)*math.Cos(b[1]*rad)*math.Pow(math.Sin((b[0]-a[0])*rad/2), 2)
	return 2 * 6371.0088 * math.Asin(math.Sqrt(h))
}

// Whatever the text says, the page says: each warning and assumption whole, and of
// everything else no word and no figure is missing.
func TestPageHasWhatTheTextHas(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		p := samples.Example(t, name)
		seen := samples.Parse(t, pageHTML(t, p)).Text
		for _, w := range p.Warnings {
			if text := warned.Of(p.Say()).Warning(w); !strings.Contains(samples.Squeezed(seen), samples.Squeezed(text)) {
				t.Errorf("%s: not on the page: %s", name, text)
			}
		}
		for _, a := range p.Assumptions {
			if _, value := p.Say().Assumption(a); !strings.Contains(samples.Squeezed(seen), samples.Squeezed(value)) {
				t.Errorf("%s: not on the page: %s", name, value)
			}
		}
		var plain bytes.Buffer
		if err := text.Write(&plain, p.Plan, text.Style{Units: p.Units}); err != nil {
			t.Fatal(err)
		}
		there := map[string]bool{}
		for _, w := range wordsOf(seen) {
			there[w] = true
		}
		// Warnings have their numbers from the browser.
		for _, w := range wordsOf(warningNumber.ReplaceAllString(plain.String(), "$1")) {
			if !there[w] {
				t.Errorf("%s: %q is in the text and not on the page", name, w)
				there[w] = true
			}
		}
	}
}

var warningNumber = regexp.MustCompile(`(?m)^ *\d+ ([a-z-]+:)`)

var anyWord = regexp.MustCompile(`[\p{L}\d]+(?:\.\d+)?`)

// wordsOf gives the words and figures of a text, small and great letters alike.
func wordsOf(s string) []string { return anyWord.FindAllString(strings.ToLower(s), -1) }
