package route_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"lastpump/route/input"

	"lastpump/route"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

// twoDays is a line of two parts with a gap of 11 km between them, 40 steps of a
// kilometre each.
func twoDays() []route.Track {
	var days []route.Track
	for d := range 2 {
		var points []route.Point
		for k := range 41 {
			points = append(points, route.Point{Point: orb.Point{20 + 0.01*math.Sin(float64(k)),
				float64(d)*0.46 + float64(k)*0.009}, Ele: float64(100 * (k % 3)), HasEle: k != 7})
		}
		days = append(days, route.Track{Name: string(rune('A' + d)), Segments: [][]route.Point{points}})
	}
	return days
}

func recorded(t testing.TB, opt route.LineOptions) (*route.Line, string) {
	t.Helper()
	l, err := route.NewLine(twoDays(), opt)
	if err != nil {
		t.Fatal(err)
	}
	text, err := l.Record()
	if err != nil {
		t.Fatal(err)
	}
	return l, text
}

// A stretch that is given counts for all that is no gap; a rule for gaps that is given
// replaces the one recorded.
func TestRecordedWithOptions(t *testing.T) {
	l, text := recorded(t, route.LineOptions{Gaps: route.GapsSkip, Arrangement: route.Arrangement{Reverse: true}})
	ridden := func(opt route.LineOptions) (d route.Metres) {
		t.Helper()
		again, err := route.Recorded(text, l.Tracks(), opt)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range again.Runs(route.Grounds{}) {
			d += r.Ridden
		}
		return d
	}
	gap := l.Gaps[0].Straight
	drawn := l.Length() - gap
	for _, c := range []struct {
		opt  route.LineOptions
		want route.Metres
	}{
		{route.LineOptions{}, drawn * route.Metres(l.Stretch.Factor)},
		{route.LineOptions{Stretch: 1.5}, drawn * 1.5},
		{route.LineOptions{Gaps: route.GapsRide}, drawn*route.Metres(l.Stretch.Factor) + gap*route.GapDetour},
		{route.LineOptions{Stretch: 1.5, Gaps: route.GapsRide, Arrangement: route.Arrangement{Reverse: true}},
			drawn*1.5 + gap*route.GapDetour},
	} {
		if got := ridden(c.opt); math.Abs(float64(got-c.want)) > 1e-3 {
			t.Errorf("%+v: %.3f m ridden, want %.3f", c.opt, got, c.want)
		}
	}
}

