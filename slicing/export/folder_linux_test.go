package export

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// TestNoRight: a folder that belongs to somebody else. Root has every right, so there the thread takes another user's.
func TestNoRight(t *testing.T) {
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	if os.Geteuid() == 0 {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		const nobody = 65534
		if err := syscall.Setfsuid(nobody); err != nil {
			t.Skip(err)
		}
		defer syscall.Setfsuid(0)
	}
	_, err := WriteFolder(context.Background(), filepath.Join(dir, "job"), []File{text("a", "x")}, nil, nil)
	if err == nil || !errors.Is(err, os.ErrPermission) || !strings.Contains(err.Error(), "no right") {
		t.Errorf("got %v", err)
	}
}
