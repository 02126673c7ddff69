package bench

import (
	"bytes"
	"errors"
	"fmt"
	"unicode/utf8"
)

// A Change is what an edit did to a text, so that it can be undone: at At, Out was taken out and In put in,
// between Before and After. It serves after other changes too, as long as these bytes stand there, or at one
// other place alone.
type Change struct {
	At     int    `json:"at"` // bytes from the beginning
	Before string `json:"before"`
	Out    string `json:"out"`
	In     string `json:"in"`
	After  string `json:"after"`
}

// ErrGone is the error of a change that cannot be undone: what it made is no longer there.
var ErrGone = errors.New("what was changed was changed again; type what it shall be")

// about is how many bytes before and after a change are kept.
const about = 48

// between finds the change from one text to another.
func between(was, is []byte) Change {
	from := 0
	for from < len(was) && from < len(is) && was[from] == is[from] {
		from++
	}
	for from > 0 && (from < len(was) && !utf8.RuneStart(was[from]) || from < len(is) && !utf8.RuneStart(is[from])) {
		from--
	}
	same := 0
	for same < len(was)-from && same < len(is)-from && was[len(was)-1-same] == is[len(is)-1-same] {
		same++
	}
	for same > 0 && !utf8.RuneStart(is[len(is)-same]) {
		same--
	}
	cut := func(text []byte, at int) int { // where a letter begins
		for at > 0 && at < len(text) && !utf8.RuneStart(text[at]) {
			at--
		}
		return at
	}
	before := cut(was, max(0, from-about))
	after := cut(was, min(len(was), len(was)-same+about))
	return Change{from, string(was[before:from]), string(was[from : len(was)-same]), string(is[from : len(is)-same]), string(was[len(was)-same : after])}
}

// back is the change that undoes it.
func (c Change) back() Change { return Change{c.At, c.Before, c.In, c.Out, c.After} }

// Undo takes a change back, and returns the change that this is. What comes of it must be a job.
// The error is of kind ErrGone, or what the reader of jobs says.
func Undo(s Source, c Change) ([]byte, Change, error) {
	if len(c.Before) > 2*about || len(c.After) > 2*about {
		return nil, Change{}, ErrGone
	}
	whole := []byte(c.Before + c.In + c.After)
	at := c.At - len(c.Before)
	if at < 0 || at > len(s.Text) || !bytes.HasPrefix(s.Text[at:], whole) {
		if at = bytes.Index(s.Text, whole); at < 0 || len(whole) == 0 || bytes.Contains(s.Text[at+1:], whole) {
			return nil, Change{}, ErrGone
		}
	}
	at += len(c.Before)
	out := bytes.Join([][]byte{s.Text[:at], []byte(c.Out), s.Text[at+len(c.In):]}, nil)
	if _, err := (Source{s.Name, out, s.Beside}).Read(); err != nil {
		return nil, Change{}, fmt.Errorf("it cannot be undone now: %w", err)
	}
	undone := c.back()
	undone.At = at
	return out, undone, nil
}
