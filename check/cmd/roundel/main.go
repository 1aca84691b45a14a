// Command roundel checks drafts of crochet motifs worked in rounds.
//
//	roundel check [-format text|json] [-fail error|warning|info] FILE|DIR|-...
//	roundel rounds [-format text|json] FILE
//	roundel fmt [-l] [-w] FILE...
//	roundel explain [RULE]
//	roundel graph FILE
//
// A directory is searched for files named *.rnd; - is standard input. The exit
// status is 0 when there is nothing to report, 1 when there are findings at or
// above the severity given with -fail (or, for fmt -l, files not in standard
// layout), 2 for a wrong call or a file that cannot be read, 3 for an internal
// failure.
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

	"example.com/roundel/check"
	"example.com/roundel/notation"
)

// The exit statuses.
const (
	exitClean    = 0
	exitFindings = 1
	exitUsage    = 2
	exitInternal = 3
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	c := &command{ctx: ctx, in: os.Stdin, out: os.Stdout, err: os.Stderr, excerpts: isTerminal(os.Stdout)}
	status := c.run(os.Args[1:])
	stop()
	os.Exit(status)
}

func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// A command is one call, with everything it reads and writes.
type command struct {
	ctx      context.Context
	in       io.Reader
	out, err io.Writer
	excerpts bool
}

const usage = `usage:
  roundel check [-format text|json] [-fail error|warning|info] FILE|DIR|-...
  roundel rounds [-format text|json] FILE
  roundel fmt [-l] [-w] FILE...
  roundel explain [RULE]
  roundel graph FILE

check    reports what is wrong with drafts; a directory is searched for *.rnd
rounds   lists what each round holds: stitches by kind, spaces, corners, sides
fmt      lays drafts out in the standard way
explain  says what a rule means, with a draft that breaks it and one that does not
graph    writes the worked piece as JSON
`

var commands = map[string]func(*command, []string) int{
	"check":   (*command).check,
	"rounds":  (*command).rounds,
	"fmt":     (*command).format,
	"explain": (*command).explain,
	"graph":   (*command).graph,
}

func (c *command) run(args []string) (status int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(c.err, "roundel: internal failure: %v\n%s", r, debug.Stack())
			status = exitInternal
		}
	}()
	if len(args) == 0 {
		fmt.Fprint(c.err, usage)
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		fmt.Fprint(c.out, usage)
		return exitClean
	}
	f, ok := commands[args[0]]
	if !ok {
		names := make([]string, 0, len(commands))
		for _, name := range []string{"check", "rounds", "fmt", "explain", "graph"} {
			names = append(names, name)
		}
		hint := ""
		if near := notation.Closest(args[0], names); near != "" {
			hint = "; did you mean " + near + "?"
		}
		return c.wrong("there is no command %q%s", args[0], hint)
	}
	return f(c, args[1:])
}

// wrong reports a wrong call.
func (c *command) wrong(format string, args ...any) int {
	fmt.Fprintf(c.err, "roundel: "+format+"\n", args...)
	fmt.Fprintln(c.err, "roundel help lists the commands")
	return exitUsage
}

// flags parses flags; done tells that the call ends here with the status.
func (c *command) flags(name, args string, set func(*flag.FlagSet), argv []string) (rest []string, status int, done bool) {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(c.err)
	f.Usage = func() {
		fmt.Fprintf(c.err, "usage: roundel %s %s\n", name, args)
		f.PrintDefaults()
	}
	if set != nil {
		set(f)
	}
	switch err := f.Parse(argv); {
	case errors.Is(err, flag.ErrHelp):
		return nil, exitClean, true
	case err != nil:
		return nil, exitUsage, true
	}
	return f.Args(), 0, false
}

