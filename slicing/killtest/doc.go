// Package killtest shows that what is written survives a kill. It starts a process that writes again and again, kills it at
// points spread over the whole write, and has the test look at what is left each time. The process reports its steps and
// waits at each for leave to go on, so that a kill falls into the step that it is meant for however slow or busy the machine
// is. For tests only.
package killtest
