package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/internal/thorough"
)

// served is a server under test.
type served struct {
	*server
	keeper *keeper
	stop   context.CancelFunc
	ended  chan error
}

// serving serves a job from a file in a folder of its own, or, without a text, the demonstration.
func serving(t *testing.T, text, packed []byte) *served {
	t.Helper()
	path := ""
	if text != nil {
		path = filepath.Join(t.TempDir(), "engine.toml")
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	k, err := newKeeper(path)
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s, err := newServer(k, packed, listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	s.within = thorough.Patience
	ctx, stop := context.WithCancel(t.Context())
	x := &served{s, k, stop, make(chan error, 1)}
	go func() { x.ended <- s.serve(ctx, listener) }()
	t.Cleanup(x.end(t))
	return x
}

// end stops the server, once.
func (s *served) end(t *testing.T) func() {
	return func() {
		s.stop()
		select {
		case err := <-s.ended:
			if err != nil {
				t.Errorf("it does not end well: %v", err)
			}
			s.ended <- nil
		case <-time.After(2 * thorough.Patience):
			t.Error("it does not end")
		}
	}
}

// ask asks the server, and returns its status and what it answers.
func (s *served) ask(t *testing.T, method, path string, body any, change ...func(*http.Request)) (int, map[string]any) {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(t.Context(), method, s.address()+path, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Origin", "http://"+s.host)
	r.Header.Set("Content-Type", "application/json")
	for _, c := range change {
		c(r)
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	got, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	_ = json.Unmarshal(got, &v) // what is refused before it is read is no JSON
	return a.StatusCode, v
}

func demonstration(t *testing.T, name string) []byte {
	t.Helper()
	text, err := job.Demonstration(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestRefuses(t *testing.T) {
	s := serving(t, demonstration(t, "lock-gate"), nil)
	before, _ := os.ReadFile(s.keeper.path)
	edit := bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "58.361 mm"}
	head := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	for _, test := range []struct {
		name, method, path string
		body               any
		change             func(*http.Request)
		want               int
	}{
		{"another host", "GET", "", nil, func(r *http.Request) { r.Host = "bench.example" }, 421},
		{"the same port by another name", "GET", "job", nil, func(r *http.Request) { r.Host = strings.Replace(s.host, "127.0.0.1", "localhost", 1) }, 421},
		{"another origin", "POST", "edit", edit, head("Origin", "http://bench.example"), 403},
		{"another origin that only looks", "GET", "job", nil, head("Origin", "http://bench.example"), 403},
		{"no origin", "POST", "edit", edit, head("Origin", ""), 403},
		{"an origin that hides", "POST", "edit", edit, head("Origin", "null"), 403},
		{"another site", "GET", "job", nil, head("Sec-Fetch-Site", "cross-site"), 403},
		{"another path", "GET", "../", nil, nil, 404},
		{"a path that is not there", "GET", "jobs", nil, nil, 404},
		{"another method", "PUT", "edit", edit, nil, 405},
		{"a look that writes", "GET", "edit", nil, nil, 405},
		{"a form", "POST", "edit", edit, head("Content-Type", "text/plain"), 415},
		{"what is too long", "POST", "edit", strings.Repeat("x", 1<<20), nil, 413},
		{"no edit", "POST", "edit", map[string]any{"file": "/etc/passwd"}, nil, 400},
		{"what somebody else changed", "POST", "edit", bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "?", Now: "58.361 mm"}, nil, 409},
		{"no reading", "POST", "edit", bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "much"}, nil, 422},
		{"what was never changed", "POST", "undo", bench.Change{In: "never"}, nil, 409},
	} {
		change := test.change
		if change == nil {
			change = func(*http.Request) {}
		}
		if status, said := s.ask(t, test.method, test.path, test.body, change); status != test.want {
			t.Errorf("%s: %d, %v; want %d", test.name, status, said, test.want)
		}
	}
	if after, _ := os.ReadFile(s.keeper.path); !bytes.Equal(before, after) {
		t.Error("the file was changed")
	}
	if len(s.secret) != 32 {
		t.Errorf("%q is guessed", s.secret)
	}
}

func TestKeeps(t *testing.T) {
	text := demonstration(t, "lock-gate")
	s := serving(t, text, nil)
	edit := bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "58.361 mm"}
	events, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.address()+"events", nil)
	if err != nil {
		t.Fatal(err)
	}
	stream, err := http.DefaultClient.Do(events)
	if err != nil {
		t.Fatal(err)
	}
	defer stream.Body.Close()
	heard := make(chan string, 20)
	go func() {
		defer close(heard)
		event := ""
		for lines := bufio.NewScanner(stream.Body); lines.Scan(); {
			if kind, is := strings.CutPrefix(lines.Text(), "event: "); is {
				event = kind
			}
			if revision, is := strings.CutPrefix(lines.Text(), "data: "); is && event == "job" { // not that it is still here
				heard <- revision
			}
		}
	}()
	hear := func(want string) {
		t.Helper()
		select {
		case got := <-heard:
			if got != want {
				t.Fatalf("heard %q, want %q", got, want)
			}
		case <-time.After(thorough.Patience):
			t.Fatal("nothing is heard")
		}
	}
	revision := func(text []byte) string {
		return bench.Source{Name: "engine.toml", Text: text, Beside: map[string]string{}}.Revision()
	}
	hear(revision(text))
	status, said := s.ask(t, "POST", "edit", edit)
	after, _ := os.ReadFile(s.keeper.path)
	if want := bytes.Replace(text, []byte("58.360 mm"), []byte("58.361 mm"), 1); status != 200 || !bytes.Equal(after, want) {
		t.Fatalf("%d, %v", status, said)
	}
	hear(revision(after))
	if status, said := s.ask(t, "POST", "edit", edit); status != 409 || !strings.Contains(said["message"].(string), "58.361 mm") {
		t.Errorf("the second of two who type: %d, %v", status, said)
	}
	edited := append([]byte("# by an editor\n"), after...)
	if err := wholefile.Write(s.keeper.path, edited); err != nil { // at once, so that no half of it is heard of
		t.Fatal(err)
	}
	hear(revision(edited))
	if status, said := s.ask(t, "POST", "undo", said["change"]); status != 200 {
		t.Fatalf("undo beside an editor: %d, %v", status, said)
	}
	if now, _ := os.ReadFile(s.keeper.path); !bytes.Equal(now, append([]byte("# by an editor\n"), text...)) {
		t.Error("undone, it is not what the editor and the job say")
	}
	if err := os.WriteFile(s.keeper.path, []byte("title = \n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, said := s.ask(t, "POST", "edit", edit); status != 422 || !strings.Contains(said["message"].(string), "title") {
		t.Errorf("a file that is no job: %d, %v", status, said)
	}
	if now, _ := os.ReadFile(s.keeper.path); string(now) != "title = \n" {
		t.Error("a file that is no job was written")
	}
}

// A browser opens connections in advance; one that has asked nothing does not hold the end.
func TestEndsBesideSilence(t *testing.T) {
	s := serving(t, demonstration(t, "lock-gate"), nil)
	for range 2 {
		c, err := (&net.Dialer{}).DialContext(t.Context(), "tcp", s.host)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Close() })
	}
	// The server accepts in order: when a third is answered, it holds both.
	if status, _ := s.ask(t, http.MethodGet, "", nil); status != http.StatusOK {
		t.Fatalf("status %d", status)
	}
	s.end(t)()
}

