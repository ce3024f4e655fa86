package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/user"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/index/intake"
	"musterstone/model"
)

// version is the program's, kept with each decision and publication.
const version = "0.1.0"

// The exit statuses.
const (
	exitDone     = 0
	exitFailed   = 1 // the work failed
	exitWrong    = 2 // the call or the input is wrong
	exitProblems = 3 // done, but problems were found and told
)

// usageError is a wrong call: what is wrong, and the command to type instead.
type usageError struct {
	text, hint string
	more       []string // lines after the hint
}

func (e *usageError) Error() string { return e.text }

// errProblems ends a command that did its work but found problems, which it has told.
var errProblems = errors.New("problems were found")

// app is the program with its streams.
type app struct {
	in       io.Reader
	out, err io.Writer
	terminal bool // err is a terminal
	now      func() time.Time
	userName func() string
}

// run runs the program and returns its exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	printed := &result{w: out}
	a := &app{in: in, out: printed, err: errs, now: time.Now, userName: userName}
	if f, ok := errs.(*os.File); ok {
		a.terminal = isTerminal(f)
	}
	err := a.cli().RunContext(ctx, args)
	if printed.err != nil && (err == nil || errors.Is(err, errProblems)) {
		err = fmt.Errorf("print the result: %w", printed.err)
	}
	return a.report(err)
}

func isTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// result is standard output. It remembers the first error, so that no command that prints line by line ends as if all had been printed when it was not.
type result struct {
	w   io.Writer
	err error
}

func (r *result) Write(b []byte) (int, error) {
	if r.err != nil {
		return 0, r.err
	}
	n, err := r.w.Write(b)
	r.err = err
	return n, err
}

func userName() string {
	u, err := user.Current()
	if err != nil {
		return ""
	}
	if name, _, _ := strings.Cut(u.Name, ","); name != "" { // after the comma some systems keep a room and telephone numbers
		return name
	}
	return u.Username
}

// report tells an error on stderr and gives the exit status that goes with it.
func (a *app) report(err error) int {
	var usage *usageError
	var refused *job.Refused
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errProblems):
		return exitProblems
	case errors.As(err, &usage):
		a.note(usage.text)
		if usage.hint != "" {
			fmt.Fprintf(a.err, "%s\n", plain(usage.hint))
		}
		for _, line := range usage.more {
			fmt.Fprintf(a.err, "  %s\n", plain(line))
		}
		return exitWrong
	case errors.As(err, &refused):
		a.tell(err)
		return exitWrong
	case noPlace(err):
		a.tell(err)
		fmt.Fprintln(a.err, "the folder, or the disk, does not take what is to be written; what stood there before is untouched")
		return exitWrong
	case errors.Is(err, context.Canceled):
		a.note("stopped; nothing is left half-written")
		return exitFailed
	}
	a.tell(err)
	return exitFailed
}

// tell tells an error on stderr, a line for each where it is several.
func (a *app) tell(err error) {
	var faults *intake.Faults
	if errors.As(err, &faults) {
		a.complain(faults.Complaints)
		return
	}
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range several.Unwrap() {
			a.tell(e)
		}
		return
	}
	a.note(err.Error())
}

// mostTold is how many complaints a command tells that is not there to find them.
const mostTold = 20

// complain tells complaints on stderr, a line for each.
func (a *app) complain(complaints []model.Complaint) {
	for i := range complaints {
		if i == mostTold {
			a.note(fmt.Sprintf("and %d more; musterstone check lists them all", len(complaints)-mostTold))
			return
		}
		a.note(complaints[i].Error())
	}
}

// noPlace reports whether an error is about a place that cannot be written to: not permitted, read-only, full, or a file where a folder is wanted.
func noPlace(err error) bool {
	for _, cause := range []error{fs.ErrPermission, syscall.EROFS, syscall.ENOSPC, syscall.EDQUOT, syscall.ENOTDIR} {
		if errors.Is(err, cause) {
			return true
		}
	}
	return false
}

func (a *app) cli() *cli.App {
	commands := []*cli.Command{
		a.demoCommand(), a.beginCommand(), a.checkCommand(), a.readCommand(), a.proposeCommand(), a.reviewCommand(), a.decideCommand(), a.mergeCommand(),
		a.unmarkedCommand(), a.dossierCommand(), a.changesCommand(), a.publishCommand(), a.findCommand(), a.assessCommand(), a.patternsCommand(),
		a.completionCommand(), a.manCommand(),
	}
	onUsage := func(_ *cli.Context, err error, _ bool) error {
		return &usageError{text: callFault(err), hint: "see: musterstone --help"}
	}
	for _, c := range commands {
		name := c.Name
		c.OnUsageError = func(_ *cli.Context, err error, _ bool) error {
			return &usageError{text: callFault(err), hint: "see: musterstone " + name + " --help"}
		}
		c.Before = flagsFirst(name)
		c.HideHelpCommand = true
		for _, f := range c.Flags {
			if b, ok := f.(*cli.BoolFlag); ok && !b.Value {
				b.DisableDefaultText = true
			}
		}
	}
	return &cli.App{
		Name:      "musterstone",
		Usage:     "link grave markers of veterans to service records, with reasons, for a person to confirm",
		UsageText: "musterstone COMMAND [--survey FOLDER] [options]",
		Description: "A survey is a folder with your stones (stones.csv), service rosters (roster-*.csv) and the decisions you make.\n" +
			"Start with: musterstone demo",
		Version:         version,
		Commands:        commands,
		Reader:          a.in,
		Writer:          a.out,
		ErrWriter:       a.err,
		OnUsageError:    onUsage,
		ExitErrHandler:  func(*cli.Context, error) {},
		HideHelpCommand: true,
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return &usageError{text: fmt.Sprintf("no such command: %q", c.Args().First()), hint: "see: musterstone --help"}
			}
			return cli.ShowAppHelp(c)
		},
	}
}

