package grading_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

func size(s string) units.LengthInterval { return units.MustParseLengthInterval(s) }

// read reads a row of the scheme's codes, of three mains unless it has locations.
func read(t testing.TB, s *grading.Scheme, row grading.Row) grading.RowReading {
	t.Helper()
	if row.Locations == nil {
		row.Locations = threeMains
	}
	row.Codes = s.Codes(row.Side)
	r, err := placed(row).Read()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// rodScheme is an invented scheme by a matrix that is not symmetric.
func rodScheme() *grading.Scheme {
	return &grading.Scheme{
		Name: "rods", Housing: []grading.Code{{Code: "I"}, {Code: "II"}},
		Journal: []grading.Code{{Code: "A"}, {Code: "B"}, {Code: "C"}},
		Matrix: [][]string{
			{"", "C", "A", "B"},
			{"II", "black", "green/brown", "brown"},
			{"I", "brown/black", "green", "brown/green"},
		},
	}
}

// sumScheme is an invented scheme by the sum of numbers.
func sumScheme() *grading.Scheme {
	return &grading.Scheme{
		Name: "mill", Interchangeable: true,
		Housing: []grading.Code{{Code: "1"}, {Code: "2"}},
		Journal: []grading.Code{{Code: "A", Number: new(1)}, {Code: "B", Number: new(3)}},
		Sums:    []grading.SumRow{{From: 2, To: 3, Shells: "thin"}, {From: 4, To: 5, Shells: "thin/thick"}},
	}
}

func TestSchemePair(t *testing.T) {
	tests := []struct {
		scheme           *grading.Scheme
		housing, journal string
		want             string
	}{
		{pumpSet(), "A", "2", "red upper + blue lower"},
		{pumpSet(), "B", "1", "blue upper + red lower"},
		{rodScheme(), "I", "A", "green upper + green lower"},
		{rodScheme(), "I", "C", "brown upper + black lower"},
		{rodScheme(), "II", "A", "green upper + brown lower"},
		{rodScheme(), "I", "B", "brown upper + green lower"},
		{sumScheme(), "2", "A", "thin + thin"},
		{sumScheme(), "1", "B", "thin + thick"},
		{sumScheme(), "2", "B", "thin + thick"},
	}
	for _, test := range tests {
		p, err := test.scheme.Pair(test.housing, test.journal)
		if err != nil || p.String() != test.want {
			t.Errorf("%s, %s and %s: %s, %v; want %s", test.scheme.Name, test.housing, test.journal, p, err, test.want)
		}
		if err := test.scheme.Validate(); err != nil {
			t.Error(err)
		}
	}
}

func TestSchemePairUnknownCode(t *testing.T) {
	_, err := pumpSet().Pair("A", "9")
	e, ok := errors.AsType[*units.Error](err)
	if !ok || e.Where != `journal code "9"` || e.Found != "no code of the scheme: it holds 1, 2, 3" {
		t.Errorf("%v", err)
	}
	if _, err = pumpSet().Pair("C", "1"); !errors.Is(err, grading.ErrCodes) || !strings.Contains(err.Error(), "housing code") {
		t.Errorf("%v", err)
	}
}

func TestAssignIllegible(t *testing.T) {
	s := pumpSet()
	said := func(side grading.Side, text string, locations ...string) grading.RowReading {
		return read(t, s, grading.Row{Text: text, Side: side, From: firstEnd, Locations: locations})
	}
	assigned, err := s.Assign(said(grading.Housing, "AB?"), said(grading.Journal, "3?1"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, a := range assigned {
		for _, p := range a.Pairs {
			got = append(got, a.Location+": "+p.String())
		}
	}
	want := []string{
		"main 1: red upper + green lower",
		"main 2: blue upper + red lower", "main 2: blue upper + blue lower", "main 2: blue upper + green lower",
		"main 3: red upper + red lower", "main 3: blue upper + red lower",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	_, err = grading.Demand(assigned)
	e, ok := errors.AsType[*units.Error](err)
	if !ok || e.Where != "main 2" || !errors.Is(err, grading.ErrUndecided) ||
		!strings.Contains(err.Error(), "main 2: more than one pair is still possible: blue upper + red lower; blue upper + blue lower;") {
		t.Errorf("%v", err)
	}

	_, err = s.Assign(said(grading.Housing, "AAB"), said(grading.Journal, "11", "main 1", "main 2"))
	if !errors.Is(err, grading.ErrLocations) || !strings.Contains(err.Error(), "journal codes of main 1, main 2, but housing codes of main 1, main 2, main 3") {
		t.Errorf("two for three: %v", err)
	}
}

func TestValidate(t *testing.T) {
	wall := units.MustParseLengthInterval("2.000..2.003 mm")
	other := units.MustParseLengthInterval("2.003..2.006 mm")
	tests := []struct {
		name   string
		change func(*grading.Scheme)
		of     func() *grading.Scheme
		place  string
	}{
		{"no mix", func(s *grading.Scheme) { s.Mix = -1 }, pumpSet, "mix"},
		{"a code without a shell", func(s *grading.Scheme) { s.Journal[2].Shell = "" }, pumpSet, "journal 3"},
		{"a code twice", func(s *grading.Scheme) { s.Housing[1].Code = "A" }, pumpSet, "housing A"},
		{"an empty code", func(s *grading.Scheme) { s.Housing[1].Code = "" }, pumpSet, "housing 2"},
		{"no codes", func(s *grading.Scheme) { s.Journal = nil }, pumpSet, "journal"},
		{"absurdly many codes", func(s *grading.Scheme) { s.Journal = make([]grading.Code, 257) }, pumpSet, "journal"},
		{"wanted outside the limits", func(s *grading.Scheme) {
			s.Limits, s.Wanted = size("0.02..0.04 mm"), new(units.MustParseLength("0.05 mm"))
		}, pumpSet, "wanted"},
		{"a size of nothing", func(s *grading.Scheme) { s.Housing[0].Size = size("0..64 mm") }, pumpSet, "housing A"},
		{"a size without an end", func(s *grading.Scheme) { s.Journal[0].Size = size(">= 60 mm") }, pumpSet, "journal 1"},
		{"a matrix with a hole", func(s *grading.Scheme) { s.Matrix[2][1] = " " }, rodScheme, "housing I, journal C"},
		{"a cell of a half", func(s *grading.Scheme) { s.Matrix[2][1] = "green/" }, rodScheme, "housing I, journal C"},
		{"a cell of three halves", func(s *grading.Scheme) { s.Matrix[2][1] = "green/brown/black" }, rodScheme, "housing I, journal C"},
		{"a code with both halves", func(s *grading.Scheme) { s.Journal[2].Shell = "red/blue" }, pumpSet, "journal 3"},
		{"a matrix with a short row", func(s *grading.Scheme) { s.Matrix[1] = []string{"II", "black", "green"} }, rodScheme, "housing II, journal B"},
		{"a matrix without a row", func(s *grading.Scheme) { s.Matrix = s.Matrix[:2] }, rodScheme, "housing I, journal A"},
		{"a matrix without a column", func(s *grading.Scheme) { s.Matrix[0] = []string{"", "C", "A"} }, rodScheme, "matrix, housing II"},
		{"no matrix", func(s *grading.Scheme) { s.Matrix = nil }, rodScheme, "housing I"},
		{"a matrix and sums", func(s *grading.Scheme) { s.Sums = []grading.SumRow{{From: 1, To: 9, Shells: "red"}} }, rodScheme, "matrix"},
		{"a row twice", func(s *grading.Scheme) { s.Matrix[2][0] = "II" }, rodScheme, "matrix, housing II"},
		{"a column twice", func(s *grading.Scheme) { s.Matrix[0][2] = "C" }, rodScheme, "matrix, journal C"},
		{"a matrix without its journal codes", func(s *grading.Scheme) { s.Matrix[0] = nil }, rodScheme, "matrix"},
		{"a matrix without its corner", func(s *grading.Scheme) { s.Matrix[0][0] = "C" }, rodScheme, "matrix"},
		{"an empty row of a matrix", func(s *grading.Scheme) { s.Matrix[1] = nil }, rodScheme, "matrix"},
		{"a family twice", func(s *grading.Scheme) {
			s.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}, {Name: "0.50", Undersize: units.MustParseLength("0.50 mm")}, {Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}}
		}, sumScheme, "family 0.25"},
		{"a row of no code", func(s *grading.Scheme) { s.Matrix[2][0] = "IV" }, rodScheme, "matrix, housing IV"},
		{"a column of no code", func(s *grading.Scheme) { s.Matrix[0][2] = "X" }, rodScheme, "matrix, journal X"},
		{"a sum that no range holds", func(s *grading.Scheme) { s.Sums[0].From = 3 }, sumScheme, "housing 1, journal A"},
		{"a sum in two ranges", func(s *grading.Scheme) { s.Sums[1].From = 3 }, sumScheme, "sum 3 to 5"},
		{"sums the wrong way round", func(s *grading.Scheme) { s.Sums[1] = grading.SumRow{From: 5, To: 4, Shells: "x"} }, sumScheme, "sum 5 to 4"},
		{"a sum of one half", func(s *grading.Scheme) { s.Sums[1].Shells = " /thin" }, sumScheme, "sum 4 to 5"},
		{"a sum without shells", func(s *grading.Scheme) { s.Sums[1].Shells = "" }, sumScheme, "sum 4 to 5"},
		{"a code without a number", func(s *grading.Scheme) { s.Journal[1].Number = nil }, sumScheme, "journal B"},
		{"two walls", func(s *grading.Scheme) {
			s.Shells = []grading.Shell{{Grade: "red", Half: grading.Upper, Wall: wall}, {Grade: "red", Half: grading.Upper, Wall: other}}
		}, pumpSet, "shell red upper"},
		{"two walls, one for both halves", func(s *grading.Scheme) {
			s.Shells = []grading.Shell{{Grade: "red", Wall: wall}, {Grade: "red", Half: grading.Lower, Wall: other}}
		}, pumpSet, "shell red lower"},
		{"a shell twice", func(s *grading.Scheme) {
			s.Shells = []grading.Shell{{Grade: "red", Half: grading.Upper, Wall: wall}, {Grade: "red", Half: grading.Upper, Wall: wall}}
		}, pumpSet, "shell red upper"},
		{"a shell that codes call for", func(s *grading.Scheme) {
			s.Shells = []grading.Shell{{Grade: "red", Wall: wall}, {Grade: "blue", Wall: wall}}
		},
			pumpSet, "shell green lower"},
		{"a half where halves are one part", func(s *grading.Scheme) { s.Shells = []grading.Shell{{Grade: "thin", Half: grading.Upper, Wall: wall}} },
			sumScheme, "shell thin upper"},
		{"a shell without a grade", func(s *grading.Scheme) { s.Shells = []grading.Shell{{Wall: wall}} }, sumScheme, "shell 1"},
		{"a wall of nothing", func(s *grading.Scheme) { s.Shells = []grading.Shell{{Grade: "thin"}} }, sumScheme, "shell thin"},
		{"a family without a name", func(s *grading.Scheme) { s.Families = []grading.Family{{Undersize: units.MustParseLength("0.25 mm")}} }, sumScheme, "family 1"},
		{"an undersize of nothing", func(s *grading.Scheme) { s.Families = []grading.Family{{Name: "0"}} }, sumScheme, "family 0"},
		{"a family of no undersize", func(s *grading.Scheme) {
			s.Families = []grading.Family{{Name: "standard", Undersize: units.MustParseLength("0.25 mm")}}
		}, sumScheme, "family 1"},
		{"ground, with families", func(s *grading.Scheme) {
			s.Ground, s.Families = "0.25", []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}}
		}, sumScheme, "ground"},
		{"ground to standard", func(s *grading.Scheme) { s.Ground = grading.Standard }, sumScheme, "ground"},
		{"a number that nothing adds", func(s *grading.Scheme) { s.Journal[0].Number = new(59) }, pumpSet, "journal 1"},
		{"a shell beside a matrix", func(s *grading.Scheme) { s.Housing[1].Shell = "red" }, rodScheme, "matrix"},
		{"a matrix beside shells of codes", func(s *grading.Scheme) { s.Matrix = [][]string{{""}} }, pumpSet, "matrix"},
		{"sums beside shells of codes", func(s *grading.Scheme) { s.Sums = sumScheme().Sums }, pumpSet, "sums"},
		{"a size in another unit", func(s *grading.Scheme) {
			s.Journal[0].Size, s.Journal[1].Size = size("59.970..59.976 mm"), size("59.964 in")
		}, pumpSet, "journal 1"},
		{"a bore in a journal", func(s *grading.Scheme) { s.Housing[1].Size, s.Journal[2].Size = size("59.970 mm"), size("64.006 mm") }, pumpSet, "housing B, journal 3"},
		{"limits without a point", func(s *grading.Scheme) { s.Limits = size("0.024..48 mm") }, pumpSet, "limits"},
		{"limits as wide as a wall", func(s *grading.Scheme) { s.Limits = size("<= 2.1 mm") }, stepped, "limits"},
		{"a wall without a point", func(s *grading.Scheme) { s.Shells[2].Wall = size("2001..2003 mm") }, stepped, "shell red upper"},
		{"every wall without a point", func(s *grading.Scheme) {
			for i := range s.Shells {
				s.Shells[i].Wall = size("2000 mm")
			}
		}, stepped, "shell green lower"},
		{"a shell of no family", func(s *grading.Scheme) { s.Shells = []grading.Shell{{Grade: "thin", Family: "0.5", Wall: wall}} }, sumScheme, "shell thin of family 0.5"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := test.of()
			test.change(s)
			err := s.Validate()
			e, ok := errors.AsType[*units.Error](err)
			if !ok || !errors.Is(err, grading.ErrScheme) {
				t.Fatalf("error %v of another kind", err)
			}
			if e.Where != fmt.Sprintf("scheme %q, %s", s.Name, test.place) {
				t.Errorf("at %s, want %q: %v", e.Where, test.place, err)
			}
		})
	}
}

