package export

import (
	"errors"

	"golang.org/x/sys/unix"
)

// exchange swaps two folders in one step; it is errors.ErrUnsupported where the disk or the system can't.
func exchange(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.ENOTSUP) {
		return errors.ErrUnsupported
	}
	return err
}
