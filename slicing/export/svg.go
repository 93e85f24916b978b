package export

import "io"

// WriteSVG writes a sheet as SVG in mm.
func WriteSVG(w io.Writer, s Sheet) error { return nil }
