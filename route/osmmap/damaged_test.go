package osmmap

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"strings"
	"testing"

	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
	"google.golang.org/protobuf/encoding/protowire"
)

// A hamlet is a small map: a road with a surface, a pump, a pump as a way.
func hamlet() []osm.Object {
	node := func(id osm.NodeID, lon, lat float64, tags string) osm.Object {
		return &osm.Node{ID: id, Lon: lon, Lat: lat, Version: 1, Visible: true, Tags: tagsOf(tags)}
	}
	way := func(id osm.WayID, tags string, nodes ...osm.NodeID) osm.Object {
		w := &osm.Way{ID: id, Version: 1, Visible: true, Tags: tagsOf(tags)}
		for _, n := range nodes {
			w.Nodes = append(w.Nodes, osm.WayNode{ID: n})
		}
		return w
	}
	return []osm.Object{
		node(1, 10.00, 45, ""), node(2, 10.02, 45, ""), node(3, 10.04, 45, ""),
		node(4, 10.021, 45.001, "amenity=fuel name=Ash~Creek"),
		node(5, 10.0301, 45.0002, ""), node(6, 10.0303, 45.0002, ""), node(7, 10.0303, 45.0004, ""),
		way(1, "highway=unclassified surface=gravel", 1, 2), way(2, "highway=track surface=sand", 2, 3),
		way(3, "amenity=fuel name=Far~Well", 5, 6, 7, 5),
		&osm.Relation{ID: 1, Version: 1, Visible: true, Tags: tagsOf("amenity=fuel name=Far~Well"),
			Members: osm.Members{{Type: osm.TypeWay, Ref: 3}, {Type: osm.TypeWay, Ref: 99}, {Type: osm.TypeNode, Ref: 98}}},
	}
}

func hamletLine(t testing.TB) *route.Line {
	return straightLine(t, []orb.Point{{10.001, 45}, {10.039, 45}})
}

func TestHamlet(t *testing.T) {
	got := resultOf(t, hamletLine(t), DefaultOptions(), seekable("a", asPBF(hamlet(), 3, false)))
	if !strings.Contains(got.Stops, "Ash Creek,45.001,10.021,,,,map,,,,\"map data © OpenStreetMap contributors, ODbL 1.0\"\n") ||
		!strings.Contains(got.Stops, "Far Well,45.0002,10.030") || strings.Count(got.Stops, "\n") != 3 {
		t.Errorf("stops:\n%s", got.Stops)
	}
	// 0.019 and 0.019 degrees of longitude at 45°, by arithmetic: 1.494 km each.
	if !strings.HasPrefix(got.Ground, "from_km,to_km,ground,note\n0.000,1.494,loose-gravel,\"highway=unclassified surface=gravel; map data ©") ||
		!strings.Contains(got.Ground, "\n1.494,2.988,sand,highway=track surface=sand\n") {
		t.Errorf("ground:\n%s", got.Ground)
	}
}

func errorOf(t testing.TB, data []byte) *route.InputError {
	t.Helper()
	_, err := Read(context.Background(), hamletLine(t), []Extract{inMemory("map", data)}, DefaultOptions())
	var ie *route.InputError
	if !errors.As(err, &ie) {
		t.Fatalf("the error is %v", err)
	}
	return ie
}