// callFault puts the library's words on a wrong option into ours.
func callFault(err error) string {
	text := err.Error()
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		return fmt.Sprintf("there is no option --%s", strings.TrimPrefix(name, "-"))
	}
	if name, ok := strings.CutPrefix(text, "flag needs an argument: -"); ok {
		return fmt.Sprintf("the option --%s wants a value after it", strings.TrimPrefix(name, "-"))
	}
	if rest, ok := strings.CutPrefix(text, "invalid value "); ok {
		if value, rest, ok := strings.Cut(rest, " for flag -"); ok {
			name, _, _ := strings.Cut(rest, ":")
			return fmt.Sprintf("the option --%s does not take %s", name, value)
		}
	}
	if rest, ok := strings.CutPrefix(text, "invalid boolean value "); ok {
		if value, rest, ok := strings.Cut(rest, " for -"); ok {
			name, _, _ := strings.Cut(rest, ":")
			return fmt.Sprintf("the option --%s is true or false, and not %s", name, value)
		}
	}
	return text
}

// flagsFirst refuses options that stand after the first argument, which the library would take for arguments.
func flagsFirst(name string) cli.BeforeFunc {
	return func(c *cli.Context) error {
		for _, arg := range c.Args().Slice() {
			if len(arg) > 1 && strings.HasPrefix(arg, "-") {
				return &usageError{text: fmt.Sprintf("the option %s stands after the arguments", arg), hint: "options come first: musterstone " + name + " " + arg + " …"}
			}
		}
		return nil
	}
}

// The options that most commands share.
func surveyFlag() cli.Flag {
	return &cli.StringFlag{Name: "survey", Value: ".", Usage: "the survey `FOLDER`"}
}

func jsonFlag() cli.Flag {
	return &cli.BoolFlag{Name: "json", Usage: "print one JSON object a line"}
}

// noArguments refuses arguments where a command takes none.
func noArguments(c *cli.Context) error {
	if !c.Args().Present() {
		return nil
	}
	arg, name := c.Args().First(), c.Command.Name
	hint := "see: musterstone " + name + " --help"
	takesSurvey := slices.ContainsFunc(c.Command.Flags, func(f cli.Flag) bool { return slices.Contains(f.Names(), "survey") })
	if info, err := os.Stat(arg); err == nil && info.IsDir() && takesSurvey {
		hint = fmt.Sprintf("to name the survey: musterstone %s --survey %s", name, shellWord(arg))
	}
	return &usageError{text: fmt.Sprintf("%s takes no arguments, but was given %q", name, arg), hint: hint}
}

// shellWord is a word as it is typed into a shell.
func shellWord(s string) string {
	if strings.ContainsAny(s, " \t'\"$&;()<>|*?[]#~`\\!") {
		return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
	}
	return s
}

// open opens the survey of a command.
func (a *app) open(c *cli.Context) (*job.Job, error) {
	return a.openAt(c.String("survey"))
}

func (a *app) openAt(dir string) (*job.Job, error) {
	return job.Open(dir, job.Options{Program: version, Year: a.now().Year(), Progress: a.progress(), Note: a.note})
}

// openToDecide opens the survey of a command that writes decisions, and tells what makes that unsafe.
func (a *app) openToDecide(c *cli.Context) (*job.Job, error) {
	j, err := a.openByClock(c)
	if err != nil {
		return nil, err
	}
	if note := job.ShareNote(j.Survey.Dir); note != "" {
		a.note(note)
	}
	return j, nil
}

// openByClock opens the survey of a command that stands on the time, for decisions or for who may be living. A clock that cannot be right is refused; one that only looks odd
// beside the ledger is told.
func (a *app) openByClock(c *cli.Context) (*job.Job, error) {
	j, err := a.open(c)
	if err != nil {
		return nil, err
	}
	l, err := j.Ledger()
	if err != nil {
		return nil, err
	}
	switch fault, sure := l.ClockFault(a.now()); {
	case sure:
		return nil, &job.Refused{Text: fault + ": set the clock right first; decisions are dated by it, and who may be living is judged by it"}
	case fault != "":
		a.note(fault + "; look whether this clock is right: decisions are dated by it, and who may be living is judged by it")
	}
	return j, nil
}

// note tells something on stderr.
func (a *app) note(text string) {
	fmt.Fprintf(a.err, "musterstone: %s\n", plain(text))
}

// noteStones tells of a survey without a table of stones, of which a command about stones has nothing to print.
func (a *app) noteStones(j *job.Job) {
	if !slices.ContainsFunc(j.Survey.Tables, func(t intake.Table) bool { return t.Kind != intake.Roster }) {
		a.note(j.Survey.Dir + ": there is no table of stones or of a burial register that can be read; put one into the folder as a CSV file named stones… or register…, or let begin make sense of the files that are there")
	}
}

// finish tells the complaints of a command's jobs and turns them into the exit status: damaged or refused input 2, rows left out 3. Cells that were not understood count for check alone,
// which is there to find them.
func (a *app) finish(jobs ...*job.Job) error {
	var all []model.Complaint
	for _, j := range jobs {
		complaints := j.Complaints()
		a.complain(complaints)
		all = append(all, complaints...)
	}
	return status(all, false)
}

// status is the error that complaints come to; strict counts cells that were not understood too.
func status(complaints []model.Complaint, strict bool) error {
	worst := error(nil)
	for _, c := range complaints {
		switch {
		case c.Damaged || c.Fatal && c.Row == 0:
			return &job.Refused{Text: "the input cannot be used as it stands: mend what is told above"}
		case c.Fatal || strict:
			worst = errProblems
		}
	}
	return worst
}
