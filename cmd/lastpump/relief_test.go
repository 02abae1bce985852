package main

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// slope is an elevation tile of 3″ that rises 1 m from each column of samples to
// the next: 1200 m to the degree of longitude.
func slope(t *testing.T, folder, name string) {
	t.Helper()
	var data []byte
	for range 1201 {
		for col := range 1201 {
			data = binary.BigEndian.AppendUint16(data, uint16(col))
		}
	}
	if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// Heights come from the relief where the file has none, and everywhere if asked
// for. The line runs 0.16° east up the slope of 1200 m to the degree: 192 m.
func TestReliefUnderALine(t *testing.T) {
	folder := t.TempDir()
	slope(t, folder, "N00E000.hgt")
	write := func(name, ele string) string {
		path := filepath.Join(folder, name)
		text := `<gpx><trk><trkseg><trkpt lat="0.5" lon="0.04">` + ele + `</trkpt><trkpt lat="0.5" lon="0.12">` + ele +
			`</trkpt><trkpt lat="0.5" lon="0.2">` + ele + `</trkpt></trkseg></trk></gpx>`
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	bare, level := write("bare.gpx", ""), write("level.gpx", "<ele>700</ele>")
	for _, c := range []struct {
		args []string
		want float64 // NaN for not known
	}{
		{[]string{bare}, math.NaN()},
		{[]string{bare, "--relief", folder}, 192},
		{[]string{bare, "--relief", folder, "--reverse"}, 0},
		{[]string{level, "--relief", folder}, 0},
		{[]string{level, "--relief", folder, "--heights", "relief"}, 192},
	} {
		out, _ := lastpump(t, append([]string{"plan", "--ground", "dirt", "--json", "-"}, c.args...)...)
		var doc struct {
			Loop struct {
				AscentM *float64 `json:"ascent_m"`
			} `json:"loop"`
		}
		if err := json.Unmarshal([]byte(out), &doc); err != nil {
			t.Fatal(err)
		}
		switch got := doc.Loop.AscentM; {
		case math.IsNaN(c.want) != (got == nil):
			t.Errorf("%v: ascent %v, want %v", c.args, got, c.want)
		case got != nil && math.Abs(*got-c.want) > 1e-6:
			t.Errorf("%v: ascent %v, want %v", c.args, *got, c.want)
		}
	}
}
