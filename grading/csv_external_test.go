package grading_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// sameSizes compares the quantities of two schemes, which == does not.
var sameSizes = cmp.Options{
	cmp.Comparer(func(a, b units.Length) bool { return a.Equal(b) }),
	cmp.Comparer(func(a, b units.LengthInterval) bool { return a.Equal(b) }),
}

func asCSV(t interface{ Fatal(...any) }, s *grading.Scheme) string {
	var b bytes.Buffer
	if err := s.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestReadCSV(t *testing.T) {
	got, err := grading.ReadCSV(strings.NewReader(`# an invented scheme
scheme,rods
source,"invented, for this test"
interchangeable
mix,1
limits,0.0010..0.0026 in
wanted,0.0018 in
housing,I,,,2.1250..2.1254 in
housing,II
journal, A,,,1.9990..1.9994 in
journal, B
matrix,,B,A
matrix,II,brown,green/brown
matrix,I,brown/green,green
shell,green,,0.0620..0.0622 in
shell,brown,,0.0622..0.0624 in
shell,green,,0.0670..0.0672 in,0.010
family,0.010,0.010 in
`))
	if err != nil {
		t.Fatal(err)
	}
	want := &grading.Scheme{
		Name: "rods", Source: "invented, for this test", Interchangeable: true, Mix: 1,
		Limits: size("0.0010..0.0026 in"), Wanted: new(units.MustParseLength("0.0018 in")),
		Housing: []grading.Code{{Code: "I", Size: size("2.1250..2.1254 in")}, {Code: "II"}},
		Journal: []grading.Code{{Code: "A", Size: size("1.9990..1.9994 in")}, {Code: "B"}},
		Matrix:  [][]string{{"", "B", "A"}, {"II", "brown", "green/brown"}, {"I", "brown/green", "green"}},
		Shells: []grading.Shell{
			{Grade: "green", Wall: size("0.0620..0.0622 in")}, {Grade: "brown", Wall: size("0.0622..0.0624 in")},
			{Grade: "green", Family: "0.010", Wall: size("0.0670..0.0672 in")}},
		Families: []grading.Family{{Name: "0.010", Undersize: units.MustParseLength("0.010 in")}},
	}
	if diff := cmp.Diff(want, got, sameSizes); diff != "" {
		t.Error(diff)
	}
	again, err := grading.ReadCSV(strings.NewReader(asCSV(t, got)))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, again, sameSizes); diff != "" {
		t.Errorf("written and read again:\n%s", diff)
	}
	if p, err := got.Pair("II", "A"); err != nil || p.String() != "green + brown" {
		t.Errorf("%s, %v", p, err)
	}
}

// padded returns a scheme's text of so many bytes.
func padded(bytes int) string {
	const begin, end = "scheme,a\nsource,", "\n"
	return begin + strings.Repeat("x", bytes-len(begin)-len(end)) + end
}

