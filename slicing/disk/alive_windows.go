package disk

import (
	"errors"

	"golang.org/x/sys/windows"
)

// Alive reports whether there is a process of that number: what it left on the disk is then its own. One that has ended can
// still be opened while others hold on to it, so it is asked whether it has.
func Alive(process int) bool {
	h, err := windows.OpenProcess(windows.SYNCHRONIZE, false, uint32(process))
	if err != nil {
		return errors.Is(err, windows.ERROR_ACCESS_DENIED) // somebody else's
	}
	defer windows.CloseHandle(h)
	event, err := windows.WaitForSingleObject(h, 0)
	return err == nil && event == uint32(windows.WAIT_TIMEOUT)
}
