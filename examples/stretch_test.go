package examples_test

import (
	"encoding/csv"
	"math"
	"os"
	"testing"
)

// TestStretchFindsTheRoad asks how long the ride is, from the line in the file,
// and compares with the road that the line was taken from. The estimators err by
// half a per cent on lines like these (design, section 4); 3 % is what a rider
// would not notice beside the weather.
func TestStretchFindsTheRoad(t *testing.T) {
	const tolerance = 0.03
	for name, dense := range truth(t) {
		line := newLine(t, name)
		found := line.Length().Kilometres() * line.Stretch.Factor
		t.Logf("%s: drawn %.1f km, stretch %.4f, found %.1f km, ridden %.1f km (%+.2f %%)", name,
			line.Length().Kilometres(), line.Stretch.Factor, found, dense, 100*(found/dense-1))
		if off := found/dense - 1; math.Abs(off) > tolerance {
			t.Errorf("%s: found %.1f km, ridden %.1f km: %+.1f %%", name, found, dense, 100*off)
		}
	}
}

// truth reads the length of the roads, in km, that the loops were taken from.
func truth(t *testing.T) map[string]float64 {
	t.Helper()
	km := map[string]float64{}
	for _, row := range readCSV(t, "truth.csv") {
		km[row["name"]] = number(t, row["dense_km"])
	}
	if len(km) != 2 {
		t.Fatalf("truth.csv has %d loops, want 2", len(km))
	}
	return km
}

// readCSV reads a table with a header.
func readCSV(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var table []map[string]string
	for _, row := range rows[1:] {
		named := map[string]string{}
		for i, key := range rows[0] {
			named[key] = row[i]
		}
		table = append(table, named)
	}
	return table
}
