package disk

import (
	"errors"
	"os"
	"time"

	"golang.org/x/sys/windows"
)

// A file or folder that a program looks at for a moment, such as one that looks for viruses, can't be renamed meanwhile.
const (
	renameTries = 20
	renameRest  = 100 * time.Millisecond
)

// Rename gives a file or a folder another name, in place of a file that has it. It tries again for two seconds where another
// program has it open, and says which where that can be known.
func Rename(from, to string) error {
	var err error
	for range renameTries {
		if err = os.Rename(from, to); !errors.Is(err, windows.ERROR_SHARING_VIOLATION) && !errors.Is(err, windows.ERROR_ACCESS_DENIED) {
			return err
		}
		time.Sleep(renameRest)
	}
	return withHolders(err, from)
}
