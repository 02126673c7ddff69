package schemefile_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/kit/files/schemefile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// sameSizes compares the quantities of two schemes, which == does not.
var sameSizes = cmp.Options{
	cmp.Comparer(func(a, b units.Length) bool { return a.Equal(b) }),
	cmp.Comparer(func(a, b units.LengthInterval) bool { return a.Equal(b) }),
}

// Every scheme in testdata makes sense, and comes back as it was through TOML and
// through CSV.
func TestRoundTrip(t *testing.T) {
	files, err := filepath.Glob("testdata/*.toml")
	if err != nil || len(files) != 3 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		s, err := schemefile.Read(file, src)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(); err != nil {
			t.Errorf("%s: %v", file, err)
		}
		var asTOML, asCSV bytes.Buffer
		if err := schemefile.Write(&asTOML, s); err != nil {
			t.Fatal(err)
		}
		if err := s.WriteCSV(&asCSV); err != nil {
			t.Fatal(err)
		}
		again, err := schemefile.Read("written", asTOML.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(s, again, sameSizes); diff != "" {
			t.Errorf("%s through TOML:\n%s", file, diff)
		}
		if again, err = grading.ReadCSV(&asCSV); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(s, again, sameSizes); diff != "" {
			t.Errorf("%s through CSV:\n%s", file, diff)
		}
	}
}

func TestReadErrors(t *testing.T) {
	tests := []struct {
		name, text string
		line       int
		says       string
		kind       error // nil: any
	}{
		{"not TOML", "name = ", 1, "", nil},
		{"unknown key", "name = 'x'\nmixx = 1", 2, "write mix", tomlfile.ErrUnknownKey},
		{"unknown key in a table", "name = 'x'\n[[housing]]\ncode = 'A'\nsizes = '1 mm'", 4, "write size", tomlfile.ErrUnknownKey},
		{"unknown table", "name = 'x'\n[[shels]]\ngrade = 'A'", 2, "write shell", tomlfile.ErrUnknownKey},
		{"no unit", "name = 'x'\nlimits = '0.024..0.048'", 2, "without a unit", nil},
		{"decimal comma", "name = 'x'\nwanted = '0,036 mm'", 2, "decimal comma", nil},
		{"no half", "name = 'x'\n[[shell]]\ngrade = 'A'\nhalf = 'left'\nwall = '2 mm'", 4, "write upper, lower, front, rear or either", nil},
		{"half a number", "name = 'x'\n[[journal]]\ncode = 'A'\nnumber = 1.5", 4, "1.5, where a whole number belongs", nil},
		{"key twice", "name = 'x'\nname = 'y'", 2, "", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s, err := schemefile.Read("mains.toml", []byte(test.text))
			e, ok := errors.AsType[*tomlfile.Error](err)
			if s != nil || !ok || e.File != "mains.toml" || e.Line != test.line || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v with error %v; want line %d, saying %q", s, err, test.line, test.says)
			}
			if test.kind != nil && !errors.Is(err, test.kind) {
				t.Errorf("error %v; want kind %v", err, test.kind)
			}
		})
	}
}

// A number where a size belongs is refused: it has no unit.
func TestReadRefusesBareNumbers(t *testing.T) {
	if s, err := schemefile.Read("mains.toml", []byte("wanted = 0.036")); s != nil || err == nil || !strings.Contains(err.Error(), `write "0.036 mm"`) {
		t.Errorf("%v, %v", s, err)
	}
}
