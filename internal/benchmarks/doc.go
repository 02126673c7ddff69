// Package benchmarks writes BENCHMARKS.md: it runs every benchmark of its table in one run, round
// after round so that what else the machine does falls on all of them, and puts each beside
// what it is measured against, with the ratio, the range over the rounds, the aim, and the state of
// the machine.
//
//	go test -v ./internal/benchmarks -run TestPage -write -timeout 1h
//
// It takes about a quarter of an hour on two idle cores. With -only units in place of -write it runs one
// folder's, prints its table and writes nothing; -rounds 1 is enough to see that it works.
//
// Without a flag its tests hold that the table names benchmarks that exist, and that BENCHMARKS.md has
// its rows.
package benchmarks
