// Package stoptest shows that work ends soon once it is called off. It counts processor time, which other programs on the
// machine do not add to, and sets it against that of the whole work, so that a slow or busy machine proves as much as a quick
// one. For tests only.
package stoptest
