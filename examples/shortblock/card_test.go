package main

import (
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/kit/job/jobtest"
)

var update = flag.Bool("update", false, "write the picture that the README shows instead of comparing with it")

// TestReadmePicture: the README shows the demonstration's bench card as this program makes it.
func TestReadmePicture(t *testing.T) {
	status, got, stderr := call(t, "-format", "svg")
	if status != made {
		t.Fatal(stderr)
	}
	const picture = "card.svg"
	if *update {
		if err := os.WriteFile(picture, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is not the card that the program makes now: look at the new one, then go test ./examples/shortblock -update", picture)
	}
	page, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), "](examples/shortblock/"+picture+")") {
		t.Errorf("the README does not show %s", picture)
	}
}

// BenchmarkProgram measures the built program, from its start to its end, on twelve cylinders
// with every line read, in each form; and beside it the program that only says how it is used.
// A record takes the difference.
//
//	go test ./examples/shortblock -run '^$' -bench Program
func BenchmarkProgram(b *testing.B) {
	program := filepath.Join(b.TempDir(), "shortblock")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	twelve := filepath.Join(b.TempDir(), "twelve.toml")
	if err := os.WriteFile(twelve, []byte(jobtest.Twelve()), 0o600); err != nil {
		b.Fatal(err)
	}
	for _, run := range []struct {
		name string
		args []string
	}{
		{"help alone", []string{"-help"}},
		{"text", []string{twelve}},
		{"json", []string{"-format", "json", twelve}},
		{"html", []string{"-format", "html", twelve}},
	} {
		b.Run(run.name, func(b *testing.B) {
			var cpu time.Duration // says more than the clock where the machine has other work
			for b.Loop() {
				c := exec.Command(program, run.args...)
				if out, err := c.Output(); err != nil || run.name != "help alone" && len(out) == 0 {
					b.Fatal(err)
				}
				cpu += c.ProcessState.UserTime() + c.ProcessState.SystemTime()
			}
			b.ReportMetric(float64(cpu.Microseconds())/1000/float64(b.N), "cpu-ms/op")
		})
	}
}

// TestReadmeCommands: the lines by which the README goes from a bare engine to its card do so.
func TestReadmeCommands(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	ran := 0
	for line := range strings.Lines(string(page)) {
		command, is := strings.CutPrefix(strings.TrimSpace(line), "go run ./examples/shortblock")
		if !is || strings.Contains(command, "[") {
			continue
		}
		ran++
		if status, _, stderr := call(t, strings.Fields(command)...); status != made {
			t.Errorf("%s: exit status %d, %s", line, status, stderr)
		}
	}
	if ran < 4 {
		t.Errorf("%d commands were run", ran)
	}
	card, err := os.ReadFile("engine.html")
	if err != nil || !strings.Contains(string(card), "Bench card") {
		t.Errorf("the last of them makes no card: %v", err)
	}
}
