package killtest

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"time"
)

// A process is one that is killed, as seen from outside.
type process struct {
	cmd   *exec.Cmd
	from  *os.File // its reports
	to    *os.File // leave for it to go on
	words bytes.Buffer
	since time.Time // it was last given leave
}

// start starts a test of this very program as a process that writes.
func start(test, path string, first int) (*process, error) {
	from, out, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer out.Close()
	in, to, err := os.Pipe()
	if err != nil {
		from.Close()
		return nil, err
	}
	defer in.Close()
	p := &process{cmd: exec.Command(os.Args[0], "-test.run=^"+test+"$", "-test.timeout=10m"), from: from, to: to}
	p.cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%d %q", child, first, path))
	p.cmd.ExtraFiles = []*os.File{out, in}
	p.cmd.Stdout, p.cmd.Stderr = &p.words, &p.words
	if err := p.cmd.Start(); err != nil {
		p.close()
		return nil, err
	}
	return p, nil
}

// next waits for the next report, and says how long after the last leave it came. It is an error when none comes any more.
func (p *process) next() (report byte, took time.Duration, err error) {
	b := make([]byte, 1)
	if _, err := io.ReadFull(p.from, b); err != nil {
		return 0, 0, fmt.Errorf("the process that writes ended by itself: %w", err)
	}
	return b[0], time.Since(p.since), nil
}

// leave lets the process go on.
func (p *process) leave() {
	p.since = time.Now()
	_, _ = p.to.Write([]byte{0}) // where the process is no more, next says so
}

// kill kills the process and reports whether it had not come to its next report.
func (p *process) kill() (working bool, err error) {
	if err := p.cmd.Process.Kill(); err != nil {
		return false, fmt.Errorf("the process that writes ended by itself: %w; %w", err, p.end())
	}
	_ = p.cmd.Wait() // says that it was killed
	if p.cmd.ProcessState.Exited() {
		err = fmt.Errorf("the process that writes ended by itself: %s", p.words.Bytes())
	}
	more, _ := io.ReadAll(p.from) // what came was to be looked at, not needed
	p.close()
	return len(more) == 0, err
}

// end gathers what a process said that ended by itself.
func (p *process) end() error {
	_ = p.cmd.Process.Kill() // it may only have closed its pipe
	_ = p.cmd.Wait()
	p.close()
	return fmt.Errorf("it says %s", p.words.Bytes())
}

func (p *process) close() {
	p.from.Close()
	p.to.Close()
}
