package input

import (
	"errors"
	"fmt"
)

// MaxFaults is how many faults of one file are listed.
const MaxFaults = 10

// JoinFaults joins errors, the first ten in words and the rest as a number; nil
// if there are none.
func JoinFaults(faults []error) error {
	if n := len(faults) - MaxFaults; n > 0 {
		faults = append(faults[:MaxFaults:MaxFaults], fmt.Errorf("and %d more", n))
	}
	return errors.Join(faults...)
}
