// Package files makes everything that leaves a job for the workshop: it lists the files of a job, which can be shown before
// anything is written, and writes them into a folder.
//
// It takes a standing piece with its figures and workshop, and gives the files of layers (STL, 3MF), panel sides (STL and
// height maps as 16-bit PNG), outlines at true size (SVG, DXF, PDF in tiles), lists (CSV), pictures (PNG) and the work book
// (PDF). It also gives the views of panels, boards and glue-up that the sheets are drawn from. It works nothing out about
// wood: it knows no window, so that a command writes the same files. Lengths are mm.
package files
