package osmmap

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
)

// inMemory is an extract that cannot seek.
func inMemory(name string, data []byte) Extract {
	return Extract{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(data)), nil }}
}

// seekable is one that can.
func seekable(name string, data []byte) Extract {
	return Extract{Name: name, Open: func() (io.ReadCloser, error) { return seeker{bytes.NewReader(data)}, nil }}
}

type seeker struct{ *bytes.Reader }

func (seeker) Close() error { return nil }

func asPBF(objects []osm.Object, block int, raw bool) []byte {
	var b bytes.Buffer
	w := &pbfWriter{out: &b, block: block, raw: raw}
	var bounds *osm.Bounds
	if first, ok := objects[0].(*osm.Bounds); ok {
		bounds, objects = first, objects[1:]
	}
	w.header(bounds)
	w.write(objects)
	return b.Bytes()
}

func asXML(t testing.TB, objects []osm.Object) []byte {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("<?xml version=\"1.0\"?>\n<osm version=\"0.6\">\n")
	e := xml.NewEncoder(&b)
	for _, o := range objects {
		if err := e.Encode(o); err != nil {
			t.Fatal(err)
		}
		b.WriteString("\n")
	}
	b.WriteString("</osm>\n")
	return b.Bytes()
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

func resultOf(t testing.TB, line *route.Line, opt Options, extracts ...Extract) result {
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
	w := worldOf(t, andorra)
	points, _ := ridesOn(t, andorra, 2, 1)[0].recorded(5, 50, newRand(3))
	line := lineOf(t, points)
	opt := surveyOptions("RON")
	want := resultOf(t, line, opt, extractOf(t, andorra))
	if len(want.Stops) < 1000 || len(want.Ground) < 500 {
		t.Fatalf("the line proves too little: %+v", want)
	}
	pbf := asPBF(w.objects, 8000, false)
	agree(t, want, line, opt, map[string]Extract{
		"PBF":             seekable("a", pbf),
		"PBF in a stream": inMemory("a", pbf),
		"small blocks":    seekable("a", asPBF(w.objects, 100, false)),
		"not packed":      seekable("a", asPBF(w.objects, 8000, true)),
		"PBF in gzip":     seekable("a", gzipped(pbf)),
	})
	opt.Cores = 1
	agree(t, want, line, opt, map[string]Extract{"one core": seekable("a", pbf)})
}

// agree holds that each of several forms of a map gives what is wanted.
func agree(t *testing.T, want result, line *route.Line, opt Options, forms map[string]Extract) {
	t.Helper()
	for name, e := range forms {
		if diff := cmp.Diff(want, resultOf(t, line, opt, e)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// Delaware has a station that is a relation, so it is gone through twice.
func TestFormsAgreeWithRelations(t *testing.T) {
	w := worldOf(t, delaware)
	line := straightLine(t, []orb.Point{{-75.66, 39.637}, {-75.645, 39.642}, {-75.63, 39.646}})
	opt := surveyOptions("AKI")
	opt.Corridor = 1000
	want := resultOf(t, line, opt, extractOf(t, delaware))
	var near []osm.Object
	kept := map[osm.NodeID]bool{}
	for _, o := range w.objects {
		// What lies far off changes nothing, but for the places that give names.
		switch o := o.(type) {
		case *osm.Node:
			far := o.Lat < 39.62 || o.Lat > 39.66 || o.Lon < -75.68 || o.Lon > -75.61
			if far && o.Tags.Find("place") == "" {
				continue
			}
			kept[o.ID] = true
		case *osm.Way:
			if !slices.ContainsFunc(o.Nodes, func(n osm.WayNode) bool { return kept[n.ID] }) {
				continue
			}
		}
		near = append(near, o)
	}
	xml := asXML(t, near)
	agree(t, want, line, opt, map[string]Extract{
		"XML":         inMemory("a", xml),
		"XML in gzip": inMemory("a", gzipped(xml)),
		"PBF":         seekable("a", asPBF(near, 500, false)),
		"in a stream": inMemory("a", asPBF(near, 500, false)),
		"PBF in gzip": seekable("a", gzipped(asPBF(near, 500, false))),
	})
	s, err := Read(context.Background(), line, []Extract{extractOf(t, delaware)}, opt)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Pumps {
		if strings.HasPrefix(p.Name, "Bear Shell") && p.Ref == (Ref{osm.TypeRelation, 1115668}) {
			return
		}
	}
	t.Error("the station that is a relation was not found")
}

// Objects in any order: ways before their nodes, nodes in no order of their numbers.
func TestOrderOfObjectsDoesNotMatter(t *testing.T) {
	w := worldOf(t, andorra)
	points, _ := ridesOn(t, andorra, 2, 1)[0].recorded(5, 50, newRand(3))
	line := lineOf(t, points)
	opt := surveyOptions("RON")
	want := resultOf(t, line, opt, copyOf(t, andorra))
	mixed := append([]osm.Object{}, w.objects[1:]...) // without the bounds
	newRand(4).Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	if diff := cmp.Diff(want, resultOf(t, line, opt, seekable("a", asPBF(mixed, 1000, false)))); diff != "" {
		t.Error(diff)
	}
}

// Two extracts that overlap give what one gives that has all: no pump twice, no way
// cut short.
func TestOverlappingExtracts(t *testing.T) {
	w := worldOf(t, andorra)
	points, _ := ridesOn(t, andorra, 2, 1)[0].recorded(5, 50, newRand(3))
	line := lineOf(t, points)
	opt := surveyOptions("RON")
	want := resultOf(t, line, opt, copyOf(t, andorra))
	var west, east []osm.Object
	for _, o := range w.objects {
		n, isNode := o.(*osm.Node)
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
	got := resultOf(t, line, opt, seekable("west", asPBF(west, 8000, false)), seekable("east", asPBF(east, 8000, false)))
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Of extracts of different days the newer counts, whichever is given first: a pump
// that it knows to be gone is gone, a road that it knows to be gravel is gravel.
func TestNewerExtractCounts(t *testing.T) {
	older, newer := hamlet(), hamlet()
	older[3].(*osm.Node).Tags = tagsOf("amenity=fuel name=Ash~Creek fuel:octane_95=yes")
	older[7].(*osm.Way).Tags = tagsOf("highway=unclassified surface=asphalt")
	newer[3].(*osm.Node).Tags, newer[3].(*osm.Node).Version = tagsOf("amenity=fuel name=Ash~Creek fuel:octane_95=no fuel:diesel=yes"), 2
	newer[7].(*osm.Way).Version = 2
	newer[9].(*osm.Way).Tags, newer[9].(*osm.Way).Version = tagsOf("disused:amenity=fuel"), 2
	older, newer = older[:10], newer[:10]
	opt := DefaultOptions()
	opt.Scale = octane.ScaleRON
	want := resultOf(t, hamletLine(t), opt, seekable("new", asPBF(newer, 100, false)))
	if strings.Contains(want.Stops, "Far Well") || !strings.Contains(want.Stops, "diesel") || !strings.Contains(want.Ground, "loose-gravel") {
		t.Fatalf("%+v", want)
	}
	for _, order := range [][]Extract{
		{seekable("old", asPBF(older, 100, false)), seekable("new", asPBF(newer, 100, false))},
		{seekable("new", asPBF(newer, 100, false)), seekable("old", asPBF(older, 100, false))},
		{inMemory("old", asXML(t, older)), seekable("new", asPBF(newer, 100, false))},
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
	newer[7].(*osm.Way).Version, newer[8].(*osm.Way).Version = 2, 2
	newer[7].(*osm.Way).Tags = tagsOf("highway=unclassified surface=mud")
	newer[8].(*osm.Way).Tags = tagsOf("highway=construction surface=sand")
	newer = newer[1:] // without the first node
	var first string
	for i, order := range [][]Extract{
		{seekable("old", asPBF(older, 100, false)), seekable("new", asPBF(newer, 100, false))},
		{seekable("new", asPBF(newer, 100, false)), seekable("old", asPBF(older, 100, false))},
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
	w := newer[9].(*osm.Way)
	w.Version, w.Tags, w.Nodes = 2, tagsOf("amenity=fuel name=New~Well"), osm.WayNodes{{ID: 101}, {ID: 102}, {ID: 103}, {ID: 101}}
	got := resultOf(t, hamletLine(t), DefaultOptions(), seekable("old", asPBF(older, 100, false)), seekable("new", asPBF(newer, 100, false)))
	if !strings.Contains(got.Stops, "New Well,45.0002,10.030") {
		t.Errorf("%s", got.Stops)
	}
}

// A relation is found whichever of two extracts has it and whichever what it is made of.
func TestRelationOverTwoExtracts(t *testing.T) {
	all := hamlet()
	all[9].(*osm.Way).Tags = nil // the outline of a station that is a relation
	rest, relation := all[:10], all[10:]
	one := seekable("one", asPBF(rest, 100, false))
	other := seekable("other", asPBF(append([]osm.Object{&osm.Node{ID: 900, Lon: 10, Lat: 45, Visible: true}}, relation...), 100, false))
	want := resultOf(t, hamletLine(t), DefaultOptions(), seekable("all", asPBF(all, 100, false)))
	if !strings.Contains(want.Stops, "Far Well") {
		t.Fatalf("%+v", want)
	}
	for _, order := range [][]Extract{{one, other}, {other, one}} {
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
		case *osm.Node:
			o.ID = -o.ID
		case *osm.Way:
			o.ID = -o.ID
			for i := range o.Nodes {
				o.Nodes[i].ID = -o.Nodes[i].ID
			}
		}
	}
	got := resultOf(t, hamletLine(t), DefaultOptions(), inMemory("a", asXML(t, objects[:10])))
	if !strings.Contains(got.Stops, "Ash Creek") || !strings.Contains(got.Stops, "Far Well") || !strings.Contains(got.Ground, "sand") {
		t.Errorf("%+v", got)
	}
}