// TestReadCSVLines: single lines that a slip is looked for in, or that stand at a bound, are
// read as they are written.
func TestReadCSVLines(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       grading.Scheme
	}{
		{"a byte order mark", "\ufeffscheme,a\nhousing,A\n", grading.Scheme{Housing: []grading.Code{{Code: "A"}}}},
		{"empty columns too many", "scheme,a\nhousing,A,red,1,64 mm,,\n", grading.Scheme{Housing: []grading.Code{{Code: "A", Shell: "red", Number: new(1), Size: size("64 mm")}}}},
		{"one empty column too many", "scheme,a\njournal,B,red,1,64 mm,\n", grading.Scheme{Journal: []grading.Code{{Code: "B", Shell: "red", Number: new(1), Size: size("64 mm")}}}},
		{"a shell with a number for a name", "scheme,a\nhousing,A,1,,64 mm\n", grading.Scheme{Housing: []grading.Code{{Code: "A", Shell: "1", Size: size("64 mm")}}}},
		{"a code and a shell with numbers for names", "scheme,a\njournal,1,5,,64 mm\n", grading.Scheme{Journal: []grading.Code{{Code: "1", Shell: "5", Size: size("64 mm")}}}},
		{"a code with a number for a name, and a number", "scheme,a\njournal,B,2,0,64 mm\n", grading.Scheme{Journal: []grading.Code{{Code: "B", Shell: "2", Number: new(0), Size: size("64 mm")}}}},
		{"a family with a number for a name", "scheme,a\nfamily,2,0.5 mm\n", grading.Scheme{Families: []grading.Family{{Name: "2", Undersize: units.MustParseLength("0.5 mm")}}}},
		{"a family named for thousandths", "scheme,a\nfamily,10,9 thou\n", grading.Scheme{Families: []grading.Family{{Name: "10", Undersize: units.MustParseLength("0.009 in")}}}},
		{"numbers as large as may be", "scheme,a\nsum,-100000,100000,x\n", grading.Scheme{Sums: []grading.SumRow{{From: -100_000, To: 100_000, Shells: "x"}}}},
		{"a row without cells", "scheme,a\nmatrix,,1\nmatrix,A\n", grading.Scheme{Matrix: [][]string{{"", "1"}, {"A"}}}},
		{"the corner of a matrix alone", "scheme,a\nmatrix,\n", grading.Scheme{Matrix: [][]string{{""}}}},
		{"as many bytes as may be", padded(1 << 20), grading.Scheme{Source: strings.Repeat("x", 1<<20-17)}}, // less "scheme,a", "source," and two line ends
	} {
		test.want.Name = "a"
		got, err := grading.ReadCSV(strings.NewReader(test.text))
		if diff := cmp.Diff(&test.want, got, sameSizes); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", test.name, err, diff)
		}
	}
}

func TestCSVRoundTrip(t *testing.T) {
	for _, s := range []*grading.Scheme{pumpSet(), rodScheme(), sumScheme(), stepped()} {
		again, err := grading.ReadCSV(strings.NewReader(asCSV(t, s)))
		if diff := cmp.Diff(s, again, sameSizes); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", s.Name, err, diff)
		}
	}
}

