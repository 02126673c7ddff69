package main

import (
	"testing"

	"example.com/closefit/examples/kit/job"
)

// TestStrictDemonstrations: of the demonstrations one is proven, and -strict says so by the
// exit status; what somebody accepted or left out is not.
func TestStrictDemonstrations(t *testing.T) {
	for _, name := range job.Demonstrations() {
		want := notProven
		if name == "all-proven" {
			want = made
		}
		if status, _, stderr := call(t, "-strict", "-demo", name); status != want || stderr != "" {
			t.Errorf("%s: exit status %d, want %d; standard error:\n%s", name, status, want, stderr)
		}
		if status, _, _ := call(t, "-demo", name); status != made {
			t.Errorf("%s: exit status %d without -strict", name, status)
		}
	}
}
