// Package app is the window: it opens pieces, keeps what the maker chose, and shows what comes of it.
//
// It takes the catalogue, the fonts and a piece to begin with. Data goes round once for each change: a card or a gesture
// writes settings to the session; the window looks up the figures and asks its loops for pictures; the loops work on copies
// and post finished frames back. The window's goroutine owns widgets and session and does look-ups only; nothing here
// decides anything about wood.
package app
