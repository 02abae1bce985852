package fuel

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lastpump/route"
	"lastpump/route/input"
)

// Learnt is what a bike file keeps of the tanks that were learnt from: the state of the
// filter in fuel/learn, which says what X, P, SSQ and DoF are, how far it has come in the
// file of fills, and the figures of the bike that it holds for.
type Learnt struct {
	Until time.Time // the day of the last tank
	Tanks int       // how many there were, those refused among them
	Last  LastFill  // the row that ended the last tank

	Consumption Consumption
	Odometer    float64
	LoadedMass  Kilograms
	MeasuredOn  Ethanol
	RiddenOn    Ethanol
	Weights     [WeightCount]Weight // in the order of [WeighedGrounds]

	X        [WeightCount]float64    // logarithms of the thirst and of the factor on each unpaved weight
	P        [CovarianceSize]float64 // their covariance: the upper triangle by rows
	SSQ, DoF float64
}

// CovarianceSize is how many figures the upper triangle of a covariance has.
const CovarianceSize = WeightCount * (WeightCount + 1) / 2

// A LastFill is a row of a file of fills, as the rider wrote it.
type LastFill struct {
	Date     time.Time
	Distance route.Metres // as the bike shows it: trip or odometer; 0 where it is not known
	Litres   Litres       // 0 where they are not known
}

// A learntKey is one of the keys of the table learnt, all of which have to be there.
type learntKey struct {
	key  string
	read func(*Learnt, any) error
}

var learntKeys = []learntKey{
	{"until", learntDay(func(l *Learnt) *time.Time { return &l.Until })},
	{"tanks", func(l *Learnt, v any) error { return readCount(&l.Tanks, v) }},
	{"last", readLast},
	{"consumption", learntText(ParseConsumption, func(l *Learnt) *Consumption { return &l.Consumption })},
	{"odometer", learntNumber(func(l *Learnt) *float64 { return &l.Odometer })},
	{"loaded_mass", learntText(ParseMass, func(l *Learnt) *Kilograms { return &l.LoadedMass })},
	{"measured_on", learntText(ParseEthanol, func(l *Learnt) *Ethanol { return &l.MeasuredOn })},
	{"ridden_on", learntText(ParseEthanol, func(l *Learnt) *Ethanol { return &l.RiddenOn })},
	{"weights", readLearntWeights},
	{"x", func(l *Learnt, v any) error { return readNumbers(l.X[:], v) }},
	{"P", func(l *Learnt, v any) error { return readNumbers(l.P[:], v) }},
	{"ssq", learntNumber(func(l *Learnt) *float64 { return &l.SSQ })},
	{"dof", learntNumber(func(l *Learnt) *float64 { return &l.DoF })},
}

// lastKeys are those of the table last in the table learnt.
var lastKeys = []string{"date", "km", "litres"}

// hintLearnt is what to do about a table that is not as it was written.
const hintLearnt = "the table is written by the program: take it out, and learn again from all tanks"

func (f *bikeFile) readLearnt(v any) error {
	table, ok := v.(map[string]any)
	if !ok {
		return input.BadValue(fmt.Sprint(v), "is not a table", hintLearnt)
	}
	l := &Learnt{}
	var known []string
	for _, k := range learntKeys {
		known = append(known, k.key)
		v, there := table[k.key]
		if !there {
			return &input.Error{What: "learnt: no " + k.key, Hint: hintLearnt}
		}
		if err := k.read(l, v); err != nil {
			return &input.Error{What: "learnt: " + k.key + ": " + err.Error(), Hint: hintLearnt}
		}
	}
	if err := unknownKey("learnt", table, known); err != nil {
		return err
	}
	if what := l.wrong(); what != "" {
		return &input.Error{What: "learnt: " + what, Hint: hintLearnt}
	}
	f.bike.Learnt = l
	return nil
}

func unknownKey(of string, table map[string]any, known []string) error {
	for _, k := range sortedKeys(table) {
		if !slices.Contains(known, k) {
			return &input.Error{What: fmt.Sprintf("%s: unknown key %q", of, k),
				Hint: input.Suggest(k, known) + "the keys are " + strings.Join(known, ", ")}
		}
	}
	return nil
}

