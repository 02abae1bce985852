package input_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf16"

	"lastpump/route"
	"lastpump/route/input"
	"lastpump/testdata/kit"
)

// columns gives columns that have no other words.
func columns(names ...string) (out []input.Column) {
	for _, n := range names {
		out = append(out, input.Column{Name: n})
	}
	return out
}

func TestTable(t *testing.T) {
	const text = "b,A\n1, 2 \n\n ,\n3\n\"4\n5\",6\n7,8\n"
	table, err := input.NewTable(strings.NewReader(text), "t.csv", columns("a", "b", "c"), 2)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for table.Next() {
		got = append(got, fmt.Sprintf("%d %q %q %q", table.Row(), table.Get("a"), table.Get("b"), table.Get("c")))
	}
	// Rows begin where the text above has them; a quoted field holds a line end.
	want := []string{`2 "2" "1" ""`, `5 "" "3" ""`, `6 "6" "4\n5" ""`, `8 "8" "7" ""`}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("rows\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if len(table.Faults()) != 0 || table.Next() {
		t.Errorf("faults %v", table.Faults())
	}
}

// A fault is at its field, at the row where the field is missing.
func TestTableFaultPlaces(t *testing.T) {
	table, err := input.NewTable(strings.NewReader("a,b\n \u00e4\u00f6\u00fc ,x\n1\n"), "t.csv", columns("a", "b"), 1)
	if err != nil {
		t.Fatal(err)
	}
	table.Next()
	// Bytes: a space, six of letters, a space, a comma.
	wantFault(t, table.Fault("b", "bad", "mend it"), "t.csv:2:10: bad", "mend it")
	table.Next()
	wantFault(t, table.Fault("b", "missing", ""), "t.csv:3:1: missing", "")
	wantFault(t, table.Fault("no such", "odd", ""), "t.csv:3:1: odd", "")
}

// A fault of the CSV itself ends the table: what follows is not to be trusted.
func TestTableBrokenCSV(t *testing.T) {
	table, err := input.NewTable(strings.NewReader("a,b\n1,2\n3,\"4\"5\n6,7\n"), "t.csv", columns("a", "b"), 2)
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for table.Next() {
		rows++
	}
	if faults := table.Faults(); rows != 1 || len(faults) != 1 || table.Next() {
		t.Fatalf("%d rows, faults %v", rows, faults)
	}
	wantFault(t, table.Faults()[0], `t.csv:3:5: extraneous or missing " in quoted-field`,
		`a field with a comma or a quote in it is written in quotes: "a, b"`)
}

func TestTableReaderFails(t *testing.T) {
	broken := errors.New("the disk is gone")
	_, err := input.NewTable(iotest.ErrReader(broken), "t.csv", columns("a"), 1)
	wantFault(t, err, "t.csv: the disk is gone", "")

	r := io.MultiReader(strings.NewReader("a\n1\n"), iotest.ErrReader(broken))
	table, err := input.NewTable(r, "t.csv", columns("a"), 1)
	if err != nil {
		t.Fatal(err)
	}
	for table.Next() {
	}
	if len(table.Faults()) != 1 || table.Faults()[0].Error() != "t.csv: the disk is gone" {
		t.Errorf("faults %v", table.Faults())
	}
}

// Ten faults are told, of more the first ten and how many there are.
func TestJoinFaults(t *testing.T) {
	faults := func(n int) (errs []error, text string) {
		var lines []string
		for i := range n {
			errs = append(errs, fmt.Errorf("fault %d", i+1))
			lines = append(lines, fmt.Sprintf("fault %d", i+1))
		}
		return errs, strings.Join(lines, "\n")
	}
	if err := input.JoinFaults(nil); err != nil {
		t.Errorf("no faults: %v", err)
	}
	ten, text := faults(10)
	if err := input.JoinFaults(ten); err.Error() != text {
		t.Errorf("ten: %v", err)
	}
	for n, more := range map[int]string{11: "and 1 more", 25: "and 15 more"} {
		all, _ := faults(n)
		err := input.JoinFaults(all)
		if want := text + "\n" + more; err.Error() != want {
			t.Errorf("%d: %v, want\n%s", n, err, want)
		}
		if !errors.Is(err, all[9]) || errors.Is(err, all[10]) || all[10].Error() != "fault 11" {
			t.Errorf("%d: the tenth must be in it, the eleventh not, and the list stay as it was", n)
		}
	}
}

func TestGroundFileWithManyFaults(t *testing.T) {
	text := "from_km,to_km,ground\n" + strings.Repeat("0,1,lava\n", 13)
	_, _, err := route.ReadGround(strings.NewReader(text), "g.csv")
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 11 || lines[9] != `g.csv:11:5: unknown ground "lava"` || lines[10] != "and 3 more" {
		t.Errorf("%s", err)
	}
}

func TestSuggest(t *testing.T) {
	known := []string{"from_km", "to_km", "ground", "note"}
	for _, c := range []struct{ word, want string }{
		{"grnd", "ground"}, {"GROUND", "ground"}, {"fromkm", "from_km"}, {"notes", "note"}, {"to", "to_km"},
		{"xyz", ""}, {"", ""}, {"surface", ""},
	} {
		want := ""
		if c.want != "" {
			want = fmt.Sprintf("did you mean %q? ", c.want)
		}
		if got := input.Suggest(c.word, known); got != want {
			t.Errorf("%q: %q, want %q", c.word, got, want)
		}
	}
}

