package evidence

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const goodRow = `bore-1,bearing,"bore=60.010 mm; walls=2.5, 2.498 mm",.042,mm,places,"Invented tables, 2nd ed.; table 1","common practice, no source",as printed`

func TestLoad(t *testing.T) {
	path := filepath.Join(t.TempDir(), "good.csv")
	if err := os.WriteFile(path, []byte(Header+"\n"+goodRow+"\n\nroot,root,,1e-6,,0,A book,from memory,\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	rows, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 2 {
		t.Fatalf("%d rows, want 2", len(rows))
	}
	r := rows[0]
	if r.ID != "bore-1" || r.Check != "bearing" || r.Want != ".042" || r.Unit() != "mm" || r.Tolerance.String() != "places" ||
		r.Source != "Invented tables, 2nd ed.; table 1" || r.Document() != "Invented tables, 2nd ed." ||
		r.Provenance != CommonPractice || r.Note != "as printed" || r.File != path || r.Line != 2 {
		t.Errorf("row read as %+v", r)
	}
	if got := r.Keys(); !slices.Equal(got, []string{"bore", "walls"}) {
		t.Errorf("keys %q", got)
	}
	if got, err := r.Input("walls"); got != "2.5, 2.498 mm" || err != nil {
		t.Errorf("walls = %q, %v", got, err)
	}
	if second := rows[1]; second.Line != 4 || second.Document() != "A book" || len(second.Keys()) != 0 {
		t.Errorf("row read as %+v", second)
	}
}

func TestLoadMissingFile(t *testing.T) {
	if _, err := Load(filepath.Join(t.TempDir(), "none.csv")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("error %v", err)
	}
}

func TestLoadRefuses(t *testing.T) {
	tests := []struct {
		name string
		row  string // below the header on line 2, unless kind is ErrHeader
		kind error
		says string
	}{
		{"no header", goodRow, ErrHeader, "first line must be " + Header},
		{"header in another order", strings.Replace(Header, "want,unit", "unit,want", 1), ErrHeader, "unit,want"},
		{"empty file", "", ErrHeader, "the file is empty"},
		{"no row", "\n", ErrEmpty, "no row"},
		{"too few fields", "a,sum,,1,,0,A book,published", ErrCSV, "found 8 fields"},
		{"unquoted comma", "a,sum,,1,,0,A book,common practice, no source,", ErrCSV, "double quotes"},
		{"broken quote", `a,sum,,1,,0,"A book,published,`, ErrCSV, "quote"},
		{"space around a field", "a,sum,,1,,0,A book, published,", ErrCSV, `provenance " published"`},
		{"line break in a field", "a,sum,,1,,0,\"A\nbook\",published,", ErrCSV, "line break"},
		{"id with a space", "a b,sum,,1,,0,A book,published,", ErrID, `"a b"`},
		{"no id", ",sum,,1,,0,A book,published,", ErrID, `""`},
		{"no check", "a,,,1,,0,A book,published,", ErrMissing, "check"},
		{"no want", "a,sum,,,,0,A book,published,", ErrMissing, "want"},
		{"no tolerance", "a,sum,,1,,,A book,published,", ErrMissing, "tolerance"},
		{"no source", "a,sum,,1,,0,,published,", ErrMissing, "source"},
		{"no document in the source", "a,sum,,1,,0,; table 3,published,", ErrMissing, "names no document"},
		{"no provenance", "a,sum,,1,,0,A book,,", ErrMissing, "provenance"},
		{"unknown provenance", "a,sum,,1,,0,A book,publishd,", ErrProvenance, `"worked example"`},
		{"reproduced in nothing", "a,sum,,1,,0,A book; table 1,reproduced,read in a copy", ErrProvenance, `"; read in WORK"`},
		{"derived from nothing", "a,sum,,1,,0,A book; table 1,derived,", ErrProvenance, "write the arithmetic"},
		{"published in another work", "a,sum,,1,,0,A book; table 1; read in a copy,published,", ErrProvenance, "read in a copy: write reproduced"},
		{"recalled in another work", "a,sum,,1,,0,A book; read in a copy,from memory,", ErrProvenance, "from memory, and read in a copy"},
		{"input without a value sign", "a,sum,bore 60,1,,0,A book,published,", ErrInputs, "no ="},
		{"input without a value", "a,sum,bore=,1,,0,A book,published,", ErrInputs, "bore has no value"},
		{"input ended by a semicolon", "a,sum,bore=60;,1,,0,A book,published,", ErrInputs, "no ="},
		{"input with a bad key", "a,sum,the bore=60,1,,0,A book,published,", ErrInputs, `"the bore"`},
		{"input given twice", "a,sum,bore=60; bore=61,1,,0,A book,published,", ErrInputs, "twice"},
		{"word for a tolerance", "a,sum,,1,,about,A book,published,", ErrTolerance, "percent"},
		{"negative tolerance", "a,sum,,1,,-0.1,A book,published,", ErrTolerance, "negative"},
		{"tolerance of no percent", "a,sum,,1,,0%,A book,published,", ErrTolerance, "write 0 for exact"},
		{"percent of nothing", "a,sum,,0.0,,1%,A book,published,", ErrTolerance, "absolute"},
		{"decimal comma", `a,sum,,"0,042",,places,A book,published,`, ErrNumber, `"0,042"`},
		{"not a number", "a,sum,,NaN,,0.1,A book,published,", ErrNumber, `"NaN"`},
		{"absurd exponent", "a,sum,,1e999,,0.1,A book,published,", ErrNumber, `"1e999"`},
		{"very long number", "a,sum,," + strings.Repeat("7", 61) + ",,0.1,A book,published,", ErrNumber, "at most 60"},
		{"duplicate id", goodRow + "\n" + goodRow, ErrDuplicate, "first used on line 2"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			text := Header + "\n" + test.row
			wantLine := 2
			switch test.kind {
			case ErrHeader:
				text, wantLine = test.row, min(1, len(test.row))
			case ErrEmpty:
				wantLine = 0
			case ErrDuplicate:
				wantLine = 3
			}
			rows, err := load(strings.NewReader(text), "f.csv")
			if rows != nil {
				t.Errorf("rows %v", rows)
			}
			placed, ok := errors.AsType[*Error](err)
			if !ok || !errors.Is(err, test.kind) {
				t.Fatalf("error %v, want kind %v", err, test.kind)
			}
			if placed.File != "f.csv" || placed.Line != wantLine {
				t.Errorf("error at %s:%d, want f.csv:%d", placed.File, placed.Line, wantLine)
			}
			if !strings.Contains(err.Error(), test.says) {
				t.Errorf("error %q does not say %q", err, test.says)
			}
		})
	}
}

func TestLoadTellsOfEveryBadRow(t *testing.T) {
	_, err := load(strings.NewReader(Header+"\na,sum,,1,,0,,published,\n"+goodRow+"\nb,sum,,1,,0,A book,read,\n"), "f.csv")
	if !errors.Is(err, ErrMissing) || !errors.Is(err, ErrProvenance) ||
		!strings.Contains(err.Error(), "f.csv:2: row a") || !strings.Contains(err.Error(), "f.csv:4: row b") {
		t.Errorf("error %v", err)
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(goodRow)
	f.Add("a,sum,x=1;y=2,1e-6,,1%,A book; p. 2,published,\nb,kind,,H7,,0,A book,from memory,")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := load(strings.NewReader(Header+"\n"+text), "f.csv")
		if (len(rows) > 0) == (err != nil) {
			t.Fatalf("%d rows with error %v", len(rows), err)
		}
		for _, r := range rows {
			if r.ID == "" || r.Check == "" || r.Want == "" || r.Document() == "" || !slices.Contains(Provenances(), r.Provenance) {
				t.Errorf("incomplete row %+v", r)
			}
		}
	})
}
