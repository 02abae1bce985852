package hours_test

import (
	"fmt"
	"math/rand"
	"strings"
)

// A drawn value is opening hours, and what of them may be unclear here and not there.
type drawn struct {
	text    string
	spills  bool // past midnight
	dropped bool // days are put out of force
	adds    bool // rules to others, by a comma
	twofold bool // a rule without days after one with, or without months
	ph      bool
}

// mayBeUnclear tells whether minutes may be unclear here and not there, on holidays aside.
func (d drawn) mayBeUnclear() bool {
	return d.twofold || d.spills && d.dropped || d.adds && strings.Contains(d.text, "+")
}

// A drawer makes opening hours of the kinds that are understood, from the widths and habits seen
// in real ones.
type drawer struct{ *rand.Rand }

func (r drawer) of(some ...string) string { return some[r.Intn(len(some))] }

func (r drawer) value() (d drawn) {
	if r.Intn(20) == 0 {
		text := r.of("24/7", "24/7h", "unknown", "off", "24/7; PH off", "24/7; Dec 25,26 off")
		return drawn{text: text, ph: strings.Contains(text, "PH")}
	}
	dated, seasonal := false, false // a rule before has days, the rule before has months
	for i := range 1 + r.Intn(4) {
		months, days := r.Intn(8) == 0, r.Intn(15) > 0
		if i == 0 {
			days = r.Intn(4) > 0
		}
		var words []string
		if months {
			words = append(words, r.months()+r.of("", "", ":"))
		}
		if days {
			text, ph := r.days()
			words, d.ph = append(words, text+r.of("", "", "", ":")), d.ph || ph
		}
		said, spills, closes := r.said(months || days)
		d.spills = d.spills || spills
		if i > 0 {
			adds := r.Intn(3) == 0 && (months || days)
			if adds {
				d.text += r.of(", ", ", ", ",")
			} else {
				d.text += r.of("; ", "; ", ";", " ; ")
			}
			d.twofold = d.twofold || !months && !days && dated || !months && days && seasonal
			d.adds, d.dropped = d.adds || adds, d.dropped || !adds || closes
		}
		d.text += strings.Join(append(words, said), " ")
		dated, seasonal = dated || months || days, seasonal && !(months || days) || months || d.twofold
	}
	if r.Intn(10) == 0 {
		d.text = strings.ToLower(d.text)
	}
	return d
}

// said draws what is said of some days: mostly times.
func (r drawer) said(ofDays bool) (text string, spills, closes bool) {
	switch n := r.Intn(16); {
	case n == 0 && ofDays:
		return "unknown", false, false
	case n == 1:
		text, spills = r.times(false)
		return text + " off", spills, true
	case n < 4 && ofDays:
		return r.of("off", "closed"), false, true
	}
	text, spills = r.times(true)
	return text, spills, false
}

func (r drawer) months() string {
	names := []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
	month := func() string { return names[r.Intn(12)] }
	dayOf := func() int { return 1 + r.Intn(28) }
	nth := func() string {
		return month() + " " + r.of("Mo", "Th", "Sa", "Su") + r.of("[1]", "[2]", "[4]", "[-1]", "[-2]")
	}
	switch r.Intn(9) {
	case 0:
		return month()
	case 1:
		return month() + "," + month()
	case 2:
		return fmt.Sprintf("%s %d-%s %d", month(), dayOf(), month(), dayOf())
	case 3:
		d := dayOf()
		return fmt.Sprintf("%s %d-%d", month(), d, d+r.Intn(29-d))
	case 4:
		return fmt.Sprintf("%s %d", month(), dayOf())
	case 5:
		return fmt.Sprintf("%s %d,%d", month(), dayOf(), dayOf())
	case 6:
		return nth() + "-" + nth()
	}
	return month() + "-" + month()
}

func (r drawer) days() (text string, ph bool) {
	names := []string{"Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"}
	one := func() string {
		if a := r.Intn(7); r.Intn(2) == 0 {
			return names[a]
		} else {
			return names[a] + "-" + names[(a+1+r.Intn(6))%7]
		}
	}
	var parts []string
	if r.Intn(2) == 0 {
		parts = []string{r.of("Mo-Fr", "Mo-Sa", "Mo-Su", "Sa-Su", "Sa", "Su", "Sa,Su", "Mo-Th")}
	} else {
		for range 1 + r.Intn(3) {
			parts = append(parts, one())
		}
	}
	switch r.Intn(12) {
	case 0:
		parts, ph = append(parts, "PH"), true
	case 1:
		parts, ph = append([]string{"PH"}, parts...), true
	case 2:
		parts, ph = []string{"PH"}, true
	}
	return strings.Join(parts, r.of(",", ", ")), ph
}

func (r drawer) times(openEnd bool) (text string, spills bool) {
	minute := func() int { return []int{0, 0, 0, 30, 15, 45, 59, r.Intn(60)}[r.Intn(8)] }
	clock := func(h int) string {
		m := minute()
		return fmt.Sprintf(r.of("%02d:%02d", "%02d:%02d", "%02d:%02d", "%d:%02d", "%02d.%02d"), h, m)
	}
	var parts []string
	n := 1 + r.Intn(5)/3 + r.Intn(8)/7
	for range n {
		from, to := r.Intn(24), r.Intn(24)
		if from > to && r.Intn(2) == 0 {
			from, to = to, from
		}
		dash := r.of("-", "-", "-", " - ", "- ")
		part := clock(from) + dash + clock(to)
		if r.Intn(12) == 0 {
			part = clock(from) + dash + "24:00"
		} else {
			spills = spills || to <= from
		}
		if openEnd && r.Intn(15) == 0 {
			spills = true
			if part += "+"; r.Intn(3) == 0 {
				part = clock(1+from%23) + "+"
			}
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, r.of(",", ", ")), spills
}

// spoilt draws hours as somebody mistypes them: real or drawn ones with up to three edits.
func (r drawer) spoilt(real []row) string {
	s := real[r.Intn(len(real))].value
	if r.Intn(2) == 0 {
		s = r.value().text
	}
	for range 1 + r.Intn(3) {
		i := r.Intn(len(s))
		put := r.of("", "", "-", ",", ";", " ", ":", ".", "+", "0", "24:00", "Mo", "Sa", "PH", "off", "24/7", "h", "Jan", "Dec 24",
			"[1]", "1", "12", "\u00a0", "–", "/", "||", "\"", "unknown", "closed", "SH", "sunrise", "week", "2024", "Mo-Fr", "08:00",
			"08:00-12:00", "; ", ", ")
		s = s[:i] + put + s[i+r.Intn(2):]
		if s == "" {
			return "x"
		}
	}
	return s
}
