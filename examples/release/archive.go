package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"time"
)

// A file is one of an archive.
type file struct {
	name string // with slashes, below the top of the archive
	run  bool   // it is a program
	text []byte
}

func (f file) mode() fs.FileMode {
	if f.run {
		return 0o755
	}
	return 0o644
}

// pack writes an archive of the kind that its name ends in. What it writes depends on the files and the
// time alone: not on their order, on who runs it, or when.
func pack(w io.Writer, name string, at time.Time, files []file) error {
	files = slices.SortedFunc(slices.Values(files), func(a, b file) int { return strings.Compare(a.name, b.name) })
	for i, f := range files {
		if !fs.ValidPath(f.name) || strings.Contains(f.name, `\`) {
			return fmt.Errorf("%q is no name of a file in an archive", f.name)
		}
		if i > 0 && files[i-1].name == f.name {
			return fmt.Errorf("%s is there twice", f.name)
		}
	}
	at = at.UTC().Truncate(time.Second)
	switch {
	case strings.HasSuffix(name, ".zip"):
		return zipped(w, at, files)
	case strings.HasSuffix(name, ".tar.gz"), strings.HasSuffix(name, ".tgz"):
		return tarred(w, at, files)
	}
	return fmt.Errorf("%s is of no kind that is written: .zip, .tar.gz, .tgz", name)
}

func tarred(w io.Writer, at time.Time, files []file) error {
	packed, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return err
	}
	t := tar.NewWriter(packed)
	for _, f := range files {
		h := &tar.Header{Typeflag: tar.TypeReg, Name: f.name, Size: int64(len(f.text)), Mode: int64(f.mode()), ModTime: at, Format: tar.FormatUSTAR}
		if err := t.WriteHeader(h); err != nil {
			return err
		}
		if _, err := t.Write(f.text); err != nil {
			return err
		}
	}
	if err := t.Close(); err != nil {
		return err
	}
	return packed.Close()
}

func zipped(w io.Writer, at time.Time, files []file) error {
	z := zip.NewWriter(w)
	for _, f := range files {
		h := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: at}
		h.SetMode(f.mode())
		part, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		if _, err := part.Write(f.text); err != nil {
			return err
		}
	}
	return z.Close()
}

// unpack returns the files of an archive of .tar.gz or .tgz.
func unpack(r io.Reader) ([]file, error) {
	packed, err := gzip.NewReader(r)
	if err != nil {
		return nil, err
	}
	var files []file
	for t := tar.NewReader(packed); ; {
		h, err := t.Next()
		if err == io.EOF {
			return files, nil
		}
		if err != nil {
			return nil, err
		}
		text, err := io.ReadAll(t)
		if err != nil {
			return nil, err
		}
		files = append(files, file{h.Name, h.Mode&0o111 != 0, text})
	}
}

// unzip returns the files of a .zip.
func unzip(text []byte) ([]file, error) {
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil {
		return nil, err
	}
	var files []file
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		text, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		files = append(files, file{f.Name, f.Mode()&0o111 != 0, text})
	}
	return files, nil
}
