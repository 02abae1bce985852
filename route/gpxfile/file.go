package gpxfile

import (
	"errors"
	"io"

	"lastpump/route"
	"lastpump/route/gpxfile/internal/xmlscan"
)

// A File is what a GPX file holds, in the order in which it stands there.
// All texts are clean, see [lastpump/route/input.Clean], without the white space around them; a name
// stands on one line.
type File struct {
	Name      string     // metadata/name (GPX 1.1) or gpx/name (GPX 1.0)
	Version   string     // the version attribute as written; "" if there is none
	Tracks    []Track    // in file order, empty ones included
	Routes    []Track    // in file order, each with exactly one segment
	Waypoints []Waypoint // in file order
	Notes     []string   // what was odd but read all the same, as file:line:col: what
	Record    Record     // what a plan has recorded of the line
	Cut       string     // where and how the file is cut off, as file:line:col: what; "" if it is whole
}

// A Track is a recorded or drawn line. The schema [1] starts a new segment
// wherever reception was lost or the device was off, so segments are never
// joined here.
type Track = route.Track

// A Waypoint is a named place off or on the line.
type Waypoint struct {
	route.Point
	Name, Desc, Cmt, Sym, Type string
	File                       string // in which it stands
	Line, Col                  int    // of the "<" of its tag, from 1
}

// ErrCut is the cause of an error where a file ends too early: what is whole of it may
// still be read, see [Salvage].
var ErrCut = xmlscan.ErrCut

// Read reads a GPX file: UTF-8, UTF-16 with its byte order mark or what the XML
// declaration names; plain, gzipped or zipped, which its content tells, not its
// name. Several GPX files in a ZIP archive are read as one, in the order in which
// they stand there. The name is the file's, for the places in errors and notes.
//
// A latitude is from -90 to 90 degrees, a longitude from -180 to 180; the schema
// [1] wants it under 180, so 180 leaves a note. An elevation is finite or absent:
// a missing or empty one is absent, one beyond 20 000 m either way is a fill-in
// value of some device and is absent with a note. References that XML does not
// know are kept as text, with a note.
//
// The error is a [*input.Error] at line 1, column 1 or later: the file is
// not GPX, not well-formed XML [2], cut off, or has a point without a sound
// position or with an elevation that is no number. A file with neither track nor
// route is no error; whether it will do is for the caller to say.
func Read(r io.Reader, name string) (*File, error) { return read(r, name, false) }

// Salvage reads like [Read], but of a file that is cut off in the middle it keeps
// what was whole: the points up to there, and File.Cut tells where that is. It is
// an error still if there is no point among it.
func Salvage(r io.Reader, name string) (*File, error) { return read(r, name, true) }

func read(r io.Reader, name string, salvage bool) (*File, error) {
	in, err := openContent(r, name)
	if err != nil {
		return nil, err
	}
	if in.archive != nil {
		return readArchive(in.archive, name, salvage)
	}
	d := &builder{name: name, scan: xmlscan.New(in.text, name, readFault), file: &File{}}
	if in.note != "" {
		d.scan.Note(1, 1, in.note)
	}
	if err := d.run(); err != nil {
		if !salvage || !errors.Is(err, ErrCut) || !d.file.hasPoints() {
			return nil, err
		}
		d.file.Cut = err.Error()
	}
	d.file.Notes = d.scan.Notes()
	return d.file, nil
}

// hasPoints tells whether any line of the file has a point.
func (f *File) hasPoints() bool { return HasPoints(f.Tracks) || HasPoints(f.Routes) }

// HasPoints tells whether any of the tracks has a point.
func HasPoints(tracks []Track) bool {
	for _, t := range tracks {
		for _, s := range t.Segments {
			if len(s) > 0 {
				return true
			}
		}
	}
	return false
}

// Lines gives what is ridden in the file: its tracks, or its routes if none of
// them has a point.
func (f *File) Lines() []Track {
	if HasPoints(f.Tracks) {
		return f.Tracks
	}
	return f.Routes
}

// Join makes one file of several, in the order given. What is ridden in each is
// its tracks, or its routes where it has no track, so that all of them are tracks
// of the whole. The name is that of the first that has one.
func Join(files ...*File) *File {
	if len(files) == 1 {
		return files[0]
	}
	all := &File{}
	for _, f := range files {
		if all.Name == "" {
			all.Name, all.Version = f.Name, f.Version
		}
		if all.Cut == "" {
			all.Cut = f.Cut
		}
		if all.Record.Text == "" {
			all.Record = f.Record
		}
		all.Tracks = append(all.Tracks, f.Lines()...)
		all.Waypoints = append(all.Waypoints, f.Waypoints...)
		all.Notes = append(all.Notes, f.Notes...)
	}
	return all
}
