// Package disk opens files that come from outside and writes files wholly or not at all. What is read and what is written over
// are regular files: a pipe or a device is refused before it is opened. Its errors are sentences for the maker; what the system
// said can be asked of them by errors.Is.
package disk
