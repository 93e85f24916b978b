package scans

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/join"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
	"grainstack/slicing/register"
)

// A Scan is one file's cloud, in its own units.
type Scan struct {
	Name  string
	Cloud *cloud.Cloud
	Raw   mesh.Raw // what else its file says
}

// Open reads a scan: a surface in any format that is read, or a PLY file of points.
func Open(ctx context.Context, path string) (Scan, error) {
	file, err := mesh.OpenScan(path)
	if err != nil {
		return Scan{}, err
	}
	s := Scan{Name: filepath.Base(path), Raw: file.Raw}
	if file.Mesh != nil {
		s.Cloud, err = cloud.OfMesh(ctx, file.Mesh)
	} else {
		s.Cloud, err = cloud.OfPoints(ctx, file.Points.At, whole(file.Points.Normals))
	}
	if err == nil && len(s.Cloud.Points) == 0 {
		err = fmt.Errorf("%s has no surface to be joined: it is one of too few points, or without area", phrase.Name(s.Name))
	}
	return s, err
}

// whole is normals where every point has one, else nil: then all are estimated.
func whole(normals []mesh.Point) []mesh.Point {
	if slices.Contains(normals, (mesh.Point{})) {
		return nil
	}
	return normals
}

// A Match says that a point of one scan and a point of another are the same place, each in its scan's units. Scans are numbered from 0.
type Match struct {
	A, B     int
	AtA, AtB geom.Vec
}

// A Set is scans brought together.
type Set struct {
	Scans []Scan
	At    []geom.Placement // into the frame of the first
	Fits  []register.Fit
	Size  float64 // longest side of all, in the frame of the first
	// Floors are the planes of each scan that nearly all of the rest lies in front of: they had no part in bringing the scans together,
	// but are joined like all the rest unless they are cut away.
	Floors [][]register.Flat
}

// Count is an error, a sentence, where so many scans can't be brought together.
func Count(n int) error {
	switch {
	case n < 2:
		return errors.New("two scans are needed at least to be joined")
	case n > register.Most:
		return fmt.Errorf("%d scans are named, and %d at the most are joined at once: join them in groups first, then what comes of these", n, register.Most)
	}
	return nil
}

// Together brings scans together, those with matching points from there. A scan that fits badly, or nowhere, is an error, a sentence.
func Together(ctx context.Context, all []Scan, matches []Match, report func(step string, done float64)) (*Set, error) {
	if err := Count(len(all)); err != nil {
		return nil, err
	}
	return together(ctx, all, make([]*geom.Placement, len(all)), matches, report)
}

