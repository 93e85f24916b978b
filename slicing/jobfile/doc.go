// Package jobfile keeps what a maker has in files: jobs with their piece, the maker's own stock, the minutes that sides really
// took. All are written wholly or not at all.
//
// Open reads a mesh or a job and finds the piece where it went; Job.Save writes a job and keeps what a newer program put into
// it.
package jobfile
