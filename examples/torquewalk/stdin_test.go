package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
)

// TestStandardInput: - is a plan from standard input. A walk needs that for its answers,
// and a ledger needs a name.
func TestStandardInput(t *testing.T) {
	ledger := filepath.Join(t.TempDir(), "ledger")
	for _, test := range []struct {
		args   []string
		stdin  string
		status int
		want   string
	}{
		{[]string{"-plan", "-"}, string(demonstration), done, "turn 55° further"},
		{[]string{"-ledger", ledger, "-next", "-"}, string(demonstration), done, "1. Are the threads"},
		{[]string{"-next", "-"}, string(demonstration), badInput, "name that with -ledger FILE"},
		{[]string{"-"}, string(demonstration), badInput, "put the plan in a file"},
		{[]string{"-plan", "-"}, strings.Replace(string(demonstration), "title = ", "titel = ", 1), badInput, `standard input:`},
		{[]string{"-plan", "-"}, strings.Repeat("#", 20<<20), badInput, "at most 256 kB are read"},
		{[]string{"-plan", t.TempDir()}, "", badInput, "is a folder"},
	} {
		var out, errs bytes.Buffer
		status := run(test.args, strings.NewReader(test.stdin), &out, &errs)
		if text := out.String() + errs.String(); status != test.status || !strings.Contains(text, test.want) {
			t.Errorf("%v: status %d, want %d and %q:\n%s", test.args, status, test.status, test.want, text)
		}
	}
}
