package conform

import (
	"strings"
	"testing"
)

// TestNoAnswerInWords: a line that answers nothing is told what it is and what to write, in words that need no
// knowledge of what this program is written in.
func TestNoAnswerInWords(t *testing.T) {
	for line, want := range map[string]string{
		`Traceback`:                   "no JSON object in one line: ",
		`{"id":`:                      "no JSON object in one line: ",
		`[]`:                          `no JSON object: it is of the kind "array"; write {"id": …, "answer": {…}}`,
		`7`:                           `no JSON object: it is of the kind "number"`,
		`{"id": 5, "answer": {}}`:     `"id" is of the kind "number"; write a text`,
		`{"id": "a", "answer": "3"}`:  `"answer" is of the kind "string"; write an object with the keys that are wanted`,
		`{"id": "a", "cannot": true}`: `"cannot" is of the kind "bool"; write a text`,
		`null`:                        "no id",
		`{"id": "a"} {"id": "b"}`:     "more than one JSON value in a line",
	} {
		r := &Report{state: map[string]*result{}}
		r.take([]byte(line))
		if len(r.Faults) != 1 || r.Faults[0].Kind != "garbage" || !strings.HasPrefix(r.Faults[0].What, want) || strings.Contains(r.Faults[0].What, "unmarshal") {
			t.Errorf("%s: %+v, want %s", line, r.Faults, want)
		}
	}
}
