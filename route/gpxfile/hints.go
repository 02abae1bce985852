package gpxfile

// What to do next, for the faults that have it in common.
const (
	hintDamaged = "the file is damaged or was edited by hand: look at this place, or export the file again"
	hintCut     = "the file was cut off: download or export it again, or plan what is whole of it with --salvage"
	hintOneRoot = "a GPX file is one <gpx> element: were two files put one after the other?"
	hintEscape  = "in XML write < as &lt;"
	hintExport  = "export the track as GPX"
	hintPoint   = "every point needs lat and lon in decimal degrees: mend this point or delete it"
	hintComma   = "write a decimal point, not a comma"
)
