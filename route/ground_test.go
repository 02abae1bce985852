package route_test

import (
	"math"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"

	"lastpump/route"
)

const allGrounds = "the grounds are paved, packed-gravel, loose-gravel, dirt, soft, rocky, mud, sand, deep-sand, snow, unknown"

func TestParseGround(t *testing.T) {
	for _, c := range []struct {
		in   string
		want route.Ground
	}{
		{"paved", route.Paved}, {"packed-gravel", route.PackedGravel}, {"loose-gravel", route.LooseGravel},
		{"dirt", route.Dirt}, {"soft", route.Soft}, {"rocky", route.Rocky}, {"mud", route.Mud}, {"sand", route.Sand},
		{"deep-sand", route.DeepSand}, {"snow", route.Snow}, {"unknown", route.Unknown},
		{" Deep-Sand\t", route.DeepSand}, {"Loose Gravel", route.LooseGravel}, {"deep sand", route.DeepSand},
		{"packed_gravel", route.PackedGravel}, {"asphalt", route.Paved}, {"Tarmac", route.Paved},
	} {
		if got, err := route.ParseGround(c.in); got != c.want || err != nil {
			t.Errorf("%q: %q, %v", c.in, got, err)
		}
	}
	for in, near := range map[string]string{"": "", "gravel": "", "SANDY": `did you mean "sand"? `, "drit": `did you mean "dirt"? `,
		"Loose Gravle": `did you mean "loose-gravel"? `} {
		_, err := route.ParseGround(in)
		wantFault(t, err, `unknown ground "`+in+`"`, near+allGrounds)
	}
}

// The same three sections, written in several ways.
var groundFiles = []struct{ name, text string }{
	{"plain", "from_km,to_km,ground,note\n0,12.5,paved,\n12.5,40,sand,\"wash, deep after rain\"\n\n55.25,60,unknown,\n"},
	{"columns in another order", "note,ground,to_km,from_km\n,paved,12.5,0\n\"wash, deep after rain\",sand,40,12.5\n,,,\n,unknown,60,55.25\n"},
	{"semicolons", "from_km;to_km;ground;note\n0;12.5;paved;\n12.5;40;sand;wash, deep after rain\n;;;\n55.25;60;unknown;\n"},
	{"byte order mark, CRLF, spaces, capitals", "\ufeffFrom_km, To_km ,GROUND,note\r\n 0, 12.5 ,Paved ,\r\n12.5,40,sand,\"wash, deep after rain\"\r\n\r\n55.25,60,unknown,\r\n"},
	{"rows without a note, no last line end", "from_km,to_km,ground,note\n0,12.5,paved\n12.5,40,sand,\"wash, deep after rain\"\n\n55.25,60,unknown"},
}

func TestReadGround(t *testing.T) {
	want := []route.Section{
		{From: 0, To: 12500, Ground: route.Paved, Row: 2},
		{From: 12500, To: 40000, Ground: route.Sand, Note: "wash, deep after rain", Row: 3},
		{From: 55250, To: 60000, Ground: route.Unknown, Row: 5},
	}
	for _, c := range groundFiles {
		t.Run(c.name, func(t *testing.T) {
			got, _, err := route.ReadGround(strings.NewReader(c.text), "g.csv")
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
			// A pipe may bring a byte at a time.
			got, _, err = route.ReadGround(iotest.OneByteReader(strings.NewReader(c.text)), "g.csv")
			if err != nil {
				t.Fatalf("byte by byte: %v", err)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("byte by byte: %s", diff)
			}
		})
	}
}

