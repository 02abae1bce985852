package relief

import (
	"archive/zip"
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
)

const (
	maxFile    = 64 << 20 // bytes, packed or not: a tile packed is smaller than the tile
	maxMembers = 1000     // of a zip: the list of a million is larger than any tile
)

// A source is the file of a tile while it is read.
type source struct {
	corner corner
	name   string
	size   int64 // of the file
	in     *bufio.Reader
	room   func(size int) []byte
}

// read reads a tile and unpacks it, whatever its name says. No real tile begins
// as packed files do [3]: 1f 8b 08 would be 8075 m beside 2048 to 2303 m, and PK
// 20555 m.
func (t *Tiles) read(c corner, name string) ([]byte, error) {
	s := source{corner: c, name: name, room: t.room}
	info, err := fs.Stat(t.folder, name) // before it is opened: a pipe would wait for ever
	if err != nil {
		return nil, s.fault(cause(err), hintDisk)
	}
	if s.size = info.Size(); !info.Mode().IsRegular() {
		return nil, s.fault("this is no regular file", hintDamaged)
	}
	f, err := t.folder.Open(name)
	if err != nil {
		return nil, s.fault(cause(err), hintDisk)
	}
	defer f.Close()
	s.in = bufio.NewReader(f)
	head, _ := s.in.Peek(3) // what ails the reader comes up again on reading
	switch {
	case s.size > maxFile:
		return nil, s.fault(fmt.Sprintf("%d bytes, more than any tile", s.size), hintSize)
	case bytes.HasPrefix(head, []byte("\x1f\x8b\x08")):
		return s.gunzip()
	case bytes.HasPrefix(head, []byte("PK")):
		return s.unzip()
	}
	if err := s.checkSize(uint64(s.size), ""); err != nil {
		return nil, err
	}
	data, err := s.whole(s.in, int(s.size))
	if err != nil {
		return nil, s.readFault(err)
	}
	return data, nil
}

// gunzip unpacks a file that does not tell its size. Room for a large tile is
// made only where there is more than a small one.
func (s *source) gunzip() ([]byte, error) {
	unpacked, err := gzip.NewReader(s.in)
	if err != nil {
		return nil, s.readFault(err)
	}
	in := bufio.NewReader(unpacked)
	var data []byte
	for _, size := range [2]int{coarseSize, fineSize} {
		room := s.room(size)
		had := copy(room, data)
		n, err := fill(in, room[had:])
		if err == nil {
			_, err = in.Peek(1)
		}
		data = room[:had+n]
		if err == io.EOF {
			return data, s.checkSize(uint64(len(data)), " when unpacked")
		}
		if err != nil {
			return nil, s.readFault(err)
		}
	}
	return nil, s.fault(fmt.Sprintf("over %d bytes when unpacked, %s", fineSize, wantSize), hintSize)
}

// unzip unpacks the one tile in a zip. From its size on it is all in memory, so
// that whatever fails is the fault of the zip.
func (s *source) unzip() ([]byte, error) {
	packed := make([]byte, s.size)
	if n, err := fill(s.in, packed); n < len(packed) {
		return nil, s.readFault(err)
	}
	member, err := s.member(packed)
	if err != nil {
		return nil, err
	}
	if err := s.checkSize(member.UncompressedSize64, " in the zip"); err != nil {
		return nil, err
	}
	f, err := member.Open()
	if err != nil {
		return nil, s.zipFault(err)
	}
	defer f.Close()
	data, err := s.whole(f, int(member.UncompressedSize64))
	if err != nil {
		return nil, s.zipFault(err)
	}
	return data, nil
}

// member finds the one tile in a zip. What some systems lay beside it begins
// with a dot, or lies in a folder __MACOSX.
func (s *source) member(packed []byte) (*zip.File, error) {
	if bytes.Count(packed, []byte("PK\x01\x02")) > maxMembers { // its list is made before it can be looked at
		return nil, s.fault(fmt.Sprintf("over %d files in the zip", maxMembers), hintZip)
	}
	z, err := zip.NewReader(bytes.NewReader(packed), s.size)
	if err != nil {
		return nil, s.zipFault(err)
	}
	var found []*zip.File
	for _, f := range z.File {
		base := path.Base(f.Name)
		if strings.HasSuffix(strings.ToLower(base), ".hgt") && !f.Mode().IsDir() &&
			base[0] != '.' && !strings.HasPrefix(f.Name, "__MACOSX/") {
			found = append(found, f)
		}
	}
	if len(found) != 1 {
		return nil, s.fault(fmt.Sprintf("%d .hgt files in the zip, want one", len(found)), hintZip)
	}
	if c, _, ok := parseName(found[0].Name); ok && c != s.corner {
		return nil, s.fault(fmt.Sprintf("the tile in the zip is %s", c), hintZip)
	}
	return found[0], nil
}

// whole reads a tile that should end after size bytes, and its end: only there
// the sum over it is checked.
func (s *source) whole(r io.Reader, size int) ([]byte, error) {
	data := s.room(size)
	n, err := fill(r, data)
	if err == nil {
		var more [1]byte
		_, err = fill(r, more[:])
	}
	switch {
	case err == io.EOF && n == size:
		return data, nil
	case err == io.EOF:
		return nil, io.ErrUnexpectedEOF
	case err == nil:
		return nil, errLonger
	}
	return nil, err
}

var errLonger = errors.New("it goes on beyond its size")

// fill reads until b is full or reading ends. Unlike [io.ReadFull] it tells an
// end, which is [io.EOF], from packed data that are cut off.
func fill(r io.Reader, b []byte) (n int, err error) {
	for n < len(b) && err == nil {
		var more int
		more, err = r.Read(b[n:])
		n += more
	}
	return n, err
}
