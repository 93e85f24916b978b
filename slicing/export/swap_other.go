//go:build !linux && !darwin

package export

import "errors"

// exchange is for systems that can swap two folders in one step.
func exchange(a, b string) error { return errors.ErrUnsupported }