// A list of ground by the kilometres of the file lies under the same places of the line
// made again.
func TestRecordedKeepsKilometres(t *testing.T) {
	l, text := recorded(t, route.LineOptions{Arrangement: route.Arrangement{Reverse: true}})
	again, err := route.Recorded(text, l.Tracks(), route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	sections := []route.Section{{From: 1000, To: 5000, Ground: route.Sand},
		{From: 60_000, To: 61_000, Ground: route.Mud}}
	want, _, werr := l.Lay(sections)
	got, _, gerr := again.Lay(sections)
	if werr != nil || gerr != nil || !cmp.Equal(want, got) {
		t.Errorf("%v, %v: %v, want %v", werr, gerr, got, want)
	}
	if again.InFileOrder() || !l.Tracks()[0].Segments[0][0].Point.Equal(twoDays()[1].Segments[0][40].Point) {
		t.Error("it is not turned round")
	}
}

// Points that are not those recorded are told of; rounding them is no edit.
func TestEditedLine(t *testing.T) {
	l, text := recorded(t, route.LineOptions{})
	edits := map[string]func(tracks []route.Track) []route.Track{
		"a point less": func(ts []route.Track) []route.Track { s := ts[0].Segments; s[0] = s[0][1:]; return ts },
		"a track less": func(ts []route.Track) []route.Track { return ts[:1] },
		"a segment more": func(ts []route.Track) []route.Track {
			s := ts[0].Segments[0]
			ts[0].Segments = [][]route.Point{s[:9], s[9:]}
			return ts
		},
		"a point moved": func(ts []route.Track) []route.Track { ts[1].Segments[0][20].Point[0] += 0.01; return ts },
		"one track of two": func(ts []route.Track) []route.Track {
			return []route.Track{{Segments: append(ts[0].Segments, ts[1].Segments...)}}
		},
		"nothing": func([]route.Track) []route.Track { return nil },
	}
	for what, edit := range edits {
		if _, err := route.Recorded(text, edit(l.Tracks()), route.LineOptions{}); !errors.Is(err, route.ErrEdited) {
			t.Errorf("%s: %v", what, err)
		}
	}
	rounded := l.Tracks()
	for _, trk := range rounded {
		for _, p := range trk.Segments[0] {
			p.Point[0] = math.Round(p.Point[0]*1e6) / 1e6
		}
	}
	if _, err := route.Recorded(text, append(rounded, route.Track{Name: "empty"}), route.LineOptions{}); err != nil {
		t.Errorf("rounded to 0.1 m, and a track without points: %v", err)
	}
}

// Any byte of a record that is changed is noticed.
func TestDamagedRecord(t *testing.T) {
	l, text := recorded(t, route.LineOptions{})
	for i := range text {
		damaged := text[:i] + string(text[i]^1) + text[i+1:]
		line, err := route.Recorded(damaged, l.Tracks(), route.LineOptions{})
		var ie *input.Error
		if line != nil || !errors.As(err, &ie) || ie.Hint == "" {
			t.Fatalf("byte %d: %v", i, err)
		}
	}
	for bad, want := range map[string]string{
		"":                                   "checksum",
		"1":                                  "checksum",
		"2":                                  "checksum",
		strings.Replace(text, "2 ", "3 ", 1): `version "3"; known are 1 and 2`,
		text[:len(text)/2]:                   "checksum",
	} {
		if _, err := route.Recorded(bad, l.Tracks(), route.LineOptions{}); err == nil ||
			!strings.Contains(err.Error(), want) {
			t.Errorf("%.20q: %v, want %q", bad, err, want)
		}
	}
}

// A record of the first version, as it stands in files that riders have: its names may
// not change. Two points, a kilometre of the file before them left out.
func TestRecordOfVersion1(t *testing.T) {
	const plain = `{"Length":1111.9,"Join":50,"Gaps":"skip","Strands":[{"Points":2,"Likely":1.25,"High":1.5}],` +
		`"Parts":[{"Number":2,"Backwards":true}],"Stretch":{"Factor":1.25,"High":1.5,"Given":false,"Coarse":true,` +
		`"From":[{"Method":"evenly spaced points, from the table of recorded rides","Factor":1.25,"High":1.5,"Error":0.2,"Step":1111.9,"Length":1111.9,"Pooled":true,"Coarse":true}]},` +
		`"Arranged":{"SkipParts":[1],"Order":"file","Reverse":true,"BeginAt":5,"HasBeginAt":true,"BeginName":"Ash"},` +
		`"LeftOut":[{"Name":"X","From":0,"To":0,"Number":1,"Backwards":false}],"Reorder":{"Parts":[{"Number":2,"Backwards":true}],"Gaps":1,"FileGaps":20,"Taken":true},` +
		`"Strays":[{"Track":"A","Points":1,"Away":6000}],"Halts":[{"At":1,"Points":9,"Taken":70,"For":600000000000}],"Suspects":null,` +
		`"Knots":[[0,1000],[1111.9,2111.9]],"Ordered":[{"File":[0,1111.9],"Line":[0,1111.9],"Backwards":false}],"InOrder":1111.9,` +
		`"Turned":[{"File":[0,1111.9],"Line":[0,1111.9],"Backwards":true}]}`
	tracks := []route.Track{{Name: "Day", Segments: [][]route.Point{{{Point: orb.Point{20, 0}},
		{Point: orb.Point{20, 0.01}}}}}}
	l, err := route.DecodeRecord(plain, tracks)
	if err != nil {
		t.Fatal(err)
	}
	want := route.Part{Name: "Day", To: l.Length(), Number: 2, Backwards: true}
	if len(l.Parts) != 1 || l.Parts[0] != want || l.Stretch.High != 1.5 || !l.Stretch.Coarse ||
		l.Stretch.From[0].Method != route.FromTable || l.Arranged.BeginName != "Ash" ||
		len(l.Arranged.SkipParts) != 1 ||
		l.LeftOut[0].Name != "X" || !l.Reorder.Taken || l.Strays[0].Away != 6000 || l.Halts[0].For.Minutes() != 10 ||
		l.FileLength(route.AsGiven) != 2111.9 {
		t.Errorf("%+v", l)
	}
	// The file's kilometres 1 to 1.5 are the first half kilometre of the part, ridden last.
	got, _, err := l.Lay([]route.Section{{From: 1000, To: 1500, Ground: route.Sand},
		{From: 1500, To: 2111.9, Ground: route.Mud}})
	if err != nil || len(got) != 2 || got[0].Ground != route.Mud || math.Abs(float64(got[1].From-611.9)) > 0.01 ||
		got[1].Ground != route.Sand {
		t.Errorf("%v, %v", got, err)
	}
}

// FuzzRecord asks of any record whose checksum is right: a sound line, or an error that
// says what to do.
func FuzzRecord(f *testing.F) {
	l, text := recorded(f, route.LineOptions{Arrangement: route.Arrangement{Reverse: true}})
	f.Add(text[strings.Index(text, "{"):])
	_, text = recorded(f, route.LineOptions{Arrangement: route.Arrangement{SkipParts: []int{1}}})
	f.Add(text[strings.Index(text, "{"):])
	f.Add(`{"Length":1e300}`)
	tracks := l.Tracks()
	f.Fuzz(func(t *testing.T, plain string) {
		line, err := route.DecodeRecord(plain, tracks)
		var ie *input.Error
		if err != nil {
			if !errors.Is(err, route.ErrEdited) && (!errors.As(err, &ie) || ie.What == "" || ie.Hint == "") {
				t.Fatalf("error %#v", err)
			}
			return
		}
		ridden := route.Metres(0)
		for _, r := range line.Runs(route.Grounds{}) {
			ridden += r.Ridden
			if !(r.Ridden >= 0) || math.IsInf(float64(r.RiddenHigh), 0) {
				t.Fatalf("a run of %v m, %v at the high figure", r.Ridden, r.RiddenHigh)
			}
		}
		for at := route.Metres(0); at < line.Length(); at += 7000 {
			line.BeforeTurning(at)
			line.FileAt(at)
		}
		laid, _, err := line.Lay([]route.Section{{From: 10, To: 30_000, Ground: route.Sand},
			{From: 30_000, To: 50_000, Ground: route.Mud}})
		if err == nil {
			for _, s := range laid {
				if math.IsNaN(float64(s.From)) || math.IsNaN(float64(s.To)) || s.From > s.To {
					t.Fatalf("a section from %v to %v", s.From, s.To)
				}
			}
		}
	})
}

// A loop that begins in the middle of a long step stays as long as it was, and the points
// alone tell so. Between two places at 60° N 0.5° apart on a parallel, straight in degrees
// and the great circle lie d²·tan(lat)/8R = 26 m apart, which would make it 0.05 m longer.
func TestBeginningInALongStep(t *testing.T) {
	var points []route.Point
	for _, p := range [][2]float64{{10, 60}, {10.5, 60}, {10.5, 60.2}, {10, 60.2}, {10, 60}} {
		points = append(points, route.Point{Point: orb.Point(p)})
	}
	tracks := []route.Track{{Segments: [][]route.Point{points}}}
	whole, err := route.NewLine(tracks, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	l, err := route.NewLine(tracks, route.LineOptions{Stretch: 1, Gaps: route.GapsRide,
		Arrangement: route.Arrangement{BeginAt: 13_000, HasBeginAt: true}})
	if err != nil {
		t.Fatal(err)
	}
	if l.Points() != whole.Points()+2 || math.Abs(float64(l.Length()-whole.Length())) > 1e-6 ||
		math.Abs(float64(route.Drawn(l.Tracks())-whole.Length())) > 1e-6 {
		t.Errorf("%d points, %.6f m, drawn %.6f m; %d points, %.6f m before", l.Points(), l.Length(),
			route.Drawn(l.Tracks()), whole.Points(), whole.Length())
	}
}
