package app

import (
	"runtime"
	"syscall"
	"testing"
	"time"
)

// threadTime is the processor time that the calling goroutine's thread has taken; the goroutine is locked to it.
func threadTime() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_THREAD, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkSwing is what the window's goroutine does while the view is turned, with trials in the strip. Frames are drawn on all
// cores meanwhile, so that its own processor time is told beside the time that passes.
func BenchmarkSwing(b *testing.B) {
	r := newRig(b, ring())
	r.run("card 5")
	r.run("keep trial")
	r.settle()
	runtime.LockOSThread()
	begin := threadTime()
	for b.Loop() {
		r.swing(0.01, 0)
		r.drain()
		r.showAll()
	}
	b.ReportMetric(float64(threadTime()-begin)/1e3/float64(b.N), "cpu-µs/op")
}
