package text

import (
	"io"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/first"
	"lastpump/fuel/plan"
)

// WriteFirst writes the first screen: what to buy, whom to call, what to do at each pump, and
// what is not sure, at most 100 columns wide, and with fewer calls where it would be too long.
func WriteFirst(w io.Writer, p *plan.Plan, style Style) error {
	var screen strings.Builder
	for _, l := range lengths {
		screen.Reset()
		if err := writeFirst(&screen, p, style, l); err != nil {
			return err
		}
		if strings.Count(screen.String(), "\n") <= mostLines(p) {
			break
		}
	}
	_, err := io.WriteString(w, screen.String())
	return err
}

// mostLines is how many lines the first screen has at most: 55 for 14 fills, two more for each
// three beyond.
func mostLines(p *plan.Plan) int {
	fills := 0
	for _, v := range p.Visits {
		if v.Fill != nil {
			fills++
		}
	}
	return 55 + 2*((max(0, fills-14)+2)/3)
}

// A length says how much is told on the first screen of what may stand in --full alone.
type length struct {
	calls        int
	nights, when bool // where they are; and when
	mend         bool // what mends the hours of pumps
	worst        bool // on which legs the petrol is worst
}

// lengths are tried one after the other, until it is short enough.
var lengths = []length{
	{4, true, true, true, true}, {3, true, true, true, true}, {2, true, true, true, true}, {1, true, true, true, true},
	{1, true, false, true, true}, {1, true, false, false, true}, {1, false, false, false, true}, {1, false, false, false, false},
}

// writeFirst writes the first screen at a length.
func writeFirst(w io.Writer, p *plan.Plan, style Style, l length) error {
	s := sheet.NewText(w)
	r := On(s, p, style.Units, painter(style))
	say := first.Of(r.say)
	r.Line("", say.Ride())
	r.lines("", say.Verdict())
	if p.Group != nil {
		r.Line("", r.say.FirstBike())
	}
	r.Line("", say.RestsOn())
	r.Head("BUY AND CARRY")
	r.lines("  ", say.Buy())
	if calls := say.Calls(l.calls); len(calls) > 0 {
		r.Head("CALL FIRST")
		r.lines("  ", calls)
	}
	r.do(say)
	if s := say.Passes(); s != "" {
		r.Line("", s)
	}
	if s := say.Nights(!l.when); s != "" && l.nights {
		r.Line("", s)
	}
	r.Head("GRADE (the maker's manual decides)")
	r.lines("  ", say.Grade(l.worst))
	r.Head("NOT SURE")
	r.lines("  ", say.NotSure(l.mend))
	r.Gap()
	r.lines("", first.Cautions)
	r.Line("", first.Rest)
	return s.Flush()
}

// A room says how much of what a line of the first screen may hold is written out.
type room struct {
	stop, dry int  // columns of letters, at most
	open      int  // which way of writing hours: 0 is the longest
	pay       bool // how one pays has a column
	thirsty   string
}

// rooms are what is tried with hours, the most first, until the lines fit the sheet. With under 9
// columns of letters nobody reads back to which pump: that is the last one, filled at or passed.
var rooms = []room{
	{15, 16, 0, true, first.Thirsty}, {12, 16, 1, true, first.Thirsty}, {15, 12, 1, false, first.Thirsty},
	{12, 12, 1, false, first.Thirsty}, {12, 4, 1, false, first.ThirstyShort}, {12, 4, 2, false, first.ThirstyShort},
	{10, 4, 2, false, first.ThirstyShort}, {7, 4, 2, false, first.ThirstyShort},
}

// do lays out what to do, a line for each fill.
func (r *Report) do(say first.Voice) {
	all := say.Do()
	if !say.Timed() {
		r.doHead("", "")
		columns, rows := r.doTable(all, room{15, 16, 0, true, first.Thirsty}, false)
		r.Table(columns, rows)
		return
	}
	for i, room := range rooms {
		columns, rows := r.doTable(all, room, true)
		if i == len(rooms)-1 || sheet.Fits(columns, rows) {
			r.doHead("; when: likely", openWords(columns, room)+strandsShort(all, room))
			r.Table(columns, rows)
			return
		}
	}
}

// openWords says how to read the hours of pumps in the room that there is, where any are told.
func openWords(columns []sheet.Column, room room) string {
	switch {
	case !slices.ContainsFunc(columns, func(c sheet.Column) bool { return c.Head == "open" }):
		return ""
	case room.open == 2:
		return "; open: an hour is the last to be there, with ? it is doubtful about then; ask: not known"
	}
	return "; open: by is the last hour to be there, with ? it is doubtful; ask: not known"
}

// strandsShort says what the short word for a thirsty bike means, where it stands.
func strandsShort(all []first.Do, room room) string {
	if room.thirsty == first.Thirsty || !slices.ContainsFunc(all, func(d first.Do) bool { return d.IfDry == first.Thirsty }) {
		return ""
	}
	return "; " + first.ThirstyShort + ": if it is thirsty"
}

func (r *Report) doHead(hours, dry string) {
	r.Head("DO (trip: " + r.u.DistanceUnit() + " on the trip meter, zeroed at each fill; fill: to the brim, " + r.u.VolumeUnit() +
		", likely ≤ at most; can: in it on leaving, + filled here; tank: what it is then worth if that is below, " +
		string(r.p.Bike.Needs.Scale) + "; on the way here: pour the can at, turn back by" + hours + dry + ")")
}

// doTable gives the table of what to do in the room that there is, with hours or without.
func (r *Report) doTable(all []first.Do, room room, timed bool) (columns []sheet.Column, rows [][]string) {
	columns = []sheet.Column{sheet.Number("trip"), sheet.Words("when"), sheet.Words("stop"), sheet.Words("open"),
		sheet.Words("sure"), sheet.Number("fill"), sheet.Words("grade"), sheet.Number("can"), sheet.Number("tank"),
		sheet.Words("pay"), sheet.Number("pour"), sheet.Number("turn"), sheet.Words("if dry")}
	for _, d := range all {
		dry := d.IfDry
		if dry == first.Thirsty {
			dry = room.thirsty
		} else if word, _, ok := strings.Cut(dry, " "); ok && (word == first.Back || word == first.Off) {
			dry = short(dry, max(room.dry, 9))
			if room.dry < 9 {
				dry = word
			}
		}
		rows = append(rows, []string{d.Trip, d.When, short(d.Stop, room.stop), d.Open[room.open], d.Sure, d.Fill, d.Grade, d.Can,
			d.Tank, d.Pay, d.Pour, d.Turn, dry})
	}
	return without(columns, rows, func(i int) bool {
		empty := !slices.ContainsFunc(rows, func(r []string) bool { return r[i] != "" })
		head := columns[i].Head
		return empty && (timed || head == "when" || head == "open") || !room.pay && head == "pay"
	})
}

// without takes columns out of a table.
func without(columns []sheet.Column, rows [][]string, out func(i int) bool) ([]sheet.Column, [][]string) {
	for i := len(columns) - 1; i >= 0; i-- {
		if out(i) {
			columns = slices.Delete(columns, i, i+1)
			for k := range rows {
				rows[k] = slices.Delete(rows[k], i, i+1)
			}
		}
	}
	return columns, rows
}

// short cuts a name to so many columns, what one line has room for.
func short(name string, most int) string {
	if sheet.Width(name) <= most {
		return name
	}
	cut := []rune(name)
	for sheet.Width(string(cut)) >= most {
		cut = cut[:len(cut)-1]
	}
	return string(cut) + "…"
}