// What is no extract, or is damaged, is said with its place and a hint.
func TestBadExtracts(t *testing.T) {
	pbf := asPBF(hamlet(), 3, false)
	xml := asXML(t, hamlet())
	swap := func(data []byte, old, next string) []byte { return bytes.Replace(data, []byte(old), []byte(next), 1) }
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty":                       {nil, "map: the file is empty"},
		"text":                        {[]byte("name,lat,lon\n"), "map: this is no map extract"},
		"a track":                     {[]byte(`<?xml version="1.0"?><gpx version="1.1"></gpx>`), "map: this is no map extract"},
		"gzip of nothing":             {gzipped(nil), "map: the file is empty"},
		"XML cut off":                 {xml[:len(xml)*2/3], "map:1"},
		"XML with a bad tag":          {swap(xml, "<way", "<way <"), "map:1"},
		"PBF cut in a block":          {pbf[:len(pbf)-5], "it is cut off"},
		"PBF cut after a header":      {pbf[:4+int(binary.BigEndian.Uint32(pbf))], "map: at byte 0: it is cut off"},
		"PBF with a wrong length":     {append([]byte{0, 1}, pbf[2:]...), "map:"},
		"another region":              {asPBF([]osm.Object{&osm.Node{ID: 1, Lon: 80, Lat: 10, Visible: true}}, 1, false), "nothing on it lies within 5.0 km of the line"},
		"no objects":                  {asXML(t, nil), "nothing on it lies within 5.0 km of the line"},
		"nodes in the old form later": {append(asPBF(hamlet()[:7], 100, false), plainNodesPBF()[headerLength():]...), "the nodes are in the old form"},
		"a history in XML":            {asXML(t, append(hamlet()[:4:4], hamlet()[3:]...)), "node 4 stands in it twice"},
		"a history in PBF":            {historyPBF(), "this is a history of the map"},
		"a text that is not there":    {badTextPBF(), "the block is damaged"},
		"a block that blows up":       {bombPBF(), "the block is damaged"},
		"XML with a bad number":       {swap(xml, `lat="45"`, `lat="north"`), "map:3"},
		"nodes in the old form":       {plainNodesPBF(), "the nodes are in the old form"},
		"packed otherwise":            {otherPackingPBF(), "packed in a way that is not known here"},
	} {
		if got := errorOf(t, c.data); !strings.Contains(got.Error(), c.want) || got.Hint == "" {
			t.Errorf("%s: %q, hint %q; want %q", name, got, got.Hint, c.want)
		}
	}
}

// headerLength is how long the first block of a file of a pbfWriter is.
func headerLength() int {
	var b bytes.Buffer
	(&pbfWriter{out: &b}).header(nil)
	return b.Len()
}

func historyPBF() []byte {
	var b bytes.Buffer
	var m message
	m.bytes(4, []byte("HistoricalInformation"))
	(&pbfWriter{out: &b}).frame("OSMHeader", m)
	return b.Bytes()
}

// badTextPBF has a way with a tag whose text is not in the list.
func badTextPBF() []byte {
	var b bytes.Buffer
	w := &pbfWriter{out: &b}
	w.header(nil)
	var way, group, block message
	way.varint(1, 1)
	way.packed(2, []int64{7}, false)
	way.packed(3, []int64{8}, false)
	group.bytes(3, way)
	block.bytes(1, nil)
	block.bytes(2, group)
	w.frame("OSMData", block)
	return b.Bytes()
}

// bombPBF has a block that unpacks to far more than it says.
func bombPBF() []byte {
	var b, z bytes.Buffer
	w := &pbfWriter{out: &b}
	w.header(nil)
	zw := zlib.NewWriter(&z)
	zw.Write(make([]byte, 64<<20))
	zw.Close()
	var blob message
	blob.varint(2, 100)
	blob.bytes(3, z.Bytes())
	w.blob("OSMData", blob)
	return b.Bytes()
}

func plainNodesPBF() []byte {
	var b bytes.Buffer
	w := &pbfWriter{out: &b}
	w.header(nil)
	var node, group, block message
	node.varint(1, protowire.EncodeZigZag(1))
	node.varint(8, protowire.EncodeZigZag(450000000))
	node.varint(9, protowire.EncodeZigZag(100000000))
	group.bytes(1, node)
	block.bytes(1, nil)
	block.bytes(2, group)
	w.frame("OSMData", block)
	return b.Bytes()
}

func otherPackingPBF() []byte {
	var b bytes.Buffer
	w := &pbfWriter{out: &b}
	w.header(nil)
	var blob message
	blob.varint(2, 100)
	blob.bytes(7, []byte("zstd"))
	w.blob("OSMData", blob)
	return b.Bytes()
}

