//go:build !windows

package disk

import (
	"path/filepath"

	"github.com/google/renameio/v2"
)

// begin begins a file beside the one that it shall take the place of, so that it never lies on another disk.
func begin(path string) (*renameio.PendingFile, error) {
	return renameio.NewPendingFile(path, renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(permissions), renameio.WithExistingPermissions())
}
