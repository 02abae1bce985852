package gpxfile

import (
	"archive/zip"
	"bufio"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"errors"
	"io"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"

	"lastpump/route"
)

// headSize is how much of a file is looked at for its encoding.
const headSize = 4 << 10

// An input is a file unpacked and turned into UTF-8.
type input struct {
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

// openInput finds out how the file is packed and encoded: gzip by its magic
// number (RFC 1952, section 2.3.1) and ZIP by its own, UTF-8 and UTF-16 by their
// byte order mark or the first "<" ([2] appendix F.1), anything else by the XML
// declaration.
func openInput(r io.Reader, file string) (input, error) {
	raw := bufio.NewReaderSize(r, headSize)
	if magic, _ := raw.Peek(2); string(magic) == "\x1f\x8b" {
		unpacked, err := gzip.NewReader(raw)
		if err != nil {
			what, hint := readFault(err)
			return input{}, &route.InputError{File: file, Line: 1, Col: 1, What: what, Hint: hint}
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
		return input{text: raw}, nil
	case bytes.HasPrefix(head, []byte("\xfe\xff")), bytes.HasPrefix(head, []byte("\x00<")):
		return decoded(raw, unicode.UTF16(unicode.BigEndian, unicode.UseBOM)), nil
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("<\x00")):
		return decoded(raw, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)), nil
	}
	return declared(raw, head, file)
}

func openArchive(r io.Reader, file string) (input, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxArchive+1))
	if err != nil {
		what, hint := readFault(err)
		return input{}, archiveFault(file, what, hint)
	}
	if len(data) > maxArchive {
		return input{}, archiveFault(file, "a ZIP archive of over 256 MiB", "unpack it and give the .gpx file itself")
	}
	return input{archive: data}, nil
}

func decoded(r io.Reader, enc encoding.Encoding) input {
	return input{text: enc.NewDecoder().Reader(r)}
}

// declared decodes what the XML declaration says. Labels mean what they mean on
// the web, where ISO-8859-1 is read as windows-1252 (WHATWG Encoding Standard).
func declared(raw io.Reader, head []byte, file string) (input, error) {
	decl, at := declaration(head)
	label, i := pseudoAttr(decl, "encoding")
	if label == "" {
		return input{text: raw}, nil
	}
	enc, err := htmlindex.Get(label)
	if err != nil || enc == encoding.Replacement {
		before := head[:at+i]
		return input{}, &route.InputError{File: file,
			Line: bytes.Count(before, newline) + 1,
			Col:  len(before) - bytes.LastIndexByte(before, '\n'),
			What: "unknown encoding " + quote([]byte(label)), Hint: "save the file as UTF-8"}
	}
	switch name, _ := htmlindex.Name(enc); name {
	case "utf-8":
		return input{text: raw}, nil
	case "utf-16le", "utf-16be": // but then the label could not have been read
		return input{text: raw, note: "says that it is " + label + " but is not; read as UTF-8"}, nil
	}
	return decoded(raw, enc), nil
}

// declaration gives the XML declaration in the head of a file, and its index.
// It should be the very first thing, but real files have white space and
// comments before it.
func declaration(head []byte) ([]byte, int) {
	for i := 0; ; {
		i = passSpace(head, i)
		rest := head[i:]
		switch {
		case bytes.HasPrefix(rest, []byte("<?xml")):
			if end := bytes.Index(rest, []byte("?>")); end > 0 {
				return rest[:end], i
			}
			return nil, 0
		case !bytes.HasPrefix(rest, []byte("<!--")):
			return nil, 0
		}
		end := bytes.Index(rest, []byte("-->"))
		if end < 0 {
			return nil, 0
		}
		i += end + 3
	}
}

// pseudoAttr gives the value of name="value" in an XML declaration and the index
// of its opening quote; "" if it is not there.
func pseudoAttr(decl []byte, name string) (string, int) {
	i := bytes.Index(decl, []byte(name))
	if i < 0 {
		return "", 0
	}
	i = passSpace(decl, i+len(name))
	if i == len(decl) || decl[i] != '=' {
		return "", 0
	}
	i = passSpace(decl, i+1)
	if i == len(decl) || decl[i] != '"' && decl[i] != '\'' {
		return "", 0
	}
	end := bytes.IndexByte(decl[i+1:], decl[i])
	if end < 0 {
		return "", 0
	}
	return string(decl[i+1 : i+1+end]), i
}

// readFault says what is wrong where reading stops with an error.
func readFault(err error) (what, hint string) {
	var corrupt flate.CorruptInputError
	switch {
	case errors.Is(err, errZeros):
		return err.Error(), hintCut
	case errors.Is(err, errUnpacked):
		return err.Error(), "no ride is so long: it is damaged, or made to do harm"
	case errors.Is(err, io.ErrUnexpectedEOF):
		return "the compressed data is cut off", hintCut
	case errors.Is(err, gzip.ErrHeader), errors.Is(err, gzip.ErrChecksum), errors.Is(err, zip.ErrChecksum), errors.Is(err, zip.ErrFormat), errors.As(err, &corrupt):
		return "the compressed data is damaged", "download the file again"
	}
	return "cannot read on: " + err.Error(), "is the disk or the connection sound?"
}
