package page

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A drawing is a list of shapes, each of one kind that the page's template knows.
type drawing struct {
	Shapes []shape
}

// A shape is one thing drawn. Class is how it looks, Leg the leg it belongs to, counted
// from 1; 0 for none.
type shape struct {
	Kind   string // path, rect or text
	Class  string
	Leg    int
	D      string // of a path
	X, Y   string
	W, H   string
	Turned bool   // a text that reads upwards
	Anchor string // of a text: start, middle or end
	Text   string
	Note   string // a second text behind the first, set more lightly
	Title  string // what it is, for those who point at it
}

// num writes a number of dots, a tenth of one at the finest.
func num(x float64) string {
	s := strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

func (d *drawing) add(s shape) { d.Shapes = append(d.Shapes, s) }

// last gives the shape that was added last.
func (d *drawing) last() *shape { return &d.Shapes[len(d.Shapes)-1] }

func (d *drawing) path(class, path string) { d.add(shape{Kind: "path", Class: class, D: path}) }

func (d *drawing) rect(class string, x, y, w, h float64) {
	d.add(shape{Kind: "rect", Class: class, X: num(x), Y: num(y), W: num(max(w, 0)), H: num(h)})
}

func (d *drawing) text(class, anchor string, x, y float64, text string) {
	d.add(shape{Kind: "text", Class: class, Anchor: anchor, X: num(x), Y: num(y), Text: text})
}

// A dot is a place in a drawing.
type dot struct{ x, y float64 }

func (d dot) String() string { return num(d.x) + " " + num(d.y) }

// open gives the path along dots, closed the same and back to the first.
func open(dots ...dot) string {
	words := make([]string, len(dots))
	for i, p := range dots {
		words[i] = p.String()
	}
	return "M" + strings.Join(words, "L")
}

func closed(dots ...dot) string { return open(dots...) + "Z" }

// cross is the path of a cross about a dot, so far to each side.
func cross(at dot, r float64) string {
	return open(dot{at.x - r, at.y - r}, dot{at.x + r, at.y + r}) + open(dot{at.x - r, at.y + r}, dot{at.x + r, at.y - r})
}

// around gives the box about a dot, so far to each side.
func around(at dot, r float64) box { return box{at.x - r, at.y - r, at.x + r, at.y + r} }

// ring is the path of a circle.
func ring(x, y, r float64) string {
	return fmt.Sprintf("M%[1]s %[2]sa%[3]s %[3]s 0 1 0 %[4]s 0a%[3]s %[3]s 0 1 0 -%[4]s 0Z",
		num(x-r), num(y), num(r), num(2*r))
}

//go:embed font/page-regular.ttf
var regularFace []byte

var measured = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(regularFace) })

// textWidth gives the width of a text in the page's own font. A letter that the font does
// not have comes from another and is taken to be as wide as it is high; a machine that
// shows all in another font may need a little more, which boldly is left as room.
func textWidth(text string, size float64, bold bool) float64 {
	const roomy = 1.04
	f, err := measured()
	wide := 0.0
	var buf sfnt.Buffer
	for _, r := range text {
		glyph, gerr := sfnt.GlyphIndex(0), err
		if err == nil {
			glyph, gerr = f.GlyphIndex(&buf, r)
		}
		advance := fixed.I(1000)
		if gerr == nil && glyph != 0 {
			if a, aerr := f.GlyphAdvance(&buf, glyph, fixed.I(1000), font.HintingNone); aerr == nil {
				advance = a
			}
		}
		wide += float64(advance) / 64 / 1000
	}
	if bold {
		wide *= 1.1
	}
	return wide * size * roomy
}

// clipped gives as much of a text as fits into a width.
func clipped(text string, size, width float64, bold bool) string {
	if textWidth(text, size, bold) <= width {
		return text
	}
	runes := []rune(text)
	for len(runes) > 1 && textWidth(string(runes)+"…", size, bold) > width {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimRight(string(runes), " ") + "…"
}
