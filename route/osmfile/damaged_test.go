package osmfile_test

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"runtime"
	"strings"
	"testing"

	"lastpump/route/input"
	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
	"lastpump/testdata/kit/extracts"

	"google.golang.org/protobuf/encoding/protowire"
)

// What is no extract, or is damaged, is said with its place and a hint.
func TestBadExtracts(t *testing.T) {
	pbf := osmtest.PBF(osmtest.Hamlet(), 3, false)
	xml := osmtest.XML(osmtest.Hamlet())
	swap := func(data []byte, old, next string) []byte { return bytes.Replace(data, []byte(old), []byte(next), 1) }
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty": {nil, "map: the file is empty"},
		"text":  {[]byte("name,lat,lon\n"), "map: this is no map extract"},
		"a track": {[]byte(`<?xml version="1.0"?><gpx version="1.1"></gpx>`),
			"map: this is no map extract"},
		"gzip of nothing":            {gzipped(nil), "map: the file is empty"},
		"gzip of no gzip":            {[]byte("\x1f\x8b\x01"), "map: "},
		"bzip2 of no bzip2":          {[]byte("BZh no"), "map: "},
		"gzip cut off":               {gzipped(xml)[:200], "map: it is cut off"},
		"XML cut off":                {xml[:len(xml)*2/3], "map:1"},
		"XML with a bad tag":         {swap(xml, "<way", "<way <"), "map:1"},
		"XML with a bad number":      {swap(xml, `lat="45"`, `lat="north"`), `map:3: "north" is no lat`},
		"XML with a bad node of way": {swap(xml, `<nd ref="1"`, `<nd ref="one"`), `map:10: strconv.ParseInt: parsing "one"`},
		"XML with a bad time":        {swap(xml, `version="1"`, `timestamp="noon"`), `map:3: parsing time "noon"`},
		"PBF cut in a block":         {pbf[:len(pbf)-5], "it is cut off"},
		"PBF cut after a header":     {pbf[:4+int(binary.BigEndian.Uint32(pbf))], "map: at byte 0: it is cut off"},
		"PBF with a wrong length":    {append([]byte{0, 1}, pbf[2:]...), "map:"},
		"nodes in the old form":      {withBlock(plainNodes()), "the nodes are in the old form"},
		"nodes in the old form later": {append(osmtest.PBF(osmtest.Hamlet()[:7], 100, false),
			withBlock(plainNodes())[headerLength():]...), "the nodes are in the old form"},
		"a history":                {history(), "this is a history of the map"},
		"a text that is not there": {withBlock(badText()), "the block is damaged"},
		"a block that blows up":    {bomb(), "the block is damaged"},
		"packed otherwise":         {otherPacking(), "packed in a way that is not known here"},
	} {
		_, err := extracts.Objects(inMemory(c.data))
		var fault *input.Error
		if !errors.As(err, &fault) {
			t.Errorf("%s: the error is %v", name, err)
		} else if !strings.Contains(fault.Error(), c.want) || fault.Hint == "" {
			t.Errorf("%s: %q, hint %q; want %q", name, fault, fault.Hint, c.want)
		}
	}
}

// Lists that stand side by side are as long as each other, and each is there once and
// packed, as the format wants; numbers of texts are those of texts there are.
func TestListsThatDoNotFit(t *testing.T) {
	dense := func(fill func(*osmtest.Message)) osmtest.Message {
		var m, group osmtest.Message
		m.Packed(1, []int64{1, 2}, true)
		m.Packed(8, []int64{1, 2}, true)
		m.Packed(9, []int64{1, 2}, true)
		fill(&m)
		group.Bytes(2, m)
		return group
	}
	of := func(field protowire.Number, fill func(*osmtest.Message)) osmtest.Message {
		var m, group osmtest.Message
		m.Varint(1, 1)
		fill(&m)
		group.Bytes(field, m)
		return group
	}
	way := func(fill func(*osmtest.Message)) osmtest.Message { return of(3, fill) }
	relation := func(fill func(*osmtest.Message)) osmtest.Message { return of(4, fill) }
	list := func(field protowire.Number, values ...int64) func(*osmtest.Message) {
		return func(m *osmtest.Message) { m.Packed(field, values, false) }
	}
	both := func(a, b func(*osmtest.Message)) func(*osmtest.Message) {
		return func(m *osmtest.Message) { a(m); b(m) }
	}
	nothing := func(*osmtest.Message) {}
	for name, c := range map[string]struct {
		group osmtest.Message
		fine  bool
	}{
		"nodes":                        {dense(nothing), true},
		"nodes with tags":              {dense(list(10, 1, 2, 0, 0)), true},
		"numbers of nodes twice":       {dense(list(1, 1)), false},
		"tags of one node too few":     {dense(list(10, 1, 2, 0)), false},
		"tags of one node too many":    {dense(list(10, 0, 0, 0)), false},
		"a tag without a value":        {dense(list(10, 0, 1)), false},
		"a text that is not there":     {dense(list(10, 0, 1, 3, 0)), false},
		"a way":                        {way(both(list(2, 1), list(3, 2))), true},
		"a way with a key too many":    {way(both(list(2, 1, 2), list(3, 2))), false},
		"a way with a value too many":  {way(both(list(2, 1), list(3, 2, 2))), false},
		"a way with a number for list": {way(func(m *osmtest.Message) { m.Varint(8, 1) }), false},
		"a relation with a role only":  {relation(list(8, 1)), false},
		"a relation with a kind only":  {relation(list(10, 1)), false},
		"a relation with a bad kind":   {relation(both(both(list(8, 1), list(9, 2)), list(10, 3))), false},
		"a relation":                   {relation(both(both(list(8, 1), list(9, 2)), list(10, 2))), true},
	} {
		var table, block osmtest.Message
		for _, text := range []string{"", "highway", "track"} {
			table.Bytes(1, []byte(text))
		}
		block.Bytes(1, table)
		block.Bytes(2, c.group)
		_, err := extracts.Objects(inMemory(withBlock(block)))
		if (err == nil) != c.fine || err != nil && !strings.Contains(err.Error(), "the block is damaged") {
			t.Errorf("%s: the error is %v", name, err)
		}
	}
}

