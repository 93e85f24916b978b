// Package latest runs work in the background so that the newest request wins.
//
// It takes requests from one goroutine (the window's), runs them one at a time on a worker that exists only while there is
// work, and posts each answer back to that goroutine. Requests that were overtaken before they began are dropped. Of work
// that has begun there are two manners: Finish lets it end and shows it, so that pictures follow a slider without a gap;
// Cancel calls it off, so that only the newest figures are ever shown.
package latest
