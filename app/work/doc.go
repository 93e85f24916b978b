// Package work is what is worked out in the background for the bench: for each task what it wants of the bench, with the key
// that it goes by, and the worker, which sees its request and nothing else.
package work
