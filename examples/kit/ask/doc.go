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
// Not every call of the library has a question. A sum at other temperatures than 20 °C, stations of one journal,
// an instrument that was set more than once, a coverage factor other than 2, the risks of a guard band, the
// allocation of tolerances and gaps that are no sums are left out; examples/README.md shows which calls have one.
//
// The package knows nothing of WebAssembly, of servers or of job files: examples/wasm compiles
// its answers for browsers, and package whole adds the questions about a whole job.
package ask
