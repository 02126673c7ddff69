package sheet_test

import (
	"context"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// numbered is a row with its number.
type numbered struct {
	Number int
	Texts  []string
}

func readText(t *testing.T, dir, text string, separator byte) []numbered {
	t.Helper()
	name := filepath.Join(dir, "a.csv")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := sheet.Open(name, sheet.Dialect{Separator: separator}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows []numbered
	for row, err := range sheet.Rows(context.Background(), f, "") {
		if err != nil {
			t.Fatal(err)
		}
		n := numbered{Number: row.Number}
		for _, c := range row.Cells {
			n.Texts = append(n.Texts, c.Text)
		}
		rows = append(rows, n)
	}
	return rows
}

func TestText(t *testing.T) {
	for _, test := range []struct {
		name, text string
		separator  byte
		want       []numbered
	}{
		{"plain", "a,b\n1,2\n", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"1", "2"}}}},
		{"no end of line at the end", "a,b\n1,2", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"1", "2"}}}},
		{"byte order mark and carriage returns", "\ufeffa;b\r\n1;2\r\n", ';', []numbered{{1, []string{"a", "b"}}, {2, []string{"1", "2"}}}},
		{"empty lines count", "a\n\n\nb\n", 0, []numbered{{1, []string{"a"}}, {4, []string{"b"}}}},
		{"blank cells", "a,,c,\n", 0, []numbered{{1, []string{"a", "", "c", ""}}}},
		{"tabs", "a\tb,c\n", '\t', []numbered{{1, []string{"a", "b,c"}}}},
		{"quoted", "a,b\n\"1,5\",\"say \"\"two\"\"\"\n3,4\n", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"1,5", `say "two"`}}, {3, []string{"3", "4"}}}},
		{"line breaks in a cell", "a,b\n\"x\ny\",1\n\nz,2\n", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"x\ny", "1"}}, {4, []string{"z", "2"}}}},
		{"nothing", "", 0, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, readText(t, t.TempDir(), test.text, test.separator)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestEncodings: the same rows, whatever the text was saved in.
func TestEncodings(t *testing.T) {
	const text = "maß,prüfer\n60.012,Müller µ\n"
	utf16 := func(order binary.AppendByteOrder) string {
		var b []byte
		for _, unit := range utf16.Encode([]rune("\ufeff" + text)) {
			b = order.AppendUint16(b, unit)
		}
		return string(b)
	}
	want := []numbered{{1, []string{"maß", "prüfer"}}, {2, []string{"60.012", "Müller µ"}}}
	for _, test := range []struct{ name, bytes, guessed string }{
		{"UTF-8", text, ""},
		{"UTF-8 with a byte order mark", "\ufeff" + text, ""},
		{"UTF-16, low byte first", utf16(binary.LittleEndian), ""},
		{"UTF-16, high byte first", utf16(binary.BigEndian), ""},
		// The bytes of ß, ü and µ in the code page of 1252: DF, FC and B5.
		{"Windows-1252", "ma\xdf,pr\xfcfer\n60.012,M\xfcller \xb5\n", "Windows 1252"},
		{"UTF-8 in pieces", text + strings.Repeat("ä,", 100) + strings.Repeat("\n", 1<<16-len(text)-300) + "ä\n", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			name := filepath.Join(t.TempDir(), "a.csv")
			if err := os.WriteFile(name, []byte(test.bytes), 0o600); err != nil {
				t.Fatal(err)
			}
			f, err := sheet.OpenText(name, sheet.Dialect{Separator: ','}, sheet.DefaultBounds())
			if err != nil {
				t.Fatal(err)
			}
			if f.Guessed() != test.guessed {
				t.Errorf("the encoding is guessed to be %q, want %q", f.Guessed(), test.guessed)
			}
			if diff := cmp.Diff(want, readText(t, t.TempDir(), test.bytes, 0)[:2]); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestRunesAcrossPieces: a text in UTF-8 is known as such wherever the pieces that are
// looked at end.
func TestRunesAcrossPieces(t *testing.T) {
	for before := 64<<10 - 5; before <= 64<<10; before++ {
		name := filepath.Join(t.TempDir(), "a.csv")
		if err := os.WriteFile(name, []byte(strings.Repeat("x\n", before/2)+strings.Repeat("y", before%2)+"€€\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		f, err := sheet.OpenText(name, sheet.Dialect{Separator: ','}, sheet.DefaultBounds())
		if err != nil || f.Guessed() != "" {
			t.Errorf("with %d bytes before the first: %q, %v", before, f.Guessed(), err)
		}
	}
}
