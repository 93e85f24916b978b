package realwindow

import (
	"bufio"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// BenchmarkWindow opens the demo piece, and each of the meshes that GRAINSTACK_WINDOW_PIECES names (paths parted by colons), in a
// real window, and measures what a maker waits for.
func BenchmarkWindow(b *testing.B) {
	pieces := []string{""}
	for _, p := range filepath.SplitList(os.Getenv("GRAINSTACK_WINDOW_PIECES")) {
		if p != "" {
			pieces = append(pieces, p)
		}
	}
	for _, p := range pieces {
		name := "demo"
		if p != "" {
			name = strings.TrimSuffix(filepath.Base(p), filepath.Ext(p))
		}
		b.Run(name, func(b *testing.B) {
			tools(b)
			for b.Loop() {
				measureWindow(b, p)
			}
			b.ReportMetric(0, "ns/op") // says nothing of a visit with pauses in it
		})
	}
}

// measureWindow is one visit: the window opens, the view is turned, the wall is drawn thicker and thinner.
func measureWindow(b *testing.B, piece string) {
	var args []string
	if piece != "" {
		args = append(args, piece)
	}
	s := newScreen(b, 1280, 800, args...)
	begun := time.Now()
	since := func() float64 { return time.Since(begun).Seconds() }
	s.await("the first picture", 0, `what=look rev=`)
	b.ReportMetric(since(), "s_to_picture")
	s.await("settled figures", 0, settled)
	b.ReportMetric(since(), "s_to_figures")
	s.await("what the cutters reach", 0, reached)
	b.ReportMetric(since(), "s_to_reach")
	s.await("the settled picture", 0, drawn)
	s.still()

	s.do("mousemove", "640", "790")
	from := s.log.mark()
	s.do("key", "5")
	look, wall := s.place("pane", "finished piece", from), s.place("rule", "wall", from)
	s.still()

	from = s.log.mark()
	s.sweep(middleOf(look), 4, 1, 90)
	s.still()
	b.ReportMetric(s.slowest(from, "what=look "), "ms_orbit_p95")
	s.await("the turned picture", from, drawn)

	from = s.log.mark()
	s.sweep(image.Pt(wall.Min.X+5+(wall.Dx()-9)/3, middleOf(wall).Y), 1, 0, 90)
	s.still()
	b.ReportMetric(s.slowest(from, "what=sheet "), "ms_wall_to_sheet_p95")
	s.await("the figures of another wall", from, settled)
	b.ReportMetric(peak(b, s.program.Process.Pid), "MiB_peak")
	s.program.Process.Kill()
	<-s.gone
}

// sweep drags from a place in one breath, a step every sixtieth of a second.
func (s *screen) sweep(from image.Point, dx, dy, steps int) {
	s.t.Helper()
	words := []string{"mousemove", strconv.Itoa(from.X), strconv.Itoa(from.Y), "mousedown", "1"}
	for range steps {
		words = append(words, "mousemove_relative", "--", strconv.Itoa(dx), strconv.Itoa(dy), "sleep", "0.016")
	}
	s.do(append(words, "mouseup", "1")...)
}

// slowest is the 95th percentile of how long after the wish the frames of a kind were shown since a mark, in ms.
func (s *screen) slowest(from int, what string) float64 {
	s.t.Helper()
	var ms []float64
	for _, l := range s.log.lines(from) {
		_, after, ok := strings.Cut(l, "latency_ms=")
		if !ok || !strings.Contains(l, what) || strings.Contains(l, "how=fine") {
			continue
		}
		v, err := strconv.ParseFloat(strings.Fields(after)[0], 64)
		if err != nil {
			s.t.Fatal(err)
		}
		ms = append(ms, v)
	}
	if len(ms) < 5 {
		s.t.Fatalf("only %d frames of %q were shown while the mouse went on", len(ms), what)
	}
	slices.Sort(ms)
	return ms[(len(ms)-1)*95/100]
}

// peak is the most memory that a process has had at once, in MiB.
func peak(t testing.TB, pid int) float64 {
	t.Helper()
	f, err := os.Open(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for in := bufio.NewScanner(f); in.Scan(); {
		if kb, ok := strings.CutPrefix(in.Text(), "VmHWM:"); ok {
			v, err := strconv.ParseFloat(strings.Fields(kb)[0], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v / 1024
		}
	}
	t.Fatal("the system doesn't say how much memory a process has had")
	return 0
}
