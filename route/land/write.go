package land

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"

	"github.com/paulmach/orb"
)

// properties are those of a feature in the file, all strings.
type properties struct {
	Kind  Kind   `json:"kind"`
	Class string `json:"class,omitempty"`
	Name  string `json:"name,omitempty"`
}

// geometry is one of GeoJSON, its coordinates as they are written.
type geometry struct {
	Type        string          `json:"type"`
	Coordinates json.RawMessage `json:"coordinates"`
}

type feature struct {
	Type       string     `json:"type"`
	Properties properties `json:"properties"`
	Geometry   geometry   `json:"geometry"`
}

// Degree is the step in which coordinates are written: 0.0001°, eleven metres.
const Degree = 1e-4

// Write writes a land as GeoJSON [1], a feature a line: its kind, class and name are
// properties; foreign members say of which line it is, whose map, how far off the line it goes
// and how far an outline may be off. The same land gives the same bytes.
func Write(w io.Writer, l *Land) error {
	var b bytes.Buffer
	b.WriteString("{\"type\":\"FeatureCollection\",\n")
	for _, m := range []struct {
		key   string
		value any
	}{
		{"attribution", l.Attribution}, {"line", l.Line},
		{"within_km", math.Round(l.Within.Kilometres()*1000) / 1000}, {"tolerance_m", math.Round(float64(l.Tolerance))},
	} {
		text, err := plain(m.value)
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%q:%s,\n", m.key, text)
	}
	if box, ok := l.box(); ok {
		fmt.Fprintf(&b, "\"bbox\":[%s,%s,%s,%s],\n", degrees(box.west), degrees(box.south), degrees(box.east), degrees(box.north))
	}
	b.WriteString("\"features\":[")
	for i, f := range l.Features {
		text, err := plain(feature{"Feature", properties{f.Kind, f.Class, f.Name}, written(f.Geometry)})
		if err != nil {
			return err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
		b.Write(text)
	}
	b.WriteString("\n]}\n")
	_, err := w.Write(b.Bytes())
	return err
}

// plain gives JSON in which letters stand as they are.
func plain(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}

// written gives a geometry as it stands in the file.
func written(g orb.Geometry) geometry {
	var b bytes.Buffer
	switch g := g.(type) {
	case orb.Point:
		point(&b, g)
	case orb.LineString:
		points(&b, g)
	case orb.Polygon:
		b.WriteByte('[')
		for i, ring := range g {
			if i > 0 {
				b.WriteByte(',')
			}
			points(&b, ring)
		}
		b.WriteByte(']')
	default:
		b.WriteString("null")
	}
	return geometry{g.GeoJSONType(), b.Bytes()}
}

func points(b *bytes.Buffer, all []orb.Point) {
	b.WriteByte('[')
	for i, p := range all {
		if i > 0 {
			b.WriteByte(',')
		}
		point(b, p)
	}
	b.WriteByte(']')
}

func point(b *bytes.Buffer, p orb.Point) { fmt.Fprintf(b, "[%s,%s]", degrees(p[0]), degrees(p[1])) }

// degrees writes degrees in whole steps, as short as may be.
func degrees(d float64) string {
	text, err := json.Marshal(math.Round(d/Degree) / (1 / Degree))
	if err != nil {
		return "0"
	}
	if string(text) == "-0" {
		return "0"
	}
	return string(text)
}

// Rounded gives a place as it is written.
func Rounded(p orb.Point) orb.Point {
	round := func(d float64) float64 { return math.Round(d/Degree)/(1/Degree) + 0 }
	return orb.Point{round(p[0]), round(p[1])}
}
