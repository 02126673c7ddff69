package grading_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading"
)

func mainsOf(n int) []string {
	names := make([]string, n)
	for i := range names {
		names[i] = fmt.Sprint("main ", i+1)
	}
	return names
}

// waysOf returns the codes of every way to read a row.
func waysOf(r grading.RowReading) []string {
	ways := []string{codesOf(r.Stamps)}
	for _, a := range r.Others {
		ways = append(ways, codesOf(a.Stamps))
	}
	return ways
}

func TestRowOtherWays(t *testing.T) {
	letters, digits := []string{"A", "B", "C"}, []string{"6", "7", "8", "9"}
	tests := []struct {
		name string
		row  grading.Row
		want []string // every way, the first as typed
		tell []string
	}{
		{"from either end", grading.Row{Text: "ACC", Codes: letters}, []string{"A C C", "C C A"}, []string{"main 1"}},
		{"the same from both", grading.Row{Text: "ABA", Codes: letters}, []string{"A B A"}, nil},
		{"where it begins is said", grading.Row{Text: "ACC", Codes: letters, From: firstEnd}, []string{"A C C"}, nil},
		{"where it begins is said to be the end", grading.Row{Text: "ACC", Codes: letters, From: lastEnd}, []string{"C C A"}, nil},
		{"a mark tells", grading.Row{Text: "*ACC", Codes: letters, Mark: "*", MarkAt: lastEnd}, []string{"C C A"}, nil},
		{"a mark of which the place is not known", grading.Row{Text: "ACC*", Codes: letters, Mark: "*"}, []string{"A C C", "C C A"}, []string{"main 1"}},
		{"a mark that is worn off", grading.Row{Text: "ACC", Codes: letters, Mark: "*", MarkAt: lastEnd}, []string{"A C C", "C C A"}, []string{"main 1"}},
		// The characters stand on their heads, or the row runs the other way, or both.
		{"upside down too", grading.Row{Text: "669", Codes: digits}, []string{"6 6 9", "9 6 6", "9 9 6", "6 9 9"}, []string{"main 1", "main 2"}},
		{"upside down alone", grading.Row{Text: "669", Codes: digits, From: firstEnd}, []string{"6 6 9", "9 9 6"}, []string{"main 1"}},
		{"upright", grading.Row{Text: "669", Codes: digits, Upright: true}, []string{"6 6 9", "9 6 6"}, []string{"main 1"}},
		{"upright, and where it begins", grading.Row{Text: "669", Codes: digits, Upright: true, From: firstEnd}, []string{"6 6 9"}, nil},
		{"one that is none upside down", grading.Row{Text: "679", Codes: digits}, []string{"6 7 9", "9 7 6"}, []string{"main 1"}},
		{"illegible", grading.Row{Text: "A?C", Codes: letters}, []string{"A A|B|C C", "C A|B|C A"}, []string{"main 1"}},
		{"illegible where it would tell", grading.Row{Text: "AB?", Codes: letters}, []string{"A B A|B|C", "A|B|C B A"}, nil},
		{"legible enough to tell", grading.Row{Text: "9 10 1?", Codes: []string{"9", "10", "11", "12"}}, []string{"9 10 10|11|12", "10|11|12 10 9"}, []string{"main 1"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			test.row.Side, test.row.Locations = grading.Journal, threeMains
			got, err := placed(test.row).Read()
			if err != nil || !slices.Equal(waysOf(got), test.want) || !slices.Equal(got.Tell, test.tell) {
				t.Errorf("%q, told apart at %q, %v; want %q at %q", waysOf(got), got.Tell, err, test.want, test.tell)
			}
			if open := len(test.want) > 1; (got.Question() != "") != open {
				t.Errorf("question %q", got.Question())
			}
		})
	}
}

