//go:build wasip1 && !lessons

package main

import (
	"slices"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/whole"
	"example.com/closefit/examples/kit/bench"
)

// questions are those of the whole module, and those of the bench page, which are of one job that it opened.
func questions() ask.Set { return slices.Concat(whole.Questions(), bench.Questions()) }

const maxDocument = ask.MaxDocument
