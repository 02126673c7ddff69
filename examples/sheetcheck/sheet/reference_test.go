package sheet

import (
	"fmt"
	"testing"
)

func TestRanges(t *testing.T) {
	for _, test := range []struct{ formula, want string }{
		{"B7-C7-D7-E7", "[B7:B7 C7:C7 D7:D7 E7:E7]"},
		{"B7-SUM(C7:E7)", "[B7:B7 C7:E7]"},
		{`IF(F7<$B$2,"B9",Other!C3)`, "[F7:F7 B2:B2 C3:C3]"},
		{"LOG10(A1)+ROUND(A2,3)", "[A1:A1 A2:A2]"},
		{"'My A1 sheet'!B2", "[B2:B2]"},
		{"A1B2+_A1+A1.5", "[]"},
		{`"unclosed A1`, "[]"},
	} {
		got := []string{}
		for _, r := range Ranges(test.formula) {
			got = append(got, r.From.String()+":"+r.To.String())
		}
		if fmt.Sprint(got) != test.want {
			t.Errorf("Ranges(%q) = %v, want %s", test.formula, got, test.want)
		}
	}
}

func TestHolds(t *testing.T) {
	r := Ranges("SUM(E9:C7)")[0]
	for at, want := range map[Place]bool{{7, 3}: true, {9, 5}: true, {8, 4}: true, {6, 4}: false, {8, 6}: false} {
		if r.Holds(at) != want {
			t.Errorf("E9:C7 holds %s: %t, want %t", at, !want, want)
		}
	}
	if Ranges("Other!C7")[0].Holds(Place{7, 3}) {
		t.Error("a cell of another sheet is taken for one of this")
	}
}

// TestMoved: shared formulas read as in the cell that they are copied to.
func TestMoved(t *testing.T) {
	for _, test := range []struct {
		formula       string
		rows, columns int
		want          string
	}{
		{"B7-$C7-D$7-$E$7", 2, 1, "C9-$C9-E$7-$E$7"},
		{`IF(A1="A1",MAX(A1:A3),0)`, 1, 0, `IF(A2="A1",MAX(A2:A4),0)`},
		{"A1", -1, 0, "#REF!"},
		{"SUM(B:B)+SUM(C:$D)-COUNT(3:$3)", 2, 1, "SUM(C:C)+SUM(D:$D)-COUNT(5:$3)"},
		{`B:B&"B:B"&'B:B'!A1`, 0, 1, `C:C&"B:B"&'B:B'!B1`},
		{"Jan:Mar!A1+A7:B9+IF(A1,2:3,4)", 1, 1, "Jan:Mar!B2+B8:C10+IF(B2,3:4,4)"},
	} {
		if got := moved(test.formula, test.rows, test.columns); got != test.want {
			t.Errorf("%q moved by %d, %d is %q, want %q", test.formula, test.rows, test.columns, got, test.want)
		}
	}
}

func TestColumns(t *testing.T) {
	for column, name := range map[int]string{1: "A", 26: "Z", 27: "AA", 52: "AZ", 703: "AAA", 16384: "XFD"} {
		if got := ColumnName(column); got != name {
			t.Errorf("ColumnName(%d) = %q, want %q", column, got, name)
		}
		if got, err := ParseColumn(name); err != nil || got != column {
			t.Errorf("ParseColumn(%q) = %d, %v; want %d", name, got, err, column)
		}
	}
	for _, bad := range []string{"", "7", "A1", "AAAA", "Ä", "a b"} {
		if n, err := ParseColumn(bad); err == nil {
			t.Errorf("ParseColumn(%q) = %d, want an error", bad, n)
		}
	}
	for _, bad := range []string{"", "A", "7", "A0", "7A", "A-1", "A1:B2"} {
		if p, err := ParsePlace(bad); err == nil {
			t.Errorf("ParsePlace(%q) = %v, want an error", bad, p)
		}
	}
}
