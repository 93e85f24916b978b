package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"grainstack/slicing/disk"
	"grainstack/slicing/geom"
	"grainstack/slicing/join"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
	"grainstack/slicing/scans"
)

// A joinFlags is what only join asks for.
type joinFlags struct {
	out, points        string
	scale, blend, step decimal
	cuts               cutFlags
}

func bindJoin(set *flag.FlagSet) *joinFlags {
	f := &joinFlags{scale: decimal{1}, blend: decimal{2}}
	set.StringVar(&f.out, "o", "", "`FILE.ply` or FILE.stl to write")
	set.StringVar(&f.points, "points", "", "`FILE` of matching points, a line for each: number of a scan, x y z, number of another, x y z; three for a scan are enough. Without it the places are found")
	set.Var(&f.scale, "scale", "`MM` for one unit of the first scan")
	set.Var(&f.blend, "blend", "`PERCENT` of the piece's longest side over which seams are blended")
	set.Var(&f.step, "step", "`MM` from one point of the joined surface to the next (two thirds of the scans' spacing where nothing is said)")
	set.Func("box", "`\"N: X,Y,Z X,Y,Z\"` uses of scan N only what lies in a box, in its own units; may be given several times", ofScan(f.cuts.box))
	set.Func("plane", "`\"N: X,Y,Z D\"` uses of scan N only what lies D along X,Y,Z or farther, in its own units; may be given several times", ofScan(f.cuts.plane))
	return f
}

// A cut says what of a scan is used.
type cut struct {
	scan int // from 0
	scans.Cut
}

// cutFlags are all cuts of a command line.
type cutFlags []cut

// ofScan cuts the scan that a flag's words name before a colon.
func ofScan(made func(scan int, words string) error) func(string) error {
	return func(text string) error {
		of, words, ok := strings.Cut(text, ":")
		n, err := strconv.Atoi(strings.TrimSpace(of))
		if !ok || err != nil || n < 1 {
			return errors.New("the number of a scan and a colon are wanted first")
		}
		return made(n-1, words)
	}
}

// ofOne cuts the only scan.
func ofOne(made func(scan int, words string) error) func(string) error {
	return func(text string) error { return made(0, text) }
}

func (c *cutFlags) box(scan int, words string) error {
	v, err := numbers(words, 6)
	if err != nil {
		return err
	}
	low, high := geom.Vec{X: v[0], Y: v[1], Z: v[2]}, geom.Vec{X: v[3], Y: v[4], Z: v[5]}
	b := geom.EmptyBox().Add(low).Add(high)
	*c = append(*c, cut{scan, scans.Cut{Box: &b}})
	return nil
}

func (c *cutFlags) plane(scan int, words string) error {
	v, err := numbers(words, 4)
	if err != nil {
		return err
	}
	along := geom.Vec{X: v[0], Y: v[1], Z: v[2]}
	if along.Len() == 0 {
		return errors.New("the plane needs a direction that is not 0,0,0")
	}
	*c = append(*c, cut{scan, scans.Cut{Along: along.Unit(), From: v[3]}})
	return nil
}

// numbers are so many, with commas or spaces between them.
func numbers(words string, count int) (v []float64, err error) {
	all := strings.FieldsFunc(words, func(r rune) bool { return r == ',' || r == ' ' })
	if len(all) != count {
		return nil, fmt.Errorf("%d numbers are wanted", count)
	}
	for _, w := range all {
		var d decimal
		if err := d.Set(w); err != nil {
			return nil, err
		}
		v = append(v, d.v)
	}
	return v, nil
}

// check is about what can be said before anything is read.
func (f *joinFlags) check(files []string) error {
	switch ext := strings.ToLower(filepath.Ext(f.out)); {
	case len(files) < 2:
		return &usageError{fmt.Sprintf("two scans are wanted at least, %d are named: grainstack join A B -o FILE.ply", len(files))}
	case f.out == "":
		return &usageError{"name the file to write with -o FILE.ply"}
	case ext != ".ply" && ext != ".stl":
		return &usageError{"the joined piece is written as .ply or .stl"}
	case !(f.scale.v > 0):
		return &usageError{"the scale has to be more than 0"}
	case !(f.blend.v >= 0 && f.blend.v <= 50):
		return &usageError{"seams are blended over 0 to 50 % of the longest side"}
	case !(f.step.v >= 0):
		return &usageError{"the step has to be more than 0 mm"}
	}
	for _, c := range f.cuts {
		if c.scan >= len(files) {
			return &usageError{fmt.Sprintf("there is no scan %d to be cut: %d are named", c.scan+1, len(files))}
		}
	}
	return disk.Free(f.out, append(files, f.points)...)
}

