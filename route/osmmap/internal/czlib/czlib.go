// Package czlib stands in for the C library of that name, with which paulmach/osm
// unpacks the blocks of an extract. The C one wants a C compiler and the headers of
// zlib wherever the program is built, and makes a binary that needs a libz beside
// it; this one is Go.
package czlib

import (
	"io"

	"github.com/klauspost/compress/zlib"
)

// NewReader unpacks zlib data (RFC 1950).
func NewReader(r io.Reader) (io.ReadCloser, error) { return zlib.NewReader(r) }
