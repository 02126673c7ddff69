package schemefile

import (
	"io"

	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/grading"
)

// Read reads a scheme from the text src of the file named. The error is of
// tomlfile, with the line of each fault; it wraps what the reader of a size or of
// a half says. Whether the scheme makes sense is for its Validate to say.
func Read(file string, src []byte) (*grading.Scheme, error) {
	s := &grading.Scheme{}
	if _, err := tomlfile.Decode(file, src, s); err != nil {
		return nil, err
	}
	return s, nil
}

// Write writes a scheme as Read reads it, with every digit. The error is the
// writer's.
func Write(w io.Writer, s *grading.Scheme) error { return toml.NewEncoder(w).Encode(s) }
