package disk

import "golang.org/x/sys/windows"

// What this system says where something can't be written.
var (
	saysFull     = []error{windows.ERROR_DISK_FULL, windows.ERROR_HANDLE_DISK_FULL, windows.ERROR_NOT_ENOUGH_QUOTA}
	saysReadOnly = []error{windows.ERROR_WRITE_PROTECT}
	saysTooLong  = []error{windows.ERROR_FILENAME_EXCED_RANGE, windows.ERROR_INVALID_NAME}
	saysInUse    = []error{windows.ERROR_SHARING_VIOLATION, windows.ERROR_LOCK_VIOLATION}
)
