// Package paper is what everything is drawn on and with: the theme in paper, ink and wood, light and dark, and the small
// pieces of text that follow it.
//
// It takes the program's fonts and gives a fyne.Theme, plain inks for pictures, and widgets without any knowledge of wood.
package paper
