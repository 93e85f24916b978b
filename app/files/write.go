package files

import (
	"context"
	"io"
	"sync"

	"grainstack/slicing/export"
	"grainstack/slicing/par"
)

// ahead is how many files are held in memory, made and not yet written.
const ahead = 3

// Write makes the files and writes them into a folder, which is replaced as a whole or not at all, as export.WriteFolder
// promises; files of other kinds that were written there before stay as they are. While one file is written the next are made. progress may be nil; it is told the share done and the file at hand.
func Write(ctx context.Context, w Work, dir string, files []File, progress func(done float64, name string)) ([]export.Written, error) {
	ctx, stop := context.WithCancel(ctx)
	b := newBench(ctx, w)
	line := newLine(ctx, b, files)
	defer line.wait()
	defer stop()
	out := make([]export.File, len(files))
	for i, f := range files {
		out[i] = export.File{Name: f.Name, Write: func(to io.Writer) error {
			data, err := line.take(ctx, i)
			if err != nil {
				return err
			}
			_, err = to.Write(data)
			return err
		}}
		if f.rest != nil {
			out[i].Then, out[i].Series = func() []export.File { return f.rest(b) }, f.series
		}
	}
	return export.WriteFolder(ctx, dir, out, stays(files), progress)
}

// A line makes files in their order, on all cores, a few ahead of the one that is taken.
type line struct {
	made  []chan made
	room  chan struct{}
	group sync.WaitGroup
}

type made struct {
	data  []byte
	err   error
	fault *par.Fault // which is panicked with where the file is taken
}

func newLine(ctx context.Context, b *bench, files []File) *line {
	l := &line{made: make([]chan made, len(files)), room: make(chan struct{}, ahead)}
	for i := range l.made {
		l.made[i] = make(chan made, 1)
	}
	next := make(chan int)
	l.group.Go(func() {
		defer close(next)
		for i := range files {
			select {
			case l.room <- struct{}{}:
			case <-ctx.Done():
				return
			}
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	})
	for range par.Count() {
		l.group.Go(func() {
			for i := range next {
				var m made
				m.fault = par.Try(func() { m.data, m.err = files[i].make(ctx, b) })
				l.made[i] <- m
			}
		})
	}
	return l
}

// take is file i; files are taken in order.
func (l *line) take(ctx context.Context, i int) ([]byte, error) {
	select {
	case m := <-l.made[i]:
		<-l.room
		if m.fault != nil {
			panic(m.fault)
		}
		return m.data, m.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// wait returns once nothing is being made any more.
func (l *line) wait() { l.group.Wait() }
