// Package steady keeps a window open when a handler of it panics: what a slip of the program costs is the last click, not the
// maker's work.
package steady
