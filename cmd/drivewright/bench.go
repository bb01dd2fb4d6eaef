package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"drivewright/internal/base/explain"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/web"
)

// Exit codes. They are part of the command line's promise and stand in its manual.
const (
	exitFine     = 0
	exitFindings = 1 // a danger or a must was found
	exitUsage    = 2 // the command line or a file could not be understood
)

// bench is what the commands stand on: the outside world, so that tests can give another.
type bench struct {
	in      io.Reader
	out     io.Writer
	err     io.Writer
	now     func() time.Time
	home    func() (string, error)
	colour  bool
	width   int // columns of the text, 0 for lines as long as they come
	version string
	// interrupted returns a channel that is closed when the user wants a serving command to end; other commands are ended by
	// the system, so that nothing keeps one from being stopped.
	interrupted func() <-chan struct{}
}

// The most that a command looks for an arrangement of the box: ordinary boxes take a second or two, and what isn't found by then is said to be
// not found.
const (
	checkingMost  = 10 * time.Second
	arrangingMost = 60 * time.Second
)

// after returns a question that is answered with yes once so much time has gone by.
func (b *bench) after(most time.Duration) func() bool {
	end := b.now().Add(most)
	return func() bool { return b.now().After(end) }
}

// theMachine is the bench of a real run.
func theMachine() *bench {
	stat, err := os.Stdout.Stat()
	terminal := err == nil && stat.Mode()&os.ModeCharDevice != 0
	return &bench{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now, home: os.UserHomeDir,
		colour: terminal && os.Getenv("NO_COLOR") == "", width: columns(terminal), version: version(), interrupted: onInterrupt}
}

// version is the module's version from the build, or "development".
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "development"
}

// commands is the command line.
type commands struct {
	Serve     serveCommand     `cmd:"" default:"withargs" help:"Open the list of jobs and the live sheet in a browser (also what the bare command does)."`
	New       newCommand       `cmd:"" help:"Ask the few questions that matter and write a commented job file."`
	Check     checkCommand     `cmd:"" help:"Print what is wrong with jobs, with file, line and column; fails on a danger or a must."`
	Sheet     sheetCommand     `cmd:"" help:"Write a job's sheet as text, HTML, PDF or JSON."`
	Circuit   circuitCommand   `cmd:"" help:"Write a job's whole circuit out as a job file: every device, wire and cable on a line."`
	Prove     proveCommand     `cmd:"" help:"Break a job's circuit on purpose and choose the meter readings that prove its wiring; judge readings taken."`
	Papers    papersCommand    `cmd:"" help:"Print what the box is wired from: wires, cores, terminals, parts, labels, order of work; also for a spreadsheet."`
	Templates templatesCommand `cmd:"" help:"Print where each hole of the box goes, its drill and the templates at true scale; also for a digital readout or as a drilling program."`
	Why       whyCommand       `cmd:"" help:"Say why a value on the sheet is what it is, down to the nameplate."`
	Rules     rulesCommand     `cmd:"" help:"List the rules, or explain one."`
	Formula   formulaCommand   `cmd:"" help:"List the formulas, explain one, or run one by itself."`
	Set       setCommand       `cmd:"" help:"Change one value of a job file; comments and layout stay."`
	Earlier   earlierCommand   `cmd:"" help:"List the earlier versions of a job file, or bring one back."`
	Schema    schemaCommand    `cmd:"" help:"Print the JSON Schema of the job file, for editors, or of the sheet as data."`
	Pack      packCommand      `cmd:"" help:"Solve a packing problem by itself: find places for rectangles or bricks, or prove that there are none."`
	Version   versionCommand   `cmd:"" help:"Print the version."`

	VersionToo kong.VersionFlag `name:"version" help:"Print the version."`
}

// failure is an error with the exit code that it deserves.
type failure struct {
	code int
	err  error
}

func (f failure) Error() string { return f.err.Error() }
func (f failure) Unwrap() error { return f.err }

// usage makes an error of the user's making.
func usage(format string, args ...any) error { return failure{exitUsage, fmt.Errorf(format, args...)} }

