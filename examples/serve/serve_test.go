package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/asktest"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
)

// journal is a log that a test reads while the server writes it.
type journal struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (j *journal) Write(p []byte) (int, error) {
	j.mutex.Lock()
	defer j.mutex.Unlock()
	return j.text.Write(p)
}

func (j *journal) String() string {
	j.mutex.Lock()
	defer j.mutex.Unlock()
	return j.text.String()
}

// served is a server under test.
type served struct {
	*server
	at    string
	log   *journal
	stop  context.CancelFunc
	ended chan error
}

// patient lets a server wait for whoever is slow, as a whole machine may be; a test shortens the time that it is about.
func patient(s *server) {
	s.heads, s.bodies.within, s.answers, s.within, s.silent = thorough.Patience, thorough.Patience, thorough.Patience, 2*thorough.Patience, thorough.Patience
}

func serving(t testing.TB, change ...func(*server)) *served {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	log := &journal{}
	s := newServer(slog.New(slog.NewJSONHandler(log, nil)))
	patient(s)
	s.silent = 50 * time.Millisecond // an end is not held by connections that clients keep
	for _, c := range change {
		c(s)
	}
	ctx, stop := context.WithCancel(context.Background())
	x := &served{s, listener.Addr().String(), log, stop, make(chan error, 1)}
	go func() { x.ended <- s.serve(ctx, listener) }()
	t.Cleanup(func() { x.end(t) })
	return x
}

func (s *served) end(t testing.TB) {
	s.stop()
	select {
	case err := <-s.ended:
		if err != nil {
			t.Errorf("it does not end well: %v", err)
		}
		s.ended <- nil
	case <-time.After(thorough.Patience):
		t.Error("it does not end")
	}
}

// reply is what every answer has.
type reply struct {
	Closefit int
	Answer   json.RawMessage
	Error    *ask.Refusal
}

func (s *served) send(t testing.TB, method, path, body string, change ...func(*http.Request)) (*http.Response, reply) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, "http://"+s.at+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	for _, c := range change {
		c(r)
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	var v reply
	if strings.HasPrefix(a.Header.Get("Content-Type"), "application/json") && len(text) > 0 {
		if err := json.Unmarshal(text, &v); err != nil {
			t.Fatalf("%s %s: %v: %.200s", method, path, err, text)
		}
	}
	return a, v
}

// bodyOf is a question of asktest as a body.
func bodyOf(c asktest.Case) string { return `{"closefit":1,` + strings.TrimSpace(c.With)[1:] }

const inch = `{"closefit":1,"value":"1 in","to":"mm","round":"exact","places":null}`

// TestAnswers: every answer over HTTP is that of the question's own set, whose tests work out what
// it has to be.
func TestAnswers(t *testing.T) {
	s := serving(t)
	for _, c := range append(asktest.Library(), asktest.Records()[:3]...) {
		if c.Question == "weigh" {
			continue
		}
		a, got := s.send(t, "POST", "/v1/"+c.Question, bodyOf(c))
		var want reply
		if err := json.Unmarshal(s.set.Answer(t.Context(), c.Document()), &want); err != nil {
			t.Fatal(err)
		}
		if got.Closefit != 1 || !bytes.Equal(got.Answer, want.Answer) || (got.Error == nil) != (want.Error == nil) || got.Error != nil && got.Error.Message != want.Error.Message {
			t.Errorf("%s: %s, %.300s, %+v; want %.300s, %+v", c.Name, a.Status, got.Answer, got.Error, want.Answer, want.Error)
		}
		if (a.StatusCode == 200) != (want.Error == nil) {
			t.Errorf("%s: %s", c.Name, a.Status)
		}
	}
}

// The keys of a body may stand in any order.
func TestBodies(t *testing.T) {
	s := serving(t)
	for _, body := range []string{
		inch,
		`{"value":"1 in","to":"mm","round":"exact","places":null,"closefit":1}`,
		"{ \"value\" : \"1 in\" , \"closefit\" :\n1 , \"to\":\"mm\",\"round\":\"exact\",\"places\":null}\n",
	} {
		if a, got := s.send(t, "POST", "/v1/convert", body); a.StatusCode != 200 || !strings.Contains(string(got.Answer), `"value":"25.4 mm"`) {
			t.Errorf("%s: %s, %+v", body, a.Status, got.Error)
		}
	}
}

