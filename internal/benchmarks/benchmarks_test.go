package benchmarks

import (
	"cmp"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

var (
	write  = flag.Bool("write", false, "run all benchmarks and write BENCHMARKS.md")
	rounds = flag.Int("rounds", 3, "how often each benchmark runs; the middle of them is given")
	only   = flag.String("only", "", "run the benchmarks of the one `folder`, print its table and write nothing")
)

const (
	root = "../.."
	page = root + "/BENCHMARKS.md"
)

// TestPage writes the page, or holds it against the table.
func TestPage(t *testing.T) {
	if *write || *only != "" {
		chosen := slices.DeleteFunc(sections(), func(s section) bool { return *only != "" && s.folder != *only })
		if len(chosen) == 0 {
			t.Fatalf("-only %s: the table has no such folder", *only)
		}
		before := state()
		measured, paces := measure(t, chosen)
		text := markdown(chosen, measured, before, state(), paces)
		if *only != "" {
			fmt.Print(text)
			return
		}
		if err := os.WriteFile(page, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), "This page is written by one command") {
		t.Skip("BENCHMARKS.md is still the one that was written by hand: go test -v ./internal/benchmarks -run TestPage -write -timeout 1h")
	}
	wanted := 0
	for _, s := range sections() {
		for _, r := range s.rows {
			wanted++
			if !strings.Contains(string(text), "| "+r.what+" |") {
				t.Errorf("BENCHMARKS.md has no row %q: go test -v ./internal/benchmarks -run TestPage -write -timeout 1h", r.what)
			}
		}
	}
	if found := strings.Count(string(text), "\n| ") - 2*strings.Count(string(text), "\n## ") + strings.Count(string(text), "\n|--"); found < wanted {
		t.Errorf("BENCHMARKS.md has %d rows, the table %d", found, wanted)
	}
}

// TestBenchmarksExist: a row whose benchmark was renamed would be missing at the next writing.
func TestBenchmarksExist(t *testing.T) {
	for _, s := range sections() {
		files, err := filepath.Glob(filepath.Join(root, s.folder, "*_test.go"))
		if err != nil || len(files) == 0 {
			t.Errorf("%s has no tests: %v", s.folder, err)
			continue
		}
		var text strings.Builder
		for _, file := range files {
			content, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			text.Write(content)
		}
		for _, r := range s.rows {
			for _, m := range []metric{r.ours, r.against} {
				if m == (metric{}) {
					continue
				}
				function, _, _ := strings.Cut(m.name, "/")
				kind := "Benchmark"
				if s.test != "" {
					kind = "Test"
				}
				if !strings.Contains(text.String(), "func "+kind+function+"(") {
					t.Errorf("%s: there is no %s%s", s.folder, kind, function)
				}
			}
		}
	}
}

// values are the numbers of each round, by folder and metric.
type values map[string]map[metric][]float64

// measure runs all benchmarks, round after round, and gives the machine's pace before each round and at the end,
// sorted. They are compiled once, before the first.
func measure(t *testing.T, chosen []section) (values, []float64) {
	t.Helper()
	compiled := t.TempDir()
	for i, s := range chosen {
		fmt.Fprintf(os.Stderr, "compiled: %s\n", s.folder)
		command := exec.Command("go", "test", "-c", "-o", filepath.Join(compiled, strconv.Itoa(i)), "./"+s.folder)
		command.Dir = root
		if out, err := command.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", s.folder, err, out)
		}
	}
	all := make(values)
	var paces []float64
	for round := range *rounds {
		paces = append(paces, pace())
		for i, s := range chosen {
			found := all[s.folder]
			if found == nil {
				found = make(map[metric][]float64)
				all[s.folder] = found
			}
			begin := time.Now()
			for m, v := range run(t, s, filepath.Join(compiled, strconv.Itoa(i))) {
				found[m] = append(found[m], v)
			}
			fmt.Fprintf(os.Stderr, "round %d of %d: %s, %.0f s\n", round+1, *rounds, s.folder, time.Since(begin).Seconds())
		}
	}
	for _, s := range chosen {
		for _, r := range s.rows {
			if all[s.folder][r.ours] == nil {
				t.Errorf("%s: %q was not measured; is its test skipped?", s.folder, r.what)
			}
		}
	}
	paces = append(paces, pace())
	slices.Sort(paces)
	return all, paces
}

