// Package view is the pictures of the window: for each what it shows of the bench, with the key that holds all that it hangs on, how
// it is drawn, and its frame, zoom and pan. A picture is asked for when its key is another than that of the last.
package view
