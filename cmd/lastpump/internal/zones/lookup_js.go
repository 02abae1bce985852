package zones

import (
	"os"
	"time"

	"github.com/paulmach/orb"
)

// Lookup gives a function that tells the zone of a place, by the table that the page carries of its ride;
// without one it tells nil.
func Lookup() func(orb.Point) *time.Location {
	text, err := os.ReadFile(TableFile)
	if err != nil {
		return func(orb.Point) *time.Location { return nil }
	}
	return ReadTable(string(text)).Nearest()
}
