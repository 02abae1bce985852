// Package gpxfile reads GPX files, versions 1.0 and 1.1: tracks with their
// segments, routes and waypoints. Start with [Read]. [Write] writes version 1.1.
//
// The reader is a stream with its own XML scanner (internal/xmlscan), for three
// reasons. A fault must be shown by line and column, a point without a position
// must be an error and never the point 0,0, and a file of a million points must
// be read in a fraction of a second. Points in the form that nearly all files have
// are read past the scanner (plain.go); both read the same.
//
// What is odd but harmless is read and told in [File].Notes. What would make
// the line wrong is an error, always a [*input.Error] with its place.
// Lines and columns count from 1, columns in bytes of the text as UTF-8 without
// its byte order mark, whatever the encoding of the file.
//
// # What counts as GPX
//
// An element is taken for GPX by its local name if it stands where the schema
// puts it and has the namespace of the outermost element, a GPX namespace of
// whatever version, or none. Everything else, extensions above all, is passed
// over, though it must be well-formed.
//
// # Limits
//
// Links, accuracy and extensions are not read, but for a [Record]; so the shaping
// points that some makers hide in the extensions of a route point are not seen.
// Times are read to the second. The schema's order of elements is not enforced.
// Entities declared in a DOCTYPE are not expanded. A tag, or a text that is read,
// may have up to 1 MiB, elements may be nested 1000 deep.
//
// # Sources
//
//	[1] GPX 1.1 schema, topografix.com/GPX/1/1.
//	[2] Extensible Markup Language (XML) 1.0 (Fifth Edition), W3C.
//	[3] Namespaces in XML 1.0, W3C.
package gpxfile
