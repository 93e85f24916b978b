// Package session is the state of one sitting at the bench: the settings with everything that can be undone, the picked
// layer, and how the pictures are looked at.
//
// It takes changes from the window and gives whole values back. It knows no widgets and works nothing out. It belongs to one
// goroutine, the window's.
package session
