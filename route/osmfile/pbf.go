package osmfile

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"sync"

	"lastpump/route/input"

	"github.com/klauspost/compress/zlib"
	"google.golang.org/protobuf/encoding/protowire"
)

// The form of a PBF file [1]: blobs, each with a header before it that says of what
// kind it is and how long. One goroutine cuts the file into blobs, others unpack and
// decode them, and the caller takes what comes of them in the order of the file.

// A blob is one of the file.
type blob struct {
	offset int64  // in the file
	kind   string // what is in it
	packed []byte
	blocks chan *Block // what was decoded; closed when there is no more
	ways   *indexed    // it has ways; this and err are to be read after the last block
	err    error
}

const (
	maxHeader = 64 << 10 // the format's own limits
	maxBlob   = 32 << 20
)

// damaged is the fault of a file at a byte.
func damaged(offset int64, what string) error { return faultAt(offset, what, hintAgain) }

func faultAt(offset int64, what, hint string) error {
	return &input.Error{What: fmt.Sprintf("at byte %d: %s", offset, what), Hint: hint}
}

// looksPBF tells whether a file begins like PBF: the length of a header, and in it
// the name of the first blob.
func looksPBF(head []byte) bool {
	return len(head) > 4 && binary.BigEndian.Uint32(head) < maxHeader &&
		bytes.Contains(head[:min(len(head), 64)], []byte("OSMHeader"))
}

// scanPBF scans what a splitter cuts.
func (e Extract) scanPBF(ctx context.Context, cores int, s *splitter, want Filter, take func(*Block)) (*Index, error) {
	cores = max(cores, 1)
	inner, cancel := context.WithCancel(ctx)
	order, work := make(chan *blob, 2*cores), make(chan *blob, cores)
	used := make(chan *Block, 2*cores)
	var running sync.WaitGroup
	defer running.Wait()
	defer cancel()
	running.Go(func() {
		defer close(order)
		defer close(work)
		for b := s.next(); b != nil; b = s.next() {
			if !send(inner, order, b) || b.err != nil || !send(inner, work, b) {
				return
			}
		}
	})
	for range cores {
		running.Go(func() {
			d := decoder{want: want, done: inner.Done(), used: used}
			for b := range work {
				b.err = d.unpack(b)
				close(b.blocks)
			}
		})
	}
	index := &Index{}
	for b := range order {
		if err := b.takeAll(inner, take, used); err != nil {
			return nil, e.fault(err)
		}
		if b.ways != nil {
			index.blobs = append(index.blobs, *b.ways)
		}
	}
	return index, ctx.Err()
}

func send[T any](ctx context.Context, to chan<- T, what T) bool {
	select {
	case to <- what:
		return true
	case <-ctx.Done():
		return false
	}
}

