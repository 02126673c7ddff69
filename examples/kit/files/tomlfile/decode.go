package tomlfile

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// maxSize is the largest file that is read. The job of a large engine takes a tenth
// of it; the decoder looks for keys given twice in a time that grows with the
// square of the file.
const maxSize = 256 << 10

// Decode fills the struct that v points to from the TOML text src of the file
// named, and returns where everything in the file stands. The error is Errors.
func Decode(file string, src []byte, v any) (*Places, error) {
	if len(src) > maxSize {
		what := fmt.Sprintf("a file of %d bytes; at most %d are read", len(src), maxSize)
		return nil, Errors{{File: file, What: what}}
	}
	src = bytes.TrimPrefix(src, []byte("\ufeff")) // some editors begin a file with it
	err := toml.Unmarshal(src, v)
	var wrong *toml.DecodeError
	switch {
	case err == nil:
		found := survey(src)
		if err := found.unknown(file, reflect.TypeOf(v)).Sorted(); err != nil {
			return nil, err
		}
		return &Places{file: file, lines: found.lines}, nil
	case errors.As(err, &wrong):
		line, _ := wrong.Position()
		return nil, Errors{{File: file, Line: line, What: plain(wrong, src), Err: err}}
	}
	return nil, Errors{{File: file, What: strings.TrimPrefix(err.Error(), "toml: "), Err: err}}
}

// plain says in a user's words what the decoder found.
func plain(e *toml.DecodeError, src []byte) string {
	text := strings.TrimPrefix(e.Error(), "toml: ")
	if !strings.Contains(text, "cannot decode TOML") {
		return text
	}
	kind, into := "", ""
	if fields := strings.Fields(text[strings.Index(text, "TOML"):]); len(fields) > 1 {
		kind = fields[1]
	}
	_, into, _ = strings.Cut(text, " into ")
	_, into, _ = strings.Cut(into, " of type ")
	value := valueAt(e, src)
	switch into = strings.TrimSpace(into); {
	case into == "string" && (kind == "integer" || kind == "float"):
		return fmt.Sprintf("%s, a bare number, where a text belongs; write it in quotes, a quantity with its unit, as in \"%s mm\"", value, value)
	case into == "string":
		return fmt.Sprintf("%s, where a text belongs; write it in quotes", value)
	case strings.HasPrefix(into, "[]"):
		return fmt.Sprintf("%s, where a list belongs; write it as [%s]", value, value)
	case kind == "string" && (strings.HasPrefix(into, "int") || strings.HasPrefix(into, "uint")):
		return fmt.Sprintf("%s, a text where a whole number belongs; write it without quotes", value)
	case kind == "float" && (strings.HasPrefix(into, "int") || strings.HasPrefix(into, "uint")):
		return fmt.Sprintf("%s, where a whole number belongs", value)
	case strings.HasPrefix(into, "map["), strings.Contains(into, "."):
		return fmt.Sprintf("%s, where a table belongs; write it in braces, as in { 1 = \"…\" }", value)
	case into == "bool":
		return fmt.Sprintf("%s, where true or false belongs", value)
	}
	return text
}

// valueAt returns the text of the line from where the error points.
func valueAt(e *toml.DecodeError, src []byte) string {
	row, column := e.Position()
	all := strings.Split(string(src), "\n")
	if row < 1 || row > len(all) || column < 1 || column > len(all[row-1]) {
		return "a value"
	}
	text := all[row-1][column-1:]
	if _, after, ok := strings.Cut(text, "="); ok && !strings.ContainsAny(text[:1], `"'[{+-0123456789`) {
		text = after
	}
	text, _, _ = strings.Cut(text, "#")
	if text = strings.TrimSpace(text); text != "" && !strings.ContainsAny(text[:1], "\"'[{") { // a bare value ends at the next one
		text = strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune(",]}", c) })[0]
	}
	return strings.TrimRight(strings.TrimSpace(text), ",]} ")
}
