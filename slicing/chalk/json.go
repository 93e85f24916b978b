package chalk

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"grainstack/slicing/geom"
)

// A saved stroke has its figures in strings: a list of numbers would take a line for each in a job file.
type saved struct {
	Kind   string  `json:"kind"`
	Radius float64 `json:"radius"`
	Sight  string  `json:"sight"` // in steps of sightStep
	Path   string  `json:"path"`  // in steps of the radius: the first place, then each from the one before
}

type savedMarks struct {
	Strokes []saved `json:"strokes"`
}

// MarshalJSON writes the strokes.
func (m *Marks) MarshalJSON() ([]byte, error) {
	out := savedMarks{Strokes: make([]saved, len(m.strokes))}
	for i, s := range m.strokes {
		k := step(s.Radius)
		var path []byte
		last := geom.Vec{}
		for _, p := range s.Path {
			path = triple(path, p.Sub(last), k)
			last = p
		}
		out.Strokes[i] = saved{s.Kind.String(), s.Radius, string(triple(nil, s.Sight, sightStep)), string(path)}
	}
	return json.Marshal(out)
}

// triple writes a vector in steps.
func triple(to []byte, v geom.Vec, step float64) []byte {
	for _, c := range [3]float64{v.X, v.Y, v.Z} {
		if len(to) > 0 {
			to = append(to, ' ')
		}
		to = strconv.AppendInt(to, int64(math.Round(c/step)), 10)
	}
	return to
}

// UnmarshalJSON reads strokes. It refuses what With would refuse and never takes more memory than the text warrants.
func (m *Marks) UnmarshalJSON(text []byte) error {
	var in savedMarks
	if err := json.Unmarshal(text, &in); err != nil {
		return err
	}
	if len(in.Strokes) > mostStrokes {
		return fmt.Errorf("the piece's marks are of %d strokes: no job of ours has more than %d", len(in.Strokes), mostStrokes)
	}
	var read Marks
	for i, s := range in.Strokes {
		made, err := s.stroke(mostPoints - read.points)
		if err != nil {
			return fmt.Errorf("stroke %d of the piece's marks can't be read: %w", i+1, err)
		}
		read.strokes, read.points = append(read.strokes, made), read.points+len(made.Path)
	}
	*m = read
	return nil
}

var (
	errFigures = errors.New("its figures are no whole numbers, three for each place")
	errMany    = fmt.Errorf("with it there are more than %d places", mostPoints)
)

// stroke reads one stroke of at most so many places.
func (s saved) stroke(most int) (*stroke, error) {
	kind := slices.Index(kindNames[:], s.Kind)
	if kind < 0 {
		return nil, fmt.Errorf("there is no mark %q", s.Kind)
	}
	if !(s.Radius > 1e-9) || s.Radius > 1e9 {
		return nil, fmt.Errorf("a brush of radius %g marks nothing", s.Radius)
	}
	sight, err := triples(s.Sight, 1)
	if err != nil || len(sight) != 1 {
		return nil, errFigures
	}
	path, err := triples(s.Path, most)
	if err != nil {
		return nil, err
	}
	k := step(s.Radius)
	var at geom.Vec
	for i, d := range path {
		at = at.Add(d)
		path[i] = at.Scale(k)
	}
	return newStroke(Stroke{Kind: Kind(kind), Radius: s.Radius, Sight: sight[0].Scale(sightStep), Path: path})
}

// triples reads at most so many vectors.
func triples(text string, most int) ([]geom.Vec, error) {
	var out []geom.Vec
	var part [3]float64
	n := 0
	for word := range strings.FieldsSeq(text) {
		v, err := strconv.ParseInt(word, 10, 64)
		if err != nil || v > farthest || v < -farthest {
			return nil, errFigures
		}
		part[n%3] = float64(v)
		if n++; n%3 == 0 {
			if len(out) == most {
				return nil, errMany
			}
			out = append(out, geom.Vec{X: part[0], Y: part[1], Z: part[2]})
		}
	}
	if n%3 != 0 {
		return nil, errFigures
	}
	return out, nil
}
