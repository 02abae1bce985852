package survey

import (
	"context"
	"errors"
	"strings"
	"testing"

	"lastpump/route/input"
	"lastpump/route/osmfile/osmtest"

	"lastpump/route"

	"github.com/paulmach/orb"

	"lastpump/route/osmfile"
	"lastpump/testdata/kit/extracts"
)

var hamlet = osmtest.Hamlet

func hamletLine(t testing.TB) *route.Line {
	return straightLine(t, []orb.Point{{10.001, 45}, {10.039, 45}})
}

func TestHamlet(t *testing.T) {
	got := resultOf(t, hamletLine(t), DefaultOptions(), extracts.Seekable("a", osmtest.PBF(hamlet(), 3, false)))
	if !strings.Contains(got.Stops,
		"Ash Creek,45.001,10.021,,,,map,,,,\"map data © OpenStreetMap contributors, ODbL 1.0\"\n") ||
		!strings.Contains(got.Stops, "Far Well,45.0002,10.030") || strings.Count(got.Stops, "\n") != 3 {
		t.Errorf("stops:\n%s", got.Stops)
	}
	// 0.019 and 0.019 degrees of longitude at 45°, by arithmetic: 1.494 km each.
	if !strings.HasPrefix(got.Ground,
		"from_km,to_km,ground,note\n0.000,1.494,loose-gravel,\"highway=unclassified surface=gravel; map data ©") ||
		!strings.Contains(got.Ground, "\n1.494,2.988,sand,highway=track surface=sand\n") {
		t.Errorf("ground:\n%s", got.Ground)
	}
}

func errorOf(t testing.TB, data []byte) *input.Error {
	t.Helper()
	_, err := Read(context.Background(), hamletLine(t), []osmfile.Extract{extracts.Stream("map", data)}, DefaultOptions())
	var ie *input.Error
	if !errors.As(err, &ie) {
		t.Fatalf("the error is %v", err)
	}
	return ie
}

// What cannot be surveyed is said with its place and a hint; what a reader of extracts
// says is handed on.
func TestBadExtracts(t *testing.T) {
	far := []any{osmtest.Node(1, 80, 10, "")}
	for name, c := range map[string]struct {
		data  []byte
		want  string
		cause error
	}{
		"text":             {[]byte("name,lat,lon\n"), "map: this is no map extract", osmfile.ErrNoExtract},
		"another region":   {osmtest.PBF(far, 1, false), "nothing on it lies within 5.0 km of the line", nil},
		"no objects":       {osmtest.XML(nil), "nothing on it lies within 5.0 km of the line", nil},
		"a history in XML": {osmtest.XML(append(hamlet()[:4:4], hamlet()[3:]...)), "node 4 stands in it twice", ErrTwice},
	} {
		got := errorOf(t, c.data)
		if !strings.Contains(got.Error(), c.want) || got.Hint == "" || !errors.Is(got.Cause, c.cause) {
			t.Errorf("%s: %q, hint %q; want %q", name, got, got.Hint, c.want)
		}
	}
}

// Whatever bytes come, there is an error with its place, or a survey that covers the
// line; never a crash.
func FuzzRead(f *testing.F) {
	f.Add(osmtest.PBF(hamlet(), 3, false))
	f.Add(osmtest.PBF(hamlet(), 100, false))
	f.Add(osmtest.PBF(hamlet(), 3, true))
	f.Add(osmtest.XML(hamlet()))
	f.Add(gzipped(osmtest.XML(hamlet())))
	line := hamletLine(f)
	opt := DefaultOptions()
	opt.Towns, opt.Gap, opt.Scale = true, 100, "RON"
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Read(context.Background(), line, []osmfile.Extract{extracts.Stream("map", data)}, opt)
		if err != nil {
			var ie *input.Error
			if !errors.As(err, &ie) || ie.File == "" || ie.What == "" {
				t.Fatalf("an error without its place: %v", err)
			}
			return
		}
		at := route.Metres(0)
		for _, m := range s.Matches {
			if m.From != at {
				t.Fatalf("a stretch begins at %v after %v", m.From, at)
			}
			at = m.To
		}
		if at != line.Length() {
			t.Fatalf("the line is covered up to %v of %v", at, line.Length())
		}
		for _, p := range append(s.Pumps, s.Asks...) {
			if p.Name == "" || !(p.Off >= 0 && p.Off <= opt.Corridor) {
				t.Fatalf("%+v", p)
			}
		}
	})
}
