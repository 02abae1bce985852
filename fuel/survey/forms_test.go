package survey

import (
	"bytes"
	"compress/gzip"
	"context"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/extracts"
)

// named is a seekable extract of a few objects.
func named(name string, objects []any) osmfile.Extract {
	return extracts.Seekable(name, osmtest.PBF(objects, 100, false))
}

func gzipped(data []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write(data)
	z.Close()
	return b.Bytes()
}

// A result is what a survey writes: the two lists, byte by byte.
type result struct{ Stops, Ground string }

func resultOf(t testing.TB, line *route.Line, opt Options, extracts ...osmfile.Extract) result {
	t.Helper()
	s, err := Read(context.Background(), line, extracts, opt)
	if err != nil {
		t.Fatal(err)
	}
	var stops, ground bytes.Buffer
	if err := stop.WriteCSV(&stops, s.Stops()); err != nil {
		t.Fatal(err)
	}
	if err := route.WriteGround(&ground, s.Ground()); err != nil {
		t.Fatal(err)
	}
	return result{stops.String(), ground.String()}
}

func surveyOptions(scale octane.Scale) Options {
	opt := DefaultOptions()
	opt.Scale, opt.Cores, opt.Towns, opt.Gap = scale, 2, true, 2000
	return opt
}

// One map gives one answer, whatever form it has: XML, PBF in large blocks and small,
// packed or not, in gzip, on a disk or in a stream.
func TestFormsAgree(t *testing.T) {
	w := extracts.WorldOf(t, extracts.Andorra)
	points, _ := ridesOn(t, extracts.Andorra, 2, 1)[0].recorded(5, 50, newRand(3))
	line := lineOf(t, points)
	opt := surveyOptions("RON")
	want := resultOf(t, line, opt, extracts.CopyOf(t, extracts.Andorra))
	if len(want.Stops) < 1000 || len(want.Ground) < 500 {
		t.Fatalf("the line proves too little: %+v", want)
	}
	forms := map[string]osmfile.Extract{
		"PBF in a stream":          extracts.Stream("a", w.PBF),
		"small blocks, not packed": extracts.Seekable("a", osmtest.PBF(w.Objects, 100, true)),
		"PBF in gzip":              extracts.Seekable("a", gzipped(w.PBF)),
	}
	if kit.Long() {
		forms["XML in bzip2"] = extracts.Of(t, extracts.Andorra)
		forms["small blocks"] = extracts.Seekable("a", osmtest.PBF(w.Objects, 100, false))
	}
	agree(t, want, line, opt, forms)
	opt.Cores = 1
	agree(t, want, line, opt, map[string]osmfile.Extract{"one core": extracts.Seekable("a", w.PBF)})
}

