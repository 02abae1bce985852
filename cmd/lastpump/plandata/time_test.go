package plandata_test

import (
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/plandata"
	"lastpump/fuel/plan"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// The hours of a ride that are reckoned by hand, see [samples.ByHand].
func TestHoursByHand(t *testing.T) {
	p := samples.ByHand(t)
	valid(t, schema(t), p)
	d := plandata.New(p.Plan, p.Units)
	want := plandata.Time{Depart: "2026-07-01T08:00:00+02:00", Zone: "UTC+02:00", Days: []plandata.Day{{
		Date: "2026-07-01", FromKm: 0, ToKm: 100, Leave: "2026-07-01T08:00:00+02:00",
		There: plandata.Times{Early: "2026-07-01T10:44:20+02:00", Likely: "2026-07-01T11:06:09+02:00", Late: "2026-07-01T12:02:18+02:00"},
		RideH: 100. / 65, TankL: 10 - 35*0.05,
	}}}
	near := cmpopts.EquateApprox(0, 1e-6)
	got := *d.Time
	if s := got.Days[0].Sunset; s == nil || *s < "2026-07-01T20:05" || *s > "2026-07-01T20:40" { // 40.9° N, 10° E: 18:20 UTC or so
		t.Errorf("sunset %v", s)
	}
	got.Days[0].Sunset = nil
	if diff := cmp.Diff(want, got, near); diff != "" {
		t.Errorf("time (-want +got):\n%s", diff)
	}
	v := d.Visits[0]
	there := plandata.Times{Early: "2026-07-01T09:03:45+02:00", Likely: "2026-07-01T09:35:00+02:00", Late: "2026-07-01T10:18:00+02:00"}
	if diff := cmp.Diff(&there, v.There); diff != "" {
		t.Errorf("there (-want +got):\n%s", diff)
	}
	if *v.Zone != "UTC+02:00" || *v.Open != "doubtful" || *v.TurnsAt != "2026-07-01T10:00:00+02:00" || !cmp.Equal(*v.WaitH, 25./60, near) {
		t.Errorf("zone %s, %s, turns at %s, wait %v h", *v.Zone, *v.Open, *v.TurnsAt, *v.WaitH)
	}
	if !cmp.Equal([]float64{d.Legs[0].RideH, d.Legs[1].RideH}, []float64{1, 35. / 65}, near) {
		t.Errorf("legs of %v and %v h", d.Legs[0].RideH, d.Legs[1].RideH)
	}
}

// Why a pump is left out says until when it is shut; without a departure nothing is told but the
// hours in the saddle.
func TestHoursOfThePlan(t *testing.T) {
	p := samples.ExampleWith(t, "steppe", func(in *plan.Inputs) { samples.Timed(in) })
	why := map[string]string{}
	for _, v := range plandata.New(p.Plan, p.Units).Visits {
		if v.WhyNot != nil {
			why[v.Stop] = *v.WhyNot
		}
	}
	if why["Ershal Mine"] != "shut until Mon 07:00" { // Mo-Sa 07:00-20:00, reached on a Sunday
		t.Errorf("%v", why)
	}
	p = samples.Example(t, "steppe")
	d := plandata.New(p.Plan, p.Units)
	for _, v := range d.Visits {
		if v.There != nil || v.Zone != nil || v.Open != nil || v.TurnsAt != nil || v.WaitH != nil {
			t.Errorf("%+v", v)
		}
	}
	for _, l := range d.Legs {
		if !(l.RideH > 0) {
			t.Errorf("leg %d: %v h", l.Number, l.RideH)
		}
	}
	if d.Time != nil {
		t.Errorf("%+v", d.Time)
	}
}
