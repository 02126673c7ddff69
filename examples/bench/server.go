package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"

	"example.com/closefit/examples/kit/bench"
)

// A server answers one page, to who knows its address on this machine.
type server struct {
	keeper *keeper
	walker *walker
	host   string // 127.0.0.1 and the port
	secret string // 128 random bits
	page   []byte
	policy string
	packed []byte        // the library, by gzip
	within time.Duration // for what is under way when it ends
}

// quickly packs the library by gzip for the way to a browser on the same machine, where a quick start is worth more
// than the last byte.
func quickly(wasm []byte) ([]byte, error) {
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	if _, err := z.Write(wasm); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return packed.Bytes(), nil
}

// newServer makes the server of a job at a host, with the library packed by gzip.
func newServer(k *keeper, packed []byte, host string) (*server, error) {
	var random [16]byte
	if _, err := rand.Read(random[:]); err != nil {
		return nil, err
	}
	source, err := k.now()
	if err != nil {
		return nil, err
	}
	d, err := document(started{Served: true, Kept: k.path != "", Name: k.name, Identity: identityOf(bench.Source{Name: k.name, Text: nil}, k.path), Beside: source.Beside})
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	if err := d.Write(&text); err != nil {
		return nil, err
	}
	return &server{keeper: k, walker: newWalker(k), host: host, secret: hex.EncodeToString(random[:]), page: text.Bytes(), policy: d.Policy() + "; frame-ancestors 'none'", packed: packed, within: time.Minute}, nil
}

// address is where the page is.
func (s *server) address() string { return "http://" + s.host + "/" + s.secret + "/" }

// mostAsked is how many bytes a request may have.
const mostAsked = 64 << 10

// serve answers until the context ends, and then lets requests that are under way finish.
func (s *server) serve(ctx context.Context, listener net.Listener) error {
	var silent silent
	h := &http.Server{Handler: s, ReadHeaderTimeout: 10 * time.Second, MaxHeaderBytes: 32 << 10, BaseContext: func(net.Listener) context.Context { return ctx }, ConnState: silent.state}
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(listener) }()
	go s.keeper.watch(ctx)
	select {
	case err := <-ended:
		return errors.Join(err, s.walker.close())
	case <-ctx.Done():
	}
	end, stop := context.WithTimeout(context.WithoutCancel(ctx), s.within)
	defer stop()
	silent.close()
	err := h.Shutdown(end)
	if e := <-ended; !errors.Is(e, http.ErrServerClosed) {
		err = errors.Join(err, e)
	}
	return errors.Join(err, s.walker.close())
}

// A silent is the connections that have asked nothing yet. A browser opens some in advance and
// leaves them so, and an end would wait seconds for a request that never comes.
type silent struct {
	mu     sync.Mutex
	conns  map[net.Conn]bool
	closed bool
}

// state is told what becomes of each connection.
func (s *silent) state(c net.Conn, now http.ConnState) {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case now != http.StateNew:
		delete(s.conns, c)
	case s.closed:
		_ = c.Close()
	case s.conns == nil:
		s.conns = map[net.Conn]bool{c: true}
	default:
		s.conns[c] = true
	}
}

// close closes them, and each that comes later.
func (s *silent) close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
	for c := range s.conns {
		_ = c.Close()
	}
}

// ServeHTTP answers a request of the page itself, and refuses all others.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	head := w.Header()
	head.Set("Content-Security-Policy", s.policy)
	head.Set("X-Content-Type-Options", "nosniff")
	head.Set("Referrer-Policy", "no-referrer")
	head.Set("Cross-Origin-Resource-Policy", "same-origin")
	head.Set("Cross-Origin-Opener-Policy", "same-origin")
	head.Set("Cache-Control", "no-store")
	if r.Host != s.host {
		http.Error(w, "not this host", http.StatusMisdirectedRequest)
		return
	}
	origin := "http://" + s.host
	site := r.Header.Get("Sec-Fetch-Site")
	if o := r.Header.Get("Origin"); o != "" && o != origin || site != "" && site != "same-origin" && site != "none" {
		http.Error(w, "not this origin", http.StatusForbidden)
		return
	}
	path, known := strings.CutPrefix(r.URL.Path, "/"+s.secret+"/")
	answer, there := s.routes()[path]
	if !known || !there {
		http.NotFound(w, r)
		return
	}
	by, allowed := answer[r.Method]
	if !allowed {
		for method := range answer {
			head.Add("Allow", method)
		}
		http.Error(w, "not this method", http.StatusMethodNotAllowed)
		return
	}
	if r.Method == http.MethodPost {
		if r.Header.Get("Origin") != origin {
			http.Error(w, "not this origin", http.StatusForbidden)
			return
		}
		if r.Header.Get("Content-Type") != "application/json" {
			http.Error(w, "not JSON", http.StatusUnsupportedMediaType)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostAsked)
	}
	by(w, r)
}