func TestReadCSVErrors(t *testing.T) {
	tests := []struct {
		name, text string
		line       int
		field      string
		says       string
		cause      error
	}{
		{"nothing", "", 1, "", "scheme,name", nil},
		{"no scheme", "housing,A\n", 1, "", "no line that begins with scheme", nil},
		{"two schemes", "scheme,a\nscheme,b\n", 2, "", "a second scheme", nil},
		{"an unknown line", "scheme,a\nbore,A\n", 2, "", `begins with "bore"`, nil},
		{"its kinds", "bore,A\n", 1, "", "write one of family, ground, housing, interchangeable, journal, limits, matrix, mix, scheme, shell, source, sum, wanted", nil},
		{"a byte order mark within", "scheme,a\n\ufeffhousing,A\n", 2, "", "a line that begins with", nil},
		{"a value after empty ones", "scheme,a\nhousing,A,red,1,64 mm,,more\n", 2, "", "6 values after housing", nil},
		{"no unit of a wall", "scheme,a\nshell,red,upper,2.000..2.003\n", 2, "shell red, wall", "not a scheme", units.ErrNoUnit},
		{"no unit of an undersize", "scheme,a\nfamily,small,0.25\n", 2, "family small, undersize", "not a scheme", units.ErrNoUnit},
		{"a matrix of nothing", "scheme,a\nmatrix\n", 2, "matrix", "the first line of a matrix", nil},
		{"a row of nothing", "scheme,a\nmatrix,,1\nmatrix\n", 3, "matrix", "without a housing code", nil},
		{"a second corner", "scheme,a\nmatrix,\nmatrix,\n", 3, "matrix", "without a housing code", nil},
		{"a byte too many", padded(1<<20 + 1), 2, "", "far longer", purchase.ErrTooLarge},
		{"a value missing", "scheme\n", 1, "scheme, name", "the columns are name", nil},
		{"a code missing", "scheme,a\n\njournal,,x\n", 3, "journal, code", "nothing", nil},
		{"too many values", "scheme,a\nhousing,A,red,1,64 mm,more\n", 2, "", "5 values after housing", nil},
		{"no unit", "scheme,a\nhousing,A,,,64.000..64.006\n", 2, "housing A, size", "not a scheme", units.ErrNoUnit},
		{"the wrong dimension", "scheme,a\nlimits,0..30 N·m\n", 2, "limits", "not a scheme", units.ErrWrongDimension},
		{"a decimal comma", "scheme,a\nwanted,\"0,030 mm\"\n", 2, "wanted", "not a scheme", units.ErrSyntax},
		{"limits the wrong way round", "scheme,a\nlimits,0.05..0.03 mm\n", 2, "limits", "not a scheme", units.ErrOrder},
		{"limits twice", "scheme,a\nlimits,0.02..0.04 mm\nlimits,0.02..0.05 mm\n", 3, "", "a second line of limits, after line 2", nil},
		{"semicolons", "scheme;a;sum\n", 1, "", "put commas between the values, and points in numbers", nil},
		{"a decimal comma that ends a value", "scheme,a\nwanted,0,030 mm\n", 2, "wanted", `write "0.030 mm", in the column of wanted`, nil},
		{"one of them, after a nine", "scheme,a\nhousing,A,red,1,59,970 mm\n", 2, "housing", `write "59.970 mm", in the column of size`, nil},
		{"one of them, an empty column forgotten, before a nought", "scheme,a\nhousing,A,red,64,012 mm\n", 2, "housing", `write "64.012 mm", in the column of size`, nil},
		{"commas for the points of limits", "scheme,a\nlimits,0,,5 mm\n", 2, "limits", `write "0..5 mm", in the column of limits`, nil},
		{"two of them", "scheme,a\nhousing,A,,1,64,000..64,006 mm\n", 2, "housing", `write "64.000..64.006 mm", in the column of size`, nil},
		{"commas for the points of limits, an empty column forgotten", "scheme,a\nhousing,A,red,64,05,,64,08 mm\n", 2, "housing", `write "64.05..64.08 mm", in the column of size`, nil},
		{"the same, after two noughts", "scheme,a\nhousing,A,red,64,00,,64,02 mm\n", 2, "housing", `write "64.00..64.02 mm", in the column of size`, nil},
		{"one of them, where a wall stands", "scheme,a\nshell,red,upper,1,997 mm\n", 2, "shell", `write "1.997 mm", in the column of wall`, nil},
		{"one of them, an empty column forgotten", "scheme,a\nhousing,A,red,64,006 mm\n", 2, "housing", `write "64.006 mm", in the column of size`, nil},
		{"one of them, two columns forgotten", "scheme,a\nhousing,A,64,006 mm\n", 2, "housing", `write "64.006 mm", in the column of size`, nil},
		{"one of them, nothing but the size", "scheme,a\nhousing,64,006 mm\n", 2, "housing", `write "64.006 mm", in the column of size`, nil},
		{"one of them, of an undersize", "scheme,a\nfamily,small,0,25 mm\n", 2, "family", `write "0.25 mm", in the column of undersize`, nil},
		{"a size where a number belongs", "scheme,a\nhousing,A,red,64.006 mm\n", 2, "housing A, number", "belongs in the column of size", nil},
		{"a family without an undersize", "scheme,a\nfamily,0.25\n", 2, "family, undersize", "nothing", nil},
		{"no number", "scheme,a\nhousing,A,,one\n", 2, "housing A, number", "no whole number", nil},
		{"an absurd number", "scheme,a\nsum,1,99999999999,x\n", 2, "sum, to", "no whole number", nil},
		{"no half", "scheme,a\nshell,red,left,2 mm\n", 2, "shell red, half", "write upper, lower", units.ErrNotWritten},
		{"a matrix without codes", "scheme,a\nmatrix,A,red\n", 2, "matrix", "the first line of a matrix", nil},
		{"a row without a code", "scheme,a\nmatrix,,1,2\nmatrix,,red,blue\n", 3, "matrix", "without a housing code", nil},
		{"a quote left open", "scheme,a\nsource,\"open\n", 2, "", "comma-separated", nil},
		{"too long", "scheme,a\n" + strings.Repeat("housing,x\n", 200_000), 10_001, "", "far longer", purchase.ErrTooLarge},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s, err := grading.ReadCSV(strings.NewReader(test.text))
			e, ok := errors.AsType[*units.Error](err)
			if s != nil || !ok || !errors.Is(err, grading.ErrScheme) {
				t.Fatalf("%v with error %v", s, err)
			}
			where := fmt.Sprint("line ", test.line)
			if test.field != "" {
				where += ", " + test.field
			}
			if e.Where != where || !strings.Contains(err.Error(), test.says) || test.cause != nil && !errors.Is(err, test.cause) {
				t.Errorf("%v; want %s, saying %q", err, where, test.says)
			}
		})
	}
}

