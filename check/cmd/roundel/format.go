package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"example.com/roundel/check"
	"example.com/roundel/notation"
)

// format lays drafts out in the standard way.
func (c *command) format(argv []string) int {
	list, write := false, false
	files, status, done := c.flags("fmt", "[-l] [-w] FILE...", func(f *flag.FlagSet) {
		f.BoolVar(&list, "l", false, "list files that are not in standard layout; exit status 1 if there are any")
		f.BoolVar(&write, "w", false, "write the result back to the file instead of to standard output")
	}, argv)
	if done {
		return status
	}
	if len(files) == 0 {
		return c.wrong("fmt needs a file, or - for standard input")
	}
	if write && slices.Contains(files, "-") {
		return c.wrong("fmt -w writes files back, and standard input is no file")
	}
	for _, file := range files {
		status = max(status, c.formatFile(file, list, write))
	}
	return status
}

func (c *command) formatFile(file string, list, write bool) int {
	text, err := c.read(file)
	if err != nil {
		fmt.Fprintf(c.err, "roundel: %v\n", err)
		return exitUsage
	}
	draft, findings := notation.Parse(shown(file), text, notation.WithLimits(c.options.Text))
	// What cannot be read cannot be laid out.
	unread := &check.Report{File: shown(file), Source: text}
	for _, f := range findings {
		if f.Rule == "syntax" || f.Rule == "limit" {
			unread.Findings = append(unread.Findings, f)
		}
	}
	if len(unread.Findings) > 0 {
		check.WriteText(c.err, unread, c.excerptsErr)
		return exitFindings
	}
	formatted := notation.Format(draft)
	if write && formatted != text {
		if err := replace(file, formatted); err != nil {
			fmt.Fprintf(c.err, "roundel: %v\n", err)
			return exitUsage
		}
	}
	if list && formatted != text {
		fmt.Fprintln(c.out, shown(file))
		return exitFindings
	}
	if !list && !write {
		fmt.Fprint(c.out, formatted)
	}
	return exitClean
}

// replace writes a file anew without ever leaving half of it: the text goes to
// a new file beside it, which then takes its name and its mode.
func replace(file, text string) error {
	// A link stays a link; what it leads to is replaced.
	file, err := filepath.EvalSymlinks(file)
	if err != nil {
		return err
	}
	info, err := os.Stat(file)
	if err != nil {
		return err
	}
	if info.Mode()&0o200 == 0 {
		return fmt.Errorf("%s is write-protected", file)
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".roundel-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // gone already when all goes well
	defer tmp.Close()
	if _, err := tmp.WriteString(text); err != nil {
		return err
	}
	if err := tmp.Chmod(info.Mode().Perm()); err != nil {
		return err
	}
	if err := tmp.Close(); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), file)
}
