package main

import (
	"context"
	"sync"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page/module"
)

// library is the module, built once for all tests.
var library = sync.OnceValues(func() ([]byte, error) { return module.Build(context.Background(), module.Whole) })

func begun(t *testing.T) []byte {
	t.Helper()
	text, err := (job.Beginning{Title: "An engine of one cylinder", Cylinders: "1", Mains: "2", Thrust: "1", Rings: "top ring", Passages: "main gallery"}).File()
	if err != nil {
		t.Fatal(err)
	}
	return text
}
