package schemefile_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/schemefile"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// sameSizes compares the quantities of two schemes, which == does not.
var sameSizes = cmp.Options{
	cmp.Comparer(func(a, b units.Length) bool { return a.Equal(b) }),
	cmp.Comparer(func(a, b units.LengthInterval) bool { return a.Equal(b) }),
}

func read(t *testing.T, name string) *grading.Scheme {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	s, err := schemefile.Read(f)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Every scheme in testdata makes sense, and comes back as it was through TOML and
// through CSV.
func TestRoundTrip(t *testing.T) {
	files, err := filepath.Glob("testdata/*.toml")
	if err != nil || len(files) != 3 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		s := read(t, filepath.Base(file))
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
		again, err := schemefile.Read(&asTOML)
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
		kind       error
		line       int
		says       string
	}{
		{"not TOML", "name = ", schemefile.ErrSyntax, 1, "line 1"},
		{"unknown key", "name = 'x'\nrul = 'sum'", schemefile.ErrUnknownKey, 2, "the nearest is rule"},
		{"unknown key in a table", "name = 'x'\n[[housing]]\ncode = 'A'\nsizes = '1 mm'", schemefile.ErrUnknownKey, 4, "the nearest is size;"},
		{"unknown table", "name = 'x'\n[[shels]]\ngrade = 'A'", schemefile.ErrUnknownKey, 2, "the nearest is shell"},
		{"no unit", "name = 'x'\nlimits = '0.024..0.048'", schemefile.ErrSyntax, 2, "without a unit"},
		{"decimal comma", "name = 'x'\nwanted = '0,036 mm'", schemefile.ErrSyntax, 2, "decimal comma"},
		{"number for a size", "name = 'x'\nwanted = 0.036", schemefile.ErrSyntax, 2, `write "0.036 mm"`},
		{"no half", "name = 'x'\n[[shell]]\ngrade = 'A'\nhalf = 'left'\nwall = '2 mm'", schemefile.ErrSyntax, 4, "no such half"},
		{"key twice", "name = 'x'\nname = 'y'", schemefile.ErrSyntax, 2, "already"},
		{"too long", strings.Repeat("# much\n", 200_000), schemefile.ErrTooLong, 1, "bytes"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := schemefile.Read(strings.NewReader(test.text))
			e, ok := errors.AsType[*schemefile.Error](err)
			if !ok || !errors.Is(err, test.kind) || e.Line != test.line || !strings.Contains(err.Error(), test.says) {
				t.Errorf("error %v; want kind %v at line %d saying %q", err, test.kind, test.line, test.says)
			}
		})
	}
}

// Every field of a scheme has its key in the suggestions: a key misspelt by one
// letter is answered with itself.
func TestSuggestionsKnowEveryKey(t *testing.T) {
	for table, of := range map[string]any{
		"": grading.Scheme{}, "[[housing]]": grading.Code{}, "[[journal]]": grading.Code{}, "[matrix]": grading.Matrix{},
		"[[matrix.row]]": grading.MatrixRow{}, "[[sum]]": grading.SumRow{}, "[[shell]]": grading.Shell{}, "[[family]]": grading.Family{},
	} {
		for i := range reflect.TypeOf(of).NumField() {
			key, _, _ := strings.Cut(reflect.TypeOf(of).Field(i).Tag.Get("toml"), ",")
			_, err := schemefile.Read(strings.NewReader(table + "\n" + key + "q = 1"))
			if !errors.Is(err, schemefile.ErrUnknownKey) || !strings.Contains(err.Error(), "the nearest is "+key+";") {
				t.Errorf("%s %s: %v", table, key, err)
			}
		}
	}
}