// Whatever is read comes back as it was through writing, and nothing makes it panic.
func FuzzReadCSV(f *testing.F) {
	for _, s := range []*grading.Scheme{pumpSet(), rodScheme(), sumScheme(), stepped()} {
		f.Add(asCSV(f, s))
	}
	f.Add("scheme,a\nmatrix,\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := grading.ReadCSV(strings.NewReader(text))
		if err != nil {
			if !errors.Is(err, grading.ErrScheme) {
				t.Errorf("error of no kind: %v", err)
			}
			return
		}
		s.Validate()
		again, err := grading.ReadCSV(strings.NewReader(asCSV(t, s)))
		if diff := cmp.Diff(s, again, sameSizes); err != nil || diff != "" {
			t.Errorf("%v\n%s", err, diff)
		}
	})
}

// Rows of any text are read or refused, and a row that is read gives each location
// a code of the scheme.
func FuzzRowRead(f *testing.F) {
	f.Add("ABBA", "A,B,C", "", 4)
	f.Add("12-11-?", "9,10,11,12", "", 3)
	f.Add("1121", "1,11,12,2,21", "", 3)
	f.Add("A?*", "A,AA", "*", 2)
	f.Add("6 9 M 6", "6,9,M,W", "6", 3)
	f.Fuzz(func(t *testing.T, text, codes, mark string, n int) {
		if n < 0 || n > 40 || len(codes) > 200 {
			return
		}
		row := grading.Row{Text: text, Side: grading.Journal, Codes: strings.Split(codes, ","), Locations: mainsOf(n), Mark: mark, MarkAt: []string{"", firstEnd, lastEnd}[len(text)%3]}
		got, err := placed(row).Read()
		if err != nil {
			if !errors.Is(err, grading.ErrCodes) && !errors.Is(err, purchase.ErrTooLarge) && !errors.Is(err, grading.ErrLocations) {
				t.Errorf("error of no kind: %v", err)
			}
			return
		}
		for _, way := range append([]grading.RowReading{{Stamps: got.Stamps}}, got.Others...) {
			if len(way.Stamps) != n {
				t.Errorf("%d stamps for %d locations", len(way.Stamps), n)
			}
			for _, s := range way.Stamps {
				if len(s.Possible) == 0 {
					t.Errorf("%s is no code", s)
				}
			}
		}
		if (got.Question() == "") != (len(got.Others) == 0) || len(got.Others) == 0 && got.Tell != nil {
			t.Errorf("%d other ways, told at %q: %q", len(got.Others), got.Tell, got.Question())
		}
	})
}

// A row that is written from codes is read as those codes, however it is separated.
func TestRowReadsWhatIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		codes := []string{"A", "B", "10", "11", "C2"}
		n := rapid.IntRange(2, 9).Draw(t, "locations")
		row := grading.Row{Side: grading.Housing, Codes: codes, Locations: mainsOf(n)}
		words := make([]string, n)
		for i := range words {
			words[i] = rapid.SampledFrom(codes).Draw(t, "code")
		}
		row.Text = strings.Join(words, rapid.SampledFrom([]string{"", " ", "-", ", ", " / "}).Draw(t, "separator"))
		got, err := placed(row).Read()
		if err != nil {
			t.Fatal(err)
		}
		if codesOf(got.Stamps) != strings.Join(words, " ") {
			t.Errorf("%q reads %q", row.Text, codesOf(got.Stamps))
		}
	})
}

// Columns at the end that have nothing to say are left out.
func TestWriteCSVLeavesEmptyColumnsOut(t *testing.T) {
	var text strings.Builder
	if err := pumpSet().WriteCSV(&text); err != nil {
		t.Fatal(err)
	}
	const want = "scheme,pump-set mains\nhousing,A,red\nhousing,B,blue\njournal,1,red\njournal,2,blue\njournal,3,green\n"
	if text.String() != want {
		t.Errorf("%s\nwant\n%s", text.String(), want)
	}
}
