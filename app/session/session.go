package session

import (
	"grainstack/render/look"
	"grainstack/slicing/chalk"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/scans"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
)

// A View is how the pictures are looked at. It changes no figure and is not undone.
type View struct {
	CutAway bool    // nothing above the picked layer
	Lift    float64 // mm between the layers
	Marks   bool    // the places that need a look
	Ghost   bool    // the layer below on the layer sheet
	Over    Over    // what lies over the wood
	Light   look.Light
	Ground  look.Ground
	Units   unit.System
	Brush   Brush
}

// An Over is what is laid over the wood of the finished piece.
type Over int

// What can be laid over the wood.
const (
	Bare       Over = iota // nothing: the wood shows
	ScanTints              // the colours that the scanner saw
	ApartTints             // how far the scans that the piece is joined of lie apart, and what no scan saw
)

// Turned is o where it is not what lies there, else nothing.
func (v Over) Turned(o Over) Over {
	if v == o {
		return Bare
	}
	return o
}

// A Brush is the chalk in the maker's hand.
type Brush struct {
	On     bool // dragging over the piece marks it
	Kind   chalk.Kind
	Radius float64 // mm
}

// firstBrush is the radius that a sitting begins with, mm: a thumb's breadth across.
const firstBrush = 10

// A Session is one sitting. Make it with New.
type Session struct {
	history History[choices]
	saved   choices
	rev     int
	layer   int
	angles  [3]float64

	View View
}

// choices are all that is undone: what was chosen, what was put by hand, which choices were kept to be compared, and which scans
// the piece is joined of. Plans, places and lists of trials are never written to once they stand here, so that they are told apart by where they are.
type choices struct {
	settings job.Settings
	places   *job.Places
	plan     *scans.Plan      // nil for a piece of one file
	trials   *[]trial.Trial   // nil for none
	asides   *[]finding.Aside // nil for none
}

// New begins a sitting with settings, at the first layer.
func New(s job.Settings) *Session {
	first := choices{settings: s, places: &job.Places{}}
	return &Session{history: begin(first), saved: first, layer: 1, angles: near(s.Turn, [3]float64{}), View: View{Brush: Brush{Kind: chalk.KeepWhole, Radius: firstBrush}}}
}

// Settings are the present ones.
func (s *Session) Settings() job.Settings { return s.history.now().settings }

// Places are what is put by hand at present. It must not be written to; the same places are at the same address.
func (s *Session) Places() *job.Places { return s.history.now().places }

// Trials are the kept settings; do not write to them.
func (s *Session) Trials() []trial.Trial {
	if t := s.history.now().trials; t != nil {
		return *t
	}
	return nil
}

// Asides are what the maker has set aside; do not write to them.
func (s *Session) Asides() []finding.Aside {
	if a := s.history.now().asides; a != nil {
		return *a
	}
	return nil
}

// Plan is how the piece is joined of scans, nil for a piece of one file; plans are told apart by where they are.
func (s *Session) Plan() *scans.Plan { return s.history.now().plan }

// Join sets how the piece is joined under the name of what was done, as one step of its own.
func (s *Session) Join(name string, p *scans.Plan) {
	now := s.history.now()
	now.plan = p
	s.alone(name, now)
}

// SetAside sets what is set aside under the name of what was done to it, as one step of its own.
func (s *Session) SetAside(name string, all []finding.Aside) {
	now := s.history.now()
	now.asides = &all
	s.alone(name, now)
}

// alone takes what was chosen as one step of its own.
func (s *Session) alone(name string, next choices) {
	s.history.Rest()
	s.moved(s.history.Do(name, next))
	s.history.Rest()
}

// Revision counts the changes of the settings; a picture that carries an older one is stale.
func (s *Session) Revision() int { return s.rev }

// Do sets the settings under the name of what was done; see History. It reports whether anything changed.
func (s *Session) Do(name string, next job.Settings) bool {
	now := s.history.now()
	now.settings = next
	return s.moved(s.history.Do(name, now))
}

// Put puts something by hand, as Do changes settings.
func (s *Session) Put(name string, p job.Places) bool {
	now := s.history.now()
	now.places = &p
	return s.moved(s.history.Do(name, now))
}

// Keep sets the trials under the name of what was done to them, as one step of its own.
func (s *Session) Keep(name string, trials []trial.Trial) {
	now := s.history.now()
	now.trials = &trials
	s.alone(name, now)
}

// Rest ends a gesture.
func (s *Session) Rest() { s.history.Rest() }

// Gesture reports whether the hand is still at its last change.
func (s *Session) Gesture() bool { return s.history.open }

// Undo goes one step back and says which step that was.
func (s *Session) Undo() (name string, ok bool) {
	s.history.Rest()
	name = s.history.undoName()
	return name, s.moved(s.history.Undo())
}

// Redo goes one step forward and says which step that was.
func (s *Session) Redo() (name string, ok bool) {
	s.history.Rest()
	name = s.history.redoName()
	return name, s.moved(s.history.Redo())
}

// undoName and redoName are what Undo and Redo would do, "" for nothing.
func (s *Session) UndoName() string { return s.history.undoName() }

// redoName is what Redo would do again.
func (s *Session) RedoName() string { return s.history.redoName() }

// Replace begins again with another piece's settings, plan, places, what is set aside and trials; there is no way back to the former
// piece's.
func (s *Session) Replace(next job.Settings, plan *scans.Plan, p job.Places, asides []finding.Aside, trials ...trial.Trial) {
	first := choices{settings: next, plan: plan, places: &p}
	if len(trials) > 0 {
		first.trials = &trials
	}
	if len(asides) > 0 {
		first.asides = &asides
	}
	s.history, s.saved, s.layer = begin(first), first, 1
	s.moved(true)
}

// Angles are the degrees about the fixed X, Y and Z axes that make the present turn. Of the ways to write a turn it is the one
// nearest to what stood there before, so that a typed 120 stays 120.
func (s *Session) Angles() [3]float64 { return s.angles }

// Dirty reports whether there are choices that a start with this piece would not bring back.
func (s *Session) Dirty() bool { return s.history.now() != s.saved }

// Saved marks the present choices as those that a start with this piece brings back.
func (s *Session) Saved() { s.saved = s.history.now() }

// Layer is the picked layer, from 1.
func (s *Session) Layer() int { return s.layer }

// Pick chooses a layer, kept within 1 and count; it reports whether that is another one.
func (s *Session) Pick(layer, count int) bool {
	layer = max(1, min(layer, count))
	was := s.layer
	s.layer = layer
	return layer != was
}

func (s *Session) moved(did bool) bool {
	if did {
		s.rev++
		s.angles = near(s.Settings().Turn, s.angles)
	}
	return did
}
