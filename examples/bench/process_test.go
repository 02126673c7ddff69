package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/internal/thorough"
)

// runs runs the tests; those that look at pages share a browser.
var runs = (*testing.M).Run

// TestMain runs the program itself where a test started it as one.
func TestMain(m *testing.M) {
	if os.Getenv("BENCH_TEST_PROGRAM") != "" {
		main()
	}
	os.Exit(runs(m))
}

// begins runs the program on a job, and returns where it is and what it says that is wrong.
func begins(t *testing.T, path string) (program *exec.Cmd, at *url.URL, wrong *bytes.Buffer) {
	t.Helper()
	thorough.SkipRaced(t)
	if _, err := library(); err != nil { // built and kept before the program wants it
		t.Fatal(err)
	}
	program, wrong = exec.CommandContext(t.Context(), os.Args[0], path), &bytes.Buffer{}
	program.Env = append(os.Environ(), "BENCH_TEST_PROGRAM=1", "XDG_STATE_HOME="+t.TempDir())
	program.Stderr = wrong
	out, err := program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err, wrong.String())
	}
	if at, err = url.Parse(strings.TrimSpace(line)); err != nil {
		t.Fatal(err)
	}
	return program, at, wrong
}

// underWay sends the head of a request, and returns when the program waits for the body.
func underWay(t *testing.T, at *url.URL, body []byte) (c net.Conn, in *bufio.Reader) {
	t.Helper()
	c, err := net.Dial("tcp", at.Host)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	fmt.Fprintf(c, "POST %sedit HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Type: application/json\r\nExpect: 100-continue\r\nContent-Length: %d\r\n\r\n", at.Path, at.Host, at.Host, len(body))
	in = bufio.NewReader(c)
	for _, want := range []string{"HTTP/1.1 100 Continue\r\n", "\r\n"} {
		if line, err := in.ReadString('\n'); err != nil || line != want {
			t.Fatal(line, err)
		}
	}
	return c, in
}

// The program is ended by an interrupt: what was asked before is answered, and it ends well.
func TestInterrupt(t *testing.T) {
	path := filepath.Join(t.TempDir(), "engine.toml")
	text := demonstration(t, "lock-gate")
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	program, at, wrong := begins(t, path)
	events, err := http.Get(at.String() + "events") // a tab that stays open
	if err != nil {
		t.Fatal(err)
	}
	defer events.Body.Close()
	body, err := json.Marshal(bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "58.361 mm"})
	if err != nil {
		t.Fatal(err)
	}
	c, in := underWay(t, at, body)
	if err := program.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	thorough.Until(t, "nobody is let in any more", func() bool {
		more, err := net.Dial("tcp", at.Host)
		if err == nil {
			more.Close()
		}
		return err != nil
	})
	if _, err := c.Write(body); err != nil {
		t.Fatal(err)
	}
	answer, err := http.ReadResponse(in, nil)
	if err != nil {
		t.Fatal(err)
	}
	if said, _ := io.ReadAll(answer.Body); answer.StatusCode != http.StatusOK || !strings.Contains(string(said), "58.361 mm") {
		t.Errorf("%s: %.200s", answer.Status, said)
	}
	if err := program.Wait(); err != nil || wrong.Len() > 0 {
		t.Errorf("it ends with %v: %s", err, wrong.String())
	}
	after, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if want := bytes.Replace(text, []byte("58.360 mm"), []byte("58.361 mm"), 1); !bytes.Equal(after, want) {
		t.Error("what was answered is not in the file")
	}
}

// A second interrupt ends the program at once, whatever is under way. It is the signal to terminate that is sent: a
// shell that begins the tests with & has interrupts ignored.
func TestSecondInterrupt(t *testing.T) {
	path := filepath.Join(t.TempDir(), "engine.toml")
	if err := os.WriteFile(path, demonstration(t, "lock-gate"), 0o600); err != nil {
		t.Fatal(err)
	}
	program, at, _ := begins(t, path)
	underWay(t, at, []byte("{}"))
	ended := make(chan error, 1)
	go func() { ended <- program.Wait() }()
	var err error
	thorough.Until(t, "it ends", func() bool {
		_ = program.Process.Signal(syscall.SIGTERM) // until it has ended
		select {
		case err = <-ended:
			return true
		default:
			return false
		}
	})
	exit, is := errors.AsType[*exec.ExitError](err)
	if !is || exit.Exited() {
		t.Errorf("it was not ended by the interrupt: %v", err)
	}
}
