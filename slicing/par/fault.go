package par

import (
	"fmt"
	"runtime/debug"
)

// A Fault is what a goroutine panicked with, and where it was. It is handed on to the goroutine that waits, which panics with it in
// turn: a panic that nobody waits for would end the program, and the maker's work with it.
type Fault struct {
	Value any
	Stack []byte
}

// Error is what was panicked with; where is in Stack.
func (f *Fault) Error() string { return fmt.Sprint(f.Value) }

// Format writes what was panicked with, and with %+v where that was.
func (f *Fault) Format(to fmt.State, verb rune) {
	fmt.Fprint(to, f.Value)
	if verb == 'v' && to.Flag('+') {
		fmt.Fprintf(to, "\n%s", f.Stack)
	}
}

// Try runs do and gives what it panicked with, nil where it did not.
func Try(do func()) (fault *Fault) {
	defer func() { fault = caught(recover()) }()
	do()
	return nil
}

// caught makes a fault of what recover gave, nil of nil. One that comes from a loop within a loop stays as it is.
func caught(value any) *Fault {
	if value == nil {
		return nil
	}
	if f, ok := value.(*Fault); ok {
		return f
	}
	return &Fault{value, debug.Stack()}
}

// Begin runs work on a goroutine of its own. wait, which has to be called just once, gives its result, and panics with a Fault where
// work panicked.
func Begin[T any](work func() T) (wait func() T) {
	var out T
	done := make(chan *Fault, 1)
	go func() { done <- Try(func() { out = work() }) }()
	return func() T {
		if f := <-done; f != nil {
			panic(f)
		}
		return out
	}
}
