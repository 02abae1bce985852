// Package surface reads what the tags of a way of the map say of riding on it: the
// ground ([Of]), whether wheels can be on it at all ([Rideable]), whether motors may
// ([Let]), in which direction ([Oneway]).
//
// The idea that surprises: what is ridden and what may be ridden are two questions. A
// line that somebody rode lies on a way whatever the law says; a way out is looked for
// on those alone that are open.
package surface

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"lastpump/route"
	"lastpump/route/input"
	"lastpump/route/osmfile"
)

// thirst orders the grounds by what they drink, least first. Where two drink the
// same the one that is harder to ride stands behind.
var thirst = []route.Ground{route.Paved, route.PackedGravel, route.LooseGravel, route.Dirt, route.Soft, route.Rocky,
	route.Snow, route.Mud, route.Sand, route.DeepSand}

// Thirstier gives the thirstier of two grounds. "" is none.
func Thirstier(a, b route.Ground) route.Ground {
	if slices.Index(thirst, b) > slices.Index(thirst, a) {
		return b
	}
	return a
}

// A groundRule says what ground a tag of a way means.
type groundRule struct {
	key    string
	ground route.Ground
	values string // that mean it, with spaces between
	// alone tells that the tag is enough to know the ground. One that is not can make
	// it thirstier, but says nothing of what the wheels roll on.
	alone bool
}

// groundRules are read together: of all that a way has the thirstiest counts, for a
// road that is paved on the map and very bad to ride is not ridden as paved. The
// values are those of OpenStreetMap's wiki and of the presets of its editor (surface,
// tracktype, smoothness, mtb:scale); what they mean in grounds is our estimate.
var groundRules = []groundRule{
	{"surface", route.Paved, "asphalt chipseal concrete concrete:plates concrete:lanes paved paving_stones " +
		"paving_stones:lanes brick bricks interlock metal metal_grid wood plastic rubber tartan artificial_turf " +
		"acrylic tiles", true},
	{"surface", route.PackedGravel, "compacted fine_gravel sett cobblestone cobblestone:flattened unhewn_cobblestone " +
		"grass_paver", true},
	{"surface", route.LooseGravel, "gravel pebblestone shells", true},
	{"surface", route.Dirt, "unpaved ground dirt earth soil clay laterite salt trail", true},
	{"surface", route.Soft, "grass woodchips mulch bark_mulch", true},
	{"surface", route.Rocky, "rock rocks rocky stone stones bedrock scree stepping_stones", true},
	{"surface", route.Mud, "mud mud_flat", true},
	{"surface", route.Sand, "sand", true},
	{"surface", route.Snow, "snow ice", true},

	{"tracktype", route.PackedGravel, "grade1 grade2", true},
	{"tracktype", route.Dirt, "grade3", true},
	{"tracktype", route.Soft, "grade4 grade5", true},

	{"smoothness", route.PackedGravel, "bad", false},
	{"smoothness", route.Dirt, "very_bad", false},
	{"smoothness", route.Rocky, "horrible very_horrible impassable", false},

	{"mtb:scale", route.Dirt, "0 0- 0+ 1 1- 1+", true},
	{"mtb:scale", route.Rocky, "2 2- 2+ 3 3- 3+ 4 4- 4+ 5 5- 5+ 6", true},

	{"ford", route.Rocky, "yes stepping_stones intermittent", false}, // the bed of a stream
	{"ice_road", route.Snow, "yes", false},
	{"winter_road", route.Snow, "yes", false},
}

// classGrounds is the usual ground of a class of ways (its highway tag), for one that
// has no tag of its ground: our estimate, and marked guessed where it is used. Far
// from anywhere a road without a tag is not often paved.
var classGrounds = []struct {
	ground  route.Ground
	classes string
}{
	{route.Paved, "motorway motorway_link trunk trunk_link primary primary_link living_street"},
	{route.PackedGravel, "secondary secondary_link tertiary tertiary_link unclassified residential service road raceway " +
		"busway"},
	{route.Dirt, "track"},
	{route.Rocky, "path bridleway"},
}

