package notation

import (
	"errors"
	"io"
	"io/fs"
	"math"
	"os"
)

// ParseFile reads the draft in a file of the operating system; see ParseFS.
func ParseFile(name string, options ...Option) (*Draft, []Finding, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	text, err := Read(f, options...)
	if err != nil {
		return nil, nil, err
	}
	draft, findings := Parse(name, text, options...)
	return draft, findings, nil
}

// ParseFS reads the draft in a file of fsys. It returns an error, and no
// draft, when the file cannot be read; everything else is a finding. A file
// longer than the limit is not read to its end.
func ParseFS(fsys fs.FS, name string, options ...Option) (*Draft, []Finding, error) {
	text, err := ReadFile(fsys, name, options...)
	if err != nil {
		return nil, nil, err
	}
	draft, findings := Parse(name, text, options...)
	return draft, findings, nil
}

// ReadFile reads the text of a draft from fsys, no further than one byte past
// the limit: enough for Parse to see that the text is too long.
func ReadFile(fsys fs.FS, name string, options ...Option) (string, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return "", &fs.PathError{Op: "read", Path: name, Err: errors.New("is a directory")}
	}
	return Read(f, options...)
}

// Read reads the text of a draft from r, no further than one byte past the
// limit.
func Read(r io.Reader, options ...Option) (string, error) {
	text, err := io.ReadAll(io.LimitReader(r, min(int64(configOf(options).limits.Bytes), math.MaxInt64-1)+1))
	return string(text), err
}
