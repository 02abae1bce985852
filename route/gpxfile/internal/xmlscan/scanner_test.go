package xmlscan

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf8"

	"lastpump/route/internal/testfiles"

	"lastpump/route/input"

	"github.com/google/go-cmp/cmp"
)

// The Scanner is checked against encoding/xml, an independent reading of the
// same standard: both must refuse a file or both must find the same in it.

// scanAll gives what our Scanner finds, one string for each tag, attribute and
// piece of text. Texts with nothing between them are one.
func scanAll(r io.Reader) ([]string, error) {
	s := New(r, "f", func(err error) *input.Error { return &input.Error{What: err.Error(), Hint: "none"} })
	s.want = true
	var found []string
	for {
		s.text = s.text[:0]
		t, err := s.Next()
		if err != nil {
			return nil, err
		}
		if len(s.text) > 0 {
			found = append(found, "text "+string(s.text))
		}
		switch t {
		case EOF:
			return found, nil
		case End:
			found = append(found, "end")
		case Start:
			found = append(found, "start "+string(s.Name))
			for _, a := range s.Attrs {
				found = append(found, string(a.Name)+"="+string(a.Value))
			}
		}
	}
}

// A decoding is what encoding/xml finds.
type decoding struct {
	found        []string
	refused      string // what we refuse on purpose; "" if nothing
	depth, roots int
	text         string // since the last tag
}

// decodeAll does with encoding/xml what scanAll does.
func decodeAll(data []byte) (*decoding, error) {
	raw, strict := newDecoder(data), newDecoder(data)
	d := &decoding{}
	for {
		from := strict.InputOffset()
		if _, err := strict.Token(); err == io.EOF { // matches tags
			break
		} else if err != nil {
			return nil, err
		}
		t, err := raw.RawToken() // keeps names as written
		if err != nil {
			return nil, err
		}
		d.add(t, data[from:strict.InputOffset()])
	}
	if d.roots > 1 {
		d.refused = "several outermost elements"
	}
	return d, nil
}

// add takes one token and the bytes it was made from.
func (d *decoding) add(t xml.Token, source []byte) {
	switch t := t.(type) {
	case xml.CharData:
		if d.depth > 0 {
			d.text += string(t)
		} else if len(Trim(source)) > 0 {
			d.refused = "text outside the outermost element"
		}
	case xml.StartElement:
		d.flush("start " + fullName(t.Name))
		for _, a := range t.Attr {
			d.found = append(d.found, fullName(a.Name)+"="+a.Value)
		}
		if d.depth++; d.depth == 1 {
			d.roots++
		}
		if d.depth > maxDepth {
			d.refused = "elements too deep"
		}
	case xml.EndElement:
		d.flush("end")
		d.depth--
	}
}

func (d *decoding) flush(tag string) {
	if d.text != "" {
		d.found = append(d.found, "text "+d.text)
	}
	d.found, d.text = append(d.found, tag), ""
}

func newDecoder(data []byte) *xml.Decoder {
	d := xml.NewDecoder(bytes.NewReader(data))
	// openContent deals with encodings; the Scanner gets UTF-8.
	d.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) { return r, nil }
	return d
}

func fullName(n xml.Name) string {
	if n.Space == "" {
		return n.Local
	}
	return n.Space + ":" + n.Local
}

// allowed reports whether we may accept what encoding/xml refuses, and why.
func allowed(data []byte, err error) (string, bool) {
	switch text := err.Error(); {
	case strings.Contains(text, "invalid UTF-8") && !utf8.Valid(data):
		return "we read U+FFFD instead", true
	case strings.Contains(text, "invalid character entity"),
		strings.Contains(text, "illegal character code") && bytes.Contains(data, []byte("&#")):
		return "a reference that XML does not know is kept as text", true
	case strings.Contains(text, "unsupported version"):
		return "XML 1.0 fifth edition, section 2.8: 1.x is read as 1.0", true
	case strings.Contains(text, "invalid XML name: "):
		_, name, _ := strings.Cut(text, "invalid XML name: ")
		return "names of the fifth edition", strings.ContainsFunc(name, func(r rune) bool { return r >= utf8.RuneSelf })
	}
	return "", false
}

func compare(t *testing.T, data []byte) {
	t.Helper()
	ours, err := scanAll(bytes.NewReader(data))
	// The buffer may end anywhere: byte by byte, it does so everywhere.
	slow, slowErr := scanAll(iotest.OneByteReader(bytes.NewReader(data)))
	if !cmp.Equal(ours, slow) || !reflect.DeepEqual(err, slowErr) {
		t.Fatalf("at once (-) and byte by byte (+) differ on %q:\n%s%v\n%v", data, cmp.Diff(ours, slow), err, slowErr)
	}
	if err != nil {
		var fault *input.Error
		if !errors.As(err, &fault) || fault.Line < 1 || fault.Col < 1 || fault.What == "" || fault.Hint == "" {
			t.Fatalf("error without a place, a text or a hint: %#v", err)
		}
	}
	theirs, theirErr := decodeAll(data)
	if theirErr != nil {
		if _, ok := allowed(data, theirErr); err == nil && !ok {
			t.Fatalf("we accept what encoding/xml refuses: %v\n%q", theirErr, data)
		}
		return
	}
	if theirs.refused != "" {
		if err == nil {
			t.Fatalf("we accept %s\n%q", theirs.refused, data)
		}
		return
	}
	if err != nil {
		t.Fatalf("we refuse what encoding/xml accepts: %v\n%q", err, data)
	}
	if diff := cmp.Diff(theirs.found, ours); diff != "" {
		t.Fatalf("encoding/xml (-) and we (+) differ on %q:\n%s", data, diff)
	}
}