// A shell that stands in the list before is told from one that has another wall there.
func TestValidateTellsAShellTwiceFromTwoWalls(t *testing.T) {
	for wall, says := range map[string]string{
		"2.000..2.003 mm": "the shell stands in the list before",
		"2.003..2.006 mm": "2.003..2.006 mm here and 2..2.003 mm before",
	} {
		s := pumpSet()
		for _, w := range []string{"2.000..2.003 mm", wall} {
			s.Shells = append(s.Shells, grading.Shell{Grade: "red", Half: grading.Upper, Wall: size(w)})
		}
		if err := s.Validate(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", wall, err, says)
		}
	}
}

// The codes at the head of a matrix are no grades, nor are those before its rows; what its
// cells hold are.
func TestCheckPartsOfAMatrix(t *testing.T) {
	for grade, known := range map[string]bool{"green": true, "brown": true, "black": true, "C": false, "A": false, "I": false, "II": false} {
		err := rodScheme().CheckParts([]purchase.Count[grading.Part]{{Part: grading.Part{Grade: grade, Half: grading.Upper}, N: 1}})
		if (err == nil) != known || err != nil && !errors.Is(err, grading.ErrScheme) {
			t.Errorf("%s: %v", grade, err)
		}
	}
}

// Every fault is told, not the first alone.
func TestValidateTellsAll(t *testing.T) {
	s := rodScheme()
	s.Matrix[1][1], s.Matrix[2][3] = "", ""
	err := s.Validate()
	for _, place := range []string{"housing II, journal C", "housing I, journal B"} {
		if !strings.Contains(err.Error(), place) {
			t.Errorf("%v lacks %s", err, place)
		}
	}
}

