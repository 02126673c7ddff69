package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"example.com/closefit/examples/kit/ask/asktest"
	"example.com/closefit/internal/thorough"
)

// TestStopUnderLoad stops the program while clients ask as fast as they can, some of them heavy questions. Each request
// gets a whole answer, 503, or a connection that is refused; never half an answer, and none is lost after it was taken:
// the program's log has a line for each request that it took, and as many are answered.
func TestStopUnderLoad(t *testing.T) {
	stoppable(t)
	program := exec.Command(os.Args[0], "-listen", "127.0.0.1:0")
	program.Env = append(os.Environ(), "SERVE_TEST_PROGRAM=patient")
	out, err := program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	program.Stderr = &log
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	at := strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(line), "http://"), "/")
	bodies := map[string]string{}
	for _, c := range asktest.Library() {
		bodies[c.Name] = bodyOf(c)
	}
	const clients = 24
	var answered atomic.Int64
	var wait sync.WaitGroup
	type count struct{ whole, busy, refused int }
	counts := make(chan count, clients)
	for i := range clients {
		wait.Go(func() {
			var n count
			defer func() { counts <- n }()
			path, body := "judge", bodies["judge, a pressure"]
			if i%6 == 0 {
				path, body = "stack", bodies["stack, every kind"]
			}
			var c net.Conn
			var in *bufio.Reader
			var err error
			for {
				if c == nil {
					if c, err = net.Dial("tcp", at); err != nil {
						n.refused++
						return
					}
					in = bufio.NewReader(c)
				}
				c.SetDeadline(time.Now().Add(thorough.Patience))
				r, err := http.NewRequest("POST", "http://"+at+"/v1/"+path, strings.NewReader(body))
				if err != nil {
					t.Error(err)
					return
				}
				r.Header.Set("Content-Type", "application/json")
				_ = r.Write(c)                        // what it came to shows in the answer
				if _, err := in.Peek(1); err != nil { // not a byte of an answer: closed before the request was taken, which the log shows
					c.Close()
					c = nil
					var timeout net.Error
					if errors.As(err, &timeout) && timeout.Timeout() {
						t.Error("a request was taken and never answered")
					}
					n.refused++
					continue
				}
				a, err := http.ReadResponse(in, r)
				if err != nil {
					t.Errorf("a cut head: %v", err)
					return
				}
				text, err := io.ReadAll(a.Body)
				switch {
				case err != nil:
					t.Errorf("a cut answer: %v after %d bytes", err, len(text))
					return
				case a.StatusCode == 200 && strings.HasPrefix(string(text), `{"closefit":1,"answer":`):
					n.whole++
					answered.Add(1)
				case a.StatusCode == 503 || a.StatusCode == 429:
					n.busy++
				default:
					t.Errorf("%s: %.200s", a.Status, text)
				}
				if a.Close {
					c.Close()
					c = nil
				}
			}
		})
	}
	thorough.Until(t, "each client could have had some answers", func() bool { return answered.Load() >= 4*clients })
	stopProgram(t, program)
	wait.Wait()
	if err := program.Wait(); err != nil {
		t.Errorf("it ends with %v", err)
	}
	var all count
	for range clients {
		n := <-counts
		all.whole, all.busy, all.refused = all.whole+n.whole, all.busy+n.busy, all.refused+n.refused
	}
	if all.whole < clients || all.refused < clients {
		t.Errorf("%+v: nothing was tried", all)
	}
	if taken := strings.Count(log.String(), `"msg":"request"`); taken != all.whole+all.busy {
		t.Errorf("%d requests were taken, and %d answered", taken, all.whole+all.busy)
	}
	t.Logf("%+v", all)
}

// stoppable skips a test where no signal stops a program.
func stoppable(t testing.TB) {
	if runtime.GOOS == "windows" {
		t.Skip("a program is stopped here by its console alone")
	}
}

