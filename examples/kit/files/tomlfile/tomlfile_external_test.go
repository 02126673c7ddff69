package tomlfile_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/examples/kit/files/tomlfile"
)

type file struct {
	Title    string    `toml:"title"`
	Bearings []bearing `toml:"bearings"`
	Show     struct {
		Places int `toml:"places"`
	} `toml:"show"`
	Gauges map[string]gauge `toml:"gauges"`
	Pins   [][]string       `toml:"pins"`
}

type bearing struct {
	Clearance string    `toml:"clearance"`
	Readings  []reading `toml:"readings"`
	Locations []string  `toml:"locations"`
}

type reading struct {
	Location string `toml:"location"`
	Bore     string `toml:"bore"`
}

type gauge struct {
	Uncertainty string `toml:"uncertainty"`
}

const good = `# a job
title = "test"

[[bearings]]
clearance = "0.03..0.05 mm"
locations = [
  "1",
  # the rear one
  "2",
]
readings = [
  { location = "1", bore = "60 mm" },
  { location = "2",
    bore = "61 mm" },
]

[[bearings]]
clearance = "0.02..0.04 mm"

[[bearings.readings]]
location = "3"

[gauges."bore gauge"]
uncertainty = "0.002 mm"
`

func TestLine(t *testing.T) {
	var f file
	places, err := tomlfile.Decode("job.toml", []byte(good), &f)
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]int{
		"title":                         2,
		"bearings[0]":                   4,
		"bearings[0].clearance":         5,
		"bearings[0].locations[1]":      9,
		"bearings[0].readings[1].bore":  14,
		"bearings[1].clearance":         18,
		"bearings[1].readings[0]":       20,
		"bearings[1].readings[0].bore":  20, // not there: its table's line
		"gauges.bore gauge.uncertainty": 24,
		"nothing.like.it":               0,
	} {
		if got := places.Line(path); got != want {
			t.Errorf("Line(%q) = %d, want %d", path, got, want)
		}
	}
}

