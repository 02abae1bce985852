package route

// StretchFromTable reads the table of the stretch, of which a line reaches only
// the part beyond 500 m from point to point.
var StretchFromTable = fromTable