// errFindings ends a check that found a danger or a must; the findings have been printed.
var errFindings = failure{exitFindings, errors.New("a danger or a must was found")}

// run runs one command line and returns its exit code.
func run(args []string, b *bench) int {
	var line commands
	parser, err := kong.New(&line,
		kong.Name("drivewright"),
		kong.Description("Puts an old three-phase machine back to work on a single-phase supply: one plain job file in, one live, printable sheet out."),
		kong.Writers(b.out, b.err),
		kong.Exit(func(code int) { panic(exit(code)) }),
		kong.Bind(b),
		kong.Vars{"version": "drivewright " + b.version, "papers": strings.Join(circuit.ListNames(), ", ")},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}),
	)
	if err != nil {
		fmt.Fprintln(b.err, "drivewright:", err)
		return exitUsage
	}
	if len(args) > 0 && args[0] == "help" {
		args = append(slices.Clone(args[1:]), "--help")
	}
	return guarded(func() error {
		if err := knownCommand(args, parser.Model); err != nil {
			return err
		}
		context, err := parser.Parse(args)
		if err != nil {
			return usage("%w (drivewright --help lists the commands, drivewright COMMAND --help what one takes)", err)
		}
		return context.Run(b)
	}, b)
}

// knownCommand catches a misspelt command, which would otherwise be taken for the folder of serve.
func knownCommand(args []string, model *kong.Application) error {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		return nil
	}
	if _, err := os.Stat(args[0]); err == nil {
		return nil
	}
	var names []string
	for _, n := range model.Children {
		if n.Name == args[0] {
			return nil
		}
		names = append(names, n.Name)
	}
	if near := explain.Nearest(args[0], names); near != "" {
		return usage("there is no command %q; did you mean %s?", args[0], near)
	}
	return usage("%q is neither a command (%s) nor a folder", args[0], strings.Join(names, ", "))
}

// exit is how kong's --help leaves.
type exit int

// guarded runs f and turns its error into words and an exit code.
func guarded(f func() error, b *bench) (code int) {
	defer func() {
		if r := recover(); r != nil {
			asked, ok := r.(exit)
			if !ok {
				panic(r)
			}
			code = int(asked)
		}
	}()
	err := f()
	if err == nil {
		return exitFine
	}
	var failed failure
	if !errors.As(err, &failed) {
		failed = failure{exitUsage, err}
	}
	if failed.code != exitFindings {
		fmt.Fprintln(b.err, "drivewright:", failed.err)
	}
	return failed.code
}

// named returns the item whose name is the word, or a usage error with the nearest ones.
func named[T any](word string, items []T, name func(T) string, what string) (T, error) {
	var names []string
	for _, i := range items {
		if name(i) == word {
			return i, nil
		}
		names = append(names, name(i))
	}
	var none T
	if near := explain.Near(word, names); len(near) > 0 {
		return none, usage("there is no %s named %q; %s", what, word, explain.DidYouMean(near))
	}
	return none, usage("there is no %s named %q", what, word)
}

// errFolder is what is wrong with a folder where a job belongs.
var errFolder = errors.New("is a folder")

// fileNamed says of a file error which file it was, and whether another name is near.
func fileNamed(path string, err error) error {
	if jobs := jobsIn(path); len(jobs) > 0 {
		return usage("%s is a folder: give one of its jobs, such as %s", path, jobs[0])
	}
	if errors.Is(err, errFolder) {
		return usage("%s is a folder without a job in it: a job is a file that ends in %s", path, jobEnding)
	}
	if !errors.Is(err, os.ErrNotExist) && !errors.Is(err, web.ErrMissing) {
		return usage("%w", err)
	}
	var names []string
	if entries, e := os.ReadDir(filepath.Dir(path)); e == nil {
		for _, entry := range entries {
			if strings.HasSuffix(entry.Name(), jobEnding) {
				names = append(names, entry.Name())
			}
		}
	}
	if near := explain.Nearest(filepath.Base(path), names); near != "" {
		return usage("there is no file %s; did you mean %s?", path, filepath.Join(filepath.Dir(path), near))
	}
	return usage("there is no file %s", path)
}
