package tomlfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// maxSize is the largest file that is read. The job of a large engine takes a tenth
// of it; the decoder looks for keys given twice in a time that grows with the
// square of the file.
const maxSize = 256 << 10

// Load reads the file named, or what is left of stdin if the name is "-". It returns what
// to call it in errors. A file that is too large to be decoded is refused before it is read.
func Load(name string, stdin io.Reader) (called string, src []byte, err error) {
	if name == "-" {
		src, err = io.ReadAll(io.LimitReader(stdin, maxSize+1))
		if err == nil && len(src) > maxSize {
			err = tooLarge("standard input", 0)
		}
		return "standard input", src, err
	}
	f, err := os.Open(name)
	if errors.Is(err, os.ErrNotExist) {
		return name, nil, fmt.Errorf("%s: there is no such file; look at its name and its folder: %w", name, os.ErrNotExist)
	}
	if err != nil {
		return name, nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	switch {
	case err != nil:
		return name, nil, err
	case info.IsDir():
		return name, nil, fmt.Errorf("%s is a folder; name a file in it", name)
	case info.Size() > maxSize:
		return name, nil, tooLarge(name, info.Size())
	}
	src, err = io.ReadAll(io.LimitReader(f, maxSize+1))
	if err == nil && len(src) > maxSize {
		err = tooLarge(name, 0)
	}
	return name, src, err
}

// Folder returns the folder in which a file that Load reads lies; nil for standard input,
// which lies in none.
func Folder(name string) fs.FS {
	if name == "-" {
		return nil
	}
	return os.DirFS(filepath.Dir(name))
}

// tooLarge is the error of a file of that many bytes; of zero, nobody counted them.
func tooLarge(file string, size int64) Errors {
	what := "a file"
	if size > 0 {
		what = fmt.Sprintf("a file of %d kB", (size+1023)>>10)
	}
	return Errors{{File: file, What: fmt.Sprintf("%s, and at most %d kB are read; look whether it is the right one, and take out what does not belong in it", what, maxSize>>10)}}
}