func TestRefuses(t *testing.T) {
	s := serving(t)
	head := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	for _, test := range []struct {
		name, method, path, body string
		change                   func(*http.Request)
		status                   int
		says                     string
	}{
		{"no JSON", "POST", "/v1/convert", "1 in", nil, 400, "no JSON"},
		{"nothing", "POST", "/v1/convert", "", nil, 400, "no JSON"},
		{"cut off", "POST", "/v1/convert", inch[:40], nil, 400, "not all of it"},
		{"a list", "POST", "/v1/convert", "[" + inch + "]", nil, 400, "closefit"},
		{"text behind", "POST", "/v1/convert", inch + "{}", nil, 400, "no JSON"},
		{"no version", "POST", "/v1/convert", strings.Replace(inch, `"closefit":1,`, "", 1), nil, 400, `write "closefit": 1`},
		{"the version inside only", "POST", "/v1/convert", `{"value":{"closefit":1},"to":"mm","round":"exact","places":null}`, nil, 400, "no such key"},
		{"another version", "POST", "/v1/convert", strings.Replace(inch, ":1", ":2", 1), nil, 400, `write "closefit": 1`},
		{"the version twice", "POST", "/v1/convert", strings.Replace(inch, `"closefit":1`, `"closefit":1,"closefit":1`, 1), nil, 400, `unknown key "closefit"`},
		{"a missing key", "POST", "/v1/convert", strings.Replace(inch, `,"places":null`, "", 1), nil, 400, `no key "places"`},
		{"an unknown key", "POST", "/v1/convert", strings.Replace(inch, `"places"`, `"x":1,"places"`, 1), nil, 400, "unknown key"},
		{"another unit", "POST", "/v1/convert", strings.Replace(inch, `"mm"`, `"N"`, 1), nil, 422, "force"},
		{"exactly, to places", "POST", "/v1/convert", strings.Replace(inch, "null", "3", 1), nil, 422, "places"},
		{"what cannot be read", "POST", "/v1/convert", strings.Replace(inch, "1 in", "one inch", 1), nil, 422, "one inch"},
		{"deep", "POST", "/v1/judge", `{"closefit":1,"terms":` + strings.Repeat("[", 50_000) + strings.Repeat("]", 50_000) + "}", nil, 400, "more than 64"},
		{"deep in text is text", "POST", "/v1/convert", strings.Replace(inch, "1 in", strings.Repeat("[", 100), 1), nil, 422, "[["},
		{"too long", "POST", "/v1/convert", inch + strings.Repeat(" ", 8<<10), nil, 413, "4096 bytes"},
		{"too long, of no stated length", "POST", "/v1/convert", inch + strings.Repeat(" ", 8<<10), func(r *http.Request) { r.ContentLength = -1; r.Body = io.NopCloser(r.Body) }, 413, "4096 bytes"},
		{"a form", "POST", "/v1/convert", inch, head("Content-Type", "application/x-www-form-urlencoded"), 415, "application/json"},
		{"no kind", "POST", "/v1/convert", inch, func(r *http.Request) { r.Header.Del("Content-Type") }, 415, "application/json"},
		{"another charset", "POST", "/v1/convert", inch, head("Content-Type", "application/json; charset=latin1"), 415, "application/json"},
		{"packed", "POST", "/v1/convert", inch, head("Content-Encoding", "gzip"), 415, "without a Content-Encoding"},
		{"another question", "POST", "/v1/weigh", inch, nil, 404, "openapi.json"},
		{"another path", "GET", "/v2/convert", "", nil, 404, "openapi.json"},
		{"a look at a question", "GET", "/v1/convert", "", nil, 405, "use POST"},
		{"a post to a look", "POST", "/healthz", "{}", nil, 405, "use GET"},
		{"another site's pages", "OPTIONS", "/v1/convert", "", head("Origin", "https://shop.example"), 405, "use POST"},
		{"another name of this machine", "POST", "/v1/convert", inch, func(r *http.Request) { r.Host = "shop.example" }, 421, "127.0.0.1"},
	} {
		change := test.change
		if change == nil {
			change = func(*http.Request) {}
		}
		a, got := s.send(t, test.method, test.path, test.body, change)
		if a.StatusCode != test.status || got.Closefit != 1 || got.Error == nil || got.Error.Kind == nil || got.Error.Where == nil || got.Error.Write == nil || !strings.Contains(got.Error.Message, test.says) {
			t.Errorf("%s: %s, %+v; want %d, %q", test.name, a.Status, got.Error, test.status, test.says)
		}
		if a.Header.Get("X-Content-Type-Options") != "nosniff" || a.Header.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: heads %v", test.name, a.Header)
		}
	}
	for _, path := range []string{"/", "/healthz", "/readyz", "/openapi.json"} {
		if a, _ := s.send(t, "GET", path, ""); a.StatusCode != 200 {
			t.Errorf("%s: %s", path, a.Status)
		}
	}
	if log := s.log.String(); strings.Contains(log, "one inch") || strings.Contains(log, "weigh") || !strings.Contains(log, `"route":"/v1/convert","status":422,"kind":`) {
		t.Errorf("the log:\n%s", log)
	}
}

