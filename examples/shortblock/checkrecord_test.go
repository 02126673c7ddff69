package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/internal/thorough"
)

// python runs a program of Python, and returns what it printed and its exit status.
func python(t *testing.T, args ...string) (string, int) {
	t.Helper()
	name, err := exec.LookPath("python3")
	if err != nil {
		if os.Getenv("PAGETEST") == "whole" {
			t.Fatal("no python3: the record is not checked from outside")
		}
		t.Skip("no python3: the record is not checked from outside")
	}
	out, err := exec.CommandContext(t.Context(), name, append([]string{"-B"}, args...)...).CombinedOutput()
	var failed *exec.ExitError
	if err != nil && !errors.As(err, &failed) {
		t.Fatal(err)
	}
	if failed != nil {
		return string(out), failed.ExitCode()
	}
	return string(out), 0
}

// recordOf writes the record of a job, or of a demonstration, as JSON and returns the name of
// the file.
func recordOf(t *testing.T, folder, name, source string) string {
	t.Helper()
	in, out := filepath.Join(folder, name+".toml"), filepath.Join(folder, name+".json")
	args := []string{"-format", "json", "-o", out, "-demo", name}
	if source != "" {
		if err := os.WriteFile(in, []byte(source), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args[:4], in)
	}
	if status, _, stderr := call(t, args...); status != made {
		t.Fatal(stderr)
	}
	return out
}

// drawn is a generated job.
func drawn(seed int) string { return rapid.Custom(jobtest.Draw).Example(seed).String() }

// TestCheckedFromOutside: a program that shares no code with this module works every claim
// out again, of the demonstrations and of generated jobs. What it does not check, it names.
func TestCheckedFromOutside(t *testing.T) {
	folder := t.TempDir()
	var files []string
	for _, name := range job.Demonstrations() {
		files = append(files, recordOf(t, folder, name, ""))
	}
	for seed := range 1000 / thorough.Every(100) {
		files = append(files, recordOf(t, folder, fmt.Sprintf("generated-%d", seed), drawn(seed)))
	}
	out, status := python(t, append([]string{"checkrecord.py"}, files...)...)
	var open []string
	for _, m := range regexp.MustCompile(`(?m)^.*/([^/]*)\.json: (refused|not checked): ([^,\n]*)`).FindAllStringSubmatch(out, -1) {
		open = append(open, m[1]+": "+m[2]+": "+m[3])
	}
	// What is warm and the compression ratio are not worked out again, nor the rules of ring gaps.
	want := []string{
		"slate-saw: not checked: main bearing second warm clearance",
		"slate-saw: not checked: cylinder 1 compression ratio",
		"slate-saw: not checked: cylinder 2 compression ratio",
		"slate-saw: not checked: cylinder 3 compression ratio",
		"slate-saw: not checked: piston 1 ring positions",
		"slate-saw: not checked: piston 3 ring positions",
	}
	if fmt.Sprint(open) != fmt.Sprint(want) || status != 3 {
		t.Errorf("status %d, want 3:\n%s\nwant\n%s\nall of it:\n%s", status, strings.Join(open, "\n"), strings.Join(want, "\n"), out)
	}
	t.Log(out)
}

// TestAlteredRecordIsRefused: a record in which one thing was altered is refused for its
// digest. With a new digest it is refused as well, unless nothing that is claimed depends on
// the altered thing: those places are listed in testdata/free.txt, with the reason.
func TestAlteredRecordIsRefused(t *testing.T) {
	folder := t.TempDir()
	small := recordOf(t, folder, "ferry-winch", "")
	text, err := os.ReadFile(small)
	if err != nil {
		t.Fatal(err)
	}
	altered := filepath.Join(folder, "altered.json")
	if err := os.WriteFile(altered, []byte(strings.Replace(string(text), "Ferry", "Fairy", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, status := python(t, "checkrecord.py", altered); status != 1 || !strings.Contains(out, "refused: the digest") {
		t.Errorf("with another title: status %d: %s", status, out)
	}
	if out, status := python(t, "checkrecord.py", "-unsealed", altered); status != 0 {
		t.Errorf("with another title, unsealed: status %d: %s", status, out)
	}

	free, err := os.ReadFile("testdata/free.txt")
	if err != nil {
		t.Fatal(err)
	}
	var places []string
	for line := range strings.Lines(string(free)) {
		if place, _, ok := strings.Cut(line, "\t"); ok && !strings.HasPrefix(line, "#") {
			places = append(places, place)
		}
	}
	// Each alteration of the small record, some of larger ones: one takes a tenth of a second.
	tries := [][]string{{fmt.Sprint(thorough.Every(97)), small}, {"197", recordOf(t, folder, "lock-gate", "")}}
	if thorough.Whole() {
		for _, name := range []string{"all-proven", "slate-saw", "dredger"} {
			tries = append(tries, []string{"97", recordOf(t, folder, name, "")})
		}
		tries = append(tries, []string{"97", recordOf(t, folder, "generated", drawn(0))})
	}
	var out string
	for _, try := range tries {
		text, status := python(t, append([]string{"testdata/alter.py"}, try...)...)
		if status != 0 {
			t.Fatal(text)
		}
		first, _, _ := strings.Cut(text, "\n")
		t.Log(filepath.Base(try[1]), first)
		out += text
	}
	for _, m := range regexp.MustCompile(`(?m)^accepted: ([^:]*): (.*)$`).FindAllStringSubmatch(out, -1) {
		found := false
		for _, place := range places {
			if strings.HasPrefix(m[1]+" "+m[2], place) {
				found = true
			}
		}
		if !found {
			t.Errorf("accepted, and not listed: %s: %s", m[1], m[2])
		}
	}
}