func TestDemonstrationIsNotKept(t *testing.T) {
	s := serving(t, nil, nil)
	edit := bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "58.361 mm"}
	if status, said := s.ask(t, "POST", "edit", edit); status != 200 || !strings.Contains(said["text"].(string), "58.361 mm") {
		t.Errorf("%d, %v", status, said)
	}
	if status, said := s.ask(t, "GET", "job", nil); status != 200 || !strings.Contains(said["text"].(string), "58.361 mm") {
		t.Errorf("%d, %v", status, said)
	}
	if status, said := s.ask(t, "POST", "walk", act{Act: "start", Phase: job.Final, Text: "none"}); status != 200 || !strings.Contains(said["said"].(string), "demonstration") {
		t.Errorf("%d, %v", status, said)
	}
}

// The tightening is walked by the ledger's rules, behind the gate.
func TestWalks(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	s := serving(t, demonstration(t, "all-proven"), nil)
	do := func(a act, want string) {
		t.Helper()
		a.Phase = job.Final
		status, said := s.ask(t, "POST", "walk", a)
		if text := said["said"].(string) + "\n" + said["html"].(string); status != 200 || !strings.Contains(text, want) {
			t.Fatalf("%+v: %d, %.2000v; want %q", a, status, text, want)
		}
	}
	do(act{Act: "begin", Step: 1}, "not started")
	do(act{Act: "start"}, "which bolts have been turned")
	do(act{Act: "start", Text: "none"}, "The ledger is started")
	do(act{Act: "done", Step: 1}, "refused")
	do(act{Act: "begin", Step: 2}, "refused")
	do(act{Act: "begin", Step: 1}, "Pull now")
	do(act{Act: "begin", Step: 1}, "refused")
	do(act{Act: "done", Step: 1, Text: "much"}, "much")
	do(act{Act: "done", Step: 1}, "1 of ")
	do(act{Act: "begin", Step: 2}, "Pull now")
	do(act{Act: "slipped", Step: 2}, "STOP")
	do(act{Act: "begin", Step: 3}, "refused")
	do(act{Act: "fly", Step: 3}, "nothing that can be recorded")
	s.end(t)()
	// Another program goes on with the same ledger, and asks who saw a pull that was begun before.
	k, err := newKeeper(s.keeper.path)
	if err != nil {
		t.Fatal(err)
	}
	w := newWalker(k)
	if html := w.show(job.Final).String(); !strings.Contains(html, "STOP") {
		t.Errorf("the trouble is gone: %.500s", html)
	}
	if err := w.close(); err != nil {
		t.Error(err)
	}
}

