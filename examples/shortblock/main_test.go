package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/internal/thorough"
)

// call runs the program and returns its exit status and what it wrote.
func call(t *testing.T, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(t.Context(), args, strings.NewReader(""), &out, &errs)
	return status, out.String(), errs.String()
}

// file writes a file into a folder of the test's own.
func file(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const proven = `title = "all proven"
[engine]
cylinders = 1
mains = 2
thrust = "1"
rings = ["ring"]
passages = ["drilling"]
[instruments]
strip = { kind = "crush strip", widths = ["0.03 mm", "0.05 mm", "0.08 mm"] }
blades = { kind = "feeler blades", blades = ["0.15 mm", "0.20 mm"] }
[measure.passage]
reading = "clean"
[measure."main bearing clearance"]
limits = "0.03..0.08 mm"
conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }
readings = { 1 = "0.05 mm", 2 = "0.03..0.05 mm" }
[measure."rod bearing clearance"]
limits = "0.03..0.08 mm"
conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }
reading = "0.05 mm"
[measure."crankshaft end play"]
limits = "0.10..0.25 mm"
conditions = { crankshaft = "levered to its stops" }
reading = "0.15..0.20 mm"
[measure."rod side play"]
limits = "0.10..0.30 mm"
reading = "0.15..0.20 mm"
[measure."ring end gap"]
limits = "0.10..0.35 mm"
conditions = { ring = "square in its own bore", depth = "as the manual says" }
reading = "0.15..0.20 mm"
[bolts."rod bolts"]
new = "all"
[[tightening]]
group = "rod bolts"
bolts = ["1a", "1b"]
single_use = false
stages = [{ torque = "20 N·m" }]
`

func TestExitStatus(t *testing.T) {
	good := file(t, "good.toml", proven)
	bad := file(t, "bad.toml", strings.Replace(proven, "0.25 mm", "0.25", 1))
	for _, test := range []struct {
		name   string
		args   []string
		status int
		stderr string // what it must say; nothing at all if empty
	}{
		{"the demonstration", nil, made, ""},
		{"the demonstration, strictly", []string{"-strict"}, notProven, ""},
		{"another demonstration", []string{"-demo", "slate-saw"}, made, ""},
		{"a job", []string{good}, made, ""},
		{"a job, strictly", []string{"-strict", good}, made, ""},
		{"a job that is wrong", []string{bad}, badInput, "bad.toml:22: measure.crankshaft end play.limits"},
		{"a job that is wrong, strictly", []string{"-strict", bad}, badInput, `write "0.10..0.25 mm"`},
		{"a job that is not there", []string{"no such job.toml"}, badInput, "no such job.toml"},
		{"a folder", []string{"."}, badInput, "is a folder; name a file in it"},
		{"the job from standard input", []string{"-"}, badInput, "standard input: title: missing"},
		{"a new job", []string{"-new", "-cylinders", "6", "-mains", "4", "-pins", "1-4 2-5 3-6", "-units", "in"}, made, ""},
		{"a new job of no engine", []string{"-new", "-cylinders", "0", "-pins", "1-7"}, badInput, "-cylinders: 0 of them; write from 1 to 64"},
		{"a new job of cylinders in words", []string{"-new", "-cylinders", "four", "-mains", "4.5", "-jets", "two"}, badInput, `-cylinders: "four": one name, and no number; write how many there are in figures, as in 4, or their names with commas between; "four," is one that is called so`},
		{"a new job of one cylinder by name", []string{"-new", "-cylinders", "A,", "-mains", "L,R"}, made, ""},
		{"a new job in another unit", []string{"-new", "-units", "cm"}, badInput, "write mm or in"},
		{"a new job onto the file that is read", []string{"-new", good}, badInput, "name the new one with -o"},
		{"a new job and a sheet", []string{"-new", "-blank"}, badInput, "one at a time"},
		{"an engine for a job that is there", []string{"-mains", "4", good}, badInput, "-mains describes a new job; write -new with it"},
		{"a measuring sheet", []string{"-blank"}, made, ""},
		{"a measuring sheet as a page", []string{"-blank", "-format", "html", good}, made, ""},
		{"a measuring sheet as JSON", []string{"-blank", "-format", "json", good}, badInput, "write text or html"},
		{"a measuring sheet of a job that is wrong", []string{"-blank", bad}, badInput, "bad.toml:22: "},
		{"a demonstration that is not there", []string{"-demo", "x"}, badInput, "all-proven, dredger, ferry-winch, lock-gate, slate-saw"},
		{"a format that is not there", []string{"-format", "pdf"}, badInput, "text, json or html"},
		{"an option that is not there", []string{"-colour"}, badInput, "-help"},
		{"an oil film", []string{"-film"}, made, ""},
		{"an oil film, strictly", []string{"-film", "-strict"}, notProven, ""},
		{"an oil film of a job that says nothing of it", []string{"-film", good}, badInput, "the job says nothing of oil, speed and load; write into it\n\n[film] # invented figures: write your engine's\nspeed = \"2600 rpm\"\n"},
		{"an oil film on a measuring sheet", []string{"-film", "-blank"}, badInput, "it is part of the record"},
		{"an oil film as a picture", []string{"-film", "-format", "svg"}, badInput, "write -format text, json or html"},
		{"an oil film of a new job", []string{"-film", "-new"}, badInput, "one at a time"},
		{"two jobs", []string{good, bad}, badInput, "name one"},
		{"help", []string{"-help"}, made, "usage: shortblock [-format text|json|html|svg] [-o FILE] [-strict]"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if strings.HasPrefix(test.name, "an oil film") && test.status != badInput {
				thorough.Long(t)
			}
			status, stdout, stderr := call(t, test.args...)
			if status != test.status {
				t.Errorf("exit status %d, want %d; standard error:\n%s", status, test.status, stderr)
			}
			if test.stderr == "" && stderr != "" || !strings.Contains(stderr, test.stderr) {
				t.Errorf("standard error, which must have %q:\n%s", test.stderr, stderr)
			}
			if (stdout == "") != (status == badInput || test.name == "help") {
				t.Errorf("exit status %d and standard output %q", status, stdout)
			}
		})
	}
}

