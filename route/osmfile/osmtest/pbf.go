// Package osmtest writes extracts of a map for tests: as little of a writer as they
// need, and with what it takes to write damaged ones.
package osmtest

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"time"

	"lastpump/route/osmfile"

	"github.com/klauspost/compress/zlib"
	"google.golang.org/protobuf/encoding/protowire"
)

// PBF writes objects as a PBF file, by the description of the format (OpenStreetMap
// wiki, "PBF Format"; fileformat.proto and osmformat.proto): in blocks of so many at
// most, packed or raw. Objects are *osmfile.Node, *osmfile.Way and *osmfile.Relation.
func PBF(objects []any, block int, raw bool) []byte {
	var b bytes.Buffer
	w := &Writer{Out: &b, Block: block, Raw: raw}
	w.Header()
	w.Write(objects)
	return b.Bytes()
}

// A Message is one of protobuf.
type Message []byte

// Varint adds a number.
func (m *Message) Varint(field protowire.Number, v uint64) {
	*m = protowire.AppendVarint(protowire.AppendTag(*m, field, protowire.VarintType), v)
}

// Bytes adds data with a length.
func (m *Message) Bytes(field protowire.Number, v []byte) {
	*m = protowire.AppendBytes(protowire.AppendTag(*m, field, protowire.BytesType), v)
}

// Packed adds numbers, each as the difference from the one before.
func (m *Message) Packed(field protowire.Number, values []int64, delta bool) {
	var b []byte
	last := int64(0)
	for _, v := range values {
		if delta {
			b = protowire.AppendVarint(b, protowire.EncodeZigZag(v-last))
			last = v
		} else {
			b = protowire.AppendVarint(b, uint64(v))
		}
	}
	m.Bytes(field, b)
}

// A Writer writes blocks of objects that follow each other.
type Writer struct {
	Out   io.Writer
	Block int // objects in a block at most
	Raw   bool
}

// Frame writes a block of some kind.
func (w *Writer) Frame(kind string, data []byte) {
	var blob Message
	if w.Raw {
		blob.Bytes(1, data)
	} else {
		var z bytes.Buffer
		zw, _ := zlib.NewWriterLevel(&z, zlib.BestSpeed)
		zw.Write(data)
		zw.Close()
		blob.Varint(2, uint64(len(data)))
		blob.Bytes(3, z.Bytes())
	}
	w.Blob(kind, blob)
}

// Blob writes a block as it is packed.
func (w *Writer) Blob(kind string, blob Message) {
	var header Message
	header.Bytes(1, []byte(kind))
	header.Varint(3, uint64(len(blob)))
	binary.Write(w.Out, binary.BigEndian, uint32(len(header)))
	w.Out.Write(header)
	w.Out.Write(blob)
}

// Header writes the first block of a file.
func (w *Writer) Header() {
	var m Message
	m.Bytes(4, []byte("OsmSchema-V0.6"))
	m.Bytes(4, []byte("DenseNodes"))
	w.Frame("OSMHeader", m)
}

// Write writes objects in their order, in blocks of one kind each.
func (w *Writer) Write(objects []any) {
	for len(objects) > 0 {
		n := 1
		for n < len(objects) && n < w.Block && kindOf(objects[n]) == kindOf(objects[0]) {
			n++
		}
		w.group(objects[:n])
		objects = objects[n:]
	}
}

func kindOf(o any) osmfile.Kind {
	switch o.(type) {
	case *osmfile.Node:
		return osmfile.IsNode
	case *osmfile.Way:
		return osmfile.IsWay
	}
	return osmfile.IsRelation
}

type texts struct {
	all    [][]byte
	number map[string]int64
}

func (t *texts) of(s string) int64 {
	n, ok := t.number[s]
	if !ok {
		n = int64(len(t.all))
		t.all = append(t.all, []byte(s))
		t.number[s] = n
	}
	return n
}

func (w *Writer) group(objects []any) {
	strings := &texts{number: map[string]int64{}}
	strings.of("")
	var group Message
	switch objects[0].(type) {
	case *osmfile.Node:
		group.Bytes(2, denseNodes(objects, strings))
	case *osmfile.Way:
		for _, o := range objects {
			group.Bytes(3, wayMessage(o.(*osmfile.Way), strings))
		}
	case *osmfile.Relation:
		for _, o := range objects {
			group.Bytes(4, relationMessage(o.(*osmfile.Relation), strings))
		}
	}
	var table, block Message
	for _, s := range strings.all {
		table.Bytes(1, s)
	}
	block.Bytes(1, table)
	block.Bytes(2, group)
	w.Frame("OSMData", block)
}

func denseNodes(objects []any, strings *texts) []byte {
	var ids, lats, lons, tags, versions, times []int64
	for _, o := range objects {
		n := o.(*osmfile.Node)
		ids = append(ids, n.ID)
		lats = append(lats, int64(math.Round(n.Lat*1e7)))
		lons = append(lons, int64(math.Round(n.Lon*1e7)))
		versions, times = append(versions, int64(n.Version)), append(times, unix(n.Time))
		for _, t := range n.Tags {
			tags = append(tags, strings.of(t.Key), strings.of(t.Value))
		}
		tags = append(tags, 0)
	}
	var m, info Message
	info.Packed(1, versions, false)
	info.Packed(2, times, true)
	m.Packed(1, ids, true)
	m.Bytes(5, info)
	m.Packed(8, lats, true)
	m.Packed(9, lons, true)
	m.Packed(10, tags, false)
	return m
}

// common writes what ways and relations have both.
func common(m *Message, id int64, tags osmfile.Tags, version int, unix int64, strings *texts) {
	var keys, values []int64
	for _, t := range tags {
		keys, values = append(keys, strings.of(t.Key)), append(values, strings.of(t.Value))
	}
	var info Message
	info.Varint(1, uint64(version))
	info.Varint(2, uint64(unix))
	m.Varint(1, uint64(id))
	m.Packed(2, keys, false)
	m.Packed(3, values, false)
	m.Bytes(4, info)
}

func wayMessage(w *osmfile.Way, strings *texts) []byte {
	var m Message
	common(&m, w.ID, w.Tags, w.Version, unix(w.Time), strings)
	m.Packed(8, w.Nodes, true)
	return m
}

func relationMessage(r *osmfile.Relation, strings *texts) []byte {
	var m Message
	common(&m, r.ID, r.Tags, r.Version, unix(r.Time), strings)
	var roles, refs, kinds []int64
	for _, member := range r.Members {
		roles, refs = append(roles, strings.of(member.Role)), append(refs, member.ID)
		kinds = append(kinds, int64(member.Kind))
	}
	m.Packed(8, roles, false)
	m.Packed(9, refs, true)
	m.Packed(10, kinds, false)
	return m
}

func unix(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.Unix()
}
