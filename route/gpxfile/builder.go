package gpxfile

import (
	"bytes"
	"fmt"
	"strings"

	"lastpump/route"
	"lastpump/route/gpxfile/internal/xmlscan"
	"lastpump/route/input"
)

// A builder makes a File from the elements that a scanner finds. Each of its
// methods for an element is called with the start tag in hand and consumes the
// element whole. Only children that stand in their place are looked at.
type builder struct {
	name   string // of the file
	scan   *xmlscan.Scanner
	file   *File
	points collector
	pieces int    // tracks, routes and segments so far
	prefix []byte // of the outermost element
	space  []byte // its namespace; nil if it has none
}

// run reads the file from its first byte to its last.
func (d *builder) run() error {
	if err := d.sniff(); err != nil {
		return err
	}
	d.scan.Text()
	t, err := d.scan.Next()
	if err != nil {
		return err
	}
	if t == xmlscan.EOF {
		return d.scan.Place(xmlscan.CutOff("the file ends before <gpx>"))
	}
	if err := d.gpx(); err != nil {
		return err
	}
	_, err = d.scan.Next() // anything but the end is an error
	return err
}

// gpx reads the outermost element.
func (d *builder) gpx() error {
	s := d.scan
	if like := otherRoots[string(s.Local)]; like != "" {
		what, hint := looks(like)
		return s.Fault(what, hint)
	}
	if string(s.Local) != "gpx" {
		return s.Fault("this is not GPX: its outermost element is <"+xmlscan.Clip(s.Name)+">", hintExport)
	}
	for _, a := range s.Attrs {
		if string(a.Name) == "version" {
			d.file.Version = string(a.Value)
		}
	}
	d.prefix = bytes.Clone(s.Prefix)
	if name, declared := s.Space(d.prefix); declared {
		d.space = bytes.Clone(name)
	}
	return d.each(d.part)
}

// part reads a child of <gpx>.
func (d *builder) part(tag string) error {
	switch tag {
	case "trk", "rte":
		if err := d.piece(); err != nil {
			return err
		}
	}
	switch f := d.file; tag {
	case "trk":
		f.Tracks = append(f.Tracks, Track{})
		return d.track(&f.Tracks[len(f.Tracks)-1])
	case "rte":
		f.Routes = append(f.Routes, Track{})
		return d.route(&f.Routes[len(f.Routes)-1])
	case "wpt":
		w, err := d.waypoint()
		if err == nil {
			f.Waypoints = append(f.Waypoints, w)
		}
		return err
	case "metadata":
		return d.metadata()
	case "name": // GPX 1.0; should both be there, the metadata's is the later idea
		if f.Name == "" {
			return d.words(&f.Name, tag)
		}
	}
	return d.scan.Skip()
}

// maxPieces is how many tracks, routes and segments a file may have. What is kept of each
// takes as much memory as a dozen points, and a small archive can hold millions of them.
const maxPieces = 200_000

// piece counts a track, a route or a segment.
func (d *builder) piece() error {
	if d.pieces++; d.pieces > maxPieces {
		return d.scan.Fault(fmt.Sprintf("over %d tracks and segments: no ride is in so many pieces", maxPieces),
			"join them where the points were drawn or recorded, and export the ride again")
	}
	return nil
}

func (d *builder) metadata() error {
	return d.each(func(tag string) error {
		switch tag {
		case "name":
			return d.words(&d.file.Name, tag)
		case "extensions":
			return d.record()
		}
		return d.scan.Skip()
	})
}

// record gathers what a plan has recorded among the extensions.
func (d *builder) record() error {
	s, r := d.scan, &d.file.Record
	var whole []byte
	for {
		inner, err := s.Child()
		if err != nil || !inner {
			r.Text += string(whole)
			return err
		}
		space, _ := s.Space(s.Prefix)
		ours := string(space) == recordSpace
		if ours && string(s.Local) == cutElement {
			text, err := s.Contents(cutElement)
			if err != nil {
				return err
			}
			r.Cut = string(text)
			continue
		}
		if !ours || string(s.Local) != recordElement {
			if err := s.Skip(); err != nil {
				return err
			}
			continue
		}
		line, col := s.Here()
		text, err := s.Contents(recordElement)
		if err != nil {
			return err
		}
		if len(whole) == 0 && r.Text == "" {
			r.File, r.Line, r.Col = d.name, line, col
		}
		whole = append(whole, text...)
	}
}

