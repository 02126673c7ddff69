package main

import (
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/conform"
	"example.com/closefit/internal/thorough"
)

// TestSecondAnswerer asks answer.py, which knows the standards and nothing of the library, a part of the
// questions; all of them take it a minute: go run ./examples/conformance -- python3 examples/conformance/answer.py
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
	all = slices.DeleteFunc(all, func(v conform.Vector) bool { return slices.Contains(notHeld, v.Topic+"/"+v.Kind) || oddLaw(v) })
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

// notHeld are the kinds that answer.py does not answer: what only a table tells that it does not hold,
// formulas, of which it makes no trials, and films that have to be solved.
var notHeld = []string{"film/bearing", "film/carry", "film/grade", "stack/model", "threads/series", "torque/accuracy", "torque/embedding", "torque/embedding loss", "torque/friction class", "torque/key", "torque/method", "torque/surface"}

// oddLaw is a law with a part that answer.py cannot add exactly.
func oddLaw(v conform.Vector) bool {
	parts, _ := v.Question["contributors"].([]any)
	return v.Topic == "stack" && slices.ContainsFunc(parts, func(part any) bool {
		d, _ := part.(map[string]any)["distribution"].(map[string]any)
		return d["kind"] == "arcsine" || d["about"] != nil
	})
}

// TestNotHeld: answer.py knows all kinds but these, and DISAGREEMENTS.md says how many questions are of them.
func TestNotHeld(t *testing.T) {
	python := thorough.Program(t, "python3")
	all, err := conform.Vectors()
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "answer.py", "-kinds").Output()
	if err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile("DISAGREEMENTS.md")
	if err != nil {
		t.Fatal(err)
	}
	left := 0
	knows := strings.Split(strings.TrimSpace(string(out)), "\n")
	for _, v := range all {
		kind := v.Topic + "/" + v.Kind
		if slices.Contains(notHeld, kind) || oddLaw(v) {
			left++
		}
		if slices.Contains(knows, kind) == slices.Contains(notHeld, kind) {
			t.Fatalf("answer.py knows %s: %t", kind, slices.Contains(knows, kind))
		}
	}
	if says := fmt.Sprintf("of %d, %d are right and %d are not answered", len(all), len(all)-left, left); !strings.Contains(string(page), says) {
		t.Errorf("DISAGREEMENTS.md does not say %q", says)
	}
}

// selftest lets it work its own examples, which takes seconds.
func selftest(t *testing.T, python string) {
	t.Helper()
	if out, err := exec.Command(python, "answer.py", "-selftest").CombinedOutput(); err != nil || !strings.Contains(string(out), "the worked examples agree") {
		t.Fatalf("its own examples: %v\n%s", err, out)
	}
}