// What there is to do is said: which code to compare at which location.
func TestQuestion(t *testing.T) {
	tests := []struct {
		row  grading.Row
		want string
	}{
		{grading.Row{Text: "P P Q Q", Side: grading.Housing, Codes: []string{"P", "Q"}},
			`housing codes "P P Q Q" can be read in more than one way: P P Q Q, or from the other end Q Q P P. At main 1 the code is P or Q accordingly. Find in the manual to which location the first code belongs, or measure the housing at main 1 and compare it with the sizes of these codes`},
		{grading.Row{Text: "6886*", Side: grading.Journal, Codes: []string{"6", "8", "9"}, From: lastEnd},
			`journal codes "6886*" can be read in more than one way: 6 8 8 6, or upside down 9 8 8 9. At main 1 the code is 6 or 9 accordingly. Find in the manual which way up the row stands (the mark * may show it), or measure the journal at main 1 and compare it with the sizes of these codes`},
		{grading.Row{Text: "PQ??", Side: grading.Housing, Codes: []string{"P", "Q"}},
			`housing codes "PQ??" can be read in more than one way: P Q ? ?, or from the other end ? ? Q P. Find in the manual to which location the first code belongs; the codes that are legible do not tell`},
	}
	for _, test := range tests {
		test.row.Locations = mainsOf(4)
		got, err := placed(test.row).Read()
		if err != nil || got.Question() != test.want {
			t.Errorf("%s, %v\nwant %s", got.Question(), err, test.want)
		}
	}
}

// A row that reads from either end leaves open what the ends call for, until it is
// said where it begins. By hand: forwards the second main has P and the third Q, and
// backwards the other way round; the journals are the same either way.
func TestAssignKeepsARowOpen(t *testing.T) {
	s := &grading.Scheme{
		Name: "mains", Housing: []grading.Code{{Code: "P", Shell: "thin"}, {Code: "Q", Shell: "thick"}},
		Journal: []grading.Code{{Code: "1", Shell: "thin"}, {Code: "2", Shell: "thick"}},
	}
	four := mainsOf(4)
	crank := read(t, s, grading.Row{Text: "1221", Side: grading.Journal, Locations: four})
	for from, want := range map[string]string{
		"":       "thin|thick thin|thick thick|thin thick|thin",
		firstEnd: "thin thin thick thick",
		lastEnd:  "thick thick thin thin",
	} {
		got, err := s.Assign(read(t, s, grading.Row{Text: "PPQQ", Side: grading.Housing, Locations: four, From: from}), crank)
		if err != nil {
			t.Fatal(err)
		}
		uppers := make([]string, len(got))
		for i, a := range got {
			var grades []string
			for _, p := range a.Pairs {
				grades = append(grades, p.Upper.Grade)
			}
			uppers[i] = strings.Join(grades, "|")
			if open := len(a.Pairs) > 1; open != (len(a.Why) == 1) || open && !strings.Contains(a.Why[0], "to which location the first code belongs") {
				t.Errorf("%s, %d pairs: why %q", a.Location, len(a.Pairs), a.Why)
			}
		}
		if strings.Join(uppers, " ") != want {
			t.Errorf("from %q: %s, want %s", from, strings.Join(uppers, " "), want)
		}
		if demand, err := grading.Demand(got); (err == nil) != (from != "") {
			t.Errorf("from %q: demand %v, %v", from, demand, err)
		}
	}
	// Codes that differ and call for the same shell leave nothing open.
	s.Housing[1].Shell = "thin"
	got, err := s.Assign(read(t, s, grading.Row{Text: "PPQQ", Side: grading.Housing, Locations: four}), crank)
	if _, errDemand := grading.Demand(got); err != nil || errDemand != nil || got[0].Why != nil {
		t.Errorf("%v, %v, %v", got, err, errDemand)
	}
}

// turned is a digit upside down.
var turned = map[rune]rune{'0': '0', '1': '1', '6': '9', '8': '8', '9': '6', '?': '?'}

// slowWays returns the distinct ways to read a row of digits: either end first,
// either way up.
func slowWays(row string) []string {
	backwards := func(s string) string {
		r := []rune(s)
		slices.Reverse(r)
		return string(r)
	}
	over := strings.Map(func(c rune) rune { return turned[c] }, row)
	var ways []string
	for _, way := range []string{row, backwards(row), over, backwards(over)} {
		if !slices.Contains(ways, way) {
			ways = append(ways, way)
		}
	}
	return ways
}

