package register

import (
	"cmp"
	"context"
	"math"
	"math/rand"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

const (
	// keys is how many points of a scan are looked for on the other, each with so many alike.
	keys, alike = 500, 3
	// pairsTried and guessesKept bound how many pairs of matches are tried and how many placements are looked at closer.
	pairsTried, guessesKept = 600_000, 6000
	// finalists is how many placements settle.
	finalists = 100
	// askew is the difference of angles, in radians, up to which two pairs of points may be the same.
	askew = 0.25
	// smallest is the least scale, and its inverse the greatest, between scans of like reach.
	smallest = 0.45
	// stray is how far beyond that settling may lead: a scan of another piece fits the better the smaller it is made.
	stray = 0.9
	// nearBy is how far off, by the reach, places may lie to speak for a placement that is only guessed.
	nearBy = 0.06
)

// radii are those of the signatures by the reach. Scans of unknown scale that show different parts of the piece differ in reach: the
// moving one is looked at with several.
func radii() (fixed []float64, moving []float64) {
	return []float64{0.3, 0.5}, []float64{0.67, 0.82, 1, 1.22, 1.5}
}

// A match says that a point of the moving scan looks like one of the fixed scan.
type match struct{ moving, fixed int32 }

// A guess is a placement and what speaks for it.
type guess struct {
	at    geom.Placement
	score float64
}

// find looks for the placement of the moving scan on the fixed one; the best is given however bad it is.
func find(ctx context.Context, fixed, moving *Scan) (geom.Placement, Fit, error) {
	matches, err := matched(ctx, fixed, moving)
	if err != nil {
		return geom.Placement{}, Fit{}, err
	}
	guesses, err := guessed(ctx, fixed, moving, matches)
	if err != nil {
		return geom.Placement{}, Fit{}, err
	}
	return settled(ctx, fixed, moving, guesses)
}

// matched lists points that look alike at some radius.
func matched(ctx context.Context, fixed, moving *Scan) ([]match, error) {
	var out []match
	wide, factors := radii()
	for _, r := range wide {
		theirs, err := signatures(ctx, &fixed.coarse, r*fixed.Reach)
		if err != nil {
			return nil, err
		}
		for _, f := range factors {
			ours, err := signatures(ctx, &moving.coarse, r*f*moving.Reach)
			if err != nil {
				return nil, err
			}
			some, err := likest(ctx, ours, theirs, chosen(ours))
			if err != nil {
				return nil, err
			}
			out = append(out, some...)
		}
	}
	return out, nil
}

// chosen are the points whose signatures are farthest from the mean: what is everywhere tells nothing.
func chosen(s []signature) []int32 {
	var mean signature
	for i := range s {
		for k, v := range s[i] {
			mean[k] += v / float32(len(s))
		}
	}
	order := make([]int32, len(s))
	odd := make([]float32, len(s))
	for i := range s {
		order[i], odd[i] = int32(i), s[i].unlike(&mean, math.MaxFloat32)
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Or(cmp.Compare(odd[b], odd[a]), cmp.Compare(a, b)) })
	order = order[:(2*len(order)+2)/3]
	rand.New(rand.NewSource(2)).Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
	return order[:min(keys, len(order))]
}

// likest lists for each point the few whose signatures are most alike.
func likest(ctx context.Context, ours, theirs []signature, points []int32) ([]match, error) {
	out := make([]match, alike*len(points))
	err := par.Spans(ctx, len(points), 16, func(from, to int) {
		for i := from; i < to; i++ {
			var best [alike]int32
			var least [alike]float32
			for k := range least {
				least[k] = math.MaxFloat32
			}
			for j := range theirs {
				d := ours[points[i]].unlike(&theirs[j], least[alike-1])
				if d >= least[alike-1] {
					continue
				}
				k := alike - 1
				for ; k > 0 && d < least[k-1]; k-- {
					least[k], best[k] = least[k-1], best[k-1]
				}
				least[k], best[k] = d, int32(j)
			}
			for k := range best {
				out[alike*i+k] = match{points[i], best[k]}
			}
		}
	})
	return out, err
}

// guessed tries pairs of matches whose points and normals lie to one another alike, and scores the placements that they give.
func guessed(ctx context.Context, fixed, moving *Scan, matches []match) ([]guess, error) {
	out, err := guessedAll(ctx, fixed, moving, matches, guessesKept)
	return distinct(out, moving, finalists), err
}

