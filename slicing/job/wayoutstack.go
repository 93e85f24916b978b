package job

import (
	"context"
	"fmt"
	"math"
	"strings"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"

	"gonum.org/v1/gonum/optimize"
)

const (
	tiltMost = 25.0 // degrees that a way out may tilt the piece
	tiltStep = 8.0  // of the coarse search
	tiltSeed = 2    // places of the coarse search that are searched more finely
	tiltTry  = 30   // stands tried from each of them
	// upright is the share of what is trapped now that a degree of tilt has to take away to be worth it.
	upright = 0.003
)

// tilted are the settings with the piece tilted about X and then Y from where it stands, degrees.
func tilted(s Settings, x, y float64) Settings {
	s.Turn = s.Turn.Then(geom.TurnXYZ(x, y, 0))
	return s
}

// tilt looks for the tilt that traps least: a coarse grid, then a simplex search from its best places (Nelder and Mead, The
// Computer Journal 7(4), 1965). Of tilts that do as well the lesser one is taken.
func (w *wayfinder) tilt(ctx context.Context) error {
	var grid [][]float64
	var list []Settings
	for x := -3.0; x <= 3; x++ {
		for y := -3.0; y <= 3; y++ {
			if math.Hypot(x, y)*tiltStep <= tiltMost {
				grid = append(grid, []float64{x * tiltStep, y * tiltStep})
				list = append(list, tilted(w.s, x*tiltStep, y*tiltStep))
			}
		}
	}
	got, err := w.compare(ctx, list)
	if err != nil {
		return err
	}
	still := got[len(got)/2] // the grid's middle is no tilt
	cost := func(v float64, at []float64) float64 {
		angle := math.Hypot(at[0], at[1])
		return v + still*(upright*angle+max(0, angle-tiltMost))
	}
	for i := range got {
		got[i] = cost(got[i], grid[i])
	}
	best, err := w.descend(ctx, seeds(grid, got), cost)
	if err != nil {
		return err
	}
	x, y := math.Round(best[0]*2)/2, math.Round(best[1]*2)/2
	if x == 0 && y == 0 {
		return nil
	}
	return w.offer(ctx, tilted(w.s, x, y), tiltWords(x, y))
}