func (d *builder) track(t *Track) error {
	return d.each(func(tag string) error {
		switch tag {
		case "name":
			return d.words(&t.Name, tag)
		case "trkseg":
			if err := d.piece(); err != nil {
				return err
			}
			err := d.segment()
			t.Segments = append(t.Segments, d.points.take())
			return err
		case "extensions": // of the first track alone: that of another is of a file put to this one
			if len(d.file.Tracks) == 1 && d.file.Record.Text == "" {
				return d.record()
			}
		case "trkpt":
			d.note("trkpt outside trkseg, left out")
		}
		return d.scan.Skip()
	})
}

func (d *builder) segment() error {
	plain := d.isOurs(nil)
	for {
		if plain {
			d.plainPoints()
		}
		tag, err := d.child()
		if err != nil || tag == "" {
			return err
		}
		if tag == "trkpt" {
			err = d.point(tag)
		} else {
			err = d.scan.Skip()
		}
		if err != nil {
			return err
		}
	}
}

func (d *builder) route(t *Track) error {
	err := d.each(func(tag string) error {
		switch tag {
		case "name":
			return d.words(&t.Name, tag)
		case "rtept":
			return d.point(tag)
		}
		return d.scan.Skip()
	})
	t.Segments = [][]route.Point{d.points.take()}
	return err
}

// each calls read, which must consume it whole, for every child that is GPX and
// of use.
func (d *builder) each(read func(tag string) error) error {
	for {
		tag, err := d.child()
		if err != nil || tag == "" {
			return err
		}
		if err := read(tag); err != nil {
			return err
		}
	}
}

// child goes to the next child that is GPX and of use, passing over the others,
// and gives its name; "" at the end of the element.
func (d *builder) child() (string, error) {
	for {
		inner, err := d.scan.Child()
		if err != nil || !inner {
			return "", err
		}
		if tag := known(d.scan.Local); tag != "" && d.isOurs(d.scan.Prefix) {
			return tag, nil
		}
		if err := d.scan.Skip(); err != nil {
			return "", err
		}
	}
}

// tags are the elements that are of use, by the length of their names.
var tags = [...][]string{
	3: {"ele", "trk", "rte", "wpt", "cmt", "sym"}, 4: {"time", "name", "desc", "type"}, 5: {"trkpt", "rtept"},
	6: {"trkseg"}, 8: {"metadata"}, 10: {"extensions"},
}

// known gives the name of an element that is of use as a string that is there already, so
// that no tag costs an allocation; "" for any other.
func known(local []byte) string {
	if len(local) < len(tags) {
		for _, tag := range tags[len(local)] {
			if string(local) == tag {
				return tag
			}
		}
	}
	return ""
}

// gpxSpaces is what the namespaces of GPX 1.0 and 1.1 begin with.
var gpxSpaces = []byte("http://www.topografix.com/GPX/")

// isOurs reports whether elements with a prefix are GPX by their namespace: see the package
// comment. The empty namespace takes them out of any (Namespaces in XML 1.0, section 6.2);
// some writers put it at elements of GPX by mistake.
func (d *builder) isOurs(prefix []byte) bool {
	space, declared := d.scan.Space(prefix)
	if !declared {
		return len(prefix) == 0 || bytes.Equal(prefix, d.prefix)
	}
	return len(space) == 0 || bytes.HasPrefix(space, gpxSpaces) || d.space != nil && bytes.Equal(space, d.space)
}

// words reads an element that holds a text; a name stands on one line.
func (d *builder) words(to *string, tag string) error {
	text, err := d.scan.Contents(tag)
	if *to = strings.TrimSpace(input.Clean(string(text))); tag == "name" {
		*to = input.OneLine(*to)
	}
	return err
}
