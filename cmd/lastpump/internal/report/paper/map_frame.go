package paper

import (
	"strconv"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/route"
	"lastpump/route/land"

	"github.com/paulmach/orb"
)

// edge draws the frame.
func (l *leaf) edge() {
	l.SetLineWidth(0.8)
	l.Rect(l.frame.Min[0], l.frame.Min[1], mapWide, mapHigh, "D")
}

// head says which ride and which sheet it is, and on which the ride goes on.
func (l *leaf) head() {
	of := len(l.atlas.Sheets)
	sheet := landed.Sheet(l.number+1, of)
	right := mapMargin + mapWide - l.width(sheet, mapTitle)
	title := l.wrap(l.loop, mapTitle, right-mapMargin-12)
	y := mapMargin + mapTitle.size*ascent
	l.write(mapMargin, y, title[0], mapTitle)
	l.write(right, y, sheet, mapTitle)
	y += mapTitle.line() + 1
	stretch := l.say.Stretch(l.sheet.Scale, l.sheet.From, l.sheet.To)
	l.write(mapMargin, y, landed.Neighbours(l.number+1, of), mapText)
	l.write(mapMargin+mapWide-l.width(stretch, mapText), y, stretch, mapText)
}

func (w *pdf) write(x, y float64, text string, f face) {
	w.SetFont("face", f.style(), f.size)
	w.Text(x, y, text)
}

// foot has the scale, the arrow to the north, the keys, whose map it is and the cautions.
func (l *leaf) foot() {
	y := l.frame.Max[1] + 6
	l.scaleBar(y)
	l.north(y - 1)
	y = l.keys(y + 22)
	whose := landed.Whose(l.say.Plan.Land)
	if whose == "" && l.say.Plan.Ways != nil {
		whose = words.RoadsOf
	}
	for _, text := range []string{landed.SheetCaution, whose} {
		if text == "" {
			continue
		}
		for _, s := range l.wrap(text, mapSmall, mapWide) {
			l.write(mapMargin, y+mapSmall.size*ascent, s, mapSmall)
			y += mapSmall.line()
		}
	}
}

// barSteps are the lengths of a scale, in the rider's unit.
var barSteps = []float64{100, 50, 20, 10, 5, 2, 1}

// BarMillimetres gives the length of a scale in the rider's unit, whose length in metres is given, and
// how long it is on paper: the longest of no more than 70 mm.
func BarMillimetres(scale float64, unit route.Metres) (units, millimetres float64) {
	const most = 70
	for _, n := range barSteps {
		units, millimetres = n, n*float64(unit)*1000/scale
		if millimetres <= most {
			break
		}
	}
	return units, millimetres
}

// scaleBar draws a round distance, black and white by turns as on old maps.
func (l *leaf) scaleBar(y float64) {
	units, long := BarMillimetres(l.sheet.Scale, route.Metres(1/l.say.Units.DistanceIn(1)))
	const parts, high = 4, 4.0
	wide := long * mm / parts
	l.SetLineWidth(0.6)
	for i := range parts {
		how := "FD"
		if i%2 == 1 {
			how = "D"
		}
		l.Rect(mapMargin+1+float64(i)*wide, y, wide, high, how)
	}
	text := y + high + 1 + mapText.size*ascent
	l.write(mapMargin, text, "0", mapText)
	end := strconv.FormatFloat(units, 'f', -1, 64) + " " + l.say.Units.DistanceUnit()
	l.write(mapMargin+1+long*mm-l.width(end, mapText)/2, text, end, mapText)
	scale := landed.Scale(l.sheet.Scale)
	l.write(mapMargin+long*mm+26, y+mapText.size*0.6, scale, mapText)
}

// north draws the arrow.
func (l *leaf) north(y float64) {
	x := mapMargin + mapWide - 8
	l.SetLineWidth(0.6)
	for i, side := range []float64{1, -1} {
		l.MoveTo(x, y)
		l.LineTo(x+side*4, y+18)
		l.LineTo(x, y+14)
		l.ClosePath()
		l.DrawPath([]string{"D", "FD"}[i])
	}
	l.write(x-14, y+13, "N", mapPump)
}

// A key is a mark with what it means.
type key struct {
	text string
	wide float64
	draw func(x, y float64) // from its left end, on its middle
}

// keys explains what is on the sheet, and gives where it ends.
func (l *leaf) keys(y float64) float64 {
	x, high := mapMargin, mapSmall.line()+1.5
	for _, k := range l.keysOf() {
		long := k.wide + 3 + l.width(k.text, mapSmall) + 10
		if x+long-10 > mapMargin+mapWide {
			x, y = mapMargin, y+high
		}
		k.draw(x, y+mapSmall.size*0.55)
		l.write(x+k.wide+3, y+mapSmall.size*ascent-0.4, k.text, mapSmall)
		x += long
	}
	return y + high + 1
}

// keysOf lists the keys of what there is.
func (l *leaf) keysOf() (out []key) {
	stroke := func(text string, s line, there bool) {
		if there {
			out = append(out, key{text, 18, func(x, y float64) {
				s.points = []orb.Point{{x, y}, {x + 18, y}}
				l.stroke(s)
			}})
		}
	}
	mark := func(text string, k pumpMark) {
		out = append(out, key{text, 10, func(x, y float64) { l.pump(orb.Point{x + 5, y}, k) }})
	}
	stroke(landed.KeyHere, line{width: ownThick}, true)
	stroke(landed.KeyRest, line{width: restThick}, len(l.atlas.Sheets) > 1)
	stroke(landed.KeyGap, line{width: restThick, dash: gapDash}, len(l.say.Plan.Line.Gaps) > 0)
	mark(landed.KeyPump, pumpMark{})
	mark(landed.KeyMapped, pumpMark{mapped: true})
	mark(landed.KeyUncounted, pumpMark{uncounted: true})
	if len(l.say.Plan.Answer.Stranded) > 0 {
		mark(landed.KeyStrands, pumpMark{strands: true})
	}
	stroke(landed.KeyWay, line{width: 0.8, dash: wayDash}, len(l.ways) > 0)
	v := l.view
	stroke(landed.RoadKey, landLine{Class: "main"}.stroke(0), len(v.Roads) > 0)
	stroke(landed.RiverKey, landLine{Class: "river"}.stroke(0), len(v.Rivers) > 0)
	stroke(landed.ShoreKey, landLine{Class: "shore"}.stroke(0), len(v.Shores) > 0)
	if len(v.Lakes) > 0 {
		out = append(out, key{landed.LakeKey, 16, l.lakeKey})
	}
	if len(v.Towns) > 0 {
		out = append(out, key{landed.TownKey, 6, func(x, y float64) {
			l.stroke(sketchMark{At: orb.Point{x + 3, y}, Radius: townHalf}.frame(0))
		}})
	}
	return out
}

func (l *leaf) lakeKey(x, y float64) {
	ring := orb.Ring{{x, y - 3.5}, {x + 16, y - 3.5}, {x + 16, y + 3.5}, {x, y + 3.5}, {x, y - 3.5}}
	lake := land.Water{Fill: orb.Polygon{ring}, Edge: []orb.LineString{orb.LineString(ring)}}
	for _, s := range landLines(land.View{Lakes: []land.Water{lake}}) {
		l.stroke(s.stroke(0))
	}
}