// headerLength is how long the first block of a file is.
func headerLength() int { return len(osmtest.PBF(nil, 1, false)) }

// withBlock is a file with one block of data.
func withBlock(block osmtest.Message) []byte {
	var b bytes.Buffer
	w := &osmtest.Writer{Out: &b}
	w.Header()
	w.Frame("OSMData", block)
	return b.Bytes()
}

func history() []byte {
	var b bytes.Buffer
	var m osmtest.Message
	m.Bytes(4, []byte("HistoricalInformation"))
	(&osmtest.Writer{Out: &b}).Frame("OSMHeader", m)
	return b.Bytes()
}

// badText has a way with a tag whose text is not in the list.
func badText() (block osmtest.Message) {
	var way, group osmtest.Message
	way.Varint(1, 1)
	way.Packed(2, []int64{7}, false)
	way.Packed(3, []int64{8}, false)
	group.Bytes(3, way)
	block.Bytes(1, nil)
	block.Bytes(2, group)
	return block
}

func withBlob(fill func(*osmtest.Message)) []byte {
	var b bytes.Buffer
	w := &osmtest.Writer{Out: &b}
	w.Header()
	var blob osmtest.Message
	fill(&blob)
	w.Blob("OSMData", blob)
	return b.Bytes()
}

// bomb has a block that unpacks to far more than it says.
func bomb() []byte {
	var z bytes.Buffer
	zw := zlib.NewWriter(&z)
	zw.Write(make([]byte, 64<<20))
	zw.Close()
	return withBlob(func(m *osmtest.Message) {
		m.Varint(2, 100)
		m.Bytes(3, z.Bytes())
	})
}

func otherPacking() []byte {
	return withBlob(func(m *osmtest.Message) {
		m.Varint(2, 100)
		m.Bytes(7, []byte("zstd"))
	})
}

func plainNodes() (block osmtest.Message) {
	var node, group osmtest.Message
	node.Varint(1, protowire.EncodeZigZag(1))
	node.Varint(8, protowire.EncodeZigZag(450000000))
	node.Varint(9, protowire.EncodeZigZag(100000000))
	group.Bytes(1, node)
	block.Bytes(1, nil)
	block.Bytes(2, group)
	return block
}

// No single bit of a block that is not packed, and so has no checksum, makes more than
// an error with its place.
func TestEveryBit(t *testing.T) {
	pbf := osmtest.PBF(osmtest.Hamlet(), 3, true)
	every := 5
	if os.Getenv("LASTPUMP_LONG") != "" {
		every = 1
	}
	for i := 0; i < len(pbf)*8; i += every {
		spoilt := bytes.Clone(pbf)
		spoilt[i/8] ^= 1 << (i % 8)
		_, err := extracts.Objects(inMemory(spoilt))
		var fault *input.Error
		if err != nil && (!errors.As(err, &fault) || fault.File != "map") {
			t.Fatalf("bit %d: %v", i, err)
		}
	}
}

