//go:build lessons

package main

import "example.com/closefit/examples/kit/ask"

// questions are those of the small module, which has no job and no record.
func questions() ask.Set { return ask.Library() }