func guessedAll(ctx context.Context, fixed, moving *Scan, matches []match, guessesKept int) ([]guess, error) {
	if len(matches) < 2 {
		return nil, ctx.Err()
	}
	rnd := rand.New(rand.NewSource(3))
	var out []guess
	for range pairsTried {
		a, b := matches[rnd.Intn(len(matches))], matches[rnd.Intn(len(matches))]
		if p, ok := fixed.pairOn(moving, a, b); ok {
			if out = append(out, guess{at: p}); len(out) >= guessesKept {
				break
			}
		}
	}
	err := par.Spans(ctx, len(out), 16, func(from, to int) {
		for i := from; i < to; i++ {
			out[i].score = score(fixed, moving, out[i].at)
		}
	})
	slices.SortStableFunc(out, func(a, b guess) int { return cmp.Compare(b.score, a.score) })
	return out, err
}

// pairOn is the placement that brings two points of the moving scan with their normals onto two of the fixed one.
func (s *Scan) pairOn(moving *Scan, a, b match) (geom.Placement, bool) {
	p, q := moving.coarse.Points[a.moving].Vec(), moving.coarse.Points[b.moving].Vec()
	x, y := s.coarse.Points[a.fixed].Vec(), s.coarse.Points[b.fixed].Vec()
	d, e := q.Sub(p), y.Sub(x)
	if d.Len() < 0.4*moving.Reach || e.Len() < 0.3*s.Reach {
		return geom.Placement{}, false
	}
	scale := e.Len() / d.Len()
	if rel := scale * moving.Reach / s.Reach; rel < smallest || rel > 1/smallest {
		return geom.Placement{}, false
	}
	pn, qn := moving.coarse.Normals[a.moving].Vec(), moving.coarse.Normals[b.moving].Vec()
	xn, yn := s.coarse.Normals[a.fixed].Vec(), s.coarse.Normals[b.fixed].Vec()
	d, e = d.Unit(), e.Unit()
	if !like(pn.Dot(d), xn.Dot(e)) || !like(qn.Dot(d), yn.Dot(e)) || !like(pn.Dot(qn), xn.Dot(yn)) {
		return geom.Placement{}, false
	}
	from, ok := frameOf(d, pn.Add(qn))
	if !ok {
		return geom.Placement{}, false
	}
	to, ok := frameOf(e, xn.Add(yn))
	if !ok {
		return geom.Placement{}, false
	}
	turn := from.Inverse().Then(to)
	if turn.Apply(pn).Dot(xn) < agree || turn.Apply(qn).Dot(yn) < agree {
		return geom.Placement{}, false
	}
	middle := turn.Apply(p.Add(q).Scale(scale / 2))
	return geom.Placement{Turn: turn, Scale: scale, Shift: x.Add(y).Scale(0.5).Sub(middle)}, true
}

// like reports whether two cosines are of angles that differ little.
func like(a, b float64) bool {
	angle := func(c float64) float64 { return math.Acos(math.Max(-1, math.Min(1, c))) }
	return math.Abs(angle(a)-angle(b)) < askew
}

// frameOf is the turn that carries the X axis to d and the Y axis to where n leans.
func frameOf(d, n geom.Vec) (geom.Turn, bool) {
	y := n.Sub(d.Scale(n.Dot(d)))
	if y.Len() < 0.1 {
		return geom.Turn{}, false
	}
	y = y.Unit()
	z := d.Cross(y)
	return geom.Turn{{d.X, y.X, z.X}, {d.Y, y.Y, z.Y}, {d.Z, y.Z, z.Z}}, true
}

// scoreSample is how many places of each scan are looked at to score a placement.
const scoreSample = 150

// score is the area of the overlap under a placement: the lesser of what each scan has on the other, so that shrinking one to nothing
// does not pay.
func score(fixed, moving *Scan, p geom.Placement) float64 {
	within := nearBy * fixed.Reach
	ours := shareOn(&moving.coarse, &fixed.coarse, p, within)
	if ours < 0.1 {
		return 0
	}
	theirs := shareOn(&fixed.coarse, &moving.coarse, p.Inverse(), within/p.Scale)
	return math.Min(ours*moving.coarse.Area()*p.Scale*p.Scale, theirs*fixed.coarse.Area())
}

// shareOn is the share of a's sample that lies within a distance of b with like normals; 0 where the first third of it hardly does.
func shareOn(a, b *level, p geom.Placement, within float64) float64 {
	sample := a.sample[:min(scoreSample, len(a.sample))]
	on := 0.0
	for n, i := range sample {
		if n == scoreSample/3 && on < 0.05*float64(n) {
			return 0
		}
		j, _ := b.tree.Nearest(p.Apply(a.Points[i].Vec()), within)
		if j >= 0 && p.Turn.Apply(a.Normals[i].Vec()).Dot(b.Normals[j].Vec()) > 0.8 {
			on++
		}
	}
	return on / float64(len(sample))
}

