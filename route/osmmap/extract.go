package osmmap

import (
	"bufio"
	"bytes"
	"compress/bzip2"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"

	"lastpump/route"

	"github.com/klauspost/compress/gzip"
	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"
)

// An Extract is a file of map data that can be read more than once: OpenStreetMap
// PBF, or OSM XML plain, in gzip or in bzip2, which its content tells and not its
// name.
type Extract struct {
	Name string // for messages
	// Open begins to read it. If what it gives can seek, later passes leave out what
	// they have no use for. Errors go to the caller as they are.
	Open func() (io.ReadCloser, error)
}

// A sieve says which objects of an extract are wanted; nil is none of that kind. The
// functions are called by several goroutines at once, and keep nothing of what they
// say no to.
type sieve struct {
	node     func(*osm.Node) bool
	way      func(*osm.Way) bool
	relation func(*osm.Relation) bool
	only     func(way int64) bool // if not nil: blocks without such a way may be left out
}

func (s sieve) wants(o osm.Object) bool {
	switch o := o.(type) {
	case *osm.Node:
		return s.node != nil && s.node(o)
	case *osm.Way:
		return s.way != nil && s.way(o)
	case *osm.Relation:
		return s.relation != nil && s.relation(o)
	}
	return false
}

const hintExtract = "--map takes an extract of OpenStreetMap: .osm.pbf, .osm, .osm.gz or .osm.bz2"

// scan goes through an extract and hands over what is wanted, one after the other.
// Where it may, it begins at a byte that an earlier scan gave: where the ways begin, 0
// where that cannot be told. The error is an [*route.InputError], or what Open or ctx
// said.
func (e Extract) scan(ctx context.Context, cores int, from int64, s sieve, take func(osm.Object)) (ways int64, err error) {
	f, err := e.Open()
	if err != nil {
		return 0, err
	}
	defer f.Close()
	if seeker, ok := f.(io.Seeker); ok && from > 0 {
		if _, err := seeker.Seek(from, io.SeekStart); err == nil {
			return e.scanPBF(ctx, cores, bufio.NewReaderSize(f, bufferSize), from, s, take)
		}
	}
	file := bufio.NewReaderSize(f, bufferSize)
	r, done, err := unpacked(file)
	if err != nil {
		return 0, e.fault(err)
	}
	defer done()
	head, _ := r.Peek(1024)
	switch {
	case looksPBF(head):
		ways, err = e.scanPBF(ctx, cores, r, 0, s, take)
		if r != file { // the place is one in what was unpacked
			ways = 0
		}
		return ways, err
	case looksXML(head):
		return 0, e.scanXML(ctx, r, s, take)
	case len(head) == 0:
		return 0, e.fault(errors.New("the file is empty"))
	}
	return 0, e.fault(errors.New("this is no map extract"))
}

const bufferSize = 1 << 16

// unpacked takes the data out of gzip or bzip2. Unpacking has a goroutine of its own,
// for what it yields is XML, which takes long enough to read.
func unpacked(r *bufio.Reader) (*bufio.Reader, func(), error) {
	head, _ := r.Peek(3)
	switch {
	case bytes.HasPrefix(head, []byte("\x1f\x8b")):
		z, err := gzip.NewReader(r)
		if err != nil {
			return nil, nil, err
		}
		a := readAhead(z)
		return bufio.NewReaderSize(a, bufferSize), a.stop, nil
	case bytes.HasPrefix(head, []byte("BZh")):
		a := readAhead(bzip2.NewReader(r))
		return bufio.NewReaderSize(a, bufferSize), a.stop, nil
	}
	return r, func() {}, nil
}

// looksXML tells whether a file begins like OSM XML.
func looksXML(head []byte) bool {
	head = bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))
	head = bytes.TrimLeft(head, " \t\r\n")
	return bytes.HasPrefix(head, []byte("<")) && osmRoot.Match(head)
}

var osmRoot = regexp.MustCompile(`<osm[\s>]`)

func (e Extract) scanPBF(ctx context.Context, cores int, r io.Reader, from int64, s sieve, take func(osm.Object)) (ways int64, err error) {
	ctx, cancel := context.WithCancel(ctx)
	f := newFrames(ctx, r, from, cores, s.only)
	defer f.wait()
	in := osmpbf.New(ctx, f, cores)
	defer in.Close()
	defer cancel()
	in.SkipNodes, in.SkipWays, in.SkipRelations = s.node == nil, s.way == nil, s.relation == nil
	in.FilterNode = func(n *osm.Node) bool { return n.Visible && s.node(n) }
	in.FilterWay = func(w *osm.Way) bool { return w.Visible && s.way(w) }
	in.FilterRelation = func(r *osm.Relation) bool { return r.Visible && s.relation(r) }
	if _, err := in.Header(); err == io.EOF { // not one block has a way that is wanted
		return 0, nil
	}
	for in.Scan() {
		take(in.Object())
	}
	if err := in.Err(); err != nil {
		return 0, e.fault(err)
	}
	return f.ways, nil
}

// fault says where in the extract something is wrong.
func (e Extract) fault(err error) error {
	var syntax *xml.SyntaxError
	var placed *route.InputError
	var frame *frameError
	switch {
	case err == nil, errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.As(err, &placed):
		return err
	case errors.As(err, &syntax):
		return &route.InputError{File: e.Name, Line: syntax.Line, What: syntax.Msg, Hint: hintAgain}
	case errors.As(err, &frame):
		return &route.InputError{File: e.Name, What: frame.Error(), Hint: frame.hint}
	case errors.Is(err, io.ErrUnexpectedEOF):
		return &route.InputError{File: e.Name, What: "it is cut off", Hint: hintAgain}
	}
	return &route.InputError{File: e.Name, What: fmt.Sprint(err), Hint: hintExtract + "; " + hintAgain}
}
