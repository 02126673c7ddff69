package grading_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/grading"
)

var threeMains = []string{"main 1", "main 2", "main 3"}

func codesOf(stamps []grading.Stamp) string {
	words := make([]string, len(stamps))
	for i, s := range stamps {
		words[i] = strings.Join(s.Possible, "|")
	}
	return strings.Join(words, " ")
}

func TestRowRead(t *testing.T) {
	letters := []string{"A", "B", "C"}
	numbers := []string{"9", "10", "11", "12"}
	tests := []struct {
		name  string
		row   grading.Row
		want  string
		marks []string
	}{
		{"together", grading.Row{Text: "ABC", Codes: letters}, "A B C", nil},
		{"spaces", grading.Row{Text: " A B  C ", Codes: letters}, "A B C", nil},
		{"commas", grading.Row{Text: "A,B,C", Codes: letters}, "A B C", nil},
		{"small letters", grading.Row{Text: "abc", Codes: letters}, "A B C", nil},
		{"small letters that count", grading.Row{Text: "aAb", Codes: []string{"A", "a", "B"}}, "a A B", nil},
		{"from the last", grading.Row{Text: "AAB", Codes: letters, From: lastEnd}, "B A A", nil},
		{"of several characters", grading.Row{Text: "12-9-10", Codes: numbers}, "12 9 10", nil},
		{"of several characters together", grading.Row{Text: "12910", Codes: numbers}, "12 9 10", nil},
		{"a hyphen in a code", grading.Row{Text: "A-1 A-2 A-1", Codes: []string{"A-1", "A-2"}}, "A-1 A-2 A-1", nil},
		{"illegible", grading.Row{Text: "A?C", Codes: letters}, "A A|B|C C", nil},
		{"half legible", grading.Row{Text: "12 1? 9", Codes: numbers}, "12 10|11|12 9", nil},
		{"a mark at the end", grading.Row{Text: "ABC*", Codes: letters}, "A B C", []string{"*"}},
		{"a word at the end", grading.Row{Text: "A B C XQ", Codes: letters}, "A B C", []string{"XQ"}},
		{"together, a mark apart", grading.Row{Text: "ABC X", Codes: letters}, "A B C", []string{"X"}},
		{"in groups", grading.Row{Text: "AB C", Codes: letters}, "A B C", nil},
		{"in lines", grading.Row{Text: "A\r\nB\r\nC\r\n", Codes: letters}, "A B C", nil},
		{"a mark before it", grading.Row{Text: "* A B C", Codes: letters, Mark: "*"}, "A B C", []string{"*"}},
		{"a mark before it, at the last main", grading.Row{Text: "*ABC", Codes: letters, Mark: "*", MarkAt: lastEnd}, "C B A", []string{"*"}},
		{"a mark behind it, at the last main", grading.Row{Text: "A-B-C-*", Codes: letters, Mark: "*", MarkAt: lastEnd}, "A B C", []string{"*"}},
		{"a mark behind it, at the first main", grading.Row{Text: "A B C XQ", Codes: letters, Mark: "XQ", MarkAt: firstEnd}, "C B A", []string{"XQ"}},
		{"a code that is a mark, before it", grading.Row{Text: "CABB", Codes: letters, Mark: "C", MarkAt: firstEnd}, "A B B", []string{"C"}},
		{"a mark that is worn off", grading.Row{Text: "ABC", Codes: letters, Mark: "C", MarkAt: firstEnd}, "A B C", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			test.row.Locations, test.row.Side = threeMains, grading.Housing
			got, err := placed(test.row).Read()
			if err != nil {
				t.Fatal(err)
			}
			if codesOf(got.Stamps) != test.want || !cmp.Equal(got.Marks, test.marks) {
				t.Errorf("%s, marks %v; want %s, marks %v", codesOf(got.Stamps), got.Marks, test.want, test.marks)
			}
			for i, s := range got.Stamps {
				if s.Location != threeMains[i] {
					t.Errorf("stamp %d is of %s", i, s.Location)
				}
			}
		})
	}
}

// A row of one location, a single rod perhaps, may have a mark too.
func TestRowReadOne(t *testing.T) {
	tests := []struct {
		text, mark string
		want       string
	}{
		{"11", "", "11"}, {"1?", "", "11|12"}, {"11*", "", "11"}, {"11 *", "", "11"}, {"11*", "*", "11"}, {"112", "2", "11"}, {"22", "2", "2"},
	}
	for _, test := range tests {
		row := grading.Row{Text: test.text, Mark: test.mark, Side: grading.Journal, Codes: []string{"2", "11", "12"}, Locations: threeMains[:1]}
		got, err := placed(row).Read()
		if (err != nil) != (test.want == "") || codesOf(got.Stamps) != test.want {
			t.Errorf("%q reads %q, %v; want %q", test.text, codesOf(got.Stamps), err, test.want)
		}
	}
}