// readied are scans made ready to be brought together.
func readied(ctx context.Context, all []Scan) (out []*register.Scan, err error) {
	for _, s := range all {
		one, err := register.NewScan(ctx, s.Cloud)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

// together is Together with rough placements of some.
func together(ctx context.Context, all []Scan, known []*geom.Placement, matches []Match, report func(step string, done float64)) (*Set, error) {
	starts, err := starting(all, known, matches)
	if err != nil {
		return nil, err
	}
	ready, err := readied(ctx, all)
	if err != nil {
		return nil, err
	}
	r, err := register.Together(ctx, ready, starts, report)
	var apart *register.ApartError
	if errors.As(err, &apart) {
		return nil, nowhere(all, apart)
	}
	if err != nil {
		return nil, err
	}
	set := newSet(all, ready, r)
	for k := range all {
		i := (k + 1) % len(all) // the first scan last: it stays where it is
		if f := r.Fits[i]; !f.Good() {
			return nil, badly(ctx, all, ready, i, f, len(matches) > 0)
		}
	}
	return set, nil
}

// newSet is scans as they were brought together.
func newSet(all []Scan, ready []*register.Scan, r *register.Result) *Set {
	set := &Set{Scans: all, At: r.At, Fits: r.Fits}
	for _, one := range ready {
		set.Floors = append(set.Floors, slices.DeleteFunc(slices.Clone(one.Flats), func(f register.Flat) bool { return !f.Floor }))
	}
	box := geom.EmptyBox()
	for _, c := range set.placed() {
		b := c.Box()
		box = box.Add(b.Min).Add(b.Max)
	}
	size := box.Size()
	set.Size = math.Max(size.X, math.Max(size.Y, size.Z))
	return set
}

// ErrApart is the kind of error of scans that were not found to lie on one another: matching points may help.
var ErrApart = errors.New("scans lie apart")

// An apartError is a sentence about scans that lie apart.
type apartError string

func (e apartError) Error() string        { return string(e) }
func (e apartError) Is(target error) bool { return target == ErrApart }

func apartErr(format string, with ...any) error { return apartError(fmt.Sprintf(format, with...)) }

func nowhere(all []Scan, e *register.ApartError) error {
	var names []string
	for _, i := range e.Scans {
		names = append(names, phrase.Name(all[i].Name))
	}
	who, lies, is := strings.Join(names, ", "), phrase.Plural(len(names), "lies", "lie"), phrase.Plural(len(names), "is the mirror image", "are mirror images")
	if e.Mirrored {
		return apartErr("%s %s of what the other scans show: mirror it in the program that made it, and join again", who, is)
	}
	return apartErr("%s %s nowhere on the other scans. They may be of another piece, or show too little of the same places: cut away what does not belong to the piece, or give three matching points", who, lies)
}

func badly(ctx context.Context, all []Scan, ready []*register.Scan, i int, f register.Fit, picked bool) error {
	why := "cut away what does not belong to the piece, as the floor or a chair, or give three matching points"
	if picked {
		why = "check its matching points, or let its place be found without them"
		if mirrored, err := register.Mirrored(ctx, ready[0], ready[i]); err != nil {
			return err
		} else if i > 0 && mirrored {
			return nowhere(all, &register.ApartError{Scans: []int{i}, Mirrored: true})
		}
	}
	return apartErr("%s fits badly: %.0f %% of it lies on other scans, and of what faces them only %.0f %%: %s", phrase.Name(all[i].Name), 100*f.Overlap, 100*f.Sound, why)
}

// placed are the scans' clouds in the frame of the first.
func (s *Set) placed() []*cloud.Cloud {
	var out []*cloud.Cloud
	for i, one := range s.Scans {
		out = append(out, one.Cloud.Placed(s.At[i]))
	}
	return out
}

// coarsest is the share of the longest side that neighbours on a scan may lie apart: places of coarser ones were found wrong.
const coarsest = 1.0 / 30

// Coarse reports whether a scan's points lie too far apart for its place to be relied on however well it fits.
func (s *Set) Coarse(i int) bool {
	return len(s.Scans) > 1 && s.Scans[i].Cloud.Spacing*s.At[i].Scale > coarsest*s.Size
}

// Notes are sentences on what a maker has to look at before relying on how the scans lie.
func (s *Set) Notes() (out []string) {
	for i, one := range s.Scans {
		name := phrase.Name(one.Name)
		if s.Fits[i].Unsure() {
			out = append(out, fmt.Sprintf("%s would lie elsewhere nearly as well, as the piece looks alike from several sides there: look whether what comes of it is right, and give three matching points if not.", name))
		}
		if s.Coarse(i) {
			out = append(out, fmt.Sprintf("%s is coarse: its points lie %.0f %% of the piece apart in the middle, and a place that is found for so few may be wrong though it fits: look whether what comes of it is right.", name, 100*s.Scans[i].Cloud.Spacing*s.At[i].Scale/s.Size))
		}
		if len(s.Floors[i]) > 0 {
			out = append(out, fmt.Sprintf("%s has a floor: %.0f %% of it is flat, with all the rest in front of it. It is joined as well unless it is cut away.", name, 100*s.Floors[i][0].Share))
		}
	}
	return out
}

// Join makes one closed surface of the scans, in the frame of the first.
func (s *Set) Join(ctx context.Context, settings join.Settings, report func(step string, done float64)) (*join.Result, error) {
	return join.Join(ctx, s.placed(), settings, report)
}
