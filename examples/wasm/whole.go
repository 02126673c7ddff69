//go:build wasip1 && !lessons

package main

import (
	"runtime/debug"
	"slices"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/whole"
	"example.com/closefit/examples/kit/bench"
)

// Each key of a reading leaves a fifth of a megabyte behind, and a collection is waited for. With this there are half
// as many, in 24 MB in place of 17; with 400 the memory grew past 90 MB in some hundred keys.
func init() { debug.SetGCPercent(200) }

// questions are those of the whole module, and those of the bench page, which are of one job that it opened.
func questions() ask.Set { return slices.Concat(whole.Questions(), bench.Questions()) }

const maxDocument = ask.MaxDocument
