package land

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
)

// ErrOtherLine is the cause of the error of a land that lies elsewhere than the line that it
// is wanted for.
var ErrOtherLine = errors.New("land about another line")

// Notes say what was read otherwise than written, or left out.
type Notes struct {
	OtherLine bool     // it was looked for along another line, which lies where this one does
	Unknown   []string // kinds that are left out: not known, or not of the geometry that their kind has
	Left      int      // features of those
}

// Read reads a land as [Write] writes it; features in any order, with any other members and
// properties. sum names the line for which it is wanted, see wayout.Sum. What the line is for a
// plan, which way round and where begun, does not matter to the eye: a land of another line
// that lies about this one is taken, and said so in the notes; one that does not is refused with
// [ErrOtherLine]. The error is an [*input.Error].
func Read(r io.Reader, name string, line *route.Line, sum string) (*Land, Notes, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, Notes{}, &input.Error{File: name, What: err.Error()}
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	p := &reader{name: name, text: text, dec: json.NewDecoder(bytes.NewReader(text)), land: &Land{}, notes: &Notes{}}
	if !bytes.HasPrefix(bytes.TrimLeft(text, " \t\r\n"), []byte("{")) {
		return nil, Notes{}, p.fault(0, noLand)
	}
	if err := json.Unmarshal(text, new(json.RawMessage)); err != nil {
		return nil, Notes{}, p.broken(err) // a decoder does not know where it is wrong
	}
	if err := p.file(); err != nil {
		return nil, Notes{}, err
	}
	if p.land.Line != sum {
		if !p.land.Holds(line) {
			return nil, Notes{}, &input.Error{File: name, What: "this land lies about another line",
				Hint: "survey this line with the map of its own region", Cause: ErrOtherLine}
		}
		p.notes.OtherLine = true
	}
	return p.land, *p.notes, nil
}

const hintAgain = "survey the line anew: it writes this file"

// A reader goes through the text of a file.
type reader struct {
	name  string
	text  []byte
	dec   *json.Decoder
	land  *Land
	notes *Notes
}

// fault is an error at a place in the text, in bytes from its beginning.
func (r *reader) fault(at int64, what string) error {
	before := r.text[:min(max(at, 0), int64(len(r.text)))]
	line := bytes.Count(before, []byte("\n")) + 1
	return &input.Error{File: r.name, Line: line, Col: len(before) - (bytes.LastIndexByte(before, '\n') + 1) + 1,
		What: what, Hint: hintAgain}
}

// broken is the fault of text that is no JSON, or not the JSON that is read here.
func (r *reader) broken(err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax) && syntax.Offset >= int64(len(r.text)) && strings.Contains(syntax.Error(), "unexpected end"):
		return r.fault(int64(len(r.text)), "the file is cut off")
	case errors.As(err, &syntax):
		return r.fault(max(syntax.Offset-1, 0), "this is no JSON: "+syntax.Error())
	case errors.As(err, &kind):
		return r.fault(r.dec.InputOffset(), fmt.Sprintf("%s is a %s here", kind.Field, kind.Value))
	}
	return r.fault(r.dec.InputOffset(), err.Error())
}

// here gives where the next value begins.
func (r *reader) here() int64 {
	at := r.dec.InputOffset()
	for at < int64(len(r.text)) && strings.IndexByte(" \t\r\n,:", r.text[at]) >= 0 {
		at++
	}
	return at
}

// opens reads an opening bracket.
func (r *reader) opens(d json.Delim, what string) error {
	at := r.here()
	t, err := r.dec.Token()
	if err != nil {
		return r.broken(err)
	}
	if t != d {
		return r.fault(at, what)
	}
	return nil
}

const noLand = "this is no land.json: a GeoJSON FeatureCollection with the line that it is about"

// file reads all of it.
func (r *reader) file() error {
	if err := r.opens('{', noLand); err != nil {
		return err
	}
	kind, features := "", false
	for r.dec.More() {
		key, err := r.dec.Token()
		if err != nil {
			return r.broken(err)
		}
		switch key {
		case "features":
			features = true
			err = r.features()
		case "type":
			err = r.value(&kind)
		case "line":
			err = r.value(&r.land.Line)
		case "attribution":
			err = r.value(&r.land.Attribution)
		case "within_km", "tolerance_m":
			err = r.length(key.(string))
		default:
			var other json.RawMessage
			err = r.value(&other)
		}
		if err != nil {
			return err
		}
	}
	if _, err := r.dec.Token(); err != nil {
		return r.broken(err)
	}
	r.land.Line, r.land.Attribution = strings.ToLower(r.land.Line), input.OneLine(r.land.Attribution)
	if kind != "FeatureCollection" || !features {
		return r.fault(0, noLand)
	}
	return nil
}

func (r *reader) value(v any) error {
	if err := r.dec.Decode(v); err != nil {
		return r.broken(err)
	}
	return nil
}

