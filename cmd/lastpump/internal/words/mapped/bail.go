package mapped

import (
	"fmt"

	"lastpump/fuel/bailout"
	"lastpump/fuel/survey/outward"
)

// HelpHead is what stands over the table of help.
func (w Voice) HelpHead() string {
	return fmt.Sprintf("BAIL-OUTS: help by road, from %s of the line, one every %s",
		counted(len(bailout.Along(w.found.Line)), "place"), w.km(bailout.Apart))
}

// HelpColumns head its table.
var HelpColumns = []string{"nearest", "known from", "farthest", "from", "to"}

// Help tells of each kind from how many places one is known, and which of these is the farthest.
func (w Voice) Help(ways []bailout.Way) (rows [][]string) {
	for _, k := range bailout.Kinds() {
		n, far := 0, bailout.Way{}
		for _, h := range ways {
			if h.Kind != k {
				continue
			}
			if n++; h.Length >= far.Length {
				far = h
			}
		}
		if n == 0 {
			rows = append(rows, []string{string(k), "0", "", "", ""})
			continue
		}
		if k == bailout.Road && far.To == far.What {
			far.To += " road"
		}
		rows = append(rows, []string{string(k), fmt.Sprint(n), w.km(far.Length), w.at(far.At), far.To})
	}
	return rows
}

// HelpWritten says where it is written, and what is not known.
func (w Voice) HelpWritten(file string) string {
	return fmt.Sprintf("%s has the nearest that is known, up to %s by road, shelter and water up to %s. What lies farther off the line than %s was not looked at, and what "+
		"is not on the map is not known. Whether a clinic is open or a well has water no map tells.", file, w.km(outward.HelpWithin), w.km(w.found.Options.WaysOut),
		w.km(w.found.Options.WaysOut))
}
