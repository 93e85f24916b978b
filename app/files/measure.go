package files

import "context"

// Measure makes the files without writing any and tells the size of each as it is known, in their order.
func Measure(ctx context.Context, w Work, files []File, each func(i int, bytes int64)) error {
	ctx, stop := context.WithCancel(ctx)
	line := newLine(ctx, newBench(ctx, w), files)
	defer line.wait()
	defer stop()
	for i := range files {
		data, err := line.take(ctx, i)
		if err != nil {
			return err
		}
		each(i, int64(len(data)))
	}
	return nil
}

// WorkBook is the work book alone, as a PDF.
func WorkBook(ctx context.Context, w Work) ([]byte, error) {
	if _, err := List(w, nil); err != nil {
		return nil, err
	}
	return bookFile().make(ctx, newBench(ctx, w))
}

// Words are what a kind holds, for the maker.
func (k Kind) Words() string {
	switch k {
	case Layers:
		return "Layers, each as a solid (STL, 3MF)"
	case Panels:
		return "Panel sides (STL, height map)"
	case Outlines:
		return "Outlines at true size (SVG, DXF, PDF)"
	case Lists:
		return "Lists to buy and cut by (CSV)"
	case Pictures:
		return "Pictures (PNG)"
	case Book:
		return "Work book (PDF)"
	case Programs:
		return "Programs for the machine (RS-274)"
	}
	return string(k)
}
