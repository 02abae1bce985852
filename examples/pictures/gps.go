package main

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
	"github.com/tkrajina/gpxgo/gpx"
)

// shown is what a small display might show of the steppe loop: the way round the last
// sure fuel before the longest leg.
var shown = orb.Bound{Min: orb.Point{96.35, 47.35}, Max: orb.Point{99.25, 48.25}}

const (
	displayWide = 760
	letter      = 15
)

// waypoints draws the waypoints of a GPX file, named by the first fifteen letters as small
// displays do, and its track.
func waypoints(name string) ([]byte, error) {
	file, err := gpx.ParseFile(name)
	if err != nil {
		return nil, err
	}
	middle := math.Cos(shown.Center().Lat() * math.Pi / 180)
	scale := displayWide / ((shown.Max.Lon() - shown.Min.Lon()) * middle)
	high := scale * (shown.Max.Lat() - shown.Min.Lat())
	place := func(p gpx.Point) orb.Point {
		return orb.Point{(p.Longitude - shown.Min.Lon()) * middle * scale, (shown.Max.Lat() - p.Latitude) * scale}
	}
	var b bytes.Buffer
	fmt.Fprintf(&b,
		"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %.0f\" font-family=\"DejaVu Sans Mono, monospace\" font-size=\"%d\">\n", displayWide, high, letter)
	fmt.Fprintf(&b, "<rect width=\"100%%\" height=\"100%%\" fill=\"#eef0e6\"/>\n")
	for _, track := range file.Tracks {
		for _, segment := range track.Segments {
			var line orb.LineString
			for _, p := range segment.Points {
				line = append(line, place(p.Point))
			}
			fmt.Fprintf(&b, "<path fill=\"none\" stroke=\"#20409a\" stroke-width=\"3\" stroke-linejoin=\"round\" d=\"%s\"/>\n",
				path(simplify.DouglasPeucker(0.5).LineString(line)))
		}
	}
	var taken []orb.Bound
	for _, w := range file.Waypoints {
		if !shown.Contains(orb.Point{w.Longitude, w.Latitude}) {
			continue
		}
		p, text := place(w.Point), []rune(w.Name)
		text = text[:min(len(text), 15)]
		box := room(p, float64(len(text))*letter*0.61, taken)
		taken = append(taken, box)
		fmt.Fprintf(&b, "<path fill=\"none\" stroke=\"#000\" d=\"M%.1f %.1fL%.1f %.1f\"/>", p[0], p[1], min(max(p[0],
			box.Min[0]), box.Max[0]), box.Center()[1])
		fmt.Fprintf(&b, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"5\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"2\"/>", p[0],
			p[1])
		fmt.Fprintf(&b, "<text x=\"%.1f\" y=\"%.1f\">%s</text>\n", box.Min[0], box.Max[1]-4, html.EscapeString(string(text)))
	}
	b.WriteString("</svg>\n")
	return b.Bytes(), nil
}

// room finds a box for a name beside a place, on no other.
func room(p orb.Point, wide float64, taken []orb.Bound) (box orb.Bound) {
	for step := range 20 {
		down := float64((step+1)/2*(letter+4)) * float64(1-step%2*2)
		for _, left := range []float64{p[0] + 10, p[0] - 10 - wide} {
			box = orb.Bound{Min: orb.Point{left, p[1] + down - letter/2 - 1}, Max: orb.Point{left + wide,
				p[1] + down + letter/2 + 2}}
			if left > 0 && left+wide < displayWide && box.Min[1] > 0 && !slices.ContainsFunc(taken, box.Intersects) {
				return box
			}
		}
	}
	return box
}

// path writes a line as SVG does.
func path(line orb.LineString) string {
	var b bytes.Buffer
	for i, p := range line {
		fmt.Fprintf(&b, "%c%.1f %.1f", "ML"[min(i, 1)], p[0], p[1])
	}
	return b.String()
}
