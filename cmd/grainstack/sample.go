package main

import (
	"context"
	"fmt"
	"io"

	"grainstack/slicing/disk"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
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
	if err := disk.Free(*to); err != nil { // before the piece is made
		return err
	}
	p := job.Demo()
	if err := disk.Write(*to, func(w io.Writer) error { return mesh.WriteSTL(w, p.Mesh) }); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s: %d triangles\n", phrase.Name(*to), len(p.Mesh.Triangles))
	return err
}
