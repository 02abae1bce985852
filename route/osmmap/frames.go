package osmmap

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"sync"

	"github.com/klauspost/compress/zlib"
	"google.golang.org/protobuf/encoding/protowire"
)

// frames hands on a PBF file block by block. It unpacks each block and looks whether
// it holds together first: the library that reads them does so in goroutines of its
// own, which a wrong number in a block makes panic, with nobody there to catch it, and
// it unpacks whatever a block blows up to. Several blocks are looked at at once.
//
// The form of the file: the OpenStreetMap wiki, "PBF Format", and the schemas
// fileformat.proto and osmformat.proto, which come with that library.
type frames struct {
	ctx   context.Context
	order chan *frame // as they stand in the file
	now   []byte      // what is not yet handed on of the one at hand
	ways  int64       // where the first block with ways begins, 0 as long as there is none
	err   error
	gone  sync.WaitGroup
}

// A frame is one block of the file.
type frame struct {
	offset int64  // in the file
	packed []byte // its blob
	kind   string
	out    []byte // what is handed on: the block, not packed any more, or nothing
	ways   bool
	cut    error // it is not even whole, or the file is at its end
	err    error // with what is in it; to be read after done
	done   chan struct{}
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

const hintAgain = "is the download whole? fetch it again"

func damaged(offset int64, what string) error { return &frameError{offset, what, hintAgain} }

// looksPBF tells whether a file begins like PBF: the length of a header, and in it
// the name of the first block.
func looksPBF(head []byte) bool {
	return len(head) > 4 && binary.BigEndian.Uint32(head) < maxHeader && bytes.Contains(head[:min(len(head), 64)], []byte("OSMHeader"))
}

// newFrames begins to read a file, or the rest of it from an offset on. Blocks without
// a way that is wanted are left out where wanted is not nil. It reads until the end, a
// fault, or until ctx is done; wait waits for that.
func newFrames(ctx context.Context, r io.Reader, offset int64, cores int, wanted func(way int64) bool) *frames {
	f := &frames{ctx: ctx, order: make(chan *frame, 2*cores)}
	work := make(chan *frame, cores)
	f.gone.Go(func() {
		defer close(f.order)
		defer close(work)
		s := splitter{r: r, offset: offset}
		for {
			b := s.next()
			if !send(ctx, f.order, b) || b.cut != nil || !send(ctx, work, b) {
				return
			}
		}
	})
	for range max(cores, 1) {
		f.gone.Go(func() {
			u := unpacker{wanted: wanted}
			for b := range work {
				u.unpack(b)
				close(b.done)
			}
		})
	}
	return f
}

func (f *frames) wait() { f.gone.Wait() }

func send(ctx context.Context, to chan<- *frame, b *frame) bool {
	select {
	case to <- b:
		return true
	case <-ctx.Done():
		return false
	}
}

func (f *frames) Read(p []byte) (int, error) {
	for len(f.now) == 0 && f.err == nil {
		f.err = f.turn()
	}
	if len(f.now) == 0 {
		return 0, f.err
	}
	n := copy(p, f.now)
	f.now = f.now[n:]
	return n, nil
}

// turn goes on to the next block.
func (f *frames) turn() error {
	select {
	case b, ok := <-f.order:
		if !ok {
			return f.ctx.Err()
		}
		if b.cut != nil {
			return b.cut
		}
		select {
		case <-b.done:
		case <-f.ctx.Done():
			return f.ctx.Err()
		}
		if b.ways && f.ways == 0 {
			f.ways = b.offset
		}
		f.now = b.out
		return b.err
	case <-f.ctx.Done():
		return f.ctx.Err()
	}
}

// A splitter cuts a file into blocks.
type splitter struct {
	r      io.Reader
	offset int64
	head   []byte
}

// next reads a block: four bytes for the length of its header, the header, the blob.
// At the end of the file its fault is io.EOF.
func (s *splitter) next() *frame {
	b := &frame{offset: s.offset, done: make(chan struct{})}
	s.head = append(s.head[:0], 0, 0, 0, 0)
	if n, err := io.ReadFull(s.r, s.head); err != nil {
		b.cut = s.cut(err, n == 0)
		return b
	}
	length := binary.BigEndian.Uint32(s.head)
	if length == 0 || length >= maxHeader {
		b.cut = damaged(s.offset, "no block begins here")
		return b
	}
	if s.head, b.cut = s.read(s.head[:0], int(length)); b.cut != nil {
		return b
	}
	kind, size, ok := blobHeader(s.head)
	if !ok {
		b.cut = damaged(s.offset, "no block begins here")
		return b
	}
	b.kind = kind
	b.packed, b.cut = s.read(nil, size)
	s.offset += 4 + int64(length) + int64(size)
	return b
}

// read reads n bytes. They are asked for in pieces, so that a wrong length in a short
// file takes no space.
func (s *splitter) read(into []byte, n int) ([]byte, error) {
	const piece = 1 << 20
	for n > 0 {
		at, more := len(into), min(n, piece)
		into = append(into, make([]byte, more)...)
		if _, err := io.ReadFull(s.r, into[at:]); err != nil {
			return into, s.cut(err, false)
		}
		n -= more
	}
	return into, nil
}

// cut is the fault of a file that ends in the middle of a block.
func (s *splitter) cut(err error, between bool) error {
	switch {
	case err == io.EOF && between:
		return io.EOF
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return damaged(s.offset, "it is cut off")
	}
	return err
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
	return kind, size, ok && size >= 0 && size < maxBlob && kind != ""
}

// An unpacker unpacks blocks and looks at them.
type unpacker struct {
	wanted func(way int64) bool
	z      io.ReadCloser
	data   []byte
}

// unpack makes of a blob what is to be handed on.
func (u *unpacker) unpack(b *frame) {
	if b.kind != "OSMHeader" && b.kind != "OSMData" {
		return // the format says that what is not known is to be passed over
	}
	var raw, packed []byte
	rawSize, other := uint64(0), false
	whole := fields(b.packed, func(number protowire.Number, v uint64, data []byte) bool {
		switch number {
		case 1:
			raw = data
		case 2:
			rawSize = v
		case 3:
			packed = data
		default:
			other = true
		}
		return true
	})
	switch {
	case !whole, rawSize >= maxBlob, raw == nil && packed == nil && !other:
		b.err = damaged(b.offset, "the block is damaged")
		return
	case raw == nil && packed == nil:
		b.err = &frameError{b.offset, "the block is packed in a way that is not known here", "write the extract anew with zlib, which every program reads"}
		return
	case raw == nil:
		if raw = u.inflate(packed, int(rawSize)); raw == nil {
			b.err = damaged(b.offset, "the block is damaged")
			return
		}
	}
	if u.look(b, raw) {
		b.hand(raw)
	}
	b.packed = nil
}

// inflate unpacks zlib data that say how long they are; nil where they do not.
func (u *unpacker) inflate(packed []byte, size int) []byte {
	var err error
	if u.z == nil {
		u.z, err = zlib.NewReader(bytes.NewReader(packed))
	} else {
		err = u.z.(zlib.Resetter).Reset(bytes.NewReader(packed), nil)
	}
	if err != nil {
		u.z = nil
		return nil
	}
	if u.data == nil || cap(u.data) < size {
		u.data = make([]byte, size)
	}
	u.data = u.data[:size]
	if _, err := io.ReadFull(u.z, u.data); err != nil {
		return nil
	}
	// What comes after has to be the end, where the checksum is compared.
	if n, err := u.z.Read(make([]byte, 1)); n > 0 || err != io.EOF {
		return nil
	}
	return u.data
}

// look looks at what is in a block, and tells whether it is to be handed on.
func (u *unpacker) look(b *frame, raw []byte) bool {
	if b.kind == "OSMHeader" {
		if requires(raw, "HistoricalInformation") {
			b.err = &frameError{b.offset, "this is a history of the map", "take the map of one day out of it"}
		}
		return b.err == nil
	}
	c := blockCheck{wanted: u.wanted}
	switch err := c.check(raw); err {
	case nil:
	case errPlainNodes:
		b.err = &frameError{b.offset, err.Error(), "write the extract anew with dense nodes"}
		return false
	default:
		b.err = damaged(b.offset, err.Error())
		return false
	}
	b.ways = c.ways
	return u.wanted == nil || c.found
}

// hand makes a block to hand on, not packed any more.
func (b *frame) hand(raw []byte) {
	blob := protowire.AppendTag(nil, 1, protowire.BytesType)
	blob = protowire.AppendVarint(blob, uint64(len(raw)))
	header := protowire.AppendTag(nil, 1, protowire.BytesType)
	header = protowire.AppendString(header, b.kind)
	header = protowire.AppendTag(header, 3, protowire.VarintType)
	header = protowire.AppendVarint(header, uint64(len(blob)+len(raw)))
	b.out = make([]byte, 0, 4+len(header)+len(blob)+len(raw))
	b.out = binary.BigEndian.AppendUint32(b.out, uint32(len(header)))
	b.out = append(append(append(b.out, header...), blob...), raw...)
}
