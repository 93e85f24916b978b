// Package route is the line of the job: every step that a piece goes through with how far it is, from what is on the bench alone.
package route

import (
	"fmt"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A Step is one of the steps of a job.
type Step int

// The steps, in the order in which a piece goes through them.
const (
	Scan Step = iota
	Size
	Mend
	Stand
	Board
	Wall
	Look
	Reach
	Panels
	Glue
	Book
	Steps // how many there are
)

var stepNames = [Steps]string{"Scan", "Size", "Mend", "Stand", "Board", "Wall", "Look", "Reach", "Panels", "Glue-up", "Book"}

// String is the step's name.
func (s Step) String() string { return stepNames[s] }

// A Mark is how far a step is.
type Mark int

// The marks.
const (
	Ahead   Mark = iota // not reached yet
	Settled             // as the maker has it, or as it was found
	Guessed             // taken for granted until the maker says otherwise
	AtWork              // being worked out
	LeftOff             // called off by hand, or left behind by a change
	InDoubt             // something needs a look or can't be
)

// A Stage is a step with its mark.
type Stage struct {
	Step  Step
	Mark  Mark
	Share float64 // done, of one that is at work; 0 where that is not known
	Words string  // why, in a sentence or two
}

// Of is the line of the job of a bench: every step with how far it is. It is a look-up.
func Of(b *state.Bench) [Steps]Stage {
	var r [Steps]Stage
	for s := range Steps {
		r[s] = Stage{Step: s, Mark: Ahead, Words: "No piece is open yet."}
	}
	if at := b.Tasks.Open; at.State == task.Working {
		r[Scan] = working(Scan, at.Share, "The piece is being opened.")
	}
	if b.Model == nil {
		return r
	}
	for _, stage := range []Stage{scanStage(b), sizeStage(b), mendStage(b), standStage(b), boardStage(b), wallStage(b), lookStage(b),
		reachStage(b), panelStage(b), glueStage(b), bookStage(b)} {
		if r[stage.Step].Mark != AtWork {
			r[stage.Step] = stage
		}
	}
	return r
}

func working(s Step, share float64, words string) Stage {
	return Stage{Step: s, Mark: AtWork, Share: max(0, share), Words: words}
}

func offAt(s Step, what string) Stage {
	return Stage{Step: s, Mark: LeftOff, Words: what + " was called off: a click goes on with it."}
}

// ofTask is the stage of a step whose work failed, was called off or is under way; ok is false where it is none of these.
func ofTask[Key comparable](s Step, at task.Status[Key], what string) (Stage, bool) {
	switch at.State {
	case task.Working:
		return working(s, at.Share, what+" is under way."), true
	case task.Off:
		return offAt(s, what), true
	case task.Failed:
		return Stage{Step: s, Mark: InDoubt, Words: phrase.Capital(at.Fault) + "."}, true
	}
	return Stage{}, false
}

func scanStage(b *state.Bench) Stage {
	if one, ok := ofTask(Scan, b.Tasks.Survey, "Looking the scan over"); ok {
		return one
	}
	s := Stage{Step: Scan, Mark: Settled, Words: "The scan is clean: nothing was found on it."}
	if f := b.Scan.Survey; f == nil {
		s.Mark, s.Words = Ahead, "The scan has not been looked over yet."
	} else if n := len(f.List); n > 0 {
		s.Words = phrase.Count(n, "place") + " of the scan to look at: the Mending card lists them."
	}
	return s
}

// Guesses reports whether the size of the piece rests on a guess: its file names no unit, and the maker has said none.
func Guesses(b *state.Bench) bool {
	return b.Model != nil && !b.Selected.Unit && b.Model.Piece.File != "" && b.Model.Piece.Raw.UnitMM == 0 && b.Path == "" && b.Settings().Scale == 1
}

// Sizes that a piece is likely to have, mm along its longest side (common practice, no source).
const smallest, largest = 30.0, 3000.0

// longest is the longest side of the piece, mm; 0 while it is not known.
func longest(b *state.Bench) float64 {
	st := b.Standing
	if st == nil {
		return 0
	}
	size := st.Placed.Box.Size().Scale(b.Settings().Scale / st.Stand.Scale)
	return max(size.X, size.Y, size.Z)
}

func unlikely(long float64) bool { return long > 0 && (long < smallest || long > largest) }

// Doubts is the question that the maker is asked first of a piece whose size rests on a guess that is unlikely, "" for none.
func Doubts(b *state.Bench) string {
	if long := longest(b); Guesses(b) && unlikely(long) {
		return unit.Length(long, b.View.Units) + " long? The file doesn't say in which unit it is."
	}
	return ""
}

func sizeStage(b *state.Bench) Stage {
	s := Stage{Step: Size, Mark: Settled}
	long := longest(b)
	if long > 0 {
		s.Words = "The longest side is " + unit.Length(long, b.View.Units) + "."
	}
	switch {
	case Doubts(b) != "":
		s.Mark = InDoubt
		s.Words += " The file doesn't say in which unit it is, and millimetres are unlikely. A click asks."
	case Guesses(b):
		s.Mark = Guessed
		s.Words += " The file doesn't say in which unit it is; millimetres are taken for granted. A click asks."
	case unlikely(long):
		s.Mark = InDoubt
		s.Words += " That is far from what a stack of panels is made for: see the scale on the Piece card."
	}
	return s
}

func mendStage(b *state.Bench) Stage {
	switch p := b.Model.Piece; {
	case b.BeingMended():
		return working(Mend, b.Tasks.Mend.Share, "The scan is being made one solid.")
	case b.Tasks.Mend.Of(b.MendKey()) == task.Off:
		return offAt(Mend, "Mending the scan")
	case b.MendFault() != "":
		return Stage{Step: Mend, Mark: InDoubt, Words: b.MendFault()}
	case !p.Solid():
		return Stage{Step: Mend, Mark: InDoubt, Words: "The piece is no solid: weight, hollow and panels can't be worked out."}
	case p.Mesh == p.Scan.Mesh:
		return Stage{Step: Mend, Mark: Settled, Words: "Nothing had to be mended."}
	}
	return Stage{Step: Mend, Mark: Settled, Words: "The scan was made one solid; the Mending card says what was done."}
}

func standStage(b *state.Bench) Stage {
	s := Stage{Step: Stand, Mark: Settled, Words: "The piece stands as you turned it."}
	if b.Settings().Turn == geom.NoTurn() {
		s.Words = "The piece stands as its file has it."
		if b.Model.Piece.File != "" && b.Path == "" {
			s.Mark = Guessed
			s.Words += " Turn it, or compare directions, if the stack shall run otherwise."
		}
	}
	if v, now := b.Shop.Newest(); now && v.Withheld.None() && !(v.Balance.Stands && v.Balance.TipDeg > 0) {
		s.Mark, s.Words = InDoubt, "It falls over as it stands."
	}
	return s
}

func boardStage(b *state.Bench) Stage {
	s := b.Settings()
	board, ok := s.BoardIn(b.Shelf.Now)
	switch {
	case !ok:
		return Stage{Step: Board, Mark: InDoubt, Words: "The board is not in the stock."}
	case s.BoardThickness == 0:
		return Stage{Step: Board, Mark: Guessed, Words: board.Name + ", as thick as the catalogue says: measure yours and type it in."}
	}
	return Stage{Step: Board, Mark: Settled, Words: board.Name + ", measured."}
}

func wallStage(b *state.Bench) Stage {
	if one, ok := ofTask(Wall, b.Tasks.Hollow, "Working the hollow out"); ok && b.Settings().Wall > 0 {
		return one
	}
	s := Stage{Step: Wall, Mark: Settled, Words: "The piece is solid."}
	switch f := b.Figures; {
	case b.Settings().Wall == 0:
	case f == nil || !f.Withheld.None() || !f.CoreKnown:
		s.Mark, s.Words = Ahead, "The hollow is not known yet."
	default:
		s.Words = "Hollow, with a wall of " + unit.Length(b.Settings().Wall, b.View.Units) + "."
	}
	return s
}

func lookStage(b *state.Bench) Stage {
	s := Stage{Step: Look, Mark: Settled, Words: "Stripes and finish are as chosen."}
	switch f := b.Figures; {
	case f == nil:
		s.Mark, s.Words = Ahead, b.Why()
	case !f.Settled && f.Withheld.None():
		s = working(Look, 0, "The figures are being worked out.")
	default:
		crossed := 0
		for _, k := range f.Kept {
			crossed += len(k.Crossings)
		}
		if crossed > 0 {
			s.Mark, s.Words = InDoubt, phrase.Count(crossed, "joint")+" through what shall stay whole."
		}
	}
	return s
}

func reachStage(b *state.Bench) Stage {
	if r := b.Reached(); r != nil {
		if r.Trapped > 0 {
			return Stage{Step: Reach, Mark: InDoubt, Words: unit.Volume(r.Trapped, b.View.Units) + " can't be reached from above or below: the Carving card looks for ways out."}
		}
		return Stage{Step: Reach, Mark: Settled, Words: "The cutters get everywhere from above or below."}
	}
	if one, ok := ofTask(Reach, b.Tasks.Reach, "Following the cutters"); ok {
		if one.Mark == LeftOff {
			one.Words += " Until then hours stay an estimate, and what can't be reached is missing from what needs a look."
		}
		return one
	}
	return Stage{Step: Reach, Mark: Ahead, Words: "The cutters have not been followed yet."}
}

// shopStage is the stage of a step that hangs on the workshop; v is nil where that settles it.
func shopStage(b *state.Bench, s Step) (one Stage, v *workshop.Workshop) {
	v, now := b.Shop.Newest()
	if now && v.Improved && v.Withheld.None() {
		return Stage{Step: s, Mark: Settled}, v
	}
	if now && !v.Withheld.None() {
		return Stage{Step: s, Mark: InDoubt, Words: v.Withheld.In(b.View.Units)}, nil
	}
	if one, ok := ofTask(s, b.Tasks.Shop, "Laying the parts out"); ok {
		return one, nil
	}
	return Stage{Step: s, Mark: Ahead, Words: "The parts have not been laid out yet."}, nil
}

func panelStage(b *state.Bench) Stage {
	s, v := shopStage(b, Panels)
	if v == nil {
		return s
	}
	s.Words = phrase.Count(len(v.Parts), "part") + " on " + phrase.Count(v.Panels(), "panel") + "."
	loose := 0
	for i := range v.Parts {
		if !v.Parts[i].Held {
			loose++
		}
	}
	switch {
	case len(v.Layout.TooLarge) > 0:
		s.Mark, s.Words = InDoubt, fmt.Sprintf("%s too large for the panel.", phrase.Plural(len(v.Layout.TooLarge), "1 part is", fmt.Sprint(len(v.Layout.TooLarge), " parts are")))
	case loose > 0:
		s.Mark, s.Words = InDoubt, s.Words+" "+phrase.Plural(loose, "One is", fmt.Sprint(loose, " are"))+" held badly."
	}
	return s
}

func glueStage(b *state.Bench) Stage {
	s, v := shopStage(b, Glue)
	if v == nil {
		return s
	}
	s.Words = phrase.Count(v.GlueUp.Pressings, "joint") + " to glue."
	g, _ := v.For.GlueIn(b.Shelf.Now)
	late := 0
	for _, t := range v.GlueUp.Stages {
		for _, p := range t.Pressings {
			if p.CloseMin > g.OpenMin {
				late++
			}
		}
	}
	if late > 0 {
		s.Mark, s.Words = InDoubt, s.Words+" "+phrase.Plural(late, "One takes", fmt.Sprint(late, " take"))+" longer to close than the glue stays open."
	}
	return s
}

func bookStage(b *state.Bench) Stage {
	s := Stage{Step: Book, Mark: Ahead, Words: "No files have been made of this piece yet: a click opens the page for that."}
	switch b.Made {
	case 0:
	case b.Revision() + 1:
		s.Mark, s.Words = Settled, "The files are made of the piece as it is."
	default:
		s.Mark, s.Words = Guessed, "The files that were made are of older settings."
	}
	return s
}
