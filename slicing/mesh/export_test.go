package mesh

import "io"

// ReadScan is OpenScan of a file in memory.
func ReadScan(r io.ReaderAt, size int64, name string) (Scan, error) {
	return readAll(&source{r: r, size: size, name: name, takesPoints: true})
}
