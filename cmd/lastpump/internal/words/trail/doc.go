// Package trail says in English what is read on the ride, on the strip and on the waypoints
// of a GPS, and at home by those who wait: few words, in the order of the ride. Its [Voice]
// says all that [words.Voice] says, too.
package trail

import "lastpump/cmd/lastpump/internal/words"

// A Voice says in few words what a plan holds.
type Voice struct{ words.Voice }

// Of gives the voice of the trail that names and measures as another does.
func Of(v words.Voice) Voice { return Voice{v} }