// joinScans brings scans together and writes the one closed surface that comes of them.
func joinScans(ctx context.Context, args []string, out io.Writer) error {
	set := newFlags("join")
	f := bindJoin(set)
	files, err := parse(set, args)
	if err != nil {
		return err
	}
	if err := f.check(files); err != nil {
		return err
	}
	together, err := f.together(ctx, files)
	if err != nil {
		return err
	}
	for _, note := range together.Notes() {
		tell(note, os.Stderr)
	}
	unit := f.scale.v
	blend := max(f.blend.v, 0.01) / 100 * together.Size
	r, err := together.Join(ctx, join.Settings{Blend: blend, Step: f.step.v / unit}, nil)
	if err != nil {
		return err
	}
	scaled := &mesh.Mesh{Points: make([]mesh.Point, len(r.Mesh.Points)), Triangles: r.Mesh.Triangles}
	for i, p := range r.Mesh.Points {
		for k, v := range p {
			scaled.Points[i][k] = v * float32(unit)
		}
	}
	err = disk.Write(f.out, func(w io.Writer) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		if strings.EqualFold(filepath.Ext(f.out), ".stl") {
			return mesh.WriteSTL(w, scaled)
		}
		return mesh.WritePLY(w, scaled, r.Guessed)
	})
	if err != nil {
		return err
	}
	return printJSON(out, joinedOf(f.out, together, r, unit))
}

// together reads the scans, cuts them and brings them together.
func (f *joinFlags) together(ctx context.Context, files []string) (*scans.Set, error) {
	if err := scans.Count(len(files)); err != nil { // before they are read
		return nil, err
	}
	var matches []scans.Match
	var err error
	if f.points != "" {
		if matches, err = scans.ReadMatches(f.points, len(files)); err != nil {
			return nil, err
		}
	}
	var all []scans.Scan
	for i, path := range files {
		one, err := scans.Open(ctx, path)
		if err != nil {
			return nil, err
		}
		for _, c := range f.cuts {
			if c.scan != i {
				continue
			}
			if one, err = one.Kept(c.Keeps); err != nil {
				return nil, err
			}
		}
		all = append(all, one)
	}
	return scans.Together(ctx, all, matches, nil)
}

// A joinedScan is what is told of one scan.
type joinedScan struct {
	File     string     `json:"file"`
	Points   int        `json:"points"`
	LeftOut  int        `json:"debris_left_out"`
	Overlap  float64    `json:"overlap_percent"`
	Distance float64    `json:"middle_distance_mm"`
	Rival    float64    `json:"other_place_percent"` // how well it would lie elsewhere, by how well it lies here
	Scale    float64    `json:"scale"`
	Turn     [3]float64 `json:"turn_deg"`
	Shift    [3]float64 `json:"shift_mm"`
	Floors   []floor    `json:"floors"`
}

// A floor is a plane that most of a scan lies in front of, and the flag that would cut it away.
type floor struct {
	Share float64 `json:"percent"`
	Cut   string  `json:"cut"`
}

// offFloor is how far above a floor it is cut away, by the scan's longest side: what is scanned of it is not quite flat.
const offFloor = 0.01

// floorsOf are the floors of scan i.
func floorsOf(s *scans.Set, i int) []floor {
	out := []floor{}
	size := s.Size / s.At[i].Scale
	for _, f := range s.Floors[i] {
		n := f.Normal
		out = append(out, floor{100 * f.Share, fmt.Sprintf("-plane \"%d: %.5f,%.5f,%.5f %.5g\"", i+1, n.X, n.Y, n.Z, f.D+offFloor*size)})
	}
	return out
}

// A joinedPiece is what is told of the joined piece.
type joinedPiece struct {
	File      string         `json:"file"`
	Triangles int            `json:"triangles"`
	Step      float64        `json:"step_mm"`
	Area      float64        `json:"area_cm2"`
	Guessed   float64        `json:"guessed_percent"`
	LeftOut   int            `json:"specks_left_out"`
	Places    []guessedPlace `json:"guessed"`
}

// A guessedPlace is where no scan saw the piece and its surface is a guess.
type guessedPlace struct {
	At   [3]float64 `json:"at_mm"`
	Area float64    `json:"area_cm2"`
}

// mostPlaces is how many guessed places are told, the largest first.
const mostPlaces = 20

func joinedOf(path string, s *scans.Set, r *join.Result, unit float64) any {
	var out struct {
		Scans []joinedScan `json:"scans"`
		Piece joinedPiece  `json:"piece"`
	}
	mm := func(v geom.Vec) [3]float64 { return [3]float64{v.X * unit, v.Y * unit, v.Z * unit} }
	for i, one := range s.Scans {
		at := s.At[i]
		x, y, z := at.Turn.Degrees()
		out.Scans = append(out.Scans, joinedScan{phrase.Name(one.Name), len(one.Cloud.Points), one.Cloud.Loose,
			100 * s.Fits[i].Overlap, s.Fits[i].Middle * unit, 100 * s.Fits[i].Rival, at.Scale, [3]float64{x, y, z}, mm(at.Shift), floorsOf(s, i)})
	}
	out.Piece = joinedPiece{phrase.Name(path), len(r.Mesh.Triangles), r.Step * unit, r.Area * unit * unit / 100, 100 * r.UnseenArea() / r.Area, r.Specks, []guessedPlace{}}
	for _, p := range r.Unseen[:min(mostPlaces, len(r.Unseen))] {
		out.Piece.Places = append(out.Piece.Places, guessedPlace{mm(p.At), p.Area * unit * unit / 100})
	}
	return out
}