// pace is how many milliseconds the machine needs for a piece of work that closefit has no part in: a million
// floats written and read again.
func pace() float64 {
	begin := time.Now()
	var text []byte
	v := 1.0
	for i := range 1_000_000 {
		text = strconv.AppendFloat(text[:0], v*float64(i+1), 'g', -1, 64)
		back, err := strconv.ParseFloat(string(text), 64)
		if err != nil {
			panic(err)
		}
		v = 1 + back/1e9
	}
	return float64(time.Since(begin)) / 1e6
}

// run runs the benchmarks of one section once, in its folder. What fails is said, and its rows are missing.
func run(t *testing.T, s section, compiled string) map[metric]float64 {
	t.Helper()
	args := []string{"-test.timeout=30m"}
	if s.test != "" {
		args = append(args, "-test.v", "-test.run=^"+s.test+"$")
	} else {
		args = append(args, "-test.run=^$", "-test.bench="+pattern(s))
		if s.time != "" {
			args = append(args, "-test.benchtime="+s.time)
		}
	}
	command := exec.Command(compiled, append(args, s.args...)...)
	command.Dir = filepath.Join(root, s.folder)
	command.Env = append(os.Environ(), s.env...)
	out, err := command.CombinedOutput()
	if err != nil {
		t.Errorf("%s: %v\n%s", s.folder, err, out)
	}
	if s.test != "" {
		return logged(s, string(out))
	}
	return benched(string(out))
}

// pattern picks the benchmarks of a section's rows, by their function: a name below it may hold anything.
func pattern(s section) string {
	var names []string
	for _, r := range s.rows {
		for _, m := range []metric{r.ours, r.against} {
			if function, _, _ := strings.Cut(m.name, "/"); function != "" && !slices.Contains(names, function) {
				names = append(names, function)
			}
		}
	}
	return "^Benchmark(" + strings.Join(names, "|") + ")$"
}

// benched reads what go test prints of benchmarks: the name with the number of cores, the number of
// rounds, then pairs of a number and its unit.
func benched(out string) map[metric]float64 {
	found := make(map[metric]float64)
	cores := regexp.MustCompile(`-\d+$`)
	for line := range strings.Lines(out) {
		fields := strings.Fields(line)
		if len(fields) < 4 || !strings.HasPrefix(fields[0], "Benchmark") {
			continue
		}
		name := cores.ReplaceAllString(strings.TrimPrefix(fields[0], "Benchmark"), "")
		for i := 2; i+1 < len(fields); i += 2 {
			if v, err := strconv.ParseFloat(fields[i], 64); err == nil {
				found[metric{name, fields[i+1]}] = v
			}
		}
	}
	return found
}

// logged reads a number behind the text that a row names, in what a test logs.
func logged(s section, out string) map[metric]float64 {
	found := make(map[metric]float64)
	for _, r := range s.rows {
		number := regexp.MustCompile(regexp.QuoteMeta(r.ours.unit) + `\s*([0-9.]+)`)
		if m := number.FindStringSubmatch(out); m != nil {
			if v, err := strconv.ParseFloat(m[1], 64); err == nil {
				found[r.ours] = v
			}
		}
	}
	return found
}

// numbers of a row, one for each round in which both were measured.
func (v values) numbers(folder string, r row) (list []float64) {
	ours, against := v[folder][r.ours], v[folder][r.against]
	for i, n := range ours {
		switch {
		case r.against == (metric{}):
			list = append(list, n*r.per)
		case i < len(against):
			list = append(list, n/against[i]*r.per)
		}
	}
	slices.Sort(list)
	return list
}

// machine is what a measurement depends on besides the code.
type machine struct {
	when, load string
}

func state() machine {
	load := "not known"
	if text, err := os.ReadFile("/proc/loadavg"); err == nil {
		load = strings.Join(strings.Fields(string(text))[:3], " ")
	}
	return machine{time.Now().UTC().Format("2 January 2006, 15:04 UTC"), load}
}

// processor names what the machine computes with, by kind and not by make.
func processor() string {
	return fmt.Sprintf("%d cores, %s/%s", runtime.NumCPU(), runtime.GOOS, runtime.GOARCH)
}

func markdown(chosen []section, measured values, before, after machine, paces []float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, `# Benchmarks

What closefit costs, measured against a plain alternative in the same run wherever there is one. The ratio is what
counts. This page is written by one command, which runs everything below in turns:

    go test -v ./internal/benchmarks -run TestPage -write -timeout 1h

%d rounds from %s (load %s) to %s (load %s), with %s on %s. The load is that of the last 1, 5 and 15 minutes; on an idle machine it is what the
benchmarks make themselves. Given is the middle of the rounds, and from the smallest to the largest.
Nothing here is asserted by a timed test.

The machine's own pace: to write and read a million floats with strconv it took %s ms before the rounds and at the end. A page
of another day has other times where that number is another; its ratios should be the same.
`, *rounds, before.when, before.load, after.when, after.load, runtime.Version(), processor(), span(paces))
	for _, s := range chosen {
		fmt.Fprintf(&b, "\n## %s\n\n", s.folder)
		if s.says != "" {
			b.WriteString(s.says + "\n\n")
		}
		b.WriteString("| what | measured | range | aimed at | |\n|---|--:|--:|--:|---|\n")
		for _, r := range s.rows {
			b.WriteString(line(r, measured.numbers(s.folder, r)))
		}
		for _, note := range s.notes {
			b.WriteString("\n" + note + "\n")
		}
	}
	return b.String()
}

