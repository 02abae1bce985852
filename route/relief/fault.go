package relief

import (
	"archive/zip"
	"compress/flate"
	"compress/gzip"
	"errors"
	"fmt"
	"io"

	"lastpump/route/input"
)

// What to do next, for the faults that have it in common.
const (
	hintFolder  = "name a folder with tiles such as N51E010.hgt, N51E010.hgt.gz or N51E010.hgt.zip in it"
	hintSize    = "the file is cut off or no SRTM tile: download it again, or take it out of the folder"
	hintCut     = "the file was cut off: download it again, or take it out of the folder"
	hintDamaged = "download the file again, or take it out of the folder"
	hintZip     = "a zip should hold one tile, named as the zip is: take it out of the folder, or unpack it there"
	hintDisk    = "is the disk or the connection sound?"
)

// wantSize says how large a tile is.
const wantSize = "want 2884802 (1201×1201 samples) or 25934402 (3601×3601)"

// checkSize refuses what is not as large as a tile; where says of what it is the
// size.
func (s *source) checkSize(size uint64, where string) error {
	if size == coarseSize || size == fineSize {
		return nil
	}
	return s.fault(fmt.Sprintf("%d bytes%s, %s", size, where, wantSize), hintSize)
}

// readFault says why a file cannot be read to its end.
func (s *source) readFault(err error) error {
	var corrupt flate.CorruptInputError
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF), err == io.EOF:
		return s.fault("the file is cut off", hintCut)
	case errors.Is(err, gzip.ErrHeader), errors.Is(err, gzip.ErrChecksum), errors.As(err, &corrupt):
		return s.fault("the compressed data is damaged", hintDamaged)
	}
	return s.fault("cannot read on: "+cause(err), hintDisk)
}

// zipFault says why a zip cannot be unpacked. A zip that is cut off has lost the
// list at its end and looks like no zip.
func (s *source) zipFault(err error) error {
	if errors.Is(err, zip.ErrAlgorithm) {
		return s.fault("the zip is packed in a way that is not known here", "unpack it in the folder")
	}
	return s.fault("the zip is cut off or damaged", hintDamaged)
}

func (s *source) fault(what, hint string) error {
	return &input.Error{File: s.name, What: what, Hint: hint}
}