// Who sends a head or half a body and then nothing gets 408, or is cut off, in the time that there is.
func TestSlow(t *testing.T) {
	s := serving(t, func(s *server) { s.bodies.within = 300 * time.Millisecond })
	c, err := net.Dial("tcp", s.at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprintf(c, "POST /v1/convert HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", len(inch), inch[:10])
	c.SetReadDeadline(time.Now().Add(thorough.Patience))
	text, err := io.ReadAll(c)
	if err != nil || !strings.HasPrefix(string(text), "HTTP/1.1 408 ") || !strings.Contains(string(text), `"kind":"too slow"`) {
		t.Errorf("%v: %s", err, text)
	}
}

// Who sends a body that is too long as a whole, before it looks for the answer, gets the answer. Who asks first, or
// says that it will be endless, gets it at once.
func TestTooLongIsAnswered(t *testing.T) {
	s := serving(t, func(s *server) { s.bodies.within = 2 * thorough.Patience })
	for _, test := range []struct{ name, head, body string }{
		{"as a whole", fmt.Sprintf("Content-Length: %d\r\n", 2<<20), strings.Repeat(" ", 2<<20)},
		{"in pieces", "Transfer-Encoding: chunked\r\n", strings.Repeat("10000\r\n"+strings.Repeat(" ", 1<<16)+"\r\n", 32) + "0\r\n\r\n"},
		{"asking first", fmt.Sprintf("Content-Length: %d\r\nExpect: 100-continue\r\n", 2<<20), ""},
		{"endless", "Content-Length: 999999999999\r\n", "{}"},
	} {
		c, err := net.Dial("tcp", s.at)
		if err != nil {
			t.Fatal(err)
		}
		c.SetDeadline(time.Now().Add(thorough.Patience)) // half of what a body may take
		if _, err := fmt.Fprintf(c, "POST /v1/convert HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nConnection: close\r\n%s\r\n%s", test.head, test.body); err != nil {
			t.Errorf("%s: %v", test.name, err)
		}
		a, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			t.Fatal(test.name, err)
		}
		text, err := io.ReadAll(a.Body)
		c.Close()
		if err != nil || a.StatusCode != 413 || !strings.Contains(string(text), "4096 bytes") {
			t.Errorf("%s: %v: %s, %s", test.name, err, a.Status, text)
		}
	}
}

// The connections are bounded: the one that kept the server waiting the longest goes, and who asks is answered.
func TestCrowd(t *testing.T) {
	s := serving(t, func(s *server) { s.guard.most = 20 })
	for range 100 {
		c, err := net.Dial("tcp", s.at)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
	}
	for range 5 {
		if a, _ := s.send(t, "POST", "/v1/convert", inch); a.StatusCode != 200 {
			t.Error(a.Status)
		}
	}
	s.guard.mutex.Lock()
	defer s.guard.mutex.Unlock()
	if n := len(s.guard.all); n > 20 {
		t.Errorf("%d connections", n)
	}
}

