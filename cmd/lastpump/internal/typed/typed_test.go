package typed_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/days"
	"lastpump/route"
	"lastpump/route/input"

	"pgregory.net/rapid"
)

// refused wants an error that quotes what was typed and says what to write.
func refused(t *testing.T, text string, got any, err error) {
	t.Helper()
	var v *input.ValueError
	if !errors.As(err, &v) || v.Hint == "" || v.What == "" {
		t.Errorf("%q: %v, %v", text, got, err)
	}
}

func TestOClock(t *testing.T) {
	for _, c := range []struct {
		want  string
		texts []string
	}{
		{"08:00", []string{"08:00", "8:00", "8am", "8 am", "8 AM", "8 a.m.", "0800", "800", "8h", "8h00", "08h00", "8.00", " 8:00 ", "0800h"}},
		{"07:30", []string{"7:30", "07:30", "7h30", "7.30", "7:30am", "7:30 a.m.", "730", "0730"}},
		{"13:40", []string{"13:40", "1340", "1:40pm", "1:40 PM", "13h40", "13.40"}},
		{"00:00", []string{"0:00", "00:00", "12am", "12:00 am", "0000", "0h"}},
		{"12:00", []string{"12:00", "12pm", "12 p.m.", "1200"}},
		{"12:30", []string{"12:30", "12:30pm"}},
		{"00:30", []string{"0:30", "12:30am"}},
		{"23:59", []string{"23:59", "11:59pm"}},
	} {
		for _, s := range c.texts {
			got, err := typed.OClock(s)
			if text := fmt.Sprintf("%02d:%02d", got.Hour, got.Minute); err != nil || text != c.want {
				t.Errorf("%q: %s, %v, want %s", s, text, err, c.want)
			}
		}
	}
	for _, s := range []string{"", "8", "12", "24:00", "25:00", "8:60", "8:5", "13pm", "0am", "13:40pm", "8:00:00", "08000",
		"eight", "noon", "-8:00", "8,30", "8:00 Uhr", "8 30", "am", ":30", "８:00", "2400", "0860"} {
		got, err := typed.OClock(s)
		refused(t, s, got, err)
	}
}

func TestLength(t *testing.T) {
	for _, c := range []struct {
		want  time.Duration
		texts []string
	}{
		{450 * time.Minute, []string{"7h30", "7:30", "7h30m", "7h 30min", "7 hours 30 minutes", "7.5h", "7.5 hours", "450 min", "450m", "450min", "7hrs 30"}},
		{90 * time.Minute, []string{"90 min", "90min", "90 mins", "1.5h", "1h30", "1:30", "01:30", "1 h 30 min", "1.5 hr"}},
		{2 * time.Hour, []string{"2h", "2 h", "2 hours", "2H", "120 min", "2h00", "2:00"}},
		{12 * time.Hour, []string{"12h"}},
		{20 * time.Minute, []string{"20 min", "0:20", "0h20"}},
		{0, []string{"0h", "0 min", "0:00"}},
		{14 * 24 * time.Hour, []string{"336h"}},
	} {
		for _, s := range c.texts {
			if got, err := typed.Length(s); err != nil || got != c.want {
				t.Errorf("%q: %v, %v, want %v", s, got, err, c.want)
			}
		}
	}
	for _, s := range []string{"", "90", "1.5", "7h60", "7:90", "-2h", "1,5h", "2 days", "1d", "337h", "99999999999h", "h", "min",
		"two hours", "1.5h30", "2h at", "NaN h", "1e3h", "7:30:00"} {
		got, err := typed.Length(s)
		refused(t, s, got, err)
	}
}

func TestMorning(t *testing.T) {
	for s, want := range map[string]typed.Morning{
		"08:00":      {At: clock.OClock{Hour: 8}},
		"8 am":       {At: clock.OClock{Hour: 8}},
		"5 07:15":    {Day: 5, At: clock.OClock{Hour: 7, Minute: 15}},
		"day 5 7:15": {Day: 5, At: clock.OClock{Hour: 7, Minute: 15}},
		"Day 5: 7am": {Day: 5, At: clock.OClock{Hour: 7}},
		"5, 0715":    {Day: 5, At: clock.OClock{Hour: 7, Minute: 15}},
		" 12 6 pm ":  {Day: 12, At: clock.OClock{Hour: 18}},
		"8 8am":      {Day: 8, At: clock.OClock{Hour: 8}},
	} {
		if got, err := typed.ReadMorning(s); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", s, got, err, want)
		}
	}
	for _, s := range []string{"", "8", "5 8", "0 08:00", "-1 08:00", "5 25:00", "Friday 08:00", "7 15", "5 07:15 08:00", "1000 08:00"} {
		got, err := typed.ReadMorning(s)
		refused(t, s, got, err)
		if v := (*input.ValueError)(nil); errors.As(err, &v) && v.Text != s {
			t.Errorf("%q is quoted as %q", s, v.Text)
		}
	}
}