type byMethod map[string]http.HandlerFunc

// routes are all that is answered, by the path behind the secret.
func (s *server) routes() map[string]byMethod {
	return map[string]byMethod{
		"":              {http.MethodGet: s.sendPage},
		"closefit.wasm": {http.MethodGet: s.sendModule},
		"job":           {http.MethodGet: s.sendJob},
		"edit":          {http.MethodPost: s.takeEdit},
		"undo":          {http.MethodPost: s.takeUndo},
		"events":        {http.MethodGet: s.sendEvents},
		"walk":          {http.MethodGet: s.sendWalk, http.MethodPost: s.takeWalk},
	}
}

func (s *server) sendPage(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write(s.page)
}

// sendModule sends the library as it is kept, by gzip. Whoever does not take that unpacks it in the page.
func (s *server) sendModule(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "application/wasm")
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		w.Header().Set("Content-Encoding", "gzip")
	} else {
		w.Header().Set("Content-Type", "application/gzip")
	}
	w.Write(s.packed)
}

// sent is a job as the page has it.
type sent struct {
	Name     string            `json:"name"`
	Text     string            `json:"text"`
	Beside   map[string]string `json:"beside"`
	Revision string            `json:"revision"`
}

func (s *server) sendJob(w http.ResponseWriter, _ *http.Request) {
	now, err := s.keeper.now()
	if err != nil {
		refuse(w, err)
		return
	}
	answer(w, http.StatusOK, sent{now.Name, string(now.Text), now.Beside, now.Revision()})
}

// changed is what became of a job.
type changed struct {
	Text     string       `json:"text"`
	Revision string       `json:"revision"`
	Change   bench.Change `json:"change"`
}

func (s *server) takeEdit(w http.ResponseWriter, r *http.Request) {
	var e bench.Edit
	if !asked(w, r, &e) {
		return
	}
	s.change(w, func(now bench.Source) ([]byte, bench.Change, error) { return bench.Set(now, e) })
}

func (s *server) takeUndo(w http.ResponseWriter, r *http.Request) {
	var c bench.Change
	if !asked(w, r, &c) {
		return
	}
	s.change(w, func(now bench.Source) ([]byte, bench.Change, error) { return bench.Undo(now, c) })
}

func (s *server) change(w http.ResponseWriter, by func(bench.Source) ([]byte, bench.Change, error)) {
	now, change, err := s.keeper.change(by)
	if err != nil {
		refuse(w, err)
		return
	}
	answer(w, http.StatusOK, changed{string(now.Text), now.Revision(), change})
}

// sendEvents tells a page of each change of the job, and of the ledger, as long as it listens.
func (s *server) sendEvents(w http.ResponseWriter, r *http.Request) {
	ctx, stop := context.WithCancel(r.Context())
	defer stop()
	job, walk := s.keeper.listen(ctx), s.walker.listen(ctx)
	w.Header().Set("Content-Type", "text/event-stream")
	send := func(kind, data string) bool {
		_, err := fmt.Fprintf(w, "event: %s\ndata: %s\n\n", kind, data)
		return errors.Join(err, http.NewResponseController(w).Flush()) == nil
	}
	now, err := s.keeper.now()
	if err == nil && !send("job", now.Revision()) { // what a page missed while it did not listen
		return
	}
	for {
		var sent bool
		select {
		case <-ctx.Done():
			return
		case revision := <-job:
			sent = send("job", revision)
		case <-walk:
			sent = send("walk", "changed")
		case <-time.After(20 * time.Second): // so that one who left is noticed
			sent = send("still", "here")
		}
		if !sent {
			return
		}
	}
}

// asked reads what was asked; what cannot be read is answered.
func asked(w http.ResponseWriter, r *http.Request, into any) bool {
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		status := http.StatusBadRequest
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			status = http.StatusRequestEntityTooLarge
		}
		answer(w, status, refused{"It cannot be read: " + err.Error()})
		return false
	}
	return true
}

type refused struct {
	Message string `json:"message"`
}

// refuse says why something was not done: as a conflict where it is because somebody else was there first.
func refuse(w http.ResponseWriter, err error) {
	status := http.StatusUnprocessableEntity
	if errors.Is(err, bench.ErrOther) || errors.Is(err, bench.ErrGone) {
		status = http.StatusConflict
	}
	answer(w, status, refused{bench.InWords(err)})
}

func answer(w http.ResponseWriter, status int, v any) {
	text, err := json.Marshal(v)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(text)
}
