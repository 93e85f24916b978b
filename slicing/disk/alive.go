//go:build !windows

package disk

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// Alive reports whether there is a process of that number: what it left on the disk is then its own.
func Alive(process int) bool {
	p, err := os.FindProcess(process)
	if err != nil {
		return false
	}
	defer p.Release()
	err = p.Signal(syscall.Signal(0))
	return err == nil || errors.Is(err, fs.ErrPermission) // somebody else's
}