func TestErrorPlaces(t *testing.T) {
	for _, c := range []struct {
		err  input.Error
		want string
	}{
		{input.Error{File: "a.gpx", Line: 12, Col: 7, What: "odd"}, "a.gpx:12:7: odd"},
		{input.Error{File: "a.gpx", Line: 12, What: "odd"}, "a.gpx:12: odd"},
		{input.Error{File: "a.gpx", What: "odd"}, "a.gpx: odd"},
		{input.Error{Line: 12, Col: 7, What: "odd"}, "odd"},
	} {
		if got := c.err.Error(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestBadValue(t *testing.T) {
	err := input.BadValue("12", "has no unit", "want L")
	var v *input.ValueError
	if !errors.As(err, &v) || err.Error() != `"12" has no unit` || v.HintText() != "want L" {
		t.Errorf("%v, %+v", err, v)
	}
}

// A spreadsheet's UTF-16 is read as what it is; bytes of another encoding are a
// fault with a place, for a name would be shown wrong and a note be lost.
func TestTableEncodings(t *testing.T) {
	const text = "from_km,to_km,ground,note\n0,1,sand,dünen\n1,2,mud,\n"
	plain, _, err := route.ReadGround(strings.NewReader(text), "g.csv")
	if err != nil {
		t.Fatal(err)
	}
	for name, mark := range map[string]binary.AppendByteOrder{"little": binary.LittleEndian, "big": binary.BigEndian} {
		packed := mark.AppendUint16(nil, 0xFEFF)
		for _, u := range utf16.Encode([]rune(text)) {
			packed = mark.AppendUint16(packed, u)
		}
		got, _, err := route.ReadGround(bytes.NewReader(packed), "g.csv")
		if err != nil || !slices.Equal(got, plain) {
			t.Errorf("UTF-16, %s end first: %v, %v; want %v", name, got, err, plain)
		}
	}
	const old = "g.csv: this is not UTF-8: read as windows-1252; look at the letters with accents"
	got, notes, err := route.ReadGround(strings.NewReader("from_km,to_km,ground,note\n0,1,sand,d\xfcnen\n1,2,mud,\n"), "g.csv")
	if err != nil || !slices.Equal(got, plain) || !slices.Equal(notes, []string{old}) {
		t.Errorf("windows-1252: %v, %q, %v; want %v", got, notes, err, plain)
	}
	// Of two encodings one would be spoilt; 0x81 is no letter of windows-1252; and what
	// begins with a mark of UTF-8 is UTF-8.
	const hint = "save the list as CSV in UTF-8"
	const head = "from_km,to_km,ground,note\n"
	for text, want := range map[string]string{
		head + "0,1,sand,dünen\n1,2,mud,d\xfcnen\n": "g.csv:3:9: a field that is not UTF-8",
		head + "0,1,sand,d\xfcnen\n1,2,mud,dünen\n": "g.csv:3:9: a field in UTF-8, behind one that is not",
		head + "0,1,sand,d\x81nen\n":                "g.csv:2:10: a field that is not UTF-8",
		"\ufeff" + head + "0,1,sand,d\xfcnen\n":     "g.csv:2:10: a field that is not UTF-8",
		"from_km,to_km,ground,\x81\n0,1,sand\n":     "g.csv:1:22: a column name that is not UTF-8",
	} {
		_, _, err = route.ReadGround(strings.NewReader(text), "g.csv")
		wantFault(t, err, want, hint)
	}
}

var wantFault = kit.WantFault

// Lines that begin with # are remarks where a file has such, before the header, too, and do
// not tell which separator it has; elsewhere they are rows.
func TestRemarkedTable(t *testing.T) {
	const text = "# a, b; c\n\n#\nb;A\n1;2,5\n# 3;4\n\"#5\";6\n"
	table, err := input.NewRemarkedTable(strings.NewReader(text), "t.csv", columns("a", "b", "c"), 2)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for table.Next() {
		got = append(got, fmt.Sprintf("%d %q %q", table.Row(), table.Pointed("a"), table.Get("b")))
	}
	if want := `5 "2.5" "1", 7 "6" "#5"`; strings.Join(got, ", ") != want || !table.DecimalComma() {
		t.Errorf("rows %s\nwant %s", strings.Join(got, ", "), want)
	}
	plain, err := input.NewTable(strings.NewReader("a\n#1\n"), "t.csv", columns("a"), 1)
	if err != nil || !plain.Next() || plain.Get("a") != "#1" || plain.DecimalComma() {
		t.Errorf("a table without remarks: %v, %q", err, plain.Get("a"))
	}
}

// A row is written as the file has its columns, those that are not known left empty.
func TestTableLine(t *testing.T) {
	table, err := input.NewTable(strings.NewReader("note;odd;a\n"), "t.csv", columns("a", "b", "note"), 1)
	if err != nil {
		t.Fatal(err)
	}
	got, err := table.Line(map[string]string{"a": "1;2", "note": "x \"y\""})
	if want := `"x ""y""";;"1;2"`; err != nil || got != want {
		t.Errorf("%s, %v, want %s", got, err, want)
	}
	if !table.Has("note") || table.Has("b") {
		t.Error("it has the columns that it has not")
	}
	_, err = table.Line(map[string]string{"b": "1"})
	wantFault(t, err, "t.csv:1:1: no column \"b\"", "add it to the first row")
}