func TestSeen(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	s := serving(t, demonstration(t, "all-proven"), nil)
	for _, a := range []act{{Act: "start", Phase: job.Final, Text: "none"}, {Act: "begin", Phase: job.Final, Step: 1}} {
		s.ask(t, "POST", "walk", a)
	}
	s.end(t)()
	k, err := newKeeper(s.keeper.path)
	if err != nil {
		t.Fatal(err)
	}
	w := newWalker(k)
	defer w.close()
	if html := w.show(job.Final).String(); !strings.Contains(html, "Do not pull") {
		t.Errorf("%.500s", html)
	}
	if _, err := w.do(act{Act: "done", Phase: job.Final, Step: 1}); err == nil {
		t.Error("a pull that nobody saw is done")
	}
	if _, err := w.do(act{Act: "done", Phase: job.Final, Step: 1, Seen: true}); err != nil {
		t.Error(err)
	}
}

// A gate that is shut lets nothing begin; a bolt that is held is not pulled on anybody's word.
func TestGateShut(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	s := serving(t, demonstration(t, "lock-gate"), nil)
	status, said := s.ask(t, "POST", "walk", act{Act: "start", Phase: job.Final, Text: "none"})
	if status != 200 || !strings.Contains(said["said"].(string), "gate shut") {
		t.Fatalf("%d, %v", status, said["said"])
	}
	if _, said = s.ask(t, "POST", "walk", act{Act: "start", Phase: job.Final, Text: "none", By: "the foreman", Reason: "a trial of the tools"}); !strings.Contains(said["said"].(string), "started") {
		t.Fatalf("%v", said["said"])
	}
	if _, said = s.ask(t, "POST", "walk", act{Act: "begin", Phase: job.Final, Step: 1}); !strings.Contains(said["said"].(string), "Pull now") {
		t.Errorf("%v", said["said"])
	}
}

func TestProgram(t *testing.T) {
	for _, args := range [][]string{{"a.toml", "b.toml"}, {"-"}, {filepath.Join(t.TempDir(), "none.toml")}, {"-what"}} {
		var out, wrong bytes.Buffer
		if status := run(t.Context(), args, &out, &wrong); status != badInput || wrong.Len() == 0 {
			t.Errorf("%q: %d, %s", args, status, wrong.String())
		}
	}
}