// A mile is 1.609344 km.
func TestStay(t *testing.T) {
	at := func(m route.Metres) days.Where { return days.Where{At: m} }
	for s, want := range map[string]days.Halt{
		"1h30 at km 300":       {Where: at(300_000), For: 90 * time.Minute},
		"90 min at 300 km":     {Where: at(300_000), For: 90 * time.Minute},
		"1.5h at 300":          {Where: at(300_000), For: 90 * time.Minute},
		"1:30 AT Km300.5":      {Where: at(300_500), For: 90 * time.Minute},
		"2h at mi 100":         {Where: at(160_934.4), For: 2 * time.Hour},
		"2h at mile 100":       {Where: at(160_934.4), For: 2 * time.Hour},
		"2h @ 100mi":           {Where: at(160_934.4), For: 2 * time.Hour},
		"2h at Kembil":         {Where: days.Where{Stop: "Kembil"}, For: 2 * time.Hour},
		"2h at Inn at the Sea": {Where: days.Where{Stop: "Inn at the Sea"}, For: 2 * time.Hour},
		"2 hours at km 0":      {Where: at(0), For: 2 * time.Hour},
	} {
		got, err := typed.Stay(s)
		if d := got.At - want.At; err != nil || got.Stop != want.Stop || got.For != want.For || d > 1e-6 || d < -1e-6 {
			t.Errorf("%q: %v, %v, want %v", s, got, err, want)
		}
	}
	for _, s := range []string{"", "2h", "2h Kembil", "Kembil 2h", "at Kembil", "2 at Kembil", "0h at Kembil", "2 days at Kembil",
		"2h at -5", "2h at 300 m", "2h at 1e9", "2h at "} {
		got, err := typed.Stay(s)
		refused(t, s, got, err)
	}
}

func TestTaken(t *testing.T) {
	for s, want := range map[string]days.Took{
		"7h30 over 210 km":   {Time: 450 * time.Minute, Over: 210_000},
		"7:30 over 210km":    {Time: 450 * time.Minute, Over: 210_000},
		"450 min for 210 km": {Time: 450 * time.Minute, Over: 210_000},
		"7.5h in 100 mi":     {Time: 450 * time.Minute, Over: 160_934.4},
	} {
		got, err := typed.Taken(s)
		if d := got.Over - want.Over; err != nil || got.Time != want.Time || d > 1e-6 || d < -1e-6 {
			t.Errorf("%q: %v, %v, want %v", s, got, err, want)
		}
	}
	for _, s := range []string{"", "7h30", "210 km", "7h30 over 210", "7.5 over 210 km", "0h over 210 km", "7h over 0 km", "7h over 500 m",
		"210 km over 7h", "7h over -3 km"} {
		got, err := typed.Taken(s)
		refused(t, s, got, err)
	}
}

// Whatever is typed is within bounds or is refused; what is read is the same written out.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`\d{0,3}[ :.h]?\d{0,3} ?(h|am|pm|min|d)?( at | over )?(km )?\d{0,3}(km|mi)?`)).Draw(t, "text")
		if c, err := typed.OClock(s); err == nil {
			again, err := typed.OClock(fmt.Sprintf("%02d:%02d", c.Hour, c.Minute))
			if err != nil || again != c || c.Hour > 23 || c.Minute > 59 || c.Hour < 0 || c.Minute < 0 {
				t.Fatalf("%q: %v, then %v, %v", s, c, again, err)
			}
		}
		if d, err := typed.Length(s); err == nil && (d < 0 || d > 14*24*time.Hour) {
			t.Fatalf("%q: %v", s, d)
		}
		if h, err := typed.Stay(s); err == nil && (h.For <= 0 || h.At < 0 || h.Stop == "" && strings.TrimSpace(s) == "") {
			t.Fatalf("%q: %v", s, h)
		}
		if k, err := typed.Taken(s); err == nil && (k.Time <= 0 || k.Over < 1000) {
			t.Fatalf("%q: %v", s, k)
		}
	})
}
