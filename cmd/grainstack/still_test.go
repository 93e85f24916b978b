package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/solidtest"
)

func TestTurntable(t *testing.T) {
	ball, dir := write(t, "ball.stl", solidtest.Sphere(60, 2000)), t.TempDir()
	for _, to := range []string{"x.gif", "series"} {
		var out bytes.Buffer
		args := []string{"picture", ball, "-view", "turntable", "-out", filepath.Join(dir, to), "-size", "40x30", "-frames", "3", "-seconds", "2"}
		if err := run(context.Background(), args, &out); err != nil || !strings.Contains(out.String(), "3 pictures of 40 x 30") {
			t.Errorf("%s: %v, %q", to, err, out.String())
		}
		if _, err := os.Stat(filepath.Join(dir, to)); err != nil {
			t.Error(err)
		}
	}
}

func TestStillFlagsThatCantBe(t *testing.T) {
	for _, words := range []string{
		"-view still", "-view still -o x.png -size 9000x10", "-view still -o x.png -light moon", "-view finished -o x.png -ground lawn",
		"-view turntable -o x.gif -frames 0", "-view turntable -o x.gif -seconds 0", "-view still -o x.png -cut-away", "-view photograph -o x.png",
	} {
		err := run(context.Background(), append([]string{"picture", "piece.stl"}, strings.Fields(words)...), &bytes.Buffer{})
		var usage *usageError
		if !errors.As(err, &usage) {
			t.Errorf("%s: %v", words, err)
		}
	}
}
