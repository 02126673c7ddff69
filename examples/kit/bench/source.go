package bench

import (
	"bytes"
	"errors"
	"fmt"
	"hash/fnv"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
)

// A Source is the text of a job file, and the files beside it that it names.
type Source struct {
	Name   string
	Text   []byte
	Beside map[string]string // by their names; may be nil
}

// Read reads the job.
func (s Source) Read() (*job.Job, error) { return job.ReadBeside(beside(s.Beside), s.Name, s.Text) }

// Revision tells one text of a job from another.
func (s Source) Revision() string {
	h := fnv.New64a()
	h.Write(s.Text)
	for _, name := range sortedNames(s.Beside) {
		fmt.Fprintf(h, "\x00%s\x00%s", name, s.Beside[name])
	}
	return strconv.FormatUint(h.Sum64(), 36)
}

// beside are files as a folder.
type beside map[string]string

// Open opens one of the files.
func (b beside) Open(name string) (fs.File, error) {
	text, there := b[name]
	if !there {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &besideFile{bytes.NewReader([]byte(text)), name, int64(len(text))}, nil
}

type besideFile struct {
	*bytes.Reader
	name string
	size int64
}

func (f *besideFile) Stat() (fs.FileInfo, error) { return f, nil }
func (f *besideFile) Close() error               { return nil }
func (f *besideFile) Name() string               { return f.name }
func (f *besideFile) Size() int64                { return f.size }
func (f *besideFile) Mode() fs.FileMode          { return 0o444 }
func (f *besideFile) ModTime() (t time.Time)     { return t }
func (f *besideFile) IsDir() bool                { return false }
func (f *besideFile) Sys() any                   { return nil }

// A Recorder is a folder that remembers which of its files were read, so that they can go where the job goes.
type Recorder struct {
	fs.FS
	Files map[string]string
}

// ReadFile reads a file, and remembers it.
func (r *Recorder) ReadFile(name string) ([]byte, error) {
	text, err := fs.ReadFile(r.FS, name)
	if err == nil {
		r.Files[name] = string(text)
	}
	return text, err
}

// InWords is what is wrong with a job, without the file's name.
func InWords(err error) string {
	var all tomlfile.Errors
	if !errors.As(err, &all) || len(all) == 0 {
		return err.Error()
	}
	text := all[0].What
	if len(all) > 1 {
		text += fmt.Sprintf("; and %d more", len(all)-1)
	}
	return text
}

// A refusal is an error of a job's file as it is told to somebody who picked the file at a page, and may never have seen into it.
type refusal struct{ err error }

func (r refusal) Unwrap() error { return r.err }

func (r refusal) Error() string {
	var all tomlfile.Errors
	if !errors.As(r.err, &all) || len(all) == 0 {
		return r.err.Error()
	}
	e, text := all[0], ""
	word, found := strings.CutPrefix(e.What, "unknown key ")
	switch {
	case errors.Is(e, tomlfile.ErrUnknownKey) && found:
		said, fix, _ := strings.Cut(word, "; ")
		name, table, there := strings.Cut(said, " in ")
		text = "has the word " + name
		if there {
			text += " in what it says of " + spoken(table)
		}
		text += ", which no job has there; " + fix
	case e.Line == 0:
		text = "is no whole job: " + strings.TrimPrefix(spoken(e.Path)+": "+e.What, ": ")
	case e.Path == "":
		text = "is not written as in a job file: " + e.What
	default:
		text = "is wrong about " + spoken(e.Path) + ": " + e.What
	}
	begin := "The file "
	if e.Line > 0 {
		begin = fmt.Sprintf("Line %d of it ", e.Line)
	}
	more := ""
	if n := len(all) - 1; n == 1 {
		more = " There is one more."
	} else if n > 1 {
		more = fmt.Sprintf(" There are %d more.", n)
	}
	return begin + text + "." + more + " Choose another file, or mend this one in a text editor."
}

// spoken is what the path of a value is about: "limits of main bearing clearance".
func spoken(path string) string {
	parts := strings.Split(path, ".")
	if len(parts) > 1 && slices.Contains([]string{"measure", "instruments"}, parts[0]) {
		parts = parts[1:]
	}
	if parts[0] == "engine" {
		parts[0] = "the engine"
	}
	slices.Reverse(parts)
	return strings.ReplaceAll(strings.Join(parts, " of "), "_", " ")
}
