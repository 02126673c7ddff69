package ledger

import (
	"bytes"
	"strings"
	"testing"
)

// TestLinesThatCannotBe: a line whose checksum is right is held against what could have been
// written there, field by field, and the error says what was found and what should stand.
func TestLinesThatCannotBe(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 2)
	s.l.Close()
	lines := bytes.SplitAfter(bytes.TrimSuffix(s.last(), []byte("\n")), []byte("\n"))
	bare := func(i int) []string {
		return strings.Split(string(lines[i][:len(lines[i])-sumLen]), "\t")
	}
	last := bare(len(lines) - 2)
	with := func(fields []string, i int, text string) string {
		fields = append([]string(nil), fields...)
		fields[i] = text
		return strings.Join(fields, "\t")
	}
	number := last[0]
	for _, test := range []struct{ name, body, says string }{
		{"as it was", strings.Join(last, "\t"), ""},
		{"a field too few", strings.Join(last[1:], "\t"), "it has 6 fields and should have 7"},
		{"two fields too many", strings.Join(last, "\t") + "\t\t", "it has 9 fields and should have 7"},
		{"another number", with(last, 0, "77"), `its number is "77" and should be ` + number},
		{"no number", with(last, 0, "x"), `its number is "x" and should be ` + number},
		{"no time", with(last, 1, "noon"), `its time is "noon"`},
		{"nothing that is recorded", with(last, 2, "polished"), `"polished" is nothing that a ledger records`},
		{"a second plan", with(last, 2, "plan"), `"plan" cannot stand here: the plan is the first record, and no other`},
		{"a step that is not planned", with(last, 3, "99"), `step "99" on bolt "` + last[4] + `" is none of the plan`},
		{"a step of no number", with(last, 3, "one"), `step "one" on bolt`},
		{"a step on another bolt", with(last, 4, "bolt 9"), `step "` + last[3] + `" on bolt "bolt 9" is none of the plan`},
		{"a step out of turn", with(strings.Split(with(last, 3, "8"), "\t"), 4, "bolt 2"), "it cannot follow the lines before it"},
	} {
		h := &history{}
		if err := h.replay(bytes.Join(lines[:len(lines)-2], nil)); err != nil {
			t.Fatal(err)
		}
		switch err := h.add([]byte(test.body)); {
		case test.says == "" && err != nil:
			t.Errorf("%s: %v", test.name, err)
		case test.says != "" && (err == nil || !strings.Contains(err.Error(), test.says)):
			t.Errorf("%s: %v, want %s", test.name, err, test.says)
		}
	}
	first, plan := bare(0), bare(1)
	for _, test := range []struct{ name, body, says string }{
		{"as it was", strings.Join(first, "\t"), ""},
		{"another title", with(first, 0, "a letter"), "it does not begin as a ledger does"},
		{"a field too many", strings.Join(first, "\t") + "\t", "it does not begin as a ledger does"},
		{"no identity", with(first, 1, "xyz"), `its identity is "xyz"`},
		{"a short identity", with(first, 1, "abcd"), `its identity is "abcd"`},
		{"no work", with(first, 2, "{"), "the work that it belongs to cannot be read"},
		{"an empty work", with(first, 2, "{}"), "the work that it belongs to cannot be read"},
		{"no time", with(first, 3, "noon"), `its time is "noon"`},
	} {
		if _, err := readHeader([]byte(test.body)); test.says == "" && err != nil || test.says != "" && (err == nil || !strings.Contains(err.Error(), test.says) || !strings.Contains(err.Error(), "line 1")) {
			t.Errorf("first line, %s: %v, want %q", test.name, err, test.says)
		}
	}
	for _, test := range []struct{ name, body, says string }{
		{"as it was", strings.Join(plan, "\t"), ""},
		{"something before the plan", strings.Join(last, "\t"), "its number"},
		{"a step before the plan", with(last, 0, "1"), "cannot stand here: the plan is the first record, and no other"},
		{"no plan", with(plan, 5, "{}"), "its plan cannot be read"},
	} {
		h := &history{}
		if err := h.replay(lines[0]); err != nil {
			t.Fatal(err)
		}
		if err := h.add([]byte(test.body)); test.says == "" && err != nil || test.says != "" && (err == nil || !strings.Contains(err.Error(), test.says)) {
			t.Errorf("second line, %s: %v, want %q", test.name, err, test.says)
		}
	}
}
