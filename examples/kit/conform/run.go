package conform

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"time"
)

// MaxLine is how many bytes a line may have, a question's or an answer's.
const MaxLine = 1 << 20

// maxFaults is how many lines that answer nothing a program may write before it is stopped.
const maxFaults = 100

// A Bounds says how long a program may take.
type Bounds struct {
	Silence time.Duration // without a line, while it owes answers
	Whole   time.Duration // for everything
	Leaving time.Duration // to end after the last question; zero for 5 s
}

// An Asking is one run of a program.
type Asking struct {
	Command  []string
	Vectors  []Vector
	Bounds   Bounds
	Errors   io.Writer          // where its standard error goes, the first 64 KiB of it; may be nil
	Progress func(answered int) // called after each answer; may be nil
}

// Run starts the program, asks it everything, and reports what it answered. The error is about
// starting it. If the context ends, the program is stopped and the report holds what there is.
func Run(ctx context.Context, a Asking) (*Report, error) {
	r := newReport(a.Command, a.Vectors)
	if len(a.Vectors) == 0 {
		return r, nil
	}
	live, stop := context.WithTimeoutCause(ctx, a.Bounds.Whole, fmt.Errorf("not done after %v", a.Bounds.Whole))
	defer stop()
	ended, end := context.WithCancelCause(live)
	defer end(nil)

	cmd := exec.CommandContext(ended, a.Command[0], a.Command[1:]...)
	stopWithChildren(cmd)
	cmd.WaitDelay = time.Second // a child may hold standard error open
	tail := &first{to: a.Errors, left: 64 << 10}
	cmd.Stderr = tail
	// The program has the pipe itself, so that what it said before it ended is read however late.
	out, written, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer out.Close()
	cmd.Stdout = written
	in, errIn := cmd.StdinPipe()
	err = errors.Join(errIn, cmd.Start())
	written.Close()
	if err != nil {
		if ctx.Err() != nil { // it ended before anything was asked
			r.Interrupted = true
			r.finish()
			return r, nil
		}
		return nil, err
	}
	go func() { // a program that reads late must not keep its answers from being read
		w := bufio.NewWriterSize(in, 64<<10)
		e := json.NewEncoder(w)
		e.SetEscapeHTML(false)
		for _, v := range a.Vectors {
			if e.Encode(v.asked()) != nil {
				break
			}
		}
		w.Flush() // what it did not read shows in what it did not answer
		in.Close()
	}()
	exited := make(chan error, 1)
	go func() { exited <- cmd.Wait() }()

	lines, read := make(chan []byte), make(chan error, 1)
	go func(lines chan<- []byte) { read <- scan(out, lines, ended.Done()) }(lines) // lines is set to nil below

	silence := time.NewTimer(a.Bounds.Silence)
	defer silence.Stop()
	why := error(nil)
	for lines != nil {
		select {
		case line, more := <-lines:
			if !more {
				lines = nil
				break
			}
			silence.Reset(a.Bounds.Silence)
			r.take(line)
			if a.Progress != nil {
				a.Progress(r.answered())
			}
			if len(r.Faults) > maxFaults {
				why = errors.New("it writes too much that answers nothing")
				end(why)
				lines = nil
			}
			if r.waiting == 0 { // it owes nothing any more, and only has to leave
				silence.Reset(cmp.Or(a.Bounds.Leaving, 5*time.Second))
			}
		case <-silence.C:
			if r.waiting == 0 {
				why = errors.New("it does not end after the last answer")
			} else {
				why = fmt.Errorf("no line for %v", a.Bounds.Silence)
			}
			end(why)
			lines = nil
		case <-ended.Done():
			why = context.Cause(ended)
			lines = nil
		}
	}
	if why == nil {
		select {
		case why = <-read:
			if why != nil {
				end(why)
			}
		case <-ended.Done():
			why = context.Cause(ended)
		}
	}
	var exit error
	if why == nil { // it has said all, and only has to leave
		select {
		case exit = <-exited:
		case <-silence.C:
			why = errors.New("it does not end after its last line")
		case <-ended.Done():
			why = context.Cause(ended)
		}
	}
	if why != nil {
		end(why)
		exit = <-exited
	}
	if errors.Is(exit, exec.ErrWaitDelay) {
		exit = nil // it ended well, and a child of it, or a slow machine, did not hand on all of standard error
	}
	switch {
	case ctx.Err() != nil:
		r.Interrupted = true
	case why != nil:
		r.fault("stopped", "the program was stopped: "+why.Error(), "")
	case exit != nil:
		r.fault("died", "the program ended with "+exit.Error(), lastLine(tail.kept.String()))
	case r.waiting > 0:
		r.fault("left early", fmt.Sprintf("the program ended and owes %d answers", r.waiting), "")
	}
	r.finish()
	return r, nil
}

// errTooLong is a line that is longer than MaxLine.
var errTooLong = fmt.Errorf("a line of more than %d bytes", MaxLine)

// scan hands on line by line.
func scan(from io.Reader, lines chan<- []byte, done <-chan struct{}) error {
	defer close(lines)
	s := bufio.NewScanner(from)
	s.Buffer(make([]byte, 64<<10), MaxLine)
	for s.Scan() {
		select {
		case lines <- bytes.Clone(s.Bytes()):
		case <-done:
			return nil
		}
	}
	if errors.Is(s.Err(), bufio.ErrTooLong) {
		return errTooLong
	}
	return s.Err()
}

// first keeps and hands on the first bytes that are written to it, and takes the rest.
type first struct {
	to   io.Writer
	left int
	kept bytes.Buffer
}

func (f *first) Write(p []byte) (int, error) {
	part := p[:min(len(p), f.left)]
	f.left -= len(part)
	f.kept.Write(part)
	if f.to != nil {
		f.to.Write(part)
	}
	return len(p), nil
}

func lastLine(text string) string {
	text = strings.TrimSpace(text)
	return shortened(text[strings.LastIndexByte(text, '\n')+1:])
}
