package main

import (
	"context"
	"sync"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page/module"
)

// library is the module, built and packed once for all tests.
var library = sync.OnceValues(func() ([]byte, error) {
	wasm, err := module.Build(context.Background(), module.Whole)
	if err != nil {
		return nil, err
	}
	return module.Packed(wasm)
})

func begun(t *testing.T) []byte {
	t.Helper()
	text, err := (job.Beginning{Title: "An engine of one cylinder", Cylinders: "1", Mains: "2", Thrust: "1", Rings: "top ring", Passages: "main gallery"}).File()
	if err != nil {
		t.Fatal(err)
	}
	return text
}
