package killtest

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// lines is how many lines a round writes, each with its number.
const lines = 40

// TestCareless is a process that writes over what is there, TestCareful one that renames what it has written.
func TestCareless(t *testing.T) {
	w := Written(t)
	w.Rounds(func(round int, step func()) error { return write(w.Path, round, step) })
}

func TestCareful(t *testing.T) {
	w := Written(t)
	w.Rounds(func(round int, step func()) error {
		if err := write(w.Path+".new", round, step); err != nil {
			return err
		}
		return os.Rename(w.Path+".new", w.Path)
	})
}

func TestFailing(t *testing.T) {
	Written(t).Rounds(func(int, func()) error { return fmt.Errorf("no room") })
}

func write(path string, round int, step func()) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	for range lines {
		step()
		if _, err := fmt.Fprintf(f, "%d\n", round); err != nil {
			return err
		}
	}
	return f.Close()
}

// TestRun: what writes over the old is found out, as is a process that ends by itself, or a round that went missing. What
// renames is not.
func TestRun(t *testing.T) {
	for _, tt := range []struct{ child, fault string }{
		{"TestCareful", ""}, {"TestCareless", "a part"}, {"TestFailing", "no room"},
	} {
		path := filepath.Join(t.TempDir(), "file")
		seen := map[int]bool{}
		err := Killing{Child: tt.child, Path: path, Kills: 30, Look: func(_, _ int) (int, error) {
			left, err := roundIn(path)
			seen[left] = true
			return left, err
		}}.run()
		if tt.fault == "" && (err != nil || len(seen) < 10) || tt.fault != "" && (err == nil || !strings.Contains(err.Error(), tt.fault)) {
			t.Errorf("%s: %v, %d rounds seen", tt.child, err, len(seen))
		}
	}
	older := func(old, _ int) (int, error) { return max(0, old-1), nil }
	err := Killing{Child: "TestCareful", Path: filepath.Join(t.TempDir(), "file"), Kills: 10, Look: older}.run()
	if err == nil || !strings.Contains(err.Error(), "should be") {
		t.Errorf("an older round: %v", err)
	}
}

// roundIn is the round that a file is wholly of.
func roundIn(path string) (int, error) {
	text, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return Nothing, nil
	}
	round := Nothing
	if _, err := fmt.Sscan(string(text), &round); err != nil {
		return Nothing, fmt.Errorf("a part of it: %w", err)
	}
	if !bytes.Equal(text, bytes.Repeat(fmt.Appendf(nil, "%d\n", round), lines)) {
		return round, fmt.Errorf("a part of it is there, %d bytes", len(text))
	}
	return round, nil
}
