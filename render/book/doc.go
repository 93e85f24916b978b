// Package book lays out the work book: everything that the workshop needs of a job, printed.
//
// It takes a plain Book and gives a Document of pages, A4 (210 × 297 mm, ISO 216) or Letter (8.5 × 11 in), which is written
// as PDF with vector drawings and embedded letters. Lengths in a Book are mm, areas mm², masses g, times minutes unless a
// name says otherwise; on a page, figures are points of 1/72 in from the top left corner. It works nothing out about wood.
package book
