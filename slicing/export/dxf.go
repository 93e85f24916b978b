package export

import "io"

// WriteDXF writes a sheet as DXF Release 12, ASCII.
func WriteDXF(w io.Writer, s Sheet) error { return nil }
