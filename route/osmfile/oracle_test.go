package osmfile_test

import (
	"bytes"
	"compress/bzip2"
	"compress/zlib"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"

	"lastpump/route/osmfile"
	"lastpump/testdata/kit/extracts"

	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmxml"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protodesc"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/descriptorpb"
	"google.golang.org/protobuf/types/dynamicpb"
)

// Here PBF is read by the general decoder of protobuf and the schema of the format
// (OpenStreetMap wiki, fileformat.proto and osmformat.proto), and XML by the scanner of
// paulmach/osm: other programs than ours.

// schema has the messages with those of their fields that matter: number, name, type;
// a star behind the type is a packed list, a plus one that is not.
var schema = map[string]string{
	"BlobHeader":     "1 type string, 3 datasize int32",
	"Blob":           "1 raw bytes, 2 raw_size int32, 3 zlib_data bytes",
	"PrimitiveBlock": "1 stringtable StringTable, 2 primitivegroup PrimitiveGroup+",
	"StringTable":    "1 s bytes+",
	"PrimitiveGroup": "2 dense DenseNodes, 3 ways Way+, 4 relations Relation+",
	"DenseNodes":     "1 id sint64*, 5 denseinfo DenseInfo, 8 lat sint64*, 9 lon sint64*, 10 keys_vals int32*",
	"DenseInfo":      "1 version int32*, 2 timestamp sint64*",
	"Info":           "1 version int32, 2 timestamp int64",
	"Way":            "1 id int64, 2 keys uint32*, 3 vals uint32*, 4 info Info, 8 refs sint64*",
	"Relation": "1 id int64, 2 keys uint32*, 3 vals uint32*, 4 info Info, " +
		"8 roles_sid int32*, 9 memids sint64*, 10 types int32*",
}

var kinds = map[string]descriptorpb.FieldDescriptorProto_Type{"string": descriptorpb.FieldDescriptorProto_TYPE_STRING,
	"bytes": descriptorpb.FieldDescriptorProto_TYPE_BYTES, "int32": descriptorpb.FieldDescriptorProto_TYPE_INT32,
	"int64": descriptorpb.FieldDescriptorProto_TYPE_INT64, "uint32": descriptorpb.FieldDescriptorProto_TYPE_UINT32,
	"sint64": descriptorpb.FieldDescriptorProto_TYPE_SINT64}

