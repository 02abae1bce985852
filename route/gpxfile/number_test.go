package gpxfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"testing"
)

// plainDecimal is what we take for a number, written the other way.
var plainDecimal = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?$`)

// checkNumber compares one text with strconv, which is exact; we must refuse
// what is no plain decimal, whatever strconv says.
func checkNumber(t *testing.T, text string) {
	t.Helper()
	got, ok := parseNumber([]byte(text))
	want, err := strconv.ParseFloat(text, 64)
	if err != nil && err.(*strconv.NumError).Err == strconv.ErrRange {
		err = nil
	}
	if ok != (err == nil && plainDecimal.MatchString(text)) {
		t.Fatalf("%q: taken for a number: %v", text, ok)
	}
	if ok && math.Float64bits(got) != math.Float64bits(want) {
		t.Fatalf("%q: %v, strconv has %v", text, got, want)
	}
}

// hardNumbers are at the corners of the short way: 2^53 and its neighbours,
// 10^22 and 10^23, 19 and 20 digits, halfway cases, and the file's own 17 digits.
var hardNumbers = []string{
	"0000000000000012.5", "000000000000012.5", "00000000000012.5", "1234567890123456.", "123456789012345.6",
	"0", "-0", "+0.0", "00", "1", "9007199254740991", "9007199254740992", "9007199254740993", "9007199254740993.0",
	"900719925474099.3", "1e22", "1e23", "1e-22", "1e-23", "9007199254740992e22", "9007199254740993e-22",
	"999999999999999999", "9999999999999999999", "18446744073709551615", "18446744073709551616",
	"184467440737095516159",
	"0.1234567890123456789", "0.12345678901234567890123456789012345678901234567890", "16.799999999999955",
	"116.1049749981612",
	"100000000000000000000000", "0.000000000000000000000000000001", "1e400", "-1e400", "1e-400",
	"1e999999999999999999999",
	"1.7976931348623157e308", "4.9e-324", "2.2250738585072011e-308", "8.5e0000000000000000000000001", "1e-0",
	"", "+", "-", ".", "..", "1.", ".1", "+.1e1", "1e", "1e+", "e1", "1e1.5", "1 ", " 1", "1,5", "0x1", "0x1p1",
	"1_0", "inf", "nan", "NaN", "Infinity", "1e1e1", "--1", "+-1", "1-", "1f",
}

func TestParseNumber(t *testing.T) {
	for _, text := range hardNumbers {
		checkNumber(t, text)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		v := math.Float64frombits(rng.Uint64())
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		checkNumber(t, strconv.FormatFloat(v, 'e', rng.IntN(20)-1, 64))
		checkNumber(t, strconv.FormatFloat(rng.Float64()*360-180, 'f', rng.IntN(20)-1, 64))
		checkNumber(t, fmt.Sprintf("%d.%de%d", rng.Uint64(), rng.Uint32(), rng.IntN(60)-30))
	}
}

func FuzzNumber(f *testing.F) {
	for _, text := range hardNumbers {
		f.Add(text)
	}
	f.Fuzz(checkNumber)
}

func TestParseNumberAllocates(t *testing.T) {
	for _, text := range []string{"47.123456", "16.799999999999955"} { // the short way and strconv's
		b := []byte(text)
		if n := testing.AllocsPerRun(100, func() { parseNumber(b) }); n > 0 {
			t.Errorf("%s: %v allocations", text, n)
		}
	}
}
