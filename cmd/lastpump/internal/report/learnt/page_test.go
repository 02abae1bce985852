package learnt_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/learnt"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
)

// Four tanks of paved road of a bike of 5 L/100 km: the first takes just what it is planned to, the
// third far more, the last over twice as much.
const log = `date,trip_km,litres,event
2026-07-01,,,full
2026-07-02,160,8.0,full
2026-07-03,140,7.2,full
2026-07-04,120,9.9,full
2026-07-05,60,9.0,full
`

func page(t *testing.T, name string) string {
	t.Helper()
	b := fuel.DefaultBike()
	b.Name, b.Consumption, b.Odometer, b.MeasuredOn, b.RiddenOn = name, 5, 1, 0.1, 0.1
	l, err := fills.Read(strings.NewReader(log), "fills.csv")
	if err != nil {
		t.Fatal(err)
	}
	tanks, err := l.Tanks(b, nil)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := learnt.WriteHTML(&out, learnt.New(b, learn.New(b), l, tanks), units.Metric); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// It is one file that runs nothing and asks for nothing, whatever a bike is called.
func TestPageNeedsNothing(t *testing.T) {
	text := page(t, `<script>alert(1)</script> & "co"`)
	if !strings.Contains(text, `content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"`) {
		t.Error("no policy")
	}
	if bad := regexp.MustCompile(`(?i)<script|<link|<img|<iframe|src=|href=|url\(|@import|ZgotmplZ|NaN|Inf\b`).FindString(text); bad != "" {
		t.Errorf("the page has %q", bad)
	}
	if n := strings.Count(text, "<svg "); n != 3 {
		t.Errorf("%d pictures, want tanks, thirst and grounds", n)
	}
}

var (
	box = regexp.MustCompile(`<path class="band" d="M([\d.]+) ([\d.]+)H[\d.]+V([\d.]+)H[\d.]+Z"/>\s*<path class="line" d="M[\d.]+ ([\d.]+)H`)
	dot = regexp.MustCompile(`<circle class="(\w+)" cx="[\d.]+" cy="([\d.]+)" r="4">`)
)

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A tank that takes what is expected has its dot on the line in its box, one beyond the band has it
// above, and where nothing is learnt it is a ring.
func TestTanksAreDrawn(t *testing.T) {
	first, _, _ := strings.Cut(page(t, ""), "</svg>")
	boxes, dots := box.FindAllStringSubmatch(first, -1), dot.FindAllStringSubmatch(first, -1)
	if len(boxes) != 4 || len(dots) != 4 {
		t.Fatalf("%d boxes and %d dots of 4 tanks", len(boxes), len(dots))
	}
	for i, want := range []string{"dot", "dot", "out", "left"} {
		high, low, line, y := number(t, boxes[i][2]), number(t, boxes[i][3]), number(t, boxes[i][4]), number(t, dots[i][2])
		if dots[i][1] != want || !(high < line && line < low) {
			t.Errorf("tank %d: %s, want %s; high at %v, likely at %v, low at %v", i+1, dots[i][1], want, high, line, low)
		}
		if inside := y > high && y < low; inside != (want == "dot") {
			t.Errorf("tank %d: at %v, from %v to %v", i+1, y, high, low)
		}
		if i == 0 && !(y-line < 0.1 && line-y < 0.1) {
			t.Errorf("8.0 L for 8.0: at %v, the line at %v", y, line)
		}
	}
}
