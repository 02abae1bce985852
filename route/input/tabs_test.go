package input_test

import (
	"strings"
	"testing"

	"lastpump/route/input"
)

// What is copied out of a spreadsheet has tabs between its columns: an empty field stays one, and
// numbers have either mark.
func TestTabsBetweenColumns(t *testing.T) {
	table, err := input.NewTable(strings.NewReader("name\tlat\tlon\n\t48,5\t95.8971\nB\t\t1\n"), "f", []input.Column{{Name: "name"}, {Name: "lat"}, {Name: "lon"}}, 3)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range [][3]string{{"", "48.5", "95.8971"}, {"B", "", "1"}} {
		if !table.Next() {
			t.Fatal(table.Faults())
		}
		if got := [3]string{table.Get("name"), table.Pointed("lat"), table.Pointed("lon")}; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