// closedClasses are closed to motorcycles unless one of the motorKeys lets them in.
var (
	closedClasses = map[string]bool{"footway": true, "pedestrian": true, "cycleway": true}
	motorKeys     = []string{"motorcycle", "motor_vehicle", "vehicle"}
	letsIn        = []string{"yes", "designated", "permissive", "official", "destination"}
)

// A Footing is what a way of the map is to ride on.
type Footing struct {
	Ground  route.Ground
	Guessed bool         // from the class of the way alone
	Tags    osmfile.Tags // that tell
}

// Rideable tells whether a motorcycle can be on a way, whatever the law says.
func Rideable(t osmfile.Tags) bool {
	class := t.Find("highway")
	switch {
	case class == "" || t.Find("area") == "yes":
		return false
	case closedClasses[class]:
		return slices.ContainsFunc(motorKeys, func(key string) bool { return slices.Contains(letsIn, t.Find(key)) })
	}
	return usualGround[class] != ""
}

// Of reads the tags of a way.
func Of(t osmfile.Tags) Footing {
	class := t.Find("highway")
	f := Footing{Guessed: true}
	f.tell("highway", class)
	for _, key := range groundKeys {
		value := t.Find(key)
		ground, alone := groundOf(key, value)
		if ground == "" {
			continue
		}
		f.Ground = Thirstier(f.Ground, ground)
		f.Guessed = f.Guessed && !alone
		f.tell(key, value)
	}
	if f.Guessed {
		f.Ground = Thirstier(f.Ground, cmp.Or(usualGround[class], route.PackedGravel))
	}
	if v := t.Find("surface"); f.Guessed && v != "" {
		// A word that is not known here: what is paved has words that everybody uses.
		f.Ground = Thirstier(f.Ground, route.Dirt)
		f.tell("surface", v)
	}
	for _, key := range append(motorKeys, "access") {
		if v := t.Find(key); v == "no" || v == "private" {
			f.tell(key, v)
		}
	}
	return f
}

// Note gives the tags that tell, on one line.
func (f Footing) Note() string {
	var out []string
	for _, t := range f.Tags {
		out = append(out, t.Key+"="+t.Value)
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(input.Clean(strings.Join(out, " ")),
		string(unicode.ReplacementChar), "")), " ")
}

// tell adds a tag to those that tell, without the texts of its block.
func (f *Footing) tell(key, value string) {
	f.Tags = append(f.Tags, osmfile.Tag{Key: key, Value: strings.Clone(value)})
}

// groundOf reads one tag; of several values ("gravel;sand") the thirstiest. The ground
// is "" where the tag says nothing of it.
func groundOf(key, value string) (ground route.Ground, alone bool) {
	if value == "" {
		return "", false
	}
	for _, v := range strings.FieldsFunc(value, func(r rune) bool { return r == ';' || r == '/' || r == ',' }) {
		if r, ok := ruleOf[osmfile.Tag{Key: key, Value: strings.ToLower(strings.TrimSpace(v))}]; ok {
			ground, alone = Thirstier(ground, r.ground), alone || r.alone
		}
	}
	return ground, alone
}

// The tables above by what is looked up in them.
var (
	ruleOf      = map[osmfile.Tag]groundRule{}
	groundKeys  []string
	usualGround = map[string]route.Ground{}
)

func init() {
	for _, r := range groundRules {
		for _, v := range strings.Fields(r.values) {
			ruleOf[osmfile.Tag{Key: r.key, Value: v}] = r
		}
		if !slices.Contains(groundKeys, r.key) {
			groundKeys = append(groundKeys, r.key)
		}
	}
	for _, c := range classGrounds {
		for _, class := range strings.Fields(c.classes) {
			usualGround[class] = c.ground
		}
	}
}

// Oneway tells in which direction a way is ridden: 1 as it is drawn, -1 against, 0
// both.
func Oneway(t osmfile.Tags) int8 {
	switch v := t.Find("oneway"); v {
	case "yes", "true", "1":
		return 1
	case "-1", "reverse":
		return -1
	case "":
		c := t.Find("highway")
		if c == "motorway" || c == "motorway_link" || strings.Contains(t.Find("junction"), "roundabout") {
			return 1
		}
	}
	return 0
}
