package tomlfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrUnknownKey is the error of a key that the program does not know.
var ErrUnknownKey = errors.New("unknown key")

// unknownKey explains a key of a table that is none of those known; near is the one most
// like it.
func unknownKey(name, table, near string, known []string) string {
	where := ""
	if table != "" {
		where = " in " + table
	}
	if near != "" {
		return fmt.Sprintf("unknown key %q%s; write %s", shortened(name), where, near)
	}
	return fmt.Sprintf("unknown key %q%s; known are %s", shortened(name), where, strings.Join(known, ", "))
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