// A heavy question that takes too long gets 503, and leaves its place.
func TestLate(t *testing.T) {
	s := serving(t, func(s *server) { s.answers = 50 * time.Millisecond })
	a, got := s.send(t, "POST", "/v1/stack", long())
	if a.StatusCode != 503 || got.Error == nil || a.Header.Get("Retry-After") == "" {
		t.Errorf("%s, %+v", a.Status, got.Error)
	}
	if len(s.heavy.line) != 0 || len(s.heavy.places) != 0 {
		t.Error("its place is still taken")
	}
	s.answers = thorough.Patience
	if a, _ := s.send(t, "POST", "/v1/stack", bodyOf(asktest.Case{With: light})); a.StatusCode != 200 {
		t.Error(a.Status)
	}
}

// long is a stack that takes seconds by itself.
func long() string {
	var parts []string
	for i := range 90 {
		parts = append(parts, fmt.Sprintf(`{"name":"a%d","times":"1","limits":"1.000..1.%03d mm","distribution":{"kind":"arcsine"},"exact":false,"sources":[]}`, i, 101+2*i))
	}
	return `{"closefit":1,"name":"x","limits":"96..99 mm","unit":"mm","inflation":null,"quantiles":[0.1,0.2,0.3,0.4,0.6,0.7],"histogram":false,"correlations":null,"simulation":null,"contributors":[` + strings.Join(parts, ",") + `]}`
}

// light is a stack that is answered at once.
const light = `{"name":"deck","limits":null,"unit":"mm","inflation":null,"quantiles":[],"histogram":false,"correlations":null,"simulation":null,"contributors":[{"name":"block","times":"1","limits":"9.000..9.004 mm","distribution":null,"exact":false,"sources":[]}]}`

// As many heavy questions as may wait wait, and the next is told so; light ones are answered meanwhile.
func TestFull(t *testing.T) {
	s := serving(t, func(s *server) { s.heavy = newLane(1, 1) })
	leave, err := s.heavy.enter(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	second := make(chan int)
	stack := bodyOf(asktest.Case{With: light})
	go func() {
		a, _ := s.send(t, "POST", "/v1/stack", stack)
		second <- a.StatusCode
	}()
	thorough.Until(t, "the second waits", func() bool { return len(s.heavy.line) == 2 })
	if a, got := s.send(t, "POST", "/v1/stack", stack); a.StatusCode != 429 || a.Header.Get("Retry-After") == "" || got.Error == nil {
		t.Errorf("%s, %+v", a.Status, got.Error)
	}
	if a, _ := s.send(t, "POST", "/v1/convert", inch); a.StatusCode != 200 {
		t.Error(a.Status)
	}
	leave()
	if status := <-second; status != 200 {
		t.Error(status)
	}
}

// Who leaves, or has waited long enough, frees the one heavy place soon: a stack that takes seconds by itself stops.
func TestLeavingStopsTheWork(t *testing.T) {
	s := serving(t)
	ctx, leave := context.WithCancel(t.Context())
	gone := make(chan struct{})
	go func() {
		defer close(gone)
		r, err := http.NewRequestWithContext(ctx, "POST", "http://"+s.at+"/v1/stack", strings.NewReader(long()))
		if err != nil {
			t.Error(err)
			return
		}
		r.Header.Set("Content-Type", "application/json")
		if a, err := http.DefaultClient.Do(r); err == nil {
			a.Body.Close()
			t.Errorf("it was answered before anybody left: %s", a.Status)
		}
	}()
	thorough.Until(t, "it is worked on", func() bool { return len(s.heavy.places) > 0 })
	leave()
	<-gone
	left := time.Now()
	if a, got := s.send(t, "POST", "/v1/stack", bodyOf(asktest.Case{With: light})); a.StatusCode != 200 {
		t.Errorf("%s, %+v", a.Status, got.Error)
	}
	t.Logf("the next one had its answer %v after the first had left", time.Since(left))
	// Its place is free before its line is in the log.
	thorough.Until(t, "who left is given up on", func() bool { return strings.Contains(s.log.String(), `"route":"/v1/stack","status":503`) })
}

// All bodies that are still coming hold no more than the budget together: what goes beyond it is told so, and
// once they have come or gone there is room again.
func TestBodyBudget(t *testing.T) {
	s := serving(t, func(s *server) { s.bodies.most = 40 << 10 })
	half := func(length int) net.Conn {
		c, err := net.Dial("tcp", s.at)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Close() })
		fmt.Fprintf(c, "POST /v1/judge HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", 100<<10, strings.Repeat(" ", length))
		return c
	}
	var held []net.Conn
	one := int64(9 << 10) // what the server holds of one of them, when all of it that was sent is read
	for n := range int64(3) {
		held = append(held, half(9<<10))
		thorough.Until(t, "it is read", func() bool { return s.bodies.held.Load() >= (n+1)*one })
		if n == 0 {
			one = s.bodies.held.Load()
		}
	}
	fourth := half(16 << 10)
	fourth.SetReadDeadline(time.Now().Add(thorough.Patience))
	refused, err := http.ReadResponse(bufio.NewReader(fourth), nil) // at once: the rest of its body never comes
	if err != nil {
		t.Fatal(err)
	}
	if text, err := io.ReadAll(refused.Body); err != nil || refused.StatusCode != 503 || !strings.Contains(string(text), `"kind":"too many bodies at once"`) || refused.Header.Get("Retry-After") == "" {
		t.Errorf("%v: %s, %s", err, refused.Status, text)
	}
	if a, got := s.send(t, "POST", "/v1/convert", inch); a.StatusCode != 200 { // a small one still finds room
		t.Errorf("%s, %+v", a.Status, got.Error)
	}
	for _, c := range held {
		c.Close()
	}
	thorough.Until(t, "no bytes are counted any more", func() bool { return s.bodies.held.Load() == 0 })
}

