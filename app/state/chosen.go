package state

import (
	"image"
	"time"

	"grainstack/app/session"
	"grainstack/slicing/job"
)

// Chosen is what the maker chose and how it is looked at.
type Chosen struct {
	*session.Session // settings, places and trials, with undo, and how pictures are looked at

	Path     string // of the job, "" until it was saved or opened
	Made     int    // one more than the revision that files were made of last, 0 for none
	Shelf    Shelf
	Selected Selected
	Screen   Screen
	Tasks    Tasks // how far the work for all of the bench is
}

// A Screen is what of the window pictures and work hang on.
type Screen struct {
	Dark      bool
	Trial     image.Point     // how large the small picture of a trial is, pixels
	Dragging  bool            // the hand is turning or moving a picture
	Turning   bool            // dragging on the finished piece turns the piece, not the view
	Sheet     string          // the name of the sheet in front
	Files     bool            // the page on which files are chosen is open
	Workshop  bool            // something that shows the workshop is in front: it is laid out at once
	Ways      []job.Settings  // of ways out in sight: small pictures of them are drawn
	Comparing bool            // trials stand side by side in the place of the panes
	Rooms     map[string]Room // by the name of the sheet in front; never written to: Arrange makes another
	Low       bool            // the window is so low that what stands at its foot takes as little as it can
}

// Now is what requests of a change that is made now carry.
func (b *Chosen) Now() Asking { return Asking{b.Revision(), time.Now(), b.Shelf.Now} }
