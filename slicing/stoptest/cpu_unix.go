//go:build unix

package stoptest

import (
	"syscall"
	"time"
)

// CPU is the processor time that this process has taken so far, on all cores together.
func CPU() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		panic(err) // it can't fail for the process itself
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
