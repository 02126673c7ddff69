//go:build wasip1 && lessons

package main

import (
	"runtime/debug"

	"example.com/closefit/examples/kit/lesson"
)

// A redraw leaves a megabyte behind. Collecting it after many of them, and not after each fourth, takes memory that
// even a phone has.
func init() { debug.SetGCPercent(400) }

// questions are those of the small module: what the lessons' pages ask, and nothing else.
func questions() *lesson.Questions { return lesson.NewQuestions() }

// maxDocument is far more than a question of the pages has.
const maxDocument = 1 << 16
