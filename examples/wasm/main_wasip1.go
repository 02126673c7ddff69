package main

import (
	"context"
	"unsafe"
)

func main() {}

// answers are kept from one call to the next, for those that are about what was opened before.
var answers = questions()

// request and reply are kept from the collector while the other side reads or writes them.
// There is one of each, since questions are answered one after the other.
var request, reply []byte

// take returns the address of n bytes for a question, or 0 if it is too long to be answered.
// They are the question's until the next take.
//
//go:wasmexport take
func take(n uint32) uint32 {
	if n > maxDocument {
		return 0
	}
	request = make([]byte, max(1, n))
	return uint32(uintptr(unsafe.Pointer(unsafe.SliceData(request))))
}

// call answers the question that stands in the first n bytes at the address of the last take.
// It returns the address of the answer, in the upper half, and its length. The answer stays
// until the next call.
//
//go:wasmexport call
func call(at, n uint32) uint64 {
	doc := request
	request = nil
	if doc == nil || at != uint32(uintptr(unsafe.Pointer(unsafe.SliceData(doc)))) || int(n) > len(doc) {
		doc = nil // not what take gave: no JSON, which is what the answer says
	} else {
		doc = doc[:n]
	}
	reply = answers.Answer(context.Background(), doc)
	return uint64(uintptr(unsafe.Pointer(unsafe.SliceData(reply))))<<32 | uint64(len(reply))
}
