// Package ask answers questions that a program of any language may put to the library: one
// JSON document in, one out.
//
//	{"closefit": 1, "question": "judge", "with": {…}}
//	{"closefit": 1, "answer": {…}}
//	{"closefit": 1, "error": {"message": "…", "kind": "…", "where": "…", "column": null, "found": "…", "write": "…"}}
//
// Documents are of the exchange form: quantities are texts with a unit, enums are words, what
// there is not is null, and a key that is missing, unknown or there twice is an error that
// names it. Answers hold their working.
//
// A question is answered at once, in one goroutine, and costs a bounded amount of memory and
// work: a document, a list or a text that is too long is refused, and a search that takes too
// long answers with the best that it has. The bounds count work and never time, so every
// machine gives the same answer. Probabilities are given to [Digits] digits for the same reason.
//
// The package knows nothing of WebAssembly, of servers or of job files: examples/wasm compiles
// its answers for browsers, and package whole adds the questions about a whole job.
package ask