// snippets are XML at its corners; the rows that only one of the two readers
// accepts are in the tests of bad input.
var snippets = []string{
	"<a/>", "<a></a>", "<a ></a >", "<a\n/>", "<a b='1' c=\"2\"/>", "<a b = '1'c='2'/>",
	"<a:b xmlns:a='u' a:c='d'></a:b>", "<:a/>", "<a:/>", "<a:b:c/>", "<a b:c:d='1'/>",
	"<a>&lt;&gt;&amp;&quot;&apos;&#65;&#x41;&#x1F600;</a>", "<a b='&lt;&#10;&#xD;'/>",
	"<a>&#xD800;&#00000000000000065;</a>", "<a>&#X41;</a>", "<a>&#;</a>", "<a>&#x;</a>", "<a>&;</a>",
	"<a>&lt</a>", "<a>&nbsp;</a>", "<a>& </a>", "<a>&#0;</a>", "<a>&#xFFFE;</a>", "<a>&#x110000;</a>",
	"<a>&#99999999999999999999;</a>", "<a b='&lt'/>", "<a b='&'/>",
	"<a>x\r\ny\rz\n\r\n</a>", "<a b='x\r\ny\rz'/>", "<a>\r</a>", "<a>\r<![CDATA[\n]]></a>",
	"<a>]]</a>", "<a>]]></a>", "<a>]]]></a>", "<a>]]&gt;</a>", "<a>]&amp;]></a>", "<a b=']]>'/>", "<a>]]<!-- -->></a>",
	"<a><![CDATA[<b>&x;]]]]><![CDATA[>]]></a>", "<a><![CDATA[]]></a>", "<a><![CDATA[\r\n]]]></a>", "<a><![CDAT[]]></a>",
	"<![CDATA[ ]]><a/>", "<a/><![CDATA[]]>", "<a><![CDATA[\x01]]></a>", "<a><![CDATA[x</a>",
	"<!-- c --><a/><!-- - -->", "<a><!----></a>", "<a><!--->--></a>", "<a><!-- -- --></a>", "<a><!-- ---></a>",
	"<!-><a/>",
	"<?xml version='1.0'?><a/>", "<?xml version='1.1'?><a/>", "<?xml version='1.0' encoding='x'?><a/>",
	"<!-- c --><?xml version='1.0'?><a/>", "<?p?><a/><?q r?s?>", "<?p>?><a/>", "<? p?><a/>", "<??><a/>", "<?1?><a/>",
	"<?p:q:r?><a/>",
	"<!DOCTYPE a><a/>", "<!DOCTYPE a [<!ENTITY b \">\"><!-- ' > --><?p '?>]><a/>", "<!DOCTYPE a [<!-- ' -->]><a/>",
	"<!DOCTYPE a '>'><a/>", "<!DOCTYPE a [<!-->-->]><a/>", "<!DOCTYPE <!-><a/>", "<!><a/>", "<!>><a/>", "<!'><a/>",
	"<a><!x></a>", "<!DOCTYPE",
	"<a b=1/>", "<a b/>", "<a b='<'/>", "<a b='1", "<a / >", "<a b='1' b='2'/>", "<a 'b'/>", "<a =''/>",
	"<a b=''c=''/>",
	"<a></b>", "<a></a b>", "<a></ a>", "<a></>", "</a>", "<a>", "<a", "<", "<a>&", "<a><", "<a></", "<a></a", "<1/>",
	"<-a/>", "<a.-1/>",
	"<\u00e9/>", "<a\u00b7/>", "<\u00b7a/>", "<\u0370a/>", "<\U00010000/>", "<a\xff/>", "<\xe2\x82/>",
	"<a>\u00e9\u4e2d\U0001F600</a>", "<a>\xff</a>", "<a b='\xe2\x82'/>", "<a>\xe2\x82</a>", "<a>\xe2",
	"<a>\uFFFE</a>", "<a>\x7f\u0085</a>", "<a>\x00</a>", "<a b='\x00'/>",
	"", " ", "x", "<a/>x", "x<a/>", "<a/> \n", " <a/>", "<a/><b/>", "&#32;<a/>", "\ufeff<a/>", "<!-- -->", "<a/></a>",
}

func TestScannerLikeEncodingXML(t *testing.T) {
	for _, in := range snippets {
		compare(t, []byte(in))
	}
}

// TestScannerOnFiles does the same with whole files.
func TestScannerOnFiles(t *testing.T) {
	for _, dir := range []string{testfiles.Dir(t, testfiles.Gpxgo, "test_files"),
		testfiles.Dir(t, testfiles.XMLTokenizer, "testdata")} {
		names, err := filepath.Glob(filepath.Join(dir, "*.*"))
		if err != nil || len(names) == 0 {
			t.Fatalf("nothing in %s: %v", dir, err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, ".gz") || strings.Contains(name, "ride_") { // packed; too long for here
				continue
			}
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			compare(t, data)
		}
	}
}

func FuzzScanner(f *testing.F) {
	for _, in := range snippets {
		f.Add([]byte(in))
	}
	f.Fuzz(compare)
}
