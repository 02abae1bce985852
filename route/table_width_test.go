package route_test

import (
	"strings"
	"testing"

	"lastpump/route"
)

// RFC 4180, section 2.4: each line should have the same number of fields. Fewer
// are read as empty and so are empty ones behind; more would shift the columns.
func TestRowsWiderThanTheHeader(t *testing.T) {
	const head = "from_km,to_km,ground,note\n"
	for row, want := range map[string]string{
		"0,5,sand,wet, in spring\n": "g.csv:2:15: the row has more fields than the header",
		"0,5,sand,wet,,\n":          "",
		"0,5,sand\n":                "",
	} {
		_, _, err := route.ReadGround(strings.NewReader(head+row), "g.csv")
		if want == "" && err != nil || want != "" && (err == nil || err.Error() != want) {
			t.Errorf("%q: error %v, want %q", row, err, want)
		}
	}
}
