package files

import (
	"context"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"

	"grainstack/render/still"
	"grainstack/slicing/disk"
	"grainstack/slicing/export"
	"grainstack/slicing/phrase"
)

// SaveStill draws a still and writes it as PNG, wholly or not at all. progress may be nil; it is told the share done.
func SaveStill(ctx context.Context, s still.Scene, path string, progress func(done float64)) error {
	img, err := still.Draw(ctx, s, still.Usual(s.View.Size), progress)
	if err != nil {
		return err
	}
	return disk.Write(path, func(w io.Writer) error { return png.Encode(w, img) })
}

// SaveTurntable draws a turntable and writes it wholly or not at all: as one film where path ends in .gif, that runs round in
// so many seconds, else as a folder of numbered PNG pictures. progress may be nil; it is told the share done.
func SaveTurntable(ctx context.Context, s still.Scene, path string, frames int, seconds float64, progress func(done float64)) error {
	t, err := still.NewTurntable(s, frames)
	if err != nil {
		return err
	}
	if IsFilm(path) {
		return disk.Write(path, func(w io.Writer) error { return still.Film(ctx, w, t, seconds, progress) })
	}
	return saveSeries(ctx, t, path, progress)
}

// IsFilm reports whether a turntable's path is that of a film, and not of a folder for its pictures.
func IsFilm(path string) bool { return strings.EqualFold(filepath.Ext(path), ".gif") }

const seriesName = "turn-%03d.png"

// saveSeries writes the pictures into a folder of their own.
func saveSeries(ctx context.Context, t *still.Turntable, dir string, progress func(done float64)) error {
	if err := onlySeries(dir); err != nil {
		return err
	}
	out := make([]export.File, t.Frames())
	for i := range out {
		out[i] = export.File{Name: fmt.Sprintf(seriesName, i), Write: func(w io.Writer) error {
			img, err := t.Frame(ctx, i)
			if err != nil {
				return err
			}
			return png.Encode(w, img)
		}}
	}
	_, err := export.WriteFolder(ctx, dir, out, nil, func(done float64, _ string) {
		if progress != nil {
			progress(done)
		}
	})
	return err
}

// onlySeries refuses a folder that holds anything but an older series: writing one takes the place of what was written there
// before.
func onlySeries(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil // not there yet, or WriteFolder says what is wrong
	}
	for _, e := range entries {
		var n int
		if _, err := fmt.Sscanf(e.Name(), seriesName, &n); err != nil && e.Name() != "contents.txt" {
			return fmt.Errorf("%s holds other files, such as %s: choose a new folder for the pictures", phrase.Name(dir), phrase.Name(e.Name()))
		}
	}
	return nil
}
