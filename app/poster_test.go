package app

import (
	"sync"
	"testing"
)

// TestNothingGoesThroughAShutGate, however many are at it when it is shut: a closed queue would panic.
func TestNothingGoesThroughAShutGate(t *testing.T) {
	for range 200 {
		var g gate
		queue := make(chan int, 1000)
		var posters sync.WaitGroup
		begun := make(chan struct{})
		for range 8 {
			posters.Go(func() {
				<-begun
				for i := range 100 {
					g.pass(func() { queue <- i })
				}
			})
		}
		close(begun)
		g.close()
		close(queue)
		posters.Wait()
		g.pass(func() { t.Error("a function went through") })
	}
}
