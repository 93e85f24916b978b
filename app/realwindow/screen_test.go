package realwindow

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	_ "grainstack/app" // the program is built anew by the test: what it is made of has to count for go test's cache
)

// A screen is an X server of its own with the program on it.
type screen struct {
	t       testing.TB
	display string
	program *exec.Cmd
	gone    chan error
	log     *log
}

// A log keeps what the program wrote to standard error.
type log struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *log) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

// lines are the lines from a mark on.
func (l *log) lines(from int) []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return strings.Split(strings.TrimSpace(l.text.String()[from:]), "\n")
}

func (l *log) mark() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Len()
}

// tools are what the test needs on the machine.
func tools(t testing.TB) {
	t.Helper()
	for _, name := range []string{"Xvfb", "xdotool", "import"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("%s is not installed (packages xvfb, xdotool, imagemagick): the real window is not tested", name)
		}
	}
	if testing.Short() {
		t.Skip("short tests only: the real window is not tested")
	}
}

// newScreen starts an X server and the program on it.
func newScreen(t testing.TB, width, height int, args ...string) *screen {
	t.Helper()
	dir := t.TempDir()
	bin := filepath.Join(dir, "grainstack")
	if out, err := exec.Command("go", "build", "-o", bin, "grainstack/cmd/grainstack").CombinedOutput(); err != nil {
		t.Fatalf("the program can't be built: %v\n%s", err, out)
	}
	s := &screen{t: t, display: server(t, width, height), log: &log{}, gone: make(chan error, 1)}
	s.program = exec.Command(bin, append([]string{"-trace"}, args...)...)
	s.program.Env = append(os.Environ(), "DISPLAY="+s.display, "LANG=en_US.UTF-8", "HOME="+dir, "XDG_CONFIG_HOME="+filepath.Join(dir, "config"), "XDG_STATE_HOME="+filepath.Join(dir, "state"), "FYNE_THEME=light", "FYNE_SCALE=1")
	s.program.Stderr = s.log
	if err := s.program.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { s.gone <- s.program.Wait() }()
	t.Cleanup(func() { s.program.Process.Kill() })
	return s
}

// server starts an X server on a free display and says which.
func server(t testing.TB, width, height int) string {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height), "-nolisten", "tcp")
	x.ExtraFiles = []*os.File{w}
	if err := x.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Process.Kill(); x.Wait() })
	w.Close()
	number := make([]byte, 16)
	n, err := r.Read(number)
	if err != nil {
		t.Fatalf("the X server did not start: %v", err)
	}
	return ":" + strings.TrimSpace(string(number[:n]))
}

// do runs xdotool.
func (s *screen) do(words ...string) {
	s.t.Helper()
	c := exec.Command("xdotool", words...)
	c.Env = append(os.Environ(), "DISPLAY="+s.display)
	if out, err := c.CombinedOutput(); err != nil {
		s.t.Fatalf("xdotool %v: %v\n%s", words, err, out)
	}
}

// drag presses the left button at a place and moves in steps.
func (s *screen) drag(x, y, dx, dy, steps int) {
	s.t.Helper()
	s.do("mousemove", strconv.Itoa(x), strconv.Itoa(y), "mousedown", "1")
	for range steps {
		s.do("mousemove_relative", "--", strconv.Itoa(dx), strconv.Itoa(dy))
		time.Sleep(50 * time.Millisecond) // slow enough for a busy machine to follow
	}
	s.do("mouseup", "1")
}

// click presses and lets go at a place.
func (s *screen) click(x, y int) {
	s.t.Helper()
	s.do("mousemove", strconv.Itoa(x), strconv.Itoa(y), "click", "1")
}

// shot is a picture of the screen.
func (s *screen) shot() image.Image {
	s.t.Helper()
	c := exec.Command("import", "-window", "root", "png:-")
	c.Env = append(os.Environ(), "DISPLAY="+s.display)
	out, err := c.Output()
	if err != nil {
		s.t.Fatalf("no screenshot: %v", err)
	}
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		s.t.Fatal(err)
	}
	return img
}

// patience is how long a test waits for what will never be: long enough for a machine that is busy with other work.
const patience = 3 * time.Minute

// await waits for a line of the log after a mark that matches, and gives its named parts.
func (s *screen) await(what string, from int, pattern string) map[string]string {
	s.t.Helper()
	re := regexp.MustCompile(pattern)
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		lines := s.log.lines(from)
		for i := len(lines) - 1; i >= 0; i-- {
			if m := re.FindStringSubmatch(lines[i]); m != nil {
				parts := map[string]string{}
				for k, name := range re.SubexpNames() {
					parts[name] = m[k]
				}
				return parts
			}
		}
		select {
		case err := <-s.gone:
			s.t.Fatalf("%s: the program has ended: %v\n%s", what, err, strings.Join(s.log.lines(0), "\n"))
		default:
		}
	}
	s.t.Fatalf("waited in vain for %s\n%s", what, strings.Join(s.log.lines(from), "\n"))
	return nil
}

// place is where a pane or a rule is.
func (s *screen) place(kind, name string, from int) image.Rectangle {
	s.t.Helper()
	p := s.await(kind+" "+name, from, `what=`+kind+` name="`+name+`" at=(?P<x>\d+),(?P<y>\d+) size=(?P<w>\d+),(?P<h>\d+)`)
	n := func(k string) int { v, _ := strconv.Atoi(p[k]); return v }
	return image.Rect(n("x"), n("y"), n("x")+n("w"), n("y")+n("h"))
}

// differs is the share of pixels of an area that differ between two pictures.
func differs(a, b image.Image, area image.Rectangle) float64 {
	n := 0
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			if a.At(x, y) != b.At(x, y) {
				n++
			}
		}
	}
	return float64(n) / float64(max(1, area.Dx()*area.Dy()))
}

// colours is how many colours an area holds.
func colours(a image.Image, area image.Rectangle) int {
	seen := map[any]bool{}
	for y := area.Min.Y; y < area.Max.Y; y += 2 {
		for x := area.Min.X; x < area.Max.X; x += 2 {
			seen[a.At(x, y)] = true
		}
	}
	return len(seen)
}

func middleOf(r image.Rectangle) image.Point { return r.Min.Add(r.Max).Div(2) }
