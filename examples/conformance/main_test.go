package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/kit/conform"
	"example.com/closefit/internal/thorough"
)

// TestMain lets the test's own program be the one that is asked.
func TestMain(m *testing.M) {
	if how := os.Getenv("CONFORMANCE_ANSWERER"); how != "" {
		os.Exit(answerer(how))
	}
	os.Exit(m.Run())
}

// answerer answers with the library, in some way that a program might.
func answerer(how string) int {
	switch how {
	case "dies":
		fmt.Fprintln(os.Stderr, "out of oil")
		return 3
	case "hangs":
		time.Sleep(time.Hour)
	case "rubbish":
		for range 3 {
			fmt.Println("\x1b[31mready\x1b[0m")
		}
	}
	var answers bytes.Buffer
	if err := conform.Answer(context.Background(), os.Stdin, &answers); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	lines := slices.Collect(bytes.Lines(answers.Bytes()))
	switch how {
	case "backwards":
		slices.Reverse(lines)
	case "twice":
		lines = append(lines, lines[0])
	case "wrong":
		var reply struct{ ID string }
		if err := json.Unmarshal(lines[0], &reply); err != nil {
			return 1
		}
		lines[0] = fmt.Appendf(nil, "{\"id\": %q, \"answer\": {\"order\": []}}\n", reply.ID)
	}
	out := bufio.NewWriter(os.Stdout)
	for _, line := range lines {
		out.Write(line)
	}
	if out.Flush() != nil {
		return 1
	}
	return 0
}

// ran runs the program.
func ran(t *testing.T, how string, stdin io.Reader, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	t.Setenv("CONFORMANCE_ANSWERER", how)
	var out, errs bytes.Buffer
	status = run(t.Context(), args, stdin, &out, &errs)
	return status, out.String(), errs.String()
}

func TestUsage(t *testing.T) {
	folder := t.TempDir()
	for _, c := range []struct {
		name   string
		args   []string
		status int
		says   string // on standard error
	}{
		{"help", []string{"-h"}, 0, "conformance -list"},
		{"long help", []string{"--help"}, 0, "stop the program if it writes no line for so long"},
		{"an option that there is not", []string{"-fast"}, 2, "flag provided but not defined: -fast"},
		{"an option without its value", []string{"-topics"}, 2, "flag needs an argument: -topics"},
		{"no length of time", []string{"-silence", "long", "--", "true"}, 2, "invalid value"},
		{"nothing at all", nil, 2, "no program to ask; write conformance -- COMMAND"},
		{"no command", []string{"-topics", "plan", "--"}, 2, "no program to ask"},
		{"no such topic", []string{"-topics", "plan,valves", "--", "true"}, 2, `no topic "valves"; write some of convert,`},
		{"a topic twice with a space", []string{"-topics", "plan, judge", "--", "true"}, 2, `no topic " judge"`},
		{"no such format", []string{"-format", "xml", "--", "true"}, 2, `no format "xml"; write text or json`},
		{"no silence", []string{"-silence", "0s", "--", "true"}, 2, "-silence and -time are above zero"},
		{"a time below zero", []string{"-time", "-1s", "--", "true"}, 2, "-silence and -time are above zero"},
		{"a command beside -list", []string{"-list", "--", "true"}, 2, `"true" is too much beside -answer or -list; leave it out`},
		{"a command beside -answer", []string{"-answer", "true"}, 2, `"true" is too much`},
		{"a program that is not there", []string{"-topics", "plan", "--", filepath.Join(folder, "nobody")}, 2, "give a program that can be started"},
		{"a folder for a program", []string{"-topics", "plan", "--", folder}, 2, "give a program that can be started"},
	} {
		t.Run(c.name, func(t *testing.T) {
			status, stdout, stderr := ran(t, "", strings.NewReader(""), c.args...)
			if status != c.status || !strings.Contains(stderr, c.says) || stdout != "" {
				t.Errorf("status %d, wrote %q and the error %q; want %d and %q", status, stdout, stderr, c.status, c.says)
			}
		})
	}
}

func TestList(t *testing.T) {
	status, all, stderr := ran(t, "", nil, "-list")
	if status != 0 || stderr != "" {
		t.Fatalf("status %d, %s", status, stderr)
	}
	for _, topic := range conform.Topics() {
		if !strings.Contains(all, "\n"+topic+" ") {
			t.Errorf("%s is not listed", topic)
		}
	}
	if _, some, _ := ran(t, "", nil, "-list", "-topics", "buy"); strings.Contains(some, "convert") || !strings.Contains(some, "buy") {
		t.Errorf("-topics buy lists\n%s", some)
	}
}

