package gpxfile_test

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"

	"lastpump/route/input"

	"lastpump/route/gpxfile"
)

// Each row's place was counted by hand: the line, and the byte in it, at which
// the fault can be seen.
var badInput = []struct{ text, want string }{
	// Not GPX.
	{"", "1:1: empty file"},
	{" \n\t", "1:1: empty file"},
	{strings.Repeat("\n", 100_000), "1:1: empty file"},
	{"\xef\xbb\xbf", "1:1: empty file"},
	{`{"type":"FeatureCollection"}`, "1:1: this looks like GeoJSON, not GPX"},
	{"\n [1]", "2:2: this looks like JSON, not GPX"},
	{"<!DOCTYPE html>\n<html lang=en>", "1:1: this looks like a web page, not GPX"},
	{"<HTML><br>", "1:1: this looks like a web page, not GPX"},
	{"<?xml version='1.0'?>\n<html xmlns='u'/>", "2:1: this looks like a web page, not GPX"},
	{"<kml/>", "1:1: this looks like KML, not GPX"},
	{"<?xml version='1.0'?><svg xmlns='u'/>", "1:22: this looks like an image (SVG), not GPX"},
	{"<osm version='0.6'/>", "1:1: this looks like map data, not GPX"},
	{"<rss/>", "1:1: this is not GPX: its outermost element is <rss>"},
	{"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "1:1: this looks like an image (PNG), not GPX"},
	{"\xff\xd8\xff\xe0\x00\x10JFIF\x00", "1:1: this looks like an image (JPG), not GPX"},
	{"%PDF-1.7\n", "1:1: this looks like a .pdf file, not GPX"},
	{"SQLite format 3\x00", "1:1: this looks like a .sqlite file, not GPX"},
	{"7z\xbc\xaf\x27\x1c\x00\x04", "1:1: this looks like a .7z file, not GPX"},
	{strings.Repeat("\x00", 5000), "1:1: nothing but zero bytes"},
	{"\x01\x02\x03", "1:1: this is not GPX: it does not begin with <"},
	{"<GPX/>", "1:1: this is not GPX: its outermost element is <GPX>"},
	{"PK\x03\x04\x14", "1:1: the ZIP archive is cut off or damaged"},
	{"\x0e\x10\x5d\x08\x20\x00\x00\x00.FIT\x00\x00", "1:1: this looks like a FIT recording, not GPX"},
	{"lat,lon\n1,2", "1:1: this is not GPX: it does not begin with <"},
	{"<!-- only a comment -->\n", "2:1: the file ends before <gpx>"},
	{"<?xml version='1.0' encoding='klingon'?>\n<gpx/>", `1:30: unknown encoding "klingon"`},

	{"<?xml version='1.0'\n encoding='iso-2022-kr'?>\n<gpx/>", `2:11: unknown encoding "iso-2022-kr"`},

	// Cut off.
	{"<", "1:2: the file ends in the middle of a tag"},
	{"<gpx", "1:5: the file ends in the middle of <gpx>"},
	{"<gpx>\n", "2:1: the file ends in the middle of <gpx>"},
	{"<gpx>\n<trk><trkseg><trkpt lat=\"4", "2:27: the file ends in the middle of <trkpt>"},
	{"<gpx>\n<trk><trkseg><trkpt lat='1' lon='2'><ele>12", "2:44: the file ends in the middle of <ele>"},
	{"<gpx><trk><trkseg>\n  <trkpt lat='1' lon='2'/>\n  ", "3:3: the file ends in the middle of <trkseg>"},
	{"<gpx><name>a &am", "1:17: the file ends in the middle of <name>"},
	{"<gpx></gp", "1:10: the file ends in the middle of </gp>"},
	{"<gpx><", "1:7: the file ends in the middle of a tag"},
	{"<gpx><!", "1:8: the file ends in the middle of a tag"},
	{"<gpx><!-", "1:9: the file ends in the middle of a comment"},
	{"<gpx><!-- x", "1:12: the file ends in the middle of a comment"},
	{"<gpx><![CD", "1:11: the file ends in the middle of a CDATA section"},
	{"<gpx><![CDATA[x]]", "1:18: the file ends in the middle of a CDATA section"},
	{"<!DOCTYPE gpx [<!ENTITY a '>'>", "1:31: the file ends in the middle of a DOCTYPE"},
	{"<!DOCTYPE gpx [<!-- >", "1:22: the file ends in the middle of a comment"},
	{"<?xml version='1.0'", "1:20: the file ends in the middle of a processing instruction"},
	{"<?xml", "1:6: the file ends in the middle of a processing instruction"},

	// Not well-formed.
	{"<gpx>\n<trk>\n</gpx>", "3:1: </gpx> where </trk> is due"},
	{"</gpx>", "1:1: </gpx> closes nothing"},
	{"<gpx/></gpx>", "1:7: </gpx> closes nothing"},
	{"<gpx/>\n<gpx/>", "2:1: a second outermost element, <gpx>"},
	{"<gpx/>\nx", "2:1: text after the end of the outermost element"},
	{"<gpx/>\x00", "1:7: zero bytes where the file should go on"},
	{"<!-- c -->x<gpx/>", "1:11: text before the outermost element"},
	{"<gpx/><![CDATA[x]]>", "1:7: CDATA outside the outermost element"},
	{"<gpx><wpt lat='1&nbsp;' lon='2'/>", `1:6: wpt lat "1&nbsp;" is not a number`},
	{"<gpx>\n<trk>\x00\x00", "2:6: zero bytes where the file should go on"},
	{"<gpx><name>a < b</name></gpx>", `1:14: "<" that starts no tag`},
	{"<gpx a=1/>", "1:8: attribute a without quotes"},
	{"<gpx a/>", `1:7: attribute a without "="`},
	{"<gpx a='<'/>", `1:9: "<" in an attribute of <gpx>`},
	{"<gpx a='1>\n<b c='2'/></gpx>", `2:1: "<" in an attribute of <gpx>`},
	{"<gpx a='1' / >", `1:12: "/" without ">" in <gpx>`},
	{"<gpx a='1'<", `1:11: unexpected "<" in <gpx>`},
	{"<gpx></ gpx>", `1:6: "</" without a name`},
	{"<gpx></gpx x>", `1:12: unexpected "x" in </gpx>`},
	{"<gpx><1a/></gpx>", `1:7: "1a" is not a name in XML`},
	{"<gpx -a='1'/>", `1:6: "-a" is not a name in XML`},
	{"<gpx><\u00b7a/></gpx>", `1:7: "·a" is not a name in XML`},
	{"<gpx><a\u00d7/></gpx>", `1:7: "a×" is not a name in XML`},
	{"<gpx a:b:c='1'/>", `1:6: two colons in the name "a:b:c"`},
	{"<a:b:c/>", `1:1: two colons in the name "a:b:c"`},
	{"<gpx>]]></gpx>", `1:6: "]]>" outside a CDATA section`},
	{"<gpx><!-- a -- b --></gpx>", `1:13: "--" within a comment`},
	{"<gpx><!x", "1:9: the file ends in the middle of a DOCTYPE"},
	{"<gpx><!-x", `1:6: "<!-" that starts no comment`},
	{"<gpx><![CDATO[]]></gpx>", `1:6: "<![" that starts no CDATA section`},
	{"<gpx><? x?></gpx>", `1:6: "<?" without a name`},
	{"<gpx>\n \x01</gpx>", "2:2: character U+0001 is not allowed in XML"},
	{"<gpx a='\x1f'/>", "1:9: character U+001F is not allowed in XML"},
	{"<gpx>é\uFFFE</gpx>", "1:8: character U+FFFE is not allowed in XML"},

	{"<gpx><trk><trkseg>\n<trkpt lat='1' lon='2'> <ele>9&5</ele>", `2:25: ele "9&5" is not a finite number`},
	{"<gpx><wpt lat='1' lon='2'><ele>\n<!-- -->x</ele>", `1:27: ele "x" is not a finite number`},

	// Not sound, at the "<" of the point's tag.
	{"<gpx>\r\n  <wpt/></gpx>", "2:3: wpt without lat and lon"},
	{"<gpx><trk><trkseg>\n<trkpt lat='1' lon='2'/>\n\t<trkpt lon='2'/>", "3:2: trkpt without lat"},
	{"<gpx><rte><rtept lat='1'/>", "1:11: rtept without lon"},
	{"<gpx><rte><rtept LAT='1' lon='2'/>", "1:11: rtept without lat"},
	{"<gpx><wpt lat='1' lon='2' lat='3'/>", "1:6: wpt with two lat"},
	{"<gpx><wpt lat='' lon='2'/>", `1:6: wpt lat "" is not a number`},
	{"<gpx><wpt\n\n lat='1' lon='x'/>", `1:6: wpt lon "x" is not a number`},
	{"<gpx><wpt lat='91' lon='2'/>", `1:6: wpt lat "91" is not from -90 to 90`},
	{"<gpx><wpt lat='1' lon='-181'/>", `1:6: wpt lon "-181" is not from -180 to 180`},
	{"<gpx>é<wpt lat='1' lon='1e999'/>", `1:8: wpt lon "1e999" is not from -180 to 180`},
	{"<gpx><wpt lat='" + strings.Repeat("9", 50) + "' lon='2'/>", `1:6: wpt lat "` + strings.Repeat("9",
		40) + `…" is not from -90 to 90`},
	{"\xef\xbb\xbf<gpx><wpt lat='NaN' lon='2'/>", `1:6: wpt lat "NaN" is not a number`},
}

func TestBadInput(t *testing.T) {
	for _, x := range badInput {
		for kind, r := range map[string]io.Reader{
			"whole":        strings.NewReader(x.text),
			"byte by byte": iotest.OneByteReader(strings.NewReader(x.text)),
			"gzipped":      bytes.NewReader(gzipped(t, x.text)),
		} {
			f, err := gpxfile.Read(r, "f.gpx")
			if err == nil || err.Error() != "f.gpx:"+x.want {
				t.Errorf("%q, %s:\n got %v\nwant f.gpx:%s", x.text, kind, err, x.want)
				continue
			}
			var fault *input.Error
			if !errors.As(err, &fault) || fault.HintText() == "" {
				t.Errorf("%q: no hint", x.text)
			}
			if f != nil {
				t.Errorf("%q: a file beside the error", x.text)
			}
		}
	}
}

func gzipped(t testing.TB, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := io.WriteString(w, text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func wantError(t *testing.T, r io.Reader, want string) {
	t.Helper()
	if _, err := gpxfile.Read(r, "f.gpx"); err == nil || err.Error() != want {
		t.Errorf("error %.200v\nwant %s", err, want)
	}
}

// Memory is bounded whatever the file holds. 1 MiB is 1048576 bytes; the longest
// tag that fits is exactly that.
func TestTooLong(t *testing.T) {
	const mib = 1 << 20
	tag := func(n int) string { return `<gpx a="` + strings.Repeat("x", n-len(`<gpx a=""/>`)) + `"/>` }
	if _, err := read(tag(mib)); err != nil {
		t.Errorf("a tag of 1 MiB: %v", err)
	}
	name := func(n int) string { return "<gpx>\n <name>" + strings.Repeat("x", n) + "</name></gpx>" }
	if f, err := read(name(mib)); err != nil || len(f.Name) != mib {
		t.Errorf("a name of 1 MiB: %v", err)
	}
	for want, text := range map[string]string{
		"f.gpx:1:1: <gpx> is longer than 1 MiB":                               tag(mib + 1),
		"f.gpx:2:2: name longer than 1 MiB":                                   name(mib + 1),
		"f.gpx:1:6: <" + strings.Repeat("x", 40) + "…> is longer than 1 MiB":  "<gpx><" + strings.Repeat("x", 3*mib),
		"f.gpx:1:6: </" + strings.Repeat("x", 40) + "…> is longer than 1 MiB": "<gpx></" + strings.Repeat("x", 3*mib),
	} {
		wantError(t, strings.NewReader(text), want)
	}
	// What is not kept may be of any length.
	long := strings.Repeat("x", 3*mib)
	for _, text := range []string{
		"<gpx><!--" + long + "--></gpx>", "<gpx><?p " + long + "?></gpx>", "<gpx>" + long + "</gpx>",
		"<gpx><![CDATA[" + long + "]]></gpx>", "<!DOCTYPE gpx [<!--" + long + "--><!x " + long + ">]><gpx/>",
	} {
		if _, err := read(text); err != nil {
			t.Errorf("%.20q…: %v", text, err)
		}
	}
}

func TestTooDeep(t *testing.T) {
	deep := func(n int) string {
		return "<gpx>" + strings.Repeat("<a>", n-1) + strings.Repeat("</a>", n-1) + "</gpx>"
	}
	if _, err := read(deep(1000)); err != nil {
		t.Errorf("1000 deep: %v", err)
	}
	// Column: <gpx> is 5 bytes, then 999 times 3, then the next.
	wantError(t, strings.NewReader(deep(1001)), "f.gpx:1:3003: elements nested over 1000 deep")
}

// Broken readers are told apart from broken files.
func TestReadErrors(t *testing.T) {
	const text = "<gpx>\n<name>x"
	broken := io.MultiReader(strings.NewReader(text), iotest.ErrReader(errors.New("disk on fire")))
	wantError(t, broken, "f.gpx:2:8: cannot read on: disk on fire")
	wantError(t, iotest.ErrReader(errors.New("disk on fire")), "f.gpx:1:1: cannot read on: disk on fire")
	wantError(t, stuck{}, "f.gpx:1:1: cannot read on: multiple Read calls return no data or error")

	packed := gzipped(t, "<gpx>\n</gpx>\n")
	wantError(t, bytes.NewReader(packed[:2]), "f.gpx:1:1: the compressed data is cut off")
	wantError(t, bytes.NewReader(packed[:len(packed)-1]), "f.gpx:3:1: the compressed data is cut off")
	wantError(t, bytes.NewReader(append([]byte("\x1f\x8b\x00"), packed[3:]...)),
		"f.gpx:1:1: the compressed data is damaged")
	packed[len(packed)-8] ^= 1 // in the checksum, which is found wrong at the end
	wantError(t, bytes.NewReader(packed), "f.gpx:3:1: the compressed data is damaged")
}

// stuck is a reader that gives neither bytes nor an error.
type stuck struct{}

func (stuck) Read([]byte) (int, error) { return 0, nil }

// Places hold over any number of buffers. The filling is of lines of odd
// lengths, and of what the scanner consumes in different ways.
func TestPlaceFarOut(t *testing.T) {
	for _, filling := range []string{
		"é\nb", "<x/>", "\n", "<!-- a\nb -->\n", "<x a='\n'>\r\n</x\n>", "<![CDATA[\n]]>x", "<?a\n?>",
		"<!D\n<!--\n-->>",
		"<wpt lat='1'\nlon='2'><name>\n</name><ele>1</ele></wpt>", "&amp;\n]]", "\xff\n",
	} {
		for _, size := range []int{1, 3, 70_001, 400_003} {
			before := "<g:gpx>\n" + strings.Repeat(filling, size/len(filling)) + "\t"
			line := strings.Count(before, "\n") + 1
			col := len(before) - strings.LastIndex(before, "\n")
			want := fmt.Sprintf("f.gpx:%d:%d: wpt without lat", line, col)
			wantError(t, strings.NewReader(before+"<g:wpt lon='1'/></g:gpx>"), want)
		}
	}
}

// A text that is too long is not gathered any further.
func TestTooLongAllocates(t *testing.T) {
	text := "<gpx><name>" + strings.Repeat("x", 32<<20) + "</name></gpx>"
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	wantError(t, strings.NewReader(text), "f.gpx:1:6: name longer than 1 MiB")
	runtime.ReadMemStats(&after)
	if total := after.TotalAlloc - before.TotalAlloc; total > 8<<20 { // 1 MiB, doubled up to
		t.Errorf("%d bytes allocated", total)
	}
}
