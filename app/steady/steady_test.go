package steady

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// asProgram makes this test's binary a program with a window: the toolkit wants the first goroutine, which tests don't have.
const asProgram = "GRAINSTACK_STEADY_WINDOW"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		err := program()
		fmt.Println("ended", err)
		return
	}
	os.Exit(m.Run())
}

// program is a window in which clicks and the key p panic, o begins panics without end, and q closes it.
func program() error {
	a := New("io.github.grainstack.steady")
	w := a.NewWindow("steady")
	slips := 0
	w.SetContent(widget.NewButton("panic", func() { panic("clicked") }))
	w.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) {
		switch e.Name {
		case fyne.KeyP:
			var none fyne.Canvas
			none.Refresh(nil)
		case fyne.KeyO:
			fyne.Do(func() { panic("posted") })
		case fyne.KeyQ:
			w.Close()
		}
		fmt.Println("key", e.Name)
	})
	w.Resize(fyne.NewSize(200, 200))
	w.Show()
	return Run(a, func(fault any) {
		slips++
		fmt.Println("slip", slips, fault)
		if fault == "posted" {
			panic("posted")
		}
	})
}

// TestTheWindowOutlivesPanics, of handlers of widgets and of keys alike; only those without end take it down.
func TestTheWindowOutlivesPanics(t *testing.T) {
	for _, name := range []string{"Xvfb", "xdotool"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("%s is not installed: no window to panic in", name)
		}
	}
	display := server(t)
	hand := func(words ...string) {
		t.Helper()
		c := exec.Command("xdotool", words...)
		c.Env = append(os.Environ(), "DISPLAY="+display)
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v, %s", words, err, out)
		}
	}
	begin := func() (said func(string), ended func() string) {
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), asProgram+"=1", "DISPLAY="+display, "LANG=en_US.UTF-8", "HOME="+t.TempDir())
		c.Stderr = &bytes.Buffer{}
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Process.Kill(); c.Wait() })
		lines := make(chan string, 100)
		go func() {
			defer close(lines)
			for s := bufio.NewScanner(out); s.Scan(); {
				lines <- s.Text()
			}
		}()
		next := func() string {
			select {
			case line := <-lines:
				return line
			case <-time.After(time.Minute):
				t.Fatalf("no word of the window; it wrote %s", c.Stderr)
				return ""
			}
		}
		hand("search", "--sync", "--onlyvisible", "--name", "steady")
		return func(want string) {
			t.Helper()
			if got := next(); !strings.HasPrefix(got, want) {
				t.Fatalf("got %q, want %q; %s", got, want, c.Stderr)
			}
		}, next
	}
	said, _ := begin()
	for n := range 2 {
		hand("mousemove", "100", "100", "click", "1")
		said(fmt.Sprintf("slip %d clicked", 2*n+1))
		hand("key", "p")
		said(fmt.Sprintf("slip %d runtime error", 2*n+2))
		hand("key", "a")
		said("key A")
	}
	hand("key", "q")
	said("key Q")
	said("ended <nil>")

	said, ended := begin()
	hand("key", "o")
	said("key O")
	for line := ended(); line != "ended "+errSlips.Error(); line = ended() {
		if !strings.HasPrefix(line, "slip") {
			t.Fatalf("got %q while it panics without end", line)
		}
	}
}

// server is an X server of the test's own.
func server(t *testing.T) string {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "400x300x24", "-nolisten", "tcp")
	c.ExtraFiles = []*os.File{w}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Process.Kill(); c.Wait() })
	w.Close()
	number, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return ":" + strings.TrimSpace(number)
}