func TestVersion(t *testing.T) {
	if status, stdout, stderr := call(t, "-version", "-format", "none"); status != made || !strings.HasPrefix(stdout, "shortblock of closefit, version ") || stderr != "" {
		t.Errorf("exit status %d, %q, %q", status, stdout, stderr)
	}
}

// TestStandardInput: - is a job from standard input.
func TestStandardInput(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run(t.Context(), []string{"-strict", "-"}, strings.NewReader(proven), &out, &errs); status != made || out.Len() == 0 {
		t.Errorf("exit status %d, %s", status, &errs)
	}
	bad := strings.Replace(proven, `"clean"`, `"dirty"`, 1)
	if status := run(t.Context(), []string{"-"}, strings.NewReader(bad), &out, &errs); status != badInput || !strings.Contains(errs.String(), "standard input:12: measure.passage.reading") {
		t.Errorf("exit status %d, %s", status, &errs)
	}
}

// TestLargeJob: a file of 20 MB is refused before it is read.
func TestLargeJob(t *testing.T) {
	large := file(t, "large.toml", proven+strings.Repeat("# and so on\n", 20<<20/12))
	if status, stdout, stderr := call(t, large); status != badInput || stdout != "" || !strings.Contains(stderr, "at most 256 kB are read") {
		t.Errorf("exit status %d, %q, %q", status, stdout, stderr)
	}
}

