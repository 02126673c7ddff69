package sheet

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestFindDialect: what a text shows of how it is written, and what it does not.
func TestFindDialect(t *testing.T) {
	for _, test := range []struct {
		name, text string
		said, want Dialect
		taken      string // in what is said; "" if nothing is
		unclear    string // in the error
	}{
		{"commas and points", "main,bore,clearance\n1,60.0120,0.031\n2,60.007,0.037\n", Dialect{}, Dialect{',', '.'}, `commas|decimal point, as "60.0120" in B2`, ""},
		{"semicolons and commas", "main;bore;clearance\n1;60,012;0,031\n", Dialect{}, Dialect{';', ','}, `semicolons|decimal comma, as "0,031" in C2`, ""},
		{"semicolons and points", "main;bore;clearance\n1;60.012;0.031\n", Dialect{}, Dialect{';', '.'}, `semicolons|decimal point`, ""},
		{"tabs and commas", "main\tbore\n1\t60,0125\n", Dialect{}, Dialect{'\t', ','}, `tabs|decimal comma`, ""},
		{"bars", "main|bore\n1|60.0125\n", Dialect{}, Dialect{'|', '.'}, `bars`, ""},
		{"decimal commas in quotation marks", "main,bore\n1,\"60,0125\"\n2,\"60,0105\"\n", Dialect{}, Dialect{',', ','}, `commas|decimal comma`, ""},
		{"commas in notes of a file of semicolons", "main;bore;note\n1;60.0125;cleaned, dried\n2;60.0105;oiled, again\n", Dialect{}, Dialect{';', '.'}, `semicolons`, ""},
		{"semicolons in a note of a file of commas", "main,bore,note\n1,60.0125,a; b\n2,60.0105,ok\n", Dialect{}, Dialect{',', '.'}, `commas`, ""},
		{"three digits behind a comma between semicolons", "main;bore\n1;60,012\n2;60,007\n", Dialect{}, Dialect{';', ','}, `since semicolons separate the cells`, ""},
		{"three digits behind a point between commas", "main,bore\n1,60.012\n", Dialect{}, Dialect{',', '.'}, `since commas separate the cells`, ""},
		{"three digits behind a point between semicolons", "main;bore\n1;60.012\n2;60.007\n", Dialect{}, Dialect{}, "", `"60.012" in B2 may have a decimal mark or thousands apart; say whether`},
		{"three digits behind a comma between tabs", "main\tbore\n1\t60,012\n", Dialect{}, Dialect{}, "", `"60,012" in B2 may have`},
		{"both marks", "main;bore;journal\n1;60,0125;55.9712\n", Dialect{}, Dialect{}, "", `C2 is "55.9712" and B2 is "60,0125"; say whether`},
		{"one cell of many with the other mark", "a;b\n" + strings.Repeat("60.0125;55.9712\n", 10) + "60,01;55.9712\n", Dialect{}, Dialect{';', '.'}, `"60,01" in A12 has a comma`, ""},
		{"two columns of decimal commas", "60,01;2,00\n60,02;2,01\n", Dialect{}, Dialect{';', ','}, "with which more cells are numbers than with commas", ""},
		{"the separator said", "main;bore\n1;60,0125\n", Dialect{Separator: ';'}, Dialect{';', ','}, `decimal comma`, ""},
		{"the decimal mark said", "main;bore\n1;60.012\n", Dialect{Decimal: '.'}, Dialect{';', '.'}, `semicolons`, ""},
		{"all said", "main;bore\n1;60.012\n", Dialect{',', ','}, Dialect{',', ','}, "", ""},
		{"a first line that says the separator", "sep=;\r\nmain;bore\r\n1;60,0125\r\n", Dialect{}, Dialect{';', ','}, "as the first line says", ""},
		{"words alone", "main;note\none;good\n", Dialect{}, Dialect{';', '.'}, "semicolons", ""},
		{"words with two marks", "main;note,more\none;good,bad\n", Dialect{}, Dialect{}, "", "may be separated by semicolons or by commas; say which"},
		{"one column", "bore\n60.0125\n", Dialect{}, Dialect{',', '.'}, "there is one column", ""},
		{"nothing", "", Dialect{}, Dialect{',', '.'}, "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, taken, err := test.said.find([]byte(test.text))
			if test.unclear != "" {
				if !errors.Is(err, ErrUnclear) || !strings.Contains(err.Error(), test.unclear) {
					t.Errorf("%+v, the error is %v; want %q in it", got, err, test.unclear)
				}
				return
			}
			if err != nil || got != test.want {
				t.Errorf("%+v, want %+v; %v", got, test.want, err)
			}
			for _, want := range strings.Split(test.taken, "|") {
				if !strings.Contains(strings.Join(taken, "; "), want) {
					t.Errorf("said %q, want %q in it", taken, want)
				}
			}
		})
	}
}

// TestWideWithoutMark: UTF-16 is known without its byte order mark.
func TestWideWithoutMark(t *testing.T) {
	wide := func(text string, first bool) []byte {
		var b []byte
		for _, r := range []byte(text) {
			if first {
				b = append(b, 0, r)
			} else {
				b = append(b, r, 0)
			}
		}
		return b
	}
	const text = "main;bore\n1;60,0125\n"
	for name, data := range map[string][]byte{"low byte first": wide(text, false), "high byte first": wide(text, true)} {
		file := filepath.Join(t.TempDir(), "a.csv")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		f, err := OpenText(file, Dialect{}, DefaultBounds())
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		b, err := f.Load(t.Context())
		if err != nil || b.Grids[0].Cell(Place{2, 2}).Text != "60,0125" || !strings.HasPrefix(f.Guessed(), "UTF-16") {
			t.Errorf("%s: %v, taken for %q", name, err, f.Guessed())
		}
		if n, ok := b.Grids[0].Cell(Place{2, 2}).Number(); !ok || n.String() != "60.0125" {
			t.Errorf("%s: the number is %s", name, n)
		}
	}
}

// TestTitledRows: a first line that says the separator is no row.
func TestTitledRows(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(file, []byte("\ufeffsep=;\r\nmain;bore\r\n1;60,0125\r\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := OpenText(file, Dialect{}, DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	b, long, err := Head(t.Context(), f, 1, 1)
	if err != nil || !long || len(b.Grids[0].rows) != 1 || b.Grids[0].Cell(Place{1, 2}).Text != "bore" {
		t.Errorf("%+v, long %t, %v", b, long, err)
	}
}