// No single bit of a block that is not packed, and so has no checksum, makes more than
// an error: the library would panic in a goroutine of its own.
func TestEveryBit(t *testing.T) {
	pbf := asPBF(hamlet(), 3, true)
	every := 17
	if raceDetector {
		every = 41
	}
	for i := 0; i < len(pbf)*8; i += every {
		spoilt := bytes.Clone(pbf)
		spoilt[i/8] ^= 1 << (i % 8)
		_, err := Read(context.Background(), hamletLine(t), []Extract{inMemory("map", spoilt)}, DefaultOptions())
		var ie *route.InputError
		if err != nil && !errors.As(err, &ie) && !errors.Is(err, ErrNoScale) {
			t.Fatalf("bit %d: %v", i, err)
		}
	}
}

// Blocks of kinds that are not known are passed over, as the format says.
func TestUnknownBlocksArePassedOver(t *testing.T) {
	var b bytes.Buffer
	w := &pbfWriter{out: &b, block: 100}
	w.header(nil)
	w.frame("OSMColours", []byte("anything"))
	w.write(hamlet())
	if got := resultOf(t, hamletLine(t), DefaultOptions(), inMemory("map", b.Bytes())); !strings.Contains(got.Stops, "Ash Creek") {
		t.Errorf("%+v", got)
	}
}

// What is not there any more is not there, whatever the form says it with.
func TestDeletedObjects(t *testing.T) {
	text := string(asXML(t, hamlet()[:10]))
	for _, mark := range []string{`visible="false"`, `visible="true" action="delete"`} {
		gone := strings.Replace(text, `<node id="4" lat="45.001" lon="10.021" user="" uid="0" visible="true"`, `<node id="4" lat="45.001" lon="10.021" `+mark, 1)
		if gone == text {
			t.Fatal(text)
		}
		if got := resultOf(t, hamletLine(t), DefaultOptions(), inMemory("map", []byte(gone))); strings.Contains(got.Stops, "Ash Creek") || !strings.Contains(got.Stops, "Far Well") {
			t.Errorf("%s: %s", mark, got.Stops)
		}
	}
}

// Readers that fail give their own error.
func TestReaderThatFails(t *testing.T) {
	broken := errors.New("the disk is gone")
	opens := 0
	e := Extract{Name: "map", Open: func() (io.ReadCloser, error) { opens++; return nil, broken }}
	if _, err := Read(context.Background(), hamletLine(t), []Extract{e}, DefaultOptions()); !errors.Is(err, broken) {
		t.Errorf("the error is %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for name, data := range map[string][]byte{"PBF": asPBF(hamlet(), 3, false), "XML": asXML(t, hamlet())} {
		if _, err := Read(ctx, hamletLine(t), []Extract{inMemory("map", data)}, DefaultOptions()); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: the error is %v", name, err)
		}
	}
}

// Whatever bytes come, there is an error with its place, or a survey that covers the
// line; never a crash.
func FuzzRead(f *testing.F) {
	f.Add(asPBF(hamlet(), 3, false))
	f.Add(asPBF(hamlet(), 100, false))
	f.Add(asPBF(hamlet(), 3, true))
	f.Add(asXML(f, hamlet()))
	f.Add(gzipped(asXML(f, hamlet())))
	f.Add(plainNodesPBF())
	line := hamletLine(f)
	opt := DefaultOptions()
	opt.Towns, opt.Gap, opt.Scale = true, 100, "RON"
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Read(context.Background(), line, []Extract{inMemory("map", data)}, opt)
		if err != nil {
			var ie *route.InputError
			if !errors.As(err, &ie) || ie.File == "" || ie.What == "" {
				t.Fatalf("an error without its place: %v", err)
			}
			return
		}
		at := route.Metres(0)
		for _, m := range s.Tracks {
			if m.From != at {
				t.Fatalf("a stretch begins at %v after %v", m.From, at)
			}
			at = m.To
		}
		if at != line.Length() {
			t.Fatalf("the line is covered up to %v of %v", at, line.Length())
		}
		for _, p := range append(s.Pumps, s.Asks...) {
			if p.Name == "" || !(p.Off >= 0 && p.Off <= opt.Corridor) {
				t.Fatalf("%+v", p)
			}
		}
	})
}