func TestReadGroundSorts(t *testing.T) {
	got, _, err := route.ReadGround(strings.NewReader("ground,from_km,to_km\nmud,7,9\nsand,0,2\nsnow,2,7\n"), "g.csv")
	if err != nil {
		t.Fatal(err)
	}
	want := []route.Section{
		{From: 0, To: 2000, Ground: route.Sand, Row: 3},
		{From: 2000, To: 7000, Ground: route.Snow, Row: 4},
		{From: 7000, To: 9000, Ground: route.Mud, Row: 2},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// A header alone is a file that says nothing of any kilometre.
func TestReadGroundWithoutRows(t *testing.T) {
	got, _, err := route.ReadGround(strings.NewReader("from_km,to_km,ground\n"), "g.csv")
	if len(got) != 0 || err != nil {
		t.Errorf("%v, %v", got, err)
	}
}

const (
	columnsHint  = "the first row names the columns: from_km,to_km,ground,note"
	groundHeader = "from_km,to_km,ground,note\n"
)

var groundFaults = []struct{ name, text, want, hint string }{
	{"empty", "", "g.csv:1:1: empty file", columnsHint},
	{"only a byte order mark", "\ufeff", "g.csv:1:1: empty file", columnsHint},
	{"column missing", "from_km,ground\n0,sand\n", `g.csv:1:1: no column "to_km"`, columnsHint},
	{"column misspelt", "from_km,to_kn,ground\n", `g.csv:1:9: unknown column "to_kn"`,
		`did you mean "to_km"? ` + columnsHint},
	{"column unknown, near another", "from_km,to_km,ground,not\n", `g.csv:1:22: unknown column "not"`,
		`did you mean "note"? ` + columnsHint},
	{"column by two other words", "from_km,to_km,surface,terrain\n",
		`g.csv:1:23: both "surface" and "terrain" stand for the column "ground"`, columnsHint},
	{"column twice", "from_km,to_km,ground,to_km\n", `g.csv:1:22: column "to_km" stands twice`, columnsHint},
	{"not a number", groundHeader + "0,ten,sand,\n", `g.csv:2:3: to_km is "ten", not a distance in kilometres`,
		"write 12.5"},
	{"no number", groundHeader + "0,5,sand,\n,10,mud,\n", `g.csv:3:1: from_km is "", not a distance in kilometres`,
		"write 12.5"},
	{"decimal comma", groundHeader + "0,\"12,5\",sand,\n",
		`g.csv:2:3: to_km is "12,5", not a distance in kilometres`, "write 12.5"},
	{"negative", groundHeader + "-1,5,sand,\n", `g.csv:2:1: from_km is "-1", not a distance in kilometres`,
		"write 12.5"},
	{"NaN", groundHeader + "0,NaN,sand,\n", `g.csv:2:3: to_km is "NaN", not a distance in kilometres`, "write 12.5"},
	{"infinite", groundHeader + "0,inf,sand,\n", `g.csv:2:3: to_km is "inf", not a distance in kilometres`,
		"write 12.5"},
	{"more than any line has", groundHeader + "0,100001,sand,\n",
		`g.csv:2:3: to_km is "100001", not a distance in kilometres`, "write 12.5"},
	{"infinite in metres", groundHeader + "0,1e306,sand,\n",
		`g.csv:2:3: to_km is "1e306", not a distance in kilometres`, "write 12.5"},
	{"to before from", groundHeader + "5,4.9,sand,\n", "g.csv:2:3: to_km is not after from_km", ""},
	{"to is from", groundHeader + "\n\n5,5,sand,\n", "g.csv:4:3: to_km is not after from_km", ""},
	{"unknown ground", groundHeader + "0,5,lava,\n", `g.csv:2:5: unknown ground "lava"`, allGrounds},
	{"no ground", groundHeader + "0,5\n", `g.csv:2:1: unknown ground ""`, allGrounds},
	{"overlap", groundHeader + "0,5.5,sand,\n10,20,mud,\n5.25,7,snow,\n",
		"g.csv:4:1: the section from km 5.25 overlaps the one of row 2, which ends at km 5.5",
		"let each kilometre have one ground"},
	{"a quote inside", groundHeader + "0,5,sand,\n5,6,mud,a \"b\"\n", `g.csv:3:11: bare " in non-quoted-field`,
		`a field with a comma or a quote in it is written in quotes: "a, b"`},
	{"quote not closed", groundHeader + "0,5,sand,\"ab\n", `g.csv:2:14: extraneous or missing " in quoted-field`,
		`a field with a comma or a quote in it is written in quotes: "a, b"`},
}

func TestReadGroundFaults(t *testing.T) {
	for _, c := range groundFaults {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := route.ReadGround(strings.NewReader(c.text), "g.csv")
			if err == nil {
				t.Fatal("no error")
			}
			wantFault(t, err, c.want, c.hint)
			if err.Error() != c.want {
				t.Errorf("all faults:\n%s\nwant\n%s", err, c.want)
			}
		})
	}
}

// Each bad row is told once, in order; the overlaps of the good ones follow.
func TestReadGroundTellsAllFaults(t *testing.T) {
	const text = "from_km,to_km,ground\n0,x,sand\n5,4,sand\n0,5,lava\n0,10,mud\n9,11,mud\n"
	const want = `g.csv:2:3: to_km is "x", not a distance in kilometres
g.csv:3:3: to_km is not after from_km
g.csv:4:5: unknown ground "lava"
g.csv:6:1: the section from km 9 overlaps the one of row 5, which ends at km 10`
	if _, _, err := route.ReadGround(strings.NewReader(text), "g.csv"); err == nil || err.Error() != want {
		t.Errorf("%v\nwant\n%s", err, want)
	}
}

// Sections that touch do not overlap; one unit in the last place more and they
// do.
func TestSectionsMayTouch(t *testing.T) {
	touching := func(end float64) bool {
		text := "from_km,to_km,ground\n0," + decimal(end) + ",sand\n7,9,mud\n"
		_, _, err := route.ReadGround(strings.NewReader(text), "g.csv")
		return err == nil
	}
	// Kilometres become metres by a product, which rounds.
	wantNear(t, "ends at", border(t, 1, 8, touching), 7, 1e-14)
}

// A section may overrun the end of the line by 1 %, of a short one by 0.1 km.
func TestFit(t *testing.T) {
	const length = 12345
	fits := func(to float64) bool {
		g := route.Grounds{Sections: []route.Section{{From: 0, To: 10}, {From: 10, To: route.Metres(to), Row: 3}}}
		return g.Fit(length) == nil
	}
	if last := border(t, 100, 20000, fits); last != 12468.45 {
		t.Errorf("sections fit up to %v m, want 12468.45", last)
	}
	short := route.Grounds{Sections: []route.Section{{From: 0, To: 5100}}}
	if err := short.Fit(5000); err != nil {
		t.Error(err)
	}
	g := route.Grounds{Sections: []route.Section{{From: 0, To: 12500, Row: 3}}}
	err := g.Fit(length)
	wantFault(t, err, "the section ends at km 12.5, the line at km 12.3",
		"from_km and to_km are kilometres along the line in the file: is this the ground of another track?")
	if (route.Grounds{}).Fit(0) != nil {
		t.Error("no sections do not fit")
	}
	err = route.Grounds{Sections: []route.Section{{From: 12400, To: route.Metres(math.Inf(1))}}}.Fit(length)
	if err == nil {
		t.Error("a section without end fits")
	}
}
