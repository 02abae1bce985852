// Package relief reads SRTM elevation tiles (.hgt) and gives the height of the
// ground along a line. Start with [Open], then ask [Tiles.Height], or let
// [Tiles.Fill] set the heights of whole tracks.
//
// The idea that surprises: a gap in the relief is no error. Tiles have voids, and
// the sea has no tiles at all; a height is then not known, and [Tiles.Missing]
// names the tiles that might be fetched. A damaged file is an error.
//
// # Files
//
// A tile is one degree by one degree and is called after the sample in its
// south-west corner [2]: N51E010.hgt. It may be packed (N51E010.hgt.gz,
// N51E010.hgt.zip, N51E010.zip) and may have more words before .hgt, with dots
// between them (N51E010.SRTMGL1.hgt.zip), in capitals or not. How it is packed is
// told by its first bytes, not by its name. Where several files are one tile,
// the name that promises a plain file is read before .gz before .zip, then the
// first in the order of names.
//
// A tile has 1201×1201 samples (3″) or 3601×3601 (1″): signed 16 bit, big end
// first, rows from north to south, columns from west to east, -32768 for a void
// [1]. The edge rows and columns of neighbours are the same.
//
// # Limits
//
// Heights are metres above the geoid EGM96 [1]. Between samples, 31 or 93 m apart
// from north to south, they are interpolated: a track along a slope, through a
// cutting, over a bridge or through a tunnel gets the height of the hillside. How
// near the samples are to the ground is not known here. A damaged file that is
// asked for again is read again, with the same error.
//
// # Sources
//
//	[1] SRTM Topography (SRTM_Topo.txt), which comes with the data: samples,
//	    void, order, vertical reference.
//	[2] Manual of r.in.srtm, GRASS GIS: the name is the centre of the lower
//	    left sample.
//	[3] RFC 1952, section 2.3.1: gzip; APPNOTE.TXT, section 4.3: zip.
package relief