// A family that lists shells of its own must list all that the codes call for.
func TestValidateFamilies(t *testing.T) {
	s := sumScheme()
	s.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}, {Name: "0.50", Undersize: units.MustParseLength("0.50 mm")}}
	s.Shells = []grading.Shell{{Grade: "thin", Wall: size("2.000 mm")}, {Grade: "thick", Wall: size("2.006 mm")}, {Grade: "thin", Family: "0.50", Wall: size("2.250 mm")}}
	err := s.Validate()
	e, ok := errors.AsType[*units.Error](err)
	if !ok || !errors.Is(err, grading.ErrScheme) || e.Where != fmt.Sprintf("scheme %q, shell 0.50 thick", s.Name+", 0.50") {
		t.Errorf("%v", err)
	}
	s.Shells = append(s.Shells, grading.Shell{Grade: "thick", Family: "0.50", Wall: size("2.256 mm")})
	if err := s.Validate(); err != nil {
		t.Error(err)
	}
}

func TestInFamily(t *testing.T) {
	s := rodScheme()
	s.Shells = []grading.Shell{
		{Grade: "green", Wall: units.MustParseLengthInterval("1.500..1.504 mm")},
		{Grade: "brown", Wall: units.MustParseLengthInterval("1.504..1.508 mm")},
		{Grade: "black", Wall: units.MustParseLengthInterval("1.508..1.512 mm")},
		{Grade: "green", Family: "0.50", Wall: units.MustParseLengthInterval("1.751..1.755 mm")},
		{Grade: "brown", Family: "0.50", Wall: units.MustParseLengthInterval("1.755..1.759 mm")},
		{Grade: "black", Family: "0.50", Wall: units.MustParseLengthInterval("1.759..1.763 mm")},
	}
	s.Housing[0].Size, s.Journal[0].Size = size("48.000..48.004 mm"), size("44.980..44.984 mm")
	s.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}, {Name: "0.50", Undersize: units.MustParseLength("0.5 mm")}}

	grown, err := s.InFamily("0.25")
	if err != nil || grown.Validate() != nil {
		t.Fatal(err, grown.Validate())
	}
	if p, err := grown.Pair("II", "A"); err != nil || p.String() != "0.25 green upper + 0.25 brown lower" {
		t.Errorf("%s, %v", p, err)
	}
	if got := grown.Shells[1].Wall.String(); len(grown.Shells) != 3 || got != "1.629..1.633 mm" {
		t.Errorf("%d shells, the second %s; want 3, 1.504..1.508 + 0.125 mm", len(grown.Shells), got)
	}
	if got := grown.Journal[0].Size.String(); got != "44.73..44.734 mm" {
		t.Errorf("journal %s", got)
	}
	if got := grown.Housing[0].Size.String(); got != "48..48.004 mm" {
		t.Errorf("housing %s; it is not ground", got)
	}
	if s.Journal[0].Size.String() != "44.98..44.984 mm" || s.Matrix[1][1] != "black" {
		t.Error("the standard scheme has changed")
	}

	listed, err := s.InFamily("0.50")
	if err != nil {
		t.Fatal(err)
	}
	if got := listed.Shells[0].Wall.String(); len(listed.Shells) != 3 || got != "1.751..1.755 mm" {
		t.Errorf("%d shells, the first %s; want those listed", len(listed.Shells), got)
	}

	if _, err = s.InFamily("0.75"); !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "standard, 0.25, 0.50") {
		t.Errorf("%v", err)
	}
	if again, err := s.InFamily(grading.Standard); err != nil || len(again.Shells) != 3 || again.Families != nil || again.Validate() != nil {
		t.Errorf("%+v, %v", again, err)
	}
}

