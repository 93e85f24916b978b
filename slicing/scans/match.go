package scans

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"grainstack/slicing/disk"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/register"
)

// starting gives the scans that have three matches and more with the first, or with one that has a place, a rough placement; those
// that are known stay.
func starting(all []Scan, known []*geom.Placement, matches []Match) ([]*geom.Placement, error) {
	out := slices.Clone(known)
	first := geom.NoPlacement()
	out[0] = &first
	used := make([]bool, len(matches))
	for {
		i, from, to := next(out, matches, used)
		if i < 0 {
			break
		}
		p, _, err := register.FromPoints(from, to)
		if err != nil {
			return nil, fmt.Errorf("%s can't be put by its matching points: %w", phrase.Name(all[i].Name), err)
		}
		out[i] = &p
	}
	for i, m := range matches {
		if !used[i] {
			return nil, fmt.Errorf("%s and %s have matching points, but neither has any that lead to the first scan", phrase.Name(all[m.A].Name), phrase.Name(all[m.B].Name))
		}
	}
	return out, nil
}

// next is the first scan without a place that has matches with scans that have one, with these: where they are on it, and in the first
// one's frame.
func next(at []*geom.Placement, matches []Match, used []bool) (scan int, from, to []geom.Vec) {
	scan = -1
	for k, m := range matches {
		a, b, onA, onB := m.A, m.B, m.AtA, m.AtB
		if at[a] == nil {
			a, b, onA, onB = b, a, onB, onA
		}
		if at[a] == nil || at[b] != nil || scan >= 0 && b != scan {
			used[k] = used[k] || at[m.A] != nil && at[m.B] != nil
			continue
		}
		scan, used[k] = b, true
		from, to = append(from, onB), append(to, at[a].Apply(onA))
	}
	return scan, from, to
}

// mostText is how long a file of matching points may be.
const mostText = 1 << 20

// ReadMatches reads a text file of matching points of so many scans: a line for each, the number of a scan from 1 and three coordinates,
// then those of the other; blank lines, and what follows a #, count for nothing.
func ReadMatches(path string, scans int) ([]Match, error) {
	text, err := disk.ReadText(path, mostText)
	if err != nil {
		return nil, err
	}
	var out []Match
	number := 0
	for line := range strings.Lines(string(text)) {
		number++
		line, _, _ = strings.Cut(line, "#")
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		m, err := parseMatch(words, scans)
		if err != nil {
			return nil, fmt.Errorf("%s, line %d: %w", phrase.Name(path), number, err)
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s has no matching points", phrase.Name(path))
	}
	return out, nil
}

func parseMatch(words []string, scans int) (m Match, err error) {
	if len(words) != 8 {
		return m, errors.New("two times the number of a scan and x, y, z are wanted, as in 1 10 0 4.5 2 7 3 0.2")
	}
	if m.A, m.AtA, err = parsePoint(words[:4], scans); err != nil {
		return m, err
	}
	if m.B, m.AtB, err = parsePoint(words[4:], scans); err != nil {
		return m, err
	}
	if m.A == m.B {
		return m, fmt.Errorf("both points are on scan %d", m.A+1)
	}
	return m, nil
}

func parsePoint(words []string, scans int) (int, geom.Vec, error) {
	n, err := strconv.Atoi(words[0])
	if err != nil || n < 1 || n > scans {
		return 0, geom.Vec{}, fmt.Errorf("%q is no number of a scan, 1 to %d", phrase.Name(words[0]), scans)
	}
	var v [3]float64
	for k := range v {
		v[k], err = strconv.ParseFloat(words[k+1], 64)
		if err != nil || !(math.Abs(v[k]) <= math.MaxFloat32) {
			return 0, geom.Vec{}, fmt.Errorf("%q is no coordinate", phrase.Name(words[k+1]))
		}
	}
	return n - 1, geom.Vec{X: v[0], Y: v[1], Z: v[2]}, nil
}
