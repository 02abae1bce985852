package osmmap

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"github.com/klauspost/compress/zlib"
	"google.golang.org/protobuf/encoding/protowire"
)

// frames hands on a PBF file block by block and looks at each block first: the
// library that unpacks them does so in goroutines of its own, which a damaged length
// or nodes in the old form would make panic, with nobody there to catch it.
//
// The form of the file: the OpenStreetMap wiki, "PBF Format", and the schemas
// fileformat.proto and osmformat.proto, which come with that library.
type frames struct {
	r      io.Reader
	offset int64  // of the block at hand in the file
	block  []byte // of it, what is not yet read
	space  []byte // that it stands in
	data   int    // blocks of data seen
	err    error
}

const (
	maxHeader = 64 << 10 // the format's own limits
	maxBlob   = 32 << 20
)

// A frameError is a fault in the form of a PBF file.
type frameError struct {
	offset     int64
	what, hint string
}

func (e *frameError) Error() string { return fmt.Sprintf("at byte %d: %s", e.offset, e.what) }

// looksPBF tells whether a file begins like PBF: the length of a header, and in it
// the name of the first block.
func looksPBF(head []byte) bool {
	return len(head) > 4 && binary.BigEndian.Uint32(head) < maxHeader && bytes.Contains(head[:min(len(head), 64)], []byte("OSMHeader"))
}

func (f *frames) Read(p []byte) (int, error) {
	if len(f.block) == 0 {
		if f.err == nil {
			f.err = f.next()
		}
		if f.err != nil {
			return 0, f.err
		}
	}
	n := copy(p, f.block)
	f.block = f.block[n:]
	return n, nil
}

func (f *frames) fault(what string) error {
	return &frameError{f.offset, what, "is the download whole? fetch it again"}
}

// next reads a block: four bytes for the length of its header, the header, the blob.
func (f *frames) next() error {
	f.offset += int64(len(f.space))
	f.space = append(f.space[:0], 0, 0, 0, 0)
	if n, err := io.ReadFull(f.r, f.space); err != nil {
		return f.cut(err, n == 0)
	}
	size := binary.BigEndian.Uint32(f.space)
	if size == 0 || size >= maxHeader {
		return f.fault("no block begins here")
	}
	if err := f.read(int(size)); err != nil {
		return err
	}
	kind, size32, ok := blobHeader(f.space[4:])
	if !ok {
		return f.fault("no block begins here")
	}
	header := len(f.space)
	if err := f.read(size32); err != nil {
		return err
	}
	if err := f.look(kind, f.space[header:]); err != nil {
		return err
	}
	f.block = f.space
	return nil
}

// read reads n more bytes of the block. They are asked for in pieces, so that a wrong
// length in a short file takes no space.
func (f *frames) read(n int) error {
	const piece = 1 << 20
	for n > 0 {
		at, more := len(f.space), min(n, piece)
		f.space = append(f.space, make([]byte, more)...)
		if _, err := io.ReadFull(f.r, f.space[at:]); err != nil {
			return f.cut(err, false)
		}
		n -= more
	}
	return nil
}

// cut is the fault of a file that ends in the middle of a block.
func (f *frames) cut(err error, between bool) error {
	switch {
	case err == io.EOF && between:
		return io.EOF
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return f.fault("it is cut off")
	}
	return err
}

// fields goes through a message field by field until f has seen enough: v is the value
// of a number, data that of anything with a length. It tells whether the message is
// whole, as far as it was seen.
func fields(message []byte, f func(number protowire.Number, v uint64, data []byte) bool) bool {
	for len(message) > 0 {
		number, kind, n := protowire.ConsumeTag(message)
		if n < 0 {
			return false
		}
		message = message[n:]
		var v uint64
		var data []byte
		switch kind {
		case protowire.VarintType:
			v, n = protowire.ConsumeVarint(message)
		case protowire.BytesType:
			data, n = protowire.ConsumeBytes(message)
		default:
			n = protowire.ConsumeFieldValue(number, kind, message)
		}
		if n < 0 {
			return false
		}
		message = message[n:]
		if !f(number, v, data) {
			return true
		}
	}
	return true
}

// blobHeader reads what kind of block follows and how long it is.
func blobHeader(message []byte) (kind string, size int, ok bool) {
	size = -1
	ok = fields(message, func(number protowire.Number, v uint64, data []byte) bool {
		switch number {
		case 1:
			kind = string(data)
		case 3:
			size = int(min(v, maxBlob))
		}
		return true
	})
	return kind, size, ok && size >= 0 && size < maxBlob && (kind == "OSMHeader" || kind == "OSMData")
}

// look tells what is wrong with a blob.
func (f *frames) look(kind string, blob []byte) error {
	var raw, packed []byte
	rawSize, other := uint64(0), protowire.Number(0)
	whole := fields(blob, func(number protowire.Number, v uint64, data []byte) bool {
		switch number {
		case 1:
			raw = data
		case 2:
			rawSize = v
		case 3:
			packed = data
		default:
			other = number
		}
		return true
	})
	switch {
	case !whole, rawSize > maxBlob:
		return f.fault("the block is damaged")
	case raw == nil && packed == nil && other != 0:
		return &frameError{f.offset, "the block is packed in a way that is not known here", "write the extract anew with zlib, which every program reads"}
	case raw == nil && packed == nil:
		return f.fault("the block is empty")
	}
	if kind != "OSMData" {
		return nil
	}
	f.data++
	if f.data == 1 && plainNodes(raw, packed) {
		return &frameError{f.offset, "the nodes are in the old form, one by one", "write the extract anew with dense nodes"}
	}
	return nil
}

// plainNodes tells whether the first block of data has nodes in the old form: nodes
// come first, and all in one form.
func plainNodes(raw, packed []byte) (plain bool) {
	if raw == nil {
		z, err := zlib.NewReader(bytes.NewReader(packed))
		if err != nil {
			return false // it will be told when it is read
		}
		raw, _ = io.ReadAll(io.LimitReader(z, maxBlob))
	}
	const group, node = 2, 1
	fields(raw, func(number protowire.Number, _ uint64, data []byte) bool {
		if number == group {
			fields(data, func(number protowire.Number, _ uint64, _ []byte) bool {
				plain = plain || number == node
				return false // a group holds one kind
			})
		}
		return true
	})
	return plain
}
