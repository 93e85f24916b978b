//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"grainstack/slicing/solidtest"
)

// TestInputsStay: what a command works from is not written over, whatever name leads to it, nor is a pipe.
func TestInputsStay(t *testing.T) {
	piece := write(t, "ball.stl", solidtest.Sphere(40, 500))
	dir := filepath.Dir(piece)
	before, err := os.ReadFile(piece)
	if err != nil {
		t.Fatal(err)
	}
	link, pipe := filepath.Join(dir, "contents.txt"), filepath.Join(dir, "pipe")
	if err := errors.Join(os.Link(piece, link), syscall.Mkfifo(pipe, 0o600)); err != nil {
		t.Skip(err)
	}
	for want, args := range map[string][]string{
		"worked from": {"picture", piece, "-o", piece}, "choose another name": {"picture", piece, "-o", link},
		"a pipe": {"picture", piece, "-o", pipe}, "is a pipe": {"report", pipe}, "pipe: choose": {"report", piece, "-minutes", pipe},
		"pipe is a pipe": {"report", piece, "-stock", pipe}, "a pipe: choose": {"sample", "-o", pipe},
		"is a pipe: choose": {"picture", piece, "-o", filepath.Join(dir, "x.png"), "-photo", pipe, "-photo-at", "1,1 2,2 3,3"},
		"a folder":          {"report", dir},
	} {
		if err := run(context.Background(), args, io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v", args, err)
		}
	}
	if after, err := os.ReadFile(piece); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the piece is another: %v", err)
	}
}
