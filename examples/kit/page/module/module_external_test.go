package module_test

import (
	"testing"

	"example.com/closefit/examples/kit/page/module"
	"example.com/closefit/internal/thorough"
)

func TestNoSuchModule(t *testing.T) {
	if _, err := module.Build(t.Context(), "half"); err == nil {
		t.Error("a module that there is not was built")
	}
}

// TestSizes: what a browser loads, packed as servers pack it. A size that jumps says that an import
// pulls in much, or that a new Go lays modules out in a way that package shrink does not know.
func TestSizes(t *testing.T) {
	thorough.Long(t)
	for m, most := range map[module.Module]int{module.Whole: 2_500_000, module.Lessons: 1_200_000} {
		text, err := module.Build(t.Context(), m)
		if err != nil {
			t.Fatal(err)
		}
		packed, err := module.Packed(text)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: packed %d bytes, unpacked %d", m, len(packed), len(text))
		if len(packed) > most {
			t.Errorf("%s takes %d bytes, more than %d", m, len(packed), most)
		}
	}
}
