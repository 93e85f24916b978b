package app

import (
	"context"
	"image"
	"slices"
	"sync"
	"time"

	"grainstack/app/latest"
	"grainstack/app/picture"
	"grainstack/app/task"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/render/swatch"
	"grainstack/slicing/chalk"
	"grainstack/slicing/compass"
	"grainstack/slicing/export"
	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// A model is a piece with everything that pictures of it need, whatever its settings.
type model struct {
	piece      *job.Piece
	key        mendKey      // how it was mended
	settings   job.Settings // to begin with
	job        job.Job      // as it was opened: what the window doesn't change is saved as it was
	full, thin *look.Body
	seen       [2]func() [][3]uint8 // the scanner's colours on either body, worked out when they are first asked for
	grid       *field.Grid          // nil until the hollow is known

	index, thinIndex func() *chalk.Index // of the facets of either body, made when they are first asked for
}

// dress makes what pictures of the piece need.
func (m *model) dress() {
	m.full = look.NewBody(m.piece.Mesh)
	m.thin = m.full
	m.index = sync.OnceValue(func() *chalk.Index { return chalk.NewIndex(m.piece.Mesh) })
	m.thinIndex = sync.OnceValue(func() *chalk.Index { return chalk.NewIndex(m.piece.Thin) })
	if m.piece.Thin != m.piece.Mesh {
		m.thin = look.NewBody(m.piece.Thin)
	}
	for i, surface := range []*mesh.Mesh{m.piece.Mesh, m.piece.Thin} {
		m.seen[i] = sync.OnceValue(func() [][3]uint8 { return m.piece.Raw.Colours.On(surface) })
	}
}

// seenOn are the scanner's colours on one of the bodies, nil where the scan has none.
func (m *model) seenOn(b *look.Body) [][3]uint8 {
	if b == m.thin && m.thin != m.full {
		return m.seen[1]()
	}
	return m.seen[0]()
}

// Requests and answers of the loops: everything that a worker needs, by value.
type (
	standAsk struct {
		asking
		model *model
		stand stack.Stand
		last  *job.Standing // what stood before: only the hollow is added where the stand is the same
	}
	lookAsk struct {
		asking
		serial   int
		model    *model
		standing *job.Standing // may be of another stand
		settings job.Settings
		sight    picture.Sight
		marks    []look.Mark
		reached  *job.Reached // where wood stays, to be tinted; nil while it is not
		figures  *job.Figures // that reached is of
		show     bool         // the picked layer is drawn
		seen     bool         // the scanner's colours are
		dark     bool
		quick    bool // something is being dragged
		pick     pickAsk
		points   []geom.Vec // to be ringed, in the piece's own frame
		saw      mend.Plane // where the saw will go, zero for nowhere
		chalk    chalkAsk   // the stroke that is being drawn
	}
	pickAsk struct {
		serial int // 0 for none
		x, y   int
		why    string
	}
	lookOut struct {
		frame *frame.Frame
		mesh  *mesh.Mesh // that facets of the hit belong to
		hit   look.Hit
		found bool
		place picture.Place
		chalk []touch // what the stroke's path came to
		perMM float64 // pixels, of a picture as large as was asked
	}
	figureAsk struct {
		asking
		standing *job.Standing
		settings job.Settings
	}
	sheetAsk struct {
		asking
		standing *job.Standing
		figures  *job.Figures
		layer    int
		look     sheet.Look
		style    sheet.Style
		ghost    bool
		reached  *job.Reached   // to be shown, nil for not
		seams    [][2]geom.Vec2 // joint lines that parts are split along
		size     image.Point    // pixels
		scale    float64        // pixels a unit
	}
	sheetOut struct {
		frame *frame.Frame
		sheet sheet.LayerSheet
		mid   geom.Vec2 // mm: what lies in the middle of the plan when it fits
		facts []string
	}
	stickOut struct {
		frame *frame.Frame
		sheet sheet.StickSheet
	}
)

// loops are all background work of the window.
type loops struct {
	open   *task.Task[opening, opening, *model]
	mend   *task.Task[mendKey, mendAsk, *model]
	survey *task.Task[surveyAsk, surveyAsk, *mend.Findings]
	save   *latest.Loop[saveAsk, struct{}]
	keep   *latest.Loop[keepAsk, struct{}]
	shelf  *latest.Loop[job.OwnStock, struct{}]
	hollow *task.Task[*job.Piece, *model, *model]
	stand  *latest.Loop[standAsk, *job.Standing]
	later  *latest.Loop[struct{}, struct{}] // a standing that was put off
	figure *latest.Loop[figureAsk, *job.Figures]
	settle *latest.Loop[figureAsk, *job.Figures]
	reach  *task.Task[reachKey, reachAsk, *job.Reached]
	ways   *latest.Loop[reachAsk, []job.WayOut]
	shop   *latest.Loop[shopAsk, *job.Workshop]
	make   *latest.Loop[makeAsk, []export.Written]
	sizes  *latest.Loop[sizeAsk, struct{}]
	steer  *latest.Loop[steerAsk, *compass.Map]
	disc   *latest.Loop[compassAsk, compassOut]
	bench  *latest.Loop[shopSheetAsk, shopSheetOut]
	look   *latest.Loop[lookAsk, lookOut]
	fine   *latest.Loop[lookAsk, lookOut]
	sheet  *latest.Loop[sheetAsk, sheetOut]
	stick  *latest.Loop[sheetAsk, stickOut]
	photo  *latest.Loop[string, *swatch.Photo]
	swatch *latest.Loop[photoDraw, photoDrawn]
	try    *latest.Loop[tryAsk, tryOut]

	beside, besideFine *latest.Loop[besideAsk, besideOut]
	take               *latest.Loop[stillAsk, struct{}]
}

// A worker is a loop of whatever kind.
type worker interface {
	Stop() // see latest.Loop
	Wait()
	Busy() bool
}

// all are the loops one by one.
func (l *loops) all() []worker {
	return []worker{
		l.open, l.mend, l.survey, l.save, l.keep, l.shelf, l.hollow, l.stand, l.later, l.figure,
		l.settle, l.reach, l.ways, l.shop, l.make, l.sizes, l.bench, l.steer, l.disc, l.look, l.fine,
		l.sheet, l.stick, l.photo, l.swatch, l.try, l.beside, l.besideFine, l.take,
	}
}

func (l *loops) stop() {
	for _, one := range l.all() {
		one.Stop()
	}
}

// workers hold what a loop's worker keeps between two pictures. Each belongs to one loop.
type workers struct {
	letters *draw.Letters
}

// stand stands a piece up, or adds the hollow to a piece that stands.
func (workers) stand(ctx context.Context, a standAsk) (*job.Standing, error) {
	st := a.last
	if st == nil || st.Piece != a.model.piece || st.Stand != a.stand {
		var err error
		if st, err = job.Stand(ctx, a.model.piece, a.stand); err != nil {
			return nil, err
		}
	}
	if a.model.grid == nil || st.Grid == a.model.grid {
		return st, nil
	}
	return st.WithField(ctx, a.model.grid)
}

func (w workers) instant(ctx context.Context, a figureAsk) (*job.Figures, error) {
	return job.Instant(ctx, a.standing, a.settings, a.stock)
}

// settleAfter is how long the settings have to rest before the settled figures are begun: they would only be called off.
const settleAfter = 120 * time.Millisecond

func (w workers) settle(ctx context.Context, a figureAsk) (*job.Figures, error) {
	if err := rest(ctx, settleAfter); err != nil {
		return nil, err
	}
	return job.Settle(ctx, a.standing, a.settings, a.stock)
}

// wait passes the time until a standing that was put off is asked for.
func wait(ctx context.Context, _ struct{}) (struct{}, error) {
	return struct{}{}, rest(ctx, standEvery)
}

func rest(ctx context.Context, d time.Duration) error {
	select {
	case <-time.After(d):
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// A painter draws the finished piece and remembers what it drew last.
type painter struct {
	workers
	r     *look.Renderer
	chalk chalker
	last  rasterKey
	done  bool
	slow  bool // the last whole picture of this drag took too long: smaller ones follow
}

// rasterKey is all that moves a pixel: while it stays, shading is enough.
type rasterKey struct {
	body  *look.Body
	place picture.Place
	sight picture.Sight
	wood  job.Settings // what of the settings moves a pixel, zero otherwise
	grid  *field.Grid
}

func (w workers) painter() *painter { return &painter{workers: w, r: look.NewRenderer()} }

// fineAfter is how long the hand has to rest before the fine picture is begun.
const fineAfter = 140 * time.Millisecond

// quickFrom is the number of facets from which the thinned body stands in while something is dragged.
const quickFrom = 700_000

// While something is dragged and a picture takes longer than tooSlow, pictures with so many quarters of the sides are stretched
// to the pane: the hand sees more of them.
const (
	tooSlow = 25 * time.Millisecond
	smaller = 3
)

// draw gives the quick picture: four times faster than the fine one, and quite good.
func (p *painter) draw(ctx context.Context, a lookAsk) (lookOut, error) {
	body, m, full := a.model.full, a.model.piece.Mesh, a.sight.Size
	if a.quick && body.Triangles() > quickFrom {
		body, m = a.model.thin, a.model.piece.Thin
	}
	p.slow = p.slow && a.quick && a.pick.serial == 0
	if p.slow {
		a.sight.Size = image.Pt(a.sight.Size.X*smaller/4, a.sight.Size.Y*smaller/4)
	}
	begun := time.Now()
	view, dress, place := p.scene(a)
	key := keyOf(a, body, place)
	if !p.done || key != p.last {
		p.done = false
		if err := p.r.Raster(ctx, body, view); err != nil {
			return lookOut{}, err
		}
		p.last, p.done = key, true
	}
	out := lookOut{mesh: m, place: place, perMM: p.r.PixelsPerMM() * float64(full.X) / float64(a.sight.Size.X)}
	if a.seen {
		dress.Seen = a.model.seenOn(body)
	}
	var err error
	if dress.Chalk, out.chalk, err = p.chalkOn(ctx, a, m != a.model.piece.Mesh, place); err != nil {
		return lookOut{}, err
	}
	if a.pick.serial > 0 {
		out.hit, out.found = p.r.Pick(a.pick.x, a.pick.y)
	}
	f, err := p.r.Shade(ctx, dress)
	out.frame = f
	p.slow = p.slow || time.Since(begun) > tooSlow
	return out, err
}

// drawFine gives the settled picture, once the hand rests.
func (p *painter) drawFine(ctx context.Context, a lookAsk) (lookOut, error) {
	if err := rest(ctx, fineAfter); err != nil {
		return lookOut{}, err
	}
	view, dress, place := p.scene(a)
	if a.seen {
		dress.Seen = a.model.seenOn(a.model.full)
	}
	kinds, err := p.chalk.cover(ctx, a, false, a.chalk.done)
	if err != nil {
		return lookOut{}, err
	}
	dress.Chalk = picture.Chalk(kinds)
	f, err := p.r.Fine(ctx, a.model.full, view, dress)
	return lookOut{frame: f, mesh: a.model.piece.Mesh, place: place}, err
}

// scene is what is drawn. While the standing is of another stand, the piece is set down from its thinned mesh.
func (p *painter) scene(a lookAsk) (look.View, look.Dress, picture.Place) {
	var place picture.Place
	if st := a.standing; st != nil && st.Piece == a.model.piece && st.Stand == a.settings.Stand() {
		place = picture.Place{Placement: st.Placed.Placement, Height: st.Height()}
	} else {
		place = picture.SetDown(a.model.piece.Thin, a.settings.Stand())
	}
	view, band := picture.ViewOf(place, a.settings, a.stock, a.model.grid, a.sight)
	dress := look.Dress{Wood: picture.WoodOf(a.settings, a.stock), Light: a.sight.Light, Paper: picture.Paper(a.dark), Marks: a.marks}
	dress.Woods, dress.Layers = picture.Mixed(a.settings, a.stock, place.Height)
	if a.reached != nil {
		dress.Stain = picture.Stain(a.reached, a.figures)
	}
	if a.show {
		dress.Picked = band
	}
	if off, ok := picture.SawnOff(place, a.saw); ok {
		dress.Picked = off
	}
	for _, p := range a.points {
		dress.Marks = append(dress.Marks[:len(dress.Marks):len(dress.Marks)], look.Mark{Point: place.Placement.Apply(p)})
	}
	if view.Cut > 0 { // no rings in the air where the piece is taken off
		dress.Marks = slices.DeleteFunc(slices.Clone(dress.Marks), func(m look.Mark) bool { return m.Point.Z > view.Cut })
	}
	return view, dress, place
}

// keyOf leaves out of the key what only colours.
func keyOf(a lookAsk, body *look.Body, place picture.Place) rasterKey {
	k := rasterKey{body: body, place: place, sight: a.sight}
	if !a.sight.CutAway {
		k.sight.Layer = 0
	}
	if a.sight.CutAway || a.sight.Lift > 0 {
		k.wood, k.grid = a.settings, a.model.grid
		k.wood.Chalk = nil
	}
	return k
}

// A drafter draws sheets.
type drafter struct {
	workers
	pool   frame.Pool
	raster *draw.Raster
}

func (w workers) drafter() *drafter {
	return &drafter{workers: w, raster: draw.NewRaster(w.letters)}
}

// layer draws the sheet of one layer and says what there is to say about it.
func (d *drafter) layer(ctx context.Context, a sheetAsk) (sheetOut, error) {
	width, height := float64(a.size.X)/a.scale, float64(a.size.Y)/a.scale
	var view sheet.LayerView
	var out sheetOut
	if len(a.figures.Layers) == 0 {
		view.Message = a.figures.Withheld
	} else {
		plan, err := job.Plan(ctx, a.standing, a.figures, max(1, min(a.layer, len(a.figures.Layers))))
		if err != nil {
			return out, err
		}
		view = picture.Layer(plan, a.figures, a.ghost)
		if a.reached != nil {
			view = picture.WithReached(view, a.reached)
		}
		view.Seams = a.seams
		out.facts = picture.Facts(plan, a.figures, a.stock, a.style.Units)
	}
	outlines := view.Widest.Box().Union(view.BottomOutline.Box()).Union(view.TopOutline.Box()).Union(view.Below.Box())
	if !outlines.Empty() {
		out.mid = outlines.Min.Add(outlines.Max).Scale(0.5)
	}
	out.sheet = sheet.Layer(view, a.style, width, height, a.look)
	out.frame = d.pool.Get(a.size)
	d.raster.Draw(out.frame.Image, out.sheet.Drawing, a.scale)
	return out, nil
}

// stick draws the story stick.
func (d *drafter) stick(_ context.Context, a sheetAsk) (stickOut, error) {
	width, height := float64(a.size.X)/a.scale, float64(a.size.Y)/a.scale
	view := picture.Stick(a.standing, a.figures, a.stock, a.layer)
	out := stickOut{sheet: sheet.Stick(view, a.style, width, height), frame: d.pool.Get(a.size)}
	d.raster.Draw(out.frame.Image, out.sheet.Drawing, a.scale)
	return out, nil
}

// own is a point of the stand in the piece's own frame.
func own(at picture.Place, p geom.Vec) geom.Vec { return at.Placement.Back(p) }