// Nothing that is learnt in fact is beyond these: a thirst, or a factor on a weight, that
// is twenty times what was expected, and a covariance as large.
const (
	farX = 3
	farP = 9
)

// wrong says what cannot have been learnt, or "".
func (l *Learnt) wrong() string {
	for _, x := range l.X {
		if math.Abs(x) > farX {
			return fmt.Sprintf("x: %v is no logarithm of a thirst or a factor", x)
		}
	}
	switch {
	case l.Tanks < 1:
		return "tanks: nothing is learnt from no tank"
	case !(l.DoF >= 1 && l.DoF <= largest):
		return fmt.Sprintf("dof: %v are no degrees of freedom", l.DoF)
	case !(l.SSQ > 0 && l.SSQ/l.DoF < 1):
		return fmt.Sprintf("ssq: %v is no sum of squares", l.SSQ)
	case !l.covarianceHolds():
		return "P: this is the covariance of nothing"
	}
	return ""
}

// covarianceHolds tells whether P is one: no variance below 0, none too large, and no
// covariance over what its two variances allow.
func (l *Learnt) covarianceHolds() bool {
	const hair = 1e-9
	p := l.Covariance()
	for i := range p {
		for j := range i + 1 {
			if !(p[i][i] >= 0 && p[i][i] <= farP && p[i][j]*p[i][j] <= p[i][i]*p[j][j]*(1+hair)+hair*hair) {
				return false
			}
		}
	}
	return true
}

// Covariance gives P as a whole.
func (l *Learnt) Covariance() (p [WeightCount][WeightCount]float64) {
	k := 0
	for i := range p {
		for j := i; j < WeightCount; j++ {
			p[i][j], p[j][i] = l.P[k], l.P[k]
			k++
		}
	}
	return p
}

// SetCovariance sets P.
func (l *Learnt) SetCovariance(p [WeightCount][WeightCount]float64) {
	k := 0
	for i := range p {
		k += copy(l.P[k:], p[i][i:])
	}
}

func learntText[T any](parse func(string) (T, error), field func(*Learnt) *T) func(*Learnt, any) error {
	return func(l *Learnt, v any) (err error) {
		s, ok := v.(string)
		if !ok {
			return input.BadValue(fmt.Sprint(v), "is not a text in quotes", "")
		}
		*field(l), err = parse(s)
		return err
	}
}

func learntDay(field func(*Learnt) *time.Time) func(*Learnt, any) error {
	return learntText(func(s string) (time.Time, error) {
		d, err := time.Parse(time.DateOnly, s)
		if err != nil {
			return d, input.BadValue(s, "is not a day", "")
		}
		return d, nil
	}, field)
}

func learntNumber(field func(*Learnt) *float64) func(*Learnt, any) error {
	return func(l *Learnt, v any) (err error) {
		*field(l), err = tomlNumber(v)
		return err
	}
}

func readCount(n *int, v any) error {
	i, ok := v.(int64)
	if !ok || i < 0 || i > largest {
		return input.BadValue(fmt.Sprint(v), "is not a count", "write a whole number without quotes, like 3")
	}
	*n = int(i)
	return nil
}

func readNumbers(into []float64, v any) error {
	list, ok := v.([]any)
	if !ok || len(list) != len(into) {
		return fmt.Errorf("these are not %d numbers", len(into))
	}
	for i, x := range list {
		var err error
		if into[i], err = tomlNumber(x); err != nil {
			return err
		}
	}
	return nil
}

func readLearntWeights(l *Learnt, v any) error {
	list, ok := v.([]any)
	if !ok || len(list) != WeightCount {
		return fmt.Errorf("these are not the weights of %d grounds", WeightCount)
	}
	for i, x := range list {
		var w [3]float64
		if err := readNumbers(w[:], x); err != nil {
			return err
		}
		var err error
		if l.Weights[i], err = weightOf(x, Weight{w[0], w[1], w[2]}); err != nil {
			return err
		}
	}
	return nil
}

