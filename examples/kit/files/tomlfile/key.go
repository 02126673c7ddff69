package tomlfile

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// ErrUnknownKey is the error of a key that the program does not know.
var ErrUnknownKey = errors.New("unknown key")

// mostErrors is how many unknown keys are told of: a file with more is another
// program's.
const mostErrors = 50

// unknown returns an error for each key of the file that the type has no field for.
// What stands below an unknown key is not looked at.
//
// The decoder could do this, but its time grows with the square of what it does not
// know, and it takes capitals for small letters.
func (w walk) unknown(file string, t reflect.Type) Errors {
	var errs Errors
	said := map[string]bool{}
	for _, k := range w.keys {
		depth, known := follow(t, k.parts)
		if known == nil {
			continue
		}
		prefix := k.paths[depth]
		if said[prefix] {
			continue
		}
		said[prefix] = true
		if len(errs) == mostErrors {
			return append(errs, &Error{File: file, Line: k.line, What: "and more unknown keys from here on", Err: ErrUnknownKey})
		}
		errs = append(errs, &Error{File: file, Line: k.line, What: unknownKey(k.parts, depth, known), Err: ErrUnknownKey})
	}
	return errs
}

// unknownKey explains a key whose part at the depth is none of those known.
func unknownKey(parts []string, depth int, known []string) string {
	unknown, where := parts[depth], ""
	if depth > 0 {
		where = " in " + strings.Join(parts[:depth], ".")
	}
	if near := Nearest(unknown, known); near != "" {
		return fmt.Sprintf("unknown key %.60q%s; write %s", unknown, where, near)
	}
	return fmt.Sprintf("unknown key %.60q%s; known are %s", unknown, where, strings.Join(known, ", "))
}

// follow follows a key into the type. known is nil if the type has all of it; else
// it is what the type has instead of the part at the depth.
func follow(t reflect.Type, parts []string) (depth int, known []string) {
	for depth < len(parts) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		switch t.Kind() {
		case reflect.Map: // of names that the user makes up
			t = t.Elem()
			depth++
			continue
		case reflect.Struct:
		default:
			return depth, nil // a value of whatever form: the decoder has seen to it
		}
		next, names := field(t, parts[depth])
		if next == nil {
			return depth, names
		}
		t = next
		depth++
	}
	return depth, nil
}

// field returns the type of a struct's field by its key; without one, the keys that
// there are.
func field(t reflect.Type, key string) (reflect.Type, []string) {
	var names []string
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
		if f.Anonymous || name == "" || name == "-" {
			continue
		}
		if name == key {
			return f.Type, nil
		}
		names = append(names, name)
	}
	return nil, names
}

// Nearest returns the known name most like the one given, or nothing if none is.
func Nearest(key string, known []string) string {
	best, least := "", max(1, len(key)/3)+1
	for _, k := range known {
		if d := distance(strings.ToLower(key), k); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance is the number of letters to put in, leave out, change or exchange
// with a neighbour to make b of a (optimal string alignment).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			change := 1
			if s[i-1] == t[j-1] {
				change = 0
			}
			rows[i][j] = slices.Min([]int{rows[i-1][j] + 1, rows[i][j-1] + 1, rows[i-1][j-1] + change})
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(s)][len(t)]
}
