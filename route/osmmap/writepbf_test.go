package osmmap

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"slices"

	"github.com/klauspost/compress/zlib"
	"github.com/paulmach/osm"
	"google.golang.org/protobuf/encoding/protowire"
)

// Objects are written as PBF here by the description of the format (OpenStreetMap
// wiki, "PBF Format"; fileformat.proto and osmformat.proto), so that one map can be
// read in both forms. It is as little of a writer as the tests need.

type message []byte

func (m *message) varint(field protowire.Number, v uint64) {
	*m = protowire.AppendVarint(protowire.AppendTag(*m, field, protowire.VarintType), v)
}

func (m *message) bytes(field protowire.Number, v []byte) {
	*m = protowire.AppendBytes(protowire.AppendTag(*m, field, protowire.BytesType), v)
}

// packed writes numbers, each as the difference from the one before.
func (m *message) packed(field protowire.Number, values []int64, delta bool) {
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
	m.bytes(field, b)
}

// A pbfWriter writes blocks of objects that follow each other.
type pbfWriter struct {
	out   io.Writer
	block int // objects in a block at most
	raw   bool
}

func (w *pbfWriter) frame(kind string, data []byte) {
	var blob message
	if w.raw {
		blob.bytes(1, data)
	} else {
		var z bytes.Buffer
		zw, _ := zlib.NewWriterLevel(&z, zlib.BestSpeed)
		zw.Write(data)
		zw.Close()
		blob.varint(2, uint64(len(data)))
		blob.bytes(3, z.Bytes())
	}
	w.blob(kind, blob)
}

// blob writes a block as it is packed.
func (w *pbfWriter) blob(kind string, blob message) {
	var header message
	header.bytes(1, []byte(kind))
	header.varint(3, uint64(len(blob)))
	binary.Write(w.out, binary.BigEndian, uint32(len(header)))
	w.out.Write(header)
	w.out.Write(blob)
}

func (w *pbfWriter) header(b *osm.Bounds) {
	var m message
	if b != nil {
		var box message
		for i, v := range []float64{b.MinLon, b.MaxLon, b.MaxLat, b.MinLat} {
			box.varint(protowire.Number(i+1), protowire.EncodeZigZag(int64(math.Round(v*1e9))))
		}
		m.bytes(1, box)
	}
	m.bytes(4, []byte("OsmSchema-V0.6"))
	m.bytes(4, []byte("DenseNodes"))
	w.frame("OSMHeader", m)
}

// write writes objects in their order, in blocks of one kind each.
func (w *pbfWriter) write(objects []osm.Object) {
	for len(objects) > 0 {
		n := 1
		for n < len(objects) && n < w.block && kindOf(objects[n]) == kindOf(objects[0]) {
			n++
		}
		w.group(objects[:n])
		objects = objects[n:]
	}
}

func kindOf(o osm.Object) osm.Type { return o.ObjectID().Type() }

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

func (w *pbfWriter) group(objects []osm.Object) {
	strings := &texts{number: map[string]int64{}}
	strings.of("")
	var group message
	switch objects[0].(type) {
	case *osm.Node:
		group.bytes(2, denseNodes(objects, strings))
	case *osm.Way:
		for _, o := range objects {
			group.bytes(3, wayMessage(o.(*osm.Way), strings))
		}
	case *osm.Relation:
		for _, o := range objects {
			group.bytes(4, relationMessage(o.(*osm.Relation), strings))
		}
	}
	var table, block message
	for _, s := range strings.all {
		table.bytes(1, s)
	}
	block.bytes(1, table)
	block.bytes(2, group)
	w.frame("OSMData", block)
}

func denseNodes(objects []osm.Object, strings *texts) []byte {
	var ids, lats, lons, tags, versions, times []int64
	for _, o := range objects {
		n := o.(*osm.Node)
		ids = append(ids, int64(n.ID))
		lats = append(lats, int64(math.Round(n.Lat*1e7)))
		lons = append(lons, int64(math.Round(n.Lon*1e7)))
		versions, times = append(versions, int64(n.Version)), append(times, n.Timestamp.Unix())
		for _, t := range n.Tags {
			tags = append(tags, strings.of(t.Key), strings.of(t.Value))
		}
		tags = append(tags, 0)
	}
	var m, info message
	info.packed(1, versions, false)
	info.packed(2, times, true)
	m.packed(1, ids, true)
	m.bytes(5, info)
	m.packed(8, lats, true)
	m.packed(9, lons, true)
	m.packed(10, tags, false)
	return m
}

// common writes what ways and relations have both.
func common(m *message, id int64, tags osm.Tags, version int, unix int64, strings *texts) {
	var keys, values []int64
	for _, t := range tags {
		keys, values = append(keys, strings.of(t.Key)), append(values, strings.of(t.Value))
	}
	var info message
	info.varint(1, uint64(version))
	info.varint(2, uint64(unix))
	m.varint(1, uint64(id))
	m.packed(2, keys, false)
	m.packed(3, values, false)
	m.bytes(4, info)
}

func wayMessage(w *osm.Way, strings *texts) []byte {
	var m message
	common(&m, int64(w.ID), w.Tags, w.Version, w.Timestamp.Unix(), strings)
	var refs []int64
	for _, n := range w.Nodes {
		refs = append(refs, int64(n.ID))
	}
	m.packed(8, refs, true)
	return m
}

func relationMessage(r *osm.Relation, strings *texts) []byte {
	var m message
	common(&m, int64(r.ID), r.Tags, r.Version, r.Timestamp.Unix(), strings)
	var roles, refs, kinds []int64
	for _, member := range r.Members {
		roles, refs = append(roles, strings.of(member.Role)), append(refs, member.Ref)
		kinds = append(kinds, int64(slices.Index([]osm.Type{osm.TypeNode, osm.TypeWay, osm.TypeRelation}, member.Type)))
	}
	m.packed(8, roles, false)
	m.packed(9, refs, true)
	m.packed(10, kinds, false)
	return m
}
