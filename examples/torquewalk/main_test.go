package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/torque/ledger"
)

// call runs the program and checks its status.
func call(t *testing.T, want int, args ...string) (stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(args, strings.NewReader(""), &out, &errs); status != want {
		t.Errorf("%v: status %d, want %d\n%s%s", args, status, want, &out, &errs)
	}
	return out.String(), errs.String()
}

// TestStepByStep carries out the demonstration as a script would.
func TestStepByStep(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	at := func(args ...string) []string { return append([]string{"-ledger", path}, args...) }
	turns := 0
	for range 200 {
		text, _ := call(t, done, at("-next", "-format", "json")...)
		var n next
		if err := json.Unmarshal([]byte(text), &n); err != nil {
			t.Fatal(err)
		}
		if n.Finished {
			if n.Done != n.Of-1 || n.Skipped != 1 || turns != 10 {
				t.Errorf("finished with %d of %d done and %d skipped, and %d turns, want all but the one wait, and 10", n.Done, n.Of, n.Skipped, turns)
			}
			return
		}
		id := fmt.Sprint(n.Step)
		if n.Mark {
			turns++
			if _, said := call(t, notAllowed, at("-done", id)...); !strings.Contains(said, "begin it before the pull") {
				t.Errorf("a turn that was not begun: %s", said)
			}
			call(t, done, at("-begin", id)...)
		}
		if strings.HasPrefix(n.Do, "wait ") {
			// Minutes are not over at once, neither when they begin nor in the next call.
			for range 2 {
				if _, said := call(t, notAllowed, at("-done", id)...); !strings.Contains(said, " of 4m are over") {
					t.Errorf("a wait that was not waited for: %s", said)
				}
			}
			if said, _ := call(t, done, at("-next")...); !strings.Contains(said, "it is over at ") {
				t.Errorf("a wait that was begun: %s", said)
			}
			call(t, done, at("-skipped", id)...)
			if said, _ := call(t, done, at("-history")...); !strings.Contains(said, "skipped") {
				t.Errorf("a wait that was skipped: %s", said)
			}
			continue
		}
		call(t, notAllowed, at("-skipped", id)...)
		call(t, done, at("-done", id)...)
		call(t, notAllowed, at("-done", id)...)
	}
	t.Error("not finished")
}

func TestStatuses(t *testing.T) {
	folder := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	path := filepath.Join(folder, "ledger")
	other := file("other.toml", strings.Replace(string(demonstration), "ferry winch", "slate saw", 1))
	damaged := file("damaged", "closefit ledger 1\tnonsense\n")
	for _, tt := range []struct {
		status int
		args   string
		want   string // in what it says
	}{
		{done, "-help", "usage: torquewalk"},
		{done, "-next", "1. Are the threads"},
		{done, "-plan", "turn 55° further"},
		{notAllowed, "", "left before the end"},
		{done, "-done 1", "recorded: 1 done"},
		{done, "-next", "2. drive end left: tighten to 7 N·m"},
		{notAllowed, "-done 1", "done already"},
		{notAllowed, "-begin 3", "next is step 2"},
		{notAllowed, "-stopped 2", "not begun"},
		{done, "-begin 2", "recorded: 2 begin"},
		{done, "-next", "begun; main cap bolts, stage 1"},
		{notAllowed, "-begin 2", "begun already"},
		{done, "-stopped 2", "recorded: 2 stopped"},
		{badInput, "-begin 42", "write|name a step from 1 to 41"},
		{badInput, "-begin two", "is no step"},
		{badInput, "-next -plan", "one at a time"},
		{badInput, "-format xml", "write text or json"},
		{badInput, "-nxt", "-help shows"},
		{badInput, "-job", "name the job file"},
		{badInput, "a.toml b.toml", "2 plans"},
		{badInput, filepath.Join(folder, "none.toml"), "none.toml"},
		{badInput, "-next " + other, "it belongs to the plan"},
		{badInput, "-next -ledger " + damaged, "checksum"},
		{badInput, "-done 2 -ledger " + filepath.Join(folder, "no", "ledger"), "cannot be opened"},
	} {
		args := strings.Fields(tt.args)
		if !strings.Contains(tt.args, "-ledger") {
			args = append([]string{"-ledger", path}, args...)
		}
		out, errs := call(t, tt.status, args...)
		_, want, found := strings.Cut(tt.want, "|")
		if !found {
			want = tt.want
		}
		if !strings.Contains(out+errs, want) {
			t.Errorf("%s: %q was not said in\n%s%s", tt.args, want, out, errs)
		}
	}
	if text, err := os.ReadFile(damaged); err != nil || string(text) != "closefit ledger 1\tnonsense\n" {
		t.Errorf("the damaged ledger was changed: %v", err)
	}
}