func readLast(l *Learnt, v any) error {
	table, ok := v.(map[string]any)
	if !ok {
		return input.BadValue(fmt.Sprint(v), "is not a table", "")
	}
	if err := unknownKey("last", table, lastKeys); err != nil {
		return err
	}
	date, ok := table["date"].(string)
	if !ok {
		return fmt.Errorf("no date")
	}
	if err := learntDay(func(l *Learnt) *time.Time { return &l.Last.Date })(l, date); err != nil {
		return err
	}
	var km, litres float64 // 0 where they were not known
	for _, of := range []struct {
		key  string
		into *float64
	}{{"km", &km}, {"litres", &litres}} {
		v, there := table[of.key]
		if !there {
			continue
		}
		x, err := tomlNumber(v)
		if err != nil || !(x > 0 && x <= largest) {
			return input.BadValue(fmt.Sprint(v), "is not what a fill has", "")
		}
		*of.into = x
	}
	l.Last.Distance, l.Last.Litres = route.Kilometres(km), Litres(litres)
	return nil
}

// learntTable finds the table in the text of a bike file, with the remarks over it.
var learntTable = regexp.MustCompile(`(?m)(?:^#[^\n]*\n)*^[ \t]*\[[ \t]*learnt[ \t]*\][^\n]*\n?`)

// nextTable finds where another table begins.
var nextTable = regexp.MustCompile(`(?m)^[ \t]*\[{1,2}[ \t]*[A-Za-z_"']`)

// WithLearnt gives the text of a bike file with what was learnt in it, in place of what
// was learnt before; all else stays as it is. The remark stands over it. That the text can
// be read is for the caller to see: a table written in another form is not found.
func WithLearnt(text, remark string, l Learnt) string {
	if at := learntTable.FindStringIndex(text); at != nil {
		end := len(text)
		if next := nextTable.FindStringIndex(text[at[1]:]); next != nil {
			end = at[1] + next[0]
		}
		text = text[:at[0]] + text[end:]
	}
	text = strings.TrimRight(text, "\r\n") + "\n\n"
	return text + "# " + remark + "\n" + l.table()
}

// table writes the table learnt.
func (l Learnt) table() string {
	var b strings.Builder
	line := func(key, value string) { b.WriteString(key + " = " + value + "\n") }
	quoted := func(s string) string { return `"` + s + `"` }
	day := func(t time.Time) string { return quoted(t.Format(time.DateOnly)) }
	ethanol := func(e Ethanol) string { return quoted("E" + strconv.Itoa(int(math.Round(float64(e)*100)))) }
	b.WriteString("[learnt]\n")
	line("until", day(l.Until))
	line("tanks", strconv.Itoa(l.Tanks))
	last := "{ date = " + day(l.Last.Date)
	if l.Last.Distance > 0 {
		last += ", km = " + decimal(l.Last.Distance.Kilometres())
	}
	if l.Last.Litres > 0 {
		last += ", litres = " + decimal(float64(l.Last.Litres))
	}
	line("last", last+" }")
	line("consumption", quoted(decimal(float64(l.Consumption))+" L/100km"))
	line("odometer", decimal(l.Odometer))
	line("loaded_mass", quoted(decimal(float64(l.LoadedMass))+" kg"))
	line("measured_on", ethanol(l.MeasuredOn))
	line("ridden_on", ethanol(l.RiddenOn))
	b.WriteString("weights = [\n")
	for i, w := range l.Weights {
		b.WriteString("  [" + decimals([]float64{w.Low, w.Likely, w.High}) + "], # " + string(WeighedGrounds()[i]) + "\n")
	}
	b.WriteString("]\n")
	line("x", "["+decimals(l.X[:])+"]")
	b.WriteString("P = [\n")
	for k, row := 0, WeightCount; row > 0; k, row = k+row, row-1 {
		b.WriteString("  " + decimals(l.P[k:k+row]) + ",\n")
	}
	b.WriteString("]\n")
	line("ssq", decimal(l.SSQ))
	line("dof", decimal(l.DoF))
	return b.String()
}

// decimal writes a number so that TOML reads the same one.
func decimal(x float64) string {
	if x == 0 {
		x = 0 // no minus before a nought
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

func decimals(xs []float64) string {
	out := make([]string, len(xs))
	for i, x := range xs {
		out[i] = decimal(x)
	}
	return strings.Join(out, ", ")
}
