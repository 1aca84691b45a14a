package main

import (
	"bufio"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"example.com/roundel/check"
	"example.com/roundel/model"
	"example.com/roundel/notation"
)

// check reports what is wrong with drafts.
func (c *command) check(argv []string) int {
	format, fail, fix, layout := "text", "error", false, false
	args, status, done := c.flags("check", "[-fix] [-layout] [-format text|json|sarif] [-fail error|warning|info] FILE|DIR|-...", func(f *flag.FlagSet) {
		f.BoolVar(&fix, "fix", false, "make the fixes that are certain, write the files back, and report what is left")
		f.BoolVar(&layout, "layout", false, "look at the layout as well; with -fix, lay drafts out as fmt does")
		f.StringVar(&format, "format", format, "text, json or sarif")
		f.StringVar(&fail, "fail", fail, "least severity that gives exit status 1: error, warning or info")
	}, argv)
	if done {
		return status
	}
	if format != "text" && format != "json" && format != "sarif" {
		return c.wrong("-format is text, json or sarif, not %q", format)
	}
	least := map[string]notation.Severity{"error": notation.Error, "warning": notation.Warning, "info": notation.Info}[fail]
	if least == 0 {
		return c.wrong("-fail is error, warning or info, not %q", fail)
	}
	if len(args) == 0 {
		return c.wrong("check needs a file, a directory, or - for standard input")
	}
	if fix && slices.Contains(args, "-") {
		return c.wrong("check -fix writes files back, and standard input is no file")
	}

	if c.options.Rules == nil {
		c.options.Rules = check.Rules() // once for all files
	}
	if layout {
		c.options.Rules = append(c.options.Rules, check.LayoutRule())
	}

	files, errs := find(args)
	for _, err := range errs {
		fmt.Fprintf(c.err, "roundel: %v\n", err)
		status = exitUsage
	}
	sum := summary{fix: fix}
	var reports []*check.Report
	check1 := c.checkFile
	if fix {
		check1 = c.fixFile
	}
	out := bufio.NewWriter(c.out) // what writes a report flushes it
	inOrder(files, check1, func(r result) {
		sum.add(r)
		if r.err != nil {
			fmt.Fprintf(c.err, "roundel: %v\n", r.err)
			status = max(status, r.status)
			return
		}
		if r.report.Worst() >= least {
			status = max(status, exitFindings)
		}
		if format == "text" {
			check.WriteFixed(out, r.report.File, r.made)
			check.WriteText(out, r.report, c.excerptsOut)
			return
		}
		// All findings are one JSON object; little else is kept till the end.
		kept := &check.Report{File: r.report.File, Findings: r.report.Findings, Allowed: r.report.Allowed}
		if len(kept.Allowed) > 0 {
			kept.Draft = r.report.Draft
		}
		reports = append(reports, kept)
	})
	switch {
	case format == "json":
		if err := check.WriteJSON(c.out, reports...); err != nil {
			return c.failed(err)
		}
	case format == "sarif":
		for _, r := range reports {
			r.File = fromHere(r.File)
		}
		if err := check.WriteSARIF(c.out, c.options.Rules, reports...); err != nil {
			return c.failed(err)
		}
	case sum.drafts > 0:
		fmt.Fprintln(c.out, sum)
	}
	return status
}

// fromHere is the path of a file from the current directory, where it lies
// below it.
func fromHere(file string) string {
	if !filepath.IsAbs(file) {
		return file
	}
	here, err := os.Getwd()
	if err != nil {
		return file
	}
	if rel, err := filepath.Rel(here, file); err == nil && filepath.IsLocal(rel) {
		return rel
	}
	return file
}

// find lists the drafts that the arguments name, each once, in order: files as
// they are, directories searched for *.rnd. DIR/... is the same as DIR.
func find(args []string) (files []string, errs []error) {
	seen := map[string]bool{}
	add := func(file string) {
		if clean := filepath.Clean(file); !seen[clean] {
			seen[clean] = true
			files = append(files, file)
		}
	}
	for _, arg := range args {
		// With a slash at its end a link to a directory is searched as well.
		dir := strings.TrimSuffix(arg, "/...") + "/"
		if info, err := os.Stat(dir); arg == "-" || arg == "" || err != nil || !info.IsDir() {
			add(arg) // a missing file is reported when it is read
			continue
		}
		drafts := 0
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				errs = append(errs, err)
			case !d.IsDir() && filepath.Ext(path) == ".rnd":
				drafts++
				add(path)
			}
			return nil
		})
		if err != nil {
			errs = append(errs, err)
		}
		if drafts == 0 {
			errs = append(errs, fmt.Errorf("%s holds no drafts (*.rnd)", arg))
		}
	}
	return files, errs
}

// inOrder checks files on all cores and hands on the results in the order of
// the files.
func inOrder(files []string, check func(file string) result, each func(result)) {
	type job struct {
		file string
		done chan result
	}
	cores := runtime.GOMAXPROCS(0)
	// How many results may wait for a slow one before them is bounded; there
	// are enough that no core has to wait for one that is not so slow. Nor does
	// one wait for its next file.
	jobs, order := make(chan job, 16*cores), make(chan chan result, 16*cores)
	go func() {
		defer close(jobs)
		defer close(order)
		for _, file := range files {
			j := job{file, make(chan result, 1)}
			order <- j.done
			jobs <- j
		}
	}()
	for range cores {
		go func() {
			for j := range jobs {
				j.done <- check(j.file)
			}
		}()
	}
	for done := range order {
		each(<-done)
	}
}

// A summary is the last line of a check.
type summary struct {
	drafts, rounds, stitches int
	found                    [notation.Error + 1]int
	allowed                  int
	fix                      bool // fixes are made
	fixed                    int  // with fix what was fixed, else what could be
	notWorked                int  // rounds
	notRead                  int  // files
}

func (s *summary) add(r result) {
	if r.err != nil {
		s.notRead++
		return
	}
	s.drafts++
	for _, g := range r.report.Graph.Pieces() {
		for i, round := range g.Rounds() {
			s.rounds++
			s.stitches += g.Counts(i).Total
			if round.Status == model.NotWorked {
				s.notWorked++
			}
		}
	}
	for _, f := range r.report.Findings {
		s.found[f.Severity]++
		if _, ok := f.Fix(); ok && !s.fix {
			s.fixed++
		}
	}
	s.fixed += len(r.made)
	s.allowed += len(r.report.Allowed)
}

// String reads: 2 drafts, 7 rounds, 214 stitches: 1 error, 2 warnings.
func (s summary) String() string {
	var parts []string
	some := func(n int, one, many string) {
		if n > 0 {
			parts = append(parts, count(n, one, many))
		}
	}
	some(s.found[notation.Error], "error", "errors")
	some(s.found[notation.Warning], "warning", "warnings")
	some(s.found[notation.Info], "info", "info")
	if len(parts) == 0 {
		parts = append(parts, "nothing to report")
	}
	if s.fix {
		some(s.fixed, "finding fixed", "findings fixed")
	}
	some(s.allowed, "finding allowed", "findings allowed")
	some(s.notWorked, "round not checked", "rounds not checked")
	some(s.notRead, "file not checked", "files not checked")
	if s.fixed > 0 && !s.fix {
		parts = append(parts, fmt.Sprintf("-fix mends %d", s.fixed))
	}
	return fmt.Sprintf("%s, %s, %s: %s", count(s.drafts, "draft", "drafts"), count(s.rounds, "round", "rounds"),
		count(s.stitches, "stitch", "stitches"), strings.Join(parts, ", "))
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
