// Package par splits long loops over the processor's cores, in spans, so that results do not depend on how many there are.
package par

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Spans calls do for consecutive spans [from, to) that cover [0, n), each at most size long, from as many goroutines as
// there are cores. The spans are the same on every machine; which goroutine takes which is not. It looks at ctx before
// each span and returns its error once called off; do never runs after Spans has returned. Where do panics, no more spans are
// begun, and Spans panics with the Fault on the goroutine that called it.
func Spans(ctx context.Context, n, size int, do func(from, to int)) error {
	return Workers(ctx, n, size, func(_, from, to int) { do(from, to) })
}

// Workers is Spans for loops that keep scratch memory: worker is in [0, Count()), and no two calls with the same worker
// run at once.
func Workers(ctx context.Context, n, size int, do func(worker, from, to int)) error {
	if size < 1 {
		size = 1
	}
	spans := (n + size - 1) / size
	workers := min(Count(), spans, allowed(ctx))
	if workers <= 1 {
		for from := 0; from < n; from += size {
			if err := ctx.Err(); err != nil {
				return err
			}
			do(0, from, min(from+size, n))
		}
		return ctx.Err()
	}
	var next atomic.Int64
	var fault atomic.Pointer[Fault]
	var all sync.WaitGroup
	for w := range workers {
		all.Go(func() {
			f := Try(func() {
				for ctx.Err() == nil {
					i := int(next.Add(1)) - 1
					if i >= spans {
						return
					}
					do(w, i*size, min((i+1)*size, n))
				}
			})
			if f != nil {
				fault.CompareAndSwap(nil, f)
				next.Store(int64(spans))
			}
		})
	}
	all.Wait()
	if f := fault.Load(); f != nil {
		panic(f)
	}
	return ctx.Err()
}

type allowedKey struct{}

// Only is ctx for loops that are to use no more than n goroutines each, n at least 1: for work that runs beside other work.
func Only(ctx context.Context, n int) context.Context {
	return context.WithValue(ctx, allowedKey{}, max(n, 1))
}

func allowed(ctx context.Context) int {
	if n, ok := ctx.Value(allowedKey{}).(int); ok {
		return n
	}
	return Count()
}

// Count is how many goroutines Spans and Workers use at the most.
func Count() int { return runtime.GOMAXPROCS(0) }
