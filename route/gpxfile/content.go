package gpxfile

import (
	"archive/zip"
	"bufio"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"errors"
	"io"
	"regexp"

	"lastpump/route/gpxfile/internal/xmlscan"
	"lastpump/route/input"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

// headSize is how much of a file is looked at for its encoding.
const headSize = 4 << 10

// content is a file unpacked and turned into UTF-8.
type content struct {
	text    io.Reader
	note    string // what is odd about the encoding; may be empty
	archive []byte // the whole of a ZIP archive instead
}

// zipMagic begins a ZIP archive that has a file in it (APPNOTE.TXT 4.3.7), and
// zipEmpty one that has none (4.3.16).
const (
	zipMagic = "PK\x03\x04"
	zipEmpty = "PK\x05\x06"
)

// openContent finds out how the file is packed and encoded: gzip by its magic
// number (RFC 1952, section 2.3.1) and ZIP by its own, UTF-8 and UTF-16 by their
// byte order mark or the first "<" ([2] appendix F.1), anything else by the XML
// declaration.
func openContent(r io.Reader, file string) (content, error) {
	raw := bufio.NewReaderSize(r, headSize)
	if magic, _ := raw.Peek(2); string(magic) == "\x1f\x8b" {
		unpacked, err := gzip.NewReader(raw)
		if err != nil {
			return content{}, placed(file, readFault(err))
		}
		raw = bufio.NewReaderSize(limited(unpacked), headSize)
	}
	if magic, _ := raw.Peek(4); string(magic) == zipMagic || string(magic) == zipEmpty {
		return openArchive(raw, file)
	}
	head, _ := raw.Peek(headSize) // what ails the reader comes up again on reading
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		raw.Discard(3)
		return content{text: raw}, nil
	case bytes.HasPrefix(head, []byte("\xfe\xff")), bytes.HasPrefix(head, []byte("\x00<")):
		return decoded(raw, unicode.UTF16(unicode.BigEndian, unicode.UseBOM)), nil
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("<\x00")):
		return decoded(raw, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)), nil
	}
	return declared(raw, head, file)
}

func openArchive(r io.Reader, file string) (content, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxArchive+1))
	if err != nil {
		return content{}, placed(file, readFault(err))
	}
	if len(data) > maxArchive {
		return content{}, archiveFault(file, "a ZIP archive of over 256 MiB", "unpack it and give the .gpx file itself")
	}
	return content{archive: data}, nil
}

func decoded(r io.Reader, enc encoding.Encoding) content {
	return content{text: enc.NewDecoder().Reader(r)}
}

// The XML declaration should be the very first thing, but real files have white space and
// comments before it.
var (
	declaration = regexp.MustCompile(`^(?:[ \t\r\n]|<!--(?:[^-]|-[^-])*-->)*<\?xml((?s:.*?))\?>`)
	encodingIn  = regexp.MustCompile(`encoding[ \t\r\n]*=[ \t\r\n]*("[^"]*"|'[^']*')`)
)

// declared decodes what the XML declaration says. Labels mean what they mean on
// the web, where ISO-8859-1 is read as windows-1252 (WHATWG Encoding Standard).
func declared(raw io.Reader, head []byte, file string) (content, error) {
	label, at := "", 0 // and where its opening quote is
	if d := declaration.FindSubmatchIndex(head); d != nil {
		if e := encodingIn.FindSubmatchIndex(head[:d[3]][d[2]:]); e != nil {
			at = d[2] + e[2]
			label = string(head[at+1 : d[2]+e[3]-1])
		}
	}
	if label == "" {
		return content{text: raw}, nil
	}
	enc, err := htmlindex.Get(label)
	if err != nil || enc == encoding.Replacement {
		before := head[:at]
		return content{}, &input.Error{File: file,
			Line: bytes.Count(before, []byte("\n")) + 1,
			Col:  len(before) - bytes.LastIndexByte(before, '\n'),
			What: "unknown encoding " + xmlscan.Quote([]byte(label)), Hint: "save the file as UTF-8"}
	}
	switch name, _ := htmlindex.Name(enc); name {
	case "utf-8":
		return content{text: raw}, nil
	case "utf-16le", "utf-16be": // but then the label could not have been read
		return content{text: raw, note: "says that it is " + label + " but is not; read as UTF-8"}, nil
	}
	return decoded(raw, enc), nil
}

// readFault says what is wrong where reading stops with an error, yet without the place.
func readFault(err error) *input.Error {
	var corrupt flate.CorruptInputError
	switch {
	case errors.Is(err, errUnpacked):
		return &input.Error{What: err.Error(), Hint: "no ride is so long: it is damaged, or made to do harm"}
	case errors.Is(err, io.ErrUnexpectedEOF):
		return xmlscan.CutOff("the compressed data is cut off")
	case errors.Is(err, gzip.ErrHeader), errors.Is(err, gzip.ErrChecksum),
		errors.Is(err, zip.ErrChecksum), errors.Is(err, zip.ErrFormat), errors.As(err, &corrupt):
		return &input.Error{What: "the compressed data is damaged", Hint: "download the file again"}
	}
	return &input.Error{What: "cannot read on: " + err.Error(), Hint: "is the disk or the connection sound?"}
}
