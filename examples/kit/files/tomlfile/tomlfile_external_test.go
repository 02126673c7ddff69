package tomlfile_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/tomlfile"
)

type file struct {
	Title    string    `toml:"title"`
	Bearings []bearing `toml:"bearings"`
	Show     struct {
		Places int `toml:"places"`
	} `toml:"show"`
	Gauges map[string]gauge `toml:"gauges"`
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
		{"unknown key", "title = \"x\"\n[[bearings]]\nclearence = \"1 mm\"\n", `job.toml:3: unknown key "clearence" in bearings; write clearance`},
		{"unknown key at the top", "titel = \"x\"\n", `job.toml:1: unknown key "titel"; write title`},
		{"unknown key like none", "[[bearings]]\nwhatever = 1\n", `job.toml:2: unknown key "whatever" in bearings; known are clearance, readings, locations`},
		{"unknown key in a map's table", "[gauges.dial]\nuncertinty = \"1 mm\"\n", `job.toml:2: unknown key "uncertinty" in gauges.dial; write uncertainty`},
		{"unknown key in a list of inline tables", "[[bearings]]\nreadings = [\n { location = \"1\" },\n { locatoin = \"2\" },\n]\n", `job.toml:4: unknown key "locatoin" in bearings.readings; write location`},
		{"bare number", "[[bearings]]\nclearance = 0.05\n", `job.toml:2: 0.05, a bare number, where a text belongs; write it in quotes, a quantity with its unit, as in "0.05 mm"`},
		{"a capital", "Title = \"x\"\n", `job.toml:1: unknown key "Title"; write title`},
		{"an unknown table, said once", "[[bearing]]\nclearance = \"1 mm\"\nlocations = []\n", `job.toml:1: unknown key "bearing"; write bearings`},
		{"text for a number", "[show]\nplaces = \"3\"\n", `job.toml:2: "3", a text where a whole number belongs; write it without quotes`},
		{"a text for a list", "[[bearings]]\nlocations = \"1\"\n", `job.toml:2: "1", where a list belongs; write it as ["1"]`},
		{"not TOML", "title = \n", `job.toml:1: `},
		{"a key twice", "title = \"a\"\ntitle = \"b\"\n", `job.toml:2: `},
		{"too large", strings.Repeat("#", 2<<20), "job.toml: a file of 2097152 bytes; at most 262144 are read"},
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

func FuzzDecode(f *testing.F) {
	f.Add(good)
	f.Add("title = \n")
	f.Add("a.b.c = [ { d = 1 }, [ 2 ] ]\n[[x.y]]\n[x.y.z]\n")
	f.Fuzz(func(t *testing.T, src string) {
		var v file
		places, err := tomlfile.Decode("f", []byte(src), &v)
		if (places == nil) == (err == nil) {
			t.Errorf("places %v, error %v", places, err)
		}
		if err != nil && !strings.HasPrefix(err.Error(), "f") {
			t.Errorf("error does not begin with the file: %v", err)
		}
	})
}
