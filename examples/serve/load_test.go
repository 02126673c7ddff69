package main

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/closefit/examples/kit/ask/asktest"
)

var load = flag.Duration("load", 0, "measure the service under load for so long, in each circumstance")
var rate = flag.Int("rate", 2000, "judgements a second under load")

// TestLoad measures judgements beside attackers. The program runs as a process of its own; it, the clients and
// the attackers share the processors of this machine. Arrivals are open-loop: each request has the moment at
// which it is to start, and its time counts from there, so a server that stalls is charged for all that wait.
// Nothing is asserted of time; what goes wrong is.
//
//	go test ./examples/serve -run TestLoad -v -load 5s
func TestLoad(t *testing.T) {
	if *load == 0 {
		t.Skip("measures: -load 5s")
	}
	var judge, freedom, stack string
	for _, c := range asktest.Library() {
		switch c.Name {
		case "judge, a pressure":
			judge = bodyOf(c)
		case "judge, one instrument sets the other":
			freedom = bodyOf(c)
		case "stack, every kind":
			stack = bodyOf(c)
		}
	}
	attackers := []struct {
		name  string
		one   func(at string) // what one of them does, again and again
		crowd int
	}{
		{"nobody else", nil, 0},
		{"200 slow heads", func(at string) { slowly(at, "POST /v1/judge HTTP/1.1\r\nHost: ", 20*time.Millisecond) }, 200},
		{"200 slow bodies", func(at string) {
			slowly(at, "POST /v1/judge HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{", 20*time.Millisecond)
		}, 200},
		{"huge bodies", func(at string) { posted(at, "judge", strings.Repeat(" ", 4<<20)); time.Sleep(20 * time.Millisecond) }, 4},
		{"malformed bodies", func(at string) { posted(at, "judge", judge[:len(judge)-5]); time.Sleep(10 * time.Millisecond) }, 4},
		{"deep bodies", func(at string) {
			posted(at, "judge", strings.Repeat("[", 100_000))
			time.Sleep(10 * time.Millisecond)
		}, 4},
		{"heavy questions", func(at string) { posted(at, "stack", stack) }, 8},
		{"judgements with degrees of freedom", func(at string) { posted(at, "judge", freedom) }, 8},
	}
	for _, a := range attackers {
		t.Run(a.name, func(t *testing.T) {
			at := program(t)
			stop := make(chan struct{})
			var wait sync.WaitGroup
			for range a.crowd {
				wait.Go(func() {
					for {
						select {
						case <-stop:
							return
						default:
							a.one(at)
						}
					}
				})
			}
			times, late, wrong := openLoop(at, judge, *rate, *load)
			close(stop)
			wait.Wait()
			slices.Sort(times)
			at99 := func(p float64) time.Duration { return times[min(len(times)-1, int(p*float64(len(times))))] }
			fmt.Printf("%-36s %6.0f/s  p50 %-10v p99 %-10v p99.9 %-10v most %-10v wrong %d, generator late p99 %v\n", a.name, float64(len(times))/load.Seconds(), at99(.5), at99(.99), at99(.999), times[len(times)-1], wrong, late)
			t.Logf("beside %s, p99: %.2f ms", a.name, float64(at99(.99).Microseconds())/1000)
			if wrong > 0 {
				t.Errorf("%d of %d got no answer", wrong, len(times)+wrong)
			}
		})
	}
}

// program starts the program and returns where it listens.
func program(t *testing.T) (at string) {
	stoppable(t)
	p := exec.Command(os.Args[0], "-listen", "127.0.0.1:0")
	p.Env = append(os.Environ(), "SERVE_TEST_PROGRAM=1")
	out, err := p.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if p.Stderr, err = os.Create(os.DevNull); err != nil {
		t.Fatal(err)
	}
	if err := p.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		stopProgram(t, p)
		if err := p.Wait(); err != nil {
			t.Error(err)
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(line), "http://"), "/")
}

func request(path, body string) []byte {
	return []byte("POST /v1/" + path + " HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: " + strconv.Itoa(len(body)) + "\r\n\r\n" + body)
}

// openLoop asks at a rate, over as many connections as it needs, and returns how long each took from
// the moment at which it was to start.
func openLoop(at, body string, rate int, during time.Duration) (times []time.Duration, late time.Duration, wrong int) {
	n := int(during.Seconds() * float64(rate))
	text := request("judge", body)
	due := make(chan time.Time, n) // never full: the generator waits for nobody
	var mutex sync.Mutex
	var wait sync.WaitGroup
	for range 64 {
		wait.Go(func() {
			c, err := net.Dial("tcp", at)
			if err != nil {
				return
			}
			defer c.Close()
			in := bufio.NewReaderSize(c, 8<<10)
			var own []time.Duration
			bad := 0
			for start := range due {
				_, err := c.Write(text)
				var a *http.Response
				if err == nil {
					a, err = http.ReadResponse(in, nil)
				}
				var answer []byte
				if err == nil {
					answer, err = io.ReadAll(a.Body)
				}
				if err != nil || a.StatusCode != 200 || !bytes.HasPrefix(answer, []byte(`{"closefit":1,"answer":`)) {
					bad++
					if err != nil {
						break
					}
					continue
				}
				own = append(own, time.Since(start))
			}
			mutex.Lock()
			times, wrong = append(times, own...), wrong+bad
			mutex.Unlock()
		})
	}
	begin := time.Now().Add(50 * time.Millisecond)
	var behind []time.Duration
	for i := range n {
		start := begin.Add(time.Duration(i) * time.Second / time.Duration(rate))
		if d := time.Until(start); d > 0 {
			time.Sleep(d)
		}
		behind = append(behind, time.Since(start))
		due <- start
	}
	close(due)
	wait.Wait()
	slices.Sort(behind)
	return times, behind[len(behind)*99/100], wrong
}

// posted sends one question on a connection of its own.
func posted(at, path, body string) {
	c, err := net.Dial("tcp", at)
	if err != nil {
		return
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(30 * time.Second))
	if _, err := c.Write(request(path, body)); err != nil {
		return
	}
	io.Copy(io.Discard, io.LimitReader(c, 1)) // wait for it to begin
}

// slowly begins a request and then sends a byte now and then, until it is cut off or two seconds are over.
func slowly(at, begin string, pause time.Duration) {
	c, err := net.Dial("tcp", at)
	if err != nil {
		return
	}
	defer c.Close()
	for end := time.Now().Add(2 * time.Second); time.Now().Before(end); time.Sleep(pause) {
		if _, err := c.Write([]byte(begin)); err != nil {
			return
		}
		begin = "1"
	}
}
