//go:build !windows

package disk

import "syscall"

// What this system says where something can't be written.
var (
	saysFull     = []error{syscall.ENOSPC, syscall.EDQUOT}
	saysReadOnly = []error{syscall.EROFS}
	saysTooLong  = []error{syscall.ENAMETOOLONG}
	saysInUse    = []error{syscall.ETXTBSY}
)