// one checks a command line for exactly one file and checks the draft in it.
func (c *command) one(name string, files []string) (*check.Report, int, bool) {
	if len(files) != 1 {
		return nil, c.wrong("%s takes one file, got %d", name, len(files)), false
	}
	text, err := c.read(files[0])
	if err != nil {
		fmt.Fprintf(c.err, "roundel: %v\n", err)
		return nil, exitUsage, false
	}
	report, err := check.Source(c.ctx, shown(files[0]), text, check.Options{})
	if err != nil {
		fmt.Fprintf(c.err, "roundel: %v\n", err)
		return nil, exitInternal, false
	}
	return report, 0, true
}

// shown is how a file is named in messages.
func shown(file string) string {
	if file == "-" {
		return "standard input"
	}
	return file
}

// read reads a file, or standard input for -, up to the limit of a draft.
func (c *command) read(file string) (string, error) {
	if file == "-" {
		return notation.Read(c.in)
	}
	f, err := os.Open(file)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return "", fmt.Errorf("%s is a directory", file)
	}
	return notation.Read(f)
}

func (c *command) rounds(argv []string) int {
	format := "text"
	files, status, done := c.flags("rounds", "[-format text|json] FILE", func(f *flag.FlagSet) {
		f.StringVar(&format, "format", format, "text or json")
	}, argv)
	if done {
		return status
	}
	if format != "text" && format != "json" {
		return c.wrong("-format is text or json, not %q", format)
	}
	report, status, ok := c.one("rounds", files)
	if !ok {
		return status
	}
	var err error
	if format == "json" {
		err = check.WriteRoundsJSON(c.out, report.Graph.Title, check.RoundTable(report.Graph))
	} else {
		err = check.WriteRounds(c.out, report.Graph, report.Draft.Terms)
	}
	return c.after(report, err)
}

// after ends a command that shows a worked draft: the findings go to standard
// error, so that nobody takes the figures of a faulty draft for right.
func (c *command) after(report *check.Report, err error) int {
	if err != nil {
		fmt.Fprintf(c.err, "roundel: %v\n", err)
		return exitInternal
	}
	if report.Worst() < notation.Error {
		return exitClean
	}
	check.WriteText(c.err, report, c.excerpts)
	return exitFindings
}

func (c *command) graph(argv []string) int {
	files, status, done := c.flags("graph", "FILE", nil, argv)
	if done {
		return status
	}
	report, status, ok := c.one("graph", files)
	if !ok {
		return status
	}
	return c.after(report, report.Graph.WriteJSON(c.out))
}

func (c *command) explain(argv []string) int {
	ids, status, done := c.flags("explain", "[RULE]", nil, argv)
	if done {
		return status
	}
	rules := check.Rules()
	switch len(ids) {
	case 0:
		for _, r := range rules {
			fmt.Fprintf(c.out, "%-17s %-8s %s\n", r.ID, r.Severity, r.Summary)
		}
		return exitClean
	case 1:
	default:
		return c.wrong("explain takes one rule, got %d", len(ids))
	}
	r, ok := check.FindRule(rules, ids[0])
	if !ok {
		names := make([]string, len(rules))
		for i, r := range rules {
			names[i] = r.ID
		}
		hint := ""
		if near := notation.Closest(ids[0], names); near != "" {
			hint = "; did you mean " + near + "?"
		}
		return c.wrong("there is no rule %q%s", ids[0], hint)
	}
	fmt.Fprintf(c.out, "%s (%s): %s\n\n%s\n\nA draft that breaks the rule:\n\n%s", r.ID, r.Severity, r.Summary, r.Doc.Text, indent(r.Doc.Failing))
	report, err := check.Source(c.ctx, "failing", r.Doc.Failing, check.Options{})
	if err == nil {
		for _, f := range report.Findings {
			fmt.Fprintf(c.out, "\n    %d:%d: %s\n", f.Span.Start.Line, f.Span.Start.Column, f.Text())
		}
	}
	fmt.Fprintf(c.out, "\nThe same, mended:\n\n%s", indent(r.Doc.Passing))
	return exitClean
}

func indent(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString("    " + line)
	}
	return b.String()
}
