package gpxfile

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"unicode"

	"lastpump/route/gpxfile/internal/xmlscan"
	"lastpump/route/input"
)

const (
	maxArchive  = 256 << 20 // bytes of a ZIP archive, which is held whole
	maxUnpacked = 2 << 30   // bytes of one file once it is unpacked
	// No more comes out of deflated data than this many times as much: RFC 1951 has
	// at the least one bit for a copy of 258 bytes, and two make a copy.
	maxRatio = 1032
)

// readArchive reads the GPX files of a ZIP archive as one.
func readArchive(data []byte, name string, salvage bool) (*File, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		if salvage {
			return salvageArchive(data, name)
		}
		return nil, placed(name, xmlscan.CutOff("the ZIP archive is cut off or damaged"))
	}
	members, err := gpxMembers(z, name)
	if err != nil {
		return nil, err
	}
	var files []*File
	for _, m := range members {
		f, err := readMember(m, name, salvage)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	all := Join(files...)
	if len(files) > 1 {
		all.Notes = append([]string{fmt.Sprintf("%s: a ZIP archive of %d GPX files, stored in this order: %s",
			name, len(files), listed(members))}, all.Notes...)
	}
	return all, nil
}

func listed(members []*zip.File) string {
	var names []string
	for _, m := range members[:min(len(members), 10)] {
		names = append(names, printable(path.Base(m.Name)))
	}
	if len(members) > len(names) {
		names = append(names, "…")
	}
	return strings.Join(names, ", ")
}

// gpxMembers picks the GPX files of an archive by their names, or else its only
// file.
func gpxMembers(z *zip.Reader, name string) ([]*zip.File, error) {
	var all, gpx []*zip.File
	for _, m := range z.File {
		base := path.Base(m.Name)
		if m.FileInfo().IsDir() || strings.HasPrefix(base, ".") || strings.HasPrefix(m.Name, "__MACOSX/") {
			continue
		}
		all = append(all, m)
		if lower := strings.ToLower(base); strings.HasSuffix(lower, ".gpx") || strings.HasSuffix(lower, ".gpx.gz") {
			gpx = append(gpx, m)
		}
	}
	switch {
	case len(gpx) > 0:
		return gpx, nil
	case slices.ContainsFunc(all, func(m *zip.File) bool { return strings.HasSuffix(strings.ToLower(m.Name), ".kml") }):
		return nil, archiveFault(name, "this looks like KMZ, not GPX", hintExport)
	case len(all) == 1:
		return all, nil
	case len(all) == 0:
		return nil, archiveFault(name, "an empty ZIP archive", hintExport)
	}
	holds := xmlscan.Clip([]byte(listed(all)))
	return nil, archiveFault(name, "a ZIP archive without a .gpx file in it: it holds "+holds, hintExport)
}

// readMember reads one file of an archive.
func readMember(m *zip.File, name string, salvage bool) (*File, error) {
	inner := name + "/" + printable(m.Name)
	const encrypted = 1 // APPNOTE.TXT 4.4.4, general purpose bit 0
	switch {
	case m.Flags&encrypted != 0:
		return nil, archiveFault(inner, "it is locked with a password", "unpack it and give the .gpx file itself")
	case m.UncompressedSize64 > maxUnpacked || m.UncompressedSize64 > maxRatio*m.CompressedSize64+maxRatio:
		return nil, archiveFault(inner,
			fmt.Sprintf("it promises %d bytes in %d", m.UncompressedSize64, m.CompressedSize64),
			"no archive holds so much: it is damaged, or made to do harm")
	}
	r, err := m.Open()
	if err != nil {
		return nil, archiveFault(inner, "cannot unpack: "+err.Error(), "unpack it and give the .gpx file itself")
	}
	defer r.Close()
	head := make([]byte, 4)
	n, _ := io.ReadFull(r, head) // what ails the reader comes up again on reading
	if string(head[:n]) == zipMagic {
		return nil, archiveFault(inner, "a ZIP archive in a ZIP archive", "unpack it and give the .gpx file itself")
	}
	return read(io.MultiReader(bytes.NewReader(head[:n]), limited(r)), inner, salvage)
}

// salvageArchive reads the first file of an archive whose directory, which stands
// at the end, is lost.
//
//	APPNOTE.TXT 4.3.7, local file header: the method at 8, the lengths of the name
//	and of the extra field at 26 and 28, then these two and the data.
func salvageArchive(data []byte, name string) (*File, error) {
	const header, deflated = 30, 8
	fault := archiveFault(name, "the ZIP archive is cut off or damaged, and nothing in it is whole",
		"download or export it again")
	if len(data) < header || data[8] != deflated {
		return nil, fault
	}
	length := func(i int) int { return int(data[i]) | int(data[i+1])<<8 }
	start := header + length(26)
	body := start + length(28)
	if body > len(data) {
		return nil, fault
	}
	unpacked := limited(flate.NewReader(bytes.NewReader(data[body:])))
	f, err := read(unpacked, name+"/"+printable(string(data[header:start])), true)
	if err != nil {
		return nil, fault
	}
	if f.Cut == "" {
		f.Cut = name + ": the ZIP archive is cut off after its first file"
	}
	return f, nil
}

// printable makes a name in an archive fit to be printed: whoever packed it may
// have put anything into it.
func printable(name string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, name)
}

func archiveFault(file, what, hint string) error {
	return placed(file, &input.Error{What: what, Hint: hint})
}

// placed says that an error is about a file as a whole.
func placed(file string, e *input.Error) error {
	e.File, e.Line, e.Col = file, 1, 1
	return e
}

// limited ends unpacked data where it becomes more than any ride holds.
func limited(r io.Reader) io.Reader { return &limitedReader{r, maxUnpacked} }

type limitedReader struct {
	r    io.Reader
	left int64
}

var errUnpacked = fmt.Errorf("it unpacks to over %d GiB", maxUnpacked>>30)

func (l *limitedReader) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, errUnpacked
	}
	n, err := l.r.Read(p[:min(int64(len(p)), l.left)])
	l.left -= int64(n)
	return n, err
}
