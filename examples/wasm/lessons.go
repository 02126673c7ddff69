//go:build lessons

package main

import (
	"slices"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/lesson"
)

// questions are those of the small module, which has no job and no record.
func questions() ask.Set { return slices.Concat(ask.Library(), lesson.Questions()) }
