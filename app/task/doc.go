// Package task keeps things worked out as they are wanted. What is wanted has a key, which holds all that it depends on; an
// answer counts only while its key is still the one that is wanted, so that the order in which answers come changes nothing.
// What was called off by hand stays off, and says so, until it is asked for again.
package task