func TestAnswer(t *testing.T) {
	question := `{"id": "1", "topic": "convert", "kind": "temperature difference", "question": {"value": "9", "from": "°F", "to": "K"}}`
	status, stdout, stderr := ran(t, "", strings.NewReader(question+"\n"+`{"id": "2", "topic": "valves", "kind": "lift", "question": {}}`+"\n"), "-answer")
	if want := `{"answer":{"value":"5"},"id":"1"}` + "\n" + `{"cannot":"no such kind of question","id":"2"}` + "\n"; status != 0 || stdout != want {
		t.Errorf("status %d, %q, %s; want %q", status, stdout, stderr, want)
	}
	if status, _, stderr := ran(t, "", strings.NewReader("what is 9 °F?\n"), "-answer"); status != 2 || !strings.Contains(stderr, "this is no question") {
		t.Errorf("rubbish for a question: status %d, %s", status, stderr)
	}
}

// TestPrograms asks programs that behave, and some that do not.
func TestPrograms(t *testing.T) {
	for _, c := range []struct {
		how    string
		status int
		says   []string // in the report
		stderr string
	}{
		{"library", 0, []string{"Passed: all that was asked is answered right."}, ""},
		{"backwards", 0, []string{"Passed"}, ""},
		{"twice", 1, []string{`answered twice: "plan-`, "Not passed."}, ""},
		{"wrong", 1, []string{"harm      a bolt is turned twice or not at all", "Not passed."}, ""},
		{"rubbish", 1, []string{"garbage: no JSON object", `·[31mready·[0m`, "Not passed."}, ""},
		{"dies", 1, []string{"died: the program ended with exit status 3", "it wrote  out of oil", "no answer"}, "out of oil"},
		{"hangs", 1, []string{"stopped: the program was stopped: no line for 200ms", "no answer"}, ""},
	} {
		t.Run(c.how, func(t *testing.T) {
			silence := thorough.Patience.String()
			if c.how == "hangs" {
				silence = "200ms"
			}
			status, stdout, stderr := ran(t, c.how, nil, "-topics", "plan", "-silence", silence, "-time", (4 * thorough.Patience).String(), "--", os.Args[0])
			if status != c.status || !strings.Contains(stderr, c.stderr) {
				t.Errorf("status %d, want %d; error %q", status, c.status, stderr)
			}
			for _, text := range c.says {
				if !strings.Contains(stdout, text) {
					t.Errorf("the report does not say %q:\n%.2000s", text, stdout)
				}
			}
		})
	}
}

func TestReportFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "report.json")
	status, stdout, stderr := ran(t, "twice", nil, "-topics", "plan", "-format", "json", "-o", name, "--", os.Args[0])
	if status != 1 || stdout != "" {
		t.Errorf("status %d, wrote %q, %s", status, stdout, stderr)
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var r conform.Report
	if err := json.Unmarshal(text, &r); err != nil || r.Passed || len(r.Faults) != 1 || r.Faults[0].Kind != "answered twice" || len(r.Wrong) != 1 || r.Wrong[0].Harm == "" {
		t.Errorf("%v: passed %v, faults %v, wrong %v", err, r.Passed, r.Faults, r.Wrong)
	}
	if status, _, stderr := ran(t, "library", nil, "-topics", "plan", "-o", filepath.Join(name, "under", "a file"), "--", os.Args[0]); status != 2 || stderr == "" {
		t.Errorf("a report that cannot be written: status %d, %q", status, stderr)
	}
}

// TestInterrupted: a run that is stopped says so, and did not pass.
func TestInterrupted(t *testing.T) {
	t.Setenv("CONFORMANCE_ANSWERER", "hangs")
	ctx, stop := context.WithTimeout(t.Context(), 200*time.Millisecond)
	defer stop()
	var out bytes.Buffer
	if status := run(ctx, []string{"-topics", "plan", "--", os.Args[0]}, nil, &out, io.Discard); status != 1 || !strings.Contains(out.String(), "Interrupted: this is what there was.") {
		t.Errorf("status %d:\n%.500s", status, out.String())
	}
}
