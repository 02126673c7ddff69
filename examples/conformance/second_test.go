package main

import (
	"os/exec"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/conform"
	"example.com/closefit/internal/thorough"
)

// TestSecondAnswerer asks answer.py, which knows the standards and nothing of the library, a part of the
// questions; all of them take it half a minute: go run ./examples/conformance -- python3 examples/conformance/answer.py
func TestSecondAnswerer(t *testing.T) {
	python := thorough.Program(t, "python3")
	step := 400
	if thorough.Whole() {
		step = 10
		selftest(t, python)
	}
	all, err := conform.Vectors()
	if err != nil {
		t.Fatal(err)
	}
	var some []conform.Vector
	for i := 0; i < len(all); i += step {
		some = append(some, all[i])
	}
	report, err := conform.Run(t.Context(), conform.Asking{Command: []string{python, "answer.py"}, Vectors: some, Bounds: conform.Bounds{Silence: thorough.Patience, Whole: 4 * thorough.Patience, Leaving: thorough.Patience}})
	if err != nil {
		t.Fatal(err)
	}
	if !report.Passed {
		var text strings.Builder
		if err := report.Text(&text); err != nil {
			t.Fatal(err)
		}
		t.Error(text.String())
	}
}

// selftest lets it work its own examples, which takes seconds.
func selftest(t *testing.T, python string) {
	t.Helper()
	if out, err := exec.Command(python, "answer.py", "-selftest").CombinedOutput(); err != nil || !strings.Contains(string(out), "the worked examples agree") {
		t.Fatalf("its own examples: %v\n%s", err, out)
	}
}