// TestNextOfAReadOnlyLedger: a screen that may not write the ledger can still say what is
// next.
func TestNextOfAReadOnlyLedger(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	call(t, done, "-ledger", path, "-done", "1")
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	if file, err := os.OpenFile(path, os.O_RDWR, 0); err == nil {
		file.Close()
		t.Skip("this user may write whatever the file says")
	}
	if out, _ := call(t, done, "-ledger", path, "-next"); !strings.Contains(out, "2. drive end left") {
		t.Errorf("said %q", out)
	}
	if _, errs := call(t, badInput, "-ledger", path, "-begin", "2"); !strings.Contains(errs, "cannot be opened") {
		t.Errorf("said %q", errs)
	}
}

// TestCrashInATurn: the script is told to stop, and how to go on.
func TestCrashInATurn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	plan, err := planfile.Read("demonstration.toml", demonstration)
	if err != nil {
		t.Fatal(err)
	}
	l, err := ledger.Open(path, plan)
	if err != nil {
		t.Fatal(err)
	}
	for n := 1; n < 13; n++ {
		if err := l.Begin(n); err != nil {
			t.Fatal(err)
		}
		if err := l.Done(n); err != nil {
			t.Fatal(err)
		}
	}
	if err := l.Begin(13); err != nil {
		t.Fatal(err)
	}
	// Another program holds it: it is read, and not written.
	if said, _ := call(t, done, "-ledger", path, "-next"); !strings.Contains(said, "if nobody knows whether the whole turn was given, record -stopped 13") {
		t.Errorf("beside another program: %s", said)
	}
	if _, said := call(t, badInput, "-ledger", path, "-done", "13"); !strings.Contains(said, "another program is using it") {
		t.Errorf("beside another program: %s", said)
	}
	l.Abandon()
	if said, _ := call(t, notAllowed, "-ledger", path, "-next"); !strings.Contains(said, "STOP. Nobody knows how far drive end left was turned") {
		t.Error(said)
	}
	call(t, notAllowed, "-ledger", path, "-done", "13")
	call(t, notAllowed, "-ledger", path, "-loosened", "drive end left")
	call(t, badInput, "-ledger", path, "-replaced", "drive end middle")
	call(t, done, "-ledger", path, "-replaced", "drive end left")
	if said, _ := call(t, done, "-ledger", path, "-next"); !strings.Contains(said, "2. drive end left: tighten to 7 N·m") {
		t.Error(said)
	}
	said, _ := call(t, done, "-ledger", path, "-history")
	for _, want := range []string{"  begin     13. drive end left: mark it, then turn 55° further\n", "  lost      13. drive end left", "  replaced  drive end left\n"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in the history\n%s", want, said)
		}
	}
}

func TestDrawings(t *testing.T) {
	folder := t.TempDir()
	said, _ := call(t, done, "-ledger", filepath.Join(folder, "none"), "-drawings", folder)
	for i, part := range []string{"crankcase", "rod bolts", "drum flange studs"} {
		path := filepath.Join(folder, fmt.Sprintf("drawing-%d.svg", i+1))
		text, err := os.ReadFile(path)
		if err != nil || !strings.Contains(string(text), "</svg>") || !strings.Contains(said, path+": "+part) {
			t.Errorf("%s: %v, %s", path, err, said)
		}
	}
}

// TestShortblockJob: a job's tightening is a plan too.
func TestShortblockJob(t *testing.T) {
	said, _ := call(t, done, "-plan", "-job", filepath.Join("..", "kit", "job", "demo", "lock-gate.toml"))
	if !strings.Contains(said, "1. ") || !strings.Contains(said, "further") {
		t.Error(said)
	}
}
