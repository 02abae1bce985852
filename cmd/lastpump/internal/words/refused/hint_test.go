package refused_test

import (
	"errors"
	"testing"

	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/survey"
	"lastpump/route/input"
	"lastpump/route/osmfile"
)

func TestSurveyHints(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{&input.Error{Hint: "fetch it again", Cause: osmfile.ErrNoExtract},
			"--map takes an extract of OpenStreetMap: .osm.pbf, .osm, .osm.gz or .osm.bz2; fetch it again"},
		{&input.Error{Hint: "two extracts are two files", Cause: survey.ErrTwice},
			"two extracts are two files, with a --map each"},
		{&input.Error{Hint: "fetch it again"}, "fetch it again"},
		{errors.New("something else"), ""},
	} {
		if got := refused.Hint(c.err, units.Metric); got != c.want {
			t.Errorf("%v: %q, want %q", c.err, got, c.want)
		}
	}
}
