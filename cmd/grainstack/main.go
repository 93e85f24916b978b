// Command grainstack previews a sculpture as a stack of plywood panels and works out what it will weigh and take. Without a
// sub-command it opens the window; with one it does the same job without a window.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	"grainstack/assets"
)

// A command is one thing that grainstack can be asked to do.
type command struct {
	name, args, does string
	run              func(ctx context.Context, args []string, out io.Writer) error
}

// commands is the table of sub-commands; the window is what runs without one.
func commands() []command {
	return []command{
		{"report", "PIECE", "prints the figures of the stack as JSON", printReport},
		{"directions", "PIECE [-n N] [-weights WORDS]", "prints what each direction of the stack comes to, and the best, as JSON", directions},
		{"picture", "PIECE -view finished|layer|stick|directions|still|turntable|trials -o FILE", "draws the finished look, a layer sheet, the story stick, the map of directions, a photo-like still, a turntable or a job's trials side by side", drawPicture},
		{"make", "JOB|PIECE -out DIR [-only KINDS]", "writes the files for the machine, drawings, lists, pictures and the work book", makeFiles},
		{"join", "SCAN SCAN ... -o FILE.ply", "brings scans of one piece together, joins them to one closed surface, and prints how they fit and what nobody saw as JSON", joinScans},
		{"sample", "-o FILE.stl", "writes the demo piece as a mesh file", writeSample},
	}
}

func main() {
	err := run(context.Background(), os.Args[1:], os.Stdout)
	if err != nil {
		alert(err)
	}
	os.Exit(status(err, os.Stderr))
}

// calledOff is a context that ends when the program is asked to stop, so that it can clear what it has begun; asked again, it stops
// at once. The window has a hand of its own for that.
func calledOff(ctx context.Context) (context.Context, context.CancelFunc) {
	asked := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) { // as it is where work shall go on without its terminal
		asked = append(asked, syscall.SIGHUP)
	}
	ctx, stop := signal.NotifyContext(ctx, asked...)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}

// run does what the words of the command line ask for.
func run(ctx context.Context, args []string, out io.Writer) error {
	if len(args) > 0 {
		for _, c := range commands() {
			if c.name == args[0] {
				ctx, stop := calledOff(ctx)
				defer stop()
				err := try(ctx, c, args[1:], out)
				if errors.Is(err, flag.ErrHelp) {
					return usage(out)
				}
				return err
			}
		}
		if args[0] == "help" || args[0] == "-h" || args[0] == "-help" || args[0] == "--help" {
			return usage(out)
		}
		if args[0] == "-version" || args[0] == "--version" {
			_, err := fmt.Fprintln(out, "grainstack", assets.Version())
			return err
		}
	}
	return window(ctx, args)
}

// try runs a command. What the program's own mistakes come to is told like any other error, with their place on standard error.
func try(ctx context.Context, c command, args []string, out io.Writer) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			fmt.Fprintf(os.Stderr, "%+v\n%s", fault, debug.Stack())
			err = fmt.Errorf("the program made a mistake while it worked this out (%v): other settings may get round it", fault)
		}
	}()
	return c.run(ctx, args, out)
}

// status tells the maker about err and gives the exit status: 0 for none, 2 for wrong usage, 1 for anything else.
func status(err error, to io.Writer) int {
	if err == nil {
		return 0
	}
	if errors.Is(err, context.Canceled) {
		err = errors.New("called off before anything was written")
	}
	tell(err.Error(), to)
	var wrong *usageError
	if errors.As(err, &wrong) {
		fmt.Fprintln(to, "Try 'grainstack help'.")
		return 2
	}
	return 1
}

func usage(out io.Writer) error {
	var text strings.Builder
	text.WriteString("grainstack [PIECE|JOB]\n    opens the window, on the demo piece where none is named; -trace logs every shown frame\ngrainstack -version\n    says which version this is\n")
	for _, c := range commands() {
		text.WriteString(fmt.Sprintf("grainstack %s %s\n    %s\n", c.name, c.args, c.does))
	}
	text.WriteString("\nFlags may stand before or after the piece; lengths are mm, or carry their unit (2 cm, 11/16 in):\n")
	for _, of := range []struct {
		name string
		bind func(*flag.FlagSet)
	}{
		{"all that take a piece", func(s *flag.FlagSet) { bindStack(s) }},
		{"report alone", func(s *flag.FlagSet) { bindReport(s) }},
		{"directions alone", func(s *flag.FlagSet) { bindDirections(s) }},
		{"picture alone", func(s *flag.FlagSet) { bindPicture(s) }},
		{"make alone", func(s *flag.FlagSet) { bindMake(s) }},
		{"join, which takes none of the others", func(s *flag.FlagSet) { bindJoin(s) }},
	} {
		set := newFlags(of.name)
		of.bind(set)
		text.WriteString("\n" + of.name + ":\n" + describe(set))
	}
	_, err := io.WriteString(out, text.String())
	return err
}