func TestErrors(t *testing.T) {
	for _, test := range []struct{ name, src, want string }{
		{"unknown key", "title = \"x\"\n[[bearings]]\nclearence = \"1 mm\"\n", `job.toml:3: unknown key "clearence" in bearings[0]; write clearance`},
		{"unknown key at the top", "titel = \"x\"\n", `job.toml:1: unknown key "titel"; write title`},
		{"unknown key like none", "[[bearings]]\nwhatever = 1\n", `job.toml:2: unknown key "whatever" in bearings[0]; known are clearance, readings, locations`},
		{"unknown key in a map's table", "[gauges.dial]\nuncertinty = \"1 mm\"\n", `job.toml:2: unknown key "uncertinty" in gauges.dial; write uncertainty`},
		{"unknown key in a list of inline tables", "[[bearings]]\nreadings = [\n { location = \"1\" },\n { locatoin = \"2\" },\n]\n", `job.toml:4: unknown key "locatoin" in bearings[0].readings[1]; write location`},
		{"a capital", "Title = \"x\"\n", `job.toml:1: unknown key "Title"; write title`},
		{"an unknown table, said once", "[[bearing]]\nclearance = \"1 mm\"\nlocations = []\n", `job.toml:1: unknown key "bearing"; write bearings`},

		{"bare number", "[[bearings]]\nclearance = 0.050\n", `job.toml:2: bearings[0].clearance: 0.050, a bare number, where a text belongs; write "0.050", or with its unit if it is a quantity, as in "0.050 mm"`},
		{"bare number in a file of inches", "title = \"1 in\"\n[[bearings]]\nclearance = 0.0020\n", `job.toml:3: bearings[0].clearance: 0.0020, a bare number, where a text belongs; write "0.0020", or with its unit if it is a quantity, as in "0.0020 in"`},
		{"text for a number", "[show]\nplaces = \"3\"\n", `job.toml:2: show.places: "3", a text where a whole number belongs; write places = 3`},
		{"a number too large", "[show]\nplaces = 999999999999999999\n[gauges]\na = 9223372036854775807\n", `job.toml:4: gauges.a: 9223372036854775807, where a table belongs`},
		{"a decimal for a whole number", "[show]\nplaces = 3.5\n", `job.toml:2: show.places: 3.5, where a whole number belongs; write one without quotes, as in places = 3`},
		{"a text for a list", "[[bearings]]\nlocations = \"1\"\n", `job.toml:2: bearings[0].locations: "1", where a list belongs; write locations = ["1"]`},
		{"names with commas for a list", "[[bearings]]\nlocations = \"front, rear\"\n", `job.toml:2: bearings[0].locations: "front, rear", where a list belongs; write locations = ["front", "rear"]`},
		{"a list for a text", "title = [\"x\"]\n", `job.toml:1: title: a list, where one text belongs; write title = "x"`},
		{"a list of codes for a text", "title = [\"84\", \"78\"]\n", `job.toml:1: title: a list, where one text belongs; write title = "84 78"`},
		{"a list of sizes for a text", "title = [\"84.1 mm\", \"78.2 mm\"]\n", `job.toml:1: title: a list, where one text belongs; write title = "84.1 78.2 mm"`},
		{"a list of sizes in two units for a text", "title = [\"84.1 mm\", \"78.2 in\"]\n", `job.toml:1: title: a list, where a text belongs; write title = "..."`},
		{"a text for a list of lists", "pins = \"1-4 2-5\"\n", `job.toml:1: pins: "1-4 2-5", where a list belongs; write pins = [["1", "4"], ["2", "5"]]`},
		{"texts for lists", "pins = [\"1-4\"]\n", `job.toml:1: pins[0]: "1-4", where a list belongs; write ["1", "4"]`},
		{"a unit at the last of a list", "[[bearings]]\nlocations = \"0.05, 0.10 mm\"\n", `job.toml:2: bearings[0].locations: "0.05, 0.10 mm", where a list belongs; write locations = ["0.05 mm", "0.10 mm"]`},
		{"a whole number for a text", "title = 3\n", `job.toml:1: title: 3, a bare number, where a text belongs; write "3", or with its unit if it is a quantity`},
		{"a list of tables after a table of the name", "[gauges]\n[[gauges]]\n", `job.toml:2: [[gauges]] stands in double brackets here, and in single ones on line 1`},
		{"a list of lists for a text", "title = [[\"x\"]]\n", `job.toml:1: title: a list, where a text belongs; write title = "..."`},
		{"a table for a text", "title = { a = 1 }\n", `job.toml:1: title: a table, where a text belongs; write title = "..."`},
		{"a truth for a text", "title = true\n", `job.toml:1: title: true, where a text belongs; write title = "..."`},
		{"a date for a text", "title = 2026-11-09\n", `job.toml:1: title: 2026-11-09, without quotes, where a text belongs; write title = "2026-11-09"`},
		{"a text for a table", "show = \"mm\"\n", `job.toml:1: show: "mm", where a table belongs; write show = { … }, with places`},
		{"a text for a table with names of one's own", "gauges = \"mm\"\n", `job.toml:1: gauges: "mm", where a table belongs; write [gauges.NAME] and its keys under it`},
		{"a text for one of such tables", "[gauges]\n\"bore gauge\" = \"0.002 mm\"\n", `job.toml:2: gauges.bore gauge: "0.002 mm", where a table belongs; write "bore gauge" = { … }, with uncertainty`},
		{"a table for a list of tables", "[bearings]\nclearance = \"1 mm\"\n", `job.toml:1: bearings: one table, where a list of tables belongs; write [[bearings]], in double brackets`},
		{"a list of tables for one", "[[show]]\nplaces = 1\n", `job.toml:1: show: a list of tables, where one belongs; write [show], in single brackets`},
		{"two of what there is one", "[show]\nplaces = 1\n\n[show]\nplaces = 2\n", `job.toml:4: [show]: given twice, first on line 1; keep one, with all that belongs to it`},
		{"two lists of what there is one", "[[show]]\nplaces = 1\n\n[[show]]\nplaces = 2\n", `job.toml:1: show: 2 tables, where one belongs; keep one, as [show], in single brackets`},
		{"a key twice", "title = \"a\"\ntitle = \"b\"\n", `job.toml:2: title: given twice, first on line 1; keep one`},
		{"a key twice in braces", "[[bearings]]\nreadings = [{ bore = \"1 mm\", bore = \"2 mm\" }]\n", `job.toml:2: bore: given twice, first on line 2; keep one`},
		{"a table in braces and with a heading", "gauges = { dial = { uncertainty = \"1 mm\" } }\n[gauges.dial]\n", `job.toml:2: [gauges]: given twice, first on line 1`},

		{"nothing after =", "title = \n", `job.toml:1: nothing after it; write title = "...", or "?"`},
		{"no quotes", "title = main job\n", `job.toml:1: main job, without quotes; write title = "main job"`},
		{"no quotes around a quantity", "title = 0.05 mm # so\n", `job.toml:1: 0.05 mm, without quotes; write title = "0.05 mm"`},
		{"a decimal comma without quotes", "title = 0,05\n", `job.toml:1: 0,05, without quotes; write title = "0,05"`},
		{"no closing quotation mark", "title = \"main\n", `job.toml:1: a text without its closing quotation mark`},
		{"quotation marks of print", "title = “main”\n", `job.toml:1: a quotation mark of print; write the straight one, "`},
		{"a colon", "title: \"main\"\n", `job.toml:1: a key that cannot be read; write title = "main"`},
		{"a key with a blank", "main gallery = \"clean\"\n", `job.toml:1: a key that cannot be read; write "main gallery" = "clean"`},
		{"a key with a blank in braces", "show = { main gallery = \"clean\" }\n", `job.toml:1: a name with a blank in it stands in quotes; write "main gallery" = ...`},
		{"a heading with a blank", "[gauges.bore gauge]\n", `job.toml:1: a heading that cannot be read; write [gauges."bore gauge"]`},
		{"a heading of a list with a blank", "[[bearings.main ones]]\n", `job.toml:1: a heading that cannot be read; write [[bearings."main ones"]]`},
		{"a heading without its end", "[gauges.dial\n", `job.toml:1: a heading that cannot be read; write [gauges.dial]`},
		{"a remark without #", "measured on Monday\n", `job.toml:1: measured on Monday, and no = after it; write`},
		{"a list that is not closed", "[[bearings]]\nlocations = [\"1\",\nclearance = \"1 mm\"\n", "job.toml:3: a list or a table in braces is not closed before here"},
		{"a list that is not closed before a heading", "[[bearings]]\nlocations = [\"1\",\n[show]\nplaces = 1\n", "job.toml:3: a list or a table in braces is not closed before here"},
		{"a list that is not closed at the end", "[[bearings]]\nlocations = [\"1\",\n", "job.toml:2: a list or a table in braces is not closed before here"},
		{"a comma missing in a list", "[[bearings]]\nlocations = [\"1\" \"2\"]\n", "job.toml:2: a comma is missing between two parts"},
		{"a backslash", `title = "a\q"`, `job.toml:1: a backslash`},
		{"a key of many parts", strings.Repeat("a.", 40) + "a = 1\n", `job.toml:1: a key of 41 parts; write at most 32`},
		{"lists in lists", "title = " + strings.Repeat("[", 100) + strings.Repeat("]", 100) + "\n", `job.toml:1: lists in lists more than 32 deep`},
		{"a list of tables that is a list", "bearings = []\n[[bearings]]\n", `job.toml:2: [[bearings]]: given twice: it is a list on line 1; keep one of the two`},
		{"not UTF-8", "title = \"a\"\n# caf\xe9\n", "job.toml:2: a letter that is not in UTF-8 (byte 233); save it again as UTF-8"},
		{"UTF-16", "\xff\xfet\x00i\x00", "job.toml: it is not in UTF-8, but in UTF-16 as it seems; save it again as UTF-8"},
		{"UTF-16 the other way round, without its mark", "\x00t\x00i", "job.toml: it is not in UTF-8, but in UTF-16"},
		{"too large", strings.Repeat("#", 2<<20), "job.toml: a file of 2048 kB, and at most 256 kB are read"},
	} {
		t.Run(test.name, func(t *testing.T) {
			var f file
			_, err := tomlfile.Decode("job.toml", []byte(test.src), &f)
			var errs tomlfile.Errors
			if !errors.As(err, &errs) {
				t.Fatalf("error is %T, want tomlfile.Errors", err)
			}
			if !strings.HasPrefix(err.Error(), test.want) {
				t.Errorf("error is\n%s\nwant\n%s", err, test.want)
			}
			if word := wordOfGo.FindString(err.Error()); word != "" && !strings.Contains(test.src, word) {
				t.Errorf("%q is no word of a file:\n%s", word, err)
			}
		})
	}
}

