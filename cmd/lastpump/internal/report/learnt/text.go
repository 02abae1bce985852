package learnt

import (
	"fmt"
	"io"
	"time"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/learn"
)

// Write writes what was learnt: the thirst first, then each tank, the grounds, what is not
// told apart, how the forecasts held, and what was made of the file.
func Write(w io.Writer, r Report, u units.System) error {
	t := &writer{sheet.NewText(w), r, u}
	for _, section := range []func(){t.answer, t.tanks, t.grounds, t.told, t.remarks} {
		section()
	}
	return t.Flush()
}

type writer struct {
	*sheet.Text
	r Report
	u units.System
}

func (t *writer) answer() {
	for _, s := range t.answers() {
		t.Line("", s)
	}
}

func (t *writer) answers() (out []string) {
	used := t.r.used()
	out = append(out, filled.LearntFrom(used, len(t.r.Entries)-used, t.r.Kept.Tanks()-len(t.r.Entries), t.r.Bike.Name))
	if len(t.r.Entries) == 0 {
		out = append(out, filled.NothingNew)
	}
	planned, ahead := t.r.oneLeg(t.r.Now)
	return append(out, filled.Thirst(t.r.Now, t.r.Bike, t.u), filled.OneLeg(planned, ahead, t.u))
}

func (t *writer) tanks() {
	if len(t.r.Entries) == 0 {
		return
	}
	t.Head(filled.HeadTanks)
	t.Table(t.tankRows())
}

func (t *writer) tankRows() (heads []sheet.Column, rows [][]string) {
	for i, e := range t.r.Entries {
		k := t.r.Tanks.Tanks[i]
		rows = append(rows, []string{
			fmt.Sprint(k.To.Line), k.To.Date.Format(time.DateOnly), t.known(float64(k.Distance), t.u.DistanceIn(k.Distance), 1),
			filled.GroundKnown(k.Ground), t.litres(k.Needs.Sum().Likely), t.litres(e.Forecast.Likely), t.litres(k.Litres),
			off(e.Step), filled.MadeOf(e.Step),
		})
	}
	return []sheet.Column{sheet.Number("row"), sheet.Words("date"), sheet.Number("trip " + t.u.DistanceUnit()),
		sheet.Words("ground"), sheet.Number("planned " + t.u.VolumeUnit()), sheet.Number("expected"), sheet.Number("filled"),
		sheet.Number("off by"), sheet.Wrapped("what was made of it", 40)}, rows
}

// known sets a figure, or a dash where it is not known.
func (t *writer) known(is, shown float64, decimals int) string {
	if is == 0 {
		return "–"
	}
	return fmt.Sprintf("%.*f", decimals, shown)
}

// litres sets litres as a pump shows them.
func (t *writer) litres(l fuel.Litres) string { return t.known(float64(l), t.u.VolumeIn(l), 2) }

// off sets by how many standard deviations a tank was off.
func off(s learn.Step) string {
	if !s.HasOff() {
		return "–"
	}
	return fmt.Sprintf("%+.1f sd", s.SDs())
}

func (t *writer) grounds() {
	t.Head(filled.HeadGrounds)
	t.Table(t.groundRows())
}

func (t *writer) groundRows() (heads []sheet.Column, rows [][]string) {
	ridden, _ := t.r.ridden()
	for _, g := range t.r.Now.Grounds() {
		rows = append(rows, []string{string(g.Ground), fmt.Sprintf("%.2f", g.Weight.Likely),
			fmt.Sprintf("%.2f–%.2f", g.Weight.Low, g.Weight.High), fmt.Sprintf("%.2f", t.r.Bike.Weight(g.Ground).Likely),
			t.litres(ridden[fuel.WeighedAs(g.Ground)]), string(g.Standing)})
	}
	return []sheet.Column{sheet.Words("ground"), sheet.Number("weight"), sheet.Number("low–high"),
		sheet.Number("bike file"), sheet.Number(t.u.VolumeUnit() + " in these tanks"), sheet.Words("whose")}, rows
}

func (t *writer) told() {
	t.Gap()
	for _, s := range t.toldLines() {
		t.Line("", s)
	}
}

// toldLines says how the forecasts held, what the tanks do not tell apart and what would.
func (t *writer) toldLines() (out []string) {
	out = append(out, filled.Scored(learn.ScoreOf(t.r.Entries)))
	if t.r.noPaved() {
		out = append(out, filled.NoPaved)
	}
	out = append(out, filled.Tied(t.r.Now.Ties())...)
	ridden, _ := t.r.ridden()
	var wanted []filled.Wanted
	for _, g := range t.r.Now.Grounds() {
		if ridden[fuel.WeighedAs(g.Ground)] > 0 && g.Standing != fuel.Yours {
			far, ok := t.r.Now.ToHalve(t.r.Bike, g.Ground)
			wanted = append(wanted, filled.Wanted{Ground: g.Ground, Far: far, OK: ok})
		}
	}
	out = append(out, filled.Telling(wanted, t.u)...)
	for _, tap := range []bool{false, true} {
		_, before, _ := learn.New(t.r.Bike).Left(tap)
		if left, sd, ok := t.r.Now.Left(tap); ok && sd < before {
			out = append(out, filled.LeftAt(tap, left, sd, t.u))
		}
	}
	if t.r.Now != t.r.Kept {
		out = append(out, filled.OpenTold)
	}
	return out
}

func (t *writer) remarks() {
	said := t.remarkLines()
	if len(said) == 0 {
		return
	}
	t.Head(filled.HeadFile)
	for _, s := range said {
		t.Line("  ", s)
	}
}

func (t *writer) remarkLines() (said []string) {
	said = append(said, t.r.Notes...)
	for _, r := range append(t.r.Log.Remarks[:len(t.r.Log.Remarks):len(t.r.Log.Remarks)], t.r.Tanks.Remarks...) {
		said = append(said, filled.LogRemark(r))
	}
	return said
}
