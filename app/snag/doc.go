// Package snag is the list of what needs a look as widgets: it shows what it is given, and reports what the hand does.
package snag
