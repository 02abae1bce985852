//go:build !unix

package kit

import "time"

var begun = time.Now()

// Processor is the time since the program began where the system is not asked for that of the
// processor.
func Processor() time.Duration { return time.Since(begun) }