// TestNew: a new job is written whole, replaces nothing, and proves nothing.
func TestNew(t *testing.T) {
	path := filepath.Join(t.TempDir(), "engine.toml")
	if status, stdout, stderr := call(t, "-new", "-o", path); status != made || stdout != "" || stderr != "" {
		t.Fatalf("exit status %d, %q, %q", status, stdout, stderr)
	}
	if status, _, stderr := call(t, "-strict", path); status != notProven {
		t.Errorf("a new job: exit status %d, %s", status, stderr)
	}
	if err := os.WriteFile(path, []byte("typed for an hour"), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, _, stderr := call(t, "-new", "-o", path); status != badInput || !strings.Contains(stderr, "is there already and is left as it was") {
		t.Errorf("onto a file: exit status %d, %s", status, stderr)
	}
	if got, _ := os.ReadFile(path); string(got) != "typed for an hour" {
		t.Errorf("the file has %q", got)
	}
	alone(t, path)
}

// TestStrictStillWrites: with -strict the record is made all the same.
func TestStrictStillWrites(t *testing.T) {
	_, plain, _ := call(t)
	if _, strict, _ := call(t, "-strict"); strict != plain {
		t.Error("-strict changes the record")
	}
}

// TestFilmProvesNothing: with -film nothing else in the record changes, nor does what it is worth.
func TestFilmProvesNothing(t *testing.T) {
	thorough.Long(t)
	read := func(args ...string) map[string]any {
		t.Helper()
		_, text, stderr := call(t, append(args, "-format", "json")...)
		var record map[string]any
		if err := json.Unmarshal([]byte(text), &record); err != nil {
			t.Fatal(err, stderr)
		}
		return record
	}
	without, with := read(), read("-film")
	if n := len(with["films"].([]any)); n != 2 {
		t.Errorf("%d films, want those of the main and of the rod bearings", n)
	}
	if n := len(without["films"].([]any)); n != 0 {
		t.Errorf("%d films that nobody asked for", n)
	}
	for _, key := range []string{"films", "digest"} {
		delete(with, key)
		delete(without, key)
	}
	if !reflect.DeepEqual(with, without) {
		t.Error("-film changes the rest of the record")
	}
}

// TestFilmExample: the table that the error offers is one that works as it stands.
func TestFilmExample(t *testing.T) {
	thorough.SkipRaced(t)
	bad := file(t, "job.toml", proven)
	_, _, stderr := call(t, "-film", bad)
	_, table, ok := strings.Cut(strings.ReplaceAll(stderr, "shortblock: ", ""), "\n\n")
	if !ok {
		t.Fatalf("no table: %s", stderr)
	}
	good := file(t, "job.toml", proven+table)
	if !thorough.Whole() { // the film itself takes seconds
		if status, _, stderr := call(t, good); status != made {
			t.Errorf("exit status %d, %s", status, stderr)
		}
		return
	}
	status, text, stderr := call(t, "-film", good)
	if status != made || !strings.Contains(text, "15W-40 at its thickest") {
		t.Errorf("exit status %d, %s", status, stderr)
	}
}

func TestFormats(t *testing.T) {
	_, text, _ := call(t, "-format", "json")
	if !json.Valid([]byte(text)) {
		t.Errorf("no JSON: %.200s", text)
	}
	if _, text, _ := call(t, "-format", "html"); !strings.HasPrefix(text, "<!DOCTYPE html>") {
		t.Errorf("no HTML: %.200s", text)
	}
}

// TestReadme: the verdict that the README shows is one of the demonstration's, and it
// names every demonstration.
func TestReadme(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, excerpt, _ := strings.Cut(string(page), "```json\n")
	excerpt, _, _ = strings.Cut(excerpt, "```")
	var shown any
	if err := json.Unmarshal([]byte(excerpt), &shown); err != nil {
		t.Fatal(err)
	}
	_, text, _ := call(t, "-format", "json")
	var record struct {
		Verdicts []any `json:"verdicts"`
	}
	if err := json.Unmarshal([]byte(text), &record); err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(record.Verdicts, func(v any) bool { return reflect.DeepEqual(v, shown) }) {
		t.Errorf("the record has no verdict such as the README shows:\n%s", excerpt)
	}
	for _, name := range job.Demonstrations() {
		if !strings.Contains(string(page), "`"+name+"`") {
			t.Errorf("the README does not name the demonstration %s", name)
		}
	}
}

// TestOutput: the file is written whole, keeps its mode, and nothing else stays in
// its folder.
func TestOutput(t *testing.T) {
	path := file(t, "record.txt", "old")
	status, stdout, stderr := call(t, "-o", path)
	if status != made || stdout != "" || stderr != "" {
		t.Fatalf("exit status %d, standard output %q, standard error %q", status, stdout, stderr)
	}
	_, want, _ := call(t)
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("the file has %d bytes, want %d (%v)", len(got), len(want), err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, want 0600 as before (%v)", info.Mode(), err)
	}
	alone(t, path)
}

// TestOutputThroughLink: what a link points to is replaced, the link stays.
func TestOutputThroughLink(t *testing.T) {
	path := file(t, "record.txt", "old")
	link := filepath.Join(t.TempDir(), "latest.txt")
	if err := os.Symlink(path, link); err != nil {
		t.Skip(err)
	}
	if status, _, stderr := call(t, "-o", link); status != made {
		t.Fatal(stderr)
	}
	if got, _ := os.ReadFile(path); len(got) < 100 {
		t.Errorf("the file behind the link has %q", got)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v", err)
	}
}

// TestOutputThroughLinkToNothing: the file that the link points to is made.
func TestOutputThroughLinkToNothing(t *testing.T) {
	folder := t.TempDir()
	if err := os.Symlink("later.txt", filepath.Join(folder, "latest.txt")); err != nil {
		t.Skip(err)
	}
	if status, _, stderr := call(t, "-o", filepath.Join(folder, "latest.txt")); status != made {
		t.Fatal(stderr)
	}
	if got, err := os.ReadFile(filepath.Join(folder, "later.txt")); err != nil || len(got) < 100 {
		t.Errorf("the file behind the link has %d bytes (%v)", len(got), err)
	}
}

// TestOutputProtected: a record that was made read-only, a long name, and the job
// itself.
func TestOutputProtected(t *testing.T) {
	path := file(t, "record.txt", "old")
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	if status, _, stderr := call(t, "-o", path); status != badInput || !strings.Contains(stderr, "read-only") {
		t.Errorf("a read-only record: exit status %d, %s", status, stderr)
	}
	if got, _ := os.ReadFile(path); string(got) != "old" {
		t.Errorf("the read-only record has %q", got)
	}
	engine := file(t, "engine.toml", proven)
	if status, _, stderr := call(t, "-o", engine, engine); status != badInput || !strings.Contains(stderr, "job itself") {
		t.Errorf("onto the job: exit status %d, %s", status, stderr)
	}
	if got, _ := os.ReadFile(engine); string(got) != proven {
		t.Error("the job was written over")
	}
	long := filepath.Join(t.TempDir(), strings.Repeat("r", 250))
	if status, _, stderr := call(t, "-o", long); status != made {
		t.Errorf("a name of 250 letters: %s", stderr)
	}
}

// TestBadInputWritesNothing: the old record stays whole when the job is wrong.
func TestBadInputWritesNothing(t *testing.T) {
	path := file(t, "record.txt", "old")
	bad := file(t, "bad.toml", "title = ")
	if status, _, _ := call(t, "-o", path, bad); status != badInput {
		t.Errorf("exit status %d, want %d", status, badInput)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != "old" {
		t.Errorf("the old record is %q (%v)", got, err)
	}
	alone(t, path)
}

// TestOutputCannotBeWritten: an error, and what was there stays.
func TestOutputCannotBeWritten(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{folder, filepath.Join(folder, "no", "such", "folder.txt")} {
		status, stdout, stderr := call(t, "-o", name)
		if status != badInput || stdout != "" || !strings.Contains(stderr, name) {
			t.Errorf("-o %s: exit status %d, standard output %q, standard error %q", name, status, stdout, stderr)
		}
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 0 {
		t.Errorf("left in the folder: %v (%v)", entries, err)
	}
}

// alone fails unless the path is all that its folder has.
func alone(t *testing.T, path string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) != 1 || entries[0].Name() != filepath.Base(path) {
		t.Errorf("the folder has %v (%v), want %s alone", entries, err, filepath.Base(path))
	}
}

// BenchmarkRecord measures a record from the job's text to the record's.
func BenchmarkRecord(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if status := run(b.Context(), nil, strings.NewReader(""), io.Discard, io.Discard); status != made {
			b.Fatal(status)
		}
	}
}
