// Package pane is the widgets that show pictures: the finished piece, the layer sheet and the story stick.
//
// It takes finished frames and reports what hand and keys do to them, in units of the toolkit. A pane never decides what a
// gesture means and never draws: it shows the last frame it was given, stretched until the right one comes.
package pane
