package tomlfile

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// mostErrors is how many keys and values are told of: a file with more that cannot be read
// is another program's.
const mostErrors = 50

// Decode fills the struct that v points to from the TOML text src of the file
// named. The error is Errors: every key that is unknown or stands twice, and every value
// of another kind than its key has. Then v holds the rest of the file, and what the wrong
// values were evidently meant as, so that more can be found out at once; Places.All leaves
// out the errors that would only follow. The Places are nil if the text is not TOML.
func Decode(file string, src []byte, v any) (*Places, error) {
	if len(src) > maxSize {
		return nil, tooLarge(file, int64(len(src)))
	}
	src = bytes.TrimPrefix(src, []byte("\ufeff")) // some editors begin a file with it
	if err := encoded(file, src); err != nil {
		return nil, err
	}
	tree, errs := parse(file, src)
	if len(errs) == 0 {
		errs = leftOver(file, src)
		if len(errs) > 0 {
			return nil, errs
		}
	}
	if tree == nil {
		return nil, errs.Sorted()
	}
	f := filler{places: &Places{file: file, lines: map[string]int{}, unread: map[string]bool{}}, unit: unitOf(src), errs: errs, types: map[reflect.Type]keys{}}
	f.fill("", "", tree, reflect.ValueOf(v).Elem())
	if len(f.errs) > mostErrors {
		f.errs = append(f.errs[:mostErrors], f.places.Errorf(f.errs[mostErrors].Path, "and more that cannot be read from here on"))
	}
	return f.places, f.errs.Sorted()
}

// encoded returns an error for a file that is not in UTF-8.
func encoded(file string, src []byte) error {
	const advice = "save it again as UTF-8: most editors ask for the encoding under \"save as\""
	if bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")) || bytes.IndexByte(src, 0) >= 0 {
		return Errors{{File: file, What: "it is not in UTF-8, but in UTF-16 as it seems; " + advice, Err: ErrEncoding}}
	}
	for line, at := 1, 0; at < len(src); {
		r, size := utf8.DecodeRune(src[at:])
		if r == utf8.RuneError && size == 1 {
			return Errors{{File: file, Line: line, What: fmt.Sprintf("a letter that is not in UTF-8 (byte %d); %s", src[at], advice), Err: ErrEncoding}}
		}
		if r == '\n' {
			line++
		}
		at += size
	}
	return nil
}

// ErrEncoding is the error of a file in another encoding than UTF-8.
var ErrEncoding = errors.New("not UTF-8")

// leftOver returns what the decoder of TOML itself finds wrong in a text that could be
// parsed: a date without its month, a number that is too large.
func leftOver(file string, src []byte) Errors {
	var all map[string]any
	err := toml.Unmarshal(src, &all)
	var wrong *toml.DecodeError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &wrong):
		line, _ := wrong.Position()
		return Errors{{File: file, Line: line, What: inWords(strings.TrimPrefix(wrong.Error(), "toml: "), lineAt(src, line)), Err: err}}
	}
	return Errors{{File: file, What: inWords(strings.TrimPrefix(err.Error(), "toml: "), ""), Err: err}}
}

// unitOf is the unit of length that the file has more of, for examples.
func unitOf(src []byte) string {
	if bytes.Count(src, []byte(` in"`)) > bytes.Count(src, []byte(` mm"`)) {
		return "in"
	}
	return "mm"
}
