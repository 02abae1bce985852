package fuel_test

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
)

// template is the file that `lastpump bike` prints to be filled in.
func template(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../cmd/lastpump/help/bike.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// option is a line of the template that a rider brings to life by taking away
// its comment sign.
var option = regexp.MustCompile(`(?m)^# ?(\w+ = |\[\w+\])`)

func TestTemplateIsTheDefaultBike(t *testing.T) {
	want := fuel.DefaultBike()
	want.Name = ""
	if diff := cmp.Diff(want, read(t, template(t))); diff != "" {
		t.Errorf("the template is another bike (- default, + template):\n%s", diff)
	}
}

// With the signs taken away it shows every key, and the defaults where it says
// that it does.
func TestTemplateWithItsOptions(t *testing.T) {
	text := option.ReplaceAllString(template(t), "$1")
	got := read(t, text)
	want := fuel.DefaultBike()
	want.Name = got.Name
	want.Can = 3
	want.ConsumptionTanks, want.LampAt, want.ReserveTap = 3, 3, 2.5
	general := fuel.GeneralWeight(route.Sand)
	want.Own = map[route.Ground]fuel.Weight{route.Sand: {
		Low: 1.9 * general.Low / general.Likely, Likely: 1.9, High: 1.9 * general.High / general.Likely,
	}}
	// The figures of the model: hours of riding, pauses and fills in general, dirt at 40 km/h.
	minutes := func(a, b, c int) [3]time.Duration {
		return [3]time.Duration{time.Duration(a) * time.Minute, time.Duration(b) * time.Minute, time.Duration(c) * time.Minute}
	}
	want.Riding = fuel.Riding{Hours: 6 * time.Hour, Pace: 1, Pauses: minutes(15, 35, 60), Fill: minutes(10, 15, 30),
		Speeds: map[route.Ground]fuel.Speeds{route.Dirt: {Likely: 40}}}
	if got.Name == "" {
		t.Error("the template names no bike")
	}
	if diff := cmp.Diff(want, got, closely); diff != "" {
		t.Errorf("options (- default, + template):\n%s", diff)
	}
	for _, key := range []string{"tank", "consumption", "needs", "name", "unusable", "loaded_mass",
		"measured_on", "ridden_on", "odometer", "can", "consumption_tanks", "lamp_at", "reserve_tap",
		"hours", "pace", "pauses_min", "fill_min"} {
		if !strings.Contains(text, "\n"+key+" = ") {
			t.Errorf("the template does not show %s", key)
		}
	}
}

// The other ways of writing that its comments offer can be read too.
func TestTemplateAlternatives(t *testing.T) {
	text := template(t)
	for _, offered := range []string{"52 mpg US", "62 mpg UK", "22 km/L"} {
		if !strings.Contains(text, `"`+offered+`"`) {
			t.Errorf("the template does not offer %q", offered)
		}
		other := strings.Replace(text, `"4.5 L/100km"`, `"`+offered+`"`, 1)
		if b := read(t, other); b.Consumption == 4.5 {
			t.Errorf("%q is not read", offered)
		}
	}
	if !strings.Contains(text, "[1.6, 1.9, 2.6]") {
		t.Error("the template does not offer three weights")
	}
	for _, offered := range []string{"[30, 40, 50]", `"25 mph"`} {
		if !strings.Contains(text, offered) {
			t.Errorf("the template does not offer %s", offered)
		}
		if b := read(t, least+"[speed]\ndirt = "+offered+"\n"); b.Riding.Speeds[route.Dirt].Likely == 0 {
			t.Errorf("%s is not read", offered)
		}
	}
}
