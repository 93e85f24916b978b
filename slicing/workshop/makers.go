package workshop

import (
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A making works out what doesn't hang on how the parts lie: joints and their pins, the glue-up, how the piece stands.
type making struct {
	*Workshop
	st *job.Standing
	c  *stock.Catalogue
}

// A laying lays the parts of a workshop on panels.
type laying struct {
	*Workshop
	c     *stock.Catalogue
	watch Watch
}

// A holder finds what holds the parts of a workshop in their panels, as they lie.
type holder struct{ *Workshop }
