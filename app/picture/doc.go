// Package picture carries results to the pictures: it puts a standing piece, its figures and the maker's choices into the
// plain values that render draws.
//
// It takes values of slicing/job and the catalogue and gives those of render/look and render/sheet. It works nothing out
// about wood and draws nothing, and it knows no window, so that commands can draw the same pictures.
package picture
