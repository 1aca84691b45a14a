// Command roundel checks drafts of crochet motifs worked in rounds.
//
//	roundel check [-fix] [-layout] [-format text|json|sarif] [-fail error|warning|info] FILE|DIR|-...
//	roundel rounds [-format text|json] FILE
//	roundel size [-units cm|in] [-format text|json] [-target 45cm] [-motifs N] [-margin N] FILE
//	roundel fmt [-l] [-w] FILE...
//	roundel explain [RULE]
//	roundel graph FILE
//	roundel write [-terms us|uk|both] [-format md|txt] FILE
//	roundel chart [-picture stitches|plan|growth] [-colour] [-terms us|uk|both] [-symbols N] [-o FILE.svg] FILE
//
// A directory is searched for files named *.rnd; - is standard input. Files are
// written only with -fix, -w and -o; what a link leads to is written, not the link,
// and a file keeps its mode. The exit
// status is 0 when there is nothing to report, 1 when there are findings at or
// above the severity given with -fail (or, for fmt, drafts that cannot be read
// or, with -l, are not in standard layout), 2 for a wrong call or a file that
// cannot be read or written, 3 for an internal failure, or when the output
// cannot be written. The highest of them counts.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
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
	// A call is short: it gives memory for time. A GOGC that is set counts.
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(800)
	}
	c := &command{
		in: os.Stdin, out: os.Stdout, err: os.Stderr,
		excerptsOut: isTerminal(os.Stdout), excerptsErr: isTerminal(os.Stderr),
	}
	os.Exit(c.run(os.Args[1:]))
}

func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// A command is one call, with everything it reads and writes.
type command struct {
	in       io.Reader
	out, err io.Writer
	// Findings come with excerpts where somebody looks on.
	excerptsOut, excerptsErr bool
	options                  check.Options
}

const usage = `usage:
  roundel check [-fix] [-layout] [-format text|json|sarif] [-fail error|warning|info] FILE|DIR|-...
  roundel rounds [-format text|json] FILE
  roundel size [-units cm|in] [-format text|json] [-target 45cm] [-motifs N] [-margin N] FILE
  roundel fmt [-l] [-w] FILE...
  roundel explain [RULE]
  roundel graph FILE
  roundel write [-terms us|uk|both] [-format md|txt] FILE
  roundel chart [-picture stitches|plan|growth] [-colour] [-terms us|uk|both] [-symbols N] [-o FILE.svg] FILE

check    reports what is wrong with drafts; a directory is searched for *.rnd
rounds   lists what each round holds: stitches by kind, spaces, corners, sides
size     says how large the piece comes out, and how much yarn it takes
fmt      lays drafts out in the standard way
explain  says what a rule means, with a draft that breaks it and one that does not
graph    writes the worked piece as JSON
write    writes the pattern: materials, sizes, every round in words
chart    draws the stitches with their symbols, the colours or the growth, as SVG
`

// names lists the commands in the order in which help shows them.
var names = []string{"check", "rounds", "size", "fmt", "explain", "graph", "write", "chart"}

// run carries out a call and returns its exit status.
func (c *command) run(args []string) (status int) {
	out := &output{Writer: c.out}
	call := *c
	call.out = out
	defer func() {
		if r := recover(); r != nil {
			status = call.failed(fmt.Errorf("internal failure: %v\n%s", r, debug.Stack()))
		}
	}()
	status = call.dispatch(args)
	if out.err != nil && status < exitInternal {
		status = call.failed(out.err)
	}
	return status
}

// An output remembers the first error, so that a report that was cut short does
// not pass for a clean one.
type output struct {
	io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.Writer.Write(p)
	o.err = err
	return n, err
}

func (c *command) dispatch(args []string) int {
	if len(args) == 0 {
		fmt.Fprint(c.err, usage)
		return exitUsage
	}
	name, args := args[0], args[1:]
	switch name {
	case "check":
		return c.check(args)
	case "rounds":
		return c.rounds(args)
	case "size":
		return c.size(args)
	case "fmt":
		return c.format(args)
	case "explain":
		return c.explain(args)
	case "graph":
		return c.graph(args)
	case "write":
		return c.write(args)
	case "chart":
		return c.chart(args)
	case "help", "-h", "-help", "--help":
		fmt.Fprint(c.out, usage)
		return exitClean
	}
	return c.wrong("there is no command %q%s", name, didYouMean(name, names))
}

func didYouMean(word string, words []string) string {
	if near := notation.Closest(word, words); near != "" {
		return "; did you mean " + near + "?"
	}
	return ""
}

// wrong reports a wrong call.
func (c *command) wrong(format string, args ...any) int {
	fmt.Fprintf(c.err, "roundel: "+format+"\n", args...)
	fmt.Fprintln(c.err, "roundel help lists the commands")
	return exitUsage
}

// failed reports an internal failure.
func (c *command) failed(err error) int {
	fmt.Fprintf(c.err, "roundel: %v\n", err)
	return exitInternal
}

