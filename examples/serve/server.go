package main

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"log/slog"
	"mime"
	"net"
	"net/http"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/whole"
	"example.com/closefit/units"
)

// description is openapi.json, as describe makes it; a test keeps it so.
//
//go:embed openapi.json
var description []byte

// A server answers the questions. It keeps nothing of one for the next.
type server struct {
	log      *slog.Logger
	set      ask.Set
	light    *lane
	heavy    *lane
	bodies   reader
	guard    *guard
	local    bool          // it serves this machine alone
	origin   string        // whose pages may ask; empty for none
	heads    time.Duration // how long the head of a request may take
	within   time.Duration // for what is under way when it stops
	silent   time.Duration // of a connection that says nothing, when it stops
	answers  time.Duration // how long an answer may take, with the waiting for a place
	stopping atomic.Bool
}

func newServer(log *slog.Logger) *server {
	cores := runtime.NumCPU()
	return &server{
		log: log, set: whole.Questions(), local: true, within: 20 * time.Second, silent: time.Second, answers: 20 * time.Second,
		light: newLane(4*cores, 1024), heavy: newLane(heavyPlaces, 16),
		bodies: reader{within: 5 * time.Second, most: bodyMemory}, heads: 5 * time.Second, guard: newGuard(4096),
	}
}

// heavyPlaces is how many heavy questions are worked on at once: one, so that on two cores the light ones
// always have another.
const heavyPlaces = 1

// serve answers until the context ends. Then nobody is let in any more, each connection gets one
// answer more, and what was read is finished.
func (s *server) serve(ctx context.Context, listener net.Listener) error {
	h := &http.Server{
		Handler: s, ReadHeaderTimeout: s.heads, IdleTimeout: 60 * time.Second, MaxHeaderBytes: 16 << 10,
		ConnState: s.guard.state, ConnContext: s.guard.context,
		ErrorLog: slog.NewLogLogger(s.log.Handler(), slog.LevelWarn),
	}
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(listener) }()
	s.log.Info("listening", "address", listener.Addr().String())
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	s.stopping.Store(true)
	s.log.Info("stopping")
	_ = listener.Close() // Serve returns; connections stay, and each answer from now on closes its own
	<-ended
	end, stop := context.WithTimeout(context.WithoutCancel(ctx), s.within)
	defer stop()
	s.guard.emptied(end, min(s.silent, s.within/2))
	err := h.Shutdown(end)
	s.log.Info("stopped", "finished", err == nil)
	return err
}

// A request as the log has it.
type entry struct {
	route      string
	status     int
	in, out    int
	kind       string
	wait, work time.Duration
}

// ServeHTTP answers one request, and writes its line into the log.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	began := time.Now()
	e := entry{route: "other"}
	reply, err := s.answer(w, r, &e)
	head := w.Header()
	if err != nil {
		reply = ask.Refuse(err)
		if u, is := errors.AsType[*units.Error](err); is && u.Kind != nil {
			e.kind = u.Kind.Error()
		}
		if e.status == http.StatusInternalServerError { // a defect: what it was is for whoever mends it
			s.log.Error("broken", "route", e.route, "error", err.Error())
		}
		if e.status == http.StatusTooManyRequests || e.status == http.StatusServiceUnavailable {
			head.Set("Retry-After", "1")
		}
	}
	head.Set("X-Content-Type-Options", "nosniff")
	head.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
	head.Set("Referrer-Policy", "no-referrer")
	head.Set("Cache-Control", "no-store")
	if s.origin == "" {
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
	}
	if head.Get("Content-Type") == "" {
		head.Set("Content-Type", "application/json")
	}
	head.Set("Content-Length", strconv.Itoa(len(reply)))
	if s.stopping.Load() || e.status == http.StatusRequestEntityTooLarge || e.status == http.StatusRequestTimeout {
		head.Set("Connection", "close")
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(20 * time.Second)) // who does not listen is not waited for
	w.WriteHeader(e.status)
	if r.Method != http.MethodHead {
		e.out, _ = w.Write(reply)
	}
	s.log.LogAttrs(context.Background(), slog.LevelInfo, "request", slog.String("method", method(r.Method)), slog.String("route", e.route), slog.Int("status", e.status),
		slog.String("kind", e.kind), slog.Int("in", e.in), slog.Int("out", e.out), slog.Duration("wait", e.wait), slog.Duration("work", e.work), slog.Duration("took", time.Since(began)), slog.String("from", r.RemoteAddr))
}

// method keeps what others make up out of the log.
func method(m string) string {
	if slices.Contains([]string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodOptions, http.MethodPut, http.MethodDelete, http.MethodPatch}, m) {
		return m
	}
	return "other"
}

