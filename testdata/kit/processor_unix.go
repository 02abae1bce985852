//go:build unix

package kit

import (
	"syscall"
	"time"
)

// Processor is how much processor time this program has used, on all cores: what a busy machine
// does not change much.
func Processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
