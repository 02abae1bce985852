package gpxfile

import (
	"bytes"

	"lastpump/route"
)

// A builder makes a File from the elements that a scanner finds. Each of its
// methods for an element is called with the start tag in hand and consumes the
// element whole. Only children that stand in their place are looked at.
type builder struct {
	scan   *scanner
	file   *File
	points collector
	root   []byte // prefix of the outermost element
}

// run reads the file from its first byte to its last.
func (d *builder) run() error {
	if err := d.scan.sniff(); err != nil {
		return err
	}
	d.scan.isText()
	t, err := d.scan.next()
	if err != nil {
		return err
	}
	if t == tokEOF {
		return d.scan.fault(len(d.scan.buf), "the file ends before <gpx>", hintCut)
	}
	if err := d.gpx(); err != nil {
		return err
	}
	if _, err := d.scan.next(); err != nil { // anything but the end is an error
		return err
	}
	if d.scan.badLine > 0 {
		d.scan.notes.add(d.scan.badLine, d.scan.badCol, "bytes that are not UTF-8, read as \uFFFD")
	}
	return nil
}

// gpx reads the outermost element.
func (d *builder) gpx() error {
	s := d.scan
	if like := otherRoots[string(s.local)]; like != "" {
		what, hint := looks(like)
		return s.fault(s.keep, what, hint)
	}
	if string(s.local) != "gpx" {
		return s.fault(s.keep, "this is not GPX: its outermost element is <"+clip(s.name)+">", hintExport)
	}
	for _, a := range s.attrs {
		if string(a.name) == "version" {
			d.file.Version = string(a.value)
		}
	}
	d.root = bytes.Clone(s.prefix)
	s.spaces.adopt(d.root)
	return d.each(d.part)
}

// part reads a child of <gpx>.
func (d *builder) part(tag string) error {
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
	return d.scan.skip()
}

func (d *builder) metadata() error {
	return d.each(func(tag string) error {
		switch tag {
		case "name":
			return d.words(&d.file.Name, tag)
		case "extensions":
			return d.record()
		}
		return d.scan.skip()
	})
}

// record gathers what a plan has recorded among the extensions.
func (d *builder) record() error {
	s, r := d.scan, &d.file.Record
	var whole []byte
	for {
		inner, err := s.child()
		if err != nil || !inner {
			r.Text += string(whole)
			return err
		}
		i := s.spaces.find(s.prefix)
		ours := i >= 0 && string(s.spaces.uri(i)) == recordSpace
		if ours && string(s.local) == cutElement {
			text, err := s.contents(cutElement)
			if err != nil {
				return err
			}
			r.Cut = string(text)
			continue
		}
		if !ours || string(s.local) != recordElement {
			if err := s.skip(); err != nil {
				return err
			}
			continue
		}
		line, col := s.place(s.keep)
		text, err := s.contents(recordElement)
		if err != nil {
			return err
		}
		if len(whole) == 0 && r.Text == "" {
			r.File, r.Line, r.Col = s.file, line, col
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
			err := d.segment()
			t.Segments = append(t.Segments, d.points.take())
			return err
		case "trkpt":
			line, col := d.scan.place(d.scan.keep)
			d.scan.notes.add(line, col, "trkpt outside trkseg, left out")
		}
		return d.scan.skip()
	})
}

func (d *builder) segment() error {
	quick := d.plainIsOurs()
	for {
		if quick {
			d.quickPoints()
		}
		tag, err := d.child()
		if err != nil || tag == "" {
			return err
		}
		if tag == "trkpt" {
			err = d.point(tag)
		} else {
			err = d.scan.skip()
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
		return d.scan.skip()
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
		inner, err := d.scan.child()
		if err != nil || !inner {
			return "", err
		}
		if tag := known(d.scan.local); tag != "" && d.isOurs() {
			return tag, nil
		}
		if err := d.scan.skip(); err != nil {
			return "", err
		}
	}
}

// known gives the name of an element that is of use as a constant, so that no
// tag costs an allocation; "" for any other.
func known(local []byte) string {
	switch string(local) {
	case "trkpt":
		return "trkpt"
	case "ele":
		return "ele"
	case "time":
		return "time"
	case "trkseg":
		return "trkseg"
	case "trk":
		return "trk"
	case "rtept":
		return "rtept"
	case "rte":
		return "rte"
	case "wpt":
		return "wpt"
	case "metadata":
		return "metadata"
	case "extensions":
		return "extensions"
	case "name":
		return "name"
	case "desc":
		return "desc"
	case "cmt":
		return "cmt"
	case "sym":
		return "sym"
	case "type":
		return "type"
	}
	return ""
}

// isOurs reports whether the element whose start tag is in hand is GPX by its
// namespace: see the package comment.
func (d *builder) isOurs() bool {
	s := d.scan
	if i := s.spaces.find(s.prefix); i >= 0 {
		return s.spaces.list[i].ours
	}
	return len(s.prefix) == 0 || bytes.Equal(s.prefix, d.root)
}

// words reads an element that holds a text.
func (d *builder) words(to *string, tag string) error {
	text, err := d.scan.contents(tag)
	*to = string(text)
	return err
}
