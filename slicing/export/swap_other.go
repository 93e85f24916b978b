//go:build !linux

package export

import "errors"

// exchange is for systems that can swap two folders in one step.
func exchange(a, b string) error { return errors.ErrUnsupported }

// alive takes every process for running, so that nothing of another one is cleared.
func alive(pid int) bool { return true }