// length reads a length that is a foreign member.
func (r *reader) length(key string) error {
	at, v := r.here(), 0.0
	if err := r.value(&v); err != nil {
		return err
	}
	if !(v >= 0 && v <= 1e5) {
		return r.fault(at, key+" is no length")
	}
	if key == "within_km" {
		r.land.Within = route.Kilometres(v)
	} else {
		r.land.Tolerance = route.Metres(v)
	}
	return nil
}

func (r *reader) features() error {
	if err := r.opens('[', "features is no list"); err != nil {
		return err
	}
	for r.dec.More() {
		at := r.here()
		var f feature
		if err := r.value(&f); err != nil {
			return err
		}
		read, what := f.read()
		switch {
		case what != "":
			return r.fault(at, what)
		case len(read) == 0:
			r.leave(f)
		}
		r.land.Features = append(r.land.Features, read...)
	}
	_, err := r.dec.Token()
	if err != nil {
		return r.broken(err)
	}
	return nil
}

// leave notes a feature that is left out.
func (r *reader) leave(f feature) {
	r.notes.Left++
	const told = 5
	kind := input.OneLine(string(f.Properties.Kind))
	if kind == "" {
		kind = "a feature without a kind"
	}
	if !slices.Contains(r.notes.Unknown, kind) && len(r.notes.Unknown) < told {
		r.notes.Unknown = append(r.notes.Unknown, kind)
	}
}

// read gives what there is of a feature: nothing of one that is not known; what is wrong with it,
// "" for nothing. A geometry of several parts is several features.
func (f feature) read() (out []Feature, wrong string) {
	if !slices.Contains(Kinds(), f.Properties.Kind) {
		return nil, ""
	}
	var parts []orb.Geometry
	switch f.Properties.Kind {
	case Town:
		parts, wrong = f.Geometry.point()
	case Lake:
		parts, wrong = f.Geometry.polygons()
	default:
		parts, wrong = f.Geometry.lines()
	}
	for _, g := range parts {
		out = append(out, Feature{f.Properties.Kind, input.OneLine(f.Properties.Class), input.OneLine(f.Properties.Name), g})
	}
	return out, wrong
}

func (g geometry) point() (out []orb.Geometry, wrong string) {
	if g.Type != "Point" {
		return nil, ""
	}
	var at []float64
	if wrong := g.coordinates(&at); wrong != "" {
		return nil, wrong
	}
	all, wrong := placed([][]float64{at}, 1)
	if wrong != "" {
		return nil, wrong
	}
	return []orb.Geometry{all[0]}, ""
}

func (g geometry) lines() (out []orb.Geometry, wrong string) {
	var all [][][]float64
	switch g.Type {
	case "LineString":
		all = make([][][]float64, 1)
		wrong = g.coordinates(&all[0])
	case "MultiLineString":
		wrong = g.coordinates(&all)
	}
	for _, one := range all {
		if wrong != "" {
			return nil, wrong
		}
		var line []orb.Point
		line, wrong = placed(one, 2)
		for _, bit := range Cut(line) {
			out = append(out, bit)
		}
	}
	return out, wrong
}

func (g geometry) polygons() (out []orb.Geometry, wrong string) {
	var all [][][][]float64
	switch g.Type {
	case "Polygon":
		all = make([][][][]float64, 1)
		wrong = g.coordinates(&all[0])
	case "MultiPolygon":
		wrong = g.coordinates(&all)
	}
	for _, one := range all {
		var rings orb.Polygon
		for _, r := range one {
			if wrong != "" {
				return nil, wrong
			}
			var ring []orb.Point
			if ring, wrong = placed(r, 4); wrong == "" && ring[0] != ring[len(ring)-1] {
				wrong = "an outline does not end where it begins"
			}
			rings = append(rings, ring)
		}
		if len(rings) > 0 {
			out = append(out, rings)
		}
	}
	if wrong != "" {
		return nil, wrong
	}
	return out, ""
}

func (g geometry) coordinates(v any) (wrong string) {
	if err := json.Unmarshal(g.Coordinates, v); err != nil {
		return "its coordinates are not those of a " + g.Type
	}
	return ""
}

// placed gives places of a list, which has so many at the least; a third number of a position,
// its height, is left out [1, 3.1.1].
func placed(all [][]float64, least int) (out []orb.Point, wrong string) {
	if len(all) < least {
		return nil, fmt.Sprintf("it has %d positions, and needs %d", len(all), least)
	}
	for _, p := range all {
		if len(p) < 2 {
			return nil, "a position without longitude and latitude"
		}
		if !(math.Abs(p[0]) <= 180 && math.Abs(p[1]) <= 90) {
			return nil, fmt.Sprintf("%v, %v are not degrees of longitude and latitude", p[0], p[1])
		}
		out = append(out, orb.Point{p[0], p[1]})
	}
	return out, ""
}
