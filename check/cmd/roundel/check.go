package main

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"

	"example.com/roundel/check"
	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// check reports what is wrong with drafts.
func (c *command) check(argv []string) int {
	format, fail := "text", "error"
	args, status, done := c.flags("check", "[-format text|json] [-fail error|warning|info] FILE|DIR|-...", func(f *flag.FlagSet) {
		f.StringVar(&format, "format", format, "text or json")
		f.StringVar(&fail, "fail", fail, "least severity that gives exit status 1: error, warning or info")
	}, argv)
	if done {
		return status
	}
	if format != "text" && format != "json" {
		return c.wrong("-format is text or json, not %q", format)
	}
	least := map[string]notation.Severity{"error": notation.Error, "warning": notation.Warning, "info": notation.Info}[fail]
	if least == 0 {
		return c.wrong("-fail is error, warning or info, not %q", fail)
	}
	if len(args) == 0 {
		return c.wrong("check needs a file, a directory, or - for standard input")
	}

	status = exitClean
	worse := func(s int) { status = max(status, s) }
	files, errs := find(args)
	for _, err := range errs {
		fmt.Fprintf(c.err, "roundel: %v\n", err)
		worse(exitUsage)
	}
	var sum summary
	var reports []*check.Report
	for result := range c.checkAll(files) {
		if result.err != nil {
			fmt.Fprintf(c.err, "roundel: %v\n", result.err)
			worse(result.status)
			continue
		}
		r := result.report
		sum.add(r)
		if r.Worst() >= least {
			worse(exitFindings)
		}
		if format == "json" {
			r.Graph, r.Draft, r.Source = nil, nil, ""
			reports = append(reports, r)
			continue
		}
		check.WriteText(c.out, r, c.excerpts)
	}
	if format == "json" {
		if err := check.WriteJSON(c.out, reports...); err != nil {
			fmt.Fprintf(c.err, "roundel: %v\n", err)
			worse(exitInternal)
		}
	} else if sum.drafts > 0 {
		fmt.Fprintln(c.out, sum)
	}
	return status
}

// find lists the drafts that the arguments name, in order: files as they are,
// directories searched for *.rnd. DIR/... is the same as DIR.
func find(args []string) (files []string, errs []error) {
	for _, arg := range args {
		dir := strings.TrimSuffix(arg, "/...")
		if dir == "" {
			dir = "/"
		}
		info, err := os.Stat(dir)
		if arg == "-" || err == nil && !info.IsDir() || err != nil {
			files = append(files, arg) // a missing file is reported when it is read
			continue
		}
		n := len(files)
		err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				errs = append(errs, err)
				return nil
			}
			if !d.IsDir() && filepath.Ext(path) == ".rnd" {
				files = append(files, path)
			}
			return nil
		})
		if err != nil {
			errs = append(errs, err)
		}
		if len(files) == n {
			errs = append(errs, fmt.Errorf("%s holds no drafts (*.rnd)", dir))
		}
	}
	return files, errs
}

// A result is what came of one file.
type result struct {
	report *check.Report
	err    error
	status int // exit status that err calls for
}

// checkAll checks files on all cores and yields the results in the order of
// the files.
func (c *command) checkAll(files []string) func(func(result) bool) {
	return func(yield func(result) bool) {
		workers := min(runtime.GOMAXPROCS(0), len(files))
		// Each file has its own channel of one result; the window bounds how
		// far the workers run ahead of the output.
		slots := make([]chan result, len(files))
		for i := range slots {
			slots[i] = make(chan result, 1)
		}
		next := make(chan int)
		stop := make(chan struct{})
		window := make(chan struct{}, 4*max(workers, 1))
		defer close(stop)
		go func() {
			defer close(next)
			for i := range files {
				select {
				case window <- struct{}{}:
				case <-stop:
					return
				}
				select {
				case next <- i:
				case <-stop:
					return
				}
			}
		}()
		for range workers {
			go func() {
				for i := range next {
					slots[i] <- c.checkFile(files[i])
				}
			}()
		}
		for i := range files {
			r := <-slots[i]
			<-window
			if !yield(r) {
				return
			}
		}
	}
}

func (c *command) checkFile(file string) (r result) {
	defer func() {
		if p := recover(); p != nil {
			r = result{err: fmt.Errorf("%s: internal failure: %v\n%s", file, p, debug.Stack()), status: exitInternal}
		}
	}()
	text, err := c.read(file)
	if err != nil {
		return result{err: err, status: exitUsage}
	}
	report, err := check.Source(c.ctx, shown(file), text, check.Options{})
	if err != nil {
		return result{err: fmt.Errorf("%s: %w", file, err), status: exitInternal}
	}
	return result{report: report}
}

// A summary is the last line of a check.
type summary struct {
	drafts, rounds, stitches int
	found                    [notation.Error + 1]int
	allowed                  int
}

func (s *summary) add(r *check.Report) {
	s.drafts++
	for i, round := range r.Graph.Rounds() {
		if round.Status != model.NotWorked {
			s.rounds++
			s.stitches += r.Graph.Counts(i).Total
		}
	}
	for _, f := range r.Findings {
		s.found[f.Severity]++
	}
	s.allowed += len(r.Allowed)
}

func (s summary) String() string {
	var parts []string
	for severity := notation.Error; severity >= notation.Info; severity-- {
		if n := s.found[severity]; n > 0 {
			name := severity.String()
			if n > 1 && severity != notation.Info {
				name += "s"
			}
			parts = append(parts, fmt.Sprintf("%d %s", n, name))
		}
	}
	if len(parts) == 0 {
		parts = []string{"nothing to report"}
	}
	if s.allowed > 0 {
		parts = append(parts, fmt.Sprintf("%d allowed", s.allowed))
	}
	return fmt.Sprintf("%s, %s, %s: %s", count(s.drafts, "draft"), count(s.rounds, "round"), stitches(s.stitches), strings.Join(parts, ", "))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func stitches(n int) string {
	if n == 1 {
		return "1 stitch"
	}
	return fmt.Sprintf("%d stitches", n)
}
