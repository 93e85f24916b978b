package main

import (
	"context"
	"fmt"
	"io"

	"grainstack/slicing/job"
	"grainstack/slicing/mesh"

	"github.com/google/renameio/v2"
)

// writeSample writes the demo piece as a binary STL.
func writeSample(_ context.Context, args []string, out io.Writer) error {
	set := newFlags("sample")
	to := set.String("o", "", "`FILE` to write")
	words, err := parse(set, args)
	if err != nil {
		return err
	}
	if *to == "" || len(words) > 0 {
		return &usageError{"name one file to write: grainstack sample -o FILE.stl"}
	}
	file, err := renameio.NewPendingFile(*to)
	if err != nil {
		return fmt.Errorf("%s can't be written: %w", *to, err)
	}
	defer file.Cleanup()
	p := job.Demo()
	if err := mesh.WriteSTL(file, p.Mesh); err != nil {
		return fmt.Errorf("%s can't be written: %w", *to, err)
	}
	if err := file.CloseAtomicallyReplace(); err != nil {
		return fmt.Errorf("%s can't be written: %w", *to, err)
	}
	_, err = fmt.Fprintf(out, "%s: %d triangles\n", *to, len(p.Mesh.Triangles))
	return err
}
