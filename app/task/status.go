package task

// A State is how far a task has come with what is wanted of it.
type State int

// The states.
const (
	Idle    State = iota // nothing is wanted
	Working              // it is being worked out
	Done                 // it was worked out, and taken
	Failed               // it can't be worked out
	Off                  // it was called off by hand
)

// A Status is how far a task has come, as a plain value that the task keeps up to date.
type Status[Key comparable] struct {
	Key Key // of what is wanted
	State
	Told  bool    // the worker has said how far it is
	Step  string  // what it is at, "" for the usual
	Share float64 // done, from 0 to 1; less than 0 where that is not known
	Fault string  // why it failed
}

// Of is how far the task has come with what goes by a key.
func (s Status[Key]) Of(key Key) State {
	if key != s.Key {
		return Idle
	}
	return s.State
}

// GivenUp reports whether what goes by a key will not come by itself: it failed, or it was called off.
func (s Status[Key]) GivenUp(key Key) bool {
	is := s.Of(key)
	return is == Failed || is == Off
}
