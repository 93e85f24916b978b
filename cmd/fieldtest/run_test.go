package fieldtest

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// mostMemory is what one command may hold, in bytes: half of what a small desktop machine has.
const mostMemory = 6 << 30

// A ran is how one command ended.
type ran struct {
	words  []string // after the program's name
	out    []byte
	said   string // to the maker
	status int
	took   time.Duration
	cpu    time.Duration
	over   string // what it was stopped for; "" where it ended by itself
}

// run runs the program with a limit of time and of memory.
func run(program, dir string, words ...string) ran {
	ctx, stop := context.WithTimeout(context.Background(), *limit)
	defer stop()
	cmd := exec.CommandContext(ctx, program, words...)
	cmd.Dir = dir
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	// No stock of the maker's own gets in.
	cmd.Env = append(os.Environ(), "XDG_CONFIG_HOME="+dir)
	r := ran{words: words}
	from := time.Now()
	if err := cmd.Start(); err != nil {
		r.over = "it doesn't start: " + err.Error()
		return r
	}
	heavy := make(chan string, 1)
	go watch(ctx, cmd.Process, heavy)
	_ = cmd.Wait() // what it ended with is in its state
	r.took = time.Since(from)
	r.out, r.said = out.Bytes(), said.String()
	r.status, r.cpu = cmd.ProcessState.ExitCode(), cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime()
	if ctx.Err() != nil {
		r.over = fmt.Sprintf("no end after %v", *limit)
	}
	select {
	case r.over = <-heavy:
	default:
	}
	return r
}

// watch kills a process that takes too much memory, where the system tells how much it has.
func watch(ctx context.Context, p *os.Process, heavy chan<- string) {
	for ctx.Err() == nil {
		text, err := os.ReadFile(fmt.Sprintf("/proc/%d/statm", p.Pid))
		if err != nil {
			return
		}
		if f := strings.Fields(string(text)); len(f) > 1 {
			if pages, err := strconv.Atoi(f[1]); err == nil && pages*os.Getpagesize() > mostMemory {
				heavy <- fmt.Sprintf("more than %d MB of memory", mostMemory>>20)
				_ = p.Kill() // it may have ended by itself
				return
			}
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// sentence is the end of what the program says when it refuses: one line of words with a full thought.
var sentence = regexp.MustCompile(`(?m)^grainstack: (.{15,900})$`)

// notForMakers are words that no sentence for a maker has.
var notForMakers = regexp.MustCompile(`panic|goroutine|runtime error|fatal error|nil pointer|index out of|%!|\bNaN\b|\bInf\b|json: |context (canceled|deadline)|unsupported value`)

// ended says what is wrong with how a command ended; refused is its sentence where it did not do what was asked.
func (r *ran) ended() (refused string, wrong *fault) {
	name := r.words[0]
	switch {
	case strings.Contains(r.said, "goroutine ") || strings.Contains(r.said, "panic:") || strings.Contains(r.said, "fatal error:"):
		return "", &fault{name + ": panic", firstLines(r.said, 12)}
	case r.over != "":
		return "", &fault{name + ": no end", r.over}
	case r.status == 0:
		return "", nil
	case r.status != 1 && r.status != 2:
		return "", &fault{name + ": bad end", fmt.Sprintf("status %d: %s", r.status, firstLines(r.said, 4))}
	}
	said := strings.TrimSuffix(strings.TrimSpace(r.said), "\nTry 'grainstack help'.")
	all := sentence.FindAllStringSubmatch(said, -1)
	if len(all) == 0 || notForMakers.MatchString(said) {
		return "", &fault{name + ": no sentence", firstLines(r.said, 4)}
	}
	return all[len(all)-1][1], nil
}

func firstLines(s string, n int) string {
	lines := strings.SplitN(strings.TrimSpace(s), "\n", n+1)
	return strings.Join(lines[:min(len(lines), n)], " | ")
}