// 60 mm less of a journal of 44.980 mm is no journal; nor does none, or a gain, make
// an undersize.
func TestInFamilyOfNoUndersize(t *testing.T) {
	for _, undersize := range []string{"60 mm", "44.980 mm", "25 mm", "0 mm", "-0.25 mm"} {
		s := rodScheme()
		s.Journal[1].Size = size("44.980..44.984 mm")
		s.Families = []grading.Family{{Name: "odd", Undersize: units.MustParseLength(undersize)}}
		if ground, err := s.InFamily("odd"); ground != nil || !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "by how much") {
			t.Errorf("%s: %v", undersize, err)
		}
		if err := s.Validate(); !errors.Is(err, grading.ErrScheme) {
			t.Errorf("%s is valid: %v", undersize, err)
		}
	}
}

// The codes on a crank are void once it is ground, and a scheme with undersizes says
// nothing until it is said whether the crank was.
func TestAssignOnAGroundCrank(t *testing.T) {
	s := pumpSet()
	s.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}}
	ground, err := s.InFamily("0.25")
	if err != nil {
		t.Fatal(err)
	}
	standard, err := s.InFamily(grading.Standard)
	if err != nil {
		t.Fatal(err)
	}
	block := read(t, s, grading.Row{Text: "ABA", Side: grading.Housing})
	old := read(t, s, grading.Row{Text: "121", Side: grading.Journal})
	stamped := read(t, s, grading.Row{Text: "121", Side: grading.Journal, Ground: "0.25"})
	blockGround := read(t, s, grading.Row{Text: "ABA", Side: grading.Housing, Ground: "0.25"})
	tests := []struct {
		name         string
		scheme       *grading.Scheme
		block, crank grading.RowReading
		kind         error
		want         string // else the second main's pair
	}{
		{"not said", s, block, old, grading.ErrScheme, "choose 0.25, or standard"},
		{"never ground", standard, block, old, nil, "blue upper + blue lower"},
		{"old stamps on a ground crank", ground, block, old, grading.ErrCodes, "the crank is ground to 0.25, and its codes are of the sizes before"},
		{"stamped anew", ground, block, stamped, nil, "0.25 blue upper + 0.25 blue lower"},
		{"stamped anew, and taken for standard", standard, block, stamped, grading.ErrCodes, "choose the scheme of 0.25"},
		{"a block that was ground", ground, blockGround, stamped, grading.ErrCodes, "a housing is not ground"},
	}
	for _, test := range tests {
		got, err := test.scheme.Assign(test.block, test.crank)
		switch {
		case !errors.Is(err, test.kind):
			t.Errorf("%s: %v, %v; want %v", test.name, got, err, test.kind)
		case test.kind != nil && (got != nil || !strings.Contains(err.Error(), test.want)):
			t.Errorf("%s: %v, %v; want %q", test.name, got, err, test.want)
		case test.kind == nil && got[1].Pairs[0].String() != test.want:
			t.Errorf("%s: %s, want %s", test.name, got[1].Pairs[0], test.want)
		}
	}
	if again, err := grading.ReadCSV(strings.NewReader(asCSV(t, ground))); err != nil || again.Ground != "0.25" {
		t.Errorf("written and read: %+v, %v", again, err)
	}
}

