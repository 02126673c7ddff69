package main

import (
	"context"
	"net"
	"net/http"
	"sync"
	"time"
)

// A guard bounds the connections. When there are too many it closes the one that has kept the server waiting
// the longest, for its head or its body; never one that is being answered.
type guard struct {
	most  int
	mutex sync.Mutex
	all   map[net.Conn]*connection
	empty chan struct{} // closed and made anew whenever the last one leaves
}

type connection struct {
	waits time.Time // since when it is waited for; zero while it is answered
}

func newGuard(most int) *guard {
	return &guard{most: most, all: map[net.Conn]*connection{}, empty: make(chan struct{})}
}

type connectionKey struct{}

// context gives a connection's requests what working needs.
func (g *guard) context(ctx context.Context, c net.Conn) context.Context {
	g.mutex.Lock()
	defer g.mutex.Unlock()
	k := g.all[c]
	if k == nil {
		k = &connection{waits: time.Now()}
		g.all[c] = k
	}
	return context.WithValue(ctx, connectionKey{}, k)
}

// state follows a connection.
func (g *guard) state(c net.Conn, s http.ConnState) {
	g.mutex.Lock()
	defer g.mutex.Unlock()
	switch s {
	case http.StateNew, http.StateIdle:
		k := g.all[c]
		if k == nil {
			k = &connection{}
			g.all[c] = k
		}
		k.waits = time.Now()
		if len(g.all) > g.most {
			g.shed()
		}
	case http.StateClosed, http.StateHijacked:
		delete(g.all, c)
		if len(g.all) == 0 {
			close(g.empty)
			g.empty = make(chan struct{})
		}
	}
}

func (g *guard) shed() {
	var longest net.Conn
	for c, k := range g.all {
		if !k.waits.IsZero() && (longest == nil || k.waits.Before(g.all[longest].waits)) {
			longest = c
		}
	}
	if longest != nil {
		delete(g.all, longest)
		longest.Close()
	}
}

// working says that the request's body is there, and that it is the server's turn.
func (g *guard) working(ctx context.Context) {
	if k, is := ctx.Value(connectionKey{}).(*connection); is {
		g.mutex.Lock()
		k.waits = time.Time{}
		g.mutex.Unlock()
	}
}

// emptied waits until nobody is connected any more, but not for those that say nothing for so long.
func (g *guard) emptied(ctx context.Context, silent time.Duration) {
	tick := time.NewTicker(silent / 20)
	defer tick.Stop()
	for {
		g.mutex.Lock()
		empty, patient := g.empty, false
		for _, k := range g.all {
			patient = patient || k.waits.IsZero() || time.Since(k.waits) < silent
		}
		g.mutex.Unlock()
		if !patient {
			return
		}
		select {
		case <-ctx.Done():
			return
		case <-empty:
			return
		case <-tick.C:
		}
	}
}
