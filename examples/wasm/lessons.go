//go:build wasip1 && lessons

package main

import (
	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/lesson"
)

// questions are those of the small module: what the lessons' pages ask, and nothing else.
func questions() ask.Set { return lesson.Questions() }