func TestRowReadErrors(t *testing.T) {
	letters := []string{"A", "B", "C"}
	fourMains := []string{"main 1", "main 2", "main 3", "main 4"}
	tests := []struct {
		name string
		row  grading.Row
		kind error
		says string
	}{
		{"five for four", grading.Row{Text: "ABCAB", Codes: letters, Locations: fourMains}, grading.ErrCodes, "5 codes (A, B, C, A, B) for 4 locations"},
		{"five for four, apart", grading.Row{Text: "A B C A B", Codes: letters, Locations: fourMains}, grading.ErrCodes, "5 codes"},
		{"two for three", grading.Row{Text: "AB", Codes: letters, Locations: threeMains}, grading.ErrCodes, "2 codes (A, B) for 3 locations (main 1, main 2, main 3)"},
		{"nothing", grading.Row{Text: "", Codes: letters, Locations: threeMains}, grading.ErrCodes, "write the codes as they are stamped"},
		{"separators alone", grading.Row{Text: " - / ", Codes: letters, Locations: threeMains}, grading.ErrCodes, "write the codes as they are stamped"},
		{"no locations", grading.Row{Text: "", Codes: letters}, grading.ErrLocations, "name them in the order of the engine"},
		{"a location twice", grading.Row{Text: "ABC", Codes: letters, Locations: []string{"1", "2", "1"}}, grading.ErrLocations, `"1" stands in the list twice`},
		{"a mark against what is said", grading.Row{Text: "*ABC", Codes: letters, Locations: threeMains, Mark: "*", MarkAt: lastEnd, From: firstEnd}, grading.ErrCodes, `said to begin with main 1, but by its mark "*" it begins with main 3`},
		{"a mark at both ends", grading.Row{Text: "*ABC*", Codes: letters, Locations: threeMains, Mark: "*"}, grading.ErrCodes, "at both ends"},
		{"the place of no mark", grading.Row{Text: "ABC", Codes: letters, Locations: threeMains, MarkAt: lastEnd}, grading.ErrCodes, "write the mark as it looks"},
		{"a mark that is a code at both ends", grading.Row{Text: "ABCA", Codes: letters, Locations: threeMains, Mark: "A"}, grading.ErrCodes, "it can be B C A, or A B C"},
		{"unknown, apart", grading.Row{Text: "A Q C", Codes: letters, Locations: threeMains}, grading.ErrCodes, `main 2, housing code "Q"`},
		{"unknown, together", grading.Row{Text: "AQC", Codes: letters, Locations: threeMains}, grading.ErrCodes, "it holds A, B, C"},
		{"unknown from the last", grading.Row{Text: "A B Q", Codes: letters, Locations: threeMains, From: lastEnd}, grading.ErrCodes, "main 1"},
		{"an end that is none", grading.Row{Text: "ABC", Codes: letters, Locations: threeMains, From: "main 2"}, grading.ErrCodes, `a row begins at one of its ends: write "main 1" or "main 3"`},
		{"a mark at no end", grading.Row{Text: "*ABC", Codes: letters, Locations: threeMains, Mark: "*", MarkAt: "main 2"}, grading.ErrCodes, `location "main 2"`},
		{"capitals of two codes", grading.Row{Text: "AB Ab aB", Codes: []string{"ab", "Ab"}, Locations: threeMains}, grading.ErrCodes, `main 1, housing code "AB"`},
		{"as long as may be", grading.Row{Text: strings.Repeat("AB", 128), Codes: letters, Locations: threeMains}, grading.ErrCodes, "256 codes"},
		{"too long", grading.Row{Text: strings.Repeat("AB", 128) + "A", Codes: letters, Locations: threeMains}, grading.ErrCodes, "257 bytes"},
		{"two for three, though they could be divided", grading.Row{Text: "12 1", Codes: []string{"1", "2", "12"}, Locations: threeMains}, grading.ErrCodes, "2 codes (12, 1)"},
		{"two ways, in groups", grading.Row{Text: "112 1", Codes: []string{"1", "11", "12", "2", "21"}, Locations: threeMains}, grading.ErrCodes, "1 1 21, or 1 12 1"},
		{"as many, or one left out", grading.Row{Text: "112", Codes: []string{"1", "2", "11"}, Locations: threeMains}, grading.ErrCodes, "1 1 2, or 11 2; write it with spaces between the codes, and ? in the place"},
		{"two ways", grading.Row{Text: "1121", Codes: []string{"1", "11", "12", "2", "21"}, Locations: threeMains}, grading.ErrCodes, "1 1 21, or 1 12 1"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			test.row.Side = grading.Housing
			got, err := placed(test.row).Read()
			if !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v with error %v; want one saying %q", got, err, test.says)
			}
		})
	}
}

// A row does not say by itself whose codes it has.
func TestRowNeedsASide(t *testing.T) {
	_, err := grading.Row{Text: "ABC", Codes: []string{"A", "B", "C"}, Locations: threeMains}.Read()
	if !errors.Is(err, grading.ErrCodes) || !strings.Contains(err.Error(), "say whether they are housing or journal codes") {
		t.Errorf("%v", err)
	}
}
