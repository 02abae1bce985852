package surface

import (
	"slices"
	"strings"

	"lastpump/route/osmfile"
)

// pasts are what a map puts before the key of a thing that is there no more, or says of it (the wiki of
// OpenStreetMap, Lifecycle prefix).
var pasts = []string{"disused", "abandoned", "ruins", "demolished", "removed", "razed", "was"}

// Past tells that a thing of a map, such as amenity=fuel, is there no more, by the word that says so; "" where
// nothing does.
func Past(t osmfile.Tags, key, value string) string {
	for _, past := range pasts {
		was := slices.ContainsFunc(strings.Split(t.Find(past+":"+key), ";"), func(v string) bool { return strings.TrimSpace(v) == value })
		if was || t.Find(past) == "yes" {
			return past
		}
	}
	return ""
}