// tellsApart reports whether the locations tell every two ways apart that any
// location tells apart.
func tellsApart(ways []string, at []int) bool {
	differ := func(a, b string, i int) bool { return a[i] != b[i] && a[i] != '?' && b[i] != '?' }
	for k, a := range ways {
		for _, b := range ways[:k] {
			any, here := false, false
			for i := range a {
				any = any || differ(a, b, i)
				here = here || differ(a, b, i) && slices.Contains(at, i)
			}
			if any && !here {
				return false
			}
		}
	}
	return true
}

// Every row of two to six of the digits that are digits upside down too, illegible
// ones among them up to five, is read in every way that there is, and told apart by
// as few locations as can be: every set of fewer was tried.
func TestTellOverEveryRow(t *testing.T) {
	rows := 0
	var check func(row string, digits string, n int)
	check = func(row, digits string, n int) {
		if len(row) < n {
			for _, c := range digits {
				check(row+string(c), digits, n)
			}
			return
		}
		rows++
		got, err := grading.Row{Text: row, Side: grading.Journal, Locations: mainsOf(n), Codes: []string{"0", "1", "6", "8", "9"}}.Read()
		if err != nil {
			t.Fatal(err)
		}
		ways := []string{}
		for _, stamps := range append([]grading.RowReading{{Stamps: got.Stamps}}, got.Others...) {
			way := ""
			for _, s := range stamps.Stamps {
				way += s.Code
			}
			ways = append(ways, way)
		}
		if want := slowWays(row); !slices.Equal(ways, want) {
			t.Fatalf("%s can be read %q, want %q", row, ways, want)
		}
		var at []int
		for _, name := range got.Tell {
			at = append(at, slices.Index(mainsOf(n), name))
		}
		if !tellsApart(ways, at) {
			t.Fatalf("%s can be read %q, which %q does not tell apart", row, ways, got.Tell)
		}
		for set := range 1 << n {
			var fewer []int
			for i := range n {
				if set&(1<<i) != 0 {
					fewer = append(fewer, i)
				}
			}
			if len(fewer) < len(at) && tellsApart(ways, fewer) {
				t.Fatalf("%s: told at %q, but %v are enough", row, got.Tell, fewer)
			}
		}
	}
	for n := 2; n <= 6; n++ {
		check("", "01689", n)
	}
	for n := 2; n <= 5; n++ {
		check("", "01689?", n)
	}
	if rows != 25+125+625+3125+15625+36+216+1296+7776 {
		t.Errorf("%d rows", rows)
	}
}

// Where one location tells, it is one at which the codes lie farthest apart.
func TestTellIsWhereCodesDifferMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		codes := []string{"A", "B", "C", "D", "E", "F"}
		n := rapid.IntRange(2, 8).Draw(t, "locations")
		row := grading.Row{Side: grading.Housing, Codes: codes, Locations: mainsOf(n)}
		for range n {
			row.Text += rapid.SampledFrom(codes).Draw(t, "code")
		}
		got, err := placed(row).Read()
		if err != nil {
			t.Fatal(err)
		}
		most, at := 0, ""
		for i := range n {
			d := int(row.Text[i]) - int(row.Text[n-1-i])
			if d = max(d, -d); d > most {
				most, at = d, row.Locations[i]
			}
		}
		if strings.Join(got.Tell, " ") != at {
			t.Errorf("%s: told at %q, want %q, %d steps", row.Text, got.Tell, at, most)
		}
	})
}

// Four ways to read a row make six pairs. With codes that are half legible, of two
// characters, the first and last location tell only the row from the row read from the
// other end, and the two upside down from one another; the second and the fifth tell the
// row from what is both, and the other two; the third tells the row from the row upside
// down, and the fourth the two that begin at the other end. So no three locations do.
func TestFourLocationsTell(t *testing.T) {
	r, err := grading.Row{Text: "1? 1? 68 ?? ?8 8?", Side: grading.Housing, Codes: []string{"11", "18", "81", "88", "68", "89"},
		Locations: []string{"1", "2", "3", "4", "5", "6"}}.Read()
	if err != nil || len(r.Others) != 3 {
		t.Fatalf("%v, %v", r, err)
	}
	tells := func(a, b string) bool { return slices.Contains(r.Tell, a) || slices.Contains(r.Tell, b) }
	if len(r.Tell) != 4 || !tells("1", "6") || !tells("2", "5") || !tells("3", "3") || !tells("4", "4") {
		t.Errorf("told at %q", r.Tell)
	}
}