// takeAll takes what comes of a blob until there is no more. Blocks are used again.
func (b *blob) takeAll(ctx context.Context, take func(*Block), used chan<- *Block) error {
	for {
		select {
		case block, ok := <-b.blocks:
			if !ok {
				return cmp.Or(ctx.Err(), b.err)
			}
			take(block)
			block.empty()
			select {
			case used <- block:
			default:
			}
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// A splitter cuts a file into blobs, or cuts only some out of it.
type splitter struct {
	r      *bufio.Reader
	offset int64
	head   []byte
	file   io.Reader // that r reads, where only some are wanted
	seeker io.Seeker // the same; nil where all are
	only   []indexed
}

// next reads a blob: four bytes for the length of its header, the header, the blob. It
// is nil at the end of the file.
func (s *splitter) next() *blob {
	b := &blob{offset: s.offset, blocks: make(chan *Block, 1)}
	end, err := s.read(b)
	if end {
		return nil
	}
	if b.err = err; err != nil {
		close(b.blocks)
	}
	return b
}

func (s *splitter) read(b *blob) (end bool, err error) {
	if s.seeker != nil {
		if len(s.only) == 0 {
			return true, nil
		}
		b.offset, s.offset, s.only = s.only[0].offset, s.only[0].offset, s.only[1:]
		if _, err := s.seeker.Seek(s.offset, io.SeekStart); err != nil {
			return false, err
		}
		s.r.Reset(s.file)
	}
	s.head = append(s.head[:0], 0, 0, 0, 0)
	if _, err := io.ReadFull(s.r, s.head); err != nil {
		return err == io.EOF, s.cut(err)
	}
	length := binary.BigEndian.Uint32(s.head)
	if length == 0 || length >= maxHeader {
		return false, damaged(s.offset, "no block begins here")
	}
	if s.head, err = s.bytes(s.head[:0], int(length)); err != nil {
		return false, err
	}
	kind, size, ok := blobHeader(s.head)
	if !ok {
		return false, damaged(s.offset, "no block begins here")
	}
	b.kind = kind
	b.packed, err = s.bytes(nil, size)
	s.offset += 4 + int64(length) + int64(size)
	return false, err
}

// bytes reads n bytes. They are asked for in pieces, so that a wrong length in a short
// file takes no space.
func (s *splitter) bytes(into []byte, n int) ([]byte, error) {
	const piece = 1 << 20
	for n > 0 {
		at, more := len(into), min(n, piece)
		into = append(into, make([]byte, more)...)
		if _, err := io.ReadFull(s.r, into[at:]); err != nil {
			return into, s.cut(err)
		}
		n -= more
	}
	return into, nil
}

// cut is the fault of a file that ends in the middle of a blob.
func (s *splitter) cut(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return damaged(s.offset, "it is cut off")
	}
	return err
}

// blobHeader reads what kind of blob follows and how long it is.
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

// unpack unpacks a blob and decodes what is in it.
func (d *decoder) unpack(b *blob) error {
	if b.kind != "OSMHeader" && b.kind != "OSMData" {
		return nil // the format says that what is not known is to be passed over
	}
	raw, err := d.content(b)
	if err != nil {
		return err
	}
	if b.kind == "OSMHeader" {
		if requires(raw, "HistoricalInformation") {
			return faultAt(b.offset, "this is a history of the map", "take the map of one day out of it")
		}
		return nil
	}
	err = d.decode(raw, b.blocks)
	if d.first <= d.last {
		b.ways = &indexed{b.offset, d.first, d.last}
	}
	switch err {
	case errPlainNodes:
		return faultAt(b.offset, err.Error(), "write the extract anew with dense nodes")
	case errDamaged:
		return damaged(b.offset, err.Error())
	}
	return err
}

// content gives what is packed in a blob, until the next is asked for.
func (d *decoder) content(b *blob) ([]byte, error) {
	var raw, packed []byte
	size, other := uint64(0), false
	whole := fields(b.packed, func(number protowire.Number, v uint64, data []byte) bool {
		switch number {
		case 1:
			raw = data
		case 2:
			size = v
		case 3:
			packed = data
		default:
			other = true
		}
		return true
	})
	b.packed = nil
	switch {
	case whole && raw == nil && packed == nil && other:
		return nil, faultAt(b.offset, "the block is packed in a way that is not known here",
			"write the extract anew with zlib, which every program reads")
	case whole && size < maxBlob && raw != nil:
		return raw, nil
	case whole && size < maxBlob && packed != nil:
		if raw = d.inflate(packed, int(size)); raw != nil {
			return raw, nil
		}
	}
	return nil, damaged(b.offset, "the block is damaged")
}

// inflate unpacks zlib data that say how long they are; nil where they do not.
func (d *decoder) inflate(packed []byte, size int) []byte {
	var err error
	if d.z == nil {
		d.z, err = zlib.NewReader(bytes.NewReader(packed))
	} else {
		err = d.z.(zlib.Resetter).Reset(bytes.NewReader(packed), nil)
	}
	if err != nil {
		d.z = nil
		return nil
	}
	if d.data == nil || cap(d.data) < size {
		d.data = make([]byte, size)
	}
	d.data = d.data[:size]
	if _, err := io.ReadFull(d.z, d.data); err != nil {
		return nil
	}
	// What comes after has to be the end, where the checksum is compared.
	if n, err := d.z.Read(make([]byte, 1)); n > 0 || err != io.EOF {
		return nil
	}
	return d.data
}