// stopProgram asks a program to stop, as the system does.
func stopProgram(t testing.TB, p *exec.Cmd) {
	t.Helper()
	if err := p.Process.Signal(syscall.SIGTERM); err != nil {
		t.Error(err)
	}
}

// What was sent before the stop is answered, however slowly the rest of it comes.
func TestStopWaits(t *testing.T) {
	s := serving(t)
	c, err := net.Dial("tcp", s.at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	head := "POST /v1/convert HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nExpect: 100-continue\r\nContent-Length: "
	if _, err := c.Write([]byte(head + strconv.Itoa(len(inch)) + "\r\n\r\n")); err != nil {
		t.Fatal(err)
	}
	in := bufio.NewReader(c)
	if line, err := in.ReadString('\n'); err != nil || !strings.Contains(line, "100") { // its turn has come: it reads the body
		t.Fatal(line, err)
	}
	s.stop()
	thorough.Until(t, "it stops", s.stopping.Load)
	time.Sleep(20 * time.Millisecond)
	if _, err := c.Write([]byte(inch)); err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(in)
	if err != nil || !strings.Contains(string(text), "HTTP/1.1 200 ") || !strings.Contains(string(text), `"value":"25.4 mm"`) || !strings.Contains(string(text), "Connection: close") {
		t.Errorf("%v: %s", err, text)
	}
}

// While it stops it says that it is not ready, and takes no question, to whom was connected before.
func TestNotReadyWhileStopping(t *testing.T) {
	s := serving(t, func(s *server) { s.silent = thorough.Patience })
	leave, err := s.heavy.enter(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	status := make(chan int, 1)
	go func() { // so that there is something to wait for
		a, _ := s.send(t, "POST", "/v1/stack", bodyOf(asktest.Case{With: light}))
		status <- a.StatusCode
	}()
	thorough.Until(t, "it waits", func() bool { return len(s.heavy.line) == 2 })
	asking := func() (c net.Conn, in *bufio.Reader) {
		c, err := net.Dial("tcp", s.at)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Close() })
		return c, bufio.NewReader(c)
	}
	ask := func(c net.Conn, in *bufio.Reader, method, path, body string) (int, string) {
		c.SetDeadline(time.Now().Add(thorough.Patience))
		fmt.Fprintf(c, "%s %s HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", method, path, len(body), body)
		a, err := http.ReadResponse(in, nil)
		if err != nil {
			t.Fatal(method, path, err)
		}
		defer a.Body.Close()
		text, err := io.ReadAll(a.Body)
		if err != nil {
			t.Fatal(err)
		}
		return a.StatusCode, string(text)
	}
	ready, readyIn := asking()
	question, questionIn := asking()
	if status, text := ask(ready, readyIn, "GET", "/readyz", ""); status != 200 {
		t.Errorf("before: %d, %s", status, text)
	}
	if status, text := ask(question, questionIn, "POST", "/v1/convert", inch); status != 200 {
		t.Errorf("before: %d, %s", status, text)
	}
	s.stop()
	thorough.Until(t, "it stops", s.stopping.Load)
	if status, text := ask(ready, readyIn, "GET", "/readyz", ""); status != 503 || !strings.Contains(text, `"kind":"stopping"`) {
		t.Errorf("readyz while it stops: %d, %s", status, text)
	}
	if status, text := ask(question, questionIn, "POST", "/v1/convert", inch); status != 503 || !strings.Contains(text, `"kind":"stopping"`) {
		t.Errorf("a question while it stops: %d, %s", status, text)
	}
	leave()
	if status := <-status; status != 200 {
		t.Errorf("what was taken before: %d", status)
	}
}

// TestHelp: -help says what the program does, and is no error.
func TestHelp(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run(t.Context(), []string{"-help"}, &out, &errs); status != 0 || !strings.HasPrefix(errs.String(), "usage: serve [-listen") || !strings.Contains(errs.String(), "/openapi.json describes them") {
		t.Errorf("exit status %d\n%s", status, &errs)
	}
}
