// Package realwindow holds no code of its own: its test drives the program in a real window on a screen of its own, with the
// mouse and the keys, and looks at what is drawn.
package realwindow
