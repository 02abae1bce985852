package text_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/testdata/screen"
	"lastpump/fuel/plan"
)

// in tells whether words stand in a text, however its lines are broken and its columns are wide.
func in(text, words string) bool {
	one := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	return strings.Contains(one(text), one(words))
}

// What a rider reads of a ride whose hours are reckoned by hand, see [samples.ByHand]: on the
// first screen, and in full.
func TestHoursByHand(t *testing.T) {
	p := samples.ByHand(t)
	first, err := screen.First(p.Plan, "metric")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"0 Wed 08:00 the start",
		"65 Wed 09:35 Ford doubtful till 10:00 seen",
		"35 Wed 11:06 the end",
		"Hours: Ford, Wed 09:35 (09:03–10:18): doubtful till 10:00, wait 25 min.",
		"Public holidays are not known",
	} {
		if !in(first, want) {
			t.Errorf("no %q on the first screen:\n%s", want, first)
		}
	}
	var b bytes.Buffer
	if err := text.Write(&b, p.Plan, text.Style{Units: p.Units}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"1 Wed 1 Jul 100.0 1:32 08:00 11:06 10:44–12:03",
		"the end 8.2 ", // L: 10 after the fill, less 35 km at 5 L/100 km
		"1 Ford 65 65.0 1:00", "2 the end 100 35.0 0:32",
		"65 Ford 1 Wed 09:35 09:03–10:18 doubtful till 10:00, wait 25 min 20:00",
		"6.0 L a day for each rider, 6.0 L over the one day",
		"Speeds: riding, likely (low–high): paved 65 (50–80) km/h [our estimate]",
		"Nights: none",
	} {
		if !in(b.String(), want) {
			t.Errorf("no %q in full:\n%s", want, &b)
		}
	}
}

// Without a departure there is no hour, and one line says how there are hours; what is ridden takes
// its hours all the same.
func TestHoursWithoutADeparture(t *testing.T) {
	p := samples.Example(t, "canyon")
	first, err := screen.First(p.Plan, "us")
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(first, "--depart"); n != 1 {
		t.Errorf("%d lines name --depart:\n%s", n, first)
	}
	var b bytes.Buffer
	if err := text.Write(&b, p.Plan, text.Style{Units: p.Units}); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); in(s, "DAYS (") || in(s, "OPEN WHEN") || !in(s, "hours: in the saddle") {
		t.Errorf("days without a departure, or no hours:\n%s", s)
	}
	if hour := regexp.MustCompile(`(Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d\d:\d\d`).FindString(first); hour != "" {
		t.Errorf("hour %q", hour)
	}
}

// A pump that is shut for longer than anybody waits is left out, and the verdict says so, with the
// hour at which it opens: in the example of the steppe the mine is shut on Sundays.
func TestVerdictSaysWhatIsLeftOut(t *testing.T) {
	p := samples.ExampleWith(t, "steppe", func(in *plan.Inputs) { in.Options.FillAt = plan.FillChosen; samples.Timed(in) })
	first, err := screen.First(p.Plan, "metric")
	if err != nil {
		t.Fatal(err)
	}
	verdict, _, _ := strings.Cut(first, "BUY AND CARRY")
	for _, want := range []string{"left out, shut when you get there", "Ershal Mine, Sun 08:07, shut until Mon 07:00"} {
		if !in(verdict, want) {
			t.Errorf("no %q in the verdict:\n%s", want, verdict)
		}
	}
}
