package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/internal/thorough"
)

// python runs a program of Python, and returns what it printed and its exit status.
func python(t *testing.T, args ...string) (string, int) {
	t.Helper()
	name := thorough.Program(t, "python3")
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

// jobOf is a job that uses what no demonstration does. Of the well pump's engine instruments are
// set on one another, parts were warm, and shells are chosen by their sizes; of the mill race's,
// bearings are known station by station; of the ice house's, almost everything is a sum.
func jobOf(t *testing.T, name string) string {
	t.Helper()
	src, err := os.ReadFile("testdata/" + name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// warmed is the mill race's engine warm: with a strip that its walls contradict, strips at several
// places, and a fit of its own of what is known station by station.
func warmed(race string) string {
	const warmth = `[temperatures]
hot = "85..95 °C"

[materials]
light = "22..23 ppm"
steel = "11..12 ppm"

[warmth]
block = { material = "light", running = "hot" }
crankshaft = { material = "steel", running = "hot" }
"main shells" = { material = "steel", running = "hot" }

[measure."main bearing warm clearance"]
limits = "0.04..0.12 mm"

`
	const fit = `
[[fits]]
name = "hull gap"
formula = "g = 2c + b - D"
at = ["1", "2", "3"]
limits = "-56..-54 mm"
lines = { c = "main bearing clearance", b = "main bore barrel", D = "main bore" }
`
	return strings.NewReplacer(
		"inspect = [", `inspect = ["main bearing warm clearance", `, "[measure.passage]", warmth+"[measure.passage]",
		`{ 2 = "0.030..0.050 mm" }`, `{ 1 = "0.030; 0.030..0.050 mm", 2 = "0.030..0.050; 0.030; 0.050..0.080 mm", 3 = "0.020..0.030 mm" }`,
	).Replace(race) + fit
}

// shortBolt is the lock gate's engine with a bolt that measures shorter than when it was new.
func shortBolt(t *testing.T) string {
	t.Helper()
	source, err := job.Demonstration("lock-gate")
	if err != nil {
		t.Fatal(err)
	}
	return strings.Replace(string(source), `1a = "44.32 mm"`, `1a = "44.02 mm"`, 1)
}

// TestCheckedFromOutside: a program that shares no code with this module works every claim
// out again, of the demonstrations and of generated jobs. What it does not check, it names.
func TestCheckedFromOutside(t *testing.T) {
	thorough.Program(t, "python3")
	folder := t.TempDir()
	var files []string
	for _, name := range job.Demonstrations() {
		files = append(files, recordOf(t, folder, name, ""))
	}
	pump, race := jobOf(t, "well-pump"), jobOf(t, "mill-race")
	for name, source := range map[string]string{
		"ice-house": jobOf(t, "ice-house"),
		"well-pump": pump, "well-pump-at-worst": "combine = \"at worst\"\n" + pump,
		"mill-race": race, "mill-race-outside": strings.Replace(race, "0.015..0.070 mm", "0.0500..0.0575 mm", 1),
		"mill-race-warm": warmed(race), "short-bolt": shortBolt(t),
	} {
		files = append(files, recordOf(t, folder, name, source))
	}
	for seed := range 1000 / thorough.Step(200, 8) {
		files = append(files, recordOf(t, folder, fmt.Sprintf("generated-%d", seed), drawn(seed)))
	}
	half := (len(files) + 1) / 2
	for part, some := range map[string][]string{"first": files[:half], "second": files[half:]} {
		t.Run(part, func(t *testing.T) {
			t.Parallel()
			out, status := python(t, append([]string{"checkrecord.py"}, some...)...)
			if strings.Contains(out, "refused") || !strings.Contains(out, "; not checked: 0\n") || status != 0 {
				t.Errorf("status %d, want 0, and everything checked:\n%s", status, out)
			}
			t.Log(out)
		})
	}
}

// TestWideRecordsAreFollowed: nor does it refuse the record of any job that somebody could
// honestly type. Of some it names what it does not check.
func TestWideRecordsAreFollowed(t *testing.T) {
	thorough.Program(t, "python3")
	folder := t.TempDir()
	draw := rapid.Custom(jobtest.Wide)
	var files []string
	for seed := 0; seed < 200; seed += thorough.Step(40, 4) {
		source := draw.Example(seed)
		if _, err := job.Read("job.toml", []byte(source)); err != nil {
			continue // some of them are refused, with what to write
		}
		files = append(files, recordOf(t, folder, fmt.Sprintf("wide-%d", seed), source))
	}
	if out, status := python(t, append([]string{"checkrecord.py"}, files...)...); strings.Contains(out, "refused") || status == 1 {
		t.Errorf("of %d records, status %d:\n%s", len(files), status, out)
	}
}

// TestForgedFormulaIsRefused: a verdict that was worked out by another formula than its line has, or
// from another temperature, material or volume than the job states, is refused, though all that follows
// from it was worked out again with it.
func TestForgedFormulaIsRefused(t *testing.T) {
	thorough.Long(t)
	thorough.Program(t, "python3")
	folder := t.TempDir()
	args := []string{"testdata/forge.py"}
	for _, name := range []string{"ice-house", "well-pump", "mill-race"} {
		args = append(args, recordOf(t, folder, name, jobOf(t, name)))
	}
	out, status := python(t, args...)
	if status != 0 || strings.Contains(out, "accepted") || !strings.HasSuffix(out, "22 forged\n") {
		t.Errorf("status %d, want each of 22 refused:\n%s", status, out)
	}
}

// TestAlteredRecordIsRefused: a record in which one thing was altered is refused for its
// digest. With a new digest it is refused as well, unless nothing that is claimed depends on
// the altered thing: those places are listed in testdata/free.txt, with the reason.
func TestAlteredRecordIsRefused(t *testing.T) {
	thorough.Program(t, "python3")
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
	// Some alterations of each record: one takes up to a fifth of a second.
	every := func(n int) string { return fmt.Sprint(n * thorough.Step(8, 4)) }
	tries := [][]string{{fmt.Sprint(5 * thorough.Step(160, 8)), small}, {every(197), recordOf(t, folder, "lock-gate", "")}, {every(401), recordOf(t, folder, "well-pump", jobOf(t, "well-pump"))}}
	if thorough.Whole() {
		more := func(n int) string { return fmt.Sprint(n * thorough.Step(1, 8)) }
		for _, name := range []string{"all-proven", "slate-saw", "dredger"} {
			tries = append(tries, []string{more(97), recordOf(t, folder, name, "")})
		}
		tries = append(tries, []string{more(97), recordOf(t, folder, "generated", drawn(0))}, []string{more(97), recordOf(t, folder, "well-pump", jobOf(t, "well-pump"))}, []string{more(97), recordOf(t, folder, "mill-race", jobOf(t, "mill-race"))}, []string{more(397), recordOf(t, folder, "ice-house", jobOf(t, "ice-house"))})
	}
	var mu sync.Mutex
	var out strings.Builder
	t.Run("records", func(t *testing.T) {
		for _, try := range tries {
			t.Run(strings.TrimSuffix(filepath.Base(try[1]), ".json"), func(t *testing.T) {
				t.Parallel()
				text, status := python(t, append([]string{"testdata/alter.py"}, try...)...)
				if status != 0 {
					t.Fatal(text)
				}
				first, _, _ := strings.Cut(text, "\n")
				t.Log(first)
				mu.Lock()
				defer mu.Unlock()
				out.WriteString(text)
			})
		}
	})
	for _, m := range regexp.MustCompile(`(?m)^accepted: ([^:]*): (.*)$`).FindAllStringSubmatch(out.String(), -1) {
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

// TestCheckRecordSays: a file that is not there or is no record, a word that is no option, and an altered record each
// get a sentence that says what to do, and their exit status; and a file that can be read is checked all the same.
func TestCheckRecordSays(t *testing.T) {
	folder := t.TempDir()
	file := recordOf(t, folder, "all-proven", "")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	altered := filepath.Join(folder, "altered.json")
	if err := os.WriteFile(altered, []byte(strings.Replace(string(text), `"conforming"`, `"undecided"`, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	cut := filepath.Join(folder, "cut.json")
	if err := os.WriteFile(cut, text[:len(text)/2], 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		args   []string
		status int
		want   []string
	}{
		{[]string{filepath.Join(folder, "none.json"), file}, 2, []string{"none.json: not read: ", "name a file that shortblock -format json wrote\n", " 1 records; not checked: 0\n"}},
		{[]string{filepath.Join(folder, "none.json"), altered}, 1, []string{"none.json: not read: ", "altered.json: refused: "}},
		{[]string{altered, filepath.Join(folder, "none.json")}, 1, []string{"none.json: not read: ", "altered.json: refused: "}},
		{[]string{cut}, 1, []string{"cut.json: refused: no record in JSON, or not all of it; give what shortblock -format json writes (", "checked: nothing; not checked: 0\n"}},
		{[]string{altered}, 1, []string{"altered.json: refused: the digest is not that of the record: it was altered since it was written; -unsealed looks for where\n"}},
		{[]string{"-unsealed", altered}, 1, []string{"altered.json: refused: the verdict is conforming: "}},
		{[]string{"-sealed", file}, 2, []string{"-sealed is no option; write checkrecord.py [-unsealed] RECORD.json\n"}},
		{[]string{"-help"}, 0, []string{"Exit status 0: everything that the record\nclaims proven follows"}},
	} {
		out, status := python(t, append([]string{"checkrecord.py"}, tt.args...)...)
		if status != tt.status || strings.Contains(out, "Traceback") {
			t.Errorf("%q: exit status %d, want %d\n%s", tt.args, status, tt.status, out)
		}
		for _, want := range tt.want {
			if !strings.Contains(out, want) {
				t.Errorf("%q: %q was not said in\n%s", tt.args, want, out)
			}
		}
	}
}