// A block of the largest size that the format allows, with millions of nodes in it, is
// handed over in parts: it is not all held at once.
func TestLargestBlockIsHandedOverInParts(t *testing.T) {
	const nodes = 5_000_000
	ones := bytes.Repeat([]byte{2}, nodes) // differences of 1
	var m, group, block osmtest.Message
	for _, field := range []protowire.Number{1, 8, 9} {
		m.Bytes(field, ones)
	}
	group.Bytes(2, m)
	block.Bytes(1, nil)
	block.Bytes(2, group)
	data := withBlock(block)
	n, most := 0, uint64(0)
	_, err := inMemory(data).Scan(context.Background(), 2, nil, extracts.All, func(b *osmfile.Block) {
		n += len(b.Nodes)
		if n%80_000 == 0 {
			var mem runtime.MemStats
			runtime.ReadMemStats(&mem)
			most = max(most, mem.HeapAlloc)
		}
	})
	if err != nil || n != nodes {
		t.Fatalf("%d nodes, %v", n, err)
	}
	// A node takes 80 bytes: all of them 400 MB.
	if most > 150<<20 {
		t.Errorf("%d MB are held", most>>20)
	}
}

// Blocks of kinds that are not known are passed over, as the format says.
func TestUnknownBlocksArePassedOver(t *testing.T) {
	var b bytes.Buffer
	w := &osmtest.Writer{Out: &b, Block: 100}
	w.Header()
	w.Frame("OSMColours", []byte("anything"))
	w.Write(osmtest.Hamlet())
	got, err := extracts.Objects(inMemory(b.Bytes()))
	if err != nil || len(got.Nodes) != 7 || len(got.Ways) != 3 || len(got.Relations) != 1 {
		t.Errorf("%+v, %v", got, err)
	}
}

// What is not there any more is not there, whatever the form says it with.
func TestDeletedObjects(t *testing.T) {
	text := string(osmtest.XML(osmtest.Hamlet()))
	for _, mark := range []string{`visible="false"`, `visible="true" action="delete"`} {
		gone := strings.Replace(text, `lon="10.021" visible="true"`, `lon="10.021" `+mark, 1)
		got, err := extracts.Objects(inMemory([]byte(gone)))
		if gone == text || err != nil || len(got.Nodes) != 6 {
			t.Errorf("%s: %v, %v", mark, got.Nodes, err)
		}
	}
	// In PBF a node by a list of who is there, the others by a field of their own.
	var dense, info, group, block, way, wayInfo osmtest.Message
	dense.Packed(1, []int64{1, 2}, true)
	dense.Packed(8, []int64{1, 2}, true)
	dense.Packed(9, []int64{1, 2}, true)
	info.Packed(6, []int64{0, 1}, false)
	dense.Bytes(5, info)
	group.Bytes(2, dense)
	wayInfo.Varint(6, 0)
	way.Varint(1, 1)
	way.Bytes(4, wayInfo)
	group.Bytes(3, way)
	block.Bytes(1, nil)
	block.Bytes(2, group)
	got, err := extracts.Objects(inMemory(withBlock(block)))
	if err != nil || len(got.Nodes) != 1 || got.Nodes[0].ID != 2 || len(got.Ways) != 0 {
		t.Errorf("%+v, %v", got, err)
	}
}

// Readers that fail give their own error, and so does a context that is done.
func TestReaderThatFails(t *testing.T) {
	broken := errors.New("the disk is gone")
	e := osmfile.Extract{Name: "map", Open: func() (io.ReadCloser, error) { return nil, broken }}
	if _, err := extracts.Objects(e); !errors.Is(err, broken) {
		t.Errorf("the error is %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for name, data := range map[string][]byte{"PBF": osmtest.PBF(osmtest.Hamlet(), 3, false),
		"XML": osmtest.XML(osmtest.Hamlet())} {
		if _, err := inMemory(data).Scan(ctx, 2, nil, extracts.All, func(*osmfile.Block) {}); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: the error is %v", name, err)
		}
	}
}

// Whatever bytes come, there is an error with its place or there are objects; never a
// crash, and the same objects for one core as for two.
func FuzzScan(f *testing.F) {
	f.Add(osmtest.PBF(osmtest.Hamlet(), 3, false))
	f.Add(osmtest.PBF(osmtest.Hamlet(), 100, true))
	f.Add(osmtest.XML(osmtest.Hamlet()))
	f.Add(gzipped(osmtest.XML(osmtest.Hamlet())))
	f.Add(withBlock(plainNodes()))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := extracts.Objects(inMemory(data))
		var fault *input.Error
		if err != nil && (!errors.As(err, &fault) || fault.File == "" || fault.What == "") {
			t.Fatalf("an error without its place: %v", err)
		}
		n := 0
		_, again := inMemory(data).Scan(context.Background(), 1, nil, extracts.All, func(b *osmfile.Block) {
			n += len(b.Nodes) + len(b.Ways) + len(b.Relations)
		})
		if (err == nil) != (again == nil) || err == nil && n != len(got.Nodes)+len(got.Ways)+len(got.Relations) {
			t.Fatalf("%v and %v, %d objects", err, again, n)
		}
	})
}
