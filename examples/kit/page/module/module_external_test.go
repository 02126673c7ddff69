package module_test

import (
	"testing"

	"example.com/closefit/examples/kit/page/module"
)

func TestNoSuchModule(t *testing.T) {
	if _, err := module.Build(t.Context(), "half"); err == nil {
		t.Error("a module that there is not was built")
	}
}
