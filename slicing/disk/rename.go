//go:build !windows

package disk

import "os"

// Rename gives a file or a folder another name, in place of a file that has it.
func Rename(from, to string) error { return os.Rename(from, to) }
