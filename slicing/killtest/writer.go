package killtest

import (
	"fmt"
	"io"
	"os"
	"testing"
)

// child names, in the environment of the process that is killed, the first round and the path that it writes to.
const child = "GRAINSTACK_TEST_KILLED"

// What the process that is killed reports, a byte each, and where: pipes that it finds behind its three usual files.
const (
	began   = 'b'
	stepped = 's'
	ended   = 'e'

	reports = 3
	leaves  = 4
)

// A Writer is the process that is killed, as seen from within.
type Writer struct {
	Path  string // to write to
	t     *testing.T
	first int
}

// Written makes a test the process that is killed, and skips it where it was not started by Run.
func Written(t *testing.T) *Writer {
	t.Helper()
	w := &Writer{t: t}
	if _, err := fmt.Sscanf(os.Getenv(child), "%d %q", &w.first, &w.Path); err != nil {
		t.Skip("it is started by the test that kills it")
	}
	return w
}

// Rounds writes again and again until the process is killed. Each round has its number and tells its steps: however many,
// wherever it likes.
func (w *Writer) Rounds(write func(round int, step func()) error) {
	w.t.Helper()
	out, in := os.NewFile(reports, "reports"), os.NewFile(leaves, "leaves")
	tell := func(b byte) {
		if _, err := out.Write([]byte{b}); err != nil {
			w.t.Fatal(err) // the one who kills has gone
		}
		if _, err := io.ReadFull(in, make([]byte, 1)); err != nil {
			w.t.Fatal(err)
		}
	}
	for round := w.first; ; round++ {
		tell(began)
		if err := write(round, func() { tell(stepped) }); err != nil {
			w.t.Fatal(err)
		}
		tell(ended)
	}
}
