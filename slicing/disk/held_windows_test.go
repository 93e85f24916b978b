package disk

import (
	"os"
	"path/filepath"
	"testing"
	"unsafe"

	"golang.org/x/sys/windows"
)

// TestFilesIn: all files of a folder and below it are asked about, and no folder; the system's record has the size that its header
// gives it.
func TestFilesIn(t *testing.T) {
	dir := t.TempDir()
	want := []string{filepath.Join(dir, "a"), filepath.Join(dir, "b", "c")}
	if err := os.Mkdir(filepath.Join(dir, "b"), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, name := range want {
		if err := os.WriteFile(name, nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	got := filesIn(dir)
	if len(got) != len(want) {
		t.Fatalf("%d files, want %d", len(got), len(want))
	}
	for i, name := range got {
		if windows.UTF16PtrToString(name) != want[i] {
			t.Errorf("file %d is %s, want %s", i, windows.UTF16PtrToString(name), want[i])
		}
	}
	if size := unsafe.Sizeof(rmProcess{}); size != 668 {
		t.Errorf("the record has %d bytes", size)
	}
}
