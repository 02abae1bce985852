package osmfile_test

import (
	"bytes"
	"compress/gzip"

	"lastpump/route/osmfile"
	"lastpump/testdata/kit/extracts"
)

// inMemory is an extract that cannot seek.
func inMemory(data []byte) osmfile.Extract { return extracts.Stream("map", data) }

func gzipped(data []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write(data)
	z.Close()
	return b.Bytes()
}
