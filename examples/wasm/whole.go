//go:build !lessons

package main

import (
	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/whole"
)

// questions are those of the whole module.
func questions() ask.Set { return whole.Questions() }