// flags parses flags; done tells that the call ends here with the status.
func (c *command) flags(name, args string, set func(*flag.FlagSet), argv []string) (rest []string, status int, done bool) {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	if set != nil {
		set(f)
	}
	help := func(w io.Writer) {
		fmt.Fprintf(w, "usage: roundel %s %s\n", name, args)
		f.SetOutput(w)
		f.PrintDefaults()
	}
	switch err := f.Parse(argv); {
	case errors.Is(err, flag.ErrHelp):
		help(c.out)
		return nil, exitClean, true
	case err != nil:
		fmt.Fprintf(c.err, "roundel: %v\n", err)
		help(c.err)
		return nil, exitUsage, true
	}
	for _, arg := range f.Args() {
		if len(arg) > 1 && arg[0] == '-' {
			return nil, c.wrong("%s stands after a file; flags come first (a file of that name is ./%s)", arg, arg), true
		}
	}
	return f.Args(), exitClean, false
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
	limits := notation.WithLimits(c.options.Text)
	if file == "-" {
		return notation.Read(c.in, limits)
	}
	return notation.ReadFile(disk{}, file, limits)
}

// disk opens files by any path, where os.DirFS knows only those below one
// directory.
type disk struct{}

func (disk) Open(name string) (fs.File, error) { return os.Open(name) }

// A result is what came of checking one file.
type result struct {
	report *check.Report
	made   []check.Finding // findings that were fixed
	err    error
	status int // exit status that err calls for
}

// checkFile checks one file. That a rule fails on one draft must not keep the
// others from being checked.
func (c *command) checkFile(file string) (r result) {
	defer recoverFile(file, &r)
	text, err := c.read(file)
	if err != nil {
		return result{err: err, status: exitUsage}
	}
	report, err := check.Source(context.Background(), shown(file), text, c.options)
	if err != nil {
		return result{err: fmt.Errorf("%s: %w", shown(file), err), status: exitInternal}
	}
	return result{report: report}
}

// fixFile fixes one file and writes it back.
func (c *command) fixFile(file string) (r result) {
	defer recoverFile(file, &r)
	text, err := c.read(file)
	if err != nil {
		return result{err: err, status: exitUsage}
	}
	fixed, err := check.Fix(context.Background(), file, text, c.options)
	if err != nil {
		return result{err: fmt.Errorf("%s: %w", file, err), status: exitInternal}
	}
	if fixed.Text != text {
		if err := replace(file, fixed.Text); err != nil {
			return result{err: err, status: exitUsage}
		}
	}
	return result{report: fixed.Report, made: fixed.Made}
}

// recoverFile makes a panic the result for the file.
func recoverFile(file string, r *result) {
	if p := recover(); p != nil {
		*r = result{err: fmt.Errorf("%s: internal failure: %v\n%s", shown(file), p, debug.Stack()), status: exitInternal}
	}
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
	return c.show("rounds", files, func(r *check.Report) error {
		if format == "json" {
			return check.WriteRoundsJSON(c.out, r)
		}
		return check.WriteRounds(c.out, r, r.Draft.Terms)
	})
}

func (c *command) graph(argv []string) int {
	files, status, done := c.flags("graph", "FILE", nil, argv)
	if done {
		return status
	}
	return c.show("graph", files, func(r *check.Report) error { return r.Graph.WriteJSON(c.out) })
}

// show writes something about the one draft that a call names. If there are
// errors in it they go to standard error, so that nobody takes the figures of
// a faulty draft for right.
func (c *command) show(name string, files []string, write func(*check.Report) error) int {
	if len(files) != 1 {
		return c.wrong("%s takes one file, got %d", name, len(files))
	}
	r := c.checkFile(files[0])
	if r.err != nil {
		fmt.Fprintf(c.err, "roundel: %v\n", r.err)
		return r.status
	}
	if err := write(r.report); err != nil {
		return c.failed(err)
	}
	if r.report.Worst() < notation.Error {
		return exitClean
	}
	check.WriteText(c.err, r.report, c.excerptsErr)
	return exitFindings
}

// faulty says what was made of a draft with errors, for whoever sees no more
// than the findings. What rounds and graph print is what was worked, by what
// they are for.
func (c *command) faulty(file, made string) int {
	fmt.Fprintf(c.err, "roundel: %s has errors: %s\n", shown(file), made)
	return exitFindings
}

func (c *command) explain(argv []string) int {
	ids, status, done := c.flags("explain", "[RULE]", nil, argv)
	if done {
		return status
	}
	rules := append(check.Rules(), check.LayoutRule())
	if len(ids) == 0 {
		for _, r := range rules {
			fmt.Fprintf(c.out, "%-17s %-8s %s\n", r.ID, r.Severity, r.Summary)
		}
		return exitClean
	}
	if len(ids) > 1 {
		return c.wrong("explain takes one rule, got %d", len(ids))
	}
	r, ok := check.FindRule(rules, ids[0])
	if !ok {
		var all []string
		for _, r := range rules {
			all = append(all, r.ID)
		}
		return c.wrong("there is no rule %q%s; roundel explain lists the rules", ids[0], didYouMean(ids[0], all))
	}
	fmt.Fprintf(c.out, "%s (%s): %s\n\n%s\n\nA draft that breaks the rule:\n\n%s", r.ID, r.Severity, r.Summary, r.Doc.Text, indent(r.Doc.Failing))
	report, err := check.Source(context.Background(), "failing", r.Doc.Failing, check.Options{Rules: rules})
	if err != nil {
		return c.failed(err)
	}
	for _, f := range report.Findings {
		fmt.Fprintf(c.out, "\n    %d:%d: %s\n", f.Span.Start.Line, f.Span.Start.Column, f.Text())
	}
	fmt.Fprintf(c.out, "\nThe same, mended:\n\n%s", indent(r.Doc.Passing))
	if r.Doc.Fix != "" {
		fmt.Fprintf(c.out, "\nroundel check -fix: %s.\n", r.Doc.Fix)
	}
	return exitClean
}

func indent(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString("    " + line)
	}
	return b.String()
}
