package refuge

import (
	"strings"
	"testing"

	"lastpump/route/osmfile"
)

func tags(text string) (t osmfile.Tags) {
	for _, f := range strings.Fields(text) {
		key, value, _ := strings.Cut(f, "=")
		t = append(t, osmfile.Tag{Key: key, Value: value})
	}
	return t
}

// What is help by the wiki of the map, and what is none.
func TestHelpIsTold(t *testing.T) {
	for text, want := range map[string]string{
		"place=hamlet name=Ulbek":                        "village hamlet",
		"place=city name=Ulbek":                          "village city",
		"place=village":                                  "", // nobody could say where he is
		"place=isolated_dwelling name=X":                 "",
		"place=locality name=X":                          "",
		"amenity=hospital":                               "clinic hospital",
		"amenity=clinic name=X access=yes":               "clinic clinic",
		"amenity=doctors":                                "clinic doctors",
		"amenity=dentist":                                "",
		"amenity=clinic access=private":                  "",
		"amenity=pharmacy":                               "pharmacy pharmacy",
		"amenity=shelter":                                "shelter shelter",
		"amenity=shelter shelter_type=public_transport":  "shelter public_transport",
		"tourism=alpine_hut":                             "shelter alpine_hut",
		"tourism=wilderness_hut name=X":                  "shelter wilderness_hut",
		"tourism=hotel":                                  "",
		"amenity=drinking_water":                         "water drinking_water",
		"amenity=drinking_water access=no":               "",
		"amenity=fountain":                               "",
		"amenity=clinic disused=yes":                     "",
		"disused:amenity=clinic":                         "",
		"tourism=alpine_hut ruins=yes":                   "",
		"place=hamlet name=X abandoned=yes":              "",
		"abandoned:place=village name=X":                 "",
		"amenity=pharmacy opening_hours=closed":          "",
		"amenity=fuel":                                   "",
		"disused:amenity=hospital":                       "",
		"place=village name=X access=private":            "village village", // a village is not for its owner
		"place=square amenity=drinking_water name=Plaza": "water drinking_water",
	} {
		kind, what := Of(tags(text))
		if got := strings.TrimSpace(string(kind) + " " + what); got != want || Is(tags(text)) != (want != "") {
			t.Errorf("%s is %q, want %q", text, got, want)
		}
	}
}

// Roads of the secondary class or above, with their links, in order; and no others.
func TestMajor(t *testing.T) {
	for class, want := range map[string]string{"motorway": "motorway", "motorway_link": "motorway", "trunk": "trunk", "primary": "primary",
		"primary_link": "primary", "secondary": "secondary", "secondary_link": "secondary", "tertiary": "", "unclassified": "", "track": "", "": ""} {
		if got := Major(tags("highway=" + class)); got.String() != want {
			t.Errorf("highway=%s is %q, want %q", class, got, want)
		}
	}
	if !(Major(tags("highway=motorway")) > Major(tags("highway=trunk")) && Major(tags("highway=primary")) > Major(tags("highway=secondary"))) {
		t.Error("classes are not in order")
	}
}