// seeds are the places of a grid with the least figures, no two of them neighbours.
func seeds(grid [][]float64, got []float64) [][]float64 {
	var out [][]float64
	taken := make([]bool, len(grid))
	for len(out) < tiltSeed {
		best := -1
		for i := range grid {
			if !taken[i] && (best < 0 || got[i] < got[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		out = append(out, grid[best])
		for i := range grid {
			if math.Hypot(grid[i][0]-grid[best][0], grid[i][1]-grid[best][1]) < 1.5*tiltStep {
				taken[i] = true
			}
		}
	}
	return out
}

// descend searches from each place and gives the best that was found.
func (w *wayfinder) descend(ctx context.Context, from [][]float64, cost func(float64, []float64) float64) ([]float64, error) {
	found := make([]*optimize.Result, len(from))
	faults := make([]error, len(from))
	err := par.Spans(ctx, len(from), 1, func(i, _ int) {
		problem := optimize.Problem{
			Func: func(at []float64) float64 {
				v, err := w.trapped(ctx, tilted(w.s, at[0], at[1]))
				if err != nil {
					faults[i] = err
					return math.MaxFloat64
				}
				return cost(v, at)
			},
			Status: func() (optimize.Status, error) {
				if faults[i] != nil {
					return optimize.Failure, faults[i]
				}
				return optimize.NotTerminated, nil
			},
		}
		r, err := optimize.Minimize(problem, from[i], &optimize.Settings{FuncEvaluations: tiltTry}, &optimize.NelderMead{SimplexSize: tiltStep / 2})
		if err != nil && faults[i] == nil {
			faults[i] = fmt.Errorf("no tilt can be searched for: %w", err)
		}
		found[i] = r
	})
	if err != nil {
		return nil, err
	}
	best := 0
	for i := range found {
		if faults[i] != nil {
			return nil, faults[i]
		}
		if found[i].F < found[best].F {
			best = i
		}
	}
	return found[best].X, nil
}

// tiltWords say a tilt about X and Y as a maker who stands before the piece does it.
func tiltWords(x, y float64) string {
	var words []string
	for _, d := range []struct {
		angle      float64
		more, less string
	}{{x, "towards you", "away from you"}, {y, "to the right", "to the left"}} {
		if d.angle > 0 {
			words = append(words, fmt.Sprintf("%.3g° %s", d.angle, d.more))
		} else if d.angle < 0 {
			words = append(words, fmt.Sprintf("%.3g° %s", -d.angle, d.less))
		}
	}
	return "Tilt the piece " + strings.Join(words, " and ")
}

// enough is the share of what is trapped now that thinner layers may leave; the thickest that do are taken.
const enough = 1.0 / 3

// sufficient is which of some settings, thickest layers first, to take: the first that leaves little enough, or else the one
// that traps least.
func sufficient(got []float64, now float64) int {
	best := 0
	for i, v := range got {
		if v <= enough*now {
			return i
		}
		if v < got[best] {
			best = i
		}
	}
	return best
}

// leastLayer is the share of a board that a layer is at least: more is not skimmed off willingly (common practice, no source).
const leastLayer = 0.5

// thickness looks for another layer from the same board.
func (w *wayfinder) thickness(ctx context.Context) error {
	_, most := w.s.LayerRange(w.c)
	b, _ := w.s.BoardIn(w.c)
	most = min(most, b.Thickness)
	list := []Settings{w.s}
	for t := math.Floor(most*2) / 2; t >= leastLayer*b.Thickness; t -= 0.5 {
		if math.Abs(t-w.now.Thickness) > 0.25 {
			list = append(list, w.s.WithLayer(w.c, t))
		}
	}
	got, err := w.compare(ctx, list)
	if err != nil || len(list) == 1 {
		return err
	}
	s := list[1+sufficient(got[1:], got[0])]
	return w.offer(ctx, s, fmt.Sprintf("Make layers of %.3g mm", s.LayerThickness(w.c)))
}

// board looks for a thinner board of the same wood.
func (w *wayfinder) board(ctx context.Context) error {
	now, _ := w.s.BoardIn(w.c)
	list := []Settings{w.s}
	for _, b := range w.c.Boards {
		if len(b.Recipe) == 0 || len(now.Recipe) == 0 || b.Recipe[0].Species != now.Recipe[0].Species || b.Thickness > now.Thickness-1 {
			continue
		}
		s := w.s
		s.Board, s.BoardThickness = b.Key, 0
		list = append(list, s.WithUsualSkim(w.c))
		for i := len(list) - 1; i > 1 && list[i].LayerThickness(w.c) > list[i-1].LayerThickness(w.c); i-- {
			list[i], list[i-1] = list[i-1], list[i]
		}
	}
	got, err := w.compare(ctx, list)
	if err != nil || len(list) == 1 {
		return err
	}
	s := list[1+sufficient(got[1:], got[0])]
	b, _ := s.BoardIn(w.c)
	return w.offer(ctx, s, fmt.Sprintf("Take %s, in layers of %.3g mm", b.Name, s.LayerThickness(w.c)))
}

// jointTries is how many heights of the first joint are tried.
const jointTries = 16

// joint looks for the first joint that traps least; it costs one more joint at the most.
func (w *wayfinder) joint(ctx context.Context) error {
	list := w.joints(jointTries)
	got, err := w.compare(ctx, list)
	if err != nil {
		return err
	}
	best := 0
	for i := range got {
		if got[i] < got[best] {
			best = i
		}
	}
	return w.offer(ctx, list[best], fmt.Sprintf("Put the first joint at %.3g mm", list[best].FirstJoint))
}

// joints are the settings with the first joint at n heights within a layer, to a tenth of a millimetre.
func (w *wayfinder) joints(n int) []Settings {
	var list []Settings
	for k := 1; k < n; k++ {
		s := w.s
		s.FirstJoint = math.Round(float64(k)*w.now.Thickness/float64(n)*10) / 10
		list = append(list, s)
	}
	return list
}
