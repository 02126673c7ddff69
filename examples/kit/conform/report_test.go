package conform

import (
	"fmt"
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

// TestTextOfManyWrong: a program that is wrong throughout gets a report that a person reads to its end: each kind of
// question once, with its count and its harm, and a few of the answers; every one is in the JSON.
func TestTextOfManyWrong(t *testing.T) {
	vectors, err := Vectors()
	if err != nil {
		t.Fatal(err)
	}
	r := newReport([]string{"mine"}, vectors)
	for i := range 50 {
		r.take([]byte(fmt.Sprintf("line %d of a log", i)))
	}
	kinds := map[string]int{}
	for _, v := range vectors {
		kinds[fmt.Sprintf("\n%s, %s: ", v.Topic, v.Kind)]++
		r.take([]byte(fmt.Sprintf(`{"id": %q, "answer": {}}`, v.ID)))
	}
	r.finish()
	var b, j strings.Builder
	if err := r.Text(&b); err != nil {
		t.Fatal(err)
	}
	if err := r.JSON(&j); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for start, n := range kinds {
		if says := fmt.Sprintf("%s%d of %d wrong\n  harm      ", start, n, n); strings.Count(text, says) != 1 {
			t.Errorf("%q stands there %d times", says, strings.Count(text, says))
		}
	}
	if n := strings.Count(text, "\n    wanted "); n > examples*len(kinds) {
		t.Errorf("%d wrong answers are shown of %d kinds", n, len(kinds))
	}
	for _, says := range []string{"garbage, 50 times:", "line 0 of", "line 49 of", "-format json gives all", "Not passed."} {
		if !strings.Contains(text, says) {
			t.Errorf("it does not say %q", says)
		}
	}
	if strings.Count(j.String(), "\"why\": ") != len(vectors) {
		t.Errorf("the JSON does not hold all")
	}
}
