package lesson_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/lesson"
)

// What a student types who means well is answered in the task's own unit, and with what to change.
func TestReasonsHelp(t *testing.T) {
	every(t, func(t *testing.T, name string, seed int64, e *lesson.Exercise) {
		number, unit, _ := strings.Cut(e.Right, " ")
		said := func(typed, wants string) {
			t.Helper()
			if a := e.Judge(typed); a.Right || !strings.Contains(a.Reason, wants) {
				t.Errorf("%s, seed %d: %q is told %v %q, want %q in it", name, seed, typed, a.Right, a.Reason, wants)
			}
		}
		if unit == "" {
			said(number+" packs", "Write a whole number in figures, and nothing behind it.")
			said("", "Nothing was typed. Write a number.")
			if !strings.Contains(e.Write, "whole number") || strings.Contains(e.Write, "unit") {
				t.Errorf("%s asks for %q", name, e.Write)
			}
			return
		}
		if a := e.Judge(e.Right); !a.Right || !strings.Contains(a.Reason, " "+unit+" lies inside") {
			t.Errorf("%s, seed %d: %s is answered %q, not in %s", name, seed, e.Right, a.Reason, unit)
		}
		said(number, "The unit is missing. Write "+e.Right)
		said(strings.Replace(e.Right, ".", ",", 1), "comma")
		other := map[string]string{"mm": "in", "in": "ft", "µm": "mm", "kN": "N", "K": ""}[unit]
		if other != "" {
			said(number+" "+other, "The figures are those of an answer in "+unit)
		}
		if !strings.Contains(e.Right, "..") {
			said("±"+e.Right, "without ±")
			said(e.Right+" ±10 "+unit, "This is an interval")
			said("999999 "+unit, "Not inside what is allowed. This is too high.")
			if a := e.Judge("999999 " + unit); strings.Contains(a.Reason, "upper end") {
				t.Errorf("%s: one value is told of its upper end: %q", name, a.Reason)
			}
		}
	})
}