// line is one row of the page.
func line(r row, sorted []float64) string {
	wanted, reached := "", ""
	if r.aim != (aim{}) {
		wanted = "at most " + digits(r.aim.bound)
		if r.aim.least {
			wanted = "at least " + digits(r.aim.bound)
		}
	}
	if len(sorted) == 0 {
		return fmt.Sprintf("| %s | not measured | | %s | |\n", r.what, wanted)
	}
	middle := sorted[len(sorted)/2]
	if r.aim != (aim{}) {
		reached = "reached"
		if c := cmp.Compare(middle, r.aim.bound); r.aim.least && c < 0 || !r.aim.least && c > 0 {
			reached = "**not reached**"
		}
	}
	unit := r.shown
	if unit == "" {
		unit = r.ours.unit
	}
	return fmt.Sprintf("| %s | %s %s | %s | %s | %s |\n", r.what, digits(middle), unit, span(sorted), wanted, reached)
}

// span is the smallest and the largest of sorted numbers.
func span(sorted []float64) string {
	return digits(sorted[0]) + " … " + digits(sorted[len(sorted)-1])
}

// digits prints three figures.
func digits(v float64) string {
	text := strconv.FormatFloat(v, 'g', 3, 64)
	if back, err := strconv.ParseFloat(text, 64); err == nil && back >= 0.0001 && back < 1e6 {
		return strconv.FormatFloat(back, 'f', -1, 64)
	}
	return text
}

// TestNumbers: from what the go command prints to the line of the page.
func TestNumbers(t *testing.T) {
	out := "goos: linux\nBenchmarkA/one,_two-2 \t 3\t 250 ns/op\t 4.5 times-x\nBenchmarkA/three-2 \t 3\t 100 ns/op\nBenchmarkB-2 \t 1 \t 7 ms\nok\n"
	found := benched(out)
	v := values{"f": {}}
	for m, n := range found {
		v["f"][m] = []float64{n, 2 * n, 4 * n}
	}
	tests := []struct {
		r    row
		want string
	}{
		{row{"alone", metric{"A/one,_two", "ns/op"}, metric{}, "µs", 1e-3, atMost(0.5)}, "| alone | 0.5 µs | 0.25 … 1 | at most 0.5 | reached |\n"},
		{row{"against", metric{"A/one,_two", "ns/op"}, metric{"A/three", "ns/op"}, "times", 1, atMost(2)}, "| against | 2.5 times | 2.5 … 2.5 | at most 2 | **not reached** |\n"},
		{row{"a ratio", metric{"A/one,_two", "times-x"}, metric{}, "times", 1, atLeast(10)}, "| a ratio | 9 times | 4.5 … 18 | at least 10 | **not reached** |\n"},
		{row{"no aim", metric{"B", "ms"}, metric{}, "", 1, aim{}}, "| no aim | 14 ms | 7 … 28 |  |  |\n"},
		{row{"not there", metric{"C", "ms"}, metric{}, "ms", 1, atMost(1)}, "| not there | not measured | | at most 1 | |\n"},
	}
	for _, test := range tests {
		if got := line(test.r, v.numbers("f", test.r)); got != test.want {
			t.Errorf("%s: %q, want %q", test.r.what, got, test.want)
		}
	}
	s := section{rows: []row{{"", metric{"T", "page: "}, metric{}, "MB", 1, aim{}}, {"", metric{"T", "nothing "}, metric{}, "MB", 1, aim{}}}}
	if got := logged(s, "x_test.go:1: the page:  4.44 MB\n"); len(got) != 1 || got[s.rows[0].ours] != 4.44 {
		t.Errorf("of the log %v", got)
	}
	for v, want := range map[float64]string{0.000012: "1.2e-05", 0: "0", 1234.6: "1230", 2.3449: "2.34", 1e7: "1e+07"} {
		if got := digits(v); got != want {
			t.Errorf("%g as %q, want %q", v, got, want)
		}
	}
}
