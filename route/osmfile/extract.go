package osmfile

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

	"lastpump/route/input"

	"github.com/klauspost/compress/gzip"
	"github.com/klauspost/readahead"
)

// An Extract is a file of map data that can be read more than once: OpenStreetMap
// PBF, or OSM XML plain, in gzip or in bzip2, which its content tells and not its
// name.
type Extract struct {
	Name string // for messages
	// Open begins to read it. If what it gives can seek, a later scan of ways can leave
	// out the rest, see [Index]. Errors go to the caller as they are.
	Open func() (io.ReadCloser, error)
}

// ErrNoExtract is the cause of the error of a file that is no extract of a map.
var ErrNoExtract = errors.New("no extract of a map")

const hintAgain = "is the download whole? fetch it again"

// Scan goes through an extract and hands over what is wanted, block after block, in
// the order of the file but for that in a block. An index from an earlier scan that is
// not nil leaves out the rest of the file, if it can be sought in. It works in as many
// goroutines as there are cores, and calls take in the caller's own. The index that it
// gives is nil for XML and for what is packed as a whole. The error is an
// [*input.Error], or what Open or ctx said.
func (e Extract) Scan(ctx context.Context, cores int, only *Index, want Filter, take func(*Block)) (*Index, error) {
	f, err := e.Open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	file := bufio.NewReaderSize(f, bufferSize)
	if seeker, ok := f.(io.Seeker); ok && only != nil {
		return e.scanPBF(ctx, cores, &splitter{r: file, file: f, seeker: seeker, only: only.blobs}, want, take)
	}
	r, done, err := unpacked(file)
	if err != nil {
		return nil, e.fault(err)
	}
	defer done()
	head, _ := r.Peek(1024)
	switch {
	case looksPBF(head):
		index, err := e.scanPBF(ctx, cores, &splitter{r: r}, want, take)
		if r != file { // its places are those in what was unpacked
			index = nil
		}
		return index, err
	case looksXML(head):
		return nil, e.scanXML(ctx, r, want, take)
	case len(head) == 0:
		return nil, e.fault(errors.New("the file is empty"))
	}
	return nil, e.fault(errors.New("this is no map extract"))
}

const bufferSize = 1 << 16

// unpacked takes the data out of gzip or bzip2. Unpacking has a goroutine of its own,
// for what it yields is XML, which takes long enough to read.
func unpacked(r *bufio.Reader) (*bufio.Reader, func() error, error) {
	var packed io.Reader
	switch head, _ := r.Peek(3); {
	case bytes.HasPrefix(head, []byte("\x1f\x8b")):
		z, err := gzip.NewReader(r)
		if err != nil {
			return nil, nil, err
		}
		packed = z
	case bytes.HasPrefix(head, []byte("BZh")):
		packed = bzip2.NewReader(r)
	default:
		return r, func() error { return nil }, nil
	}
	ahead, err := readahead.NewReaderSize(packed, 4, 4*bufferSize)
	if err != nil {
		return nil, nil, err
	}
	return bufio.NewReaderSize(ahead, bufferSize), ahead.Close, nil
}

// looksXML tells whether a file begins like OSM XML.
func looksXML(head []byte) bool {
	head = bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))
	head = bytes.TrimLeft(head, " \t\r\n")
	return bytes.HasPrefix(head, []byte("<")) && osmRoot.Match(head)
}

var osmRoot = regexp.MustCompile(`<osm[\s>]`)

// fault says where in the extract something is wrong.
func (e Extract) fault(err error) error {
	var syntax *xml.SyntaxError
	var placed *input.Error
	switch {
	case err == nil, errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.As(err, &placed):
		placed.File = e.Name
		return placed
	case errors.As(err, &syntax):
		return &input.Error{File: e.Name, Line: syntax.Line, What: syntax.Msg, Hint: hintAgain}
	case errors.Is(err, io.ErrUnexpectedEOF):
		return &input.Error{File: e.Name, What: "it is cut off", Hint: hintAgain}
	}
	return &input.Error{File: e.Name, What: fmt.Sprint(err), Hint: hintAgain, Cause: ErrNoExtract}
}
