// Wasm is the library as a WebAssembly module, for browsers, node and any other runtime of WASI
// preview 1: it answers the questions of package ask.
//
//	go run ./examples/wasm -o DIR      writes the package for JavaScript
//	go run ./examples/wasm -embed      makes ready for go build -tags embedded ./examples/...
//
// Compiled for wasip1 it is the module itself, a reactor that exports take and call; package
// module compiles it. Two modules are made of it: the whole, and with -tags lessons the small
// one. whole.go and lessons.go list their questions.
//
// The exit status is 0, or 2 if nothing was written.
package main
