package mapped

import (
	"testing"

	"lastpump/fuel/survey"
	"lastpump/route/osmfile"
)

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		refused survey.Refused
		want    string
	}{
		{survey.Refused{Why: survey.Past, Tag: "disused"}, "disused"},
		{survey.Refused{Why: survey.NoAccess, Tag: "access=no"}, "access=no"},
		{survey.Refused{Why: survey.NoMotorcycles}, "closed to motorcycles"},
		{survey.Refused{Why: survey.WithinRefused, Within: osmfile.Ref{Kind: osmfile.IsWay, ID: 7}},
			"within way 7, which is left out"},
	} {
		if got := refusal(c.refused); got != c.want {
			t.Errorf("%v: %q, want %q", c.refused, got, c.want)
		}
	}
}

// What is not all of it is never said to be.
func TestPercent(t *testing.T) {
	if a, b := percent(99_999, 100_000), percent(100_000, 100_000); a != "99.9 %" || b != "100.0 %" {
		t.Errorf("%s, %s", a, b)
	}
}