// The codes of one side are not those of the other, even where they look alike.
func TestAssignRefusesWhatIsNoReading(t *testing.T) {
	s := &grading.Scheme{
		Name: "alike", Housing: []grading.Code{{Code: "1", Shell: "red"}, {Code: "2", Shell: "blue"}},
		Journal: []grading.Code{{Code: "1", Shell: "blue"}, {Code: "2", Shell: "green"}},
	}
	block := read(t, s, grading.Row{Text: "121", Side: grading.Housing})
	crank := read(t, s, grading.Row{Text: "212", Side: grading.Journal})
	blank := read(t, s, grading.Row{Text: "212", Side: grading.Journal})
	blank.Stamps[1].Possible = nil
	short := read(t, s, grading.Row{Text: "112", Side: grading.Journal})
	short.Others[0].Stamps = short.Others[0].Stamps[:2]
	other := read(t, s, grading.Row{Text: "212", Side: grading.Journal})
	other.Stamps[2].Possible = []string{"9"}
	tests := []struct {
		name         string
		block, crank grading.RowReading
		kind         error
		says         string
	}{
		{"sides exchanged", crank, block, grading.ErrCodes, "exchange the two sides"},
		{"one side twice", block, block, grading.ErrCodes, "given where journal codes belong"},
		{"no reading", grading.RowReading{}, crank, grading.ErrCodes, "no reading, where that of the housing codes belongs; read the row with Row.Read"},
		{"nothing read", grading.RowReading{Row: grading.Row{Side: grading.Housing}}, crank, grading.ErrCodes, "read the row first"},
		{"a stamp without a code", block, blank, grading.ErrCodes, "main 2 has no possible code"},
		{"an alternative that is too short", block, short, grading.ErrCodes, "2 codes"},
		{"a code of another scheme", block, other, grading.ErrCodes, "it holds 1, 2"},
	}
	for _, test := range tests {
		got, err := s.Assign(test.block, test.crank)
		if got != nil || !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, %v; want %q", test.name, got, err, test.says)
		}
	}
	if got, err := s.Assign(block, crank); err != nil || got[0].Pairs[0].String() != "red upper + green lower" {
		t.Errorf("%v, %v", got, err)
	}
}

// A pair of codes that the scheme has no row for is an error of its own.
func TestAssignInAHole(t *testing.T) {
	s := rodScheme()
	s.Matrix = s.Matrix[:2]
	block := read(t, s, grading.Row{Text: "II I II", Side: grading.Housing})
	crank := read(t, s, grading.Row{Text: "ABA", Side: grading.Journal})
	if got, err := s.Assign(block, crank); got != nil || !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "main 2: ") || !strings.Contains(err.Error(), "no row for housing I") {
		t.Errorf("%v, %v", got, err)
	}
}
