package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/units"
)

// The kinds of error that only a server has. Each has its status.
var (
	errPath     = errors.New("no such path")
	errMethod   = errors.New("not this method")
	errKind     = errors.New("not this kind of body")
	errHost     = errors.New("not this host")
	errStopping = errors.New("stopping")
	errLate     = errors.New("took too long")
)

var statuses = []struct {
	kind   error
	status int
}{
	{errPath, http.StatusNotFound}, {errMethod, http.StatusMethodNotAllowed}, {errKind, http.StatusUnsupportedMediaType}, {errHost, http.StatusMisdirectedRequest},
	{errLarge, http.StatusRequestEntityTooLarge}, {errSlow, http.StatusRequestTimeout},
	{errFull, http.StatusTooManyRequests}, {errMemory, http.StatusServiceUnavailable}, {errStopping, http.StatusServiceUnavailable}, {errLate, http.StatusServiceUnavailable},
	{ask.ErrBroken, http.StatusInternalServerError},
	{units.ErrNotWritten, http.StatusBadRequest}, {ask.ErrQuestion, http.StatusBadRequest},
}

// statusOf returns the status of an error. What is of the right form and has no answer is 422. An error
// in a body that was read is never 400 for the sake of its kind alone: read says whether it is.
func statusOf(err error, read bool) int {
	for _, s := range statuses {
		if errors.Is(err, s.kind) && !(read && s.status == http.StatusBadRequest) {
			return s.status
		}
	}
	return http.StatusUnprocessableEntity
}

// explained gives an error of the server what a person needs.
func explained(err error, at string, most int) error {
	say := func(found, write string) error {
		kind := err
		for _, s := range statuses {
			if errors.Is(err, s.kind) {
				kind = s.kind
			}
		}
		return &units.Error{Kind: kind, Where: at, Found: found, Fix: write}
	}
	switch {
	case errors.Is(err, errLarge):
		return say(fmt.Sprintf("more than %d bytes", most), "send less: that is the most for this question")
	case errors.Is(err, errSlow):
		return say("a body that does not come to its end", "send it at once")
	case errors.Is(err, errMemory):
		return say("more than can be held", "ask again in a while")
	case errors.Is(err, errFull):
		return say("as many questions as may wait", "ask again in a while")
	case errors.Is(err, errStopping):
		return say("a server that is about to end", "ask again in a while, or another one")
	case errors.Is(err, errLate), errors.Is(err, context.DeadlineExceeded), errors.Is(err, context.Canceled):
		err = errLate
		return say("no answer in the time that there is", "ask for less at once, or again in a while")
	}
	return err
}