// Who is slow with the head is cut off in the time that there is, and others are answered beside it. Where the
// machine is as slow as that they are cut off too, and ask once more.
func TestSlowHead(t *testing.T) {
	s := serving(t, func(s *server) { s.heads = 200 * time.Millisecond })
	c, err := net.Dial("tcp", s.at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprint(c, "POST /v1/convert HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: ")
	thorough.Until(t, "another one is answered", func() bool {
		a, err := http.Post("http://"+s.at+"/v1/convert", "application/json", strings.NewReader(inch))
		if err != nil {
			return false
		}
		defer a.Body.Close()
		if a.StatusCode != 200 {
			t.Error(a.Status)
		}
		return true
	})
	c.SetReadDeadline(time.Now().Add(thorough.Patience))
	text, err := io.ReadAll(c)
	if err, is := errors.AsType[net.Error](err); is && err.Timeout() {
		t.Errorf("it is still connected: %v, %s", err, text)
	}
	if strings.Contains(string(text), " 200 ") {
		t.Errorf("half a head is answered with %s", text)
	}
}

// A defect of the library's is 500, with its own kind, and stands in the log; the program goes on.
func TestPanicIsAnswered(t *testing.T) {
	s := serving(t, func(s *server) {
		s.set = slices.Clone(s.set)
		i := slices.IndexFunc(s.set, func(q ask.Question) bool { return q.Name == "convert" })
		s.set[i] = ask.New("convert", "breaks", func(context.Context, ask.Convert) (ask.Plan, error) { panic("a table of three has no fourth row") })
	})
	for range 2 {
		a, got := s.send(t, "POST", "/v1/convert", inch)
		if a.StatusCode != 500 || got.Error == nil || got.Error.Kind == nil || *got.Error.Kind != ask.ErrBroken.Error() || got.Error.Write == nil || !strings.Contains(*got.Error.Write, "report") {
			t.Errorf("%s, %+v", a.Status, got.Error)
		}
	}
	if a, _ := s.send(t, "GET", "/healthz", ""); a.StatusCode != 200 {
		t.Error(a.Status)
	}
	if log := s.log.String(); strings.Count(log, `"route":"/v1/convert","status":500,"kind":"`+ask.ErrBroken.Error()) != 2 || !strings.Contains(log, `"level":"ERROR"`) || !strings.Contains(log, "a table of three has no fourth row") {
		t.Errorf("the log:\n%s", log)
	}
	if len(s.light.places) != 0 || len(s.light.line) != 0 {
		t.Error("its place is still taken")
	}
}

// A plan's own document is a body of /v1/plan, and a body of it is a plan's document: with the same digest.
func TestPlanDocumentIsABody(t *testing.T) {
	s := serving(t)
	planned := func(body []byte) (digest string) {
		a, got := s.send(t, "POST", "/v1/plan", string(body))
		var p ask.Planned
		if err := json.Unmarshal(got.Answer, &p); a.StatusCode != 200 || err != nil {
			t.Fatalf("%s, %+v, %v", a.Status, got.Error, err)
		}
		return p.Digest
	}
	tried := 0
	for _, name := range job.Demonstrations() {
		source, err := job.Demonstration(name)
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read(name+".toml", source)
		if err != nil {
			t.Fatal(err)
		}
		plan, _, err := walk.PlanOf(j, job.Final)
		if err != nil {
			continue // it has nothing to tighten
		}
		tried++
		document, err := json.Marshal(plan)
		if err != nil {
			t.Fatal(err)
		}
		if digest := planned(document); digest != plan.Digest() {
			t.Errorf("%s: digest %s, and %s through the service", name, plan.Digest(), digest)
		}
	}
	for _, c := range asktest.Library() {
		if c.Question != "plan" || strings.Contains(c.Name, "without") {
			continue
		}
		tried++
		var plan torque.Plan
		if err := json.Unmarshal([]byte(bodyOf(c)), &plan); err != nil {
			t.Errorf("%s: %v", c.Name, err)
		} else if digest := planned([]byte(bodyOf(c))); digest != plan.Digest() {
			t.Errorf("%s: digest %s, and %s through the service", c.Name, plan.Digest(), digest)
		}
	}
	if tried < 3 {
		t.Errorf("only %d plans were tried", tried)
	}
}

func TestOrigin(t *testing.T) {
	s := serving(t, func(s *server) { s.origin = "https://shop.example" })
	for origin, want := range map[string]string{"https://shop.example": "https://shop.example", "https://other.example": ""} {
		for _, method := range []string{"POST", "OPTIONS"} {
			a, _ := s.send(t, method, "/v1/convert", inch, func(r *http.Request) { r.Header.Set("Origin", origin) })
			if got := a.Header.Get("Access-Control-Allow-Origin"); got != want {
				t.Errorf("%s, %s: %q", method, origin, got)
			}
		}
	}
}

func TestProgram(t *testing.T) {
	for _, args := range [][]string{{"x"}, {"-what"}, {"-listen", "nowhere"}, {"-allow-origin", "*"}} {
		var out, wrong bytes.Buffer
		if status := run(t.Context(), args, &out, &wrong); status != 2 || wrong.Len() == 0 {
			t.Errorf("%q: %d, %s", args, status, wrong.String())
		}
	}
	var shown, wrong bytes.Buffer
	if status := run(t.Context(), []string{"-version"}, &shown, &wrong); status != 0 || !strings.HasPrefix(shown.String(), "serve of closefit, version ") {
		t.Errorf("-version: %d, %s, %s", status, shown.String(), wrong.String())
	}
	for address, caution := range map[string]bool{"127.0.0.1:0": false, "0.0.0.0:0": true} {
		ctx, stop := context.WithCancel(t.Context())
		stop()
		var out, wrong bytes.Buffer
		if status := run(ctx, []string{"-listen", address}, &out, &wrong); status != 0 || !strings.HasPrefix(out.String(), "http://") {
			t.Errorf("%s: %d, %s, %s", address, status, out.String(), wrong.String())
		}
		if strings.Contains(wrong.String(), "CAUTION") != caution {
			t.Errorf("%s: %s", address, wrong.String())
		}
	}
}

// TestMain runs the program itself where a test started it as one.
func TestMain(m *testing.M) {
	switch os.Getenv("SERVE_TEST_PROGRAM") {
	case "":
	case "patient":
		ctx, stop := interrupted()
		defer stop()
		os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr, patient))
	default:
		main()
	}
	os.Exit(m.Run())
}