func TestUnknownKeyIs(t *testing.T) {
	var f file
	_, err := tomlfile.Decode("job.toml", []byte("titel = \"x\"\nshow.place = 2\n"), &f)
	if !errors.Is(err, tomlfile.ErrUnknownKey) {
		t.Errorf("errors.Is(%v, ErrUnknownKey) = false", err)
	}
	if lines := strings.Count(err.Error(), "\n") + 1; lines != 2 {
		t.Errorf("%d errors, want both:\n%v", lines, err)
	}
}

// wordOfGo is what no message may have.
var wordOfGo = regexp.MustCompile(`\b(struct|string|int64|float64|bool|nil|interface|reflect|strconv|unmarshal\w*|decode\w*|tomlfile)\b|: toml: |U\+[0-9A-F]{4}|map\[|\[\]|%!|&\{`)

// TestEveryErrorAtOnce: lines that are not TOML are all named, and so are values of
// another kind and keys that are unknown; what could be read is there all the same.
func TestEveryErrorAtOnce(t *testing.T) {
	var f file
	_, err := tomlfile.Decode("job.toml", []byte("title = main\n[show]\nplaces = \n[gauges.bore gauge]\nuncertainty = \"1 mm\n"), &f)
	if lines := strings.Count(err.Error(), "\n") + 1; lines != 4 {
		t.Errorf("%d errors, want 4:\n%v", lines, err)
	}
	places, err := tomlfile.Decode("job.toml", []byte("titel = 7\nbearings = 5\n[show]\nplaces = \"3\"\n[gauges]\ndial = \"1 mm\"\nclock = { uncertainty = [\"2 mm\"] }\n"), &f)
	if lines := strings.Count(err.Error(), "\n") + 1; lines != 6 || places == nil {
		t.Fatalf("%d errors, want 6:\n%v", lines, err)
	}
	if f.Title != "7" || f.Show.Places != 3 || f.Gauges["clock"].Uncertainty != "2 mm" {
		t.Errorf("what was meant is lost: %+v", f)
	}
	for path, want := range map[string]bool{
		"gauges.dial.uncertainty":  true, // there is no such table
		"gauges.clock.uncertainty": true, // it was said
		"gauges.clock.kind":        true, // perhaps
		"show.units":               true, // likewise
		"gauges.blades":            true, // likewise
		"bearings[0]":              true,
		"title":                    true,
		"show":                     false,
	} {
		if got := places.All(nil, tomlfile.Errors{places.Errorf(path, "x")}) == nil; got != want {
			t.Errorf("an error at %q follows: %t, want %t", path, got, want)
		}
	}
}

