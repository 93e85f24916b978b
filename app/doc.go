// Package app is the window: it opens pieces, keeps what the maker chose, and shows what comes of it.
//
// It takes the catalogue, the fonts and a piece to begin with. Data goes round once for each change: a card or a gesture sets
// something on the bench (state) and calls core.changed; window.followAll has tasks (work) and pictures (view) ask for what they
// want of the bench now, and shows it; what they come to is put on the bench, and goes round the same way. The window's
// goroutine owns widgets and bench and does look-ups only; nothing here decides anything about wood.
//
// A part of the window knows the core and the pictures that it is about; only window and what makes it up know all parts.
package app
