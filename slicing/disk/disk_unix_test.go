//go:build unix

package disk_test

import (
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"grainstack/slicing/disk"
)

// TestNoRegularFile: pipes, sockets and devices are refused, without waiting for a pipe's other end, and are there afterwards.
func TestNoRegularFile(t *testing.T) {
	dir, err := os.MkdirTemp("", "d") // a socket's path must be short
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	pipe, socket, link := filepath.Join(dir, "pipe"), filepath.Join(dir, "socket"), filepath.Join(dir, "link")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Skip(err)
	}
	defer l.Close()
	if err := os.Symlink(pipe, link); err != nil {
		t.Fatal(err)
	}
	for path, kind := range map[string]string{pipe: "is a pipe", link: "is a pipe", socket: "is a socket", os.DevNull: "is a device"} {
		before, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		_, errRead := disk.ReadText(path, 10)
		for doing, err := range map[string]error{"reading": errRead, "writing": disk.WriteFile(path, nil), "asking": disk.Free(path)} {
			if err == nil || !strings.Contains(err.Error(), kind) {
				t.Errorf("%s %s: %v", doing, path, err)
			}
		}
		if after, err := os.Stat(path); err != nil || after.Mode() != before.Mode() {
			t.Errorf("%s is another now: %v", path, err)
		}
	}
}

// TestNewFile has the permissions that the user wants new files to have.
func TestNewFile(t *testing.T) {
	old := syscall.Umask(0o027)
	defer syscall.Umask(old)
	path := filepath.Join(t.TempDir(), "a")
	if err := disk.WriteFile(path, nil); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
}