// answer returns what is answered, and notes what the log is to say.
func (s *server) answer(w http.ResponseWriter, r *http.Request, e *entry) (reply []byte, err error) {
	fail := func(err error, where, found, write string) ([]byte, error) {
		err = &units.Error{Kind: err, Where: where, Found: found, Fix: write}
		e.status = statusOf(err, false)
		return nil, err
	}
	if s.local && !thisMachine(r.Host) {
		return fail(errHost, "Host", fmt.Sprintf("%.60q", r.Host), "ask 127.0.0.1 or localhost")
	}
	e.status = http.StatusOK
	name, question := strings.CutPrefix(r.URL.Path, "/v1/")
	i := slices.IndexFunc(s.set, func(q ask.Question) bool { return question && q.Name == name })
	allowed := []string{http.MethodGet, http.MethodHead}
	switch {
	case i >= 0:
		allowed = []string{http.MethodPost}
		if s.origin != "" {
			allowed = append(allowed, http.MethodOptions)
		}
	case !slices.Contains([]string{"/", "/healthz", "/readyz", "/openapi.json"}, r.URL.Path):
		return fail(errPath, "path", fmt.Sprintf("%.60q", r.URL.Path), "look at /openapi.json for those that there are")
	}
	e.route = r.URL.Path
	if !slices.Contains(allowed, r.Method) {
		w.Header().Set("Allow", strings.Join(allowed, ", "))
		return fail(errMethod, r.URL.Path, fmt.Sprintf("%.20q", r.Method), "use "+allowed[0])
	}
	if s.origin != "" && r.Header.Get("Origin") == s.origin {
		w.Header().Set("Access-Control-Allow-Origin", s.origin)
		w.Header().Set("Vary", "Origin")
		if r.Method == http.MethodOptions {
			w.Header().Set("Access-Control-Allow-Methods", http.MethodPost)
			w.Header().Set("Access-Control-Allow-Headers", "Content-Type")
		}
	}
	switch {
	case r.Method == http.MethodOptions:
		e.status = http.StatusNoContent
		return nil, nil
	case i >= 0:
		return s.asked(w, r, s.set[i], e)
	case r.URL.Path == "/openapi.json":
		return description, nil
	case r.URL.Path == "/":
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		return []byte("closefit answers questions about the bottom end of an engine. /openapi.json describes them.\nThe engine maker's manual and licensed practice come first.\n"), nil
	case r.URL.Path == "/readyz" && s.stopping.Load():
		return fail(errStopping, "server", "a server that is about to end", "ask another one")
	}
	return []byte(`{"closefit":1,"answer":{"well":true}}`), nil
}

// thisMachine reports whether a host is a name of this machine, so that no page elsewhere can ask by
// letting its own name point here.
func thisMachine(host string) bool {
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// asked answers a question.
func (s *server) asked(w http.ResponseWriter, r *http.Request, q ask.Question, e *entry) ([]byte, error) {
	fail := func(err error, where string, read bool) ([]byte, error) {
		err = explained(err, where, most[q.Name])
		e.status = statusOf(err, read)
		return nil, err
	}
	if s.stopping.Load() {
		return fail(errStopping, "server", false)
	}
	if kind, params, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" || params["charset"] != "" && !strings.EqualFold(params["charset"], "utf-8") || r.Header.Get("Content-Encoding") != "" {
		return fail(&units.Error{Kind: errKind, Where: "Content-Type", Found: fmt.Sprintf("%.60q", r.Header.Get("Content-Type")), Fix: "send application/json, not packed"}, "", false)
	}
	body, err := s.bodies.read(w, r, most[q.Name])
	e.in = len(body)
	if err != nil {
		w.Header().Set("Connection", "close") // what still comes of it is not waited for
		if explained(err, "", 0) == err {     // who left, or what is no HTTP
			err = &units.Error{Kind: ask.ErrQuestion, Where: "body", Found: "not all of it", Fix: "send the whole of it"}
		}
		return fail(err, "body", false)
	}
	s.guard.working(r.Context())
	rest, err := with(body)
	if err != nil {
		return fail(err, "body", false)
	}
	ctx, stop := context.WithTimeout(r.Context(), s.answers)
	defer stop()
	began := time.Now()
	// Reading costs little for its length, so a long body is read in the heavy lane, too.
	var reply []byte
	work := func(in *lane, f func() error) (err error) {
		leave, err := in.enter(ctx)
		if err != nil {
			return err
		}
		defer leave()
		e.wait += time.Since(began)
		began = time.Now()
		err = f()
		e.work += time.Since(began)
		if ctx.Err() != nil { // an answer that hangs on the time is none
			return errLate
		}
		return err
	}
	read := false
	var asked ask.Asked
	reads := func() (err error) {
		asked, err = q.Read(rest)
		read = err == nil
		return err
	}
	answers := func() (err error) {
		reply, err = asked.Answer(ctx)
		return err
	}
	weighty := true
	if len(body) <= lightBody {
		err = work(s.light, func() error {
			if err := reads(); err != nil {
				return err
			}
			if weighty = heavy(asked, len(body)); weighty {
				return nil
			}
			return answers()
		})
	}
	if err == nil && weighty {
		began = time.Now()
		err = work(s.heavy, func() error {
			if !read {
				if err := reads(); err != nil {
					return err
				}
			}
			return answers()
		})
	}
	if err != nil {
		return fail(err, q.Name, read)
	}
	return reply, nil
}