// distinct are the best guesses, so many at the most, none nearly the same as a better one.
func distinct(all []guess, moving *Scan, most int) []guess {
	var out []guess
	for _, g := range all {
		near := slices.ContainsFunc(out, func(o guess) bool { return alikePlaced(o.at, g.at, moving) })
		if !near && g.score > 0 {
			if out = append(out, g); len(out) == most {
				break
			}
		}
	}
	return out
}

// turned is the angle between two turns.
func turned(a, b geom.Turn) float64 {
	t := a.Inverse().Then(b)
	return math.Acos(math.Max(-1, math.Min(1, (t[0][0]+t[1][1]+t[2][2]-1)/2)))
}

// nearlyBest is how many placements are settled finely.
const nearlyBest = 8

// settled lets guesses settle, the best of them finely, and gives the best of these.
func settled(ctx context.Context, fixed, moving *Scan, guesses []guess) (best geom.Placement, fit Fit, err error) {
	ends, err := ranked(ctx, guesses, func(g *guess) (Fit, error) { return g.coarsely(ctx, fixed, moving) })
	if err != nil {
		return best, fit, err
	}
	fits := map[geom.Placement]Fit{}
	ends, err = ranked(ctx, distinct(ends, moving, nearlyBest), func(g *guess) (Fit, error) {
		f, err := g.finely(ctx, fixed, moving)
		fits[g.at] = f
		return f, err
	})
	if err != nil || len(ends) == 0 {
		return best, fit, err
	}
	best, fit = ends[0].at, fits[ends[0].at]
	for _, e := range ends[1:] {
		if !alikePlaced(e.at, best, moving) && ends[0].score > 0 {
			fit.Rival = e.score / ends[0].score
			break
		}
	}
	return best, fit, nil
}

// ranked lets guesses settle and gives them by how well they fit then, the best first.
func ranked(ctx context.Context, guesses []guess, settle func(*guess) (Fit, error)) ([]guess, error) {
	for i := range guesses {
		f, err := settle(&guesses[i])
		if err != nil {
			return nil, err
		}
		guesses[i].score = f.worth()
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return cmp.Compare(b.score, a.score) })
	return guesses, ctx.Err()
}

// alikePlaced reports whether two placements are nearly the same.
func alikePlaced(a, b geom.Placement, moving *Scan) bool {
	d := a.Apply(moving.Middle).Sub(b.Apply(moving.Middle)).Len()
	return d < 0.15*moving.Reach*a.Scale && turned(a.Turn, b.Turn) < 0.2 && math.Abs(math.Log(a.Scale/b.Scale)) < 0.12
}

// coarsely settles a guess by the coarse levels of both scans.
func (g *guess) coarsely(ctx context.Context, fixed, moving *Scan) (Fit, error) {
	return g.onto(ctx, fixed, moving, func(s *Scan) *level { return &s.coarse }, 2*nearBy)
}

// finely settles a guess by the fine levels.
func (g *guess) finely(ctx context.Context, fixed, moving *Scan) (Fit, error) {
	return g.onto(ctx, fixed, moving, func(s *Scan) *level { return &s.fine }, nearBy)
}

// guessRounds is how many steps settling a guess takes at the most.
const guessRounds = 12

// onto settles the moving scan on the fixed one, from places up to within, by the reach, apart. The fit is that of the worse of both.
func (g *guess) onto(ctx context.Context, fixed, moving *Scan, of func(*Scan) *level, within float64) (Fit, error) {
	s := settling{levels: []level{*of(fixed), *of(moving)}, at: []geom.Placement{geom.NoPlacement(), g.at}, reach: fixed.Reach}
	if err := s.run(ctx, within*fixed.Reach, guessRounds); err != nil {
		return Fit{}, err
	}
	g.at = s.at[1]
	if rel := g.at.Scale * moving.Reach / fixed.Reach; rel < stray*smallest || rel > 1/(stray*smallest) {
		return Fit{}, nil
	}
	fit, err := s.fitOf(ctx, 1, s.levels[1].sample)
	if err != nil {
		return fit, err
	}
	other, err := s.fitOf(ctx, 0, s.levels[0].sample)
	fit.Sound = math.Min(fit.Sound, other.Sound)
	return fit, err
}

// worth ranks fits: how much lies on the other scan, and how much of what faces it does. The latter counts for more: of a surface that
// is the same next to nothing lies off, while what looks alike by and large can have more that lies on.
func (f Fit) worth() float64 { return f.area * math.Pow(f.Sound, 8) }
