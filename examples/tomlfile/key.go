package tomlfile

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// ErrUnknownKey is the error of a key that the program does not know.
var ErrUnknownKey = errors.New("unknown key")

// fullKey returns the whole key of an unknown one. The decoder leaves out the key of
// an inline table that the unknown one stands in.
func (w walk) fullKey(e *toml.DecodeError) []string {
	row, column := e.Position()
	path, ok := w.keys[unstable.Position{Line: row, Column: column}]
	if !ok {
		return e.Key()
	}
	return strings.Split(indexes.ReplaceAllString(path, ""), ".")
}

// indexes are those of list elements in a path.
var indexes = regexp.MustCompile(`\[\d+\]`)

// unknownKey explains a key that the struct behind v has no field for.
func unknownKey(key []string, v any) string {
	known, depth := knownKeys(reflect.TypeOf(v), key)
	unknown := key[min(depth, len(key)-1)]
	where := ""
	if depth > 0 {
		where = " in " + strings.Join(key[:min(depth, 4)], ".")
	}
	if near := nearest(unknown, known); near != "" {
		return fmt.Sprintf("unknown key %.60q%s; write %s", unknown, where, near)
	}
	return fmt.Sprintf("unknown key %.60q%s; known are %s", unknown, where, strings.Join(known, ", "))
}

// knownKeys follows key into the type as far as it is known, and returns the
// keys that are known there.
func knownKeys(t reflect.Type, key []string) (known []string, depth int) {
	for {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		switch {
		case t.Kind() == reflect.Map && depth < len(key)-1:
			t = t.Elem()
			depth++
			continue
		case t.Kind() != reflect.Struct:
			return nil, depth
		}
		fields := map[string]reflect.Type{}
		known = nil
		for _, f := range reflect.VisibleFields(t) {
			name, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
			if f.Anonymous || name == "" || name == "-" {
				continue
			}
			fields[name] = f.Type
			known = append(known, name)
		}
		next, ok := fields[key[depth]]
		if !ok || depth == len(key)-1 {
			return known, depth
		}
		t = next
		depth++
	}
}

// nearest returns the known key most like the one given, or nothing if none is.
func nearest(key string, known []string) string {
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