// agree holds that each of several forms of a map gives what is wanted.
func agree(t *testing.T, want result, line *route.Line, opt Options, forms map[string]osmfile.Extract) {
	t.Helper()
	for name, e := range forms {
		if diff := cmp.Diff(want, resultOf(t, line, opt, e)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// Delaware has a station that is a relation, so it is gone through twice.
func TestFormsAgreeWithRelations(t *testing.T) {
	w := extracts.WorldOf(t, extracts.Delaware)
	line := straightLine(t, []orb.Point{{-75.66, 39.637}, {-75.645, 39.642}, {-75.63, 39.646}})
	opt := surveyOptions("AKI")
	opt.Corridor = 1000
	want := resultOf(t, line, opt, extracts.Of(t, extracts.Delaware))
	var near []any
	kept := map[int64]bool{}
	for _, o := range w.Objects {
		// What lies far off changes nothing, but for the places that give names.
		switch o := o.(type) {
		case *osmfile.Node:
			far := o.Lat < 39.62 || o.Lat > 39.66 || o.Lon < -75.68 || o.Lon > -75.61
			if far && o.Tags.Find("place") == "" {
				continue
			}
			kept[o.ID] = true
		case *osmfile.Way:
			if !slices.ContainsFunc(o.Nodes, func(id int64) bool { return kept[id] }) {
				continue
			}
		}
		near = append(near, o)
	}
	xml := osmtest.XML(near)
	agree(t, want, line, opt, map[string]osmfile.Extract{
		"XML":         extracts.Stream("a", xml),
		"XML in gzip": extracts.Stream("a", gzipped(xml)),
		"PBF":         extracts.Seekable("a", osmtest.PBF(near, 500, false)),
		"in a stream": extracts.Stream("a", osmtest.PBF(near, 500, false)),
		"PBF in gzip": extracts.Seekable("a", gzipped(osmtest.PBF(near, 500, false))),
	})
	s := surveyOf(t, line, opt, extracts.Of(t, extracts.Delaware))
	for _, p := range s.Pumps {
		if strings.HasPrefix(p.Name, "Bear Shell") && p.Ref == relationRef(1115668) {
			return
		}
	}
	t.Error("the station that is a relation was not found")
}

// Objects in any order: ways before their nodes, nodes in no order of their numbers.
func TestOrderOfObjectsDoesNotMatter(t *testing.T) {
	w := extracts.WorldOf(t, extracts.Andorra)
	points, _ := ridesOn(t, extracts.Andorra, 2, 1)[0].recorded(5, 50, newRand(3))
	line := lineOf(t, points)
	opt := surveyOptions("RON")
	want := resultOf(t, line, opt, extracts.CopyOf(t, extracts.Andorra))
	mixed := slices.Clone(w.Objects)
	newRand(4).Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	if diff := cmp.Diff(want, resultOf(t, line, opt, extracts.Seekable("a", osmtest.PBF(mixed, 1000, true)))); diff != "" {
		t.Error(diff)
	}
}

// Two extracts that overlap give what one gives that has all: no pump twice, no way
// cut short.
func TestOverlappingExtracts(t *testing.T) {
	w := extracts.WorldOf(t, extracts.Andorra)
	points, _ := ridesOn(t, extracts.Andorra, 2, 1)[0].recorded(5, 50, newRand(3))
	line := lineOf(t, points)
	opt := surveyOptions("RON")
	want := resultOf(t, line, opt, extracts.CopyOf(t, extracts.Andorra))
	var west, east []any
	for _, o := range w.Objects {
		n, isNode := o.(*osmfile.Node)
		switch {
		case !isNode:
			west, east = append(west, o), append(east, o)
		default:
			if n.Lon < 1.56 {
				west = append(west, o)
			}
			if n.Lon > 1.54 {
				east = append(east, o)
			}
		}
	}
	got := resultOf(t, line, opt, named("west", west), named("east", east))
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Of extracts of different days the newer counts, whichever is given first: a pump
// that it knows to be gone is gone, a road that it knows to be gravel is gravel.
func TestNewerExtractCounts(t *testing.T) {
	older, newer := hamlet(), hamlet()
	older[3].(*osmfile.Node).Tags = tagsOf("amenity=fuel name=Ash~Creek fuel:octane_95=yes")
	older[7].(*osmfile.Way).Tags = tagsOf("highway=unclassified surface=asphalt")
	newer[3].(*osmfile.Node).Tags = tagsOf("amenity=fuel name=Ash~Creek fuel:octane_95=no fuel:diesel=yes")
	newer[3].(*osmfile.Node).Version = 2
	newer[7].(*osmfile.Way).Version = 2
	newer[9].(*osmfile.Way).Tags, newer[9].(*osmfile.Way).Version = tagsOf("disused:amenity=fuel"), 2
	older, newer = older[:10], newer[:10]
	opt := DefaultOptions()
	opt.Scale = octane.ScaleRON
	want := resultOf(t, hamletLine(t), opt, named("new", newer))
	if strings.Contains(want.Stops, "Far Well") || !strings.Contains(want.Stops, "diesel") ||
		!strings.Contains(want.Ground, "loose-gravel") {
		t.Fatalf("%+v", want)
	}
	for _, order := range [][]osmfile.Extract{
		{named("old", older), named("new", newer)},
		{named("new", newer), named("old", older)},
		{extracts.Stream("old", osmtest.XML(older)), named("new", newer)},
	} {
		if diff := cmp.Diff(want, resultOf(t, hamletLine(t), opt, order...)); diff != "" {
			t.Errorf("%s first: %s", order[0].Name, diff)
		}
	}
}

// A way that the newer extract has in part only, for it is cut there, is newer all the
// same, and what the other has of its nodes is used; one that is no road any more is
// none.
func TestRoadsOfTwoDays(t *testing.T) {
	older, newer := hamlet()[:10], hamlet()[:10]
	newer[7].(*osmfile.Way).Version, newer[8].(*osmfile.Way).Version = 2, 2
	newer[7].(*osmfile.Way).Tags = tagsOf("highway=unclassified surface=mud")
	newer[8].(*osmfile.Way).Tags = tagsOf("highway=construction surface=sand")
	newer = newer[1:] // without the first node
	var first string
	for i, order := range [][]osmfile.Extract{
		{named("old", older), named("new", newer)},
		{named("new", newer), named("old", older)},
	} {
		got := resultOf(t, hamletLine(t), DefaultOptions(), order...)
		if i == 0 {
			first = got.Ground
		}
		if got.Ground != first || !strings.Contains(got.Ground, "mud") || strings.Contains(got.Ground, "sand") {
			t.Errorf("%s first: %s", order[0].Name, got.Ground)
		}
	}
}

// A pump that was drawn anew, of nodes that no extract has, is where it was.
func TestPumpOfNodesThatAreMissing(t *testing.T) {
	older, newer := hamlet()[:10], hamlet()[:10]
	w := newer[9].(*osmfile.Way)
	w.Version, w.Tags, w.Nodes = 2, tagsOf("amenity=fuel name=New~Well"), []int64{101, 102, 103, 101}
	got := resultOf(t, hamletLine(t), DefaultOptions(), named("old", older), named("new", newer))
	if !strings.Contains(got.Stops, "New Well,45.0002,10.030") {
		t.Errorf("%s", got.Stops)
	}
}

// A relation is found whichever of two extracts has it and whichever what it is made of.
func TestRelationOverTwoExtracts(t *testing.T) {
	all := hamlet()
	all[9].(*osmfile.Way).Tags = nil // the outline of a station that is a relation
	rest, relation := all[:10], all[10:]
	one := named("one", rest)
	other := extracts.Seekable("other", osmtest.PBF(append([]any{osmtest.Node(900, 10, 45, "")}, relation...), 100, false))
	want := resultOf(t, hamletLine(t), DefaultOptions(), named("all", all))
	if !strings.Contains(want.Stops, "Far Well") {
		t.Fatalf("%+v", want)
	}
	for _, order := range [][]osmfile.Extract{{one, other}, {other, one}} {
		if diff := cmp.Diff(want, resultOf(t, hamletLine(t), DefaultOptions(), order...)); diff != "" {
			t.Errorf("%s first: %s", order[0].Name, diff)
		}
	}
}

// Objects of a map that somebody has drawn and not yet given away have numbers below
// zero.
func TestNumbersBelowZero(t *testing.T) {
	objects := hamlet()
	for _, o := range objects {
		switch o := o.(type) {
		case *osmfile.Node:
			o.ID = -o.ID
		case *osmfile.Way:
			o.ID = -o.ID
			for i := range o.Nodes {
				o.Nodes[i] = -o.Nodes[i]
			}
		}
	}
	got := resultOf(t, hamletLine(t), DefaultOptions(), extracts.Stream("a", osmtest.XML(objects[:10])))
	if !strings.Contains(got.Stops, "Ash Creek") || !strings.Contains(got.Stops, "Far Well") ||
		!strings.Contains(got.Ground, "sand") {
		t.Errorf("%+v", got)
	}
}