// FuzzDecode: a text is decoded as the library's decoder does it, or refused, with the
// file named.
func FuzzDecode(f *testing.F) {
	f.Add(good)
	f.Add("title = \n")
	f.Add("a.b.c = [ { d = 1 }, [ 2 ] ]\n[[x.y]]\n[x.y.z]\n")
	f.Add("[gauges]\n[gauges.a]\nuncertainty = \"1\"\n[gauges.b]\n[show]\nplaces = 0x1f\n[[bearings]]\n[[bearings.readings]]\n[[bearings]]\n")
	f.Add("show.places = 1_0\ngauges.a.uncertainty = '''x'''\nbearings = [{ readings = [{ bore = \"\" }] }]\n")
	f.Fuzz(func(t *testing.T, src string) {
		var v, want file
		places, err := tomlfile.Decode("f", []byte(src), &v)
		if err != nil && !strings.HasPrefix(err.Error(), "f") {
			t.Errorf("error does not begin with the file: %v", err)
		}
		if err != nil {
			return
		}
		if places == nil {
			t.Error("neither places nor an error")
		}
		if err := toml.Unmarshal([]byte(strings.TrimPrefix(src, "\ufeff")), &want); err != nil {
			t.Errorf("decoded, where the library has %v", err)
		}
		if got, want := fmt.Sprintf("%+v", v), fmt.Sprintf("%+v", want); got != want {
			t.Errorf("decoded as\n%s\nwant\n%s", got, want)
		}
	})
}

// TestLoad: a file, standard input, and what is refused before it is read.
func TestLoad(t *testing.T) {
	large := filepath.Join(t.TempDir(), "large.toml")
	if err := os.WriteFile(large, make([]byte, 20<<20), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct{ name, stdin, want string }{
		{"-", good, ""},
		{"-", strings.Repeat("#", 1<<20), "standard input: a file, and at most 256 kB are read"},
		{large, "", "a file of 20480 kB, and at most 256 kB are read"},
		{filepath.Dir(large), "", "is a folder"},
		{filepath.Join(filepath.Dir(large), "none.toml"), "", "there is no such file"},
	} {
		called, src, err := tomlfile.Load(test.name, strings.NewReader(test.stdin))
		switch {
		case test.want == "" && (err != nil || string(src) != test.stdin || called != "standard input"):
			t.Errorf("Load(%q): %s, %d bytes, %v", test.name, called, len(src), err)
		case test.want != "" && (err == nil || !strings.Contains(err.Error(), test.want)):
			t.Errorf("Load(%q): %v, want %q", test.name, err, test.want)
		}
	}
}

// FuzzLoad: what comes on standard input comes as it is, or is refused for its length.
func FuzzLoad(f *testing.F) {
	f.Add([]byte("title = 'x'\n"), uint32(1))
	f.Add([]byte("ab"), uint32(128<<10))
	f.Add([]byte("a"), uint32(256<<10+1))
	f.Fuzz(func(t *testing.T, part []byte, times uint32) {
		const most = 256 << 10
		if len(part) == 0 || times > 2*most/uint32(min(len(part), most)) {
			times = 1
		}
		text := bytes.Repeat(part, int(times))
		start := text[:min(len(text), 300)]
		if _, src, err := tomlfile.Load("-", iotest.OneByteReader(bytes.NewReader(start))); err != nil || !bytes.Equal(src, start) {
			t.Errorf("byte by byte it is %q, %v", src, err)
		}
		called, src, err := tomlfile.Load("-", bytes.NewReader(text))
		if (err != nil) != (len(text) > most) || err == nil && !bytes.Equal(src, text) || called != "standard input" {
			t.Errorf("%d bytes are %d of %s, %v", len(text), len(src), called, err)
		}
	})
}
