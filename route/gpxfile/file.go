package gpxfile

import (
	"io"

	"lastpump/route"
)

// A File is what a GPX file holds, in the order in which it stands there.
// All texts are without the white space around them.
type File struct {
	Name      string     // metadata/name (GPX 1.1) or gpx/name (GPX 1.0)
	Version   string     // the version attribute as written; "" if there is none
	Tracks    []Track    // in file order, empty ones included
	Routes    []Track    // in file order, each with exactly one segment
	Waypoints []Waypoint // in file order
	Notes     []string   // what was odd but read all the same, as file:line:col: what
}

// A Track is a recorded or drawn line. The schema [1] starts a new segment
// wherever reception was lost or the device was off, so segments are never
// joined here.
type Track = route.Track

// A Waypoint is a named place off or on the line.
type Waypoint struct {
	route.Point
	Name, Desc, Cmt, Sym, Type string
	Line, Col                  int // of the "<" of its tag, from 1
}

// Read reads a GPX file: UTF-8, UTF-16 with its byte order mark or what the XML
// declaration names, plain or gzipped. The name is the file's, for the places in
// errors and notes.
//
// A latitude is from -90 to 90 degrees, a longitude from -180 to 180; the schema
// [1] wants it under 180, so 180 leaves a note. An elevation is finite or absent:
// a missing or empty one is absent, one beyond 20 000 m either way is a fill-in
// value of some device and is absent with a note.
//
// The error is a [*route.InputError] at line 1, column 1 or later: the file is
// not GPX, not well-formed XML [2], cut off, or has a point without a sound
// position or with an elevation that is no number. A file with neither track nor
// route is no error; whether it will do is for the caller to say.
func Read(r io.Reader, name string) (*File, error) {
	in, err := openInput(r, name)
	if err != nil {
		return nil, err
	}
	d := &builder{scan: newScanner(in.text, name), file: &File{}}
	if in.note != "" {
		d.notes.add(1, 1, in.note)
	}
	if err := d.run(); err != nil {
		return nil, err
	}
	d.file.Notes = d.notes.lines(name)
	return d.file, nil
}