func messages(t testing.TB) protoreflect.MessageDescriptors {
	t.Helper()
	file := &descriptorpb.FileDescriptorProto{Name: proto.String("osm.proto"), Syntax: proto.String("proto2")}
	for name, fields := range schema {
		m := &descriptorpb.DescriptorProto{Name: proto.String(name)}
		for _, field := range strings.Split(fields, ", ") {
			var number int32
			var called, kind string
			fmt.Sscan(field, &number, &called, &kind)
			label, options := descriptorpb.FieldDescriptorProto_LABEL_OPTIONAL, (*descriptorpb.FieldOptions)(nil)
			plain := strings.TrimRight(kind, "*+")
			if plain != kind {
				label = descriptorpb.FieldDescriptorProto_LABEL_REPEATED
				options = &descriptorpb.FieldOptions{Packed: proto.Bool(strings.HasSuffix(kind, "*"))}
			}
			f := &descriptorpb.FieldDescriptorProto{Name: proto.String(called), Number: proto.Int32(number),
				Label: label.Enum(), Options: options}
			if scalar, ok := kinds[plain]; ok {
				f.Type = scalar.Enum()
			} else {
				f.Type, f.TypeName = descriptorpb.FieldDescriptorProto_TYPE_MESSAGE.Enum(), proto.String("."+plain)
				f.Options = nil
			}
			m.Field = append(m.Field, f)
		}
		file.MessageType = append(file.MessageType, m)
	}
	d, err := protodesc.NewFile(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d.Messages()
}

// A view is a message whose fields are asked for by name.
type view struct{ protoreflect.Message }

func (v view) get(name string) protoreflect.Value {
	return v.Get(v.Descriptor().Fields().ByName(protoreflect.Name(name)))
}

func (v view) sub(name string) view { return view{v.get(name).Message()} }

func (v view) each(name string, f func(view)) {
	for l, i := v.get(name).List(), 0; i < l.Len(); i++ {
		f(view{l.Get(i).Message()})
	}
}

// numbers gives a list, each number added to those before if they are differences.
func (v view) numbers(name string, differences bool) (out []int64) {
	total := int64(0)
	for l, i := v.get(name).List(), 0; i < l.Len(); i++ {
		n, ok := l.Get(i).Interface().(int64)
		if !ok {
			n = reflect.ValueOf(l.Get(i).Interface()).Convert(reflect.TypeFor[int64]()).Int()
		}
		if total += n; differences {
			n = total
		}
		out = append(out, n)
	}
	return out
}

// pbfOracle reads every so many blocks of a file, and the last, and gives those as a file of their
// own.
func pbfOracle(t testing.TB, data []byte, every int) (b osmfile.Block, file []byte) {
	all := messages(t)
	parse := func(name protoreflect.Name, data []byte) view {
		m := dynamicpb.NewMessage(all.ByName(name))
		if err := proto.Unmarshal(data, m); err != nil {
			t.Fatal(err)
		}
		return view{m}
	}
	for i := 0; len(data) > 0; i++ {
		length := 4 + binary.BigEndian.Uint32(data)
		header := parse("BlobHeader", data[4:length])
		whole := length + uint32(header.get("datasize").Int())
		blob, isData := parse("Blob", data[length:whole]), header.get("type").String() == "OSMData"
		wanted := i%every == 0 || int(whole) == len(data)
		if wanted || !isData {
			file = append(file, data[:whole]...)
		}
		if data = data[whole:]; !wanted || !isData {
			continue
		}
		z, err := zlib.NewReader(bytes.NewReader(blob.get("zlib_data").Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		raw, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		addBlock(&b, parse("PrimitiveBlock", raw))
	}
	return b, file
}

func addBlock(b *osmfile.Block, block view) {
	var texts []string
	for l, i := block.sub("stringtable").get("s").List(), 0; i < l.Len(); i++ {
		texts = append(texts, string(l.Get(i).Bytes()))
	}
	edit := func(version, unix int64) osmfile.Edit {
		return osmfile.Edit{Version: int(version), Time: time.Unix(unix, 0).UTC()}
	}
	common := func(v view) (tags osmfile.Tags, e osmfile.Edit) {
		values := v.numbers("vals", false)
		for i, key := range v.numbers("keys", false) {
			tags = append(tags, osmfile.Tag{Key: texts[key], Value: texts[values[i]]})
		}
		return tags, edit(v.sub("info").get("version").Int(), v.sub("info").get("timestamp").Int())
	}
	block.each("primitivegroup", func(group view) {
		dense := group.sub("dense")
		lats, lons, words := dense.numbers("lat", true), dense.numbers("lon", true), dense.numbers("keys_vals", false)
		versions, times := dense.sub("denseinfo").numbers("version", false), dense.sub("denseinfo").numbers("timestamp", true)
		for i, id := range dense.numbers("id", true) {
			n := osmfile.Node{ID: id, Lat: float64(lats[i]) / 1e7, Lon: float64(lons[i]) / 1e7, Edit: edit(versions[i],
				times[i])}
			for len(words) > 0 && words[0] != 0 {
				n.Tags = append(n.Tags, osmfile.Tag{Key: texts[words[0]], Value: texts[words[1]]})
				words = words[2:]
			}
			if len(words) > 0 {
				words = words[1:]
			}
			b.Nodes = append(b.Nodes, n)
		}
		group.each("ways", func(v view) {
			tags, e := common(v)
			b.Ways = append(b.Ways, osmfile.Way{ID: v.get("id").Int(), Nodes: v.numbers("refs", true), Tags: tags, Edit: e})
		})
		group.each("relations", func(v view) {
			tags, e := common(v)
			r := osmfile.Relation{ID: v.get("id").Int(), Tags: tags, Edit: e}
			roles, types := v.numbers("roles_sid", false), v.numbers("types", false)
			for i, id := range v.numbers("memids", true) {
				r.Members = append(r.Members, osmfile.Member{Ref: osmfile.Ref{Kind: osmfile.Kind(types[i]), ID: id},
					Role: texts[roles[i]]})
			}
			b.Relations = append(b.Relations, r)
		})
	})
}

// Every object of Delaware is what the general decoder of protobuf makes of it; in the
// short run every object of one block in twelve.
func TestPBFAgainstTheGeneralDecoder(t *testing.T) {
	data, err := os.ReadFile(extracts.Path(t, extracts.Delaware))
	if err != nil {
		t.Fatal(err)
	}
	every := 12
	if os.Getenv("LASTPUMP_LONG") != "" {
		every = 1
	}
	want, file := pbfOracle(t, data, every)
	got, err := extracts.Objects(inMemory(file))
	if err != nil {
		t.Fatal(err)
	}
	sameObjects(t, got, want)
}

// Every object of Andorra is what the scanner of paulmach/osm makes of it; in the short
// run what stands in a file of its first eight megabytes.
func TestXMLAgainstAnotherScanner(t *testing.T) {
	f, err := os.Open(extracts.Path(t, extracts.Andorra))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := bzip2.NewReader(f)
	data := make([]byte, 8<<20)
	if os.Getenv("LASTPUMP_LONG") != "" {
		data, err = io.ReadAll(r)
	} else if _, err = io.ReadFull(r, data); err == nil {
		data = append(data[:bytes.LastIndex(data, []byte("\n\t<"))], "</osm>"...)
	}
	if err != nil {
		t.Fatal(err)
	}
	var want osmfile.Block
	s := osmxml.New(context.Background(), bytes.NewReader(data))
	defer s.Close()
	for s.Scan() {
		addObject(&want, s.Object())
	}
	if s.Err() != nil {
		t.Fatal(s.Err())
	}
	got, err := extracts.Objects(inMemory(data))
	if err != nil {
		t.Fatal(err)
	}
	sameObjects(t, got, want)
}

func addObject(b *osmfile.Block, o osm.Object) {
	tagsOf := func(tags osm.Tags) (out osmfile.Tags) {
		for _, t := range tags {
			out = append(out, osmfile.Tag{Key: t.Key, Value: t.Value})
		}
		return out
	}
	switch o := o.(type) {
	case *osm.Node:
		b.Nodes = append(b.Nodes, osmfile.Node{ID: int64(o.ID), Lon: o.Lon, Lat: o.Lat, Tags: tagsOf(o.Tags),
			Edit: osmfile.Edit{Version: o.Version, Time: o.Timestamp}})
	case *osm.Way:
		w := osmfile.Way{ID: int64(o.ID), Tags: tagsOf(o.Tags), Edit: osmfile.Edit{Version: o.Version, Time: o.Timestamp}}
		for _, n := range o.Nodes {
			w.Nodes = append(w.Nodes, int64(n.ID))
		}
		b.Ways = append(b.Ways, w)
	case *osm.Relation:
		r := osmfile.Relation{ID: int64(o.ID), Tags: tagsOf(o.Tags), Edit: osmfile.Edit{Version: o.Version,
			Time: o.Timestamp}}
		for _, m := range o.Members {
			kind := map[osm.Type]osmfile.Kind{osm.TypeNode: osmfile.IsNode, osm.TypeWay: osmfile.IsWay,
				osm.TypeRelation: osmfile.IsRelation}[m.Type]
			r.Members = append(r.Members, osmfile.Member{Ref: osmfile.Ref{Kind: kind, ID: m.Ref}, Role: m.Role})
		}
		b.Relations = append(b.Relations, r)
	}
}

func sameObjects(t *testing.T, got, want osmfile.Block) {
	t.Helper()
	t.Logf("%d nodes, %d ways, %d relations", len(want.Nodes), len(want.Ways), len(want.Relations))
	if len(got.Nodes) != len(want.Nodes) || len(got.Ways) != len(want.Ways) ||
		len(got.Relations) != len(want.Relations) || len(want.Nodes) < 10_000 {
		t.Fatalf("%d nodes, %d ways, %d relations", len(got.Nodes), len(got.Ways), len(got.Relations))
	}
	for i, n := range got.Nodes {
		// A place in steps of 1e-7 degrees, as the map has it, is one and the same.
		if w := want.Nodes[i]; math.Abs(n.Lon-w.Lon) < 1e-12 && math.Abs(n.Lat-w.Lat) < 1e-12 {
			n.Lon, n.Lat = w.Lon, w.Lat
		}
		same(t, n, want.Nodes[i])
	}
	for i, w := range got.Ways {
		same(t, w, want.Ways[i])
	}
	for i, r := range got.Relations {
		same(t, r, want.Relations[i])
	}
}

func same[T any](t *testing.T, got, want T) {
	if !reflect.DeepEqual(got, want) {
		t.Fatalf("%+v, want %+v", got, want)
	}
}
